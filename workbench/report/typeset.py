"""Content becomes pages: typst sets it by the template of its kind.

Every text goes in as data (JSON) and is placed as it stands, so nothing that a person types is ever
markup. The PDF is tagged (ISO 14289-1, PDF/UA-1, which typst checks), all fonts are the bundled
ones, and nothing of the machine goes in: no clock, time zone, locale or display.

A template is a file. The firm's own, in the folder :func:`own_templates`, goes before the shipped
one of the same name; it sees what it is given and no other file.
"""

from __future__ import annotations

import json
import re
import tempfile
import unicodedata
from bisect import bisect_left
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from workbench import paths
from workbench.file_reasons import shown
from workbench.report.blocks import PaperContent
from workbench.report.paper_data import files_of, texts_of
from workbench.safe_file import FileError, read_bytes, write_atomic
from workbench.words import tr

COMMON = "common.typ"
FONTS = ("Noto Sans", "DejaVu Sans")
# Without another font to fall back to, what these lack is refused and not left out in silence.
_PDF = {"format": "pdf", "pdf_standards": ["ua-1"]}
_MAIN = f"#set text(font: {FONTS!r}, fallback: false)\n".replace("'", '"')
LARGEST_TEMPLATE = 1_000_000  # bytes
FEWEST_LINES = 3
_WELL: dict[str, Any] = {"wants": "any", "pages": 1, "lines": FEWEST_LINES, "squeezed": 0}
_SPARSE_LINES = 14  # on a last page that one would rather save
_SAVING = ("0.88", "0.94")
_NEAR = ("1", "0.96", "0.92", "0.88", "1.05", "1.1", "1.15")
_MOST_PRESSED = 3  # pages that may become one: at a scale of 0.55 they take 0.3 of the room
_CLOSER = tuple(f"{percent / 100:g}" for percent in range(100, 50, -5))
_EXCERPT = 24  # characters beside what is missing
_MISSING = re.compile(
    r'the text (?:`"(.+?)"` could not|contains the disallowed codepoint `"(.+?)"`)', re.DOTALL
)
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")
_PLACE = re.compile(r"┌─ (?:.*[/\\])?([^/\\:]+\.typ):(\d+)")
# Against accidents: typst would ask the network for it, and the paper would hang on that.
_PACKAGE = re.compile(rb'"@[\w-]+/')


_EndAt = Callable[[str], dict[str, Any]]


class PaperError(Exception):
    """A paper cannot be made: what is wrong, and what to do; both are for the user."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message, remedy)
        self.message = message
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.message} {self.remedy}"


def pdf(content: PaperContent) -> bytes:
    """The paper as PDF/UA-1; the same content gives the same bytes.

    Raises:
        PaperError: a character is not in the font, the logo is no picture, the date is none, or a
            template of the firm fails.
    """
    (paper,) = _set(content, _PDF)
    return paper


def images(content: PaperContent, ppi: float) -> tuple[bytes, ...]:
    """Each page as a PNG picture at so many pixels per inch.

    Raises:
        PaperError: as :func:`pdf`, which is made first, as a picture would leave out in silence
            what the font lacks.
    """
    return _set(content, _PDF, {"format": "png", "ppi": ppi})


def own_templates() -> Path:
    """The folder of the firm's own templates. It may not exist."""
    return paths.user_data() / "papers"


def copy_templates() -> Path:
    """Give the firm the shipped templates to change; what is there already stays as it is.

    From then on papers are set by these files, until they are removed.

    Raises:
        safe_file.SaveError: a file could not be written.
    """
    folder = own_templates()
    for source in sorted(_shipped_templates().glob("*.typ")):
        if not (folder / source.name).exists():
            folder.mkdir(parents=True, exist_ok=True)
            write_atomic(folder / source.name, source.read_bytes())
    return folder


def _shipped_templates() -> Path:
    return paths.resources() / "papers"


@cache
def _fonts() -> Any:
    import typst

    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[paths.resources() / "fonts"],
    )


