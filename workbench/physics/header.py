"""Several tanks at one common pressure (one header), and the old plain tank without a membrane.

Tanks on a header share their pressure P, and their water adds. With V, Pp and A of each tank as in
:mod:`workbench.physics.tank`, the water is

    W(P) = Σ min( V · max(1 − (Pp / P)^(1/n), 0), A )

In s = (P0 / P)^(1/n), with P0 the lowest precharge, each tank is straight: empty above its start,
``V − c·s`` between start and full, A below. W is a chain of straight pieces in s, so the pressure
of a given water has a closed form for any tanks: find the piece, solve a straight line.

Source: that usable water of tanks on a header adds: trade magazine for water-well drillers,
technical column "Using multiple pressure tanks for larger systems", 2008. The rest is Boyle's law.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from workbench.physics.air import AbsolutePressure, FloatArray
from workbench.physics.tank import drawdown, volume_for_drawdown, water_in_tank
from workbench.words import tr

_ROUNDING = 1e-12  # share of the most water by which a sum of floats may miss 0 or the most water
_LEAST_ACCEPTANCE = 1e-9  # of the total volume


class _Chain(NamedTuple):
    """W over s as straight pieces: piece k lies between knots k and k + 1 and is room − slope·s."""

    share: FloatArray  # (m + 1,) s at the knots, strictly falling from 1
    water: FloatArray  # (m + 1,) m³ at the knots, rising or level from 0
    room: FloatArray  # (m,) m³
    slope: FloatArray  # (m,) m³; 0 where no tank takes water (all so far are full, none starts)


@dataclass(frozen=True, eq=False)
class Vessels:
    """One or more pre-charged tanks at one common pressure; the arrays are copied and read-only.

    Args:
        volume: total volumes V (n,) [m³], above zero.
        precharge: absolute pressures Pp (n,) [Pa], above zero.
        acceptance: most water A (n,) [m³], at least V·1e-9; inf where it is not known, and then (as
            where it exceeds V) the volume is the limit.
        exponent: compression exponent n [-], above zero, the same for all; 1.0 is Boyle's law.

    Raises:
        ValueError: arrays that are not one number for each tank, or numbers out of these ranges;
            the message names the tank, counted from 1.

    >>> pair = Vessels(np.array([0.1, 0.2]), AbsolutePressure(np.array([2e5, 3e5])),
    ...                np.array([np.inf, np.inf]), 1.0)
    >>> water = pair.water(AbsolutePressure(np.array(4e5)))
    >>> float(water)  # half of the first tank, a quarter of the second
    0.1
    >>> round(float(pair.pressure(water)))
    400000
    """

    volume: FloatArray
    precharge: AbsolutePressure
    acceptance: FloatArray
    exponent: float

    def __post_init__(self) -> None:
        arrays = {}
        for name in ("volume", "precharge", "acceptance"):
            value = np.array(getattr(self, name), dtype=np.float64)
            value.flags.writeable = False
            arrays[name] = value
            object.__setattr__(self, name, value)
        volume, precharge, acceptance = arrays.values()
        if volume.ndim != 1 or not volume.shape == precharge.shape == acceptance.shape != (0,):
            raise ValueError(
                tr("give volume, precharge and acceptance as lists of equal length, one tank each")
            )
        _each_above_zero(volume, np.isfinite(volume), tr("total volume"))
        _each_above_zero(precharge, np.isfinite(precharge), tr("absolute precharge"))
        # Less would vanish in 1 − A/V, and the inverse with it.
        _each_above_zero(
            acceptance,
            acceptance >= _LEAST_ACCEPTANCE * volume,
            tr("acceptance, at least a billionth of the total volume,"),
        )
        if not (np.isfinite(self.exponent) and self.exponent > 0.0):
            raise ValueError(tr("the compression exponent must be a number above zero"))

    @classmethod
    def one(
        cls,
        volume: float,
        precharge: AbsolutePressure | float,
        acceptance: float = np.inf,
        exponent: float = 1.0,
    ) -> Vessels:
        """One tank alone; arguments as of the class, each a single number.

        >>> float(Vessels.one(0.1, 2e5).pressure(0.05))
        400000.0
        """
        charge = AbsolutePressure(np.atleast_1d(np.asarray(precharge, dtype=np.float64)))
        return cls(np.array([volume]), charge, np.array([acceptance]), exponent)

    @property
    def most_water(self) -> float:
        """The most water [m³] that the tanks can hold together: Σ of the lesser of A and V."""
        return float(np.sum(self._limit))

    @property
    def _limit(self) -> FloatArray:
        return np.minimum(self.acceptance, self.volume)

    def water_each(self, pressure: AbsolutePressure) -> FloatArray:
        """Water [m³] in each tank at absolute pressures [Pa] above 0; shape pressure's + (n,)."""
        common = AbsolutePressure(np.asarray(pressure, dtype=np.float64)[..., np.newaxis])
        return water_in_tank(common, self.precharge, self.volume, self._limit, self.exponent)

    def water(self, pressure: AbsolutePressure) -> FloatArray:
        """Water [m³] in all tanks together at absolute pressures [Pa] above 0; same shape."""
        return np.asarray(np.sum(self.water_each(pressure), axis=-1))

    def pressure(self, water: npt.ArrayLike) -> AbsolutePressure:
        """Absolute pressure [Pa] at which the tanks hold ``water`` [m³] together; same shape.

        The exact inverse of :meth:`water`. At no water it is the lowest precharge (below it the
        tanks are empty too). Where the filled tanks are full and the next has not started, a range
        of pressures has the same water, and the lowest of them is given; so also at the most
        water. That is inf where a tank's limit is its volume: no pressure makes its air vanish.

        Raises:
            ValueError: water below zero, above :attr:`most_water`, or not a number. A miss of up to
                1e-12 of the most water is taken for the rounding of a sum.
        """
        wanted = np.asarray(water, dtype=np.float64)
        chain, most = self._chain, float(self._chain.water[-1])
        slack = _ROUNDING * most
        if not np.all((wanted >= -slack) & (wanted <= most + slack)):
            raise ValueError(
                tr("water must lie between 0 and {most} m³, the most these tanks hold", most=most)
            )
        wanted = np.clip(wanted, 0.0, most)
        # The first knot at or above the water ends its piece, so a level piece is never chosen.
        piece = np.maximum(np.searchsorted(chain.water, wanted, side="left") - 1, 0)
        share = (chain.room[piece] - wanted) / chain.slope[piece]
        share = np.clip(share, chain.share[piece + 1], chain.share[piece])
        with np.errstate(divide="ignore"):
            return AbsolutePressure(np.asarray(np.min(self.precharge) * share**-self.exponent))

    @cached_property
    def _chain(self) -> _Chain:
        volume, limit = self.volume, self._limit
        start = (np.min(self.precharge) / self.precharge) ** (1.0 / self.exponent)
        full = (1.0 - limit / volume) * start
        knots = np.unique(np.concatenate([start, full]))[::-1]
        at = knots[:, np.newaxis]
        between = volume - volume / start * at
        water = np.where(at >= start, 0.0, np.where(at <= full, limit, between)).sum(axis=1)
        above, below = at[:-1], at[1:]
        filling = (above <= start) & (below >= full)
        filled = above <= full
        room = (np.where(filling, volume, 0.0) + np.where(filled, limit, 0.0)).sum(axis=1)
        slope = np.where(filling, volume / start, 0.0).sum(axis=1)
        # In a level piece both knots add the same numbers; elsewhere rounding may undo a hair.
        return _Chain(knots, np.maximum.accumulate(water), room, slope)


