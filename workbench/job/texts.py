"""Entries in a person's own words: their labels, what belongs in them, how long they may be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from workbench.words import tr

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema

LONGEST_TEXT = 4000
LARGEST_PICTURE = 700_000
"""Characters of a logo in base64: half a megabyte of picture."""


class ShortText:
    """Tells pydantic to refuse a text that is too long."""

    def __init__(self, longest: int = LONGEST_TEXT) -> None:
        self._longest = longest

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.str_schema(max_length=self._longest)


@dataclass(frozen=True, slots=True)
class TextEntry:
    """An entry in free words; ``lines`` is how many lines its field shows, 1 for a single one."""

    name: str
    label: str
    help: str
    hint: str = ""
    lines: int = 1


def texts() -> dict[str, TextEntry]:
    """Every entry in free words by its name, but the job's title."""
    every = (*_customer(), *_firm(), *_clauses())
    return {one.name: one for one in every}


def _customer() -> tuple[TextEntry, ...]:
    date = tr("year-month-day")
    return (
        TextEntry("customer_name", tr("Customer"), tr("Who gets the estimate.")),
        TextEntry("customer_address", tr("Address"), tr("Where it is sent."), lines=3),
        TextEntry("customer_contact", tr("Phone or e-mail"), tr("How the customer is reached.")),
        TextEntry("site_address", tr("Site"), tr("Where the tank stands, if elsewhere."),
                  tr("as the customer's"), 2),
        TextEntry("prepared_by", tr("Prepared by"), tr("Who stands behind the figures.")),
        TextEntry("estimate_number", tr("Number"), tr("By your own way of counting.")),
        TextEntry("estimate_date", tr("Date"), tr(
            "The date on the paper, as 2026-03-31. The same inputs give the same paper on any"
            " day."), date),
        TextEntry("problem", tr("Problem"), tr("In one sentence, as the customer put it."),
                  lines=2),
        TextEntry("scope", tr("Recommended scope"), tr(
            "What you would do, in a few lines; the parts and figures follow by themselves."),
            lines=4),
        TextEntry("found_note", tr("Found besides"), tr(
            "What else was seen on site, such as rust or water at the air valve."), lines=2),
        TextEntry("permit_note", tr("About it"), tr(
            "Which permit or licence, from whom, its number."), lines=2),
        TextEntry("offer_a_label", tr("Name, option {letter}", letter="A"), tr(
            "A short name; what it gives stands beneath it."), tr("Option A")),
        TextEntry("offer_b_label", tr("Name, option {letter}", letter="B"), tr(
            "A short name; what it gives stands beneath it."), tr("Option B")),
        TextEntry("offer_c_label", tr("Name, option {letter}", letter="C"), tr(
            "A short name; what it gives stands beneath it."), tr("Option C")),
        TextEntry("set_by", tr("Set by"), tr("Who set switch and precharge.")),
        TextEntry("set_date", tr("Set on"), tr("The day it was set, as 2026-03-31."), date),
        TextEntry("class_name", tr("Class"), tr(
            "What stands at the head of the sheet: course, group, place.")),
        TextEntry("class_date", tr("Date"), tr("The day of the class, as 2026-03-31."), date),
        TextEntry("card_note", tr("Remark"), tr("For the next one who opens the tank."), lines=2),
    )  # fmt: skip


def _firm() -> tuple[TextEntry, ...]:
    return (
        TextEntry("firm_name", tr("Firm"), tr("As it stands at the head of every paper.")),
        TextEntry("firm_address", tr("Address"), tr("Street, town."), lines=2),
        TextEntry("firm_contact", tr("Phone, e-mail"), tr("How customers reach you."), lines=2),
        TextEntry("firm_licence", tr("Licence"), tr(
            "Number and kind; several places require it on every estimate.")),
        TextEntry("firm_insurance", tr("Insurance"), tr("Insurer's certificate, if you name it.")),
    )  # fmt: skip


def _clauses() -> tuple[TextEntry, ...]:
    lines = 4
    return (
        TextEntry("clause_allowances", tr("Allowances"), tr(
            "What is charged for what cannot be known before, with its rate."), lines=lines),
        TextEntry("clause_assumptions", tr("Assumptions"), tr(
            "What the figures rest on."), lines=lines),
        TextEntry("clause_exclusions", tr("Exclusions"), tr("What is not included."), lines=lines),
        TextEntry("clause_schedule", tr("Schedule"), tr(
            "When work begins and ends, or how that is agreed."), lines=lines),
        TextEntry("clause_payment", tr("Payment"), tr(
            "Deposit, payments, when the rest is due."), lines=lines),
        TextEntry("clause_warranty", tr("Warranty"), tr(
            "Who covers tank, parts and labour, how long, and what ends it."), lines=lines),
        TextEntry("clause_acceptance", tr("Acceptance"), tr(
            "What a signature means, and how it can be taken back."), lines=lines),
    )  # fmt: skip
