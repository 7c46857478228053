"""Where lessons lie: those of the program, and before them those that a firm has made its own.

A folder for each language; a lesson that a language lacks is shown in English. A firm's own file
takes the place of the program's of the same name, further ones come after them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from workbench import paths
from workbench.file_reasons import why_not_saved
from workbench.safe_file import SaveError, write_atomic
from workbench.study.lessons.model import Lesson, LessonError
from workbench.study.lessons.reading import read_lesson
from workbench.words import tr

ENGLISH = "en"
_ENDING = ".toml"


@dataclass(frozen=True, eq=False)
class Shelved:
    """A lesson in its place: None where no file of it can be used.

    ``problems`` tell why a file that should go before was left out. ``is_own``: the firm's.
    """

    key: str
    lesson: Lesson | None
    is_own: bool
    problems: tuple[LessonError, ...]


def shipped_lessons() -> Path:
    """The folder of the program's lessons; a folder in it for each language."""
    return paths.resources() / "lessons"


def own_lessons() -> Path:
    """The same of the firm's own. It may not exist."""
    return paths.user_data() / "lessons"


def copy_lessons() -> Path:
    """Give the firm the program's lessons to change; what is there already stays as it is.

    From then on these files are shown, until they are removed.

    Raises:
        SaveError: a file could not be written.
    """
    for source in sorted(shipped_lessons().glob(f"*/*{_ENDING}")):
        target = own_lessons() / source.parent.name / source.name
        if target.exists():
            continue
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            reason, remedy = why_not_saved(error, target.parent)
            raise SaveError(
                tr("“{name}” could not be saved: {reason}.", name=target.name, reason=reason),
                remedy,
            ) from error
        write_atomic(target, source.read_bytes())
    return own_lessons()


def lessons(language: str = ENGLISH) -> tuple[Shelved, ...]:
    """Every lesson in the order of their names.

    Args:
        language: a code such as "de" or "de_AT", of which the first part is looked for too.
    """
    folders = list(_folders(language))
    names = {path.stem for folder, _ in folders for path in _files(folder)}
    return tuple(_shelved(name, folders) for name in sorted(names))


def stamp(language: str = ENGLISH) -> tuple[tuple[str, int, int], ...]:
    """What tells whether a file was changed since: each one's path, time and size."""
    found = []
    for folder, _ in _folders(language):
        for path in _files(folder):
            try:
                state = path.stat()
            except OSError:  # reading it will tell why
                continue
            found.append((str(path), state.st_mtime_ns, state.st_size))
    return tuple(found)


def _folders(language: str) -> Iterator[tuple[Path, bool]]:
    """In which order a lesson is looked for, and whether it is the firm's."""
    codes = dict.fromkeys((language, language.partition("_")[0], ENGLISH))
    for code in codes:
        if code.replace("_", "").isalnum():
            yield own_lessons() / code, True
            yield shipped_lessons() / code, False


def _files(folder: Path) -> list[Path]:
    try:
        return sorted(folder.glob(f"*{_ENDING}"))
    except OSError:
        return []


def _shelved(name: str, folders: list[tuple[Path, bool]]) -> Shelved:
    problems: list[LessonError] = []
    for folder, is_own in folders:
        path = folder / f"{name}{_ENDING}"
        if not path.exists():
            continue
        try:
            return Shelved(name, read_lesson(path), is_own, tuple(problems))
        except LessonError as error:
            problems.append(error)
    return Shelved(name, None, is_own=False, problems=tuple(problems))
