"""What a trainer can get wrong in a lesson's file: each is told with its place and its remedy."""

from __future__ import annotations

import pytest

from workbench.study.lessons.model import LessonError
from workbench.study.lessons.reading import lesson_from
from workbench.units import Display

GOOD = """
title = "One"
[tank]
live_volume = "44 gal"
precharge = "28 psi"
[[screen]]
heading = "Head {drawdown}"
text = "Words."
[screen.also.low]
cut_in = "20 psi"
cut_out = "40 psi"
precharge = "18 psi"
[screen.try]
do = "Do it to {goal}, not to {low.drawdown}."
goal = "precharge <= 20 psi"
done = "{precharge}, not {start.precharge}."
[screen.question]
ask = "What?"
[[screen.question.answer]]
text = "This"
why = "Because."
right = true
[[screen.question.answer]]
text = "That"
why = "Not."
"""


def test_the_sample_is_a_lesson() -> None:
    (screen,) = lesson_from(GOOD.encode(), "x.toml").screens
    assert screen.told(screen.heading, Display()) == "Head 13.0 gal"
    assert screen.attempt is not None
    assert screen.told(screen.attempt.do, Display()) == "Do it to 20 psi, not to 15.2 gal."


@pytest.mark.parametrize(
    ("before", "after", "place", "why", "remedy"),
    [
        ('title = "One"', "", "“x.toml”: ", "“title” is missing", "Add it"),
        ('title = "One"', "title = 1", "“x.toml”, title: ", "A text in quotes", "title ="),
        ('title = "One"', 'title = " "', "“x.toml”, title: ", "A text in quotes", "title ="),
        ("heading =", "headline =", "screen 1: ", "“headline” is not known", "heading, text"),
        ("[tank]", "[[tank]]", "“x.toml”, tank: ", "A table is wanted", "show how"),
        ('live_volume = "44 gal"', "", "also, low: ", "“live_volume” is missing", "44 gal"),
        ('"44 gal"', '"44 gal per day"', "tank, live_volume: ", "not", "Use one of"),
        ('"44 gal"', '"0 gal"', "screen 1, tank: ", "must be above zero", "Mend these"),
        ('"44 gal"', "44", "tank, live_volume: ", "A text in quotes", "live_volume ="),
        ("live_volume =", "volume =", "tank, volume: ", "No entry of a tank", "live_volume"),
        ('"44 gal"', '"44 gal"\nfault = "bad"', "tank, fault: ", "none of the choices", "pinhole"),
        ('"44 gal"', '"44 gal"\ncut_in = "60 psi"', "screen 1, tank: ", "Cut-out must", "Mend"),
        ('cut_in = "20 psi"', 'cut_in = "45 psi"', "also, low: ", "Cut-out must", "Mend"),
        ("also.low", "also.start", "also, start: ", "cannot be called so", "small letters"),
        ("also.low", "also.Low", "also, Low: ", "cannot be called so", "small letters"),
        ("{drawdown}", "{drawdawn}", "screen 1, heading: ", "no figure “drawdawn”", "drawdown"),
        ("{drawdown}", "{other.drawdown}", "screen 1, heading: ", "no setting “other”", "low"),
        ("{drawdown}", "{drawdown", "screen 1, heading: ", "A brace stands alone", "{drawdown}"),
        ("{drawdown}", "{lasts}", "screen 1, heading: ", "“lasts” has no value", "leave"),
        ("{goal}", "{goal.cut_in}", "try, do: ", "compares no “cut_in”", "{goal}"),
        ("<= 20 psi", "<= 20", "screen 1, try, goal: ", "The unit is missing", "50 psi"),
        ("precharge <=", "precharg <=", "try, goal: ", "no figure “precharg”", "precharge"),
        ("precharge <= 20 psi", "run away", "try, goal: ", "“run away” is no goal", "pump starts"),
        ("<= 20 psi", ">= 20 psi", "screen 1, try, goal: ", "met before anything", "Change"),
        ("done =", "fields = 3\ndone =", "try, fields: ", "A list of names", "precharge"),
        ("done =", 'fields = ["fault"]\ndone =', "try, fields: ", "“fault” is not", "cut_in"),
        ("right = true", "", "screen 1, question: ", "0 answers are marked", "exactly one"),
        ('why = "Not."', 'why = "Not."\nright = true', "question: ", "2 answers", "exactly one"),
        ("right = true", 'right = "yes"', "answer 1, right: ", "True or false", "right = true"),
        ('ask = "What?"', "", "screen 1, question: ", "“ask” is missing", "Add it"),
        ('ask = "What?"', 'ask = """What?', "“x.toml”, at its end: ", "cannot be", "missing quote"),
        ('title = "One"', 'title = "One', "line 2, column ", "cannot be read as TOML", "quote"),
        ('"Words."', f'"{"Words. " * 200}"', "“x.toml”: ", "Line 8 has more than", "Break it"),
    ],
)
def test_what_is_wrong_is_told_with_its_place_and_remedy(before, after, place, why, remedy) -> None:
    assert before in GOOD
    with pytest.raises(LessonError) as refusal:
        lesson_from(GOOD.replace(before, after, 1).encode(), "x.toml")
    assert refusal.value.message.startswith("“x.toml”")
    assert place in refusal.value.message
    assert why in refusal.value.message
    assert remedy in refusal.value.remedy


@pytest.mark.parametrize("count", [1, 6])
def test_a_question_has_two_to_five_answers(count: int) -> None:
    head, _, _ = GOOD.partition("[[screen.question.answer]]")
    one = '[[screen.question.answer]]\ntext = "a"\nwhy = "b"\n'
    text = head + one + "right = true\n" + one * (count - 1)
    with pytest.raises(LessonError, match=rf"answer: There are {count}; 2 to 5 are wanted"):
        lesson_from(text.encode(), "x.toml")


def test_a_screen_may_do_without_something_to_try_and_a_question() -> None:
    text = GOOD.partition("[screen.try]")[0]
    (screen,) = lesson_from(text.encode(), "x.toml").screens
    assert screen.attempt is None
    assert screen.question is None
    assert screen.told_when_done(screen.grounds[""], Display()) == ""


def test_a_precharge_that_a_rule_sets_is_not_offered_to_be_typed() -> None:
    rule = 'precharge_rule = "cut_in_less_2_psi"'
    text = GOOD.replace('precharge = "28 psi"', rule)
    with pytest.raises(LessonError, match=r"screen 1, try, fields: .* a rule sets it"):
        lesson_from(text.encode(), "x.toml")


def test_a_fault_that_this_tank_cannot_have_is_told() -> None:
    fault = 'precharge = "5 psi"\nfault = "old_precharge_on_new_band"\ndegree = "slight"'
    text = GOOD.replace('precharge = "28 psi"', fault)
    with pytest.raises(LessonError, match=r"screen 1, tank: no usual band lies so far below"):
        lesson_from(text.encode(), "x.toml")
