"""Units and decimal marks change how everything is shown, and nothing of what was entered."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from tests.whole_window.user import User, at_window, demo_job, few_tanks
from workbench.gui.settings import Settings
from workbench.job import document
from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.units import (
    ALTITUDE,
    FLOW,
    LENGTH,
    PRESSURE,
    TEMPERATURE,
    Quantity,
    System,
    parse,
    parse_bands,
)

LITRES = 231 * 0.0254**3 * 1e3  # in a gallon
KPA = 6.894757293168361  # in a psi
INCH = 25.4  # mm

US, METRIC = "US customary units", "SI units"


def metric_job() -> Job:
    """Everything typed in SI, and no rule that is named after a psi."""
    return Job().changed(
        pump_flow=parse("40 L/min", FLOW),
        cut_in=parse("200 kPa", PRESSURE),
        cut_out=parse("350 kPa", PRESSURE),
        bands=parse_bands("150/300, 250/400 kPa"),
        precharge_rule=PrechargeRule.AT_CUT_IN,
        reading_temperature=parse("20 °C", TEMPERATURE),
        reading_altitude=parse("100 m", ALTITUDE),
        altitude=parse("300 m", ALTITUDE),
        tank_temperature=parse("12 °C", TEMPERATURE),
        door_width=parse("800 mm", LENGTH),
        headroom=parse("2000 mm", LENGTH),
        pressure_margin=parse("100 kPa", PRESSURE),
    )


@pytest.fixture
def german() -> Iterator[None]:
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    yield
    QLocale.setDefault(before)


def shown_texts(user: User) -> list[str]:
    """All words and numbers on the page, of labels, table and plot, and what is heard of fields."""
    labels = [label.text() for label in user.page.findChildren(QLabel) if label.isVisible()]
    rows = user.page.inputs.rows.values()
    heard = [f"{row.field.accessibleName()} {row.field.accessibleDescription()}" for row in rows]
    required = user.required()
    plot = [*user.lines(), *user.axes(), required[1] if required else ""]
    cells = [cell for row in user.rows() for cell in row]
    return [*labels, *heard, *plot, *cells, *user.headings(), *user.texts().values()]


def number(text: str) -> float:
    return float(text.split()[0].replace("−", "-").replace(",", "."))


def test_switching_a_hundred_times_changes_no_byte_and_no_typed_text(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job(), few_tanks())
    for name, text in (
        ("pump_flow", "10,50gpm"),
        ("cut_in", "2 bar"),
        ("cut_out", "350 kPa"),
        ("altitude", " 0900 ft"),
        ("headroom", "1.85 m"),
        ("tank_temperature", "54.50"),
        ("run_time", "95 s"),
        ("door_width", "1,500"),
        ("bands", "2/3.5 bar"),
    ):
        user.enter(name, text)
    before, texts, shown = document.to_bytes(user.store.job), user.texts(), user.everything()
    steps = user.store.undo_stack.count()
    for _ in range(50):
        user.menu("View", METRIC)
        assert document.to_bytes(user.store.job) == before
        user.menu("View", US)
    assert document.to_bytes(user.store.job) == before
    assert user.texts() == texts
    assert user.everything() == shown
    assert user.store.undo_stack.count() == steps


def test_the_choice_of_units_is_no_change_of_the_job_and_is_remembered(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.menu("View", METRIC)
    assert not user.window.isWindowModified()
    assert not user.store.undo_stack.canUndo()
    assert Settings().display.system is System.METRIC
    again = at_window(qtbot)
    assert again.headings()[2] == "Volume, L"
    assert again.entry("View", METRIC).isChecked()


def test_labels_headings_axes_and_texts_follow_the_units(qtbot: QtBot) -> None:
    user = at_window(qtbot, metric_job())
    gallons = {heading: user.column(heading.split(",")[0]) for heading in user.headings()}
    user.table.selectRow(0)
    user.menu("View", METRIC)
    assert user.headings() == [
        *("Result", "Tank", "Volume, L", "Drawdown, L", "Margin, L", "Run, min", "Starts, /h"),
        *("Price", "Size, mm", "Why"),
    ]
    assert user.axes() == ("Total volume, L", "Drawdown, L")
    assert user.figures()[0] == "40.0 L"
    # set at 20 °C and 100 m, in service at 12 °C and 300 m: more than 200 kPa
    assert re.fullmatch(r"2\d\d kPa", user.figures()[1])
    assert user.texts()["pump_flow"] == "40 L/min"
    height, told = user.required() or (0, "")
    assert height == pytest.approx(40)
    assert told == "required 40.0 L"
    assert list(user.lines()) == ["200/350 yours", "150/300", "250/400"]
    gal, litres = gallons["Volume, gal"], user.column("Volume")
    assert [number(v) for v in litres] == [
        pytest.approx(number(g) * LITRES, abs=0.06 * LITRES) for g in gal
    ]
    gal, litres = gallons["Drawdown, gal"], user.column("Drawdown")
    assert [number(v) for v in litres] == [
        pytest.approx(number(g) * LITRES, abs=0.06 * LITRES) for g in gal
    ]
    inches, mm = gallons["Size, in"], user.column("Size")
    assert [number(v) for v in mm] == [pytest.approx(number(i) * INCH, abs=2) for i in inches]
    volumes = sorted(number(v) for v in user.column("Volume"))
    assert [mark.volume for mark in user.marks()] == pytest.approx(volumes, abs=0.06)
    old = re.compile(r"(?<!\w)(psi|gal|gpm|ft|°F|lb)(?!\w)")
    left = [text for text in shown_texts(user) if old.search(text)]
    assert left == []


def test_columns_grow_with_the_numbers_of_the_other_units(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    user.menu("View", METRIC)
    for row in range(user.model.rowCount()):
        for column in range(user.model.columnCount() - 1):
            cell = user.model.index(row, column)
            needed = user.table.sizeHintForIndex(cell).width()
            assert user.table.columnWidth(column) >= needed, cell.data()


def test_what_is_read_and_heard_of_a_field_names_the_unit_of_a_bare_number(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    label = user.page.inputs.rows["cut_in"].label
    assert label.text() == "Cut-in, psi:"
    names = {
        name: user.field(name).accessibleName() for name in ("cut_in", "pump_flow", "headroom")
    }
    assert names == {
        "cut_in": "Cut-in (psi)",
        "pump_flow": "Pump flow (gpm)",
        "headroom": "Headroom (in)",
    }
    user.menu("View", METRIC)
    assert label.text() == "Cut-in, kPa:"
    assert user.field("cut_in").accessibleName() == "Cut-in (kPa)"
    assert user.field("pump_flow").accessibleName() == "Pump flow (L/min)"
    assert user.field("headroom").property("unitText") == "mm"
    assert user.field("exponent").accessibleName() == "Air exponent"


def test_a_bare_number_is_meant_in_the_shown_unit(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.menu("View", METRIC)
    for name, unit in (
        ("pump_flow", "L/min"),
        ("cut_in", "kPa"),
        ("tank_temperature", "°C"),
        ("altitude", "m"),
        ("headroom", "mm"),
    ):
        user.enter(name, "210")
        entry = getattr(user.store.job, name)
        assert isinstance(entry, Quantity)
        assert entry.unit == unit
        assert user.texts()[name] == "210"
    user.menu("View", US)
    assert user.texts()["cut_in"] == "30.46 psi"
    assert str(user.store.job.cut_in) == "210 kPa"


def test_an_unreadable_text_outlives_the_switch(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.enter("cut_in", "1,500")
    message = user.messages()["cut_in"]
    user.menu("View", METRIC)
    assert user.texts()["cut_in"] == "1,500"
    assert user.messages()["cut_in"] == message
    assert user.figures() == ("—", "—")


@pytest.mark.usefixtures("german")
def test_where_the_comma_is_the_decimal_mark_no_point_is_shown(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    user.table.selectRow(0)
    assert user.figures() == ("16,5 gal", "28,0 psi")
    assert user.texts()["run_time"] == "1,5 min"
    assert user.column("Price")[0].endswith(",00 USD") or "," in user.column("Price")[0]
    assert "They differ by a factor of 1,7." in user.rules()
    user.go_to(user.plot)
    user.press(Qt.Key.Key_End)
    assert "," in user.reading()
    left = [text for text in shown_texts(user) if re.search(r"\d\.\d", text)]
    assert left == []
    axis = user.plot.getPlotItem().getAxis("left")
    assert axis.tickStrings([0.5, 1.0, 1.5], 1.0, 0.5) == ["0,5", "1,0", "1,5"]


@pytest.mark.usefixtures("german")
def test_where_the_comma_is_the_decimal_mark_it_is_read_and_files_keep_the_point(
    qtbot: QtBot,
) -> None:
    user = at_window(qtbot)
    user.enter("pump_flow", "10,5")
    user.enter("cut_in", "2,125 bar")
    user.enter("bands", "2/3,5; 2,5/4 bar")
    user.enter("cut_out", "3.5 bar")
    assert user.texts()["cut_in"] == "2,125 bar"
    assert user.messages()["cut_in"] == "= 30,82 psi"
    saved = document.to_bytes(user.store.job).decode()
    for text in ('"10.5 gpm"', '"2.125 bar"', '"3.5 bar"', '"2/3.5, 2.5/4 bar"'):
        assert text in saved
    user.enter("cut_out", "3.500 bar")
    assert "“3.500” could mean 3500 or 3,500." in user.messages()["cut_out"]
    user.store.open_job(document.from_bytes(saved.encode(), "saved"), None)
    assert user.texts()["pump_flow"] == "10,5"
    assert user.texts()["bands"] == "2/3,5; 2,5/4 bar"
    assert document.to_bytes(user.store.job).decode() == saved


@pytest.mark.usefixtures("german")
def test_the_copied_table_has_the_locales_mark_for_the_locales_spreadsheet(qtbot: QtBot) -> None:
    user = at_window(qtbot, demo_job())
    user.page.tanks.copy()
    lines = QApplication.clipboard().text().splitlines()
    assert "\t60,0\t" in next(line for line in lines if "Birch 60 V" in line)


def test_a_field_that_was_converted_needs_no_echo(qtbot: QtBot) -> None:
    user = at_window(qtbot)
    user.menu("View", METRIC)
    for name, row in user.page.inputs.rows.items():
        assert not row.message.text(), f"{name}: {row.message.text()}"
