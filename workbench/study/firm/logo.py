"""A logo: which kind of picture it is, how large, and why one cannot be used.

In the job it stands in base64, so that a job file stays one text. It is recognised by what it
holds, never by a file's name: PNG by W3C, Portable Network Graphics (Third Edition), 2023, sections
5.2 and 11.2.1; JPEG by ITU-T T.81, 1992, annex B.1.1 and B.2.2; SVG by its root element (W3C,
Scalable Vector Graphics 2, 2018).
"""

from __future__ import annotations

import base64
import binascii
import struct
from dataclasses import dataclass
from xml.etree import ElementTree

from workbench.job.texts import LARGEST_PICTURE
from workbench.words import tr

LARGEST_BYTES = LARGEST_PICTURE // 4 * 3 // 1024 * 1024
"""Half a megabyte, which fits into the job as base64."""
MOST_PIXELS = 16_000_000
"""A picture of more is no logo, and unpacking it would take the memory of all else."""

MOST_PARTS = 20_000
"""Of a drawing: one whose parts use each other can grow without end."""

_LINK = "{http://www.w3.org/1999/xlink}href"
_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
_FRAMES = {0xC0, 0xC1, 0xC2}  # start of frame: baseline, extended, progressive
_BARE = {0x01, *range(0xD0, 0xD8)}  # markers without a length


class LogoError(ValueError):
    """A picture that cannot be a logo; ``remedy`` says what to do."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Logo:
    """A picture's bytes. ``kind`` is "png", "jpg" or "svg"; ``pixels`` its width and height, None
    for SVG, which has none."""

    kind: str
    data: bytes
    pixels: tuple[int, int] | None

    @property
    def text(self) -> str:
        """As it stands in the job."""
        return base64.b64encode(self.data).decode("ascii")


def logo_of(text: str) -> Logo | None:
    """The logo of a job's entry; None where there is none. Raises :class:`LogoError`."""
    if not text:
        return None
    try:
        data = base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as error:
        raise LogoError(
            tr("The logo in this job is damaged: it is no base64 text."), _choose_again()
        ) from error
    return logo_from(data)


def logo_from(data: bytes) -> Logo:
    """The logo that a picture file holds. Raises :class:`LogoError`."""
    if len(data) > LARGEST_BYTES:
        raise LogoError(
            tr("The picture has {size} kB; a logo may have {most} kB.",
               size=f"{-(-len(data) // 1024):,}", most=LARGEST_BYTES // 1024),
            tr("Save it smaller, for example 800 pixels wide."),
        )  # fmt: skip
    if data.startswith(_PNG):
        return _raster("png", data, _png_pixels(data))
    if data.startswith(_JPEG):
        return _raster("jpg", data, _jpeg_pixels(data))
    return _vector(data)


def _raster(kind: str, data: bytes, pixels: tuple[int, int] | None) -> Logo:
    if pixels is None or 0 in pixels:
        raise LogoError(tr("The picture is damaged or not complete."), _choose_again())
    width, height = pixels
    if width * height > MOST_PIXELS:
        raise LogoError(
            tr("The picture has {width} × {height} pixels; that is too large for a logo.",
               width=width, height=height),
            tr("Save it smaller, for example 800 pixels wide."),
        )  # fmt: skip
    return Logo(kind, data, pixels)


def _png_pixels(data: bytes) -> tuple[int, int] | None:
    """From the first chunk; every chunk must be whole, the last one IEND."""
    place, kinds = len(_PNG), []
    while place + 12 <= len(data):
        length, kind = struct.unpack_from(">I4s", data, place)
        end = place + 8 + length
        if end + 4 > len(data):
            return None
        (given,) = struct.unpack_from(">I", data, end)
        if given != binascii.crc32(data[place + 4 : end]):
            return None
        kinds.append(kind)
        place = end + 4
        if kind == b"IEND":
            break
    if not kinds or kinds[0] != b"IHDR" or kinds[-1] != b"IEND" or b"IDAT" not in kinds:
        return None
    width, height = struct.unpack_from(">II", data, len(_PNG) + 8)
    return width, height


def _jpeg_pixels(data: bytes) -> tuple[int, int] | None:
    """From the start of the frame; the end-of-image marker must be there."""
    place = 2
    if b"\xff\xd9" not in data[-64:]:  # some cameras pad the end
        return None
    while place + 9 <= len(data) and data[place] == 0xFF:
        marker = data[place + 1]
        if marker == 0xFF or marker in _BARE:  # filling, or a marker that has no length
            place += 1 if marker == 0xFF else 2
            continue
        if marker in _FRAMES:
            height, width = struct.unpack_from(">HH", data, place + 5)
            return width, height
        (length,) = struct.unpack_from(">H", data, place + 2)
        place += 2 + max(length, 2)
    return None


def _vector(data: bytes) -> Logo:
    unknown = LogoError(
        tr("The file is no picture of a kind that can be printed here."),
        tr("Choose a PNG, JPEG or SVG picture."),
    )
    if b"<svg" not in data or not data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        raise unknown
    if b"<!ENTITY" in data:  # texts that stand for others can grow without end
        raise LogoError(
            tr("The drawing defines entities, which are not read here."), _plain_drawing()
        )
    try:
        root = ElementTree.fromstring(data.decode("utf-8-sig"))  # noqa: S314 - without entities
    except (ElementTree.ParseError, ValueError) as error:
        raise LogoError(
            tr("The drawing is damaged: it is no whole SVG text."), _choose_again()
        ) from error
    if root.tag.rpartition("}")[2] != "svg":
        raise unknown
    if _parts(root) > MOST_PARTS:
        raise LogoError(tr("The drawing has too many parts for a logo."), _plain_drawing())
    return Logo("svg", data, None)


def _parts(root: ElementTree.Element) -> int:
    """How many elements are drawn, those that are used again counted again; stops at the most."""
    named = {f"#{element.get('id')}": element for element in root.iter() if element.get("id")}
    todo, count = [root], 0
    while todo and count <= MOST_PARTS:
        element = todo.pop()
        count += 1
        todo.extend(element)
        if element.tag.rpartition("}")[2] == "use":
            target = named.get(element.get("href") or element.get(_LINK) or "")
            if target is not None:  # one that contains itself never ends, and is stopped too
                todo.append(target)
    return count


def _plain_drawing() -> str:
    return tr("Save it again as “plain SVG”, or as PNG.")


def _choose_again() -> str:
    return tr("Choose the picture again, or another one.")
