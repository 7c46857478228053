"""Exercises: the same for ever, complete, solvable from what is given, and never two alike."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.study.build import COMMA, METRIC, PSI, US, job
from workbench.study.exercises.exercise import Exercise, Figure, Hunt, Pick, Topic, topics
from workbench.study.exercises.making import MOST, SORTS, exercise_set, make
from workbench.study.exercises.marking import mark, right_answer
from workbench.study.exercises.neat import Neat, places
from workbench.study.exercises.remedy import remedies
from workbench.study.exercises.slip import Slip, slips
from workbench.study.findings import Level
from workbench.units import Display, System, parse
from workbench.units.kinds import NUMBER
from workbench.units.reading import Unread

GOLDEN = Path(__file__).parent / "golden" / "exercises.json"
SEEDS = range(300, 600)
GAUGE_TO_ABSOLUTE = 14.696  # psi at sea level
STARTED_HUNTS = {Slip.NOT_READ, Slip.CONTRADICTED, Slip.GUESSED}


@cache
def many(topic: Topic) -> tuple[Exercise, ...]:
    """Three hundred seeds, US and metric with a decimal comma in turn."""
    return tuple(make(topic, seed, 1 + seed % 23, (US, COMMA)[seed % 2]) for seed in SEEDS)


def everything() -> Iterator[Exercise]:
    for topic in Topic:
        yield from many(topic)


def figures() -> Iterator[tuple[Exercise, Figure]]:
    for exercise in everything():
        if isinstance(exercise.ask, Figure):
            yield exercise, exercise.ask


def texts(exercise: Exercise) -> list[str]:
    """All that a class reads of it."""
    found = [exercise.title, exercise.story, exercise.question]
    found += [text for row in exercise.given for text in row]
    if isinstance(exercise.ask, Pick):
        found += [text for option in exercise.ask.options for text in (option.text, option.why)]
    elif isinstance(exercise.ask, Figure):
        found.append(exercise.ask.within)
    else:
        found += [t for o in exercise.ask.offered for t in (o.name, o.tool, o.how, o.shown)]
    return found


def printed(exercise: Exercise) -> dict[str, Any]:
    """Everything in it, to be compared."""
    ask = exercise.ask
    asked: Any
    if isinstance(ask, Figure):
        asked = [ask.right, ask.tolerance, ask.within, [(s.value, v) for s, v in ask.slips]]
    elif isinstance(ask, Pick):
        asked = [[o.text, o.right, o.slip and o.slip.value, o.why] for o in ask.options]
    else:
        shown = {one.key: one.shown for one in ask.offered}
        asked = [ask.fault.value, ask.degree.value, shown, list(ask.cheapest)]
    return {
        "title": exercise.title,
        "story": exercise.story,
        "given": [list(row) for row in exercise.given],
        "question": exercise.question,
        "ask": asked,
        "working": [str(step) for step in exercise.working],
    }


# --- the same for ever ---


@pytest.mark.parametrize("topic", Topic)
def test_the_same_seed_gives_the_same_exercise(topic: Topic) -> None:
    for made in many(topic)[::6]:
        again = make(topic, made.seed, made.number, made.display)
        assert printed(again) == printed(made)


def _rounded(value: Any) -> Any:
    """Floats to twelve digits: the last bit may differ between processors."""
    if isinstance(value, float):
        return float(f"{value:.12g}")
    if isinstance(value, list | tuple):
        return [_rounded(one) for one in value]
    if isinstance(value, dict):
        return {key: _rounded(one) for key, one in value.items()}
    return value


def golden_now() -> dict[str, Any]:
    """Each topic's exercises of seed 1, in US units and in metric ones with a comma."""
    return {
        f"{topic.value} {display.system.value} {number}": _rounded(
            printed(make(topic, 1, number, display))
        )
        for topic in Topic
        for display in (US, COMMA)
        for number in range(1, 8)
    }


def test_exercises_that_were_handed_out_stay_as_they_were() -> None:
    """A sheet in a trainer's folder must be made again as it is.

    Who rewords a text on purpose writes the file anew with ``python -m tests.study.test_exercises``
    and looks at the difference: no figure may move.
    """
    assert golden_now() == json.loads(GOLDEN.read_text(encoding="utf-8"))


@pytest.mark.parametrize("topic", Topic)
def test_the_decimal_mark_changes_no_number(topic: Topic) -> None:
    for seed in range(20):
        dot, comma = (make(topic, seed, 3, one) for one in (METRIC, COMMA))
        if isinstance(dot.ask, Figure) and isinstance(comma.ask, Figure):
            assert dot.ask.right == comma.ask.right
            assert dot.ask.slips == comma.ask.slips
        assert dot.title == comma.title


