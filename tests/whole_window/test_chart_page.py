"""The page "Counter chart", worked as a person does: the chart is that of the ranked catalogue."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    results_of,
    type_over,
    undo,
)
from tests.whole_window.user import few_tanks
from workbench.gui.pages.chart.page import ChartPage
from workbench.gui.window import MainWindow
from workbench.job.job import CatalogSnapshot, Job
from workbench.report.chart import chart_content
from workbench.report.plain_text import plain_text
from workbench.units import Display

STATES: dict[str, dict[str, Any]] = {
    "usual": {},
    "typed": {"precharge_rule": "typed", "precharge": "27 psi", "bands": "1/20, 40/60 psi"},
    "stopped": {"altitude": Unreadable("high"), "pressure_margin": Unreadable("x")},
}


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, ChartPage]:
    return at_page(qtbot, "chart", ChartPage, in_state(state), few_tanks(9))


def copied(page: ChartPage) -> str:
    page.copy()
    return QApplication.clipboard().text()


@pytest.mark.parametrize(
    ("state", "metric"), [("usual", True), ("typed", False), ("stopped", False)]
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    few_tanks(9)

    check_page_at(qtbot, "chart", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
def test_it_shows_the_chart_of_the_catalogue(qtbot: QtBot, display: Display) -> None:
    window, page = opened(qtbot, "usual")
    window.store.set_display(display)
    qtbot.waitUntil(lambda: page.preview.page_count > 0)
    made = chart_content(results_of(window), display, "demo-tanks.csv")
    assert not isinstance(made, str)
    assert copied(page) == plain_text(made)


def test_typing_bands_changes_the_columns_and_undo_brings_them_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    before = copied(page)
    type_over(page, "bands", "45/65 psi")
    after = copied(page)
    assert after != before
    assert "45/65" in after
    assert "20/40" not in after
    undo()
    assert copied(page) == before
    assert window.store.job.bands == in_state("usual").bands


def test_the_precharge_is_asked_for_only_where_it_is_typed(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "usual")
    assert not page.inputs.rows["precharge"].field.isVisible()
    _, page = opened(qtbot, "typed")
    assert page.inputs.rows["precharge"].field.isVisible()


def test_a_band_without_figures_is_told_beside_the_bands(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "typed")
    told = page.inputs.rows["bands"].message.text()
    assert "without figures: 1/20" in told
    assert "drawn with no precharge" not in told  # that is what the plot of the bench does


def test_what_stops_every_band_stands_in_the_charts_place(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "stopped")
    assert page.preview.page_count == 0
    told = page.preview.words.text()
    assert told.startswith("There is no chart. Mend first: ")
    assert "Altitude: " in told
    assert not page.print_button.isEnabled()


def test_saved_rows_name_the_file_that_they_came_from(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    assert window.store.catalog is not None
    rows = tuple(tank for tank in window.store.catalog.tanks if tank.in_stock)[:2]
    snapshot = CatalogSnapshot(file="then.csv", tanks=rows)
    window.store.open_job(in_state("usual").changed(catalog=snapshot), None)
    window.store.rank_saved_rows(True)
    told = copied(page)
    assert "then.csv" in told
    assert "demo-tanks.csv" not in told
