"""Quasi-random points: spread over a cube more evenly than chance, and the same at every run.

Point i (1, 2, …) has in dimension j the coordinate

    frac( i · √prime_j + shift_j )

Sources: R. D. Richtmyer, "The Evaluation of Definite Integrals, and a Quasi-Monte-Carlo Method
Based on the Properties of Algebraic Numbers", Los Alamos Scientific Laboratory, LA-1342, 1951 (the
square roots of primes); H. Niederreiter, "Random Number Generation and Quasi-Monte Carlo Methods",
SIAM, 1992, chapter 3 (such sequences and their discrepancy); R. Cranley and T. N. L. Patterson,
"Randomization of Number Theoretic Methods for Multiple Integration", SIAM Journal on Numerical
Analysis 13, 1976, pp. 904–914 (the shift by one random point).
"""

from __future__ import annotations

from itertools import count as counting
from itertools import islice

import numpy as np

from workbench.physics.air import FloatArray
from workbench.words import tr

_TO_UNIT = 2.0**-53  # the 53 upper bits of a raw 64-bit number, as a number in [0, 1)


def points(count: int, dimensions: int, seed: int) -> FloatArray:
    """Return ``count`` points of [0, 1)^dimensions, shape (count, dimensions).

    The first points of a longer call are those of a shorter one. The seed moves all points by one
    pseudo-random shift; it is drawn from the raw numbers of PCG64, which NumPy promises to keep
    (those of its Generator methods may change), so equal seeds give equal points everywhere.

    Raises:
        ValueError: a count or number of dimensions below 1, or a negative seed.

    >>> points(2, 3, seed=1).shape
    (2, 3)
    >>> bool((points(5, 2, seed=7) == points(9, 2, seed=7)[:5]).all())
    True
    """
    if count < 1 or dimensions < 1:
        raise ValueError(tr("at least one point of at least one dimension must be asked for"))
    if seed < 0:
        raise ValueError(tr("the seed must be zero or above"))
    raw = np.random.PCG64(seed).random_raw(dimensions)
    shift = np.asarray(raw >> np.uint64(11), dtype=np.float64) * _TO_UNIT
    step = np.sqrt(np.array(_primes(dimensions), dtype=np.float64)) % 1.0
    index = np.arange(1, count + 1, dtype=np.float64)
    place = index[:, np.newaxis] * step + shift
    return np.asarray(place - np.floor(place))


def _primes(amount: int) -> list[int]:
    """The first primes."""
    prime = (n for n in counting(2) if all(n % k for k in range(2, int(n**0.5) + 1)))
    return list(islice(prime, amount))
