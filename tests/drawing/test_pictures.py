"""Smaller copies: upright, of the right colours, without metadata, and made once."""

from __future__ import annotations

import hashlib
import io
import random
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import ExifTags, Image, ImageChops, ImageCms, ImageOps, ImageStat

from builderlog.drawing import pictures, pixels
from builderlog.drawing.pictures import (
    Copies,
    CopyRef,
    copies_for,
    draw_copies,
    plan_sizes,
    read_copy,
)
from builderlog.drawing.pixels import to_srgb
from builderlog.reading.photo_file import PhotoFile, read_photo
from builderlog.reading.picture_open import UNREADABLE
from builderlog.storing.cache import Store
from builderlog.storing.refusal import Refused
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

if TYPE_CHECKING:
    from collections.abc import Callable

    from builderlog.reading.picture_bytes import Kind


def keep(tmp_path: Path, data: bytes) -> tuple[Path, PhotoFile]:
    """A file with these bytes and its facts, which must be without fault."""
    file = tmp_path / f"{hashlib.sha256(data).hexdigest()}.jpg"
    file.write_bytes(data)
    photo = read_photo(file, f"photos/{file.name[:6]}.jpg")
    assert photo.fault is None
    return file, photo


def draw_one(tmp_path: Path, data: bytes) -> Image.Image:
    """The only copy of a picture narrower than the narrower width."""
    (image,) = draw(tmp_path, data)
    return image


def draw(tmp_path: Path, data: bytes) -> list[Image.Image]:
    """The copies of a picture, decoded; each has the size it says, and the file is untouched."""
    file, photo = keep(tmp_path, data)
    drawn = draw_copies(file, photo)
    assert file.read_bytes() == data
    images: list[Image.Image] = [Image.open(io.BytesIO(copy.data)) for copy in drawn]
    assert [image.size for image in images] == [(c.width_px, c.height_px) for c in drawn]
    assert {(image.format, image.mode) for image in images} == {("WEBP", "RGB")}
    return images


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ((4032, 3024), ((480, 360), (960, 720), (1600, 1200))),
        ((3024, 4032), ((480, 640), (960, 1280), (1600, 2133))),
        ((1600, 1200), ((480, 360), (960, 720), (1600, 1200))),
        ((1599, 1200), ((480, 360), (960, 720), (1599, 1200))),
        ((961, 10), ((480, 5), (960, 10), (961, 10))),
        ((960, 720), ((480, 360), (960, 720))),
        ((481, 10), ((480, 10), (481, 10))),
        ((480, 360), ((480, 360),)),
        ((479, 360), ((479, 360),)),
        ((1, 1), ((1, 1),)),
        ((20_000, 10), ((480, 1), (960, 1), (1600, 1))),
        ((20_000, 12_000), ((480, 288), (960, 576), (1600, 960))),
        ((400, 40_000), ((163, 16_300),)),
        ((1, 100_000), ((1, 16_383),)),
    ],
)
def test_sizes(size: tuple[int, int], expected: tuple[tuple[int, int], ...]) -> None:
    """Three widths, never enlarged, in proportion, and never more than WebP can hold."""
    assert plan_sizes(*size) == expected


