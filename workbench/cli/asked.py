"""From the options to the results that a sub-command tells, or a refusal."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from workbench import paths
from workbench.cli.entered import job_from, needed_of_pump, needed_of_run
from workbench.cli.refusal import RefusalError, refuse_missing, refuse_stops
from workbench.job import document
from workbench.job.job import Job
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.catalog.table import Catalog
    from workbench.study.evaluate import Results
    from workbench.study.findings import Finding
    from workbench.study.ranking import Ranking

BAND = ("cut_in", "cut_out")
_RUN = ("run_time", "starts_limit")


@dataclass(frozen=True, slots=True)
class Asked:
    """The results of a job without a stop, and the catalogue that they rest on.

    ``run_is_asked``: a rule for the run was entered, by a file or an option.
    """

    results: Results
    catalog: Catalog
    run_is_asked: bool

    @property
    def source(self) -> dict[str, Any]:
        """What the record says of the catalogue."""
        return {
            "catalog": self.catalog.path.name,
            "catalog_rows_not_used": len(self.catalog.bad_rows),
        }

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Those of the results; none about a minimum run that nobody entered."""
        found = self.results.findings
        return tuple(one for one in found if self.run_is_asked or one.field not in _RUN)

    def refuse_no_tank(self) -> Ranking:
        """The ranking; raises a refusal where there is no tank in it."""
        ranking = self.results.ranking
        if ranking is None or not len(ranking):
            name = self.catalog.path.name
            raise RefusalError(tr("{name}: there is no tank to choose.", name=name))
        return ranking


def needed_to_size(options: argparse.Namespace) -> tuple[str, ...]:
    """The entries that a sizing cannot do without."""
    return (*needed_to_run(options), *needed_of_run(options))


def needed_to_run(options: argparse.Namespace) -> tuple[str, ...]:
    """The entries that the pump at its band cannot do without."""
    return (*needed_of_pump(options), *BAND)


def needed_with_tank(options: argparse.Namespace) -> tuple[str, ...]:
    """Those for one tank at this pump: where none is named, it is the first of the sizing."""
    return needed_to_size(options) if options.tank is None else needed_to_run(options)


def ask(options: argparse.Namespace, needed: Sequence[str] = ()) -> Asked:
    """Evaluate the job that the options describe, on top of its file if one is named.

    Args:
        options: parsed.
        needed: entries for which no default may stand in where there is no job file.

    Raises:
        RefusalError, JobError, CatalogError: it cannot be used.
    """
    from workbench.study.desk import load_candidates  # imports NumPy
    from workbench.study.evaluate import evaluate

    if options.job is None:
        refuse_missing([name for name in needed if getattr(options, name) is None])
        base = Job()
    else:
        base = document.read(options.job)
    job = job_from(options, base)
    catalog, candidates = load_candidates(options.catalog or paths.default_catalog(), job)
    if catalog.problems:  # with the file as a whole, not with a row of it
        first = catalog.problems[0]
        raise RefusalError(tr("{name}: {problem}", name=catalog.path.name, problem=first))
    results = evaluate(job, candidates)
    refuse_stops(results.findings)
    entered = (options.job, options.rule, *(getattr(options, name) for name in _RUN))
    return Asked(results, catalog, any(one is not None for one in entered))
