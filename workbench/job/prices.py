"""Rows that a job holds besides its single entries: what the firm sells, how much, what was sent.

Money is kept as typed, like every other entry; :mod:`workbench.study.pricing` makes Decimals of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar

from workbench.job.paper_choices import ItemKind
from workbench.job.texts import ShortText
from workbench.job.typed import Entry, TypedText
from workbench.units import MONEY, NUMBER

_Text = Annotated[str, ShortText()]
_SomeMoney = Annotated[Entry | None, TypedText(MONEY, optional=True)]


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceItem:
    """One thing that the firm sells.

    ``code`` names it for good; the codes of :mod:`workbench.study.pricing.parts` are counted from
    the arrangement, any other is the firm's own and is counted by hand. ``cost`` is what it costs
    the firm; ``price`` what a customer pays, and where it is empty the cost with the markup.
    ``hours`` (for labour) are charged at the firm's rate in the place of both.
    """

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    code: _Text
    name: _Text
    unit: _Text = ""
    kind: ItemKind = ItemKind.PART
    cost: _SomeMoney = None
    price: _SomeMoney = None
    hours: Annotated[Entry | None, TypedText(NUMBER, optional=True)] = None
    taxed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How much of an item this job takes, in the place of what follows from the arrangement."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    code: _Text
    quantity: Annotated[Entry, TypedText(NUMBER)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """What was sent: its number from 1, date, program version, fingerprint of the inputs, and every
    line of the estimate as label and value, so that two revisions can be held against each other.
    """

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    number: int
    date: _Text
    version: _Text
    fingerprint: _Text
    lines: tuple[tuple[_Text, _Text], ...]
