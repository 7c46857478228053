"""From a key typed into a field until the new figures, plot and table are painted.

The window reads real catalogue files. Compared is the bare formula for the drawdown of the same
tanks, without window, checks or sorting.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from itertools import cycle
from pathlib import Path

import numpy as np
from ranking import drawdown_factor
from screen import offscreen
from tanks import catalog_text
from timing import Row, compare, take_turns, timed

SIZES = {40: None, 1_000: 16.0, 100_000: None}
"""Tanks, and the most milliseconds that are wanted."""
LONGEST_WAIT = 60.0


def measure(rounds: int) -> list[Row]:
    rows = []
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        for name in ("HOME", "USERPROFILE", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "LOCALAPPDATA"):
            os.environ[name] = folder
        os.environ["QT_QPA_PLATFORM"] = offscreen(Path(folder))
        for count, target in SIZES.items():
            path = Path(folder, f"tanks-{count}.csv")
            path.write_text(catalog_text(count), encoding="utf-8")
            rows.append(_measure(path, count, target, 3 * rounds if count < 100_000 else rounds))
    return rows


def _measure(path: Path, count: int, target: float | None, rounds: int) -> Row:
    from PySide6.QtWidgets import QApplication

    from workbench.gui import theme
    from workbench.gui.settings import Settings
    from workbench.gui.window import MainWindow

    app = QApplication.instance() or QApplication([])
    theme.apply(app, theme.LIGHT)
    settings = Settings()
    settings.catalog = path
    window = MainWindow(settings)
    completed = []
    window.page.completed.connect(lambda: completed.append(True))
    window.resize(1366, 700)
    window.show()
    _wait_for(lambda: bool(completed))
    app.processEvents()
    ranking = window.store.results.ranking
    if len(ranking) != count:
        raise SystemExit(f"{len(ranking)} tanks are ranked, not {count}")
    tanks = ranking.candidates.columns
    found = take_turns(
        {
            "ours": _typing(window),
            "bare": timed(
                lambda: np.minimum(drawdown_factor(ranking.setting) * tanks.volume, tanks.acceptance)
            ),
        },
        rounds,
    )
    window.store.undo_stack.setClean()
    window.close()
    window.deleteLater()
    app.processEvents()
    what = f"an edit with {count:,} tanks / bare formula"
    return compare("Refresh", what, "ms", found["ours"], found["bare"], target=target, of_ours=True)


def _typing(window: object) -> Callable[[], float]:
    """A measure [ms] of one keystroke: "10.5 gpm" loses its last digit, and gets it again."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    field = window.page.inputs.rows["pump_flow"].field
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "10.5 gpm")
    field.setCursorPosition(len("10.5"))
    painted = _PaintWatch(window.page.plot.viewport(), window.page.tanks.table.viewport())
    strokes = cycle(((Qt.Key.Key_Backspace, "10"), (Qt.Key.Key_5, "10.5")))

    def measure() -> float:
        key, digits = next(strokes)
        painted.forget()
        start = time.perf_counter()
        QTest.keyClick(field, key)
        _wait_for(painted.all)
        elapsed = (time.perf_counter() - start) * 1e3
        if window.store.results.job.pump_flow.digits != digits:
            raise SystemExit("the keystroke was not evaluated")
        return elapsed

    return measure


def _wait_for(done: Callable[[], bool]) -> None:
    """Let Qt work until ``done``, and through what is then still to be painted."""
    from PySide6.QtWidgets import QApplication

    end = time.monotonic() + LONGEST_WAIT
    while True:
        QApplication.processEvents()
        if done():
            return
        if time.monotonic() > end:
            raise SystemExit("nothing was painted")


def _PaintWatch(*widgets: object) -> object:
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

        def all(self) -> bool:
            return len(self._painted) == len(widgets)

    return PaintWatch()
