"""What has been seen so far, as arrays for a picture: bounded, and with every event in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from workbench.physics.air import FloatArray
from workbench.physics.motion import Happening
from workbench.physics.system import Moment

SAMPLE = 0.1
"""The least time between two samples [s]; events stand between them at their own time."""
_MOST = 1 << 16  # rows: about two hours of 0.1 s, and many more once the past is thinned
_FIRST = 1 << 10


@dataclass(frozen=True, eq=False)
class Trace:
    """Rows (n,) in the order of time; the last is the present. Valid until the next step.

    ``time`` [s], ``pressure`` gauge [Pa], ``water`` in the tank [m³], ``pump_on``: the contacts
    are closed. ``kind``: the value of the :class:`Happening` at this row, 0 where it is a sample.
    """

    time: FloatArray
    pressure: FloatArray
    water: FloatArray
    pump_on: npt.NDArray[np.bool_]
    kind: npt.NDArray[np.int8]


class Tape:
    """Takes moments and gives them as a :class:`Trace`.

    When it is full every second plain sample of its older half goes, so the further back, the
    coarser; events stay, until they alone would fill it: then the oldest quarter goes.
    """

    def __init__(self, most: int = _MOST) -> None:
        self._most = most
        self._count = 0
        self._rows = np.empty((3, _FIRST))
        self._on = np.empty(_FIRST, dtype=np.bool_)
        self._kind = np.empty(_FIRST, dtype=np.int8)

    def __len__(self) -> int:
        return self._count

    def add(self, moment: Moment, kind: Happening | None = None) -> None:
        """Keep a moment. Of more than two plain ones at one time the first and the last stay."""
        if self._count >= 2 and kind is None:
            same = self._rows[0, self._count - 2 : self._count] == moment.time
            if same.all() and self._kind[self._count - 1] == 0:
                self._count -= 1
        if self._count + 2 > self._on.size:
            self._make_room()
        self._put(moment, kind)
        self._count += 1

    def trace(self, present: Moment) -> Trace:
        """All that is kept, and the present moment, which is not."""
        self._put(present, None)
        n = self._count + 1
        time, pressure, water = self._rows[:, :n]
        return Trace(time, pressure, water, self._on[:n], self._kind[:n])

    def forget_after(self, time: float) -> None:
        """Keep what is not later than a time [s]."""
        self._count = int(np.searchsorted(self._rows[0, : self._count], time, side="right"))

    def forget_before(self, time: float) -> None:
        """Keep what is not earlier than a time [s]."""
        self._keep(self._rows[0, : self._count] >= time, self._on.size)

    def _put(self, moment: Moment, kind: Happening | None) -> None:
        at = self._count
        self._rows[:, at] = moment.time, moment.pressure, moment.water
        self._on[at] = moment.closed
        self._kind[at] = 0 if kind is None else kind.value

    def _make_room(self) -> None:
        if self._on.size < self._most:
            self._keep(np.ones(self._count, dtype=np.bool_), 2 * self._on.size)
            return
        kept = self._kind[: self._count] != 0
        kept[::2] = True
        kept[self._count // 2 :] = True
        if kept.sum() > 0.9 * self._most:
            kept[: self._count // 4] = False
        self._keep(kept, self._on.size)

    def _keep(self, kept: npt.NDArray[np.bool_], size: int) -> None:
        """New arrays with the rows that stay, so that traces given out stay as they are."""
        rows, on, kind = self._rows, self._on, self._kind
        self._rows = np.empty((3, size))
        self._on, self._kind = np.empty(size, dtype=np.bool_), np.empty(size, dtype=np.int8)
        before, self._count = self._count, int(kept.sum())
        self._rows[:, : self._count] = rows[:, :before][:, kept]
        self._on[: self._count] = on[:before][kept]
        self._kind[: self._count] = kind[:before][kept]
