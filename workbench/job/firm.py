"""What belongs to the firm and not to one job: its letterhead, its price list, its clauses.

Every job carries them, so that an estimate stays what it was when a price changes. A new job begins
with those of the firm's own file, which is written when the firm keeps those of a job; before that
with the ones that come with the program, whose prices are invented.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from workbench import paths, safe_file
from workbench.file_reasons import why_not_saved
from workbench.job import migrations, sealed
from workbench.job.document import job_from
from workbench.job.job import Job
from workbench.words import tr

FORMAT = "tank-workbench firm"
FIRM_ENTRIES = (
    *("firm_name", "firm_address", "firm_contact", "firm_licence", "firm_insurance", "firm_logo"),
    *("currency", "money_form", "paper", "prices", "prices_invented", "tank_price", "tank_taxed"),
    *("markup", "labour_rate", "labour_cost", "tax", "rounding", "valid_days"),
    *("clause_allowances", "clause_assumptions", "clause_exclusions", "clause_schedule"),
    *("clause_payment", "clause_warranty", "clause_acceptance"),
    *("with_readings", "with_plot", "with_lines", "with_allowances", "with_assumptions"),
    *("with_exclusions", "with_schedule", "with_payment", "with_warranty", "with_permit"),
    *("with_acceptance", "with_working"),
)
"""The entries of a job that are the firm's."""

_KEPT = ("schema_version", *FIRM_ENTRIES)
_FIRST_VERSION = 3  # of the job's schema: there was no firm before


class FirmError(safe_file.FileError):
    """A firm's file that cannot be read."""


def entries_of(job: Job) -> dict[str, Any]:
    """What a job holds of its firm, by the entries' names."""
    return {name: getattr(job, name) for name in FIRM_ENTRIES}


def differing(job: Job, entries: dict[str, Any]) -> tuple[str, ...]:
    """The names of those of the firm's entries that are others in the job."""
    return tuple(name for name in FIRM_ENTRIES if getattr(job, name) != entries[name])


def own_firm_path() -> Path:
    """The firm's own file. It may not exist yet."""
    return paths.user_data() / "firm.json"


def firm_entries() -> dict[str, Any]:
    """The entries of the firm's own file; before there is one, those that come with the program.

    Raises:
        FirmError: the file is there but cannot be read.
    """
    return read_firm(own_firm_path()) if has_own_file() else shipped_entries()


def has_own_file() -> bool:
    """Whether the firm has kept a file of its own."""
    try:
        return own_firm_path().exists()
    except OSError:
        return True  # nobody may look; reading it will tell why


def shipped_entries() -> dict[str, Any]:
    """The entries that come with the program; their prices are invented."""
    return read_firm(paths.resources() / "firm.json")


def new_job() -> Job:
    """A new job of this firm. Raises :class:`FirmError`."""
    return Job().changed(**firm_entries())


def to_bytes(job: Job) -> bytes:
    """The firm's file of what a job holds of it: the same every time."""
    from workbench.job.checking import plain  # pydantic: not needed before the first frame

    content = plain(job)
    return sealed.to_bytes(FORMAT, {name: content[name] for name in _KEPT})


def write_firm(job: Job, path: Path) -> None:
    """Keep the firm's entries of a job as the firm's file; its folder is made if need be.

    Raises:
        safe_file.SaveError: nothing was written; an older file is untouched.
    """
    data = to_bytes(job)
    if len(data) > sealed.LARGEST_FILE:
        raise safe_file.SaveError(
            tr("The firm's file would be too large to be read again."),
            tr("Shorten the price list."),
        )
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason, remedy = why_not_saved(error, path.parent)
        raise safe_file.SaveError(
            tr("“{name}” could not be saved: {reason}.", name=path.name, reason=reason), remedy
        ) from error
    safe_file.write_atomic(path, data)


def read_firm(path: Path) -> dict[str, Any]:
    """The entries of a firm's file, each checked as in a job.

    Raises:
        FirmError: missing, no such file, damaged, incomplete, or of a newer version of the program.
    """
    return from_bytes(sealed.read(path, FirmError), path.name)


def from_bytes(data: bytes, name: str) -> dict[str, Any]:
    """Read the content of a firm's file; ``name`` is for messages. Raises :class:`FirmError`."""
    content = sealed.unsealed(data, name, FORMAT, FirmError, _FIRST_VERSION)
    if content is None:
        raise FirmError(
            tr("{name} is not a firm's file of this program.", name=name),
            tr("Keep what a job holds of your firm once more; that writes the file anew."),
        )
    given = content.keys()
    content = migrations.migrated(content)
    strange = [entry for entry in given if entry in content and entry not in _KEPT]
    if strange:
        raise sealed.unusable(name, sealed.listed(strange), FirmError)
    sealed.require(content, FIRM_ENTRIES, name, FirmError)
    return entries_of(job_from({entry: content[entry] for entry in _KEPT}, name, FirmError))
