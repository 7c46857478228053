"""Invented tanks for the benchmark: the same ones at every run, sound by every rule."""

from __future__ import annotations

import math
import random

HEADER = (
    "id,name,kind,total_volume_gal,acceptance_gal,diameter_in,height_in,connection,"
    "max_working_pressure_psi,factory_precharge_psi,highest_precharge_psi,empty_weight_lb,"
    "potable_listed,price_usd,in_stock,notes,source,date"
)
NUMBERS = (3, 4, 5, 6, 8, 9, 10, 11, 13)
"""The columns that hold numbers, counted from 0."""
KINDS = ("bladder vertical", "bladder horizontal", "diaphragm vertical", "diaphragm in-ground")


def catalog_text(count: int) -> str:
    """A catalogue file of ``count`` tanks."""
    dice = random.Random(f"{count} tanks")
    return "\n".join((HEADER, *(_row(number, dice) for number in range(count)), ""))


def _row(number: int, dice: random.Random) -> str:
    volume = dice.uniform(2, 119)
    diameter = (volume * 231 / (math.pi / 4 * 1.8)) ** (1 / 3) * dice.uniform(0.9, 1.1)
    height = volume * 231 / (math.pi / 4 * diameter**2) * 1.3
    highest = dice.choice((45, 50, 60, 70, ""))
    cells = (
        f"tank-{number}",
        f"Tank {number}",
        dice.choice(KINDS),
        f"{volume:.1f}",
        dice.choice((f"{volume * dice.uniform(0.4, 0.9):.1f}", "")),
        f"{diameter:.2f}",
        f"{height:.2f}",
        "1",
        dice.choice((75, 100, 125, 150)),
        dice.choice((18, 28, 38)),
        highest,
        f"{volume * 1.4 + 4:.0f}",
        dice.choice(("yes", "yes", "yes", "no", "")),
        dice.choice((f"{40 + volume * dice.uniform(8, 14):.2f}",) * 9 + ("",)),
        dice.choice(("yes", "yes", "no", "")),
        "",
        "invented for the benchmark",
        "2026-03-14",
    )
    return ",".join(map(str, cells))
