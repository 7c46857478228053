"""Jobs as files: opened, saved, left, dropped; nothing is lost unasked or in silence."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QMenu, QMessageBox
from pytestqt.qtbot import QtBot

from tests.whole_window.user import (
    CTRL,
    Answers,
    User,
    at_window,
    demo_job,
    own_catalog,
    plain,
    show,
)
from workbench import paths
from workbench.gui import app
from workbench.gui.settings import Settings
from workbench.gui.window import MainWindow
from workbench.job import document, firm
from workbench.job.document import JobError
from workbench.job.job import Job
from workbench.safe_file import SaveError

MARKING = "Demo job: everything in it is invented."


def first_start(qtbot: QtBot, path: Path | None = None) -> User:
    """Start the program as its command does."""
    settings = Settings()
    settings.catalog = own_catalog()
    window = MainWindow(settings)
    app._open_first(window, path)
    return show(qtbot, window)


def written(path: Path, **changes: object) -> Path:
    document.write(Job().changed(**changes), path)
    return path


def saved_as(user: User, answers: Answers, path: Path) -> None:
    answers.prepare(files=[path])
    user.menu("File", "Save as …")
    assert answers.told() == []


# --- starting -------------------------------------------------------------------------------------


def test_the_demo_opens_on_the_first_start_only_and_says_what_it_is(qtbot: QtBot) -> None:
    first = first_start(qtbot)
    assert first.store.job == demo_job()
    assert first.marking() == MARKING
    assert first.window.windowTitle() == "Demo job (invented)[*] — Tank workbench"
    assert not first.window.isWindowModified()
    second = first_start(qtbot)
    qtbot.waitUntil(lambda: second.store.job == firm.new_job())
    assert second.marking() == ""
    assert second.window.windowTitle() == "Untitled job[*] — Tank workbench"


def test_a_job_named_on_the_command_line_opens_and_is_remembered_by_its_whole_path(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path / "barn.tankjob.json", title="the barn")
    monkeypatch.chdir(tmp_path)
    user = first_start(qtbot, Path("barn.tankjob.json"))
    assert user.store.job.title == "the barn"
    assert user.window.windowTitle().startswith("barn[*]")
    assert Settings().recent == [tmp_path / "barn.tankjob.json"]


def test_a_damaged_job_on_the_command_line_is_refused(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "barn.tankjob.json"
    path.write_text("{", encoding="utf-8")
    window = MainWindow(Settings())
    qtbot.addWidget(window)
    with pytest.raises(JobError, match="damaged"):
        app._open_first(window, path)
    assert window.store.job == Job()


def test_the_demo_can_be_opened_again_and_saved_only_under_another_name(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    user.menu("File", "Open the demo job")
    assert user.marking() == MARKING
    assert Settings().recent == []
    before = paths.demo_job().read_bytes()
    answers.prepare(files=[tmp_path / "mine.tankjob.json"])
    user.menu("File", "Save")  # asks for a name
    assert answers.told() == []
    assert paths.demo_job().read_bytes() == before
    assert user.store.path == tmp_path / "mine.tankjob.json"


# --- saving and opening ---------------------------------------------------------------------------


def test_what_was_saved_opens_again_with_the_same_entries_and_figures(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "lake cabin.tankjob.json"
    for name, text in (("pump_flow", "12,5"), ("cut_in", "2 bar"), ("headroom", "tall")):
        user.enter(name, text)
    user.enter("headroom", "80")
    saved_as(user, answers, path)
    assert user.window.windowTitle() == "lake cabin[*] — Tank workbench"
    job, shown = user.store.job, user.everything()
    user.menu("File", "New job")
    assert user.store.job == firm.new_job()
    assert user.everything()["figures"] != shown["figures"]
    answers.prepare(files=[path])
    user.menu("File", "Open …")
    assert user.store.job == job
    assert not user.window.isWindowModified()
    assert not user.store.undo_stack.canUndo()
    again = user.everything()
    assert again == shown | {"messages": again["messages"], "reasons": again["reasons"]}


def test_an_unreadable_entry_is_saved_as_typed_and_comes_back(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "half.tankjob.json"
    user.enter("cut_in", "1,500")
    saved_as(user, answers, path)
    user.menu("File", "New job")
    answers.prepare(files=[path])
    user.menu("File", "Open …")
    assert user.texts()["cut_in"] == "1,500"
    assert user.figures() == ("—", "—")
    assert user.messages()["cut_in"].startswith("Stop: “1,500” could ")


def test_save_writes_under_the_present_name_without_asking(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "a.tankjob.json"
    saved_as(user, answers, path)
    user.enter("cut_in", "35")
    assert user.window.isWindowModified()
    user.press(Qt.Key.Key_S, CTRL)
    assert not user.window.isWindowModified()
    assert str(document.read(path).cut_in) == "35 psi"


def test_a_name_without_our_ending_gets_it_even_if_it_has_a_dot(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    for typed, got in (
        ("barn", "barn.tankjob.json"),
        ("Mr. Hill", "Mr. Hill.tankjob.json"),
        ("pump 1.5 hp", "pump 1.5 hp.tankjob.json"),
        ("other.json", "other.json"),
    ):
        saved_as(user, answers, tmp_path / typed)
        assert user.store.path == tmp_path / got
        assert document.read(tmp_path / got) == user.store.job


def test_a_completed_name_that_exists_is_replaced_only_when_the_user_says_so(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    other = written(tmp_path / "barn.tankjob.json", title="older")
    before = other.read_bytes()
    user.enter("cut_in", "35")
    answers.prepare("Keep it", files=[tmp_path / "barn"])
    user.menu("File", "Save as …")
    (asked,) = answers.told()
    assert "barn.tankjob.json" in asked
    assert other.read_bytes() == before
    assert user.window.isWindowModified()
    answers.prepare("Replace", files=[tmp_path / "barn"])
    user.menu("File", "Save as …")
    assert len(answers.told()) == 1
    assert str(document.read(other).cut_in) == "35 psi"
    saved_as(user, answers, tmp_path / "barn")  # it is the present job's own file by now


def test_cancelling_a_file_dialog_changes_nothing(user: User, answers: Answers) -> None:
    user.enter("cut_in", "35")
    job = user.store.job
    answers.prepare(files=[None])
    user.menu("File", "Save as …")
    answers.prepare("Do not save", files=[None])
    user.menu("File", "Open …")
    assert answers.told() == ["Unsaved changes Save the changes to Untitled job?"]
    assert user.store.job == job
    assert user.window.isWindowModified()


@pytest.mark.parametrize("content", ["", "{", "[1, 2]", '{"format": "something else"}'])
def test_a_damaged_job_is_told_and_the_present_one_stays(
    user: User, answers: Answers, tmp_path: Path, content: str
) -> None:
    user.enter("cut_in", "35")
    user.store.save_job(tmp_path / "good.tankjob.json")
    shown, texts = user.everything(), user.texts()
    bad = tmp_path / "bad.tankjob.json"
    bad.write_text(content, encoding="utf-8")
    answers.prepare("OK", files=[bad])
    user.menu("File", "Open …")
    (told,) = answers.told()
    assert told.startswith("The job was not opened bad.tankjob.json ")
    assert (user.everything(), user.texts()) == (shown, texts)
    assert user.store.path == tmp_path / "good.tankjob.json"
    assert bad not in Settings().recent


def test_a_job_of_a_newer_program_is_told_and_left_alone(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = written(tmp_path / "new.tankjob.json")
    content = json.loads(path.read_text(encoding="utf-8")) | {"schema_version": 99}
    path.write_text(json.dumps(content), encoding="utf-8")
    before = path.read_bytes()
    answers.prepare("OK", files=[path])
    user.menu("File", "Open …")
    assert "newer version" in answers.told()[0]
    assert path.read_bytes() == before


def test_a_save_that_fails_is_told_and_the_job_stays_unsaved(
    user: User, answers: Answers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.tankjob.json"
    saved_as(user, answers, path)
    before = path.read_bytes()
    user.enter("cut_in", "35")

    def full(_job: Job, _path: Path) -> None:
        raise SaveError("The disk is full.", "Make room.")

    monkeypatch.setattr(document, "write", full)
    answers.prepare("OK")
    user.menu("File", "Save")
    assert answers.told() == ["The job was not saved The disk is full. Make room."]
    assert user.window.isWindowModified()
    assert user.texts()["cut_in"] == "35"
    assert path.read_bytes() == before
    other = tmp_path / "b.tankjob.json"
    answers.prepare("OK", files=[other])
    user.menu("File", "Save as …")
    assert len(answers.told()) == 1
    assert user.store.path == path
    assert other not in Settings().recent
    answers.prepare("Save", "OK")
    user.window.close()  # saving fails, so the window stays
    assert len(answers.told()) == 2
    assert user.window.isVisible()


# --- leaving --------------------------------------------------------------------------------------


def test_leaving_asks_only_after_real_changes(user: User, answers: Answers, tmp_path: Path) -> None:
    user.menu("View", "SI units")
    user.menu("View", "US customary units")
    user.table.selectRow(0)
    user.enter("cut_in", "x")
    user.enter("cut_in", "30 psi")
    user.menu("File", "New job")
    user.menu("File", "Open the demo job")
    user.window.close()
    assert not user.window.isVisible()
    assert answers.told() == []


LEAVING: dict[str, Callable[[User], object]] = {
    "new": lambda user: user.menu("File", "New job"),
    "demo": lambda user: user.menu("File", "Open the demo job"),
    "close": lambda user: user.window.close(),
    "quit": lambda user: user.menu("File", "Quit"),
}


def test_whoever_keeps_working_keeps_all_and_whoever_saves_has_saved(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "a.tankjob.json"
    saved_as(user, answers, path)
    for number, leave in enumerate(LEAVING.values()):
        user.enter("cut_in", f"3{number}.5")
        job = user.store.job
        answers.prepare("Keep working")
        leave(user)
        assert answers.told() == ["Unsaved changes Save the changes to a?"]
        assert user.store.job == job
        assert user.window.isVisible()
        answers.prepare("Save")
        leave(user)
        assert len(answers.told()) == 1
        assert str(document.read(path).cut_in) == f"3{number}.5 psi"
        user.window.show()
        user.store.open_job(document.read(path), path)


def test_whoever_does_not_save_leaves_the_file_as_it_was(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    path = tmp_path / "a.tankjob.json"
    saved_as(user, answers, path)
    before = path.read_bytes()
    user.enter("cut_in", "35")
    answers.prepare("Do not save")
    user.window.close()
    assert not user.window.isVisible()
    assert path.read_bytes() == before


def test_boxes_that_were_answered_are_gone(user: User, answers: Answers) -> None:
    user.enter("cut_in", "35")
    for _ in range(3):
        answers.prepare("Keep working")
        user.menu("File", "New job")
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert user.window.findChildren(QMessageBox) == []


def test_size_and_place_of_the_window_are_remembered(qtbot: QtBot, user: User) -> None:
    user.window.resize(1300, 710)
    user.window.close()
    again = at_window(qtbot)
    assert (again.window.width(), again.window.height()) == (1300, 710)


# --- recent ---------------------------------------------------------------------------------------


def recent(user: User) -> list[tuple[str, bool]]:
    menu = user.entry("File", "Open recent").menu()
    assert isinstance(menu, QMenu)
    menu.aboutToShow.emit()
    return [(plain(action.text()), action.isEnabled()) for action in menu.actions()]


def test_recent_jobs_stand_in_order_and_a_missing_one_cannot_be_chosen(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    assert recent(user) == [("none yet", False)]
    for name in ("a", "b & co", "c"):
        saved_as(user, answers, tmp_path / f"{name}.tankjob.json")
    (tmp_path / "a.tankjob.json").unlink()
    assert recent(user) == [
        ("1 c.tankjob.json", True),
        ("2 b & co.tankjob.json", True),
        ("3 a.tankjob.json", False),
    ]
    user.enter("cut_in", "35")
    user.store.undo_stack.undo()
    menu = user.entry("File", "Open recent").menu()
    assert isinstance(menu, QMenu)
    menu.actions()[1].trigger()
    assert user.store.path == tmp_path / "b & co.tankjob.json"
    assert recent(user)[0][0] == "1 b & co.tankjob.json"


def test_no_more_than_eight_jobs_are_recent_and_each_stands_once(
    user: User, answers: Answers, tmp_path: Path
) -> None:
    for number in range(10):
        written(tmp_path / f"{number}.tankjob.json")
    for number in (*range(10), 5):
        answers.prepare(files=[tmp_path / f"{number}.tankjob.json"])
        user.menu("File", "Open …")
    names = [path.name.split(".")[0] for path in Settings().recent]
    assert names == ["5", "9", "8", "7", "6", "4", "3", "2"]
