"""One picture file to facts: kind, size, time, place, and what is wrong with it."""

from __future__ import annotations

import hashlib
import io
import json
import random
import struct
from pathlib import Path
from typing import TYPE_CHECKING

import pillow_heif
import pytest
from PIL import Image
from PIL.Image import Transpose

from builderlog.reading import photo_file
from builderlog.reading.exif import ExifFacts, read_exif
from builderlog.reading.fingerprint import take_fingerprint
from builderlog.reading.photo_file import PhotoFile, photo_from_facts, read_photo, to_facts
from builderlog.reading.signs import is_text
from tests.reading.shop_pictures import apart_by, saved, shop_picture

if TYPE_CHECKING:
    from builderlog.reading.picture_bytes import Kind

TAKEN = "2026:03:14 19:40:05"
# How an upright picture is stored for each orientation (Exif 2.32, tag 274).
LAID = {
    2: Transpose.FLIP_LEFT_RIGHT,
    3: Transpose.ROTATE_180,
    4: Transpose.FLIP_TOP_BOTTOM,
    5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_90,
    7: Transpose.TRANSVERSE,
    8: Transpose.ROTATE_270,
}
KINDS: tuple[Kind, ...] = ("JPEG", "PNG", "WEBP", "HEIF", "AVIF")


def exif_of(
    orientation: int = 1, taken: str | None = TAKEN, offset: str | None = None, *, gps: bool = False
) -> Image.Exif:
    """An Exif block as a camera would write it."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    detail = exif.get_ifd(0x8769)
    if taken is not None:
        detail[0x9003] = taken
    if offset is not None:
        detail[0x9011] = offset
    if gps:
        exif.get_ifd(0x8825).update({1: "N", 2: (48.0, 8.0, 0.0), 3: "E", 4: (11.0, 34.0, 0.0)})
    return exif


def picture(kind: Kind, size: tuple[int, int] = (64, 48), exif: Image.Exif | None = None) -> bytes:
    """The bytes of a picture of a kind."""
    image = Image.effect_noise(size, 50).convert("RGB")
    out = io.BytesIO()
    block = (exif or Image.Exif()).tobytes()
    if kind == "HEIF":
        pillow_heif.from_pillow(image).save(out, exif=block, quality=50)
    else:
        image.save(out, kind, exif=block)
    return out.getvalue()


def read(tmp_path: Path, data: bytes, name: str = "photos/a.jpg") -> PhotoFile:
    """The facts of a file with these bytes, which reading must not alter."""
    file = tmp_path / "file.jpg"
    file.write_bytes(data)
    photo = read_photo(file, name)
    assert file.read_bytes() == data
    assert photo.digest == hashlib.sha256(data).hexdigest()
    assert photo.size_bytes == len(data)
    return photo


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind(tmp_path: Path, kind: Kind) -> None:
    """Each of the five kinds is known by its bytes, whatever it is called, with its facts."""
    data = picture(kind, (64, 48), exif_of(taken=TAKEN, offset="+01:00", gps=True))
    photo = read(tmp_path, data)
    assert (photo.kind, photo.width_px, photo.height_px) == (kind, 64, 48)
    assert photo.taken == "2026-03-14T19:40:05+01:00"
    assert photo.located
    assert photo.fault is None


@pytest.mark.parametrize("kind", KINDS)
def test_without_exif(tmp_path: Path, kind: Kind) -> None:
    """A picture without Exif has no time and no place, and nothing is wrong with it."""
    photo = read(tmp_path, picture(kind))
    assert (photo.taken, photo.located, photo.fault, photo.orientation) == (None, False, None, 1)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_upright_size(tmp_path: Path, kind: Kind, orientation: int) -> None:
    """Width and height are those of the upright picture: 5 to 8 lie on their side."""
    photo = read(tmp_path, picture(kind, (64, 48), exif_of(orientation)))
    assert (photo.width_px, photo.height_px) == ((64, 48) if orientation < 5 else (48, 64))
    assert photo.orientation == orientation


def test_heif_is_upright_by_its_own_word(tmp_path: Path) -> None:
    """HEIF and AVIF turn by their own properties, so that Exif must not turn them twice."""
    for kind in ("HEIF", "AVIF"):
        photo = read(tmp_path, picture(kind, (64, 48), exif_of(6)))
        assert (photo.width_px, photo.height_px) == (48, 64)


@pytest.mark.parametrize(
    ("taken", "offset", "expected"),
    [
        (TAKEN, None, "2026-03-14T19:40:05"),
        (TAKEN, "-03:30", "2026-03-14T19:40:05-03:30"),
        (TAKEN, "   :  ", "2026-03-14T19:40:05"),
        (TAKEN, "+25:00", "2026-03-14T19:40:05"),
        (TAKEN, "+1:00", "2026-03-14T19:40:05"),
        (TAKEN, "Z", "2026-03-14T19:40:05"),
        ("2026-03-14 19:40:05", None, "2026-03-14T19:40:05"),
        ("0000:00:00 00:00:00", "+01:00", None),
        ("2026:02:30 10:00:00", None, None),
        ("2026:03:14 24:00:00", None, None),
        ("2026:13:40", None, None),
        ("yesterday evening!!", None, None),
        ("    :  :     :  :  ", None, None),
        ("", None, None),
    ],
)
def test_time_taken(tmp_path: Path, taken: str, offset: str | None, expected: str | None) -> None:
    """The time is local, with its offset where that is well formed; nonsense is no time."""
    assert read(tmp_path, picture("JPEG", exif=exif_of(1, taken, offset))).taken == expected


def test_last_change_is_not_the_time_taken(tmp_path: Path) -> None:
    """DateTime, which editors rewrite, is never taken for the time of the picture."""
    exif = Image.Exif()
    exif[0x0132] = TAKEN
    assert read(tmp_path, picture("JPEG", exif=exif)).taken is None


def test_place_without_coordinates(tmp_path: Path) -> None:
    """A GPS block that only says its version does not locate."""
    exif = Image.Exif()
    exif.get_ifd(0x8825)[0] = b"\2\3\0\0"
    assert not read(tmp_path, picture("JPEG", exif=exif)).located


def test_both_byte_orders() -> None:
    """Exif is read in either byte order, with or without its prefix."""
    for order, sign in (("<", b"II*\0"), (">", b"MM\0*")):
        entry = struct.pack(order + "HHIHH", 0x0112, 3, 1, 8, 0)
        block = sign + struct.pack(order + "IH", 8, 1) + entry + bytes(4)
        assert read_exif(block) == read_exif(b"Exif\0\0" + block) == ExifFacts(orientation=8)


def test_damaged_exif_is_as_if_absent() -> None:
    """Cut, flipped or random Exif never raises, and pointers in a circle end."""
    block = exif_of(6, TAKEN, "+01:00", gps=True).tobytes()
    chance = random.Random(14)
    for length in range(len(block)):
        read_exif(block[:length])
    for _ in range(3000):
        bent = bytearray(block)
        for _ in range(chance.randrange(1, 8)):
            bent[chance.randrange(len(bent))] = chance.randrange(256)
        assert 1 <= read_exif(bytes(bent)).orientation <= 8
    assert read_exif(b"") == read_exif(b"II*\0\xff\xff\xff\xff") == ExifFacts()


def test_empty_file(tmp_path: Path) -> None:
    """An empty file is told as such."""
    photo = read(tmp_path, b"")
    assert photo.fault == "'photos/a.jpg' is empty; copy the picture from the camera again"
    assert photo.kind == ""


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"Dear diary,\n", "is a text file, not a kind we show"),
        ("Flügel\n".encode(), "is a text file"),
        (b"GIF89a\1\0\1\0", "is a GIF picture"),
        (b"BM\0\0\0\0", "is a BMP picture"),
        (b"II*\0\x08\0\0\0", "is a TIFF or raw picture"),
        (b"MM\0*\0\0\0\x08", "is a TIFF or raw picture"),
        (b"%PDF-1.7", "is a PDF document"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "is a film"),
        (b"RIFF\0\0\0\0WAVE", "is not a picture"),
        (b"\0", "is not a picture"),
        (b"\xff\xd8", "is not a picture"),
    ],
)
def test_not_a_picture_of_ours(tmp_path: Path, data: bytes, words: str) -> None:
    """What is no picture of the five kinds is named for what it is, with what to do."""
    fault = read(tmp_path, data).fault or ""
    assert words in fault
    assert "save the picture as JPEG, PNG, WebP, HEIC or AVIF" in fault


@pytest.mark.parametrize("kind", KINDS)
def test_cut_short(tmp_path: Path, kind: Kind) -> None:
    """A picture cut anywhere behind its first bytes is told, never a traceback."""
    data = picture(kind, (64, 48), exif_of(gps=True))
    lengths = {*range(len(data) - 60, len(data)), *range(16, len(data) - 60, 37)}
    for length in sorted(lengths):
        photo = read(tmp_path, data[:length])
        assert photo.fault is not None, length
        assert "is cut short" in photo.fault or photo.kind == "", length


def test_cut_short_with_a_whole_thumbnail(tmp_path: Path) -> None:
    """The end of the thumbnail inside Exif is not taken for the end of the picture."""
    exif = exif_of().tobytes() + picture("JPEG", (16, 12))
    out = io.BytesIO()
    Image.effect_noise((64, 48), 50).save(out, "JPEG", exif=exif)
    assert read(tmp_path, out.getvalue()).fault is None
    assert "is cut short" in (read(tmp_path, out.getvalue()[:-100]).fault or "")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_more_behind_the_end(tmp_path: Path, kind: Kind) -> None:
    """What phones append behind a picture (a film, another picture) does no harm."""
    data = picture(kind) + b"\0\0\0\x18ftypmp42" + picture("JPEG")[:200]
    assert read(tmp_path, data).fault is None


def test_heif_with_a_trailer_that_is_no_box(tmp_path: Path) -> None:
    """A phone's own trailer behind a HEIC does no harm."""
    assert read(tmp_path, picture("HEIF") + b"\xff\xff\xff\xffSEFH\1\2\3\4").fault is None


