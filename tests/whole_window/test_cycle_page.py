"""The page "Cycle": its rules, its figures, its picture, and what is chosen and typed in it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.study.build import TWO_FLOWS
from tests.whole_window.at_page import METRIC, page_alone, results_of, shown_alone
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import own_catalog
from workbench.catalog.table import read_catalog
from workbench.gui.fields.tank_field import TankField
from workbench.gui.pages.cycle.page import CyclePage
from workbench.gui.plots.starts_plot import StartsPlot
from workbench.job.job import Job
from workbench.job.pump_choices import MotorLimit
from workbench.study.cycle.view import TankCycle
from workbench.units import FLOW, STARTS_PER_HOUR, TIME, Display, parse


def build(display: Display = Display(), *, catalog: bool = True, **entries: Any) -> CyclePage:  # noqa: B008 - frozen
    """The page alone, with the demo catalogue, evaluated."""
    return page_alone(
        CyclePage, Job().changed(**entries), display, own_catalog() if catalog else None
    )


def shown(qtbot: QtBot, display: Display = Display(), **entries: Any) -> CyclePage:  # noqa: B008
    return shown_alone(qtbot, build(display, **entries))


def cycle_of(page: CyclePage) -> TankCycle:
    view = results_of(page).cycle
    assert view is not None
    assert view.cycle is not None
    return view.cycle


def plot_of(page: CyclePage) -> Any:
    assert isinstance(page.picture.plot, StartsPlot)
    return page.picture.plot


def tank_field(page: CyclePage) -> TankField:
    field = page.inputs.rows["first_tank"].field
    assert isinstance(field, TankField)
    return field


STATES: dict[str, tuple[Display, dict[str, Any]]] = {
    "usual": (Display(), TWO_FLOWS),
    "too often": (
        METRIC,
        TWO_FLOWS
        | {"motor_limit": MotorLimit.NEMA_TWO_POLE, "motor_power": "5 hp", "run_time": "0.5 min"},
    ),
    "never stops": (Display(), TWO_FLOWS | {"steady_draw": "10 gpm"}),
    "one flow": (METRIC, {"motor_limit": MotorLimit.OWN}),
    "a tank that is gone": (Display(), {"first_tank": "elsewhere", "steady_draw": "much"}),
    "no catalogue": (Display(), {"catalog": False}),
}


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    display, entries = STATES[state]
    names = {tank.name for tank in read_catalog(own_catalog()).tanks}

    def page() -> QWidget:
        return build(display, **entries)

    check_page(qtbot, page, untranslated=lambda text: any(name in text for name in names))


def test_the_answers_are_those_of_the_study(qtbot: QtBot) -> None:
    page = shown(qtbot, steady_draw="5 gpm", **TWO_FLOWS)
    found, display = cycle_of(page), page.store.display
    assert found.steady is not None
    starts = display.number(found.steady.starts, STARTS_PER_HOUR)
    assert page.steady.figure.text() == f"{starts} starts/h"
    reason = page.steady.reason.text()
    assert display.text(found.steady.run, TIME) in reason
    assert display.text(found.steady.rest, TIME) in reason
    worst = display.number(found.worst.starts, STARTS_PER_HOUR)
    assert page.worst.figure.text() == f"{worst} starts/h"
    assert display.text(found.worst.draw, FLOW) in page.worst.reason.text()
    assert display.text(found.shortest_run, TIME) in page.worst.reason.text()
    assert display.text(found.shortest_rest, TIME) in page.worst.reason.text()
    constant = display.number(found.flow_worst.starts, STARTS_PER_HOUR)
    assert dict(page.facts.rows())["Worst, at the mean flow"].startswith(f"{constant} starts/h")
    assert page.working.rows()


def test_each_state_of_the_draw_is_told_in_words(qtbot: QtBot) -> None:
    page = shown(qtbot, **TWO_FLOWS)
    for typed, figure, said in (
        ("0 gpm", "rests", "does not start"),
        ("8 gpm", "runs on", "never stops"),
        ("10 gpm", "runs on", "settles at 41.0 psi"),
        ("30 gpm", "runs on", "more than the pump gives"),
    ):
        page.store.edit({"steady_draw": parse(typed, FLOW)}, "x")
        assert page.steady.figure.text() == figure
        assert said in page.steady.reason.text()
        assert page.worst.figure.text() != "—"  # the other answer does not depend on it


def test_typing_a_draw_shows_at_once_and_is_undone(qtbot: QtBot) -> None:
    page = shown(qtbot, **TWO_FLOWS)
    before = page.steady.figure.text()
    field: Any = page.inputs.rows["steady_draw"].field
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "7.5")
    found = cycle_of(page)
    assert found.steady is not None
    assert found.steady.draw == pytest.approx(7.5 * 3.785411784e-3 / 60)
    assert page.steady.figure.text() != before
    page.store.undo_stack.undo()
    assert page.steady.figure.text() == before


def test_a_tank_is_chosen_from_the_ranking_by_keys_and_undone(qtbot: QtBot) -> None:
    page = shown(qtbot)
    field, ranking = tank_field(page), results_of(page).ranking
    assert ranking is not None
    assert field.currentText() == f"first of the ranking: {ranking.row(0).name}"
    assert field.count() == 1 + len(ranking)
    field.setFocus()
    for _ in range(3):
        QTest.keyClick(field, Qt.Key.Key_Down)
    third = ranking.row(2)
    assert page.store.job.first_tank == third.tank.id
    assert field.currentText() == third.name
    assert cycle_of(page).fill.drawdown == pytest.approx(third.drawdown)
    assert dict(page.facts.rows())["Tank"].startswith(third.name)
    page.store.undo_stack.undo()
    page.store.undo_stack.undo()
    page.store.undo_stack.undo()
    assert page.store.job.first_tank == ""
    assert field.currentIndex() == 0


def test_a_named_tank_stays_chosen_when_the_order_changes(qtbot: QtBot) -> None:
    page = shown(qtbot)
    ranking = results_of(page).ranking
    assert ranking is not None
    named = ranking.row(1)
    page.store.edit({"first_tank": named.tank.id}, "x")
    page.store.edit({"order": "smallest_footprint"}, "x")
    assert tank_field(page).currentText() == named.name


def test_a_tank_that_is_not_offered_is_said_and_not_lost(qtbot: QtBot) -> None:
    page = shown(qtbot, first_tank="elsewhere")
    field = tank_field(page)
    assert field.currentText() == "elsewhere (not offered)"
    row = page.inputs.rows["first_tank"]
    assert row.message.text().startswith("Stop: No tank of the catalogue is called elsewhere")
    assert page.steady.figure.text() == "—"
    assert "Tank" in page.steady.reason.text()
    page.store.edit({"first_tank": ""}, "x")
    assert field.count() == 1 + len(page.store.results.ranking)  # type: ignore[union-attr,arg-type]
    assert row.message.isHidden()


def test_a_tank_that_fails_says_so_in_the_list(qtbot: QtBot) -> None:
    page = shown(qtbot)
    field = tank_field(page)
    words = [field.itemText(row) for row in range(1, field.count())]
    passing = page.store.results.ranking.passing  # type: ignore[union-attr]
    assert all("does not pass" not in text for text in words[:passing])
    assert all("does not pass" in text for text in words[passing:])


def test_the_list_keeps_qts_rules_for_models(qtbot: QtBot) -> None:
    page = shown(qtbot)
    tester = QAbstractItemModelTester(
        tank_field(page).model(), QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    page.store.edit({"run_time": parse("3 min", TIME)}, "x")
    page.store.edit({"first_tank": "elsewhere"}, "x")
    assert tester.model() is tank_field(page).model()


def test_limits_are_told_as_passing_or_exceeded(qtbot: QtBot) -> None:
    page = shown(qtbot, run_time="2 min")
    assert "Passes 15.0 an hour" in page.worst.reason.text()
    page.store.edit({"motor_limit": MotorLimit.PUBLIC_SYSTEM}, "x")
    assert "Exceeds 6.0 an hour" in page.worst.reason.text()
    assert page.worst.reason.property("role") == "caution"
    assert "more often than 6.0 /h" in page.inputs.rows["motor_limit"].message.text()
    limits = dict(page.limits.rows())
    assert len(limits) == len(MotorLimit) - 1
    assert "For public systems." in limits["public systems: 6 an hour"]
    assert "three-phase surface motors" in limits["three-phase surface motor, 2 poles"]


def test_own_limits_are_asked_for_only_where_they_are_chosen(qtbot: QtBot) -> None:
    page = shown(qtbot)
    own = page.inputs.rows["own_rest"].field
    assert not own.isVisible()
    page.store.edit({"motor_limit": MotorLimit.OWN}, "x")
    assert own.isVisible()
    assert "No limit is entered" in page.inputs.rows["own_starts_hour"].message.text()


def test_the_plot_shows_the_numbers_of_the_study_in_both_systems(qtbot: QtBot) -> None:
    for display in (Display(), METRIC):
        page = shown(qtbot, display, steady_draw="7 gpm", **TWO_FLOWS)
        plot, found = plot_of(page), cycle_of(page)
        x, y = plot._own.getData()
        assert np.max(x) == pytest.approx(display.value(found.flow_at_cut_out, FLOW))
        assert np.max(y) == pytest.approx(display.value(found.worst.starts, STARTS_PER_HOUR))
        assert plot._constant.isVisible()
        assert np.max(plot._constant.getData()[1]) <= display.value(
            found.flow_worst.starts, STARTS_PER_HOUR
        ) * (1 + 1e-9)
        for marks, turn in ((plot._worst, found.worst), (plot._steady, found.steady)):
            assert turn is not None
            spot = np.column_stack(marks.getData())[0]
            assert spot[0] == pytest.approx(display.value(turn.draw, FLOW))
            assert spot[1] == pytest.approx(display.value(turn.starts, STARTS_PER_HOUR))
        assert plot._limit.value() == pytest.approx(15.0)
        told = plot.texts()
        assert any("up to 3/4 hp" in text for text in told)
        assert any(display.text(found.worst.starts, STARTS_PER_HOUR) in text for text in told)


def test_a_limit_far_above_is_told_not_drawn(qtbot: QtBot) -> None:
    page = shown(qtbot, motor_limit=MotorLimit.NEMA_FOUR_POLE, motor_power="1 hp", run_time="2 min")
    plot = plot_of(page)
    assert any("above this picture" in text for text in plot.texts())
    assert plot.extent[1] < 30.0


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    page = shown(qtbot, METRIC, **TWO_FLOWS)
    plot = plot_of(page)
    plot.setFocus()
    QTest.keyClick(plot, Qt.Key.Key_Home)
    assert page.picture.reading.text().startswith("At 0,0 L/min — 0,0 /h")
    for _ in range(5):
        QTest.keyClick(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    text = page.picture.reading.text()
    assert "at a constant flow" in text
    assert text == plot.accessibleDescription()
