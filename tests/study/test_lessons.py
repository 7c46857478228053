"""The lessons that come with the program: each can be read, reached, and tells the truth."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from workbench import paths
from workbench.job.job import Job
from workbench.physics.motion import Happening
from workbench.study.evaluate import evaluate
from workbench.study.lessons import shelf
from workbench.study.lessons.figures import Ground, figures, spoken
from workbench.study.lessons.goals import HAPPENINGS, SEEN, Seen, parse_goal
from workbench.study.lessons.model import Lesson, Screen
from workbench.study.lessons.reading import lesson_from, read_lesson
from workbench.study.live.recording import Recording
from workbench.units import (
    FLOW,
    NUMBER,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_HOUR,
    VOLUME,
    Display,
    System,
    parse,
)

PSI, GAL, GPM = 6894.757293168361, 3.785411784e-3, 3.785411784e-3 / 60
DISPLAYS = (Display(), Display(System.METRIC, ","))
FOLDER = paths.resources() / "lessons" / "en"
SHIPPED = tuple(read_lesson(path) for path in sorted(FOLDER.glob("*.toml")))
SCREENS = {f"{one.key}:{n}": screen for one in SHIPPED for n, screen in enumerate(one.screens, 1)}
WAYS = {  # how a person reaches a goal that compares what is no entry
    "6-starts:1": {"live_volume": "40 gal"},
    "6-starts:3": {"live_volume": "40 gal"},
    "7-testing:3": {"precharge": "20 psi"},
    "1-pressure:2": {"cut_out": "51 psi"},
}
LONGEST = 3600.0


def seen_in(screen: Screen, job: Job) -> Iterator[Seen]:
    """What a person sees with this job's tank, event by event."""
    ground = Ground(evaluate(job, None))
    assert ground.tap is not None
    recording = Recording(ground.the_rig, ground.tap)
    happened: set[Happening] = set()
    for _ in range(12):
        yield Seen(frozenset(happened), recording.moment)
        event = recording.step_to_next(LONGEST)
        if event is None:
            return
        happened.add(event.kind)


def way_of(name: str, screen: Screen) -> Job:
    """The screen's job as a person changes it on the way to the goal."""
    goal = screen.goal
    assert goal is not None
    entries = {one.name: one.value for one in goal.compared if one.name not in SEEN}
    if name in WAYS:
        kinds = {"live_volume": VOLUME, "precharge": PRESSURE, "cut_out": PRESSURE}
        entries = {key: parse(text, kinds[key]) for key, text in WAYS[name].items()}
    return screen.job.changed(**entries)


# --- the shipped ones ---


def test_there_are_eight_lessons_of_two_or_three_screens() -> None:
    assert [one.key[0] for one in SHIPPED] == list("12345678")
    assert {len(one.screens) for one in SHIPPED} == {2, 3}
    assert all(one.problems == () and not one.is_own for one in shelf.lessons())


@pytest.mark.parametrize("name", SCREENS)
@pytest.mark.parametrize("display", DISPLAYS, ids=("us", "metric"))
def test_each_screen_says_all_that_a_screen_says(name: str, display: Display) -> None:
    screen = SCREENS[name]
    assert screen.attempt is not None
    assert screen.question is not None
    texts = [screen.told(text, display) for place, text in screen.texts if place != "caution"]
    texts.append(screen.told_when_done(screen.grounds[""], display))
    for text in texts:
        assert text
        assert not set("{}—") & set(text)
    answers = [screen.told(one.text, display) for one in screen.question.answers]
    assert len(set(answers)) == len(answers)
    assert [one.is_right for one in screen.question.answers].count(True) == 1


def test_the_right_answer_stands_at_every_place() -> None:
    places = [
        [answer.is_right for answer in screen.question.answers].index(True)
        for screen in SCREENS.values()
        if screen.question is not None
    ]
    assert min(places.count(place) for place in range(3)) >= len(places) // 5


@pytest.mark.parametrize("name", SCREENS)
def test_no_figure_is_written_that_could_be_worked_out(name: str) -> None:
    screen = SCREENS[name]
    assert screen.attempt is not None
    for _, text in (*screen.texts, ("done", screen.attempt.done)):
        bare = re.sub(r"\{[^}]*\}", "", text.raw)
        assert not re.search(r"\d", bare), bare
        assert not re.search(r"\b(gal|gallons?|psi|gpm|litres?|kPa|L/min)\b", bare), bare


