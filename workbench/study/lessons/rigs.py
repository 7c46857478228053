"""The system of a lesson's tank: that of its job, with the fault that is set loose in it."""

from __future__ import annotations

from workbench.job.teach_choices import Fault
from workbench.study.evaluate import Results
from workbench.study.live.rig import Rig


def rig_of(results: Results) -> tuple[Rig | None, float | None, str]:
    """What is set in motion, the tap's draw [m³/s], and what is missing where there is no rig."""
    live = results.live
    rig = live.rig
    if rig is not None and results.job.fault is not Fault.NONE:
        from workbench.study.faults.made import with_fault

        try:
            rig = with_fault(rig, results.job.fault, results.job.degree)
        except ValueError as error:  # a fault that this system cannot have
            return None, live.tap, str(error)
    return rig, live.tap, live.why
