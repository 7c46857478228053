"""The tank of a variable-speed pump, checked against what the drive's maker states.

No public rule with numbers exists for such a tank: Recommended Standards for Water Works, section
7.2.2, lets a variable speed stand in for the ten-fold volume that it asks of other pumps, and gives
no figure of its own. So every rule is the maker's as entered, and only checked by Boyle's law:

    precharge = share × set pressure, both read on the gauge
    reserve   = water between wake and set
    needed    = time to speed × sudden draw

The reserve bridges a draw that the drive answers at once. A draw that meets the drive just before
it wakes is carried by the water left at wake, and the pressure falls below wake meanwhile. A tank
carries the drive if either water is at least what is needed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from workbench.physics.air import AbsolutePressure, FloatArray, absolute, gauge_pressure
from workbench.physics.demand import OUTLET_FLOW
from workbench.physics.forgiving import SAME
from workbench.physics.header import Vessels
from workbench.physics.tank import volume_for_drawdown
from workbench.study.chosen import chosen
from workbench.study.findings import Finding, Level
from workbench.study.motor import read_motor
from workbench.study.ranking import Judged
from workbench.study.reader import Reader
from workbench.units import PRESSURE, VOLUME
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.study.evaluate import Results

_HIGHEST = 80 * PRESSURE.units["psi"].factor  # International Residential Code P2903.3.1
_DAY = 86_400.0  # s
_POINTS = 201  # of the picture, from no pressure to set
NEEDED = ("drive_set", "drive_wake", "drive_share", "drive_tank", "drive_ramp")
"""The maker's statements that the page needs, in the order in which they are entered."""


@dataclass(frozen=True, slots=True)
class Draw:
    """The largest draw that begins at once [m³/s]; ``fixtures`` that have it, () where typed."""

    flow: float
    fixtures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reserve:
    """Water of one total volume at the drive's pressures (SI).

    ``water``: between wake and set. ``at_wake``: still in the tank at wake. ``lowest`` [gauge Pa]:
    where the pressure falls to while the pump comes to speed, the draw beginning just above wake;
    None where the tank runs empty, or where what is drawn is not known.
    """

    volume: float
    water: float
    at_wake: float
    lowest: float | None


@dataclass(frozen=True, eq=False)
class DrivePicture:
    """Water (m,) [m³] over gauge pressure (m,) [Pa] from 0 to set."""

    pressure: FloatArray
    water: FloatArray


@dataclass(frozen=True, slots=True)
class TankForDrive:
    """The chosen tank of the catalogue. ``is_named``: by the job, not by the ranking alone."""

    one: Judged
    is_named: bool
    large_enough: bool
    reserve: Reserve


@dataclass(frozen=True, eq=False)
class DriveView:
    """All that the page shows (SI, gauge pressures). A part is None where an entry is missing.

    ``missing``: names of the maker's statements that are not entered. ``needed`` [m³]: what is
    drawn while the pump comes to speed; ``volume_needed`` [m³] is the total volume that carries it.
    ``leak_starts`` [1/s]: leak over reserve, an upper bound, as each run lengthens the turn a
    little. ``starts_allowed`` [1/s]: of the motor's limit for a day.
    """

    missing: tuple[str, ...]
    pressures: DrivePressures | None
    draw: Draw | None
    needed: float | None
    reserve: Reserve | None
    volume_needed: float | None
    leak: float | None
    leak_starts: float | None
    starts_allowed: float | None
    tank: TankForDrive | None
    picture: DrivePicture | None
    findings: tuple[Finding, ...]

    @property
    def is_reserve_enough(self) -> bool | None:
        """Whether the reserve is at least what is needed; None where either is not known."""
        return None if self.reserve is None else covers(self.reserve.water, self.needed)

    @property
    def is_rest_enough(self) -> bool | None:
        """Whether the water left at wake is; None where either is not known."""
        return None if self.reserve is None else covers(self.reserve.at_wake, self.needed)

    @property
    def carries(self) -> bool | None:
        """Whether both are; None where either is not known."""
        enough = (self.is_reserve_enough, self.is_rest_enough)
        return None if None in enough else all(enough)


def covers(water: float, needed: float | None) -> bool | None:
    """Whether so much water [m³] is at least what is needed; None where that is not known."""
    return None if needed is None else water >= needed * (1.0 - SAME)


