"""From a catalogue file to the candidates that a job ranks."""

from __future__ import annotations

from pathlib import Path

from workbench.catalog.table import Catalog, read_catalog
from workbench.job.job import Job
from workbench.study.candidates import Candidates


def load_candidates(path: Path, job: Job) -> tuple[Catalog, Candidates]:
    """Read a catalogue and arrange its usable tanks as the job allows. Raises CatalogError."""
    catalog = read_catalog(path)
    return catalog, Candidates.of(catalog.columns, job.header_tanks)
