"""Pictures of a builder's own look: what a camera wrote into them does not go along."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import ExifTags, Image, ImageSequence, PngImagePlugin

from builderlog.drawing.look_files import (
    UNSEEN,
    UncleanError,
    bytes_to_publish,
    unseen,
    without_words,
)
from builderlog.reading.picture_bytes import Kind, tell_kind
from builderlog.storing.cache import Store
from tests.command.hidden_journal import XMP, exif, markers_in, photo, profile, words_of_picture
from tests.drawing.picture_files import STORED, assert_corners, corners

KINDS: tuple[Kind, ...] = ("JPEG", "PNG", "WEBP", "AVIF")


def saved(image: Image.Image, kind: str, **more: object) -> bytes:
    """The picture's file."""
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def with_words(kind: str, *, profiled: bool) -> bytes:
    """Corners of four colours, with Exif and XMP, and a profile or none."""
    told: dict[str, object] = {"exif": exif(), "icc_profile": profile() if profiled else None}
    if kind != "PNG":
        told["xmp"] = XMP
    return saved(corners(), kind, **told)


def clean(data: bytes) -> bytes:
    """What goes along of a picture, which says nothing beside its pixels."""
    made = without_words(data, tell_kind(data))
    assert markers_in(made) == set()
    assert markers_in(words_of_picture(io.BytesIO(made))) == set()
    return made


@pytest.mark.parametrize("profiled", [False, True], ids=["plain", "profiled"])
@pytest.mark.parametrize("kind", KINDS)
def test_no_word_of_the_camera_goes_along(kind: str, *, profiled: bool) -> None:
    """Of a picture with Exif, XMP and a profile friends get a picture of the same kind and look."""
    data = with_words(kind, profiled=profiled)
    assert "zqexifserialqz" in markers_in(data)
    with Image.open(io.BytesIO(clean(data))) as image:
        assert image.format == kind
        assert_corners(image.convert("RGB"), *STORED.values())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_every_kind_of_word(kind: str) -> None:
    """Comments, text chunks and bytes behind the end go too."""
    data = photo(80, kind)
    assert len(markers_in(data)) > 10
    assert tell_kind(clean(data)) == kind


@pytest.mark.parametrize("kind", KINDS)
def test_what_says_nothing_stays_as_it_is(kind: str) -> None:
    """A picture without metadata goes along byte for byte, also beside files of other kinds."""
    data = saved(corners(), kind)
    assert without_words(data, tell_kind(data)) == data


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_pixels_stay_where_they_can(kind: str) -> None:
    """Without a turn and a profile the picture is not compressed again: each pixel is the same."""
    data = with_words(kind, profiled=False)
    with Image.open(io.BytesIO(data)) as before, Image.open(io.BytesIO(clean(data))) as after:
        assert before.convert("RGB").tobytes() == after.convert("RGB").tobytes()


@pytest.mark.parametrize("kind", KINDS)
def test_a_turned_picture_stays_upright(kind: str) -> None:
    """A picture that its Exif alone turns upright is drawn anew, upright."""
    turned = Image.Exif()
    turned[ExifTags.Base.Orientation] = 6
    with Image.open(io.BytesIO(clean(saved(corners(), kind, exif=turned)))) as image:
        wanted = (STORED[place] for place in ("BL", "TL", "BR", "TR"))
        assert_corners(image.convert("RGB"), *wanted)


def test_what_shows_through_stays() -> None:
    """A see-through PNG with a profile keeps what shows through."""
    image = Image.new("RGBA", (8, 8), (10, 200, 30, 90))
    with Image.open(io.BytesIO(clean(saved(image, "PNG", icc_profile=profile())))) as after:
        assert after.convert("RGBA").getpixel((3, 3)) == (10, 200, 30, 90)


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_what_moves_goes_on_moving(kind: str) -> None:
    """A moving picture keeps all its pictures and loses its words."""
    frames = [Image.new("RGB", (8, 8), shade) for shade in ("red", "green", "blue")]
    told: dict[str, object] = {"exif": exif(), "icc_profile": profile()}
    if kind == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Comment", "zqpngtextqz")
        told["pnginfo"] = text
    data = saved(frames[0], kind, save_all=True, append_images=frames[1:], lossless=True, **told)
    assert markers_in(data)
    with Image.open(io.BytesIO(clean(data))) as image:
        assert len(list(ImageSequence.Iterator(image))) == 3


def test_what_cannot_be_made_clean_is_refused() -> None:
    """A picture as phones write it, which few browsers show, and a damaged one are refused."""
    with pytest.raises(UncleanError, match="save it as JPEG"):
        without_words(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "HEIF")
    with pytest.raises(UncleanError, match="save it again"):
        without_words(b"\0\0\0\x1cftypavif\0\0\0\0avifmif1miaf", "AVIF")
    with pytest.raises(UncleanError, match="save it again"):
        without_words(with_words("JPEG", profiled=True)[:-60], "JPEG")


def test_other_files_are_not_touched(tmp_path: Path) -> None:
    """A style or a font goes along as it is; what may hold words that nobody sees is named."""
    (tmp_path / "own.css").write_bytes(b":root {}")
    assert bytes_to_publish(tmp_path / "own.css", Store(None)) == b":root {}"
    assert unseen(b"\0\0\0\x18ftypmp42") == "a film"
    told = {unseen(data) for data in (b"%PDF-1.7", b"8BPS", b"PK\3\4", b"II*\0", b"\xff\x0a")}
    assert told | {unseen(b"\0\0\0\x0cjP  "), "a film"} == set(UNSEEN)
    assert [unseen(data) for data in (b":root {}", b"wOF2\0\1\0\0", photo(3))] == ["", "", ""]


def test_a_clean_picture_is_made_once(tmp_path: Path) -> None:
    """What was drawn anew is kept in the store under the picture's own digest."""
    (tmp_path / "a.jpg").write_bytes(with_words("JPEG", profiled=True))
    store = Store(tmp_path / "cache")
    first = bytes_to_publish(tmp_path / "a.jpg", store)
    assert bytes_to_publish(tmp_path / "a.jpg", Store(tmp_path / "cache")) == first
    assert len(list((tmp_path / "cache/made").glob("??/*"))) == 1
