"""The page about tolerances, worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    demo_with,
    is_said_by_a_file,
    results_of,
    type_over,
    window_with,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import demo_job
from workbench.gui import theme
from workbench.gui.pages.tolerance.page import TolerancePage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.job.pump_choices import PumpEntry
from workbench.study.certainty.plan import tolerance_plan
from workbench.study.certainty.tolerance import NAMES
from workbench.study.certainty.view import ToleranceView, run_plan
from workbench.study.certainty.words import (
    percent_text,
    run_text,
    share_text,
    swing_sentence,
    tolerance_name,
    verdict_word,
)
from workbench.units import Display, System

LONG_WAIT = 20_000  # ms, on a machine that has much else to do
STATES: dict[str, dict[str, Any]] = {
    "usual": {},
    "timed refill": {"pump_entry": PumpEntry.BUCKET},
    "may never stop": {"pump_entry": PumpEntry.TWO_FLOWS, "tol_switch_out": "20 psi"},
    "pairs": {"mixed_sets": True, "header_tanks": 2, "run_time": "3 min"},
    "wrong entries": {
        "tol_gauge": "-1 psi", "tol_flow": "120 %", "seed": "1.5", "first_tank": "sold",
        "tol_watch": "40 s", "pump_entry": PumpEntry.BUCKET, "tol_precharge": Unreadable("two"),
    },
    "doubtful entries": {"tol_gauge": "40 psi", "tol_switch_out": "30 psi", "door_width": "10 in"},
    "nothing off": {
        f"tol_{name}": f"0 {unit}"
        for name, unit in zip(
            NAMES, ("psi", "psi", "psi", "psi", "°F", "%", "gal", "s"), strict=True
        )
    },
    "no run": {"precharge_rule": "typed", "precharge": "55 psi"},
    "mend first": {"cut_out": "20 psi"},
}  # fmt: skip
WORKED_OUT = {state for state in STATES if state not in {"wrong entries", "mend first"}}


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def worked_out(page: TolerancePage) -> bool:
    """Whether the view shown is that of the present plan."""
    return page.view is not None and page.view.plan == page._plan and not page.background.busy


def opened(qtbot: QtBot, job: Job | None = None) -> tuple[MainWindow, TolerancePage]:
    """The window with this page shown, its cases followed."""
    window, page = at_page(qtbot, "tolerance", TolerancePage, job or demo_job())
    qtbot.waitUntil(lambda: page._plan is None or worked_out(page), timeout=LONG_WAIT)
    QApplication.processEvents()  # the figures find their places
    return window, page


def settle(qtbot: QtBot, page: TolerancePage) -> None:
    qtbot.waitUntil(lambda: worked_out(page), timeout=LONG_WAIT)


def view_of(window: MainWindow) -> ToleranceView:
    """What the study says of the window's job, worked out here."""
    plan, _ = tolerance_plan(results_of(window))
    assert plan is not None
    view = run_plan(plan, lambda _share: True)
    assert view is not None
    return view


