"""Reads a lesson's file (TOML 1.0) and proves it: every figure has a value, every goal a way to go.

A file of a trainer is read as strictly as a field: what cannot be understood is an error that names
file, place and remedy, never left out in silence.
"""

from __future__ import annotations

import re
import tomllib
from enum import Enum
from pathlib import Path
from typing import Any

from workbench import safe_file
from workbench.file_reasons import shown
from workbench.job.choices import PrechargeRule
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.job.options import option
from workbench.study.findings import Level
from workbench.study.lessons.figures import Ground
from workbench.study.lessons.goals import GoalProblem, Seen, parse_goal
from workbench.study.lessons.model import (
    START,
    Answer,
    Attempt,
    Lesson,
    LessonError,
    Question,
    Screen,
)
from workbench.study.lessons.tables import Table
from workbench.study.lessons.texts import GOAL, Text, TextProblem
from workbench.units import Display, System, UnitError, parse, parse_pairs
from workbench.words import tr

LARGEST_FILE = 64 * 1024  # bytes; ours have about 5,000
LONGEST_LINE = 1000  # characters: a longer one could keep the reader busy for minutes
MOST_SCREENS = 9
TYPED = (
    "precharge",
    "cut_in",
    "cut_out",
    "live_volume",
    "steady_draw",
    "pump_flow",
    "altitude",
    "live_air",
)
"""The entries that a screen can offer to be typed; all but the pump's flow can be dragged too."""
_ANSWERS = (2, 5)
_CHOSEN = ("precharge_rule", "pump_entry", "fault", "degree")
_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)\s*$")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,30}")
_US = Display()
_METRIC = Display(System.METRIC)


def read_lesson(path: Path) -> Lesson:
    """The lesson in a file.

    Raises:
        LessonError: it cannot be read, is no lesson, or a figure or goal in it cannot be.
    """
    try:
        data = safe_file.read_bytes(path, LARGEST_FILE)
    except safe_file.ReadError as error:
        raise LessonError(error.message, error.remedy) from error
    return lesson_from(data, path.name)


def lesson_from(data: bytes, name: str) -> Lesson:
    """The lesson in the content of a file of that ``name``. Raises LessonError."""
    top = Table(_toml(data, shown(name)), shown(name))
    top.only("title", "tank", "screen")
    shared = top.table("tank", tr("tank"))
    screens = top.tables("screen", tr("screen"), 1, MOST_SCREENS)
    lesson = Lesson(
        Path(name).stem,
        top.text("title"),
        tuple(_screen(one, shared) for one in screens),
    )
    for screen, table in zip(lesson.screens, screens, strict=True):
        _prove(screen, table)
    return lesson


def _toml(data: bytes, file: str) -> dict[str, Any]:
    """The content of TOML text, or a LessonError with the line."""
    top = Table({}, file)
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        top.refuse(tr("It is not written in UTF-8."), tr("Save it as plain text in UTF-8."))
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            top.refuse(
                tr("Line {line} has more than {most} characters.",
                   line=number, most=f"{LONGEST_LINE:,}"),
                tr("Break it: between three quotes a text may go on over several lines."),
            )  # fmt: skip
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        found = _PLACE.search(str(error))
        where = tr("at its end") if "at end of document" in str(error) else tr("somewhere")
        if found:
            where = tr("line {line}, column {column}", line=found[1], column=found[2])
        Table({}, file, where).refuse(
            tr("This cannot be read as TOML."),
            tr("Look there and just before for a missing quote, bracket or equals sign."),
        )


# --- one screen ---


def _screen(table: Table, shared: Table) -> Screen:
    table.only("heading", "text", "caution", "source", "tank", "also", "try", "question")
    tank = table.table("tank", tr("tank"))
    entries = {**_entries(shared), **_entries(tank)}
    also = table.table("also", tr("also"))
    others = {}
    for name in also.keys:
        if not _NAME.fullmatch(name) or name in (START, GOAL):
            also.refuse(
                tr("A setting cannot be called so."),
                tr("Use small letters, digits and “_”, and another word than {words}.",
                   words=f"“{START}”, “{GOAL}”"),
                name,
            )  # fmt: skip
        other = also.table(name, name)
        others[name] = _job({**entries, **_entries(other)}, other)
    return Screen(
        heading=Text(_one_line(table.text("heading"))),
        paragraphs=tuple(Text(_one_line(one)) for one in re.split(r"\n\s*\n", table.text("text"))),
        caution=Text(_one_line(table.text("caution", needed=False))),
        source=_one_line(table.text("source", needed=False)),
        job=_job(entries, tank),
        others=others,
        attempt=_attempt(table.table("try", tr("try"))) if table.has("try") else None,
        question=_question(table.table("question", tr("question")))
        if table.has("question")
        else None,
    )


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _attempt(table: Table) -> Attempt:
    table.only("do", "goal", "done", "fields")
    try:
        goal = parse_goal(table.text("goal"))
    except GoalProblem as problem:
        table.refuse(str(problem), problem.remedy, "goal")
    offered = tuple(name for name in goal.names if name in TYPED)
    if table.has("fields"):
        offered = table.names("fields", TYPED)
    do, done = (Text(_one_line(table.text(key))) for key in ("do", "done"))
    return Attempt(do, goal, done, offered)


