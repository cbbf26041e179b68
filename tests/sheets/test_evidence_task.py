"""The evidence sheet of one task: every entry with its note and papers, pictures as they are."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from builderlog.deciding.coverage import coverage
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Rulebook
from builderlog.sheets.evidence_task import TaskEvidence, shelf_of, task_evidence, titled
from tests.deciding.claim_journals import journal
from tests.knowing.journals import ledger_of
from tests.sheets.claim_rows import ruled

TASKS = ["W1, name: Aileron skins, work: fabrication, state: done", "W2"]
EVENING = """\
title: Skins on
hours: {Ines: 3h, Ada: 1h}
tasks: [{task: W1, hours: 3h, per: manual 4-1}, {task: W1, hours: 1h, who: Ada, per: manual 4-1}]
measured: [{what: gap, value: 2 mm, limit: <= 3 mm}, {what: gap, value: 2 mm, limit: <= 3 mm}]
torqued: {where: hinge, bolt: AN3-5A, to: 25 in-lb, source: manual 5, marked: yes}
process: {what: primer, batch: B7, coat: first, sample: strip A}
visits: {who: [Hedda, Ines], as: counsellor, looked at: W1, said: All even., result: carry on}
snags: {snag: A dent, task: W1, no: R1}
away: {what: Covers, task: W1, with: A shop, as: paid, sent: 2026-03-01}
"""


def sheet_of(ledger: Ledger, task: str = "W1", *gaps: str) -> TaskEvidence:
    """The sheet of one task by the checklist of points."""
    by = ruled(ledger, "us-checklist").rulebook
    assert isinstance(by, Rulebook)
    record = next(each for each in coverage(ledger) if each.id == task)
    return task_evidence(record, by, gaps, shelf_of(ledger))


def test_a_task_is_told_whole(tmp_path: Path) -> None:
    """Title, standing, all questions, and every entry in words with the note it stands in."""
    notes = {"2026-03-01": EVENING, "2026-03-04": "fixed: {no: R1, how: Filled}"}
    found = sheet_of(journal(tmp_path, TASKS, notes), "W1", "one gap")
    assert (found.title, found.begun) == ("W1 Aileron skins", True)
    assert found.standing.replace("\xa0", " ") == (
        "fabrication, done, 4 h of the amateurs' work on record"
    )
    assert [answer.question for answer in found.answers][:2] == [
        "Who did the task",
        "When it was done",
    ]
    assert found.gaps == ("one gap",)
    assert [(row.kind, row.words) for row in found.entries] == [
        ("method", "manual 4-1"),
        ("measured", "gap: 2 mm (limit <= 3 mm)"),
        ("measured", "gap: 2 mm (limit <= 3 mm)"),
        ("torqued", "hinge, AN3-5A, to 25 in-lb, by manual 5, marked"),
        ("process", "primer, batch B7, coat: first, sample: strip A"),
        ("visit", "Hedda and Ines (counsellor). All even. Result: carry on."),
        ("snag", "R1 A dent; put right on 2026-03-04: Filled"),
        ("away", "Covers, A shop, as paid, sent 2026-03-01, not yet back"),
    ]
    assert {row.notes[0].words for row in found.entries[:6]} == {"2026-03-01, Skins on"}
    assert [note.words for note in found.entries[6].notes] == ["2026-03-01", "2026-03-04"]
    assert [(note.words, note.path) for note in found.notes] == [
        ("2026-03-01, Skins on", "notes/2026-03-01.md")
    ]


def test_bare_entries_are_told_as_far_as_they_go(tmp_path: Path) -> None:
    """An entry with one word only has no empty bracket, no lone comma and no word `None`."""
    note = (
        "tasks: {task: W1, hours: 1h}\nmeasured: {what: gap}\ntorqued: {where: hinge}\n"
        "process: {what: glue}\nvisits: {who: Hedda}\nsnags: {snag: A dent, task: W1}\n"
        "away: {what: Covers, task: W1}"
    )
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": note}))
    assert [row.words for row in found.entries] == [
        *("gap", "hinge", "glue", "Hedda.", "2026-03-01.1 A dent; open"),
        "Covers, who did it is not said, not yet back",
    ]


def test_a_task_that_nobody_began_is_asked_nothing(tmp_path: Path) -> None:
    """It says that it is open, with no answers to be read as gaps; a wanted part begins nothing."""
    notes = {"2026-03-01": "parts: {part: Rib, for: W2, status: wanted}"}
    found = sheet_of(journal(tmp_path, TASKS, notes), "W2")
    assert (found.begun, found.standing, found.answers, found.entries) == (False, "open", (), ())


@pytest.mark.parametrize(
    "note",
    [
        "away: {what: Covers, task: W2, with: A shop}",
        "visits: {who: Hedda, looked at: W2}",
        "snags: {snag: A dent, task: W2}",
        "parts: {part: Rib, for: W2, receipt: photos/a.jpg}",
    ],
)
def test_what_stands_in_a_note_on_other_things_is_told_too(tmp_path: Path, note: str) -> None:
    """A task that no note names but for work away, a visit, a snag or a receipt is told whole."""
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": note}), "W2")
    assert (found.begun, found.notes, len(found.entries)) == (True, (), 1)
    assert [note.path for note in found.entries[0].notes] == ["notes/2026-03-01.md"]
    assert len(found.answers) == 6


def test_papers_are_found_however_they_are_named(tmp_path: Path) -> None:
    """A sheet with a dot and two strokes, a receipt in the other form of Unicode are found."""
    composed = "receipts/\N{LATIN SMALL LETTER E WITH ACUTE}.pdf"
    apart = unicodedata.normalize("NFD", composed)
    note = (
        "---\nvisits: {who: Hedda, looked at: W14, sheet: ./papers//sheet 1.pdf}\n"
        "parts:\n"
        f"  - {{part: Rib, ref: R 1, for: W14, receipt: {apart}}}\n"
        "  - {part: Rib, for: W14, receipt: receipts/gone.pdf}\n"
        "  - {part: Nut, for: W14}\n---\n"
    )
    files = {"notes/2026-03-01.md": note, composed: "x", "papers/sheet 1.pdf": "x"}
    rows = sheet_of(ledger_of(tmp_path, files), "W14").entries
    assert [(row.kind, row.words, *(paper.path for paper in row.papers)) for row in rows] == [
        ("visit", "Hedda.", "papers/sheet 1.pdf"),
        ("part", "Rib, R 1", composed),
        ("part", "Rib", ""),
    ]
    assert rows[2].papers[0].words == "gone.pdf"


def test_pictures_are_told_and_only_drawn_where_browsers_can(tmp_path: Path) -> None:
    """Day, caption and people stand with a picture; one that is no picture is only linked."""
    note = (
        "---\nphotos:\n"
        "  - {photo: photos/a.jpg, shows: W14, caption: Skin on!, seen: [Ines, Ada]}\n"
        "  - {photo: photos/b.HEIC, shows: W14}\n"
        "  - {photo: photos/c.JPG, shows: W14, as: page}\n"
        "  - {photo: photos/d.jpg, shows: W14}\n---\n"
    )
    named = {f"photos/{name}": "(picture)" for name in ("a.jpg", "b.HEIC", "c.JPG")}
    files = {"notes/2026-03-01.md": note, **named, "photos/d.jpg": "no picture at all"}
    found = sheet_of(ledger_of(tmp_path, files), "W14").pictures
    assert [(row.alt, row.told) for row in found] == [
        ("Skin on!", "1 March 2026. Skin on! Seen: Ines and Ada."),
        ("Skins, 1 March 2026", "1 March 2026."),
        ("Skins, 1 March 2026", "1 March 2026. A page of a notebook."),
        ("Skins, 1 March 2026", "1 March 2026."),
    ]
    assert [row.drawn for row in found] == [True, True, True, False]


def test_a_heic_picture_is_not_drawn(tmp_path: Path) -> None:
    """What counts is what the file is: HEIC under another ending is linked alone."""
    import pillow_heif
    from PIL import Image

    path = tmp_path / "photos/phone.jpg"
    path.parent.mkdir()
    pillow_heif.from_pillow(Image.new("RGB", (16, 16), "grey")).save(path)
    note = "---\nphotos: {photo: photos/phone.jpg, shows: W14}\n---\n"
    found = sheet_of(ledger_of(tmp_path, {"notes/2026-03-01.md": note}), "W14")
    assert [row.drawn for row in found.pictures] == [False]


def test_a_hidden_note_gives_its_time_and_nothing_else(tmp_path: Path) -> None:
    """Of a note with `hours only` the sheet has hours and day; no entry, picture or place."""
    hidden = f"{EVENING}photos: {{photo: photos/a.jpg, shows: W1}}\nplace: A secret\n"
    notes = {"2026-03-01": f"{hidden}private: hours only"}
    found = sheet_of(journal(tmp_path, TASKS, notes))
    assert (found.entries, found.pictures) == ((), ())
    assert "4 h" in found.standing.replace("\xa0", " ")
    words = " ".join(answer.sentence for answer in found.answers)
    assert "secret" not in words
    assert "manual" not in words


@pytest.mark.parametrize(
    ("name", "words", "title"),
    [("W1", "Skins", "W1 Skins"), ("W1", "W1", "W1"), ("", "", "(no name)")],
)
def test_titles(name: str, words: str, title: str) -> None:
    """An id stands before its name, once where both are the same; no title is empty."""
    assert titled(name, words) == title
