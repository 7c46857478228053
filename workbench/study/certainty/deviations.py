"""What can deviate, and the run that follows from it.

Each deviation is taken as uniform within ± its half-width, for nothing else is known of it (GUM,
JCGM 100:2008, 4.3.7).

A case is one value of each. The system gauge moves cut-in and cut-out together and each switch
point drifts by itself; the precharge is read with a gauge of its own; the sealed charge is warmer
or colder in service than assumed, so its absolute pressure goes with the absolute temperature; the
flow is scaled, and where it was measured with a bucket and a watch, also by (V ± b)/V · t/(t ± w).

The run of a case at no demand is ∫ dx/Q over the share of water x that goes in. With the air at
P = Pp (1 − x)^(−n) this is, for a tank of V [m³],

    run = V · Pp^(1/n) · (T(Pout) − T(Pin)) / scale,   T(P) = ∫ d(−P^(−1/n)) / Q(P)

so that one table of T serves all cases and tanks. Where the membrane is at its limit before cut-out
the share that goes in ends there. A run is V times a number that hangs on the case and on
acceptance / V alone.

A case counts as not met where its cut-out is not above its cut-in or its precharge in service lies
below nil on the gauge (a run of 0 s), and where its cut-out is at or above the pump's shut-off
pressure (the pump never stops: a run of inf).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import astuple, dataclass, fields

import numpy as np
import numpy.typing as npt

from workbench.physics.air import (
    AbsolutePressure,
    FloatArray,
    absolute,
    charge_at_temperature,
    gauge_pressure,
)
from workbench.physics.fill import straight_seconds
from workbench.physics.forgiving import SAME
from workbench.physics.pump import Delivery
from workbench.physics.tank import water_in_tank
from workbench.study.setting import Setting
from workbench.words import tr

_NODES, _STEP, _NEAR_NIL = 4001, 2e-3, 1e-7  # even in pressure; ratios of flow, down to this share


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Half-widths of the deviations, each ± and zero or above.

    Args:
        gauge: system gauge, which moves cut-in and cut-out together [Pa].
        switch_in, switch_out: drift of each switch point [Pa].
        precharge: gauge with which the precharge is read [Pa].
        temperature: of the air in service [K].
        flow: share of the flow [-], below 1.
        bucket: volume of the bucket [m³]; not used where the flow was not measured with one.
        watch: time read on the watch [s]; likewise.

    Raises:
        ValueError: a half-width below zero, not finite, or a flow's of 1 or more.
    """

    gauge: float
    switch_in: float
    switch_out: float
    precharge: float
    temperature: float
    flow: float
    bucket: float
    watch: float

    def __post_init__(self) -> None:
        if not all(np.isfinite(value) and value >= 0.0 for value in astuple(self)):
            raise ValueError(tr("Every tolerance must be a number of zero or above."))
        if self.flow >= 1.0:
            raise ValueError(tr("The tolerance of the flow must be below 100 %."))


NAMES = tuple(field.name for field in fields(Tolerances))
"""The tolerances' names, in the order of a case's coordinates."""


@dataclass(frozen=True, eq=False)
class Basis:
    """What is assumed of setting and pump, and the run that is required.

    Args:
        setting: as entered.
        delivery: what arrives at the tank.
        service_temperature: absolute temperature [K] of the air that the precharge is meant for.
        required_run: least run at no demand [s].
        bucket: (volume [m³], time [s]) if the flow was measured so.
    """

    setting: Setting
    delivery: Delivery
    service_temperature: float
    required_run: float
    bucket: tuple[float, float] | None = None


