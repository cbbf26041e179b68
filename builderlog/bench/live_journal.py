"""The journal as it stands on the disk now: read again when a file was saved, told to open pages.

A note that a mistake has broken is drawn as it last was without one: the last good page stays.
"""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from builderlog.bench.bulletin import Bulletin
from builderlog.bench.live_site import LiveSite, changed_between, live_site, try_theme
from builderlog.deciding.checks import judge
from builderlog.drawing.publication import Manuscript
from builderlog.drawing.theme import ThemeFault
from builderlog.knowing.journal import NoteMemory, read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, Weight, mistake
from builderlog.storing.cache import Store
from builderlog.storing.refusal import refusing

WORDS_ENDINGS = (".md", ".markdown", ".yaml", ".yml", ".txt", ".csv", ".html", ".css", ".svg")
LONGEST_WORDS = 1 << 20  # a file of words that is longer is known by size and time alone
ATTEMPTS, PAUSE_SECONDS = 5, 0.05  # an editor may be just putting a file in another one's place


@dataclass(frozen=True, slots=True)
class Sign:
    """What tells that a file is another one; `digest` is "" where size and time alone do."""

    stat: tuple[int, int]  # bytes, changed (ns)
    digest: str = ""

    def says(self, other: Sign | None) -> bool:
        """Whether both stand for the same bytes, as far as they tell."""
        if other is None:
            return False
        return self.digest == other.digest if self.digest else self.stat == other.stat


Signs = Mapping[str, Sign]


@dataclass(frozen=True, slots=True)
class JournalNow:
    """One reading of the journal, all of one moment; `problems` are worst first."""

    folder: Folder
    ledger: Ledger
    problems: tuple[Problem, ...]
    site: LiveSite | None  # None where it could never be drawn yet


class LiveJournal:
    """The current reading. `look` may be called from any thread, `now` costs nothing."""

    def __init__(self, root: Path, cache: Path, bulletin: Bulletin) -> None:
        """Reads the journal for the first time. Raises Refused where it cannot be read."""
        self.root, self.cache, self.bulletin = root, cache, bulletin
        self.store = Store(cache)
        self.told: Callable[[JournalNow, tuple[str, ...]], None] = lambda _now, _changed: None
        self._looking = Lock()
        self._good: dict[str, bytes] = {}
        self._notes: NoteMemory = {}
        self._signs: Signs = signs_of(root, {})
        self.now = self._read(None)

    def look(self) -> JournalNow:
        """Reads again where a file is another one than before, and tells what changed."""
        with self._looking:
            signs = signs_of(self.root, self._signs)
            old, self._signs = self._signs, signs
            saved = [path for path, sign in signs.items() if not sign.says(old.get(path))]
            if not saved and signs.keys() == old.keys():
                return self.now
            before, self.now = self.now, self._read(self.now.site)
        self._tell(before, self.now, saved)
        return self.now

    def _tell(self, before: JournalNow, now: JournalNow, saved: list[str]) -> None:
        changed = changed_between(before.site, now.site) if now.site else ()
        if before.problems != now.problems:
            self.bulletin.tell("problems", told(now.problems))
        if changed and now.site:
            shown = [now.site.pages[path] for path in saved if path in now.site.pages]
            page = shown[0] if len(shown) == 1 and shown[0] in changed else None
            self.bulletin.tell("site", {"changed": changed, "page": page})
        self.bulletin.tell("front", {})
        self.told(now, changed)

    def _read(self, before: LiveSite | None) -> JournalNow:
        """Tried again where a file of the look went away while it was read. Raises Refused."""
        for _ in range(ATTEMPTS - 1):
            try:
                return self._read_and_plan(before)
            except OSError:
                time.sleep(PAUSE_SECONDS)
        with refusing(f"read the journal in {self.root}"):
            return self._read_and_plan(before)

    def _read_and_plan(self, before: LiveSite | None) -> JournalNow:
        folder, ledger = self._reading()
        problems = judge(ledger)
        mistakes = tuple(each for each in problems if each.weight is Weight.MISTAKE)
        try:
            site = live_site(self._drawable(folder, ledger, mistakes), self.store, before)
            try_theme(site, self.store, before)
        except ThemeFault as fault:
            found = mistake(fault.place, "theme", fault.message)
            return JournalNow(folder, ledger, (found, *problems), before)
        more = [each for each in site.mistakes if each not in problems]
        return JournalNow(folder, ledger, (*more, *problems), site)

    def _reading(self) -> tuple[Folder, Ledger]:
        """Tried again where a file went away while it was read. Raises Refused."""
        for _ in range(ATTEMPTS - 1):
            try:
                return self._read_once()
            except OSError:
                time.sleep(PAUSE_SECONDS)
        with refusing(f"read the journal in {self.root}"):
            return self._read_once()

    def _read_once(self) -> tuple[Folder, Ledger]:
        folder = Folder.at(self.root)
        return folder, read_journal(folder, self.cache, memory=self._notes)

    def _drawable(
        self, folder: Folder, ledger: Ledger, mistakes: tuple[Problem, ...]
    ) -> Manuscript:
        """The journal with each broken file as it last was without a mistake."""
        broken = {each.place.path for each in mistakes}
        self._remember(folder, broken)
        older = {path: self._good[path] for path in broken if path in self._good}
        if not older:
            return Manuscript(folder, ledger, mistakes)
        folder = folder.overlaid((), older)
        ledger = read_journal(folder, self.cache, memory=self._notes)
        left = tuple(each for each in judge(ledger) if each.weight is Weight.MISTAKE)
        return Manuscript(folder, ledger, left)

    def _remember(self, folder: Folder, broken: set[str]) -> None:
        for path in folder.paths:
            if path.endswith((".md", ".markdown", ".yaml")) and path not in broken:
                self._good[path] = folder.read(path)


def told(problems: tuple[Problem, ...]) -> list[dict[str, object]]:
    """The problems as a page gets them: place, code, weight and sentence."""
    return [
        {
            "path": each.place.path,
            "line": each.place.line,
            "column": each.place.column,
            "code": each.code,
            "weight": str(each.weight),
            "message": each.told,
        }
        for each in problems
    ]


def signs_of(root: Path, before: Signs) -> Signs:
    """The signs of all files; one whose size and time are those of `before` is not read again."""
    with refusing(f"read the folder {root}"):
        folder = Folder.at(root)
    found = ((path, _sign(folder, path, before.get(path))) for path in folder.paths)
    return {path: sign for path, sign in found if sign}


def _sign(folder: Folder, path: str, before: Sign | None) -> Sign | None:
    try:
        stat = folder.where(path).stat()
        seen = (stat.st_size, stat.st_mtime_ns)
        if before and before.stat == seen:
            return before
        if path.lower().endswith(WORDS_ENDINGS) and stat.st_size <= LONGEST_WORDS:
            return Sign(seen, hashlib.sha256(folder.read(path)).hexdigest())
    except OSError:
        return None  # it went away just now
    return Sign(seen)
