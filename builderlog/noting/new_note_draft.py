"""The draft of a note for an editor: what is known stands ready, and vanishes where left alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from builderlog.deciding.tonight import PartExpected, SnagOpen, TaskBefore, Tonight
from builderlog.deciding.words import clipped
from builderlog.noting.new_note import (
    NewEntry,
    NewNote,
    NewPhoto,
    NewTask,
    flow_of,
    hours_words,
    in_line,
    in_row,
    prose_text,
)

WIDTH = 80  # columns of a terminal
ROWS = 6  # of one kind that are offered
SHORTEST_HINT = 12  # columns; a shorter one says nothing
OFF = "# "  # before a row that does not count yet
HINT = "  # "  # before what a row is, behind it
HEAD = "# Lines with # vanish if left alone. Take the # away, and they count."


def draft_text(note: NewNote, known: Tonight) -> str:
    """The whole file: what `note` says, and beside it what is known for tonight as comments."""
    lines = (HEAD, *_front(note, known))
    return "".join(f"{line}\n" for line in ("---", *lines, "---")) + (prose_text(note.text) or "\n")


def first_line(text: str) -> int:
    """The line from which the builder writes on, counted from 1: the first key left empty."""
    lines = text.split("\n")
    empty = (number for number, line in enumerate(lines, start=1) if line.rstrip().endswith(":"))
    return next(empty, len(lines))


def _front(note: NewNote, known: Tonight) -> Iterator[str]:
    yield f"date: {note.day}"
    yield f"title: {in_line(note.title) if note.title else ''}"
    yield from _hours(note, known)
    yield from _section("tasks", note.tasks, map(_task, _others(known.tasks, note.tasks)))
    if note.parts or known.parts:
        yield from _section("parts", note.parts, map(_part, known.parts))
    if note.photos:
        yield from _section("photos", note.photos, ())
    yield from _section("snags", note.snags, ())
    if known.snags:
        yield from _section("fixed", (), map(_snag, known.snags))
    if note.closes:
        yield f"closes: [{', '.join(map(in_row, note.closes))}]"
    yield "next:" if note.next_steps else "next: "
    yield from (f"  - {in_line(step)}" for step in note.next_steps)
    yield from _offered([(in_line(step), "") for step in known.next_steps])
    yield from (f"{key}: {value}" for key, value in _last_keys(note) if value)


def _last_keys(note: NewNote) -> tuple[tuple[str, str], ...]:
    return ("written", str(note.written or "")), ("private", note.private)


def _hours(note: NewNote, known: Tonight) -> Iterator[str]:
    """The builder's, or by name as the people of the last session would have it."""
    yield f"hours: {hours_words(note.hours) if note.hours else ''}"
    if len(known.people) > 1 and not note.hours:
        names = ", ".join(f"{in_row(name)}: " for name in known.people)
        yield f"{OFF}hours: {{{names}}}"


def _section(
    key: str, written: Sequence[NewEntry], offered: Iterable[tuple[str, str]]
) -> Iterator[str]:
    """A key with its rows, those that do not count yet below."""
    yield f"{key}:" if written else f"{key}: "
    for entry in written:
        yield from _photo(entry) if isinstance(entry, NewPhoto) else (f"  - {flow_of(entry)}",)
    yield from _offered([*offered])


def _offered(rows: Sequence[tuple[str, str]]) -> Iterator[str]:
    """Rows that do not count yet, with what each of them is."""
    for row, hint in rows[:ROWS]:
        line = f"  {OFF}- {row}"
        room = WIDTH - len(line) - len(HINT)
        yield f"{line}{HINT}{clipped(hint, room)}" if hint and room >= SHORTEST_HINT else line
    if len(rows) > ROWS:
        yield f"  {OFF}and {len(rows) - ROWS} more: builderlog check --open"


def _others(known: Iterable[TaskBefore], written: Sequence[NewTask]) -> list[TaskBefore]:
    named = {task.task for task in written}
    return [task for task in known if task.task not in named]


def _task(task: TaskBefore) -> tuple[str, str]:
    pairs = (("work", task.work), ("per", task.per))
    more = "".join(f", {key}: {in_row(value)}" for key, value in pairs if value)
    return f"{{task: {in_row(task.task)}, hours: {more}}}", task.name


def _part(part: PartExpected) -> tuple[str, str]:
    ref = f", ref: {in_row(part.ref)}" if part.ref else ""
    due = f", due {part.due}" if part.due else ""
    hint = f"{part.status}{due}{', late' if part.late else ''}"
    return f"{{part: {in_row(part.part)}{ref}, status: received}}", hint


def _snag(snag: SnagOpen) -> tuple[str, str]:
    return f"{{no: {in_row(snag.number)}, how: }}", snag.snag


def _photo(photo: NewPhoto) -> Iterator[str]:
    """A picture with room for what it shows, a line each, so that a comma needs no quotes."""
    yield f"  - photo: {in_line(photo.photo)}"
    yield f"    caption: {in_line(photo.caption) if photo.caption else ''}"
    yield f"    shows: [{', '.join(map(in_row, photo.shows))}]"
    yield f"    seen: [{', '.join(map(in_row, photo.seen))}]"
    yield from (
        f"    {key}"
        for key, said in (("private: yes", photo.private), ("as: page", photo.page))
        if said
    )