def _each_above_zero(values: FloatArray, usable: npt.NDArray[np.bool_], name: str) -> None:
    """Raise a ValueError that names the first tank whose number is not usable or not above 0."""
    wrong = np.flatnonzero(~(usable & (values > 0.0)))
    if wrong.size:
        raise ValueError(
            tr(
                "tank {number}: {name} must be a number above zero, not {value}",
                number=int(wrong[0]) + 1,
                name=name,
                value=float(values[wrong[0]]),
            )
        )


def _check_band(cut_in: AbsolutePressure, cut_out: AbsolutePressure) -> None:
    if not np.all((cut_in > 0.0) & (cut_in <= cut_out)):
        raise ValueError(tr("cut-out must be at or above cut-in, both above vacuum"))


def drawdown_each(
    vessels: Vessels, cut_in: AbsolutePressure, cut_out: AbsolutePressure
) -> FloatArray:
    """Water [m³] that each tank gives from cut-out down to cut-in; shape the pressures' + (n,).

    Args:
        cut_in, cut_out: absolute [Pa], broadcast together.

    Raises:
        ValueError: cut-out below cut-in.

    >>> psi, gal = 6894.757293168361, 3.785411784e-3
    >>> p28, p30, p50 = (AbsolutePressure(np.array((g + 14.7) * psi)) for g in (28, 30, 50))
    >>> unknown = np.array([np.inf, np.inf])
    >>> pair = Vessels(np.array([85 * gal, 44 * gal]), np.array([p28, p28]), unknown, 1.0)
    >>> (drawdown_each(pair, p30, p50) / gal).round(1).tolist()
    [25.1, 13.0]
    """
    _check_band(cut_in, cut_out)
    return np.asarray(vessels.water_each(cut_out) - vessels.water_each(cut_in))


