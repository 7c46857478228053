"""What the running pump takes from the wire in a simulated run, where its head is known.

The head is that of the pump's curve; without one it is lift, friction and the tank's pressure:
total dynamic head, training sheet "Determining total dynamic head" for well-water sanitarians.
"""

from __future__ import annotations

import numpy as np

from workbench.physics import day_figures
from workbench.physics.air import FloatArray
from workbench.physics.day import Run
from workbench.physics.fill import FillCurve
from workbench.physics.pump import WATER_WEIGHT
from workbench.study.supply import Supply

_GAUSS, _WEIGHTS = np.polynomial.legendre.leggauss(8)


def knows_energy(supply: Supply) -> bool:
    """Whether what was entered tells the energy: pumping level (or curve) and efficiency."""
    return supply.well.efficiency is not None and supply.well.lift is not None


def leaves_friction_out(supply: Supply) -> bool:
    """Whether the pipe's friction is missing in the head, since its length was not entered."""
    return supply.curve is None and supply.well.riser is None


def energy_of(run: Run, fill: FillCurve, supply: Supply) -> float | None:
    """Energy [J] from the wire, or None where it is not known (:func:`knows_energy`)."""
    well = supply.well
    if well.efficiency is None or well.lift is None:
        return None
    if supply.delivery.is_constant:
        return _at_constant_flow(run, fill, supply, well.lift) / well.efficiency
    return day_figures.energy(run, fill, lambda flow: _head(supply, flow), well.efficiency)


def _head(supply: Supply, flow: FloatArray) -> FloatArray:
    """The pump's head [m] at a flow that falls with the pressure."""
    if supply.curve is not None:
        return np.asarray(supply.curve.head(flow))
    lift = supply.well.lift
    assert lift is not None  # noqa: S101 - asked only where it is known
    return np.asarray(lift + _lost(supply, flow) + supply.delivery.pressure(flow) / WATER_WEIGHT)


def _lost(supply: Supply, flow: FloatArray | float) -> FloatArray:
    riser = supply.well.riser
    return np.zeros(np.shape(flow)) if riser is None else np.asarray(riser.head_lost(flow))


def _at_constant_flow(run: Run, fill: FillCurve, supply: Supply, lift: float) -> float:
    """Q · ∫ (ρ g (lift + friction) + p) dt over the pump's time, as hydraulic energy [J].

    The water moves evenly in each piece, so the mean of p over its water is that over its time.
    An empty tank's line stands at nil gauge (``physics.day``).
    """
    on = run.pump_on
    before, after, seconds = run.water[:-1][on], run.water[1:][on], run.seconds[on]
    middle, half = (before + after) / 2.0, (after - before) / 2.0
    water = middle[:, np.newaxis] + half[:, np.newaxis] * _GAUSS
    pressure = np.asarray(fill.pressure_at(water)) @ (_WEIGHTS / 2.0)
    pressure[run.tank_empty[on]] = 0.0
    flow = supply.delivery.highest_flow
    head = WATER_WEIGHT * (lift + float(_lost(supply, flow)))
    return flow * float(np.dot(head + pressure, seconds))
