"""The examples in the docstrings are true."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from types import ModuleType

import pytest

PACKAGES = ("workbench.physics", "workbench.units", "workbench.study")


def _modules() -> list[ModuleType]:
    found = [importlib.import_module("workbench.words")]
    for name in PACKAGES:
        package = importlib.import_module(name)
        found.append(package)
        found += [
            importlib.import_module(inner.name)
            for inner in pkgutil.walk_packages(package.__path__, f"{name}.")
        ]
    return found


@pytest.mark.parametrize("module", _modules(), ids=lambda module: module.__name__)
def test_the_examples_in_a_modules_docstrings_are_true(module: ModuleType) -> None:
    failed, _ = doctest.testmod(module)
    assert failed == 0


def test_there_are_examples_to_check() -> None:
    finder = doctest.DocTestFinder()
    examples = [case for module in _modules() for case in finder.find(module) if case.examples]
    assert len(examples) >= 12