def emptying_pressure(vessels: Vessels) -> AbsolutePressure:
    """Absolute pressure (n,) [Pa] at which each tank gives its last water: its own precharge.

    A tank whose precharge lies above cut-in is empty while the others still give; one whose
    precharge lies above cut-out never takes water.
    """
    return vessels.precharge


def first_to_empty(vessels: Vessels) -> int:
    """Index of the tank that empties first as the pressure falls: the highest precharge.

    Neither volume nor acceptance matters to it. The lowest index where several are equal.

    >>> first_to_empty(matched(Vessels.one(0.1, 2e5), 3e5))
    0
    """
    return int(np.argmax(vessels.precharge))


def matched(vessels: Vessels, precharge: AbsolutePressure | float) -> Vessels:
    """Give the same tanks one common precharge, absolute [Pa].

    Matched at cut-in, tanks give the most that they can at that band, with any acceptances: each
    one's drawdown is greatest there. Matched at another pressure they can give less than before.
    """
    charge = np.broadcast_to(np.asarray(precharge, dtype=np.float64), vessels.volume.shape)
    return Vessels(vessels.volume, AbsolutePressure(charge), vessels.acceptance, vessels.exponent)


def plain_drawdown(
    volume: npt.ArrayLike,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    ambient: AbsolutePressure,
    air_at: AbsolutePressure | None = None,
    residual: npt.ArrayLike = 0.0,
) -> FloatArray:
    """Water [m³] that an old plain tank, air over water without a membrane, gives in a cycle.

    Its air once filled all but a ``residual`` share of the tank at ``air_at``, so it works as a
    pre-charged tank of (1 − r)·V with that precharge, by Boyle's law. The two usual cases:

    * drained and closed, then filled: air at ambient, r = 0: Vd = V·Pa·(1/Pin − 1/Pout);
    * super-charged by an air pump so that r is water at cut-in: ``air_at`` = Pin,
      Vd = (1 − r)·V·(1 − Pin/Pout).

    Args:
        volume: total volume V [m³]; residual: water share r [-], 0 to below 1.
        cut_in, cut_out, ambient: absolute [Pa].
        air_at: absolute [Pa], at or above ambient; None: ambient. All broadcast together.

    Raises:
        ValueError: a residual or a pressure out of these ranges, or cut-out below cut-in.

    Source: the second case is reconstructed from UFC 3-420-01 (US Department of Defense), whose
    24 % it gives at 40/60 with 10 % residual; the first gives run times of one to two minutes over
    the chart of US EPA, "Private Water Systems", Pumping Installation, Storage, Amount.

    >>> psi = 6894.757293168361
    >>> air, low, high = (AbsolutePressure(np.array(p * psi)) for p in (14.7, 54.7, 74.7))
    >>> round(float(plain_drawdown(120, low, high, air)), 1)  # gal, as V is
    8.6
    >>> round(float(plain_drawdown(1.0, low, high, air, air_at=low, residual=0.1)), 2)
    0.24
    """
    _check_band(cut_in, cut_out)
    water_share = np.asarray(residual, dtype=np.float64)
    if not np.all((water_share >= 0.0) & (water_share < 1.0)):
        raise ValueError(tr("the residual share of water must be at least 0 and below 1"))
    air = ambient if air_at is None else air_at
    if not np.all(air >= ambient * (1.0 - 1e-9)):
        raise ValueError(
            tr(
                "a drained plain tank holds air of at least the surrounding pressure; "
                "for lost air give a greater residual share of water instead"
            )
        )
    return drawdown(
        air, cut_in, cut_out, (1.0 - water_share) * np.asarray(volume, dtype=np.float64)
    )


def equal_precharged_volume(
    plain_volume: npt.ArrayLike,
    precharge: AbsolutePressure,
    cut_in: AbsolutePressure,
    cut_out: AbsolutePressure,
    ambient: AbsolutePressure,
    air_at: AbsolutePressure | None = None,
    residual: npt.ArrayLike = 0.0,
) -> FloatArray:
    """Total volume [m³] of the pre-charged tank that gives as much as a plain tank in its place.

    Args:
        precharge: of the new tank, absolute [Pa].
        plain_volume, cut_in, cut_out, ambient, air_at, residual: as of :func:`plain_drawdown`.

    Returns:
        inf where the precharge is at or above cut-out.

    Raises:
        ValueError: as :func:`plain_drawdown`.

    >>> psi = 6894.757293168361
    >>> p = lambda gauge: AbsolutePressure(np.array((gauge + 14.7) * psi))
    >>> round(float(equal_precharged_volume(120, p(28), p(30), p(50), p(0))))  # gal for gal
    41
    """
    water = plain_drawdown(plain_volume, cut_in, cut_out, ambient, air_at, residual)
    return volume_for_drawdown(water, precharge, cut_in, cut_out)
