"""The options of an estimate, each at its switch band, judged and priced; and its dates.

An option takes the tank that the job names in the ranking of the option's own band. Option A
without a name takes the first that passes there; B and C without a name are not offered.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from workbench.catalog.tank import Tank
from workbench.study.estimate.dates import read_dates
from workbench.study.estimate.found import Found, read_found
from workbench.study.estimate.offers import Offer, offers
from workbench.study.estimate.open_points import open_points
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.firm.view import logo_findings
from workbench.study.reader import Reader

__all__ = ["EstimateView", "Found", "Offer", "estimate_view"]


@dataclass(frozen=True, eq=False)
class EstimateView:
    """All that an estimate says.

    ``offers`` are those that exist, in the order of their letters. ``date`` and ``valid_until`` are
    None where no date is entered or it cannot be read. ``highest_fixture`` [m] is how far above the
    tank the highest fixture is, where that is entered. ``findings`` are those of the paper and of
    its prices; those of one option stand in ``offer.findings``.
    """

    offers: tuple[Offer, ...]
    date: datetime.date | None
    valid_until: datetime.date | None
    found: Found
    highest_fixture: float | None
    findings: tuple[Finding, ...]

    @cached_property
    def every_finding(self) -> tuple[Finding, ...]:
        """Those of the paper and of every option, each once; not those of the job itself."""
        return once((*self.findings, *(one for offer in self.offers for one in offer.findings)))

    @property
    def tanks(self) -> tuple[Tank, ...]:
        """The different tanks of all options; a saved job must keep them to be what it was."""
        parts = (part for offer in self.offers if offer.one for part in offer.one.parts)
        return tuple({part.id: part for part in parts}.values())

    @property
    def stops(self) -> tuple[Finding, ...]:
        """What keeps the estimate from being handed over."""
        return tuple(one for one in self.every_finding if one.level is Level.STOP)


def estimate_view(results: Results) -> EstimateView:
    """The options that the job describes, each at its band, with prices; nothing is guessed."""
    job = results.job
    reader = Reader(job)
    date, valid_until = read_dates(job, reader)
    found = read_found(results, reader)
    highest = reader.value("highest_fixture", needed=False)
    options = offers(results, found, reader)
    of_prices = (one for offer in options if offer.priced for one in offer.priced.findings)
    return EstimateView(
        offers=options,
        date=date,
        valid_until=valid_until,
        found=found,
        highest_fixture=highest,
        findings=once((*reader.findings, *open_points(job), *logo_findings(job), *of_prices)),
    )


def once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings in their order, each once."""
    told: list[Finding] = []
    for one in findings:  # those with values have no hash
        if one not in told:
            told.append(one)
    return tuple(told)
