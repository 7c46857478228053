"""The job's system with the chosen fault in it: what could be read, and what looks the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

from workbench.job.teach_choices import Degree, Fault
from workbench.study.evaluate import Results
from workbench.study.faults.apart import NotWantedError, Other, other
from workbench.study.faults.made import with_fault
from workbench.study.faults.readings import (
    Reading,
    Taken,
    ToolTolerances,
    read_tolerances,
    readings,
    take,
    tells_apart,
)
from workbench.study.findings import Finding, Level
from workbench.study.live.rig import Rig
from workbench.study.reader import Reader
from workbench.words import tr


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading at the sound rig and at the faulty one, and whether they differ."""

    reading: Reading
    healthy: Taken
    faulty: Taken
    differs: bool


@dataclass(frozen=True, eq=False)
class FaultsView:
    """What the page shows. Without a rig ``why`` says what is missing.

    ``tap`` [m³/s] is the steady draw. ``rows``: every reading. ``findings`` are those that neither
    the results nor the live view tell.
    """

    healthy: Rig | None
    faulty: Rig | None
    tap: float | None
    fault: Fault
    degree: Degree
    tolerances: ToolTolerances | None
    rows: tuple[ReadingRow, ...]
    findings: tuple[Finding, ...]
    why: str

    @property
    def telling(self) -> tuple[ReadingRow, ...]:
        """The readings that tell the fault from a sound system."""
        return tuple(row for row in self.rows if row.differs)

    @cached_property
    def others(self) -> tuple[Other, ...]:
        """Every other fault, and a sound system, each with what tells it apart; worked out when
        it is first asked for, which may take longer than a frame.
        """
        return self.work_out(_always) or ()

    def work_out(self, wanted: Callable[[float], bool]) -> tuple[Other, ...] | None:
        """:attr:`others`; ``wanted`` is told the share that is done, 0 to 1, and may answer no:
        then None.
        """
        if self.healthy is None or self.faulty is None or self.tolerances is None:
            return ()
        faults = [one for one in Fault if one is not self.fault]
        asked = (self.tap or 0.0, self.tolerances)
        found = []
        try:
            for place, fault in enumerate(faults):
                still_wanted = partial(wanted, place / len(faults))
                found.append(other(self.healthy, self.faulty, fault, asked, still_wanted))
        except NotWantedError:
            return None
        return tuple(one for one in found if one is not None)

    @property
    def alike(self) -> tuple[Fault, ...]:
        """The faults that in some size no reading tells from this one."""
        return tuple(one.fault for one in self.others if one.is_alike)


def _always(_share: float) -> bool:
    return True


def faults_view(results: Results) -> FaultsView:
    """The chosen fault in the job's system; what stands in the way is among the findings, or those
    of the results and the live view.
    """
    job, live = results.job, results.live
    reader = Reader(job)
    tolerances = read_tolerances(reader)
    healthy = live.rig
    faulty = _made(healthy, job.fault, job.degree, reader)
    rows: tuple[ReadingRow, ...] = ()
    if healthy is not None and faulty is not None and tolerances is not None:
        rows = tuple(_row(one, healthy, faulty, live.tap or 0.0, tolerances) for one in readings())
        if job.fault is not Fault.NONE and not any(row.differs for row in rows):
            reader.report(
                Level.NOTE,
                "fault_unseen",
                "degree",
                tr("No reading tells this from a sound system: every difference lies within the"
                   " tolerances."),
                tr("Finer tools, or a fault that has gone further."),
            )  # fmt: skip
    return FaultsView(
        healthy=healthy,
        faulty=faulty,
        tap=live.tap,
        fault=job.fault,
        degree=job.degree,
        tolerances=tolerances,
        rows=rows,
        findings=tuple(reader.findings),
        why=live.why,
    )


def _made(healthy: Rig | None, fault: Fault, degree: Degree, reader: Reader) -> Rig | None:
    if healthy is None:
        return None
    try:
        return with_fault(healthy, fault, degree)
    except ValueError as error:
        reader.report(
            Level.STOP,
            "fault_impossible",
            "fault",
            tr("This system cannot have it: {reason}.", reason=str(error).rstrip(".")),
            tr("Choose another degree or fault, or change band or precharge."),
        )
        return None


def _row(
    reading: Reading, healthy: Rig, faulty: Rig, tap: float, tolerances: ToolTolerances
) -> ReadingRow:
    sound = take(healthy, reading, tap, tolerances)
    taken = take(faulty, reading, tap, tolerances)
    return ReadingRow(reading, sound, taken, tells_apart(sound, taken))
