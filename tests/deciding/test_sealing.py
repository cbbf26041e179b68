"""Sealing a month: what its seal covers and says, and when it may be made."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random

import pytest

from builderlog.deciding.sealing import (
    Sealing,
    compose,
    covered_by,
    is_sealed,
    last_seal,
    says_the_same,
)
from builderlog.deciding.sealing_kept import as_handed_over, is_stub
from builderlog.deciding.sealing_rules import why_not
from builderlog.deciding.sealing_words import covered_words, days_after
from builderlog.deciding.totals import tally, tally_document
from builderlog.knowing.seals_file import seal_text
from tests.deciding.sealed_journals import FILES, WITH_HIDDEN, change, read, seal, sealed
from tests.knowing.journals import write_journal

MARCH = [
    "notes/2026-03-14.md",
    "notes/2026-03-20.md",
    "photos/ribs.jpg",
    "photos/skins.jpg",
    "receipts/bolts.pdf",
]


def test_a_seal_covers_notes_pictures_and_papers(tmp_path: Path) -> None:
    """Notes dated in the month, pictures that they name or link, and receipts; by path."""
    made = seal(sealed(tmp_path), "2026-03")
    assert [one.path for one in made.files] == MARCH
    assert covered_words(made) == "5 files"


@pytest.mark.parametrize(
    "link", ["../journal.yaml", "2026-04-02.md", "../seals/2026-02.txt", "https://example.org/"]
)
def test_what_lives_on_is_not_sealed(tmp_path: Path, link: str) -> None:
    """A link to another note, to a list or to a seal takes none of them into the seal."""
    note = FILES["notes/2026-03-20.md"] + f"[there]({link})\n"
    write_journal(tmp_path, {**FILES, "notes/2026-03-20.md": note, "seals/2026-02.txt": "x"})
    assert [one.path for one in covered_by(read(tmp_path), "2026-03")] == MARCH


def test_a_paper_linked_in_the_words_is_sealed(tmp_path: Path) -> None:
    """A file that a note's words link is sealed with the note."""
    note = FILES["notes/2026-03-20.md"] + "[sheet](../papers/sheet.pdf)\n"
    write_journal(tmp_path, {**FILES, "notes/2026-03-20.md": note, "papers/sheet.pdf": "x"})
    assert "papers/sheet.pdf" in [one.path for one in covered_by(read(tmp_path), "2026-03")]


def test_totals_are_those_of_tally(tmp_path: Path) -> None:
    """A seal's sums are those that `tally --json` prints of the month and of the people."""
    made = seal(sealed(tmp_path), "2026-03")
    months = tally_document(tally(read(tmp_path)))["by_month"]
    assert isinstance(months, dict)
    march = months["2026-03"]
    assert dict(made.totals) == {
        "seconds": str(march["seconds"]),
        **{f"seconds as {role}": str(number) for role, number in march["by_role"].items()},
        "seconds of Ada": "3600",
        "seconds of Ines": "18000",
        **{key: str(march[key]) for key in ("notes", "days", "photos")},
        "spent USD": march["spent"]["USD"],
    }


def test_the_order_of_the_files_changes_nothing(tmp_path: Path) -> None:
    """However the folder lists its files, the seal is the same to the byte."""
    texts = set()
    for number in range(3):
        paths = Random(number).sample(sorted(WITH_HIDDEN), len(WITH_HIDDEN))
        root = tmp_path / str(number)
        texts.add(
            seal_text(seal(sealed(root, files={p: WITH_HIDDEN[p] for p in paths}), "2026-03"))
        )
    assert len(texts) == 1


def test_each_seal_names_the_one_before(tmp_path: Path) -> None:
    """The first names none; an amendment follows the newest seal, not the one that it amends."""
    root = sealed(tmp_path)
    first, second = seal(root, "2026-03"), seal(root, "2026-04")
    change(root, "notes/2026-03-20.md", "All in", "All of them in")
    third = seal(root, "2026-03", date(2026, 5, 2), why="a word")
    assert [first.before, second.before, third.before] == ["", first.digest, second.digest]
    assert (third.path, third.amends) == ("seals/2026-03-amended-1.txt", first.path)
    change(root, "notes/2026-03-20.md", "All of them in", "Nearly all in")
    fourth = seal(root, "2026-03", date(2026, 5, 3), why="another word")
    assert (fourth.path, fourth.amends) == ("seals/2026-03-amended-2.txt", third.path)
    ledger = read(root)
    assert [one.digest for one in ledger.seals] == [
        one.digest for one in (first, second, third, fourth)
    ]
    assert last_seal(ledger) == ledger.seals[1]
    assert [is_sealed(ledger, month) for month in ("2026-03", "2026-04", "2026-05")] == [
        True,
        True,
        False,
    ]


