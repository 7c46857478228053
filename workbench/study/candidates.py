"""Every arrangement that can be offered: one catalogue tank, or equal ones on one header.

Built once for a catalogue; what an edit changes is judged in :mod:`workbench.study.ranking`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from workbench.catalog.columns import TankColumns
from workbench.catalog.tank import Tank
from workbench.job.choices import Order
from workbench.physics.air import FloatArray


@dataclass(frozen=True, eq=False)
class Candidates:
    """Columns over all arrangements (SI). ``tank`` indexes ``columns``; ``count`` is 1, 2 or 3.

    ``tanks`` holds the whole row of each tank by its id, for telling about one of them.
    """

    columns: TankColumns
    tanks: Mapping[str, Tank]
    tank: np.ndarray
    count: np.ndarray
    volume: FloatArray
    acceptance: FloatArray
    price: FloatArray
    floor: FloatArray

    @classmethod
    def of(cls, columns: TankColumns, tanks: Mapping[str, Tank], most: int) -> Candidates:
        """All arrangements of up to ``most`` equal tanks."""
        n = len(columns.volume)
        tank = np.tile(np.arange(n), most)
        count = np.repeat(np.arange(1, most + 1), n)
        long_side = np.where(columns.horizontal, columns.height, columns.diameter)
        floor = np.where(columns.in_ground, 0.0, columns.diameter * long_side)
        return cls(
            columns,
            tanks,
            tank,
            count,
            columns.volume[tank] * count,
            columns.acceptance[tank] * count,
            columns.price[tank] * count,
            floor[tank] * count,
        )

    def __len__(self) -> int:
        return len(self.tank)

    @cached_property
    def _by_price(self) -> np.ndarray:
        """Cheapest first; unpriced last; equal prices by name, id and count, as the columns lie."""
        return np.argsort(self.price, kind="stable")

    @cached_property
    def _by_floor(self) -> np.ndarray:
        return self._by_price[np.argsort(self.floor[self._by_price], kind="stable")]

    @cached_property
    def _by_stock(self) -> np.ndarray:
        out = -self.columns.in_stock[self.tank[self._by_price]]
        # not stated (-1) stands between in stock (1) and not in stock (0)
        rank = np.choose(out + 1, (0, 2, 1))
        return self._by_price[np.argsort(rank, kind="stable")]

    def sequence(self, order: Order, drawdown: FloatArray) -> np.ndarray:
        """Indices of all arrangements in the chosen order; ties always fall the same way."""
        if order is Order.FLOOR:
            return self._by_floor
        if order is Order.STOCK:
            return self._by_stock
        if order is Order.RUN_TIME:
            return self._by_price[np.argsort(-drawdown[self._by_price], kind="stable")]
        return self._by_price
