"""System libraries that Qt's window needs on Linux, and the packages that bring them."""

import re
from collections.abc import Iterable
from typing import NamedTuple

_NOT_FOUND = re.compile(r"^(?:.*/)?(?P<name>[^\s/:]+\.so[^\s:]*): cannot open shared object file")


class Packages(NamedTuple):
    """Names of the package that brings a library."""

    debian: str
    fedora: str


# What the wheels of PySide6-Essentials need from the system beyond the C library (read off the
# libraries themselves); names of packages from Debian 12 and from memory for Fedora.
PACKAGES = {
    "libEGL.so.1": Packages("libegl1", "libglvnd-egl"),
    "libGL.so.1": Packages("libgl1", "libglvnd-glx"),
    "libxkbcommon.so.0": Packages("libxkbcommon0", "libxkbcommon"),
    "libdbus-1.so.3": Packages("libdbus-1-3", "dbus-libs"),
    "libfontconfig.so.1": Packages("libfontconfig1", "fontconfig"),
    "libfreetype.so.6": Packages("libfreetype6", "freetype"),
    "libglib-2.0.so.0": Packages("libglib2.0-0", "glib2"),
    "libgthread-2.0.so.0": Packages("libglib2.0-0", "glib2"),
    "libX11.so.6": Packages("libx11-6", "libX11"),
    "libX11-xcb.so.1": Packages("libx11-xcb1", "libX11-xcb"),
    "libxcb.so.1": Packages("libxcb1", "libxcb"),
    "libxcb-cursor.so.0": Packages("libxcb-cursor0", "xcb-util-cursor"),
    "libxcb-icccm.so.4": Packages("libxcb-icccm4", "xcb-util-wm"),
    "libxcb-image.so.0": Packages("libxcb-image0", "xcb-util-image"),
    "libxcb-keysyms.so.1": Packages("libxcb-keysyms1", "xcb-util-keysyms"),
    "libxcb-randr.so.0": Packages("libxcb-randr0", "libxcb"),
    "libxcb-render.so.0": Packages("libxcb-render0", "libxcb"),
    "libxcb-render-util.so.0": Packages("libxcb-render-util0", "xcb-util-renderutil"),
    "libxcb-shape.so.0": Packages("libxcb-shape0", "libxcb"),
    "libxcb-shm.so.0": Packages("libxcb-shm0", "libxcb"),
    "libxcb-sync.so.1": Packages("libxcb-sync1", "libxcb"),
    "libxcb-xfixes.so.0": Packages("libxcb-xfixes0", "libxcb"),
    "libxcb-xkb.so.1": Packages("libxcb-xkb1", "libxcb"),
    "libxcb-util.so.1": Packages("libxcb-util1", "xcb-util"),
    "libxkbcommon-x11.so.0": Packages("libxkbcommon-x11-0", "libxkbcommon-x11"),
    "libwayland-client.so.0": Packages("libwayland-client0", "libwayland-client"),
    "libwayland-cursor.so.0": Packages("libwayland-cursor0", "libwayland-cursor"),
}


def missing_name(message: str) -> str:
    """The library that the system's loader says it cannot find, "" where it says other things."""
    found = _NOT_FOUND.match(message)
    return found["name"] if found else ""


def install_words(names: Iterable[str]) -> str:
    """How to get libraries: one command for Debian and Ubuntu, one for Fedora."""
    names = list(names)
    known = [PACKAGES[name] for name in names if name in PACKAGES]
    if not known:
        return f"install the system's package that holds {names[0]}"
    debian = " ".join(dict.fromkeys(packages.debian for packages in known))
    fedora = " ".join(dict.fromkeys(packages.fedora for packages in known))
    return f'run "apt install {debian}" (Debian, Ubuntu) or "dnf install {fedora}" (Fedora)'
