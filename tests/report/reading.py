"""A PDF read back: its texts, its structure, its lines."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

from pypdf import PdfReader

POINTS_PER_MM = 72 / 25.4


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def packed(text: str) -> str:
    """Without white space and the places where a long word may break."""
    return re.sub(r"[\s\u200b]+", "", text)


def text_of(pdf: bytes) -> str:
    """All pages, packed."""
    return packed("".join(page.extract_text() for page in reader(pdf).pages))


def tags(pdf: bytes) -> Counter[str]:
    """How often each kind of structure stands in the PDF."""
    return Counter(str(one["/S"]).strip("/") for one in _structure(pdf))


def alternatives(pdf: bytes) -> list[str]:
    """What is told of each picture."""
    return [str(one["/Alt"]) for one in _structure(pdf) if "/Alt" in one]


def _structure(pdf: bytes) -> Iterator[Any]:
    waiting = [reader(pdf).trailer["/Root"]["/StructTreeRoot"]]  # type: ignore[index]
    while waiting:
        one = waiting.pop().get_object()
        if isinstance(one, list):
            waiting += one
        elif isinstance(one, dict):
            if "/S" in one:
                yield one
            if "/K" in one:
                waiting.append(one["/K"])


def fonts(pdf: bytes) -> dict[str, bool]:
    """The name of each font, without the mark of a subset, and whether it is embedded."""
    found = {}
    for page in reader(pdf).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            whole = font.get_object()
            name = str(whole["/BaseFont"]).strip("/").split("+")[-1]
            below = whole.get("/DescendantFonts", [whole])[0].get_object()
            described = below["/FontDescriptor"].get_object()
            found[name] = any(f"/FontFile{n}" in described for n in ("", "2", "3"))
    return found


def lines_per_page(pdf: bytes) -> list[int]:
    """How many lines stand on each page between its running head and its foot."""
    counts = []
    for page in reader(pdf).pages:
        heights: set[int] = set()
        top = float(page.mediabox.height) - 18 * POINTS_PER_MM

        def see(
            text: str, cm: Any, tm: Any, _font: Any, _size: Any,
            top: float = top, heights: set[int] = heights,
        ) -> None:  # fmt: skip
            height = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            if text.strip() and 20 * POINTS_PER_MM < height < top:
                heights.add(round(height / 3))

        page.extract_text(visitor_text=see)
        counts.append(len(heights))
    return counts
