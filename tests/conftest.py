"""What every test gets: an office screen that is not there, folders of its own, and guards.

A test that uses ``qapp`` or ``qtbot`` fails if it leaves a window, a timer, a thread or a job
behind, or if a box opens that waits for an answer. Qt is first imported when a test asks for it.
"""

from __future__ import annotations

import gc
import json
import os
import shutil
import sys
import tempfile
import threading
import time
import weakref
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from PySide6.QtCore import QRunnable, QThread, QThreadPool, QTimer
    from PySide6.QtWidgets import QApplication

SCREEN_WIDTH, SCREEN_HEIGHT = 1366, 768
TEXT_POINTS = 10.0  # Qt's offscreen platform has no text size of its own that could be relied on
JOB_GRACE = 200  # ms for a job that has told its result to leave its thread
STOP_PATIENCE = 10_000  # ms for what was left running to end before the next test


def _office_screen(scale: float) -> dict[str, object]:
    """Qt's description of a screen that has the usual room at any scale of the display."""
    screen = {
        "name": "office",
        "x": 0,
        "y": 0,
        "width": round(SCREEN_WIDTH * scale),
        "height": round(SCREEN_HEIGHT * scale),
        "logicalDpi": 96,
        "logicalBaseDpi": 96,
        "dpr": 1.0,
    }
    return {"synchronousWindowSystemEvents": True, "windowFrameMargins": True, "screens": [screen]}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--soak", action="store_true", help="also run the tests marked soak")
    parser.addoption("--update-pictures", action="store_true", help="make the pictures anew")
    parser.addoption("--scale", type=float, default=1.0, help="of the display, as 1.25, 1.5 or 2")


def pytest_configure(config: pytest.Config) -> None:
    """Fix what the platform would bring along, before Qt looks at it."""
    folder = Path(tempfile.mkdtemp(prefix="office-screen-"))
    config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    file = folder / "screen.json"
    scale: float = config.getoption("--scale")
    file.write_text(json.dumps(_office_screen(scale)), encoding="utf-8")
    # Qt splits the platform's name at colons, so a drive letter must not stand in it.
    place = os.path.relpath(file) if sys.platform == "win32" else str(file)
    os.environ["QT_QPA_PLATFORM"] = f"offscreen:configfile={place}"
    os.environ.update(LC_ALL="C.UTF-8", LANG="C.UTF-8", TZ="UTC")
    if hasattr(time, "tzset"):
        time.tzset()
    os.environ["QT_SCALE_FACTOR"] = str(scale)
    for name in ("LANGUAGE", "QT_FONT_DPI", "QT_STYLE_OVERRIDE"):
        os.environ.pop(name, None)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--soak"):
        return
    for item in items:
        if item.get_closest_marker("soak"):
            item.add_marker(pytest.mark.skip(reason="long run, only with --soak"))


