"""After writing: what was understood of the note, what needs mending, what to see to first."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

from builderlog.bench.desk import Desk
from builderlog.bench.panels import Told, told
from builderlog.deciding.addresses import note_path
from builderlog.deciding.checks import paths_with_mistakes
from builderlog.deciding.understood import Understood, understood, understood_lines
from builderlog.deciding.visibility import what_friends_see
from builderlog.deciding.words import counted
from builderlog.sheets.open_list import ClosingList, closing_list


@dataclass(frozen=True, slots=True)
class Written:
    """The note that was just written, in ready words; `page` is its address on the live site."""

    path: str
    lines: tuple[str, ...]
    mistakes: tuple[Told, ...]
    doubts: tuple[Told, ...]
    elsewhere: str  # that other files have mistakes
    closing: tuple[ClosingList, ...]
    sealed: str
    page: str


def written(desk: Desk, path: str) -> Written | None:
    """What the journal holds of the note; None where no such note is there."""
    if path not in desk.ledger.files:
        return None
    found = understood(desk.ledger, desk.problems, path)
    elsewhere = f"{counted(found.elsewhere, 'mistake')} in other files of the journal"
    return Written(
        path=path,
        lines=_lines(desk, found),
        mistakes=tuple(map(told, found.mistakes)),
        doubts=tuple(map(told, found.doubts)),
        elsewhere=elsewhere if found.elsewhere and not desk.phone else "",
        closing=tuple(closing_list(desk.ledger, each) for each in found.closing),
        sealed=_sealed(found.day.isoformat()[:7]) if found.sealed and found.day else "",
        page="" if desk.phone else _page(desk, path),
    )


def _lines(desk: Desk, found: Understood) -> tuple[str, ...]:
    """The evening, the month, all of it; to a phone the evening alone."""
    if found.day is None:
        return ()
    lines = understood_lines(found, desk.tonight)
    return lines[:1] if desk.phone else lines


def _sealed(month: str) -> str:
    begun = f"{month} is sealed, and this note came after its seal; take it in with:"
    return f'{begun} builderlog seal --amend {month} --why "…"'


def _page(desk: Desk, path: str) -> str:
    """Where friends will read it; nothing where the note is private or has a mistake."""
    seen = what_friends_see(desk.ledger, paths_with_mistakes(desk.problems))
    key = seen.notes.get(path)
    return f"/site/{quote(note_path(key))}" if key else ""