def _set(content: PaperContent, *formats: dict[str, Any]) -> tuple[bytes, ...]:
    """Set the paper in each of these formats, one after the other; give the pages of the last."""
    if content.date:
        _check_date(content.date)
    templates = {name: _template(name) for name in (f"{content.kind}.typ", COMMON)}
    files = {name: source for name, (_, source) in templates.items()} | files_of(content)
    files["main.typ"] = f'{_MAIN}#include "{content.kind}.typ"'.encode()
    own = [path for path, _ in templates.values() if path.parent == own_templates()]
    # The same inputs for all of them, so that typst lays the pages out once.
    ppi = formats[-1].get("ppi")
    inputs = {} if ppi is None else {"ppi": f"{ppi:g}"}
    made: tuple[bytes, ...] = ()
    try:
        with _compiling(files) as given:
            inputs["scale"] = _scale(given, inputs)
            for one in formats:
                made = _compile(given | {"sys_inputs": inputs}, one)
    except RuntimeError as error:  # of which typst's own error is a kind
        raise _paper_error(error, content, own) from error
    return made


@contextmanager
def _compiling(files: dict[str, bytes]) -> Iterator[dict[str, Any]]:
    """The arguments by which typst sees these files and no others, and no package.

    They lie in a folder of their own: of files in memory it takes texts only, and no pictures.

    Raises:
        PaperError: they cannot be written.
    """
    with ExitStack() as stack:
        try:
            folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="paper-")))
            for name, content in files.items():
                (folder / name).write_bytes(content)
            (folder / "none").mkdir()
        except OSError as error:
            raise PaperError(
                tr("The paper could not be made, as its parts could not be written to the folder"
                   " for temporary files: {reason}.", reason=error.strerror or error),
                tr("Make room on the disk, then try again."),
            ) from error  # fmt: skip
        yield {
            "input": str(folder / "main.typ"),
            "root": str(folder),
            "package_path": str(folder / "none"),
            "package_cache_path": str(folder / "none"),
            "font_paths": _fonts(),
        }


def _compile(given: dict[str, Any], options: dict[str, Any]) -> tuple[bytes, ...]:
    import typst  # not needed before the first paper

    made = typst.compile(**given, **options)
    return tuple(made) if isinstance(made, list) else (made,)


def _scale(given: dict[str, Any], inputs: dict[str, str]) -> str:
    """How close the paper must be set so that it ends well; the template says what that means.

    One that belongs on one page is set closer until it stands there, with no cell of a table broken
    if that can be; any other a little closer if that saves an almost empty page, or closer or
    wider until its last page holds three lines or more. Where nothing helps it stays as it is.
    """

    def end_at(scale: str) -> dict[str, Any]:
        return _end(given | {"sys_inputs": inputs | {"scale": scale}})

    first = end_at("1")
    tries: tuple[str, ...] = _NEAR
    if first["wants"] == "one":
        if first["pages"] <= _MOST_PRESSED and (found := _one_page(end_at)):
            return found
        tries = _CLOSER[::-1]  # small print on few pages
    elif first["lines"] < _SPARSE_LINES and (saving := _saving(end_at, first["pages"])):
        return saving
    return next((scale for scale in tries if _ends_well(end_at(scale))), "1")


def _saving(end_at: _EndAt, pages: int) -> str:
    """The most open scale that saves one of so many pages, or "" if none does."""
    found = ""
    if pages == 1:
        return found
    for scale in _SAVING:  # the closest first: mostly it saves none, and no other need be tried
        end = end_at(scale)
        if end["pages"] >= pages or not _ends_well(end):
            break
        found = scale
    return found


def _ends_well(end: dict[str, Any]) -> bool:
    return bool(end["pages"] == 1 or end["lines"] >= FEWEST_LINES)


def _one_page(end_at: _EndAt) -> str:
    """The largest scale at which it stands on one page, or "" if there is none.

    It may be smaller if that spares the cells of tables from being broken.
    """
    first = bisect_left(_CLOSER, 1, key=lambda scale: int(end_at(scale)["pages"] == 1))
    fitting = _CLOSER[first:]
    for scale in fitting:
        if not end_at(scale)["squeezed"]:
            return scale
    return fitting[0] if fitting else ""


def _end(given: dict[str, Any]) -> dict[str, Any]:
    """What the template tells of the paper's end; that all is well if nothing."""
    import typst

    try:
        told = typst.query(**given, selector="<paper-end>", field="value")
    except RuntimeError:  # it does not say where; the setting that follows meets the same fault
        return _WELL
    ends = json.loads(told)
    is_told = bool(ends) and isinstance(ends[0], dict) and ends[0].keys() >= _WELL.keys()
    return ends[0] if is_told else _WELL