@pytest.fixture(autouse=True)
def own_folders(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The test's own home, so that nothing is read from or written to the user's."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    monkeypatch.setenv("XDG_DATA_HOME", str(home / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(home / "config"))
    monkeypatch.setenv("XDG_STATE_HOME", str(home / "state"))
    monkeypatch.setenv("APPDATA", str(home / "roaming"))
    monkeypatch.setenv("LOCALAPPDATA", str(home / "local"))
    if "PySide6.QtCore" in sys.modules:
        from PySide6.QtCore import QSettings

        # QSettings looks at the environment once per process, so it must be told each time.
        for kind in (QSettings.Format.NativeFormat, QSettings.Format.IniFormat):
            QSettings.setPath(kind, QSettings.Scope.UserScope, str(home / "config"))
            QSettings.setPath(kind, QSettings.Scope.SystemScope, str(home / "system"))
    return home


@pytest.fixture(scope="session")
def qapp(qapp: QApplication) -> QApplication:
    """The application in our light theme, with the bundled typeface at one size everywhere."""
    from PySide6.QtCore import QLocale

    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    _guard_boxes()
    _started.watch()
    dress_as_usual(qapp)
    return qapp


def dress_as_usual(app: QApplication) -> None:
    """Put ``app`` into the state in which every test finds it."""
    from workbench.gui import theme

    theme.apply(app, theme.LIGHT)
    usual = app.font()
    usual.setPointSizeF(TEXT_POINTS)
    app.setFont(usual)


@pytest.fixture(autouse=True)
def nothing_left_behind(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail a test that uses Qt and leaves something running or standing; and undress it."""
    if not {"qapp", "qtbot"} & set(request.fixturenames):
        yield
        return
    app: QApplication = request.getfixturevalue("qapp")
    before = _top_level_widgets(app)
    _started.forget()
    font, palette, sheet = app.font(), app.palette(), app.styleSheet()
    yield
    left = _started.still_running()
    if app.mouseButtons():
        left.append("a mouse button held down")
        _let_go_of_the_mouse()
    _finish_deletions(app)
    if _new_widgets(app, before):
        gc.collect()  # a cycle of Python objects is no leak, only not yet collected
        _finish_deletions(app)
    left += [f"window {_described(widget)}" for widget in _new_widgets(app, before)]
    if (font, palette, sheet) != (app.font(), app.palette(), app.styleSheet()):
        dress_as_usual(app)
    assert not left, "left behind by this test: " + "; ".join(left)


def _let_go_of_the_mouse() -> None:
    """Qt keeps a pressed button for all that follow."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QWidget

    widget = QWidget()
    QTest.mouseRelease(widget, Qt.MouseButton.LeftButton)
    widget.deleteLater()


def _finish_deletions(app: QApplication) -> None:
    from PySide6.QtCore import QEvent

    app.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    app.processEvents()


def _top_level_widgets(app: QApplication) -> dict[int, Any]:
    from shiboken6 import getCppPointer

    return {getCppPointer(widget)[0]: widget for widget in app.topLevelWidgets()}


def _new_widgets(app: QApplication, before: dict[int, Any]) -> list[Any]:
    return [widget for key, widget in _top_level_widgets(app).items() if key not in before]


def _described(widget: Any) -> str:
    return f'{type(widget).__name__} "{widget.objectName() or widget.windowTitle()}"'


class _Started:
    """Every timer, thread and job that Python code starts, since the last ``forget``."""

    def __init__(self) -> None:
        self._timers: list[weakref.ref[QTimer]] = []
        self._threads: list[weakref.ref[QThread]] = []
        # The pool itself: of the one that Qt owns Python may have but a passing wrapper.
        self._jobs: list[tuple[QThreadPool, str]] = []
        self._python_threads: set[threading.Thread] = set()

    def watch(self) -> None:
        from PySide6.QtCore import QThread, QThreadPool, QTimer

        start_timer, start_thread, start_job = QTimer.start, QThread.start, QThreadPool.start

        def timer(this: QTimer, *args: Any) -> None:
            self._timers.append(weakref.ref(this))
            start_timer(this, *args)

        def thread(this: QThread, *args: Any) -> None:
            self._threads.append(weakref.ref(this))
            start_thread(this, *args)

        def job(this: QThreadPool, task: QRunnable | Callable[[], object], *args: Any) -> None:
            name = getattr(task, "__qualname__", type(task).__qualname__)
            self._jobs.append((this, name))
            start_job(this, task, *args)

        QTimer.start, QThread.start, QThreadPool.start = timer, thread, job  # type: ignore[method-assign]

    def forget(self) -> None:
        self._timers.clear()
        self._threads.clear()
        self._jobs.clear()
        self._python_threads = set(threading.enumerate())

    def still_running(self) -> list[str]:
        """The names of all that runs on; it is stopped, so that the next test finds none of it."""
        return [*self._running_timers(), *self._running_threads(), *self._running_jobs()]

    def _running_timers(self) -> Iterator[str]:
        for timer in _alive(self._timers):
            if timer.isActive():
                owner = timer.parent()
                whose = f" of {type(owner).__name__}" if owner else ""
                yield f'timer "{timer.objectName()}"{whose}, every {timer.interval()} ms'
                timer.stop()

    def _running_threads(self) -> Iterator[str]:
        for thread in _alive(self._threads):
            if not thread.wait(0):
                yield f'thread {type(thread).__name__} "{thread.objectName()}"'
                thread.requestInterruption()
                thread.quit()
                thread.wait(STOP_PATIENCE)
        for extra in set(threading.enumerate()) - self._python_threads:
            if not extra.daemon:
                yield f'Python thread "{extra.name}"'

    def _running_jobs(self) -> Iterator[str]:
        from shiboken6 import isValid

        for pool in {id(pool): pool for pool, _ in self._jobs if isValid(pool)}.values():
            if not pool.waitForDone(JOB_GRACE):
                names = {name for where, name in self._jobs if where is pool}
                yield f"job in a thread pool, one of: {', '.join(sorted(names))}"
                pool.waitForDone(STOP_PATIENCE)


def _alive(references: list[weakref.ref[Any]]) -> list[Any]:
    from shiboken6 import isValid

    found = [reference() for reference in references]
    return [thing for thing in found if thing is not None and isValid(thing)]


_started = _Started()


def _guard_boxes() -> None:
    """Let every box that waits for an answer fail; a test that expects one replaces the call."""
    from PySide6 import QtWidgets

    for owner, names in {
        QtWidgets.QDialog: ("exec", "exec_"),
        QtWidgets.QMenu: ("exec", "exec_"),
        QtWidgets.QMessageBox: (
            "about",
            "aboutQt",
            "critical",
            "information",
            "question",
            "warning",
        ),
        QtWidgets.QFileDialog: tuple(n for n in vars(QtWidgets.QFileDialog) if n.startswith("get")),
        QtWidgets.QInputDialog: tuple(
            n for n in vars(QtWidgets.QInputDialog) if n.startswith("get")
        ),
        QtWidgets.QColorDialog: ("getColor",),
        QtWidgets.QFontDialog: ("getFont",),
    }.items():
        for name in names:
            setattr(owner, name, _refusing(f"{owner.__name__}.{name}"))


def _refusing(name: str) -> Callable[..., None]:
    def refuse(*_args: object, **_kwargs: object) -> None:
        raise AssertionError(f"{name} opened a box that waits for an answer")

    return refuse
