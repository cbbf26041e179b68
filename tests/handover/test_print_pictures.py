"""Copies for paper and screen: upright, in sRGB, bare of metadata, made once, told where not."""

from __future__ import annotations

import io
import stat
import threading
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageOps, ImageStat
from PIL.JpegImagePlugin import JpegImageFile

from builderlog.drawing import pixels
from builderlog.handover import print_pictures
from builderlog.handover.print_pictures import (
    LONG_SIDE_PX,
    SMALL_SIDE_PX,
    NotDrawn,
    PrintRoom,
    Prints,
    lay_out_prints,
    picture_name,
    pictures_to_print,
    print_size,
)
from builderlog.knowing.ledger import Picture
from builderlog.reading import picture_open
from builderlog.reading.photo_file import read_photo
from builderlog.sheets.chapter import Chapter, Dossier, Pictures, Section, ShownPicture
from builderlog.storing.cache import Store
from builderlog.storing.refusal import Refused
from tests import making
from tests.drawing.picture_files import (
    BLUE,
    GREEN,
    MARKER,
    RED,
    SEEN,
    STORED,
    YELLOW,
    assert_corners,
    corners,
    display_p3_profile,
    encode,
    is_near,
    over_white,
    plant,
    png,
    swapped_profile,
)

KINDS = ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"]


@dataclass
class Table:
    """Pictures on a table: their files, what shows them, and where copies go."""

    root: Path
    names: list[str] = field(default_factory=list)
    done: list[int] = field(default_factory=list)

    def put(self, datas: Mapping[str, bytes]) -> Table:
        """Writes files; the dossier shows each of them, numbered from 1."""
        (self.root / "photos").mkdir(parents=True, exist_ok=True)
        for name, data in datas.items():
            self.where(f"photos/{name}").write_bytes(data)
            self.names.append(f"photos/{name}")
        self.pictures = [Picture(n, read_photo(self.where(n), n), ()) for n in self.names]
        return self

    def where(self, path: str) -> Path:
        """The file of a path in the journal."""
        return self.root / path

    def dossier(self, *sizes: bool) -> Dossier:
        """Every picture, in each of the sizes, in a section of a chapter."""
        shown = tuple(
            ShownPicture(number, each.path, each.file.digest, "", "")
            for number, each in enumerate(self.pictures, start=1)
        )
        blocks = tuple(Pictures(shown, small=small) for small in sizes)
        chapter = Chapter("a", "A", (Section("s", "S", blocks),))
        return Dossier("T", (), "", "", "", Chapter("cover", "T", ()), (chapter,))

    def lay_out(self, *sizes: bool, store: str | None = "cache", folder: str = "out") -> Prints:
        """The copies in these sizes; all are asked for where none is named."""
        ledger = making.ledger(pictures=self.pictures)
        room = PrintRoom(self.root / folder, self.root / store if store else None)
        dossier = self.dossier(*(sizes or (False, True)))
        return lay_out_prints(dossier, ledger, self.where, room, self.done.append)

    def copy(self, number: int = 1, *, small: bool = False, folder: str = "out") -> bytes:
        """The bytes of a copy."""
        return (self.root / folder / picture_name(number, small)).read_bytes()

    def image(self, number: int = 1, *, small: bool = False) -> Image.Image:
        """A copy, decoded."""
        return Image.open(io.BytesIO(self.copy(number, small=small)))

    def all_copies(self, folder: str = "out") -> dict[str, bytes]:
        """Every file of the folder by name."""
        return {each.name: each.read_bytes() for each in sorted((self.root / folder).iterdir())}


@pytest.fixture
def table(tmp_path: Path) -> Table:
    """A table without pictures yet."""
    return Table(tmp_path)


