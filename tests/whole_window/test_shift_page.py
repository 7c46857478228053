"""The page "Precharge": its rules, its figures, its picture, and what is typed in it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.study.build import TWO_FLOWS
from tests.whole_window.at_page import (
    METRIC,
    Unreadable,
    is_said_by_a_file,
    page_alone,
    results_of,
    shown_alone,
    type_over,
    unread,
)
from tests.whole_window.page_checks import check_page
from tests.whole_window.user import own_catalog
from workbench.gui.pages.shift.page import ShiftPage
from workbench.job.choices import PrechargeRule
from workbench.job.job import Job
from workbench.study.shift.view import Region, Shift
from workbench.study.shift.words import rows
from workbench.units import PRESSURE, VOLUME, Display, parse

OLD_AIR: dict[str, Any] = {
    "live_volume": "44 gal",
    "cut_in": "40 psi",
    "cut_out": "60 psi",
    "precharge_rule": "typed",
    "precharge": "28 psi",
}
OVER: dict[str, Any] = {"live_volume": "44 gal", "precharge_rule": "typed", "precharge": "38 psi"}


def build(display: Display = Display(), *, catalog: bool = True, **entries: Any) -> ShiftPage:  # noqa: B008 - frozen
    """The page alone, with the demo catalogue, evaluated."""
    read = {
        name: unread(value.text) if isinstance(value, Unreadable) else value
        for name, value in entries.items()
    }
    tanks = own_catalog() if catalog else None
    return page_alone(ShiftPage, Job().changed(**read), display, tanks)


def shown(qtbot: QtBot, display: Display = Display(), **entries: Any) -> ShiftPage:  # noqa: B008
    return shown_alone(qtbot, build(display, **entries))


def shift_of(page: ShiftPage) -> Shift:
    found = results_of(page).shift.shift
    assert found is not None
    return found


STATES: dict[str, tuple[Display, dict[str, Any]]] = {
    "usual": (Display(), {}),
    "old air on a new band": (METRIC, OLD_AIR),
    "too much air": (Display(), OVER | TWO_FLOWS),
    "far too much air": (METRIC, OVER | {"precharge": "200 psi"}),
    "entries that cannot be read": (
        Display(),
        {
            "steady_draw": Unreadable("much"),
            "people": Unreadable("many"),
            "line_give": "0 gal",
            "live_volume": "44 gal",
        },
    ),
    "a tank that is gone": (Display(), {"first_tank": "elsewhere"}),
    "no catalogue": (METRIC, {"catalog": False, "cut_in": "70 psi"}),
}


@pytest.mark.parametrize("state", STATES)
def test_the_page_keeps_all_page_rules(qtbot: QtBot, state: str) -> None:
    display, entries = STATES[state]

    def page() -> QWidget:
        return build(display, **entries)

    check_page(qtbot, page, untranslated=is_said_by_a_file)


def test_the_answers_are_those_of_the_study(qtbot: QtBot) -> None:
    page = shown(qtbot, **OLD_AIR)
    assert page.gives.figure.text() == "9.2 of 11.4 gal: −19 %"
    assert page.gives.reason.text().startswith("Undercharged: 9.7 gal stay in the tank")
    assert page.gives.reason.property("role") == "caution"
    assert page.charge.figure.text() == "38.0 psi"
    assert "proven dead" in page.charge.reason.text()
    over = shown(qtbot, **OVER)
    assert over.gives.figure.text() == "8.2 of 13.0 gal: −37 %"
    assert "the taps falter 1.3 s in each cycle" in over.gives.reason.text()


def test_a_precharge_by_the_rule_is_compared_with_nothing(qtbot: QtBot) -> None:
    page = shown(qtbot, live_volume="44 gal")
    assert page.gives.figure.text() == "13.0 gal"
    assert page.gives.reason.property("role") == "muted"
    assert any("yours, as recommended" in text for text in page.plot.texts())
    assert not page.plot._own.isVisible()
    bare = shown(qtbot, live_volume="44 gal", precharge_rule="cut_in")
    assert bare.gives.reason.property("role") == "caution"  # the pump's start empties it


def test_the_table_holds_the_figures_of_the_study(qtbot: QtBot) -> None:
    for display in (Display(), METRIC):
        page = shown(qtbot, display, **OVER)
        table = page.table.texts()
        wanted = rows(shift_of(page), display)
        assert [line[0] for line in table[1:]] == [name for name, _, _ in wanted]
        for line, (_, at, _) in zip(table[1:], wanted, strict=True):
            assert line[1] == display.number(at.precharge, PRESSURE)
            assert line[2] == display.number(at.drawdown, VOLUME)
            assert line[4] == display.number(at.left, VOLUME)
        own = next(line for line in table if line[0] == "yours")
        assert own[6] == f"1{display.mark}3 s, 0{display.mark}8 s dry"


def test_what_each_step_costs_and_rests_on_is_told(qtbot: QtBot) -> None:
    page = shown(qtbot, live_volume="44 gal", daily_use="260 gal/d")
    told = dict(page.facts.rows())
    assert told["Each step below the recommended"].startswith("−0.30 gal and +0.5 starts a day")
    assert told["Each step above cut-in"].endswith("for each psi, and taps that falter")
    assert told["Greatest drawdown"].startswith("13.6 gal at 30.0 psi")
    assert told["Starts a day"].startswith("20 at most, from a use of 260 gal/d")
    assert told["Membrane"] == (
        "at cut-out water fills 34 % of the tank; its acceptance is not known"
    )
    assert told["Taps falter"].startswith("The seconds rest on what the pipes give")
    limited = shown(qtbot)  # a tank of the catalogue, whose acceptance is known
    assert "of its acceptance. Below " in dict(limited.facts.rows())["Membrane"]
    low = shown(qtbot, live_volume="44 gal", cut_in="2.5 psi", cut_out="20 psi")
    assert "Each step below the recommended" not in dict(low.facts.rows())


def test_typing_a_precharge_shows_at_once_and_is_undone(qtbot: QtBot) -> None:
    page = shown(qtbot, **OVER)
    before = page.gives.figure.text()
    type_over(page, "precharge", "45")
    assert shift_of(page).today.precharge == pytest.approx(45 * 6894.757293168361)
    assert page.gives.figure.text() != before
    page.store.undo_stack.undo()
    assert page.gives.figure.text() == before


def test_the_precharge_is_asked_for_only_where_it_is_typed(qtbot: QtBot) -> None:
    page = shown(qtbot, live_volume="44 gal")
    field = page.inputs.rows["precharge"].field
    assert not field.isVisible()
    page.store.edit({"precharge_rule": PrechargeRule.TYPED}, "x")
    assert field.isVisible()
    assert not page.inputs.rows["first_tank"].field.isEnabled()
    page.store.edit({"live_volume": None}, "x")
    assert page.inputs.rows["first_tank"].field.isEnabled()


def test_the_plot_shows_the_numbers_of_the_study_in_both_systems(qtbot: QtBot) -> None:
    for display in (Display(), METRIC):
        page = shown(qtbot, display, **OVER)
        plot, found = page.plot, shift_of(page)
        x, y = plot._curve.getData()
        assert np.allclose(x, display.value(found.over, PRESSURE))
        assert np.allclose(y, display.value(found.curve, VOLUME))
        assert np.allclose(plot._left.getData()[1], display.value(found.left, VOLUME))
        for marks, at in ((plot._right, found.recommended), (plot._own, found.today)):
            spot = np.column_stack(marks.getData())[0]
            assert spot[0] == pytest.approx(display.value(at.precharge, PRESSURE))
            assert spot[1] == pytest.approx(display.value(at.drawdown, VOLUME))
        assert plot._own_line.value() == pytest.approx(
            display.value(found.today.precharge, PRESSURE)
        )
        shaded = plot.shaded()
        cut_in = display.value(found.setting.cut_in, PRESSURE)
        assert shaded[Region.RIGHT] == pytest.approx(
            (display.value(found.lowest_right, PRESSURE), cut_in)
        )
        assert shaded[Region.OVER][0] == pytest.approx(cut_in)
        told = plot.texts()
        for name in ("undercharged", "right", "overcharged", "left in the tank at cut-in"):
            assert name in told
        own = f"yours {display.text(found.today.precharge, PRESSURE)}"
        assert any(text.startswith(own) for text in told)


def test_patterns_tell_the_regions_without_colour(qtbot: QtBot) -> None:
    page = shown(qtbot, **OVER)
    plot = page.plot
    styles = {region: shade.brush().style() for region, shade in plot._shades.items()}
    assert len(set(styles.values())) == 3
    low = shown(qtbot, live_volume="44 gal", cut_in="4 psi", cut_out="24 psi")
    assert Region.UNDER not in low.plot.shaded()  # five psi below it there is nothing
    assert "undercharged" not in low.plot.texts()


def test_labels_of_the_marks_do_not_lie_on_each_other(qtbot: QtBot) -> None:
    page = shown(qtbot, live_volume="44 gal", precharge_rule="typed", precharge="28 psi")
    for charge in range(0, 60, 3):
        page.store.edit({"precharge": parse(f"{charge} psi", PRESSURE)}, "x")
        plot = page.plot
        marks = [rect for rect, text in zip(plot._taken, plot.texts(), strict=True)
                 if text.startswith(("yours", "recommended"))]  # fmt: skip
        assert not (len(marks) == 2 and marks[0].intersects(marks[1])), charge


def test_a_precharge_far_away_is_told_not_drawn(qtbot: QtBot) -> None:
    page = shown(qtbot, **(OVER | {"precharge": "200 psi"}))
    assert any("beyond this picture" in text for text in page.plot.texts())
    assert not page.plot._own_line.isVisible()


def test_the_plot_is_read_by_keys(qtbot: QtBot) -> None:
    page = shown(qtbot, METRIC, **OVER)
    plot = page.plot
    plot.setFocus()
    QTest.keyClick(plot, Qt.Key.Key_Home)
    assert page.picture.reading.text().startswith("At 0 kPa, undercharged — drawdown")
    for _ in range(13):
        QTest.keyClick(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    text = page.picture.reading.text()
    assert "overcharged" in text
    assert "taps falter: 1," in text
    assert text == plot.accessibleDescription()


def test_without_a_tank_the_page_says_what_is_missing(qtbot: QtBot) -> None:
    page = shown(qtbot, catalog=False)
    assert page.gives.figure.text() == "—"
    assert "open a catalogue, or type a total volume" in page.gives.reason.text()
    assert not page.table.isVisible()
    gone = shown(qtbot, first_tank="elsewhere")
    assert gone.gives.reason.text() == "Mend first: Tank."
