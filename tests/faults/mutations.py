"""Spoilt versions of a file: what a broken disk, a wrong program or a careless hand makes of it."""

from __future__ import annotations

import csv
import io
import json
import random
import re
from collections.abc import Iterator
from typing import Any

Spoilt = Iterator[tuple[str, bytes]]

_DEEP = 100_000
_LONG = 10_000_000
_NUMBERS = (
    *("NaN", "Infinity", "-Infinity", "1e999", "-1e999", "1e-999", "-0", "0", "-1", "1e308"),
    *("9" * 400, "9" * 5000, "0x10", "1_000", "1,5", "007", ".5", "5.", "+5", "٣", "1e", "--1"),
)
_TEXTS = (
    *(
        "",
        " ",
        "\x00",
        "\ufeff",
        "\u202e",
        "\n",
        "\r\n",
        "\t",
        "é",
        "e\u0301",
        "'",
        '"',
        "\\",
        "null",
    ),
    *("=1+1", "-", "../../x", "x" * 100_000, "🚰", "true", "1e999", "NaN", ",", ";"),
)
_VALUES: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 10**400, 1e308, 1e-320, float("nan"), float("inf"), "", "\x00"),
    *("\ud800", "x" * 100_000, "NaN", "1e999", [], {}, [[]], {"a": {}}, [None] * 1000),
)


def spoilt(sample: bytes, rounds: int, seed: int) -> Spoilt:
    """Yield (what was done, the bytes), about ``rounds`` of each kind, the same for each seed."""
    chance = random.Random(seed)
    yield from _other_files()
    yield from _other_encodings(sample)
    yield from _truncated(sample, rounds)
    yield from _flipped(sample, rounds, chance)
    yield from _random(sample, rounds, chance)
    yield from _numbers(sample, rounds, chance)
    try:
        tree = json.loads(sample)
    except ValueError:
        yield from _table(sample.decode(), rounds, chance)
    else:
        yield from _tree(tree, rounds, chance)
        yield from _keys(sample, rounds)