def both(table: Table, data: bytes) -> list[Image.Image]:
    """The large and the small copy of one picture, each of the size that is told and planned."""
    prints = table.put({"a": data}).lay_out()
    (photo,) = (each.file for each in table.pictures)
    images = [table.image(small=small) for small in (False, True)]
    sizes = [print_size(photo.width_px, photo.height_px, small) for small in (False, True)]
    assert [image.size for image in images] == sizes
    assert [prints.size(1, small) for small in (False, True)] == sizes
    assert {(image.format, image.mode) for image in images} == {("JPEG", "RGB")}
    assert (prints.failed, prints.made, prints.trouble) == ((), 1, None)
    return images


# ---- sizes and names -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height", "large", "small"),
    [
        (4032, 3024, (1000, 750), (240, 180)),
        (3024, 4032, (750, 1000), (180, 240)),
        (1000, 750, (1000, 750), (240, 180)),
        (1001, 1000, (1000, 999), (240, 239)),
        (999, 400, (999, 400), (240, 96)),
        (240, 10, (240, 10), (240, 10)),
        (10_000, 20, (1000, 2), (240, 1)),
        (20, 10_000, (2, 1000), (1, 240)),
        (100_000, 1, (1000, 1), (240, 1)),
        (1, 1, (1, 1), (1, 1)),
    ],
)
def test_sizes(width: int, height: int, large: tuple[int, int], small: tuple[int, int]) -> None:
    """The long side is bounded, the other in proportion; nothing is enlarged or vanishes."""
    found = (print_size(width, height, False), print_size(width, height, True))  # noqa: FBT003
    assert found == (large, small)


@given(st.integers(1, 70_000), st.integers(1, 70_000), st.booleans())
def test_sizes_hold_for_all(width: int, height: int, small: bool) -> None:  # noqa: FBT001
    """Every size is within the bound, no larger than the picture, less than a pixel off."""
    side = SMALL_SIDE_PX if small else LONG_SIDE_PX
    found = print_size(width, height, small)
    longer = max(width, height)
    assert max(found) == min(side, longer)
    assert found[0] <= width
    assert found[1] <= height
    for drawn, whole in zip(found, (width, height), strict=True):
        assert drawn == 1 or 0 <= whole * max(found) - drawn * longer < longer
    assert print_size(height, width, small) == found[::-1]


def test_names() -> None:
    """Numbers have at least four digits, so that files stand in their order."""
    names = [picture_name(n, small) for n in (1, 12, 9999, 10_000) for small in (False, True)]
    assert names[:4] == ["0001.jpg", "0001-small.jpg", "0012.jpg", "0012-small.jpg"]
    assert names[4:] == ["9999.jpg", "9999-small.jpg", "10000.jpg", "10000-small.jpg"]


def test_only_what_is_shown_is_drawn(table: Table) -> None:
    """A picture is drawn in the sizes in which chapters show it, and told in no other."""
    prints = table.put({"a": encode(corners(300, 200), "JPEG")}).lay_out(True)  # noqa: FBT003
    assert list(table.all_copies()) == ["0001-small.jpg"]
    assert (prints.size(1, True), prints.size(1, False)) == ((240, 160), None)  # noqa: FBT003
    assert prints.size(2, True) is None  # noqa: FBT003


def test_pictures_count_once(table: Table) -> None:
    """Progress and its total count a picture once, in however many sizes it is shown."""
    table.put({"a": encode(corners(), "PNG"), "b": encode(corners(90, 9), "PNG")}).lay_out()
    assert pictures_to_print(table.dossier(False, True, True)) == 2  # noqa: FBT003
    assert sum(table.done) == 2


def test_the_cover_is_looked_at(table: Table) -> None:
    """A picture on the cover is drawn too."""
    table.put({"a": encode(corners(), "PNG")})
    inner = table.dossier(False)  # noqa: FBT003
    cover = Chapter("cover", "T", inner.chapters[0].blocks)
    dossier = Dossier("T", (), "", "", "", cover, ())
    ledger = making.ledger(pictures=table.pictures)
    room = PrintRoom(table.root / "out", None)
    assert lay_out_prints(dossier, ledger, table.where, room, table.done.append).made == 1