LARGE = (3300, 2200)  # is decoded smaller first, where its kind can be


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize(
    ("kind", "size"),
    [
        *(("JPEG", (60, 40)), ("PNG", (60, 40)), ("WEBP", (60, 40)), ("JPEG", LARGE)),
        pytest.param("PNG", LARGE, marks=pytest.mark.slow),
        pytest.param("WEBP", LARGE, marks=pytest.mark.slow),
    ],
)
def test_orientation(tmp_path: Path, kind: str, size: tuple[int, int], orientation: int) -> None:
    """Each of the 8 orientations comes out upright, in small and in large pictures alike."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    wanted = [STORED[corner] for corner in SEEN[orientation].split()]
    for image in draw(tmp_path, encode(corners(*size), kind, exif=exif)):
        assert (image.width > image.height) == (orientation < 5)
        assert_corners(image, *wanted)


def test_heif_that_lies_on_its_side(tmp_path: Path) -> None:
    """A HEIC or AVIF with a rotation of its own comes out upright, and only once."""
    exif = Image.Exif()
    exif[0x0112] = 6
    wanted = [STORED[corner] for corner in SEEN[6].split()]
    for kind in ("HEIF", "AVIF"):
        (image,) = draw(tmp_path, encode(corners(), kind, exif=exif.tobytes(), quality=90))
        assert image.size == (40, 60)
        assert_corners(image, *wanted, within=40)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_each_kind(tmp_path: Path, kind: str) -> None:
    """Each of the five kinds gives copies that show it."""
    images = draw(tmp_path, encode(corners(1800, 1200), kind, quality=90))
    assert [image.size for image in images] == [(480, 320), (960, 640), (1600, 1067)]
    for image in images:
        assert_corners(image, RED, GREEN, BLUE, YELLOW)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_no_metadata(tmp_path: Path, kind: str) -> None:
    """Nothing but the picture is in a copy: no Exif, no place, no XMP, no profile, no remark."""
    data = plant(kind)
    assert MARKER in data or kind == "PNG"
    file, photo = keep(tmp_path, data)
    assert photo.located
    for copy in draw_copies(file, photo):
        assert chunks_of(copy.data) == [b"VP8 "]
        for trace in (MARKER, b"EXIF", b"Exif", b"XMP ", b"xmpmeta", b"ICCP", b"acsp"):
            assert trace not in copy.data


def chunks_of(webp: bytes) -> list[bytes]:
    """The names of the chunks of a WebP file, which must fill it."""
    names, place = [], 12
    while place < len(webp):
        names.append(webp[place : place + 4])
        length = int.from_bytes(webp[place + 4 : place + 8], "little")
        place += 8 + length + length % 2
    assert place == len(webp)
    return names


def test_no_metadata_of_a_transparent_picture(tmp_path: Path) -> None:
    """A transparent picture is flattened, so that its copy needs no extended header either."""
    image = Image.new("RGBA", (60, 40), (220, 20, 20, 0))
    file, photo = keep(tmp_path, encode(image, "PNG"))
    (copy,) = draw_copies(file, photo)
    assert chunks_of(copy.data) == [b"VP8 "]


def test_deterministic(tmp_path: Path) -> None:
    """The same picture gives the same bytes each time."""
    file, photo = keep(tmp_path, encode(Image.effect_noise((1700, 900), 60), "JPEG"))
    assert draw_copies(file, photo) == draw_copies(file, photo)


def test_cmyk_with_and_without_adobe(tmp_path: Path) -> None:
    """CMYK comes out in its colours, and the inverted kind is not a negative."""
    image = corners().convert("CMYK")
    data = encode(image, "JPEG", quality=95)
    assert_corners(draw_one(tmp_path, data), RED, GREEN, BLUE, YELLOW, within=40)
    adobe = data.index(b"\xff\xee\0\x0eAdobe")
    plain = data[:adobe] + data[adobe + 16 :]  # who writes it without the mark inverts all the same
    assert_corners(draw_one(tmp_path, plain), RED, GREEN, BLUE, YELLOW, within=40)


def test_sixteen_bits(tmp_path: Path) -> None:
    """16-bit greys keep their brightness instead of turning white."""
    image = Image.new("I;16", (60, 40), 0x4000)
    (copy,) = draw(tmp_path, encode(image, "PNG"))
    assert is_near(copy.getpixel((30, 20)), (64, 64, 64), 4)


def test_sixteen_bits_in_colour(tmp_path: Path) -> None:
    """A PNG with 16 bits a colour comes out in its colours."""
    row = b"\0" + b"\xdc\x12\x14\x34\x14\x56" * 60
    (copy,) = draw(tmp_path, png(60, 40, 16, 2, row * 40))
    assert is_near(copy.getpixel((30, 20)), RED)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "AVIF", "HEIF"])
@pytest.mark.parametrize("width", [60, 1800])
def test_alpha_over_white(tmp_path: Path, kind: str, width: int) -> None:
    """What is transparent is white in the copy, and what is half so is halfway to white."""
    image = over_white(Image.new("RGB", (width, 40), RED))
    for copy in draw(tmp_path, encode(image, kind, quality=95)):
        pale, white = (237, 137, 137), (255, 255, 255)
        assert_corners(copy, pale, white, pale, white)


def test_palettes_bits_and_greys(tmp_path: Path) -> None:
    """Palettes (with a transparent colour too), 1-bit and grey pictures come out right."""
    palette = corners().quantize(4)
    assert_corners(draw_one(tmp_path, encode(palette, "PNG")), RED, GREEN, BLUE, YELLOW)
    see_through = encode(palette, "PNG", transparency=palette.getpixel((0, 0)))
    assert_corners(draw_one(tmp_path, see_through), (255, 255, 255), GREEN, BLUE, YELLOW)
    keyed = encode(corners(), "PNG", transparency=GREEN)
    assert_corners(draw_one(tmp_path, keyed), RED, (255, 255, 255), BLUE, YELLOW)
    bits = Image.new("1", (60, 40), 1)
    bits.paste(0, (0, 0, 30, 40))
    black, white = (0, 0, 0), (255, 255, 255)
    assert_corners(draw_one(tmp_path, encode(bits, "PNG")), black, white, black, white)
    grey = Image.new("LA", (60, 40), (90, 255))
    assert is_near(draw_one(tmp_path, encode(grey, "PNG")).getpixel((9, 9)), (90, 90, 90), 4)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_colours_follow_the_profile(tmp_path: Path, kind: str) -> None:
    """An embedded profile is applied, so that the copy needs none."""
    data = encode(corners(), kind, icc_profile=swapped_profile(), quality=95)
    assert_corners(draw_one(tmp_path, data), BLUE, GREEN, RED, (20, 220, 230), within=40)


@pytest.mark.parametrize("kind", ["JPEG", "HEIF"])
@pytest.mark.parametrize("name", ["P3 d built-in", "not sRGB bui."])
def test_wide_colours_that_lie_on_their_side(tmp_path: Path, kind: str, name: str) -> None:
    """What phones write, wider colours and a turn, comes out upright in sRGB, whatever its name.

    In sRGB a green of (60, 160, 90) in Display P3 is (0, 163, 82), reckoned by CSS Color 4.
    """
    plain, other = (text.encode("utf-16-be") for text in ("P3 d built-in", name))
    wide = display_p3_profile().replace(plain, other)
    assert other in wide
    green = Image.new("RGB", (60, 40), (60, 160, 90))
    green.paste((255, 255, 255), (0, 0, 60, 20))
    turned = Image.Exif()
    turned[ExifTags.Base.Orientation] = 6
    data = encode(green, kind, icc_profile=wide, exif=turned.tobytes(), quality=95)
    copy = draw_one(tmp_path, data)
    assert copy.size == (40, 60)
    assert not copy.info.get("icc_profile")
    assert is_near(copy.getpixel((5, 30)), (0, 163, 82), 8)
    assert is_near(copy.getpixel((34, 30)), (255, 255, 255), 8)


def test_a_profile_of_srgb_is_passed_over(tmp_path: Path) -> None:
    """A picture that says it is sRGB gives the same bytes as one that says nothing."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    plain, told = (encode(corners(), "PNG", **more) for more in ({}, {"icc_profile": srgb}))
    assert _bytes(tmp_path, plain) == _bytes(tmp_path, told)