@pytest.mark.parametrize("name", SCREENS)
def test_the_goal_is_not_met_at_the_beginning_and_can_be_reached(name: str) -> None:
    screen = SCREENS[name]
    goal = screen.goal
    assert goal is not None
    assert not goal.is_met(screen.grounds[""], Seen())
    first = next(seen_in(screen, screen.job))
    assert not goal.is_met(screen.grounds[""], first)
    way = way_of(name, screen)
    now = Ground(evaluate(way, None))
    assert any(goal.is_met(now, seen) for seen in seen_in(screen, way))


@pytest.mark.parametrize("name", [name for name in SCREENS if SCREENS[name].goal])
def test_a_goal_that_asks_for_a_change_is_not_met_by_waiting(name: str) -> None:
    screen = SCREENS[name]
    goal = screen.goal
    assert goal is not None
    waited = any(goal.is_met(screen.grounds[""], seen) for seen in seen_in(screen, screen.job))
    assert waited == (not goal.compared)


@pytest.mark.parametrize("name", SCREENS)
def test_what_is_worked_on_in_metric_units_reaches_the_goal_too(name: str) -> None:
    """The goal as it is shown in kPa or litres, typed over as shown."""
    screen = SCREENS[name]
    goal = screen.goal
    assert goal is not None
    metric = Display(System.METRIC)
    typed = {
        one.name: parse(goal.text(one.name, metric), one.kind)
        for one in goal.compared
        if one.name in ("precharge", "cut_in", "cut_out", "live_volume", "steady_draw", "altitude")
    }
    if not typed:
        return
    now = Ground(evaluate(screen.job.changed(**typed), None))
    every = Seen(frozenset(Happening))
    assert goal.is_met(now, every)


def test_where_someone_works_on_a_real_tank_the_cautions_stand() -> None:
    for name in ("4-precharge:3", "7-testing:2", "8-wrong-cure:2"):
        said = SCREENS[name].caution.raw
        for words in ("power off, locked out", "proven dead", "zero", "never above"):
            assert words in said.lower(), (name, words)
    assert all(screen.caution.raw for screen in by_key("7-testing").screens)


def by_key(key: str) -> Lesson:
    return next(one for one in SHIPPED if one.key == key)


def test_the_head_of_the_first_lesson_explains_every_name() -> None:
    head = (FOLDER / "1-pressure.toml").read_text(encoding="utf-8").partition("title =")[0]
    for name in (*figures(), *HAPPENINGS, *SEEN, "precharge_rule", "fault", "degree", "right"):
        assert re.search(rf"(?<!\w){name}(?!\w)", " ".join(head.replace("#", " ").split())), name


# --- the truth of the figures, by physics that stands here ---


def boyle(setting: tuple[float, float, float], gallons: float, air: float = 14.6959) -> float:
    """Drawdown [gal] of a tank: trade magazine column, February 2006; pressures in psi gauge."""
    charge, low, high = (one + air for one in setting)
    return gallons * (min(charge / low, 1.0) - charge / high)


@pytest.mark.parametrize(
    ("name", "setting", "wanted"),
    [
        ("3-drawdown:1", "", boyle((38, 40, 60), 44)),
        ("5-bands:1", "low", boyle((18, 20, 40), 44)),
        ("5-bands:1", "", boyle((28, 30, 50), 44)),
        ("5-bands:1", "high", boyle((38, 40, 60), 44)),
        ("5-bands:2", "", boyle((28, 40, 60), 44)),
        ("5-bands:2", "right", boyle((38, 40, 60), 44)),
        ("6-starts:1", "", boyle((38, 40, 60), 20)),
        ("7-testing:3", "weak", boyle((20, 40, 60), 44)),
        ("8-wrong-cure:2", "", boyle((5, 40, 60), 44)),
        ("8-wrong-cure:2", "bigger", boyle((5, 40, 60), 88)),
    ],
)
def test_a_drawdown_is_that_of_boyles_law(name: str, setting: str, wanted: float) -> None:
    value = SCREENS[name].grounds[setting].value("drawdown")
    assert value == pytest.approx(wanted * GAL, rel=1e-5)


def test_figures_of_pressure_are_those_of_the_standard_atmosphere() -> None:
    ground = SCREENS["1-pressure:1"].grounds[""]
    assert ground.value("air_pressure") == pytest.approx(14.6959 * PSI, rel=1e-5)
    assert ground.value("absolute_cut_in") == pytest.approx(44.6959 * PSI, rel=1e-5)
    squeezed = SCREENS["1-pressure:2"].grounds[""]
    assert squeezed.value("half_full") == pytest.approx((2 * 32.6959 - 14.6959) * PSI, rel=1e-5)
    assert squeezed.value("absolute_half") == pytest.approx(2 * 32.6959 * PSI, rel=1e-5)


