"""Problems are data: what is wrong, where it was entered, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Level(IntEnum):
    """How grave a finding is. A stop keeps a setting from being given as an instruction."""

    NOTE = 0
    CAUTION = 1
    STOP = 2


@dataclass(frozen=True, slots=True)
class Finding:
    """One problem. ``field`` is the input beside which it is shown; "" for the whole job."""

    level: Level
    code: str
    field: str
    text: str
    remedy: str = ""
