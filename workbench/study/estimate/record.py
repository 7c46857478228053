"""An estimate as plain data: US customary numbers with the unit in each key, amounts as text.

Amounts are the exact decimals as strings, since a number of JSON would become a binary fraction.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from workbench.study.estimate.found import Found
from workbench.study.estimate.offers import Offer, key_of
from workbench.study.evaluate import Results
from workbench.study.pricing.view import Line, Priced, Totals
from workbench.study.record import finding_record, us
from workbench.units import (
    DAILY,
    FLOW,
    PRESSURE,
    SHORT_TIME,
    STARTS_PER_DAY,
    STARTS_PER_HOUR,
    TIME,
    VOLUME,
)

_DAY = 86_400.0


def estimate_record(results: Results) -> dict[str, Any]:
    """Everything that the estimate says; what is not known is None."""
    job, view = results.job, results.estimate
    return {
        "number": job.estimate_number,
        "date": view.date.isoformat() if view.date else None,
        "valid_until": view.valid_until.isoformat() if view.valid_until else None,
        "customer": job.customer_name,
        "currency": job.currency.value,
        "copy_for": job.copy_for.value,
        "permit": job.permit.value,
        "licence": job.licence.value,
        "found": _found(view.found),
        "options": [_offer(offer) for offer in view.offers],
        "findings": [finding_record(one) for one in (*results.findings, *view.findings)],
    }


def _found(found: Found) -> dict[str, Any]:
    return {
        "cut_in_psi": us(found.cut_in, PRESSURE),
        "cut_out_psi": us(found.cut_out, PRESSURE),
        "precharge_psi": us(found.precharge, PRESSURE),
        "drained_gal": us(found.drained, VOLUME),
        "refill_s": us(found.refill, SHORT_TIME),
        "flow_gpm": us(found.flow, FLOW),
        "charge_missing_psi": us(found.charge_missing, PRESSURE),
    }


def _offer(offer: Offer) -> dict[str, Any]:
    one, setting, charge = offer.one, offer.results.setting, offer.precharge
    daily = offer.daily_volume
    return {
        "letter": offer.letter,
        "label": offer.label,
        "band": offer.band_name,
        "band_moves": offer.band_moves,
        "cut_in_psi": us(setting.cut_in, PRESSURE) if setting else None,
        "cut_out_psi": us(setting.cut_out, PRESSURE) if setting else None,
        "tank": key_of(one) if one else None,
        "name": one.name if one else None,
        "passes": one.passes if one else None,
        "total_volume_gal": us(one.total_volume, VOLUME) if one else None,
        "drawdown_gal": us(one.drawdown, VOLUME) if one else None,
        "run_time_min": us(one.run_time, TIME) if one else None,
        "worst_starts_per_hour": us(one.starts, STARTS_PER_HOUR) if one else None,
        "starts_per_day_at_most": us(offer.starts_per_day, STARTS_PER_DAY),
        "daily_use_gal_per_day": None if daily is None else us(daily / _DAY, DAILY),
        "precharge_psi": us(charge.in_service, PRESSURE) if charge else None,
        "precharge_where_set_psi": us(charge.where_set, PRESSURE) if charge else None,
        **_priced(offer.priced),
        "findings": [finding_record(finding) for finding in offer.findings],
    }


def _priced(priced: Priced | None) -> dict[str, Any]:
    totals = priced.totals if priced else None
    return {
        "lines": [_line(line) for line in priced.lines] if priced else [],
        "totals": _totals(totals) if totals else None,
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "code": line.code,
        "name": line.name,
        "unit": line.unit,
        "kind": line.kind.value,
        "quantity": _text(line.quantity),
        "each": _text(line.each),
        "amount": _text(line.amount),
        "cost": _text(line.cost),
        "taxed": line.taxed,
        "by_hand": line.by_hand,
    }


def _totals(totals: Totals) -> dict[str, str | None]:
    names = ("parts", "labour", "fees", "subtotal", "taxable", "tax", "rounding", "total", "cost",
             "margin")  # fmt: skip
    return {name: _text(getattr(totals, name)) for name in names}


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"
