"""How long the copies for document and binder take, against the plainest loop, in the same run.

Run it by hand: `python3 tests/bench/bench_prints.py [PICTURES]`. Not a test: times differ from
machine to machine, ratios less so. The floor is one thread that drafts, shrinks and saves the
same copies with the library alone: no facts, no digests, no colours, no cache. One picture in
sixteen is wanted in large, the others in small, as in a journal of 20,000 pictures.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from PIL import Image, ImageChops

from builderlog.handover.print_pictures import (
    LONG_SIDE_PX,
    QUALITY,
    SMALL_QUALITY,
    SMALL_SIDE_PX,
    PrintRoom,
    lay_out_prints,
    picture_name,
)
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.photo_file import read_photo
from builderlog.sheets.chapter import Chapter, Dossier, Pictures, ShownPicture
from tests import making

SIZE_PX = (4032, 3024)
LARGE_AMONG = 16


def make_pictures(folder: Path, count: int) -> list[Picture]:
    """So many different JPEGs of 12 megapixels, with detail and grain as a camera's have."""
    rough = Image.effect_noise((504, 378), 60).resize(SIZE_PX, Image.Resampling.BICUBIC)
    grain = Image.effect_noise(SIZE_PX, 6)
    first = folder / "first.jpg"
    ImageChops.add(rough, grain, 1, -128).convert("RGB").save(first, "JPEG", quality=90)
    data = first.read_bytes()
    sys.stdout.write(f"{count} pictures of {len(data) / 1e6:.1f} MB\n")
    pictures = []
    for number in range(1, count + 1):
        file = folder / f"{number:05}.jpg"
        file.write_bytes(data + number.to_bytes(4, "big"))
        pictures.append(Picture(file.name, read_photo(file, file.name), ()))
    return pictures


def is_large(number: int) -> bool:
    """Whether a sheet shows it."""
    return number % LARGE_AMONG == 1


def dossier_of(pictures: Sequence[Picture]) -> Dossier:
    """A dossier that shows all of them."""
    shown = [
        ShownPicture(number, each.path, each.file.digest, "", "")
        for number, each in enumerate(pictures, 1)
    ]
    large = Pictures(tuple(each for each in shown if is_large(each.number)))
    small = Pictures(tuple(each for each in shown if not is_large(each.number)), small=True)
    return Dossier("T", (), "", "", "", Chapter("cover", "T", (large, small)), ())


def run_floor(pictures: Sequence[Picture], folder: Path, out: Path) -> None:
    """The plain loop."""
    out.mkdir()
    for number, each in enumerate(pictures, 1):
        small = not is_large(number)
        side, quality = (SMALL_SIDE_PX, SMALL_QUALITY) if small else (LONG_SIDE_PX, QUALITY)
        with Image.open(folder / each.path) as image:
            image.draft("RGB", (side, side * 3 // 4))
            image.thumbnail((side, side))
            image.save(out / picture_name(number, small), quality=quality, optimize=True)


def clock(job: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the wall, and of both cores together."""
    start, busy = time.perf_counter(), time.process_time()
    job()
    return time.perf_counter() - start, time.process_time() - busy


def report(words: str, taken: tuple[float, float], floor: tuple[float, float], count: int) -> None:
    """One line: milliseconds a picture and the ratio to the floor, on the wall and in work."""
    figures = (
        f"{t * 1000 / count:8.2f} ms {t / f:6.3f}" for t, f in zip(taken, floor, strict=True)
    )
    sys.stdout.write(f"{words:32}{' wall,'.join(figures)} work\n")


def main(count: int) -> None:
    """Prints a line for each job, and the peak of memory."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        pictures = make_pictures(folder, count)
        ledger, dossier = making.ledger(pictures=pictures), dossier_of(pictures)
        floor = clock(lambda: run_floor(pictures, folder, folder / "floor"))
        report("floor: plain loop, one thread", floor, floor, count)
        for words in ("first run", "second run"):
            report(words, clock(lambda: lay_out(dossier, ledger, folder)), floor, count)
        sizes = [each.stat().st_size for each in (folder / "out").glob("*-small.jpg")]
        sys.stdout.write(f"{'a small copy':32}{sum(sizes) / len(sizes) / 1000:8.1f} kB\n")
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        sys.stdout.write(f"{'peak memory':32}{peak:8.0f} MB\n")


def lay_out(dossier: Dossier, ledger: Ledger, folder: Path) -> None:
    """One run of ours."""
    room = PrintRoom(folder / "out", folder / "cache")
    prints = lay_out_prints(dossier, ledger, folder.joinpath, room, lambda _: None)
    if prints.failed:
        raise SystemExit(str(prints.failed))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 64)