def test_a_hidden_note_is_sealed_without_its_name(tmp_path: Path) -> None:
    """Its digest and those of its own files stand under neutral names, by day and digest."""
    root = sealed(tmp_path, files=WITH_HIDDEN)
    made = seal(root, "2026-03")
    text = seal_text(made)
    assert "gift" not in text
    assert [one.path for one in made.files] == [
        *MARCH,
        *(f"kept-back/2026-03-21.{number}" for number in (1, 2, 3)),
    ]
    digests = read(root).digests
    kept = [one.digest for one in made.files if one.kept_back]
    hidden = ("notes/2026-03-21-a-gift.md", "photos/gift.jpg", "receipts/gift.pdf")
    assert kept == sorted(digests[path] for path in hidden)
    assert covered_words(made) == "8 files, 3 of them without a name"


def test_a_picture_that_only_another_month_shows_openly_is_kept_back(tmp_path: Path) -> None:
    """That a hidden note names a file is not betrayed by an open note of another month."""
    april = "---\nhours: 1h\nphotos: photos/gift.jpg\n---\n"
    files = {**WITH_HIDDEN, "notes/2026-04-03.md": april}
    assert "gift" not in seal_text(seal(sealed(tmp_path, files=files), "2026-03"))


def test_totals_do_not_tell_of_what_is_hidden(tmp_path: Path) -> None:
    """Time and notes count all; pictures and money of hidden notes are left out."""
    made = dict(seal(sealed(tmp_path, files=WITH_HIDDEN), "2026-03").totals)
    assert (made["seconds"], made["notes"]) == ("25200", "3")
    assert (made["photos"], made["spent USD"]) == ("1", "8.40")


def test_handed_over_a_hidden_note_is_its_time(tmp_path: Path) -> None:
    """Nothing but the time stays, and a note of that kind alone is taken for a stub."""
    ledger = as_handed_over(read(sealed(tmp_path, files=WITH_HIDDEN)))
    (hidden,) = (note for note in ledger.notes if "gift" in note.path)
    assert (hidden.parts, hidden.photos, len(hidden.hours)) == ((), (), 1)
    assert not is_stub(hidden)
    assert is_stub(replace(hidden, path="notes/2026-03-21-time-only.md"))
    assert is_stub(replace(hidden, path="notes/2026-03-21-time-only-2.md"))
    assert not any(is_stub(note) for note in ledger.notes)
    assert [part.name for part in ledger.parts] == ["AN3-5A bolt"]


def test_a_new_seal_is_compared_with_the_old(tmp_path: Path) -> None:
    """Nothing changed means the same files, sums and roles, whatever the day."""
    root = sealed(tmp_path, "2026-03")
    ledger = read(root)
    asked = Sealing("2026-03", date(2026, 6, 1), amend=True, why="x")
    (old,) = ledger.seals
    assert says_the_same(compose(ledger, asked, ledger.digests), old)
    change(root, "journal.yaml", "Ada: helper", "Ada: paid")
    assert not says_the_same(compose(read(root), asked, ledger.digests), old)


@pytest.mark.parametrize(
    ("asked", "word"),
    [
        (Sealing("2026-03", date(2026, 3, 31)), "is not over on 2026-03-31"),
        (Sealing("2026-03", date(2026, 4, 1)), "is sealed already, in seals/2026-03.txt"),
        (Sealing("2026-05", date(2026, 6, 1)), "no note is dated in 2026-05"),
        (Sealing("2026-06", date(2026, 7, 1)), "2026-04 has notes and is not sealed yet"),
        (Sealing("2026-04", date(2026, 5, 1)), ""),
        (Sealing("2026-04", date(2026, 5, 1), why="x"), "write --amend with it"),
        (Sealing("2026-04", date(2026, 5, 1), amend=True, why="x"), "no seal to amend"),
        (Sealing("2026-03", date(2026, 5, 1), amend=True), "an amendment says why"),
        (Sealing("2026-03", date(2026, 4, 1), amend=True, why="x"), ""),
        (Sealing("2026-02", date(2026, 3, 31)), "cannot be older than the one before it"),
    ],
)
def test_when_a_month_may_be_sealed(tmp_path: Path, asked: Sealing, word: str) -> None:
    """Each reason against sealing is a sentence; without one it may be done."""
    june = "---\nhours: 1h\n---\n"
    files = {**FILES, "notes/2026-06-02.md": june, "notes/2026-02-02.md": "---\ntitle: x\n---\n"}
    root = sealed(tmp_path, files=files)
    seal(root, "2026-02", date(2026, 3, 1))
    seal(root, "2026-03")
    reason = why_not(read(root), asked)
    assert (word in (reason or "")) if word else reason is None


def test_days_after_the_month(tmp_path: Path) -> None:
    """A month sealed on the first of the next was sealed one day after it."""
    assert days_after(seal(sealed(tmp_path), "2026-03")) == 1
