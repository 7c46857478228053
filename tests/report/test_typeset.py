"""Papers are set as they are meant: tagged, in our fonts, the same everywhere, nothing left out."""

from __future__ import annotations

import ast
import hashlib
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from tests.report import samples
from tests.report.reading import (
    POINTS_PER_MM,
    alternatives,
    fonts,
    lines_per_page,
    packed,
    reader,
    tags,
    text_of,
)
from workbench.report.blocks import (
    Facts,
    Formula,
    Large,
    PaperContent,
    Section,
    Sign,
    Table,
    Ticks,
    Warn,
    Words,
)
from workbench.report.paper_data import texts_of
from workbench.report.typeset import (
    FEWEST_LINES,
    PaperError,
    images,
    pdf,
)

ROOT = Path(__file__).resolve().parents[2]
KINDS = {"estimate": samples.estimate, "card": samples.card, "chart": samples.chart}
SHEETS = {"us-letter": (612.0, 792.0), "a4": (595.276, 841.89)}
OUR_FONTS = {"NotoSans-Regular", "NotoSans-Bold", "DejaVuSans"}
EVERYWHERE = [(kind, sheet) for kind in KINDS for sheet in SHEETS]


def with_text(text: str, kind: str = "estimate") -> PaperContent:
    """A paper with the text in every place where one can stand."""
    return replace(
        KINDS[kind]("a4"),
        facts=((text, text),),
        sections=(
            Section(key="one", heading="Heading " + text.replace("\n", " ")[:60], blocks=(
                Words(text=text), Words(text=text, tone="strong"), Words(text=text, tone="muted"),
                Warn(word=text[:30], text=text), Facts(rows=((text, text), ("short", text))),
                Table(name=text, columns=(text[:40], "B", text[:40]), rows=((text, "1", text),)),
                Ticks(steps=(text,)), Large(name=text, value=text[:60], remark=text),
                Sign(lines=(text[:60],)),
                Formula(title=text, formula=text, numbers=text, source=text),
            )),
        ),
        foot=text[:100],
    )  # fmt: skip


# --- what a PDF must have ---


@pytest.mark.parametrize(("kind", "sheet"), EVERYWHERE)
def test_a_pdf_is_tagged_and_says_what_it_is(kind: str, sheet: str) -> None:
    content = KINDS[kind](sheet)
    made = pdf(content)
    read = reader(made)
    assert read.metadata is not None
    assert read.metadata.title == content.title
    assert read.metadata.author == samples.FIRM
    assert read.metadata.creation_date is not None
    assert read.metadata.creation_date.date().isoformat() == content.date
    root = read.trailer["/Root"].get_object()
    assert root["/Lang"] == "en"  # type: ignore[index]
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert b"pdfuaid:part" in made
    wide, high = SHEETS[sheet] if kind != "chart" else SHEETS[sheet][::-1]
    for page in read.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            (wide, high), abs=0.01
        )


def test_the_structure_of_a_paper_is_in_its_tags() -> None:
    content = samples.estimate()
    found = tags(pdf(content))
    assert found["Title"] == 1
    assert found["H1"] == len(content.sections)
    assert found["Table"] == 2
    assert found["TH"] == len(samples.OPTIONS.columns) + len(samples.lines().columns)
    assert found["TR"] == 2 + len(samples.OPTIONS.rows) + len(samples.lines().rows)
    assert found["LI"] == 2
    assert found["Figure"] == 2


def test_pictures_are_told_in_words() -> None:
    assert set(alternatives(pdf(samples.estimate()))) == {
        samples.PICTURE.told,
        f"Logo of {samples.FIRM}",
    }


@pytest.mark.parametrize(("kind", "sheet"), EVERYWHERE)
def test_all_fonts_are_ours_and_embedded(kind: str, sheet: str) -> None:
    found = fonts(pdf(KINDS[kind](sheet)))
    assert found.keys() <= OUR_FONTS
    assert {"NotoSans-Regular", "NotoSans-Bold"} <= found.keys()
    assert all(found.values())


