"""The job's tank, pump and switch as a system that can be set in motion."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

import numpy as np

from workbench.catalog.tank import Tank
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.physics.air import (
    AbsolutePressure,
    absolute,
    charge_at_temperature,
    gauge,
    gauge_pressure,
)
from workbench.physics.forgiving import SAME
from workbench.physics.pump import Delivery
from workbench.physics.system import System
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results
from workbench.study.findings import Finding, Level
from workbench.study.live.rig import Rig
from workbench.study.pump.reading import read_delivery, read_well
from workbench.study.reader import Reader
from workbench.study.setting import Setting
from workbench.units import PRESSURE, Quantity
from workbench.words import tr

_PSI = PRESSURE.units["psi"].factor
GIVE_STEP = 10 * _PSI
"""What the pipes give is entered for a fall of so much [Pa]."""
RELIEF_ABOVE = 25 * _PSI
"""So far above cut-out a relief valve is taken to open where none is known [Pa]: our assumption."""


@dataclass(frozen=True, eq=False)
class LiveView:
    """What is set in motion. ``rig`` None: ``why`` says what is missing; ``tap`` [m³/s]."""

    rig: Rig | None
    tap: float | None
    findings: tuple[Finding, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Shell:
    """A tank, or equal tanks as one of their sum: volume, acceptance [m³], rating [Pa gauge]."""

    name: str
    volume: float
    acceptance: float
    rating: float | None


def live_view(results: Results) -> LiveView:
    """The system of a job. What stands in the way is told here or in the results' findings."""
    job, reader = results.job, Reader(results.job)
    tap = reader.not_below_zero("steady_draw")
    shell = the_shell(results, reader)
    charge = _charge_now(job, results.setting, reader)
    give, delay = reader.above_zero("line_give"), reader.not_below_zero("start_delay")
    relief = _relief(job, results.setting, shell, reader)
    delivery = _delivery(job, results.setting)
    rig = None
    if (
        results.setting is not None
        and shell is not None
        and charge is not None
        and give is not None
        and delay is not None
        and relief is not None
        and delivery is not None
    ):
        rig = _rig(results.setting, shell, delivery, (charge, give, delay, relief), reader)
    findings = tuple(reader.findings)
    return LiveView(rig, tap, findings, "" if rig else _why(results, shell, findings))


def _rig(
    setting: Setting,
    shell: Shell,
    delivery: Delivery,
    figures: tuple[float, float, float, float],
    reader: Reader,
) -> Rig | None:
    charge, give, delay, relief = figures
    try:
        system = System(
            volume=shell.volume,
            precharge=charge,
            ambient=setting.ambient,
            delivery=delivery,
            cut_in=setting.cut_in,
            cut_out=setting.cut_out,
            relief=relief,
            line_give=give / GIVE_STEP,
            start_delay=delay,
            acceptance=shell.acceptance,
            exponent=setting.exponent,
        )
        with np.errstate(all="ignore"):  # numbers beyond all tanks end in a finding
            usable = bool(np.isfinite(system.fill.water).all())
    except ValueError as error:
        text = str(error)
        reader.report(
            Level.STOP,
            "not_in_motion",
            "cut_in",
            text[:1].upper() + text[1:].rstrip(".") + ".",
            tr("Mend band, pump or tank."),
        )
        return None
    return Rig(system, setting, shell.name) if usable else None


def _why(results: Results, shell: Shell | None, findings: tuple[Finding, ...]) -> str:
    stops = [one for one in (*results.findings, *findings) if one.level is Level.STOP and one.field]
    names = dict.fromkeys(label_of(stop.field) for stop in stops)
    if names:
        return tr("Mend first: {names}.", names=", ".join(names))
    if shell is None:
        return tr("There is no tank: open a catalogue, or type a total volume.")
    return tr("These entries make no system that can be followed.")


# --- the tank ---

_RANKED_BY = frozenset({"cut_in", "cut_out", "precharge", "precharge_rule", "altitude"})


def kept_tank(results: Results, changed: str) -> dict[str, str]:
    """What goes into the job with an entry that is ``changed``, so that the tank stays the same.

    Who turns the precharge wants to see what it does to this tank. The first of the ranking might
    be another one then, so it is named from there on; nothing where a tank or a volume is named.
    """
    job, ranking = results.job, results.ranking
    named = job.live_volume is not None or bool(job.first_tank)
    if changed not in _RANKED_BY or named or ranking is None or not len(ranking):
        return {}
    return {"first_tank": ranking.candidates.key(int(ranking.order[0]))}


