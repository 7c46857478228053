"""From the command line to a paper: the job, its catalogue, and the file that is written."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench import paths
from workbench.cli import output
from workbench.cli.options import add_json
from workbench.cli.refusal import RefusalError
from workbench.job import document
from workbench.job.job import CatalogSnapshot, Job
from workbench.safe_file import SaveError, write_atomic
from workbench.units import Display, System
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.catalog.table import Catalog
    from workbench.report.blocks import PaperContent
    from workbench.study.evaluate import Results

PDF, TEXT = ".pdf", ".txt"
_COARSE = 20.0  # pixels per inch: the pages are only counted


@dataclass(frozen=True, slots=True)
class Papered:
    """The results of a job, with whatever stops stand in it, and how they are to be shown.

    ``file`` names the catalogue that they rest on, without its folder.
    """

    results: Results
    display: Display
    file: str


def add_paper_options(parser: argparse.ArgumentParser, *, is_of_a_job: bool = True) -> None:
    """The job, where the paper goes, its units, and the catalogue.

    Args:
        is_of_a_job: a job must be named, and its saved rows go before the demo catalogue.
    """
    if is_of_a_job:
        catalog = tr(
            "catalogue of tanks; if none, the rows that the job was saved with, else the demo's"
        )
        parser.add_argument("job", type=Path, metavar="JOBFILE", help=tr("a saved job"))
    else:
        catalog = tr("catalogue of tanks; the demo's if none")
        parser.add_argument(
            "job", nargs="?", type=Path, metavar="JOBFILE",
            help=tr("a saved job; as in a new job where it is left out"),
        )  # fmt: skip
    parser.add_argument(
        "-o", "--output", type=Path, metavar="FILE",
        help=tr("where the paper is written: a PDF, or as plain text where the name ends in .txt"),
    )  # fmt: skip
    parser.add_argument(
        "--text", action="store_true", help=tr("plain text; printed where no FILE is named")
    )
    parser.add_argument(
        "--si", action="store_true", help=tr("in SI units in the place of US customary ones")
    )
    parser.add_argument("--catalog", type=Path, metavar="FILE", help=catalog)
    add_json(parser)


def paper_results(options: argparse.Namespace, *, saved_rows: bool = True) -> Papered:
    """Evaluate the job of the options.

    Args:
        options: of a parser that has :func:`add_paper_options`.
        saved_rows: whether the rows that the job was saved with go before the demo catalogue.

    Raises:
        RefusalError, JobError, CatalogError: it cannot be used.
    """
    refuse_place(options)  # before anything takes its time
    from workbench.study.desk import candidates_of  # imports NumPy
    from workbench.study.evaluate import evaluate

    job = new_job() if options.job is None else document.read(options.job)
    saved = job.catalog if saved_rows and options.catalog is None else None
    rows = (
        saved
        if saved and saved.tanks
        else _read_catalog(options.catalog or paths.default_catalog())
    )
    candidates = candidates_of(rows, job.header_tanks, mixed=job.mixed_sets)
    display = Display(System.METRIC if options.si else System.US)
    file = rows.file if isinstance(rows, CatalogSnapshot) else rows.path.name
    return Papered(evaluate(job, candidates), display, file)


def new_job() -> Job:
    """The job of a paper that needs none but its firm. Raises RefusalError."""
    from workbench.job import firm

    try:
        return firm.new_job()
    except firm.FirmError as error:
        raise RefusalError(str(error)) from error


def _read_catalog(path: Path) -> Catalog:
    from workbench.catalog.table import read_catalog

    catalog = read_catalog(path)
    if catalog.problems:  # with the file as a whole, not with a row of it
        first = catalog.problems[0]
        raise RefusalError(tr("{name}: {problem}", name=catalog.path.name, problem=first))
    return catalog


def wants_text(options: argparse.Namespace) -> bool:
    """Whether the paper is asked for as plain text."""
    return bool(options.text) or (options.output is not None and _ending(options.output) == TEXT)


def refuse_place(options: argparse.Namespace) -> None:
    """Raise a refusal where the options name no file, or one of another kind."""
    if options.text and options.json:
        raise RefusalError(tr("either --text or --json, not both"))
    if options.output is None:
        if not (options.text or options.json):
            raise RefusalError(tr("say where to write it: -o FILE, --text or --json"))
        return
    if _ending(options.output) not in (PDF, TEXT):
        raise RefusalError(
            tr("-o {name}: the name must end in .pdf or .txt.", name=options.output.name)
        )
    if options.text and _ending(options.output) == PDF:
        raise RefusalError(tr("--text: plain text does not go into a file named .pdf."))


def hand_over(
    options: argparse.Namespace, content: PaperContent | str, record: dict[str, Any]
) -> int:
    """Write, print, or tell as JSON what the options ask for. Returns the exit status.

    Raises:
        RefusalError: there is no paper, or it cannot be written.
    """
    if isinstance(content, str):
        raise RefusalError(content)
    if options.output is not None or not options.json:
        _write(content, options.output, wants_text(options))
    if options.json:
        return output.answer(record, (), as_json=True)
    if options.output is not None:
        output.show([_written(content, options.output.name, wants_text(options))])
    return 0


def _written(content: PaperContent, name: str, as_text: bool) -> str:
    """What was written, in one line."""
    if as_text:
        return tr("{name}: plain text", name=name)
    from workbench.report.typeset import images

    return tr("{name}: PDF, pages: {count}", name=name, count=len(images(content, _COARSE)))


def _write(content: PaperContent, path: Path | None, as_text: bool) -> None:
    """Write a paper, or print its text where ``path`` is None.

    Raises:
        RefusalError: it cannot be set in type or written.
    """
    if as_text:
        from workbench.report.plain_text import plain_text

        text = plain_text(content)
        if path is None:
            output.show([text.rstrip("\n")])
            return
        data = text.encode("utf-8")
    else:
        from workbench.report.typeset import PaperError, pdf

        try:
            data = pdf(content)
        except PaperError as error:
            raise RefusalError(f"{error.message} {error.remedy}".strip()) from error
    assert path is not None  # noqa: S101 - a PDF without a file was refused
    try:
        write_atomic(path, data)
    except SaveError as error:
        raise RefusalError(str(error)) from error


def _ending(path: Path) -> str:
    return path.suffix.lower()