@pytest.mark.parametrize(("kind", "sheet"), EVERYWHERE)
def test_every_text_of_the_content_stands_in_the_pdf(kind: str, sheet: str) -> None:
    content = KINDS[kind](sheet)
    found = text_of(pdf(content))
    told = {block.told for s in content.sections for block in s.blocks if hasattr(block, "told")}
    names = {b.name for s in content.sections for b in s.blocks if isinstance(b, Table)}
    missing = [
        text
        for _, text in texts_of(content)
        for line in text.split("\n")
        if packed(line) not in found and text not in told | names
    ]
    assert missing == []


def test_a_plot_stays_a_drawing_with_its_texts() -> None:
    made = pdf(samples.estimate())
    assert "Drawdown≥0,gal" in text_of(made)
    pictures = [one for page in reader(made).pages for one in page["/Resources"].get("/XObject", {})
                .values() if one.get_object()["/Subtype"] == "/Image"]  # fmt: skip
    assert len(pictures) == 1  # the logo alone


# --- pages ---


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("items", [0, 1, 9, 17, 20, 33, 45, 48, 90])
def test_no_page_holds_less_than_three_lines(sheet: str, items: int) -> None:
    counts = lines_per_page(pdf(samples.estimate(sheet, items)))
    assert min(counts) >= FEWEST_LINES
    assert len(counts) >= 2


def test_a_table_over_several_pages_repeats_its_header() -> None:
    pages = reader(pdf(samples.estimate(items=90))).pages
    texts = [page.extract_text() for page in pages]
    holding = [text for text in texts if "of the header, brass" in text]
    assert len(holding) >= 2
    assert all("Quantity" in text and "Amount" in text for text in holding)


def test_nobody_signs_a_page_that_does_not_say_what_for() -> None:
    for items in range(14, 34, 2):
        pages = reader(pdf(samples.estimate(items=items))).pages
        (signed,) = [page for page in pages if "For the firm, date" in page.extract_text()]
        assert "I accept option" in signed.extract_text()
        assert "Acceptance" in signed.extract_text()


def test_a_short_table_stands_on_one_page() -> None:
    words = Words(text="A line.\n" * 33)
    section = Section(key="o", heading="Options", blocks=(words, samples.OPTIONS))
    pages = reader(pdf(replace(samples.estimate(), sections=(section,)))).pages
    texts = [page.extract_text() for page in pages]
    assert ["Switch band" in text for text in texts] == ["$1,184.00" in text for text in texts]


def test_each_page_has_the_foot_and_its_number() -> None:
    content = samples.estimate(items=60)
    pages = reader(pdf(content)).pages
    for number, page in enumerate(pages, 1):
        text = page.extract_text()
        assert content.foot in text
        assert f"page {number} of {len(pages)}" in text


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("more", [0, 5, 12])
def test_a_card_stands_on_one_page_in_print_as_large_as_fits(sheet: str, more: int) -> None:
    content = samples.card(sheet)
    setting, steps, left = content.sections
    ticks = Ticks(steps=("One step more, told in some ten words or a few besides.",) * more)
    content = replace(content, sections=(setting, replace(steps, blocks=(*steps.blocks, ticks)),
                                         left))  # fmt: skip
    assert len(reader(pdf(content)).pages) == 1


def test_a_card_that_fits_no_page_goes_on_to_the_next() -> None:
    content = samples.card()
    long = Section(key="long", heading="Remark", blocks=(Words(text="Some words. " * 330),))
    content = replace(content, sections=(*content.sections, long))
    made = pdf(content)
    assert len(reader(made).pages) == 2
    assert text_of(made).count("Somewords.") == 330


