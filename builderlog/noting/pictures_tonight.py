"""Pictures of an evening that no note has yet: those filed already, and those in the inbox."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from builderlog.knowing.files import is_picture
from builderlog.knowing.ledger import Ledger
from builderlog.noting.clock import CLOCK_FILE
from builderlog.noting.filing import INBOX_FOLDER, PHOTOS_FOLDER, HowToFile, Seen, look_at
from builderlog.noting.picture_dates import Believing, Dated, date_picture, evening_of
from builderlog.reading.folder import Folder
from builderlog.storing.photo_facts import read_all


@dataclass(frozen=True, slots=True)
class Waiting:
    """What an evening's note can show: pictures in the order in which they were taken.

    A path in the journal stands for one in photos/ that no note names, a file for one in inbox/.
    """

    pictures: tuple[str | Path, ...]
    others: int = 0  # in the inbox, of other days or of none

    @property
    def inbox(self) -> tuple[Path, ...]:
        """Those that are still to be filed."""
        return tuple(one for one in self.pictures if isinstance(one, Path))


@dataclass(frozen=True, slots=True)
class WhichEvening:
    """Which evening is asked for; `today` is the day by the clock."""

    day: date
    today: date
    cache: Path | None = None


def waiting_pictures(folder: Folder, ledger: Ledger, evening: WhichEvening) -> Waiting:
    """The evening's pictures without a note; nothing is moved."""
    seen = [*_in_inbox(folder, ledger, evening)]
    inbox = [(one.dated, one.source) for one in seen]
    found: list[tuple[Dated, str | Path]] = [*inbox, *_without_note(folder, ledger, evening)]
    tonight = [one for one in found if evening_of(one[0], ledger.settings.day_ends) == evening.day]
    tonight.sort(key=lambda one: _order(*one))
    pictures = tuple(picture for _, picture in tonight)
    waiting = Waiting(pictures)
    return replace(waiting, others=len(seen) - len(waiting.inbox))


def _order(dated: Dated, picture: str | Path) -> tuple[str, str, str]:
    return str(dated.day), str(dated.at or ""), str(picture)


def _in_inbox(folder: Folder, ledger: Ledger, evening: WhichEvening) -> Iterator[Seen]:
    started = ledger.settings.started
    how = HowToFile(remove=False, today=evening.today, started=started.day if started else None)
    paths = [
        folder.where(path)
        for path in folder.paths
        if path.startswith(f"{INBOX_FOLDER}/") and path != CLOCK_FILE
    ]
    for seen in look_at(folder.root, paths, how):
        if seen.photo is not None and not seen.told:
            yield seen


def _without_note(
    folder: Folder, ledger: Ledger, evening: WhichEvening
) -> Iterator[tuple[Dated, str]]:
    named = {picture.path for picture in ledger.pictures}
    paths = [
        path
        for path in folder.paths
        if path.startswith(f"{PHOTOS_FOLDER}/") and is_picture(path) and path not in named
    ]
    facts = read_all(
        [(path, folder.where(path)) for path in paths], evening.cache, lambda _: None
    ).photos
    started = ledger.settings.started
    believing = Believing(evening.today, started.day if started else None)
    for path in paths:
        yield date_picture(path, facts[path].taken, believing), path
