"""A frame of the live tank, from the step of time until tank, trace and path are painted.

Each figure is a share of the 1/60 s that a frame has, at the median of a round's frames and at
their 95th percentile. Compared is the repaint of an empty widget as large as the page: what Qt
takes in any case.
"""

from __future__ import annotations

import gc
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from screen import offscreen
from timing import Row, compare, take_turns

FRAMES = 120
"""In each round, one after the other: two seconds."""
FRAME = 1.0 / 60.0
SPEEDS = ((1.0, "as it is"), (60.0, "60 times as fast"))
SHARES = ((0.5, "median"), (0.95, "95th percentile"))
TARGET = 100.0  # % of a frame


def measure(rounds: int) -> list[Row]:
    rows = []
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        for name in ("HOME", "USERPROFILE", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "LOCALAPPDATA"):
            os.environ[name] = folder
        os.environ["QT_QPA_PLATFORM"] = offscreen(Path(folder))
        app, page, empty = _open()
        for speed, told in SPEEDS:
            page.panel.set_speed(speed)
            for share, name in SHARES:
                things = {
                    "ours": _frames(app, _step(page.panel), share),
                    "bare": _frames(app, empty.update, share),
                }
                found = take_turns(things, rounds)
                rows.append(
                    compare(
                        "A frame of the live tank until it is painted",
                        f"{told}, {name} of {FRAMES} frames",
                        "% of 1/60 s",
                        found["ours"],
                        found["bare"],
                        target=TARGET,
                        of_ours=True,
                    )
                )
        if page.panel.player.time < FRAMES * FRAME:
            raise SystemExit("the tank did not play")
    return rows


def _open() -> tuple[Any, Any, Any]:
    """The application, the page in motion, and an empty widget of its size, both painted."""
    from PySide6.QtWidgets import QApplication, QWidget

    from workbench.gui import theme
    from workbench.gui.pages.live.page import LivePage
    from workbench.gui.store import Store
    from workbench.job.job import Job
    from workbench.units import Display

    app = QApplication.instance() or QApplication([])
    theme.apply(app, theme.LIGHT)
    store = Store(Display())
    store.job = Job().changed(live_volume="40 gal")
    page, empty = LivePage(store), QWidget()
    store.setParent(page)
    store.wake()
    for widget in (page, empty):
        widget.resize(1220, 700)
        widget.show()
    for _ in range(10):
        app.processEvents()
    gc.freeze()  # as the program does after its start
    return app, page, empty


def _step(panel: Any) -> Callable[[], None]:
    return lambda: panel.go_on(FRAME)


def _frames(app: Any, frame: Callable[[], None], share: float) -> Callable[[], float]:
    """A measure [% of 1/60 s]: of many frames the one that a share of them does not exceed."""

    def measure() -> float:
        gc.collect()
        taken = []
        for _ in range(FRAMES):
            start = time.perf_counter()
            frame()
            app.processEvents()
            taken.append((time.perf_counter() - start) / FRAME * 100.0)
        if share == 0.5:
            return statistics.median(taken)
        return sorted(taken)[round(share * (FRAMES - 1))]

    return measure