@dataclass(frozen=True, slots=True)
class DrivePressures:
    """Gauge pressures [Pa] that may be used together; ambient [Pa abs], exponent [-]."""

    set_pressure: float
    wake: float
    precharge: float
    ambient: float
    exponent: float

    @property
    def gap(self) -> float:
        """Pressure [Pa] between the emptying of the tank and the drive's waking; 0 if none."""
        gap = self.precharge - self.wake
        return gap if gap > SAME * self.precharge else 0.0

    def absolute(self, pressure: float) -> AbsolutePressure:
        """Absolute pressure [Pa] of a gauge pressure [Pa] here."""
        return absolute(gauge_pressure(pressure), AbsolutePressure(np.asarray(self.ambient)))

    def vessels(self, volumes: list[float], acceptances: list[float]) -> Vessels:
        """Tanks [m³] at this precharge; acceptance inf where it is not known."""
        charge = np.full(len(volumes), float(self.absolute(self.precharge)))
        most = np.array(acceptances)
        return Vessels(np.array(volumes), AbsolutePressure(charge), most, self.exponent)

    def reserve(self, vessels: Vessels, needed: float | None) -> Reserve:
        """What such tanks give, with ``needed`` [m³] drawn while the pump comes to speed."""
        left = float(vessels.water(self.absolute(self.wake)))
        water = float(vessels.water(self.absolute(self.set_pressure))) - left
        lowest = None
        if needed is not None and covers(left, needed):
            after = max(left - needed, 0.0)
            lowest = float(vessels.pressure(after)) - self.ambient
        return Reserve(float(np.sum(vessels.volume)), water, left, lowest)


def drive_view(results: Results) -> DriveView:
    """The page's figures; what stands in the way is among its findings or those of ``results``."""
    job, reader = results.job, Reader(results.job)
    stated = _pressures(results, reader)
    volume, ramp = reader.above_zero("drive_tank"), reader.not_below_zero("drive_ramp")
    leak, draw = reader.not_below_zero("leak", needed=False), _draw(results, reader)
    needed = ramp * draw.flow if ramp is not None and draw is not None else None
    gone: tuple[Finding, ...] = ()
    reserve = tank = picture = volume_needed = leak_starts = None
    if stated is not None:
        volume_needed = _volume_needed(stated, needed)
        tank, gone = _tank(results, stated, volume, needed)
    if stated is not None and volume is not None:
        vessels = stated.vessels([volume], [np.inf])
        reserve = stated.reserve(vessels, needed)
        picture = _picture(stated, vessels)
        if leak is not None and reserve.water > 0.0:
            leak_starts = leak / reserve.water
    view = DriveView(
        missing=tuple(name for name in NEEDED if getattr(job, name) is None),
        pressures=stated,
        draw=draw,
        needed=needed,
        reserve=reserve,
        volume_needed=volume_needed,
        leak=leak,
        leak_starts=leak_starts,
        starts_allowed=_starts_allowed(results),
        tank=tank,
        picture=picture,
        findings=(),
    )
    # Altitude and exponent were read, and told, with the setting too.
    found = (*gone, *reader.findings, *_about(view, results))
    return replace(view, findings=tuple(one for one in found if one not in results.findings))


def _pressures(results: Results, reader: Reader) -> DrivePressures | None:
    """The drive's pressures; None, with findings, where they cannot be used together."""
    high, low = reader.above_zero("drive_set"), reader.not_below_zero("drive_wake")
    share = reader.share("drive_share")
    ambient, exponent = reader.altitude("altitude"), reader.value("exponent")
    sound = True
    if high is not None and low is not None and low >= high * (1.0 - SAME):
        sound = False
        reader.report(
            Level.STOP,
            "wake_not_below_set",
            "drive_wake",
            tr("The wake pressure must lie below the set pressure."),
            tr("Type both as they are entered in the drive."),
        )
    if share is not None and share >= 1.0 - SAME:
        sound = False
        reader.report(
            Level.STOP,
            "drive_precharge_at_set",
            "drive_share",
            tr("With the precharge at the set pressure no water enters the tank."),
            tr("Type the share as the drive's maker states it."),
        )
    stopped = {one.field for one in results.findings if one.level is Level.STOP}
    if not sound or stopped & {"altitude", "exponent"}:
        return None
    if high is None or low is None or share is None or ambient is None or exponent is None:
        return None
    return DrivePressures(high, low, share * high, ambient, exponent)


def _draw(results: Results, reader: Reader) -> Draw | None:
    """The sudden draw as typed, else the largest fixture of the house, a hose among them."""
    typed = reader.above_zero("drive_step")
    if results.job.drive_step is not None:
        return None if typed is None else Draw(typed, ())
    if any(one.level > Level.NOTE and one.field in OUTLET_FLOW for one in results.house.findings):
        reader.report(
            Level.CAUTION,
            "fixtures_unread",
            "drive_step",
            tr("A count on “Peak demand” cannot be used; the other fixtures are taken."),
            tr("Mend it there, or type the largest draw that begins at once."),
        )
    largest, flow = results.house.largest, 0.0
    names: tuple[str, ...] = ()
    if largest is not None:
        flow, names = largest.flow, largest.fixtures
    hoses = Reader(results.job).value("hose_bibs")  # told on the page of the house
    if hoses is not None and hoses > 0.0 and OUTLET_FLOW["hose_bibs"] > flow:
        flow, names = OUTLET_FLOW["hose_bibs"], ("hose_bibs",)
    if flow > 0.0:
        return Draw(flow, names)
    reader.report(
        Level.STOP,
        "no_sudden_draw",
        "drive_step",
        tr("No fixture of the house is entered from which the sudden draw could be taken."),
        tr("Type the largest draw that begins at once."),
    )
    return None


