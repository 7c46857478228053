"""A sheet of exercises: for the class the questions with room to answer, for the trainer the key.

The foot names the program's version and all that the exercises follow from, so that the same sheet
can be made again. Questions and key are made of the same exercises and can never be of two sorts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbench import __version__
from workbench.job.job import Job
from workbench.job.teach_choices import SheetFor
from workbench.report.blocks import Block, PaperContent, Section, Sign, Warn, Words
from workbench.report.estimate_words import level_word, printable
from workbench.report.exercise_key import key_section
from workbench.report.exercise_questions import question_section
from workbench.report.exercise_slips import numbered_slips, slips_section
from workbench.report.letterhead import sheet_of
from workbench.report.paper_display import paper_display
from workbench.report.sheet import LANGUAGE, small_head, withheld
from workbench.study.estimate.dates import read_date
from workbench.study.evaluate import Results
from workbench.study.exercises.exercise import Topic, topics
from workbench.study.exercises.making import ExerciseSet, exercise_set
from workbench.study.findings import Finding, Level
from workbench.study.pricing.money import date_text
from workbench.study.reader import Reader
from workbench.units import Display, System
from workbench.words import tr

Make = Callable[[Job, Display], ExerciseSet]
"""Makes the exercises of a job: :func:`exercise_set`, or one that keeps what it has made."""


def sheet_content(
    results: Results, display: Display, make: Make = exercise_set
) -> PaperContent | str:
    """The sheet of a job, or in words what must be mended before there is one.

    It needs nothing of the job but what it is about: a stop elsewhere does not withhold it.
    """
    job = results.job
    display = paper_display(job, display)
    made = make(job, display)
    stops = [one for one in (*made.findings, *date_findings(job)) if one.level is Level.STOP]
    if stops:
        return withheld(stops, display, tr("No sheet is made."))
    is_key = job.sheet_for is SheetFor.TRAINER
    date = read_date(job, "class_date", Reader(job))
    return PaperContent(
        kind="sheet",
        title=tr("Exercises: the key") if is_key else tr("Exercises"),
        language=LANGUAGE,
        sheet=sheet_of(job),
        date=date.isoformat() if date else "",
        head=small_head(job),
        facts=tuple(_facts(job)),
        sections=(_first(job, made, is_key), *_sections(made, is_key)),
        foot=_foot(job, made, display),
    )


def date_findings(job: Job) -> tuple[Finding, ...]:
    """What is wrong with the day of the class."""
    reader = Reader(job)
    read_date(job, "class_date", reader)
    return tuple(reader.findings)


def _facts(job: Job) -> Iterator[tuple[str, str]]:
    if name := job.class_name.strip():
        yield tr("Class"), name
    if (date := read_date(job, "class_date", Reader(job))) is not None:
        yield tr("Date"), date_text(date, job)


def _first(job: Job, made: ExerciseSet, is_key: bool) -> Section:
    """What holds for all of them: cautions, and on the class's sheet the line for a name."""
    invented = tr("Every system, house and person here is invented.")
    told = (
        tr("{invented} Right answers, what each wrong one tells, and the working.",
           invented=invented)
        if is_key
        else tr("{invented} Pressures are gauge pressures unless absolute is said.",
                invented=invented)
    )  # fmt: skip
    cautions = dict.fromkeys(one.caution for one in made.exercises if one.caution)
    blocks: list[Block] = [] if is_key else [_to_sign(job)]
    blocks.append(Words(text=told, tone="muted"))
    if cautions:
        text = printable("\n".join(cautions))
        blocks.append(Warn(word=level_word(Level.CAUTION), text=text))
    return Section(key="first", heading="", blocks=tuple(blocks))


def _to_sign(job: Job) -> Sign:
    return Sign(lines=(tr("Name"), *(() if job.class_date.strip() else (tr("Date"),))))


def _sections(made: ExerciseSet, is_key: bool) -> Iterator[Section]:
    numbers = numbered_slips(made.exercises)
    for exercise in made.exercises:
        if is_key:
            yield key_section(exercise, numbers)
        else:
            yield question_section(exercise, numbers)
    if numbers and not is_key:
        yield slips_section(made.exercises, numbers)


def _foot(job: Job, made: ExerciseSet, display: Display) -> str:
    """All that the exercises follow from."""
    labels = topics()
    asked = [labels[one].label for one in Topic if getattr(job, f"topic_{one.value}")]
    units = tr("metric units") if display.system is System.METRIC else tr("US units")
    return tr(
        "Tank workbench {version} · exercises: seed {seed}, {count} of them, {units}; {topics}",
        version=__version__,
        seed=made.exercises[0].seed,
        count=len(made.exercises),
        units=units,
        topics=", ".join(asked),
    )
