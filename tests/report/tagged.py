"""A PDF read by its tags alone, as a screen reader reads it: headings, tables with cells, pictures.

What has no tag (rules, running head, foot) is not in it. Written for what typst makes: two-byte
codes in ``Tj`` and ``TJ``, each font with a table of what its codes mean.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from pypdf import PageObject, PdfReader

_TOKEN = re.compile(
    rb"(?P<told><<|>>)|(?P<string>\()|<(?P<hex>[0-9A-Fa-f\s]+)>|/MCID (?P<mcid>\d+)"
    rb"|(?P<begin>BDC|BMC)|(?P<end>EMC)|/(?P<font>\w+) [\d.]+ Tf"
)
_PAREN = re.compile(rb"\\.|[()]", re.DOTALL)
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|\r\n|.)", re.DOTALL)
_ESCAPED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f", b"\n": b"", b"\r": b""}
_CHARS = re.compile(r"beginbfchar(.*?)endbfchar", re.DOTALL)
_PAIR = re.compile(r"<(\w+)>\s*<([\w\s]*)>")


@dataclass
class Node:
    """One element of the structure: its tag, its own text, what it is told by, what is in it.

    ``page`` is the number of the PDF's object of the page on which its text begins, 0 without text.
    """

    tag: str
    told: str = ""
    text: str = ""
    page: int = 0
    inside: list[Node] = field(default_factory=list)

    def every(self, *tags: str) -> Iterator[Node]:
        """All elements of these tags in reading order, itself among them."""
        if self.tag in tags:
            yield self
        for one in self.inside:
            yield from one.every(*tags)

    def words(self) -> str:
        """Its text and that of all in it."""
        return " ".join(" ".join([self.text, *(one.words() for one in self.inside)]).split())


@dataclass
class Table:
    """A table: its caption, and its rows of cells; the first is the head."""

    name: str
    rows: list[list[str]]


def read(reader: PdfReader) -> Node:
    """The whole structure."""
    texts = {page.indirect_reference.idnum: _texts(page) for page in reader.pages}  # type: ignore[union-attr]
    root = reader.trailer["/Root"]["/StructTreeRoot"]  # type: ignore[index]
    top = Node("Root")
    _fill(top, root["/K"], 0, texts)
    return top


def tables(top: Node) -> list[Table]:
    """Every table with its name, which stands in it or, where a page ends between, before it."""
    found, name = [], ""
    for one in top.every("Caption", "Table"):
        if one.tag == "Caption":
            name = one.words()
            continue
        name = " ".join(inner.words() for inner in one.every("Caption")) or name
        rows = [[cell.words() for cell in row.every("TH", "TD")] for row in one.every("TR")]
        found.append(Table(name, rows))
        name = ""
    return found


def _fill(node: Node, kids: Any, page: int, texts: dict[int, dict[int, str]]) -> None:
    kids = kids.get_object()
    for kid in kids if isinstance(kids, list) else [kids]:
        one = kid.get_object()
        if isinstance(one, int):
            node.text += texts[page].get(one, "")
            node.page = node.page or page
            continue
        there = one.raw_get("/Pg").idnum if "/Pg" in one else page
        if "/MCID" in one:
            node.text += texts[there].get(one["/MCID"], "")
            node.page = node.page or there
        elif "/S" in one:
            inner = Node(str(one["/S"]).strip("/"), str(one.get("/Alt", "")))
            node.inside.append(inner)
            if "/K" in one:
                _fill(inner, one["/K"], there, texts)


def _texts(page: PageObject) -> dict[int, str]:
    """What is drawn under each number of marked content."""
    content = page.get_contents()
    data = b"" if content is None else content.get_data()
    fonts = {
        name.strip("/").encode(): _meanings(font.get_object()["/ToUnicode"].get_object().get_data())
        for name, font in page["/Resources"].get("/Font", {}).items()  # type: ignore[attr-defined]
    }
    found: dict[int, str] = {}
    meaning: dict[bytes, str] = {}
    marks: list[int | None] = [None]  # a mark without a number belongs to the one around it
    number, place = None, 0
    is_told = False  # within what is told of a mark, such as what a picture shows
    while token := _TOKEN.search(data, place):
        place = token.end()
        match token.lastgroup:
            case "told":
                is_told = token["told"] == b"<<"
            case "mcid":
                number = int(token["mcid"])
            case "begin":
                marks.append(marks[-1] if number is None else number)
                number = None
            case "end":
                marks.pop()
            case "font":
                meaning = fonts[token["font"]]
            case _:
                assert is_told or len(marks) > 1, "text that is neither tagged nor an artifact"
                codes, place = _codes(token, data, place)
                mark = marks[-1]
                if mark is not None and not is_told:
                    text = "".join(meaning[codes[n : n + 2]] for n in range(0, len(codes), 2))
                    found[mark] = found.get(mark, "") + text
    return found


def _codes(token: re.Match[bytes], data: bytes, place: int) -> tuple[bytes, int]:
    """The bytes of a string, and where it ends."""
    if token["hex"]:
        return bytes.fromhex(token["hex"].decode()), place
    return _string(data, place)


def _string(data: bytes, start: int) -> tuple[bytes, int]:
    """The bytes of a string in brackets that begins at ``start``, and where it ends."""
    depth, place = 1, start
    while depth:
        found = _PAREN.search(data, place)
        assert found is not None
        place = found.end()
        depth += {b"(": 1, b")": -1}.get(found[0], 0)
    return _ESCAPE.sub(_plain, data[start : place - 1]), place


def _plain(escape: re.Match[bytes]) -> bytes:
    if escape[1].isdigit():
        return bytes([int(escape[1], 8)])
    return _ESCAPED.get(escape[1], escape[1])


@cache
def _meanings(table: bytes) -> dict[bytes, str]:
    """The letters of each code of a font."""
    text = table.decode("ascii")
    assert "beginbfrange" not in text
    return {
        bytes.fromhex(code): bytes.fromhex(letters.replace(" ", "")).decode("utf-16-be")
        for part in _CHARS.findall(text)
        for code, letters in _PAIR.findall(part)
    }