def test_a_seed_or_number_out_of_range_is_refused() -> None:
    for seed, number in ((-1, 1), (1_000_000_000, 1), (1, 0)):
        with pytest.raises(ValueError, match="seed"):
            make(Topic.TANK, seed, number, US)


# --- solvable, and marked right ---


def test_every_right_answer_is_marked_right() -> None:
    for exercise in everything():
        ask = exercise.ask
        if isinstance(ask, Hunt):
            continue  # in test_exercises_hunts.py
        answer = ask.right
        marked = mark(exercise, answer)
        assert marked.right, printed(exercise)
        assert marked.slip is None
        assert not marked.remedy
        assert right_answer(exercise)


def test_every_wrong_answer_is_told_which_error_it_is() -> None:
    for exercise in everything():
        if isinstance(exercise.ask, Pick):
            for place, option in enumerate(exercise.ask.options):
                marked = mark(exercise, place)
                assert marked.right == option.right
                assert marked.slip is option.slip
                assert option.why in marked.words
    for exercise, figure in figures():
        assert figure.slips
        for slip, value in figure.slips:
            for answer in (
                value,
                value + 0.999 * figure.tolerance,
                value - 0.999 * figure.tolerance,
            ):
                marked = mark(exercise, answer)
                assert not marked.right, (printed(exercise), slip)
                assert marked.slip is slip, (printed(exercise), slip)
                assert slips()[slip].label in marked.words
                assert marked.remedy == remedies()[slip]


def test_errors_lie_further_apart_than_two_tolerances() -> None:
    for _, figure in figures():
        values = sorted([figure.right, *(value for _, value in figure.slips)])
        assert all(b - a > 2.0 * figure.tolerance for a, b in pairwise(values))


def test_a_pick_has_one_right_answer_and_no_answer_twice() -> None:
    for exercise in everything():
        if isinstance(exercise.ask, Pick):
            options = exercise.ask.options
            assert 3 <= len(options) <= 4
            assert sum(option.right for option in options) == 1
            assert len({option.text for option in options}) == len(options)
            assert all((option.slip is None) == option.right for option in options)


def test_the_right_answer_does_not_always_stand_in_one_place() -> None:
    at = [e.ask.right for e in everything() if isinstance(e.ask, Pick)]
    assert all(at.count(place) > len(at) / 8 for place in range(3))


def test_every_error_is_made_by_some_wrong_answer_and_is_explained() -> None:
    made = {slip for _, figure in figures() for slip, _ in figure.slips}
    for exercise in everything():
        if isinstance(exercise.ask, Pick):
            made |= {option.slip for option in exercise.ask.options if option.slip}
    assert made | STARTED_HUNTS == set(Slip)
    assert set(slips()) == set(remedies()) == set(Slip)
    told = [choice for slip in slips().values() for choice in (slip.label, slip.source)]
    assert all(text.strip() for text in (*told, *remedies().values()))


# --- the figures that are given lead to the answer, by arithmetic that is not the program's ---


def _given(exercise: Exercise) -> dict[str, float]:
    """The first number of each row that has one."""
    found = {}
    for name, text in exercise.given:
        number = re.search(r"-?\d+(?:\.\d+)?", text)
        if number:
            found[name] = float(number[0])
    return found


def _band(exercise: Exercise) -> tuple[float, float]:
    text = next(text for name, text in exercise.given if name.startswith("Switch band"))
    low, high = re.findall(r"\d+", text)[:2]
    return float(low), float(high)


def _clock(text: str) -> float:
    minutes, seconds = re.match(r"(\d+):(\d\d)", text).groups()  # type: ignore[union-attr]
    return int(minutes) + int(seconds) / 60.0


def _factor(low: float, high: float, charge: float) -> float:
    pp, pin, pout = (p + GAUGE_TO_ABSOLUTE for p in (charge, low, high))
    return pp / pin - pp / pout


