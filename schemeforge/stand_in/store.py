"""Views built at most once, kept in memory and in a folder that is handed in.

What is on disk is the form of things only, as plain arrays: a file that is damaged, of another
form or hostile is built again. Files are written whole or not at all, and the oldest go where the
folder would grow beyond its limit.
"""

import contextlib
import io
import os
import zipfile
from collections import OrderedDict
from collections.abc import Callable, Iterable
from pathlib import Path
from threading import Lock
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.errors import SchemeForgeError
from schemeforge.stand_in.catalogue import Model, form_digest
from schemeforge.stand_in.cloud import Cloud, cloud_of
from schemeforge.stand_in.exposure import Exposure, SprayCone, exposure_of
from schemeforge.stand_in.solid import Solid
from schemeforge.stand_in.turning import Turntable
from schemeforge.stand_in.views import Seen, Turn, View, look, view_of
from schemeforge.whole_file import write_whole

MOST_BYTES: Final = 20_000_000
AZIMUTHS: Final = tuple(range(5, 360, 15))  # 20, from where models are seen first, among them
_MOST_SIZE: Final = 2048
_MOST_SPOTS: Final = 1_500_000  # in memory, of all views: some 150 MB with what is worked out
_MOST_TURNTABLES: Final = 3
_BEGUN, _EXPOSED = 0.05, 0.45  # shares of the time that a first view takes
_ENDING: Final = ".standin.npz"
Key = tuple[Model, int, Turn, SprayCone]