# ---- how a copy looks ----------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_orientation(table: Table, kind: str, orientation: int) -> None:
    """Each of the 8 orientations comes out upright in both sizes."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    wanted = [STORED[corner] for corner in SEEN[orientation].split()]
    for image in both(table, encode(corners(1500, 1000), kind, exif=exif)):
        assert (image.width > image.height) == (orientation < 5)
        assert_corners(image, *wanted)


@pytest.mark.parametrize("kind", ["HEIF", "AVIF"])
def test_boxed_kinds_that_lie_on_their_side(table: Table, kind: str) -> None:
    """A HEIC or AVIF with a rotation of its own comes out upright, and only once."""
    exif = Image.Exif()
    exif[0x0112] = 6
    wanted = [STORED[corner] for corner in SEEN[6].split()]
    for image in both(table, encode(corners(), kind, exif=exif.tobytes(), quality=90)):
        assert image.size == (40, 60)
        assert_corners(image, *wanted, within=40)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind(table: Table, kind: str) -> None:
    """Each of the five kinds gives both copies."""
    for image in both(table, encode(corners(1800, 1200), kind, quality=90)):
        assert_corners(image, RED, GREEN, BLUE, YELLOW)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "AVIF", "HEIF"])
def test_what_shows_through_is_white(table: Table, kind: str) -> None:
    """What is transparent is white, and what is half so is halfway to white."""
    for copy in both(table, encode(over_white(Image.new("RGB", (1800, 60), RED)), kind)):
        pale, white = (237, 137, 137), (255, 255, 255)
        assert_corners(copy, pale, white, pale, white)


def test_palettes_bits_and_greys(table: Table) -> None:
    """Palettes (with a transparent colour too), 1-bit, grey and 16-bit pictures come out right."""
    palette = corners(1200, 800).quantize(4)
    bits = Image.new("1", (60, 40), 1)
    bits.paste(0, (0, 0, 30, 40))
    colour = b"\0" + b"\xdc\x12\x14\x34\x14\x56" * 60
    table.put(
        {
            "palette": encode(palette, "PNG"),
            "through": encode(palette, "PNG", transparency=palette.getpixel((0, 0))),
            "bits": encode(bits, "PNG"),
            "grey": encode(Image.new("LA", (60, 40), (90, 255)), "PNG"),
            "deep": encode(Image.new("I;16", (60, 40), 0x4000), "PNG"),
            "deep colour": png(60, 40, 16, 2, colour * 40),
        }
    ).lay_out()
    white, black = (255, 255, 255), (0, 0, 0)
    assert_corners(table.image(1), RED, GREEN, BLUE, YELLOW)
    assert_corners(table.image(2), white, GREEN, BLUE, YELLOW)
    assert_corners(table.image(3), black, white, black, white)
    assert_corners(table.image(4), *[(90, 90, 90)] * 4, within=4)
    assert_corners(table.image(5), *[(64, 64, 64)] * 4, within=4)
    assert_corners(table.image(6), *[RED] * 4)
    assert {table.image(number).mode for number in range(1, 7)} == {"RGB"}


def test_cmyk(table: Table) -> None:
    """CMYK becomes RGB in its colours, and no negative."""
    for image in both(table, encode(corners(1200, 800).convert("CMYK"), "JPEG", quality=95)):
        assert_corners(image, RED, GREEN, BLUE, YELLOW, within=40)


@pytest.mark.parametrize("kind", KINDS)
def test_colours_follow_the_profile(table: Table, kind: str) -> None:
    """An embedded profile is applied, so that the copy needs none."""
    data = encode(corners(), kind, icc_profile=swapped_profile(), quality=95)
    for image in both(table, data):
        assert_corners(image, BLUE, GREEN, RED, (20, 220, 230), within=40)


@pytest.mark.parametrize("kind", KINDS)
def test_display_p3(table: Table, kind: str) -> None:
    """The wider colours that phones write come out as sRGB has them, clipped where it has none."""
    colors = ((180, 100, 60), (60, 160, 90), (90, 90, 90), (0, 255, 0))
    wide = Image.new("RGB", (1200, 800))
    for at, color in enumerate(colors):
        left, top = at % 2 * 600, at // 2 * 400
        wide.paste(color, (left, top, left + 600, top + 400))
    data = encode(wide, kind, icc_profile=display_p3_profile(), quality=95)
    for image in both(table, data):
        assert_corners(image, *map(p3_to_srgb, colors), within=6)


def p3_to_srgb(color: tuple[int, ...]) -> tuple[int, ...]:
    """A colour of Display P3 in sRGB, by the matrix between their linear lights."""
    rows = ((1.2249, -0.2247, 0), (-0.0420, 1.0419, 0), (-0.0197, -0.0786, 1.0979))
    light = [((c / 255 + 0.055) / 1.055) ** 2.4 if c > 10 else c / 3294.6 for c in color]
    mixed = (sum(a * b for a, b in zip(row, light, strict=True)) for row in rows)
    within = (min(1, max(0, each)) for each in mixed)
    shown = (1.055 * c ** (1 / 2.4) - 0.055 if c > 0.0031308 else 12.92 * c for c in within)
    return tuple(round(255 * each) for each in shown)


@pytest.mark.parametrize("size", [(10_000, 20), (20, 10_000), (1, 1), (1, 3000), (65_000, 3)])
def test_odd_shapes(table: Table, size: tuple[int, int]) -> None:
    """A strip, a thread and a single pixel are drawn."""
    for image in both(table, encode(Image.new("RGB", size, RED), "JPEG", quality=90)):
        assert is_near(image.getpixel((0, 0)), RED)


@pytest.mark.slow
@pytest.mark.parametrize("orientation", [1, 6])
def test_like_a_careful_hand(table: Table, orientation: int) -> None:
    """A copy looks like the plainest way to make one: decode all, turn, shrink once."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    rough = Image.effect_noise((64, 48), 90).resize((3968, 2976), Image.Resampling.BICUBIC)
    data = encode(rough.convert("RGB"), "JPEG", exif=exif, quality=92)
    plain = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    for image in both(table, data):
        wanted = plain.resize(image.size, Image.Resampling.LANCZOS).convert("RGB")
        assert max(ImageStat.Stat(ImageChops.difference(image, wanted)).mean) < 3.5


