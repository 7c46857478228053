"""Number fields read strictly and leave what was typed alone, in either decimal mark."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.user import at_window, demo_job, strike
from workbench.gui.fields.quantity_field import QuantityField
from workbench.gui.pages.bench.inputs import BenchInputs
from workbench.gui.store import Store
from workbench.job.choices import PrechargeRule
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.units import Display, Quantity, System, Unread

# A text, and what it means where the decimal mark is a point, and where it is a comma: a number in
# the shown unit, two numbers between which nothing is guessed, or None for what is no number.
Meaning = float | tuple[str, str] | None
TEXTS: list[tuple[str, Meaning, Meaning]] = [
    ("7", 7, 7),
    ("  7 ", 7, 7),
    ("07", 7, 7),
    ("+7", 7, 7),
    ("0", 0, 0),
    ("-7", -7, -7),
    ("−7", -7, -7),
    ("7.", 7, 7),
    ("7,", 7, 7),
    ("7.5", 7.5, 7.5),
    ("7,5", 7.5, 7.5),
    (".5", 0.5, 0.5),
    (",5", 0.5, 0.5),
    ("0.125", 0.125, 0.125),
    ("0,125", 0.125, 0.125),
    ("7.125", 7.125, ("7125", "7,125")),
    ("7,125", ("7125", "7.125"), 7.125),
    ("1.500", 1.5, ("1500", "1,500")),
    ("1,500", ("1500", "1.500"), 1.5),
    ("12.345", 12.345, ("12345", "12,345")),
    ("12,345", ("12345", "12.345"), 12.345),
    ("7.1255", 7.1255, 7.1255),
    ("1,234.5", 1234.5, 1234.5),
    ("1.234,5", 1234.5, 1234.5),
    ("1,234,567", 1234567, 1234567),
    ("1.234.567", 1234567, 1234567),
    ("1234567", 1234567, 1234567),
    ("999999999999", 999999999999, 999999999999),
    ("12,34,567", None, None),
    ("1 500", None, None),
    ("1'500", None, None),
    ("7..5", None, None),
    ("7,5,0", None, None),
    ("7.5.1", None, None),
    ("7e3", None, None),
    ("--7", None, None),
    ("7-8", None, None),
    ("1/2", None, None),
    ("½", None, None),
    ("７", None, None),
    ("٧", None, None),
    ("7 %", None, None),
    ("$7", None, None),
    ("=7", None, None),
    ("7;", None, None),
    ("seven", None, None),
    ("nan", None, None),
    ("inf", None, None),
    (".", None, None),
    (",", None, None),
    ("-", None, None),
    ("7 cubits", None, None),
    ("9" * 61, None, None),
]

US = {
    "pump_flow": ("gpm", 231 * 0.0254**3 / 60),
    "run_time": ("min", 60),
    "starts_limit": ("/h", 1 / 3600),
    "cut_in": ("psi", 6894.757293168361),
    "cut_out": ("psi", 6894.757293168361),
    "precharge": ("psi", 6894.757293168361),
    "reading_temperature": ("°F", 5 / 9),
    "reading_altitude": ("ft", 0.3048),
    "altitude": ("ft", 0.3048),
    "tank_temperature": ("°F", 5 / 9),
    "exponent": ("", 1),
    "door_width": ("in", 0.0254),
    "headroom": ("in", 0.0254),
    "pressure_margin": ("psi", 6894.757293168361),
}
OPTIONAL = ("reading_temperature", "reading_altitude", "door_width", "headroom")

# Typed in a US window: the SI value, and how the page answers in its own unit.
IN_OTHER_UNITS: dict[str, list[tuple[str, float, str]]] = {
    "pump_flow": [
        ("38 L/min", 38e-3 / 60, "= 10.04 gpm"),
        ("8 imp gpm", 8 * 4.54609e-3 / 60, "= 9.608 gpm"),
        ("8 Imp gal/min", 8 * 4.54609e-3 / 60, "= 9.608 gpm"),
        ("600 gph", 600 * 231 * 0.0254**3 / 3600, "= 10 gpm"),
        ("2.3 m3/h", 2.3 / 3600, "= 10.13 gpm"),
        ("0.63 l/s", 0.63e-3, "= 9.986 gpm"),
        ("36 imperial_gallon/hour", 36 * 4.54609e-3 / 3600, "= 0.7206 gpm"),
    ],
    "cut_in": [
        ("2 bar", 2e5, "= 29.01 psi"),
        ("2,1 bar", 2.1e5, "= 30.46 psi"),
        ("207 kPa", 207e3, "= 30.02 psi"),
        ("0.2 MPa", 0.2e6, "= 29.01 psi"),
        ("210 hPa", 21e3, "= 3.046 psi"),
    ],
    "tank_temperature": [("12 °C", 285.15, "= 53.6 °F"), ("285 K", 285, "= 53.33 °F")],
    "altitude": [("300 m", 300, "= 984.3 ft"), ("2 km", 2000, "= 6562 ft")],
    "door_width": [
        ("71 cm", 0.71, "= 27.95 in"),
        ("2.5 ft", 0.762, "= 30 in"),
        ("800 mm", 0.8, "= 31.5 in"),
        ("1 yd", 0.9144, "= 36 in"),
    ],
}
OF_ANOTHER_KIND = {
    "pump_flow": ["10 psi", "10 gal", "10 min", "10 gallons per mile"],
    "run_time": ["1 gal", "1 psi", "1 m"],
    "cut_in": ["30 gal", "30 psia", "3 bar(a)", "3 bar abs", "30 lb"],
    "tank_temperature": ["55 psi", "12 %"],
    "altitude": ["900 psi", "900 gal"],
    "exponent": ["1.2 psi", "1.2 n"],
    "door_width": ["28 psi", "28 m2", "28 gal"],
}


def inputs(qtbot: QtBot, display: Display) -> BenchInputs:
    """The inputs alone, with the precharge shown, and no catalogue to rank at each key."""
    store = Store(display)
    store.job = Job(precharge_rule=PrechargeRule.TYPED)
    panel = BenchInputs(store)
    store.setParent(panel)
    store.changed.connect(panel.show_job)
    store.wake()
    qtbot.addWidget(panel)
    with qtbot.waitExposed(panel):
        panel.show()
    panel.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is panel)
    return panel


def field_of(panel: BenchInputs, name: str) -> QuantityField:
    field = panel.rows[name].field
    assert isinstance(field, QuantityField)
    return field


def enter(panel: BenchInputs, name: str, text: str) -> QuantityField:
    field = field_of(panel, name)
    field.setFocus(Qt.FocusReason.TabFocusReason)
    field.selectAll()
    strike(field, text)
    return field


def si_of(name: str, number: float) -> float:
    unit, factor = US[name]
    return (number + 459.67) * factor if unit == "°F" else number * factor


@pytest.mark.parametrize("mark", [".", ","])
def test_each_text_is_read_or_refused_key_by_key_in_every_field(qtbot: QtBot, mark: str) -> None:
    entries: list[Any] = []
    for name in US:
        known = fields()[name]
        field = QuantityField(known.one, known.empty)
        qtbot.addWidget(field)
        field.show_entry(None, Display(System.US, mark))
        field.entered.connect(lambda entry, _episode: entries.append(entry))
        for text, point, comma in TEXTS:
            field.selectAll()
            strike(field, text)
            assert field.text() == text
            assert_read(name, text, point if mark == "." else comma, entries[-1])


@pytest.mark.parametrize("mark", [".", ","])
def test_what_is_wrong_with_a_text_stands_beneath_its_field(qtbot: QtBot, mark: str) -> None:
    panel = inputs(qtbot, Display(System.US, mark))
    for name in ("pump_flow", "reading_temperature", "exponent"):
        field, message = field_of(panel, name), panel.rows[name].message
        for text, point, comma in TEXTS:
            meaning = point if mark == "." else comma
            field.selectAll()
            QApplication.clipboard().setText(text)
            field.paste()
            assert field.text() == text
            assert_read(name, text, meaning, getattr(panel._store.job, name))
            if isinstance(meaning, int | float):
                continue
            assert message.isVisible(), text
            assert message.text().startswith("Stop: "), text
            assert all(f" {reading}" in message.text() for reading in meaning or ()), text


def assert_read(name: str, text: str, meaning: Meaning, entry: Any) -> None:
    about = f"{name}: {text!r} became {entry!r}"
    if isinstance(meaning, int | float):
        assert isinstance(entry, Quantity), about
        assert entry.si == pytest.approx(si_of(name, meaning), rel=1e-12), about
        assert entry.unit == US[name][0], about
    else:
        assert isinstance(entry, Unread), about
        assert entry.text == text, about
        assert all(reading in entry.why for reading in meaning or ()), about


def test_texts_stay_as_typed_when_the_focus_leaves_and_another_field_changes(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    typed = {
        "pump_flow": " 10,5gpm",
        "run_time": "090 s",
        "cut_in": "30.00",
        "cut_out": "3.5 BAR",
        "altitude": "1,500",
        "door_width": "",
        "exponent": "1.",
    }
    for name, text in typed.items():
        enter(panel, name, text) if text else field_of(panel, name).clear()
    enter(panel, "headroom", "80")
    enter(panel, "pressure_margin", "?")
    assert {name: field_of(panel, name).text() for name in typed} == typed


def test_an_empty_field_means_what_it_says_in_grey_or_is_refused(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    for name in US:
        field = enter(panel, name, "7")
        QTest.keyClick(field, Qt.Key.Key_Backspace)
        entry = getattr(panel._store.job, name)
        if name in OPTIONAL:
            assert entry is None
            assert field.placeholderText()
            assert not panel.rows[name].message.isVisible()
        else:
            assert isinstance(entry, Unread)
            assert "Nothing is entered here." in panel.rows[name].message.text()


def test_an_entry_out_of_range_is_told_and_neither_clamped_nor_dropped(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    for name, text, told in (
        ("pump_flow", "0", "Pump flow must be above zero."),
        ("pump_flow", "-3", "Pump flow must be above zero."),
        ("run_time", "0", "Minimum run must be above zero."),
        ("starts_limit", "0", "Most starts must be above zero."),
        ("cut_in", "-1", "Cut-in cannot be below zero."),
        ("cut_out", "30", "Cut-out must lie above cut-in"),
        ("cut_out", "-3", "Cut-out must be above zero."),
        ("precharge", "-0.1", "Precharge cannot be below zero."),
        ("reading_temperature", "-460", "Air when set must be above zero."),
        ("reading_altitude", "36090", "reaches from −5,000 m to 11,000 m"),
        ("altitude", "-16405", "reaches from −5,000 m to 11,000 m"),
        ("altitude", "99999", "reaches from −5,000 m to 11,000 m"),
        ("exponent", "0.99", "Air lies between 1.0"),
        ("exponent", "1.41", "Air lies between 1.0"),
        ("door_width", "0", "Door width must be above zero."),
        ("headroom", "-1", "Headroom must be above zero."),
        ("pressure_margin", "-1", "Margin cannot be below zero."),
    ):
        before = field_of(panel, name).text()
        field = enter(panel, name, text)
        assert told in panel.rows[name].message.text(), f"{name} {text}"
        assert field.text() == text
        assert getattr(panel._store.job, name).si == pytest.approx(si_of(name, float(text)))
        enter(panel, name, before) if before else panel._store.undo_stack.undo()
    assert all(not row.message.isVisible() for row in panel.rows.values())


def test_other_units_keep_their_text_and_are_echoed_in_the_shown_one(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    for name, texts in IN_OTHER_UNITS.items():
        row = panel.rows[name]
        for text, si, echo in texts:
            field = enter(panel, name, text)
            assert field.text() == text
            assert getattr(panel._store.job, name).si == pytest.approx(si, rel=1e-9), text
            assert echo in row.message.text() or _is_told_something(row.message.text()), text
            assert field.echo() == echo
    enter(panel, "cut_in", "30 psi")
    assert not panel.rows["cut_in"].message.isVisible()


def _is_told_something(message: str) -> bool:
    """A finding stands in the place of the echo."""
    return message.startswith(("Note: ", "Caution: ", "Stop: "))


def test_the_echo_has_the_locales_decimal_mark(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display(System.US, ","))
    for text in ("2.1 bar", "2,1 bar"):
        field = enter(panel, "cut_in", text)
        assert field.text() == text
        assert panel.rows["cut_in"].message.text() == "= 30,46 psi"


def test_a_unit_of_another_kind_is_refused_by_name(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    for name, texts in OF_ANOTHER_KIND.items():
        for text in texts:
            field = enter(panel, name, text)
            entry = getattr(panel._store.job, name)
            assert isinstance(entry, Unread), text
            assert field.text() == text
            message = panel.rows[name].message.text()
            assert entry.why in message
            assert entry.remedy in message
    enter(panel, "cut_in", "30 psia")
    assert (
        "is absolute pressure; the gauge reading is wanted" in panel.rows["cut_in"].message.text()
    )


def test_a_very_long_paste_is_refused_and_kept(qtbot: QtBot) -> None:
    panel = inputs(qtbot, Display())
    field = field_of(panel, "cut_in")
    field.setFocus()
    field.selectAll()
    QApplication.clipboard().setText("3" * 5000)
    field.paste()
    assert field.text() == "3" * 5000
    entry = panel._store.job.cut_in
    assert isinstance(entry, Unread)
    assert entry.text == "3" * 5000
    assert "too long" in panel.rows["cut_in"].message.text()


def test_the_wheel_over_controls_without_focus_changes_nothing(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    before, texts = user.store.job, user.texts()
    controls = [row.field for row in user.page.inputs.rows.values()] + [user.page.tanks.order]
    user.table.setFocus()
    for control in controls:
        for turn in (120, -120, -120, 120, 120):
            wheel(control, turn)
    assert user.store.job == before
    assert user.texts() == texts
    assert not any(control.hasFocus() for control in controls)


def test_the_wheel_over_a_number_field_changes_nothing_even_with_focus(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    before = user.store.job
    wheel(user.go_to("cut_in"), 120)
    assert user.store.job == before


def wheel(widget: QWidget, turn: int) -> None:
    centre = QPointF(widget.rect().center())
    event = QWheelEvent(
        centre,
        QPointF(widget.mapToGlobal(centre)),
        QPoint(),
        QPoint(0, turn),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)
