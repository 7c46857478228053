"""Reads the tables of a lesson's file strictly: whatever is wrong is told with its place."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, NoReturn

from workbench.file_reasons import shown
from workbench.study.lessons.model import LessonError
from workbench.words import tr

_LONGEST_SHOWN = 60
_MOST_TOLD = 5


class Table:
    """One table of a file; ``place`` says where it stands, "" for the file itself."""

    def __init__(self, content: dict[str, Any], file: str, place: str = "") -> None:
        self._content = content
        self._file = file
        self.place = place

    def refuse(self, why: str, remedy: str, key: str = "") -> NoReturn:
        """Raise the LessonError of something in this table."""
        place = ", ".join(filter(None, (self.place, shown(key[:_LONGEST_SHOWN]))))
        where = tr("“{file}”, {place}", file=self._file, place=place) if place else (
            tr("“{file}”", file=self._file)
        )  # fmt: skip
        raise LessonError(tr("{where}: {why}", where=where, why=why), remedy)

    def only(self, *known: str) -> None:
        """Refuse what has another name."""
        strange = [shown(key[:_LONGEST_SHOWN]) for key in self._content if key not in known]
        if strange:
            self.refuse(
                tr("“{names}” is not known here.", names="”, “".join(strange[:_MOST_TOLD])),
                tr("Use only: {names}.", names=", ".join(known)),
            )

    def has(self, key: str) -> bool:
        """Whether something of that name stands here."""
        return key in self._content

    @property
    def keys(self) -> tuple[str, ...]:
        """The names of what stands here."""
        return tuple(self._content)

    def text(self, key: str, *, needed: bool = True) -> str:
        """A text that is not empty, its ends stripped; "" where it may be left out and is."""
        if not needed and key not in self._content:
            return ""
        value = self._needed(key)
        if not isinstance(value, str) or not value.strip():
            self.refuse(
                tr("A text in quotes is wanted."),
                tr("Write for example {example}.", example=f'{shown(key)} = "…"'),
                key,
            )
        return value.strip()

    def flag(self, key: str) -> bool:
        """A true or false; false where it is left out."""
        value = self._content.get(key, False)
        if not isinstance(value, bool):
            self.refuse(
                tr("True or false is wanted."),
                tr("Write “{example}”, or leave it out.", example=f"{key} = true"),
                key,
            )
        return value

    def names(self, key: str, known: Collection[str]) -> tuple[str, ...]:
        """A list of some of the known names, each once."""
        value = self._needed(key)
        if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
            self.refuse(
                tr("A list of names is wanted."),
                tr("Write for example {example}.", example=f'{key} = ["precharge"]'),
                key,
            )
        strange = [shown(one[:_LONGEST_SHOWN]) for one in value if one not in known]
        if strange:
            self.refuse(
                tr("“{names}” is not known here.", names="”, “".join(strange[:_MOST_TOLD])),
                tr("Use only: {names}.", names=", ".join(known)),
                key,
            )
        return tuple(dict.fromkeys(value))

    def table(self, key: str, place: str) -> Table:
        """A table within; an empty one where it is left out."""
        value = self._content.get(key, {})
        if not isinstance(value, dict):
            self.refuse(*_no_table(), key)
        return Table(value, self._file, self._under(place))

    def tables(self, key: str, place: str, least: int, most: int) -> list[Table]:
        """A list of so many tables; ``place`` is followed by the number of each."""
        value = self._needed(key)
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self.refuse(*_no_table(), key)
        if not least <= len(value) <= most:
            self.refuse(
                tr("There are {count}; {least} to {most} are wanted.",
                   count=len(value), least=least, most=most),
                tr("Add some or take some away."),
                key,
            )  # fmt: skip
        return [
            Table(one, self._file, self._under(f"{place} {number}"))
            for number, one in enumerate(value, start=1)
        ]

    def _needed(self, key: str) -> Any:
        if key not in self._content:
            self.refuse(
                tr("“{name}” is missing.", name=key),
                tr("Add it; the lessons of the program show how."),
            )
        return self._content[key]

    def _under(self, place: str) -> str:
        return f"{self.place}, {place}" if self.place else place


def _no_table() -> tuple[str, str]:
    return (
        tr("A table is wanted here, with its name in brackets on a line of its own."),
        tr("The lessons of the program show how."),
    )
