"""Every kind of paper, in every circumstance that changes its pages, is whole and well made.

The estimates are those of an orthogonal array: of any two circumstances each pair of states comes.
"""

from __future__ import annotations

import base64
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader

from tests.report import samples, tagged
from tests.report.estimate_build import SI, US, content, of
from tests.report.reading import lines_per_page, packed, reader
from tests.report.tagged import Node
from tests.report.test_still import still
from tests.study.build import results, tank
from workbench.job.job import Job
from workbench.report.blocks import PaperContent, Picture, Table
from workbench.report.card import card_content
from workbench.report.chart import chart_content
from workbench.report.exercises import sheet_content
from workbench.report.paper_data import texts_of
from workbench.report.still import still_content
from workbench.report.typeset import pdf
from workbench.study.card import LONGEST
from workbench.study.evaluate import Results
from workbench.units import Display

FEWEST_LINES = 3
FULL = {"estimate": 28, "chart": 20, "sheet": 14, "still": 10}
"""Lines that each page but the last holds at least: about half of what it can."""
WIDE = "Weighty words wrapped widely over the width of this paper, and no shorter. "
NO_B_NOR_C: dict[str, Any] = {
    f"offer_{letter}_{part}": None if part == "band" else ""
    for letter in "bc"
    for part in ("tank", "band", "label")
}
SWITCHES = [name for name in Job.entries() if name.startswith("with_")]
CIRCUMSTANCES: dict[str, dict[str, Any]] = {
    "bare": dict.fromkeys(SWITCHES, False),
    "working": {"with_working": True},
    "office": {"copy_for": "office", "tank_price": "cost"},
    "a4": {"paper": "a4"},
    "long": dict.fromkeys(
        ("problem", "scope", "found_note", "clause_payment", "clause_warranty", "customer_address"),
        WIDE * 20,
    ),
    "one option": NO_B_NOR_C,
    "logo": {"firm_logo": base64.b64encode(samples.logo()).decode()},
    "comma": {"money_form": "de_DE", "rounding": "to_5", "tax": "8.875 %"},
    "nobody": {"firm_name": "", "customer_name": "", "estimate_date": "", "estimate_number": ""},
    "elsewhere": {"reading_temperature": "85 °F", "reading_altitude": "2500 ft"},
    "si": {},
}
_ROW = "11011100010"
PLACES = range(len(_ROW))
ARRAY = [[_ROW[(place + turn) % len(_ROW)] == "1" for place in PLACES] for turn in PLACES]
ARRAY.append([False] * len(_ROW))
"""Twelve runs for eleven circumstances: R. L. Plackett and J. P. Burman, “The design of optimum
multifactorial experiments”, Biometrika 33, 1946."""

Makes = Callable[[], PaperContent]


def estimates() -> Iterator[tuple[str, Makes]]:
    for row in ARRAY:
        names = [name for name, is_so in zip(CIRCUMSTANCES, row, strict=True) if is_so]
        yield f"estimate: {', '.join(names) or 'plain'}", partial(_estimate, names)


def _estimate(names: list[str]) -> PaperContent:
    entries = {key: value for name in names for key, value in CIRCUMSTANCES[name].items()}
    return content(SI if "si" in names else US, **entries)


LONG_CARD = {name: (WIDE * 9)[:most].strip() for name, most in LONGEST.items()}
MANY_BANDS = {"bands": "20/40, 25/45, 30/50, 35/55, 40/60, 45/65, 50/70 psi"}


def others() -> Iterator[tuple[str, Makes]]:
    for sheet in ("us_letter", "a4"):
        for system, display in (("us", US), ("si", SI)):
            for name, more in (("plain", {}), ("long", LONG_CARD)):
                entries = {"paper": sheet, "first_tank": "birch-60-v", **more}
                yield f"card: {sheet}, {system}, {name}", _made_of(card_content, entries, display)
            entries = {"paper": sheet, **(MANY_BANDS if system == "si" else {})}
            yield f"chart: {sheet}, {system}", _made_of(chart_content, entries, display)
            for reader_of_it in ("class", "trainer"):
                entries = {"paper": sheet, "sheet_for": reader_of_it, "exercise_seed": "23"}
                yield (
                    f"sheet: {sheet}, {system}, {reader_of_it}",
                    _made_of(sheet_content, entries, display),
                )
            yield f"still: {sheet}, {system}", _made_of(_still, {"paper": sheet}, display)


def _still(results: Results, display: Display) -> PaperContent:
    return still_content(results, still(results), display)


def _made_of(make: Any, entries: dict[str, Any], display: Any) -> Makes:
    def paper() -> PaperContent:
        made = make(of(**entries), display)
        assert isinstance(made, PaperContent), made
        return made

    return paper


PAPERS = dict([*estimates(), *others()])


@dataclass
class Made:
    content: PaperContent
    data: bytes
    read: PdfReader
    top: Node


@cache
def made(name: str) -> Made:
    paper = PAPERS[name]()
    data = pdf(paper)
    read = reader(data)
    return Made(paper, data, read, tagged.read(read))


def test_of_any_two_circumstances_every_pair_of_states_comes() -> None:
    for one in PLACES:
        for other in range(one):
            assert len({(row[one], row[other]) for row in ARRAY}) == 4


