"""What Qt needs of the system, with files made here and with Qt's own."""

from __future__ import annotations

import re
import struct
import sys
from pathlib import Path

import pytest

from workbench import qt_libraries, set_up
from workbench.bootstrap import Refusal

ROOT = Path(__file__).resolve().parents[2]
GLIBC = re.compile(r"(lib(c|m|dl|pthread|resolv|rt)|ld-linux.*)\.so\.\d+")  # on every Linux
on_linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="Linux's Qt only")


def elf(path: Path, *needed: str) -> Path:
    """Write the least ELF file that names ``needed``; loaded at an address unlike its place."""
    names = b"\0" + b"".join(name.encode() + b"\0" for name in needed)
    text_at, address = 64 + 2 * 56, 0x40000
    offsets = [names.index(name.encode() + b"\0") for name in needed]
    entries = [(1, offset) for offset in offsets] + [(5, address + text_at), (0, 0)]
    dynamic = b"".join(struct.pack("<qQ", *entry) for entry in entries)
    size = text_at + len(names)
    header = b"\x7fELF\x02\x01\x01" + bytes(9)
    header += struct.pack("<HHIQQQIHHHHHH", 3, 62, 1, 0, 64, 0, 0, 64, 56, 2, 0, 0, 0)
    load = struct.pack("<IIQQQQQQ", 1, 4, 0, address, 0, size, size, 4096)
    at = (2, 6, size, address + size, 0, len(dynamic), len(dynamic), 8)
    path.write_bytes(header + load + struct.pack("<IIQQQQQQ", *at) + names + dynamic)
    return path


class Loader:
    """Loads what it was told is there; otherwise fails with the system's own text."""

    def __init__(self, *there: str, **broken: str) -> None:
        self.there = set(there)
        self.broken = broken

    def __call__(self, name: str) -> None:
        if name in self.broken:
            raise OSError(self.broken[name])
        if name not in self.there:
            raise OSError(f"{name}: cannot open shared object file: No such file or directory")


@pytest.fixture
def qt(tmp_path, monkeypatch):
    """A folder as PySide6's, with one platform whose plugin needs another file of the folder."""
    folder = tmp_path / "Qt"
    (folder / "lib").mkdir(parents=True)
    (folder / "plugins/platforms").mkdir(parents=True)
    elf(folder / "plugins/platforms/libqxcb.so", "libQt6XcbQpa.so.6", "libX11.so.6")
    elf(folder / "plugins/platforms/libqxcbegl.so", "libnever.so.1")
    elf(folder / "lib/libQt6XcbQpa.so.6", "libxcb-cursor.so.0", "libc.so.6")
    elf(folder / "lib/libQt6Gui.so.6", "libEGL.so.1")
    monkeypatch.setattr(qt_libraries, "_qt_folder", lambda: folder)
    return folder


@pytest.fixture
def system(monkeypatch):
    """What the system has; installing a package puts its libraries there."""
    loader = Loader("libc.so.6")
    asked = []

    def install(packages, why):
        asked.append((packages, why))
        loader.there.update(
            name for name, package in qt_libraries.DEBIAN_PACKAGES.items() if package in packages
        )

    monkeypatch.setattr(set_up, "install_system_packages", install)
    loader.asked = asked
    return loader


def test_needed_names_are_read_from_a_file_whose_addresses_differ_from_its_places(tmp_path):
    file = elf(tmp_path / "x.so", "libone.so.1", "libtwo.so.22")
    assert qt_libraries.needed_names(file) == ["libone.so.1", "libtwo.so.22"]
    assert qt_libraries.needed_names(elf(tmp_path / "y.so")) == []


@pytest.mark.parametrize("kept", [0, 3, 40, 100, 200])
def test_damaged_file_is_refused_with_its_name(tmp_path, kept):
    file = elf(tmp_path / "x.so", "libone.so.1")
    file.write_bytes(file.read_bytes()[:kept])
    with pytest.raises(Refusal, match=r"x\.so of Qt is damaged.*\.venv"):
        qt_libraries.needed_names(file)


def test_all_lacking_libraries_are_found_at_once_also_behind_those_of_qt(qt):
    lacking = qt_libraries.lacking_libraries(
        qt_libraries.qt_files(qt, "xcb"), qt / "lib", Loader("libc.so.6")
    )
    assert lacking == {"libX11.so.6", "libxcb-cursor.so.0", "libEGL.so.1"}


def test_the_library_behind_a_present_one_is_named(tmp_path):
    file = elf(tmp_path / "x.so", "libX11.so.6")
    behind = {"libX11.so.6": "libxcb.so.1: cannot open shared object file: No such file"}
    assert qt_libraries.lacking_libraries([file], tmp_path, Loader(**behind)) == {"libxcb.so.1"}
    unusable = {"libX11.so.6": "/lib/libX11.so.6: invalid ELF header"}
    assert qt_libraries.lacking_libraries([file], tmp_path, Loader(**unusable)) == {"libX11.so.6"}