def _other_files() -> Spoilt:
    """Yield what was never such a file."""
    for text in (
        "",
        " ",
        "\n",
        "null",
        "true",
        "0",
        '""',
        "[]",
        "{}",
        "[{}]",
        "NaN",
        "-",
        "{",
        "]",
    ):
        yield f"only {text!r}", text.encode()
    yield "a NUL", b"\0"
    yield "many NULs", bytes(100_000)
    for name, deep in {
        "open brackets": "[" * _DEEP,
        "nested brackets": "[" * _DEEP + "]" * _DEEP,
        "open braces": '{"a":' * _DEEP,
        "nested braces": '{"a":' * _DEEP + "1" + "}" * _DEEP,
    }.items():
        yield f"{_DEEP} {name}", deep.encode()
    yield "one long line", b"a" * _LONG
    yield "one long number", b"1" * _LONG
    yield "one long text", b'"' + b"a" * _LONG + b'"'
    yield "one long list", b"[" + b"0," * (_LONG // 2) + b"0]"
    yield "one long list of objects", b"[" + b"{}," * (_LONG // 3) + b"{}]"
    yield "one long list of lists", b"[" + b"[]," * (_LONG // 3) + b"[]]"
    yield "one long key", b'{"' + b"k" * _LONG + b'":1}'
    yield "many commas", b"," * _LONG
    yield "many lines", b"\n" * _LONG


def _other_encodings(sample: bytes) -> Spoilt:
    text = sample.decode()
    yield "a byte order mark", b"\xef\xbb\xbf" + sample
    yield "two byte order marks", b"\xef\xbb\xbf" * 2 + sample
    for name in ("utf-16", "utf-16-le", "utf-32"):
        yield name, text.encode(name)
    yield "CRLF", sample.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")
    yield "CR", sample.replace(b"\r\n", b"\n").replace(b"\n", b"\r")
    yield "no line ends", sample.replace(b"\n", b" ")
    yield "an end mark", sample + b"\x1a"
    yield "twice", sample * 2
    middle = len(sample) // 2
    for bad in (
        b"\xff",
        b"\xc3",
        b"\xed\xa0\x80",
        b"\xf8\x88\x80\x80\x80",
        b"\0",
        b"\x85",
        b"\\ud800",
    ):
        for at in (0, middle, len(sample)):
            yield f"{bad!r} at {at}", sample[:at] + bad + sample[at:]


def _truncated(sample: bytes, rounds: int) -> Spoilt:
    for end in range(0, len(sample), max(1, len(sample) // (3 * rounds))):
        yield f"cut at {end}", sample[:end]


def _flipped(sample: bytes, rounds: int, chance: random.Random) -> Spoilt:
    for _ in range(2 * rounds):
        data = bytearray(sample)
        for _ in range(chance.choice((1, 1, 1, 2, 8))):
            at, bit = chance.randrange(len(data)), chance.randrange(8)
            data[at] ^= 1 << bit
        yield f"bit {bit} of byte {at} (and others)", bytes(data)


def _random(sample: bytes, rounds: int, chance: random.Random) -> Spoilt:
    for length in (chance.randrange(1, 2000) for _ in range(rounds // 2)):
        yield f"{length} random bytes", chance.randbytes(length)
    for _ in range(rounds):
        start, other = sorted(chance.randrange(len(sample)) for _ in range(2))
        yield f"without {start} to {other}", sample[:start] + sample[other:]
        yield f"{start} to {other} twice", sample[:other] + sample[start:]
        yield f"zeros from {start}", sample[:start] + bytes(len(sample) - start)


def _numbers(sample: bytes, rounds: int, chance: random.Random) -> Spoilt:
    places = list(re.finditer(rb"-?\d+(\.\d+)?", sample))
    for _ in range(2 * rounds if places else 0):
        place, number = chance.choice(places), chance.choice(_NUMBERS)
        label = f"{number:.20} for {place[0]!r:.20} at {place.start()}"
        yield label, sample[: place.start()] + number.encode() + sample[place.end() :]


def _keys(sample: bytes, rounds: int) -> Spoilt:
    """Yield JSON with a key that occurs twice."""
    for place in list(re.finditer(rb'"\w+"\s*:', sample))[:rounds]:
        for value in (b"null", b"1", b'"x"'):
            again = place[0] + value + b","
            label = f"{place[0]!r} twice at {place.start()}"
            yield label, sample[: place.start()] + again + sample[place.start() :]


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:
    """Yield every (container, key) in a JSON tree."""
    inside = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for key, value in list(inside):
        yield tree, key
        if isinstance(value, dict | list):
            yield from _places(value)


def _tree(tree: Any, rounds: int, chance: random.Random) -> Spoilt:
    """Yield JSON with other values, with keys missing, and with keys too many."""
    if not isinstance(tree, dict | list):
        return
    places = list(_places(tree))
    for container, key in places:
        kept = container.pop(key)
        yield f"without {key!r}", json.dumps(tree).encode()
        if isinstance(container, list):
            container.insert(key, kept)
        else:
            container[key] = kept
    for _ in range(4 * rounds):
        container, key = chance.choice(places)
        value = chance.choice(_VALUES)
        kept, container[key] = container[key], value
        yield f"{value!r:.20} for {key!r}", json.dumps(tree).encode()
        container[key] = kept
    for container in [tree, *(c for c, _ in places)]:
        if isinstance(container, dict):
            for key in ("surplus", "", "k" * 100_000, "\ud800", "\x1b[31m"):
                container[key] = 1
                yield f"{key!r:.20} beside {list(container)[:2]}", json.dumps(tree).encode()
                del container[key]


def _table(text: str, rounds: int, chance: random.Random) -> Spoilt:
    """Yield CSV with other cells, ragged rows, and rows and columns lost, doubled or swapped."""
    rows = list(csv.reader(io.StringIO(text)))
    for _ in range(4 * rounds):
        row = chance.randrange(len(rows))
        column = chance.randrange(len(rows[row]) or 1)
        cell = chance.choice(_TEXTS + _NUMBERS)
        changed = [list(r) for r in rows]
        changed[row][column : column + 1] = [cell]
        yield f"{cell!r:.20} in row {row}, column {column}", _csv(changed)
    for row, cells in enumerate(rows[:rounds]):
        yield f"without row {row}", _csv(rows[:row] + rows[row + 1 :])
        yield f"row {row} twice", _csv([*rows[:row], cells, *rows[row:]])
        yield f"row {row} short", _csv([*rows[:row], cells[:-1], *rows[row + 1 :]])
        yield f"row {row} long", _csv([*rows[:row], [*cells, "x"], *rows[row + 1 :]])
        yield f"row {row} empty", _csv([*rows[:row], [], *rows[row + 1 :]])
    for column in range(len(rows[0])):
        yield f"without column {column}", _csv([r[:column] + r[column + 1 :] for r in rows])
        yield f"column {column} twice", _csv([r[: column + 1] + r[column:] for r in rows])
    yield "only the header", _csv(rows[:1])
    yield "semicolons", text.replace(",", ";").encode()
    yield "tabs", text.replace(",", "\t").encode()
    yield "an open quote", text.encode() + b'"'
    yield "quotes lost", text.replace('"', "").encode()


def _csv(rows: list[list[str]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()
