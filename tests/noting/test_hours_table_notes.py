"""Sessions become notes that count the same: by person, by day and by task, and lose no word."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.units import DAY
from builderlog.knowing.worklist_edit import read_worklist
from builderlog.noting.hours_table_notes import note_files, notes_of, worklist_from
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from tests.examples import many
from tests.noting.tables import BUILDER, TODAY, mistakes, read

PEOPLE = {"Tomas": "helper", "Osk": "paid"}
JOURNAL = """\
title: A test
builder: Ines
people: {Ines: {role: builder}, Tomas: {role: helper}, Osk: {role: paid}}
"""


def files(table: str) -> dict[str, str]:
    """The notes of a table by path."""
    found = read(table, PEOPLE)
    assert mistakes(found) == []
    return note_files(notes_of(found.sessions, BUILDER, TODAY))


def ledger(notes: Mapping[str, str]) -> Ledger:
    """The ledger of a journal with these notes; nothing in them is a mistake."""
    added = {path: text.encode() for path, text in notes.items()}
    folder = Folder(Path("nowhere"), ()).overlaid((), {"journal.yaml": JOURNAL.encode(), **added})
    found = read_journal(folder)
    assert [each for each in found.problems if each.weight is Weight.MISTAKE] == []
    return found


def test_a_row_is_a_note() -> None:
    """One row is written as a builder would write it, with the day of writing."""
    table = "date,hours,task,title,text,next\n2026-03-14,2h30,W14,Skins on,All in.,dimple\n"
    assert files(table) == {
        "notes/2026/2026-03-14-skins-on.md": (
            "---\ndate: 2026-03-14\ntitle: Skins on\nhours: 2h30\ntasks: [W14]\n"
            "written: 2026-11-27\nnext: dimple\n---\nAll in.\n"
        ).replace("written: 2026-11-27\nnext: dimple\n", "next: dimple\nwritten: 2026-11-27\n")
    }


def test_rows_of_one_day_are_one_note() -> None:
    """Times are added by person, each task keeps its own, words are paragraphs."""
    table = (
        "date,hours,who,task,text\n2026-03-14,2h,Ines & Tomas,W14,one\n"
        "2026-03-14,1h,Tomas,W15,two\n2026-03-14,45m,,,three\n"
    )
    ((path, text),) = files(table).items()
    assert path == "notes/2026/2026-03-14.md"
    assert "hours: {Ines: 2h45, Tomas: 3h}" in text
    assert "  - {task: W14, hours: 2h, who: [Ines, Tomas]}\n" in text
    assert "  - {task: W15, hours: 1h, who: Tomas}\n" in text
    assert text.endswith("one\n\ntwo\n\nthree\n")


def test_a_row_that_would_take_the_time_of_others_stays_alone() -> None:
    """A task without time, or several with one, has a note of its own beside the day's."""
    table = (
        "date,hours,task,text\n2026-03-14,2h,,swept\n2026-03-14,,W14,looked\n"
        '2026-03-14,1h,"W14, W15",drilled\n'
    )
    made = files(table)
    assert list(made) == [
        "notes/2026/2026-03-14.md",
        "notes/2026/2026-03-14-2.md",
        "notes/2026/2026-03-14-3.md",
    ]
    work = ledger(made).work
    assert [(row.task, row.seconds) for row in work] == [(None, 7200), (None, 3600)]


def test_spans_stay_spans() -> None:
    """Spans of one person are a list; beside a length they are added, and stay as a comment."""
    table = "date,hours\n2026-03-14,19:10-20:00\n2026-03-14,21:00-22:00\n"
    assert "hours: [19:10-20:00, 21:00-22:00]\n" in next(iter(files(table).values()))
    mixed = next(iter(files(f"{table}2026-03-14,1h\n").values()))
    assert "hours: 2h50\n" in mixed
    assert "# Ines: 19:10-20:00 + 21:00-22:00 + 1h\n" in mixed


