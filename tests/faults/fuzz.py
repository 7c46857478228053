"""Feeds a reader with spoilt files; runs in a child process."""

from __future__ import annotations

import faulthandler
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.faults.case import Errors, unclear
from tests.faults.disturb import Log
from tests.faults.mutations import spoilt

Read = Callable[[Path], Any]
_MEMORY = 200 * 2**20
_ADDRESSES = 8 * 2**30


@dataclass(frozen=True)
class Fuzz:
    """What to read, how, and what is right; see :func:`tests.faults.harness.fuzzed`."""

    read: Read
    sample: bytes
    own_errors: Errors
    path: Path
    rounds: int
    seed: int
    sealed: bool
    reseal: Callable[[bytes], bytes] | None
    hang: float


def feed(fuzz: Fuzz) -> Log:
    """Read every spoilt version of the sample, and note what was not refused as it should be."""
    log = Log()
    fuzz.path.write_bytes(fuzz.sample)
    right = fuzz.read(fuzz.path)
    _limit_addresses()
    before = _most_memory()
    for label, data in spoilt(fuzz.sample, fuzz.rounds, fuzz.seed):
        _feed_one(fuzz, label, data, right if fuzz.sealed else None, log)
        if fuzz.reseal is not None:
            _feed_one(fuzz, f"{label}, sealed again", fuzz.reseal(data), None, log)
    used = _most_memory() - before
    log.note("altogether", f"{used / 2**20:.0f} MB were used" if used > _MEMORY else "")
    return log


def _feed_one(fuzz: Fuzz, label: str, data: bytes, right: Any, log: Log) -> None:
    fuzz.path.unlink(missing_ok=True)  # a new file: some disks wait when one is written over
    fuzz.path.write_bytes(data)
    print(label.encode("ascii", "backslashreplace").decode(), file=sys.stderr)  # for a hang
    faulthandler.dump_traceback_later(fuzz.hang, exit=True)
    try:
        got = fuzz.read(fuzz.path)
    except fuzz.own_errors as error:
        log.counts["refused"] += 1
        log.note(label, unclear(error, fuzz.path.name))
    except BaseException as error:
        log.note(label, f"raised {type(error).__name__}: {error!s:.200}")
    else:
        log.counts["read"] += 1
        if right is not None and got != right:
            log.note(label, "it was read as something else, without a word")
    finally:
        faulthandler.cancel_dump_traceback_later()


def _limit_addresses() -> None:
    """Stop a reader that asks for all memory there is, before the computer suffers."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (_ADDRESSES, _ADDRESSES))


def _most_memory() -> int:
    """Return the most memory this process ever had, in bytes; 0 where that cannot be told."""
    if sys.platform == "win32":
        return 0
    if sys.platform == "linux":
        # Not getrusage: its figure begins with that of the process which started this one.
        status = Path("/proc/self/status").read_text(encoding="ascii", errors="replace")
        line = next(line for line in status.splitlines() if line.startswith("VmHWM:"))
        return int(line.split()[1]) * 1024
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
