"""What a page with a live tank shows beside its results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.physics.system import Moment
from workbench.study.live.rig import Rig

if TYPE_CHECKING:
    from workbench.study.evaluate import Results
    from workbench.study.faults.apart import Other


@dataclass(frozen=True, eq=False)
class Watching:
    """A moment of a rig in motion, with the results that it was made from.

    ``results`` may be others than the job's, as in a lesson. ``tap`` [m³/s] is what the tap is open
    for. ``others`` are the other faults, where the page tells them apart and has done so.
    """

    results: Results
    rig: Rig
    moment: Moment
    tap: float
    others: tuple[Other, ...] = ()
