"""Dates of pictures written by others: Exif made by piexif, Pillow and pillow-heif, read by us.

Sources: the general Exif library piexif and the picture library Pillow, each with its own writer
of Exif; libheif through pillow-heif for HEIC. What the tags mean is Exif 2.32 (CIPA DC-008):
DateTimeOriginal is local time without a zone, OffsetTimeOriginal the zone with daylight saving.
"""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from datetime import date, datetime, time, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import piexif  # type: ignore[import-untyped]
import pytest
from PIL import Image
from pillow_heif import from_pillow

from builderlog.noting.picture_dates import Believing, Dated, date_picture, evening_of
from builderlog.reading.photo_file import read_photo

TODAY = date(2026, 4, 20)
PICTURE = Image.new("RGB", (16, 16), (40, 90, 160))
DETAIL = 0x8769

Writer = Callable[[str, str], bytes]  # DateTimeOriginal, OffsetTimeOriginal ('' for none)


def by_piexif_in_jpeg(taken: str, offset: str) -> bytes:
    """A JPEG into which piexif inserts its Exif."""
    plain, out = io.BytesIO(), io.BytesIO()
    PICTURE.save(plain, "JPEG")
    piexif.insert(_dumped(taken, offset), plain.getvalue(), out)
    return out.getvalue()


def by_piexif_in_heic(taken: str, offset: str) -> bytes:
    """A HEIC made by libheif, with Exif by piexif."""
    out = io.BytesIO()
    from_pillow(PICTURE).save(out, exif=_dumped(taken, offset))
    return out.getvalue()


def _dumped(taken: str, offset: str) -> bytes:
    detail = {piexif.ExifIFD.DateTimeOriginal: taken.encode()}
    if offset:
        detail[piexif.ExifIFD.OffsetTimeOriginal] = offset.encode()
    return bytes(piexif.dump({"0th": {piexif.ImageIFD.Make: b"Brightbox"}, "Exif": detail}))


def by_pillow(kind: str) -> Writer:
    """A picture of a kind, saved by Pillow with its own Exif."""

    def write(taken: str, offset: str) -> bytes:
        exif, out = Image.Exif(), io.BytesIO()
        detail = exif.get_ifd(DETAIL)
        detail[piexif.ExifIFD.DateTimeOriginal] = taken
        if offset:
            detail[piexif.ExifIFD.OffsetTimeOriginal] = offset
        PICTURE.save(out, kind, exif=exif.tobytes())
        return out.getvalue()

    return write


WRITERS: dict[str, Writer] = {
    "piexif, JPEG": by_piexif_in_jpeg,
    "piexif and libheif, HEIC": by_piexif_in_heic,
    "Pillow, JPEG": by_pillow("JPEG"),
    "Pillow, PNG": by_pillow("PNG"),
    "Pillow, WebP": by_pillow("WEBP"),
    "Pillow, AVIF": by_pillow("AVIF"),
}


@pytest.fixture(params=WRITERS, ids=list(WRITERS))
def dated(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[..., Dated]:
    """What we say of a picture that one of the writers made."""

    def ask(taken: str, offset: str = "", started: date | None = None) -> Dated:
        file = tmp_path / "picture"
        file.write_bytes(WRITERS[request.param](taken, offset))
        photo = read_photo(file, "picture")
        assert photo.fault is None
        return date_picture(photo.name, photo.taken, Believing(TODAY, started))

    return ask


def test_local_time_is_read_to_the_second(dated: Callable[..., Dated]) -> None:
    """Random moments, with and without a zone: day and time of the camera's own clock."""
    chance = random.Random(3)
    for _ in range(4):
        moment = datetime.fromisoformat("1996-01-02") + timedelta(
            seconds=chance.randrange(950_000_000)
        )
        zone = timezone(timedelta(minutes=15 * chance.randint(-48, 56)))
        taken = moment.strftime("%Y:%m:%d %H:%M:%S")
        offset = moment.replace(tzinfo=zone).isoformat()[-6:]
        assert dated(taken) == Dated(moment.date(), moment.time())
        assert dated(taken, offset) == Dated(moment.date(), moment.time())


def test_the_zone_never_moves_the_day(dated: Callable[..., Dated]) -> None:
    """Late in the evening far from Greenwich it is already or still another day there."""
    late = Dated(date(2026, 3, 14), time(23, 50))
    assert dated("2026:03:14 23:50:00", "-09:30") == late
    assert dated("2026:03:14 23:50:00", "+14:00") == late


def test_both_hours_of_a_night_that_has_one_twice(dated: Callable[..., Dated]) -> None:
    """When clocks are set back 02:30 comes twice, and both pictures are of the same evening."""
    zone = ZoneInfo("Europe/Oslo")
    for fold in (0, 1):
        moment = datetime(2025, 10, 26, 2, 30, tzinfo=zone, fold=fold)
        found = dated(moment.strftime("%Y:%m:%d %H:%M:%S"), moment.isoformat()[-6:])
        assert found == Dated(date(2025, 10, 26), time(2, 30))
        assert evening_of(found, time(4)) == date(2025, 10, 25)


def test_an_hour_that_the_night_left_out_stands(dated: Callable[..., Dated]) -> None:
    """A camera that does not know of summer time writes 02:30 all the same."""
    found = dated("2026:03:29 02:30:00")
    assert (found.day, evening_of(found, time(4))) == (date(2026, 3, 29), date(2026, 3, 28))


def test_dates_before_1980_need_an_old_project(dated: Callable[..., Dated]) -> None:
    """They are read exactly; without a project that old they are told and not believed."""
    old = dated("1978:06:01 12:00:00", started=date(1975, 1, 1))
    assert old == Dated(date(1978, 6, 1), time(12))
    for taken in ("1978:06:01 12:00:00", "1970:01:01 00:00:00", "1904:01:01 00:00:00"):
        found = dated(taken)
        assert found.day is None
        assert taken[:10].replace(":", "-") in found.told


@pytest.mark.parametrize(
    "taken", ["0000:00:00 00:00:00", "    :  :     :  :  ", "2026:02:30 1:2:3"]
)
def test_a_clock_that_was_never_set_has_no_date(dated: Callable[..., Dated], taken: str) -> None:
    """What is no date is none, and says that a day must be given."""
    found = dated(taken)
    assert found.day is None
    assert "it holds no date" in found.told
