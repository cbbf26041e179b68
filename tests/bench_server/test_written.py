"""After writing: the three lines, what needs mending, and what to see to before it is closed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.bench.desk import Desk
from builderlog.bench.written import written
from tests.bench_server.made_desk import LAST, desk_of, laid


def test_what_was_understood_is_told_in_three_lines(made_desk: Desk) -> None:
    """The evening, its month, all of it; and where friends will read it."""
    found = written(made_desk, LAST)
    assert found
    assert len(found.lines) == 3
    assert found.lines[0].startswith("4\N{NO-BREAK SPACE}h on 14 March 2026")
    assert (found.page, found.mistakes, found.closing) == (
        "/site/notes/2026-03-14-skins.html",
        (),
        (),
    )


def test_a_phone_is_not_led_to_a_site_that_it_cannot_see(made_desk: Desk) -> None:
    """The phone's page knows nothing but the form and the upload."""
    found = written(replace(made_desk, phone=True), LAST)
    assert found
    assert found.page == ""


def test_a_note_that_is_not_there_is_not_told(made_desk: Desk) -> None:
    """The address names a note of the journal or nothing."""
    assert written(made_desk, "notes/../journal.yaml") is None


def test_mistakes_and_the_closing_list_are_told(tmp_path: Path) -> None:
    """The note's own mistakes with their lines, those elsewhere counted, the list with cautions."""
    note = "notes/2026/2026-03-16.md"
    text = "---\nhours: all day\ncloses: [W14]\n---\nx\n"
    root = laid(tmp_path, {note: text, "notes/2026-03-15.md": "---\nhours: x\n---\n"})
    found = written(desk_of(root), note)
    assert found
    assert [(one.where, "'all day'" in one.words) for one in found.mistakes] == [
        (f"{note}, line 2", True)
    ]
    assert found.elsewhere == "1 mistake in other files of the journal"
    assert [(one.subject, bool(one.cautions)) for one in found.closing] == [("W14", True)]
    assert found.page == ""
