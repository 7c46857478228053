"""A short name of all inputs, by which a paper can be told from one of other inputs."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator

from workbench.catalog.tank import Tank
from workbench.study.chosen import chosen
from workbench.study.evaluate import Results

_DIGITS = 12
_NO_INPUTS = ("demo", "catalog", "revisions", "copy_for")


def fingerprint(results: Results) -> str:
    """Twelve hexadecimal digits over every entry of the job and the rows of the tanks it uses.

    What was sent before is no input, nor for whom a copy is: the office finds its copy of a
    customer's estimate by the same digits. Of the catalogue only the tanks of the options and the
    two of the pages count, so a price that changes elsewhere leaves a paper what it was.
    """
    from workbench.job.checking import plain

    content = {name: value for name, value in plain(results.job).items() if name not in _NO_INPUTS}
    rows = {tank.id: tank.model_dump(mode="json") for tank in _used(results)}
    text = json.dumps([content, rows], ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]


def _used(results: Results) -> Iterator[Tank]:
    yield from results.estimate.tanks
    for field in ("first_tank", "second_tank"):
        one, _findings = chosen(results, field)
        if one is not None:
            yield from one.parts