def the_shell(results: Results, reader: Reader, field: str = "live_volume") -> Shell | None:
    """The tank of a typed total volume, else the chosen one of the catalogue; None: neither."""
    entry = getattr(results.job, field)
    if entry is not None:
        volume = reader.above_zero(field)
        if volume is None or not isinstance(entry, Quantity):
            return None
        return Shell(tr("Tank of {volume}", volume=str(entry)), volume, math.inf, None)
    tank, gone = chosen(results, "first_tank")
    reader.findings += gone
    if tank is not None:
        return _one_of(tank.parts, reader)
    # Where the pump falls short or the precharge keeps water out nothing is ranked, and just that
    # is worth to be seen.
    candidates, key = results.candidates, results.job.first_tank
    if results.ranking is None and candidates is not None and key in candidates.by_key:
        return _one_of(candidates.parts(candidates.by_key[key]), reader)
    return None


def _one_of(parts: tuple[Tank, ...], reader: Reader) -> Shell:
    """Several tanks as one of their sum, which is exact where their membranes reach equally far."""
    limits = [math.inf if part.acceptance is None else part.acceptance for part in parts]
    reach = [limit / part.total_volume for limit, part in zip(limits, parts, strict=True)]
    if max(reach) > min(reach) * (1.0 + SAME):
        reader.report(
            Level.NOTE,
            "tanks_as_one",
            "first_tank",
            tr("These tanks are shown as one of their sum; their membranes reach their limits at"
               " different pressures, which is not shown."),
        )  # fmt: skip
    counts = Counter(part.name for part in parts)
    name = " + ".join(name if n == 1 else f"{n} × {name}" for name, n in counts.items())
    volume = sum(part.total_volume for part in parts)
    return Shell(name, volume, sum(limits), min(part.max_working_pressure for part in parts))


# --- air, relief valve, pump ---


def _charge_now(job: Job, setting: Setting | None, reader: Reader) -> float | None:
    """The precharge [Pa gauge] at the temperature that the air has now."""
    service = reader.above_zero("tank_temperature", needed=job.live_air is not None)
    now = reader.above_zero("live_air")
    if setting is None or job.live_air is None:
        return None if setting is None else setting.precharge
    if service is None or now is None:
        return None
    ambient = AbsolutePressure(np.asarray(setting.ambient))
    charge = absolute(gauge_pressure(setting.precharge), ambient)
    moved = float(gauge(charge_at_temperature(charge, service, now), ambient))
    if moved < 0.0:
        reader.report(
            Level.STOP,
            "charge_below_zero",
            "live_air",
            tr("So cold the charge would lie below the air around the tank."),
            tr("Check the temperature and its unit."),
        )
        return None
    return moved


def _relief(job: Job, setting: Setting | None, shell: Shell | None, reader: Reader) -> float | None:
    """Where the relief valve opens [Pa gauge]: as entered, else an assumption that is told."""
    if setting is None:
        return None
    if job.relief_setting is not None:
        entered = reader.above_zero("relief_setting")
        if entered is not None and entered <= setting.cut_out * (1.0 + SAME):
            reader.report(
                Level.STOP,
                "relief_below_cut_out",
                "relief_setting",
                tr("The relief valve would open before the pump stops."),
                tr("Lower the band, or name a valve that opens above cut-out."),
            )
            return None
        return entered
    rating = None if shell is None else shell.rating
    if rating is not None and rating > setting.cut_out * (1.0 + SAME):
        reader.findings.append(
            Finding(
                Level.NOTE,
                "relief_at_rating",
                "relief_setting",
                tr("No relief valve is named: it is taken to open at {relief}, the tank's rated"
                   " pressure."),
                values=(("relief", rating, PRESSURE),),
            )
        )  # fmt: skip
        return rating
    assumed = setting.cut_out + RELIEF_ABOVE
    reader.findings.append(
        Finding(
            Level.NOTE,
            "relief_assumed",
            "relief_setting",
            tr("No relief valve is named: it is taken to open at {relief}, which is {above} above"
               " cut-out (assumed here)."),
            values=(("relief", assumed, PRESSURE), ("above", RELIEF_ABOVE, PRESSURE)),
        )
    )  # fmt: skip
    return assumed


def _delivery(job: Job, setting: Setting | None) -> Delivery | None:
    """What the pump gives, whether it reaches cut-out or not; why it cannot be read the results
    tell already.
    """
    reader = Reader(job)
    with np.errstate(all="ignore"):
        return read_delivery(job, reader, setting, read_well(job, reader))[0]
