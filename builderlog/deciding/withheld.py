"""What the friends' site keeps back, counted for the builder: notes, pictures, words not shown.

For the builder's own terminal alone: nothing of it goes to the site. Only what the journal really
has is told, so that the list is short where there is little to hide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from builderlog.deciding.visibility import Visibility, may_be_seen, what_friends_see
from builderlog.deciding.words import counted, duration, listed
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.knowing.settings import Role

# Why a picture stays back: the first that holds is told.
MARKED, SEEN = "marked private", "with somebody who has not said yes"
OF_NOTE, LINKED = "of a private note", "linked in a private note"
BROKEN, TWIN = "named in a note with mistakes", "the same as one of these"
REASONS = (MARKED, SEEN, OF_NOTE, LINKED, BROKEN, TWIN)


@dataclass(frozen=True, slots=True)
class Withheld:
    """Sentences without a stop, each of one kind; empty where nothing is kept back."""

    notes: str
    pictures: str
    people: str  # who goes by a role, or is not spoken of
    unshown: str  # what `site: show` hides
    never: str  # what no word opens


def withheld(ledger: Ledger, left_out: frozenset[str], kept: frozenset[str]) -> Withheld:
    """As `public_ledger` is given it: paths of notes with mistakes, and of pictures with them."""
    sight = what_friends_see(ledger, left_out, kept)
    return Withheld(
        notes=_notes(ledger, sight),
        pictures=_pictures(ledger, sight, kept),
        people=_people(ledger, sight),
        unshown=", ".join(_unshown(ledger, sight)),
        never=_never(ledger, sight),
    )


def lines_of(found: Withheld) -> Iterator[str]:
    """What there is, a line each, the heading first; none where nothing is kept back."""
    rows = (
        ("notes", found.notes),
        ("pictures", found.pictures),
        ("people", found.people),
        ("unless site: show says so", found.unshown),
        ("never shown", found.never),
    )
    told = [f"{label}: {words}" for label, words in rows if words]
    if told:
        yield "Kept from friends:"
        yield from told


def _notes(ledger: Ledger, sight: Visibility) -> str:
    hidden = [note for note in ledger.notes if note.path not in sight.notes]
    kinds = (
        ("private", Privacy.PRIVATE),
        ("with nothing but its hours for anyone", Privacy.HOURS_ONLY),
        ("with mistakes", Privacy.OPEN),
    )
    found = [f"{number} {words}" for words, kind in kinds if (number := _of_kind(hidden, kind))]
    if not found:
        return ""
    return f"{len(hidden)} of {len(ledger.notes)}: {', '.join(found)}; their hours count"


def _of_kind(notes: Iterable[Note], kind: Privacy) -> int:
    return sum(note.privacy is kind for note in notes)


def _pictures(ledger: Ledger, sight: Visibility, kept: frozenset[str]) -> str:
    """Each picture once, under the first reason that holds."""
    reasons: dict[str, set[str]] = {}
    whole = {picture.file.digest for picture in ledger.pictures if not picture.file.fault}
    for picture in ledger.pictures:
        if picture.path not in sight.digests and not picture.file.fault:
            reason = _reason(picture, ledger, sight, kept)
            reasons.setdefault(reason, set()).add(picture.file.digest)
    told: set[str] = set()
    found: list[str] = []
    for reason in REASONS:
        fresh = reasons.get(reason, set()) - told
        told |= fresh
        if fresh:
            found.append(f"{len(fresh)} {reason}")
    if not found:
        return ""
    return f"{len(told)} of {len(whole)}: {', '.join(found)}"


def _reason(picture: Picture, ledger: Ledger, sight: Visibility, kept: frozenset[str]) -> str:
    private = {note.path for note in ledger.notes if note.privacy is not Privacy.OPEN}
    if any(use.private for use in picture.uses):
        return MARKED
    if any(_not_asked(ledger, name) for use in picture.uses for name in use.seen):
        return SEEN
    if any(use.note in private for use in picture.uses):
        return OF_NOTE
    if private.intersection(picture.linked_from):
        return LINKED
    hidden = {*(use.note for use in picture.uses), *picture.linked_from} - sight.notes.keys()
    return BROKEN if hidden or picture.path in kept else TWIN


def _not_asked(ledger: Ledger, name: str) -> bool:
    is_builder = name == ledger.settings.builder
    return not may_be_seen(ledger.settings.person(name), is_builder=is_builder)


def _people(ledger: Ledger, sight: Visibility) -> str:
    by_role = [
        f"{person.name} is {sight.label(person.name)!r}"
        for person in ledger.settings.people
        if sight.label(person.name) and _not_asked(ledger, person.name)
    ]
    return f"{', '.join(by_role)} until may show: yes" if by_role else ""


def _unshown(ledger: Ledger, sight: Visibility) -> Iterator[str]:
    """What each word of `site: show` would open, where it stands in a note that friends read."""
    for word, count in COUNTS:
        told = None if word in sight.show else count(ledger, sight)
        if told is not None:
            yield f"{word} ({told})" if told else word


def _full_names(ledger: Ledger, sight: Visibility) -> str | None:
    named = [
        person.name
        for person in ledger.settings.people
        if person.full_name and sight.label(person.name) == person.name
    ]
    return f"of {listed(named)}" if named else None


def _places(ledger: Ledger, sight: Visibility) -> str | None:
    notes = sum(note.where is not None for note in _public(ledger, sight))
    home = "the journal's" if ledger.settings.place else ""
    named = f"{counted(notes, 'note')} with one" if notes else ""
    return listed([words for words in (home, named) if words]) or None


def _public(ledger: Ledger, sight: Visibility) -> Iterator[Note]:
    return (note for note in ledger.notes if note.path in sight.notes)


def _parts(ledger: Ledger, sight: Visibility, key: str) -> str | None:
    """How many parts say `key` in a public note."""
    number = sum(
        any(
            getattr(event.line, key) is not None and event.note in sight.notes
            for event in part.events
        )
        for part in ledger.parts
    )
    return f"of {counted(number, 'part')}" if number else None


def _costs(ledger: Ledger, sight: Visibility) -> str | None:
    return _parts(ledger, sight, "cost")


def _suppliers(ledger: Ledger, sight: Visibility) -> str | None:
    kit = "the kit's" if ledger.settings.aircraft.kit else ""
    return listed([words for words in (kit, _parts(ledger, sight, "source")) if words]) or None


def _refs(ledger: Ledger, sight: Visibility) -> str | None:
    return _parts(ledger, sight, "ref")


def _registration(ledger: Ledger, _sight: Visibility) -> str | None:
    return "" if ledger.settings.aircraft.registration else None


def _serial(ledger: Ledger, _sight: Visibility) -> str | None:
    return "" if ledger.settings.aircraft.serial else None


def _snags(ledger: Ledger, sight: Visibility) -> str | None:
    shown = [snag for snag in ledger.snags if snag.note in sight.notes]
    still = sum(snag.fixed is None for snag in shown)
    return f"{len(shown)}, {still} of them open" if shown else None


def _visits(ledger: Ledger, sight: Visibility) -> str | None:
    return str(sum(len(note.visits) for note in _public(ledger, sight)) or "") or None


def _paid(ledger: Ledger, _sight: Visibility) -> str | None:
    seconds = sum(row.seconds for row in ledger.work if row.role is Role.PAID)
    return duration(seconds) if seconds else None


def _claim(ledger: Ledger, _sight: Visibility) -> str | None:
    listed_tasks = any(task.credit or task.marks for task in ledger.worklist.by_id.values())
    return "" if ledger.rulebook and listed_tasks else None


COUNTS: tuple[tuple[str, Callable[[Ledger, Visibility], str | None]], ...] = (
    ("full names", _full_names),
    ("place", _places),
    ("costs", _costs),
    ("suppliers", _suppliers),
    ("registration", _registration),
    ("serial", _serial),
    ("refs", _refs),
    ("snags", _snags),
    ("visits", _visits),
    ("paid help", _paid),
    ("claim", _claim),
)


def _never(ledger: Ledger, sight: Visibility) -> str:
    """What no word opens: of public notes what is for the inspector, and of journal.yaml."""
    notes, aircraft = tuple(_public(ledger, sight)), ledger.settings.aircraft
    receipts = _parts(ledger, sight, "receipt")
    counts = (
        ("work away", sum(len(note.away) for note in notes)),
        ("torque", sum(len(note.torqued) for note in notes)),
        ("processes", sum(len(note.process) for note in notes)),
        ("bulletins", sum(len(note.bulletins) for note in notes)),
        ("drawings followed", sum(bool(line.per) for note in notes for line in note.tasks)),
        ("holidays", len(ledger.settings.holidays)),
    )
    plate = [word for word in ("maker", "model") if getattr(aircraft, word)]
    found = (
        f"receipts {receipts}" if receipts else "",
        *(f"{what} ({number})" for what, number in counts if number),
        f"the data plate's {listed(plate)}" if plate else "",
    )
    return ", ".join(words for words in found if words)
