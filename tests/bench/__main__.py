"""``python3 tests/bench [part …] [--rounds N] [--json]``: how fast, in ratios of one run.

No part of the checks: nothing here is asserted, for machines are noisy and a person must read it.
Each part runs in a process of its own. Sets itself up like the other commands.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(1, str(ROOT))

from workbench import bootstrap  # noqa: E402


def main(arguments: "list[str]") -> int:
    """Print the result; return the exit status."""
    try:
        if bootstrap.missing(bootstrap.NEEDED):
            bootstrap.enter("tests/bench", "run", arguments)
        from workbench import qt_libraries

        if sys.platform.startswith("linux"):
            qt_libraries.ensure_libraries("offscreen")
    except bootstrap.Refusal as refusal:
        bootstrap.say(str(refusal))
        return bootstrap.REFUSED
    from report import report

    return report(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
