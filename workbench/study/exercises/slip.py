"""The errors that people of the trade really make, each with its size.

The sizes are worked out by the formulas of :mod:`workbench.physics.tank` at sea level; that people
make these errors is common practice, no source.
"""

from __future__ import annotations

from enum import Enum

from workbench.job.choices import Choice
from workbench.words import tr


class Slip(Enum):
    """One kind of error; the value is what a class's file keeps."""

    GAUGE_IN_BOYLE = "gauge_in_boyle"
    TANK_AS_DRAWDOWN = "tank_as_drawdown"
    DRAWDOWN_AS_TANK = "drawdown_as_tank"
    AIR_READ_WITH_WATER = "air_read_with_water"
    OLD_PRECHARGE = "old_precharge"
    PRECHARGE_ABOVE = "precharge_above_cut_in"
    PRECHARGE_AT_CUT_IN = "precharge_at_cut_in"
    FROM_CUT_OUT = "precharge_from_cut_out"
    WHOLE_FOR_CHANGE = "whole_for_change"
    IMPERIAL_GALLONS = "imperial_gallons"
    LABEL_FLOW = "label_flow"
    LABEL_BAND = "label_band"
    TIME_MIXED = "time_mixed"
    HALF_FLOW = "half_flow"
    SIXTY_FOR_FIFTEEN = "sixty_for_fifteen"
    FLOW_AT_CUT_IN = "flow_at_cut_in"
    FLOW_AT_CUT_OUT = "flow_at_cut_out"
    RUN_FOR_REST = "run_for_rest"
    WHOLE_BAND = "whole_band"
    DEMAND_FORGOTTEN = "demand_forgotten"
    STATIC_LEVEL = "static_level"
    CUT_IN_FOR_HEAD = "cut_in_for_head"
    CUT_OUT_FOR_CUT_IN = "cut_out_for_cut_in"
    HEAD_WRONG_WAY = "head_wrong_way"
    HEAD_FORGOTTEN = "head_forgotten"
    NOT_ABSOLUTE_TEMPERATURE = "not_absolute_temperature"
    TEMPERATURE_FORGOTTEN = "temperature_forgotten"
    TEMPERATURE_WRONG_WAY = "temperature_wrong_way"
    ALTITUDE_FORGOTTEN = "altitude_forgotten"
    ALTITUDE_WRONG_WAY = "altitude_wrong_way"
    ONE_TANK = "one_tank_counted"
    SAME_GALLONS = "same_gallons_again"
    TOO_SMALL = "too_small"
    TOO_LARGE = "larger_than_needed"
    BIGGER_TANK = "bigger_tank_for_yield"
    SWITCH_FOR_CHARGE = "switch_for_charge"
    CHARGE_FOR_SWITCH = "charge_for_switch"
    TANK_REPLACED = "tank_replaced"
    MEMBRANE_MISSED = "membrane_missed"
    PUMP_BLAMED = "pump_blamed"
    SWITCH_BLAMED = "switch_blamed"
    TANK_BLAMED = "tank_blamed"
    WRONG_SIDE = "wrong_side_of_valve"
    OTHER_ROOT = "other_root"
    LEFT_FOR_LOST = "left_for_lost"
    WITHIN_TOLERANCE = "within_tolerance"
    BEYOND_TOLERANCE = "beyond_tolerance"
    UNSAFE = "unsafe"
    CONTRADICTED = "contradicted_by_reading"
    NOT_READ = "reading_not_taken"
    GUESSED = "lucky_guess"


def slips() -> dict[Slip, Choice]:
    """What each error is called, and what it is and how much it matters."""
    return {**_of_pressure(), **_of_sums(), **_of_head_and_air(), **_of_diagnosis()}


