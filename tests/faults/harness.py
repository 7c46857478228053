"""Tests for whatever writes or reads a file, one line each.

``save(path, content)`` and ``read(path)`` must stand at the top level of a module, because they
run in a child process. ``content`` is whatever the saver takes, if pickle can carry it.

    def save(path, job): document.write(job, path)

    def test_a_kill_leaves_old_or_new(tmp_path):
        killed(save, OLD, NEW, tmp_path / "job.json", JobError)
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.faults import disturb
from tests.faults.case import Errors, Save, rehearse
from tests.faults.child import in_child
from tests.faults.fuzz import Fuzz, Read, feed
from workbench.safe_file import SaveError, remove_leftovers

_SHOWN = 12
_KIND = 24  # complaints that begin alike are of one kind


def killed(
    save: Save,
    old: Any,
    new: Any,
    path: Path,
    times: int = 200,
    start: disturb.Start = remove_leftovers,
) -> Counter[str]:
    """Kill a save at each of its steps, and ``times`` times at moments over its whole duration.

    After each kill and the next ``start(folder)`` the file must be wholly old or wholly new, with
    no stray file beside it. Returns how often it was "old" and "new"; both must occur. ``old`` may
    be None for no file yet. ``new`` should be large, so that the moments fall into its writing.
    """
    _needs_fork()
    case = rehearse(save, old, new, path, ())
    at_steps = in_child(disturb.kill_at_each_step, case, start)
    at_moments = in_child(disturb.kill_at_moments, case, start, times)
    counts = at_steps.counts + at_moments.counts
    _pass(at_steps, at_moments)
    assert counts["old"], f"no kill came before the new file was in place: {dict(counts)}"
    assert counts["new"], f"no kill came after the new file was in place: {dict(counts)}"
    return counts


def full_disk(
    save: Save, old: Any, new: Any, path: Path, own_errors: Errors = (SaveError,)
) -> Counter[str]:
    """Save where there is room for 0, 1, 2 ... bytes, and where the system takes a part only.

    Each time the save must raise one of ``own_errors``, in plain words, and leave the old file as
    it was; with room enough it must succeed. Give it a small file: each byte is tried.
    """
    case = rehearse(save, old, new, path, own_errors)
    logs = [in_child(disturb.write_short, case)]
    if sys.platform != "win32":
        logs.append(in_child(disturb.limit_each_budget, case))
    return _pass(*logs)


def full_partition(
    save: Save, old: Any, new: Any, path: Path, own_errors: Errors = (SaveError,)
) -> Counter[str]:
    """As :func:`full_disk`, on a real partition that fills up page by page; give it 10 or more."""
    own_table = ("unshare", "--mount")
    probe = f"mount -t tmpfs none {path.parent}"
    path.parent.mkdir(parents=True, exist_ok=True)
    if (
        shutil.which(own_table[0]) is None
        or subprocess.run([*own_table, *probe.split()]).returncode
    ):
        pytest.skip("needs the right to mount a partition")
    case = rehearse(save, old, new, path, own_errors)
    return _pass(in_child(disturb.fill_partition, case, prefix=own_table))


def faulty_steps(
    save: Save, old: Any, new: Any, path: Path, own_errors: Errors = (SaveError,)
) -> Counter[str]:
    """Fail each file call of a save, once and for good, with each of five errors of the system.

    The old file must be intact or the new one wholly in place, without a stray file or one that
    stays open; only ``own_errors`` may be raised, in plain words.
    """
    case = rehearse(save, old, new, path, own_errors)
    return _pass(in_child(disturb.fail_each_step, case))


def fuzzed(
    read: Read,
    sample: bytes,
    own_errors: Errors,
    path: Path,
    *,
    rounds: int = 150,
    seed: int = 1,
    sealed: bool = False,
    reseal: Callable[[bytes], bytes] | None = None,
    hang: float = 60.0,
) -> Counter[str]:
    """Read some thousand spoilt versions of ``sample``.

    Only ``own_errors`` may be raised, in plain words, within 200 MB. With ``sealed``, whatever is
    read without an error must be equal to what the sample holds. ``reseal(data)`` mends a check sum
    after the data was spoilt, so that what comes after the sum is tried too. ``hang`` seconds for
    one version only guard against a reader that never ends.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    fuzz = Fuzz(read, sample, own_errors, path, rounds, seed, sealed, reseal, hang)
    return _pass(in_child(feed, fuzz))


def _pass(*logs: disturb.Log) -> Counter[str]:
    complaints = [complaint for log in logs for complaint in log.complaints]
    kinds: dict[str, str] = {}
    for label, problem in complaints:
        kinds.setdefault(problem[:_KIND], f"{label}: {problem}")
    shown = "\n".join(list(kinds.values())[:_SHOWN])
    assert not complaints, f"{len(complaints)} faults, of each kind one:\n{shown}"
    return sum((log.counts for log in logs), Counter[str]())


def _needs_fork() -> None:
    if not hasattr(os, "fork"):
        pytest.skip("needs a system that can fork")
