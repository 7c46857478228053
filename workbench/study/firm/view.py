"""What stands in the way of printing the firm's letterhead and the estimate's validity."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.study.estimate.dates import read_dates
from workbench.study.findings import Finding, Level
from workbench.study.firm.logo import LogoError, logo_of
from workbench.study.reader import Reader


def firm_findings(job: Job) -> tuple[Finding, ...]:
    """The findings beside the entries of the firm, but for its prices."""
    return (*logo_findings(job), *validity_findings(job))


def validity_findings(job: Job) -> tuple[Finding, ...]:
    """What is wrong with the days for which an estimate is valid."""
    reader = Reader(job)
    read_dates(job, reader)
    return tuple(finding for finding in reader.findings if finding.field == "valid_days")


def logo_findings(job: Job) -> tuple[Finding, ...]:
    """Why the logo in the job, perhaps written there by another program, cannot be printed.

    It is read whole, which takes a millisecond.
    """
    try:
        logo_of(job.firm_logo)
    except LogoError as error:
        return (Finding(Level.CAUTION, "logo_unusable", "firm_logo", str(error), error.remedy),)
    return ()
