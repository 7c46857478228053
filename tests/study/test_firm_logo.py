"""The firm's logo is recognised by what it holds; what cannot be printed is refused in words."""

from __future__ import annotations

import base64
import struct
import zlib

import pytest

from workbench.job.firm import FIRM_ENTRIES
from workbench.job.job import Job
from workbench.job.labels import label_of
from workbench.job.texts import LARGEST_PICTURE
from workbench.study.findings import Level
from workbench.study.firm import logo as logo_module
from workbench.study.firm.logo import LARGEST_BYTES, Logo, LogoError, logo_from, logo_of
from workbench.study.firm.prompts import caution, prompts
from workbench.study.firm.trial import must_print
from workbench.study.firm.view import firm_findings, logo_findings

CIRCLE = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle r="9"/></svg>'


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width: int = 3, height: int = 2, *, pixels: bytes | None = None) -> bytes:
    """Grey pixels, one byte each (PNG, 11.2.1: bit depth 8, colour type 0)."""
    rows = b"".join(b"\0" + bytes(width) for _ in range(height)) if pixels is None else pixels
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    parts = (chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(rows)), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


# A grey square of 8 by 8 pixels with the shortest tables, by hand after ITU-T T.81, annex B.
JPEG = bytes.fromhex(
    "ffd8ffdb004300" + "01" * 64 + "ffc0000b080008000801011100"
    "ffc40014000100000000000000000000000000000000"
    "ffc40014100100000000000000000000000000000000"
    "ffda0008010100003f003fffd9"
)  # fmt: skip


@pytest.mark.parametrize(
    ("data", "kind", "pixels"),
    [
        (png(), "png", (3, 2)),
        (JPEG, "jpg", (8, 8)),
        (CIRCLE, "svg", None),
        (b"\xef\xbb\xbf<?xml version='1.0'?>\n" + CIRCLE, "svg", None),
    ],
)
def test_a_picture_is_recognised_kept_and_printed(
    data: bytes, kind: str, pixels: tuple[int, int] | None
) -> None:
    logo = logo_from(data)
    assert (logo.kind, logo.pixels, logo.data) == (kind, pixels, data)
    assert logo_of(logo.text) == logo
    must_print(logo)
    job = Job().changed(firm_logo=logo.text)
    assert firm_findings(job) == ()


def test_no_logo_is_none() -> None:
    assert logo_of("") is None


def test_the_largest_picture_fits_into_a_job() -> None:
    assert 500_000 < LARGEST_BYTES <= 512 * 1024
    assert len(base64.b64encode(bytes(LARGEST_BYTES))) <= LARGEST_PICTURE


def test_the_marker_before_a_jpegs_frame_may_be_filled_up() -> None:
    """ITU-T T.81, B.1.1.2: any marker may be preceded by any number of fill bytes FF."""
    assert logo_from(JPEG[:2] + b"\xff\xff" + JPEG[2:]).pixels == (8, 8)