def test_the_slips_are_those_of_the_trade() -> None:
    ground = SCREENS["3-drawdown:2"].grounds[""]
    assert ground.value("drawdown_by_gauge") == pytest.approx(
        44 * GAL * (38 / 40 - 38 / 60), rel=1e-9
    )
    assert ground.value("volumes_in_drawdown") == pytest.approx(
        44 / boyle((38, 40, 60), 44), rel=1e-5
    )


def test_run_starts_and_worst_draw_are_those_of_the_handbook() -> None:
    """MIL-HDBK-1005/9A, paragraph 2.5.3.6: t = (V/D) [1/(1 − Q/D) + 1/(Q/D)]."""
    ground = SCREENS["6-starts:2"].grounds[""]
    volume, pump, draw = boyle((38, 40, 60), 44), 10.0, 2.0
    minutes = volume / pump * (1 / (1 - draw / pump) + pump / draw)
    assert ground.value("starts") == pytest.approx(1 / (minutes * 60), rel=1e-4)
    assert ground.value("worst_draw") == pytest.approx(5 * GPM, rel=1e-4)
    assert ground.value("starts_worst") == pytest.approx(15 * pump / volume / 3600, rel=1e-4)
    assert ground.value("run_time") == pytest.approx(volume / pump * 60, rel=1e-4)
    assert ground.value("minute_water") == pytest.approx(10 * GAL, rel=1e-6)


def test_how_long_a_tank_lasts_is_its_water_over_what_is_short() -> None:
    screen = SCREENS["8-wrong-cure:1"]
    for setting, gallons in (("", 44), ("bigger", 88)):
        left = gallons * (1 - 52.6959 / 54.6959)
        # 8 gpm until the pump starts and, for a second, gives nothing; then 3 gpm.
        wanted = boyle((38, 40, 60), gallons) / 8 * 60 + 1 + (left - 8 / 60) / 3 * 60
        assert screen.grounds[setting].value("lasts") == pytest.approx(wanted, rel=3e-3)
    assert screen.grounds[""].value("short_of") == pytest.approx(3 * GPM, rel=1e-6)


def test_the_tap_is_dry_from_the_pipes_last_water_until_the_pump_gives() -> None:
    screen = SCREENS["4-precharge:2"]
    now = Ground(evaluate(way_of("4-precharge:2", screen), None))
    # Pipes: 0.005 gal for 10 psi, so 0.015 gal from 30 psi; 5 gpm empties them in 0.18 s of 1 s.
    assert now.value("no_water") == pytest.approx(1.0 - 0.18, abs=0.005)
    assert screen.grounds[""].value("no_water") == 0.0


def test_what_runs_back_starts_the_pump_in_its_time() -> None:
    ground = SCREENS["8-wrong-cure:3"].grounds[""]
    back = ground.value("back_flow")
    drawdown = ground.value("drawdown")
    assert back
    assert drawdown
    assert ground.value("until_start") == pytest.approx(drawdown / back, rel=3e-3)


def test_what_a_figure_follows_follows_the_edited_setting() -> None:
    """A trainer changes the tank, and no text can be wrong for it."""
    path = FOLDER / "3-drawdown.toml"
    text = path.read_text(encoding="utf-8").replace('"44 gal"', '"86 gal"')
    screen = lesson_from(text.encode(), path.name).screens[0]
    told = screen.told(screen.paragraphs[1], Display())
    assert f"{boyle((38, 40, 60), 86):.1f} gal" in told


@pytest.mark.parametrize(
    ("value", "kind", "told"),
    [
        (38 * PSI, PRESSURE, "38 psi"),
        (38.25 * PSI, PRESSURE, "38.2 psi"),
        (11.34 * GAL, VOLUME, "11.3 gal"),
        (120.4 * GAL, VOLUME, "120 gal"),
        (5 * GPM, FLOW, "5 gpm"),
        (7.94, SHORT_TIME, "7.9 s"),
        (9.96, SHORT_TIME, "10 s"),
        (31.2, SHORT_TIME, "31 s"),
        (99.6, SHORT_TIME, "1.7 min"),
        (8.5 / 3600, STARTS_PER_HOUR, "8.5"),
        (29.1 / 3600, STARTS_PER_HOUR, "29"),
        (3.88, NUMBER, "3.9"),
    ],
)
def test_a_figure_is_spoken_with_no_more_digits_than_help(value, kind, told) -> None:
    assert spoken(value, kind, Display()) == told