def test_progressive_jpeg(tmp_path: Path) -> None:
    """The many scans of a progressive JPEG are walked to their end."""
    out = io.BytesIO()
    Image.effect_noise((64, 48), 50).save(out, "JPEG", progressive=True)
    assert read(tmp_path, out.getvalue()).fault is None
    assert "is cut short" in (read(tmp_path, out.getvalue()[:-2]).fault or "")


def test_jpeg_with_restart_markers(tmp_path: Path) -> None:
    """Restart markers inside a scan do not end it."""
    out = io.BytesIO()
    Image.effect_noise((64, 48), 50).save(out, "JPEG", restart_marker_blocks=1)
    assert b"\xff\xd0" in out.getvalue()
    assert read(tmp_path, out.getvalue()).fault is None


def test_one_pixel(tmp_path: Path) -> None:
    """The smallest picture is a picture."""
    for kind in ("JPEG", "PNG", "WEBP"):
        photo = read(tmp_path, picture(kind, (1, 1)))
        assert (photo.width_px, photo.height_px, photo.fault) == (1, 1, None)


def test_very_wide(tmp_path: Path) -> None:
    """A panorama 20,000 px wide is no fault."""
    photo = read(tmp_path, picture("JPEG", (20_000, 10)))
    assert (photo.width_px, photo.height_px, photo.fault) == (20_000, 10, None)


