"""Showing a job in other units is no edit: its entries, its file and its results stay."""

from __future__ import annotations

from workbench.job import document
from workbench.job.fields import fields
from workbench.job.job import Job
from workbench.study.evaluate import evaluate
from workbench.units import Display, Kind, Quantity, System, parse


def mixed_job() -> Job:
    return Job().changed(
        pump_flow="37.9 L/min",
        cut_in="2,07 bar",
        cut_out="50 psi",
        altitude="1609 m",
        reading_temperature="21,5 °C",
        door_width="28.125 in",
        headroom="1.95 m",
        pressure_margin="103.4 kPa",
        pump_entry="two_flows",
        flow_at_cut_in="2.61 m³/h",
        flow_at_cut_out="8.5 imp gpm",
        water_level="80,5 ft",
        pipe_length="31.2 m",
        fittings="12.5 %",
        motor_power="560 W",
        leak="30 imp gal/d",
        daily_use="1.1 m³/d",
        tol_temperature="4 K",
        bucket_time="0.45 min",
        own_starts_day="150 /d",
    )


def test_switching_units_100_times_leaves_the_job_byte_identical() -> None:
    job = mixed_job()
    before = document.to_bytes(job)
    shown = set()
    for turn in range(100):
        system = (System.METRIC, System.US)[turn % 2]
        display = Display(system, ".,"[turn // 2 % 2])
        texts = []
        for name, field in fields().items():
            entry = getattr(job, name)
            if isinstance(entry, Quantity):
                assert isinstance(field.kind, Kind)
                text = display.typed(entry, field.kind)
                texts.append(text)
                if text == str(entry).replace(".", display.mark):
                    # Leaving a field enters what it shows: that must change nothing.
                    job = job.changed(**{name: parse(text, field.kind, display.mark)})
        shown.add(tuple(texts))
    assert document.to_bytes(job) == before
    assert len(shown) == 4  # two systems with two decimal marks, each the same every time


def test_a_result_does_not_know_in_which_units_it_is_shown() -> None:
    results = evaluate(mixed_job(), None)
    again = evaluate(document.from_bytes(document.to_bytes(mixed_job()), "a"), None)
    assert results.setting == again.setting
    assert results.sizing == again.sizing
    assert results.precharge == again.precharge


def test_the_same_quantity_typed_in_another_unit_comes_to_the_same() -> None:
    in_psi = evaluate(Job(), None).sizing
    in_kpa = evaluate(
        Job().changed(
            cut_in="206.84271879504 kPa", cut_out="344.737864658 kPa", pump_flow="600 gph"
        ),
        None,
    ).sizing
    assert in_psi is not None
    assert in_kpa is not None
    assert abs(in_kpa.total_volume / in_psi.total_volume - 1) < 1e-9
