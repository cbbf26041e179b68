"""A whole journal to its ledger, with every problem: cases of several files."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.checks import judge
from builderlog.deciding.totals import tally
from builderlog.knowing.journal import read_journal
from builderlog.knowing.vocabulary import SECTIONS, inner_keys
from builderlog.reading.folder import Folder
from tests.examples import many
from tests.knowing.journals import JOURNAL, WORKLIST, content, ledger_of, note, said, write_journal
from tests.reading.case_file import Case, each_case, told


@each_case("journals.txt")
def test_case(case: Case, tmp_path: Path) -> None:
    """The journal says and tells what the case writes, no more and no less.

    Gaps are told of every picture and task; a case that is not about them leaves them out.
    """
    ledger = ledger_of(tmp_path, case.files)
    problems = told(judge(ledger), with_path=True)
    if not any("(gap)" in line for line in case.problems):
        problems = [line for line in problems if "(gap)" not in line]
    assert problems == case.problems
    assert [*said(ledger)] == case.values


def test_notes_are_in_order_of_day_and_path(tmp_path: Path) -> None:
    """Notes stand in order of their day, two of one day in order of path."""
    files = {
        "notes/z.md": "---\ndate: 2026-03-01\n---\nx",
        "notes/2026-03-02-b.md": "x",
        "notes/2026-03-02-a.md": "x",
        "notes/a/2026-02-28.md": "x",
    }
    ledger = ledger_of(tmp_path, files)
    assert [each.path for each in ledger.notes] == [
        "notes/a/2026-02-28.md",
        "notes/z.md",
        "notes/2026-03-02-a.md",
        "notes/2026-03-02-b.md",
    ]


def test_the_second_note_of_a_day_follows_its_first(tmp_path: Path) -> None:
    """What `note` calls `-2` comes after the name without a number, though `-` sorts before `.`."""
    names = ("2026-03-02.md", "2026-03-02-2.md", "2026-03-02-3.md")
    ledger = ledger_of(tmp_path, {f"notes/{name}": "x" for name in reversed(names)})
    assert [each.path for each in ledger.notes] == [f"notes/{name}" for name in names]


def test_the_record_ends_with_its_newest_date(tmp_path: Path) -> None:
    """The record's date is the newest day of a note or of its writing."""
    files = note("written: 2026-04-02\ntitle: x") | note("title: x", date(2026, 3, 20))
    assert ledger_of(tmp_path, files).record_date == date(2026, 4, 2)
    assert ledger_of(tmp_path / "empty", {"journal.yaml": JOURNAL}).record_date is None


@pytest.mark.parametrize("name", ["journal.yaml", "worklist.yaml", "notes/2026-03-14.md", "notes"])
def test_a_link_to_outside_is_told_where_it_would_be_read(tmp_path: Path, name: str) -> None:
    """Settings, work list and notes that are links to outside are not read, and that is told."""
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "2026-03-14.md").write_text("---\nhours: 2h\n---\n", encoding="utf-8")
    root = tmp_path / "journal"
    write_journal(root, {"notes/2026-03-13.md": "x"} if name != "notes" else {})
    (root / name).unlink(missing_ok=True)
    (root / name).symlink_to(outside if name == "notes" else outside / "2026-03-14.md")
    ledger = read_journal(Folder.at(root))
    assert ("outside", name) in {(each.code, each.place.path) for each in ledger.problems}
    assert ledger.work == ()


def test_pictures_are_those_that_notes_name_or_link(tmp_path: Path) -> None:
    """A picture is known with its uses and its links; others in the folder are not."""
    files = note("photos: [{photo: photos/a.jpg, shows: W14}, photos/a.jpg]") | {
        "notes/2026-03-15.md": "See ![x](../photos/b.jpg) and [y](../photos/a.jpg).",
        "photos/a.jpg": "(picture of 2026-03-13)",
        "photos/b.jpg": "(picture)",
        "photos/c.jpg": "(picture)",
    }
    pictures = ledger_of(tmp_path, files).pictures
    assert [
        (each.path, len(each.uses), each.linked_from, each.taken[:10]) for each in pictures
    ] == [
        ("photos/a.jpg", 2, ("notes/2026-03-15.md",), "2026-03-13"),
        ("photos/b.jpg", 0, ("notes/2026-03-15.md",), ""),
    ]


def test_a_cache_that_cannot_be_kept_is_a_doubt(tmp_path: Path) -> None:
    """Where facts about pictures cannot be kept, they are read all the same and that is told."""
    files = note("photos: {photo: photos/a.jpg, caption: x}") | {"photos/a.jpg": "(picture)"}
    folder = write_journal(tmp_path / "journal", files)
    in_the_way = tmp_path / "cache"
    in_the_way.write_text("a file, not a folder", encoding="utf-8")
    ledger = read_journal(folder, in_the_way)
    assert [each.code for each in ledger.problems] == ["cache-not-kept"]
    assert [each.file.width_px for each in ledger.pictures] == [8]


# ---- properties over generated journals ---------------------------------------------------

