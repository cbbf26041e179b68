"""How long a big journal takes to hand over, against copying and hashing the same files.

Run it by hand: `python3 tests/bench/bench_dossier.py [NOTES] [PICTURES] [KILOBYTES]`. Not a test:
times differ from machine to machine, ratios less so. Each picture is a real JPEG with bytes of
chance behind its end, so that no two are alike and each has the wanted size (from half of it to
one and a half times). The floor is `cp -r`, `sha256sum` and `sha512sum` one after the other; the
rival is the `bagit` package with two processes, which moves the files and copies none, so a copy
is made for it first, and both times are told. Then the whole dossier is made twice, checked, and
put into a zip, with what each stage took.
"""

from __future__ import annotations

import argparse
import io
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

import bagit
from PIL import Image

from builderlog.command.opening import CACHE_FOLDER
from builderlog.handover.bag import Wish, write_dossier
from builderlog.handover.filling import Filling, Original
from builderlog.handover.verify import verify_bag
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.storing.outbox import open_outbox

FIRST_DAY = date(2025, 1, 1)
ALGORITHMS = ("sha256", "sha512")
JOURNAL = """\
title: A big journal
builder: Ines
people: {Ines: builder, Tomas: helper}
aircraft: {design: Pellar Two}
rulebook: us-checklist
currency: USD
"""


def say(line: str) -> None:
    """One line on the terminal."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


@dataclass(slots=True)
class Clock:
    """Seconds on the wall by what was done."""

    taken: dict[str, float] = field(default_factory=dict)

    @contextmanager
    def phase(self, name: str) -> Iterator[None]:
        """Takes the time of the block; what was written before is on the disk first."""
        subprocess.run(["sync"], check=True)
        begin = time.perf_counter()
        yield
        self.taken[name] = time.perf_counter() - begin
        say(f"{self.taken[name]:9.2f} s  {name}")


@dataclass(slots=True)
class Stages:
    """Seconds by stage, as a dossier's progress tells them."""

    taken: dict[str, float] = field(default_factory=dict)
    _last: float = field(default_factory=time.perf_counter)

    def __call__(self, stage: str, _done: int, _total: int) -> None:
        """What passed since the last word belongs to the stage that speaks."""
        now = time.perf_counter()
        self.taken[stage] = self.taken.get(stage, 0) + now - self._last
        self._last = now


def note_text(number: int, pictures: list[str]) -> str:
    """A note with its share of pictures."""
    photos = "".join(
        f"  - {{photo: {path}, shows: [W{number % 40}], seen: [Ines], caption: Skin {path[-8:-4]}"
        "}\n"
        for path in pictures
    )
    return (
        f"---\ndate: {FIRST_DAY + timedelta(days=number)}\ntitle: Evening {number}\n"
        f"hours: {{Ines: 3h15, Tomas: 1h}}\ntasks:\n  - {{task: W{number % 40}, hours: 2.5}}\n"
        + (f"photos:\n{photos}" if photos else "")
        + "---\n"
        + "Drilled the second row to full size, deburred and primed both flanges. " * 12
        + "\n"
    )


