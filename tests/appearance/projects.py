"""Random projects for tests of appearance: every kind of placement, sharing and undercoat."""

import random
from dataclasses import replace

from schemeforge.paint import PaintKind
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Facing,
    Group,
    Mix,
    Placement,
    Primer,
    Project,
    ReliefKind,
    ReliefProfile,
    Scheme,
    Share,
    ShareKind,
    Spray,
    Step,
    UserLight,
    Work,
    Zone,
)
from tests.builders import (
    bump,
    flat,
    mix,
    small_mixes,
    small_paints,
    small_project,
    synthetic_paint,
)

ZONES = ("hide", "cloak", "base", "bare")
SPRAYS = (
    Spray(mix_id="white-pot", peak_um=40.0, droplet_um=8.0),
    Spray(mix_id="white-pot", peak_um=60.0, droplet_um=16.0, spread_n=1.0),
    Spray(mix_id="white-pot", peak_um=600.0, droplet_um=0.1),  # a smooth film
)


def random_project(seed: int, spray: Spray | None = None) -> Project:
    """Three primed zones and one bare, coats with random films and places, pots shared."""
    rng = random.Random(seed)  # noqa: S311 - no secret
    spray = rng.choice(SPRAYS) if spray is None else spray
    steps = [
        Step(id="prime", name="prime", layer=Primer(mix_id="primer-pot"), zone_ids=ZONES[:2]),
        Step(id="spray", name="spray", layer=spray, zone_ids=ZONES[:3]),
        Step(id="clean", name="clean", layer=Work(), zone_ids=ZONES),
    ]
    for n in range(6):
        coat = Coat(
            mix_id=rng.choice(("wash-pot", "red-pot", "blue-pot", "white-pot")),
            wet_um=rng.choice((0.0, rng.uniform(1.0, 60.0), rng.uniform(1.0, 160.0))),
            passes=rng.choice((1, 1, 2, 3)),
            placement=Placement(relief=random_relief(rng), along=random_along(rng)),
        )
        zones = tuple(rng.sample(ZONES[:3], rng.randint(1, 3)))
        by_name = rng.random() < 0.2
        steps.append(
            Step(id=f"c{n}", name="coat", layer=coat, zone_ids=zones, by_name_only=by_name)
        )
    ids = [step.id for step in steps]
    shares = tuple(
        Share(
            group_id="few",
            zone_id=zone,
            kind=rng.choice(tuple(ShareKind)),
            step_ids=tuple(i for i in ids if rng.random() < 0.4),
        )
        for zone in ZONES
    )
    scheme = Scheme(id="first", name="first", mixes=_mixes(rng), steps=tuple(steps), shares=shares)
    blue = synthetic_paint(
        "blue-ink", PaintKind.INK, absorption=bump(610.0, 60.0, 0.2, 0.001), scattering=flat(0.001)
    )
    facings = (Facing.UP, Facing.SIDE, Facing.DOWN, Facing.UP)
    return replace(
        small_project(),
        zones=tuple(
            Zone(id=zone, name=zone, facing=facing)
            for zone, facing in zip(ZONES, facings, strict=True)
        ),
        groups=(Group(id="few", name="few", count=2),),
        schemes=(scheme,),
        paints=(*small_paints(), blue),
        lights=(own_light(),),
        sittings=(),
    )


def _mixes(rng: random.Random) -> tuple[Mix, ...]:
    blue = mix("blue-pot", blue_ink=rng.uniform(0.5, 3.0), off_white=0.2, water=2.0)
    return (*small_mixes(), blue)


def random_relief(rng: random.Random) -> ReliefProfile:
    """Any relief profile."""
    at = sorted(rng.sample(range(101), rng.randint(2, 5)))
    return ReliefProfile(
        kind=rng.choice(tuple(ReliefKind)),
        depth=rng.random(),
        reach=rng.uniform(0.05, 1.0),
        points=tuple((x / 100, rng.uniform(0.1, 4.0)) for x in at),
    )


def random_along(rng: random.Random) -> AlongProfile:
    """Even half of the time, else from here to there with feathered ends."""
    if rng.random() < 0.5:
        return AlongProfile()
    start, end = sorted((rng.uniform(0.0, 0.5), rng.uniform(0.6, 1.0)))
    length = end - start
    return AlongProfile(
        start=start,
        end=end,
        feather_start=rng.choice((0.0, 0.4 * length)),
        feather_end=rng.choice((0.0, 0.5 * length)),
    )


def own_light() -> UserLight:
    """A lamp of the painter's own: warm, with a hump."""
    return UserLight(
        name="kitchen lamp",
        wavelengths_nm=tuple(float(nm) for nm in range(380, 741, 10)),
        power=tuple(20.0 + 0.2 * n * n for n in range(37)),
    )