class StandIns:
    """Views of models.

    Args:
        folder: Where to keep them; made when first written to. None to keep nothing.
        most_bytes: How much the folder may hold.
    """

    def __init__(self, folder: Path | None, most_bytes: int = MOST_BYTES) -> None:
        self._folder = folder
        self._most_bytes = most_bytes
        self._views: OrderedDict[Key, View] = OrderedDict()
        self._solids: dict[str, Solid] = {}
        self._exposures: dict[tuple[str, SprayCone], Exposure] = {}
        self._turntables: OrderedDict[tuple[Model, SprayCone], Turntable] = OrderedDict()
        self._lock = Lock()
        self._building = Lock()

    def ready(self, model: Model, size: int, turn: Turn, spray: SprayCone) -> View | None:
        """The view if it is in memory; never builds, never waits."""
        with self._lock:
            found = self._views.get((model, size, turn, spray))
            if found is not None:
                self._views.move_to_end((model, size, turn, spray))
        return found

    def is_at_hand(self, model: Model, size: int, turn: Turn, spray: SprayCone) -> bool:
        """True where the view is in memory or on disk, and need not be traced."""
        if self.ready(model, size, turn, spray) is not None:
            return True
        names = (self._side_name(model, size, turn), self._spray_name(model, spray))
        return self._folder is not None and all((self._folder / name).is_file() for name in names)

    def nearest(self, model: Model, size: int, turn: Turn, spray: SprayCone) -> View | None:
        """The view in memory that looks from nearest to there, None where there is none."""
        with self._lock:
            near = [
                view
                for (m, s, _, p), view in self._views.items()
                if (m.name, s, p) == (model.name, size, spray)
            ]
        return min(near, key=lambda view: _apart(view.turn, turn), default=None)

    def view(
        self,
        model: Model,
        size: int,
        turn: Turn,
        spray: SprayCone,
        *,
        progress: Callable[[float], None] = lambda _: None,
    ) -> View:
        """The view, from memory, from disk, or built now, which takes seconds for large ones.

        Progress goes from 0 to 1 in some steps.
        """
        found = self.ready(model, size, turn, spray)
        if found is not None:
            return found
        with self._building:  # one at a time: who asks second finds what the first one built
            found = self.ready(model, size, turn, spray)
            if found is not None:
                return found
            progress(_BEGUN)
            exposure = self._exposure(model, spray)
            progress(_EXPOSED)
            view = view_of(self._seen(model, size, turn), model.frame, turn, exposure)
        with self._lock:
            self._views[model, size, turn, spray] = view
            held = sum(len(kept.seen.part) for kept in self._views.values())
            while held > _MOST_SPOTS and len(self._views) > 1:
                held -= len(self._views.popitem(last=False)[1].seen.part)
        return view

    def turntable_ready(self, model: Model, spray: SprayCone) -> Turntable | None:
        """The model to be turned, if it is in memory; never builds, never waits."""
        with self._lock:
            return self._turntables.get((model, spray))

    def turntable(
        self, model: Model, spray: SprayCone, *, cancelled: Callable[[], bool] = lambda: False
    ) -> Turntable | None:
        """The model to be turned, from memory, disk, or built now in seconds; None if cancelled."""
        with self._building:
            found = self.turntable_ready(model, spray)
            if found is not None:
                return found
            cloud = self._cloud(model, cancelled)
            if cloud is None:
                return None
            found = Turntable(cloud, model.frame, self._exposure(model, spray))
        with self._lock:
            self._turntables[model, spray] = found
            while len(self._turntables) > _MOST_TURNTABLES:
                self._turntables.popitem(last=False)
        return found

    def prepare(
        self,
        model: Model,
        size: int,
        turns: Iterable[Turn],
        spray: SprayCone,
        *,
        cancelled: Callable[[], bool] = lambda: False,
        progress: Callable[[float], None] = lambda _: None,
    ) -> bool:
        """Builds views one after the other; False where it was cancelled before the last."""
        wanted = list(turns)
        for n, turn in enumerate(wanted):
            if cancelled():
                return False
            self.view(model, size, turn, spray)
            progress((n + 1) / len(wanted))
        return True

    def _solid(self, model: Model) -> Solid:
        if model.name not in self._solids:
            self._solids[model.name] = model.solid()
        return self._solids[model.name]

    def _exposure(self, model: Model, spray: SprayCone) -> Exposure:
        key = (model.name, spray)
        if key not in self._exposures:
            name = self._spray_name(model, spray)
            kept: Exposure | None = self._load(name, Exposure.from_arrays, model.frame.box, spray)
            if kept is None:
                kept = exposure_of(self._solid(model), model.frame.box, spray)
                self._keep(name, kept.arrays())
                kept = Exposure.from_arrays(kept.arrays(), model.frame.box, spray)
            if len(self._exposures) > 12:
                self._exposures.pop(next(iter(self._exposures)))
            self._exposures[key] = kept
        return self._exposures[key]

    def _cloud(self, model: Model, cancelled: Callable[[], bool]) -> Cloud | None:
        name, count = self._name(model, "points"), len(model.parts)
        kept: Cloud | None = self._load(name, Cloud.from_arrays, model.frame, count)
        if kept is None:
            made = cloud_of(self._solid(model), model.frame, cancelled=cancelled)
            if made is None:
                return None
            self._keep(name, made.arrays(model.frame))
            kept = Cloud.from_arrays(made.arrays(model.frame), model.frame, count)
        return kept

    def _seen(self, model: Model, size: int, turn: Turn) -> Seen:
        name = self._side_name(model, size, turn)
        kept: Seen | None = self._load(name, Seen.from_arrays, size, len(model.parts))
        if kept is None:
            kept = look(self._solid(model), model.frame, size, turn)
            self._keep(name, kept.arrays())
        return kept

    def _side_name(self, model: Model, size: int, turn: Turn) -> str:
        return self._name(model, f"{size}-{turn.azimuth:g}-{turn.elevation:g}")

    def _spray_name(self, model: Model, spray: SprayCone) -> str:
        angles = f"{spray.half_angle:g}-{spray.low_pass:g}-{spray.low_angle:g}"
        return self._name(model, f"spray-{angles}")

    def _name(self, model: Model, what: str) -> str:
        return f"{model.name.replace(' ', '-')}-{what}-{form_digest()}{_ENDING}"

    def _load(self, name: str, make: Callable[..., Any], *with_: Any) -> Any:
        """What the file holds, None where it is missing or not as it should be."""
        if self._folder is None:
            return None
        path = self._folder / name
        try:
            if path.stat().st_size > self._most_bytes:
                return None
            made = make(read_arrays(path.read_bytes()), *with_)
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, MemoryError):
            return None
        with contextlib.suppress(OSError):
            os.utime(path)
        return made

    def _keep(self, name: str, arrays: dict[str, NDArray[Any]]) -> None:
        """Writes the file; a folder that cannot be written only costs building again."""
        if self._folder is None:
            return
        out = io.BytesIO()
        np.savez_compressed(out, **arrays)  # type: ignore[arg-type]
        if len(out.getvalue()) > self._most_bytes:
            return
        with contextlib.suppress(OSError, SchemeForgeError):
            self._folder.mkdir(parents=True, exist_ok=True)
            self._make_room(len(out.getvalue()))
            write_whole(self._folder / name, out.getvalue(), keep_previous=False)

    def _make_room(self, needed: int) -> None:
        """Drops files of another form, then the oldest, until the new one fits."""
        assert self._folder is not None  # noqa: S101 - asked before
        files = [(p.stat(), p) for p in self._folder.glob(f"*{_ENDING}") if p.is_file()]
        files.sort(key=lambda item: (form_digest() in item[1].name, item[0].st_mtime))
        total = sum(stat.st_size for stat, _ in files)
        for stat, path in files:
            if form_digest() in path.name and total + needed <= self._most_bytes:
                break
            path.unlink(missing_ok=True)
            total -= stat.st_size


def read_arrays(data: bytes) -> dict[str, NDArray[Any]]:
    """Arrays of a file, without running anything in it; ValueError where they are too large."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        if sum(info.file_size for info in packed.infolist()) > 40 * _MOST_SIZE**2:
            raise ValueError("too large")
    with np.load(io.BytesIO(data), allow_pickle=False) as file:
        return {name: file[name] for name in file.files}


def _apart(a: Turn, b: Turn) -> float:
    around = abs((a.azimuth - b.azimuth + 180.0) % 360.0 - 180.0)
    return around + abs(a.elevation - b.elevation)
