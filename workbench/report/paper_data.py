"""Content as the files that a template reads: ``paper.json``, the drawings, the logo.

``paper.json`` holds :class:`~workbench.report.blocks.PaperContent` field by field. A block has its
kind as ``type`` in lower case; a picture has ``file`` in the place of its SVG, and its ``width``
and ``height`` in points; the head has ``logo`` as a file's name or "", and ``logo_told`` about it.
``page_of`` is "page {page} of {pages}" in the paper's language.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import asdict
from html import unescape
from typing import Any

from workbench.report.blocks import Block, PaperContent, Picture
from workbench.words import tr

LOGO_TYPES = ("png", "jpg", "svg")
_SVG_SIZE = re.compile(r'<svg\b[^>]*\bwidth="([0-9.]+)pt" height="([0-9.]+)pt"')
_SVG_TEXT = re.compile(r">([^<>]+)</text>")


def files_of(content: PaperContent) -> dict[str, bytes]:
    """The files by their names.

    Raises:
        ValueError: sheet or type of logo is unknown, or a drawing does not tell its size.
    """
    if content.sheet not in ("us-letter", "a4"):
        raise ValueError(f"no sheet '{content.sheet}'")
    files: dict[str, bytes] = {}
    data = asdict(content)
    data["head"] = {"name": content.head.name, "lines": content.head.lines, "logo": ""}
    if content.head.logo:
        if content.head.logo_type not in LOGO_TYPES:
            raise ValueError(f"no type of picture '{content.head.logo_type}'")
        data["head"]["logo"] = f"logo.{content.head.logo_type}"
        data["head"]["logo_told"] = tr("Logo of {firm}", firm=content.head.name).strip()
        files[data["head"]["logo"]] = content.head.logo
    data["sections"] = [
        {
            "key": section.key,
            "heading": section.heading,
            "blocks": [_block(block, files) for block in section.blocks],
        }
        for section in content.sections
    ]
    data["page_of"] = tr("page {page} of {pages}", page="{page}", pages="{pages}")
    files["paper.json"] = json.dumps(_one_line_break(data)).encode()
    return files


def _block(block: Block, files: dict[str, bytes]) -> dict[str, Any]:
    data = asdict(block) | {"type": type(block).__name__.lower()}
    if isinstance(block, Picture):
        name = f"picture-{len(files)}.svg"
        files[name] = block.svg.encode()
        del data["svg"]
        data["file"] = name
        data["width"], data["height"] = _size_of(block.svg)
    return data


def _size_of(svg: str) -> tuple[float, float]:
    """How wide and high a drawing says that it is, in points.

    Raises:
        ValueError: it does not say so.
    """
    found = _SVG_SIZE.search(svg)
    if found is None:
        raise ValueError("a drawing without a width and a height in points")
    return float(found[1]), float(found[2])


def _one_line_break(value: Any) -> Any:
    """The same with every kind of line break as the one that templates know."""
    if isinstance(value, str):
        return value.replace("\r\n", "\n").replace("\r", "\n")
    if isinstance(value, dict):
        return {name: _one_line_break(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [_one_line_break(one) for one in value]
    return value


def texts_of(content: PaperContent) -> Iterator[tuple[str, str]]:
    """Every text of the paper, with the heading under which it stands."""
    for text in (content.title, content.foot, content.head.name, *content.head.lines):
        yield content.title, text
    for fact in (*content.facts, *content.addressed):
        yield from ((content.title, text) for text in fact)
    for section in content.sections:
        yield section.heading, section.heading
        for block in section.blocks:
            yield from ((section.heading, text) for text in _texts(block))


def _texts(block: Block) -> Iterator[str]:
    for name, value in asdict(block).items():
        if name == "svg":
            yield from (unescape(text) for text in _SVG_TEXT.findall(value))
        elif name != "tone":
            yield from _strings(value)


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _strings(one)
