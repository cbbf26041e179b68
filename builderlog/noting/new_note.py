"""A new note in the builder's words: its record, and the text and the path under which it is kept.

Nothing is checked here: what is said is written as it was said, in quotes where YAML would take
it for something else, and read like any other note.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from unicodedata import normalize

from builderlog.reading.folder import folded
from builderlog.reading.quoting import in_braces
from builderlog.reading.source import without_controls

WIDEST = 80  # columns that a list in one line may take
LONGEST_NAME = 60  # characters of the title in a file's name


@dataclass(frozen=True, slots=True)
class NewTask:
    """One entry of `tasks`."""

    task: str
    hours: str = ""
    who: tuple[str, ...] = ()
    work: str = ""
    per: str = ""


@dataclass(frozen=True, slots=True)
class NewPhoto:
    """One entry of `photos`; `photo` is the path from the journal's folder."""

    photo: str
    shows: tuple[str, ...] = ()
    seen: tuple[str, ...] = ()
    caption: str = ""
    page: bool = False
    private: bool = False


@dataclass(frozen=True, slots=True)
class NewPart:
    """One entry of `parts`; `source` is its `from`, `task` its `for`."""

    part: str
    count: str = ""
    cost: str = ""
    source: str = ""
    status: str = ""
    due: str = ""
    ref: str = ""
    task: str = ""
    receipt: str = ""


@dataclass(frozen=True, slots=True)
class NewSnag:
    """One entry of `snags`; its number is given later, when it stands in the file."""

    snag: str
    area: str = ""
    task: str = ""


@dataclass(frozen=True, slots=True)
class NewFixed:
    """One entry of `fixed`: the number of a snag put right, and how."""

    number: str
    how: str = ""


NewEntry = NewTask | NewPhoto | NewPart | NewSnag | NewFixed


@dataclass(frozen=True, slots=True)
class NewNote:
    """What a note is to say. Of `hours`, the person "" is the journal's builder, and stands alone.

    A person may stand there several times, with one span of the clock each.
    """

    day: date
    title: str = ""
    hours: tuple[tuple[str, str], ...] = ()
    tasks: tuple[NewTask, ...] = ()
    photos: tuple[NewPhoto, ...] = ()
    parts: tuple[NewPart, ...] = ()
    snags: tuple[NewSnag, ...] = ()
    text: str = ""
    next_steps: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()
    written: date | None = None
    private: str = ""
    comments: tuple[str, ...] = ()
    fixed: tuple[NewFixed, ...] = ()


def note_text(note: NewNote) -> str:
    """The whole file: front matter in the vocabulary's order, then the text.

    Line ends within a word become blanks, in the text they are those of Unix; invisible signs
    that no file of YAML may hold are left out.
    """
    return f"---\n{''.join(front_lines(note))}---\n{prose_text(note.text)}"


def front_lines(note: NewNote) -> Iterator[str]:
    """The lines between the fences, with their line ends."""
    yield f"date: {note.day}\n"
    if note.title:
        yield f"title: {in_line(note.title)}\n"
    if note.hours:
        yield f"hours: {hours_words(note.hours)}\n"
    yield from _rows("tasks", note.tasks)
    yield from _rows("parts", note.parts)
    yield from _rows("photos", note.photos)
    yield from _rows("snags", note.snags)
    yield from _rows("fixed", note.fixed)
    if note.closes:
        yield f"closes: {_list(note.closes)}\n"
    yield from _next(note.next_steps)
    if note.written:
        yield f"written: {note.written}\n"
    if note.private:
        yield f"private: {in_line(note.private)}\n"
    yield from (f"# {_one_line(comment)}\n" for comment in note.comments)


def _next(steps: Sequence[str]) -> Iterator[str]:
    if len(steps) == 1:
        yield f"next: {in_line(steps[0])}\n"
    elif steps:
        yield "next:\n"
        yield from (f"  - {in_line(step)}\n" for step in steps)


def _rows(key: str, entries: Sequence[NewEntry]) -> Iterator[str]:
    """A list: in one line where all are bare words and short, else one entry a line."""
    rows = [flow_of(entry) for entry in entries]
    line = f"{key}: [{', '.join(rows)}]"
    if rows and len(line) <= WIDEST and not any(row.startswith("{") for row in rows):
        yield f"{line}\n"
    elif rows:
        yield f"{key}:\n"
        yield from (f"  - {row}\n" for row in rows)


def flow_of(entry: NewEntry) -> str:
    """`{photo: …, shows: [W14]}`, or a bare word where that says it all."""
    pairs = [(key, written) for key, written in _pairs(entry) if written]
    if len(pairs) == 1:
        return pairs[0][1]
    return f"{{{', '.join(f'{key}: {written}' for key, written in pairs)}}}"


