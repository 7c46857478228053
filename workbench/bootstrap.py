"""The way in from a fresh checkout: makes ``.venv`` ready where it is not, then hands over to it.

Standard library only, and nothing that Python 3.6 cannot read: a Python that is too old must still
get far enough to say so. For the same reason the texts are plain English and do not pass ``tr``.

``.venv`` holds a stamp, a file that says what was installed. It is written first as *unfinished*
and last as finished, each time in one step, so that a set-up killed at any moment is known as
such. From stamp and folder follows one of six states (:func:`state_of`), and from the state what
:mod:`workbench.set_up` does: nothing, add what lacks, or make the environment afresh. A ``.venv``
without a stamp is not ours; it is kept under another name.
"""

import os
import sys
import zlib
from pathlib import Path

OLDEST_PYTHON = (3, 11)
ON_WINDOWS = os.name == "nt"
REFUSED = 3  # exit status of every refusal that the person at the keyboard can mend

ENVIRONMENT = ".venv"
STAMP = "set-up-stamp.txt"

NEEDED_WITHOUT_WINDOW = ("pydantic", "numpy", "pint", "babel", "typst")
NEEDED = (*NEEDED_WITHOUT_WINDOW, "PySide6", "pyqtgraph")
# The import names that prove a level complete. What has "test" also serves "run".
LEVELS = {
    "run": NEEDED,
    "test": (*NEEDED, "pytest", "xdist", "mypy", "ruff", "importlinter", "pypdf"),
}

READY, INCOMPLETE = "ready", "incomplete"
ABSENT, UNFINISHED, FOREIGN, STALE = "absent", "unfinished", "foreign", "stale"


class Refusal(Exception):  # noqa: N818 - it is no error of the program
    """The program cannot go on; the text says why and what to do. Exit status ``REFUSED``."""


def say(text: str) -> None:
    """Tell the person at the keyboard what happens, apart from the program's own output."""
    if sys.stderr is not None:  # a windowed start on Windows has none
        print(f"[set-up] {text}", file=sys.stderr, flush=True)


def checkout() -> Path:
    """The folder that holds ``workbench``; only a checkout if ``pyproject.toml`` lies in it."""
    return Path(__file__).resolve().parent.parent


def missing(names: "tuple[str, ...]") -> "list[str]":
    """Which of the packages ``names`` this interpreter does not have. Imports none of them."""
    from importlib.util import find_spec

    return [name for name in names if find_spec(name) is None]


def environment_python(root: Path) -> Path:
    """The interpreter of the environment, whether it exists or not."""
    inside = ("Scripts", "python.exe") if ON_WINDOWS else ("bin", "python")
    return root.joinpath(ENVIRONMENT, *inside)


def running_in(root: Path) -> bool:
    """Whether this interpreter is the environment's own."""
    return Path(sys.prefix).resolve() == (root / ENVIRONMENT).resolve()


def base_python(root: Path) -> str:
    """The Python under the environment; empty if it is gone, which leaves the environment dead."""
    if not ON_WINDOWS:
        base = environment_python(root).resolve()
        return ascii(str(base)) if base.is_file() else ""
    try:  # no links there: the environment names its base in a file
        text = (root / ENVIRONMENT / "pyvenv.cfg").read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""
    facts = dict(line.split(" = ", 1) for line in text.splitlines() if " = " in line)
    base = Path(facts.get("home", "")) / "python.exe"
    return ascii(str(base)) if base.is_file() and environment_python(root).is_file() else ""


def project_sum(root: Path) -> str:
    """A checksum of what the project asks to be installed."""
    return f"{zlib.crc32((root / 'pyproject.toml').read_bytes()):08x}"


def read_stamp(root: Path) -> "dict[str, str]":
    """What the stamp says; empty if there is none."""
    try:
        text = (root / ENVIRONMENT / STAMP).read_text(encoding="ascii", errors="replace")
    except OSError:
        return {}
    return dict(line.split(" ", 1) for line in text.splitlines() if " " in line)


def write_stamp(root: Path, **facts: str) -> None:
    """Write the stamp in one step: a reader sees the old one or the new one, never a part."""
    stamp = root / ENVIRONMENT / STAMP
    draft = stamp.with_suffix(".new")
    draft.write_text("".join(f"{key} {value}\n" for key, value in facts.items()), encoding="ascii")
    draft.replace(stamp)