def _bytes(tmp_path: Path, data: bytes) -> list[bytes]:
    return [copy.data for copy in draw_copies(*keep(tmp_path, data))]


def test_broken_profile(tmp_path: Path) -> None:
    """A profile that is broken, or made for other colours, is passed over."""
    sound = swapped_profile()
    for profile in (b"x", sound[:200], b"\0" * 500, sound.replace(b"RGB ", b"CMYK")):
        data = encode(corners(), "JPEG", icc_profile=profile)
        assert_corners(draw_one(tmp_path, data), RED, GREEN, BLUE, YELLOW)
    grey = encode(Image.new("L", (60, 40), 90), "JPEG", icc_profile=sound)
    assert is_near(draw_one(tmp_path, grey).getpixel((9, 9)), (90, 90, 90), 4)


def test_lab() -> None:
    """Lab colours, which no library converts by itself, are converted."""
    srgb, lab = ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB")
    image = ImageCms.profileToProfile(corners(), srgb, lab, outputMode="LAB")
    assert image is not None
    assert_corners(to_srgb(image, b""), RED, GREEN, BLUE, YELLOW)


def test_one_pixel(tmp_path: Path) -> None:
    """A picture of one pixel gives one copy of one pixel."""
    (image,) = draw(tmp_path, encode(Image.new("RGB", (1, 1), RED), "PNG"))
    assert image.size == (1, 1)


def test_very_high(tmp_path: Path) -> None:
    """A picture higher than WebP can hold is made narrower until it fits."""
    image = draw_one(tmp_path, encode(Image.new("RGB", (2, 40_000), RED), "PNG"))
    assert image.size == (1, 16_383)


