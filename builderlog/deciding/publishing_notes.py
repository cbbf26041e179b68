"""Public notes: of each note that friends may read, what they may read of it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.links import judge_link
from builderlog.deciding.order_of_day import in_order_of_day
from builderlog.deciding.public import (
    PublicDecision,
    PublicHours,
    PublicMeasured,
    PublicNote,
    PublicPhotoUse,
    PublicSnag,
    PublicTaskTime,
    PublicVisit,
)
from builderlog.deciding.sums import seconds_by, seconds_of
from builderlog.deciding.visibility import Visibility, file_words
from builderlog.deciding.words import day_plain, month_long
from builderlog.knowing.entries import Note
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture, Worked
from builderlog.knowing.units import UnreadableError, parse_date
from builderlog.reading.prose import first_heading
from builderlog.reading.words import Word

_MONTH = re.compile(r"\d{4}-\d{2}", re.ASCII)


@dataclass(frozen=True, slots=True)
class _Desk:
    """What all notes need, gathered once."""

    sight: Visibility
    finder: Finder
    paths: frozenset[str]
    hides_somebody: bool  # who worked is not even spoken of, as paid help until it is shown
    work: dict[str, list[Worked]]
    photos: dict[str, list[tuple[Picture, PhotoUse]]]
    snags: dict[str, list[PublicSnag]]


def public_notes(
    ledger: Ledger, sight: Visibility, snags: tuple[PublicSnag, ...]
) -> tuple[PublicNote, ...]:
    """Oldest first; those of one day in an order that private notes have no part in."""
    paths = frozenset(note.path for note in ledger.notes)
    hides = any(sight.label(row.person) is None for row in ledger.work if row.seconds)
    desk = _Desk(sight, finder_of(ledger), paths, hides, {}, {}, {})
    for row in ledger.work:
        desk.work.setdefault(row.note, []).append(row)
    for picture in ledger.pictures:
        for use in picture.uses:
            desk.photos.setdefault(use.note, []).append((picture, use))
    for snag in snags:
        desk.snags.setdefault(snag.note, []).append(snag)
    public = (note for note in ledger.notes if note.path in sight.notes)
    return tuple(_note(note, desk) for note in in_order_of_day(public, ledger.settings.day_ends))


def _note(note: Note, desk: _Desk) -> PublicNote:
    assert note.day is not None  # noqa: S101
    work, sight = desk.work.get(note.path, []), desk.sight
    heading = None if note.title else first_heading(note.prose.text)
    key = sight.notes[note.path]
    return PublicNote(
        key=key,
        day=note.day,
        title=(note.title.text if note.title else heading) or _title_of_file(note.path),
        seconds=seconds_of(work),
        hours=_hours(work, desk),
        tasks=_task_times(note, work),
        photos=tuple(_photos(note, desk)),
        parts=_parts(note),
        snags=tuple(desk.snags.get(key, ())),
        decided=_decided(note),
        measured=_measured(note),
        visits=_visits(note) if "visits" in sight.show else (),
        next_steps=tuple(step.text for step in note.next_steps),
        closes=tuple(word.text for word in note.closes),
        place=_text(note.where) if "place" in sight.show else None,
        written_later=note.written.day if note.written and note.written.day > note.day else None,
        prose=note.prose.text,
        links=tuple(_links(note, desk)),
        has_heading=heading is not None,
    )


def _title_of_file(path: str) -> str:
    words = file_words(path)
    if words == "note":
        return "Shop note"
    if words.isdecimal():  # the second note of a day that was given no title
        return f"Shop note {words}"
    spaced = words.replace("-", " ").replace("_", " ")
    return spaced[:1].upper() + spaced[1:]


def _text(word: Word | None) -> str | None:
    return word.text if word else None


def _when(word: Word | None) -> str | None:
    """The builder's words; a day or a month in numbers as friends read all others."""
    text = word.text.strip() if word else ""
    try:
        day = parse_date(f"{text}-01" if _MONTH.fullmatch(text) else text)
    except UnreadableError:
        return _text(word)
    return month_long(text) if _MONTH.fullmatch(text) else day_plain(day)


