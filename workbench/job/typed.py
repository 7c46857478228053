"""How an entry that was typed stands in a file: as its text, read again by the same rules.

pydantic meets these only through ``Annotated`` (:mod:`workbench.job.checking`), so that the
window's first frame need not wait for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.units import (
    Bands,
    Kind,
    Pairs,
    Quantity,
    UnitError,
    Unread,
    parse,
    parse_bands,
    parse_pairs,
)
from workbench.words import tr

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

_LONGEST_SHOWN = 60

Entry = Quantity | Unread
"""One entered quantity: read, or kept as typed with the reason why it could not be read."""

What = Kind | tuple[Kind, Kind] | None
"""What is typed: a quantity, pairs of two kinds, or (None) a list of switch bands."""


Typed = Quantity | Bands | Pairs | Unread
"""Whatever an entry can hold."""


class TypedText:
    """Tells pydantic how an entry stands in a file: as its text."""

    def __init__(self, what: What, *, optional: bool = False) -> None:
        self._what = what
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

    def _read(self, value: Any) -> Typed | None:
        if isinstance(value, Quantity | Bands | Pairs | Unread):
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

    def _parse(self, text: str) -> Quantity | Bands | Pairs:
        if self._what is None:
            return parse_bands(text)
        return parse_pairs(text, self._what) if isinstance(self._what, tuple) else (
            parse(text, self._what)
        )  # fmt: skip

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
    def _write(value: Typed | None) -> Any:
        if value is None:
            return None
        return {"unread": value.text} if isinstance(value, Unread) else str(value)
