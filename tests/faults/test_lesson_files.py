"""A trainer's file of a lesson, read in every spoilt state: own errors only, in plain words."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.faults.harness import full_disk, fuzzed
from workbench import paths
from workbench.safe_file import SaveError
from workbench.study.lessons import shelf
from workbench.study.lessons.model import Lesson, LessonError
from workbench.study.lessons.reading import LARGEST_FILE, lesson_from, read_lesson
from workbench.units import Display

FOLDER = paths.resources() / "lessons" / "en"
SAMPLES = ("4-precharge.toml", "7-testing.toml")


def read(path: Path) -> list[str]:
    """Read as the program does; whatever can be read must be shown without a fault."""
    return shown(read_lesson(path))


def shown(lesson: Lesson) -> list[str]:
    return [screen.told(text, Display()) for screen in lesson.screens for _, text in screen.texts]


@pytest.mark.parametrize("name", SAMPLES)
def test_a_spoilt_file_is_refused_in_plain_words_or_read(name: str, tmp_path: Path) -> None:
    sample = (FOLDER / name).read_bytes()
    fuzzed(read, sample, (LessonError,), tmp_path / name, rounds=40)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(10, 16))
def test_many_spoilt_files_are_refused_in_plain_words(seed: int, tmp_path: Path) -> None:
    name = SAMPLES[seed % 2]
    sample = (FOLDER / name).read_bytes()
    fuzzed(read, sample, (LessonError,), tmp_path / name, rounds=1000, seed=seed)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"x" * (LARGEST_FILE + 1), "it is too large"),
        (b"\x00\x01\xff", "not written in UTF-8"),
        (b"\x00" * 100, "cannot be read as TOML"),
        (b"a = " + b"[" * 900 + b"]" * 900, "Line 1 has more than"),
        (b"\n".join([b"a = ["] + [b"[" * 900] * 20), "cannot be read as TOML"),
        (b".".join([b"a"] * 30_000) + b" = 1", "Line 1 has more than"),
        (b"title = " + b"9" * 900, "screen” is missing"),
        (b"title = 1979-05-27", "screen” is missing"),
        (b'title = "x"\nscreen = [1]', "A table is wanted"),
        (b'title = "x"\nscreen = [[], {}]', "A table is wanted"),
        (b'title = "x"\n' + b"[[screen]]\n" * 10, "There are 10; 1 to 9 are wanted"),
        (b'title = "x"\n[[screen]]\n[screen.tank]\nlive_volume = {}', "A text in quotes"),
        ('title = "\u202e"\n[[scrеen]]'.encode(), "cannot be read as TOML"),
    ],
)
def test_what_no_trainer_would_write_is_refused(data: bytes, why: str, tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    path.write_bytes(data)
    with pytest.raises(LessonError) as refusal:
        read_lesson(path)
    assert why in str(refusal.value)
    assert "“x.toml”" in refusal.value.message
    assert refusal.value.remedy


@pytest.mark.parametrize("kind", ["folder", "loop", "forbidden"])
def test_what_is_no_file_is_refused(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    if kind == "folder":
        path.mkdir()
    elif kind == "loop":
        path.symlink_to(path)
    else:
        path = tmp_path / "no\0name.toml"
    with pytest.raises(LessonError, match="could not be read"):
        read_lesson(path)


def test_many_values_are_refused_as_fields_refuse_them() -> None:
    """Every entry of a tank with texts that a field would not take."""
    chance = random.Random(1)
    text = (FOLDER / "4-precharge.toml").read_text(encoding="utf-8")
    odd = ("", " ", "1e999 psi", "-1 psi", "0 psi", "nan", "١ psi", "9" * 50 + " psi", "1,500 psi",
           "0.0001 psi", "60 psi 40 psi", "38", "38 gal", "{drawdown}", "🚰")  # fmt: skip
    for _ in range(60):
        entry, value = chance.choice(("precharge", "cut_in", "cut_out")), chance.choice(odd)
        spoilt = text.replace(f'{entry} = "', f'{entry} = "{value}" # "', 1)
        assert spoilt != text
        problem = refused(spoilt)
        assert problem is None or (problem.message.startswith("“x.toml”") and problem.remedy)


def refused(text: str) -> LessonError | None:
    """Why a lesson is refused; None if it can be shown."""
    try:
        shown(lesson_from(text.encode(), "x.toml"))
    except LessonError as error:
        return error
    return None


def save(path: Path, lesson: str) -> None:
    """As the lessons are copied for the firm."""
    shelf.write_atomic(path, lesson.encode())


def test_a_full_disk_is_told_when_lessons_are_copied(tmp_path: Path) -> None:
    full_disk(save, "title = 1\n", "title = 2\n", tmp_path / "2-air.toml", (SaveError,))


def test_a_place_where_nothing_may_be_written_is_told(monkeypatch, tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("no folder")
    monkeypatch.setattr(shelf, "own_lessons", lambda: blocked)
    with pytest.raises(SaveError) as refusal:
        shelf.copy_lessons()
    assert "“1-pressure.toml” could not be saved" in refusal.value.message