def _of_pressure() -> dict[Slip, Choice]:
    return {
        Slip.GAUGE_IN_BOYLE: Choice(tr("gauge pressure in Boyle's law"), tr(
            "The law takes absolute pressure: gauge plus the air around, 14.7 psi (101 kPa) at sea"
            " level. With gauge numbers a 40/60 tank seems to give 31.7 % of its volume; it gives"
            " 25.8 %.")),
        Slip.AIR_READ_WITH_WATER: Choice(tr("air read with water in the tank"), tr(
            "While water stands in the tank the air valve shows the system's pressure, whatever"
            " the charge is: it can be 20 psi (140 kPa) off and look fine.")),
        Slip.OLD_PRECHARGE: Choice(tr("old precharge kept"), tr(
            "The charge goes with the band. 28 psi left on 40/60 makes a 44 gal tank give 9.2"
            " instead of 11.3 gal; 38 psi left on 30/50 empties it before cut-in.")),
        Slip.PRECHARGE_ABOVE: Choice(tr("precharge above cut-in"), tr(
            "Two above in place of two below: the tank is empty before the pump starts, and the"
            " taps go dry for a moment at every cycle.")),
        Slip.PRECHARGE_AT_CUT_IN: Choice(tr("precharge equal to cut-in"), tr(
            "It gives the most drawdown, but any drift of switch or gauge shows as a dip at the"
            " tap. The rule stated here is another.")),
        Slip.FROM_CUT_OUT: Choice(tr("precharge taken from cut-out"), tr(
            "Counted down from where the pump stops: hardly any water would enter the tank.")),
        Slip.WHOLE_FOR_CHANGE: Choice(tr("the whole charge given for the change"), tr(
            "Asked was by how much the charge changes, not what it becomes.")),
        Slip.LABEL_BAND: Choice(tr("the band on the cover taken for the one read"), tr(
            "Springs drift: what counts is what the gauge shows when the contacts move.")),
    }  # fmt: skip


def _of_sums() -> dict[Slip, Choice]:
    return {
        Slip.TANK_AS_DRAWDOWN: Choice(tr("total volume taken as drawdown"), tr(
            "Most of a tank is air. The tank seems to give 3.4 times as much as it does at 30/50,"
            " 3.9 times at 40/60.")),
        Slip.DRAWDOWN_AS_TANK: Choice(tr("drawdown taken as total volume"), tr(
            "The share that a tank gives was applied once too often, or to the wrong figure:"
            " three to four times off.")),
        Slip.IMPERIAL_GALLONS: Choice(tr("Imperial and US gallons mixed"), tr(
            "An Imperial gallon is 1.20 US gallons: 20 % off.")),
        Slip.LABEL_FLOW: Choice(tr("label flow in place of measured flow"), tr(
            "The label tells of the pump alone; the tank gets what was measured at its pressure,"
            " often a quarter less.")),
        Slip.TIME_MIXED: Choice(tr("minutes, seconds or hours mixed"), tr(
            "1:15 is 75 seconds and 1.25 minutes, not 1.15.")),
        Slip.HALF_FLOW: Choice(tr("half the pump's flow used"), tr(
            "Half the flow drawn is where starts are most; the shortest run is at no draw, with"
            " the whole flow going into the tank. A factor of two.")),
        Slip.SIXTY_FOR_FIFTEEN: Choice(tr("60 in place of 15"), tr(
            "At the worst draw, half the flow, run and rest take twice the shortest run each: 15"
            " over the run's minutes, not 60. A factor of four.")),
        Slip.FLOW_AT_CUT_IN: Choice(tr("the flow at cut-in used throughout"), tr(
            "The flow falls while the pressure rises, so the tank fills more slowly than it"
            " begins to.")),
        Slip.FLOW_AT_CUT_OUT: Choice(tr("the flow at cut-out used throughout"), tr(
            "The flow is least at the end; over most of the fill it is more.")),
        Slip.RUN_FOR_REST: Choice(tr("run and rest exchanged"), tr(
            "While the pump rests the tank serves the tap; while it runs the pump serves both.")),
        Slip.WHOLE_BAND: Choice(tr("the whole band's drawdown taken"), tr(
            "The pressure went over a part of the band only.")),
        Slip.DEMAND_FORGOTTEN: Choice(tr("what was drawn meanwhile is forgotten"), tr(
            "While the tap is open the pump fills the tank and serves the tap.")),
        Slip.ONE_TANK: Choice(tr("one of two tanks counted"), tr(
            "Two equal tanks with equal charge give twice what one gives.")),
        Slip.SAME_GALLONS: Choice(tr("the same total volume again"), tr(
            "A plain tank gives about a tenth of its volume at 30/50, a pre-charged one three"
            " tenths: what must be equal is the water that they give.")),
        Slip.TOO_SMALL: Choice(tr("too small"), tr(
            "It gives less than is needed, so the pump runs shorter than the rule says.")),
        Slip.TOO_LARGE: Choice(tr("larger than needed"), tr(
            "It serves, but a smaller one on the list does too: cost, floor and weight.")),
        Slip.LEFT_FOR_LOST: Choice(tr("what is left given for what is lost"), tr(
            "Asked was the difference; this is what remains.")),
        Slip.OTHER_ROOT: Choice(tr("too much air taken for too little, or the reverse"), tr(
            "One drawdown belongs to two charges, below cut-in and above it. How the water ends"
            " tells them apart: a sudden stop at the tap means too much air.")),
    }  # fmt: skip


