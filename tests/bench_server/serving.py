"""The bench's two servers on free ports of this machine, in a thread, for a browser to ask."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import Event, Thread

from builderlog.command.bench_opening import Bench, Wanted
from tests.bench_server.made_desk import NOW

LONGEST_START = 20  # seconds


@dataclass(frozen=True, slots=True)
class Served:
    """A journal that is served, and where; of the phone's server also the code."""

    root: Path
    url: str
    code: str = ""


def evening() -> datetime:
    """The clock of the shop stands at half past ten on the evening of the small journal."""
    return NOW


@contextmanager
def served(root: Path, *, phone: bool = False) -> Iterator[Served]:
    """Serves until it is left; with `phone` it is the phone's server that is told."""
    said: list[str] = []
    wanted = Wanted(root, root / ".builderlog", 0, phone, "127.0.0.1" if phone else "")
    bench = Bench(wanted, evening, said.append)
    answers = Event()
    thread = Thread(target=bench.serve, args=(answers.set,))
    thread.start()
    assert answers.wait(LONGEST_START)
    try:
        yield _phones(root, "\n".join(said)) if phone else Served(root, bench.url)
    finally:
        bench.stop()
        thread.join()


def _phones(root: Path, said: str) -> Served:
    """What the terminal says: the address, and the code with its gap."""
    found = re.search(r"(http://\S+/) with the code (.+)", said)
    assert found, said
    return Served(root, found[1], found[2].strip())
