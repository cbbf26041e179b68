"""Draw the example journal's pictures and its small papers.

Run it as `python tests/example/draw_pictures.py [NAME ...]`; without names it
draws all. The same Pillow gives the same bytes. Nothing in the pictures is a
photograph of anything: the aircraft, the firms and the places are invented,
the camera too, and the positions lie in the open sea.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from PIL.ExifTags import GPS, IFD, Base
from PIL.TiffImagePlugin import IFDRational

sys.path.insert(0, str(Path(__file__).parents[2]))  # run as a script, from anywhere

from tests.example import close_scenes as close
from tests.example import page_scenes as page
from tests.example import papers, stage
from tests.example import shop_scenes as shop
from tests.example import tail_scenes as tail

JOURNAL = Path(__file__).parents[2] / "example_journal"
LARGEST_BYTES = 97_000
CAMERA = ("Lumerick", "Field 2")
AT_SEA = ((48, 31, 12.6), (21, 4, 40.8))  # north, west
# How a picture must be turned before it is stored, so that its tag turns it upright.
STORED = {
    3: Image.Transpose.ROTATE_180,
    6: Image.Transpose.ROTATE_90,
    8: Image.Transpose.ROTATE_270,
}


@dataclass(frozen=True)
class Picture:
    """One picture: its name, what draws it, and what its camera wrote in it."""

    name: str
    draw: Callable[[], Image.Image]
    taken: str
    offset: str | None = "+01:00"
    gps: bool = False
    orientation: int = 1
    camera: bool = True


PICTURES = (
    Picture("2026-01-04-crate", tail.crate, "2026:01:04 10:42:08", gps=True),
    Picture("2026-01-04-ribs-laid-out", tail.ribs_laid_out, "2026:01:04 13:20:51", gps=True),
    Picture("2026-01-04-dent", tail.dent, "2026:01:04 14:05:33"),
    Picture("2026-01-17-fin-frame", tail.fin_frame, "2026:01:17 12:01:17"),
    Picture("2026-01-21-primer", tail.primer, "2026:01:21 22:14:40"),
    Picture("2026-01-28-rudder", tail.rudder, "2026:01:28 21:37:02", offset=None),
    Picture("2026-01-31-bucking", tail.bucking, "2026:01:31 15:48:29", gps=True),
    Picture("2026-02-07-notebook-page", page.notebook_page, "2026:02:08 09:12:55", orientation=6),
    Picture("2026-02-10-edge-distance", close.edge_distance, "2026:02:10 21:52:11"),
    Picture("2026-02-22-stabiliser", tail.stabiliser, "2026:02:22 17:30:46", gps=True),
    Picture("2026-03-07-skin-drill", close.skin_drill, "2026:03:07 11:26:19"),
    Picture("2026-03-10-torque", close.torque, "2026:03:10 21:08:37", orientation=3),
    Picture("2026-03-14-tail-cone", shop.tail_cone, "2026:03:14 17:02:58", gps=True),
    Picture(
        "2026-03-28-inside-the-cone", shop.inside_the_cone, "2026:03:28 14:33:20", orientation=8
    ),
    Picture("2026-04-02-spar", shop.spar, "2026:04:02 21:44:05", offset="+02:00"),
    Picture("2026-04-27-lamp", close.lamp, "2026:04:27 22:18:49", offset="+02:00"),
    Picture(
        "2026-05-03-wing-frame", shop.wing_frame, "2026:05:03 16:55:31", offset="+02:00", gps=True
    ),
    Picture("2026-05-09-aileron-frame", shop.aileron_frame, "2026:05:09 17:21:10", offset="+02:00"),
    Picture(
        "2026-05-09-pims-garage", shop.pims_garage, "2026:05:09 16:40:27", offset="+02:00", gps=True
    ),
    Picture("2026-05-23-wing-stand", shop.wing_stand, "2026:05:23 14:47:53", offset="+02:00"),
    Picture("2026-05-28-panel", close.panel, "2026:05:28 21:31:36", offset="+02:00"),
    Picture("2026-05-28-seat", close.seat, "2026:05:28 22:20:14", offset="+02:00"),
    Picture("2026-06-04-weld", close.weld, "2026:06:04 20:59:43", offset="+02:00"),
    Picture(
        "2026-06-13-rivet-rows", close.rivet_rows, "2026:06:13 15:14:22", offset=None, camera=False
    ),
    Picture("2026-06-20-shop", shop.shop, "2026:06:20 21:33:09", offset="+02:00", gps=True),
)


def degrees(parts: tuple[float, float, float]) -> tuple[IFDRational, IFDRational, IFDRational]:
    """Degrees, minutes and seconds as a camera writes them."""
    return (
        IFDRational(int(parts[0])),
        IFDRational(int(parts[1])),
        IFDRational(int(parts[2] * 10), 10),
    )


def exif_of(picture: Picture) -> Image.Exif:
    """What the invented camera wrote beside the picture."""
    exif = Image.Exif()
    exif[Base.Orientation] = picture.orientation
    if picture.camera:
        exif[Base.Make], exif[Base.Model] = CAMERA
    exif[Base.DateTime] = picture.taken
    taken = exif.get_ifd(IFD.Exif)
    taken[Base.DateTimeOriginal] = picture.taken
    if picture.offset:
        taken[Base.OffsetTimeOriginal] = picture.offset
    if picture.gps:
        place = exif.get_ifd(IFD.GPSInfo)
        place[GPS.GPSLatitudeRef], place[GPS.GPSLatitude] = "N", degrees(AT_SEA[0])
        place[GPS.GPSLongitudeRef], place[GPS.GPSLongitude] = "W", degrees(AT_SEA[1])
    return exif


def jpeg_of(image: Image.Image, exif: Image.Exif) -> bytes:
    """The best JPEG that is no larger than the limit."""
    out = io.BytesIO()
    for quality in range(88, 30, -3):
        out = io.BytesIO()
        image.save(out, "JPEG", quality=quality, optimize=True, progressive=True, exif=exif)
        if out.tell() <= LARGEST_BYTES:
            break
    return out.getvalue()


def picture_bytes(picture: Picture) -> bytes:
    """The file of one picture, stored as its camera was held."""
    drawn = picture.draw()
    image = stage.develop(drawn, (drawn.width // 2, drawn.height // 2), picture.name)
    if picture.orientation != 1:
        image = image.transpose(STORED[picture.orientation])
    return jpeg_of(image, exif_of(picture))


def sketch_bytes() -> bytes:
    """The pencil sketch as a PNG of few colours."""
    small = page.edge_sketch().resize((1400, 900), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    small.quantize(32, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(
        out, "PNG", optimize=True
    )
    return out.getvalue()


def write(path: Path, data: bytes) -> None:
    """Write a file and tell its size."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    sys.stdout.write(f"{len(data):>8}  {path.relative_to(JOURNAL)}\n")


def main(names: list[str]) -> None:
    """Draw what is named, or everything."""
    folder = JOURNAL / "photos" / "2026"
    for picture in PICTURES:
        if not names or picture.name in names:
            write(folder / f"{picture.name}.jpg", picture_bytes(picture))
    if not names or "2026-02-14-edge-sketch" in names:
        write(folder / "2026-02-14-edge-sketch.png", sketch_bytes())
    if not names or "papers" in names:
        for where, data in papers.all_papers():
            write(JOURNAL / where, data)


if __name__ == "__main__":
    main(sys.argv[1:])
