"""The disturbances themselves; each runs in a child process and returns what went wrong."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import subprocess
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import Any

from tests.faults.case import Case, open_files
from tests.faults.steps import Around, failing, steps_of, watched, write_half

CODES = (errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.EINTR)
PAGE = 4096
_MOST_BUDGETS = 6000
# The golden ratio's fraction: its multiples fill an interval evenly, however many there are.
_EVEN = 0.6180339887498949

Start = Callable[[Path], object]


class Log:
    """What went wrong, and how often what happened."""

    def __init__(self) -> None:
        self.complaints: list[tuple[str, str]] = []
        self.counts: Counter[str] = Counter()

    def note(self, label: str, problem: str) -> None:
        if problem:
            self.complaints.append((label, problem))


def kill_at_each_step(case: Case, start: Start) -> Log:
    """Kill a save before each of its file calls, and in the middle of each write."""
    names = _steps(case)
    points = [(number, False) for number in range(len(names))]
    points += [(number, True) for number, name in enumerate(names) if name == "write"]
    log = Log()
    for number, midway in points:
        case.reset()
        child = os.fork()
        if child == 0:
            _as_victim(lambda: _save_through(case, _killing(number, midway=midway)))  # noqa: B023
        _, status = os.waitpid(child, 0)
        label = f"killed {'in' if midway else 'before'} call {number} ({names[number]})"
        assert os.WIFSIGNALED(status), f"{label}: it was never reached"
        _judge_killed(case, start, label, log)
    return log


def kill_at_moments(case: Case, start: Start, times: int) -> Log:
    """Kill a save ``times`` times at moments spread over its whole duration."""
    log = Log()
    case.reset()
    began = time.monotonic()
    case.save(case.path, case.new)
    duration = time.monotonic() - began
    for attempt in range(10 * times):
        case.reset()
        share = attempt * _EVEN % 1
        if not _killed_after(duration * share, case):
            duration *= 0.97  # it had ended: keep aiming at the save, whatever the machine's load
            continue
        _judge_killed(case, start, f"killed after {share:.0%} of a save", log)
        if log.counts.total() == times:
            return log
    raise AssertionError(f"too few kills met a save: {dict(log.counts)} of {times}")


def _steps(case: Case) -> list[str]:
    """Return the file calls of a save, without those that only a first time in a process makes."""
    case.save(case.path, case.new)
    case.reset()
    return steps_of(lambda: case.save(case.path, case.new))


def _as_victim(action: Callable[[], object]) -> None:
    """Do ``action`` in a forked process, and end that without any of Python's cleaning up."""
    try:
        action()
    finally:
        os._exit(0)


def _save_through(case: Case, around: Around) -> None:
    with watched(around):
        case.save(case.path, case.new)


def _killing(number: int, *, midway: bool) -> Around:
    count = -1

    def around(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        nonlocal count
        count += 1
        if count == number:
            if midway:
                write_half(call, args)
            os.kill(os.getpid(), signal.SIGKILL)
        return call(*args)

    return around


def _killed_after(delay: float, case: Case) -> bool:
    """Kill a save ``delay`` seconds after its begin; tell whether it was still going on."""
    listen, tell = os.pipe()
    child = os.fork()
    if child == 0:

        def action() -> None:
            os.write(tell, b"!")
            case.save(case.path, case.new)

        _as_victim(action)
    os.close(tell)
    os.read(listen, 1)
    os.close(listen)
    time.sleep(delay)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def _judge_killed(case: Case, start: Start, label: str, log: Log) -> None:
    start(case.path.parent)
    log.note(label, case.spoilt(old=True, new=True))
    log.counts["old" if case.holds_old() else "new"] += 1


def limit_each_budget(case: Case) -> Log:
    """Save with a limit to the size of a file, for every number of bytes up to the full size."""
    import resource

    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]

    @contextmanager
    def limited(budget: int) -> Iterator[None]:
        resource.setrlimit(resource.RLIMIT_FSIZE, (budget, hard))
        try:
            yield
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))

    size = len(case.after[case.path.name])
    log = Log()
    for budget in range(0, size, -(-size // _MOST_BUDGETS)):
        _attempt(case, f"{budget} of {size} bytes", limited(budget), log, saves=False)
    enough = max(len(data) for data in case.after.values())
    _attempt(case, "just enough bytes", limited(enough), log, saves=True)
    return log


def write_short(case: Case) -> Log:
    """Save while the system takes less at once than it was given, then nothing more."""
    size = len(case.after[case.path.name])
    log = Log()
    for most in sorted({-(-size // 1000), size // 3 + 1, size - 1}):
        _attempt(case, f"{most} bytes at once", watched(_taking(most)), log, saves=True)
        _attempt(case, f"{most} bytes, then full", watched(_taking(most, 1)), log, saves=False)
    return log


def _taking(most: int, calls: int | None = None) -> Around:
    """Let each ``os.write`` take ``most`` bytes, and only the first ``calls`` of them anything."""
    count = 0

    def around(step: str, call: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        nonlocal count
        if step != "write":
            return call(*args)
        count += 1
        if calls is not None and count > calls:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        if len(args) == 1:  # a file object: it writes all or raises
            return call(*args)
        return call(args[0], args[1][:most])

    return around


def fill_partition(case: Case) -> Log:
    """Save on a small partition while it fills up; needs a mount table of its own."""
    top = case.path.parent.parent
    pages = sum(-(-len(d) // PAGE) for s in (case.before, case.after) for d in s.values()) + 2
    size = f"size={(pages + 2) * PAGE}"
    mount = shutil.which("mount") or "mount"
    subprocess.run([mount, "-t", "tmpfs", "-o", size, "none", str(top)], check=True)
    case.path.parent.mkdir()
    filler = top / "filler"
    log = Log()
    for free in range(pages):
        case.reset()
        with filler.open("wb", buffering=0) as file:
            try:
                while file.write(bytes(PAGE)):
                    pass
            except OSError:
                filled = file.tell()
            file.truncate(max(0, filled - free * PAGE))
        _attempt(case, f"{free} free pages", nullcontext(), log, saves=None)
        filler.unlink()
    log.note("altogether", "" if log.counts["saved"] else "the partition was always too small")
    log.note("altogether", "" if log.counts["refused"] else "no save was refused")
    return log


def fail_each_step(case: Case) -> Log:
    """Fail each file call of a save, once or for good, with each of :data:`CODES`."""
    names = _steps(case)
    log = Log()
    for number, name in enumerate(names):
        for code in CODES:
            for on in (False, True):
                fault = failing(number, code, on=on, names=names)
                often = "from then on" if on else "once"
                label = f"{errno.errorcode[code]} in call {number} ({name}) {often}"
                _attempt(case, label, watched(fault), log, saves=None)
                log.counts["faults"] += 1
    return log


def _attempt(
    case: Case,
    label: str,
    trouble: AbstractContextManager[None],
    log: Log,
    *,
    saves: bool | None,
) -> None:
    """Save in trouble; it must succeed or be refused as ``saves`` says, None meaning either."""
    case.reset()
    files = open_files()
    error = case.attempt(trouble)
    log.counts["refused" if error else "saved"] += 1
    log.note(label, case.misjudged(error))
    # A fault after the new file took its place may be reported too.
    log.note(label, case.spoilt(old=error is not None, new=error is None or saves is None))
    if saves is not None and saves != (error is None):
        log.note(label, "it was saved all the same" if error is None else f"it failed: {error}")
    if open_files() != files:
        log.note(label, "a file stayed open")
