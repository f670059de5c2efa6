"""Photos as they come in: known by their first bytes, and without the place they were taken at.

A phone writes where it stood into its pictures. What a picture says beside itself is left out
here, but for the way up.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.core.errors import FieldError
from boardwright.web.homes.heic import blanked

_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_HEIC_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"mif1", b"msf1"})
SUFFIXES = {
    "image/jpeg": "jpg",
    "image/png": "png",
    "image/webp": "webp",
    "image/heic": "heic",
}
_EXPECTED = "a picture: JPEG, PNG, WebP or HEIC"

# Markers of a JPEG (ITU-T T.81, Table B.1).
_MARK, _SCAN, _END, _NOTE, _APP1 = 0xFF, 0xDA, 0xD9, 0xFE, 0xE1
_APPS = range(0xE2, 0xF0)
_IN_SCAN = frozenset({0x00, *range(0xD0, 0xD8)})
# The way up in EXIF: its tag, written as a short number from 1 to 8.
_WAY_UP, _SHORT, _WAYS = 0x0112, 3, range(1, 9)

_ICC, _ADOBE, _EXIF = b"ICC_PROFILE\x00", b"Adobe", b"Exif\x00\x00"
_PNG_KEPT = frozenset(
    {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT"}
    | {b"bKGD", b"pHYs"}
)
_WEBP_LEFT_OUT = frozenset({b"EXIF", b"XMP "})
_WEBP_SAYS_MORE = 0b1100
"""Bits of a WebP's head that announce EXIF and XMP."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A picture to keep: its kind, and what is left of it."""

    kind: str
    content: bytes


def taken_in(content: bytes) -> Taken:
    """Return a picture as it may be kept.

    Raises
    ------
    FieldError
        It is none of the kinds that the page keeps, or it is cut short.
    """
    try:
        if content.startswith(_JPEG):
            return Taken("image/jpeg", b"".join(_jpeg(content)))
        if content.startswith(_PNG):
            return Taken("image/png", b"".join(_png(content)))
        if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
            return Taken("image/webp", _webp(content))
        if content[4:8] == b"ftyp" and content[8:12] in _HEIC_BRANDS:
            return Taken("image/heic", blanked(content))
    except (struct.error, IndexError, KeyError, ValueError):
        found = "a picture cut short, or laid out as this page cannot read"
        raise FieldError("photo", found, "a whole picture, as JPEG if in doubt") from None
    raise FieldError("photo", content[:12], _EXPECTED)


def _jpeg(content: bytes) -> Iterator[bytes]:
    """Yield the parts of a JPEG that show it, to the end of the first picture in the file."""
    yield content[:2]
    at = 2
    while True:
        marker = content[at + 1]
        if content[at] != _MARK:
            raise ValueError
        if marker == _END:
            yield content[at : at + 2]
            return
        (length,) = struct.unpack_from(">H", content, at + 2)
        segment = content[at : at + 2 + length]
        if len(segment) < 2 + length:
            raise ValueError
        yield _kept_of_jpeg(marker, segment)
        at += 2 + length
        if marker == _SCAN:
            end = _end_of_scan(content, at)
            yield content[at:end]
            at = end


def _kept_of_jpeg(marker: int, segment: bytes) -> bytes:
    body = segment[4:]
    if marker == _APP1:
        return _way_up(body[len(_EXIF) :]) if body.startswith(_EXIF) else b""
    is_note = marker == _NOTE or (marker in _APPS and not body.startswith((_ICC, _ADOBE)))
    return b"" if is_note else segment


def _end_of_scan(content: bytes, at: int) -> int:
    """Return where the marker behind a scan stands: 0 and the eight of a restart are none."""
    while True:
        at = content.index(b"\xff", at)
        following = content[at + 1]
        if following == _MARK:
            at += 1
        elif following in _IN_SCAN:
            at += 2
        else:
            return at


def _way_up(tiff: bytes) -> bytes:
    """Return an EXIF segment that says the way up and nothing else; none where it is not said."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return b""
    try:
        (first,) = struct.unpack_from(f"{order}L", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, first)
        for entry in range(first + 2, first + 2 + 12 * count, 12):
            tag, kind, _, value = struct.unpack_from(f"{order}HHLH", tiff, entry)
            if (tag, kind) == (_WAY_UP, _SHORT) and value in _WAYS:
                said = struct.pack(">2sHLHHHLHHL", b"MM", 42, 8, 1, tag, kind, 1, value, 0, 0)
                return b"\xff\xe1" + struct.pack(">H", 2 + len(_EXIF) + len(said)) + _EXIF + said
    except struct.error:
        return b""
    return b""


def _png(content: bytes) -> Iterator[bytes]:
    yield _PNG
    at = len(_PNG)
    while True:
        length, name = struct.unpack_from(">L4s", content, at)
        chunk = content[at : at + 12 + length]
        if len(chunk) < 12 + length:
            raise ValueError
        if name in _PNG_KEPT:
            yield chunk
        if name == b"IEND":
            return
        at += 12 + length


def _webp(content: bytes) -> bytes:
    parts: list[bytes] = []
    (size,) = struct.unpack_from("<L", content, 4)
    at, end = 12, 8 + size
    if len(content) < end:
        raise ValueError
    while at < end:
        name, length = struct.unpack_from("<4sL", content, at)
        chunk = bytearray(content[at : at + 8 + length + length % 2])
        if name == b"VP8X":
            chunk[8] &= ~_WEBP_SAYS_MORE
        if name not in _WEBP_LEFT_OUT:
            parts.append(bytes(chunk))
        at += 8 + length + length % 2
    body = b"WEBP" + b"".join(parts)
    return b"RIFF" + struct.pack("<L", len(body)) + body


__all__ = ["SUFFIXES", "Taken", "taken_in"]
