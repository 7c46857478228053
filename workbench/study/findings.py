"""Problems are data: what is wrong, where it was entered, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from workbench.units import Display, Kind


class Level(IntEnum):
    """How grave a finding is. A stop keeps a setting from being given as an instruction."""

    NOTE = 0
    CAUTION = 1
    STOP = 2


@dataclass(frozen=True, slots=True)
class Finding:
    """One problem. ``field`` is the input beside which it is shown; "" for the whole job.

    ``values`` are SI values for the ``{named}`` places of ``text``, so that each reader gets them
    in their own units.
    """

    level: Level
    code: str
    field: str
    text: str
    remedy: str = ""
    values: tuple[tuple[str, float, Kind], ...] = ()

    def told(self, display: Display) -> str:
        """The text in these units, without the remedy."""
        if not self.values:
            return self.text
        return self.text.format(**{name: display.text(si, kind) for name, si, kind in self.values})

    def sentence(self, display: Display) -> str:
        """What is wrong and how to mend it."""
        return f"{self.told(display)} {self.remedy}".strip()
