"""What an arrangement takes: how many of each known thing, and why, in words.

The list follows what estimates of this trade contain and where each part sits (common practice, no
source): one tank tee with gauge, switch, relief valve and drain; a check valve at the pump; a union
and an isolating valve toward the house, but never a valve between tank and switch or between tank
and relief valve. So of several tanks all but the first have a valve of their own: one tank always
stays open to switch and relief valve.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.job.paper_choices import Answer, ItemKind, WorkKind
from workbench.job.prices import PriceItem
from workbench.words import tr

if TYPE_CHECKING:
    from workbench.job.job import Job
    from workbench.study.ranking import Judged

TANK = "tank"
"""The code of the tanks themselves, whose prices are those of the catalogue."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """What decides how much is taken. ``tanks`` on the header, ``upright`` of them on the floor.

    ``band_moves``: the switch that is there is one for another band. ``permit``: who gets it.
    """

    work: WorkKind
    tanks: int
    upright: int
    band_moves: bool
    permit: Answer


@dataclass(frozen=True, slots=True)
class Counted:
    """How many, and why."""

    quantity: int
    reason: str


def arrangement(job: Job, one: Judged, *, band_moves: bool) -> Arrangement:
    """What a job does with the tanks that were chosen."""
    upright = sum(not (part.kind.horizontal or part.kind.in_ground) for part in one.parts)
    return Arrangement(job.work_kind, one.count, upright, band_moves, job.permit)


def counted(one: Arrangement) -> dict[str, Counted]:
    """The count of every known code, zero with its reason too, in the usual order of a list."""
    return {**_header(one), **_at_tanks(one), **_labour(one), **_fees(one)}


def _header(one: Arrangement) -> dict[str, Counted]:
    if one.work is WorkKind.SWAP:
        stays = Counted(0, tr("the one that is there stays"))
        switch = Counted(1, tr("the band moves")) if one.band_moves else stays
        relief = Counted(0, tr("the one that is there stays; check what it opens at"))
        return {
            **dict.fromkeys(("tee", "gauge"), stays),
            "switch": switch,
            "relief": relief,
            **dict.fromkeys(("drain", "check_valve", "union", "isolating_valve"), stays),
        }
    new = one.work is WorkKind.NEW_SYSTEM
    plain = one.work is WorkKind.PLAIN_SWAP
    if new:
        check = Counted(1, tr("one, at the pump"))
    elif plain:
        check = Counted(0, tr("only where the old one was drilled for the air: by hand"))
    else:
        check = Counted(0, tr("the one at the pump stays"))
    return {
        "tee": Counted(1, tr("one for the header, of the larger of inlet and outlet")),
        "gauge": Counted(1, tr("at the tee, the band about the middle of its scale")),
        "switch": Counted(1, tr("at the tee, for the band")),
        "relief": Counted(1, tr("at the tee, no valve between it and the tank")),
        "drain": Counted(1, tr("at the lowest point")),
        "check_valve": check,
        "union": Counted(1, tr("toward the house, to take the header out again")),
        "isolating_valve": Counted(1, tr("toward the house, never between tank and switch")),
    }


def _at_tanks(one: Arrangement) -> dict[str, Counted]:
    more = max(one.tanks - 1, 0)
    plugs = (
        Counted(1, tr("the ports of the air control are closed"))
        if one.work is WorkKind.PLAIN_SWAP
        else Counted(0, tr("only where a plain tank goes"))
    )
    return {
        "header_set": Counted(more, tr("at each tank beyond the first")),
        "service_valve": Counted(more, tr(
            "at each tank beyond the first, so that one always stays open to switch and relief")),
        "plugs": plugs,
        "pipe": Counted(0, tr("by hand: the length is measured on site")),
        "pad": Counted(one.upright, tr("at each upright tank on the floor")),
    }  # fmt: skip


def _labour(one: Arrangement) -> dict[str, Counted]:
    new, plain = one.work is WorkKind.NEW_SYSTEM, one.work is WorkKind.PLAIN_SWAP
    header = one.work is WorkKind.SWAP_HEADER or plain
    old = Counted(0, tr("there is no old tank")) if new else Counted(1, tr("the old tank"))
    return {
        "labour_tank": Counted(one.tanks, tr("at each tank")),
        "labour_header": Counted(int(header), tr(
            "once, where the header parts of an old system are renewed")),
        "labour_system": Counted(int(new), tr("once, in a new system")),
        "labour_switch": Counted(1, tr("once, whatever is done")),
        "labour_plain": Counted(int(plain), tr("once, where a plain tank goes")),
        "removal": old,
        "disposal": old,
    }  # fmt: skip


def _fees(one: Arrangement) -> dict[str, Counted]:
    permits = {
        Answer.OPEN: Counted(1, tr("whether one is needed is not answered yet")),
        Answer.NOT_NEEDED: Counted(0, tr("answered: not needed here")),
        Answer.FIRM: Counted(1, tr("answered: needed, the firm gets it")),
        Answer.CUSTOMER: Counted(0, tr("answered: needed, the customer gets it")),
    }
    return {
        "disinfection": Counted(1, tr("the water side is opened")),
        "sample": Counted(1, tr("the water side is opened")),
        "permit": permits[one.permit],
        "travel": Counted(1, tr("one visit")),
    }


_PART, _LABOUR, _FEE = ItemKind.PART, ItemKind.LABOUR, ItemKind.FEE


def usual_items() -> dict[str, PriceItem]:
    """Every known code as it stands in a new price list, without a price."""
    each, job, tank = tr("each"), tr("job"), tr("tank")
    rows = (
        ("tee", tr("Tank tee with ports"), each, _PART),
        ("gauge", tr("Pressure gauge, 0 to 100 psi"), each, _PART),
        ("switch", tr("Pressure switch"), each, _PART),
        ("relief", tr("Relief valve"), each, _PART),
        ("drain", tr("Drain valve at the lowest point"), each, _PART),
        ("check_valve", tr("Check valve"), each, _PART),
        ("union", tr("Union"), each, _PART),
        ("isolating_valve", tr("Isolating valve toward the house"), each, _PART),
        ("header_set", tr("Header for one more tank"), each, _PART),
        ("service_valve", tr("Service valve at a tank"), each, _PART),
        ("plugs", tr("Plugs for the ports of the air control"), tr("set"), _PART),
        ("pipe", tr("Pipe and fittings, allowance"), tr("ft"), _PART),
        ("pad", tr("Level pad"), each, _PART),
        ("labour_tank", tr("Set, connect and charge the tank"), tank, _LABOUR),
        ("labour_header", tr("Renew the header parts"), job, _LABOUR),
        ("labour_system", tr("Build the line from pump to house"), job, _LABOUR),
        ("labour_switch", tr("Set the switch, watch a whole cycle"), job, _LABOUR),
        ("labour_plain", tr("Take out the air control and its bleeder"), job, _LABOUR),
        ("removal", tr("Drain and carry out the old tank"), tank, _LABOUR),
        ("disposal", tr("Disposal of the old tank"), tank, _FEE),
        ("disinfection", tr("Disinfection of what was opened"), job, _FEE),
        ("sample", tr("Water sample, laboratory"), each, _FEE),
        ("permit", tr("Permit"), each, _FEE),
        ("travel", tr("Travel"), tr("visit"), _FEE),
    )
    return {
        code: PriceItem(code=code, name=name, unit=unit, kind=kind, taxed=kind is _PART)
        for code, name, unit, kind in rows
    }
