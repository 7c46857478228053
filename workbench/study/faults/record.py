"""A fault and its readings as plain data: US customary numbers, with the unit beside each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbench.study.evaluate import Results
from workbench.study.faults.apart import Other
from workbench.study.faults.readings import Reading, Taken
from workbench.study.faults.remedies import cautions, remedy
from workbench.study.faults.sizes import size_in_words
from workbench.study.faults.symptoms import symptoms
from workbench.study.faults.view import ReadingRow
from workbench.study.findings import Finding
from workbench.study.record import finding_record, us
from workbench.units import Display

_US = Display()


def faults_record(results: Results, findings: Sequence[Finding] = ()) -> dict[str, Any]:
    """All that the page shows of the chosen fault.

    Args:
        results: of a job.
        findings: those of the results, told before the views' own.

    Raises:
        ValueError: no system can be made of the job, or none with this fault.
    """
    view = results.faults
    if view.healthy is None or view.faulty is None or view.tap is None:
        raise ValueError("there is no system with this fault")
    told = symptoms(view.healthy, view.faulty, view.tap, _US)
    mends = remedy(view.fault, view.healthy, _US)
    return {
        "tank": view.healthy.tank_name,
        "fault": view.fault.value,
        "degree": view.degree.value,
        "size": size_in_words(view.healthy, view.fault, view.degree, _US),
        "gauge": told.gauge,
        "ear": told.ear,
        "tap": told.tap,
        "readings": [_row_record(row) for row in view.rows],
        "others": [_other_record(one) for one in view.others],
        "remedy": mends.text,
        "cautions": [one.text for one in cautions()],
        "findings": [
            finding_record(one) for one in (*findings, *results.live.findings, *view.findings)
        ],
    }


def _row_record(row: ReadingRow) -> dict[str, Any]:
    reading = row.reading
    return {
        "reading": reading.key,
        "name": reading.name,
        "tools": [tool.value for tool in reading.tools],
        "minutes": reading.minutes,
        "unit": "" if reading.kind is None else _US.symbol(reading.kind),
        "sound": _value(row.healthy, reading),
        "sound_tolerance": _tolerance(row.healthy, reading),
        "faulty": _value(row.faulty, reading),
        "faulty_tolerance": _tolerance(row.faulty, reading),
        "why_none": row.faulty.why or row.healthy.why,
        "differs": row.differs,
    }


def _value(taken: Taken, reading: Reading) -> float | bool | None:
    if taken.value is None or isinstance(taken.value, bool) or reading.kind is None:
        return taken.value
    return us(taken.value, reading.kind)


def _tolerance(taken: Taken, reading: Reading) -> float | None:
    if taken.value is None or isinstance(taken.value, bool) or reading.kind is None:
        return None
    return us(taken.tolerance, reading.kind)


def _other_record(one: Other) -> dict[str, Any]:
    return {
        "fault": one.fault.value,
        "same_kind": one.same_kind,
        "alike": one.is_alike,
        "told_apart_by": [reading.key for reading in one.by],
        "minutes": one.minutes,
    }