PEOPLE = ("Ines", "Tomas", "Ada", "Osk")
TASKS = ("W14", "W15", "W16", "F1")
LENGTHS = st.sampled_from(("3h15", "45m", "0.3333", "2:10", "1h", "0", "7,5"))
LINES = st.fixed_dictionaries(
    {"task": st.sampled_from(TASKS)},
    optional={
        "hours": LENGTHS.map(lambda text: f'"{text}"'),
        "who": st.lists(st.sampled_from(PEOPLE), min_size=1, max_size=3, unique=True).map(
            lambda names: f"[{', '.join(names)}]"
        ),
        "work": st.sampled_from(("fabrication", "assembly", "other")),
    },
)
HOURS = st.dictionaries(st.sampled_from(PEOPLE), LENGTHS, max_size=3)


def _words(hours: dict[str, str], lines: list[dict[str, str]]) -> str:
    rows = [f'  "{name}": {length}' for name, length in hours.items()]
    tasks = [
        f"  - {{{', '.join(f'{key}: {value}' for key, value in line.items())}}}" for line in lines
    ]
    return "\n".join(
        ["---", *(["hours:", *rows] if rows else []), *(["tasks:", *tasks] if tasks else []), "---"]
    )


NOTES = st.builds(_words, HOURS, st.lists(LINES, max_size=4))
JOURNALS = st.dictionaries(
    st.dates(date(2026, 1, 1), date(2026, 3, 31)).map(lambda day: f"notes/{day}.md"),
    NOTES,
    max_size=6,
)


def in_memory(files: dict[str, str]) -> Folder:
    """A journal that stands on no disk."""
    added = {"journal.yaml": JOURNAL, "worklist.yaml": WORKLIST, **files}
    paths = tuple(added)
    return Folder(Path("nowhere"), paths, added={path: content(added[path]) for path in paths})


KEYS = sorted({key.word for _, keys in SECTIONS for key in keys})
INNER = sorted({key.word for _, keys in SECTIONS for each in keys for key in inner_keys(each.form)})
VALUES = (
    *("Ines", "builder", "yes", "2026-03-14", "3h15", "EUR", "1.08", "W", "[W, W14]", "{x: y}"),
    *("", "[]", "{}", "[[a]]", "{role: builder}", "0.3", "[1, 1]", "- a", "#4", "'"),
)
WORDS = st.lists(
    st.one_of(
        st.tuples(st.sampled_from(KEYS), st.sampled_from(VALUES)).map(": ".join),
        st.tuples(st.sampled_from(INNER), st.sampled_from(VALUES)).map(
            lambda it: f"  {it[0]}: {it[1]}"
        ),
        st.sampled_from(
            ["areas:", "  - area: W", "    tasks:", "      - task: W14", "people:", "  Ines:"]
        ),
    ),
    max_size=8,
).map("\n".join)


@given(WORDS | st.text(max_size=30), WORDS | st.text(max_size=30), WORDS)
@settings(max_examples=many(300), deadline=None)
def test_no_words_make_reading_or_judging_fail(settled: str, listed: str, written: str) -> None:
    """Whatever stands in journal.yaml, work list and note, all is read, judged and added up."""
    files = {
        "journal.yaml": settled,
        "worklist.yaml": listed,
        "notes/2026-03-14.md": f"---\n{written}\n---\n",
    }
    added = {path: text.encode("utf-8", "replace") for path, text in files.items()}
    ledger = read_journal(Folder(Path("nowhere"), tuple(added), added=added))
    judge(ledger)
    assert tally(ledger).seconds >= 0


@given(JOURNALS)
@settings(max_examples=many(150), deadline=None)
def test_every_way_of_adding_up_gives_the_same_total(files: dict[str, str]) -> None:
    """Time by person, task (with what has none), area, month, role, day and kind is one total."""
    ledger = read_journal(in_memory(files))
    totals = tally(ledger)
    whole = sum(row.seconds for row in ledger.work)
    assert totals.seconds == whole
    assert sum(totals.by_person.values()) == whole
    assert sum(totals.by_role.values()) == whole
    assert sum(totals.by_day.values()) == whole
    assert sum(totals.by_kind.values()) == whole
    assert sum(month.seconds for month in totals.by_month.values()) == whole
    assert sum(task.seconds for task in totals.by_task.values()) + totals.untasked == whole
    assert sum(totals.by_area.values()) + totals.untasked == whole


@given(JOURNALS)
@settings(max_examples=many(150), deadline=None)
def test_nobody_gets_more_or_less_than_their_hours(files: dict[str, str]) -> None:
    """Who is named in a note's hours has just these, however the tasks share them."""
    ledger = read_journal(in_memory(files))
    for each in ledger.notes:
        for hours in each.hours:
            assert hours.person is not None
            mine = (
                row
                for row in ledger.work
                if (row.note, row.person) == (each.path, hours.person.text)
            )
            assert sum(row.seconds for row in mine) == hours.length.seconds


@given(JOURNALS, st.randoms())
@settings(max_examples=many(100), deadline=None)
def test_the_order_of_the_files_changes_nothing(files: dict[str, str], shuffler: Random) -> None:
    """However the folder lists its files, ledger and problems are the same."""
    folder = in_memory(files)
    paths = list(folder.paths)
    shuffler.shuffle(paths)
    other = Folder(folder.root, tuple(paths), added=folder.added)
    first, second = read_journal(folder), read_journal(other)
    assert (first.notes, first.work, first.settings) == (second.notes, second.work, second.settings)
    assert judge(first) == judge(second)