def _of_head_and_air() -> dict[Slip, Choice]:
    return {
        Slip.STATIC_LEVEL: Choice(tr("static level in place of pumping level"), tr(
            "While it is pumped the water in the well stands lower, often by tens of feet.")),
        Slip.CUT_IN_FOR_HEAD: Choice(tr("cut-in in place of cut-out"), tr(
            "The pump must reach the pressure where it stops, or it never does: 46 ft (14 m) more"
            " at a 20 psi band.")),
        Slip.CUT_OUT_FOR_CUT_IN: Choice(tr("cut-out in place of cut-in"), tr(
            "The least pressure is the one at which the pump starts.")),
        Slip.HEAD_WRONG_WAY: Choice(tr("the factor of head the wrong way round"), tr(
            "1 psi is 2.31 ft of water, 100 kPa 10.2 m: multiply pressure to get head, divide"
            " head to get pressure.")),
        Slip.HEAD_FORGOTTEN: Choice(tr("the height left out"), tr(
            "Each foot that water is lifted takes 0.43 psi, each metre 9.8 kPa.")),
        Slip.NOT_ABSOLUTE_TEMPERATURE: Choice(
            tr("degrees of the thermometer in place of absolute temperature"), tr(
            "Air goes by kelvin or degrees Rankine (°F + 460): from 75 to 45 °F it loses a"
            " twentieth, not two fifths.")),
        Slip.TEMPERATURE_FORGOTTEN: Choice(tr("temperature forgotten"), tr(
            "A sealed charge falls about 1 psi for each 10 °F that it cools (7 kPa for 6 °C).")),
        Slip.TEMPERATURE_WRONG_WAY: Choice(tr("temperature the wrong way"), tr(
            "Air that is set warm reads less when it has cooled, so it is set higher.")),
        Slip.ALTITUDE_FORGOTTEN: Choice(tr("altitude forgotten"), tr(
            "The air around is thinner up there: 2.5 psi (17 kPa) at 5,000 ft (1,500 m).")),
        Slip.ALTITUDE_WRONG_WAY: Choice(tr("altitude the wrong way"), tr(
            "A sealed charge reads more after it was carried up, since the air around presses"
            " less.")),
    }  # fmt: skip


def _of_diagnosis() -> dict[Slip, Choice]:
    return {
        Slip.BIGGER_TANK: Choice(tr("a larger tank for a weak well"), tr(
            "A tank gives its water once; then the house has what the well gives, however large"
            " the tank is.")),
        Slip.SWITCH_FOR_CHARGE: Choice(tr("switch adjusted in place of the charge"), tr(
            "The band is as it should be; it is the air that is not.")),
        Slip.CHARGE_FOR_SWITCH: Choice(tr("charge changed in place of the switch"), tr(
            "The charge is right for the band that was meant; the switch has left that band.")),
        Slip.TANK_REPLACED: Choice(tr("a tank replaced that only lacked air"), tr(
            "A dry air valve and a charge that holds mean a sound membrane.")),
        Slip.MEMBRANE_MISSED: Choice(tr("a failed membrane pumped up"), tr(
            "Water at the air valve means that it has passed the membrane; air put in will not"
            " stay.")),
        Slip.PUMP_BLAMED: Choice(tr("the pump blamed"), tr(
            "Nothing that was read speaks against the pump.")),
        Slip.SWITCH_BLAMED: Choice(tr("the switch blamed"), tr(
            "It closes and opens where it was set.")),
        Slip.TANK_BLAMED: Choice(tr("the tank blamed"), tr(
            "Nothing that was read speaks against the tank or its air.")),
        Slip.WRONG_SIDE: Choice(tr("looked for on the wrong side of the house valve"), tr(
            "With the house valve shut, a gauge that still falls loses water towards the well;"
            " one that holds clears the well side.")),
        Slip.WITHIN_TOLERANCE: Choice(tr("a difference that the gauge cannot see"), tr(
            "Within its tolerance a reading says nothing against the setting.")),
        Slip.BEYOND_TOLERANCE: Choice(tr("a real difference passed over"), tr(
            "The reading is further off than the gauge may be wrong.")),
        Slip.UNSAFE: Choice(tr("unsafe"), tr(
            "Somebody can be hurt: by mains, by stored pressure, or by a vessel above its marked"
            " working pressure.")),
        Slip.CONTRADICTED: Choice(tr("a reading that was taken speaks against it"), tr(
            "A fault must explain every reading, not only one.")),
        Slip.NOT_READ: Choice(tr("the reading that tells was not taken"), tr(
            "What was read fits this fault and another one as well.")),
        Slip.GUESSED: Choice(tr("right, but guessed"), tr(
            "The readings taken fit other faults too.")),
    }  # fmt: skip
