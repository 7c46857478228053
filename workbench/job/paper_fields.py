"""The quantities of band comparison, prices, estimate and setting card."""

from __future__ import annotations

from workbench.job.fields import Field
from workbench.units import (
    HEAD,
    MONEY,
    NUMBER,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    VOLUME,
)
from workbench.words import tr


def paper_fields() -> tuple[Field, ...]:
    """Another band, the missing quantity, prices, and what was found on site."""
    return (*_bands(), *_prices(), *_found())


def _bands() -> tuple[Field, ...]:
    return (
        Field("today_volume", VOLUME, tr("Total volume"), tr(
            "Of the tank that is there now, from its label, where it is none of the catalogue."),
            empty=tr("as the tank above")),
        Field("today_acceptance", VOLUME, tr("Acceptance"), tr(
            "The most water that the membrane of this tank lets in, from its label."),
            empty=tr("not known")),
        Field("today_rating", PRESSURE, tr("Working pressure"), tr(
            "The highest pressure marked on this tank."), empty=tr("not known")),
        Field("relief_setting", PRESSURE, tr("Relief valve"), tr(
            "The pressure at which the relief valve opens. It may not lie above the tank's marked"
            " working pressure (International Plumbing Code, 606.5.10, from memory)."),
            empty=tr("not known")),
        Field("lowest_fixture", HEAD, tr("Lowest fixture"), tr(
            "How far below the tank the lowest tap or hose is: the pressure there is higher."),
            empty=tr("level with the tank")),
        Field("highest_fixture", HEAD, tr("Highest fixture"), tr(
            "How far above the tank the highest shower is: the pressure there is lower."),
            empty=tr("level with the tank")),
        Field("solve_volume", VOLUME, tr("Total volume"), tr(
            "Of the tank, where it is another quantity that is looked for.")),
    )  # fmt: skip


def _prices() -> tuple[Field, ...]:
    return (
        Field("markup", PERCENT, tr("Markup"), tr(
            "Added to the cost of an item that has no selling price of its own.")),
        Field("labour_rate", MONEY, tr("Labour, an hour"), tr(
            "What a customer pays for an hour of labour."), empty=tr("none")),
        Field("labour_cost", MONEY, tr("Its cost"), tr(
            "What an hour of labour costs you; it stands on the office copy alone."),
            empty=tr("not known")),
        Field("tax", PERCENT, tr("Sales tax"), tr(
            "On what is marked as taxed. Ask your own tax adviser what that is.")),
        Field("valid_days", NUMBER, tr("Valid, days"), tr(
            "How long an estimate binds you from its date on.")),
    )  # fmt: skip


def _found() -> tuple[Field, ...]:
    unread = tr("not taken")
    return (
        Field("found_cut_in", PRESSURE, tr("Cut-in found"), tr(
            "Where the pump started, read on the gauge."), empty=unread),
        Field("found_cut_out", PRESSURE, tr("Cut-out found"), tr(
            "Where the pump stopped, read on the gauge."), empty=unread),
        Field("found_precharge", PRESSURE, tr("Precharge found"), tr(
            "Read at the air valve with the pump off and the tank drained to zero."),
            empty=unread),
        Field("found_drawdown", VOLUME, tr("Drained"), tr(
            "What came out between the pump's stop and its next start."), empty=unread),
        Field("found_refill", SHORT_TIME, tr("Time to refill"), tr(
            "From the pump's start to its stop, with every tap closed."), empty=unread),
    )  # fmt: skip
