"""One save to be disturbed: the folder before it, the folder after it, and what may lie between."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Save = Callable[[Path, Any], object]
Errors = tuple[type[Exception], ...]
_NOT_PLAIN = re.compile(r"\bE[A-Z]{2,}\b|Errno|WinError|Traceback|Error\b|Exception|<.* object at")
_LONGEST_MESSAGE = 600


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file under ``folder`` by its path from there."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def unclear(error: BaseException, name: str) -> str:
    """Say why the message of ``error`` would not help a person, or return ''."""
    text = str(error)
    if name not in text:
        return f"the message does not name the file: {text!r:.300}"
    if _NOT_PLAIN.search(text) or len(text) > _LONGEST_MESSAGE:
        return f"the message is not plain: {len(text)} characters, {text!r:.300}"
    if not text.replace("\n", "").isprintable():
        return f"the message holds what a terminal would obey: {text!r:.300}"
    if not getattr(error, "remedy", "none promised"):
        return f"the message has no remedy: {text!r:.300}"
    return ""


@dataclass(frozen=True)
class Case:
    """``save(path, new)`` in a folder that holds ``before``, and ``after`` if undisturbed."""

    save: Save
    new: Any
    path: Path
    before: dict[str, bytes]
    after: dict[str, bytes]
    own_errors: Errors

    def reset(self) -> None:
        """Bring the folder back to what it was before the save."""
        folder = self.path.parent
        now = contents(folder)
        for name in now.keys() - self.before.keys():
            (folder / name).unlink()
        for name, data in self.before.items():
            if now.get(name) != data:
                (folder / name).unlink(missing_ok=True)
                (folder / name).write_bytes(data)

    def attempt(self, trouble: AbstractContextManager[None]) -> BaseException | None:
        """Save in ``trouble``, and return what was raised."""
        try:
            with trouble:
                self.save(self.path, self.new)
        except BaseException as error:
            return error
        return None

    def misjudged(self, error: BaseException | None) -> str:
        """Say what is wrong with the error that was raised, or return ''."""
        if error is None:
            return ""
        if not isinstance(error, self.own_errors):
            return f"raised {type(error).__name__}: {error!s:.200}"
        return unclear(error, self.path.name)

    def holds_old(self) -> bool:
        """Tell whether the file is as it was before the save, or not there as then."""
        now = self.path.read_bytes() if self.path.exists() else None
        return now == self.before.get(self.path.name)

    def spoilt(self, *, old: bool, new: bool) -> str:
        """Say what is wrong in the folder, or return ''.

        The file itself may be wholly ``old`` or ``new``. Each other file that the save writes, such
        as a backup, may be either; there may be no file besides.
        """
        now = contents(self.path.parent)
        wrong = []
        for name in sorted(now.keys() | self.before.keys() | self.after.keys()):
            states = [self.before.get(name), self.after.get(name)]
            if name == self.path.name:
                states = [s for s, allowed in zip(states, (old, new), strict=True) if allowed]
            if now.get(name) not in states:
                size = f"of {len(now[name])} bytes" if name in now else "missing"
                known = name in self.before or name in self.after
                wrong.append(f"{name} is {size if known else 'a stray ' + size}")
        return "; ".join(wrong)


def rehearse(save: Save, old: Any, new: Any, path: Path, own_errors: Errors) -> Case:
    """Save without disturbance, to learn what is right; ``old`` may be None for no file yet.

    Works on a file of that name in a new folder beside ``path``, so that nothing else is touched.
    The writer must write the same content in the same way each time, or nothing could be judged.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(dir=path.parent))
    path = folder / path.name
    if old is not None:
        save(path, old)
    before = contents(folder)
    save(path, new)
    after = contents(folder)
    case = Case(save, new, path, before, after, own_errors)
    assert after.get(path.name) not in (None, before.get(path.name)), "old and new are the same"
    case.reset()
    save(path, new)
    assert contents(folder) == after, "saving the same twice gave two different files"
    case.reset()
    return case


def open_files() -> int:
    """Return how many files this process has open, or 0 where that cannot be told."""
    folder = Path("/dev/fd")
    return sum(1 for _ in folder.iterdir()) if folder.is_dir() else 0
