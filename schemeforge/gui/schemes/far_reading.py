"""How schemes read at one metre: looked at on the stand-in, once that has been traced."""

from PySide6.QtCore import QObject, Signal
from shiboken6 import isValid

from schemeforge.comparison import ReadPair
from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.schemes.request import Request, parts_of
from schemeforge.scheme import Project, Scheme

KEY = "read schemes from afar"
# Pixels across the picture that is blurred: finer than the eye at one metre tells apart.
_SIZE = 256
_Read = dict[str, tuple[ReadPair, ...]]


class FarReading(QObject):
    """Pictures of schemes made and blurred beside the window, kept while nothing in them changes.

    Signals:
        read: More is known of what a `Request` asks for.
    """

    read = Signal(object)

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._held: dict[str, tuple[tuple[object, ...], tuple[ReadPair, ...]]] = {}
        self._wanted: Request | None = None

    def known(self, request: Request) -> _Read:
        """What was read of the project's schemes as they are, by scheme id."""
        good = {}
        for scheme in request.project.schemes:
            held = self._held.get(scheme.id)
            wanted = parts_of(request, scheme)
            if held and all(a is b for a, b in zip(held[0], wanted, strict=True)):
                good[scheme.id] = held[1]
        return good

    def look(self, request: Request) -> None:
        """Have the schemes asked for read, once the stand-in is there."""
        known = self.known(request)
        missing = [scheme_id for scheme_id in request.scheme_ids if scheme_id not in known]
        if not missing:
            return
        from schemeforge.stand_in import WARDEN, SprayCone, Turn

        view = self.bridge.stand_ins.ready(WARDEN, _SIZE, Turn(), SprayCone())
        if view is None:
            if self._wanted is None:
                self.bridge.tracer.arrived.connect(self._on_arrived)
            self._wanted = request
            self.bridge.tracer.ask_view(WARDEN, _SIZE, Turn(), SprayCone())
            return

        def work(token: CancelToken) -> _Read:
            from schemeforge.stand_in import picture_of, worn

            project, found = request.project, {}
            wearing = worn(project, WARDEN)
            for scheme in map(project.scheme, missing):
                if token.is_cancelled:
                    break
                picture = picture_of(project, scheme, view, wearing)
                found[scheme.id] = _pairs(project, picture, WARDEN.frame.span / _SIZE)
            return found

        def done(found: _Read) -> None:
            if isValid(self):
                self._keep(request, found)

        self.bridge.jobs.submit(KEY, work, done, failed=self._on_failed)

    def _on_arrived(self) -> None:
        """Some view is there: perhaps the one waited for."""
        request, self._wanted = self._wanted, None
        self.bridge.tracer.arrived.disconnect(self._on_arrived)
        if request is not None:
            self.look(request)

    def _keep(self, request: Request, found: _Read) -> None:
        for scheme_id, pairs in found.items():
            scheme: Scheme = request.project.scheme(scheme_id)
            self._held[scheme_id] = (parts_of(request, scheme), pairs)
        if found:
            self.read.emit(request)

    def _on_failed(self, error: Exception) -> None:
        """What is wrong with a scheme its measures have told already."""
        if not isinstance(error, SchemeForgeError):
            raise error


def _pairs(project: Project, picture: object, mm_per_pixel: float) -> tuple[ReadPair, ...]:
    from schemeforge.stand_in import Picture, apart_at

    assert isinstance(picture, Picture)  # noqa: S101 - imported late
    ids = [zone.id for zone in project.zones]
    both = {
        tuple(sorted((ids.index(zone.id), ids.index(other))))
        for zone in project.zones
        for other in zone.touches
    }
    pairs = [(a, b) for a, b in sorted(both)]
    return tuple(
        ReadPair(zone_ids=(ids[a.zones[0]], ids[a.zones[1]]), close=a.close, far=a.far)
        for a in apart_at(picture, pairs, mm_per_pixel=mm_per_pixel)
    )
