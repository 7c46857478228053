"""Papers write numbers by the firm's own locale, wherever they are made."""

from __future__ import annotations

import pytest

from workbench.job.job import Job
from workbench.job.paper_choices import MoneyForm
from workbench.report.paper_display import paper_display
from workbench.units import Display, System


@pytest.mark.parametrize(("form", "mark"), [("en_US", "."), ("de_DE", ","), ("es_MX", "."),
                                            ("fr_CA", ","), ("en_IE", ".")])  # fmt: skip
@pytest.mark.parametrize("shown", [Display(), Display(System.METRIC, ",")])
def test_the_mark_is_that_of_the_money(form: str, mark: str, shown: Display) -> None:
    display = paper_display(Job().changed(money_form=form), shown)
    assert display == Display(shown.system, mark)


@pytest.mark.parametrize("form", MoneyForm)
def test_every_form_has_a_mark(form: MoneyForm) -> None:
    assert paper_display(Job().changed(money_form=form.value), Display()).mark in ".,"
