"""How fast the document of a very long record is set, and how much memory that takes at its peak.

Run it by hand: `python -m tests.bench.bench_document [TASKS NOTES PICTURES]`. Not a test: times
differ from machine to machine. The record is made up: tasks with their sheets and pictures, the
index of all pictures, contact sheets of those that no sheet shows. Drawing them is not measured.
"""

from __future__ import annotations

import io
import random
import resource
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image
from pypdf import PdfReader

from builderlog.drawing.theme import open_theme
from builderlog.handover.paper import Printing, document
from builderlog.handover.print_pictures import picture_name
from builderlog.sheets.chapter import (
    Block,
    Cell,
    Chapter,
    Column,
    Dossier,
    Facts,
    Pictures,
    Rows,
    Section,
    ShownPicture,
)
from builderlog.sheets.shelf import FileLink
from tests.handover.made_dossier import FOOT, months

AREAS, MONTHS, BEST = 8, 60, 6
LARGE, SMALL = (1000, 750), (240, 180)
WORDS = (
    "rivet skin spar drill deburr prime clamp left right upper lower edge bracket doubler".split()
)


def main(tasks: int, notes: int, pictures: int) -> None:
    """Make the record, set it, tell."""
    chance = random.Random(1)
    with tempfile.TemporaryDirectory() as folder:
        room = Path(folder)
        best = tasks * BEST
        _draw(room, range(1, best + 1), small=False)
        _draw(room, range(best + 1, pictures + 1), small=True)
        made = _dossier((tasks, notes, pictures), chance)
        printing = Printing(
            open_theme("trammel"), "a4", room, lambda _, small: SMALL if small else LARGE
        )
        before, start = _peak_mb(), time.perf_counter()
        pdf = document(made, printing, {"hours.csv": b"date,hours\r\n"})
        took = time.perf_counter() - start
    pages = PdfReader(io.BytesIO(pdf)).get_num_pages()
    sys.stdout.write(
        f"{tasks} tasks, {notes} notes, {pictures} pictures: {pages} pages, {len(pdf) >> 20} MB in "
        f"{took:.1f} s: {pages / took:.0f} pages a second; peak {_peak_mb()} MB, {before} MB of it "
        "before\n"
    )


def _peak_mb() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss >> 10


def _draw(folder: Path, numbers: range, *, small: bool) -> None:
    """So many different files of one picture: about 5 KB each in small."""
    image = Image.effect_noise((48, 36), 80).resize(SMALL if small else LARGE).convert("RGB")
    out = io.BytesIO()
    image.save(out, "JPEG", quality=70)
    for number in numbers:
        content = out.getvalue() + number.to_bytes(4, "big")
        (folder / picture_name(number, small)).write_bytes(content)


def _dossier(counts: tuple[int, int, int], chance: random.Random) -> Dossier:
    tasks, notes, pictures = counts
    areas = [_area(area, tasks // AREAS, notes * 2 // tasks, chance) for area in range(AREAS)]
    index = [_index(month, pictures // MONTHS, chance) for month in range(MONTHS)]
    rest = range(tasks * BEST + 1, pictures + 1)
    contact = [
        Section(f"contact-{n}", f"Month {n}", (_pictures(rest[n::MONTHS], chance, small=True),))
        for n in range(MONTHS)
    ]
    chapters = (
        *areas,
        Chapter("months", "Month by month", (months(),)),
        Chapter("photos", "Photo index", tuple(index)),
        Chapter("contact", "Contact sheets", tuple(contact)),
    )
    cover = Chapter("cover", "A long record", (Facts((("Tasks", Cell(str(tasks))),)),))
    return Dossier("A long record", ("Ines",), "2026-05-31", "Long", FOOT, cover, chapters)


def _said(chance: random.Random, count: int) -> str:
    return " ".join(chance.choices(WORDS, k=count))


def _area(area: int, tasks: int, notes: int, chance: random.Random) -> Chapter:
    sections = (_task(area * tasks + task, notes, chance) for task in range(tasks))
    return Chapter(f"area-{area}", f"Area {area}", tuple(sections))


def _task(task: int, notes: int, chance: random.Random) -> Section:
    facts = tuple((_said(chance, 2), Cell(_said(chance, 10))) for _ in range(9))
    rows = tuple(
        (
            Cell("", (FileLink("2026-03-14", "notes/2026-03-14.md"),)),
            Cell(_said(chance, 20)),
            Cell("Ines 2 h 30 min"),
        )
        for _ in range(notes)
    )
    columns = (Column("Date"), Column("Note", share=7), Column("Time"))
    numbers = range(task * BEST + 1, (task + 1) * BEST + 1)
    blocks: tuple[Block, ...] = (
        Facts(facts),
        _pictures(numbers, chance, small=False),
        Rows("Notes", columns, rows),
    )
    return Section(f"task-{task}", f"T{task} {_said(chance, 4)}", blocks, aside="done")


def _pictures(numbers: range, chance: random.Random, *, small: bool) -> Pictures:
    return Pictures(
        tuple(
            ShownPicture(number, f"{number}.jpg", f"{number:064x}", "A spar", _said(chance, 6))
            for number in numbers
        ),
        small=small,
    )


def _index(month: int, count: int, chance: random.Random) -> Section:
    columns = tuple(Column(name) for name in "No. Taken Filed Shows Seen Note Digest".split())
    rows = tuple(
        (
            Cell(str(month * count + number)),
            Cell("2026-03-14 10:22"),
            Cell(f"photos/2026/2026-03-14-{chance.choice(WORDS)}-{number}.jpg"),
            Cell(_said(chance, 3), to="task-1"),
            Cell("Ines, Tomas"),
            Cell("", (FileLink("2026-03-14", "notes/2026-03-14.md"),)),
            Cell(f"{chance.getrandbits(32):08x}"),
        )
        for number in range(count)
    )
    return Section(f"photos-{month}", f"Month {month}", (Rows("Pictures", columns, rows),))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:4] if len(sys.argv) > 1 else (200, 3_000, 20_000)))
