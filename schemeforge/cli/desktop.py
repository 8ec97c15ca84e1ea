"""Tells, without starting Qt, whether it could open a window: Qt aborts the process where not.

On Linux Qt's own libraries and the plugin for the display are loaded as the system's loader
would, which names what is missing, and the display server is greeted. Elsewhere both come with
the system.
"""

import ctypes
import os
import socket
import sys
from collections.abc import Iterable, Mapping
from importlib.util import find_spec
from pathlib import Path

from schemeforge.cli.system_libraries import PACKAGES, install_words, missing_name
from schemeforge.errors import InputError, MissingLibraryError, SchemeForgeError

PLATFORM_VARIABLE = "QT_QPA_PLATFORM"
_QT_LIBRARIES = ("libQt6Core.so.6", "libQt6Gui.so.6", "libQt6Widgets.so.6")
_PLUGIN_FILES = {"xcb": "libqxcb.so", "wayland": "libqwayland.so"}


def obstacle() -> SchemeForgeError | None:
    """What keeps the window from opening, as a sentence; None where nothing does.

    Where the user has not chosen, Qt is told which kind of display was found to answer.
    """
    spec = find_spec("PySide6")
    if spec is None or spec.origin is None:
        return MissingLibraryError(
            "The window needs PySide6, which is not installed",
            remedy='run "python -m pip install PySide6-Essentials"',
        )
    if not sys.platform.startswith("linux"):
        return None
    qt = Path(spec.origin).parent / "Qt"
    try:
        _check_display(qt / "plugins" / "platforms")
        _load_all(qt / "lib" / name for name in _QT_LIBRARIES)
    except SchemeForgeError as error:
        return error
    return None


def _check_display(plugins: Path) -> None:
    chosen = os.environ.get(PLATFORM_VARIABLE, "")
    if chosen:
        _check_chosen(plugins, chosen)
    else:
        os.environ[PLATFORM_VARIABLE] = ";".join(answering(plugins, os.environ))


def answering(plugins: Path, environment: Mapping[str, str]) -> tuple[str, ...]:
    """Qt's names of the kinds of display that answer and whose plugin loads, best first.

    Args:
        plugins: Folder of Qt's platform plugins.
        environment: Variables that tell of displays.

    Raises:
        SchemeForgeError: where there is no display, or none that answers.
        MissingLibraryError: where a display answers but its plugin needs a library.
    """
    kinds = _announced(environment)
    if not kinds:
        raise _no_display(plugins.parents[1] / "lib")
    reached = [kind for kind in kinds if _answers(kind, environment)]
    if not reached:
        raise SchemeForgeError(
            "The display does not answer",
            where=" ".join(f"{kinds[kind]}={environment[kinds[kind]]}" for kind in kinds),
            remedy="check that variable, or run it on a desktop",
        )
    found, lacking = [], []
    for kind in reached:
        try:
            _load_plugin(plugins, kind)
            found.append(kind)
        except MissingLibraryError as error:
            lacking.append(error)
    if not found:
        raise lacking[0]
    return tuple(found)


def _no_display(libraries: Path) -> SchemeForgeError:
    """That there is no display, and in the same breath what the window lacks besides."""
    what = "There is no display to open the window on"
    remedy = "run it on a desktop, or set DISPLAY or WAYLAND_DISPLAY"
    try:
        _load_all(libraries / name for name in _QT_LIBRARIES)
    except MissingLibraryError as error:
        window, needs = error.what[:1].lower() + error.what[1:], error.remedy
        return MissingLibraryError(f"{what}, and {window}", remedy=f"{remedy}, and {needs}")
    return SchemeForgeError(what, remedy=remedy)


def _announced(environment: Mapping[str, str]) -> dict[str, str]:
    """Kinds of display that the variables speak of, best first, and the variable of each."""
    known = {"xcb": "DISPLAY", "wayland": "WAYLAND_DISPLAY"}
    if environment.get("XDG_SESSION_TYPE") == "wayland":
        known = dict(reversed(known.items()))
    return {kind: variable for kind, variable in known.items() if environment.get(variable)}


def _check_chosen(plugins: Path, chosen: str) -> None:
    """Raises where none of the platforms that the user chose could start."""
    kinds = [part.split(":", 1)[0] for part in chosen.split(";")]
    screens = {"xcb", "wayland"}
    if any(kind in screens for kind in kinds) and set(kinds) <= screens:
        answering(plugins, {name: os.environ[name] for name in _named(kinds)})
        return
    errors = []
    for kind in kinds:
        try:
            _load_plugin(plugins, kind)
        except SchemeForgeError as error:
            errors.append(error)
    if len(errors) == len(kinds):
        raise errors[0]


def _named(kinds: Iterable[str]) -> list[str]:
    wanted = {"xcb": ["DISPLAY"], "wayland": ["WAYLAND_DISPLAY", "XDG_RUNTIME_DIR"]}
    return [name for kind in kinds for name in wanted[kind] if name in os.environ]


def _answers(kind: str, environment: Mapping[str, str]) -> bool:
    if kind == "wayland":
        return _wayland_answers(environment)
    return _x_answers(environment["DISPLAY"])


def _wayland_answers(environment: Mapping[str, str]) -> bool:
    place = Path(environment.get("XDG_RUNTIME_DIR", ""), environment["WAYLAND_DISPLAY"])
    with socket.socket(socket.AF_UNIX) as greeting:
        greeting.settimeout(2.0)
        try:
            greeting.connect(str(place))
        except OSError:
            return False
    return True


def _x_answers(display: str) -> bool:
    """Whether the X server answers and lets us in, asked through the library that Qt uses."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True  # loading the plugin names the library
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = (ctypes.c_char_p, ctypes.c_void_p)
    xcb.xcb_connection_has_error.argtypes = (ctypes.c_void_p,)
    xcb.xcb_disconnect.argtypes = (ctypes.c_void_p,)
    connection = xcb.xcb_connect(os.fsencode(display), None)
    broken = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return not broken


def _load_plugin(plugins: Path, kind: str) -> None:
    plugin = plugins / _PLUGIN_FILES.get(kind, f"libq{kind}.so")
    if plugins.is_dir() and not plugin.exists():
        raise InputError(
            f'Qt has no platform called "{kind}"',
            where=PLATFORM_VARIABLE,
            remedy=f"unset {PLATFORM_VARIABLE}",
        )
    _load_all([plugin])


def _load_all(files: Iterable[Path]) -> None:
    """Loads libraries; raises MissingLibraryError that names all known ones that are missing."""
    for file in files:
        if not file.exists():  # a Qt that the system brings, with its libraries beside it
            continue
        try:
            ctypes.CDLL(str(file))
        except OSError as error:
            raise _lacking(str(error)) from None


def _lacking(message: str) -> MissingLibraryError:
    name = missing_name(message)
    if not name:
        return MissingLibraryError(
            f"A library of the window cannot be loaded ({message})",
            remedy="install the program again in a new environment",
        )
    others = (other for other in PACKAGES if other != name and "wayland" not in other)
    missing = [name, *(other for other in others if not _loads(other))]
    return MissingLibraryError(
        f"The window needs the system {'library' if len(missing) == 1 else 'libraries'} "
        f"{', '.join(missing)}",
        remedy=install_words(missing),
    )


def _loads(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True
