"""Sheets of what was done and seen: pictures, visits, snags, torque, measurements, processes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.knowing.entries import (
    Bulletin,
    Decided,
    Measured,
    Note,
    Process,
    TaskLine,
    Torqued,
    Visit,
)
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture, Snag
from builderlog.reading.words import Word
from builderlog.sheets.table import (
    Column,
    InNote,
    Sheet,
    entries,
    number,
    sheet,
    sheet_of_entries,
    text,
)


@dataclass(frozen=True, slots=True)
class _Shown:
    """A picture in one note; `use` is None where the note only links it in its words."""

    picture: Picture
    note: str
    use: PhotoUse | None


def photos(ledger: Ledger) -> Sheet:
    """Every picture by its path, once for each note that names or links it."""
    columns: tuple[Column[_Shown], ...] = (
        text("taken", "by the camera's clock, else the day of the note", lambda r: r.picture.taken),
        text("photo", "where it is filed", lambda row: row.picture.path),
        text("named", "photos: listed in the note; words: only linked there", _named),
        text("tasks", "the tasks it shows", lambda row: row.use.shows if row.use else None),
        text("seen", "people in it", lambda row: row.use.seen if row.use else None),
        text(
            "caption",
            "what the builder says of it",
            lambda row: row.use.caption if row.use else None,
        ),
        text(
            "page",
            "yes: a scanned page of a notebook",
            lambda row: row.use.page if row.use else None,
        ),
        text("private", "yes: not for friends", lambda row: row.use.private if row.use else None),
        text("sha256", "digest of the original file", lambda row: row.picture.file.digest),
        number("width_px", "width of the upright picture", lambda row: row.picture.file.width_px),
        number("height_px", "height of the same", lambda row: row.picture.file.height_px),
        text("note", "the note", lambda row: row.note),
    )
    title = "Every picture: one row for each note that names it."
    return sheet("photos", title, columns, _shown(ledger))


def _named(row: _Shown) -> str:
    return "photos" if row.use else "words"


def _shown(ledger: Ledger) -> Iterator[_Shown]:
    for picture in ledger.pictures:
        for use in picture.uses:
            yield _Shown(picture, use.note, use)
        named = {use.note for use in picture.uses}
        for note in picture.linked_from:
            if note not in named:
                yield _Shown(picture, note, None)


def visits(ledger: Ledger) -> Sheet:
    """Inspectors, counsellors and mechanics who looked at the work."""
    columns: tuple[Column[InNote[Visit]], ...] = (
        text("who", "everyone involved", lambda row: row.line.who),
        text("as", "in what capacity", lambda row: row.line.capacity),
        text("looked_at", "areas or tasks", lambda row: row.line.looked_at),
        text("said", "what was said", lambda row: row.line.said),
        text("found", "defects found", lambda row: tuple(line.snag for line in row.line.found)),
        text("sheet", "the paper that was filled in", lambda row: row.line.sheet),
        text("result", "how it ended", lambda row: row.line.result),
    )
    rows = entries(ledger, lambda note: note.visits)
    return sheet_of_entries("visits", "Visits and inspections.", columns, rows)


def snags(ledger: Ledger) -> Sheet:
    """What was found wrong, and how and by whom it was put right."""
    columns: tuple[Column[Snag], ...] = (
        text("no", "its number", lambda row: row.number),
        text("date", "day it was found", lambda row: row.day),
        text("snag", "what is wrong", lambda row: row.line.snag),
        text("area", "where, if the note names an area", lambda row: row.line.area),
        text("task", "where, if the note names a task", lambda row: row.line.task),
        text("state", "open or fixed", lambda row: "fixed" if row.fixed else "open"),
        text("fixed_on", "day it was put right", lambda row: row.fixed_on),
        text("how", "how it was put right", lambda row: row.fixed.how if row.fixed else None),
        text("by", "by whom", lambda row: row.fixed.by if row.fixed else None),
        text("witness", "who saw it", lambda row: row.fixed.witness if row.fixed else None),
        text("note", "the note that tells it", lambda row: row.note),
        text("fixed_in", "the note that tells the fix", lambda row: row.fixed_in),
    )
    return sheet("snags", "Things found wrong, and put right.", columns, ledger.snags)


def torqued(ledger: Ledger) -> Sheet:
    """Fasteners brought to torque, every value as the builder wrote it."""
    columns: tuple[Column[InNote[Torqued]], ...] = (
        text("where", "which joint", lambda row: row.line.where),
        text("bolt", "which bolt", lambda row: row.line.bolt),
        text("nut", "tension, shear or other", lambda row: row.line.nut),
        text("threads", "dry or oiled", lambda row: row.line.threads),
        number("count", "how many", lambda row: row.line.count),
        text("to", "the value wanted, without drag", lambda row: row.line.wanted),
        text("drag", "the nut's own drag", lambda row: row.line.drag),
        text("set", "what the wrench showed", lambda row: row.line.set_to),
        text("extension", "adapter on the wrench", lambda row: row.line.extension),
        text("source", "where the value comes from", lambda row: row.line.source),
        text("wrench", "which wrench; see wrenches.csv", lambda row: row.line.wrench),
        text("marked", "yes: the mark was applied", lambda row: row.line.marked),
        text("safetied", "cotter, wire or locknut", lambda row: row.line.safetied),
        text("by", "by whom", lambda row: row.line.by),
        text("witness", "the second pair of eyes", lambda row: row.line.witness),
    )
    rows = entries(ledger, lambda note: note.torqued)
    return sheet_of_entries("torqued", "Fasteners brought to torque.", columns, rows)


def measured(ledger: Ledger) -> Sheet:
    """Measurements and the limits they were held against, as written."""
    columns: tuple[Column[InNote[Measured]], ...] = (
        text("what", "what was measured", lambda row: row.line.what),
        text("value", "the value", lambda row: row.line.value),
        text("limit", "the limit it was held against", lambda row: row.line.limit),
    )
    rows = entries(ledger, lambda note: note.measured)
    return sheet_of_entries("measured", "Measurements with their limits.", columns, rows)


def processes(ledger: Ledger) -> Sheet:
    """Glue, resin, fabric, primer and heat."""
    columns: tuple[Column[InNote[Process]], ...] = (
        text("what", "which material or process", lambda row: row.line.what),
        text("batch", "batch number", lambda row: row.line.batch),
        text("expires", "last day of use", lambda row: row.line.expires),
        text("mix", "mixing ratio", lambda row: row.line.mix),
        text("coat", "which coat", lambda row: row.line.coat),
        text("temperature", "in the shop", lambda row: row.line.temperature),
        text("humidity", "in the shop", lambda row: row.line.humidity),
        text("sample", "the sample that was kept", lambda row: row.line.sample),
    )
    rows = entries(ledger, lambda note: note.process)
    return sheet_of_entries("process", "Glue, resin, fabric, primer, heat.", columns, rows)


def methods(ledger: Ledger) -> Sheet:
    """Which drawing or manual page each piece of work followed."""
    columns: tuple[Column[InNote[TaskLine]], ...] = (
        text("task", "the task", lambda row: row.line.task),
        text("per", "drawing or manual page followed", lambda row: row.line.per),
    )
    rows = entries(ledger, lambda note: (line for line in note.tasks if line.per))
    return sheet_of_entries("methods", "The drawings and manuals followed.", columns, rows)


def decisions(ledger: Ledger) -> Sheet:
    """Decisions with their reasons."""
    columns: tuple[Column[InNote[Decided]], ...] = (
        text("what", "what was decided", lambda row: row.line.what),
        text("why", "the reason", lambda row: row.line.why),
        text("instead_of", "what was not done", lambda row: row.line.instead_of),
        text("again", "when to look at it again", lambda row: row.line.again),
    )
    rows = entries(ledger, lambda note: note.decided)
    return sheet_of_entries("decisions", "Decisions and their reasons.", columns, rows)


def bulletins(ledger: Ledger) -> Sheet:
    """Bulletins of makers and authorities."""
    columns: tuple[Column[InNote[Bulletin]], ...] = (
        text("no", "its number", lambda row: row.line.number),
        text("applies", "yes or no", lambda row: row.line.applies),
        text("done", "what was done", lambda row: row.line.done),
    )
    rows = entries(ledger, lambda note: note.bulletins)
    return sheet_of_entries("bulletins", "Makers' and authorities' bulletins.", columns, rows)


@dataclass(frozen=True, slots=True)
class _Closing:
    what: Word
    closed: bool


def closings(ledger: Ledger) -> Sheet:
    """What can no longer be seen, and what was opened again."""
    columns: tuple[Column[InNote[_Closing]], ...] = (
        text("what", "area or task", lambda row: row.line.what),
        text("state", "closed: from now on not to be seen", _closed_or_opened),
    )
    title = "Areas and tasks closed up, or opened again."
    return sheet_of_entries("closings", title, columns, entries(ledger, _closings))


def _closings(note: Note) -> Iterator[_Closing]:
    yield from (_Closing(word, closed=True) for word in note.closes)
    yield from (_Closing(word, closed=False) for word in note.opens)


def _closed_or_opened(row: InNote[_Closing]) -> str:
    return "closed" if row.line.closed else "opened"