# --- goals ---


def test_a_goal_forgives_one_part_in_a_hundred() -> None:
    ground = SCREENS["4-precharge:1"].grounds[""]  # 38 psi
    assert parse_goal("precharge is 38.3 psi").is_met(ground, Seen())
    assert parse_goal("precharge >= 38.3 psi").is_met(ground, Seen())
    assert parse_goal("precharge <= 37.7 psi").is_met(ground, Seen())
    for text in ("precharge is 39 psi", "precharge >= 38.5 psi", "precharge <= 37.5 psi"):
        assert not parse_goal(text).is_met(ground, Seen())


def test_every_part_of_a_goal_must_hold() -> None:
    ground = SCREENS["4-precharge:1"].grounds[""]
    goal = parse_goal("precharge is 38 psi and pump starts and pump stops")
    assert not goal.is_met(ground, Seen(frozenset({Happening.CLOSED})))
    assert goal.is_met(ground, Seen(frozenset({Happening.CLOSED, Happening.OPENED})))


def test_what_is_seen_on_the_tank_is_known_only_while_it_is_seen() -> None:
    ground = SCREENS["4-precharge:1"].grounds[""]
    assert not parse_goal("gauge >= 40 psi").is_met(ground, Seen())
    recording = Recording(ground.the_rig, 0.0)
    assert parse_goal("gauge is 60 psi and water >= 10 gal").is_met(
        ground, Seen(moment=recording.moment)
    )


# --- where they lie ---


def own(language: str, name: str, text: str | bytes) -> Path:
    path = shelf.own_lessons() / language / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def shipped_text(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def test_the_firms_own_file_goes_before_the_programs() -> None:
    own("en", "2-air.toml", shipped_text("2-air.toml").replace("What the air does", "Our air"))
    own("en", "9-more.toml", shipped_text("3-drawdown.toml"))
    found = shelf.lessons()
    assert [one.key for one in found][-2:] == ["8-wrong-cure", "9-more"]
    assert [one.is_own for one in found] == [n in (1, 8) for n in range(9)]
    assert found[1].lesson is not None
    assert found[1].lesson.title == "Our air"


def test_copies_are_given_once_and_never_over_the_firms_own() -> None:
    mine = own("en", "4-precharge.toml", "ours")
    assert shelf.copy_lessons() == shelf.own_lessons()
    assert mine.read_text(encoding="utf-8") == "ours"
    copies = {path.name for path in mine.parent.iterdir()}
    assert copies == {path.name for path in FOLDER.glob("*.toml")}
    assert (mine.parent / "2-air.toml").read_bytes() == (FOLDER / "2-air.toml").read_bytes()


@pytest.mark.parametrize("language", ["de", "de_AT"])
def test_a_language_has_a_folder_and_english_fills_its_gaps(language: str) -> None:
    own("de", "2-air.toml", shipped_text("2-air.toml").replace("What the air does", "Die Luft"))
    titles = [one.lesson.title for one in shelf.lessons(language) if one.lesson]
    assert titles[1] == "Die Luft"
    assert titles[2] == "Drawdown is not volume"
    assert len(titles) == 8
    assert shelf.lessons("fr")[1].lesson != titles[1]


def test_a_language_is_no_way_out_of_the_folder() -> None:
    assert [one.key for one in shelf.lessons("../../etc")] == [one.key for one in SHIPPED]


def test_a_spoilt_file_of_the_firm_is_told_and_the_programs_is_shown() -> None:
    own("en", "4-precharge.toml", "title = \n")
    (spoilt,) = [one for one in shelf.lessons() if one.problems]
    assert spoilt.key == "4-precharge"
    assert not spoilt.is_own
    assert spoilt.lesson is not None
    assert spoilt.lesson.title == "Precharge"
    assert "“4-precharge.toml”, line 1, column 9" in str(spoilt.problems[0])


def test_a_spoilt_file_without_another_in_its_place_shows_nothing_but_the_problem() -> None:
    own("en", "9-more.toml", b"\xff")
    last = shelf.lessons()[-1]
    assert last.lesson is None
    assert "not written in UTF-8" in str(last.problems[0])


def test_a_changed_file_has_another_stamp() -> None:
    before = shelf.stamp()
    assert before == shelf.stamp()
    own("en", "2-air.toml", "")
    assert shelf.stamp() != before
