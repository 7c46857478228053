"""The page about the day, worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

import time

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.study.build import PSI
from tests.whole_window.at_page import (
    at_page,
    check_page_at,
    demo_with,
    results_of,
    type_over,
    undo,
)
from tests.whole_window.user import demo_job
from workbench.gui import theme
from workbench.gui.fields.tank_field import TankField
from workbench.gui.pages.day import work as work_module
from workbench.gui.pages.day.page import DayPage
from workbench.gui.pages.day.words import day_lines, year_lines
from workbench.gui.plots.time_axis import TimeAxis, clock
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.study.day.simulated import DayView, YearView, day_plan, simulate_day, simulate_year
from workbench.units import PRESSURE, Display, System

TWO: dict[str, object] = {"first_tank": "birch-60-v", "second_tank": "alder-12-v"}
STATES: dict[str, dict[str, object]] = {
    "usual": {},
    "two tanks, limits passed": TWO | {
        "motor_limit": "own", "own_starts_day": "10 /d", "own_starts_hour": "2 /h",
        "own_rest": "5 min", "irrigation_flow": "15 gpm",
    },
    "wrong entries": {
        "people": "-1", "seed": "1.5", "irrigation_time": None, "leak": "much",
        "second_tank": "sold-long-ago",
    },
    "wrong elsewhere": {"pump_flow": "ten"},
    "nothing drawn": {"people": "0", "irrigation_flow": None, "irrigation_time": None},
}  # fmt: skip
LOOKED_AT = [
    ("usual", False), ("two tanks, limits passed", True), ("wrong entries", True),
    ("wrong elsewhere", False), ("nothing drawn", False),
]  # fmt: skip


def opened(qtbot: QtBot, job: Job | None = None) -> tuple[MainWindow, DayPage]:
    return at_page(qtbot, "day", DayPage, job or demo_job())


def study_of(window: MainWindow) -> DayView:
    """The day, simulated anew from the window's job."""
    plan, _ = day_plan(results_of(window))
    assert plan is not None
    return simulate_day(plan)


@pytest.mark.parametrize(("state", "metric"), LOOKED_AT)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "day", lambda: demo_with(**STATES[state]), metric=metric)


# --- figures ---


@pytest.mark.parametrize("display", [Display(), Display(System.METRIC, ",")])
@pytest.mark.parametrize("entries", [{}, TWO])
def test_plot_answers_and_table_show_the_studys_figures(
    qtbot: QtBot, entries: dict[str, object], display: Display
) -> None:
    window, page = opened(qtbot, demo_with(**entries))
    window.store.set_display(display)
    view = study_of(window)
    factor = PSI if display.system is System.US else 1e3
    answers = [page.first, page.second][: len(view.tanks)]
    for answer, one in zip(answers, view.tanks, strict=True):
        assert answer.figure.text() == f"{one.starts} of 300 starts"
        assert one.tank.name in answer.reason.text()
        assert f"Busiest hour: {one.busiest} starts" in answer.reason.text()
    assert page.second.isVisible() is (len(view.tanks) == 2)
    lines = day_lines(view, display)
    rows = page.day.texts()
    assert [row[0] for row in rows[-len(lines) :]] == [line.name for line in lines]
    for row, line in zip(rows[-len(lines) :], lines, strict=True):
        assert row[1 : 1 + len(view.tanks)] == list(line.values)
    for panel, one in zip(page.picture.plot.tanks, view.tanks, strict=False):
        time, pressure = panel.curve.getData()
        assert time * 3600 == pytest.approx(one.time)
        assert pressure * factor == pytest.approx(np.asarray(one.pressure))
        marks, height = panel.starts.getData()
        assert marks * 3600 == pytest.approx(one.run.starts)
        assert height * factor == pytest.approx(np.full(one.starts, view.plan.setting.cut_in))
        assert panel.cut_out.value() * factor == pytest.approx(view.plan.setting.cut_out)
        assert panel.bars.opts["x0"] * 3600 == pytest.approx(one.spans[0])
    drawn_edges, _ = page.picture.plot.draws.curve.getData()
    assert drawn_edges * 3600 == pytest.approx(view.draws.edges)


def test_the_second_tank_says_how_much_more_or_less_it_starts(qtbot: QtBot) -> None:
    window, page = opened(qtbot, demo_with(**TWO))
    first, second = study_of(window).tanks
    more = second.starts - first.starts
    assert more > 0
    assert f"{more} more than with the first tank" in page.second.reason.text()
    assert page.day.texts()[0] == ["", first.tank.name, second.tank.name, "Difference"]
    assert page.day.texts()[1][-1] == f"+{second.busiest - first.busiest}"
    window.store.edit({"first_tank": "alder-12-v", "second_tank": "birch-60-v"}, "turn round")
    assert f"{more} fewer than with the first tank" in page.second.reason.text()
    assert page.day.texts()[1][-1] == f"−{second.busiest - first.busiest}"


