"""Does a task in a fresh Python, where killing, limits and replaced functions harm nobody.

``in_child(task, *args)`` needs only that ``task``, and every function it is given, stands at the
top level of a module. Run as ``python -m tests.faults.child RESULT``, the task on standard input.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

ROOT = Path(__file__).resolve().parents[2]
R = TypeVar("R")


def in_child(task: Callable[..., R], *args: object, prefix: Sequence[str] = ()) -> R:
    """Return ``task(*args)``, worked out in another process.

    ``prefix`` is put before the command, for instance to give it a mount table of its own.
    Raises AssertionError with what the process said, if it ended without a result.
    """
    with tempfile.TemporaryDirectory() as folder:
        result = Path(folder) / "result"
        done = subprocess.run(
            [*prefix, sys.executable, "-m", "tests.faults.child", str(result)],
            input=pickle.dumps((task, args)),
            cwd=ROOT,
            # One thread only, so that it may fork without a doubt.
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            capture_output=True,
        )
        said = done.stderr.decode(errors="replace")[-4000:]
        assert done.returncode == 0, f"The process ended with {done.returncode} and said:\n{said}"
        answer: R = pickle.loads(result.read_bytes())  # noqa: S301
        return answer


def main() -> None:
    task, args = pickle.load(sys.stdin.buffer)  # noqa: S301
    with Path(sys.argv[1]).open("wb") as result:  # now: the task may give up its rights
        result.write(pickle.dumps(task(*args)))


if __name__ == "__main__":
    main()