@dataclass(frozen=True, eq=False)
class Cases:
    """Cases as arrays (m,)."""

    root: FloatArray  # Pp^(1/n)
    full: FloatArray  # share of water at cut-out, without a limit
    begin: FloatArray  # T at cut-in
    place: FloatArray  # −P^(−1/n) at cut-out
    end: FloatArray  # T there
    scale: FloatArray  # of the flow
    sound: npt.NDArray[np.bool_]  # cut-out above cut-in, precharge not below nil
    endless: npt.NDArray[np.bool_]  # cut-out at or above shut-off
    beyond: npt.NDArray[np.bool_]  # cut-out above the pump's data
    held: npt.NDArray[np.bool_]  # begins below the pump's data

    @property
    def counts(self) -> npt.NDArray[np.bool_]:
        """Cases that can be met."""
        return np.asarray(self.sound & ~self.endless & ~self.beyond)

    def by_charge(self) -> Cases:
        """The same cases in order of charge, for a table is read faster from end to end."""
        order = np.argsort(self.root)
        return Cases(*(getattr(self, field.name)[order] for field in fields(self)))


@dataclass(frozen=True, eq=False)
class AnyTank:
    """Any tank at the basis: turns deviations into cases, and cases into runs for each m³."""

    basis: Basis
    half: FloatArray  # half-widths (8,)
    clock: Callable[[FloatArray], FloatArray]  # T at −P^(−1/n)
    bottom: float  # gauge Pa below which the flow is not known, −inf if it is
    top: float  # gauge Pa above which it is not known, inf if it is

    @classmethod
    def of(cls, basis: Basis, tolerances: Tolerances) -> AnyTank:
        """Raises ValueError as :func:`study`."""
        _check(basis, tolerances)
        delivery, setting = basis.delivery, basis.setting
        half = np.array(astuple(tolerances))
        if delivery.is_constant:
            flow = delivery.highest_flow
            return cls(basis, half, lambda place: np.asarray(place / flow), -np.inf, np.inf)
        known = not np.isnan(delivery.flow(gauge_pressure(0.0)))
        bottom = -np.inf if known else float(delivery.pressure(delivery.highest_flow))
        reach = float(delivery.pressure(delivery.lowest_flow))
        top = reach if delivery.lowest_flow > 0.0 else np.inf
        if max(setting.cut_in, setting.precharge) < bottom or setting.cut_out > top:
            raise ValueError(
                tr("The pump's data do not reach from cut-in to cut-out; add points to them.")
            )
        highest = setting.cut_out + tolerances.gauge + tolerances.switch_out
        return cls(basis, half, _clock(basis, min(highest, reach)), bottom, top)

    def cases(self, deviations: FloatArray) -> Cases:
        """Cases from deviations (m, 8), each coordinate a share of its half-width, −1 to 1."""
        setting, delivery = self.basis.setting, self.basis.delivery
        by_gauge, by_in, by_out, by_charge, by_warmth, *by_flow = (deviations * self.half).T
        low = setting.cut_in + by_gauge + by_in
        high = setting.cut_out + by_gauge + by_out
        charge = self._charge(by_charge, by_warmth)
        ambient = AbsolutePressure(np.asarray(setting.ambient))
        sound = (high > low) & (charge >= ambient * (1.0 - SAME))
        # Only what is sound is looked at later; the rest gets numbers that can be computed with.
        charge = AbsolutePressure(np.where(sound, charge, ambient))
        start = np.maximum(absolute(gauge_pressure(low), ambient), charge)
        stop = np.maximum(absolute(gauge_pressure(high), ambient), start)
        left, full = (
            water_in_tank(AbsolutePressure(level), charge, 1.0, np.inf, setting.exponent)
            for level in (start, stop)
        )
        root = np.asarray(charge ** (1.0 / setting.exponent))
        place = (full - 1.0) / root
        shut_off = np.inf if delivery.shut_off is None else delivery.shut_off
        return Cases(
            root=root,
            full=full,
            begin=self.clock((left - 1.0) / root),
            place=place,
            end=self.clock(place),
            scale=self._scale(*by_flow),
            sound=sound,
            endless=sound & (high >= shut_off),
            beyond=sound & (high > self.top),
            held=sound & (start - ambient < self.bottom),
        )

    def _charge(self, by_charge: FloatArray, by_warmth: FloatArray) -> AbsolutePressure:
        """Precharge in service."""
        setting, warmth = self.basis.setting, self.basis.service_temperature
        as_set = gauge_pressure(setting.precharge + by_charge)
        ambient = AbsolutePressure(np.asarray(setting.ambient))
        return charge_at_temperature(absolute(as_set, ambient), warmth, warmth + by_warmth)

    def _scale(
        self, by_flow: FloatArray, by_bucket: FloatArray, by_watch: FloatArray
    ) -> FloatArray:
        """Flow as a share of the assumed."""
        if self.basis.bucket is None:
            return np.asarray(1.0 + by_flow)
        volume, seconds = self.basis.bucket
        measured = (volume + by_bucket) / volume * (seconds / (seconds + by_watch))
        return np.asarray((1.0 + by_flow) * measured)

    def runs(self, cases: Cases, limit: float) -> FloatArray:
        """Seconds (m,) for each m³ of a tank whose membrane is at its limit at a share of water."""
        stop = cases.end
        if limit < np.inf:
            place = np.minimum((limit - 1.0) / cases.root, cases.place)
            stop = np.maximum(
                self.clock(place), cases.begin
            )  # at its limit from cut-in on: nothing
        seconds = cases.root * (stop - cases.begin) / cases.scale
        seconds[~cases.sound] = 0.0
        seconds[cases.endless | cases.beyond] = np.inf
        return np.asarray(seconds)


