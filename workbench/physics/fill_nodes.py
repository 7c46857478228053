"""Where the straight lines of a fill curve begin and end.

A line's error counts most where flow and demand nearly balance, and the pump's last net flow, just
below cut-out, is the smallest. For a demand as high as the flow at cut-out the error of a line of
width h at a distance d from cut-out goes as h³ / d², and it is least for a given number of nodes if
they lie at the cubes of even steps: d ~ u³. So nodes are spread by cubes, in an even mixture of
flow and water (flow alone would leave gaps where it hardly changes, water alone where the curve is
steep, as it is near the shut-off). To them come the places where the curve has a corner.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from workbench.physics.air import AbsolutePressure, FloatArray, absolute, gauge, gauge_pressure
from workbench.physics.header import Vessels
from workbench.physics.pump import Delivery
from workbench.words import tr

_NODES, _COARSE = 2000, 200
_STRAIGHT = 1e-9  # a flow that changes by less than this share is one straight line
_SAME = 1e-14  # share of the water below which two nodes are one


class Nodes(NamedTuple):
    """What :class:`workbench.physics.fill.FillCurve` is made of; see there."""

    water: FloatArray
    flow: FloatArray
    pressure: FloatArray
    cut_in_water: float
    held_below: float | None


def place_nodes(
    delivery: Delivery, vessels: Vessels, cut_in: float, cut_out: float, ambient: float
) -> Nodes:
    """Nodes of a fill curve, about 2,000 for a falling flow and a few for a constant one.

    Args:
        cut_in, cut_out: gauge pressures [Pa]; ambient: absolute [Pa].

    Raises:
        ValueError: as :meth:`workbench.physics.fill.FillCurve.of`.
    """
    if not cut_in < cut_out:
        raise ValueError(tr("cut-out must be above cut-in"))
    air = AbsolutePressure(np.asarray(ambient, dtype=np.float64))
    empty = float(np.min(vessels.precharge)) - ambient
    if not empty < cut_out:
        raise ValueError(tr("the precharge is not below cut-out, so the tank takes no water"))
    start = max(cut_in, empty)
    bends = _bends(vessels, air)
    pressure = np.concatenate(([empty, start, cut_out], bends[(bends > empty) & (bends < cut_out)]))
    flow = np.asarray(delivery.flow(gauge_pressure(pressure)))
    if np.isnan(flow[1:3]).any():
        raise ValueError(tr("the pump's data do not reach from cut-in to cut-out; add points"))
    held_below = None
    if np.isnan(flow[0]):
        held_below = float(delivery.pressure(delivery.highest_flow))
        flow = np.where(np.isnan(flow), delivery.highest_flow, flow)
    most, least = float(flow[0]), float(flow[2])
    if most - least > _STRAIGHT * most:
        more = np.concatenate((_spread(delivery, vessels, air, most, least), _joints(delivery)))
        more = more[(more > least) & (more <= most)]
        if least == 0.0:
            more = np.append(more, 0.0)  # the shut-off, which may lie below cut-out
        at = np.asarray(delivery.pressure(more))
        inside = (at > empty) & (at < cut_out)
        flow = np.concatenate((flow, more[inside]))
        pressure = np.concatenate((pressure, at[inside]))
    return _in_order(vessels, air, flow, pressure, start, held_below)


def _bends(vessels: Vessels, ambient: AbsolutePressure) -> FloatArray:
    """Gauge pressures [Pa] at which a tank begins to fill or is full; inf if it is never full."""
    share = 1.0 - np.minimum(vessels.acceptance / vessels.volume, 1.0)
    with np.errstate(divide="ignore"):
        full = vessels.precharge / share**vessels.exponent
    return gauge(AbsolutePressure(np.concatenate((vessels.precharge, full))), ambient)


def _joints(delivery: Delivery) -> FloatArray:
    """Flows [m³/s] at which the pump's curve may bend, with the last one that its data cover."""
    return np.append(delivery.knots, delivery.highest_flow)


def _spread(
    delivery: Delivery, vessels: Vessels, ambient: AbsolutePressure, most: float, least: float
) -> FloatArray:
    """Flows [m³/s] strictly between those when empty and at cut-out, close together at cut-out."""
    coarse = least + (most - least) * np.linspace(0.0, 1.0, _COARSE) ** 3
    coarse[-1] = most  # a sum's last digit could pass the end of the pump's data
    held = vessels.water(absolute(delivery.pressure(coarse), ambient))
    top = held[0]
    mixed = 0.5 * (coarse - least) / (most - least) + 0.5 * (top - held) / top
    # The mixture's cube root is nearly straight over that of the flow, so it is read backwards.
    steps = np.linspace(0.0, 1.0, _NODES)[1:-1]
    root = np.interp(steps, np.cbrt(np.maximum.accumulate(mixed)), np.linspace(0.0, 1.0, _COARSE))
    return np.asarray(least + (most - least) * root**3)


def _in_order(
    vessels: Vessels,
    ambient: AbsolutePressure,
    flow: FloatArray,
    pressure: FloatArray,
    start: float,
    held_below: float | None,
) -> Nodes:
    """Sort by pressure, and make one node, or two where the flow jumps, of those of equal water."""
    order = np.argsort(pressure, kind="stable")
    pressure = pressure[order]
    flow = np.minimum.accumulate(flow[order])  # evens out the last digit where flow is flat
    water = vessels.water(absolute(gauge_pressure(pressure), ambient))
    water[0] = 0.0  # at the lowest precharge, whatever the last digit says
    rises = np.diff(water) > _SAME * water[-1]
    last = np.append(np.flatnonzero(rises), water.size - 1)
    first = np.append(0, last[:-1] + 1)
    last[0] = 0  # the first node is that of no water
    group = np.searchsorted(first, np.searchsorted(pressure, start), side="right") - 1
    cut_in_water = float(water[last[group]])
    if not cut_in_water < water[-1]:
        raise ValueError(tr("the tank gives no water between cut-out and cut-in"))

    # Every membrane at its limit: pressure and flow jump while the water stays. The lower end of
    # such a jump moves down by one float, since the water must rise strictly.
    jumps = flow[first] - flow[last] > _STRAIGHT * flow[0]
    jumps[0] = False
    water[first[jumps]] = np.nextafter(water[last[jumps]], 0.0)
    keep = np.unique(np.concatenate((first[jumps], last)))
    return Nodes(water[keep], flow[keep], pressure[keep], cut_in_water, held_below)
