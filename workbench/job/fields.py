"""What each input is called, which quantity it is, where it stands and what it means.

The form, the findings and the command line all read this one table.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.units import (
    ALTITUDE,
    FLOW,
    LENGTH,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TIME,
    Kind,
)
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.job.typed import What


@dataclass(frozen=True, slots=True)
class Field:
    """One entered quantity, or a list of pairs of quantities (``kind`` is then two kinds).

    ``help`` says what it is, its usual range and its source. ``empty`` is what an empty field
    means; "" where it may not be empty.
    """

    name: str
    kind: What
    label: str
    help: str
    empty: str = ""

    @property
    def one(self) -> Kind:
        """The kind of a single quantity. Raises TypeError for a list."""
        if not isinstance(self.kind, Kind):
            raise TypeError(f"{self.name} is a list")
        return self.kind


def fields() -> dict[str, Field]:
    """Every entered quantity by its name in :class:`workbench.job.job.Job`."""
    from workbench.job.house_fields import house_fields
    from workbench.job.paper_fields import paper_fields
    from workbench.job.pump_fields import pump_fields
    from workbench.job.teach_fields import teach_fields

    every = (*_bench(), *pump_fields(), *house_fields(), *paper_fields(), *teach_fields())
    return {field.name: field for field in every}


def sizing_fields() -> dict[str, Field]:
    """Those that sizing and ranking read: the bench's, and those of pump and well."""
    from workbench.job.pump_fields import supply_fields

    return {field.name: field for field in (*_bench(), *supply_fields())}


def _bench() -> tuple[Field, ...]:
    return (*_pump_and_switch(), *_precharge(), *_site_and_limits())


def _pump_and_switch() -> tuple[Field, ...]:
    return (
        Field("pump_flow", FLOW, tr("Pump flow"), tr(
            "What the pump delivers at the tank, best measured at the middle of the band: seconds"
            " to refill what was drained. Usual for a house: 5 to 20 gpm.")),
        Field("run_time", TIME, tr("Minimum run"), tr(
            "The shortest run the motor should have at each start, with no tap open. Common"
            " practice: 1 min for small motors, 2 min and more for larger ones.")),
        Field("starts_limit", STARTS_PER_HOUR, tr("Most starts"), tr(
            "The most starts per hour allowed in the worst case, a steady draw of half the pump's"
            " flow. Published limits run from 6 (public systems) to 15 (motors up to 3/4 hp).")),
        Field("cut_in", PRESSURE, tr("Cut-in"), tr(
            "Gauge pressure at which the switch starts the pump. Read it on the gauge, not on the"
            " label.")),
        Field("cut_out", PRESSURE, tr("Cut-out"), tr(
            "Gauge pressure at which the switch stops the pump; usually 20 psi above cut-in.")),
    )  # fmt: skip


def _precharge() -> tuple[Field, ...]:
    return (
        Field("precharge", PRESSURE, tr("Precharge"), tr(
            "Air pressure in the tank with the pump off and the tank drained to zero.")),
        Field("reading_temperature", TEMPERATURE, tr("Air when set"), tr(
            "Temperature of the tank's air when the precharge is set, if it differs from service."
            " About 1 psi for each 10 °F."), empty=tr("as in service")),
        Field("reading_altitude", ALTITUDE, tr("Set at altitude"), tr(
            "Altitude of the place where the precharge is set, if it is not the site: a tank"
            " charged at sea level reads 2.5 psi more at 5,000 ft."), empty=tr("as the site")),
    )  # fmt: skip


def _site_and_limits() -> tuple[Field, ...]:
    return (
        Field("altitude", ALTITUDE, tr("Altitude"), tr(
            "Height of the site above sea level. It sets the air pressure that is added to gauge"
            " readings (US Standard Atmosphere 1976).")),
        Field("tank_temperature", TEMPERATURE, tr("Air in service"), tr(
            "Temperature of the tank's air in service, near that of the well water. Used only"
            " with a temperature of setting.")),
        Field("exponent", NUMBER, tr("Air exponent"), tr(
            "Compression exponent of the air: 1.0 for minutes per cycle (Boyle's law, all sizing"
            " rules), 1.2 for a quick fill, 1.4 where no heat can leave.")),
        Field("door_width", LENGTH, tr("Door width"), tr(
            "Narrowest door or hatch on the way in. A tank needs 2 in more than its diameter"
            " (common practice)."), empty=tr("no limit")),
        Field("headroom", LENGTH, tr("Headroom"), tr(
            "Clear height where the tank will stand."), empty=tr("no limit")),
        Field("pressure_margin", PRESSURE, tr("Margin"), tr(
            "How far the tank's marked working pressure must lie above cut-out, at least up to"
            " the relief valve's setting.")),
    )  # fmt: skip