def test_a_passed_limit_stands_beside_the_limit_and_under_the_answer(qtbot: QtBot) -> None:
    _, page = opened(qtbot, demo_with(motor_limit="own", own_starts_day="10 /d"))
    assert "of 10 starts" in page.first.figure.text()
    assert "Exceeds the limit of a day." in page.first.reason.text()
    assert page.first.reason.property("role") == "caution"
    assert "more than the limit allows" in page.inputs.rows["motor_limit"].message.text()


def test_no_second_tank_is_the_first_choice_of_its_list(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    field = page.inputs.rows["second_tank"].field
    assert isinstance(field, TankField)
    assert field.currentText() == "none"
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Down)
    QTest.keyClick(field, Qt.Key.Key_Down)
    assert window.store.job.second_tank
    assert page.second.isVisible()
    QTest.keyClick(field, Qt.Key.Key_Home)
    assert window.store.job.second_tank == ""
    assert not page.second.isVisible()


# --- typing ---


def test_typing_changes_the_day_at_once_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before = page.first.figure.text()
    type_over(page, "leak", "900")
    assert page.first.figure.text() == f"{study_of(window).tanks[0].starts} of 300 starts"
    assert page.first.figure.text() != before
    while window.store.job.leak != demo_job().leak:
        undo()
    assert page.first.figure.text() == before


