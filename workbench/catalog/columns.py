"""The tanks of a catalogue as arrays, for calculations over all of them at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from math import inf, nan

import numpy as np
import numpy.typing as npt

from workbench.catalog.tank import Tank

_FLAG = {True: 1, False: 0, None: -1}


@dataclass(frozen=True, eq=False)
class TankColumns:
    """Every tank's values, sorted by name (whatever its case) and then id; all arrays are (n,).

    Because of that order, a later stable sort breaks ties in the same way every time. The arrays
    cannot be written to.

    ``volume``, ``acceptance`` [m³]; ``diameter``, ``height`` [m]; ``max_working``,
    ``factory_precharge``, ``highest_precharge`` [Pa gauge]; ``weight`` [kg]; ``price`` in the
    catalogue's currency. Where not stated, the acceptance is inf, and highest precharge, weight
    and price are nan. ``potable``, ``in_stock``: 1 yes, 0 no, -1 not stated.
    """

    ids: tuple[str, ...]
    names: tuple[str, ...]
    volume: npt.NDArray[np.float64]
    acceptance: npt.NDArray[np.float64]
    diameter: npt.NDArray[np.float64]
    height: npt.NDArray[np.float64]
    max_working: npt.NDArray[np.float64]
    factory_precharge: npt.NDArray[np.float64]
    highest_precharge: npt.NDArray[np.float64]
    weight: npt.NDArray[np.float64]
    price: npt.NDArray[np.float64]
    potable: npt.NDArray[np.int8]
    in_stock: npt.NDArray[np.int8]
    horizontal: npt.NDArray[np.bool_]
    in_ground: npt.NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.ids)

    @classmethod
    def from_arrays(
        cls, ids: Sequence[str], names: Sequence[str], **arrays: npt.ArrayLike
    ) -> TankColumns:
        """Sort given columns, each of the length of ``ids``, and hold copies of them.

        Values are not checked: they come from tanks, or from a test that knows what it makes.

        Raises:
            ValueError: a column is missing, unknown, or of another length.
        """
        wanted = {f.name: f.type for f in fields(cls) if f.name not in {"ids", "names"}}
        if arrays.keys() != wanted.keys() or len(names) != len(ids):
            odd = sorted(arrays.keys() ^ wanted.keys())
            raise ValueError(f"columns missing or unknown: {odd}, {len(ids)} ids")
        folded = [name.casefold() for name in names]
        order = sorted(range(len(ids)), key=lambda i: (folded[i], ids[i]))
        sorted_arrays = {}
        for name, values in arrays.items():
            array = np.array(values, dtype=_dtype(str(wanted[name])))
            if array.shape != (len(ids),):
                raise ValueError(f"{name} has the shape {array.shape}, not ({len(ids)},)")
            array = array[order]
            array.flags.writeable = False
            sorted_arrays[name] = array
        return cls(tuple(ids[i] for i in order), tuple(names[i] for i in order), **sorted_arrays)

    @classmethod
    def from_tanks(cls, tanks: Iterable[Tank]) -> TankColumns:
        """Arrays of the values of ``tanks``."""
        tanks = tuple(tanks)
        return cls.from_arrays(
            [t.id for t in tanks],
            [t.name for t in tanks],
            volume=[t.total_volume for t in tanks],
            acceptance=[_or(t.acceptance, inf) for t in tanks],
            diameter=[t.diameter for t in tanks],
            height=[t.height for t in tanks],
            max_working=[t.max_working_pressure for t in tanks],
            factory_precharge=[t.factory_precharge for t in tanks],
            highest_precharge=[_or(t.highest_precharge, nan) for t in tanks],
            weight=[_or(t.empty_weight, nan) for t in tanks],
            price=[nan if t.price is None else float(t.price) for t in tanks],
            potable=[_FLAG[t.potable_listed] for t in tanks],
            in_stock=[_FLAG[t.in_stock] for t in tanks],
            horizontal=[t.kind.horizontal for t in tanks],
            in_ground=[t.kind.in_ground for t in tanks],
        )


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def _dtype(annotation: str) -> type[np.generic]:
    for name, dtype in (("int8", np.int8), ("bool_", np.bool_)):
        if name in annotation:
            return dtype
    return np.float64
