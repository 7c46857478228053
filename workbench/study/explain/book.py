"""Finds the working of a figure by its key, such as "cycle.worst" or "bands.drawdown:2".

The part before the dot is the page, the word after it the figure, and the numbers its place in a
table. Each page has a module here with ``FIGURES``: the explaining function of each word. It is
imported when one of its figures is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from workbench.study.evaluate import Results
from workbench.study.explain.explanation import Asked, Explain, Explanation
from workbench.units import Display


def explain(
    key: str, title: str, value: str, results: Results, display: Display, own: Any = None
) -> Explanation | None:
    """Explain a figure that a page shows as ``value`` under ``title``.

    Args:
        own: what that page shows beside the results; see :class:`Asked`.

    Returns:
        None where the results do not hold the figure (any more).

    Raises:
        KeyError: Nothing explains a figure of that key.
    """
    function, place = _entry(key)
    working = function(Asked(results, display, own, place))
    if working is None:
        return None
    return Explanation(key, title, value, working.steps, working.beside, working.picture)


def figures_of(page: str) -> dict[str, Explain]:
    """The explaining functions of a page by the word of each. Raises KeyError: it has none."""
    try:
        module = import_module(f"workbench.study.explain.{page}")
    except ModuleNotFoundError as missing:
        raise KeyError(page) from missing
    figures: dict[str, Explain] = module.FIGURES
    return figures


def _entry(key: str) -> tuple[Explain, tuple[int, ...]]:
    name, *place = key.split(":")
    page, _, word = name.partition(".")
    return figures_of(page)[word], tuple(map(int, place))
