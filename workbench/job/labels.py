"""What a person calls an entry of the job, whatever kind of entry it is."""

from __future__ import annotations

from workbench.job.fields import fields
from workbench.job.options import option
from workbench.words import tr


def label_of(name: str) -> str:
    """The label of an entry; its name where it is no input."""
    others = {
        "title": tr("Job"),
        "bands": tr("Bands drawn"),
        "first_tank": tr("Tank"),
        "second_tank": tr("Second tank"),
    }
    if name in others:
        return others[name]
    field = fields().get(name)
    if field is not None:
        return field.label
    try:
        return option(name).label
    except KeyError:
        return name
