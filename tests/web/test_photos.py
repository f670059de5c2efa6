"""Photos: real pictures pass byte for byte, what they say beside themselves does not."""

from __future__ import annotations

import re
import struct
import zlib
from pathlib import Path

import pytest
import vl_convert

from boardwright.core.errors import FieldError
from boardwright.web.app import create_app
from boardwright.web.door.intake import MOST_PHOTO_BYTES
from boardwright.web.homes.photos import taken_in
from tests.web.client import HERE, Client
from tests.web.conftest import homes_of

SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30"><circle r="20"/></svg>'
# Made by encoders that are not ours.
JPEG = vl_convert.svg_to_jpeg(SVG, quality=90)
PNG = vl_convert.svg_to_png(SVG)
TOLD = "id=phone-1&subject=circuits.shower&at=2026-11-25T09:00:00Z&device=phone"
PLACE = b"51 deg 30' N"


def exif(order: str = "<", way_up: int | None = 6) -> bytes:
    """Return an EXIF segment with a position, as EXIF 2.3 lays it out (from memory)."""
    entries = [] if way_up is None else [(0x0112, 3, 1, way_up)]
    head = b"II" if order == "<" else b"MM"
    body = struct.pack(f"{order}2sHLH", head, 42, 8, len(entries) + 1)
    for tag, kind, count, value in entries:
        body += struct.pack(f"{order}HHLHH", tag, kind, count, value, 0)
    body += struct.pack(f"{order}HHLL", 0x8825, 4, 1, 100) + PLACE
    return segment(0xE1, b"Exif\x00\x00" + body)


def segment(marker: int, body: bytes) -> bytes:
    return b"\xff" + bytes([marker]) + struct.pack(">H", len(body) + 2) + body


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">L", len(body)) + name + body + struct.pack(">L", zlib.crc32(name + body))


def webp(*chunks: tuple[bytes, bytes]) -> bytes:
    body = b"WEBP" + b"".join(
        name + struct.pack("<L", len(data)) + data + b"\x00" * (len(data) % 2)
        for name, data in chunks
    )
    return b"RIFF" + struct.pack("<L", len(body)) + body


@pytest.mark.parametrize(("kind", "picture"), [("image/jpeg", JPEG), ("image/png", PNG)])
def test_a_picture_without_notes_is_kept_byte_for_byte(kind: str, picture: bytes) -> None:
    taken = taken_in(picture)

    assert (taken.kind, taken.content) == (kind, picture)


@pytest.mark.parametrize(
    "note",
    [
        exif(way_up=None),
        segment(0xE1, b"http:" + b"//ns.adobe.com/xap/1.0/\x00" + PLACE),
        segment(0xED, b"Photoshop 3.0\x00" + PLACE),
        segment(0xE2, b"MPF\x00" + PLACE),
        segment(0xFE, PLACE),
    ],
)
def test_what_a_jpeg_says_beside_its_picture_is_left_out(note: bytes) -> None:
    assert taken_in(JPEG[:2] + note + JPEG[2:]).content == JPEG


@pytest.mark.parametrize("order", ["<", ">"])
def test_the_way_up_is_kept_and_the_place_is_not(order: str) -> None:
    kept = taken_in(JPEG[:2] + exif(order) + JPEG[2:]).content

    assert PLACE not in kept
    assert b"\x88\x25" not in kept.partition(b"\xff\xdb")[0]
    assert kept.endswith(JPEG[2:])
    entry = kept[kept.index(b"MM") + 10 :][:10]
    # Tag, kind SHORT, one, and turned by a quarter.
    assert struct.unpack(">HHLH", entry) == (0x0112, 3, 1, 6)


def test_a_second_picture_behind_the_first_is_left_out() -> None:
    assert taken_in(JPEG + JPEG[:2] + exif() + JPEG[2:]).content == JPEG