def rows_of(page: TolerancePage) -> list[list[str]]:
    model = page.tanks.model
    return [
        [model.text(row, column) for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]


@pytest.mark.parametrize(
    ("state", "metric"),
    [*((state, False) for state in STATES), ("usual", True), ("wrong entries", True)],
)
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    def build() -> QWidget:
        window = window_with(in_state(state))
        if metric:
            window.store.set_display(METRIC)
        window.show()
        window.go("tolerance")
        page = window.page_of("tolerance")
        assert isinstance(page, TolerancePage)
        if state in WORKED_OUT:
            settle(qtbot, page)
        QApplication.processEvents()
        return window

    check_page(qtbot, build, untranslated=is_said_by_a_file)


@pytest.mark.parametrize("state", sorted(WORKED_OUT))
def test_the_page_shows_the_studys_figures(qtbot: QtBot, state: str) -> None:
    window, page = opened(qtbot, in_state(state))
    view, display = view_of(window), window.store.display
    tank = view.tank
    assert tank is not None
    assert page.verdict.figure.text() == (
        f"{verdict_word(tank.verdict)}, {share_text(tank.share, display)}"
    )
    assert page.worst.figure.text() == run_text(tank.worst_run, display)
    table = rows_of(page)
    assert len(table) == len(view.plan.rows)
    for place, row in enumerate(table):
        one = view.row(place)
        assert row[0] == verdict_word(one.verdict)
        assert row[2] == share_text(one.share, display)
    drawn = page.plot.bars() if view.swings else {}
    assert len(drawn) == len(view.swings)
    for swing, (name, (low, high)) in zip(view.swings, drawn.items(), strict=True):
        assert name.startswith(tolerance_name(swing.name))
        assert low == pytest.approx(swing.low * 100)
        if swing.high < float("inf"):
            assert high == pytest.approx(swing.high * 100)
            assert any(percent_text(swing.high, display) in text for text in page.plot.texts())
        else:
            assert "never stops" in page.plot.texts()


def test_typing_greys_the_old_figures_and_then_shows_the_new_ones(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before = page.verdict.figure.text()
    type_over(page, "tol_flow", "25 %")
    assert page.verdict.figure.text() == page.worst.figure.text() == "—"
    assert not page.plot.isEnabled()
    assert "earlier entries" in page.picture.reading.text()
    assert "earlier entries" in page.tanks.hint.text()
    colour = page.tanks.model.data(page.tanks.model.index(0, 1), Qt.ItemDataRole.ForegroundRole)
    assert colour.name().upper() == theme.current().muted
    settle(qtbot, page)
    after = page.verdict.figure.text()
    assert after != before
    assert page.plot.isEnabled()
    assert page.view is not None
    assert page.view.swings[0].name == "flow"
    window.store.undo_stack.undo()
    settle(qtbot, page)
    assert page.verdict.figure.text() == before


def test_nothing_moves_while_new_figures_are_worked_out(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    QTest.qWait(100)  # until all has found its place

    def places() -> list[QPoint]:
        QApplication.processEvents()
        return [part.mapTo(window, QPoint(0, 0)) for part in (page.plot, page.tanks.table)]

    before = places()
    window.store.edit({"tol_flow": demo_job().changed(tol_flow="11 %").tol_flow}, "change flow")
    assert page.verdict.figure.text() == "—"
    assert places() == before
    settle(qtbot, page)
    assert places() == before


def test_what_does_not_touch_the_figures_starts_nothing(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    shown = page.view
    window.store.edit({"title": "Cabin"}, "change title")
    window.menuBar()  # nothing else happens meanwhile
    assert page.view is shown
    assert not page.background.busy
    assert not page._pause.isActive()
    window.store.set_display(Display(System.METRIC, ","))
    assert page.view is shown
    assert "," in page.verdict.figure.text()
    assert any("kPa" in text for text in page.plot.texts())


def test_a_quick_typist_gets_the_last_entry_only(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    for percent in ("5 %", "15 %", "20 %", "30 %"):
        window.store.edit(
            {"tol_flow": demo_job().changed(tol_flow=percent).tol_flow}, "change flow"
        )
    settle(qtbot, page)
    assert page.view is not None
    assert page.view.plan.tolerances.flow == pytest.approx(0.3)


def test_a_wrong_entry_takes_all_figures_away_and_says_why_beside_its_field(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    type_over(page, "tol_gauge", "-2 psi")
    assert page.verdict.figure.text() == "—"
    assert page.verdict.reason.text() == "Mend first: Gauge ±."
    assert page.tanks.isHidden()
    assert page.plot.isHidden()
    assert "cannot be below zero" in page.inputs.rows["tol_gauge"].message.text()
    type_over(page, "tol_gauge", "2 psi")
    settle(qtbot, page)
    assert not page.tanks.isHidden()
    assert not page.plot.isHidden()
    assert page.inputs.rows["tol_gauge"].message.text() == ""


def test_bucket_and_watch_are_asked_for_only_after_a_timed_refill(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    assert page.inputs.rows["tol_bucket"].field.isHidden()
    window.store.edit({"pump_entry": PumpEntry.BUCKET}, "change entry")
    assert not page.inputs.rows["tol_bucket"].field.isHidden()
    settle(qtbot, page)
    assert page.view is not None
    assert {"bucket", "watch"} <= {swing.name for swing in page.view.swings}


def test_enter_in_the_table_chooses_the_tank(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    assert page.view is not None
    wanted = page.tanks.model.key(2)
    table = page.tanks.table
    table.setFocus(Qt.FocusReason.TabFocusReason)
    table.selectRow(2)
    QTest.keyClick(table, Qt.Key.Key_Return)
    assert window.store.job.first_tank == wanted
    settle(qtbot, page)
    assert page.view.tank is not None
    assert page.view.tank.candidate == page.view.plan.rows[2]
    assert page.tanks.model.text(2, 1).endswith("(chosen)")
    assert [row[1].endswith("(chosen)") for row in rows_of(page)].count(True) == 1


def test_the_bars_are_read_by_keyboard_and_by_pointing(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    view, plot = page.view, page.plot
    assert view is not None
    plot.setFocus(Qt.FocusReason.TabFocusReason)
    told = [swing_sentence(swing, view, window.store.display) for swing in view.swings]
    for sentence in told:
        QTest.keyClick(plot, Qt.Key.Key_Down)
        assert page.picture.reading.text() == plot.accessibleDescription() == sentence
    QTest.keyClick(plot, Qt.Key.Key_Down)
    assert plot.accessibleDescription() == told[-1]
    QTest.keyClick(plot, Qt.Key.Key_Home)
    assert plot.accessibleDescription() == told[0]
    QTest.keyClick(plot, Qt.Key.Key_End)
    QTest.keyClick(plot, Qt.Key.Key_Up)
    assert plot.accessibleDescription() == told[-2]
    window.resize(window.width() - 40, window.height())
    QApplication.processEvents()
    assert plot.accessibleDescription() == told[-2]  # what is read stays
    at = plot.mapFromScene(plot.box.mapViewToScene(plot.box.viewRect().center()))
    QTest.mouseMove(plot.viewport(), QPoint(at.x(), at.y()))
    middle = told[len(told) // 2 - 1], told[len(told) // 2]
    qtbot.waitUntil(lambda: plot.accessibleDescription() in middle, timeout=LONG_WAIT)
    window.store.set_display(Display(System.METRIC, "."))
    assert plot.accessibleDescription() == ""


def test_both_axes_say_the_same_in_per_cent_and_in_seconds(qtbot: QtBot) -> None:
    _, page = opened(qtbot)
    assert page.view is not None
    assert page.view.tank is not None
    assert page.plot.axes["bottom"].labelText == "Change of the run, %"
    assert page.plot.axes["top"].labelText == "Change of the run, s"
    assert page.plot.axes["top"].scale == pytest.approx(page.view.tank.nominal_run / 100)


def test_work_that_was_stopped_can_be_taken_up_again(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_over(page, "tol_flow", "25 %")
    qtbot.waitUntil(lambda: page.background.busy or worked_out(page), timeout=LONG_WAIT)
    window.store.edit({"seed": demo_job().changed(seed="9").seed}, "change number")
    page._pause.stop()
    page._start()
    page.progress.cancel.click()
    assert page.verdict.reason.text() == "Stopped before the end."
    assert not page.again.isHidden()
    assert page.verdict.figure.text() == "—"
    window.store.set_display(Display(System.METRIC, "."))
    assert not page.background.busy
    page.again.click()
    settle(qtbot, page)
    assert page.again.isHidden()
    assert page.verdict.figure.text() != "—"


def test_a_page_out_of_sight_shows_what_was_worked_out_when_it_is_seen_again(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    before = page.verdict.figure.text()
    window.go("tank")
    window.store.edit({"tol_flow": demo_job().changed(tol_flow="40 %").tol_flow}, "change flow")
    assert not page.background.busy
    window.go("tolerance")
    assert page.verdict.figure.text() == "—"
    settle(qtbot, page)
    assert page.verdict.figure.text() != before


def test_what_nobody_looks_at_is_left_off_and_taken_up_again(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_over(page, "tol_flow", "25 %")
    page._start()
    assert page.background.busy
    window.go("tank")
    assert not page.background.busy
    assert not page._pause.isActive()
    window.go("tolerance")
    settle(qtbot, page)
    assert page.again.isHidden()
    assert page.view is not None
    assert page.view.plan.tolerances.flow == pytest.approx(0.25)


def test_a_window_can_be_closed_while_cases_are_followed(qtbot: QtBot) -> None:
    window, page = opened(qtbot)
    type_over(page, "tol_flow", "25 %")
    page._start()
    assert page.background.busy
    window.store.undo_stack.setClean()
    window.close()


def test_without_a_tank_or_a_catalogue_the_page_says_so(qtbot: QtBot) -> None:
    window, page = opened(qtbot, demo_job().changed(first_tank="sold"))
    assert page.verdict.figure.text() == "—"
    assert "Choose another tank" in page.verdict.reason.text()
    assert "called sold" in page.inputs.rows["first_tank"].message.text()
    assert page.plot.isHidden()
    assert len(rows_of(page)) > 0
    window.store.catalog = None
    window.store.edit({"first_tank": ""}, "choose the first")
    assert "open a catalogue" in page.verdict.reason.text()
    assert page.tanks.isHidden()