def state_of(root: Path, level: str, python: str = "") -> str:
    """The environment's state for ``level``; ``python`` ("3.12") only if no other will do."""
    stamp = read_stamp(root)
    if not stamp:
        folder = root / ENVIRONMENT
        there = any(folder.iterdir()) if folder.is_dir() else os.path.lexists(str(folder))
        return FOREIGN if there else ABSENT
    if stamp.get("level") not in LEVELS:
        return UNFINISHED
    if (
        stamp.get("checkout") != ascii(str(root))  # an editable install breaks when it is moved
        or stamp.get("base") != base_python(root)
        or python not in ("", stamp.get("python"))
    ):
        return STALE
    enough = stamp["level"] in (level, "test")
    return READY if enough and stamp.get("project") == project_sum(root) else INCOMPLETE


def find_newer_python() -> str:
    """A Python on the PATH that is new enough and really runs; empty if there is none."""
    import shutil
    import subprocess

    ask = f"import sys; print(sys.version_info[:2] >= {OLDEST_PYTHON!r})"
    for name in ("python3.13", "python3.12", "python3.11"):
        for folder in os.environ.get("PATH", "").split(os.pathsep):
            found = shutil.which(name, path=folder) if folder else None
            if not found:
                continue
            try:  # a name on the PATH may be a switch that has nothing behind it
                answer = subprocess.check_output([found, "-c", ask], stderr=subprocess.DEVNULL)
            except (OSError, subprocess.CalledProcessError):
                continue
            if answer.strip() == b"True":
                return found
    return ""


def _start_with_newer_python(root: Path, program: str, arguments: "list[str]") -> None:
    found = ".".join(str(part) for part in sys.version_info[:3])
    newer = find_newer_python()
    if not newer:
        raise Refusal(
            f"This program needs Python 3.11 or newer, but was started with Python {found} "
            f"({sys.executable}), and no newer one was found. Install Python 3.11, 3.12 or 3.13, "
            f"then start again with it, for example:\n    python3.12 {program}"
        )
    say(f"Python {found} is too old for this program: going on with {newer}.")
    hand_over(newer, [str(root / program), *arguments])


def hand_over(python: str, arguments: "list[str]") -> None:
    """Go on as ``python`` with ``arguments``, in the same working folder. Does not return."""
    command = [python, *arguments]
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()
    if not ON_WINDOWS:
        os.execv(command[0], command)  # noqa: S606 - no shell is wanted
    raise SystemExit(_wait_for(command))


def _wait_for(command: "list[str]") -> int:
    """Windows has no exec that waits: run as a child, leave Ctrl+C to it, hand on its status."""
    import subprocess

    child = subprocess.Popen(command)
    while True:
        try:
            return child.wait()
        except KeyboardInterrupt:
            continue


def enter(program: str, level: str, arguments: "list[str]") -> None:
    """Return if this is the checkout's own environment and ready; else make it so and hand over.

    ``program`` is the folder that was started, "workbench" or "tests". The program runs on
    whatever Python the environment has; the checks run on the Python that was called.

    Raises:
        Refusal: The text says why and what to do.
        SystemExit: Set-up was interrupted; or, on Windows, the program has run.
    """
    root = checkout()
    if not (root / "pyproject.toml").is_file():
        raise Refusal(
            f"These packages are missing: {', '.join(missing(LEVELS[level]))}.\n"
            "Install the program again with pip, without --no-deps."
        )
    too_old = sys.version_info[:2] < OLDEST_PYTHON
    called = "" if too_old else f"{sys.version_info[0]}.{sys.version_info[1]}"
    asked = called if level == "test" else ""
    state = state_of(root, level, asked)
    if state == READY and running_in(root):
        if not missing(LEVELS[level]):
            return
        write_stamp(root, level="unfinished")  # someone took packages out by hand
        state = UNFINISHED
    if state != READY:
        if too_old:
            _start_with_newer_python(root, program, arguments)
        from workbench.set_up import set_up

        set_up(root, level, asked)
    # -P keeps the working folder, which is the person's own, off the path of imports.
    start = ["-P", "-m", "workbench"] if program == "workbench" else [str(root / program)]
    hand_over(str(environment_python(root)), start + arguments)
