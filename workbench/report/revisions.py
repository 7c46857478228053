"""What was sent, as lines that can be held against each other: no figure is worked out twice.

A revision keeps every line of the customer's copy as label and value; what the firm keeps for
itself is never sent. It says nothing of the units it was written in, so the present estimate is
compared in the system whose lines come closest to it.
"""

from __future__ import annotations

import datetime
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from enum import Enum
from typing import Any

from workbench import __version__
from workbench.job.paper_choices import Copy
from workbench.job.prices import Revision
from workbench.report.blocks import PaperContent
from workbench.report.estimate import estimate_content
from workbench.report.fingerprint import fingerprint
from workbench.report.plain_text import content_lines
from workbench.study.estimate.offers import LETTERS
from workbench.study.evaluate import Results, evaluate
from workbench.units import Display, System
from workbench.words import tr

Line = tuple[str, str]
_NUMBERED = re.compile(r" \(\d+\)$")  # the second line of the same label


class Change(Enum):
    """What became of a line."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Difference:
    """One line that is not what it was; ``before`` or ``after`` is "" where there is none."""

    change: Change
    label: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Since:
    """The present inputs against what was last sent."""

    last: Revision
    same_inputs: bool
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class Issue:
    """A revision about to be sent: its paper, and the job's entries that change once it is."""

    revision: Revision
    content: PaperContent
    changes: Mapping[str, Any]


# --- sending ---


def issue(results: Results, display: Display, today: datetime.date) -> Issue:
    """The next revision, on the customer's copy; an estimate without a date gets today's."""
    job = results.job
    dated = job.estimate_date.strip() or today.isoformat()
    number = next_number(job.revisions)
    sent = _for_customer(results, dated)
    content = estimate_content(sent, display, number)
    revision = _kept(sent, content, number)
    changes = {"estimate_date": dated, "revisions": (*job.revisions, revision)}
    return Issue(revision, content, changes)


def revision_of(results: Results, display: Display, number: int) -> Revision:
    """The estimate of these results as it would be sent now, as revision ``number`` (from 1)."""
    sent = _for_customer(results, results.job.estimate_date)
    return _kept(sent, estimate_content(sent, display, number), number)


def next_number(revisions: Iterable[Revision]) -> int:
    """The number of the revision that comes after these."""
    return max((one.number for one in revisions), default=0) + 1


def _for_customer(results: Results, dated: str) -> Results:
    """The same on the customer's copy of that date."""
    job = replace(results.job, copy_for=Copy.CUSTOMER, estimate_date=dated)
    return results if job == results.job else evaluate(job, results.candidates)


def _kept(sent: Results, content: PaperContent, number: int) -> Revision:
    return Revision(
        number=number,
        date=sent.job.estimate_date,
        version=__version__,
        fingerprint=fingerprint(sent),
        lines=content_lines(content),
    )


# --- comparing ---


def since_last(results: Results, display: Display) -> Since | None:
    """What has changed since the last revision was sent; None: nothing was sent yet."""
    revisions = results.job.revisions
    if not revisions:
        return None
    last = max(revisions, key=_number)
    same = (last.fingerprint, last.version) == (fingerprint(results), __version__)
    return Since(last, same, () if same else against(last, results, display))


def against(sent: Revision, results: Results, display: Display) -> tuple[Difference, ...]:
    """What the present estimate says otherwise than ``sent``, whatever units are shown now."""
    systems = (display.system, *(one for one in System if one is not display.system))
    tried = []
    for system in systems:
        now = revision_of(results, replace(display, system=system), sent.number)
        tried.append(differences(sent, now))
        if not tried[-1]:
            break
    return min(tried, key=len)


def differences(before: Revision, after: Revision) -> tuple[Difference, ...]:
    """The lines that differ, in the order of ``after``; one that is gone stands where it stood.

    Lines belong together by their labels, in which an option counts by its letter: one that got
    another name is told once. Where a label stands several times, equal values belong together
    first, then the others in their order. That the number is another one is no difference.
    """
    return line_differences(_without_number(before), _without_number(after))


