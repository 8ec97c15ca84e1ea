"""Random valid documents for property tests."""

from hypothesis import strategies as st

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.evidence import CoatStrength, Evidence
from schemeforge.scheme.model import AreaBasis, Facing, Group, ModelSize, Surfacing, Zone
from schemeforge.scheme.placement import AlongProfile, Placement, ReliefKind, ReliefProfile
from schemeforge.scheme.project import Project
from schemeforge.scheme.settings import (
    Finish,
    Habits,
    Pin,
    PotUse,
    Sitting,
    Timing,
    UserLight,
    Viewing,
    Way,
)
from schemeforge.scheme.steps import (
    Coat,
    Layer,
    Primer,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
)
from tests.builders import small_mixes, small_paints

UNIT = st.floats(0.0, 1.0)
NAMES = st.text(
    st.characters(exclude_categories=["C", "Z"], include_characters=" "), min_size=1, max_size=30
).filter(str.strip)
NOTES = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=60)
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,12}", fullmatch=True)


@st.composite
def curves(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """Points of a free curve, with some film somewhere."""
    at = sorted(draw(st.sets(st.integers(0, 1000), min_size=2, max_size=8)))
    film = draw(st.lists(st.floats(0.01, 100.0), min_size=len(at), max_size=len(at)))
    return tuple((r / 1000.0, f) for r, f in zip(at, film, strict=True))


@st.composite
def reliefs(draw: st.DrawFn) -> ReliefProfile:
    """Any relief profile."""
    return ReliefProfile(
        kind=draw(st.sampled_from(ReliefKind)),
        depth=draw(UNIT),
        reach=draw(st.floats(0.05, 1.0)),
        points=draw(curves()),
    )


@st.composite
def alongs(draw: st.DrawFn) -> AlongProfile:
    """Any profile along the part."""
    start = draw(st.floats(0.0, 0.9))
    end = draw(st.floats(start + 0.01, 1.0))
    feather_start = draw(st.floats(0.0, 1.0)) * (end - start)
    feather_end = draw(st.floats(0.0, 1.0)) * (end - start - feather_start)
    return AlongProfile(
        start=start, end=end, feather_start=feather_start, feather_end=max(feather_end, 0.0)
    )


PLACEMENTS = st.builds(Placement, relief=reliefs(), along=alongs())
COATS = st.builds(
    Coat,
    mix_id=st.sampled_from(["wash-pot", "red-pot"]),
    technique=st.sampled_from(Technique),
    wet_um=st.floats(0.0, 1000.0),
    passes=st.integers(1, 12),
    placement=PLACEMENTS,
)
SPRAYS = st.builds(
    Spray,
    mix_id=st.just("white-pot"),
    peak_um=st.floats(0.0, 1000.0),
    droplet_um=st.floats(0.1, 200.0),
    spread_n=st.floats(1.0, 10.0),
)
WORKS = st.builds(Work, kind=st.sampled_from(WorkKind), sprayed=st.booleans())
LIGHTS = st.builds(
    lambda name, power: UserLight(
        name=name,
        wavelengths_nm=tuple(380.0 + 5.0 * i for i in range(len(power))),
        power=tuple(power),
    ),
    name=NAMES,
    power=st.lists(st.floats(0.1, 1e6), min_size=2, max_size=6),
)


@st.composite
def steps(draw: st.DrawFn, zone_ids: tuple[str, ...]) -> tuple[Step, ...]:
    """Primer and spray on every zone, then coats and work on some."""
    layers: list[Layer] = [Primer(mix_id="primer-pot"), draw(SPRAYS)]
    layers += draw(st.lists(st.one_of(COATS, WORKS), max_size=5))
    minutes = st.none() | st.floats(0.0, 600.0)
    result = []
    for position, layer in enumerate(layers):
        some = st.lists(st.sampled_from(zone_ids), min_size=1, unique=True).map(tuple)
        result.append(
            Step(
                id=f"step-{position}",
                name=draw(NAMES),
                layer=layer,
                zone_ids=zone_ids if position < 2 else draw(some),
                minutes_per_model=draw(minutes),
                set_up_minutes=draw(minutes),
                wait_minutes=draw(minutes),
                by_name_only=draw(st.booleans()) and position >= 2,
                note=draw(NOTES),
            )
        )
    return tuple(result)


@st.composite
def schemes(
    draw: st.DrawFn, scheme_id: str, zone_ids: tuple[str, ...], group_ids: tuple[str, ...]
) -> Scheme:
    """A scheme over those zones and groups, from the pots of ``tests.builders``."""
    listed = draw(steps(zone_ids))
    cells = [(group, zone) for group in group_ids for zone in zone_ids]
    chosen = draw(st.lists(st.sampled_from(cells), unique=True)) if cells else []
    ids = [step.id for step in listed]
    shares = tuple(
        Share(
            group_id=group,
            zone_id=zone,
            kind=draw(st.sampled_from(ShareKind)),
            step_ids=tuple(draw(st.lists(st.sampled_from(ids), unique=True))),
        )
        for group, zone in chosen
    )
    return Scheme(id=scheme_id, name=draw(NAMES), mixes=small_mixes(), steps=listed, shares=shares)


@st.composite
def zones(draw: st.DrawFn, ids: tuple[str, ...]) -> tuple[Zone, ...]:
    """Zones of those ids that all touch each other."""
    tones = st.none() | st.tuples(UNIT, UNIT).map(lambda pair: (min(pair), max(pair)))
    return tuple(
        Zone(
            id=zone_id,
            name=draw(NAMES),
            area_basis=draw(st.sampled_from(AreaBasis)),
            area_cm2=draw(st.floats(0.01, 1e5)),
            body_share=draw(UNIT),
            surfacing=draw(st.sampled_from(Surfacing)),
            facing=draw(st.sampled_from(Facing)),
            tone_range=draw(tones),
            touches=tuple(other for other in ids if other != zone_id),
            along_words=(draw(NAMES), draw(NAMES)),
        )
        for zone_id in ids
    )


RAMPS = st.lists(st.tuples(*3 * [st.floats(-150.0, 150.0)]), min_size=2, max_size=4).map(tuple)


@st.composite
def evidence(draw: st.DrawFn, scheme_id: str, zone_id: str) -> Evidence:
    """What a test model told of the first coats."""
    ramp = draw(RAMPS)
    return Evidence(
        id=draw(IDS),
        name=draw(NAMES),
        scheme_id=scheme_id,
        zone_id=zone_id,
        along=draw(UNIT),
        measured=ramp,
        predicted=ramp[::-1],
        followed=ramp,
        strengths=tuple(
            CoatStrength(
                step_id=f"step-{n}",
                name=draw(NAMES),
                planned_um=draw(st.floats(0.0, 1000.0)),
                factor=draw(st.floats(0.05, 20.0)),
                error=draw(st.floats(0.0, 5.0)),
            )
            for n in range(1, draw(st.integers(2, 4)))
        ),
        note=draw(NOTES),
    )


@st.composite
def projects(draw: st.DrawFn) -> Project:
    """A valid project with every kind of content."""
    id_sets = st.lists(IDS, min_size=1, max_size=3, unique=True).map(tuple)
    zone_ids, group_ids, scheme_ids = draw(id_sets), draw(id_sets), draw(id_sets)
    return Project(
        id=draw(IDS),
        name=draw(NAMES),
        note=draw(NOTES),
        size=ModelSize(base_mm=draw(st.floats(10.0, 300.0))),
        groups=tuple(
            Group(id=i, name=draw(NAMES), count=draw(st.integers(0, 10000))) for i in group_ids
        ),
        zones=draw(zones(zone_ids)),
        schemes=tuple(draw(schemes(i, zone_ids, group_ids)) for i in scheme_ids),
        chosen_scheme_id=draw(st.sampled_from(("", *scheme_ids))),
        paints=small_paints(),
        lights=tuple(draw(st.lists(LIGHTS, max_size=1))),
        viewing=Viewing(
            finish=draw(st.sampled_from(Finish)),
            observer=draw(st.sampled_from([2, 10])),
            wet=draw(st.booleans()),
        ),
        habits=Habits(
            waste=draw(st.floats(1.0, 20.0)),
            sub_batch=draw(st.integers(1, 1000)),
            way=draw(st.sampled_from(Way)),
        ),
        sittings=(Sitting(id="one", minutes=draw(st.floats(1.0, 1440.0)), day="2031-02-28"),),
        timings=(
            Timing(
                id="t",
                scheme_id=scheme_ids[0],
                step_id="step-0",
                group_id=group_ids[0],
                models=draw(st.integers(1, 10000)),
                minutes=draw(st.floats(0.0, 1e5)),
                sitting_id=draw(st.sampled_from(("", "one"))),
                is_test=draw(st.booleans()),
            ),
        ),
        pins=(Pin(scheme_id=scheme_ids[0], step_id="step-1", sitting_id="one"),),
        pot_uses=(
            PotUse(
                id="u",
                scheme_id=scheme_ids[0],
                mix_id="wash-pot",
                group_id=draw(st.sampled_from(("", *group_ids))),
                models=draw(st.integers(1, 10000)),
                mixed_ml=10.0,
                left_ml=draw(st.floats(0.0, 10.0)),
            ),
        ),
        evidence=(draw(evidence(scheme_ids[0], zone_ids[0])),),
    )
