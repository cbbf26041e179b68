"""From A to Z: each task by the words of its name, each person by their tasks.

Short enough to be searched on paper: who did it and who looked at it stand beside each task.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from builderlog.deciding.task_record import TaskRecord
from builderlog.deciding.words import duration_clock
from builderlog.knowing.settings import Role
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section, anchor
from builderlog.sheets.chapter_tasks import NOBODY
from builderlog.sheets.evidence_people import ROLE_WORDS, People, people_of
from builderlog.sheets.material import Material
from builderlog.sheets.places import titled
from builderlog.sheets.record_evidence import is_begun

CHAPTER = "a-to-z"
# Words by which nobody looks a task up.
SMALL_WORDS = frozenset(
    "about above after along and are as at before behind between both by each for from in into "
    "it its more of off on onto one or other out over set that the their them then these they this "
    "to together two under up with within without".split()
)
_WORD = re.compile(r"[^\W_]+(?:[-'\u2019][^\W_]+)*")
BY_WORD = (
    Column("Word"),
    Column("Task", share=5),
    Column("Who worked on it", share=5),
    Column("Who looked at it", share=3),
)
BY_PERSON = (
    Column("Person", share=3),
    Column("Task", share=5),
    Column("Time", number=True),
    Column("When", share=3),
)
LEAD = "Look up any word of a task's name: who worked on it and who looked at it stand beside it."
NOT_BEGUN = Cell("not begun", weak=True)


def index(material: Material) -> Iterator[Chapter]:
    """Left out where there is no task."""
    people, records = people_of(material.ledger), material.found.records
    if not records:
        return
    words = Rows("Tasks by the words of their names", BY_WORD, tuple(_words(records, people)))
    rows = tuple(_people(records, people))
    worked = Rows("People by their tasks", BY_PERSON, rows, empty="No time is on record.")
    blocks: tuple[Block, ...] = (
        Paragraph(LEAD, kind="lead"),
        Section("a-to-z-words", "Tasks by word", (words,)),
        Section("a-to-z-people", "People who worked on tasks", (worked,)),
        *_lookers(records, people),
    )
    yield Chapter(CHAPTER, "Tasks and people from A to Z", blocks)


def sort_key(words: str) -> tuple[str, str]:
    """Alphabet without accents and case, then as written, so that the order is one everywhere."""
    plain = unicodedata.normalize("NFKD", words.casefold())
    return "".join(sign for sign in plain if not unicodedata.combining(sign)), words


def index_words(name: str) -> tuple[str, ...]:
    """The words of a name by which one would look it up, in small letters, each once."""
    found = (word.casefold() for word in _WORD.findall(name))
    return tuple(dict.fromkeys(word for word in found if _is_telling(word)))


def _is_telling(word: str) -> bool:
    return len(word) > 1 and word not in SMALL_WORDS and not word.isdecimal()


def _words(records: Sequence[TaskRecord], people: People) -> Iterator[tuple[Cell, ...]]:
    """By word, then in the work list's order; the word stands once."""
    found: dict[str, list[TaskRecord]] = {}
    for record in records:
        for word in index_words(record.name) or (record.id,):
            found.setdefault(word, []).append(record)
    for word in sorted(found, key=sort_key):
        for number, record in enumerate(found[word]):
            yield Cell("" if number else word), *_task(record, people)


def _task(record: TaskRecord, people: People) -> tuple[Cell, ...]:
    title = Cell(titled(record.id, record.name), to=anchor(record.id))
    if not is_begun(record):
        return title, NOT_BEGUN, Cell()
    away = [f"{each.what} away" for each in record.away]
    who = "; ".join(filter(None, (people.names(each.name for each in record.people), *away)))
    saw = people.names(name for look in people.looks(record) for name in look.names)
    return (
        title,
        Cell(who) if who else Cell(NOBODY, weak=True),
        Cell(saw) if saw else Cell(NOBODY, weak=True),
    )


def _people(records: Sequence[TaskRecord], people: People) -> Iterator[tuple[Cell, ...]]:
    """Each person once, with the sum of the tasks below; then task by task."""
    found: dict[tuple[str, Role], list[tuple[TaskRecord, int]]] = {}
    for record in records:
        for each in record.people:
            found.setdefault((each.name, each.role), []).append((record, each.seconds))
    for name, role in sorted(found, key=lambda key: (sort_key(people.full(key[0])), key[1])):
        tasks = found[name, role]
        whole = sum(seconds for _, seconds in tasks)
        told = f"{people.full(name)}, {ROLE_WORDS[role]}"
        yield Cell(told), Cell("On all tasks"), Cell(duration_clock(whole)), Cell()
        for record, seconds in tasks:
            yield _given(name, record, seconds)


def _given(name: str, record: TaskRecord, seconds: int) -> tuple[Cell, ...]:
    days = sorted({row.day for row in record.work if row.person == name and row.seconds})
    when = f"{days[0]} to {days[-1]}" if len(days) > 1 else "".join(map(str, days))
    title = Cell(titled(record.id, record.name), to=anchor(record.id))
    return Cell(), title, Cell(duration_clock(seconds)), Cell(when)


def _lookers(records: Sequence[TaskRecord], people: People) -> Iterator[Section]:
    """Everyone who is named as having looked at a task."""
    found: dict[str, list[tuple[TaskRecord, str]]] = {}
    for record in records:
        for look in people.looks(record):
            for name in look.names:
                found.setdefault(name, []).append((record, look.words))
    rows = [
        (
            Cell("" if number else people.full(name)),
            Cell(titled(record.id, record.name), to=anchor(record.id)),
            Cell(words),
        )
        for name in sorted(found, key=lambda name: sort_key(people.full(name)))
        for number, (record, words) in enumerate(found[name])
    ]
    if rows:
        columns = (Column("Person", share=3), Column("Task", share=4), Column("How", share=5))
        table = Rows("People who looked at tasks", columns, tuple(rows))
        yield Section("a-to-z-lookers", "People who looked at the work", (table,))