REFUSED = {
    "nothing": (b"", "no picture"),
    "a text": (b"my logo", "no picture"),
    "a program that speaks of <svg>": (b"print('<svg>')", "no picture"),
    "a page": (b"<html><svg/></html>", "no picture"),
    "half a drawing": (CIRCLE[:-9], "no whole SVG"),
    "a drawing in no known letters": (CIRCLE.replace(b"circle", b"\xff"), "no whole SVG"),
    "a drawing with entities": (b'<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>', "entities"),
    "a picture cut off": (png()[:-1], "not complete"),
    "a picture without an end": (png()[:-12], "not complete"),
    "a picture with a flipped bit": (png().replace(b"IDAT\x78", b"IDAT\x79"), "not complete"),
    "a picture without pixels": (png(0, 2), "not complete"),
    "a picture of one million by one million": (png(10**6, 10**6, pixels=b""), "too large"),
    "a photograph cut off": (JPEG[:-2], "not complete"),
    "a photograph without a frame": (JPEG.replace(b"\xff\xc0", b"\xff\xe0"), "not complete"),
    "too many bytes": (png() + bytes(LARGEST_BYTES), "513 kB; a logo may have 512 kB"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_no_logo_is_refused_with_what_to_do(what: str) -> None:
    data, reason = REFUSED[what]
    with pytest.raises(LogoError) as refused:
        logo_from(data)
    assert reason in str(refused.value)
    assert refused.value.remedy.endswith(".")


def test_a_drawing_that_grows_without_end_is_refused_before_it_is_drawn() -> None:
    """Ten times ten times ten ... : a few hundred bytes that stand for ten thousand million."""
    steps = "".join(
        f'<g id="a{n}">' + f'<use xlink:href="#a{n - 1}"/>' * 10 + "</g>" for n in range(1, 11)
    )
    head = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">'
    bomb = f'{head}<g id="a0"/>{steps}</svg>'
    itself = '<svg><g id="a"><use href="#a"/></g></svg>'
    for drawing in (bomb, itself, "<svg>" + "<g>" * 30_000 + "</g>" * 30_000 + "</svg>"):
        with pytest.raises(LogoError, match="too many parts"):
            logo_from(drawing.encode())
    letters = '<symbol id="l"><path/></symbol>' + '<use href="#l"/>' * 50
    assert logo_from(f"<svg>{letters}</svg>".encode()).kind == "svg"


def test_what_the_engine_cannot_draw_is_refused() -> None:
    broken = logo_from(png(pixels=b"\x09" * 4))  # a whole file, but no such filter
    with pytest.raises(LogoError, match="cannot be printed") as refused:
        must_print(broken)
    assert "save it anew" in refused.value.remedy


def test_no_room_for_the_trial_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_logo: Logo, _folder: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("workbench.study.firm.trial._draw", full)
    with pytest.raises(LogoError, match="No space left"):
        must_print(logo_from(png()))


@pytest.mark.parametrize("text", ["no base64!", "AAA", base64.b64encode(b"my logo").decode()])
def test_a_logo_that_another_program_spoilt_is_a_caution(text: str) -> None:
    (finding,) = logo_findings(Job().changed(firm_logo=text))
    assert (finding.level, finding.code, finding.field) == (
        Level.CAUTION,
        "logo_unusable",
        "firm_logo",
    )
    assert finding.remedy


@pytest.mark.parametrize(
    ("days", "code"), [("a month", "unread"), ("0", "not_above_zero"), ("1.5", "days_range")]
)
def test_what_is_wrong_with_the_validity_is_told(days: str, code: str) -> None:
    found = firm_findings(Job().changed(valid_days=days))
    assert [(one.code, one.field) for one in found] == [(code, "valid_days")]


def test_every_clause_has_a_prompt_and_every_prompt_its_source() -> None:
    known = prompts()
    clauses = {name for name in FIRM_ENTRIES if name.startswith("clause_")}
    assert clauses <= set(known)
    for name, found in known.items():
        assert label_of(name) != name
        assert found
        for prompt in found:
            assert prompt.source
            assert prompt.source in prompt.text
            assert prompt.says.endswith(".")
            assert "common practice" in prompt.source or prompt.place
    assert "no legal advice" in caution()


def test_the_limits_on_a_deposit_are_those_that_are_published() -> None:
    """Massachusetts, General Laws, chapter 142A, section 2 (a) (6): the greater of one third and
    the cost of special orders. Cincinnati Municipal Code, 891-3: 10 % besides special orders.
    California, Business and Professions Code, 7159.5 (a) (3): $1,000 or 10 %, the lesser."""
    payment = {prompt.place: prompt.says for prompt in prompts()["clause_payment"]}
    assert "one third" in payment["Massachusetts"]
    assert "if that is more" in payment["Massachusetts"]
    assert "10 %, besides special orders" in payment["Cincinnati"]
    assert "$1,000 or 10 %, whichever is less" in payment["California"]
    acceptance = {prompt.place: prompt.text for prompt in prompts()["clause_acceptance"]}
    assert "three business days" in acceptance["Massachusetts"]
    assert "from memory" in acceptance["United States"]


def test_a_picture_is_read_by_no_more_than_its_head(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(logo_module, "MOST_PIXELS", 5)
    with pytest.raises(LogoError, match="3 × 2 pixels"):
        logo_from(png())
