"""The inspector's view of the journal: all of it, except that `hours only` notes hold but the time.

A view is a folder overlaid, so that everything made of it (tables, the bag, its verification) is
made of the same files; nothing is written here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count

from builderlog.deciding.sealing_kept import time_only_stem
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.files import Finder
from builderlog.knowing.hours import length_text
from builderlog.knowing.journal import JOURNAL_FILE, NOTE_ENDINGS, NOTES_FOLDER, WORKLIST_FILE
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.note_files import files_of, named_files
from builderlog.knowing.seals import newest_seals
from builderlog.knowing.settings import Settings
from builderlog.reading.folder import Folder, folded

# All that lies here goes along, named in a note or not.
WHOLE_FOLDERS = ("photos/", "receipts/", "seals/")


def inspector_view(folder: Folder, ledger: Ledger) -> Folder:
    """The folder as the inspector gets it; `ledger` is what was read from `folder`.

    A file below notes/ that could not be read as a note with a day does not go along.
    """
    hidden = [note for note in ledger.notes if note.privacy is Privacy.HOURS_ONLY]
    kept = _kept_paths(folder, ledger, {note.path for note in hidden})
    return folder.overlaid(set(folder.paths) - kept, _stubs(folder, ledger, hidden))


def _kept_paths(folder: Folder, ledger: Ledger, hidden: set[str]) -> set[str]:
    """What goes along as it is: open notes, what they or journal.yaml name, and whole folders."""
    finder = Finder(folder.paths, folder.outside)
    told, secret = set(_settings_files(ledger.settings, finder)), set[str]()
    for note in ledger.notes:
        (secret if note.path in hidden else told).update(files_of(note, finder))
    whole = {path for path in folder.paths if path.startswith(WHOLE_FOLDERS)} | _sealed(ledger)
    notes = {note.path for note in ledger.notes}
    own = {JOURNAL_FILE, WORKLIST_FILE} & set(folder.paths)
    linked = {path for path in told if not _is_note(path)}
    return own | (notes - hidden) | linked | (whole - (secret - told))


def _sealed(ledger: Ledger) -> set[str]:
    """What seals list and is there, so that they can be checked; open notes go anyway."""
    listed = {one.path for seal in newest_seals(ledger.seals).values() for one in seal.files}
    return {path for path in listed & ledger.files if not _is_note(path)}


def _is_note(path: str) -> bool:
    """A note that another one links goes along for its own sake or not at all."""
    return path.startswith(NOTES_FOLDER) and path.lower().endswith(NOTE_ENDINGS)


def _settings_files(settings: Settings, finder: Finder) -> Iterator[str]:
    evaluated = settings.kit_evaluated.file if settings.kit_evaluated else None
    words = [evaluated, *(paper.file for paper in settings.papers)]
    yield from named_files(finder, [word.text for word in words if word])


def _stubs(folder: Folder, ledger: Ledger, hidden: Sequence[Note]) -> dict[str, bytes]:
    """For each hidden note a note that holds its time, under a name that says nothing."""
    taken = {folded(path) for path in folder.paths}
    rows: dict[str, list[Worked]] = {note.path: [] for note in hidden}
    for row in ledger.work:
        if row.note in rows:
            rows[row.note].append(row)
    stubs: dict[str, bytes] = {}
    for note in hidden:
        path = _neutral_path(note, taken)
        taken.add(folded(path))
        stubs[path] = stub_of(note, rows[note.path])
    return stubs


def _neutral_path(note: Note, taken: set[str]) -> str:
    """`notes/2026-03-14-time-only.md`, or the first of `-2`, `-3` … that is free."""
    stem = time_only_stem(note)
    names = (f"{stem}.md" if number == 1 else f"{stem}-{number}.md" for number in count(1))
    return next(name for name in names if folded(name) not in taken)


def stub_of(note: Note, rows: Sequence[Worked]) -> bytes:
    """A note with the same work as `rows`, exact to the second, and nothing else of `note`."""
    hours: dict[str, int] = {}
    for row in rows:
        hours[row.person] = hours.get(row.person, 0) + row.seconds
    people = [f"{quoted(name)}: {length_text(seconds)}" for name, seconds in hours.items()]
    lines = [
        "---",
        f"date: {note.day}",
        *([f"hours: {{{', '.join(people)}}}"] if people else []),
        *_task_lines([row for row in rows if row.task is not None]),
        f"private: {Privacy.HOURS_ONLY.value}",
        "---",
    ]
    return "".join(f"{line}\n" for line in lines).encode("utf-8")


def _task_lines(rows: Sequence[Worked]) -> list[str]:
    entries = [
        f"  - {{task: {quoted(row.task or '')}, hours: {length_text(row.seconds)},"
        f" who: {quoted(row.person)}, work: {row.work.value}}}"
        for row in rows
    ]
    return ["tasks:", *entries] if entries else []


def quoted(text: str) -> str:
    """The text as a YAML 1.1 double-quoted word on one line, whatever characters it holds."""
    return '"' + "".join(_escaped(sign) for sign in text) + '"'


def _escaped(sign: str) -> str:
    if sign in '"\\':
        return "\\" + sign
    if sign == " " or sign.isprintable():
        return sign
    return f"\\U{ord(sign):08x}"
