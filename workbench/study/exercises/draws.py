"""Choices from a seed, the same for ever and on every computer.

They come from the raw numbers of PCG64, which NumPy promises to keep; those of its Generator
methods may change with a version (:mod:`workbench.physics.sampling`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

_T = TypeVar("_T")
_TO_UNIT = 2.0**-53  # the 53 upper bits of a raw 64-bit number, as a number in [0, 1)


class Draws:
    """A stream of choices that ``key``, whole numbers of zero or above, decides.

    >>> Draws(1, 2).one_of("abcdef") == Draws(1, 2).one_of("abcdef")
    True
    """

    def __init__(self, *key: int) -> None:
        self._stream = np.random.PCG64(list(key))

    def share(self) -> float:
        """A number from zero up to, but not including, one."""
        return float(int(self._stream.random_raw()) >> 11) * _TO_UNIT

    def below(self, limit: int) -> int:
        """A whole number from zero up to, but not including, ``limit``."""
        return int(self.share() * limit)

    def one_of(self, items: Sequence[_T]) -> _T:
        """One of the items."""
        return items[self.below(len(items))]

    def chance(self, share: float) -> bool:
        """Yes, in this share of all cases."""
        return self.share() < share

    def shuffled(self, items: Sequence[_T]) -> list[_T]:
        """All items in another order."""
        left = list(items)
        return [left.pop(self.below(len(left))) for _ in range(len(left))]

    def some(self, items: Sequence[_T], count: int) -> list[_T]:
        """``count`` different ones of the items, in their own order."""
        kept = sorted(self.shuffled(range(len(items)))[:count])
        return [items[index] for index in kept]