def bomb(width: int, height: int) -> bytes:
    """A small PNG whose header promises a huge picture."""
    data = bytearray(picture("PNG"))
    data[16:24] = struct.pack(">II", width, height)
    return bytes(data)


def test_decompression_bomb(tmp_path: Path) -> None:
    """Too many pixels are told from the header, with the number; nothing is decoded."""
    fault = read(tmp_path, bomb(50_000, 50_000)).fault or ""
    assert "has 50000 x 50000 pixels, more than the 250 million that can be drawn" in fault


def test_so_many_pixels_and_no_more(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture of just as many pixels as can be drawn is read; with one more it is told."""
    data = picture("PNG", (64, 48))
    monkeypatch.setattr(photo_file, "LARGEST_PIXELS", 64 * 48)
    assert read(tmp_path, data).fault is None
    monkeypatch.setattr(photo_file, "LARGEST_PIXELS", 64 * 48 - 1)
    assert "has 64 x 48 pixels, more than" in (read(tmp_path, data).fault or "")


def test_bomb_of_other_kinds(tmp_path: Path) -> None:
    """JPEG and WebP headers are weighed alike."""
    data = bytearray(picture("JPEG"))
    place = data.index(b"\xff\xc0") + 5
    data[place : place + 4] = struct.pack(">HH", 60_000, 60_000)
    assert "60000 x 60000 pixels" in (read(tmp_path, bytes(data)).fault or "")
    head = b"VP8X" + struct.pack("<I", 10) + bytes(4) + b"\xff\xff\0" * 2
    body = picture("WEBP")[12:]
    data = bytearray(b"RIFF" + struct.pack("<I", 4 + len(head + body)) + b"WEBP" + head + body)
    assert "65536 x 65536 pixels" in (read(tmp_path, bytes(data)).fault or "")


@pytest.mark.parametrize("kind", KINDS)
def test_damage_never_raises(tmp_path: Path, kind: Kind) -> None:
    """Whatever bytes are flipped, the file yields facts or a fault, never an error or a warning."""
    data = picture(kind, (64, 48), exif_of(6, TAKEN, "+01:00", gps=True))
    chance = random.Random(kind)
    for _ in range(150):
        bent = bytearray(data)
        for _ in range(chance.randrange(1, 20)):
            bent[chance.randrange(min(len(bent), 700))] = chance.randrange(256)
        photo = read(tmp_path, bytes(bent))
        assert photo_from_facts(json.loads(json.dumps(to_facts(photo)))) == photo


def spoilt(kind: Kind) -> bytes:
    """A picture whose parts are all there and whose pixels are nonsense."""
    data = bytearray(picture(kind, (200, 150), exif_of(6, TAKEN, gps=True)))
    place = {
        "JPEG": data.find(b"\xff\xc4") + 5,  # its code tables
        "PNG": data.find(b"IDAT") + 6,
        "WEBP": data.find(b"VP8 ") + 18,
        "HEIF": data.find(b"mdat") + 8,
        "AVIF": data.find(b"mdat") + 200,  # behind its Exif
    }[kind]
    data[place : place + 80] = b"\xfe" * 80
    return bytes(data)


@pytest.mark.parametrize("kind", KINDS)
def test_pixels_that_cannot_be_decoded(tmp_path: Path, kind: Kind) -> None:
    """A picture that is whole but for its pixels is told, with its size and its time as ever."""
    photo = read(tmp_path, spoilt(kind))
    shown = {"WEBP": "WebP", "HEIF": "HEIC"}.get(kind, kind)
    assert photo.fault == (
        f"'photos/a.jpg' begins like a {shown} picture, but what follows cannot be read; "
        "open it in a picture program and save it again"
    )
    assert (photo.width_px * photo.height_px, photo.taken) == (30_000, "2026-03-14T19:40:05")
    assert photo.likeness == ""


@pytest.mark.parametrize("kind", KINDS)
def test_likeness_is_the_fingerprint(tmp_path: Path, kind: Kind) -> None:
    """A picture's likeness is its fingerprint, whatever its Exif and name; a plain one has none."""
    shop = saved(shop_picture(1), kind)
    photo = read(tmp_path, shop)
    assert photo.likeness == take_fingerprint(shop, kind)
    assert is_text(photo.likeness)
    assert photo.likeness not in repr(photo)
    assert read(tmp_path, saved(Image.new("RGB", (640, 480), "grey"), kind)).likeness == ""


def test_likeness_in_any_orientation(tmp_path: Path) -> None:
    """Lying on its side with Exif that says so, a picture is like the upright one."""
    upright = read(tmp_path, saved(shop_picture(1)))
    for orientation in range(2, 9):
        lying = shop_picture(1).transpose(LAID[orientation])
        photo = read(tmp_path, saved(lying, exif=exif_of(orientation).tobytes()))
        assert photo.orientation == orientation
        assert (photo.width_px, photo.height_px) == (upright.width_px, upright.height_px)
        assert apart_by(photo.likeness, upright.likeness) <= 1


def test_header_that_cannot_be_read(tmp_path: Path) -> None:
    """A HEIC whose plan is nonsense is told as such."""
    boxes = b"\0\0\0\x18ftypheic\0\0\0\0heicmif1" + b"\0\0\0\x0cmeta\1\1\1\1" + b"\0\0\0\x08mdat"
    fault = read(tmp_path, boxes).fault or ""
    assert "begins like a HEIC picture, but what follows cannot be read" in fault


def test_file_that_cannot_be_read(tmp_path: Path) -> None:
    """A file that is not there, or is a folder, becomes a fault, not an error."""
    for file in (tmp_path / "no.jpg", tmp_path):
        photo = read_photo(file, "photos/a.jpg")
        assert "'photos/a.jpg' cannot be read (" in (photo.fault or "")
        assert (photo.digest, photo.size_bytes) == ("", 0)


def test_file_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file too large for a picture is never held in memory, but has its digest."""
    monkeypatch.setattr(photo_file, "LARGEST_BYTES", 1_000_000)
    photo = read(tmp_path, picture("JPEG") + bytes(2_000_000))
    assert "megabytes, too large for a picture" in (photo.fault or "")


def test_facts_go_round(tmp_path: Path) -> None:
    """Facts written as JSON and read again are the same; anything else is refused."""
    data = saved(shop_picture(2), exif=exif_of(5, gps=True).tobytes())
    photo = read(tmp_path, data, "photos/ü ✈️'\".jpg")
    facts = json.loads(json.dumps(to_facts(photo)))
    assert photo_from_facts(facts) == photo
    changes: tuple[dict[str, object], ...] = (
        {"x": 1},
        {"width_px": "64"},
        {"kind": "GIF"},
        {"located": 1},
        {"size_bytes": True},
        {"likeness": None},
        {"likeness": "A" * 1019},
        {"likeness": "\u00e9" * 1020},
    )
    wrong: list[object] = [{}, [], None, *({**facts, **change} for change in changes)]
    for words in wrong:
        with pytest.raises(ValueError, match="picture"):
            photo_from_facts(words)
