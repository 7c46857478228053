"""Whether the pump reaches cut-out, and what it delivers there: the figures of one page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from workbench.job.pump_choices import PumpEntry
from workbench.physics.air import FloatArray, gauge_pressure
from workbench.physics.forgiving import SAME
from workbench.physics.pipe import velocity
from workbench.physics.pump import (
    WATER_WEIGHT,
    Delivery,
    PumpCurve,
    energy_per_volume,
    hydraulic_power,
    reach_margin,
    total_dynamic_head,
)
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.pump.pipes import FrictionTable, friction_tables
from workbench.study.pump.reading import (
    SMALL_MARGIN,
    measured_at,
    read_delivery,
    read_well,
)
from workbench.study.ranking import Judged
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.study.supply import Well
from workbench.units import System
from workbench.units.kinds import FLOW, PRESSURE
from workbench.words import tr

_POINTS = 161  # of each curve in the picture


@dataclass(frozen=True, slots=True)
class Head:
    """What the pump lifts against [m]: its parts and their sum, the total dynamic head.

    ``friction`` is None where the pipe's length is not known, and the sum then lacks it.
    """

    lift: float
    pressure: float
    friction: float | None

    @property
    def total(self) -> float:
        """The sum of what is known [m]."""
        friction = 0.0 if self.friction is None else self.friction
        return float(
            total_dynamic_head(gauge_pressure(self.pressure * WATER_WEIGHT), self.lift, friction)
        )


@dataclass(frozen=True, slots=True)
class WorkingPoint:
    """The pump at one pressure of the tank (SI). None: not known from what was entered.

    ``power`` is electric [W]; ``energy`` electric for each volume of water [J/m³].
    """

    pressure: float
    flow: float
    velocity: float | None
    head: Head | None
    power: float | None
    energy: float | None


@dataclass(frozen=True, eq=False)
class PumpPicture:
    """What is drawn over the flow (n,) [m³/s].

    ``height`` (n,): of a pump curve the head [m], nan where its points do not reach; of two flows
    the gauge pressure at the tank [Pa]. ``points`` (k, 2) are the entered ones, flow and height;
    ``known`` the flows between them, beyond which the curve is assumed. ``system_in`` and
    ``system_out`` (n,): heads that well and pipe ask for at cut-in and cut-out, with a pump curve.
    """

    flow: FloatArray
    height: FloatArray
    points: FloatArray
    known: tuple[float, float]
    system_in: FloatArray | None = None
    system_out: FloatArray | None = None

    @property
    def in_pressure(self) -> bool:
        """Whether the heights are gauge pressures, not heads."""
        return self.system_out is None


@dataclass(frozen=True, eq=False)
class PumpView:
    """All that the page shows (SI).

    ``reaches`` is None where that is not known (a constant flow). ``shut_off`` and ``margin`` are
    gauge pressures [Pa] at the tank with every tap closed, and over cut-out; None where not known.
    ``at_cut_in`` and ``at_cut_out`` are None where the pump does not come to that pressure.
    """

    entry: PumpEntry
    delivery: Delivery
    curve: PumpCurve | None
    well: Well
    setting: Setting
    reaches: bool | None
    shut_off: float | None
    margin: float | None
    at_cut_in: WorkingPoint | None
    at_cut_out: WorkingPoint | None
    mean_flow: float | None
    tank: Judged | None
    marked: float | None
    picture: PumpPicture | None
    tables: dict[System, FrictionTable]
    findings: tuple[Finding, ...]

    @property
    def small_margin(self) -> bool:
        """Whether the pump reaches cut-out, but by less than is prudent."""
        return (
            self.margin is not None
            and bool(self.reaches)
            and self.margin < SMALL_MARGIN * (1.0 - SAME)
        )


def pump_view(results: Results) -> PumpView | None:
    """The page's figures; None while an entry stands in the way (a stop of ``results`` says it)."""
    setting = results.setting
    if setting is None or any(one.code == "fill_unknown" for one in results.findings):
        return None
    with np.errstate(all="ignore"):  # as in reading the supply: numbers beyond all pumps
        return _view(results, setting)


def _view(results: Results, setting: Setting) -> PumpView | None:
    job = results.job
    # Its findings are those of the results; the pump is read again since a supply is withheld
    # where the pump does not reach cut-out, and just then this page has most to show.
    reader = Reader(job)
    well = read_well(job, reader)
    delivery, curve = read_delivery(job, reader, setting, well)
    if delivery is None or well is None:
        return None
    shut_off = delivery.shut_off
    margin = None
    if shut_off is not None:
        margin = float(reach_margin(shut_off, gauge_pressure(setting.cut_out)))
    supply = results.inputs.supply
    tank, _ = chosen(results, "first_tank")  # the page "Cycle" says so where it is gone
    marked = min(part.max_working_pressure for part in tank.parts) if tank else None
    points = [_point(delivery, well, at) for at in (setting.cut_in, setting.cut_out)]
    view = PumpView(
        entry=job.pump_entry,
        delivery=delivery,
        curve=curve,
        well=well,
        setting=setting,
        reaches=_reaches(delivery, setting, margin),
        shut_off=shut_off,
        margin=margin,
        at_cut_in=points[0],
        at_cut_out=points[1],
        mean_flow=supply.mean_flow if supply else None,
        tank=tank,
        marked=marked,
        picture=_picture(delivery, curve, well, setting, measured_at(job, reader, setting)),
        tables=friction_tables(job, well),
        findings=(),
    )
    found = (*_over_pressure(view), *_over_yield(view))
    return replace(view, findings=found)


