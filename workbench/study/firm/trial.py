"""Whether the engine that makes the papers can draw a logo: tried once, when one is chosen."""

from __future__ import annotations

import tempfile
from pathlib import Path

from workbench.study.firm.logo import Logo, LogoError
from workbench.words import tr

_PAGE = '#set page(width: 5cm, height: 5cm)\n#image("{name}", width: 1cm, height: 1cm)'


def must_print(logo: Logo) -> None:
    """Draw the logo on a page that is thrown away.

    Raises:
        LogoError: the engine cannot.
    """
    try:
        with tempfile.TemporaryDirectory(prefix="logo-") as folder:
            _draw(logo, Path(folder))
    except OSError as error:
        raise LogoError(
            tr("The picture could not be tried: no temporary file could be written ({reason}).",
               reason=error.strerror or error),
            tr("Make room on the disk, then choose it again."),
        ) from error  # fmt: skip


def _draw(logo: Logo, folder: Path) -> None:
    import typst  # not needed before the first logo is chosen

    # On the disk, for among files in memory typst takes text alone.
    name = f"logo.{logo.kind}"
    page = folder / "page.typ"
    page.write_text(_PAGE.format(name=name), encoding="utf-8")
    (folder / name).write_bytes(logo.data)
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False)
    try:
        typst.compile(page, root=folder, font_paths=fonts, format="png", ppi=72)
    except RuntimeError as error:  # of which typst's own is a kind
        raise LogoError(
            tr("The picture cannot be printed: it is damaged or of an unusual kind."),
            tr("Open it in a drawing program and save it anew as PNG."),
        ) from error
