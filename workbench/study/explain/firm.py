"""How the figure of the page "Our firm" comes about: how many entries differ from what is kept.

``asked.own`` is what the firm's file was seen to hold, None where it cannot be read.
"""

from __future__ import annotations

from workbench.job.firm import FIRM_ENTRIES, differing
from workbench.job.labels import label_of
from workbench.study.explain.explanation import Asked, Explain, Working
from workbench.study.working import Step
from workbench.words import tr


def _entries(asked: Asked) -> Working | None:
    source = tr("the firm's file, as it was when this page was opened")
    title, formula = tr("Entries that differ"), tr("this job's entries held against the file's")
    if not isinstance(asked.own, dict):
        unread = tr("The file cannot be read; nothing can be held against it.")
        return Working((Step(title, formula, unread, source),))
    names = differing(asked.results.job, asked.own)
    told = tr("{count} of {all}", count=len(names), all=len(FIRM_ENTRIES))
    steps = [Step(label_of(name), tr("differs"), tr("1 entry"), source) for name in names]
    return Working((*steps, Step(title, formula, told, source)))


FIGURES: dict[str, Explain] = {"entries": _entries}
"""The explaining function of each figure of the page."""