def line_differences(before: Iterable[Line], after: Iterable[Line]) -> tuple[Difference, ...]:
    """As :func:`differences`, of lines.

    >>> old = (("Tank", "44 gal"), ("Total", "$910.00"))
    >>> new = (("Tank", "62 gal"), ("Total", "$910.00"), ("Permit", "ours"))
    >>> [(one.change.value, one.label, one.before, one.after)
    ...  for one in line_differences(old, new)]
    [('changed', 'Tank', '44 gal', '62 gal'), ('added', 'Permit', '', 'ours')]
    """
    old, new = _by_key(before), _by_key(after)
    return (
        *_renamed(old, new),
        *(
            difference
            for key in _in_order(tuple(old), tuple(new))
            for difference in _of_key(old.get(key, []), new.get(key, []))
        ),
    )


def totals(revision: Revision) -> tuple[Line, ...]:
    """Each option of a revision with its price."""
    price = tr("Price, with tax")  # as the table of the options calls it
    parts = ((label.split(" / "), value) for label, value in revision.lines)
    return tuple((names[-1], value) for names, value in parts if price in names[1:-1])


def _number(revision: Revision) -> int:
    return revision.number


def _without_number(revision: Revision) -> Iterator[Line]:
    own = (tr("Revision"), tr("Revision {number}", number=revision.number))
    return (line for line in revision.lines if line != own)


def _key(label: str) -> str:
    """The label with options by their letters and without a number at its end."""
    parts = _NUMBERED.sub("", label).split(" / ")
    named = (_option(part) for part in parts)
    return " / ".join(one[0] if one else part for one, part in zip(named, parts, strict=True))


def _option(part: str) -> tuple[str, str] | None:
    """The letter and the name of an option, if a part of a label is one."""
    for letter in LETTERS:
        if part == tr("Option {letter}", letter=letter):
            return letter, part
        if part.startswith(f"{letter}: "):
            return letter, part.removeprefix(f"{letter}: ")
    return None


def _by_key(lines: Iterable[Line]) -> dict[str, list[Line]]:
    found: defaultdict[str, list[Line]] = defaultdict(list)
    for label, value in lines:
        found[_key(label)].append((label, value))
    return dict(found)


def _names(lines: Mapping[str, Iterable[Line]]) -> dict[str, str]:
    """The name of each option by its letter."""
    labels = (label for group in lines.values() for label, _ in group)
    found = (_option(part) for label in labels for part in label.split(" / "))
    return dict(one for one in found if one is not None)


def _renamed(
    old: Mapping[str, Iterable[Line]], new: Mapping[str, Iterable[Line]]
) -> Iterator[Difference]:
    were, are = _names(old), _names(new)
    for letter in sorted(were.keys() & are.keys()):
        if were[letter] != are[letter]:
            label = tr("Name of option {letter}", letter=letter)
            yield Difference(Change.CHANGED, label, were[letter], are[letter])


def _in_order(old: Sequence[str], new: Sequence[str]) -> Iterable[str]:
    """Every key once: those of ``new`` in their order, those gone after what they followed."""
    gone: defaultdict[str | None, list[str]] = defaultdict(list)
    kept, last = set(new), None
    for key in old:
        if key in kept:
            last = key
        else:
            gone[last].append(key)
    return (*gone[None], *(each for key in new for each in (key, *gone[key])))


def _of_key(old: Sequence[Line], new: Sequence[Line]) -> Iterator[Difference]:
    were, are = [value for _, value in old], [value for _, value in new]
    matcher = SequenceMatcher(a=were, b=are, autojunk=False)
    for what, start, end, first, last in matcher.get_opcodes():
        if what == "equal":
            continue
        for place in range(max(end - start, last - first)):
            before = old[start + place] if place < end - start else None
            after = new[first + place] if place < last - first else None
            yield _difference(before, after)


def _difference(before: Line | None, after: Line | None) -> Difference:
    if after is None:
        assert before is not None  # noqa: S101 - one of the two is there
        return Difference(Change.REMOVED, before[0], before[1], "")
    if before is None:
        return Difference(Change.ADDED, after[0], "", after[1])
    return Difference(Change.CHANGED, after[0], before[1], after[1])
