"""A HEIC picture without what it says beside itself: all that shows nothing is blanked in place.

Nothing moves, for the file says where each of its parts stands. Which way up it is shown is a
property of the picture here, and stays. Layout: ISO/IEC 14496-12 (boxes, items) and 23008-12
(pictures as items), from memory; tried on files of an encoder that is not ours.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

_KEPT_BOXES = frozenset({b"ftyp", b"meta", b"mdat"})
_KEPT_IN_META = frozenset({b"hdlr", b"pitm", b"iinf", b"iloc", b"iprp", b"iref", b"grpl", b"idat"})
_SAID_BY_PROPERTIES = frozenset({b"udes", b"crtt", b"mdft", b"uuid"})
"""Properties that tell words or moments; all others are needed to show the picture."""

_PICTURES = frozenset({b"hvc1", b"hev1", b"lhv1", b"av01", b"grid", b"iovl", b"iden", b"tmap"})
"""Kinds of items that show something: coded pictures, and those put together from others."""

_IN_FILE, _IN_IDAT = 0, 1
"""From where an item's extents are counted; the third way, from another item, is for no picture."""

_MOST = 10_000
"""Boxes in a box, and parts of items: 48 million dots in tiles of 512 by 512 are about 200."""


@dataclass(frozen=True, slots=True)
class _Box:
    kind: bytes
    start: int
    body: int
    end: int


@dataclass(frozen=True, slots=True)
class _Extent:
    item: int
    counted_from: int
    start: int
    length: int


def blanked(content: bytes) -> bytes:
    """Return a HEIC picture with all blank that is no picture.

    Raises
    ------
    ValueError, IndexError, KeyError, struct.error
        It is cut short, holds no picture, or is laid out in no way that is known here.
    """
    left = bytearray(content)
    top = list(_boxes(content, 0, len(content)))
    for box in top:
        _keep_or_blank(left, box, _KEPT_BOXES)
        if box.kind == b"mdat":
            _blank(left, box.body, box.end)
    (meta,) = (box for box in top if box.kind == b"meta")
    # Its version and flags stand before its boxes.
    inner = {box.kind: box for box in _boxes(content, meta.body + 4, meta.end)}
    for box in _boxes(content, meta.body + 4, meta.end):
        _keep_or_blank(left, box, _KEPT_IN_META)
    _blank_properties(left, content, inner[b"iprp"])
    pictures = set(_pictures(left, content, inner[b"iinf"]))
    _restore(left, content, inner, pictures)
    return bytes(left)


def _restore(
    left: bytearray, content: bytes, inner: Mapping[bytes, _Box], pictures: set[int]
) -> None:
    """Put back what shows the pictures; all else of the data stays blank."""
    data = inner.get(b"idat")
    if data:
        _blank(left, data.body, data.end)
    restored = 0
    for extent in _extents(content, inner[b"iloc"]):
        if extent.item not in pictures:
            continue
        if extent.counted_from not in (_IN_FILE, _IN_IDAT):
            raise ValueError
        start = extent.start
        if extent.counted_from == _IN_IDAT:
            start += inner[b"idat"].body
        end = start + extent.length
        restored += extent.length
        if not extent.length or end > len(content) or restored > len(content):
            raise ValueError
        left[start:end] = content[start:end]
    if not restored:
        raise ValueError


def _boxes(content: bytes, at: int, end: int) -> Iterator[_Box]:
    for _ in range(_MOST):
        if at == end:
            return
        size, kind = struct.unpack_from(">L4s", content, at)
        body = at + 8
        if size == 1:
            (size,) = struct.unpack_from(">Q", content, body)
            body += 8
        past = at + size if size else end
        if not body <= past <= end:
            raise ValueError
        yield _Box(kind, at, body, past)
        at = past
    raise ValueError


def _keep_or_blank(left: bytearray, box: _Box, kept: frozenset[bytes]) -> None:
    if box.kind not in kept:
        left[box.start + 4 : box.start + 8] = b"free"
        _blank(left, box.body, box.end)


def _blank(left: bytearray, start: int, end: int) -> None:
    left[start:end] = bytes(end - start)


def _blank_properties(left: bytearray, content: bytes, properties: _Box) -> None:
    for box in _boxes(content, properties.body, properties.end):
        if box.kind == b"ipco":
            for each in _boxes(content, box.body, box.end):
                if each.kind in _SAID_BY_PROPERTIES:
                    # It stays a property: the others are known by their place among them.
                    _blank(left, each.body, each.end)


def _pictures(left: bytearray, content: bytes, items: _Box) -> Iterator[int]:
    """Yield the items that are pictures; blank the names of all, and the kind of all others."""
    counted = 2 if content[items.body] == 0 else 4
    for box in _boxes(content, items.body + 4 + counted, items.end):
        wide = content[box.body] > 2  # noqa: PLR2004 - from version 3 on an id has four bytes
        (item,) = struct.unpack_from(">L" if wide else ">H", content, box.body + 4)
        kind = box.body + (10 if wide else 8)
        is_picture = content[kind : kind + 4] in _PICTURES
        _blank(left, kind + 4 if is_picture else kind, box.end)
        if is_picture:
            yield item


def _extents(content: bytes, places: _Box) -> Iterator[_Extent]:
    """Yield where each part of each item stands."""
    read = _Reader(content, places.body)
    version = read.number(4) >> 24
    offset_size, length_size = divmod(read.number(1), 16)
    base_size, index_size = divmod(read.number(1), 16)
    seen = 0
    for _ in range(read.number(2 if version < 2 else 4)):  # noqa: PLR2004 - wider from version 2 on
        item = read.number(2 if version < 2 else 4)  # noqa: PLR2004 - as above
        counted_from = read.number(2) & 0xF if version else _IN_FILE
        elsewhere, base = read.number(2), read.number(base_size)
        for _ in range(read.number(2)):
            read.number(index_size if version else 0)
            start, length = base + read.number(offset_size), read.number(length_size)
            seen += 1
            if elsewhere or seen > _MOST:
                raise ValueError
            yield _Extent(item, counted_from, start, length)


class _Reader:
    """Whole numbers one behind the other."""

    def __init__(self, content: bytes, at: int) -> None:
        self._content = content
        self._at = at

    def number(self, size: int) -> int:
        """Return the next number of so many bytes; of none it is 0."""
        part = self._content[self._at : self._at + size]
        if len(part) < size:
            raise ValueError
        self._at += size
        return int.from_bytes(part, "big")


__all__ = ["blanked"]
