"""Reads a whole journal: its folder to the ledger, with all its problems, both always.

The steps are those of the house: raw words, settings, work list, notes, then what follows from
all notes together. Nothing here judges; `deciding.checks` does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from builderlog.knowing.entries import Note
from builderlog.knowing.files import Finder, NotFoundError, is_picture
from builderlog.knowing.hours import apportion
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture, Worked
from builderlog.knowing.letters import read_letters
from builderlog.knowing.notes import note_of
from builderlog.knowing.parts import follow_parts
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.rulebooks import find_rulebook
from builderlog.knowing.seals import Seal, in_chain_order, newest_seals
from builderlog.knowing.seals_digests import sealed_digests
from builderlog.knowing.seals_file import digest_of, read_seals
from builderlog.knowing.settings import Settings, Worklist
from builderlog.knowing.settings_words import settings_of
from builderlog.knowing.snags import number_snags
from builderlog.knowing.worklist_words import worklist_of
from builderlog.reading.folder import Folder
from builderlog.reading.front_matter import as_table, read_note
from builderlog.reading.photo_file import PhotoFile
from builderlog.reading.problem import Place, Problem, doubt, mistake
from builderlog.reading.source import BYTE_ORDER_MARK, source_of
from builderlog.reading.words import Table
from builderlog.reading.yaml_words import read_yaml
from builderlog.storing.cache import Store
from builderlog.storing.photo_facts import read_all
from builderlog.storing.prose_kept import keep_prose, recall_prose

JOURNAL_FILE = "journal.yaml"
WORKLIST_FILE = "worklist.yaml"
NOTES_FOLDER = "notes/"
NOTE_ENDINGS = (".md", ".markdown")
NOT_KEPT = "cache-not-kept"

Progress = Callable[[int, int], None]  # done, of how many
# By path, SHA-256 and the journal's currency: what a note says, and what was told of it.
NoteMemory = dict[tuple[str, str, str | None], tuple[Note, tuple[Problem, ...]]]


def read_journal(
    folder: Folder,
    cache: Path | None = None,
    progress: Progress | None = None,
    known: Mapping[str, PhotoFile] | None = None,
    memory: NoteMemory | None = None,
) -> Ledger:
    """The ledger of a folder. `cache` keeps facts of pictures and of words (None: nothing does).

    `known` are facts of pictures, by path, that were read just now and are not read again.
    `memory` is filled with what each note says, and spares reading one with the same bytes again;
    once something is in it, this process has the facts of words too.
    """
    known = known or {}
    if cache is None or memory:
        return _read_all(folder, cache, progress, known, memory)
    store = Store(cache)
    recalled = recall_prose(store)
    ledger = _read_all(folder, cache, progress, known, memory)
    prose = (*(note.prose for note in ledger.notes), *(each.prose for each in ledger.letters))
    keep_prose(store, [each.text for each in prose], recalled)
    told = {problem.code for problem in ledger.problems}
    if store.trouble is None or NOT_KEPT in told:
        return ledger
    return replace(ledger, problems=(*ledger.problems, _not_kept("words", store.trouble)))


def _read_all(
    folder: Folder,
    cache: Path | None,
    progress: Progress | None,
    known: Mapping[str, PhotoFile],
    memory: NoteMemory | None,
) -> Ledger:
    settings, told = _settings(folder)
    rulebook, told_rulebook = _rulebook(settings)
    worklist, told_tasks = _worklist(folder)
    notes, note_digests, told_notes = _notes(folder, settings.currency, memory)
    found_seals, told_seals = read_seals(folder)
    seals = in_chain_order(found_seals)
    work, told_hours = _work(notes, settings, worklist, seals)
    snags, told_snags = number_snags(notes)
    pictures, told_cache = _pictures(folder, notes, cache, progress, known)
    files = {**known, **{one.path: one.file for one in pictures}}
    here = frozenset(folder.paths)
    seen = {path: file.digest for path, file in files.items() if file.digest and path in here}
    digests, told_digests = sealed_digests(folder, seals, notes, {**seen, **note_digests})
    letters, told_letters = read_letters(folder)
    return Ledger(
        settings=settings,
        worklist=worklist,
        notes=notes,
        work=work,
        parts=follow_parts(notes),
        snags=snags,
        pictures=pictures,
        files=frozenset(folder.paths),
        rulebook=rulebook,
        outside=folder.outside,
        problems=(
            *(*folder.problems, *told, *told_rulebook, *told_tasks, *told_notes, *told_hours),
            *(*told_snags, *told_cache, *told_seals, *told_digests, *told_letters),
        ),
        record_date=_record_date(notes, seals),
        seals=seals,
        digests=digests,
        letters=letters,
    )


def _table_of(folder: Folder, path: str) -> tuple[Table | None, tuple[Problem, ...]]:
    source, problems = source_of(path, folder.read(path))
    begin = len(BYTE_ORDER_MARK) if source.text.startswith(BYTE_ORDER_MARK) else 0
    root, told = read_yaml(source, begin, len(source.text))
    table, more = as_table(root)
    return table, (*problems, *told, *more)


def _settings(folder: Folder) -> tuple[Settings, tuple[Problem, ...]]:
    place = Place(JOURNAL_FILE)
    if JOURNAL_FILE not in folder.paths:
        told = "there is no journal.yaml; write one with title, builder and people"
        return Settings("", None), (mistake(place, "no-journal", told),)
    table, problems = _table_of(folder, JOURNAL_FILE)
    settings, told_settings = settings_of(table, place)
    return settings, (*problems, *told_settings)


def _rulebook(settings: Settings) -> tuple[Rulebook | None, tuple[Problem, ...]]:
    if settings.rulebook is None:
        return None, ()
    return find_rulebook(settings.rulebook, settings.own_rulebook, settings.citation)


def _worklist(folder: Folder) -> tuple[Worklist, tuple[Problem, ...]]:
    if WORKLIST_FILE not in folder.paths:
        return Worklist(), ()
    table, problems = _table_of(folder, WORKLIST_FILE)
    if table is None and not problems:
        told_empty = (
            "the work list is empty, so every task id is free text; write areas, or delete it"
        )
        problems = (doubt(Place(WORKLIST_FILE), "worklist-empty", told_empty),)
    worklist, told = worklist_of(table, Place(WORKLIST_FILE))
    return worklist, (*problems, *told)


def _notes(
    folder: Folder, currency: str | None, memory: NoteMemory | None
) -> tuple[tuple[Note, ...], dict[str, str], tuple[Problem, ...]]:
    """All notes that have a day, in order of day and path; the SHA-256 of each file of notes."""
    notes: list[Note] = []
    digests: dict[str, str] = {}
    problems = [*_unread_links(folder)]
    for path in folder.paths:
        if not path.startswith(NOTES_FOLDER):
            continue
        if not path.lower().endswith(NOTE_ENDINGS):
            problems.extend(_no_note(path))
            continue
        data = folder.read(path)
        digests[path] = digest_of(data)
        key = (path, digests[path], currency)
        note, told = (memory or {}).get(key) or _read(path, data, currency)
        if memory is not None:
            memory[key] = (note, told)
        notes.append(note)
        problems.extend(told)
    dated = sorted((note for note in notes if note.day), key=lambda note: note.order)
    return tuple(dated), digests, tuple(problems)


def _read(path: str, data: bytes, currency: str | None) -> tuple[Note, tuple[Problem, ...]]:
    raw, told = read_note(path, data)
    note, told_note = note_of(raw, currency)
    return note, (*told, *told_note)


def _unread_links(folder: Folder) -> Iterable[Problem]:
    """A link in place of notes, settings or work list that leads out of the journal."""
    for path in sorted(folder.outside):
        if f"{path}/".startswith(NOTES_FOLDER) or path in {JOURNAL_FILE, WORKLIST_FILE}:
            told = "this is a link to a place outside the journal, or to a folder, and is not read"
            yield mistake(Place(path), "outside", f"{told}; put the file itself here")


def _no_note(path: str) -> tuple[Problem, ...]:
    if is_picture(path) or path.lower().endswith(".pdf"):
        return ()
    told = "this file lies among the notes but is not read as one; a note's name ends in .md"
    return (doubt(Place(path), "not-a-note", told),)


def _work(
    notes: Iterable[Note], settings: Settings, worklist: Worklist, seals: Iterable[Seal]
) -> tuple[tuple[Worked, ...], tuple[Problem, ...]]:
    sealed = {month: seal.role_of for month, seal in newest_seals(seals).items()}
    work: list[Worked] = []
    problems: list[Problem] = []
    for note in notes:
        given, told = apportion(note, settings, worklist, sealed.get(f"{note.day}"[:7]))
        work.extend(given)
        problems.extend(told)
    return tuple(work), tuple(problems)


def _record_date(notes: Iterable[Note], seals: Iterable[Seal]) -> date | None:
    days = [day for note in notes for day in (note.day, note.written and note.written.day) if day]
    return max([*days, *(seal.sealed_on for seal in seals)], default=None)


def _pictures(
    folder: Folder,
    notes: tuple[Note, ...],
    cache: Path | None,
    progress: Progress | None,
    known: Mapping[str, PhotoFile],
) -> tuple[tuple[Picture, ...], tuple[Problem, ...]]:
    """Every picture that a note names or links, with its facts, in order of path."""
    finder = Finder(folder.paths, folder.outside)
    uses: dict[str, list[PhotoUse]] = {}
    linked: dict[str, list[str]] = {}
    for note in notes:
        for path, use in _uses_of(note, finder):
            uses.setdefault(path, []).append(use)
        for path in _linked_by(note, finder):
            linked.setdefault(path, []).append(note.path)
    paths = sorted({*uses, *linked})
    unread = [path for path in paths if path not in known]
    facts, told = _facts(folder, unread, cache, progress)
    facts = {**known, **facts}
    pictures = tuple(
        Picture(path, facts[path], tuple(uses.get(path, ())), tuple(linked.get(path, ())))
        for path in paths
    )
    return pictures, told


def _uses_of(note: Note, finder: Finder) -> Iterable[tuple[str, PhotoUse]]:
    for line in note.photos:
        try:
            path = finder.named(line.photo.text)
        except NotFoundError:
            continue  # told in the checks, with the line's place
        assert note.day is not None  # noqa: S101
        yield (
            path,
            PhotoUse(
                note=note.path,
                day=note.day,
                shows=tuple(word.text for word in line.shows),
                seen=tuple(word.text for word in line.seen),
                caption=line.caption.text if line.caption else None,
                private=line.private,
                page=line.page,
            ),
        )


def _linked_by(note: Note, finder: Finder) -> Iterable[str]:
    for link in note.prose.links:
        try:
            path = finder.linked(note.path, link.target)
        except NotFoundError:
            continue  # told in the checks
        if is_picture(path):
            yield path


def _facts(
    folder: Folder, paths: list[str], cache: Path | None, progress: Progress | None
) -> tuple[dict[str, PhotoFile], tuple[Problem, ...]]:
    done = 0

    def advance(more: int) -> None:
        nonlocal done
        done += more
        if progress:
            progress(done, len(paths))

    read = read_all([(path, folder.where(path)) for path in paths], cache, advance)
    if read.trouble is None:
        return dict(read.photos), ()
    return dict(read.photos), (_not_kept("pictures", read.trouble),)


def _not_kept(what: str, trouble: str) -> Problem:
    told = f"what was read of the {what} cannot be kept for the next time: {trouble}"
    return doubt(Place(".builderlog"), NOT_KEPT, told)
