"""Jobs and catalogues dropped on the window are opened and ranked; anything else is not taken."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QWidget

from tests.whole_window.user import Answers, User, few_tanks, own_catalog
from workbench.gui.settings import Settings
from workbench.job import document
from workbench.job.job import Job


def written(path: Path, **changes: object) -> Path:
    document.write(Job().changed(**changes), path)
    return path


def drop(target: QWidget, *paths: Path) -> bool:
    """Drag files over ``target`` and let go; False where they are not taken."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    place = target.rect().center()
    state = (mime, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier)
    enter = QDragEnterEvent(place, Qt.DropAction.CopyAction, *state)
    QApplication.sendEvent(target, enter)
    if not enter.isAccepted():
        return False
    QApplication.sendEvent(target, QDropEvent(QPointF(place), Qt.DropAction.CopyAction, *state))
    return True


def test_a_dropped_job_opens_wherever_on_the_window_it_is_dropped(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = written(tmp_path / "barn.tankjob.json", title="barn")
    for target in (user.window, user.table.viewport(), user.plot.viewport(), user.field("cut_in")):
        assert drop(target, path), target
        assert user.store.path == path
        user.menu("File", "New job")
    user.enter("cut_in", "35")
    answers.prepare("Keep working")
    assert drop(user.window, path)
    assert len(answers.told()) == 1
    assert user.store.path is None


def test_a_dropped_table_is_ranked(user: User, tmp_path: Path) -> None:
    other = tmp_path / "other.csv"
    other.write_bytes(few_tanks(3).read_bytes())
    assert drop(user.window, other)
    assert user.status() == "other.csv: 3 tanks"
    assert len(user.rows()) == 3
    assert Settings().catalog == other


def test_what_is_neither_job_nor_table_is_not_taken(user: User, tmp_path: Path) -> None:
    job, table = written(tmp_path / "a.tankjob.json"), own_catalog()
    for files in ([tmp_path / "a.txt"], [tmp_path / "a.json"], [job, table], [tmp_path]):
        assert not drop(user.window, *files)
    assert user.store.path is None
