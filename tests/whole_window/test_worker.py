"""Work beside the window: the newest run counts, any can be stopped, and nothing outlives it."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from workbench.gui.pages.progress_row import ProgressRow
from workbench.gui.worker import Background, Progress

ROOT = Path(__file__).resolve().parents[2]


class Slow:
    """A function that works until it is let go or told to stop."""

    def __init__(self, result: object = None) -> None:
        self.result = result
        self.has_begun = threading.Event()
        self.go_on = threading.Event()
        self.was_stopped = threading.Event()

    def __call__(self, progress: Progress) -> object:
        self.has_begun.set()
        while not self.go_on.wait(0.002):
            if not progress(0.5):
                self.was_stopped.set()
                return None
        progress(1.0)
        return self.result


@pytest.fixture
def owner(qtbot: QtBot) -> QWidget:
    widget = QWidget()
    qtbot.addWidget(widget)
    return widget


def test_the_result_and_the_progress_come_in_the_windows_thread(
    qtbot: QtBot, owner: QWidget
) -> None:
    background = Background(owner)
    told: list[tuple[object, threading.Thread]] = []
    worked: list[threading.Thread] = []
    slow = Slow("result")

    def function(progress: Progress) -> object:
        worked.append(threading.current_thread())
        return slow(progress)

    def hear(value: object) -> None:
        told.append((value, threading.current_thread()))

    background.run(function, hear, hear)
    assert background.busy
    qtbot.waitUntil(lambda: len(told) == 1)
    with qtbot.waitSignal(background.finished):
        slow.go_on.set()
    here = threading.current_thread()
    assert told == [(0.5, here), (1.0, here), ("result", here)]
    assert worked != [here]
    assert not background.busy


def test_a_new_run_stops_the_old_one_and_only_its_result_comes(
    qtbot: QtBot, owner: QWidget
) -> None:
    background = Background(owner)
    results: list[object] = []
    signals: list[str] = []
    background.started.connect(lambda: signals.append("started"))
    background.finished.connect(lambda: signals.append("finished"))
    old, new = Slow("old"), Slow("new")
    background.run(old, results.append)
    assert old.has_begun.wait(5)
    background.run(new, results.append)
    assert old.was_stopped.wait(5)
    new.go_on.set()
    qtbot.waitUntil(lambda: not background.busy)
    assert results == ["new"]
    assert signals == ["started", "finished"]


def test_a_result_that_came_too_late_is_dropped(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    results: list[object] = []
    deaf = threading.Event()

    def old(_progress: Progress) -> str:
        deaf.wait(5)  # asks nobody whether it is still wanted
        return "old"

    background.run(old, results.append)
    background.run(lambda _progress: "new", results.append)
    qtbot.waitUntil(lambda: results == ["new"])
    deaf.set()
    qtbot.wait(60)
    assert results == ["new"]


def test_two_hundred_quick_restarts_end_with_the_last(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    results: list[object] = []

    def count_to(number: int) -> Any:
        def function(progress: Progress) -> int:
            for step in range(50):
                if not progress(step / 50):
                    break
            return number

        return function

    for number in range(200):
        background.run(count_to(number), results.append)
        if number % 7 == 0:
            QApplication.processEvents()
    qtbot.waitUntil(lambda: not background.busy)
    assert results[-1] == 199
    assert results == sorted(set(results))  # none twice, none after a newer one


def test_cancelled_work_stops_and_tells_nothing(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    results: list[object] = []
    slow = Slow("result")
    background.run(slow, results.append, results.append)
    assert slow.has_begun.wait(5)
    with qtbot.waitSignals([background.cancelled, background.finished]):
        background.cancel()
    assert slow.was_stopped.wait(5)
    slow.go_on.set()
    qtbot.wait(40)
    assert results == []
    assert not background.busy
    background.cancel()  # nothing to do
    background.run(lambda _progress: "again", results.append)
    qtbot.waitUntil(lambda: results == ["again"])


def test_an_error_is_raised_in_the_windows_thread(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    results: list[object] = []

    def function(_progress: Progress) -> object:
        raise ValueError("bad figures")

    with qtbot.captureExceptions() as caught:
        background.run(function, results.append)
        qtbot.waitUntil(lambda: not background.busy)
    assert [str(error) for _, error, _ in caught] == ["bad figures"]
    assert results == []


def test_who_is_told_may_run_the_next_work(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    results: list[object] = []

    def next_one(result: object) -> None:
        results.append(result)
        background.run(lambda _progress: "second", results.append)

    background.run(lambda _progress: "first", next_one)
    qtbot.waitUntil(lambda: len(results) == 2)
    assert results == ["first", "second"]
    qtbot.waitUntil(lambda: not background.busy)


def test_work_whose_widget_goes_away_stops_and_calls_nobody(qtbot: QtBot) -> None:
    results: list[object] = []
    for _ in range(20):
        widget = QWidget()
        slow = Slow("result")
        Background(widget).run(slow, results.append, results.append)
        assert slow.has_begun.wait(5)
        widget.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        assert slow.was_stopped.wait(5)
    qtbot.wait(40)
    assert results == []


ENDING = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
from workbench.gui.worker import Background

app = QApplication([])
widget = QWidget()
background = Background(widget)

def work(progress):
    number = 0
    while progress(number % 100 / 100):
        number += 1
    print("stopped", flush=True)

for _ in range(3):
    background.run(work, print)
widget.show()
QTimer.singleShot(30, {ending})
{run}
print("end", flush=True)
"""


@pytest.mark.parametrize(
    ("ending", "run"),
    [
        ("widget.close", "app.exec()"),
        ("app.quit", "app.exec()"),
        ("lambda: (widget.deleteLater(), QTimer.singleShot(20, app.quit))", "app.exec()"),
        ("app.quit", "app.exec(); del widget, background, app"),
        ("app.quit", "app.exec(); sys.exit(0)"),
        ("app.quit", "import time; time.sleep(0.2)"),  # never an event loop
    ],
)
def test_the_program_ends_well_in_the_middle_of_work(ending: str, run: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", ENDING.format(ending=ending, run=run)],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("stopped") >= 1
    assert "Traceback" not in done.stderr


def test_the_progress_row_shows_only_what_takes_a_while(qtbot: QtBot, owner: QWidget) -> None:
    background = Background(owner)
    row = ProgressRow(background, "The day", owner)
    owner.show()
    assert not row.isVisible()
    slow = Slow("result")
    background.run(slow, lambda _result: None)
    assert not row.isVisible()
    qtbot.waitUntil(row.isVisible)
    qtbot.waitUntil(lambda: row.bar.value() == 50)
    row.cancel.click()
    assert not row.isVisible()
    assert not background.busy
    assert slow.was_stopped.wait(5)
    background.run(lambda _progress: 1, lambda _result: None)
    with qtbot.waitSignal(background.finished):
        pass
    qtbot.wait(300)
    assert not row.isVisible()