def _by_hand(exercise: Exercise) -> float | None:
    """The answer in the unit asked for; None where this test has no formula."""
    given, rows = _given(exercise), dict(exercise.given)
    if exercise.sort in {"total_volume", "starts", "drawdown", "plain_tank", "run_time"}:
        low, high = _band(exercise)
        factor = _factor(low, high, low - 2.0)
    if exercise.sort == "drawdown" and "imp" not in str(rows) and "Altitude" not in rows:
        return factor * given.get("Total volume", 2.0 * given.get("Total volume, each", 0.0))
    if exercise.sort == "total_volume":
        run = _clock(rows["Shortest run wanted"])
        return given["Pump, measured at the tank"] * run / factor
    if exercise.sort == "starts" and "Pump" in rows:
        return 15.0 * given["Pump"] / (factor * given["Total volume"])
    if exercise.sort == "starts":
        return 15.0 * given["Pump, measured at the tank"] / given["Most starts per hour"]
    if exercise.sort == "run_time" and "Pump, on its label" in rows:
        flow = given["Pump, measured at the tank"]
        return 60.0 * factor * given["Total volume"] / flow
    if exercise.sort == "plain_tank":
        old = given["Old plain tank"] * _factor(low, high, 0.0)
        return old / factor
    if exercise.sort == "head":
        _, high = _band(exercise)
        lift = given["Pumping water level, below the tank"]
        return lift + 2.31 * high + given["Friction in the pipe"]
    return _by_hand_outside_the_tank(exercise, given, rows)


def _by_hand_outside_the_tank(
    exercise: Exercise, given: dict[str, float], rows: dict[str, str]
) -> float | None:
    if exercise.sort == "new_tank":
        return given["Cut-in"] - 2.0
    if exercise.sort == "let_out":
        return given["Charge found, drained"] - (_band(exercise)[0] - 2.0)
    if exercise.sort == "charged_below":
        target = _band(exercise)[0] - 2.0
        return target + given["Air there, standard atmosphere"] - given["Air at sea level"]
    if exercise.sort == "charged_warm":
        warm, cold = (given[f"Air in the {place}"] + 459.67 for place in ("van", "well house"))
        target = _band(exercise)[0] - 2.0
        return (target + GAUGE_TO_ABSOLUTE) * warm / cold - GAUGE_TO_ABSOLUTE
    if exercise.sort == "pump_flow" and "imp" not in rows["Drained into buckets"]:
        return given["Drained into buckets"] / _clock(rows["From start to stop, tap shut"])
    if exercise.sort == "no_bucket":
        rest, run = _clock(rows["The pump rests"]), _clock(rows["The pump runs"])
        return given["Drawn all the time"] * (rest + run) / run
    if exercise.title == "Weak upstairs":
        low = float(re.findall(r"\d+", rows["Switch band, at the tank"])[0])
        return low - given["Tap above the gauge"] / 2.31
    return None


def test_what_is_given_suffices_to_work_out_the_answer() -> None:
    checked = set()
    for exercise, figure in figures():
        if exercise.display is not US:
            continue
        answer = _by_hand(exercise)
        if answer is None:
            continue
        checked.add(exercise.title)
        right = US.value(figure.right, figure.kind)
        tolerance = figure.tolerance / US.unit(figure.kind).factor
        assert answer == pytest.approx(right, abs=0.35 * tolerance), printed(exercise)
    assert len(checked) >= 14


def test_the_published_sizes_of_the_errors_come_out() -> None:
    """28 psi left on 40/60 costs 19 % of the drawdown; gauge numbers make 31.7 % of 25.8 %."""
    from workbench.study.exercises import sums

    neat = Neat(US, "")
    band = (40.0 * PSI, 60.0 * PSI)
    right, old = sums.setting(neat, band), sums.setting(neat, band, 28.0 * PSI)
    assert sums.factor(right) == pytest.approx(0.258, abs=5e-4)
    assert sums.factor(sums.by_gauge(right)) == pytest.approx(0.3167, abs=5e-4)
    assert 1.0 - sums.factor(old) / sums.factor(right) == pytest.approx(0.19, abs=5e-3)


# --- texts ---


def test_no_text_is_broken() -> None:
    bad = re.compile(r"[{}]|\bnan\b|\binf\b|\bNone\b|  |Slip\.|Fault\.|-0\b|\d\.\d{5}")
    for exercise in everything():
        for text in (*texts(exercise), exercise.caution):
            assert not bad.search(text), (text, printed(exercise))
        assert all(text.strip() for text in texts(exercise)), printed(exercise)
        assert exercise.question.endswith("?")
        assert exercise.story.endswith((".", "”")), exercise.story
        assert 1 <= len(exercise.given) <= 14
        assert exercise.working
        for step in exercise.working:
            parts = (step.title, step.formula, step.numbers, step.source)
            assert all(part.strip() and not bad.search(part) for part in parts), step


def test_units_are_those_that_are_shown() -> None:
    us = re.compile(r"\d (?:kPa|L|L/min|m|°C)\b")
    metric = re.compile(r"\d (?:psi|gal|gpm|ft|°F)\b")
    allowed = re.compile(r"about 2 psi|imp gal")
    for exercise in everything():
        foreign = us if exercise.display.system is System.US else metric
        for text in texts(exercise):
            assert not foreign.search(allowed.sub("", text)), text


