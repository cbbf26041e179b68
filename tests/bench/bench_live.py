"""How long a saved note takes to the event that tells the open page, against one page's own work.

Run it by hand: `python3 -m tests.bench.bench_live [NOTES]`. Not a test: times differ from machine
to machine, ratios less so. The bench is served as the command serves it; a note is saved, and the
clock stops when the event `site` has come over the socket. The floor, in the same run, is what no
live site can do without: the quiet that is waited for, the one note read, its page drawn.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path
from threading import Event, Thread

from builderlog.bench.watching import QUIET_SECONDS
from builderlog.drawing.site import SitePlan
from builderlog.knowing.notes import note_of
from builderlog.reading.front_matter import read_note
from builderlog.sheets.site import Page
from tests.bench.bench_publish import write_journal
from tests.bench_server.running_bench import Running, events_of, running

EXAMPLE = Path(__file__).resolve().parent.parent.parent / "example_journal"
SAVINGS = 7


def savings(bench: Running, note: Path) -> list[float]:
    """Seconds from each saving to its event."""
    came, ready = [Event() for _ in range(SAVINGS)], Event()

    def listen() -> None:
        sites = 0
        for name, _ in events_of(bench.url, 1000):
            ready.set()
            if name == "site":
                came[sites].set()
                sites += 1
                if sites == SAVINGS:
                    return

    thread = Thread(target=listen)
    thread.start()
    assert ready.wait(30)
    taken = [_saving(note, number, event) for number, event in enumerate(came)]
    thread.join()
    return taken


def _saving(note: Path, number: int, event: Event) -> float:
    time.sleep(0.3)  # a builder does not save without a pause
    begun = time.perf_counter()
    note.write_bytes(note.read_bytes() + f"\nLine {number} more.\n".encode())
    assert event.wait(60)
    return time.perf_counter() - begun


def floor(plan: SitePlan, page: str, note: Path) -> float:
    """Seconds to read one note and draw its page, with a warm template, and the quiet."""
    item = plan.items[page]
    assert isinstance(item, Page)
    plan.easel.draw(item)
    begun = time.perf_counter()
    raw, _ = read_note("notes/floor.md", note.read_bytes())
    note_of(raw, None)
    plan.easel.draw(item)
    return time.perf_counter() - begun + QUIET_SECONDS


def measure(title: str, root: Path) -> None:
    """One line: the median of the savings, the slowest, the floor, and their ratio."""
    with running(root) as bench:
        site = bench.bench.live.now.site
        assert site
        path, page = sorted(site.pages.items())[len(site.pages) // 2]
        taken = savings(bench, root / path)
        least = floor(site.plan, page, root / path)
    middle = statistics.median(taken)
    sys.stdout.write(
        f"{title:24}{middle:9.3f} s{max(taken):9.3f} s{least:9.3f} s{middle / least:8.1f} x\n"
    )


def main(notes: int) -> None:
    """The example journal, then one of many notes."""
    sys.stdout.write(f"{'':24}{'median':>11}{'slowest':>11}{'floor':>11}{'ratio':>10}\n")
    with tempfile.TemporaryDirectory() as name:
        example = Path(name) / "example"
        ours = shutil.ignore_patterns(".builderlog", "published", "dossier*")
        shutil.copytree(EXAMPLE, example, ignore=ours)
        measure("the example", example)
        write_journal(Path(name) / "made", notes, notes // 3, (800, 600))
        measure(f"{notes} notes", Path(name) / "made")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("notes", nargs="?", type=int, default=600)
    main(parser.parse_args().notes)
