"""A tolerance study of 40 tanks in 100,000 cases, against the same sums in a plain Python loop.

The loop is run on every 500th case and scaled up. It spends on a falling flow what a careful person
would: Gauss and Legendre's rule with eight points, the flow of two measured points written out.
"""

from __future__ import annotations

import math

import numpy as np
from timing import Row, compare, take_turns, timed

from workbench.physics.pump import ConstantFlow, Delivery, TwoFlows
from workbench.physics.sampling import points
from workbench.study.certainty.tolerance import NAMES, Basis, Study, Tolerances, study
from workbench.study.setting import Setting
from workbench.units.kinds import FLOW, PRESSURE, VOLUME

CASES, TANKS, PART_OF = 100_000, 40, 500
MOST_MILLISECONDS, MOST_RATIO = 1000.0, 0.01
PART = f"Tolerance study, {CASES:,} cases × {TANKS} tanks"
PSI, GPM, GAL = (kind.units[unit].factor for kind, unit in
                 ((PRESSURE, "psi"), (FLOW, "gpm"), (VOLUME, "gal")))  # fmt: skip
SETTING = Setting(30 * PSI, 50 * PSI, 28 * PSI, 101_325.0, 1.0)
HALF = (1 * PSI, 1.5 * PSI, 2 * PSI, 1 * PSI, 10.0, 0.1, 0.0, 0.0)
KELVIN, REQUIRED = 285.0, 60.0
FALLING = TwoFlows.of(30 * PSI, 12 * GPM, 50 * PSI, 8 * GPM)
DELIVERIES: dict[str, Delivery] = {"one flow": ConstantFlow(10 * GPM), "falling flow": FALLING}
ABSCISSAS, WEIGHTS = (list(map(float, side)) for side in np.polynomial.legendre.leggauss(8))


def measure(rounds: int) -> list[Row]:
    volume = np.linspace(20.0, 119.0, TANKS) * GAL
    # every membrane limits some cases, each at a share of its own, so that nothing can be shared
    limited = volume * np.linspace(0.22, 0.34, TANKS)
    return [
        row
        for flow, delivery in DELIVERIES.items()
        for limit, acceptance in (("", np.full(TANKS, np.inf)), (", membranes limit", limited))
        for row in _measure(flow + limit, delivery, volume, acceptance, rounds)
    ]


def _measure(
    what: str, delivery: Delivery, volume: np.ndarray, acceptance: np.ndarray, rounds: int
) -> list[Row]:
    basis = Basis(SETTING, delivery, KELVIN, REQUIRED)
    deviations = (2.0 * points(CASES, len(NAMES), 1) - 1.0)[::PART_OF] * HALF
    cases = deviations.tolist()
    tanks = list(zip(volume.tolist(), acceptance.tolist(), strict=True))
    falls = not delivery.is_constant

    def ours() -> Study | None:
        return study(basis, Tolerances(*HALF), volume, acceptance, cases=CASES)

    def loop() -> list[float]:
        met = [0] * len(tanks)
        for case in cases:
            for place, (total, most) in enumerate(tanks):
                met[place] += plain_run(case, total, most, falls=falls) >= REQUIRED
        return [count / len(cases) for count in met]

    found = ours()
    assert found is not None
    assert np.allclose(found.share, loop(), atol=0.1), "the two do not work out the same"
    times = take_turns({"ours": timed(ours), "loop": timed(loop)}, rounds)
    whole = [time * PART_OF for time in times["loop"]]
    series = times["ours"], whole
    return [
        compare(PART, what, "ms", *series, target=MOST_RATIO),
        compare(PART, f"{what}, time", "ms", *series, target=MOST_MILLISECONDS, of_ours=True),
    ]


def plain_run(case: list[float], volume: float, acceptance: float, *, falls: bool) -> float:
    """The run [s] of one case and tank as anyone would write it; the exponent is 1."""
    by_gauge, by_in, by_out, by_charge, by_warmth, by_flow, _, _ = case
    low = SETTING.cut_in + by_gauge + by_in + SETTING.ambient
    high = SETTING.cut_out + by_gauge + by_out + SETTING.ambient
    charge = (SETTING.precharge + by_charge + SETTING.ambient) * (KELVIN + by_warmth) / KELVIN
    start = min(max(volume * (1.0 - charge / low), 0.0), acceptance)
    stop = min(max(volume * (1.0 - charge / high), 0.0), acceptance)
    if not falls:
        return (stop - start) / (10 * GPM * (1.0 + by_flow))
    middle, half, seconds = (stop + start) / 2.0, (stop - start) / 2.0, 0.0
    for abscissa, weight in zip(ABSCISSAS, WEIGHTS, strict=True):
        air = 1.0 - (middle + half * abscissa) / volume
        pressure = charge / air - SETTING.ambient
        seconds += weight / math.sqrt((FALLING.shut_off - pressure) / FALLING.k)
    return seconds * half / (1.0 + by_flow)
