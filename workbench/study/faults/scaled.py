"""A pump that gives a share of what another one gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray, GaugePressure, gauge_pressure
from workbench.physics.pump import Delivery


@dataclass(frozen=True)
class Scaled:
    """The curve of ``inner``, every flow times ``flow`` and every pressure times ``head`` [-].

        Q(p) = flow · Q₀(p / head)

    With flow = s and head = s² these are the affinity laws of a pump at the share s of its speed,
    laid on the curve as the tank feels it, so lift and friction shrink with it: a stand-in for
    wear, which has no curve of its own. A constant flow knows no pressure and only gets less.

    Source: affinity laws, Q ~ n and H ~ n², textbook (Hydraulic Institute, ANSI/HI 9.6; from
    memory).

    >>> from workbench.physics.pump import TwoFlows
    >>> worn = Scaled(TwoFlows(4e5, 1e12), 0.9, 0.81)
    >>> round(worn.shut_off), round(float(worn.flow(gauge_pressure(0.0))) / 6.32455532e-4, 6)
    (324000, 0.9)
    """

    inner: Delivery
    flow_share: float
    head_share: float

    def __post_init__(self) -> None:
        if not (0.0 < self.flow_share < np.inf and 0.0 < self.head_share < np.inf):
            raise ValueError("the shares must be above zero")

    @property
    def shut_off(self) -> float | None:
        """Gauge pressure [Pa] from which no water comes; None where it is not known."""
        inner = self.inner.shut_off
        return None if inner is None else inner * self.head_share

    @property
    def highest_flow(self) -> float:
        """Largest flow [m³/s] that the data cover."""
        return self.inner.highest_flow * self.flow_share

    @property
    def lowest_flow(self) -> float:
        """Smallest flow [m³/s] that the data cover."""
        return self.inner.lowest_flow * self.flow_share

    @property
    def is_constant(self) -> bool:
        """Whether the flow is the same at every pressure."""
        return self.inner.is_constant

    @property
    def knots(self) -> FloatArray:
        """Flows [m³/s] at which pieces of the curve meet."""
        return np.asarray(self.inner.knots * self.flow_share)

    def flow(self, pressure: GaugePressure) -> FloatArray:
        """Flow [m³/s] at gauge pressure(s) [Pa]; nan where the data do not reach."""
        at = gauge_pressure(np.asarray(pressure) / self.head_share)
        return np.asarray(self.inner.flow(at) * self.flow_share)

    def pressure(self, flow: npt.ArrayLike) -> GaugePressure:
        """Gauge pressure [Pa] at flow(s) [m³/s]. Raises ValueError if the flow is constant."""
        at = self.inner.pressure(np.asarray(flow, dtype=np.float64) / self.flow_share)
        return GaugePressure(np.asarray(at * self.head_share))