def _check_date(text: str) -> None:
    try:
        date.fromisoformat(text)
    except ValueError as error:
        raise PaperError(
            tr("“{text}” is no date.", text=shown(text)),
            tr("Write the date as year-month-day, such as 2026-03-31."),
        ) from error


def _template(name: str) -> tuple[Path, bytes]:
    """The file by which a paper is set, and what it says: the firm's own if there is one."""
    own = own_templates() / name
    if not own.exists():
        path = _shipped_templates() / name
        return path, path.read_bytes()
    try:
        source = read_bytes(own, LARGEST_TEMPLATE)
        source.decode()
    except FileError as error:
        raise PaperError(error.message, _template_remedy()) from error
    except UnicodeDecodeError as error:
        raise PaperError(
            tr("The firm's own template “{path}” is not written in UTF-8.", path=own),
            _template_remedy(),
        ) from error
    if _PACKAGE.search(source):
        raise PaperError(
            tr(
                "The firm's own template “{path}” asks for a package, which would be fetched from"
                " the network.",
                path=own,
            ),
            _template_remedy(),
        )
    return own, source


def _template_remedy() -> str:
    return tr("Mend that file, or remove it: then the template of the program is used.")


def _paper_error(error: RuntimeError, content: PaperContent, own: list[Path]) -> PaperError:
    """What typst says, as what a person can mend."""
    told = getattr(error, "diagnostic", str(error))
    missing = _missing_characters(told)
    if missing and (found := _where(content, missing)):
        return _missing_error(found)
    if content.head.logo and _is_broken(content):
        return PaperError(
            tr("The firm's logo cannot be read as a picture."),
            tr("Choose another file (PNG, JPEG or SVG), or none."),
        )
    reason = getattr(error, "message", str(error))
    if own:
        place = _PLACE.search(told)
        named = [path for path in own if place and path.name == place[1]]
        line = tr(", line {line}", line=place[2]) if place and named else ""
        return PaperError(
            tr(
                "The firm's own template “{path}”{line} cannot be used: {reason}.",
                path="”, “".join(str(path) for path in named or own),
                line=line,
                reason=reason.rstrip("."),
            ),
            _template_remedy(),
        )
    return PaperError(
        tr("The paper could not be made: {reason}.", reason=reason.rstrip(".")),
        tr("This is a fault of the program; please report it with the job that shows it."),
    )


def _missing_characters(told: str) -> list[str]:
    """What the font lacks, by what typst says, each once and in its order."""
    found = []
    for one in _MISSING.finditer(told):
        text = _ESCAPED.sub(lambda code: chr(int(code[1], 16)), one[1] or one[2])
        found += [text] if text not in found else []
    return found


def _where(content: PaperContent, missing: list[str]) -> list[tuple[str, str, str]]:
    """Each missing character that stands in the content, its heading, and an excerpt."""
    found = []
    for one in missing:
        for heading, text in texts_of(content):
            at = text.find(one)
            if at >= 0:
                found.append((one, heading, _excerpt(text, at, len(one))))
                break
    return found


def _excerpt(text: str, at: int, length: int) -> str:
    start, end = max(0, at - _EXCERPT), at + length + _EXCERPT
    cut = text[start:end].replace("\n", " ").strip()
    return ("…" if start else "") + cut + ("…" if end < len(text) else "")


def _missing_error(found: list[tuple[str, str, str]]) -> PaperError:
    told = "; ".join(
        tr("{character} in “{heading}”: “{excerpt}”",
           character=", ".join(_named(one)), heading=heading, excerpt=shown(excerpt))
        for one, heading, excerpt in found[:5]
    )  # fmt: skip
    if len(found) > 5:
        told += tr("; and {count} more", count=len(found) - 5)
    return PaperError(
        tr("The font of the papers lacks what is written there: {told}.", told=told),
        tr("Write it in other characters; Latin, Greek and Cyrillic letters can be printed."),
    )


def _named(text: str) -> Iterator[str]:
    for character in text:
        name = unicodedata.name(character, tr("a control character"))
        seen = f"“{character}” " if character.isprintable() else ""
        yield f"{seen}U+{ord(character):04X} {name}"


def _is_broken(content: PaperContent) -> bool:
    """Whether typst cannot even show the logo by itself."""
    name = f"logo.{content.head.logo_type}"
    files = {"main.typ": f'#image("{name}")'.encode(), name: content.head.logo}
    try:
        with _compiling(files) as given:
            _compile(given, {"format": "png", "ppi": 10})
    except RuntimeError:
        return True
    return False
