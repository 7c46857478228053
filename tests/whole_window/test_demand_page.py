"""The page about peak demand, worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.study.build import GPM
from tests.whole_window.at_page import (
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    results_of,
    type_over,
    undo,
)
from tests.whole_window.user import demo_job
from workbench.gui.pages.demand.page import DemandPage
from workbench.gui.window import MainWindow
from workbench.job.house_choices import DemandMethod, demand_methods
from workbench.job.house_fields import house_fields
from workbench.job.job import Job
from workbench.study.house.view import HouseView
from workbench.study.house.words import estimate_words
from workbench.units import Display, System

M = DemandMethod
NUMBERED = [field.name for field in house_fields()[:12]]


STATES: dict[str, dict[str, Any]] = {
    "usual": {},
    "covered": {"pump_flow": "25 gpm", "well_yield": "30 gpm"},
    "slow well": {"well_yield": "2 gpm", "pump_flow": "20 gpm"},
    "dry well": {"well_yield": "0.05 gpm"},
    "falling flow": {
        "pump_entry": "two_flows", "flow_at_cut_in": "12 gpm", "flow_at_cut_out": "8 gpm",
        "well_yield": None,
    },
    "wrong entries": {
        "people": "-1", "bathrooms": "1.7", "toilets": Unreadable("two"), "hose_bibs": "1.5",
        "demand_method": M.TYPED, "pump_flow": Unreadable("ten"), "well_yield": "0 gpm",
    },
    "empty": dict.fromkeys(NUMBERED, "0") | {"well_yield": None},
}  # fmt: skip


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, job: Job | None = None) -> tuple[MainWindow, DemandPage]:
    return at_page(qtbot, "demand", DemandPage, job or demo_job())


def view_of(window: MainWindow) -> HouseView:
    return results_of(window).house


@pytest.mark.parametrize(
    ("state", "metric"),
    [*((state, False) for state in STATES), ("slow well", True), ("wrong entries", True)],
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "demand", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("display", [Display(), Display(System.METRIC, ",")])
def test_plot_and_tables_show_the_studys_figures(
    qtbot: QtBot, state: str, display: Display
) -> None:
    window, page = opened(qtbot, in_state(state))
    window.store.set_display(display)
    view = view_of(window)
    factor = GPM if display.system is System.US else 1e-3 / 60
    drawn = page.plot.flows()
    usable = [one for one in view.estimates if one.flow is not None]
    assert list(drawn.values()) == pytest.approx([one.flow / factor for one in usable if one.flow])
    for one, name in zip(usable, drawn, strict=True):
        assert name.startswith(demand_methods()[one.method].label)
    told = page.methods.rows()
    assert len(told) == len(view.estimates)
    for one, (_, text) in zip(view.estimates, told, strict=True):
        assert text.startswith(estimate_words(one, display))
        assert text.endswith(demand_methods()[one.method].source)
    assert [name.endswith("(chosen)") for name, _ in told] == [
        one is view.chosen for one in view.estimates
    ]
    given = [view.flows.at_cut_in] if view.flows else []
    given += [view.well_yield] if view.well_yield else []
    assert list(page.plot.lines().values()) == pytest.approx([flow / factor for flow in given])
    assert page.no_cure.isHidden() is not view.tank_is_no_cure
    assert ("—" in page.peak.figure.text()) is (view.peak is None)
    assert ("—" in page.outcome.figure.text()) is (view.outcome is None)


def test_typing_changes_the_peak_at_once_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before = page.peak.figure.text()
    assert before == "11.0 gpm"
    type_over(page, "basins", "4")
    assert page.peak.figure.text() == "13.0 gpm"
    assert page.methods.rows()[0][1].startswith("13.0 gpm.")
    undo()
    assert page.peak.figure.text() == before
    assert window.store.job.basins == demo_job().basins


def test_a_wrong_count_is_told_beneath_its_field_and_the_peak_withheld(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    type_over(page, "toilets", "2.5")
    row = page.inputs.rows["toilets"]
    assert row.message.isVisible()
    assert "whole number" in row.message.text()
    assert page.peak.figure.text() == "—"
    assert "Toilets" in page.peak.reason.text()
    type_over(page, "toilets", "3")
    assert not row.message.isVisible()
    assert page.peak.figure.text() == "12.0 gpm"


def test_ones_own_figure_is_asked_for_only_where_it_is_the_method(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    field = page.inputs.rows["peak_demand"].field
    assert field.isHidden()
    window.store.edit({"demand_method": M.TYPED}, "method")
    assert not field.isHidden()
    assert "needed" in page.inputs.rows["peak_demand"].message.text()
    type_over(page, "peak_demand", "13")
    assert page.peak.figure.text() == "13.0 gpm"
    assert len(page.plot.flows()) == len(M)


def test_the_worked_example_stands_on_the_page(qtbot: QtBot) -> None:
    # Trade magazine for water-well drillers, "When the well runs dry": 10 gpm given, 13 asked for:
    # 21 gal, and with the 10 gal of the run 31 gal.
    job = demo_with(
        demand_method=M.TYPED, peak_demand="13 gpm", pump_flow="10 gpm", run_time="1 min",
        run_time_rule="typed", well_yield=None,
    )  # fmt: skip
    _, page = opened(qtbot, job)
    assert page.outcome.figure.text() == "3.0 gpm short"
    told = " ".join(text for _, text in page.meaning.rows())
    assert "(13.0 gpm − 10.0 gpm) × 7 min = 21.0 gal" in told
    assert "31.0 gal of drawdown instead of the 10.0 gal" in told
    assert page.no_cure.isHidden()


def test_where_a_larger_tank_is_the_wrong_cure_the_page_says_so(qtbot: QtBot) -> None:
    _, page = opened(qtbot, in_state("slow well"))
    assert page.no_cure.isVisible()
    assert "only lends water" in page.no_cure.text()
    assert any("× 120 min" in text for _, text in page.meaning.rows())


def test_the_plot_is_read_by_keys_and_forgets_what_has_changed(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    plot, view = page.plot, view_of(window)
    usual = page.reading.text()
    plot.setFocus()
    for one in view.estimates:
        QTest.keyClick(plot, Qt.Key.Key_Down)
        label = demand_methods()[one.method].label
        assert page.reading.text().lower().startswith(label)
        assert plot.accessibleDescription() == page.reading.text()
    last = page.reading.text()
    QTest.keyClick(plot, Qt.Key.Key_Down)
    assert page.reading.text() == last
    QTest.keyClick(plot, Qt.Key.Key_Home)
    assert "11.0 gpm" in page.reading.text()
    window.store.set_display(Display(System.METRIC))
    assert page.reading.text() == usual
    assert plot.accessibleDescription() == ""
    QTest.keyClick(plot, Qt.Key.Key_End)
    assert "L/min" in page.reading.text()


def test_the_plot_is_read_by_pointing(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    plot = page.plot
    place = plot.mapFromScene(plot.getPlotItem().getViewBox().mapViewToScene(QPoint(1, 2)))
    QTest.mouseMove(plot.viewport(), place + QPoint(0, 4))
    qtbot.waitUntil(lambda: "Fixture units, plumbing code" in page.reading.text())


def test_a_stop_elsewhere_that_withholds_the_verdict_is_told(qtbot: QtBot) -> None:
    _, page = opened(qtbot, demo_with(pump_flow="ten"))
    (told,) = page.messages.texts()
    assert "Pump flow: " in told
    assert page.outcome.figure.text() == "—"
    assert page.peak.figure.text() == "11.0 gpm"