def test_what_a_png_says_beside_its_picture_is_left_out() -> None:
    end = PNG.index(b"IEND") - 4
    notes = chunk(b"eXIf", PLACE) + chunk(b"tEXt", b"GPS\x00" + PLACE) + chunk(b"iTXt", PLACE)

    assert taken_in(PNG[:end] + notes + PNG[end:] + PLACE).content == PNG


def test_what_a_webp_says_beside_its_picture_is_left_out() -> None:
    head = bytes([0b1000_1100]) + b"\x00" * 9
    picture = (b"VP8L", b"\x2f\x00\x00")
    said = webp((b"VP8X", head), picture, (b"EXIF", PLACE), (b"XMP ", PLACE))

    taken = taken_in(said)

    assert taken.kind == "image/webp"
    assert taken.content == webp((b"VP8X", bytes([0b1000_0000]) + b"\x00" * 9), picture)


def box(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">L", 8 + len(body)) + kind + body


def heic(kind: bytes = b"hvc1", *, counted_from: int = 0, extra: bytes = b"") -> bytes:
    """Return a picture of two items, its data and a place, as ISO/IEC 14496-12 has it (memory)."""
    items = b"".join(
        box(b"infe", struct.pack(">LHH4s", 2 << 24, number, 0, of) + b"named\x00")
        for number, of in ((1, kind), (2, b"Exif"))
    )
    head = box(b"ftyp", b"heic\x00\x00\x00\x00mif1")
    said = box(b"ipco", box(b"irot", b"\x01") + box(b"udes", b"\x00" * 4 + PLACE))

    def laid_out(data: int) -> bytes:
        places = struct.pack(">LBBH", 1 << 24, 0x44, 0, 2)
        for number, at, length in ((1, data, 7), (2, data + 7, len(PLACE))):
            places += struct.pack(">HHHHLL", number, counted_from, 0, 1, at, length)
        iinf = box(b"iinf", struct.pack(">LH", 0, 2) + items)
        inner = iinf + box(b"iloc", places) + box(b"iprp", said) + box(b"uuid", PLACE)
        if counted_from:
            return head + box(b"meta", b"\x00" * 4 + inner + box(b"idat", b"picture" + PLACE))
        return head + box(b"meta", b"\x00" * 4 + inner) + box(b"mdat", b"picture" + PLACE)

    # Where the data begins is known once all before it has its length.
    whole = laid_out(0)
    return (whole if counted_from else laid_out(whole.index(b"picture"))) + extra


def test_a_heic_shows_what_it_showed_and_says_no_place() -> None:
    # Made by libheif with a position in EXIF and in XMP. Decoded by libheif again, what is kept
    # has the same dots and no EXIF: seen once, for the tests have no decoder of it.
    came = (Path(__file__).parent / "photo.heic").read_bytes()

    taken = taken_in(came)

    data = slice(came.index(b"mdat"), None)
    assert (taken.kind, len(taken.content)) == ("image/heic", len(came))
    for said in (b"GPSLatitude", b"Maker of none", b"Exif", b"rdf+xml"):
        assert said in came
        assert said not in taken.content
    assert sum(a != b for a, b in zip(came[data], taken.content[data], strict=True)) > 0
    assert taken_in(taken.content).content == taken.content


@pytest.mark.parametrize("counted_from", [0, 1])
@pytest.mark.parametrize("extra", [b"", box(b"moov", PLACE), box(b"mpvd", PLACE)])
def test_what_is_no_picture_in_a_heic_is_blank(counted_from: int, extra: bytes) -> None:
    came = heic(counted_from=counted_from, extra=extra)

    kept = taken_in(came).content

    assert came.count(PLACE) == 3 + bool(extra)
    assert PLACE not in kept
    assert b"named" not in kept
    assert len(kept) == len(came)
    assert kept[came.index(b"picture") :].startswith(b"picture")
    assert box(b"irot", b"\x01") in kept


