"""Before a window: is there a display, and does the system have every library that Qt will load?

Qt ends the whole process when its platform plugin cannot be loaded, with a text that helps nobody.
So we look first, on Linux only; elsewhere Qt brings all it needs. What is loaded to look is what Qt
loads next anyway: looking costs a few milliseconds and is done at every start, so that a library
taken away since is noticed too.
"""

from __future__ import annotations

import ctypes
import os
import re
import struct
import sys
from collections.abc import Callable, Iterable, Mapping
from importlib.util import find_spec
from mmap import ACCESS_READ, mmap
from pathlib import Path

from workbench.bootstrap import Refusal
from workbench.words import tr

# Every Qt module that the program or pyqtgraph imports; a test holds this against the sources.
QT_MODULES = ("Core", "Gui", "Widgets", "OpenGL", "OpenGLWidgets", "PrintSupport", "Svg", "Test")

# Debian's package for each library that Qt's files name; dpkg -S tells them.
DEBIAN_PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libX11.so.6": "libx11-6",
    "libbrotlicommon.so.1": "libbrotli1",
    "libbrotlidec.so.1": "libbrotli1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libdrm.so.2": "libdrm2",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libgcc_s.so.1": "libgcc-s1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libstdc++.so.6": "libstdc++6",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxcb.so.1": "libxcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
}


def platform_name(environment: Mapping[str, str] = os.environ) -> str:
    """Which of Qt's platforms will be used; empty on a Linux without a display."""
    asked = environment.get("QT_QPA_PLATFORM", "")
    if asked:
        return asked.split(";")[0].split(":")[0].lower()
    if not sys.platform.startswith("linux"):
        return {"win32": "windows", "darwin": "cocoa"}.get(sys.platform, "")
    if environment.get("WAYLAND_DISPLAY"):
        return "wayland"
    return "xcb" if environment.get("DISPLAY") else ""


def ensure_window_can_open(environment: Mapping[str, str] = os.environ) -> None:
    """Raise :class:`Refusal` where Qt would end the process; install libraries where that helps."""
    if not sys.platform.startswith("linux"):
        return
    platform = platform_name(environment)
    if not platform:
        raise Refusal(
            tr(
                "There is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set), so no "
                "window can open.\nThe sub-commands work without one; they are listed by --help."
            )
        )
    ensure_libraries(platform)
    if not display_answers(platform):
        raise Refusal(
            tr(
                "The display that DISPLAY or WAYLAND_DISPLAY names does not answer or does not let "
                "this user in, so no window can open.\nStart the program from the desktop itself. "
                "The sub-commands work without a display; they are listed by --help."
            )
        )


def ensure_libraries(platform: str, load: Callable[[str], object] = ctypes.CDLL) -> None:
    """See to it that every library of Qt's ``platform`` can be loaded.

    Raises:
        Refusal: Some cannot, and they could not be installed from here.
    """
    folder = _qt_folder()
    if folder is None:  # not the packages from PyPI: the system's own, which bring what they need
        return
    files = qt_files(folder, platform)
    lacking = lacking_libraries(files, folder / "lib", load)
    if not lacking:
        return
    names = ", ".join(sorted(lacking))
    why = tr(
        "Qt, which draws the window, needs libraries that are missing here: {names}.", names=names
    )
    unknown = sorted(set(lacking) - set(DEBIAN_PACKAGES))
    if unknown:
        raise Refusal(
            why + "\n" + tr("Install them with your system's own means, then start again.")
        )
    from workbench.set_up import install_system_packages  # only now: it is seldom needed

    install_system_packages(sorted({DEBIAN_PACKAGES[name] for name in lacking}), why)
    still = lacking_libraries(files, folder / "lib", load)
    if still:
        raise Refusal(
            tr("Still missing after installing: {names}.", names=", ".join(sorted(still)))
        )


def _qt_folder() -> Path | None:
    spec = find_spec("PySide6")
    places = spec.submodule_search_locations if spec else None
    folder = Path(next(iter(places))) / "Qt" if places else None
    return folder if folder is not None and (folder / "lib").is_dir() else None


