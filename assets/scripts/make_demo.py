"""Makes ``assets/demo/saltmarsh_wardens.schemeforge``, the project that opens the first time.

Run ``python -m assets.scripts.make_demo`` from the checkout; the file that results is the same
every time. The batch and the three schemes stand in ``assets/scripts/demo``.
"""

from pathlib import Path

from assets.scripts.demo import batch, drowned_bell, first_light, rust_and_reed
from schemeforge.paint import Paint
from schemeforge.scheme import Finish, Project, Scheme, Viewing
from schemeforge.scheme.project_file import SUFFIX, dumps
from schemeforge.shelf import starter_paints

FILE = Path(__file__).resolve().parent.parent / "demo" / f"saltmarsh_wardens{SUFFIX}"


def project() -> Project:
    """The demo project; its paints are those of the starter shelf that its mixes use."""
    schemes = (first_light.scheme(), drowned_bell.scheme(), rust_and_reed.scheme())
    return Project(
        id="saltmarsh-wardens",
        name="The Saltmarsh Wardens",
        note=batch.NOTE,
        size=batch.SIZE,
        groups=batch.GROUPS,
        zones=batch.ZONES,
        schemes=schemes,
        chosen_scheme_id="first-light",
        yardstick_id="first-light",
        paints=_used(schemes),
        viewing=Viewing(light="D65", finish=Finish.MATT),
        habits=batch.HABITS,
        sittings=batch.SITTINGS,
    )


def _used(schemes: tuple[Scheme, ...]) -> tuple[Paint, ...]:
    wanted = {i.paint_id for scheme in schemes for mix in scheme.mixes for i in mix.ingredients}
    return tuple(paint for paint in starter_paints() if paint.id in wanted)


def text() -> str:
    """The whole file."""
    return dumps(project())


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(text(), encoding="utf-8", newline="\n")
    print(f"{FILE.name}: {FILE.stat().st_size} bytes")
