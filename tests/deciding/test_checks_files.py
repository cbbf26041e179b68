"""Checks of files at their edges; the cases of them stand in tests/cases/journals.txt."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.checks_files import links, missing_files, pictures_at_fault
from builderlog.reading.problem import Place
from builderlog.reading.prose import Prose
from tests.making import ledger, note, picture


def test_a_link_has_the_line_of_the_file() -> None:
    """The line of a link counts from the top of its file, not of its prose."""
    bare = note("2026-03-14")
    prose = Prose("One.\n\nTwo [x](gone.md).\n", Place(bare.path, 7))
    (found,) = links(ledger(notes=[replace(bare, prose=prose)]))
    assert (found.code, found.place.line) == ("missing-file", 9)


def test_a_picture_is_there_under_any_unicode_form() -> None:
    """A path that differs from its file only in Unicode form is no missing file."""
    made = ledger(notes=[note("2026-03-14", shows=["W14"])])
    assert [each.code for each in missing_files(made)] == ["missing-file"]
    assert list(missing_files(replace(made, files=frozenset({"photos/a.jpg"})))) == []


def test_a_fault_is_told_where_the_picture_is_named() -> None:
    """A picture that cannot be read is told once for each note that names it, at the name."""
    broken = picture("photos/a.jpg", ("2026-03-14", ("W14",)))
    broken = replace(broken, file=replace(broken.file, fault="is cut short"))
    notes = [note("2026-03-14", shows=["W14"]), note("2026-03-15", shows=["W14"])]
    made = replace(ledger(notes=notes, pictures=[broken]), files=frozenset({"photos/a.jpg"}))
    assert [each.code for each in pictures_at_fault(made)] == ["picture-unreadable"] * 2
