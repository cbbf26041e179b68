"""How long a big journal takes to publish, phase by phase, against plain loops in the same run.

Run it by hand: `python3 tests/bench/bench_publish.py [NOTES] [PICTURES] [small | large]`. Not a
test: times differ from machine to machine, ratios less so. Pictures are 1600 x 1200 ("small") or
of 12 megapixels ("large"). The floor of the pictures is a loop in two threads that drafts,
shrinks and saves with the library alone; that of the pages renders the same Markdown and one
small template a note. At last the command itself is run with nothing changed, imports and all.
"""

from __future__ import annotations

import argparse
import io
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from jinja2 import Environment
from markdown_it import MarkdownIt
from PIL import Image

from builderlog.command.opening import CACHE_FOLDER
from builderlog.deciding.checks import judge
from builderlog.deciding.publishing import public_ledger
from builderlog.drawing.pictures import COPY_WIDTHS, copies_for
from builderlog.drawing.pixels import METHOD, QUALITY
from builderlog.drawing.publication import DEFAULT_THEME
from builderlog.drawing.site import write_site
from builderlog.drawing.theme import open_theme
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from builderlog.storing.cache import Store
from builderlog.storing.outbox import Changes, Outbox, open_outbox

SIZES_PX = {"small": (1600, 1200), "large": (4032, 3024)}
FIRST_DAY = date(2025, 1, 1)
JOURNAL = """\
title: A big journal
builder: Ines
people:
  Ines: {role: builder}
  Tomas: {role: helper, may show: yes}
aircraft: {design: Pellar Two}
currency: USD
"""
PARAGRAPH = (
    "Held the skin with clecos to the ribs and drilled the second row to full size. The "
    "trailing edge came out *straight* within half a millimetre, which took **three** tries. "
    "See [the last time]({earlier}) for the jig.\n\n- deburred both sides\n- primed the flanges\n"
)
TEMPLATE = """\
<!doctype html><html lang="en"><head><title>{{ title }}</title></head><body><h1>{{ title }}</h1>
<p>{{ day }}</p>{% for row in rows %}<p>{{ row }}</p>{% endfor %}<div>{{ prose | safe }}</div>
{% for photo in photos %}<img src="{{ photo }}" alt="{{ title }}">{% endfor %}</body></html>
"""

Taken = dict[str, tuple[float, float]]  # phase: seconds on the wall, seconds of work


@dataclass(slots=True)
class Clock:
    """What each phase took so far, on the wall and of all cores together."""

    taken: Taken = field(default_factory=dict)

    @contextmanager
    def phase(self, name: str) -> Iterator[None]:
        """Adds what the block takes."""
        wall, work = time.perf_counter(), time.process_time()
        yield
        before = self.taken.get(name, (0.0, 0.0))
        wall, work = time.perf_counter() - wall, time.process_time() - work
        self.taken[name] = (before[0] + wall, before[1] + work)


@dataclass(frozen=True, slots=True)
class TimedOutbox:
    """An outbox whose puts count as writing."""

    outbox: Outbox
    clock: Clock

    def put(self, path: str, data: bytes) -> None:
        """Takes one file."""
        with self.clock.phase("puts"):
            self.outbox.put(path, data)


def note_text(number: int, pictures: list[str]) -> str:
    """A note of about 250 words with its share of pictures."""
    day = FIRST_DAY + timedelta(days=number)
    earlier = f"{day - timedelta(days=1)}-evening.md" if number else f"{day}-evening.md"
    photos = "".join(
        f"  - {{photo: {path}, shows: [W{number % 40}], seen: [Ines], caption: Skin {path[-8:-4]}"
        "}\n"
        for path in pictures
    )
    return (
        f"---\ndate: {day}\ntitle: Evening {number} in the shop\nhours: {{Ines: 3h15, Tomas: 1h}}\n"
        f"tasks:\n  - {{task: W{number % 40}, hours: 2.5, who: Ines}}\n  - W{(number + 1) % 40}\n"
        f"parts: [{{part: AN3-{number % 60}A bolt, count: 12, cost: 8.40 USD, status: fitted}}]\n"
        + (f"photos:\n{photos}" if photos else "")
        + f"next: dimple skin {number}\n---\n"
        + "\n\n".join(PARAGRAPH.format(earlier=earlier) for _ in range(5))
    )


