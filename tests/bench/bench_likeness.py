"""How long fingerprints take, against the plainest decoding, and how long it takes to compare them.

Run it by hand: `python3 tests/bench/bench_likeness.py [PICTURES]`. Not a test: times differ from
machine to machine, ratios less so. The floor of a kind opens each picture with the library alone
and decodes it as small as a fingerprint asks for.
"""

from __future__ import annotations

import io
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import pillow_heif
from PIL import Image

from builderlog.deciding.likeness import alike
from builderlog.reading.fingerprint import DRAFT_SIDE, take_fingerprint
from builderlog.reading.picture_bytes import Kind
from builderlog.storing.photo_facts import read_all

LARGE_PX, USUAL_PX, SMALL_PX = (4032, 3024), (1600, 1200), (160, 120)
COUNTS = (500, 2_000, 6_000)


def draw(number: int, size: tuple[int, int]) -> Image.Image:
    """Something different for each number, with detail as a camera's pictures have."""
    rough = Image.effect_noise((16 + number % 7, 12 + number % 5), 120)
    grain = Image.effect_noise(size, 40)
    smooth = rough.resize(size, Image.Resampling.BICUBIC)
    return Image.blend(smooth, grain, 0.15).convert("RGB")


def encode(image: Image.Image, kind: Kind) -> bytes:
    """The bytes of a picture of a kind."""
    out = io.BytesIO()
    if kind == "HEIF":
        pillow_heif.from_pillow(image).save(out, quality=60)
    else:
        image.save(out, kind, quality=90)
    return out.getvalue()


def decode(data: bytes, kind: Kind) -> int:
    """The floor: opened and decoded, no more; the width that it came to."""
    with Image.open(io.BytesIO(data)) as image:
        if kind == "JPEG":
            image.draft("L", (DRAFT_SIDE, DRAFT_SIDE))
        image.load()
        return image.width


def clock(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the wall, and of both cores together."""
    start, busy = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - start, time.process_time() - busy


def report_kind(kind: Kind, size: tuple[int, int], count: int) -> None:
    """One line: work of a fingerprint, and its ratio to the floor."""
    data = encode(draw(1, size), kind)
    _, floor = clock(lambda: [decode(data, kind) for _ in range(count)])
    _, taken = clock(lambda: [take_fingerprint(data, kind) for _ in range(count)])
    told = f"fingerprint, {kind} {size[0]} x {size[1]}, {len(data) / 1e6:.1f} MB"
    figures = f"{taken * 1000 / count:8.2f} ms {taken / floor:6.2f} of decoding"
    sys.stdout.write(f"{told:44}{figures}\n")


def make_files(folder: Path, count: int) -> list[tuple[str, Path]]:
    """So many different JPEGs of 12 megapixels."""
    data = encode(draw(1, LARGE_PX), "JPEG")
    files = []
    for number in range(count):
        file = folder / f"{number:04}.jpg"
        file.write_bytes(data + number.to_bytes(4, "big"))
        files.append((f"photos/{file.name}", file))
    return files


def report_facts(files: Sequence[tuple[str, Path]]) -> None:
    """One line: all facts of a journal's pictures, read cold in two threads, and the floor."""
    wall_floor, floor = clock(lambda: [decode(file.read_bytes(), "JPEG") for _, file in files])
    wall, taken = clock(lambda: read_all(files, None, lambda _: None))
    told = f"facts of {len(files)} JPEGs, cold"
    figures = (
        f"{wall:8.2f} s on the wall ({wall / wall_floor:.2f}), {taken / floor:.2f} of the work"
    )
    sys.stdout.write(f"{told:44}{figures}\n")


def report_alike() -> None:
    """One line for each size of journal: comparing all pictures with all."""
    prints = {
        f"{number:05}": take_fingerprint(encode(draw(number, SMALL_PX), "JPEG"), "JPEG")
        for number in range(max(COUNTS))
    }
    for count in COUNTS:
        some = dict(list(prints.items())[:count])
        sides = {name: int(name) % 40 for name in some}
        taken, _ = clock(lambda some=some, sides=sides: alike(some, sides, int.__ne__))  # type: ignore[misc]
        sys.stdout.write(f"{f'{count} pictures compared':44}{taken:8.2f} s\n")


def main(count: int) -> None:
    """Prints a line for each job."""
    pillow_heif.register_heif_opener()
    report_kind("JPEG", LARGE_PX, count)
    report_kind("JPEG", USUAL_PX, count)
    report_kind("HEIF", LARGE_PX, max(1, count // 10))
    with tempfile.TemporaryDirectory() as name:
        report_facts(make_files(Path(name), count))
    report_alike()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