def _check(basis: Basis, tolerances: Tolerances) -> None:
    if not (np.isfinite(basis.required_run) and basis.required_run >= 0.0):
        raise ValueError(tr("The required run must be a number of zero or above."))
    if tolerances.temperature >= basis.service_temperature:
        raise ValueError(tr("The tolerance of the temperature must not reach absolute zero."))
    if basis.bucket is not None and not (
        basis.bucket[0] > tolerances.bucket and basis.bucket[1] > tolerances.watch
    ):
        raise ValueError(
            tr("The bucket's volume and the time must be greater than their tolerances.")
        )


def _clock(basis: Basis, high: float) -> Callable[[FloatArray], FloatArray]:
    """T as a function of −P^(−1/n), up to ``high`` (gauge Pa, not above what the pump reaches).

    At the nodes it is right as far as the flow is straight between them; they lie so near to each
    other that T may be taken as straight too.
    """
    setting = basis.setting
    pressure, flow = _nodes(basis.delivery, high)
    place = -np.asarray((pressure + setting.ambient) ** (-1.0 / setting.exponent))
    pieces = straight_seconds(flow[:-1], flow[1:], np.diff(place), 0.0)
    seconds = np.concatenate(([0.0], np.cumsum(pieces)))
    return lambda wanted: np.asarray(np.interp(wanted, place, seconds))


def _nodes(delivery: Delivery, high: float) -> tuple[FloatArray, FloatArray]:
    """Gauge pressures, strictly rising from 0 to ``high``, and flows: even in pressure, and in
    equal ratios of flow, for near the shut-off the flow falls steeply.
    """
    open_flow = float(delivery.flow(gauge_pressure(0.0)))
    most = delivery.highest_flow if np.isnan(open_flow) else open_flow  # held below the data
    if high <= 0.0 or most <= 0.0:  # no water reaches the tank, so nothing will be asked
        return np.array([0.0, 1.0]), np.ones(2)
    even = np.linspace(0.0, high, _NODES)
    least = max(float(delivery.flow(gauge_pressure(high))), most * _NEAR_NIL)
    count = int(np.ceil(np.log(most / least) / _STEP)) + 2
    flows = np.concatenate((np.geomspace(most, least, count), delivery.knots))
    pressure = np.concatenate(([0.0], even, delivery.pressure(flows)))
    flow = np.concatenate(([most], delivery.flow(gauge_pressure(even)), flows))
    usable = np.isfinite(flow) & (pressure >= 0.0) & (pressure <= high)
    pressure, first = np.unique(pressure[usable], return_index=True)
    return pressure, np.minimum.accumulate(flow[usable][first])
