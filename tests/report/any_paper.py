"""Jobs with a firm, its prices, options and bands, as random as ``any_job``; and their catalogue.

All of it is invented. Most jobs can be handed over as they are; some meet a stop.
"""

from __future__ import annotations

import base64
import random
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from tests.cli.any_job import any_job
from tests.report.samples import logo
from workbench import paths
from workbench.job.firm import read_firm
from workbench.job.job import Job
from workbench.job.paper_choices import (
    Answer,
    Copy,
    Currency,
    ItemKind,
    MoneyForm,
    Paper,
    Rounding,
    TankPrice,
    WorkKind,
)
from workbench.job.prices import Count, PriceItem
from workbench.units import MONEY, NUMBER, parse

_TANKS = """\
small,Invented 30,bladder vertical,30,,18,35,125,38,70,yes,{small},yes
usual,Invented 85,bladder vertical,85,60,26,47,125,38,70,yes,{usual},no
large,Invented 119,diaphragm vertical,119,,26,66,100,38,,yes,{large},yes
odd,"Invented 52, *wide* #2 [""odd""]",bladder vertical,52,40,24,38,150,38,70,yes,{odd},
unlisted,Invented 60,bladder vertical,60,,22,47,125,38,70,,{unlisted},yes
weak,Invented 44 of little strength,bladder vertical,44,,20,40,75,38,45,yes,{weak},yes
bare,Invented 20 without a price,bladder vertical,20,,16,30,125,38,70,yes,,yes
"""
_HEADER = (
    "id,name,kind,total_volume_gal,acceptance_gal,diameter_in,height_in,max_working_pressure_psi,"
    "factory_precharge_psi,highest_precharge_psi,potable_listed,price_{currency},in_stock\n"
)
PRICES = {
    "small": "300.00", "usual": "812.45", "large": "1130", "odd": "498.05", "unlisted": "515.95",
    "weak": "221.40",
}  # fmt: skip
_SETS = ("usual", "large", "odd", "unlisted", "large + large", "small + usual", "odd + odd")
_BANDS = ("30/50 psi", "40/60 psi", "30/60 psi", "2/3.5 bar", "20/40 psi")
_TICKED = {
    **dict.fromkeys(("with_lines", "with_acceptance"), 0.9),
    **dict.fromkeys(("with_readings", "with_plot", "with_assumptions", "with_permit"), 0.4),
    **dict.fromkeys(("with_allowances", "with_exclusions", "with_schedule"), 0.2),
    **dict.fromkeys(("with_payment", "with_warranty"), 0.2),
    "with_working": 0.05,
}
"""How often a part is on the paper: mostly those with sums, as 200 papers are to be read soon."""


def write_catalog(folder: Path, currency: Currency) -> Path:
    """The tanks with their prices in a currency."""
    path = folder / f"tanks-{currency.value.lower()}.csv"
    text = _HEADER.format(currency=currency.value.lower()) + _TANKS.format(**PRICES)
    path.write_text(text, encoding="utf-8")
    return path


@cache
def firm() -> dict[str, Any]:
    """The entries that a new firm begins with."""
    return read_firm(paths.resources() / "firm.json")


def any_paper(chance: random.Random) -> Job:
    """A job with all that its papers say."""
    job = any_job(chance).changed(**firm())
    entries = {
        **_firm(chance),
        **_prices(chance, job),
        **_customer(chance),
        **_work(chance),
        **_options(chance),
        **{name: chance.random() < share for name, share in _TICKED.items()},
        **_for_the_card(chance),
    }
    return job.changed(**entries)


def _firm(chance: random.Random) -> dict[str, Any]:
    some = chance.random()
    return {
        "firm_name": "" if some < 0.1 else "Millbrook Well & Tank (invented)",
        "firm_address": chance.choice(["", "12 Sample Road\nMillbrook, Anystate"]),
        "firm_contact": chance.choice(["", "555-0100 · office@example.com"]),
        "firm_licence": chance.choice(["", "Pump installer 0000 (invented)"]),
        "firm_insurance": chance.choice(["", "", "Certificate 11 (invented)"]),
        "firm_logo": "" if some < 0.9 else base64.b64encode(logo()).decode(),
        "currency": chance.choice([Currency.USD, Currency.USD, *Currency]),
        "money_form": chance.choice([MoneyForm.EN_US, *MoneyForm]),
        "paper": chance.choice(list(Paper)),
        "valid_days": chance.choice(["30", "14", "60"]),
    }


