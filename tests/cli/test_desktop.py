"""Whether a window could open: libraries and displays, real ones and ones made to fail."""

import os
import socket
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

import pytest

from schemeforge.cli import desktop
from schemeforge.cli.desktop import PLATFORM_VARIABLE, answering, obstacle
from schemeforge.cli.system_libraries import PACKAGES, install_words, missing_name
from schemeforge.errors import MissingLibraryError, SchemeForgeError

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only Linux lacks such things")

DISPLAY_VARIABLES = ("DISPLAY", "WAYLAND_DISPLAY", "XDG_SESSION_TYPE", PLATFORM_VARIABLE)


@pytest.fixture(autouse=True)
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that knows of no display."""
    for name in DISPLAY_VARIABLES:
        monkeypatch.setenv(name, "")


def plugins() -> Path:
    """Qt's platform plugins."""
    spec = find_spec("PySide6")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "Qt" / "plugins" / "platforms"


@contextmanager
def x_server(*, welcome: bool) -> Iterator[str]:
    """An X server that answers one caller and does nothing more; gives its display."""
    with socket.socket(socket.AF_INET) as server:
        server.bind(("127.0.0.1", 0))
        server.listen()
        server.settimeout(5.0)  # a caller that never comes fails the test, not the run

        def greet() -> None:
            caller, _ = server.accept()
            with caller:
                caller.settimeout(5.0)
                caller.recv(4096)
                caller.sendall(x_setup(welcome=welcome))
                caller.recv(4096)  # until the caller hangs up

        greeter = threading.Thread(target=greet)
        greeter.start()
        yield f"127.0.0.1:{server.getsockname()[1] - 6000}"
        greeter.join()


def x_setup(*, welcome: bool) -> bytes:
    """An X server's answer to a connection [X11 protocol, connection setup], little-endian."""
    if not welcome:
        return bytes([0, 4, 11, 0, 0, 0, 1, 0]) + b"nono"
    numbers = bytes(16) + bytes([0, 0, 255, 255, 1, 0]) + bytes(10)
    screen = bytes(40)
    length = (len(numbers) + len(screen)) // 4
    return bytes([1, 0, 11, 0, 0, 0, length, 0]) + numbers + screen


def test_no_display_is_a_sentence() -> None:
    found = obstacle()
    assert found is not None
    assert found.what.startswith("There is no display to open the window on")
    assert "run it on a desktop, or set DISPLAY or WAYLAND_DISPLAY" in found.remedy