@pytest.mark.parametrize(
    "content",
    [
        struct.pack(">L", 24) + b"ftypheic" + b"\x00" * 12 + PLACE,
        heic()[:-1],
        heic()[:60],
        heic(b"jpeg"),
        heic(counted_from=2),
        heic().replace(b"iloc", b"free"),
        heic().replace(struct.pack(">L", 7), struct.pack(">L", 2**31)),
        heic().replace(struct.pack(">L", 7), struct.pack(">L", 0)),
        heic(extra=PLACE),
    ],
)
def test_a_heic_that_is_not_understood_is_refused(content: bytes) -> None:
    with pytest.raises(FieldError, match="or laid out as this page cannot read"):
        taken_in(content)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"GIF89a" + b"\x00" * 20,
        b"<svg xmlns='x'><script>1</script></svg>",
        b"<!doctype html>",
        b"%PDF-1.7",
        b"MZ\x90",
        JPEG[:-2],
        JPEG[:300],
        JPEG[:3],
        b"\xff\xd8\xff\xe1\xff\xff",
        b"\xff\xd8\xff\xe1\x00\x00" * 9,
        PNG[:-13],
        PNG[:9],
        webp((b"VP8X", b"")),
        b"RIFF\xff\xff\xff\xffWEBP",
        b"\x00\x00\x00\x18ftypevil",
    ],
)
def test_what_is_no_whole_picture_is_refused(content: bytes) -> None:
    with pytest.raises(FieldError, match="photo: found"):
        taken_in(content)


def test_a_photo_is_sent_kept_and_shown(folder: Path) -> None:
    jobs = homes_of(folder)
    client = Client(create_app(jobs))
    sent = {"origin": HERE, "content-type": "image/jpeg"}
    content = JPEG[:2] + exif() + JPEG[2:]

    added = client.send("POST", f"/api/jobs/semi/photos?{TOLD}&says=the+cut-out", content, sent)
    again = client.send("POST", f"/api/jobs/semi/photos?{TOLD}&says=the+cut-out", content, sent)

    assert (added.status_code, added.json()["added"]) == (201, True)
    assert (again.status_code, again.json()["added"]) == (201, False)
    (event,) = [each for each in jobs.store.events("semi") if each.kind == "photo"]
    assert (event.subject, event.value["says"]) == ("circuits.shower", "the cut-out")
    shown = client.get(f"/api/jobs/semi/photos/{added.json()['sha256']}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert "sandbox" in shown.headers["content-security-policy"]
    assert re.fullmatch(
        r'inline; filename="[0-9a-f]{12}\.jpg"', shown.headers["content-disposition"]
    )
    assert shown.content == taken_in(content).content


@pytest.mark.parametrize(
    ("home", "asked", "sent", "status"),
    [
        ("semi", TOLD, ("image/svg+xml", SVG.encode()), 422),
        ("semi", TOLD, ("text/html", JPEG), 415),
        ("semi", TOLD, ("application/json", b'"x"'), 415),
        ("none", TOLD, ("image/jpeg", JPEG), 404),
        ("semi", "", ("image/jpeg", JPEG), 422),
        ("semi", TOLD.replace("phone-1", "../x"), ("image/jpeg", JPEG), 422),
        ("semi", TOLD, ("image/jpeg", b"\xff\xd8\xff" + b"x" * MOST_PHOTO_BYTES), 413),
    ],
)
def test_a_photo_that_cannot_be_kept_is_told(
    home: str, asked: str, sent: tuple[str, bytes], status: int, client: Client
) -> None:
    kind, content = sent
    headers = {"origin": HERE, "content-type": kind}

    answered = client.send("POST", f"/api/jobs/{home}/photos?{asked}", content, headers)

    assert answered.status_code == status, answered.text


@pytest.mark.parametrize("name", ["0" * 64, "..%2f..%2fjobs.db", "x", "A" * 64])
def test_a_photo_that_is_none_is_not_found(name: str, client: Client) -> None:
    assert client.get(f"/api/jobs/semi/photos/{name}").status_code in {404, 422}
