"""The price list of a job beside what its first option comes to: what the office looks at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.study.findings import Finding
from workbench.study.pricing.findings import list_findings, orphans, unlisted
from workbench.study.pricing.parts import arrangement, counted
from workbench.study.pricing.rows import Row, read_rates
from workbench.study.pricing.view import Priced, price_rows

if TYPE_CHECKING:
    from workbench.study.estimate.view import Offer
    from workbench.study.evaluate import Results


@dataclass(frozen=True, eq=False)
class PriceSheet:
    """The rows of the list with the quantities of option A.

    ``priced`` is None where the option has no tank. ``missing``: codes that the option takes and
    the list does not have. ``orphans``: codes of quantities whose item the list does not have.
    """

    offer: Offer
    priced: Priced | None
    rows: tuple[Row, ...]
    missing: tuple[str, ...]
    orphans: tuple[str, ...]
    findings: tuple[Finding, ...]


def price_sheet(results: Results) -> PriceSheet:
    """The price list with the first option of the estimate."""
    offer = results.estimate.offers[0]
    job, one = results.job, offer.one
    rows = price_rows(job, one, band_moves=offer.band_moves)
    if one is None or offer.priced is None:
        own = (
            *read_rates(job).findings,
            *list_findings(job),
            *(problem.finding for row in rows for problem in row.problems),
        )
        missing: tuple[str, ...] = ()
    else:
        own = offer.priced.findings
        missing = unlisted(job, counted(arrangement(job, one, band_moves=offer.band_moves)))
    return PriceSheet(
        offer=offer,
        priced=offer.priced,
        rows=rows,
        missing=missing if job.prices else (),
        orphans=orphans(job),
        findings=tuple(dict.fromkeys((*own, *offer.findings))),
    )
