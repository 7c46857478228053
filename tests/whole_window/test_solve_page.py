"""The page "Solve for one", worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.study.build import PSI
from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    at_page,
    check_page_at,
    demo_with,
    press,
    results_of,
    type_over,
    undo,
    unread,
)
from workbench.gui.pages.solve.page import SolvePage
from workbench.gui.window import MainWindow
from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.study.solve.relation import Limit
from workbench.study.solve.view import SolveView
from workbench.study.solve.words import kind_of, reason_text, why_text
from workbench.units import TIME, Display

HELD: dict[str, Any] = {
    "pump_flow": "10 gpm",
    "run_time": "1 min",
    "solve_volume": "44 gal",
    "cut_in": "30 psi",
    "cut_out": "50 psi",
    "altitude": "0 ft",
    "exponent": "1.0",
}
CURVE: dict[str, Any] = {
    "pump_entry": "curve",
    "curve": "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft",
    "water_level": "90 ft",
    "pipe_length": "120 ft",
}
STATES: dict[str, dict[str, Any]] = {
    "volume": {},
    "precharge": {"solve_for": "precharge"},
    "typed": {"solve_for": "band_centre", "precharge_rule": "typed", "precharge": "38 psi"},
    "high": {"solve_for": "band_centre", "pump_flow": "5 gpm"},
    "width": {"solve_for": "band_width"} | CURVE,
    "flow": {"solve_for": "pump_flow"},
    "known flow": {"solve_for": "pump_flow"} | CURVE,
    "run": {"solve_for": "run_time"},
    "none": {"solve_for": "precharge", "pump_flow": "20 gpm"},
    "too wide": {"solve_for": "band_centre", "cut_out": "130 psi"} | CURVE,
    "unread": {"run_time": Unreadable("some"), "cut_in": Unreadable("30")},
}


def in_state(state: str) -> Job:
    return demo_with(**HELD | STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, SolvePage]:
    return at_page(qtbot, "solve", SolvePage, in_state(state))


def view_of(window: MainWindow) -> SolveView:
    return results_of(window).solved


@pytest.mark.parametrize(
    ("state", "metric"),
    [("volume", False), ("precharge", True), ("typed", False), ("high", False), ("width", True),
     ("known flow", False), ("none", False), ("too wide", False), ("unread", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "solve", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["volume", "precharge", "typed", "width", "flow", "run"])
def test_the_plot_shows_the_studys_figures(qtbot: QtBot, state: str, display: Display) -> None:
    window, page = opened(qtbot, state)
    window.store.set_display(display)
    picture = view_of(window).picture
    assert picture is not None
    kind = kind_of(picture.over_what)
    x, y = page.plot._run.getData()
    assert list(x) == pytest.approx(list(display.value(picture.over, kind)))
    assert list(y) == pytest.approx(list(display.value(picture.run, TIME)))
    usual = [one for one in picture.marks if one.is_usual]
    spots = page.plot._usual.getData()
    assert list(spots[0]) == pytest.approx([display.value(one.place, kind) for one in usual])
    others = page.plot._others.getData()
    assert len(others[0]) == len(picture.marks) - len(usual)
    shades = [
        (display.value(one.low, kind), display.value(one.high, kind)) for one in picture.shades
    ]
    assert np.ravel(page.plot.shaded()) == pytest.approx(np.ravel(shades))


@pytest.mark.parametrize("state", STATES)
def test_the_answer_and_its_reason_are_the_studys(qtbot: QtBot, state: str) -> None:
    window, page = opened(qtbot, state)
    view = view_of(window)
    shown, reason = page.answer.figure.text(), page.answer.reason.text()
    if state == "unread":
        assert (shown, reason) == ("—", "Mend first: Cut-in, Minimum run.")
        assert page.picture.isHidden()
        assert page.put.isHidden()
    elif not view.solutions:
        assert (shown, reason) == ("—", why_text(view, Display()))
        assert page.put.isHidden()
    else:
        one = view.solutions[0]
        assert shown == Display().text(one.value, kind_of(view.answered))
        assert reason.endswith(reason_text(view, one, Display()))
        assert page.put.isHidden() is (state == "known flow")


def test_typing_changes_the_answer_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "volume")
    assert page.answer.figure.text() == "33.9 gal"
    type_over(page, "run_time", "2")
    assert page.answer.figure.text() == "67.7 gal"
    undo()
    assert page.answer.figure.text() == "33.9 gal"
    assert window.store.job.run_time == in_state("volume").run_time


def test_what_is_looked_for_is_barred_and_the_others_are_open(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "volume")
    rows = page.inputs.rows

    def barred() -> set[str]:
        return {name for name, row in rows.items() if not row.field.isEnabled()}

    assert barred() == {"solve_volume"}
    assert rows["solve_volume"].message.text() == "Looked for here."
    for looked_for, names in (
        (SolveFor.PUMP_FLOW, {"pump_flow"}),
        (SolveFor.RUN_TIME, {"run_time"}),
        (SolveFor.CENTRE, set()),
        (SolveFor.WIDTH, set()),
        (SolveFor.PRECHARGE, {"precharge_rule", "precharge"}),
    ):
        window.store.edit({"solve_for": looked_for}, "look for another")
        assert barred() - {"precharge"} == names - {"precharge"}
    window.store.edit({"solve_for": SolveFor.RUN_TIME, "pump_entry": "bucket"}, "by a bucket")
    assert "by timed refill" in rows["pump_flow"].message.text() or barred() >= {"pump_flow"}


def test_a_text_in_the_field_that_is_looked_for_is_not_complained_of(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "volume")
    window.store.edit({"solve_volume": unread("many")}, "type")
    assert page.inputs.rows["solve_volume"].message.text() == "Looked for here."
    assert page.answer.figure.text() == "33.9 gal"


@pytest.mark.parametrize(
    ("state", "names"),
    [("volume", {"solve_volume"}), ("precharge", {"precharge_rule", "precharge"}),
     ("high", {"cut_in", "cut_out"}), ("flow", {"pump_flow"}), ("run", {"run_time"})],
)  # fmt: skip
@pytest.mark.parametrize("display", [Display(), METRIC])
def test_the_button_puts_the_answer_in_as_one_step_of_undo(
    qtbot: QtBot, state: str, names: set[str], display: Display
) -> None:
    window, page = opened(qtbot, state)
    window.store.set_display(display)
    before, figure = window.store.job, page.answer.figure.text()
    press(page.put)
    job = window.store.job
    changed = {name for name in Job.entries() if getattr(job, name) != getattr(before, name)}
    assert changed == names
    assert page.answer.figure.text() == figure, "the others are as before, so is the answer"
    if state == "precharge":
        assert job.precharge_rule is PrechargeRule.TYPED
    assert window.store.undo_stack.count() == 1
    window.store.undo_stack.undo()
    assert window.store.job == before


def test_a_gap_is_told_with_the_answer_and_hatched_in_the_picture(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "precharge")
    view = view_of(window)
    assert "From there up to 35.3 psi the pump runs 1.00 min or longer." in (
        page.answer.reason.text()
    )
    facts = dict(page.facts.rows())
    assert "35.3 psi. Above cut-in. The tank is empty 5.3 psi" in facts["Also"]
    assert view.picture is not None
    assert Limit.GAP in {one.limit for one in view.picture.shades}
    assert "empty before cut-in" in page.plot.texts()


def test_what_the_job_would_be_told_stands_beneath_the_answer(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "high")
    (told,) = page.messages.texts()
    assert told.startswith("Caution: With the answer, Cut-out: Above the 80 psi")


def test_the_working_ends_with_the_answer_put_back(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "volume")
    name, text = page.working.rows()[-1]
    assert name == "Run with the answer"
    assert "10.00 gal / 10.00 gpm = 1.00 min" in text


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "precharge")
    page.plot.setFocus()
    QTest.keyClick(page.plot, Qt.Key.Key_Home)
    assert page.picture.reading.text().startswith("At 0.0 psi — run 0.4")
    QTest.keyClick(page.plot, Qt.Key.Key_End)
    told = page.picture.reading.text()
    assert told.startswith("At 56.0 psi — no water enters")
    assert page.plot.accessibleDescription() == told
    page.plot.read_at(40.0)
    picture = view_of(window).picture
    assert picture is not None
    run = Display().text(float(np.interp(40 * PSI, picture.over, picture.run)), TIME)
    assert page.picture.reading.text() == f"At 40.0 psi — run {run}, empty before cut-in"
