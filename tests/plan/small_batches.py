"""Small random batches, and their earliest end by trying every order: an oracle of its own.

The oracle knows nothing of the plan's code: it takes the batch as plain numbers, goes through all
orders of (step, pass, sub-batch) that the zones allow, and keeps time model by model.
"""

import random
from dataclasses import dataclass, replace

from schemeforge.scheme import Coat, Group, Habits, Project, Scheme, Sitting, Step, Technique, Zone
from tests.builders import mix, small_paints


@dataclass(frozen=True)
class SmallStep:
    """Zones, minutes a model, wait, set-up, pot."""

    zones: frozenset[str]
    each: float
    wait: float
    set_up: float
    pot: int


@dataclass(frozen=True)
class SmallBatch:
    """Sub-batches by number of models, steps in order, minutes to change over and to mix."""

    sizes: tuple[int, ...]
    steps: tuple[SmallStep, ...]
    change: float
    mixing: float


def random_batch(chance: random.Random) -> SmallBatch:
    """Two to five sub-batches, two to five steps on two zones: six to ten tasks."""
    zones = ("hide", "cloak")
    shapes = [(2, 3), (2, 4), (3, 3), (2, 5), (4, 2), (5, 2)]
    batches, count = chance.choice(shapes)
    steps = tuple(
        SmallStep(
            zones=frozenset(chance.sample(zones, chance.choice((1, 1, 2)))),
            each=round(chance.uniform(0.3, 4.0), 1),
            wait=float(chance.choice((0, 5, 10, 15, 20, 30, 45, 60, 120))),
            set_up=float(chance.choice((0, 3, 5, 10, 15))),
            pot=chance.randrange(3),
        )
        for _ in range(count)
    )
    large = chance.randrange(2, 8)
    sizes = (large,) * (batches - 1) + (chance.choice((large, large - 1)),)
    return SmallBatch(sizes, steps, float(chance.choice((0, 1, 4))), float(chance.choice((0, 5))))


def as_project(batch: SmallBatch) -> Project:
    """The batch as a project with one endless sitting and without breaks."""
    steps = tuple(
        Step(
            id=f"s{n}",
            name=f"s{n}",
            layer=Coat(mix_id=f"pot-{step.pot}", technique=Technique.WASH),
            zone_ids=tuple(sorted(step.zones)),
            minutes_per_model=step.each,
            set_up_minutes=step.set_up,
            wait_minutes=step.wait,
        )
        for n, step in enumerate(batch.steps)
    )
    pots = tuple(
        replace(mix("x", red_glaze=1.0, water=2.0), id=f"pot-{n}", name=f"pot {n}")
        for n in range(3)
    )
    return Project(
        id="p",
        name="p",
        groups=(Group(id="g", name="g", count=sum(batch.sizes)),),
        zones=(Zone(id="hide", name="hide"), Zone(id="cloak", name="cloak")),
        schemes=(Scheme(id="s", name="s", mixes=pots, steps=steps),),
        paints=small_paints(),
        habits=Habits(
            sub_batch=max(batch.sizes),
            mixing_minutes=batch.mixing,
            sitting_minutes=0.0,
            brush_change_minutes=batch.change,
            break_minutes=0.0,
        ),
        sittings=(Sitting(id="all", minutes=1440.0),),
    )


class Oracle:
    """Goes through all orders, leaving out those that cannot beat the best one known."""

    def __init__(self, batch: SmallBatch) -> None:
        self.batch = batch
        self.best = float("inf")
        self._before = [
            {
                max(e for e in range(n) if zone in batch.steps[e].zones)
                for zone in step.zones
                if any(zone in batch.steps[e].zones for e in range(n))
            }
            for n, step in enumerate(batch.steps)
        ]
        self._left = sum(m * s.each for m in batch.sizes for s in batch.steps)

    def earliest_end(self) -> float:
        """The earliest end of all the work."""
        self._go({}, 0.0, frozenset(), frozenset(), -1, self._left)
        return self.best

    def _go(
        self,
        starts: dict[tuple[int, int], float],
        now: float,
        used: frozenset[int],
        mixed: frozenset[int],
        last: int,
        left: float,
    ) -> None:
        if now + left >= self.best - 1e-9:
            return
        steps, sizes = self.batch.steps, self.batch.sizes
        if len(starts) == len(steps) * len(sizes):
            self.best = now
            return
        for b, models in enumerate(sizes):
            for s, step in enumerate(steps):
                if (b, s) in starts or any((b, e) not in starts for e in self._before[s]):
                    continue
                pot_kept = last >= 0 and steps[last].pot == step.pot
                turn = step.set_up if s not in used else self.batch.change
                if s in used and (last == s or pot_kept):
                    turn = 0.0
                turn += 0.0 if step.pot in mixed else self.batch.mixing
                start = now + turn
                for e in self._before[s]:
                    earlier = steps[e]
                    for m in range(models):
                        dry = starts[b, e] + (m + 1) * earlier.each + earlier.wait
                        start = max(start, dry - m * step.each)
                work = models * step.each
                self._go(
                    starts | {(b, s): start},
                    start + work,
                    used | {s},
                    mixed | {step.pot},
                    s,
                    left - work,
                )