def _hours(work: list[Worked], desk: _Desk) -> tuple[PublicHours, ...]:
    """By label; nobody where it would betray somebody who is not even spoken of.

    Not on that evening alone, or what is missing there would tell of it: wherever several worked.
    """
    by_person = seconds_by(work, lambda row: row.person)
    labels = {person: desk.sight.label(person) for person in by_person}
    if None in labels.values() or (desk.hides_somebody and len(labels) > 1):
        return ()
    by_label: dict[str, int] = {}
    for person, seconds in by_person.items():
        label = labels[person] or ""
        by_label[label] = by_label.get(label, 0) + seconds
    return tuple(PublicHours(label, seconds) for label, seconds in by_label.items())


def _task_times(note: Note, work: list[Worked]) -> tuple[PublicTaskTime, ...]:
    """Every task the note names in `tasks`, those without time too."""
    seconds = seconds_by((row for row in work if row.task), lambda row: row.task or "")
    ids = dict.fromkeys(line.task.text for line in note.tasks)
    return tuple(PublicTaskTime(task, seconds.get(task, 0)) for task in ids)


def _photos(note: Note, desk: _Desk) -> Iterator[PublicPhotoUse]:
    """In the order of the note, not of the paths."""
    order = {_path(desk.finder, line.photo.text): place for place, line in enumerate(note.photos)}
    found = [pair for pair in desk.photos.get(note.path, ()) if pair[0].path in desk.sight.digests]
    for picture, use in sorted(found, key=lambda pair: order.get(pair[0].path, len(order))):
        yield PublicPhotoUse(
            digest=desk.sight.digests[picture.path],
            caption=use.caption,
            shows=use.shows,
            taken=picture.taken,
            day=use.day,
            note=desk.sight.notes[note.path],
            width_px=picture.file.width_px,
            height_px=picture.file.height_px,
            page=use.page,
        )


def _path(finder: Finder, text: str) -> str:
    try:
        return finder.named(text)
    except NotFoundError:
        return ""  # told in the checks


def _parts(note: Note) -> tuple[tuple[str, str | None, str | None], ...]:
    return tuple(
        (
            line.part.text,
            None if line.count is None else f"{line.count:f}",
            line.status.value if line.status else None,
        )
        for line in note.parts
    )


def _decided(note: Note) -> tuple[PublicDecision, ...]:
    return tuple(
        PublicDecision(each.what.text, _text(each.why), _text(each.instead_of), _when(each.again))
        for each in note.decided
    )


def _measured(note: Note) -> tuple[PublicMeasured, ...]:
    return tuple(
        PublicMeasured(
            each.what.text,
            each.value.written if each.value else None,
            each.limit.written if each.limit else None,
        )
        for each in note.measured
    )


def _visits(note: Note) -> tuple[PublicVisit, ...]:
    return tuple(
        PublicVisit(
            who=", ".join(name.text for name in visit.who),
            capacity=_text(visit.capacity),
            looked_at=tuple(word.text for word in visit.looked_at),
            said=_text(visit.said),
        )
        for visit in note.visits
    )


def _links(note: Note, desk: _Desk) -> Iterator[tuple[str, str, str]]:
    """Each target of the words once: a picture that may be seen, a public note, or nothing."""
    told: set[str] = set()
    for link in note.prose.links:
        if link.target in told:
            continue
        told.add(link.target)
        judged = judge_link(note.path, link, desk.finder, desk.paths)
        if judged.kind == "picture" and judged.path in desk.sight.digests:
            yield link.target, "picture", desk.sight.digests[judged.path]
        elif judged.kind == "note" and judged.path in desk.sight.notes:
            yield link.target, "note", desk.sight.notes[judged.path]
        elif judged.kind not in {"wide world", "here"}:
            yield link.target, "drop", ""