def _reaches(delivery: Delivery, setting: Setting, margin: float | None) -> bool | None:
    if delivery.is_constant:
        return None
    if margin is not None:
        return margin > SAME * setting.cut_out
    last = float(delivery.pressure(delivery.lowest_flow))
    return True if setting.cut_out <= last else None  # beyond its first point nothing is known


def _point(delivery: Delivery, well: Well, pressure: float) -> WorkingPoint | None:
    flow = float(delivery.flow(gauge_pressure(pressure)))
    if not flow > 0.0:
        return None
    speed = None if well.bore is None else float(velocity(flow, well.bore))
    if well.lift is None:
        return WorkingPoint(pressure, flow, speed, None, None, None)
    friction = None if well.riser is None else float(well.riser.head_lost(flow))
    head = Head(well.lift, pressure / WATER_WEIGHT, friction)
    if well.efficiency is None or head.total <= 0.0:
        return WorkingPoint(pressure, flow, speed, head, None, None)
    power = float(hydraulic_power(flow, head.total)) / well.efficiency
    energy = float(energy_per_volume(head.total, well.efficiency))
    return WorkingPoint(pressure, flow, speed, head, power, energy)


# --- findings ---


def _over_pressure(view: PumpView) -> Iterator[Finding]:
    if view.shut_off is None or view.marked is None:
        return
    if view.shut_off > view.marked * (1.0 + SAME):
        yield Finding(
            Level.CAUTION,
            "over_pressure",
            "pump_entry",
            tr(
                "If the switch failed with every tap closed, this pump would reach {most}; the tank"
                " is marked {marked}."
            ),
            tr(
                "Fit a relief valve on the tank or its supply pipe, set no higher than the marking"
                " and piped to a safe place (International Plumbing Code 606.5.10)."
            ),
            (("most", view.shut_off, PRESSURE), ("marked", view.marked, PRESSURE)),
        )


def _over_yield(view: PumpView) -> Iterator[Finding]:
    given, point = view.well.yield_flow, view.at_cut_in or view.at_cut_out
    if given is None or point is None or point.flow <= given * (1.0 + SAME):
        return
    yield Finding(
        Level.CAUTION,
        "pump_above_yield",
        "well_yield",
        tr("The pump takes up to {flow}, the well gives {given}: a long draw would pump it dry."),
        tr(
            "Choose a smaller pump, hold its flow back to the yield, or fit a cut-off for low"
            " water."
        ),
        (("flow", point.flow, FLOW), ("given", given, FLOW)),
    )


# --- the picture ---


def _picture(
    delivery: Delivery,
    curve: PumpCurve | None,
    well: Well,
    setting: Setting,
    measured: tuple[float, float] | None,
) -> PumpPicture | None:
    """Heads of a pump curve, pressures of two flows; a constant flow has no picture."""
    if delivery.is_constant:
        return None
    if curve is None or well.lift is None:
        return _picture_of_pressures(delivery, measured or (setting.cut_in, setting.cut_out))
    flow = np.unique(np.concatenate((
        np.linspace(0.0, delivery.highest_flow, _POINTS), curve.flows
    )))  # fmt: skip
    covered = (flow >= curve.flows[0]) & (flow <= curve.flows[-1])
    height = np.full(flow.shape, np.nan)
    height[covered] = curve.head(flow[covered])
    friction = np.zeros(flow.shape) if well.riser is None else well.riser.head_lost(flow)
    low, high = (
        well.lift + at / WATER_WEIGHT + friction for at in (setting.cut_in, setting.cut_out)
    )
    points = np.column_stack((curve.flows, curve.heads))
    known = (float(curve.flows[0]), float(curve.flows[-1]))
    return PumpPicture(flow, height, points, known, low, high)


def _picture_of_pressures(delivery: Delivery, measured: tuple[float, float]) -> PumpPicture:
    """``measured``: gauge pressures [Pa] of the two flows that were entered."""
    ends = np.asarray(delivery.flow(gauge_pressure(np.array(measured))))
    flow = np.unique(np.concatenate((np.linspace(0.0, delivery.highest_flow, _POINTS), ends)))
    height = np.asarray(delivery.pressure(flow))
    known = (float(ends[1]), float(ends[0]))
    return PumpPicture(flow, height, np.column_stack((ends, measured)), known)
