"""Hidden faults: the readings are those of the physics, and the cheapest set really tells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.study.build import COMMA, US
from workbench.job.teach_choices import Degree, Fault, faults
from workbench.study.exercises import hunt_rigs
from workbench.study.exercises.cases import Span, cheapest_set, hidden_sizes
from workbench.study.exercises.exercise import Exercise, Hunt, HuntAnswer, Topic
from workbench.study.exercises.hunting import excluded_by, kind_of, possible, would_tell
from workbench.study.exercises.making import make
from workbench.study.exercises.marking import mark, right_answer
from workbench.study.exercises.slip import Slip
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import reading_of, readings, take
from workbench.study.live.rig import Rig
from workbench.units import System


@cache
def hunts() -> tuple[tuple[Exercise, Hunt], ...]:
    made = [
        make(Topic.FAULT, seed, 1 + seed % 7, display)
        for display in (US, COMMA)
        for seed in range(1000, 1150)
    ]
    return tuple((one, one.ask) for one in made if isinstance(one.ask, Hunt))


def keys(hunt: Hunt) -> tuple[str, ...]:
    return tuple(one.key for one in hunt.offered)


def wrong_faults(hunt: Hunt) -> Iterator[Fault]:
    return (fault for fault in hunt.suspects if fault is not hunt.fault)


# --- what is hidden, and what is read ---


def test_every_fault_is_hidden_sooner_or_later_in_every_degree_it_can_have() -> None:
    seen = {(hunt.fault, hunt.degree) for _, hunt in hunts()}
    assert {fault for fault, _ in seen} == set(Fault)
    assert seen <= set(hidden_sizes())
    assert {degree for _, degree in seen} == set(Degree)


def test_every_reading_lies_within_its_tolerance_of_what_the_rig_shows() -> None:
    for exercise, hunt in hunts()[::3]:
        for one in hunt.offered:
            true = take(hunt.rig, reading_of(one.key), hunt.tap, hunt_rigs.tolerances())
            assert one.tolerance == true.tolerance
            if true.value is None or one.value is None:
                assert one.value is None
                assert true.value is None
                continue
            kind = kind_of(one.key)
            if kind is None:
                assert one.value == float(true.value)
                continue
            unit = exercise.display.unit(kind)
            rounding = 0.5 * 10.0**-unit.decimals * unit.factor
            slack = 2.0 if one.key == "flow" else 1.0  # worked out of two readings
            assert abs(one.value - float(true.value)) <= slack * true.tolerance + 1.001 * rounding
            assert one.value >= 0.0


def test_readings_are_not_all_without_error() -> None:
    """Errors go both ways and reach over most of the tolerance."""
    errors = []
    for _, hunt in hunts():
        for one in hunt.offered:
            if one.key in {"cut_out", "precharge", "drained"} and one.value:
                true = take(hunt.rig, reading_of(one.key), hunt.tap, hunt_rigs.tolerances())
                errors.append((one.value - float(true.value or 0.0)) / one.tolerance)
    assert min(errors) < -0.8
    assert max(errors) > 0.8
    assert abs(sum(errors) / len(errors)) < 0.15


def test_the_flow_read_is_what_was_drained_over_the_time_to_refill() -> None:
    for exercise, hunt in hunts():
        read = {one.key: one.value for one in hunt.offered}
        if all(read.get(key) for key in ("flow", "drained", "refill")):
            kind = kind_of("flow")
            assert kind is not None
            unit = exercise.display.unit(kind)
            shown = round(read["drained"] / read["refill"] / unit.factor, unit.decimals)  # type: ignore[operator]
            assert read["flow"] == pytest.approx(shown * unit.factor)


def test_what_is_judged_is_what_is_shown() -> None:
    for exercise, hunt in hunts():
        for one in hunt.offered:
            kind = kind_of(one.key)
            if kind is not None and one.value is not None:
                assert one.shown == exercise.display.text(one.value, kind)
                number = one.shown.split()[0].replace(",", ".")
                back = (float(number)) * exercise.display.unit(kind).factor
                assert back == pytest.approx(one.value, rel=1e-9, abs=1e-12)


def test_a_fault_that_is_there_is_never_spoken_against() -> None:
    for _, hunt in hunts():
        assert hunt.fault in possible(hunt, keys(hunt))
        assert hunt.fault in hunt.suspects


# --- the cheapest set ---


def test_the_cheapest_set_tells_and_nothing_can_be_left_out_of_it() -> None:
    for _, hunt in hunts():
        assert hunt.cheapest
        assert set(hunt.cheapest) <= set(keys(hunt))
        assert possible(hunt, hunt.cheapest) == (hunt.fault,)
        for key in hunt.cheapest:
            rest = [other for other in hunt.cheapest if other != key]
            assert len(possible(hunt, rest)) > 1


def test_no_other_set_tells_in_fewer_minutes() -> None:
    """Every set of readings that costs less is tried."""
    for _, hunt in hunts()[::12]:
        excludes = excluded_by(hunt.offered)
        others = [case for case in hunt.cases if case.fault is not hunt.fault]
        masks = [
            sum(1 << i for i, case in enumerate(others) if excludes(key, case))
            for key in keys(hunt)
        ]
        minutes = [one.minutes for one in hunt.offered]
        everything, least = (1 << len(others)) - 1, hunt.minutes(hunt.cheapest)
        for size in range(len(masks) + 1):
            for chosen in combinations(range(len(masks)), size):
                if sum(minutes[i] for i in chosen) < least:
                    covered = 0
                    for i in chosen:
                        covered |= masks[i]
                    assert covered != everything


def test_the_hidden_fault_is_seen_beside_the_sound_rig() -> None:
    """Some reading of the cheapest set, as read, is further from health than its tolerance."""
    for _, hunt in hunts():
        if hunt.fault is Fault.NONE:
            continue
        sound = _sound(hunt)
        assert any(_is_off(sound, hunt, key) for key in hunt.cheapest)


def _sound(hunt: Hunt) -> Rig:
    every = (hunt_rigs.sound_rig(u, i) for u in System for i in range(hunt_rigs.COUNT))
    return next(rig for rig, tap in every if rig.setting == hunt.rig.setting and tap == hunt.tap)


def _is_off(sound: Rig, hunt: Hunt, key: str) -> bool:
    healthy = take(sound, reading_of(key), hunt.tap, hunt_rigs.tolerances()).value
    read = hunt.reading(key)
    if healthy is None or read.value is None:
        return (healthy is None) != (read.value is None)
    return abs(read.value - float(healthy)) > read.tolerance


def test_a_size_between_two_of_the_chain_is_not_spoken_against() -> None:
    """A fault of any size fits its own readings, though only some sizes are worked out."""
    rig, tap = hunt_rigs.sound_rig(System.US, 1)
    cases = hunt_rigs.cases(System.US, 1)
    for fault, degree, share in (
        (Fault.LOST_CHARGE, Degree.SEVERE, 0.37),
        (Fault.AIR_LEAK, Degree.SEVERE, 0.55),
        (Fault.PINHOLE, Degree.SEVERE, 0.42),
        (Fault.CHECK_VALVE, Degree.SEVERE, 0.6),
        (Fault.WORN_PUMP, Degree.SEVERE, 0.66),
        (Fault.PLUGGED_NIPPLE, Degree.CLEAR, 0.8),
        (Fault.OLD_PRECHARGE, Degree.CLEAR, 0.85),
        (Fault.SWITCH_DRIFT, Degree.SEVERE, 0.7),
    ):
        faulty = with_fault(rig, fault, degree, share)
        true = {one.key: take(faulty, one, tap, hunt_rigs.tolerances()) for one in readings()}
        mine = [case for case in cases if case.fault is fault]

        def fits(key: str, mine: Sequence[object] = mine, true: object = true) -> bool:
            taken = true[key]  # type: ignore[index]
            value = None if taken.value is None else float(taken.value)
            return any(not case.spans[key].excludes(value, taken.tolerance) for case in mine)  # type: ignore[attr-defined]

        missed = [key for key in true if not fits(key)]
        assert not missed, (fault, missed)


def test_a_span_excludes_what_lies_outside_by_more_than_the_tolerance() -> None:
    span = Span(10.0, 20.0, lacks=False)
    assert not span.excludes(10.0, 0.0)
    assert not span.excludes(9.0, 1.0)
    assert span.excludes(8.0, 1.0)  # 2/√3 is 1.15
    assert span.excludes(22.0, 1.0)
    assert span.excludes(None, 1.0)
    assert not Span(10.0, 20.0, lacks=True).excludes(None, 1.0)
    assert not Span(10.0, 10.0, lacks=True).excludes(15.0, 1.0)
    assert Span(None, None, lacks=True).excludes(15.0, 1.0)


@given(st.integers(0, 2**12 - 1), st.sampled_from(range(40)))
@settings(max_examples=60, deadline=None)
def test_more_readings_never_make_more_faults_possible(mask: int, index: int) -> None:
    _, hunt = hunts()[index]
    chosen = [key for i, key in enumerate(keys(hunt)) if mask >> i & 1]
    fewer = chosen[: len(chosen) // 2]
    assert set(possible(hunt, chosen)) <= set(possible(hunt, fewer))


# --- marking ---


def test_the_fault_named_with_the_cheapest_readings_is_right() -> None:
    for exercise, hunt in hunts():
        marked = mark(exercise, HuntAnswer(hunt.fault, hunt.cheapest))
        assert marked.right
        assert marked.slip is None
        assert marked.minutes == hunt.minutes(hunt.cheapest)
        assert "none could be quicker" in marked.words
        assert faults()[hunt.fault].label in right_answer(exercise)


def test_more_minutes_than_needed_are_told() -> None:
    for exercise, hunt in hunts():
        marked = mark(exercise, HuntAnswer(hunt.fault, keys(hunt)))
        assert marked.right
        assert marked.slip is None
        assert marked.minutes == hunt.minutes(keys(hunt))
        assert "are enough" in marked.words
        assert all(hunt.reading(key).name in marked.words for key in hunt.cheapest)


def test_a_lucky_guess_is_told_with_what_would_have_told() -> None:
    for exercise, hunt in hunts():
        marked = mark(exercise, HuntAnswer(hunt.fault, ()))
        assert marked.right
        assert marked.slip is Slip.GUESSED
        assert marked.minutes == 0.0
        assert all(f"“{faults()[fault].label}”" in marked.words for fault in wrong_faults(hunt))
        assert all(hunt.reading(key).name in marked.remedy for key in hunt.cheapest)
        one = (hunt.cheapest[0],)
        more = would_tell(hunt, one)
        assert possible(hunt, (*one, *more)) == (hunt.fault,)


def test_a_wrong_fault_is_told_the_reading_that_speaks_against_it() -> None:
    for exercise, hunt in hunts()[::2]:
        for fault in wrong_faults(hunt):
            marked = mark(exercise, HuntAnswer(fault, hunt.cheapest))
            assert not marked.right
            assert marked.slip is Slip.CONTRADICTED
            assert marked.remedy
            assert faults()[fault].label in marked.words
            named = [key for key in hunt.cheapest if hunt.reading(key).name in marked.words]
            assert named
            assert all(hunt.reading(key).shown in marked.words for key in named)
            assert fault not in possible(hunt, named)


def test_a_wrong_fault_without_readings_is_told_the_one_that_would_have_spoken() -> None:
    for exercise, hunt in hunts()[::2]:
        for fault in wrong_faults(hunt):
            marked = mark(exercise, HuntAnswer(fault, ()))
            assert not marked.right
            assert marked.slip is Slip.NOT_READ
            named = [key for key in keys(hunt) if hunt.reading(key).name in marked.words]
            assert fault not in possible(hunt, named)


def test_a_reading_taken_twice_costs_once() -> None:
    exercise, hunt = hunts()[0]
    twice = HuntAnswer(hunt.fault, (*hunt.cheapest, *hunt.cheapest))
    assert mark(exercise, twice).minutes == hunt.minutes(hunt.cheapest)


def test_an_answer_that_is_none_of_the_choices_is_refused() -> None:
    exercise, hunt = hunts()[0]
    with pytest.raises(ValueError, match="no such"):
        mark(exercise, HuntAnswer(hunt.fault, ("thumb",)))
    with pytest.raises(TypeError):
        mark(exercise, 1.0)


def test_no_set_is_named_where_none_tells() -> None:
    _, hunt = hunts()[0]
    assert cheapest_set(hunt.cases, hunt.fault, {}, excluded_by(hunt.offered)) is None


def test_words_of_hunts_are_whole() -> None:
    for exercise, hunt in hunts()[::2]:
        answers = [
            HuntAnswer(fault, taken) for fault in hunt.suspects for taken in ((), keys(hunt))
        ]
        for answer in answers:
            marked = mark(exercise, answer)
            for text in (marked.words, marked.remedy):
                assert not set("{}") & set(text)
                assert "None" not in text
                assert "nan" not in text.split()
            if exercise.display is COMMA:
                assert not [word for word in marked.words.split() if _has_point(word)]


def _has_point(word: str) -> bool:
    return any(
        a.isdigit() and b == "." and c.isdigit()
        for a, b, c in zip(word, word[1:], word[2:], strict=False)
    )
