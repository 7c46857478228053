"""Jobs as people type them, with entries of every page: mostly sound, at times not to be used."""

from __future__ import annotations

import random
from typing import Any

from workbench.job.house_choices import DemandMethod
from workbench.job.job import Job
from workbench.job.pump_choices import MotorLimit, PumpEntry

CURVE = "0 gpm 280 ft; 5 gpm 262 ft; 10 gpm 225 ft; 15 gpm 150 ft"
STEEP = "0 gpm 330 ft; 6 gpm 300 ft; 12 gpm 215 ft; 18 gpm 60 ft"


def any_job(chance: random.Random) -> Job:
    """A job with entries of every page, against the catalogue of ``conftest``."""
    cut_in = chance.choice([20, 30, 40])
    entries: dict[str, Any] = {
        "cut_in": f"{cut_in} psi",
        "cut_out": f"{cut_in + chance.choice([15, 20, 20, 30])} psi",
        "altitude": chance.choice(["0 ft", "5280 ft", "600 m"]),
        "exponent": chance.choice(["1.0", "1.0", "1.2"]),
        "precharge_rule": chance.choice(["cut_in_less_2_psi", "cut_in", "cut_in_less_5_psi"]),
        "run_time_rule": chance.choice(["typed", "steps", "starts"]),
        "header_tanks": 2,
        "mixed_sets": True,
        "potable_required": chance.random() < 0.5,
        "motor_limit": chance.choice(list(MotorLimit)),
        "own_starts_day": "100 /d",
        "own_rest": "60 s",
        "motor_power": chance.choice([None, "1 hp", "1.1 kW", "0.5 hp"]),
        "steady_draw": chance.choice(["0 gpm", "3 gpm", "5 gpm", "9 L/min", "60 gpm"]),
        "first_tank": chance.choice(["", "", "usual", "large + large", "small + usual"]),
        "tol_gauge": chance.choice(["0 psi", "2 psi", "0.2 bar"]),
        "tol_flow": chance.choice(["0 %", "10 %"]),
        "seed": str(chance.choice([1, 2, 77])),
        **_pump(chance),
        **_house(chance),
        **_tanks(chance),
    }
    return Job().changed(**entries | _bands(entries))


def _bands(entries: dict[str, Any]) -> dict[str, Any]:
    """Drawn from the other entries, which stay what they were before these were added."""
    chance = random.Random(repr(entries))
    return {
        "bands": chance.choice(["20/40, 30/50, 40/60 psi", "50/70 psi", "2/3.5, 4/5.5 bar"]),
        "today_volume": chance.choice([None, None, "44 gal", "200 L"]),
        "today_acceptance": chance.choice([None, None, "15 gal"]),
        "today_rating": chance.choice([None, "75 psi", "100 psi"]),
        "relief_setting": chance.choice([None, "70 psi", "75 psi", "6.5 bar"]),
        "lowest_fixture": chance.choice([None, "25 ft", "-2 m"]),
        "highest_fixture": chance.choice([None, "30 ft"]),
        "flow_in_at": chance.choice([None, None, "25 psi"]),
    }


def _pump(chance: random.Random) -> dict[str, Any]:
    return {
        "pump_entry": chance.choice(list(PumpEntry)),
        "pump_flow": chance.choice(["6 gpm", "10 gpm", "55 L/min"]),
        "flow_at_cut_in": "12 gpm",
        "flow_at_cut_out": chance.choice(["7 gpm", "9 gpm", "12 gpm"]),
        "curve": chance.choice([CURVE, STEEP]),
        "bucket_volume": "5 gal",
        "bucket_time": chance.choice(["30 s", "45 s"]),
        "water_level": chance.choice(["40 ft", "15 m", "90 ft"]),
        "pipe_length": chance.choice([None, "120 ft"]),
        "pump_efficiency": chance.choice([None, "40 %"]),
        "well_yield": chance.choice([None, None, "3 gpm", "9 gpm"]),
    }


def _house(chance: random.Random) -> dict[str, Any]:
    watered = chance.random() < 0.3
    return {
        "people": chance.choice(["1", "4", "6"]),
        "bathrooms": chance.choice(["1", "1.5", "2", "5"]),
        "hose_bibs": chance.choice(["0", "2"]),
        "showers": chance.choice(["0", "1", "2"]),
        "daily_use": chance.choice([None, "250 gal/d", "900 L/d"]),
        "leak": chance.choice(["0 gal/d", "20 gal/d", "150 gal/d"]),
        "irrigation_flow": "4 gpm" if watered else None,
        "irrigation_time": "20 min" if watered or chance.random() < 0.1 else None,
        "second_tank": chance.choice(["", "large", "nobody's"] if watered else ["", "large"]),
        "demand_method": chance.choice(list(DemandMethod)),
        "peak_demand": chance.choice(["8 gpm", "14 gpm"]),
    }


def _tanks(chance: random.Random) -> dict[str, Any]:
    return {
        "header_set": chance.choice(
            [
                "44 gal 28 psi",
                "44 gal 28 psi; 20 gal 35 psi",
                "80 L 1.5 bar; 30 gal 10 psi; 5 gal 48 psi",
                "20 gal 90 psi",
            ]
        ),
        "plain_volume": chance.choice([None, "82 gal", "120 gal"]),
        "plain_residual": chance.choice([None, "10 %"]),
        "drive_set": chance.choice(["60 psi", "4 bar"]),
        "drive_wake": chance.choice(["45 psi", "52 psi", "60 psi"]),
        "drive_tank": chance.choice(["2 gal", "8 L", "20 gal"]),
        "drive_share": chance.choice(["65 %", "70 %", "80 %"]),
        "drive_ramp": chance.choice(["2 s", "5 s"]),
        "drive_step": chance.choice([None, "5 gpm"]),
    }