def _pairs(entry: NewEntry) -> tuple[tuple[str, str], ...]:
    """The keys of an entry with what is written behind them; the bare word's key first."""
    if isinstance(entry, NewTask):
        return (
            *(("task", in_row(entry.task)), ("hours", _said(entry.hours) and in_time(entry.hours))),
            *(("who", _few(entry.who)), ("work", _said(entry.work)), ("per", _said(entry.per))),
        )
    if isinstance(entry, NewPhoto):
        return (
            *(("photo", in_row(entry.photo)), ("shows", _list(entry.shows))),
            *(("seen", _list(entry.seen)), ("caption", _said(entry.caption))),
            *(("private", "yes" * entry.private), ("as", "page" * entry.page)),
        )
    if isinstance(entry, NewPart):
        return (
            *(("part", in_row(entry.part)), ("count", _said(entry.count))),
            *(("cost", _said(entry.cost)), ("from", _said(entry.source))),
            *(("status", _said(entry.status)), ("due", _said(entry.due))),
            *(("ref", _said(entry.ref)), ("for", _said(entry.task))),
            ("receipt", _said(entry.receipt)),
        )
    if isinstance(entry, NewFixed):
        return (("no", in_row(entry.number)), ("how", _said(entry.how)))
    area, task = _said(entry.area), _said(entry.task)
    return (("snag", in_row(entry.snag)), ("area", area), ("task", task))


def _few(words: Sequence[str]) -> str:
    """One word bare, more of them in brackets."""
    return in_row(words[0]) if len(words) == 1 else _list(words)


def _list(words: Sequence[str]) -> str:
    return f"[{', '.join(map(in_row, words))}]" if words else ""


def hours_words(hours: Sequence[tuple[str, str]]) -> str:
    """`3h15` of the builder, or `{Ines: 3h15}`; several spans of one person in brackets."""
    by_person: dict[str, list[str]] = {}
    for person, length in hours:
        by_person.setdefault(person, []).append(in_time(length))
    written = {
        person: times[0] if len(times) == 1 else f"[{', '.join(times)}]"
        for person, times in by_person.items()
    }
    if set(written) == {""}:
        return written[""]
    if "" in written:
        raise ValueError("hours of nobody stand beside hours of somebody: name the builder")
    return f"{{{', '.join(f'{in_row(name)}: {times}' for name, times in written.items())}}}"


_TIME = re.compile(r"\d{1,6}(?:[.:h]\d{1,9})?[hm]?(?:[-\u2013]\d{1,2}[.:]\d{2})?")
_PLAIN_IN_LINE = re.compile(r"[^\W_](?:[\w .,;!?+/()'\u2018\u2019\u2013\u2014&=%-]*[\w.!?)%])?")
_LINE_ENDS = re.compile(r"\s*[\r\n\x0b\x0c\x85\u2028\u2029]\s*")


def in_time(text: str) -> str:
    """A length of time, or a span of the clock, as it can stand anywhere."""
    word = _one_line(text)
    return word if _TIME.fullmatch(word) else in_row(word)


def in_row(text: str) -> str:
    """A text as it can stand in braces, brackets or behind a dash."""
    return in_braces(_one_line(text))


def in_line(text: str) -> str:
    """A text as it can stand alone behind a key or a dash."""
    word = _one_line(text)
    return word if _PLAIN_IN_LINE.fullmatch(word) else in_row(word)


def _said(text: str) -> str:
    """The text as it stands in a row, or nothing where nothing was said."""
    return in_row(text) if text.strip() else ""


def _one_line(text: str) -> str:
    return _LINE_ENDS.sub(" ", _visible(text)).strip()


def _visible(text: str) -> str:
    """The text without the invisible signs that no YAML file may hold."""
    marked = without_controls(text.encode("utf-8", "replace").decode())
    if marked == text:
        return text
    return "".join(sign for sign, mark in zip(text, marked, strict=True) if sign == mark)


def prose_text(text: str) -> str:
    """The text with one line end at its end, and none of other systems."""
    written = _visible(text).replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    return f"{written.rstrip()}\n" if written.strip() else ""


def note_path(day: date, title: str, taken: Iterable[str]) -> str:
    """Where a note of that day is kept: `notes/2026/2026-03-14-aileron-skins.md`.

    `-2` and so on where that is among `taken`, compared as a file system does that knows neither
    case nor Unicode form.
    """
    names = {folded(path) for path in taken}
    head = f"notes/{day.year:04}/{day}{_name_of(title)}"
    path, number = f"{head}.md", 1
    while folded(path) in names:
        number += 1
        path = f"{head}-{number}.md"
    return path


def _name_of(title: str) -> str:
    """The title's letters and digits, `-aileron-skins`, cut between words; or nothing."""
    words = re.findall(r"[^\W_]+", normalize("NFC", title).lower())
    name = ""
    for word in words:
        if len(name) + len(word) >= LONGEST_NAME:
            break
        name += f"-{word}"
    return name or "".join(f"-{word[: LONGEST_NAME - 1]}" for word in words[:1])