def test_lacking_libraries_are_installed_by_their_packages(qt, system):
    qt_libraries.ensure_libraries("xcb", system)
    ((packages, why),) = system.asked
    assert packages == ["libegl1", "libx11-6", "libxcb-cursor0"]
    assert "libEGL.so.1, libX11.so.6, libxcb-cursor.so.0" in why


def test_nothing_is_asked_of_a_system_that_has_all(qt, system):
    system.there.update(qt_libraries.DEBIAN_PACKAGES)
    qt_libraries.ensure_libraries("xcb", system)
    assert system.asked == []


def test_library_without_known_package_is_named(qt, system):
    elf(qt / "lib/libQt6Gui.so.6", "libstrange.so.9", "libEGL.so.1")
    with pytest.raises(Refusal, match=r"libstrange\.so\.9.*\n.*own means"):
        qt_libraries.ensure_libraries("xcb", system)
    assert system.asked == []


def test_library_that_is_still_missing_after_installing_is_named(qt, system, monkeypatch):
    monkeypatch.setattr(set_up, "install_system_packages", lambda _packages, _why: None)
    with pytest.raises(Refusal, match=r"Still missing after installing: libEGL\.so\.1"):
        qt_libraries.ensure_libraries("xcb", system)


def test_platform_that_qt_does_not_have_is_refused_with_those_it_has(qt):
    with pytest.raises(Refusal, match=r"'paper'.*xcb, xcbegl"):
        qt_libraries.ensure_libraries("paper")


@pytest.mark.parametrize(
    ("environment", "platform"),
    [
        ({}, ""),
        ({"DISPLAY": "", "WAYLAND_DISPLAY": ""}, ""),
        ({"DISPLAY": ":0"}, "xcb"),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, "wayland"),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "offscreen"),
        ({"QT_QPA_PLATFORM": "Wayland-EGL;xcb"}, "wayland-egl"),
        ({"QT_QPA_PLATFORM": "vnc:size=800x600"}, "vnc"),
    ],
)
def test_platform_is_chosen_as_qt_chooses_it(environment, platform, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    assert qt_libraries.platform_name(environment) == platform


def test_no_display_is_told_and_the_sub_commands_are_named(monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    with pytest.raises(Refusal, match=r"no display[\s\S]*sub-commands work without one"):
        qt_libraries.ensure_window_can_open({})


@pytest.mark.parametrize(("system", "platform"), [("win32", "windows"), ("darwin", "cocoa")])
def test_other_systems_are_left_to_qt(system, platform, monkeypatch):
    monkeypatch.setattr(sys, "platform", system)
    monkeypatch.setattr(qt_libraries, "ensure_libraries", lambda _name: pytest.fail("looked"))
    assert qt_libraries.platform_name({}) == platform
    qt_libraries.ensure_window_can_open({})


@on_linux
def test_display_that_does_not_answer_is_told(monkeypatch):
    monkeypatch.setattr(qt_libraries, "ensure_libraries", lambda _name: None)
    monkeypatch.setattr(qt_libraries, "display_answers", lambda name: name != "xcb")
    with pytest.raises(Refusal, match="does not answer"):
        qt_libraries.ensure_window_can_open({"DISPLAY": ":1"})
    qt_libraries.ensure_window_can_open({"QT_QPA_PLATFORM": "offscreen"})


@on_linux
def test_real_display_that_is_not_there_does_not_answer(monkeypatch):
    import ctypes

    for name, library, platform in (
        ("DISPLAY", "libxcb.so.1", "xcb"),
        ("WAYLAND_DISPLAY", "libwayland-client.so.0", "wayland"),
    ):
        try:
            ctypes.CDLL(library)
        except OSError:
            continue
        monkeypatch.setenv(name, ":9999" if platform == "xcb" else "no-such-display")
        assert not qt_libraries.display_answers(platform)
    assert qt_libraries.display_answers("offscreen")


@on_linux
@pytest.mark.parametrize("platform", ["xcb", "wayland", "offscreen"])
def test_every_library_that_this_qt_names_has_a_package(platform):
    folder = qt_libraries._qt_folder()
    assert folder is not None
    files = qt_libraries.qt_files(folder, platform)
    named = qt_libraries.lacking_libraries(files, folder / "lib", Loader())
    assert {"libEGL.so.1", "libxkbcommon.so.0", "libc.so.6"} <= named
    assert {name for name in named if not GLIBC.fullmatch(name)} <= set(
        qt_libraries.DEBIAN_PACKAGES
    )


def test_every_qt_module_that_the_program_imports_is_looked_at():
    sources = "\n".join(
        file.read_text(encoding="utf-8") for file in (ROOT / "workbench").rglob("*.py")
    )
    lines = re.findall(r"^\s*from PySide6 import (\([^)]*\)|.*)", sources, re.MULTILINE)
    imported = {name for line in lines for name in re.findall(r"Qt(\w+)", line)}
    imported |= set(re.findall(r"(?:from|import) PySide6\.Qt(\w+)", sources))
    assert imported <= set(qt_libraries.QT_MODULES)
