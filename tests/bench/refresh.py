"""From a key typed into a field until the new figures, plot and table are painted.

The window reads real catalogue files. Compared is the bare formula for the drawdown of the same
tanks, without window, checks or sorting.
"""

from __future__ import annotations

import gc
import os
import tempfile
import time
from collections.abc import Callable
from itertools import cycle
from pathlib import Path
from typing import Any

import numpy as np
from ranking import drawdown_factor
from screen import offscreen
from tanks import catalog_text
from timing import Row, compare, take_turns, timed

SIZES = (40, 1_000, 100_000)
TARGETS = {1_000: 16.0}
"""The most milliseconds that are wanted with so many tanks: one frame."""
EDITS = (
    # field, its text, the digits without and with the one that comes and goes, what is told
    ("pump_flow", "9.5 gpm", ("9", "9.5"), "a digit of the pump flow"),
    ("cut_in", "30.5 psi", ("30", "30.5"), "a digit of cut-in, which moves all lines"),
)
LONGEST_WAIT = 60.0  # s


def measure(rounds: int) -> list[Row]:
    rows = []
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        for name in ("HOME", "USERPROFILE", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "LOCALAPPDATA"):
            os.environ[name] = folder
        os.environ["QT_QPA_PLATFORM"] = offscreen(Path(folder))
        for count in SIZES:
            path = Path(folder, f"tanks-{count}.csv")
            path.write_text(catalog_text(count), encoding="utf-8")
            rows += _measure(path, count, 3 * rounds)
    return rows


def _measure(path: Path, count: int, rounds: int) -> list[Row]:
    from PySide6.QtCore import QEvent

    app, window = _open(path)
    ranking = window.store.results.ranking
    if len(ranking) != count:
        raise SystemExit(f"{len(ranking)} tanks are ranked, not {count}")
    tanks, setting = ranking.candidates.columns, ranking.setting

    def bare() -> np.ndarray:
        return np.minimum(drawdown_factor(setting) * tanks.volume, tanks.acceptance)

    rows = []
    for name, text, digits, told in EDITS:
        things = {"ours": _typing(window, name, text, digits), "bare": timed(bare)}
        found = take_turns(things, rounds)
        rows.append(
            compare(
                "An edit until it is painted",
                f"{count:,} tanks, {told}",
                "ms",
                found["ours"],
                found["bare"],
                target=TARGETS.get(count),
                of_ours=True,
            )
        )
    window.store.undo_stack.setClean()
    window.close()
    window.deleteLater()
    app.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)  # no part of the next measure
    return rows


def _open(path: Path) -> tuple[Any, Any]:
    """The application and a window with this catalogue, all drawn."""
    from PySide6.QtWidgets import QApplication

    from workbench.gui import theme
    from workbench.gui.settings import Settings
    from workbench.gui.window import MainWindow

    app = QApplication.instance() or QApplication([])
    theme.apply(app, theme.LIGHT)
    settings = Settings()
    settings.catalog = path
    window = MainWindow(settings)
    completed: list[bool] = []
    window.page.completed.connect(lambda: completed.append(True))
    window.resize(1366, 700)
    window.show()
    _wait_for(lambda: bool(completed))
    app.processEvents()
    gc.freeze()  # as the program does after its start
    return app, window


def _typing(window: Any, name: str, text: str, digits: tuple[str, str]) -> Callable[[], float]:
    """A measure [ms] of one keystroke: the number loses its last digit, and gets it again."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    field = window.page.inputs.rows[name].field
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    field.setCursorPosition(len(digits[1]))
    watch = paint_watch(window.page.plot.viewport(), window.page.tanks.table.viewport())
    strokes = cycle(zip((Qt.Key.Key_Backspace, Qt.Key.Key_5), digits, strict=True))

    def measure() -> float:
        key, expected = next(strokes)
        watch.forget()
        start = time.perf_counter()
        QTest.keyClick(field, key)
        _wait_for(watch.saw_all)
        elapsed = (time.perf_counter() - start) * 1e3
        if getattr(window.store.results.job, name).digits != expected:
            raise SystemExit("the keystroke was not evaluated")
        return elapsed

    return measure


def _wait_for(done: Callable[[], bool]) -> None:
    """Let Qt work until ``done``; fail if that takes too long."""
    from PySide6.QtWidgets import QApplication

    end = time.monotonic() + LONGEST_WAIT
    while not done():
        QApplication.processEvents()
        if time.monotonic() > end:
            raise SystemExit("nothing was painted")


def paint_watch(*widgets: Any) -> Any:
    from PySide6.QtCore import QEvent, QObject

    class PaintWatch(QObject):
        """Knows which of some widgets were painted since it was told to forget."""

        def __init__(self) -> None:
            super().__init__()
            self._painted: set[object] = set()
            for widget in widgets:
                widget.installEventFilter(self)

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if event.type() == QEvent.Type.Paint:
                self._painted.add(watched)
            return False

        def forget(self) -> None:
            self._painted.clear()

        def saw_all(self) -> bool:
            return len(self._painted) == len(widgets)

    return PaintWatch()
