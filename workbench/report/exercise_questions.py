"""An exercise as the class gets it: what is told, what is asked, and room for the answer."""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_uppercase

from workbench.job.teach_choices import faults
from workbench.report.blocks import Block, Facts, Section, Sign, Table, Ticks, Words
from workbench.report.estimate_words import printable
from workbench.report.exercise_slips import SlipNumbers
from workbench.study.exercises.exercise import Exercise, Figure, Hunt, Pick, topics
from workbench.units import Display
from workbench.words import tr

_TO_FILL_IN = "________"


def question_section(exercise: Exercise, numbers: SlipNumbers) -> Section:
    """One exercise without a word of its answer."""
    return Section(
        key="exercise",
        heading=heading_of(exercise),
        blocks=(*told_blocks(exercise), *_room(exercise, numbers)),
    )


def heading_of(exercise: Exercise) -> str:
    """Its number in the set and its title."""
    title = printable(exercise.title)
    return tr("{number}. {title}", number=exercise.number, title=title)


def told_blocks(exercise: Exercise) -> Iterator[Block]:
    """Its topic, its story, what is given, and the question; cautions head the sheet."""
    yield Words(text=topics()[exercise.topic].label, tone="muted")
    if exercise.story:
        yield Words(text=printable(exercise.story))
    if exercise.given:
        yield Facts(rows=tuple((printable(name), printable(text)) for name, text in exercise.given))
    yield Words(text=printable(question_of(exercise)), tone="strong")


def question_of(exercise: Exercise) -> str:
    """The question, and for a figure how close the answer must come."""
    ask = exercise.ask
    if isinstance(ask, Figure) and ask.within:
        return tr("{question} ({within})", question=exercise.question, within=ask.within)
    return exercise.question


def option_text(place: int, text: str) -> str:
    """An answer to pick with its letter, by which class and key speak of it."""
    return f"{ascii_uppercase[place]}. {printable(text)}"


def minutes_text(minutes: float, display: Display) -> str:
    """Minutes as short as they can be written: "2", "0.5"."""
    return f"{minutes:g}".replace(".", display.mark)


def reading_text(name: str, tool: str) -> str:
    """A reading and with what it is taken."""
    return printable(tr("{reading} ({tool})", reading=name, tool=tool) if tool else name)


def _room(exercise: Exercise, numbers: SlipNumbers) -> Iterator[Block]:
    ask = exercise.ask
    if isinstance(ask, Figure):
        answer = tr("Answer, in {unit}", unit=ask.unit) if ask.unit else tr("Answer")
        yield Sign(lines=(answer,))
    elif isinstance(ask, Pick):
        texts = (option_text(place, one.text) for place, one in enumerate(ask.options))
        yield Ticks(steps=tuple(texts), numbered=False)
    else:
        yield _readings(exercise, ask, numbers)
        labels = faults()
        named = tuple(option_text(n, labels[one].label) for n, one in enumerate(ask.suspects))
        yield Ticks(steps=named, numbered=False)
        yield Sign(lines=(tr("Minutes of reading, in all"),))


def _readings(exercise: Exercise, ask: Hunt, numbers: SlipNumbers) -> Table:
    """What can be read, what it costs, and where to look it up."""
    rows = tuple(
        (
            reading_text(one.name, one.tool),
            minutes_text(one.minutes, exercise.display),
            str(numbers[exercise.number, one.key]),
            _TO_FILL_IN,
        )
        for one in ask.offered
    )
    return Table(
        name=tr("What can be read"),
        columns=(tr("Reading, and with what"), tr("Minutes"), tr("Slip"), tr("It reads")),
        rows=rows,
    )
