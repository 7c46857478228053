"""What the firm has kept for its new jobs, beside what the present job holds of it."""

from __future__ import annotations

from typing import Any

from workbench import safe_file
from workbench.job import firm
from workbench.job.firm import FirmError
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.words import tr


class Kept:
    """The firm's file as it was when it was last read.

    ``entries`` are its own, or those that come with the program while it is not ``own``; None with
    the ``problem`` if the file cannot be read.
    """

    def __init__(self) -> None:
        self.own = False
        self.entries: dict[str, Any] | None = None
        self.problem: FirmError | None = None

    def read(self) -> None:
        """Look at the file."""
        self.own = firm.has_own_file()
        try:
            self.entries, self.problem = firm.firm_entries(), None
        except FirmError as error:
            self.entries, self.problem = None, error

    def keep(self, job: Job) -> str:
        """Make the job's the firm's own; what could not be read before is set aside first.

        Returns what was done, for the user. Raises :class:`safe_file.SaveError`.
        """
        path = firm.own_firm_path()
        aside = safe_file.keep_backup(path) if self.problem is not None else None
        firm.write_firm(job, path)
        safe_file.remove_leftovers(path.parent)
        self.read()
        if aside is None:
            return tr("Kept in {path}.", path=path)
        return tr("Kept in {path}; the file before is {aside} now.", path=path, aside=aside.name)

    def answer(self, job: Job) -> tuple[str, str, str]:
        """Whether the job's are the firm's: the figure, the reason, and the reason's role."""
        if self.entries is None:
            why = tr("{problem} Or keep this job's; the file is then set aside.",
                     problem=self.problem)  # fmt: skip
            return tr("Cannot be read"), why, "problem"
        names = firm.differing(job, self.entries)
        told = ", ".join(firm_label(name) for name in names)
        if not self.own:
            unkept = tr("New jobs begin with the texts and invented prices that come with the"
                        " program, until you keep your own.")  # fmt: skip
            return tr("Not kept yet"), unkept, "muted"
        if names:
            differ = tr("This job's differ from your firm's file in: {entries}.", entries=told)
            return tr("{count} differ", count=len(names)), differ, "caution"
        return tr("As kept"), tr("These are your firm's own; every new job begins with them."), (
            "muted"
        )  # fmt: skip


def firm_label(name: str) -> str:
    """What a person calls one of the firm's entries; a part that can be left out says so."""
    label = label_of(name)
    return tr("part “{label}”", label=label) if name.startswith("with_") else label
