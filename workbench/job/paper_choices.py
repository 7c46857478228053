"""The choices about bands, prices and papers."""

from __future__ import annotations

from enum import Enum

from workbench.job.choices import Choice
from workbench.words import tr


class SolveFor(Enum):
    """The one quantity that is not known."""

    PUMP_FLOW = "pump_flow"
    RUN_TIME = "run_time"
    VOLUME = "tank_volume"
    CENTRE = "band_centre"
    WIDTH = "band_width"
    PRECHARGE = "precharge"


class WorkKind(Enum):
    """What is done on site; the parts list follows from it."""

    SWAP = "tank_alone"
    SWAP_HEADER = "tank_and_header_parts"
    NEW_SYSTEM = "new_system"
    PLAIN_SWAP = "plain_tank_replaced"


class ItemKind(Enum):
    """What an item of the price list is."""

    PART = "part"
    LABOUR = "labour"
    FEE = "fee"


class TankPrice(Enum):
    """What the price in the catalogue of tanks means."""

    SELLING = "selling_price"
    COST = "cost"


class Rounding(Enum):
    """How the total is rounded; lines are always rounded to the currency's smallest coin."""

    COIN = "smallest_coin"
    ONE = "to_1"
    FIVE = "to_5"
    TEN = "to_10"


class Currency(Enum):
    """ISO 4217 codes."""

    USD = "USD"
    CAD = "CAD"
    MXN = "MXN"
    AUD = "AUD"
    NZD = "NZD"
    GBP = "GBP"
    EUR = "EUR"


class MoneyForm(Enum):
    """The locale (of the Unicode CLDR) by which money and dates are written on paper."""

    EN_US = "en_US"
    EN_CA = "en_CA"
    FR_CA = "fr_CA"
    ES_US = "es_US"
    ES_MX = "es_MX"
    EN_GB = "en_GB"
    EN_AU = "en_AU"
    EN_NZ = "en_NZ"
    EN_IE = "en_IE"
    DE_DE = "de_DE"
    FR_FR = "fr_FR"


class Answer(Enum):
    """The answer to "is it needed here, and who holds it?"."""

    OPEN = "not_answered"
    NOT_NEEDED = "not_needed"
    FIRM = "firm"
    CUSTOMER = "customer"


class Copy(Enum):
    """For whom a paper is."""

    CUSTOMER = "customer"
    OFFICE = "office"


class Paper(Enum):
    """The size of the sheet."""

    LETTER = "us_letter"
    A4 = "a4"


def solve_fors() -> dict[SolveFor, Choice]:
    """What can be solved for."""
    return {
        SolveFor.PUMP_FLOW: Choice(tr("pump flow"), ""),
        SolveFor.RUN_TIME: Choice(tr("run time"), ""),
        SolveFor.VOLUME: Choice(tr("total volume of the tank"), ""),
        SolveFor.CENTRE: Choice(tr("middle of the band"), ""),
        SolveFor.WIDTH: Choice(tr("width of the band"), ""),
        SolveFor.PRECHARGE: Choice(tr("precharge"), ""),
    }


def work_kinds() -> dict[WorkKind, Choice]:
    """What is done on site."""
    return {
        WorkKind.SWAP: Choice(tr("tank alone"), tr(
            "The new tank goes on the header that is there.")),
        WorkKind.SWAP_HEADER: Choice(tr("tank and header parts"), tr(
            "Tee, gauge, switch, relief valve, drain, union and isolating valve are renewed with"
            " it.")),
        WorkKind.NEW_SYSTEM: Choice(tr("new system"), tr(
            "Everything from the pump's pipe to the house.")),
        WorkKind.PLAIN_SWAP: Choice(tr("plain tank replaced"), tr(
            "An old air-over-water tank goes, with all that feeds it air.")),
    }  # fmt: skip


def item_kinds() -> dict[ItemKind, Choice]:
    """What an item is."""
    return {
        ItemKind.PART: Choice(tr("part"), ""),
        ItemKind.LABOUR: Choice(tr("labour"), ""),
        ItemKind.FEE: Choice(tr("fee"), ""),
    }


def tank_prices() -> dict[TankPrice, Choice]:
    """What a tank's price in the catalogue is."""
    return {
        TankPrice.SELLING: Choice(tr("what a customer pays"), ""),
        TankPrice.COST: Choice(tr("our cost"), tr("The markup is added to it.")),
    }


def roundings() -> dict[Rounding, Choice]:
    """How the total is rounded, half upwards; the difference stands on the paper."""
    return {
        Rounding.COIN: Choice(tr("not rounded"), ""),
        Rounding.ONE: Choice(tr("to a whole 1"), ""),
        Rounding.FIVE: Choice(tr("to a whole 5"), ""),
        Rounding.TEN: Choice(tr("to a whole 10"), ""),
    }


def currencies() -> dict[Currency, Choice]:
    """By their ISO 4217 codes, which are the same in every language."""
    return {one: Choice(one.value, "") for one in Currency}


def money_forms() -> dict[MoneyForm, Choice]:
    """How money and dates are written."""
    return {
        MoneyForm.EN_US: Choice(tr("English, United States"), ""),
        MoneyForm.EN_CA: Choice(tr("English, Canada"), ""),
        MoneyForm.FR_CA: Choice(tr("French, Canada"), ""),
        MoneyForm.ES_US: Choice(tr("Spanish, United States"), ""),
        MoneyForm.ES_MX: Choice(tr("Spanish, Mexico"), ""),
        MoneyForm.EN_GB: Choice(tr("English, United Kingdom"), ""),
        MoneyForm.EN_AU: Choice(tr("English, Australia"), ""),
        MoneyForm.EN_NZ: Choice(tr("English, New Zealand"), ""),
        MoneyForm.EN_IE: Choice(tr("English, Ireland"), ""),
        MoneyForm.DE_DE: Choice(tr("German, Germany"), ""),
        MoneyForm.FR_FR: Choice(tr("French, France"), ""),
    }


def answers() -> dict[Answer, Choice]:
    """Who sees to a permit or holds a licence."""
    return {
        Answer.OPEN: Choice(tr("not answered yet"), ""),
        Answer.NOT_NEEDED: Choice(tr("not needed here"), ""),
        Answer.FIRM: Choice(tr("needed, ours"), ""),
        Answer.CUSTOMER: Choice(tr("needed, the customer's"), ""),
    }


def copies() -> dict[Copy, Choice]:
    """For whom."""
    return {
        Copy.CUSTOMER: Choice(tr("customer's copy"), ""),
        Copy.OFFICE: Choice(tr("office copy, with cost"), ""),
    }


def papers() -> dict[Paper, Choice]:
    """The sheet."""
    return {Paper.LETTER: Choice(tr("US letter"), ""), Paper.A4: Choice(tr("A4"), "")}
