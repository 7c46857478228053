"""What the page "Precharge" says, in words: for the page, its plot and the command line."""

from __future__ import annotations

import math

from workbench.physics.gap import NoWater
from workbench.study.bands.words import share_text, signed, water
from workbench.study.shift.view import STEP, AtCharge, Cost, Region, Shift
from workbench.units import (
    FLOW,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    Display,
    System,
)
from workbench.units.kinds import VOLUME
from workbench.words import tr

_PSI, _KPA = PRESSURE.units["psi"].factor, PRESSURE.units["kPa"].factor
_ROWS = {
    System.US: tuple(n * _PSI for n in (-10, -5, -2, -1, 0, 1, 2, 5)),
    System.METRIC: tuple(n * _KPA for n in (-70, -35, -15, -5, 0, 5, 15, 35)),
}
"""The rows of the table beside the recommended precharge [Pa], round in the shown unit."""
_NEAR = 0.5 * _PSI  # a round row so near to one's own would say the same


def region_name(region: Region) -> str:
    """What a region is called."""
    return {
        Region.UNDER: tr("undercharged"),
        Region.RIGHT: tr("right"),
        Region.OVER: tr("overcharged"),
        Region.SHUT: tr("no water enters"),
    }[region]


def region_sentence(at: AtCharge, shift: Shift, display: Display) -> str:
    """What becomes of the tank at a precharge."""
    if at.region is Region.SHUT:
        return tr("Overcharged: at or above cut-out no water enters the tank.")
    if at.region is Region.OVER:
        first = tr(
            "Overcharged: the tank is empty at {charge}, and the pump starts only at {cut_in}.",
            charge=display.text(at.precharge, PRESSURE),
            cut_in=display.text(shift.setting.cut_in, PRESSURE),
        )
        return f"{first} {gap_sentence(at, shift, display)}"
    left = display.text(at.left, VOLUME)
    if at.region is Region.UNDER:
        return tr(
            "Undercharged: {left} stay in the tank when the pump starts, and at cut-out water fills"
            " {reach} of it, so the membrane works harder.",
            left=left,
            reach=display.text(at.reach, PERCENT),
        )
    if falters(at):
        first = tr("No margin: {left} stay in the tank when the pump starts.", left=left)
        return f"{first} {gap_sentence(at, shift, display)}"
    return tr("Right: {left} stay in the tank when the pump starts.", left=left)


def falters(at: AtCharge) -> bool:
    """Whether the taps are known to falter."""
    return at.gap is not None and at.gap.falter > 0.0


def gap_sentence(at: AtCharge, shift: Shift, display: Display) -> str:
    """How long the taps falter at the steady draw, or why that is not known."""
    if at.gap is None or shift.tap is None:
        why = shift.no_gap or tr("Tank and pipes give hardly any water between cut-in and cut-out.")
        return tr("How long the taps falter is not known. {why}", why=why)
    draw = display.text(shift.tap, FLOW)
    if at.gap.falter == 0.0:
        return tr("At {draw} the taps do not falter.", draw=draw)
    if math.isinf(at.gap.falter):
        return tr("At {draw} the tank never takes water again.", draw=draw)
    return tr(
        "At {draw} the taps falter {seconds} in each cycle, {dry} of them without any pressure.",
        draw=draw,
        seconds=seconds_text(at.gap.falter, display),
        dry=seconds_text(at.gap.dry, display),
    )


def gap_basis(shift: Shift, display: Display) -> str:
    """What the seconds rest on."""
    if shift.rig is None or shift.tap is None:
        return ""
    system = shift.rig.system
    return tr(
        "The seconds rest on what the pipes give ({give} for {fall}) and on the pump's start"
        " ({start}), as entered: measure them where they matter.",
        give=display.text(system.line_give * 10 * _PSI, VOLUME, 4),
        fall=display.text(10 * _PSI, PRESSURE),
        start=seconds_text(system.start_delay, display),
    )


