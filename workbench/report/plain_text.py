"""Content as plain text for an e-mail, and as the lines by which two revisions are compared."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from workbench.job.texts import LONGEST_TEXT
from workbench.report.blocks import (
    Block,
    Facts,
    Formula,
    Large,
    PaperContent,
    Picture,
    Sign,
    Table,
    Ticks,
    Warn,
    Words,
)

WIDTH = 72  # characters; mail programs show this much of a line without breaking it
_GAP = "  "
_LONGEST_LABEL = 200
# A terminal or a mail program might obey them; no page can print them.
_CONTROLS = {code: "·" for code in (*range(32), *range(127, 160)) if code != ord("\n")}


def plain_text(content: PaperContent) -> str:
    """The whole paper in lines of at most :data:`WIDTH` characters; pictures by their words.

    Longer lines hold a single word that cannot be broken, such as an address on the web. A dot
    stands in the place of a control character.
    """
    head = [line for line in (content.head.name, *content.head.lines) if line]
    parts = [
        _wrapped("\n".join(head)),
        _underlined(content.title, "="),
        _facts((*content.facts, *content.addressed)),
    ]
    for section in content.sections:
        parts.append(_underlined(section.heading, "-"))
        parts += [_block(block, section.heading) for block in section.blocks]
    parts += ["-" * WIDTH, _wrapped(content.foot)]
    return "\n\n".join(part for part in parts if part).translate(_CONTROLS) + "\n"


def content_lines(content: PaperContent) -> tuple[tuple[str, str], ...]:
    """Every statement of the paper as its label and its value; no label comes twice.

    Drawings are left out (their figures stand in the tables), and what is the same in every paper:
    letterhead, foot, lines to sign. A text longer than a job may keep goes on in a further line.
    """
    found: dict[str, str] = {}
    for label, value in _statements(content):
        for start in range(0, len(value), LONGEST_TEXT):
            found[_free(label, found)] = value[start : start + LONGEST_TEXT]
    return tuple(found.items())


def _free(label: str, taken: dict[str, str]) -> str:
    """``label``, or with a number if it is taken."""
    label, number = _short(label), 1
    while (numbered := f"{label} ({number})" if number > 1 else label) in taken:
        number += 1
    return numbered


def _short(label: str) -> str:
    plain = " ".join(label.split())
    return plain if len(plain) <= _LONGEST_LABEL else plain[: _LONGEST_LABEL - 1] + "…"


def _statements(content: PaperContent) -> Iterator[tuple[str, str]]:
    yield from (*content.facts, *content.addressed)
    for section in content.sections:
        for block in section.blocks:
            yield from _said(section.heading, block)


def _said(heading: str, block: Block) -> Iterator[tuple[str, str]]:
    """The statements of one block."""
    match block:
        case Table():
            yield from _cells(block)
        case Facts(rows=rows):
            yield from ((f"{heading} / {name}", value) for name, value in rows)
        case Words(text=text):
            yield heading, text
        case Warn(word=word, text=text):
            yield f"{heading} / {word}", text
        case Ticks(steps=steps):
            yield from ((f"{heading} / {number}", step) for number, step in enumerate(steps, 1))
        case Large(name=name, value=value, remark=remark):
            yield from ((f"{heading} / {name}", value), (f"{heading} / {name} …", remark))
        case Formula(title=name, formula=formula, numbers=numbers):
            yield f"{name} / {formula}", numbers
        case Picture() | Sign():
            pass


def _cells(table: Table) -> Iterator[tuple[str, str]]:
    for cells in table.rows:
        for column, cell in zip(table.columns[1:], cells[1:], strict=True):
            yield f"{table.name} / {cells[0]} / {column}", cell


def _block(block: Block, heading: str) -> str:
    match block:
        case Words(text=text) | Picture(told=text):
            return _wrapped(text)
        case Warn(word=word, text=text):
            return _wrapped(f"{word.upper()}: {text}", "! ")
        case Facts(rows=rows):
            return _facts(rows)
        case Table():
            return _table(block, heading)
        case Ticks(steps=steps, numbered=numbered):
            return "\n".join(
                _hanging(f"[ ] {number}. " if numbered else "[ ] ", step)
                for number, step in enumerate(steps, 1)
            )
        case Large(name=name, value=value, remark=remark):
            return "\n".join(_wrapped(one) for one in (f"{name}: {value}", remark) if one)
        case Sign(lines=lines):
            return "\n\n".join(_line_to_sign(line) for line in lines)
        case Formula(title=title, formula=formula, numbers=numbers, source=source):
            return "\n".join((_wrapped(title), *(
                _wrapped(one, "    ") for one in (formula, numbers, source) if one
            )))  # fmt: skip


def _line_to_sign(line: str) -> str:
    room = WIDTH - len(line) - 1
    return f"{line} {'_' * room}" if room > 20 else f"{_wrapped(line)}\n{'_' * WIDTH}"


def _wrapped(text: str, before: str = "") -> str:
    """Each line broken at :data:`WIDTH`, with ``before`` at its start."""
    return "\n".join(
        line
        for whole in text.splitlines()
        for line in _broken(whole, WIDTH - len(before), before) or [before.rstrip()]
    )


def _broken(text: str, width: int, before: str = "") -> list[str]:
    lines = textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False)
    return [before + line for line in lines]


def _hanging(start: str, text: str) -> str:
    """``start``, then the text, whose further lines begin where it began; beneath a long start."""
    if len(start) > WIDTH // 2:
        return f"{_wrapped(start)}\n{_wrapped(text, '    ')}".rstrip()
    lines = _wrapped(text, " " * len(start)).splitlines() or [""]
    return "\n".join((start + lines[0].strip(), *lines[1:])).rstrip()


def _underlined(text: str, mark: str) -> str:
    if not text:
        return ""
    lines = _wrapped(text)
    return f"{lines}\n{mark * min(WIDTH, max(map(len, lines.splitlines())))}"


def _facts(rows: Sequence[tuple[str, str]]) -> str:
    """The values below each other; a long name stands alone, its value beneath it."""
    widest = max((len(name) for name, _ in rows), default=0)
    column = min(widest, WIDTH * 2 // 5) + len(_GAP) + 1
    lines = []
    for name, value in rows:
        label = f"{name}:"
        if len(label) >= column:
            lines.append(_wrapped(label))
            label = ""
        lines.append(_hanging(label.ljust(column), value))
    return "\n".join(lines)


def _table(table: Table, heading: str) -> str:
    """Columns side by side, first left and others right; or row by row where they find no room.

    Its name stands above it unless that is the heading of its section.
    """
    name = [] if table.name == heading else [_wrapped(table.name)]
    every = [table.columns, *table.rows]
    columns = list(zip(*every, strict=True))
    widths = _column_widths(
        [max(_longest_word(cell) for cell in column) for column in columns],
        [max(_longest_line(cell) for cell in column) for column in columns],
    )
    if widths is None:
        return "\n".join((*name, _row_by_row(table)))
    rule = "-" * (sum(widths) + len(_GAP) * (len(widths) - 1))
    lines = [*name, _row(table.columns, widths), rule]
    for number, cells in enumerate(table.rows):
        if number in table.strong and number and number - 1 not in table.strong:
            lines.append(rule)
        lines.append(_row(cells, widths))
    return "\n".join(line for line in lines if line)


def _longest_word(cell: str) -> int:
    return max(map(len, cell.split()), default=0)


def _longest_line(cell: str) -> int:
    return max(map(len, cell.splitlines()), default=0)


def _column_widths(least: list[int], wanted: list[int]) -> list[int] | None:
    """As wide as wanted, or what is left shared out by what each would need; None without room."""
    room = WIDTH - len(_GAP) * (len(least) - 1)
    if sum(wanted) <= room:
        return wanted
    spare = room - sum(least)
    if spare < 0:
        return None
    needed = [most - few for few, most in zip(least, wanted, strict=True)]
    return [few + spare * more // sum(needed) for few, more in zip(least, needed, strict=True)]


def _row(cells: Sequence[str], widths: Sequence[int]) -> str:
    broken = [
        [line for whole in cell.splitlines() for line in _broken(whole, width)]
        for cell, width in zip(cells, widths, strict=True)
    ]
    lines = []
    for number in range(max(map(len, broken), default=0)):
        shown = [column[number] if number < len(column) else "" for column in broken]
        padded = [shown[0].ljust(widths[0])]
        padded += [text.rjust(width) for text, width in zip(shown[1:], widths[1:], strict=True)]
        lines.append(_GAP.join(padded).rstrip())
    return "\n".join(lines)


def _row_by_row(table: Table) -> str:
    rows = []
    for cells in table.rows:
        pairs = zip(table.columns[1:], cells[1:], strict=True)
        told = [_hanging(f"  {column}: ", cell) for column, cell in pairs if cell]
        rows.append("\n".join((_wrapped(cells[0]), *told)))
    return "\n".join(rows)
