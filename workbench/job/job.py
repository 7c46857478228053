"""The frozen value that holds every input of a job. An edit makes a new one.

Quantities are kept as typed ("3.40 bar"), so nothing drifts when the displayed units change, and a
text that could not be read is kept too (:class:`Unread`), so nothing typed is ever lost.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from workbench.job.choices import Order, PrechargeRule, RunTimeRule
from workbench.units import (
    ALTITUDE,
    FLOW,
    LENGTH,
    NUMBER,
    PRESSURE,
    STARTS_PER_HOUR,
    TEMPERATURE,
    TIME,
    Bands,
    Kind,
    Quantity,
    UnitError,
    Unread,
    parse,
    parse_bands,
)
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.catalog.tank import Tank

SCHEMA_VERSION = 1
_LONGEST_TEXT = 4000
_LONGEST_SHOWN = 60

Entry = Quantity | Unread
"""One entered quantity: read, or kept as typed with the reason why it could not be read."""


class _TypedText:
    """Tells pydantic how a quantity (or the list of bands) stands in a file: as its text."""

    def __init__(self, kind: Kind | None, *, optional: bool = False) -> None:
        self._kind = kind  # None: a list of switch bands
        self._optional = optional

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._read,
            serialization=core_schema.plain_serializer_function_ser_schema(self._write),
        )

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        unread = {"type": "object", "properties": {"unread": {"type": "string"}}}
        empty = [{"type": "null"}] if self._optional else []
        return {"anyOf": [{"type": "string"}, unread, *empty]}

    def _read(self, value: Any) -> Quantity | Bands | Unread | None:
        if isinstance(value, Quantity | Bands | Unread):
            return value
        if value is None and self._optional:
            return None
        if (
            isinstance(value, dict)
            and set(value) == {"unread"}
            and isinstance(value["unread"], str)
        ):
            return self._unread(value["unread"])
        if not isinstance(value, str):
            raise ValueError("must be a text with a unit, such as “50 psi”")  # noqa: TRY004
        try:
            return self._parse(value)
        except UnitError as error:
            return Unread(value, str(error), error.remedy)

    def _parse(self, text: str) -> Quantity | Bands:
        return parse(text, self._kind) if self._kind else parse_bands(text)

    def _unread(self, text: str) -> Unread:
        """A text that was unreadable when it was saved stays so, though "1.500 gal" may have been
        that only where the decimal mark is a comma."""
        try:
            self._parse(text)
        except UnitError as error:
            return Unread(text, str(error), error.remedy)
        why = tr("“{text}” could not be read.", text=text[:_LONGEST_SHOWN])
        return Unread(text, why, tr("Type it again."))

    @staticmethod
    def _write(value: Quantity | Bands | Unread | None) -> Any:
        if value is None:
            return None
        return {"unread": value.text} if isinstance(value, Unread) else str(value)


def _typed(text: str, kind: Kind) -> Any:
    return Field(default_factory=lambda: parse(text, kind))


_Pressure = Annotated[Entry, _TypedText(PRESSURE)]
_Length = Annotated[Entry | None, _TypedText(LENGTH, optional=True)]
_Text = Annotated[str, Field(max_length=_LONGEST_TEXT)]


class _TankRows:
    """Tells pydantic to check rows of the catalogue; their model is imported only then."""

    def __get_pydantic_core_schema__(
        self, _source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from workbench.catalog.tank import Tank

        return handler.generate_schema(tuple[Tank, ...])


if TYPE_CHECKING:
    _Tanks = tuple[Tank, ...]
else:
    _Tanks = Annotated[Any, _TankRows()]

# What checks a job is built when the first one is checked, which is after the first frame.
_CONFIG = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class CatalogSnapshot(BaseModel):
    """The catalogue rows that a saved job used, so that later edits never change an old quote."""

    model_config = _CONFIG

    file: _Text
    tanks: _Tanks


class Job(BaseModel):
    """Every input of one job. Defaults are those of a new, empty job."""

    model_config = _CONFIG

    schema_version: Literal[1] = 1
    demo: bool = False
    title: _Text = ""

    pump_flow: Annotated[Entry, _TypedText(FLOW)] = _typed("10 gpm", FLOW)
    run_time_rule: RunTimeRule = RunTimeRule.TYPED
    run_time: Annotated[Entry, _TypedText(TIME)] = _typed("1 min", TIME)
    starts_limit: Annotated[Entry, _TypedText(STARTS_PER_HOUR)] = _typed("6 /h", STARTS_PER_HOUR)

    cut_in: _Pressure = _typed("30 psi", PRESSURE)
    cut_out: _Pressure = _typed("50 psi", PRESSURE)
    bands: Annotated[Bands | Unread, _TypedText(None)] = Field(
        default_factory=lambda: parse_bands("20/40, 30/50, 40/60, 50/70 psi")
    )

    precharge_rule: PrechargeRule = PrechargeRule.BELOW_2
    precharge: _Pressure = _typed("28 psi", PRESSURE)
    reading_temperature: Annotated[Entry | None, _TypedText(TEMPERATURE, optional=True)] = None
    reading_altitude: Annotated[Entry | None, _TypedText(ALTITUDE, optional=True)] = None

    altitude: Annotated[Entry, _TypedText(ALTITUDE)] = _typed("0 ft", ALTITUDE)
    tank_temperature: Annotated[Entry, _TypedText(TEMPERATURE)] = _typed("55 °F", TEMPERATURE)
    exponent: Annotated[Entry, _TypedText(NUMBER)] = _typed("1.0", NUMBER)

    door_width: _Length = None
    headroom: _Length = None
    pressure_margin: _Pressure = _typed("15 psi", PRESSURE)
    potable_required: bool = True
    header_tanks: Annotated[int, Field(ge=1, le=3)] = 1
    order: Order = Order.PRICE

    catalog: CatalogSnapshot | None = None

    @classmethod
    def new(cls) -> Job:
        """``Job()`` without a check of the defaults, for the first frame."""
        return cls.model_construct()

    def changed(self, **values: Any) -> Job:
        """A copy with some inputs replaced. Values are checked as when a file is read."""
        content = {name: getattr(self, name) for name in type(self).model_fields}
        return Job.model_validate(content | values)
