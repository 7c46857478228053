"""How a paper writes numbers: in the units shown, by the decimal mark of its own locale."""

from __future__ import annotations

from workbench.job.job import Job
from workbench.units import Display


def paper_display(job: Job, display: Display) -> Display:
    """``display`` with the decimal mark by which the firm writes money.

    The machine's own mark has no say, so that the same job is the same paper everywhere.
    """
    from babel import Locale
    from babel.numbers import get_decimal_symbol

    return Display(display.system, get_decimal_symbol(Locale.parse(job.money_form.value)))
