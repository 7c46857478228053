"""The one door for every text that a person reads: ``tr("{n} tanks pass", n=12)``.

It needs no Qt, so findings, reports and the command line are translated by the same catalogue as
the window. Qt's own texts (file dialogs, standard buttons) are translated by Qt.
"""

from __future__ import annotations

from collections.abc import Callable


def _as_written(message: str) -> str:
    return message


_lookup: Callable[[str], str] = _as_written


def use_translation(lookup: Callable[[str], str]) -> None:
    """Answer every later :func:`tr` through ``lookup`` (a ``GNUTranslations.gettext``)."""
    global _lookup  # noqa: PLW0603 - the language is one fact of the whole process
    _lookup = lookup


def tr(message: str, /, **values: object) -> str:
    """Translate ``message`` and then put ``values`` into its ``{named}`` places.

    ``message`` must be a plain string literal, so that it can be collected for translators; never
    an f-string, which would be looked up with its values already inside.

    >>> tr("{count} tanks", count=3)
    '3 tanks'
    """
    text = _lookup(message)
    return text.format(**values) if values else text
