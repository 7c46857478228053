"""From a catalogue, or the rows saved in a job, to the candidates that are ranked."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from workbench.catalog.columns import TankColumns
from workbench.catalog.table import Catalog, read_catalog
from workbench.catalog.tank import Tank
from workbench.job.job import CatalogSnapshot, Job
from workbench.study.candidates import Candidates
from workbench.study.evaluate import Results
from workbench.study.ranking import Ranking
from workbench.words import tr

_NAMING = ("first_tank", "second_tank", "offer_a_tank", "offer_b_tank", "offer_c_tank")
"""The entries that name a tank."""


def load_candidates(path: Path, job: Job) -> tuple[Catalog, Candidates]:
    """Read a catalogue and arrange its usable tanks as the job allows. Raises CatalogError."""
    catalog = read_catalog(path)
    return catalog, _of_catalog(catalog, job.header_tanks, job.mixed_sets)


def candidates_of(
    rows: Catalog | CatalogSnapshot | None, most: int, *, mixed: bool = False
) -> Candidates | None:
    """The arrangements of up to ``most`` equal tanks; None without rows. The last few are kept.

    ``mixed``: and pairs of different tanks.
    """
    if rows is None:
        return None
    if isinstance(rows, Catalog):
        return _of_catalog(rows, most, mixed)
    return _of_saved(rows.tanks, most, mixed)


@lru_cache(maxsize=4)
def _of_catalog(catalog: Catalog, most: int, mixed: bool) -> Candidates:
    return Candidates.of(catalog.columns, catalog.by_id, most, mixed=mixed)


@lru_cache(maxsize=4)
def _of_saved(tanks: tuple[Tank, ...], most: int, mixed: bool) -> Candidates:
    by_id = {tank.id: tank for tank in tanks}
    return Candidates.of(TankColumns.from_tanks(tanks), by_id, most, mixed=mixed)


def offered_tanks(ranking: Ranking | None) -> tuple[Tank, ...]:
    """The different tanks among the candidates that pass, in order."""
    if ranking is None:
        return ()
    found = (tank for place in range(ranking.passing) for tank in ranking.row(place).kinds)
    return _each_once(found)


def used_tanks(results: Results) -> tuple[Tank, ...]:
    """Those offered, then those that the job names besides, and those of its estimate's options,
    which may pass at another band only; so a saved job keeps all that it needs.
    """
    named: list[Tank] = []
    candidates = results.candidates
    for name in _NAMING:
        index = candidates.by_key.get(getattr(results.job, name)) if candidates else None
        if candidates is not None and index is not None:
            named += candidates.parts(index)
    return _each_once((*offered_tanks(results.ranking), *named, *results.estimate.tanks))


def _each_once(tanks: Iterable[Tank]) -> tuple[Tank, ...]:
    return tuple({tank.id: tank for tank in tanks}.values())


def changed_since(saved: CatalogSnapshot | None, catalog: Catalog | None) -> list[str]:
    """One sentence for each saved tank that the catalogue no longer holds as it was."""
    if saved is None or catalog is None:
        return []
    now = catalog.by_id
    lines = []
    for tank in saved.tanks:
        present = now.get(tank.id)
        if present is None:
            lines.append(tr("{name} is no longer in the catalogue.", name=tank.name))
        elif present != tank:
            names = ", ".join(
                name.replace("_", " ")
                for name in type(tank).model_fields
                if getattr(tank, name) != getattr(present, name)
            )
            lines.append(tr("{name}: changed {names}.", name=tank.name, names=names))
    return lines