def test_what_is_wrong_stands_beside_its_field_and_nothing_old_is_shown(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    type_over(page, "seed", "1.5")
    assert "whole" in page.inputs.rows["seed"].message.text()
    assert page.first.figure.text() == "—"
    assert "Random seed" in page.first.reason.text()
    assert not page.picture.plot.isVisible()
    assert not page.day.isVisible()
    type_over(page, "seed", "2")
    assert page.picture.plot.isVisible()


def test_a_stop_of_another_page_is_told_here(qtbot: QtBot) -> None:
    _, page = opened(qtbot, demo_with(pump_flow="ten"))
    assert page.messages.isVisible()
    assert "Pump flow" in page.first.reason.text()


# --- the year ---


def test_the_year_comes_by_itself_and_is_that_of_the_study(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    assert "being simulated" in page.year_state.text()
    qtbot.waitUntil(lambda: page.work.year is not None, timeout=60_000)
    year = simulate_year(study_of(window).plan)
    lines = year_lines(study_of(window).plan, year, Display())
    assert page.year.texts() == [[line.name, *line.values] for line in lines]
    assert "365 days" in page.year_state.text()
    assert not page.again.isVisible()


def test_a_year_of_older_inputs_is_never_shown(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    qtbot.waitUntil(lambda: page.work.year is not None, timeout=60_000)
    old = page.work.year
    type_over(page, "people", "6")
    assert page.work.year is None
    assert {row[1] for row in page.year.texts()[:5]} == {"—"}
    page.work._take_year(old)  # a late one
    assert page.work.year is None
    window.go("tank")
    window.store.edit({"people": demo_job().people}, "back")
    assert page.is_stale
    window.go("day")
    shown = page.work
    assert shown.plan == study_of(window).plan
    assert shown.year is None


def test_a_year_rests_while_its_page_is_left(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    page.work.start_year()
    window.go("tank")
    assert not page.work.years.busy
    window.go("day")
    qtbot.waitUntil(lambda: page.work.year is not None, timeout=60_000)
    assert page.year.texts()[0][1] != "—"


def test_a_cancelled_year_can_be_begun_again(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    held = True

    def slow(plan: object, progress: object) -> YearView | None:
        while held and progress(0.5):  # type: ignore[operator]
            time.sleep(0.01)
        return simulate_year(plan, progress)  # type: ignore[arg-type]

    monkeypatch.setattr(work_module, "simulate_year", slow)
    _, page = opened(qtbot)
    qtbot.waitUntil(lambda: page.work.years.busy, timeout=10_000)
    qtbot.waitUntil(page.progress.isVisible, timeout=10_000)
    page.progress.cancel.click()
    assert "not simulated" in page.year_state.text()
    assert page.again.isVisible()
    held = False
    page.again.click()
    qtbot.waitUntil(lambda: page.work.year is not None, timeout=60_000)
    assert not page.again.isVisible()


def test_a_busy_day_is_simulated_beside_the_window(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    window.store.edit({"people": demo_with(people="100").people}, "many")
    assert page.work.day is None
    assert page.first.figure.text() == "—"
    assert "being simulated" in page.first.reason.text()
    qtbot.waitUntil(lambda: page.work.day is not None, timeout=60_000)
    assert page.first.figure.text() == f"{study_of(window).tanks[0].starts} of 300 starts"


# --- the picture ---


def test_the_picture_is_zoomed_and_read_by_keys(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    plot, view = page.picture.plot, study_of(window)
    usual = page.picture.reading.text()
    plot.setFocus()
    assert plot.is_whole
    assert not page.picture.whole.isEnabled()
    QTest.keyClick(plot, Qt.Key.Key_Up)
    first = view.tanks[0].run.starts[0]
    assert page.picture.reading.text().startswith(f"At {clock(first)} — ")
    assert "30.0 psi" in page.picture.reading.text()
    assert plot.accessibleDescription() == page.picture.reading.text()
    for _ in range(5):
        QTest.keyClick(plot, Qt.Key.Key_Plus)
    low, high = plot.shown_hours
    assert high - low == pytest.approx(24 / 32)
    assert low <= first / 3600 <= high
    assert page.picture.whole.isEnabled()
    QTest.keyClick(plot, Qt.Key.Key_Right)
    assert "pump runs" in page.picture.reading.text()
    assert page.picture.reading.text().count(":") >= 2  # to the second, now
    QTest.keyClick(plot, Qt.Key.Key_Minus)
    assert plot.shown_hours[1] - plot.shown_hours[0] == pytest.approx(24 / 16)
    for _ in range(30):
        QTest.keyClick(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert plot.shown_hours[0] > high  # the view went along
    QTest.keyClick(plot, Qt.Key.Key_Home)
    assert plot.is_whole
    window.store.edit({"seed": demo_with(seed="2").seed}, "another day")
    assert page.picture.reading.text() == usual
    assert plot.accessibleDescription() == ""


def test_the_wheel_zooms_and_at_the_whole_day_lets_the_page_scroll(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    plot = page.picture.plot
    assert not turn(plot, -120)
    assert turn(plot, 120)
    low, high = plot.shown_hours
    assert high - low < 24
    page.picture.whole.click()
    assert plot.is_whole
    turn(plot, 120)
    QTest.mouseDClick(plot.viewport(), Qt.MouseButton.LeftButton, pos=plot.rect().center())
    QTest.mouseRelease(plot.viewport(), Qt.MouseButton.LeftButton, pos=plot.rect().center())
    assert plot.is_whole


def turn(plot: QWidget, angle: int) -> bool:
    """Turn the wheel over the plot; whether the plot took it."""
    place = QPointF(plot.rect().center())
    event = QWheelEvent(
        place, QPointF(plot.mapToGlobal(place)), QPoint(), QPoint(0, angle),
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase,
        False,
    )  # fmt: skip
    plot.wheelEvent(event)
    return event.isAccepted()


def test_all_panels_have_one_time_and_one_left_edge(qtbot: QtBot) -> None:
    _, page = opened(qtbot, demo_with(**TWO))
    plot = page.picture.plot
    plot.zoom(0.25)
    QApplication.processEvents()
    panels = [*(item for tank in plot.tanks for item in tank.items), plot.draws.item]
    for panel in panels:
        assert panel.getViewBox().viewRange()[0] == pytest.approx(plot.shown_hours)
    edges = {round(panel.getViewBox().sceneBoundingRect().left()) for panel in panels}
    assert len(edges) == 1


def test_the_picture_is_read_by_pointing(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    plot = page.picture.plot
    one = study_of(window).tanks[0]
    place = plot.box.mapViewToScene(QPointF(12.0, 0.0))
    plot._on_mouse_moved(place)
    assert page.picture.reading.text().startswith("At 12:00 — ")
    pressure = Display().text(one.pressure_at(43_200.0), PRESSURE)
    assert pressure in page.picture.reading.text()


@pytest.mark.parametrize("look", [theme.LIGHT, theme.DARK])
def test_the_picture_wears_the_theme(qtbot: QtBot, look: theme.Theme) -> None:
    _, page = opened(qtbot, demo_with(**TWO))
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.apply(app, look)
    QApplication.processEvents()
    plot = page.picture.plot
    try:
        assert plot.backgroundBrush().color().name().upper() == look.base
        for tank in plot.tanks:
            assert tank.curve.opts["pen"].color().name().upper() == look.curves[0].colour
            assert tank.pressure.getAxis("left").textPen().color().name().upper() == look.text
            assert tank.cut_in.label.color.name().upper() == look.text
    finally:
        theme.apply(app, theme.LIGHT)


def test_times_are_written_as_a_clock_does() -> None:
    axis = TimeAxis("bottom")
    assert axis.tickStrings([0.0, 6.5, 24.0], 1.0, 0.5) == ["0:00", "6:30", "24:00"]
    assert axis.tickStrings([6.5 + 1 / 240], 1.0, 1 / 240) == ["6:30:15"]
    steps = [axis.tickSpacing(0.0, hours, 800.0)[0][0] for hours in (24.0, 6.0, 1.0, 1 / 30)]
    assert steps == sorted(steps, reverse=True)
    assert steps[0] >= 2.0
