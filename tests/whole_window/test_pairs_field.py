"""The field for pairs: typed and pasted text is read line by line, kept, undone and converted."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.whole_window.user import CTRL, strike
from workbench.gui.fields.pairs_field import PairsField
from workbench.gui.pages.inputs import InputsPanel
from workbench.gui.store import Store
from workbench.units import FLOW, HEAD, Display, Pairs, System, Unread

KINDS = (FLOW, HEAD)
GPM, FOOT = 231 * 0.0254**3 / 60, 0.3048


@pytest.fixture
def panel(qtbot: QtBot) -> InputsPanel:
    """A form with a curve between two other fields, as it stands in a window with undo."""
    store = Store(Display())
    panel = InputsPanel(store, (("Pump", ("cut_in", "curve", "cut_out")),))
    store.setParent(panel)
    store.changed.connect(panel.show_job)
    undo = store.undo_stack.createUndoAction(panel, "Undo")
    undo.setShortcut("Ctrl+Z")
    panel.addAction(undo)
    panel.show_job()
    qtbot.addWidget(panel)
    with qtbot.waitExposed(panel):
        panel.show()
    panel.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is panel)
    return panel


def curve(panel: InputsPanel) -> PairsField:
    field = panel.rows["curve"].field
    assert isinstance(field, PairsField)
    return field


def held(panel: InputsPanel) -> Any:
    return panel._store.job.curve


def values(panel: InputsPanel) -> list[tuple[float, float]]:
    entry = held(panel)
    assert isinstance(entry, Pairs), entry
    return [(first.si, second.si) for first, second in entry.pairs]


def write(panel: InputsPanel, *lines: str) -> None:
    field = curve(panel)
    field.setFocus(Qt.FocusReason.TabFocusReason)
    for number, line in enumerate(lines):
        if number:
            QTest.keyClick(field, Qt.Key.Key_Return)
        strike(field, line)


def test_each_line_is_read_in_the_shown_units_or_its_own(panel: InputsPanel) -> None:
    write(panel, "0 280", "5 gpm 262 ft", "10 L/min @ 70 m")
    assert values(panel) == [
        (0, pytest.approx(280 * FOOT)),
        (pytest.approx(5 * GPM), pytest.approx(262 * FOOT)),
        (pytest.approx(1e-2 / 60), pytest.approx(70)),
    ]
    assert curve(panel).toPlainText() == "0 280\n5 gpm 262 ft\n10 L/min @ 70 m"


def test_every_key_is_evaluated_and_what_cannot_be_read_is_kept(panel: InputsPanel) -> None:
    write(panel, "0 280", "5")
    entry = held(panel)
    assert isinstance(entry, Unread)
    assert entry.text == "0 280\n5"
    assert entry.why.startswith("Line 2: ")
    strike(curve(panel), " 26")
    assert values(panel)[1] == (pytest.approx(5 * GPM), pytest.approx(26 * FOOT))


def test_an_empty_field_is_no_entry(panel: InputsPanel) -> None:
    write(panel, "0 280")
    curve(panel).selectAll()
    QTest.keyClick(curve(panel), Qt.Key.Key_Delete)
    assert held(panel) is None
    assert curve(panel).placeholderText() == "needed"


def test_rows_of_a_spreadsheet_are_pasted(panel: InputsPanel) -> None:
    QApplication.clipboard().setText("0\t280\r\n5\t262\r\n10\t201.5\r\n")
    curve(panel).setFocus()
    QTest.keyClick(curve(panel), Qt.Key.Key_V, CTRL)
    assert [(a / GPM, b / FOOT) for a, b in values(panel)] == [
        (pytest.approx(a), pytest.approx(b)) for a, b in ((0, 280), (5, 262), (10, 201.5))
    ]


def test_a_visit_is_one_step_of_undo_which_gives_back_the_very_text(panel: InputsPanel) -> None:
    write(panel, " 0  280", "5, 262 ")
    QTest.keyClick(curve(panel), Qt.Key.Key_Tab)  # leaves it, and writes nothing into it
    assert QApplication.focusWidget() is panel.rows["cut_out"].field
    write(panel, "9")
    assert panel._store.undo_stack.count() == 2
    QTest.keyClick(curve(panel), Qt.Key.Key_Z, CTRL)
    assert curve(panel).toPlainText() == " 0  280\n5, 262 "
    assert len(values(panel)) == 2
    QTest.keyClick(curve(panel), Qt.Key.Key_Z, CTRL)
    assert held(panel) is None
    assert curve(panel).toPlainText() == ""
    panel._store.undo_stack.redo()
    assert curve(panel).toPlainText() == " 0  280\n5, 262 "


def test_other_units_convert_what_is_shown_and_nothing_that_is_held(panel: InputsPanel) -> None:
    store = panel._store
    write(panel, "0 280", "5 262")
    before = held(panel)
    store.set_display(Display(System.METRIC))
    assert curve(panel).toPlainText() == "0 L/min  85.34 m\n18.93 L/min  79.86 m"
    assert panel.rows["curve"].label.text() == "Curve, flow and head, L/min, m:"
    assert held(panel) is before
    assert store.undo_stack.count() == 1
    store.set_display(Display())
    assert curve(panel).toPlainText() == "0 280\n5 262"
    assert held(panel) is before


def test_what_is_shown_in_either_mark_and_system_reads_as_the_same(qtbot: QtBot) -> None:
    field = PairsField(KINDS, "empty")
    qtbot.addWidget(field)
    entries: list[Any] = []
    field.entered.connect(lambda entry, _episode: entries.append(entry))
    for system in System:
        for mark in ".,":
            field.show_entry(None, Display(system, mark))
            field.insertPlainText(f"0,5 280 ft\n12{mark}5 gpm 99,5 m")
            typed = entries.pop()
            entries.clear()
            field.show_entry(None, Display(system, mark))
            other = PairsField(KINDS, "empty")
            qtbot.addWidget(other)
            other.show_entry(typed, Display(system, mark))
            again = other._read(other.toPlainText())
            for (a, b), (c, d) in zip(typed.pairs, again.pairs, strict=True):
                assert (c.si, d.si) == (
                    pytest.approx(a.si, rel=1e-3),
                    pytest.approx(b.si, rel=1e-3),
                )


def test_what_the_program_shows_is_no_entry(qtbot: QtBot) -> None:
    field = PairsField(KINDS, "empty")
    qtbot.addWidget(field)
    entries: list[Any] = []
    field.entered.connect(lambda entry, _episode: entries.append(entry))
    field.show_entry(Unread("a\r\nb\u2029c\u00a0d", "why", "mend"), Display())
    field.show_entry(None, Display())
    field.clear()
    assert entries == []
    field.selectAll()
    QTest.keyClick(field, Qt.Key.Key_X)
    assert len(entries) == 1


def test_files_dropped_on_it_are_left_to_the_window(qtbot: QtBot) -> None:
    field = PairsField(KINDS, "empty")
    qtbot.addWidget(field)
    files, text = QMimeData(), QMimeData()
    files.setUrls([QUrl.fromLocalFile("/somewhere/job.tankjob.json")])
    text.setText("5 262")
    assert not field.canInsertFromMimeData(files)
    assert field.canInsertFromMimeData(text)


def test_it_is_heard_with_its_units(panel: InputsPanel) -> None:
    assert curve(panel).accessibleName() == "Curve, flow and head (gpm, ft)"
    write(panel, "5")
    assert curve(panel).accessibleDescription() == panel.rows["curve"].message.text()
