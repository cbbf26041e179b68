"""How long copies take, against the plainest loop there is, in the same run.

Run it by hand: `python3 tests/bench/bench_pictures.py [PICTURES]`. Not a test: times differ
from machine to machine, ratios less so. The floor is one thread that drafts, shrinks and
saves with the library alone: no facts, no colours, no cache.
"""

from __future__ import annotations

import io
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from PIL import Image

from builderlog.drawing.pictures import COPY_WIDTHS, copies_for
from builderlog.drawing.pixels import METHOD, QUALITY
from builderlog.reading.photo_file import read_photo
from builderlog.storing.cache import Store
from builderlog.storing.photo_facts import read_all

SIZE_PX = (4032, 3024)


def make_pictures(folder: Path, count: int) -> list[tuple[str, Path]]:
    """So many different JPEGs of 12 megapixels, with detail as a camera's have."""
    rough = Image.effect_noise((504, 378), 60).resize(SIZE_PX, Image.Resampling.BICUBIC)
    out = io.BytesIO()
    rough.convert("RGB").save(out, "JPEG", quality=90)
    files = []
    for number in range(count):
        file = folder / f"{number:04}.jpg"
        file.write_bytes(out.getvalue() + number.to_bytes(4, "big"))
        files.append((f"photos/{file.name}", file))
    return files


def run_floor(files: Sequence[tuple[str, Path]]) -> None:
    """The plain loop."""
    for _, file in files:
        with Image.open(file) as image:
            image.draft("RGB", (1600, 1200))
            for width in sorted(COPY_WIDTHS, reverse=True):
                image.thumbnail((width, width))
                image.save(io.BytesIO(), "WEBP", quality=QUALITY, method=METHOD)


def clock(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the wall, and of both cores together."""
    start, busy = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - start, time.process_time() - busy


def skip(_: int) -> None:
    """Progress that nobody watches."""


def report(words: str, taken: tuple[float, float], floor: tuple[float, float], count: int) -> None:
    """One line: milliseconds a picture and the ratio to the floor, on the wall and in work."""
    figures = (
        f"{t * 1000 / count:8.2f} ms {t / f:6.3f}" for t, f in zip(taken, floor, strict=True)
    )
    sys.stdout.write(f"{words:32}{' wall,'.join(figures)} work\n")


def main(count: int) -> None:
    """Prints a line for each job."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = make_pictures(folder, count)
        photos = [(read_photo(file, name), file) for name, file in files]
        cache = folder / "cache"
        jobs: tuple[tuple[str, Callable[[], object]], ...] = (
            ("copies, first run", lambda: copies_for(photos, Store(cache), skip)),
            ("copies, second run", lambda: copies_for(photos, Store(cache), skip)),
            ("facts, first run", lambda: read_all(files, cache, skip)),
            ("facts, second run", lambda: read_all(files, cache, skip)),
        )
        floor = clock(lambda: run_floor(files))
        report("floor: plain loop, one thread", floor, floor, count)
        for words, job in jobs:
            report(words, clock(job), floor, count)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        sys.stdout.write(f"{'peak memory':32} {peak:8.0f} MB\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
