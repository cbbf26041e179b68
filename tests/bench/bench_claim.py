"""How long the claim takes once the notes are read, phase by phase, against plain loops.

Run it by hand: `python3 tests/bench/bench_claim.py [TASKS] [NOTES] [PICTURES]`. Not a test: times
differ from machine to machine, ratios less so. The floor is a loop that adds up the seconds of
all work by task and kind and the credit of all tasks, which no count of a claim can do without.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from PIL import Image

from builderlog.deciding.checks import judge
from builderlog.deciding.claim_document import claim_document
from builderlog.deciding.coverage import coverage
from builderlog.deciding.findings import find
from builderlog.deciding.hiring import hiring, tasks_named
from builderlog.deciding.portion import portion
from builderlog.deciding.what_if import parse_supposed, suppose
from builderlog.handover.binder import binder_pages
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.sheets.dossier import dossier
from builderlog.sheets.record import record_sheets

FIRST_DAY = date(2020, 1, 1)
JOURNAL = """\
title: A big journal
builder: Ines
people: {Ines: {role: builder}, Tomas: {role: helper}, Osk: {role: paid}}
rulebook: us-checklist
place: the barn
"""


def write_journal(root: Path, tasks: int, notes: int, pictures: int) -> None:
    """Ten areas, and notes that each work on two tasks, measure something and show pictures."""
    (root / "notes").mkdir(parents=True)
    (root / "photos").mkdir()
    (root / "journal.yaml").write_text(JOURNAL)
    rows = [f"  - area: A{area}\n    tasks:\n{_tasks(area, tasks)}" for area in range(10)]
    (root / "worklist.yaml").write_text("areas:\n" + "".join(rows))
    for number in range(pictures):
        Image.new("RGB", (8, 8), (number % 256, number // 256 % 256, 90)).save(
            root / "photos" / f"{number}.png"
        )
    for number in range(notes):
        (root / "notes" / f"{number:05}.md").write_text(_note(number, tasks, notes, pictures))


def _tasks(area: int, tasks: int) -> str:
    credit = "credit: {maker: 0.4, paid: 0, assembly: 0.3, fabrication: 0.3}"
    return "".join(
        f"      - {{task: T{number}, name: Task {number}, work: fabrication, {credit},"
        f" state: {'done' if number % 3 else 'open'}}}\n"
        for number in range(area, tasks, 10)
    )


def _note(number: int, tasks: int, notes: int, pictures: int) -> str:
    one, other = number % tasks, (number * 7 + 3) % tasks
    shown = range(number * pictures // notes, (number + 1) * pictures // notes)
    photos = "".join(
        f"  - {{photo: photos/{n}.png, shows: [T{one}], seen: [Ines], caption: A skin}}\n"
        for n in shown
    )
    return (
        f"---\ndate: {FIRST_DAY + timedelta(days=number)}\nhours: {{Ines: 3h, Tomas: 1h}}\n"
        f"tasks:\n  - {{task: T{one}, hours: 2, per: manual {one}}}\n"
        f"  - {{task: T{other}, hours: 1, who: [Ines, Tomas], work: assembly}}\n"
        "measured: {what: gap, value: 2 mm, limit: <= 3 mm}\n"
        + (f"photos:\n{photos}" if photos else "")
        + "---\nDrilled and deburred.\n"
    )


def floor(ledger: Ledger) -> dict[tuple[str | None, str], int]:
    """One pass over all work, and one over all credit."""
    sums: defaultdict[tuple[str | None, str], int] = defaultdict(int)
    for row in ledger.work:
        sums[row.task, row.work.value] += row.seconds
    for task in ledger.worklist.by_id.values():
        if task.credit:
            sums[task.id, "credit"] += task.credit.assembly + task.credit.fabrication
    return sums


def taken(what: Callable[[], object]) -> float:
    """Seconds on the wall, the best of three."""
    times = []
    for _ in range(3):
        begin = time.perf_counter()
        what()
        times.append(time.perf_counter() - begin)
    return min(times)


def main() -> None:
    """Prints each phase in milliseconds and as a ratio to the floor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("tasks", nargs="?", type=int, default=200)
    parser.add_argument("notes", nargs="?", type=int, default=3000)
    parser.add_argument("pictures", nargs="?", type=int, default=2000)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        root = Path(place) / "journal"
        write_journal(root, asked.tasks, asked.notes, asked.pictures)
        begin = time.perf_counter()
        ledger = read_journal(Folder.at(root))
        sys.stdout.write(f"reading {time.perf_counter() - begin:6.2f} s\n")
    rulebook = ledger.rulebook
    assert rulebook is not None
    changes = [parse_supposed("T5=paid:0.4", rulebook.measure)]
    made = dossier(find(ledger))
    phases: dict[str, Callable[[], object]] = {
        "claim, counted and as JSON": lambda: claim_document(portion(ledger, rulebook)),
        "--if one task": lambda: portion(suppose(ledger, rulebook, changes), rulebook),
        "--hire an area": lambda: hiring(
            tasks_named(ledger.worklist, ["A1"]), portion(ledger, rulebook)
        ),
        "coverage of all tasks": lambda: coverage(ledger),
        "every check": lambda: judge(ledger),
        "every table": lambda: record_sheets(ledger),
        "every chapter": lambda: dossier(find(ledger)),
        "every page of the binder": lambda: binder_pages(made, ledger, {}),
    }
    least = taken(lambda: floor(ledger))
    sys.stdout.write(f"{'floor':28} {least * 1000:8.1f} ms\n")
    for name, what in phases.items():
        took = taken(what)
        sys.stdout.write(f"{name:28} {took * 1000:8.1f} ms {took / least:8.1f} x floor\n")


if __name__ == "__main__":
    main()
