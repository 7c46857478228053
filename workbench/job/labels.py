"""What a person calls an entry of the job, whatever kind of entry it is."""

from __future__ import annotations

from workbench.job.fields import fields
from workbench.job.options import option
from workbench.job.texts import texts
from workbench.words import tr


def label_of(name: str) -> str:
    """The label of an entry; its name where it is no input."""
    others = {
        "title": tr("Job"),
        "bands": tr("Bands drawn"),
        "first_tank": tr("Tank"),
        "second_tank": tr("Second tank"),
        **offer_labels(),
        "prices": tr("Price list"),
        "counts": tr("Quantities"),
        "firm_logo": tr("Logo"),
        "revisions": tr("Revisions"),
    }
    if name in others:
        return others[name]
    if name in texts():
        return texts()[name].label
    field = fields().get(name)
    if field is not None:
        return field.label
    try:
        known = option(name)
    except KeyError:
        return name
    return known.label or known.tick


def offer_labels() -> dict[str, str]:
    """The tank and the band of each option of an estimate."""
    letters = {"a": "A", "b": "B", "c": "C"}
    return {
        f"offer_{letter}_{part}": label
        for letter, sign in letters.items()
        for part, label in (
            ("tank", tr("Tank, option {letter}", letter=sign)),
            ("band", tr("Band, option {letter}", letter=sign)),
        )
    }