def qt_files(folder: Path, platform: str) -> list[Path]:
    """The files of Qt that a window on ``platform`` loads first.

    Raises:
        Refusal: This Qt has no such platform.
    """
    plugins = sorted((folder / "plugins/platforms").glob("libq*.so"))
    # One file may serve several names, as "wayland-egl".
    stem = "libq" + platform.split("-")[0]
    mine = [file for file in plugins if file.stem == stem or file.stem.startswith(stem + "-")]
    if not mine:
        known = ", ".join(file.stem.removeprefix("libq") for file in plugins)
        raise Refusal(
            tr(
                "QT_QPA_PLATFORM asks for '{platform}', which this Qt does not have. It has: "
                "{known}.",
                platform=platform,
                known=known,
            )
        )
    if platform.startswith("wayland"):
        mine.extend(sorted((folder / "plugins/wayland-shell-integration").glob("libxdg-shell.so")))
    libraries = [folder / "lib" / f"libQt6{name}.so.6" for name in QT_MODULES]
    return mine + [file for file in libraries if file.is_file()]


def lacking_libraries(
    files: Iterable[Path], bundled: Path, load: Callable[[str], object]
) -> set[str]:
    """The system libraries that ``files``, or what they need, name and that ``load`` cannot load.

    Libraries in the folder ``bundled`` come with Qt and are followed, not loaded.
    """
    seen: set[str] = set()
    lacking: set[str] = set()
    waiting = list(files)
    while waiting:
        for name in needed_names(waiting.pop()):
            if name in seen:
                continue
            seen.add(name)
            if (bundled / name).is_file():
                waiting.append(bundled / name)
                continue
            try:
                load(name)
            except OSError as error:
                # The one that is missing may be one that ``name`` needs in turn.
                told = re.match(r"(\S+): cannot open shared object file", str(error))
                lacking.add(told[1] if told else name)
    return lacking


def needed_names(file: Path) -> list[str]:
    """The NEEDED entries of a 64-bit little-endian ELF file.

    Source: System V Application Binary Interface, generic part, ch. 4 "Object Files" and ch. 5
    "Program Loading and Dynamic Linking" (header, program header, dynamic section).

    Raises:
        Refusal: It is no such file, so the installation is damaged.
    """
    try:
        with file.open("rb") as handle, mmap(handle.fileno(), 0, access=ACCESS_READ) as elf:
            return _needed(elf)
    except (ValueError, StopIteration, struct.error) as error:
        raise Refusal(
            tr(
                "The file {name} of Qt is damaged. Delete the folder .venv and start again.",
                name=file.name,
            )
        ) from error


def _needed(elf: mmap) -> list[str]:
    loaded, dynamic = 1, 2  # types of segments
    needed, string_table = 1, 5  # tags of dynamic entries
    if elf[:6] != b"\x7fELF\x02\x01":
        raise ValueError
    (start,) = struct.unpack_from("<Q", elf, 32)
    size, count = struct.unpack_from("<HH", elf, 54)
    # type, flags, place in the file, address in memory, physical address, length in the file
    headers = [struct.unpack_from("<IIQQQQ", elf, start + size * index) for index in range(count)]
    segments = [(header[0], header[2], header[3], header[5]) for header in headers]
    _, place, _, length = next(s for s in segments if s[0] == dynamic)
    entries = list(struct.iter_unpack("<qQ", elf[place : place + length]))
    strings = next(value for tag, value in entries if tag == string_table)
    offset = next(
        place - address
        for kind, place, address, length in segments
        if kind == loaded and address <= strings < address + length
    )
    names = [strings + offset + value for tag, value in entries if tag == needed]
    return [elf[name : elf.find(b"\0", name)].decode() for name in names]


def display_answers(platform: str) -> bool:
    """Whether the display server takes a connection; true for platforms that need none."""
    if platform == "xcb":
        xcb = ctypes.CDLL("libxcb.so.1")
        xcb.xcb_connect.restype = ctypes.c_void_p
        connection = ctypes.c_void_p(xcb.xcb_connect(None, None))
        refused = xcb.xcb_connection_has_error(connection)
        xcb.xcb_disconnect(connection)
        return not refused
    if platform.startswith("wayland"):
        wayland = ctypes.CDLL("libwayland-client.so.0")
        wayland.wl_display_connect.restype = ctypes.c_void_p
        display = wayland.wl_display_connect(None)
        if display:
            wayland.wl_display_disconnect(ctypes.c_void_p(display))
        return bool(display)
    return True