def test_the_newest_row_may_stand_first() -> None:
    """In a table that goes back in time the rows of a day are turned round with the days."""
    table = "date,hours,text\n2026-03-16,1h,d\n2026-03-15,1h,c\n2026-03-14,1h,b\n2026-03-14,2h,a\n"
    made = list(files(table).values())
    assert [text.split("---\n")[-1] for text in made] == ["a\n\nb\n", "c\n", "d\n"]


def test_a_second_title_and_names_without_time_are_kept() -> None:
    """The first title names the note, a second stands over its words; who came without time too."""
    table = (
        "date,hours,who,title,text\n2026-03-14,1h,,Fin,one\n2026-03-14,1h,,Rudder,two\n"
        "2026-03-14,,Tomas,,watched\n"
    )
    ((path, text),) = files(table).items()
    assert path == "notes/2026/2026-03-14-fin.md"
    assert text.endswith("one\n\nRudder\n\ntwo\n\nwatched\n")
    assert "# who: Tomas\n" in text


def test_the_tasks_become_a_work_list() -> None:
    """Ids by their letters, words in an area of their own, and the table's areas before both."""
    table = (
        "date,hours,task,area\n2026-03-14,1h,W14,\n2026-03-15,1h,Fit skins,\n2026-03-16,1h,x,Tail\n"
    )
    made = worklist_from(read(table).sessions, "hours.csv")
    assert made
    areas = read_worklist("worklist.yaml", made).worklist.areas
    assert [(area.name, [task.id for task in area.tasks]) for area in areas] == [
        ("W", ["W14"]),
        ("Tasks in the words of the table", ["Fit skins"]),
        ("Tail", ["x"]),
    ]
    assert worklist_from(read("date,hours\n2026-03-14,1h\n").sessions, "x") is None


WORDS = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=8)
ROWS = st.lists(
    st.tuples(
        st.integers(0, 12).map(lambda days: date(2026, 3, 1) + timedelta(days=days)),
        st.integers(0, 100),  # minutes
        st.sampled_from(["", "Ines", "Tomas", "Osk", "Ines & Tomas"]),
        st.sampled_from(["", "W14", "W15", "F1", "W14, F1"]),
        st.one_of(st.just(""), WORDS.filter(lambda word: word.strip("-\N{EN DASH}\N{EM DASH}"))),
    ),
    max_size=14,
)


def typed(rows: Sequence[tuple[date, int, str, str, str]]) -> str:
    """The rows as a spreadsheet saves them."""
    out = io.StringIO()
    table = csv.writer(out)
    table.writerow(["date", "hours", "who", "task", "text"])
    for day, minutes, who, task, text in rows:
        table.writerow(
            [day.strftime("%d.%m.%Y"), f"{minutes // 60}:{minutes % 60:02}", who, task, text]
        )
    return out.getvalue()


@settings(max_examples=many(60), suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(ROWS)
def test_nothing_is_lost(rows: list[tuple[date, int, str, str, str]]) -> None:
    """Time by person and day is that of the table, tasks with one time keep it, words are there."""
    rows = [row for row in rows if row[1] or row[2] or row[3] or row[4]]
    if not rows:
        return
    notes = files(f"{typed(rows)}31.03.2026,,,,end\n")
    book = ledger(notes)
    wanted: dict[tuple[date, str], int] = {}
    tasks: dict[tuple[date, str, str], int] = {}
    for day, minutes, who, task, _ in rows:
        for person in who.split(" & ") if who else [BUILDER]:
            wanted[day, person] = wanted.get((day, person), 0) + 60 * minutes
            if task and "," not in task:
                key = (day, person, task)
                tasks[key] = tasks.get(key, 0) + 60 * minutes
    found: dict[tuple[date, str], int] = {}
    by_task: dict[tuple[date, str, str], int] = {}
    for row in book.work:
        found[row.day, row.person] = found.get((row.day, row.person), 0) + row.seconds
        if row.task:
            key = (row.day, row.person, row.task)
            by_task[key] = by_task.get(key, 0) + row.seconds
    assert max(wanted.values()) <= DAY
    assert found == {key: seconds for key, seconds in wanted.items() if seconds}
    assert by_task == {key: seconds for key, seconds in tasks.items() if seconds}
    text = "\n".join(notes.values())
    assert all(row[4] in text for row in rows)
