"""What each size of a pipe loses to friction at round flows, and where the water runs fast."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workbench.job.job import Job
from workbench.physics.air import FloatArray
from workbench.physics.forgiving import SAME
from workbench.physics.pipe import HIGHEST_VELOCITY, PIPES, friction_head, velocity
from workbench.study.supply import Well
from workbench.units import System
from workbench.units.kinds import FLOW
from workbench.units.reading import Quantity

ROUND_FLOWS: dict[System, tuple[float, ...]] = {
    System.US: tuple(n * FLOW.units["gpm"].factor for n in (5, 10, 15, 20)),
    System.METRIC: tuple(n * FLOW.units["L/min"].factor for n in (20, 40, 60, 80)),
}
"""Flows [m³/s] of a friction table, round in the units in which it is read."""


@dataclass(frozen=True, eq=False)
class FrictionTable:
    """Sizes (m,) by flows (n,) [m³/s]; the pipe's own bore, if it was typed, is the size "".

    ``loss`` (m, n) is lost head by length of plain pipe [m/m]; ``speed`` (m, n) [m/s]; ``fast``
    (m, n) where that is above the usual limit. ``chosen`` is the row of the job's own pipe.
    """

    sizes: tuple[str, ...]
    bores: FloatArray
    flows: FloatArray
    loss: FloatArray
    speed: FloatArray
    fast: np.ndarray
    roughness: float
    chosen: int


def friction_tables(job: Job, well: Well) -> dict[System, FrictionTable]:
    """The table of the job's pipe material for each system of units."""
    pipe = PIPES[job.pipe_material.value]
    typed = job.pipe_roughness.si if isinstance(job.pipe_roughness, Quantity) else 0.0
    roughness = typed if typed > 0.0 else pipe.roughness_c
    sizes, bores = list(pipe.bores), list(pipe.bores.values())
    chosen = sizes.index(job.pipe_size.value)
    if job.pipe_bore is not None and well.bore is not None:
        chosen = len(sizes)
        sizes.append("")
        bores.append(well.bore)
    return {
        system: friction_table(tuple(sizes), np.array(bores), np.array(flows), roughness, chosen)
        for system, flows in ROUND_FLOWS.items()
    }


def friction_table(
    sizes: tuple[str, ...], bores: FloatArray, flows: FloatArray, roughness: float, chosen: int
) -> FrictionTable:
    """Friction by :func:`workbench.physics.pipe.friction_head` of bores (m,) [m] and flows (n,)."""
    loss = friction_head(flows[np.newaxis, :], 1.0, bores[:, np.newaxis], roughness)
    speed = velocity(flows[np.newaxis, :], bores[:, np.newaxis])
    fast = speed > HIGHEST_VELOCITY * (1.0 + SAME)
    return FrictionTable(sizes, bores, flows, loss, speed, fast, roughness, chosen)
