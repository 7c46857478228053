"""One row of the catalogue: a pre-charged pressure tank. SI floats; pressures are gauge readings.

A value that is not known is None, and None means "not stated", never a default.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection, Mapping
from decimal import Decimal
from enum import StrEnum
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError, model_validator
from pydantic_core import PydanticCustomError

from workbench.catalog.rules import MEASURES, Broken, Show, contradictions, in_words, show_us
from workbench.units import LENGTH, MASS, PRESSURE, VOLUME
from workbench.words import tr

# Far above what the trade sells, and low enough to catch a value in another unit.
_MOST_VOLUME = 5000 * VOLUME.units["gal"].factor
_MOST_LENGTH = 400 * LENGTH.units["in"].factor
_MOST_PRESSURE = 600 * PRESSURE.units["psi"].factor
_MOST_WEIGHT = 20_000 * MASS.units["lb"].factor
_MOST_PRICE = 1_000_000

# Control characters and half characters; the first also forbids line breaks and tabs.
_NOT_ON_A_LINE = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]")
_NOT_IN_A_TEXT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
_LINE_END = re.compile(r"\r\n|\r|\n")
_MOST_LINES = 40
_DATE = re.compile(r"(\d{1,2}[-/ ][A-Za-z]{3}|[A-Za-z]{3}[-/ ]\d{1,2}|\d{4}-\d\d-\d\d.*)")


class TankKind(StrEnum):
    """How the membrane is made and how the tank is set up; the value is what files hold."""

    BLADDER_VERTICAL = "bladder vertical"
    BLADDER_HORIZONTAL = "bladder horizontal"
    BLADDER_IN_GROUND = "bladder in-ground"
    DIAPHRAGM_VERTICAL = "diaphragm vertical"
    DIAPHRAGM_HORIZONTAL = "diaphragm horizontal"
    DIAPHRAGM_IN_GROUND = "diaphragm in-ground"

    @property
    def horizontal(self) -> bool:
        """It lies on its shell."""
        return self.value.endswith(" horizontal")

    @property
    def in_ground(self) -> bool:
        """It is made to be buried."""
        return self.value.endswith(" in-ground")


def kind_titles() -> dict[TankKind, str]:
    """What a person reads for each kind."""
    return {
        TankKind.BLADDER_VERTICAL: tr("bladder, vertical"),
        TankKind.BLADDER_HORIZONTAL: tr("bladder, horizontal"),
        TankKind.BLADDER_IN_GROUND: tr("bladder, in-ground"),
        TankKind.DIAPHRAGM_VERTICAL: tr("diaphragm, vertical"),
        TankKind.DIAPHRAGM_HORIZONTAL: tr("diaphragm, horizontal"),
        TankKind.DIAPHRAGM_IN_GROUND: tr("diaphragm, in-ground"),
    }


def _no_blank_ends(text: str) -> str:
    if text != text.strip():
        raise PydanticCustomError("blank_ends", "a blank at one end")
    return text


def _one_line(text: str) -> str:
    if _NOT_ON_A_LINE.search(text):
        raise PydanticCustomError("control", "a character that cannot be printed")
    return _no_blank_ends(text)


def _some_lines(text: str) -> str:
    if _NOT_IN_A_TEXT.search(text):
        raise PydanticCustomError("control", "a character that cannot be printed")
    if len(_LINE_END.findall(text)) >= _MOST_LINES:
        raise PydanticCustomError("too_many_lines", "too many lines")
    return _no_blank_ends(text)


def _pipe_size(text: str) -> str:
    if _DATE.fullmatch(text):
        raise PydanticCustomError("looks_like_date", "a date")
    return _one_line(text)


_Volume = Annotated[float, Field(gt=0, le=_MOST_VOLUME, allow_inf_nan=False)]
_Length = Annotated[float, Field(gt=0, le=_MOST_LENGTH, allow_inf_nan=False)]
_Pressure = Annotated[float, Field(gt=0, le=_MOST_PRESSURE, allow_inf_nan=False)]
_Precharge = Annotated[float, Field(ge=0, le=_MOST_PRESSURE, allow_inf_nan=False)]
_Weight = Annotated[float, Field(gt=0, le=_MOST_WEIGHT, allow_inf_nan=False)]
_Price = Annotated[Decimal, Field(gt=0, le=_MOST_PRICE, decimal_places=4)]


class Tank(BaseModel):
    """One pressure tank, all of whose values are within bounds and agree with each other.

    ``total_volume``, ``acceptance`` [m³]; ``diameter``, ``height`` [m], the height of a horizontal
    tank being the length of its shell along the axis; ``max_working_pressure``,
    ``factory_precharge``, ``highest_precharge`` [Pa gauge]; ``empty_weight`` [kg];
    ``potable_listed`` is whether it is listed for drinking water. ``connection`` is the nominal
    pipe size as text, "1-1/4". ``price`` is in ``currency``, an ISO 4217 code.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Annotated[str, Field(min_length=1, max_length=60), AfterValidator(_one_line)]
    name: Annotated[str, Field(min_length=1, max_length=120), AfterValidator(_one_line)]
    kind: TankKind
    total_volume: _Volume
    acceptance: _Volume | None = None
    diameter: _Length
    height: _Length
    connection: Annotated[str, Field(max_length=40), AfterValidator(_pipe_size)] = ""
    max_working_pressure: _Pressure
    factory_precharge: _Precharge
    highest_precharge: _Precharge | None = None
    empty_weight: _Weight | None = None
    potable_listed: bool | None = None
    price: _Price | None = None
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")] = "USD"
    in_stock: bool | None = None
    notes: Annotated[str, Field(max_length=2000), AfterValidator(_some_lines)] = ""
    source: Annotated[str, Field(max_length=400), AfterValidator(_some_lines)] = ""
    date: datetime.date | None = None

    @model_validator(mode="after")
    def _values_agree(self) -> Tank:
        broken = " ".join(f"{b.field} {b.rule}" for b in contradictions(self.__dict__))
        if broken:
            raise PydanticCustomError("contradiction", "{broken}", {"broken": broken})
        return self


def check_tank(
    values: Mapping[str, Any], show: Show = show_us, known_bad: Collection[str] = ()
) -> tuple[Tank | None, tuple[Broken, ...]]:
    """Make a tank of ``values``, or tell every rule that they break, all at once.

    Args:
        values: by field, in SI; what is not stated is left out or None.
        show: how a value is told, by default in US customary units.
        known_bad: fields left out because what was typed could not be read; they are not called
            missing, and there is no tank.
    """
    try:
        tank = Tank(**values)
    except ValidationError as error:
        found = [
            in_words(str(e["loc"][0]), e["type"], e.get("ctx", {}), e["msg"], show)
            for e in error.errors(include_url=False, include_input=False)
            if e["loc"]  # a contradiction belongs to no one field; it is told below
        ]
        bad = {broken.field for broken in found}
        sound = {f: values[f] for f in MEASURES if f in values and f not in bad}
        found = [broken for broken in found if broken.field not in known_bad]
        return None, (*found, *contradictions(sound, show))
    return (None, ()) if known_bad else (tank, ())
