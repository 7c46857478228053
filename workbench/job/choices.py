"""The rules a person chooses between. Each names where it comes from; none is hidden."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workbench.words import tr


class RunTimeRule(Enum):
    """What sets the shortest run of the pump, and so the required drawdown."""

    TYPED = "typed"
    STEPS = "steps"
    STARTS = "starts"


class PrechargeRule(Enum):
    """How the precharge follows from cut-in."""

    BELOW_2 = "cut_in_less_2_psi"
    AT_CUT_IN = "cut_in"
    BELOW_5 = "cut_in_less_5_psi"
    TYPED = "typed"


class Order(Enum):
    """What comes first among the tanks that pass."""

    PRICE = "lowest_price"
    FLOOR = "smallest_footprint"
    RUN_TIME = "longest_run"
    STOCK = "in_stock_first"


@dataclass(frozen=True, slots=True)
class Choice:
    """How a choice reads: a short label and the source that it rests on."""

    label: str
    source: str


def run_time_rules() -> dict[RunTimeRule, Choice]:
    """The run-time rules with their sources."""
    return {
        RunTimeRule.TYPED: Choice(
            tr("run time as typed"),
            tr("Your own minimum run time, for example from the pump motor's instructions."),
        ),
        RunTimeRule.STEPS: Choice(
            tr("steps by pump flow"),
            tr(
                "1 min up to 10 gpm, 1.5 min up to 20 gpm, 2 min above. The steps by flow are"
                " common practice; the minutes equal published limits of starts per hour in the"
                " worst case: 15 and 7.5 (Water Systems Council, PST performance standard, 2000,"
                " introduction) and 10 (MIL-HDBK-1005/9A, paragraph 2.5.3.6)."
            ),
        ),
        RunTimeRule.STARTS: Choice(
            tr("limit of starts per hour"),
            tr(
                "Drawdown = 15 × flow ÷ starts per hour, the worst case at half the pump's flow"
                " (MIL-HDBK-1005/9A, paragraph 2.5.3.6). Six per hour is the usual limit of public"
                " systems (Washington State Department of Health 331-123, 2009, chapter 11; Idaho"
                " Administrative Code 58.01.08.547)."
            ),
        ),
    }


def precharge_rules() -> dict[PrechargeRule, Choice]:
    """The precharge rules with their sources."""
    return {
        PrechargeRule.BELOW_2: Choice(
            tr("cut-in less 2 psi"),
            tr(
                "Two psi below cut-in, tank drained (non-profit well council information sheet"
                " “Pressure Tanks”, January 2007, p. 3)."
            ),
        ),
        PrechargeRule.AT_CUT_IN: Choice(
            tr("equal to cut-in"),
            tr(
                "The most drawdown that a tank can give; the usual 0.37, 0.31 and 0.27 of total"
                " volume assume it (common practice, no source). A drift of the switch shows as a"
                " dip at the tap."
            ),
        ),
        PrechargeRule.BELOW_5: Choice(
            tr("cut-in less 5 psi"),
            tr(
                "Five psi below cut-in, as the bladder-tank formula of Washington State Department"
                " of Health 331-123, 2009, chapter 11, implies (from memory)."
            ),
        ),
        PrechargeRule.TYPED: Choice(
            tr("as typed"), tr("Your own setting, or what the tank was found with.")
        ),
    }


def orders() -> dict[Order, Choice]:
    """The orders of the passing tanks; equal ones are then sorted by price, name and id."""
    return {
        Order.PRICE: Choice(tr("lowest price"), tr("Unpriced tanks come last.")),
        Order.FLOOR: Choice(
            tr("smallest footprint"),
            tr("Floor taken up by the tanks; a tank in the ground takes none."),
        ),
        Order.RUN_TIME: Choice(tr("longest run"), tr("The longest run at no demand comes first.")),
        Order.STOCK: Choice(tr("in stock first"), tr("In stock, then not stated, then not.")),
    }