def _question(table: Table) -> Question:
    table.only("ask", "answer")
    answers = []
    for one in table.tables("answer", tr("answer"), *_ANSWERS):
        one.only("text", "why", "right")
        answers.append(
            Answer(
                Text(_one_line(one.text("text"))),
                Text(_one_line(one.text("why"))),
                one.flag("right"),
            )
        )
    count = sum(answer.is_right for answer in answers)
    if count != 1:
        table.refuse(
            tr("{count} answers are marked as right.", count=count),
            tr("Mark exactly one with “{mark}”.", mark="right = true"),
        )
    return Question(Text(_one_line(table.text("ask"))), tuple(answers))


# --- its tank ---


def _entries(table: Table) -> dict[str, Any]:
    found = {name: _entry(table, name) for name in table.keys}
    # A precharge that is given is meant, whatever rule a new job has.
    if "precharge" in found and "precharge_rule" not in found:
        found["precharge_rule"] = PrechargeRule.TYPED
    return found


def _entry(table: Table, name: str) -> Any:
    text, field = table.text(name), fields().get(name)
    if name in _CHOSEN:
        values: dict[str, Enum] = {one.value: one for one in option(name).labels}
        if text not in values:
            table.refuse(
                tr("“{text}” is none of the choices.", text=shown(text[:60])),
                tr("Use one of: {names}.", names=", ".join(values)),
                name,
            )
        return values[text]
    if field is None or field.kind is None:
        table.refuse(
            tr("No entry of a tank is called so."),
            tr("Use entries such as {names}.",
               names="cut_in, cut_out, precharge, live_volume, steady_draw, pump_flow, altitude"),
            name,
        )  # fmt: skip
    try:
        if isinstance(field.kind, tuple):
            return parse_pairs(text, field.kind)
        return parse(text, field.kind)
    except UnitError as error:
        table.refuse(shown(error), shown(error.remedy), name)


def _job(entries: dict[str, Any], table: Table) -> Job:
    if "live_volume" not in entries:
        table.refuse(
            tr("“{name}” is missing.", name="live_volume"),
            tr("Say how large the tank is, for example {example}.", example='"44 gal"'),
        )
    return Job().changed(**entries)


# --- proof ---


def _prove(screen: Screen, table: Table) -> None:
    """Refuse a setting that cannot be, a text that nothing fills, a goal without a way to go."""
    for name, ground in screen.grounds.items():
        if ground.rig is None:
            where = tr("also, {name}", name=name) if name else tr("tank")
            table.table("tank", where).refuse(_why(ground), tr("Mend these entries."))
    goal = screen.goal
    every = list(screen.texts)
    if screen.attempt is not None:
        every.append(("try, done", screen.attempt.done))
    for where, text in every:
        try:
            text.check(screen.grounds.keys(), goal)
            for display in (_US, _METRIC):
                text.filled(screen.grounds, display, goal)
        except TextProblem as problem:
            table.refuse(str(problem), problem.remedy, where)
    is_typed = screen.job.precharge_rule is PrechargeRule.TYPED
    if screen.attempt is not None and "precharge" in screen.attempt.fields and not is_typed:
        table.refuse(
            tr("The precharge is offered to be typed, but a rule sets it here."),
            tr("Give the tank a precharge of its own."),
            "try, fields",
        )
    if goal is not None and goal.is_met(screen.grounds[""], Seen()):
        table.refuse(
            tr("The goal is met before anything was tried."),
            tr("Change the goal, or the setting with which the screen begins."),
            "try, goal",
        )


def _why(ground: Ground) -> str:
    findings = (*ground.results.findings, *ground.results.live.findings)
    stops = [shown(one.told(_US)) for one in findings if one.level is Level.STOP]
    return stops[0] if stops else shown(ground.why)
