"""The one place from which the command line prints."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from typing import Any
from unicodedata import category

from workbench.words import tr

PROGRAM = "tank-workbench"


def prepare() -> None:
    """Let any character through, whatever the terminal's encoding."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


def show(lines: Iterable[str]) -> None:
    """Print lines of text."""
    print("\n".join(_harmless(part) for line in lines for part in line.split("\n")))


def complain(text: str) -> None:
    """Say in one line why there is no answer."""
    print(f"{PROGRAM}: {_harmless(' '.join(text.split()))}", file=sys.stderr)


def _harmless(line: str) -> str:
    """Without what a terminal would obey: a text that was typed into a job may hold anything."""
    return "".join(c if c.isprintable() or category(c) == "Zs" else "·" for c in line)


def answer(record: dict[str, Any], lines: Iterable[str], *, as_json: bool) -> int:
    """Print a record as JSON, or the lines that tell it. Returns the exit status."""
    if as_json:
        print(json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False))
    else:
        show(lines)
    return 0


def finding_lines(record: dict[str, Any]) -> list[str]:
    """Notes and cautions, and how many rows of the catalogue cannot be used."""
    told = [f"{one['level']}: {one['text']} {one['remedy']}".strip() for one in record["findings"]]
    count = record.get("catalog_rows_not_used", 0)
    if count:
        told.append(
            tr("Rows of the catalogue that cannot be used: {count}. See check-catalog.",
               count=count)
        )  # fmt: skip
    return told
