"""The inspector's view: what goes along, and that of an `hours only` note only its time does."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.totals import tally
from builderlog.handover.inspector import inspector_view, quoted, stub_of
from builderlog.knowing.entries import Work
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Worked
from builderlog.reading.folder import Folder
from tests.handover.small_journal import FILES, SECRET_WORDS, read, write_journal
from tests.making import day, note

STUB = "notes/2026-04-21-time-only.md"
NAMES = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12)


@pytest.fixture
def view(journal: Path) -> Folder:
    """The small journal as the inspector gets it."""
    return inspector_view(*read(journal))


def test_what_goes_along(view: Folder) -> None:
    """All goes but hidden notes, what they alone name, and what nobody names in other folders."""
    gone = {
        "notes/2026-04-21-secret-name.md",
        "photos/secret.png",
        "photos/secret-linked.png",
        "receipts/secret.txt",
        "letters/2026-03.md",
        "inbox/new.png",
    }
    assert set(view.paths) == (set(FILES) - gone) | {STUB}


def test_nothing_of_a_hidden_note_goes_along(view: Folder) -> None:
    """No word of its title, text, parts, pictures, place or name is in any file or name."""
    held = b"\n".join(path.encode() + view.read(path) for path in view.paths)
    assert [word for word in SECRET_WORDS if word in held] == []


def test_its_time_goes_along_to_the_second(journal: Path, view: Folder) -> None:
    """Totals of time by every measure are those of the journal itself."""
    before, after = tally(read(journal)[1]), tally(read_journal(view))
    assert (before.seconds, before.by_person, before.by_day) == (
        after.seconds,
        after.by_person,
        after.by_day,
    )
    assert (before.by_area, before.by_kind, before.untasked) == (
        after.by_area,
        after.by_kind,
        after.untasked,
    )
    assert [row.seconds for row in before.by_task.values()] == [
        row.seconds for row in after.by_task.values()
    ]


def test_the_stub_is_a_note_without_mistakes(view: Folder) -> None:
    """What is made for the inspector reads without a problem."""
    assert [told for told in read_journal(view).problems if told.place.path == STUB] == []


def test_a_picture_that_an_open_note_uses_too_goes_along(view: Folder) -> None:
    """What is not the hidden note's alone stays."""
    assert "photos/shared.png" in view.paths


def test_stubs_of_one_day_have_names_of_their_own(tmp_path: Path) -> None:
    """Two hidden notes of a day, beside a file of that very name, become three files."""
    hidden = b"---\nhours: 1h\nprivate: hours only\n---\n"
    files = {
        "journal.yaml": FILES["journal.yaml"].replace(b"papers: ", b"# papers: "),
        "notes/2026-04-21-a.md": hidden,
        "notes/2026-04-21-b.md": hidden,
        "notes/2026-04-21-TIME-only.md": b"---\nhours: 2h\n---\n",
    }
    view = inspector_view(*read(write_journal(tmp_path / "journal", files)))
    assert [path for path in view.paths if path.startswith("notes/")] == [
        "notes/2026-04-21-TIME-only.md",
        "notes/2026-04-21-time-only-2.md",
        "notes/2026-04-21-time-only-3.md",
    ]


def test_a_journal_without_hidden_notes_gets_no_stub(tmp_path: Path) -> None:
    """Nothing is added where nothing is hidden, and a work list is not invented."""
    files = {"journal.yaml": b"title: T\nbuilder: I\npeople: {I: {role: builder}}\n"}
    view = inspector_view(*read(write_journal(tmp_path / "journal", files)))
    assert (view.paths, dict(view.added)) == (("journal.yaml",), {})


def test_the_journal_itself_is_not_touched(journal: Path) -> None:
    """Making a view changes no file."""
    inspector_view(*read(journal))
    assert {path: (journal / path).read_bytes() for path in FILES} == FILES


ROWS = st.lists(
    st.tuples(
        st.sampled_from(("Ines", "No", "a: b", '"q\\', "\u2028x", "{a, b}", "# c")),
        st.none() | NAMES,
        st.sampled_from(list(Work)),
        st.integers(1, 20_000),
    ),
    max_size=6,
)


@given(ROWS)
@settings(deadline=None)
def test_a_stub_reads_as_the_work_it_was_made_of(
    tmp_path_factory: pytest.TempPathFactory, rows: list[tuple[str, str | None, Work, int]]
) -> None:
    """Any people, tasks, kinds and seconds come back exactly when the stub is read as a note."""
    hidden = note("2026-04-21")
    work = [
        Worked(hidden.path, day("2026-04-21"), person, "builder", task, kind, seconds)  # type: ignore[arg-type]
        for person, task, kind, seconds in rows
    ]
    people = "".join(f"  {quoted(row.person)}: {{role: builder}}\n" for row in work)
    unique = "".join(dict.fromkeys(people.splitlines(keepends=True)))
    journal = f"title: T\nbuilder: B\npeople:\n  B: {{role: builder}}\n{unique}"
    files = {"journal.yaml": journal.encode(), hidden.path: stub_of(hidden, work)}
    root = write_journal(tmp_path_factory.mktemp("stub"), files)
    found = read_journal(Folder.at(root)).work

    def total(rows: list[Worked]) -> dict[tuple[str, str | None, Work | None], int]:
        sums: dict[tuple[str, str | None, Work | None], int] = {}
        for row in rows:
            key = (row.person, row.task, row.work if row.task is not None else None)
            sums[key] = sums.get(key, 0) + row.seconds
        return sums

    assert total(list(found)) == total(work)
