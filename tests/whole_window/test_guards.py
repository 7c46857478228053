"""The guards that every test runs under catch what they are for."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, QSettings, QStandardPaths
from PySide6.QtWidgets import QApplication

from tests.conftest import SCREEN_HEIGHT, SCREEN_WIDTH
from workbench import paths

PATIENCE = 120  # seconds; a box that does open waits for ever
ROOT = Path(__file__).resolve().parents[2]

CARELESS = """
import threading, time
import pytest
from PySide6.QtCore import QCoreApplication, QThread, QThreadPool, QTimer, qWarning
from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox, QPushButton, QWidget

kept = []

class Sleeper(QThread):
    def run(self):
        while not self.isInterruptionRequested():
            time.sleep(0.01)

def test_window(qtbot):
    kept.append(QWidget(objectName="forgotten"))

def test_timer(qapp):
    kept.append(QTimer(objectName="ticking", interval=50))
    kept[-1].start()

def test_thread(qapp):
    kept.append(Sleeper())
    kept[-1].start()

def test_job(qapp):
    def slow_job():
        time.sleep(1)
    QThreadPool.globalInstance().start(slow_job)

def test_python_thread(qapp):
    threading.Thread(target=time.sleep, args=(1,), name="slowpoke").start()

def test_message(qtbot):
    QMessageBox.warning(None, "title", "text")

def test_dialog(qtbot):
    QDialog().exec()

def test_file_in_slot(qtbot):
    button = QPushButton()
    qtbot.addWidget(button)
    button.clicked.connect(QFileDialog.getOpenFileName)
    button.click()

def test_qt_warning(qtbot):
    qWarning("something is wrong")

@pytest.mark.soak
def test_soak():
    assert False

def test_tidy(qtbot, monkeypatch):
    monkeypatch.setattr(QMessageBox, "question", lambda *_: "yes")
    assert QMessageBox.question(None, "title", "text") == "yes"
    timer = QTimer()
    timer.start(1)
    timer.stop()
    qtbot.addWidget(QWidget())
    QWidget()

def test_without_qt():
    assert True

def test_after_all(qapp):
    assert not qapp.topLevelWidgets() or kept
"""
COMPLAINTS = {
    "test_window": 'window QWidget "forgotten"',
    "test_timer": 'timer "ticking", every 50 ms',
    "test_thread": "thread Sleeper",
    "test_job": "job in a thread pool, one of: test_job.<locals>.slow_job",
    "test_python_thread": 'Python thread "slowpoke"',
    "test_message": "QMessageBox.warning opened a box that waits for an answer",
    "test_dialog": "QDialog.exec opened a box that waits for an answer",
    "test_file_in_slot": "QFileDialog.getOpenFileName opened a box that waits for an answer",
    "test_qt_warning": "something is wrong",
}
PASSING = ("test_tidy", "test_without_qt", "test_after_all")


@pytest.fixture(scope="module")
def careless_run(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What pytest says about the careless tests, run under our conftest."""
    folder = tmp_path_factory.mktemp("careless")
    (folder / "conftest.py").write_text("from tests.conftest import *\n", encoding="utf-8")
    file = folder / "test_careless.py"
    file.write_text(CARELESS, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-c", "pyproject.toml", "-rA", str(file)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
    )
    assert done.returncode == 1, done.stdout + done.stderr
    return done.stdout


@pytest.mark.parametrize("name", COMPLAINTS)
def test_a_careless_test_fails_and_is_told_why(careless_run, name):
    told = [line for line in careless_run.splitlines() if COMPLAINTS[name] in line]
    assert told
    ends = [x for x in careless_run.splitlines() if x.endswith(name) or f"::{name} " in x]
    assert any(line.startswith(("FAILED", "ERROR")) for line in ends)


@pytest.mark.parametrize("name", PASSING)
def test_a_tidy_test_passes(careless_run, name):
    lines = [line for line in careless_run.splitlines() if line.endswith(f"::{name}")]
    assert [line.split()[0] for line in lines] == ["PASSED"]


def test_a_soak_test_waits_to_be_asked_for(careless_run):
    assert "long run, only with --soak" in careless_run


def test_the_screen_is_a_small_office_screen(qapp):
    assert qapp.primaryScreen().size().toTuple() == (SCREEN_WIDTH, SCREEN_HEIGHT)


def test_numbers_and_times_are_those_of_no_place(qapp):
    assert QLocale().decimalPoint() == "."
    assert os.environ["TZ"] == "UTC"


def test_nothing_reaches_the_users_own_folders(qapp, own_folders):
    location = QStandardPaths.StandardLocation.AppDataLocation
    places = [
        paths.user_data(),
        Path(QSettings("office", "program").fileName()),
        Path(QStandardPaths.writableLocation(location)),
        Path.home(),
    ]
    if sys.platform == "linux":
        assert all(place.is_relative_to(own_folders) for place in places)
    assert places[0].is_relative_to(own_folders)


def test_the_application_is_made_once(qapp):
    assert QApplication.instance() is qapp