def test_a_display_that_does_not_answer(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("DISPLAY", ":9876")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-7")
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    found = obstacle()
    assert found is not None
    assert found.sentence == (
        "DISPLAY=:9876 WAYLAND_DISPLAY=wayland-7: The display does not answer; check that "
        "variable, or run it on a desktop."
    )


def test_an_x_server_is_greeted(tmp_path: Path) -> None:
    with x_server(welcome=True) as display:
        assert answering(tmp_path / "no plugins", {"DISPLAY": display}) == ("xcb",)


def test_an_x_server_may_turn_us_away(tmp_path: Path) -> None:
    with (
        x_server(welcome=False) as display,
        pytest.raises(SchemeForgeError, match="does not answer"),
    ):
        answering(tmp_path / "no plugins", {"DISPLAY": display})


@pytest.mark.parametrize(
    ("session", "order"), [("x11", ("xcb", "wayland")), ("wayland", ("wayland", "xcb"))]
)
def test_the_session_says_which_display_is_best(
    session: str, order: tuple[str, str], tmp_path: Path
) -> None:
    with x_server(welcome=True) as display, socket.socket(socket.AF_UNIX) as wayland:
        wayland.bind(str(tmp_path / "way"))
        wayland.listen()
        variables = {
            "DISPLAY": display,
            "WAYLAND_DISPLAY": "way",
            "XDG_RUNTIME_DIR": str(tmp_path),
            "XDG_SESSION_TYPE": session,
        }
        assert answering(tmp_path / "no plugins", variables) == order


def test_a_plugin_that_lacks_a_library_names_it(tmp_path: Path) -> None:
    whole = (plugins() / "libqxcb.so").read_bytes()
    assert whole.count(b"libxcb-cursor.so.0\0") == 1
    broken = whole.replace(b"libxcb-cursor.so.0\0", b"libxcb-nobody.so.0\0")
    # Qt's own libraries lie two folders up from a plugin, and so do the links to them here.
    (tmp_path / "lib").symlink_to(plugins().parents[1] / "lib")
    folder = tmp_path / "plugins" / "platforms"
    folder.mkdir(parents=True)
    (folder / "libqxcb.so").write_bytes(broken)
    with (
        x_server(welcome=True) as display,
        pytest.raises(MissingLibraryError) as caught,
    ):
        answering(folder, {"DISPLAY": display})
    assert "libxcb-nobody.so.0" in caught.value.what


def test_a_library_that_is_no_library(tmp_path: Path) -> None:
    (tmp_path / "libqxcb.so").write_bytes(b"noise")
    with pytest.raises(MissingLibraryError, match="cannot be loaded"):
        desktop._load_plugin(tmp_path, "xcb")


def test_a_platform_without_screen_needs_no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(PLATFORM_VARIABLE, "offscreen")
    found = obstacle()
    if isinstance(found, MissingLibraryError):
        pytest.skip(f"this machine lacks Qt's libraries: {found.sentence}")
    assert found is None
    assert os.environ[PLATFORM_VARIABLE] == "offscreen"  # the user's choice stays


def test_a_platform_that_does_not_exist(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(PLATFORM_VARIABLE, "teletype")
    found = obstacle()
    assert found is not None
    assert found.sentence == (
        'QT_QPA_PLATFORM: Qt has no platform called "teletype"; unset QT_QPA_PLATFORM.'
    )


def test_a_chosen_screen_must_answer_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(PLATFORM_VARIABLE, "xcb")
    monkeypatch.setenv("DISPLAY", ":9876")
    found = obstacle()
    assert found is not None
    assert "does not answer" in found.what


@pytest.mark.parametrize(
    ("message", "name"),
    [
        (
            "libEGL.so.1: cannot open shared object file: No such file or directory",
            "libEGL.so.1",
        ),
        (
            "/usr/lib/libdbus-1.so.3: cannot open shared object file: No such file or directory",
            "libdbus-1.so.3",
        ),
        ("/a/libGL.so.1: file too short", ""),
        ("/lib/libc.so.6: version `GLIBC_2.34' not found (required by x)", ""),
    ],
)
def test_the_loaders_words_are_read(message: str, name: str) -> None:
    assert missing_name(message) == name


def test_how_to_get_libraries() -> None:
    assert install_words(["libEGL.so.1", "libxcb-cursor.so.0", "libEGL.so.1"]) == (
        'run "apt install libegl1 libxcb-cursor0" (Debian, Ubuntu) or '
        '"dnf install libglvnd-egl xcb-util-cursor" (Fedora)'
    )
    assert install_words(["libodd.so.9"]) == "install the system's package that holds libodd.so.9"


def test_a_missing_known_library_tells_its_package() -> None:
    name = "libEGL.so.1"
    told = desktop._lacking(f"{name}: cannot open shared object file: No such file or directory")
    assert told.what.startswith("The window needs the system librar")
    assert name in told.what
    assert "apt install libegl1" in told.remedy


def test_the_table_of_packages_covers_what_qt_asks_for() -> None:
    base = ("libc.", "libm.", "libdl.", "libpthread.", "librt.", "libstdc++.", "libgcc_s.")
    own = ("libQt6", "libicu", "ld-linux")
    ordinary = ("libz.", "libzstd.")  # no Python runs without the first, no Debian without both
    libraries = [plugins().parents[1] / "lib" / name for name in desktop._QT_LIBRARIES]
    for file in (*libraries, plugins() / "libqxcb.so", plugins() / "libqwayland.so"):
        needed = needed_by(file)
        assert needed
        for name in needed:
            if not name.startswith((*base, *own, *ordinary)):
                assert name in PACKAGES, f"{file.name} needs {name}"


def needed_by(file: Path) -> set[str]:
    """The libraries that an ELF file of 64 bits, little-endian, asks the loader for."""
    data = file.read_bytes()
    assert data[:6] == b"\x7fELF\x02\x01"

    def number(at: int, size: int) -> int:
        return int.from_bytes(data[at : at + size], "little")

    table, entry, count = number(32, 8), number(54, 2), number(56, 2)
    heads = [table + n * entry for n in range(count)]
    loads = [
        (number(h + 16, 8), number(h + 8, 8), number(h + 32, 8)) for h in heads if number(h, 4) == 1
    ]
    (dynamic,) = (h for h in heads if number(h, 4) == 2)
    rows = range(number(dynamic + 8, 8), number(dynamic + 8, 8) + number(dynamic + 32, 8), 16)
    tagged = [(number(at, 8), number(at + 8, 8)) for at in rows]
    (strings,) = (value for tag, value in tagged if tag == 5)
    start = next(strings - v + o for v, o, size in loads if v <= strings < v + size)
    names = set()
    for tag, value in tagged:
        if tag == 1:
            at = start + value
            names.add(data[at : data.index(b"\0", at)].decode())
    return names
