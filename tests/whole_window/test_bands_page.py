"""The page "Compare bands", worked as a person does; it shows the study's figures, no others."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.study.build import GAL, PSI
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
)
from workbench.gui.pages.bands.page import BandsPage
from workbench.gui.window import MainWindow
from workbench.job.job import Job
from workbench.study.bands.view import BandColumn, BandsView
from workbench.units import Display, System

USUAL = {
    "cut_in": "30 psi",
    "cut_out": "50 psi",
    "bands": "20/40, 30/50, 40/60, 50/70 psi",
    "precharge_rule": "cut_in_less_2_psi",
    "first_tank": "alder-65-v",
    "altitude": "0 ft",
    "pump_entry": "constant",
    "steady_draw": "5 gpm",
    "relief_setting": None,
    "lowest_fixture": None,
    "highest_fixture": None,
    "headroom": None,
    "door_width": None,
}
STATES: dict[str, dict[str, Any]] = {
    "usual": USUAL,
    "stopped": USUAL
    | {
        "pump_entry": "two_flows",
        "flow_at_cut_in": "12 gpm",
        "flow_at_cut_out": "8 gpm",
        "relief_setting": "68 psi",
        "lowest_fixture": "60 ft",
        "highest_fixture": "70 ft",
        "bands": "20/40, 50/70, 62/66 psi",
    },
    "typed": USUAL
    | {
        "today_volume": "44 gal",
        "today_acceptance": "20 gal",
        "precharge_rule": "typed",
        "precharge": "38 psi",
        "reading_altitude": "3000 ft",
    },
    "metric bands": USUAL | {"bands": "1.5/3, 2.5/4 bar", "cut_in": "2 bar", "cut_out": "3.5 bar"},
    "no other": USUAL | {"bands": "30/50 psi"},
    "gone": USUAL | {"first_tank": "gone"},
    "unread": USUAL | {"cut_in": Unreadable("30"), "relief_setting": Unreadable("some")},
}


def in_state(state: str) -> Job:
    return demo_with(**STATES[state])


def opened(qtbot: QtBot, state: str) -> tuple[MainWindow, BandsPage]:
    return at_page(qtbot, "bands", BandsPage, in_state(state))


def view_of(window: MainWindow) -> BandsView:
    return results_of(window).bands


def column(window: MainWindow, name: str) -> BandColumn:
    (found,) = [one for one in view_of(window).columns if one.name == name]
    return found


def cells(page: BandsPage) -> dict[str, dict[str, str]]:
    """The table by band and row."""
    headings, *rows = page.table.texts()
    return {
        heading: {row[0]: row[place] for row in rows}
        for place, heading in enumerate(headings)
        if place
    }


@pytest.mark.parametrize(
    ("state", "metric"),
    [("usual", False), ("stopped", True), ("typed", False), ("metric bands", True),
     ("no other", False), ("unread", False)],
)  # fmt: skip
def test_the_page_keeps_every_page_rule(qtbot: QtBot, state: str, metric: bool) -> None:
    check_page_at(qtbot, "bands", lambda: in_state(state), metric=metric)


@pytest.mark.parametrize("display", [Display(), METRIC])
@pytest.mark.parametrize("state", ["usual", "stopped", "typed", "metric bands"])
def test_the_plot_and_the_table_show_the_studys_figures(
    qtbot: QtBot, state: str, display: Display
) -> None:
    window, page = opened(qtbot, state)
    window.store.set_display(display)
    view = view_of(window)
    volume = GAL if display.system is System.US else 1e-3
    shown = cells(page)
    for one, (name, (right, left)) in zip(view.columns, page.plot.bars().items(), strict=True):
        drawdown = shown[name]["Drawdown"]
        if one.gives is None:
            assert (right, drawdown) == (pytest.approx(float("nan"), nan_ok=True), "never stops")
        else:
            assert right == pytest.approx(one.gives.drawdown / volume)
            assert drawdown.startswith(
                f"{one.gives.drawdown / volume:.1f}".replace(".", display.mark)
            )
        if one.left is not None:
            assert left == pytest.approx(one.left.drawdown / volume)
        if state == "typed":
            assert shown[name]["Precharge to set"].endswith("above cut-in")
        elif one.precharge is None:
            assert shown[name]["Precharge to set"] == "withheld"


def test_the_answer_says_what_the_next_higher_band_costs(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    other = column(window, "40/60")
    assert other.change is not None
    assert page.cost.figure.text() == f"40/60 psi: {-other.change / GAL:.1f} gal less"
    assert "The pump runs" in page.cost.reason.text()
    assert "(+23.1 ft)" in page.cost.reason.text()
    assert page.charge.figure.text() == "38.0 psi"
    assert "+10.0 psi against today" in page.charge.reason.text()
    assert "Left at 28.0 psi it gives" in page.charge.reason.text()
    assert "locked out" in page.charge.reason.text()


def test_another_band_is_chosen_by_keys_and_the_answer_follows(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    page.choice.list.setFocus(Qt.FocusReason.TabFocusReason)
    steps = window.store.undo_stack.count()
    QTest.keyClick(page.choice.list, Qt.Key.Key_Home)
    assert page.cost.figure.text().startswith("20/40 psi: ")
    assert "a moment of no water" in page.charge.reason.text()
    QTest.keyClick(page.choice.list, Qt.Key.Key_End)
    assert page.cost.figure.text().startswith("50/70 psi: ")
    assert window.store.undo_stack.count() == steps
    window.store.set_display(METRIC)
    assert page.cost.figure.text().startswith("50/70 psi: ")


def test_the_button_makes_the_band_the_jobs_in_one_step_of_undo(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "typed")
    before, other = window.store.job, column(window, "40/60")
    steps = window.store.undo_stack.count()
    press(page.choice.button)
    assert window.store.undo_stack.count() == steps + 1
    job = window.store.job
    assert (str(job.cut_in), str(job.cut_out), str(job.precharge)) == ("40 psi", "60 psi", "48 psi")
    today = view_of(window).today
    assert today is not None
    assert today.gives == other.gives
    assert page.cost.figure.text().startswith("30/50 psi: ")  # what it was, to compare with
    undo(QApplication.focusWidget() or window)
    assert window.store.job == before
    assert "40/60" in window.store.undo_stack.redoText()


def test_the_first_of_the_ranking_is_named_when_the_band_moves(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    window.store.edit({"first_tank": ""}, "first")
    tank = view_of(window).tank
    assert tank is not None
    page.choice.button.click()
    assert window.store.job.first_tank == tank.key


def test_typing_changes_the_answer_and_undo_brings_it_back(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    before = page.cost.figure.text()
    field = page.inputs.rows["today_volume"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClicks(field, "44 gal")
    assert page.cost.figure.text() == "40/60 psi: 1.6 gal less"
    assert not page.inputs.rows["first_tank"].field.isEnabled()
    assert page.inputs.rows["today_rating"].field.isVisible()
    assert "held against no band" in page.inputs.rows["today_rating"].message.text()
    undo(QApplication.focusWidget() or window)
    assert page.cost.figure.text() == before
    assert page.inputs.rows["today_rating"].field.isHidden()


def test_fewer_and_more_bands_are_shown_as_they_are_typed(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "usual")
    for text, count in (("40/60", 1), ("25/45, 40/60, 45/65, 60/80, 20/60", 5), ("33/52", 1)):
        type_over(page, "bands", text)
        assert len(page.table.texts()[0]) == 2 + count
        assert {len(row) for row in page.table.texts()} == {2 + count}
        assert page.plot.count() == 1 + count
        assert page.choice.list.count() == count
    assert page.cost.figure.text().startswith("33/52 psi: ")


def test_a_band_that_cannot_be_reached_is_said_everywhere(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "stopped")
    page.choice.list.setFocus(Qt.FocusReason.TabFocusReason)
    page.choice.list.setCurrentIndex(0)
    QTest.keyClick(page.choice.list, Qt.Key.Key_Down)
    other = column(window, "50/70")
    assert other.never_stops
    assert page.cost.figure.text() == "50/70 psi: never stops"
    assert "66.0 psi" in page.cost.reason.text()
    assert page.charge.figure.text() == "—"
    assert page.charge.reason.text().startswith("Withheld.")
    assert any(
        text.startswith("Stop: 50/70 psi: The pump reaches") for text in page.messages.texts()
    )
    assert "never stops" in cells(page)["50/70 psi"]["Reach above cut-out"]


def test_what_each_limit_says_stands_in_the_table(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "stopped")
    shown = cells(page)
    assert shown["20/40 psi"]["Highest fixture, cut-in"].endswith("low")
    assert shown["62/66 psi"]["Lowest fixture, cut-out"].endswith("too high")
    assert shown["62/66 psi"]["Relief valve above cut-out"] == "+2.0 psi, little"
    assert shown["50/70 psi"]["Relief valve above cut-out"] == "−2.0 psi, opens first"
    flows = column(window, "20/40").pump
    assert flows is not None
    assert flows.at_cut_out is not None
    assert shown["20/40 psi"]["Flow at cut-out"].startswith(
        f"{flows.at_cut_out.flow * 60 / GAL:.1f}"
    )
    assert shown["20/40 psi"]["Reach above cut-out"] == "+26.0 psi"


def test_the_tank_that_keeps_todays_run_is_named_with_its_price(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    found = column(window, "40/60").replacement
    assert found is not None
    shown = cells(page)
    assert shown["40/60 psi"]["Tank for today's run"] == found.one.name
    assert found.price_more is not None
    assert found.price_more < 0
    assert shown["40/60 psi"]["Its catalogue price"] == f"{-found.price_more} USD less"
    assert shown["20/40 psi"]["Tank for today's run"] == "today's"
    assert found.one.name in page.cost.reason.text()


def test_without_another_band_it_asks_for_one(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "no other")
    assert page.cost.figure.text() == "—"
    assert "Type bands" in page.cost.reason.text()
    assert page.charge.isHidden()
    assert not page.choice.button.isEnabled()
    assert page.table.isVisible()


def test_what_stops_is_named(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "unread")
    assert page.cost.reason.text() == "Mend first: Relief valve, Cut-in."
    assert page.inputs.rows["cut_in"].message.isVisible()
    for widget in (page.choice, page.picture, page.table, page.working):
        assert widget.isHidden()
    _, gone = opened(qtbot, "gone")
    assert gone.cost.reason.text() == "Mend first: Tank."


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    window, page = opened(qtbot, "usual")
    page.plot.setFocus()
    QTest.keyClick(page.plot, Qt.Key.Key_Down)
    told = page.picture.reading.text()
    assert told.startswith("30/50 psi: ")
    QTest.keyClick(page.plot, Qt.Key.Key_End)
    told = page.picture.reading.text()
    assert told.startswith("50/70 psi: ")
    assert "Precharge 48.0 psi, 20.0 psi more than today." in told
    assert page.plot.accessibleDescription() == told
    low = column(window, "20/40").precharge
    assert low is not None
    assert low.in_service == pytest.approx(18 * PSI)


def test_the_working_shows_both_bands(qtbot: QtBot) -> None:
    _, page = opened(qtbot, "usual")
    names = [name for name, _value in page.working.rows()]
    assert "30/50 psi: drawdown" in names
    assert "40/60 psi: drawdown" in names
    assert "Precharge left as it is today: drawdown" in names
    assert "Head at cut-out" in names


def test_the_pump_page_takes_the_pressures_of_two_flows(qtbot: QtBot) -> None:
    window, _ = opened(qtbot, "stopped")
    window.go("pump")
    page: Any = window.page_of("pump")
    for name in ("flow_in_at", "flow_out_at"):
        assert page.inputs.rows[name].field.isVisible()
    field = page.inputs.rows["flow_in_at"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClicks(field, "50")
    assert "higher pressure" in page.inputs.rows["flow_out_at"].message.text()
    window.store.edit({"pump_entry": type(window.store.job.pump_entry)("constant")}, "one flow")
    assert page.inputs.rows["flow_in_at"].field.isHidden()