def seconds_text(seconds: float, display: Display) -> str:
    """Seconds to a tenth; "without end" where they have none."""
    if math.isinf(seconds):
        return tr("without end")
    return display.text(seconds, SHORT_TIME, 1 if seconds < 100.0 else 0)


def gap_text(gap: NoWater | None, display: Display) -> str:
    """The gap in a cell of a table."""
    if gap is None:
        return tr("not known")
    if gap.falter == 0.0:
        return tr("none")
    falter = seconds_text(gap.falter, display)
    if gap.dry == 0.0 or math.isinf(gap.falter):
        return falter
    return tr("{falter}, {dry} dry", falter=falter, dry=seconds_text(gap.dry, display))


def starts_text(starts: float | None, display: Display) -> str:
    """Starts a day as a plain number."""
    if starts is None:
        return tr("not known")
    return display.number(starts, STARTS_PER_DAY, 1 if starts * 86_400 < 10.0 else 0)


def change_text(at: AtCharge, display: Display) -> str:
    """The drawdown against the recommended precharge's."""
    return tr("not known") if at.change is None else share_text(at.change, display)


def cost_sentence(cost: Cost, display: Display) -> str:
    """What a step of pressure costs in water and in starts, for one unit as it is shown."""
    per, scale = _step(display)
    amount = signed(-cost.water * scale, VOLUME, display, 2)
    if cost.starts is None:
        return tr("{amount} for each {step}", amount=amount, step=per)
    starts = signed(cost.starts * scale, STARTS_PER_DAY, display, 1)
    starts = starts.removesuffix(display.symbol(STARTS_PER_DAY)).strip()
    return tr(
        "{amount} and {starts} starts a day for each {step}",
        amount=amount,
        starts=starts,
        step=per,
    )


def _step(display: Display) -> tuple[str, float]:
    """A round step of pressure in the shown unit, and how many psi it is."""
    if display.system is System.US:
        return display.symbol(PRESSURE), 1.0
    step = 10 * _KPA
    return display.text(step, PRESSURE, 0), step / STEP


def reading(at: AtCharge, display: Display) -> str:
    """All that stands at a place of the picture."""
    return tr(
        "At {charge}, {region} — drawdown {water} ({change}), left at cut-in {left}, starts a day"
        " {starts}, taps falter: {gap}",
        charge=display.text(at.precharge, PRESSURE),
        region=region_name(at.region),
        water=water(at.drawdown, display),
        change=change_text(at, display),
        left=display.text(at.left, VOLUME),
        starts=starts_text(at.starts, display),
        gap=gap_text(at.gap, display),
    )


def rows(shift: Shift, display: Display) -> list[tuple[str, AtCharge, bool]]:
    """The rows of the table by rising precharge: name, figures, and whether it is the user's own.

    Those beside the recommended precharge are round in the shown unit; none lies below zero.
    """
    right = shift.recommended.precharge
    found: list[tuple[str, AtCharge, bool]] = []
    for offset in _ROWS[display.system]:
        near = abs(right + offset - shift.today.precharge) < _NEAR
        own = math.isclose(right + offset, shift.today.precharge, rel_tol=1e-9, abs_tol=1e-3)
        if right + offset < 0.0 or (offset and near and not own):
            continue
        amount = display.text(abs(offset), PRESSURE, 0)
        name = tr("recommended")
        if offset:
            name = tr("{amount} below", amount=amount) if offset < 0.0 else tr(
                "{amount} above", amount=amount)  # fmt: skip
        if own and offset:
            name = tr("yours, {place}", place=name)
        found.append((name, shift.at(right + offset), own))
    if not any(own for _, _, own in found):
        found.append((tr("yours"), shift.today, True))
    return sorted(found, key=_by_precharge)


def _by_precharge(row: tuple[str, AtCharge, bool]) -> float:
    return row[1].precharge
