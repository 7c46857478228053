"""An exercise as the trainer gets it: the answer, what each wrong one tells, and the working."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.job.teach_choices import degrees, faults
from workbench.report.blocks import Block, Facts, Formula, Section, Table, Words
from workbench.report.estimate_words import printable
from workbench.report.exercise_questions import (
    heading_of,
    minutes_text,
    option_text,
    question_of,
    reading_text,
)
from workbench.report.exercise_slips import SlipNumbers
from workbench.study.exercises.exercise import Exercise, Figure, Hunt, Pick, topics
from workbench.study.exercises.marking import right_answer
from workbench.study.exercises.slip import Slip, slips
from workbench.units import Display
from workbench.words import tr


def key_section(exercise: Exercise, numbers: SlipNumbers) -> Section:
    """One exercise with all that the trainer needs to mark it and to explain it."""
    return Section(
        key="key",
        heading=heading_of(exercise),
        blocks=tuple(_blocks(exercise, numbers)),
    )


def _blocks(exercise: Exercise, numbers: SlipNumbers) -> Iterator[Block]:
    yield Words(text=topics()[exercise.topic].label, tone="muted")
    yield Words(text=printable(question_of(exercise)))
    ask = exercise.ask
    if isinstance(ask, Hunt):
        yield Facts(rows=tuple(_found(exercise, ask)))
        yield _readings(exercise, ask, numbers)
        yield from _why_no_other(exercise)
        return
    if isinstance(ask, Pick):
        yield Facts(rows=tuple(_options(ask)))
    else:
        yield Facts(rows=tuple(_figures(exercise, ask)))
    for step in exercise.working:
        yield Formula(
            title=printable(step.title),
            formula=step.formula,
            numbers=step.numbers,
            source=step.source,
        )


def _why_no_other(exercise: Exercise) -> Iterator[Block]:
    """What speaks against each other fault, a line each; the rule behind them stands once."""
    steps = exercise.working
    if steps:
        rows = ((step.title, f"{step.formula}: {step.numbers}") for step in steps)
        yield Facts(rows=tuple((printable(title), printable(told)) for title, told in rows))
    for source in dict.fromkeys(step.source for step in steps):
        yield Words(text=source, tone="muted")


def _figures(exercise: Exercise, ask: Figure) -> Iterator[tuple[str, str]]:
    """The right figure, and those to which an error leads."""
    labels = slips()
    yield tr("Answer"), printable(right_answer(exercise))
    for slip, value in ask.slips:
        wrong = figure_text(ask, value, exercise.display)
        yield tr("{wrong} instead", wrong=printable(wrong)), printable(labels[slip].label)


def figure_text(ask: Figure, value: float, display: Display) -> str:
    """A value [SI] in the unit that is asked for, fine enough to be told from its neighbours."""
    unit = ask.kind.units[ask.unit]
    places = unit.decimals
    while places < 6 and ask.tolerance / unit.factor < 0.5 * 10.0**-places:
        places += 1
    number = f"{value / unit.factor - unit.zero:.{places}f}".replace(".", display.mark)
    return f"{number} {unit.symbol}".strip()


def _options(ask: Pick) -> Iterator[tuple[str, str]]:
    for place, one in enumerate(ask.options):
        verdict = tr("Right.") if one.right else _wrong(one.slip)
        yield option_text(place, one.text), printable(f"{verdict} {one.why}".strip())


def _wrong(slip: Slip | None) -> str:
    if slip is None:
        return tr("Wrong.")
    return tr("Wrong: {slip}.", slip=slips()[slip].label)


def _found(exercise: Exercise, ask: Hunt) -> Iterator[tuple[str, str]]:
    fault = faults()[ask.fault].label
    yield tr("Answer"), tr("{fault}, {degree}", fault=fault, degree=degrees()[ask.degree].label)
    yield (
        tr("Told soonest by"),
        tr(
            "{readings}: {minutes} minutes",
            readings=printable("; ".join(ask.reading(key).name for key in ask.cheapest)),
            minutes=minutes_text(ask.minutes(ask.cheapest), exercise.display),
        ),
    )


def _readings(exercise: Exercise, ask: Hunt, numbers: SlipNumbers) -> Table:
    rows = tuple(
        (
            reading_text(one.name, one.tool),
            minutes_text(one.minutes, exercise.display),
            str(numbers[exercise.number, one.key]),
            printable(one.shown),
        )
        for one in ask.offered
    )
    return Table(
        name=tr("What the readings show"),
        columns=(tr("Reading, and with what"), tr("Minutes"), tr("Slip"), tr("It reads")),
        rows=rows,
    )
