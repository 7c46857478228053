"""A set of exercises as JSON: the questions, and for the trainer the key."""

from __future__ import annotations

from typing import Any

from workbench import __version__
from workbench.job.job import Job
from workbench.job.teach_choices import SheetFor
from workbench.report.exercise_questions import question_of
from workbench.study.exercises.exercise import Exercise, Figure, Pick
from workbench.study.exercises.making import ExerciseSet
from workbench.study.exercises.marking import right_answer


def exercises_record(job: Job, made: ExerciseSet) -> dict[str, Any]:
    """All that a sheet says. Figures of the key are in the unit that the exercise asks for."""
    is_key = job.sheet_for is SheetFor.TRAINER
    record: dict[str, Any] = {"version": __version__, "sheet_for": job.sheet_for.value}
    if made.exercises:
        first = made.exercises[0]
        record |= {"seed": first.seed, "units": first.display.system.value}
    record["exercises"] = [_question(one) | (_key(one) if is_key else {}) for one in made.exercises]
    return record


def _question(exercise: Exercise) -> dict[str, Any]:
    return {
        "number": exercise.number,
        "topic": exercise.topic.value,
        "title": exercise.title,
        "story": exercise.story,
        "given": [{"name": name, "text": text} for name, text in exercise.given],
        "caution": exercise.caution,
        "question": question_of(exercise),
        **_asked(exercise),
    }


def _asked(exercise: Exercise) -> dict[str, Any]:
    ask = exercise.ask
    if isinstance(ask, Figure):
        return {"answer_in": ask.unit}
    if isinstance(ask, Pick):
        return {"options": [one.text for one in ask.options]}
    readings = [
        {"key": one.key, "name": one.name, "tool": one.tool, "minutes": one.minutes}
        for one in ask.offered
    ]
    return {"readings": readings, "faults": [one.value for one in ask.suspects]}


def _key(exercise: Exercise) -> dict[str, Any]:
    working = [
        {"title": one.title, "formula": one.formula, "numbers": one.numbers, "source": one.source}
        for one in exercise.working
    ]
    return {"answer": right_answer(exercise), **_answers(exercise), "working": working}


def _answers(exercise: Exercise) -> dict[str, Any]:
    ask = exercise.ask
    if isinstance(ask, Figure):
        unit = ask.kind.units[ask.unit]
        return {
            "right": ask.right / unit.factor - unit.zero,
            "tolerance": ask.tolerance / unit.factor,
            "slips": {slip.value: value / unit.factor - unit.zero for slip, value in ask.slips},
        }
    if isinstance(ask, Pick):
        options = [
            {"right": one.right, "slip": one.slip.value if one.slip else None, "why": one.why}
            for one in ask.options
        ]
        return {"right": ask.right, "answers": options}
    return {
        "right": ask.fault.value,
        "degree": ask.degree.value,
        "shown": {one.key: one.shown for one in ask.offered},
        "cheapest": list(ask.cheapest),
    }
