"""The frozen value that holds every input of a job. An edit makes a new one.

It is a plain dataclass, so that the window's first frame need not wait for pydantic; what stands in
``Annotated`` tells pydantic how each entry is checked and written (:mod:`workbench.job.checking`).

Quantities are kept as typed ("3.40 bar"), so nothing drifts when the displayed units change, and a
text that could not be read is kept too (:class:`Unread`), so nothing typed is ever lost.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

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
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

    from workbench.catalog.tank import Tank

SCHEMA_VERSION = 1
LONGEST_TEXT = 4000
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
        from pydantic_core import core_schema

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


class _ShortText:
    """Tells pydantic to refuse a text that is too long."""

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.str_schema(max_length=LONGEST_TEXT)


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

_Text = Annotated[str, _ShortText()]
_Pressure = Annotated[Entry, _TypedText(PRESSURE)]
_Length = Annotated[Entry | None, _TypedText(LENGTH, optional=True)]


@dataclass(frozen=True, slots=True)
class CatalogSnapshot:
    """The catalogue rows that a saved job used, so that later edits never change an old quote."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    file: _Text
    tanks: _Tanks


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Every input of one job. Defaults are those of a new, empty job."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    schema_version: Literal[1] = 1
    demo: bool = False
    title: _Text = ""

    pump_flow: Annotated[Entry, _TypedText(FLOW)] = parse("10 gpm", FLOW)
    run_time_rule: RunTimeRule = RunTimeRule.TYPED
    run_time: Annotated[Entry, _TypedText(TIME)] = parse("1 min", TIME)
    starts_limit: Annotated[Entry, _TypedText(STARTS_PER_HOUR)] = parse("6 /h", STARTS_PER_HOUR)

    cut_in: _Pressure = parse("30 psi", PRESSURE)
    cut_out: _Pressure = parse("50 psi", PRESSURE)
    bands: Annotated[Bands | Unread, _TypedText(None)] = parse_bands(
        "20/40, 30/50, 40/60, 50/70 psi"
    )

    precharge_rule: PrechargeRule = PrechargeRule.BELOW_2
    precharge: _Pressure = parse("28 psi", PRESSURE)
    reading_temperature: Annotated[Entry | None, _TypedText(TEMPERATURE, optional=True)] = None
    reading_altitude: Annotated[Entry | None, _TypedText(ALTITUDE, optional=True)] = None

    altitude: Annotated[Entry, _TypedText(ALTITUDE)] = parse("0 ft", ALTITUDE)
    tank_temperature: Annotated[Entry, _TypedText(TEMPERATURE)] = parse("55 °F", TEMPERATURE)
    exponent: Annotated[Entry, _TypedText(NUMBER)] = parse("1.0", NUMBER)

    door_width: _Length = None
    headroom: _Length = None
    pressure_margin: _Pressure = parse("15 psi", PRESSURE)
    potable_required: bool = True
    header_tanks: Literal[1, 2, 3] = 1
    order: Order = Order.PRICE

    catalog: CatalogSnapshot | None = None

    @classmethod
    def entries(cls) -> tuple[str, ...]:
        """The names of all entries, in their order."""
        return tuple(entry.name for entry in fields(cls))

    def changed(self, **values: Any) -> Job:
        """A copy with some entries replaced; values are checked as when a file is read.

        Raises:
            checking.UnfitError: a value cannot stand in a job.
        """
        from workbench.job.checking import job_of  # pydantic: not needed before the first edit

        return job_of({name: getattr(self, name) for name in self.entries()} | values)
