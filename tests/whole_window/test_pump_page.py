"""The page "Pump and well": its rules, its figures, its picture, and what is typed into it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.study.build import TWO_FLOWS
from tests.whole_window.at_page import METRIC, page_alone, results_of, shown_alone
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import own_catalog
from workbench.gui.pages.pump.page import PumpPage
from workbench.gui.plots.pump_plot import PumpPlot
from workbench.job.job import Job
from workbench.job.pump_choices import PumpEntry
from workbench.units import FLOW, HEAD, PRESSURE, Display, parse

CURVE = "0 gpm 262 ft\n5 gpm 250 ft\n10 gpm 210 ft\n15 gpm 140 ft"
WELL = {
    "pump_entry": PumpEntry.CURVE,
    "curve": CURVE,
    "water_level": "80 ft",
    "pipe_length": "120 ft",
    "pump_efficiency": "45 %",
}


def build(display: Display = Display(), **entries: Any) -> PumpPage:  # noqa: B008 - frozen
    """The page alone, with the demo catalogue, evaluated."""
    return page_alone(PumpPage, Job().changed(**entries), display, own_catalog())


def shown(qtbot: QtBot, display: Display = Display(), **entries: Any) -> PumpPage:  # noqa: B008
    return shown_alone(qtbot, build(display, **entries))


def plot_of(page: PumpPage) -> Any:
    assert isinstance(page.picture.plot, PumpPlot)
    return page.picture.plot


STATES: dict[str, tuple[Display, dict[str, Any]]] = {
    "curve": (Display(), WELL),
    "much to mend": (
        METRIC,
        WELL | {"cut_in": "50 psi", "cut_out": "72 psi", "well_yield": "4 gpm", "pipe_size": "3/4",
                "pressure_margin": "0 psi"},
    ),
    "out of reach": (Display(), WELL | {"cut_in": "60 psi", "cut_out": "85 psi"}),
    "two flows": (METRIC, TWO_FLOWS | {"water_level": "20 m"}),
    "one flow": (Display(), {}),
    "nothing yet": (Display(), {"pump_entry": PumpEntry.CURVE}),
}  # fmt: skip


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    display, entries = STATES[state]

    def page() -> QWidget:
        return build(display, **entries)

    check_page(qtbot, page)


def test_the_answers_are_those_of_the_study(qtbot: QtBot) -> None:
    page = shown(qtbot, **WELL)
    view = results_of(page).pump
    assert view is not None
    assert view.at_cut_out is not None
    assert view.margin is not None
    display = page.store.display
    assert page.flow.figure.text() == display.text(view.at_cut_out.flow, FLOW)
    assert page.reach.figure.text() == display.text(view.margin, PRESSURE) == "28.9 psi"
    rows = dict(page.facts.rows())
    head = view.at_cut_out.head
    assert head is not None
    assert display.text(head.total, HEAD) in rows["At cut-out"]
    assert "friction" in rows["At cut-out"]
    assert "kWh per 1,000 gal" in rows["Power"]
    assert page.working.rows()


def test_only_the_rows_of_the_chosen_way_are_there(qtbot: QtBot) -> None:
    page = shown(qtbot)
    ways = {
        PumpEntry.CONSTANT: {"pump_flow"},
        PumpEntry.TWO_FLOWS: {"flow_at_cut_in", "flow_at_cut_out"},
        PumpEntry.CURVE: {"curve"},
        PumpEntry.BUCKET: {"bucket_volume", "bucket_time"},
    }
    every = set().union(*ways.values())
    for way, names in ways.items():
        page.store.edit({"pump_entry": way}, "x")
        seen = {name for name in every if page.inputs.rows[name].field.isVisible()}
        assert seen == names


def test_one_flow_says_that_reach_is_not_known(qtbot: QtBot) -> None:
    page = shown(qtbot)
    assert page.flow.figure.text() == "10.0 gpm"
    assert page.reach.figure.text() == "—"
    assert "Not known" in page.reach.reason.text()
    assert not page.picture.plot.isVisible()
    assert "no curve" in page.picture.reading.text()


def test_typing_two_flows_gives_the_answer_and_undo_takes_it_back(qtbot: QtBot) -> None:
    page = shown(qtbot, pump_entry=PumpEntry.TWO_FLOWS)
    assert page.flow.figure.text() == "—"
    assert "Flow at cut-in" in page.flow.reason.text()
    for name, text in (("flow_at_cut_in", "12"), ("flow_at_cut_out", "8")):
        field = page.inputs.rows[name].field
        field.setFocus()
        QTest.keyClicks(field, text)
    assert page.flow.figure.text() == "8.0 gpm"
    assert page.reach.figure.text() == "16.0 psi"  # 66 − 50
    assert page.picture.plot.isVisible()
    page.store.undo_stack.undo()
    assert page.flow.figure.text() == "—"
    page.store.undo_stack.redo()
    assert page.reach.figure.text() == "16.0 psi"


def test_a_pump_out_of_reach_is_told_by_a_negative_margin(qtbot: QtBot) -> None:
    page = shown(qtbot, **WELL | {"cut_in": "60 psi", "cut_out": "85 psi"})
    assert page.flow.figure.text() == "—"
    assert page.reach.figure.text() == "-6.1 psi"
    assert "never stops" in page.reach.reason.text()
    assert page.reach.reason.property("role") == "problem"
    message = page.inputs.rows["cut_out"].message.text()
    assert message.startswith("Stop: The pump reaches 78.9 psi")
    assert page.picture.plot.isVisible()


def test_findings_stand_beside_the_inputs_they_are_about(qtbot: QtBot) -> None:
    page = shown(qtbot, **WELL | {"well_yield": "8 gpm"})
    assert "8.0 gpm" in page.inputs.rows["well_yield"].message.text()
    page.store.edit({"cut_out": parse("70 psi", PRESSURE)}, "x")
    assert "8.9 psi" in page.inputs.rows["cut_out"].message.text()
    assert page.reach.reason.property("role") == "caution"


def test_the_plot_shows_the_numbers_of_the_study_in_both_systems(qtbot: QtBot) -> None:
    for display in (Display(), METRIC):
        page = shown(qtbot, display, **WELL)
        plot = plot_of(page)
        view = results_of(page).pump
        assert view is not None
        assert view.picture is not None
        x, y = plot._pump.getData()
        assert x == pytest.approx(display.value(view.picture.flow, FLOW))
        assert y == pytest.approx(display.value(view.picture.height, HEAD))
        assert plot._at_cut_out.getData()[1] == pytest.approx(
            display.value(view.picture.system_out, HEAD)
        )
        spots = np.column_stack(plot._working.getData())
        for spot, point in zip(spots, (view.at_cut_in, view.at_cut_out), strict=True):
            assert point is not None
            assert point.head is not None
            assert spot[0] == pytest.approx(display.value(point.flow, FLOW))
            assert spot[1] == pytest.approx(display.value(point.head.total, HEAD))
        entered = np.column_stack(plot._entered.getData())
        assert len(entered) == 4
        told = " ".join(plot.texts())
        assert display.text(view.at_cut_out.flow, FLOW) in told  # type: ignore[union-attr]


def test_two_flows_are_drawn_as_pressures(qtbot: QtBot) -> None:
    page = shown(qtbot, **TWO_FLOWS)
    plot = plot_of(page)
    assert not plot._at_cut_in.isVisible()
    assert plot.axes["left"].labelText == "Pressure at the tank, psi"
    spots = np.column_stack(plot._working.getData())
    assert spots == pytest.approx(np.array([[12.0, 30.0], [8.0, 50.0]]))


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    page = shown(qtbot, METRIC, **WELL)
    plot = plot_of(page)
    plot.setFocus()
    legend = page.picture.reading.text()
    QTest.keyClick(plot, Qt.Key.Key_Home)
    first = page.picture.reading.text()
    assert first == plot.accessibleDescription()
    assert "0,0 L/min" in first
    assert "79,9 m" in first  # 262 ft
    QTest.keyClick(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert page.picture.reading.text() != first
    QTest.keyClick(plot, Qt.Key.Key_End)
    assert "beyond its points" in page.picture.reading.text()
    page.store.edit({"cut_out": parse("52 psi", PRESSURE)}, "x")
    assert page.picture.reading.text() == legend  # what was read is no longer so


def test_the_friction_table_speaks_the_units_of_the_reader(qtbot: QtBot) -> None:
    page = shown(qtbot, **WELL)
    table = page.pipes.texts()
    assert table[0] == ["Size", "5 gpm", "10 gpm", "15 gpm", "20 gpm"]
    one_inch = next(row for row in table if row[0] == "1 in")
    assert one_inch[2] == "6.29"  # Illinois prints 5.50 at C 150; 13.6 % more at C 140
    assert one_inch[4].endswith(" fast")
    page.store.set_display(METRIC)
    assert page.pipes.texts()[0][1] == "20 L/min"
    assert "m lost in 100 m" in page.pipes.remark.text()


def test_a_hidden_page_is_not_drawn_until_it_is_seen(qtbot: QtBot) -> None:
    page = shown(qtbot, **WELL)
    page.hide()
    page.store.edit({"cut_out": parse("60 psi", PRESSURE)}, "x")
    assert page.reach.figure.text() == "28.9 psi"
    page.show()
    QApplication.processEvents()
    assert page.reach.figure.text() == "18.9 psi"
