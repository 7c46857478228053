"""What to do instead, for every error."""

from __future__ import annotations

from workbench.study.exercises.slip import Slip
from workbench.words import tr


def remedies() -> dict[Slip, str]:
    """One sentence that mends each error."""
    return {**_of_sums(), **_of_diagnosis()}


def _of_sums() -> dict[Slip, str]:
    add_air = tr("Add the pressure of the air around to every gauge reading before you divide.")
    share = tr("Work out the drawdown factor first: drawdown = factor × total volume.")
    rule = tr("Start from cut-in and go below it by what the rule says, tank drained.")
    units = tr("Bring everything to one unit of time before you multiply or divide.")
    flow = tr("Use the flow that was measured at the tank, over the whole band.")
    kelvin = tr("Divide absolute temperatures: °F + 460, or °C + 273; and absolute pressures.")
    height = tr("Take the air pressure of each place from its altitude; absolute stays the same.")
    head = tr("Head = pumping level + cut-out as head + friction.")
    asked = tr("Read again what is asked, and take the difference.")
    return {
        Slip.GAUGE_IN_BOYLE: add_air,
        Slip.TANK_AS_DRAWDOWN: share,
        Slip.DRAWDOWN_AS_TANK: share,
        Slip.OLD_PRECHARGE: tr("A new band needs a new charge. ") + rule,
        Slip.PRECHARGE_ABOVE: rule,
        Slip.PRECHARGE_AT_CUT_IN: rule,
        Slip.FROM_CUT_OUT: rule,
        Slip.WHOLE_FOR_CHANGE: asked,
        Slip.LEFT_FOR_LOST: asked,
        Slip.IMPERIAL_GALLONS: tr("Look for the word on the label, and convert first."),
        Slip.LABEL_FLOW: flow,
        Slip.FLOW_AT_CUT_IN: flow,
        Slip.FLOW_AT_CUT_OUT: flow,
        Slip.LABEL_BAND: tr("Go by what was read on the gauge, not by the cover."),
        Slip.TIME_MIXED: units,
        Slip.HALF_FLOW: tr("Shortest run = drawdown ÷ the pump's whole flow."),
        Slip.SIXTY_FOR_FIFTEEN: tr("Most starts per hour = 15 ÷ shortest run in minutes."),
        Slip.RUN_FOR_REST: tr(
            "Drawdown = draw × rest; the pump gives that and the draw in its run."),
        Slip.WHOLE_BAND: tr("Use the two pressures that were read, in place of the band."),
        Slip.DEMAND_FORGOTTEN: tr(
            "While the pump runs: flow = what fills the tank + what is drawn."),
        Slip.ONE_TANK: tr("Add the tanks on the header, each with its charge."),
        Slip.SAME_GALLONS: tr("Find what the old tank gave, then the tank that gives the same."),
        Slip.TOO_SMALL: tr("Compare drawdown with flow × run time; take the next larger."),
        Slip.TOO_LARGE: tr("Take the smallest whose drawdown is enough."),
        Slip.OTHER_ROOT: tr("Ask how the water ends: a sudden stop is too much air."),
        Slip.STATIC_LEVEL: head,
        Slip.CUT_IN_FOR_HEAD: head,
        Slip.CUT_OUT_FOR_CUT_IN: tr("Start from cut-in: that is as low as it gets."),
        Slip.HEAD_WRONG_WAY: tr("Head in ft = psi × 2.31; head in m = kPa ÷ 9.8."),
        Slip.HEAD_FORGOTTEN: tr("Turn the height into pressure, and take it off or add it."),
        Slip.NOT_ABSOLUTE_TEMPERATURE: kelvin,
        Slip.TEMPERATURE_FORGOTTEN: kelvin,
        Slip.TEMPERATURE_WRONG_WAY: tr("Ask first: will it read more or less there? Then set it."),
        Slip.ALTITUDE_FORGOTTEN: height,
        Slip.ALTITUDE_WRONG_WAY: tr("Ask first: will it read more or less there? Then set it."),
    }  # fmt: skip


def _of_diagnosis() -> dict[Slip, str]:
    return {
        Slip.AIR_READ_WITH_WATER: tr(
            "Power off and locked out, tank drained, gauge at zero: only then read the air."),
        Slip.BIGGER_TANK: tr(
            "Store water without pressure, filled as the well gives it, with a second pump."),
        Slip.SWITCH_FOR_CHARGE: tr("Leave the switch; set the air, tank drained."),
        Slip.CHARGE_FOR_SWITCH: tr("Set the switch back to its band, then check the charge."),
        Slip.TANK_REPLACED: tr("Charge it, soap the valve, and read it again in a week."),
        Slip.MEMBRANE_MISSED: tr(
            "Replace the tank, or its membrane where the vessel allows that."),
        Slip.PUMP_BLAMED: tr(
            "Compare the pump's flow with what it should give before it is pulled."),
        Slip.SWITCH_BLAMED: tr("Compare the pressures read with the band that was set."),
        Slip.TANK_BLAMED: tr("Compare the drawdown with what the tank should give at this band."),
        Slip.WRONG_SIDE: tr("Shut the house valve, pump off, and watch the gauge."),
        Slip.WITHIN_TOLERANCE: tr("Compare the difference with the gauge's tolerance first."),
        Slip.BEYOND_TOLERANCE: tr("Compare the difference with the gauge's tolerance first."),
        Slip.UNSAFE: tr(
            "Power off, locked out and proven dead; gauge at zero; never above the marked working"
            " pressure."),
        Slip.CONTRADICTED: tr("Hold each fault against every reading on the sheet."),
        Slip.NOT_READ: tr("Take the reading in which the two differ."),
        Slip.GUESSED: tr("Take one more reading: one in which the others would differ."),
    }  # fmt: skip
