"""What is asked to be compared, and what measures of a scheme depend on."""

from dataclasses import dataclass

from schemeforge.comparison import TargetPalette, Thresholds
from schemeforge.scheme import Project, Scheme


@dataclass(frozen=True, slots=True)
class Request:
    """All that a comparison needs."""

    project: Project
    scheme_ids: tuple[str, ...]
    thresholds: Thresholds
    target: TargetPalette | None = None

    def is_like(self, other: "Request | None") -> bool:
        """True where the other asks for the very same."""
        return (
            other is not None
            and self.project is other.project
            and self.scheme_ids == other.scheme_ids
            and self.thresholds == other.thresholds
            and self.target == other.target
        )


def parts_of(request: Request, scheme: Scheme) -> tuple[object, ...]:
    """What the measures of a scheme depend on, to be compared by identity."""
    project = request.project
    return (
        scheme,
        project.zones,
        project.paints,
        project.viewing,
        project.lights,
        project.size,
        request.thresholds,
    )