def write_journal(root: Path, notes: int, pictures: int, size_px: tuple[int, int]) -> None:
    """The journal: one area of 40 tasks, and each picture another file with detail in it."""
    tasks = "".join(
        f"      - {{task: W{n}, name: Task {n}, work: fabrication}}\n" for n in range(40)
    )
    for folder in ("notes", "photos"):
        (root / folder).mkdir(parents=True)
    (root / "journal.yaml").write_text(JOURNAL)
    (root / "worklist.yaml").write_text(
        f"areas:\n  - area: W\n    name: Wings\n    tasks:\n{tasks}"
    )
    rough = Image.effect_noise((size_px[0] // 8, size_px[1] // 8), 60)
    out = io.BytesIO()
    rough.resize(size_px, Image.Resampling.BICUBIC).convert("RGB").save(out, "JPEG", quality=90)
    paths = [f"photos/{number:04}.jpg" for number in range(pictures)]
    for number, path in enumerate(paths):
        (root / path).write_bytes(out.getvalue() + number.to_bytes(4, "big"))
    for number in range(notes):
        day = FIRST_DAY + timedelta(days=number)
        text = note_text(number, paths[number::notes])
        (root / "notes" / f"{day}-evening.md").write_text(text)


def publish(root: Path) -> tuple[Taken, Changes]:
    """What the command does, phase by phase."""
    clock = Clock()
    with clock.phase("reading"):
        folder = Folder.at(root)
        ledger = read_journal(folder, root / CACHE_FOLDER)
    with clock.phase("checking"):
        problems = judge(ledger)
        assert not any(problem.weight is Weight.MISTAKE for problem in problems), problems[0]
    with clock.phase("public ledger"):
        public = public_ledger(ledger)
    store = Store(root / CACHE_FOLDER)
    with clock.phase("pictures"):
        wanted = [(picture.file, folder.where(picture.path)) for picture in ledger.pictures]
        copies = copies_for(wanted, store, lambda _: None)
    theme = open_theme(DEFAULT_THEME, root)
    with open_outbox(root / "published", "site", folder.originals(), root) as outbox:
        with clock.phase("pages"):
            write_site(public, copies.refs, theme, store, TimedOutbox(outbox, clock))
        with clock.phase("writing"):
            changes = outbox.commit()
    with clock.phase("sweeping"):
        store.sweep()
    return _settled(clock.taken), changes


def _settled(taken: Taken) -> Taken:
    """The puts came while pages were drawn: they count as writing, not as pages."""
    puts = taken.pop("puts")
    pages, writing = taken["pages"], taken["writing"]
    return {
        **taken,
        "pages": (pages[0] - puts[0], pages[1] - puts[1]),
        "writing": (writing[0] + puts[0], writing[1] + puts[1]),
    }


def picture_floor(root: Path) -> None:
    """Both widths of every picture by the library alone, in two threads."""

    def draw(file: Path) -> None:
        with Image.open(file) as image:
            image.draft("RGB", (1600, 1200))
            for width in sorted(COPY_WIDTHS, reverse=True):
                image.thumbnail((width, width))
                image.save(io.BytesIO(), "WEBP", quality=QUALITY, method=METHOD)

    with ThreadPoolExecutor(2) as threads:
        list(threads.map(draw, sorted((root / "photos").iterdir())))


def page_floor(root: Path) -> None:
    """Markdown and one small template a note, nothing else."""
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    template = Environment(autoescape=True).from_string(TEMPLATE)
    for file in sorted((root / "notes").iterdir()):
        front, prose = file.read_text().removeprefix("---\n").split("\n---\n", 1)
        rows = front.splitlines()
        html = markdown.render(prose)
        template.render(title=file.stem, day=file.stem[:10], rows=rows, prose=html, photos=rows[:2])


def run_command(root: Path) -> tuple[float, float]:
    """Seconds of `builderlog publish` in a process of its own, on the wall and of work."""
    before, wall = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    command = [sys.executable, "-m", "builderlog", "publish", str(root)]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    work = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return time.perf_counter() - wall, work


def clocked(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the wall, and of both cores together."""
    clock = Clock()
    with clock.phase("all"):
        work()
    return clock.taken["all"]


def report(title: str, taken: Taken, floors: Mapping[str, tuple[float, float]]) -> None:
    """One line a phase: seconds on the wall and of work, and each as a ratio to its floor."""
    total = (sum(wall for wall, _ in taken.values()), sum(work for _, work in taken.values()))
    print_line(title, "wall s", "work s", "x floor", "x floor")
    for name, (wall, work) in {**taken, "all": total}.items():
        floor = floors.get(name)
        ratios = (f"{wall / floor[0]:.3f}", f"{work / floor[1]:.3f}") if floor else ("", "")
        print_line(f"  {name}", f"{wall:.3f}", f"{work:.3f}", *ratios)


def print_line(*cells: str) -> None:
    """One line of the table."""
    sys.stdout.write(f"{cells[0]:26}" + "".join(f"{cell:>10}" for cell in cells[1:]) + "\n")


def main(notes: int, pictures: int, size: str) -> None:
    """Publishes cold, again with nothing changed, and after one note was changed."""
    with tempfile.TemporaryDirectory() as name:
        root = Path(name) / "journal"
        write_journal(root, notes, pictures, SIZES_PX[size])
        floors = {
            "pictures": clocked(lambda: picture_floor(root)),
            "pages": clocked(lambda: page_floor(root)),
        }
        print_line(
            f"{notes} notes, {pictures} pictures", *SIZES_PX[size].__str__()[1:-1].split(", ")
        )
        report("floors", dict(floors), floors)
        for title in ("cold", "nothing changed", "one note changed"):
            if title == "one note changed":
                file = root / "notes" / f"{FIRST_DAY + timedelta(days=notes // 2)}-evening.md"
                file.write_text(file.read_text() + "\nOne line more.\n")
            taken, changes = publish(root)
            report(title, taken, floors)
            print_line(
                "  files",
                f"{len(changes.new)} new",
                f"{len(changes.changed)} chg",
                f"{len(changes.unchanged)} same",
            )
        report("the command, no change", {"process": run_command(root)}, {})
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print_line("peak memory", f"{peak:.0f} MB")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("notes", nargs="?", type=int, default=500)
    parser.add_argument("pictures", nargs="?", type=int, default=1000)
    parser.add_argument("size", nargs="?", choices=SIZES_PX, default="small")
    arguments = parser.parse_args()
    main(arguments.notes, arguments.pictures, arguments.size)