@pytest.mark.parametrize("name", PAPERS)
def test_a_paper_is_tagged_embedded_whole_and_the_same_every_time(name: str) -> None:
    one = made(name)
    check_claims(one)
    check_fonts(one.read)
    check_pictures(one)
    check_texts(one)
    check_pages(one)
    assert pdf(PAPERS[name]()) == one.data


# --- PDF/UA-1 (ISO 14289-1) ---


def check_claims(one: Made) -> None:
    """It says that it is tagged and by which standard, in which language, and shows its title."""
    root: Any = one.read.trailer["/Root"]
    assert bool(root["/MarkInfo"]["/Marked"])
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == one.content.language
    assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
    told = ET.fromstring(root["/Metadata"].get_object().get_data())  # noqa: S314 - our own
    assert told.findtext(".//{http://www.aiim.org/pdfua/ns/id/}part") == "1"
    titles = [
        text.text
        for title in told.iter("{http://purl.org/dc/elements/1.1/}title")
        for text in title.iter("{http://www.w3.org/1999/02/22-rdf-syntax-ns#}li")
    ]
    assert titles == [one.content.title]
    assert one.read.metadata is not None
    assert one.read.metadata.title == one.content.title


def check_fonts(read: PdfReader) -> None:
    """Every font anywhere in it is one of ours and embedded."""
    objects = [read.get_object(number) for number in range(1, int(read.trailer["/Size"]))]  # type: ignore[call-overload]
    dicts: list[Any] = [one for one in objects if isinstance(one, dict)]
    fonts = [one for one in dicts if one.get("/Type") == "/Font"]
    assert fonts
    for font in fonts:
        name = str(font["/BaseFont"])
        assert re.fullmatch(r"/[A-Z]{6}\+(NotoSans-(Regular|Bold)|DejaVuSans)(-Identity-H)?", name)
        if font["/Subtype"] == "/Type0":
            assert "/ToUnicode" in font
        else:
            described = font["/FontDescriptor"].get_object()
            assert "/FontFile2" in described or "/FontFile3" in described


def check_pictures(one: Made) -> None:
    """Every picture is a figure that is told in words."""
    blocks = [block for section in one.content.sections for block in section.blocks]
    expected = [packed(block.told) for block in blocks if isinstance(block, Picture)]
    if one.content.head.logo:
        expected.append(packed(f"Logo of {one.content.head.name}".strip()))
    told = [packed(figure.told) for figure in one.top.every("Figure")]
    assert sorted(told) == sorted(expected)
    assert all(told)


def check_texts(one: Made) -> None:
    """All that the content says is tagged; headings and tables are what they look like."""
    text = packed(one.top.words())
    blocks = [block for section in one.content.sections for block in section.blocks]
    told = {block.told for block in blocks if isinstance(block, Picture)}
    missing = [
        line
        for _, words in texts_of(one.content)
        for line in words.split("\n")
        if words not in told and words != one.content.foot and packed(line) not in text
    ]
    assert missing == []
    headings = [packed(heading.words()) for heading in one.top.every("H1")]
    assert headings == [packed(part.heading) for part in one.content.sections if part.heading]
    shown = [block for block in blocks if isinstance(block, Table)]
    for table, found in zip(shown, tagged.tables(one.top), strict=True):
        rows = [[packed(cell) for cell in row] for row in found.rows]
        assert rows == [[packed(cell) for cell in row] for row in (table.columns, *table.rows)]
        assert packed(found.name) in ("", packed(table.name))


# --- pages ---


def check_pages(one: Made) -> None:
    lines = lines_per_page(one.data)
    kind = one.content.kind
    assert min(lines) >= FEWEST_LINES
    if kind == "card":
        assert len(lines) == 1
        return
    assert min(lines[:-1], default=FULL[kind]) >= FULL[kind]
    assert len(lines) <= (3 if kind == "chart" else 12)
    check_headings(one.top)


def check_headings(top: Node) -> None:
    """No heading ends a page."""
    parts = [part for part in _leaves(top, is_heading=False) if part[1]]
    for (is_heading, page), (_, following) in pairwise(parts):
        assert not is_heading or page == following


def _leaves(node: Node, *, is_heading: bool) -> Iterator[tuple[bool, int]]:
    """Whether each text is a heading, and the page on which it begins, in reading order."""
    is_heading = is_heading or node.tag in ("H1", "Caption")
    yield is_heading, node.page
    for one in node.inside:
        yield from _leaves(one, is_heading=is_heading)


def test_pages_are_as_many_as_the_matter_asks() -> None:
    def pages(paper: PaperContent | str) -> int:
        assert isinstance(paper, PaperContent)
        return len(reader(pdf(paper)).pages)

    plain, bare = pages(made("estimate: plain").content), CIRCUMSTANCES["bare"]
    assert pages(content(**bare)) <= 2
    assert pages(content(**NO_B_NOR_C)) <= plain <= 5
    assert plain + 1 <= pages(content(with_working=True)) <= plain + 4
    assert plain + 1 <= pages(content(**CIRCUMSTANCES["long"])) <= plain + 4
    assert pages(chart_content(results(*(tank(f"Invented {n}") for n in range(9))), US)) <= 2