def watch_decoding(monkeypatch: pytest.MonkeyPatch) -> list[tuple[int, int]]:
    """A list that receives the size at which each picture is decoded."""
    seen: list[tuple[int, int]] = []
    real: Callable[[Image.Image], Image.Image] = pixels._to_plain_mode

    def note_size(image: Image.Image) -> Image.Image:
        seen.append(image.size)
        return real(image)

    monkeypatch.setattr(pixels, "_to_plain_mode", note_size)
    return seen


def test_very_wide(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A JPEG 20,000 px wide is never decoded at its full size, on its side neither."""
    seen = watch_decoding(monkeypatch)
    exif = Image.Exif()
    exif[0x0112] = 6
    images = draw(tmp_path, encode(corners(20_000, 3000), "JPEG"))
    assert [image.size for image in images] == [(480, 72), (960, 144), (1600, 240)]
    images = draw(tmp_path, encode(corners(3000, 20_000), "JPEG", exif=exif))
    assert [image.size for image in images] == [(480, 72), (960, 144), (1600, 240)]
    assert seen == [(2500, 375), (375, 2500)]


def test_more_pixels_than_the_library_likes(tmp_path: Path) -> None:
    """A picture of 100 million pixels is drawn, with no warning of the library's own limit."""
    images = draw(tmp_path, encode(Image.new("L", (20_000, 5000), 90), "JPEG"))
    assert [image.size for image in images] == [(480, 120), (960, 240), (1600, 400)]


def test_drafts_are_never_too_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A JPEG is decoded at the smallest size that holds its widest copy, turned or not."""
    seen = watch_decoding(monkeypatch)
    exif = Image.Exif()
    exif[0x0112] = 6
    draw(tmp_path, encode(corners(4032, 3024), "JPEG"))
    draw(tmp_path, encode(corners(3024, 4032), "JPEG", exif=exif))
    draw(tmp_path, encode(corners(4032, 3024), "JPEG", exif=exif))  # its copy is 2133 high
    assert seen == [(2016, 1512), (1512, 2016), (4032, 3024)]


def test_like_a_careful_hand(tmp_path: Path) -> None:
    """A copy looks like the plainest way to make one: decode all, turn, shrink once."""
    exif = Image.Exif()
    exif[0x0112] = 8
    rough = Image.effect_noise((64, 48), 90).resize((3200, 2400), Image.Resampling.BICUBIC)
    data = encode(rough.convert("RGB"), "JPEG", exif=exif, quality=92)
    plain = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    for image in draw(tmp_path, data):
        wanted = plain.resize(image.size, Image.Resampling.LANCZOS).convert("RGB")
        assert max(ImageStat.Stat(ImageChops.difference(image, wanted)).mean) < 2.5


def collect(tmp_path: Path, *datas: bytes) -> list[tuple[PhotoFile, Path]]:
    """Pictures as the ledger hands them on."""
    kept = [keep(tmp_path, data) for data in datas]
    return [(photo, file) for file, photo in kept]


def test_second_run_draws_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Copies lie in the store: the second run draws none, and has the same ones."""
    photos = collect(tmp_path, encode(corners(700, 500), "JPEG"), encode(corners(), "PNG"))
    done: list[int] = []
    first = copies_for(photos, Store(tmp_path / "cache"), done.append)
    assert (first.made, sum(done), dict(first.faults)) == (2, 2, {})
    assert [len(refs) for refs in first.refs.values()] == [2, 1]

    def fail(*_: object) -> None:
        pytest.fail("drawn again")

    monkeypatch.setattr(pictures, "draw_copies", fail)
    store = Store(tmp_path / "cache")
    second = copies_for(photos, store, done.append)
    assert second == Copies(first.refs, {}, 0)
    for photo, _ in photos:
        for ref in second.refs[photo.digest]:
            with Image.open(io.BytesIO(read_copy(store, ref))) as image:
                assert image.size == (ref.width_px, ref.height_px)


def test_an_address_stands_for_the_bytes(tmp_path: Path) -> None:
    """Copies are called by their own bytes: words in the original move nothing, a pixel does.

    A host that keeps pictures for a year therefore never shows an old one in a new one's place.
    """
    image = corners()
    other = image.copy()
    other.paste((0, 0, 0), (20, 20, 40, 30))
    plain, told = encode(image, "JPEG"), encode(image, "JPEG", comment=b"at home")
    photos = collect(tmp_path, plain, told, encode(other, "JPEG"))
    found = copies_for(photos, Store(tmp_path / "cache"), lambda _: None)
    one, same, changed = (found.refs[photo.digest] for photo, _ in photos)
    assert photos[0][0].digest != photos[1][0].digest
    assert one[0].stem == same[0].stem != changed[0].stem
    assert len(one[0].stem) == 16
    again = copies_for(photos, Store(tmp_path / "cache"), lambda _: None)
    assert again.refs == found.refs
    assert copies_for(photos, Store(None), lambda _: None).refs == found.refs


def test_equal_files_share_copies(tmp_path: Path) -> None:
    """Two files with the same bytes are drawn once."""
    ((photo, file),) = collect(tmp_path, encode(corners(), "JPEG"))
    found = copies_for([(photo, file), (photo, file)], Store(None), lambda _: None)
    assert found.made == 1
    assert list(found.refs) == [photo.digest]


def test_damaged_copy_is_drawn_again(tmp_path: Path) -> None:
    """A copy that was damaged in the store is made anew."""
    photos = collect(tmp_path, encode(corners(), "JPEG"))
    copies_for(photos, Store(tmp_path / "cache"), lambda _: None)
    (entry,) = (tmp_path / "cache" / "made").glob("??/*")
    entry.write_bytes(b"nonsense")
    assert copies_for(photos, Store(tmp_path / "cache"), lambda _: None).made == 1


def test_copy_that_vanished(tmp_path: Path) -> None:
    """A copy whose cache is deleted while it is in use is told, not drawn as nothing."""
    with pytest.raises(Refused, match="was deleted while it was in use"):
        read_copy(Store(tmp_path), CopyRef(1, 1, "00"))


def test_picture_that_was_damaged_since_it_was_read(tmp_path: Path) -> None:
    """A picture that can no longer be decoded is told by its digest; the others are drawn."""
    sound, whole = encode(corners(), "JPEG"), encode(corners(), "PNG")
    photos = collect(tmp_path, whole, sound)
    rotten = bytearray(whole)
    place = rotten.index(b"IDAT") + 6
    rotten[place : place + 10] = bytes(10)
    photos[0][1].write_bytes(rotten)
    found = copies_for(photos, Store(None), lambda _: None)
    (fault,) = found.faults.values()
    assert list(found.faults) == [hashlib.sha256(whole).hexdigest()]
    assert "looks whole but cannot be decoded" in fault
    assert list(found.refs) == [hashlib.sha256(sound).hexdigest()]


def test_faulty_pictures_are_left_out(tmp_path: Path) -> None:
    """What reading found wrong (a bomb, an empty file) is never decoded."""
    file = tmp_path / "empty.jpg"
    file.write_bytes(b"")
    photo = read_photo(file, "photos/empty.jpg")
    assert copies_for([(photo, file)], Store(None), lambda _: None) == Copies({}, {}, 0)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_damage_is_told_never_raised(tmp_path: Path, kind: Kind) -> None:
    """Whatever bytes are flipped, a picture is drawn or told; no other error, no warning."""
    data = plant(kind)
    chance = random.Random(kind)
    for number in range(20):
        bent = bytearray(data)
        for _ in range(chance.randrange(1, 12)):
            bent[chance.randrange(12, min(len(bent), 1500))] = chance.randrange(256)
        file = tmp_path / f"{number}.jpg"
        file.write_bytes(bent)
        photo = read_photo(file, file.name)
        if photo.fault is None and photo.width_px * photo.height_px < 10_000_000:
            found = copies_for([(photo, file)], Store(None), lambda _: None)
            assert len(found.refs) + len(found.faults) == 1


def test_cut_data_raises_what_we_know(tmp_path: Path) -> None:
    """Data cut behind our back raises one of the errors we tell, of every kind."""
    for kind in ("JPEG", "PNG", "WEBP", "HEIF", "AVIF"):
        file, photo = keep(tmp_path, encode(corners(200, 100), kind))
        data = file.read_bytes()
        for length in (0, 10, 60, len(data) // 2, len(data) - 30):
            file.write_bytes(data[:length])
            with pytest.raises(UNREADABLE):
                draw_copies(file, photo)
