"""The quantities of the teaching pages."""

from __future__ import annotations

from workbench.job.fields import Field
from workbench.units import NUMBER, SHORT_TIME, TEMPERATURE, VOLUME
from workbench.words import tr


def teach_fields() -> tuple[Field, ...]:
    """The live tank and the exercises."""
    return (
        Field("live_volume", VOLUME, tr("Total volume"), tr(
            "Of the tank that is shown, where it is none of the catalogue."),
            empty=tr("as the tank above")),
        Field("live_air", TEMPERATURE, tr("Air now"), tr(
            "Temperature of the air in the tank now, if it differs from service: the sealed"
            " charge rises and falls with it (Gay-Lussac)."), empty=tr("as in service")),
        Field("line_give", VOLUME, tr("Pipes give"), tr(
            "Water that the pipes alone give while the pressure falls by 10 psi. About 0.005 gal"
            " for 100 ft of 1-inch plastic pipe, by the stiffness of polyethylene (from memory).")),
        Field("start_delay", SHORT_TIME, tr("Pump's start"), tr(
            "From the closing of the contacts until the pump gives its flow: about a second"
            " (common practice, no source).")),
        Field("exercise_seed", NUMBER, tr("Seed"), tr(
            "A whole number. The same seed and topics give the same exercises, on every"
            " computer.")),
        Field("exercise_count", NUMBER, tr("Exercises"), tr(
            "How many stand on the sheet, 1 to 40.")),
    )  # fmt: skip