def write_journal(root: Path, notes: int, pictures: int, kilobytes: int) -> None:
    """The journal: one area of 40 tasks, pictures in folders by the thousand."""
    chance = random.Random(8493)
    (root / "notes").mkdir(parents=True)
    tasks = "".join(
        f"      - {{task: W{n}, name: Task {n}, work: fabrication, state: done, "
        "credit: {maker: 0.3, assembly: 0.2, fabrication: 0.5}}\n"
        for n in range(40)
    )
    (root / "journal.yaml").write_text(JOURNAL)
    (root / "worklist.yaml").write_text(
        f"areas:\n  - area: W\n    name: Wings\n    tasks:\n{tasks}"
    )
    rough = Image.effect_noise((160, 120), 60).resize((1280, 960), Image.Resampling.BICUBIC)
    out = io.BytesIO()
    rough.convert("RGB").save(out, "JPEG", quality=90)
    pool = chance.randbytes(2 * 1024 * kilobytes)
    paths = [f"photos/{number // 1000:02}/{number:05}.jpg" for number in range(pictures)]
    for number, path in enumerate(paths):
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        size = 1024 * chance.randint(kilobytes // 2, 3 * kilobytes // 2)
        begin = chance.randrange(len(pool) // 4)
        tail = number.to_bytes(4, "big") + pool[begin : begin + size - len(out.getvalue())]
        (root / path).write_bytes(out.getvalue() + tail)
    for number in range(notes):
        file = root / "notes" / f"{FIRST_DAY + timedelta(days=number)}-evening.md"
        file.write_text(note_text(number, paths[number::notes]))


def files_of(root: Path) -> list[Path]:
    """Every file of the journal but what we keep ourselves."""
    found = (path for path in sorted(root.rglob("*")) if path.is_file())
    return [path for path in found if CACHE_FOLDER not in path.parts]


def hash_all(program: str, files: list[Path]) -> None:
    """Hashes files as somebody at a terminal does."""
    names = "\0".join(map(str, files)).encode()
    command = ["xargs", "-0", program]
    subprocess.run(command, input=names, check=True, stdout=subprocess.DEVNULL)


def bag_alone(root: Path, files: list[Path], out: Path) -> None:
    """The bag's own work: every file copied and hashed, manifests, renames."""
    with open_outbox(out, "dossier", [], root) as outbox:
        bag = Filling(outbox)
        originals = [Original(f"data/{file.relative_to(root).as_posix()}", file) for file in files]
        bag.put_files(originals, lambda _done: None)
        bag.put_manifests()
        outbox.commit()


def compare(root: Path, desk: Path, clock: Clock) -> None:
    """The floor, ours and the rival, each on the same files; what was written is deleted again."""
    files = files_of(root)
    with clock.phase("cp -r"):
        subprocess.run(["cp", "-r", str(root), str(desk / "copy")], check=True)
    for algorithm in ALGORITHMS:
        with clock.phase(f"{algorithm}sum"):
            hash_all(f"{algorithm}sum", files)
    shutil.rmtree(desk / "copy" / CACHE_FOLDER, ignore_errors=True)
    with clock.phase("bagit, two processes, in place"):
        bagit.make_bag(str(desk / "copy"), processes=2, checksums=list(ALGORITHMS))
    shutil.rmtree(desk / "copy")
    with clock.phase("the bag"):
        bag_alone(root, files, desk / "bag")
    with clock.phase("the bag again, nothing changed"):
        bag_alone(root, files, desk / "bag")
    shutil.rmtree(desk / "bag")


def whole(root: Path, desk: Path, clock: Clock) -> None:
    """The dossier as the command makes it, with its stages; twice, zipped, and checked."""
    with clock.phase("reading the journal"):
        folder = Folder.at(root)
        ledger = read_journal(folder, root / CACHE_FOLDER)
    for name in ("dossier, pictures to be drawn", "dossier again, nothing changed"):
        stages = Stages()
        with clock.phase(name):
            write_dossier(folder, ledger, desk / "out", Wish(store=root / CACHE_FOLDER), stages)
        for stage, seconds in stages.taken.items():
            say(f"            {seconds:9.2f} s  {stage}, and what went before it")
    with clock.phase("dossier and zip"):
        write_dossier(folder, ledger, desk / "out", Wish(zipped=True, store=root / CACHE_FOLDER))
    with clock.phase("verify"):
        faults = verify_bag(desk / "out")
    say(f"{len(faults)} faults")


def told(name: str, part: float, whole_of: float, aim: Callable[[float], bool]) -> None:
    """One ratio, and whether it is as it should be."""
    ratio = whole_of / part
    say(f"{ratio:9.2f}    {name}: {'as it should be' if aim(ratio) else 'TOO SLOW'}")


def main() -> None:
    """Makes the journal, does everything, prints the ratios."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("notes", nargs="?", type=int, default=300)
    words.add_argument("pictures", nargs="?", type=int, default=2000)
    words.add_argument("kilobytes", nargs="?", type=int, default=1500)
    words.add_argument("--bag-only", action="store_true", help="leave the whole dossier out")
    wanted = words.parse_args()
    clock = Clock()
    with tempfile.TemporaryDirectory() as folder:
        desk, root = Path(folder), Path(folder) / "journal"
        write_journal(root, wanted.notes, wanted.pictures, wanted.kilobytes)
        total = sum(file.stat().st_size for file in files_of(root))
        say(f"{wanted.notes} notes, {wanted.pictures} pictures, {total / 1e9:.2f} GB")
        compare(root, desk, clock)
        taken = clock.taken
        floor = taken["cp -r"] + taken["sha256sum"] + taken["sha512sum"]
        rival = taken["bagit, two processes, in place"]
        told("speed, floor = 1", taken["the bag"], floor, lambda ratio: ratio >= 0.8)
        told("speed, bagit with its copy = 1", taken["the bag"], rival + taken["cp -r"], _faster)
        told("speed, bagit in place = 1", taken["the bag"], rival, _faster)
        if not wanted.bag_only:
            whole(root, desk, clock)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    say(f"{peak:9.0f}    MB of memory at most")


def _faster(ratio: float) -> bool:
    return ratio > 1


if __name__ == "__main__":
    main()
