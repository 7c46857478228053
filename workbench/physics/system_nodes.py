"""The pressures at which a system's pump flow is known exactly; between them it is straight."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from workbench.physics.air import FloatArray, gauge_pressure
from workbench.physics.pump import Delivery

_NODES = 1200  # of a falling flow over pressure; halving it changes a run by about 1e-7
_APART = 1e-9  # share of the highest pressure: closer nodes would make a piece of no width


def pressures(
    delivery: Delivery, corners: Iterable[float], cut_in: float, highest: float
) -> FloatArray:
    """Rising gauge pressures [Pa] from zero to ``highest``; cut-in and both ends are among them.

    So are the shut-off and the corners, unless they lie beyond, or within a billionth of another.
    """
    shut_off = delivery.shut_off
    first = [0.0, highest, cut_in, *([] if shut_off is None else [shut_off]), *corners]
    fixed = _apart([p for p in first if 0.0 <= p <= highest], _APART * highest)
    if delivery.is_constant:
        return np.sort(fixed)
    end = highest if shut_off is None else min(shut_off, highest)
    # Close together towards the shut-off, where the flow falls as a square root.
    steep = end * (1.0 - np.linspace(1.0, 0.0, _NODES) ** 3)
    knots = np.asarray(delivery.pressure(delivery.knots))
    others = np.concatenate((steep, np.linspace(0.0, end, _NODES // 4), knots))
    others = np.unique(others[(others > 0.0) & (others < highest)])  # leaves out what is nan
    others = others[np.diff(others, prepend=-highest) > _APART * highest]
    near = np.abs(others[:, np.newaxis] - fixed).min(axis=1)
    return np.sort(np.concatenate((fixed, others[near > _APART * highest])))


def _apart(values: list[float], least: float) -> FloatArray:
    """The values without those that lie too near to an earlier one."""
    kept: list[float] = []
    for value in values:
        if all(abs(value - other) > least for other in kept):
            kept.append(value)
    return np.array(kept)


def flows(delivery: Delivery, at: FloatArray, cut_in: float) -> FloatArray:
    """The pump's flow [m³/s] at rising gauge pressures [Pa], nowhere rising.

    Below the pump's data its greatest flow is held, above them its least.
    """
    flow = np.asarray(delivery.flow(gauge_pressure(at)))
    flow = np.where(np.isnan(flow) & (at < cut_in), delivery.highest_flow, flow)
    flow = np.where(np.isnan(flow), delivery.lowest_flow, flow)
    return np.minimum.accumulate(flow)