def test_a_jpeg_is_decoded_at_the_scale_it_needs(
    table: Table, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A JPEG is decoded at a quarter for the large copy and at an eighth for the small one."""
    seen = watch_decoding(monkeypatch)
    table.put({"a": encode(corners(4032, 3024), "JPEG")}).lay_out()
    assert seen == [(1008, 756), (504, 378)]
    seen.clear()
    Table(table.root / "odd").put({"b": encode(corners(2999, 4000), "JPEG")}).lay_out()
    assert seen == [(750, 1000), (375, 500)]


@pytest.mark.parametrize("kind", KINDS[1:])
def test_other_kinds_are_decoded_once(
    table: Table, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What can only be decoded whole is decoded once for both copies."""
    seen = watch_decoding(monkeypatch)
    table.put({"a": encode(corners(1200, 800), kind)}).lay_out()
    assert seen == [(1200, 800)]


def watch_decoding(monkeypatch: pytest.MonkeyPatch) -> list[tuple[int, int]]:
    """A list that receives the size at which each picture is decoded."""
    seen: list[tuple[int, int]] = []
    real = pixels._to_plain_mode

    def note_size(image: Image.Image) -> Image.Image:
        seen.append(image.size)
        return real(image)

    monkeypatch.setattr(pixels, "_to_plain_mode", note_size)
    return seen


@pytest.mark.parametrize(("limit", "most"), [(0, 1), (1_000_000, 2)])
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_large_pictures_are_decoded_one_at_a_time(
    table: Table, monkeypatch: pytest.MonkeyPatch, kind: str, limit: int, most: int
) -> None:
    """Two threads never hold two large pictures at once; others they decode side by side."""
    monkeypatch.setattr(pixels, "LARGE_JPEG_PIXELS" if kind == "JPEG" else "LARGE_PIXELS", limit)
    within, highest, meet = 0, 0, threading.Barrier(2)
    real = pixels._to_plain_mode

    def look(image: Image.Image) -> Image.Image:
        nonlocal within, highest
        within += 1
        highest = max(highest, within)
        with suppress(threading.BrokenBarrierError):
            meet.wait(30 if most > 1 else 0.2)
        found = real(image)
        within -= 1
        return found

    monkeypatch.setattr(pixels, "_to_plain_mode", look)
    data = encode(corners(), kind)
    table.put({"a": data, "b": data}).lay_out(True, store=None)  # noqa: FBT003
    assert highest == most


@pytest.mark.parametrize(("limit", "most"), [(0, 1), (1_000_000, 2)])
def test_bulky_files_are_held_one_at_a_time(
    table: Table, monkeypatch: pytest.MonkeyPatch, limit: int, most: int
) -> None:
    """Two threads never hold two very large files at once; others they read side by side."""
    monkeypatch.setattr(print_pictures, "BULKY_BYTES", limit)
    within, highest, meet = 0, 0, threading.Barrier(2)

    def look(*_: object) -> list[bytes]:
        nonlocal within, highest
        within += 1
        highest = max(highest, within)
        with suppress(threading.BrokenBarrierError):
            meet.wait(30 if most > 1 else 0.2)
        within -= 1
        return [b""]

    monkeypatch.setattr(print_pictures, "_drawn", look)
    data = encode(corners(), "PNG")
    table.put({"a": data, "b": data}).lay_out(True, store=None)  # noqa: FBT003
    assert highest == most


# ---- nothing but the picture ---------------------------------------------------------------


def segments_of(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """The segments of a JPEG up to its scan (ITU-T T.81, annex B): marker and content."""
    assert jpeg[:2] == b"\xff\xd8"
    assert jpeg[-2:] == b"\xff\xd9"
    place = 2
    while True:
        assert jpeg[place] == 0xFF
        marker, length = jpeg[place + 1], int.from_bytes(jpeg[place + 2 : place + 4], "big")
        yield marker, jpeg[place + 4 : place + 2 + length]
        if marker == 0xDA:
            return
        place += 2 + length


@pytest.mark.parametrize("kind", KINDS)
def test_no_metadata(table: Table, kind: str) -> None:
    """Nothing but the picture is in a copy: no Exif, no place, no XMP, no profile, no remark."""
    data = plant(kind)
    table.put({"a": data}).lay_out()
    assert table.pictures[0].file.located
    for copy in table.all_copies().values():
        segments = list(segments_of(copy))
        assert {marker for marker, _ in segments} == {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
        assert [body[:5] for marker, body in segments if marker == 0xE0] == [b"JFIF\0"]
        for trace in (MARKER, b"Exif", b"http:", b"ICC_PROFILE", b"acsp", b"Adobe", b"Photoshop"):
            assert trace not in copy


def test_baseline_in_three_colours_at_half_resolution(table: Table) -> None:
    """Each copy, of a grey or a CMYK picture too, is baseline JPEG of 8 bits with 4:2:0 colours."""
    grey, inks = Image.new("L", (400, 300), 90), corners(400, 300).convert("CMYK")
    table.put({"g": encode(grey, "JPEG"), "c": encode(inks, "JPEG"), "r": plant("PNG")}).lay_out()
    copies = table.all_copies().values()
    assert len(copies) == 6
    for copy in copies:
        frame = dict(segments_of(copy))[0xC0]
        assert (frame[0], frame[5]) == (8, 3)
        assert (frame[7], frame[10], frame[13]) == (0x22, 0x11, 0x11)


def test_each_size_has_its_quality(table: Table) -> None:
    """Large copies are coded finer than small ones, by the library's own scale."""
    table.put({"a": encode(corners(1200, 900), "PNG")}).lay_out()
    for small, quality in ((False, 75), (True, 66)):
        plain = Image.open(io.BytesIO(encode(corners(), "JPEG", quality=quality)))
        copy = table.image(small=small)
        assert isinstance(plain, JpegImageFile)
        assert isinstance(copy, JpegImageFile)
        assert copy.quantization == plain.quantization


# ---- the same bytes, and once --------------------------------------------------------------


@cache
def assorted() -> dict[str, bytes]:
    """A picture of each kind, large enough for two copies."""
    rough = Image.effect_noise((44, 28), 60).resize((1100, 700), Image.Resampling.BICUBIC)
    noise = rough.convert("RGB")
    return {kind.lower(): encode(noise, kind) for kind in KINDS}


def test_the_same_bytes_with_and_without_store(table: Table) -> None:
    """Drawn twice, or taken from the store, each copy has the same bytes."""
    first = table.put(assorted()).lay_out(folder="a")
    second = table.lay_out(folder="b")
    third = table.lay_out(store=None, folder="c")
    assert (first.made, second.made, third.made) == (5, 0, 5)
    assert first.sizes == second.sizes == third.sizes
    assert table.all_copies("a") == table.all_copies("b") == table.all_copies("c")
    assert len(table.all_copies("a")) == 10


def test_a_copy_does_not_depend_on_which_others_are_wanted(table: Table) -> None:
    """Small copies drawn alone, or after the large ones, have the bytes of those drawn together."""
    table.put(assorted()).lay_out(folder="both", store=None)
    for small in (True, False):
        table.lay_out(small, folder="each", store="one by one")
    assert table.all_copies("each") == table.all_copies("both")


def test_second_run_draws_nothing(table: Table, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the store holds is neither read from the original nor drawn again."""
    table.put(assorted()).lay_out()
    copies = table.all_copies()
    monkeypatch.setattr(print_pictures, "_drawn", lambda *_: pytest.fail("drawn again"))
    assert table.lay_out().made == 0
    assert table.all_copies() == copies


@pytest.mark.parametrize("word", ["PRINT_VERSION", "SMALL_SIDE_PX", "SMALL_QUALITY"])
def test_other_settings_draw_anew(table: Table, word: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another size, quality or version of ours does not take what was drawn before."""
    table.put({"a": encode(corners(600, 400), "JPEG")}).lay_out()
    monkeypatch.setattr(print_pictures, word, getattr(print_pictures, word) - 1)
    assert table.lay_out().made == 1


def test_another_library_draws_anew(table: Table, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another release of the picture libraries does not take what the one before drew."""
    table.put({"a": encode(corners(600, 400), "JPEG")}).lay_out()
    monkeypatch.setattr(print_pictures, "_libraries", lambda: ("0", "0"))
    assert table.lay_out().made == 1


def test_a_damaged_store_is_drawn_anew(table: Table) -> None:
    """A copy that was damaged in the store is made again, with the same bytes."""
    table.put({"a": encode(corners(600, 400), "JPEG")}).lay_out()
    copies = table.all_copies()
    entries = sorted((table.root / "cache" / "made").glob("??/*"))
    assert len(entries) == 2
    entries[0].write_bytes(b"nonsense")
    assert table.lay_out().made == 1
    assert table.all_copies() == copies


def test_a_store_that_cannot_be_written_is_told(
    table: Table, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the store cannot be written, all is drawn, nothing is held, and it is told."""
    (table.root / "cache").write_text("a file stands here")
    held: list[str] = []
    real = Store.put

    def note(store: Store, key: str, data: bytes) -> None:
        held.append(key)
        real(store, key, data)

    monkeypatch.setattr(Store, "put", note)
    prints = table.put(assorted()).lay_out()
    assert (prints.made, len(table.all_copies())) == (5, 10)
    assert len(held) <= 2  # the first of each thread, by which it is found
    assert prints.trouble is not None
    assert "cannot be used" in prints.trouble


def test_copies_are_files_of_their_own(table: Table) -> None:
    """A copy may be altered or moved: neither the store nor what it replaces changes with it."""
    table.put({"a": encode(corners(600, 400), "JPEG")}).lay_out()
    copy = table.root / "out" / "0001.jpg"
    sound = copy.read_bytes()
    assert copy.stat().st_nlink == 1
    (table.root / "kept.jpg").hardlink_to(copy)
    copy.write_bytes(b"altered")
    assert table.lay_out().made == 0
    assert copy.read_bytes() == sound
    assert (table.root / "kept.jpg").read_bytes() == b"altered"


# ---- what cannot be drawn ------------------------------------------------------------------


def failed_alone(table: Table, prints: Prints) -> NotDrawn:
    """What is told of the first picture; it has no copy, and the second one has both."""
    (told,) = prints.failed
    assert (told.number, told.path) == (1, "photos/a")
    assert list(table.all_copies()) == ["0002-small.jpg", "0002.jpg"]
    assert set(prints.sizes) == {(2, False), (2, True)}
    assert prints.size(1, False) is prints.size(1, True) is None  # noqa: FBT003
    return told


def two(table: Table) -> Table:
    """Two pictures on the table."""
    return table.put({"a": encode(corners(300, 200), "PNG"), "b": encode(corners(), "JPEG")})


def test_a_picture_that_changes_after_it_was_read(table: Table) -> None:
    """A picture replaced since its facts were read is told, and no copy stands under its digest."""
    two(table)
    table.where("photos/a").write_bytes(encode(corners(300, 200).rotate(180), "PNG"))
    told = failed_alone(table, table.lay_out())
    assert told.reason == (
        "'photos/a' was changed while the dossier was being made; run the command again"
    )
    assert len(list((table.root / "cache" / "made").glob("??/*"))) == 2


def test_a_picture_that_vanishes(table: Table) -> None:
    """A picture that is gone when it is to be drawn is told."""
    two(table).where("photos/a").unlink()
    told = failed_alone(table, table.lay_out())
    assert told.reason.startswith("'photos/a' cannot be read any more (No such file")


def test_a_picture_that_cannot_be_decoded(table: Table, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the library gives up, its reason is told; it is no crash."""
    real = picture_open.open_picture

    def fail(data: bytes, kind: object) -> object:
        if kind == "PNG":
            raise OSError("broken data stream")
        return real(data, kind)  # type: ignore[arg-type]

    monkeypatch.setattr(pixels, "open_picture", fail)
    told = failed_alone(two(table), table.lay_out())
    assert "'photos/a' looks whole but cannot be decoded (broken data stream)" in told.reason


def test_what_stood_in_the_folder_goes_with_a_failure(table: Table) -> None:
    """A copy of an earlier run is taken away where its picture cannot be drawn any more."""
    two(table).lay_out(store=None)
    table.where("photos/a").unlink()
    failed_alone(table, table.lay_out(store=None))


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a\1\0\1\0\0\0\0;", encode(corners(), "JPEG")[:200], b"\0" * 99]
)
def test_what_reading_found_wrong_is_told_again(table: Table, data: bytes) -> None:
    """A GIF, an empty and a cut file are never opened; the fault of the file is the reason."""
    table.put({"a": data, "b": encode(corners(), "JPEG")})
    told = failed_alone(table, table.lay_out())
    assert told.reason == table.pictures[0].file.fault


def test_a_folder_that_cannot_be_written_is_refused(table: Table) -> None:
    """Where a file stands in the folder's way, the command refuses with its name."""
    two(table)
    (table.root / "out").write_text("in the way")
    with pytest.raises(Refused, match="could not write pictures into"):
        table.lay_out()


def test_originals_are_only_read(table: Table) -> None:
    """Originals that nobody may write are drawn, and keep their bytes and times."""
    two(table)
    files = [table.where(name) for name in table.names]
    for file in files:
        file.chmod(stat.S_IRUSR)
    before = [(file.read_bytes(), file.stat().st_mtime_ns) for file in files]
    assert table.lay_out().made == 2
    assert [(file.read_bytes(), file.stat().st_mtime_ns) for file in files] == before
