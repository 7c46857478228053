"""``solve``: the one quantity that is not known, so that the pump runs as long as asked."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.cli.asked import BAND
from workbench.cli.entered import job_from, needed_of_pump
from workbench.cli.options import add_choice, add_json, add_quantities, own_group
from workbench.cli.output import answer, finding_lines
from workbench.cli.refusal import (
    RefusalError,
    option_of,
    place_of,
    refuse_missing,
    refuse_stops,
)
from workbench.job import document
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.job.paper_choices import SolveFor
from workbench.job.pump_fields import supply_fields
from workbench.units import TIME, VOLUME, Display
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results

_US = Display()
_OPTIONS = {
    SolveFor.PUMP_FLOW: ("pump_flow",),
    SolveFor.RUN_TIME: ("run_time",),
    SolveFor.VOLUME: ("solve_volume",),
    SolveFor.PRECHARGE: ("precharge", "precharge_rule"),
}
"""What cannot be given beside the question for it; a band's two pressures tell its other half."""


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("solve", help=tr("the one quantity that is not known"))
    parser.description = tr(
        "Pump flow, run time, total volume, middle or width of the band, or precharge: the one that"
        " is looked for, with all others held; every value if there are several, and why if there"
        " is none."
    )
    parser.epilog = tr(
        "What is left out is as in JOBFILE; without one as in a new job, told as (new job: …), but"
        " what the answer cannot do without must then be given."
    )
    parser.add_argument("job", nargs="?", type=Path, metavar="JOBFILE", help=tr("a saved job"))
    group = own_group(parser)
    add_choice(group, "solve_for")
    volume = fields()["solve_volume"]
    group.add_argument(
        option_of("solve_volume"), dest="solve_volume", metavar="TEXT",
        help=tr("{label}. {help} (new job: {default})",
                label=volume.label, help=volume.help, default=Job().solve_volume),
    )  # fmt: skip
    add_quantities(group, ("run_time",))
    held = parser.add_argument_group(tr("pump, switch and site"))
    own = ("pump_flow", *BAND, "precharge", "altitude", "exponent")
    add_quantities(held, (*own, *(one.name for one in supply_fields() if one.name not in own)))
    add_choice(held, "pump_entry", tr("told by the options given, where it is left out"))
    for name in ("pipe_material", "pipe_size", "precharge_rule"):
        add_choice(held, name)
    add_json(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from workbench.study.evaluate import evaluate  # imports NumPy
    from workbench.study.solve.record import solve_record

    base = Job() if options.job is None else document.read(options.job)
    chosen = getattr(options, place_of("solve_for"))
    looked_for = SolveFor(chosen) if chosen else base.solve_for
    _refuse_what_is_looked_for(options, looked_for)
    if options.job is None:
        refuse_missing(
            [name for name in _needed(options, looked_for) if getattr(options, name) is None]
        )
    results = evaluate(job_from(options, base), None)
    refuse_stops(results.solved.blocked)
    record = solve_record(results)
    return answer(record, [*_lines(results), *finding_lines(record)], as_json=options.json)


def _refuse_what_is_looked_for(options: argparse.Namespace, looked_for: SolveFor) -> None:
    given = [
        option_of(name)
        for name in _OPTIONS.get(looked_for, ())
        if getattr(options, name, None) is not None
    ]
    if given:
        raise RefusalError(
            tr("{option}: is what is looked for; leave it out.", option=", ".join(given))
        )


def _needed(options: argparse.Namespace, looked_for: SolveFor) -> tuple[str, ...]:
    pump = () if looked_for is SolveFor.PUMP_FLOW else needed_of_pump(options)
    asked = tuple(
        name for name in ("run_time", "solve_volume") if name not in _OPTIONS.get(looked_for, ())
    )
    return (*pump, *asked, *BAND)


def _lines(results: Results) -> Iterator[str]:
    from workbench.study.solve.known import MOVES_BAND
    from workbench.study.solve.words import (
        band_text,
        name_of,
        other_text,
        reason_text,
        value_text,
        why_text,
    )
    from workbench.study.solve.working import solve_steps

    view = results.solved
    why = why_text(view, _US)
    if not view.solutions:
        yield tr("No answer: {why}", why=why)
        return
    first, *others = view.solutions
    value = value_text(view.answered, first.value, _US)
    yield f"{name_of(view.answered)} {value}"
    yield reason_text(view, first, _US)
    if why:
        yield why
    for one in others:
        yield tr("Also {other}", other=other_text(view, one, _US))
    if view.answered not in MOVES_BAND:
        yield tr("With it: {band}", band=band_text(first, _US))
    yield tr(
        "Drawdown {water}, run {run}; at cut-out the tank holds {held}, which its membrane must"
        " let in",
        water=_US.text(first.drawdown, VOLUME, 2),
        run=_US.text(first.run, TIME),
        held=_US.text(first.held, VOLUME),
    )
    yield from map(str, solve_steps(view, _US))
    for finding in view.beyond:
        yield tr("With the answer: {text}", text=finding.sentence(_US))