def test_with_a_decimal_comma_no_number_has_a_point() -> None:
    point = re.compile(r"\d\.\d")
    for exercise in everything():
        if exercise.display.mark == ",":
            shown = [*texts(exercise), *(step.numbers for step in exercise.working)]
            assert not [text for text in shown if point.search(text)]


def test_given_numbers_are_round() -> None:
    """What a class types into a pocket calculator has four digits at most."""
    long = re.compile(r"\d[.,]\d{3,}|\d{5,}")
    for exercise in everything():
        assert not [text for _, text in exercise.given if long.search(text)], exercise.given


def test_whoever_is_told_to_do_something_at_a_tank_is_warned() -> None:
    for exercise in everything():
        if exercise.topic in {Topic.PRECHARGE, Topic.FAULT} and exercise.sort not in {
            "lost_drawdown",
            "what_fits",
        }:
            assert "locked out" in exercise.caution, exercise.sort


def test_every_topic_has_a_name() -> None:
    assert set(topics()) == set(Topic)
    assert all(choice.label and choice.source for choice in topics().values())


# --- a set ---


@pytest.mark.parametrize("display", [US, COMMA], ids=["us", "metric"])
@pytest.mark.parametrize("chosen", [*Topic, None], ids=str)
def test_no_two_of_forty_are_alike(chosen: Topic | None, display: Display) -> None:
    ticked = {f"topic_{topic.value}": chosen in {topic, None} for topic in Topic}
    for seed in ("1", "77"):
        made = exercise_set(job(exercise_seed=seed, exercise_count="40", **ticked), display)
        assert not made.findings
        assert [one.number for one in made.exercises] == list(range(1, 41))
        seen = {(one.story, one.given, one.question) for one in made.exercises}
        assert len(seen) == 40
        figures_given = [(e.title, e.given) for e in made.exercises if e.topic is not Topic.FAULT]
        assert len({str(given) for given in figures_given}) >= 0.8 * len(figures_given)


@pytest.mark.parametrize("topic", Topic)
def test_ten_in_a_row_do_not_bore(topic: Topic) -> None:
    for seed in range(5):
        made = [make(topic, seed, number, US) for number in range(1, 11)]
        assert len({one.sort for one in made}) >= 7
        assert all(a.sort != b.sort for a, b in pairwise(made))


@pytest.mark.parametrize("count", range(1, 6))
def test_a_set_of_some_topics_meets_every_sort_of_each(count: int) -> None:
    """The number of sorts shares no divisor with the number of topics, nor with the places."""
    for topic in Topic:
        sorts = len(SORTS[topic])
        assert len({(1 + count * step) % sorts for step in range(sorts)}) == sorts
        assert len(places()) % sorts
    assert len(set(places())) == len(places()) == 17


def test_topics_come_in_turn() -> None:
    wanted = job(topic_fault=False, topic_tank=False, exercise_count="7")
    made = exercise_set(wanted, US).exercises
    three = [Topic.PRECHARGE, Topic.READINGS, Topic.COMPLAINT]
    assert [one.topic for one in made] == (three * 3)[:7]


def findings(**entries: Any) -> list[tuple[str, str]]:
    made = exercise_set(job(**entries), US)
    assert not made.exercises
    assert all(one.level is Level.STOP and one.text and one.remedy for one in made.findings)
    return [(one.code, one.field) for one in made.findings]


def test_what_stands_in_the_way_of_a_set_is_told() -> None:
    none = {f"topic_{topic.value}": False for topic in Topic}
    assert findings(**none) == [("no_topic", "topic_precharge")]
    for wrong in ("-1", "1.5", "1000000000"):
        assert findings(exercise_seed=wrong) == [("seed_range", "exercise_seed")]
    for wrong in ("0", "2.5", str(MOST + 1)):
        assert findings(exercise_count=wrong) == [("count_range", "exercise_count")]
    unread = Unread("ten", "why", "remedy")
    assert findings(exercise_count=unread) == [("unread", "exercise_count")]


def test_a_new_job_has_a_set() -> None:
    made = exercise_set(job(), US)
    assert len(made.exercises) == 10
    assert {one.topic for one in made.exercises} == set(Topic)
    assert parse("1", NUMBER) == job().exercise_seed


if __name__ == "__main__":
    text = json.dumps(golden_now(), ensure_ascii=False, indent=1)
    GOLDEN.write_text(f"{text}\n", encoding="utf-8")
