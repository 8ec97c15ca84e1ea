"""A plan as text for a person."""

from schemeforge.cli.planning import Planning
from schemeforge.plan import (
    Chance,
    PotState,
    SittingPlan,
    Stretch,
    safety_line,
    sub_batch_words,
    zone_order,
)
from schemeforge.plan.spread import chance_words


def as_text(made: Planning) -> str:
    """The plan: the answer first, then sittings, groups, pots, and what to cut."""
    plan = made.plan
    head = [f"PLAN {made.project.name}, {made.scheme.name}", plan.sentence]
    head += [overfull.sentence for overfull in plan.overfull]
    if plan.order:
        head.append(made.spread.sentence)
    blocks = [head, *(_sitting(made, sitting) for sitting in plan.sittings)]
    if plan.groups:
        chances = {chance.group.id: chance for chance in made.spread.chances}
        rows = [f"  {f.sentence}{_chance(chances.get(f.group.id))}" for f in plan.groups]
        blocks.append(["GROUPS", *rows])
    if made.pots:
        blocks.append(["POTS", *map(_pot, made.pots)])
    short = [need for need in made.needs if need.is_short]
    if short:
        rows = [f"  {need.name}: {need.short_ml:.1f} ml short" for need in short]
        blocks.append(["TO BUY", *rows])
    if made.levers:
        blocks.append(["WHAT TO CUT", *(f"  {lever.sentence}" for lever in made.levers)])
    advice = [sub_batch_words(made.trials, made.project.habits.sub_batch)]
    zones = zone_order(made.project, plan)
    if len(zones) > 1:
        advice.append(f"Zones in this order lose least: {', '.join(zones)}.")
    blocks.append([line for line in advice if line])
    if made.cautions:
        blocks.append([safety_line(made.cautions)])
    return "\n\n".join("\n".join(block) for block in blocks if block)


def _sitting(made: Planning, sitting: SittingPlan) -> list[str]:
    name = sitting.name
    head = (
        f"{name[:1].upper()}{name[1:]}: {sitting.minutes:.0f} min, "
        f"{sitting.worked + sitting.laying_out:.0f} used, {sitting.waited:.0f} waiting, "
        f"{sitting.spare:.0f} left"
    )
    return [head, *(_stretch(made, stretch) for stretch in sitting.stretches)]


def _stretch(made: Planning, stretch: Stretch) -> str:
    counts: dict[str, float] = {}
    for part in stretch.models:
        counts[part.group.name] = counts.get(part.group.name, 0.0) + part.models
    who = ", ".join(f"{models:.3g} {name}" for name, models in counts.items())
    hands = f"  hands {stretch.hands + 1}" if made.plan.hands > 1 else ""
    mix = f"; mix {made.scheme.mix(stretch.mix_id).name}" if stretch.mix_id else ""
    return (
        f"  {stretch.begin:5.0f} to {stretch.end:4.0f} min{hands}  {stretch.number:>2}  "
        f"{stretch.name}: {who}{mix}"
    )


def _pot(state: PotState) -> str:
    """How the pot stands, and what was to be mixed at first, as one counts it out."""
    pot = state.pot
    return f"  {state.sentence} To mix: {pot.grams:.1f} g, {pot.drops:.0f} drops."


def _chance(chance: Chance | None) -> str:
    if chance is None or chance.in_time is None:
        return ""
    return f" Chance to be in time {chance_words(chance.in_time)}."
