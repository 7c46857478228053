"""Undo and redo: every input, one step for each visit to a field, back to where it began."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from tests.whole_window.user import Answers, User, at_window, demo_job, few_tanks
from workbench.job import document

TEXTS = {
    "pump_flow": ["9", "12.5", "40 L/min", "", "x"],
    "run_time": ["2", "90 s", "1,25", "0"],
    "starts_limit": ["8", "12", "six"],
    "cut_in": ["25", "2 bar", "35.0", "1,500"],
    "cut_out": ["55", "3.8 bar", "20", "60"],
    "bands": ["30/50", "2/3.5 bar", "30/50, 70"],
    "reading_temperature": ["80", "20 °C", "?"],
    "reading_altitude": ["5280", "200 m"],
    "altitude": ["0", "1500", "2 km"],
    "tank_temperature": ["50", "10 °C"],
    "exponent": ["1.2", "2"],
    "door_width": ["24", "60 cm", "wide"],
    "headroom": ["60", "1.5 m"],
    "pressure_margin": ["10", "1 bar"],
}
CHOICES = ("run_time_rule", "precharge_rule", "header_tanks")


@pytest.fixture
def demo(qtbot: QtBot) -> User:
    return at_window(qtbot, demo_job(), few_tanks(12))


def state(user: User) -> dict[str, object]:
    return user.everything() | {"job": user.store.job, "texts": user.texts()}


def change_something(user: User, chance: random.Random, last: str) -> str:
    """One visit to another control than the last; one key for a list or a tick box."""
    name = chance.choice([n for n in (*TEXTS, *CHOICES, "potable_required") if n != last])
    if name in TEXTS:
        user.enter(name, chance.choice(TEXTS[name]))
    elif name in CHOICES:
        box = user.go_to(name)
        assert isinstance(box, QComboBox)
        up = box.currentIndex() == box.count() - 1
        user.press(Qt.Key.Key_Up if up else Qt.Key.Key_Down)
    else:
        user.tick(name)
    return name


@pytest.mark.parametrize("seed", range(3))
def test_undo_goes_back_visit_by_visit_and_redo_forth_again(demo: User, seed: int) -> None:
    chance = random.Random(seed)
    states, name = [state(demo)], ""
    for _ in range(15):
        name = change_something(demo, chance, name)
        if demo.store.job != states[-1]["job"]:
            states.append(state(demo))
    assert len(states) > 8
    for before in reversed(states[:-1]):
        demo.undo()
        assert state(demo) == before
    assert not demo.store.undo_stack.canUndo()
    demo.undo()  # nothing is left to undo, and the field has no memory of its own
    assert state(demo) == states[0]
    for after in states[1:]:
        demo.redo()
        assert state(demo) == after
    assert not demo.store.undo_stack.canRedo()


def test_all_keys_of_one_visit_are_one_step_whatever_they_spell_on_the_way(demo: User) -> None:
    before = state(demo)
    demo.enter("cut_out", "60")
    demo.press(Qt.Key.Key_Backspace)
    demo.press(Qt.Key.Key_Backspace)
    demo.type("5x")
    demo.press(Qt.Key.Key_Backspace)
    demo.type("5 psi")
    assert demo.figures() != before["figures"] or demo.rows() != before["table"]
    assert demo.store.undo_stack.count() == 1
    demo.undo()
    assert state(demo) == before


def test_each_visit_to_the_same_field_is_a_step_of_its_own(demo: User) -> None:
    for text in ("31", "32", "33"):
        demo.enter("cut_in", text)
        demo.press(Qt.Key.Key_Tab)
    seen = []
    for _ in range(3):
        demo.undo()
        seen.append(demo.texts()["cut_in"])
    assert seen == ["32", "31", "30 psi"]


def test_undo_works_from_within_any_field_and_names_the_input(demo: User) -> None:
    demo.enter("cut_in", "35")
    demo.go_to("headroom")
    assert demo.store.undo_stack.undoText() == "change Cut-in"
    demo.undo()
    assert demo.texts()["cut_in"] == "30 psi"
    assert demo.store.undo_stack.count() == 1  # no step was made of undoing
    demo.redo()
    assert demo.texts()["cut_in"] == "35"


def test_a_visit_that_ends_as_it_began_leaves_no_step_and_no_mark(demo: User) -> None:
    demo.enter("cut_in", "3")
    assert demo.window.isWindowModified()
    demo.type("0")
    assert not demo.window.isWindowModified()
    assert demo.store.undo_stack.count() == 0
    assert demo.texts()["cut_in"] == "30"
    demo.undo()
    assert demo.texts()["cut_in"] == "30"


def test_undo_gives_back_the_very_text_that_was_typed(demo: User) -> None:
    for name, text in (("cut_in", "2 bar"), ("pump_flow", "40L/min"), ("altitude", "1,500")):
        demo.enter(name, text)
    demo.enter("pump_flow", "9")
    shown = demo.messages()
    for _ in range(4):
        demo.undo()
    for _ in range(4):
        demo.redo()
    texts = demo.texts()
    assert (texts["cut_in"], texts["pump_flow"], texts["altitude"]) == ("2 bar", "9", "1,500")
    assert demo.messages() == shown
    demo.undo()
    assert demo.texts()["pump_flow"] == "40L/min"
    assert demo.messages()["pump_flow"] == "= 10.57 gpm"


def test_undo_back_to_the_saved_state_clears_the_modified_mark_and_survives_saving(
    demo: User, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = Answers(monkeypatch)
    path = tmp_path / "well.tankjob.json"
    start = demo.texts()
    demo.enter("cut_in", "35")
    answers.prepare(files=[path])
    demo.menu("File", "Save as …")
    assert not demo.window.isWindowModified()
    saved = path.read_bytes()
    demo.enter("cut_out", "66")
    assert demo.window.isWindowModified()
    demo.undo()
    assert not demo.window.isWindowModified()
    assert document.to_bytes(demo.store.job) == saved
    demo.undo()
    assert demo.window.isWindowModified()
    assert demo.texts() == start
    demo.redo()
    assert not demo.window.isWindowModified()
    assert document.to_bytes(demo.store.job) == saved
    assert answers.told() == []


def test_keys_after_saving_within_one_visit_are_a_step_of_their_own(
    demo: User, tmp_path: Path
) -> None:
    demo.enter("cut_in", "3")
    demo.store.save_job(tmp_path / "well.tankjob.json")
    demo.type("5")
    assert demo.window.isWindowModified()
    demo.undo()
    assert demo.texts()["cut_in"] == "3"
    assert not demo.window.isWindowModified()


def test_another_edit_after_undo_forgets_what_was_undone(demo: User) -> None:
    demo.enter("cut_in", "35")
    demo.undo()
    demo.enter("cut_out", "55")
    assert not demo.store.undo_stack.canRedo()
    demo.redo()
    assert demo.texts()["cut_in"] == "30 psi"
    assert demo.texts()["cut_out"] == "55"


def test_the_menu_offers_undo_and_redo_by_name_only_when_there_is_something(demo: User) -> None:
    undo, redo = demo.entry("Edit", "Undo"), demo.entry("Edit", "Redo")
    assert (undo.isEnabled(), redo.isEnabled()) == (False, False)
    demo.choose("header_tanks", "up to two equal")
    assert undo.text() == "&Undo change Tanks"
    undo.trigger()
    assert (undo.isEnabled(), redo.isEnabled()) == (False, True)
    assert redo.text() == "&Redo change Tanks"
    assert demo.texts()["header_tanks"] == "one"


def test_the_order_of_the_tanks_can_be_undone(demo: User) -> None:
    before = state(demo)
    demo.choose(demo.page.tanks.order, "smallest footprint")
    assert demo.rows() != before["table"]
    demo.undo()
    assert state(demo) == before
    assert demo.page.tanks.order.currentText() == "lowest price"
    assert QApplication.focusWidget() is demo.page.tanks.order
