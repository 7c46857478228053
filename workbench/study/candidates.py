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

MOST_PAIRED = 150
"""Pairs of different tanks are formed among this many, the cheapest: 11,175 pairs."""


@dataclass(frozen=True, eq=False)
class Candidates:
    """Columns over all arrangements (SI). ``tank`` indexes ``columns``; ``count`` is 1, 2 or 3.

    ``other`` indexes the one different tank beside it on the header; −1 where there is none.
    ``tanks`` holds the whole row of each tank by its id, for telling about one of them.
    ``unpaired`` is how many tanks were too many to be paired (:data:`MOST_PAIRED`).
    """

    columns: TankColumns
    tanks: Mapping[str, Tank]
    tank: np.ndarray
    count: np.ndarray
    other: np.ndarray
    volume: FloatArray
    acceptance: FloatArray
    price: FloatArray
    floor: FloatArray
    unpaired: int = 0

    @classmethod
    def of(
        cls, columns: TankColumns, tanks: Mapping[str, Tank], most: int, *, mixed: bool = False
    ) -> Candidates:
        """All arrangements of up to ``most`` equal tanks; ``mixed``: and different pairs."""
        n = len(columns.volume)
        tank = np.tile(np.arange(n), most)
        count = np.repeat(np.arange(1, most + 1), n)
        other = np.full(n * most, -1)
        unpaired = 0
        if mixed:
            paired = np.sort(np.argsort(columns.price, kind="stable")[:MOST_PAIRED])
            unpaired = n - len(paired)
            first, second = np.triu_indices(len(paired), 1)
            tank = np.concatenate((tank, paired[first]))
            count = np.concatenate((count, np.ones(len(first), dtype=count.dtype)))
            other = np.concatenate((other, paired[second]))
        long_side = np.where(columns.horizontal, columns.height, columns.diameter)
        floor = np.where(columns.in_ground, 0.0, columns.diameter * long_side)
        volume, acceptance, price, floor = (
            _total(one, tank, count, other)
            for one in (columns.volume, columns.acceptance, columns.price, floor)
        )
        return cls(columns, tanks, tank, count, other, volume, acceptance, price, floor, unpaired)

    def total(self, one: FloatArray) -> FloatArray:
        """What is known of each tank (n,), added up over each arrangement."""
        return _total(one, self.tank, self.count, self.other)

    def parts(self, index: int) -> tuple[Tank, ...]:
        """The tanks of an arrangement, each as often as it stands on the header."""
        ids, other = self.columns.ids, int(self.other[index])
        same = (self.tanks[ids[self.tank[index]]],) * int(self.count[index])
        return same if other < 0 else (*same, self.tanks[ids[other]])

    @cached_property
    def by_key(self) -> dict[str, int]:
        """The index of each arrangement by its key."""
        return {self.key(index): index for index in range(len(self))}

    def key(self, index: int) -> str:
        """What names an arrangement in a job: the ids of its tanks, such as "a + a"."""
        return " + ".join(part.id for part in self.parts(index))

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
        # not stated (-1) stands between in stock (1) and not in stock (0)
        one = np.choose(1 - self.columns.in_stock, (0, 2, 1))
        beside = np.where(self.other < 0, 0, one[self.other])  # a pair waits for its later tank
        rank = np.maximum(one[self.tank], beside)[self._by_price]
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


def _total(one: FloatArray, tank: np.ndarray, count: np.ndarray, other: np.ndarray) -> FloatArray:
    return np.asarray(one[tank] * count + np.where(other < 0, 0.0, one[other]))
