"""Finds the outside checkers and what they check; decides when one that is missing is a failure.

It installs nothing: `tests/outside/install.py` does.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

import pytest

from tests.command.running import run
from tests.outside.install import CACHE, chromium

TOP = Path(__file__).resolve().parent.parent.parent
EXAMPLE = TOP / "example_journal"

# One pattern for each kind of page of a site; a kind without a page fails its tests.
KINDS = (
    ("front", "index.html"),
    ("notes list", "notes.html"),
    ("note", "notes/*.html"),
    ("month", "months/*.html"),
    ("milestones", "milestones.html"),
    ("area", "areas/*.html"),
    ("task", "tasks/*.html"),
    ("parts", "parts.html"),
    ("photos", "photos.html"),
    ("photos by area", "photos-by-area.html"),
    ("photos by task", "photos-by-task.html"),
    ("next", "next.html"),
    ("claim", "claim.html"),
    ("figures", "figures.html"),
    ("search", "search.html"),
    ("lost", "404.html"),
)
# The same for the pages of a dossier.
DOSSIER_KINDS = (
    ("front", "binder/index.html"),
    ("reading", "binder/reading.html"),
    ("claim", "binder/claim.html"),
    ("kept", "binder/kept.html"),
    ("a to z", "binder/a-to-z.html"),
    ("area", "binder/area-*.html"),
    ("help", "binder/help.html"),
    ("visits", "binder/visits.html"),
    ("parts", "binder/parts.html"),
    ("closeout", "binder/closeout.html"),
    ("process", "binder/process.html"),
    ("bulletins", "binder/bulletins.html"),
    ("snags", "binder/snags.html"),
    ("decisions", "binder/decisions.html"),
    ("papers", "binder/papers.html"),
    ("months", "binder/months.html"),
    ("photos", "binder/photos.html"),
    ("contact", "binder/contact.html"),
    ("seals", "binder/seals.html"),
    ("missing", "binder/missing.html"),
    ("remarks", "binder/remarks.html"),
)


def missing(what: str) -> NoReturn:
    """End the test: a failure in CI, where all is installed; elsewhere a skip that says so."""
    if os.environ.get("CI") == "true":
        pytest.fail(f"{what} is missing, and in CI nothing may be")
    pytest.skip(f"{what} is missing; `python3 tests/run.py` installs what it can")


def program(name: str) -> str:
    """The path of a program, or the end of the test."""
    return shutil.which(name) or missing(f"the program {name}")


def chromium_program() -> str:
    """The path of Chromium, or the end of the test."""
    return chromium() or missing("Chromium")


def npm_file(path: str) -> Path:
    """A file of an npm package by its path below node_modules, or the end of the test."""
    found = CACHE / "node_modules" / path
    return found if found.is_file() else missing(f"npm file {path}")


def builderlog(*words: str) -> None:
    """Run one builderlog command; show all it said if it fails."""
    said = run(*words)
    assert said.status == 0, f"{words} ended with {said.status}\n{said.out}{said.err}"


def copy_example(into: Path) -> Path:
    """A copy of the example journal without anything that builderlog wrote into it."""
    unwritten = shutil.ignore_patterns("published", "dossier", ".builderlog")
    return Path(shutil.copytree(EXAMPLE, into, ignore=unwritten))


def show_more(journal: Path, *words: str) -> None:
    """Let the site of a journal show these things beside those that it shows already."""
    file = journal / "journal.yaml"
    before = file.read_text(encoding="utf-8")
    after = re.sub(r"(?m)^(  show: \[.*)\]$", rf"\1, {', '.join(words)}]", before)
    assert before != after, "journal.yaml has no `show: [...]` on a line of its own"
    file.write_text(after, encoding="utf-8")


@contextmanager
def site_says(journal: Path, *lines: str) -> Iterator[None]:
    """For a while, journal.yaml says these things more of its site."""
    file = journal / "journal.yaml"
    before = file.read_text(encoding="utf-8")
    more = "".join(f"\n  {line}" for line in lines)
    after = re.sub(r"(?m)^site:$", lambda found: found[0] + more, before)
    assert before != after, "journal.yaml has no `site:` on a line of its own"
    file.write_text(after, encoding="utf-8")
    yield
    file.write_text(before, encoding="utf-8")


def pages_of(site: Path, pattern: str) -> list[Path]:
    """Every page of one kind; at least one, else the check would say nothing."""
    pages = sorted(site.glob(pattern))
    assert pages, f"no page {pattern} in the site"
    return pages


def samples_of(site: Path, pattern: str, most: int = 2) -> list[Path]:
    """The smallest and the largest page of one kind, by bytes, and between them up to `most`."""
    by_size = sorted(pages_of(site, pattern), key=lambda page: (page.stat().st_size, page))
    last = len(by_size) - 1
    places = {round(at * last / (most - 1)) for at in range(most)}
    return [by_size[at] for at in sorted(places)]