def _volume_needed(stated: DrivePressures, needed: float | None) -> float | None:
    if needed is None:
        return None
    charge, low, high = map(stated.absolute, (stated.precharge, stated.wake, stated.set_pressure))
    between = volume_for_drawdown(needed, charge, low, high, stated.exponent)
    # Down to the precharge a tank gives all its water; below wake there must be some.
    below = volume_for_drawdown(needed, charge, min(charge, low), low, stated.exponent)
    return max(float(between), float(below))


def _tank(
    results: Results, stated: DrivePressures, volume: float | None, needed: float | None
) -> tuple[TankForDrive | None, tuple[Finding, ...]]:
    one, gone = chosen(results, "first_tank")
    if one is None:
        return None, gone
    vessels = stated.vessels(
        [part.total_volume for part in one.parts],
        [np.inf if part.acceptance is None else part.acceptance for part in one.parts],
    )
    enough = volume is None or one.total_volume >= volume * (1.0 - SAME)
    reserve = stated.reserve(vessels, needed)
    return TankForDrive(one, bool(results.job.first_tank), enough, reserve), gone


def _picture(stated: DrivePressures, vessels: Vessels) -> DrivePicture:
    even = np.linspace(0.0, stated.set_pressure, _POINTS)
    gauge = np.unique(np.append(even, (stated.precharge, stated.wake)))
    at = absolute(gauge_pressure(gauge), AbsolutePressure(np.asarray(stated.ambient)))
    return DrivePicture(gauge, vessels.water(at))


def _starts_allowed(results: Results) -> float | None:
    """A day's starts by the motor's limit; what is wrong with it is told on the page of cycles."""
    stands, _ = read_motor(results.job, Reader(results.job))
    return stands.starts_day if stands is not None else None


# --- what is wrong ---


def _about(view: DriveView, results: Results) -> Iterator[Finding]:
    if view.pressures is None:
        return
    yield from _about_pressures(view.pressures)
    yield from _about_reserve(view)
    limit = view.starts_allowed
    if view.leak_starts and limit is not None and view.leak_starts > limit * (1.0 + SAME):
        yield Finding(
            Level.CAUTION,
            "leak_starts_many",
            "leak",
            tr(
                "The leak alone wakes the drive {starts} times a day; the motor's limit allows"
                " {limit}.",
                starts=f"{view.leak_starts * _DAY:.0f}",
                limit=f"{limit * _DAY:.0f}",
            ),
            tr("Mend the leak, or take a larger tank."),
        )
    if view.tank is not None and view.tank.is_named:
        yield from _about_tank(view.tank, view.pressures, results)


def _about_pressures(stated: DrivePressures) -> Iterator[Finding]:
    if stated.set_pressure > _HIGHEST * (1.0 + SAME):
        yield Finding(
            Level.CAUTION,
            "set_above_80",
            "drive_set",
            tr("Above the 80 psi allowed at fixtures (International Residential Code P2903.3.1)."),
            tr("Lower it, or fit a pressure-reducing valve after the tank."),
        )
    if stated.gap > 0.0:
        yield Finding(
            Level.CAUTION,
            "precharge_above_wake",
            "drive_share",
            tr("The tank is empty {gap} before the drive wakes: a moment of no water."),
            tr("Check share, set and wake pressure against the maker's statements."),
            (("gap", stated.gap, PRESSURE),),
        )


def _about_reserve(view: DriveView) -> Iterator[Finding]:
    if view.reserve is None or view.needed is None:
        return
    if not view.is_reserve_enough:
        yield Finding(
            Level.CAUTION,
            "reserve_small",
            "drive_tank",
            tr("Between set and wake it gives less than is drawn while the pump comes to speed."),
            tr("Take a larger tank: the maker's figure is a least one."),
        )
    if not view.is_rest_enough and view.pressures is not None and not view.pressures.gap:
        yield Finding(
            Level.CAUTION,
            "empty_while_starting",
            "drive_ramp",
            tr(
                "A sudden draw that begins just above wake empties the tank before the pump gives"
                " as much."
            ),
            tr("Take a larger tank."),
        )


def _about_tank(tank: TankForDrive, stated: DrivePressures, results: Results) -> Iterator[Finding]:
    if not tank.large_enough:
        yield Finding(
            Level.CAUTION,
            "tank_below_smallest",
            "first_tank",
            tr("The chosen tank has {volume}, less than the drive's maker asks for."),
            tr("Choose a larger tank."),
            (("volume", tank.one.total_volume, VOLUME),),
        )
    limits = results.inputs.limits
    marked = min(part.max_working_pressure for part in tank.one.parts)
    needed = stated.set_pressure + (limits.pressure_margin if limits is not None else 0.0)
    if marked < needed * (1.0 - SAME):
        yield Finding(
            Level.STOP,
            "tank_too_weak_for_drive",
            "first_tank",
            tr("The chosen tank is marked for {marked}; set pressure and margin need {needed}."),
            tr("Choose a tank that is marked for more."),
            (("marked", marked, PRESSURE), ("needed", needed, PRESSURE)),
        )
