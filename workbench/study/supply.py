"""The pump of a job: what it delivers at the tank, and what that means for runs and starts.

With a flow that falls as the pressure rises the run of a tank is V · ∫ dx / Q(x) over the share x
of its volume that is water, so one integral serves every tank that its membrane does not limit.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from workbench.physics.air import AbsolutePressure, FloatArray, absolute, gauge_pressure
from workbench.physics.cycle import mean_flow, run_time, worst_starts
from workbench.physics.fill import FillCurve
from workbench.physics.header import Vessels
from workbench.physics.pump import (
    Delivery,
    PumpCurve,
    Riser,
)
from workbench.study.setting import Setting

_TRUNCATIONS = 17  # fills cut short by a membrane; between them their factors are interpolated


@dataclass(frozen=True, eq=False)
class Well:
    """What stands between pump and tank. None where it was not entered.

    ``lift`` [m] from the pumping water level to the tank, ``riser`` the pipe with its fittings,
    ``bore`` [m], ``yield_flow`` [m³/s] of the well, ``efficiency`` [-] from wire to water.
    """

    lift: float | None
    riser: Riser | None
    bore: float | None
    yield_flow: float | None
    efficiency: float | None


@dataclass(frozen=True, eq=False)
class Supply:
    """A pump at a switch band.

    ``unit`` is the fill of one cubic metre of tank, for a flow that falls; None at a constant one.
    """

    delivery: Delivery
    curve: PumpCurve | None
    well: Well
    setting: Setting
    unit: FillCurve | None

    @cached_property
    def mean_flow(self) -> float:
        """Drawdown over run at no demand [m³/s]: the one flow that gives the same run."""
        if self.unit is None:
            return self.delivery.highest_flow
        return mean_flow(self.unit)

    @property
    def is_usable(self) -> bool:
        """Whether mean flow and starts factor are numbers above zero."""
        figures = np.array([self.mean_flow, self.starts_factor])
        return bool(np.all((figures > 0.0) & np.isfinite(figures)))

    @cached_property
    def _worst(self) -> tuple[float, float]:
        if self.unit is None:
            return self.mean_flow / 2.0, self.mean_flow / 4.0
        return _worst(self.unit)

    @property
    def worst_draw(self) -> float:
        """Steady draw [m³/s] at which the pump starts most often; half of a constant flow."""
        return self._worst[0]

    @property
    def starts_factor(self) -> float:
        """Starts per second at the worst draw, times the drawdown [m³/s]; Q / 4 if constant."""
        return self._worst[1]

    def runs(
        self, drawdown: FloatArray, volume: FloatArray, acceptance: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Run at no demand [s] and starts factor [m³/s] of tanks (n,) at this band.

        Args:
            drawdown, volume, acceptance: of each tank [m³]; acceptance inf where it is not known.
        """
        with np.errstate(divide="ignore", invalid="ignore"):
            if self.unit is None:
                factor = np.full(np.shape(drawdown), self.starts_factor)
                return run_time(drawdown, self.mean_flow), factor
            low = np.minimum(self.unit.cut_in_water, acceptance / volume)
            high = np.minimum(self.unit.cut_out_water, acceptance / volume)
            run = np.where(high > low, volume * self.unit.time(low, high), 0.0)
            return run, self._factor_up_to(high)

    def _factor_up_to(self, share: FloatArray) -> FloatArray:
        """The starts factor of fills that end at a share of the volume, where a membrane ends."""
        assert self.unit is not None  # noqa: S101 - asked only then
        full, empty = self.unit.cut_out_water, self.unit.cut_in_water
        if np.all(share >= full):
            return np.full(np.shape(share), self.starts_factor)
        ends = np.linspace(empty, full, _TRUNCATIONS + 1)
        nothing = float(self.unit.flow[self.unit.cut_in_node]) / 4.0  # hardly any fill: one flow
        factors = [_worst(_up_to(self.unit, float(end)))[1] for end in ends[1:-1]]
        return np.asarray(np.interp(share, ends, [nothing, *factors, self.starts_factor]))


def _worst(fill: FillCurve) -> tuple[float, float]:
    draw, starts = worst_starts(fill)
    return draw, starts * fill.drawdown


def _up_to(fill: FillCurve, water: float) -> FillCurve:
    """The same fill, ended at less water."""
    inside = fill.water < water
    return FillCurve(
        np.append(fill.water[inside], water),
        np.append(fill.flow[inside], np.interp(water, fill.water, fill.flow)),
        np.append(fill.pressure[inside], np.interp(water, fill.water, fill.pressure)),
        fill.cut_in_water,
    )


def fill_of(supply: Supply, vessels: Vessels) -> FillCurve:
    """The fill of these tanks by this pump at its band. Raises ValueError: they take no water."""
    setting = supply.setting
    return FillCurve.of(
        supply.delivery,
        vessels,
        gauge_pressure(setting.cut_in),
        gauge_pressure(setting.cut_out),
        AbsolutePressure(np.asarray(setting.ambient)),
    )


def vessel(setting: Setting, volume: float, acceptance: float = np.inf) -> Vessels:
    """One tank [m³], charged as the setting has it."""
    ambient = AbsolutePressure(np.asarray(setting.ambient))
    charge = absolute(gauge_pressure(setting.precharge), ambient)
    return Vessels.one(volume, charge, acceptance, setting.exponent)


def unit_fill(delivery: Delivery, setting: Setting) -> FillCurve | None:
    """The fill of one cubic metre of tank; None where floats cannot tell its water or its flow."""
    try:
        return FillCurve.of(
            delivery,
            vessel(setting, 1.0),
            gauge_pressure(setting.cut_in),
            gauge_pressure(setting.cut_out),
            AbsolutePressure(np.asarray(setting.ambient)),
        )
    except ValueError:
        return None
