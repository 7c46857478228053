"""Marking: right within the tolerance, an error by its name, and honest about the rest."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.study.build import COMMA, GAL, GPM, METRIC, PSI, US
from workbench.study.exercises.exercise import (
    Exercise,
    Figure,
    HuntAnswer,
    Option,
    Pick,
    Topic,
)
from workbench.study.exercises.making import make
from workbench.study.exercises.marking import is_right, mark, right_answer, slip_of
from workbench.study.exercises.slip import Slip
from workbench.units import (
    DAILY,
    FLOW,
    HEAD,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    VOLUME,
    Display,
    Kind,
)

RIGHT = Figure(
    PRESSURE,
    "psi",
    38.0 * PSI,
    0.5 * PSI,
    ((Slip.PRECHARGE_ABOVE, 42.0 * PSI), (Slip.OLD_PRECHARGE, 28.0 * PSI)),
    "within 0.5 psi",
)


def asked(ask: Figure | Pick, display: Display = US) -> Exercise:
    return Exercise(
        Topic.PRECHARGE, "made", 1, 1, display, "Title", "Story.", (), "Question?", ask, ()
    )


def figure(kind: Kind, right: float, display: Display = US) -> Exercise:
    unit = display.unit(kind)
    wanted = right * unit.factor
    return asked(Figure(kind, unit.symbol, wanted, 0.02 * wanted, (), "within 2 %"), display)


# --- the edges ---


@pytest.mark.parametrize("answer", [37.5, 38.0, 38.5, 37.51, 38.49])
def test_an_answer_on_the_edge_of_the_tolerance_is_right(answer: float) -> None:
    marked = mark(asked(RIGHT), answer * PSI)
    assert marked.right
    assert marked.slip is None
    assert "within 0.5 psi" in marked.words


@pytest.mark.parametrize("answer", [37.49, 38.51, -38.0, 0.0])
def test_an_answer_beyond_it_is_not(answer: float) -> None:
    assert not mark(asked(RIGHT), answer * PSI).right


@pytest.mark.parametrize("answer", [41.5, 42.0, 42.5])
def test_an_error_is_named_within_the_same_tolerance(answer: float) -> None:
    marked = mark(asked(RIGHT), answer * PSI)
    assert marked.slip is Slip.PRECHARGE_ABOVE
    assert "precharge above cut-in" in marked.words
    assert "cut-in" in marked.remedy


@pytest.mark.parametrize("answer", [41.49, 42.51, 28.6, 33.0])
def test_what_is_no_known_error_is_not_called_one(answer: float) -> None:
    marked = mark(asked(RIGHT), answer * PSI)
    assert not marked.right
    assert marked.slip is None
    assert "none of the usual errors" in marked.words


# --- any number ---


@given(st.sampled_from(range(60)), st.floats(-1.0, 1.0))
@settings(max_examples=150, deadline=None)
def test_whatever_lies_within_the_tolerance_is_right(seed: int, share: float) -> None:
    exercise = make((Topic.TANK, Topic.PRECHARGE)[seed % 2], seed, 1, US)
    assume(isinstance(exercise.ask, Figure))
    ask = exercise.ask
    assert isinstance(ask, Figure)
    assert mark(exercise, ask.right + share * ask.tolerance).right


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_nearer_is_never_worse(one: float, other: float) -> None:
    near, far = sorted((one * PSI, other * PSI), key=lambda value: abs(value - RIGHT.right))
    assert is_right(RIGHT, near) or not is_right(RIGHT, far)


@given(st.floats(allow_nan=False, allow_infinity=False, width=32))
def test_any_number_gets_an_answer_in_words(answer: float) -> None:
    for display in (US, METRIC, COMMA):
        marked = mark(asked(RIGHT, display), answer)
        assert marked.words
        assert marked.right or marked.remedy
        assert marked.right == is_right(RIGHT, answer)
        assert not (marked.right and slip_of(RIGHT, answer))
        assert not set("{}") & set(marked.words + marked.remedy)
        assert "nan" not in marked.words


# --- what is said of an answer that is no error we know ---


@pytest.mark.parametrize(
    ("kind", "right", "answer", "check"),
    [
        (PRESSURE, 38.0, 38.0 / 14.504, "bar and psi"),
        (PRESSURE, 38.0, 38.0 * 6.895, "kPa and psi"),
        (PRESSURE, 38.0, 38.0 * 2.31, "feet of water"),
        (VOLUME, 11.3, 11.3 * 3.785, "gallons and litres"),
        (VOLUME, 11.3, 11.3 / 1.201, "Imperial"),
        (FLOW, 10.0, 37.85, "gallons and litres"),
        (FLOW, 10.0, 600.0, "sixty times"),
        (DAILY, 160.0, 160.0 / 1440, "1440"),
        (HEAD, 230.0, 230.0 / 3.281, "feet and metres"),
        (SHORT_TIME, 68.0, 68.0 / 60, "sixty times"),
        (STARTS_PER_HOUR, 13.0, 13.0 * 24, "hours and days"),
        (STARTS_PER_DAY, 30.0, 1800.0, "sixty times"),
        (PERCENT, 34.0, 0.34, "percent"),
        (VOLUME, 11.3, 113.0, "ten times"),
        (VOLUME, 11.3, 1.13, "ten times"),
        (VOLUME, 11.3, 1130.0, "hundred times"),
    ],
)
def test_a_mixed_unit_is_suspected(kind: Kind, right: float, answer: float, check: str) -> None:
    exercise = figure(kind, right)
    marked = mark(exercise, answer * US.unit(kind).factor)
    assert not marked.right
    assert marked.slip is None
    assert check in marked.remedy


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (12.43, "10 % too much"),
        (10.17, "10 % too little"),
        (24.86, "120 % too much"),
        (11.3 * 50, "50 times too much"),
        (11.3 / 50, "50 times too little"),
        (-11.3, "sign"),
        (0.0, "sign"),
    ],
)
def test_how_far_off_and_in_which_direction_is_said(answer: float, said: str) -> None:
    assert said in mark(figure(VOLUME, 11.3), answer * GAL).words


def test_an_answer_just_beside_the_tolerance_is_told_that_it_is_near() -> None:
    marked = mark(figure(VOLUME, 11.3), 11.3 * 1.03 * GAL)
    assert "near" in marked.remedy
    assert "3 % too much" in marked.words


def test_with_a_decimal_comma_the_words_have_one_too() -> None:
    marked = mark(figure(VOLUME, 42.0, COMMA), 42.0e-3 * 1.045)
    assert "4,5 % too much" in marked.words


# --- picks, and answers of another sort ---


def test_a_pick_is_marked_by_its_option() -> None:
    pick = Pick(
        (
            Option("no", right=False, slip=Slip.TANK_REPLACED, why="It was dry."),
            Option("yes", right=True, slip=None, why="Because."),
        )
    )
    wrong, right = (mark(asked(pick), place) for place in (0, 1))
    assert (wrong.right, wrong.slip) == (False, Slip.TANK_REPLACED)
    assert "It was dry." in wrong.words
    assert wrong.remedy
    assert (right.right, right.slip, right.remedy) == (True, None, "")
    assert right_answer(asked(pick)) == "yes"


def test_an_answer_of_another_sort_is_refused() -> None:
    pick = asked(Pick((Option("yes", right=True, slip=None, why="Because."),)))
    for place in (1, -1, 0.5):
        with pytest.raises(ValueError, match="pick"):
            mark(pick, place)
    for answer in (math.nan, math.inf):
        with pytest.raises(ValueError, match="finite"):
            mark(asked(RIGHT), answer)
    from workbench.job.teach_choices import Fault

    for exercise in (pick, asked(RIGHT)):
        with pytest.raises(TypeError):
            mark(exercise, HuntAnswer(Fault.NONE, ()))
        with pytest.raises(TypeError):
            mark(exercise, True)


def test_the_right_answer_reads_in_the_units_of_the_exercise() -> None:
    assert right_answer(asked(RIGHT)) == "38.0 psi"
    assert right_answer(figure(FLOW, 9.6)) == "9.6 gpm"
    litres = figure(VOLUME, 71.3, COMMA)
    assert right_answer(litres) == "71,3 L"
    assert right_answer(litres).endswith(" L")
    assert mark(figure(FLOW, 9.6), 9.6 * GPM).right


def test_two_errors_are_never_taken_for_each_other() -> None:
    for topic in (Topic.PRECHARGE, Topic.TANK, Topic.READINGS, Topic.COMPLAINT):
        for seed in range(40):
            ask = make(topic, seed, seed + 1, METRIC).ask
            if isinstance(ask, Figure):
                for slip, value in ask.slips:
                    assert slip_of(ask, value) is slip
                    assert slip_of(ask, ask.right) is None
