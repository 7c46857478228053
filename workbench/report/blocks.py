"""What a paper says, apart from how it looks: sections of blocks, all plain text and numbers.

The same content becomes pages (:mod:`workbench.report.typeset`), a plain text for e-mail
(:mod:`workbench.report.plain_text`) and the lines that a revision keeps. Every text here is
finished: translated, with its units, never markup.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph; each line break starts a new line. ``tone`` is "", "strong" or "muted"."""

    text: str
    tone: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warn:
    """A caution that must be seen: a word for its grade, then what it says."""

    word: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What each is, beside its value."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under column names; the first column stands at the left, the others at the right.

    ``strong`` are the indices of rows in heavier type, such as totals. ``name`` says to a screen
    reader what the table holds.
    """

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    strong: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing as SVG; ``told`` says in words what it shows, for who cannot see it."""

    svg: str
    told: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticks:
    """Steps in their order, or choices (which bear no number), each with an empty box."""

    steps: tuple[str, ...]
    numbered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Large:
    """One figure that must be read from afar: what it is, its value, and a remark beneath."""

    name: str
    value: str
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """Lines to be filled in by hand, each with what belongs on it."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """How a figure was worked out."""

    title: str
    formula: str
    numbers: str
    source: str


Block = Words | Warn | Facts | Table | Picture | Ticks | Large | Sign | Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Blocks under a heading; ``key`` names it for templates and never changes."""

    key: str
    heading: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Letterhead:
    """Who hands the paper over. ``logo`` is a picture's bytes, or empty; ``logo_type`` "png", "jpg"
    or "svg"."""

    name: str = ""
    lines: tuple[str, ...] = ()
    logo: bytes = b""
    logo_type: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperContent:
    """One paper.

    ``kind`` names the template ("estimate", "card", "chart"); ``sheet`` is "us-letter" or "a4";
    ``language`` an ISO 639 code; ``date`` ISO 8601 or "". ``facts`` stand by the title, and beside
    them ``addressed``: for whom and for what place the paper is.
    ``foot`` is at the foot of every page, before the page's number.
    """

    kind: str
    title: str
    language: str
    sheet: str
    date: str
    head: Letterhead
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    foot: str
    addressed: tuple[tuple[str, str], ...] = ()
