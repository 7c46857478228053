"""The inputs about the house, its day and the tolerances."""

from __future__ import annotations

from workbench.job.fields import Field
from workbench.units import (
    DAILY,
    FLOW,
    NUMBER,
    PERCENT,
    PRESSURE,
    SHORT_TIME,
    TEMPERATURE_STEP,
    TIME,
    VOLUME,
)
from workbench.words import tr


def house_fields() -> tuple[Field, ...]:
    """Fixtures and people, what is drawn in a day, and how far readings may be off."""
    return (*_fixtures(), *_day(), *_tolerances())


def _fixtures() -> tuple[Field, ...]:
    counts = (
        ("people", tr("People"), tr("Who live in the house.")),
        ("bedrooms", tr("Bedrooms"), tr("For the methods that go by bedrooms.")),
        ("bathrooms", tr("Bathrooms"), tr("1.5 is a bathroom and a toilet with a basin.")),
        ("toilets", tr("Toilets"), tr("With flush tanks.")),
        ("basins", tr("Basins"), tr("Hot and cold together count once.")),
        ("tubs", tr("Tubs"), tr("Tubs, with or without a shower over them.")),
        ("showers", tr("Showers"), tr("Showers apart from a tub.")),
        ("kitchen_sinks", tr("Kitchen sinks"), tr("Hot and cold together count once.")),
        ("dishwashers", tr("Dishwashers"), tr("None: 0.")),
        ("washers", tr("Clothes washers"), tr("None: 0.")),
        ("laundry_sinks", tr("Laundry sinks"), tr("None: 0.")),
        ("hose_bibs", tr("Hose taps"), tr("Taps outside the house.")),
    )
    return (
        *(Field(name, NUMBER, label, text) for name, label, text in counts),
        Field("daily_use", DAILY, tr("Use a day"), tr(
            "What the house uses on an average day, for example from a meter. Published: 59 gal a"
            " person indoors (Residential End Uses of Water, version 2, 2016)."),
            empty=tr("by people")),
        Field("peak_demand", FLOW, tr("Peak demand"), tr(
            "Your own figure of the most that is drawn at once."), empty=tr("needed")),
    )  # fmt: skip


def _day() -> tuple[Field, ...]:
    return (
        Field("leak", DAILY, tr("Leak"), tr(
            "Water that runs all day, such as a toilet's valve: up to 200 gal a day (US EPA"
            " WaterSense).")),
        Field("irrigation_flow", FLOW, tr("Irrigation"), tr(
            "Flow of a sprinkler or hose that runs once a day."), empty=tr("none")),
        Field("irrigation_start", NUMBER, tr("Begins, hour"), tr(
            "Hour of the day at which irrigation begins, 0 to 24.")),
        Field("irrigation_time", TIME, tr("Lasts"), tr("How long it runs."), empty=tr("none")),
        Field("seed", NUMBER, tr("Random seed"), tr(
            "A whole number. The same number always gives the same day and the same sample of"
            " cases; another gives another.")),
    )  # fmt: skip


def _tolerances() -> tuple[Field, ...]:
    return (
        Field("tol_gauge", PRESSURE, tr("Gauge ±"), tr(
            "How far the system's gauge may be off; it moves cut-in and cut-out together. Usual:"
            " 2 psi (common practice, no source).")),
        Field("tol_switch_in", PRESSURE, tr("Cut-in drift ±"), tr(
            "How far the switch's cut-in may drift by itself.")),
        Field("tol_switch_out", PRESSURE, tr("Cut-out drift ±"), tr(
            "How far the switch's cut-out may drift by itself.")),
        Field("tol_precharge", PRESSURE, tr("Precharge ±"), tr(
            "How far the air gauge, and with it the precharge, may be off.")),
        Field("tol_temperature", TEMPERATURE_STEP, tr("Air temperature ±"), tr(
            "How far the air in service may be from the temperature entered. About 1 psi for each"
            " 10 °F.")),
        Field("tol_flow", PERCENT, tr("Flow ±"), tr(
            "How far the pump's flow may be from that entered.")),
        Field("tol_bucket", VOLUME, tr("Bucket ±"), tr(
            "How far the drained volume may be misread; used with a timed refill.")),
        Field("tol_watch", SHORT_TIME, tr("Watch ±"), tr(
            "How far the time may be misread; used with a timed refill.")),
    )  # fmt: skip