@pytest.mark.parametrize(("kind", "sheet"), EVERYWHERE)
@pytest.mark.parametrize("text", ["x" * 4000, "wide words of some length " * 150, "ordinary"])
def test_nothing_stands_within_fifteen_millimetres_of_the_edge(
    kind: str, sheet: str, text: str
) -> None:
    from PySide6.QtGui import QImage

    content = with_text(text, kind) if text != "ordinary" else KINDS[kind](sheet)
    for png in images(content, 72.0):
        page = QImage.fromData(png).convertToFormat(QImage.Format.Format_Grayscale8)
        edge = round(15 * POINTS_PER_MM) - 1
        for strip in (
            page.copy(0, 0, edge, page.height()),
            page.copy(page.width() - edge, 0, edge, page.height()),
            page.copy(0, 0, page.width(), edge),
            page.copy(0, page.height() - edge, page.width(), edge),
        ):
            blank = QImage(strip.size(), strip.format())
            blank.fill(0xFFFFFFFF)
            assert strip == blank, (page.size(), strip.size())


# --- what people type ---

HOSTILE = [
    '#panic("no") #import "x.typ" #set page(fill: red)',
    "*strong* _emphasis_ `raw` $x^2$ <label> @reference = Heading",
    r"\ back \u{41} // comment /* block */ ~ -- --- ... 'quotes' \"more\"",
    "- list\n+ list\n/ term: list\n1. list",
    "[content] {code} (group) #[x] #{x} https://example.com",
    "line one\r\nline two\rline three\n\nafter an empty line\ttab",
    "שלום עולם and English mixed",
    "≥ ≤ − × · √ ≈ → ° ² ½ Ω µ ± € £ “q” ’ … ☐ ✓",
    "z\u0301a\u0300 combining, soft\u00adhyphen, zero\u200bwidth",
]


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("kind", KINDS)
def test_what_a_person_types_is_printed_as_it_stands(text: str, kind: str) -> None:
    found = text_of(pdf(with_text(text, kind)))
    if "שלום" in text:  # a reader of right-to-left text puts its letters in another order
        assert all(letter in found for letter in "שלוםעולם")
        return
    for line in text.replace("\r", "\n").split("\n"):
        letters = packed(line).replace("\u00ad", "")
        assert letters in found.replace("\u00ad", "")


@pytest.mark.parametrize("long", ["x" * 4000, "word " * 800, "a\n" * 200, "ÄÖÜ" * 900])
@pytest.mark.parametrize("kind", KINDS)
def test_long_texts_are_printed_whole(long: str, kind: str) -> None:
    blocks = (
        Words(text=long), Warn(word="Caution", text=long), Facts(rows=(("Fact", long),)),
        Table(name="Table", columns=("A", "B"), rows=((long, "1"), ("2", long))),
        Ticks(steps=(long,)),
    )  # fmt: skip
    section = Section(key="one", heading="One", blocks=blocks)
    found = text_of(pdf(replace(KINDS[kind]("a4"), sections=(section,))))
    whole = packed(long)
    assert found.count(whole[:3]) >= whole.count(whole[:3]) * (len(blocks) + 1) - 40  # page ends
    assert found.count(whole[0]) >= whole.count(whole[0]) * (len(blocks) + 1)


@pytest.mark.parametrize("kind", KINDS)
def test_empty_papers_can_be_set(kind: str) -> None:
    content = PaperContent(
        kind=kind, title="T", language="en", sheet="a4", date="", head=samples.Letterhead(),
        facts=(), sections=(), foot="",
    )  # fmt: skip
    assert len(reader(pdf(content)).pages) == 1
    assert reader(pdf(content)).metadata.creation_date is None  # type: ignore[union-attr]
    empty = replace(content, sections=(Section(key="k", heading="", blocks=(
        Words(text=""), Warn(word="", text=""), Facts(rows=()), Ticks(steps=()), Sign(lines=()),
        Table(name="", columns=("", ""), rows=()), Large(name="", value=""),
        Formula(title="", formula="", numbers="", source=""),
    )),))  # fmt: skip
    assert len(reader(pdf(empty)).pages) == 1


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("Tank 日 in the cellar", "“日” U+65E5 CJK UNIFIED IDEOGRAPH-65E5"),
        ("Shower \U0001f6bf", "U+1F6BF SHOWER"),
        ("a bell \a rings", "U+0007 a control character"),
        ("nothing \0 here", "U+0000 a control character"),
    ],
)
def test_a_missing_character_is_refused_with_its_name_and_its_place(text: str, named: str) -> None:
    content = samples.estimate()
    section = Section(key="payment", heading="Payment", blocks=(Words(text="Before. " + text),))
    content = replace(content, sections=(*content.sections, section))
    for make in (pdf, lambda paper: images(paper, 50.0)):
        with pytest.raises(PaperError) as refusal:
            make(content)
        assert named in refusal.value.message
        assert "in “Payment”: “Before. " in refusal.value.message
        assert refusal.value.remedy == (
            "Write it in other characters; Latin, Greek and Cyrillic letters can be printed."
        )