def _prices(chance: random.Random, job: Job) -> dict[str, Any]:
    prices = [_changed(chance, item) for item in job.prices]
    own: dict[str, Any] = {"code": "own_1", "name": "Heat tape, 10 ft", "unit": "roll"}
    fine: dict[str, Any] = {"code": "own_2", "name": "Sealing tape", "unit": "ft"}
    prices.append(PriceItem(**own, cost=_money(chance), price=_money(chance)))
    prices.append(PriceItem(**fine, kind=ItemKind.FEE, price=parse("0.125", MONEY), taxed=False))
    counts = {
        "own_1": chance.choice(["1", "3", None]),
        "own_2": chance.choice(["7", "25.5", None]),
        "pipe": chance.choice(["6", "12.5", None]),
        "check_valve": chance.choice(["0", "1", None]),
    }
    return {
        "prices": tuple(prices),
        "counts": tuple(
            Count(code=code, quantity=parse(text, NUMBER))
            for code, text in counts.items()
            if text is not None
        ),
        "prices_invented": chance.random() < 0.5,
        "tank_price": chance.choice(list(TankPrice)),
        "tank_taxed": chance.random() < 0.8,
        "markup": chance.choice(["0 %", "40 %", "37.5 %"]),
        "labour_rate": chance.choice(["96", "88.35", None] if chance.random() < 0.1 else ["104.5"]),
        "labour_cost": chance.choice([None, "41", "38.65"]),
        "tax": chance.choice(["0 %", "6 %", "8.875 %", "20 %"]),
        "rounding": chance.choice(list(Rounding)),
    }


def _changed(chance: random.Random, item: PriceItem) -> PriceItem:
    """At times another cost, at times a selling price of its own."""
    if item.hours is not None:
        hours = chance.choice(["0.5", "1.25", "2", "3.35"])
        return replace(item, hours=parse(hours, NUMBER))
    cost = _money(chance) if chance.random() < 0.8 else None
    price = _money(chance) if cost is None or chance.random() < 0.3 else None
    return replace(item, cost=cost, price=price, taxed=chance.random() < 0.7)


def _money(chance: random.Random) -> Any:
    return parse(f"{chance.randint(100, 25_000) / 100:.2f}", MONEY)


def _customer(chance: random.Random) -> dict[str, Any]:
    return {
        "customer_name": "" if chance.random() < 0.1 else "Sam Example (invented)",
        "customer_address": chance.choice(["", "3 Lake Lane\nMillbrook, Anystate"]),
        "customer_contact": chance.choice(["", "555-0101"]),
        "site_address": chance.choice(["", "Cabin, cellar under the porch"]),
        "prepared_by": chance.choice(["", "R. Sample (invented)"]),
        "estimate_number": chance.choice(["", "2026-014"]),
        "estimate_date": chance.choice(["2026-11-25", "2026-02-28", ""]),
        "problem": chance.choice(["", "The pump starts again and again while a shower runs."]),
        "scope": chance.choice(["", "Replace the waterlogged tank; set switch and precharge."]),
    }


def _work(chance: random.Random) -> dict[str, Any]:
    taken = chance.random() < 0.6
    return {
        "found_cut_in": chance.choice(["29 psi", "31 psi", "2 bar"]) if taken else None,
        "found_cut_out": chance.choice(["49 psi", "52 psi"]) if taken else None,
        "found_precharge": chance.choice(["12 psi", "28 psi", None]) if taken else None,
        "found_drawdown": chance.choice(["4.5 gal", "17 L", None]) if taken else None,
        "found_refill": chance.choice(["26 s", "75 s", None]) if taken else None,
        "found_note": chance.choice(["", "Rust under the gauge."]),
        "work_kind": chance.choice(list(WorkKind)),
        "permit": chance.choice(list(Answer)),
        "licence": chance.choice(list(Answer)),
        "permit_note": chance.choice(["", "Of the county, number to follow."]),
        "copy_for": chance.choice(list(Copy)),
    }


def _options(chance: random.Random) -> dict[str, Any]:
    first = chance.choice(["", "usual", "large", "usual + usual"])
    second = chance.choice(["", "", *_SETS])
    third = chance.choice(["", "", *_SETS])
    if chance.random() < 0.06:
        second = chance.choice(["bare", "nobody's"])
    if chance.random() < 0.08:
        third = "weak"
    options: dict[str, Any] = {}
    for letter, tank in zip("abc", (first, second, third), strict=True):
        options |= {
            f"offer_{letter}_tank": tank,
            f"offer_{letter}_band": chance.choice([None, None, *_BANDS]) if tank else None,
            f"offer_{letter}_label": chance.choice(["", "Longer run", "#2: *more* [pressure]"])
            if tank else "",
        }  # fmt: skip
    if third == "weak":
        options["offer_c_band"] = chance.choice(["60/80 psi", "50/70 psi", "30/50 psi"])
    return options


def _for_the_card(chance: random.Random) -> dict[str, Any]:
    return {
        "set_by": chance.choice(["", "R. Sample"]),
        "set_date": chance.choice(["", "2026-11-26"]),
        "card_note": chance.choice(["", "Valve behind the beam."]),
        "reading_temperature": chance.choice([None, None, "80 °F"]),
        "reading_altitude": chance.choice([None, None, "1200 ft"]),
    }
