"""``estimate``: the estimate of a saved job, as PDF or plain text, without a display."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from workbench.cli.output import finding_lines, show
from workbench.cli.papers import add_paper_options, hand_over, paper_results
from workbench.cli.refusal import RefusalError
from workbench.job.paper_choices import Copy
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results


def add(commands: Any) -> None:
    """Add the parser of this sub-command."""
    parser = commands.add_parser("estimate", help=tr("the estimate of a job, as a file"))
    parser.description = tr(
        "Write the estimate of a saved job. It is the customer's copy, unless --office is given."
    )
    add_paper_options(parser)
    parser.add_argument(
        "--office", action="store_true", help=tr("the office copy, with cost and margin")
    )
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = paper_results(options)
    from workbench.report.estimate import estimate_content
    from workbench.report.sheet import withheld
    from workbench.study.findings import Level

    copy = Copy.OFFICE if options.office else Copy.CUSTOMER
    results = replace(asked.results, job=replace(asked.results.job, copy_for=copy))
    if stops := (*results.of_level(Level.STOP), *results.estimate.stops):
        raise RefusalError(withheld(stops, asked.display, tr("No estimate is written.")))
    record = {"catalog": asked.file, "catalog_from": _from(options, results)} | _record(results)
    content = estimate_content(results, asked.display)
    status = hand_over(options, content, record)
    if options.output is not None and not options.json:
        show([*_totals(results), *finding_lines(record)])
    return status


def _record(results: Results) -> dict[str, Any]:
    from workbench.report.fingerprint import fingerprint
    from workbench.study.estimate.record import estimate_record

    return {"fingerprint": fingerprint(results)} | estimate_record(results)


def _from(options: argparse.Namespace, results: Results) -> str:
    """Where the tanks come from."""
    saved = results.job.catalog
    if options.catalog is not None:
        return "option"
    return "job" if saved is not None and saved.tanks else "demo"


def _totals(results: Results) -> list[str]:
    from workbench.study.pricing.money import money

    return [
        tr("Option {letter}, {tank} at {band}: {total}",
           letter=offer.letter, tank=offer.one.name, band=offer.band_name,
           total=money(offer.priced.totals.total, results.job))
        for offer in results.estimate.offers
        if offer.one and offer.priced and offer.priced.totals
    ]  # fmt: skip
