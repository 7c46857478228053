"""The demo's estimate for the tests of its paper, with some entries replaced."""

from __future__ import annotations

import io
from functools import cache
from typing import Any

from pypdf import PdfReader

from workbench import paths
from workbench.job import document
from workbench.job.job import Job
from workbench.report.blocks import PaperContent
from workbench.report.estimate import estimate_content
from workbench.report.typeset import pdf
from workbench.study.desk import load_candidates
from workbench.study.evaluate import Results, evaluate
from workbench.units import Display, System

US = Display()
SI = Display(System.METRIC)


@cache
def demo() -> Job:
    return document.read(paths.demo_job())


def of(**entries: Any) -> Results:
    job = demo().changed(**entries)
    return evaluate(job, load_candidates(paths.default_catalog(), job)[1])


def content(display: Display = US, **entries: Any) -> PaperContent:
    return estimate_content(of(**entries), display)


def printed(paper: PaperContent) -> str:
    """The text of the PDF, in one line with single spaces."""
    return " ".join(" ".join(lines_of(paper)).split())


def lines_of(paper: PaperContent) -> list[str]:
    pages = PdfReader(io.BytesIO(pdf(paper))).pages
    return [line for page in pages for line in page.extract_text().splitlines()]


def headings(paper: PaperContent) -> list[str]:
    return [section.key for section in paper.sections]