def test_a_missing_character_in_a_drawing_is_refused_too() -> None:
    picture = replace(samples.PICTURE, svg=samples.PICTURE.svg.replace("30/50 psi", "日 &amp; b"))
    section = Section(key="options", heading="Options", blocks=(picture,))
    with pytest.raises(PaperError, match=r"U\+65E5 .* in “Options”: “日 & b”"):
        pdf(replace(samples.estimate(), sections=(section,)))


def test_several_missing_characters_are_all_named() -> None:
    with pytest.raises(PaperError) as refusal:
        pdf(replace(samples.estimate(), foot="".join("日本語漢字文化")))
    assert "“日”" in refusal.value.message
    assert "“語”" in refusal.value.message


def test_what_the_program_says_itself_can_be_printed() -> None:
    found: set[str] = set()
    for path in (ROOT / "workbench").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found |= {one for one in node.value if not one.isascii() and one.isprintable()}
    assert {"−", "×", "≥"} <= found
    section = Section(key="all", heading="All", blocks=(Words(text=" ".join(sorted(found))),))
    pdf(replace(samples.estimate(), sections=(section,)))


def test_a_date_that_is_none_is_refused() -> None:
    with pytest.raises(PaperError, match="“2026-02-30” is no date"):
        pdf(replace(samples.estimate(), date="2026-02-30"))


@pytest.mark.parametrize("kind", ["png", "jpg", "svg"])
def test_a_logo_that_is_no_picture_is_refused(kind: str) -> None:
    head = replace(samples.HEAD, logo=b"\xff\xd8\xff\xe0 nonsense", logo_type=kind)
    with pytest.raises(PaperError, match="logo cannot be read as a picture"):
        pdf(replace(samples.estimate(), head=head))


def test_a_logo_may_be_a_drawing() -> None:
    svg = samples.plot().encode()
    head = replace(samples.HEAD, logo=svg, logo_type="svg")
    assert tags(pdf(replace(samples.estimate(), head=head)))["Figure"] == 2


# --- the same everywhere ---

_DIGEST = """
import hashlib
from tests.report import samples
from workbench.report.typeset import images, pdf
for make in (samples.estimate, samples.card, samples.chart):
    for sheet in ("us-letter", "a4"):
        print(hashlib.sha256(pdf(make(sheet))).hexdigest())
print(hashlib.sha256(images(samples.card(), 90.0)[0]).hexdigest())
"""


def test_the_bytes_are_the_same_in_every_surrounding() -> None:
    ours = [
        hashlib.sha256(pdf(make(sheet))).hexdigest() for make in KINDS.values() for sheet in SHEETS
    ]
    ours.append(hashlib.sha256(images(samples.card(), 90.0)[0]).hexdigest())
    for change in (
        {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C", "PYTHONHASHSEED": "1"},
        {"TZ": "America/Los_Angeles", "LC_ALL": "de_DE.UTF-8", "QT_SCALE_FACTOR": "2",
         "PYTHONHASHSEED": "77", "SOURCE_DATE_EPOCH": "1"},
    ):  # fmt: skip
        done = subprocess.run(
            [sys.executable, "-c", _DIGEST],
            env=os.environ | change | {"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
            capture_output=True,
            text=True,
            cwd=ROOT,
        )
        assert done.returncode == 0, done.stderr
        assert done.stdout.split() == ours


def test_typst_is_loaded_with_the_first_paper_only() -> None:
    code = "import sys, workbench.report.typeset; sys.exit('typst' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT).returncode == 0
