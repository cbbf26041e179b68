"""`unload` as a builder runs it: what it says, what it leaves, and what it refuses."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from builderlog.storing import moving
from builderlog.storing.lock import hold
from tests.command.running import digests, originals, run, show, write
from tests.noting.camera import FIRST, SECOND, grained, journal_with, shot

ON = ("--on", "2026-04-20")


def test_it_says_what_became_of_each(tmp_path: Path) -> None:
    """A line an evening, what stays and why, what looks alike, and the sum; no word more."""
    inbox = {
        "IMG_1.JPG": shot(1, FIRST),
        "IMG_1 (1).JPG": shot(1, FIRST),
        "a.jpg": grained((320, 240), SECOND),
        "b.jpg": grained((200, 150), SECOND),
        "c.jpg": shot(2, "2026-03-18T20:00:00"),
        "d.jpg": shot(3, "2000-01-01T00:00:00"),
        "e.jpg": shot(4, "2000-01-01T00:00:00"),
        "list.pdf": b"%PDF-1.4",
        "clock.txt": b"# the shop's clock\n",
        ".DS_Store": b"x",
    }
    root = journal_with(tmp_path, inbox)
    said = run("unload", root, *ON)
    assert (said.status, said.err) == (0, "")
    alike = " and ".join(f"photos/2026/2026-03-15-200000-{name}.jpg" for name in "ab")
    why = "its camera's clock says 2000-01-01, where a clock begins that was never set"
    what = "write its day into its name, as in 2026-03-14-spar.jpg, or say it with --day 2026-03-14"
    left = "builderlog unload --catch-up lays out notes for their days"
    assert said.out.splitlines() == [
        "2026-03-14: 2 pictures to notes/2026-03-14-skins.md",
        "2026-03-15: 2 pictures to notes/2026-03-15-rivets.md",
        "stays: inbox/list.pdf: a PDF document, no picture that can be filed",
        f"stays: inbox/d.jpg, inbox/e.jpg: {why}; {what}",
        f"{alike} are nearly the same; both are kept",
        "4 pictures filed, 1 in the journal already, 3 files stay where they are",
        "1 picture of 2026-03-18: filed, and there is no note of that day yet",
        f"1 picture in photos/ is in no note yet; {left}",
    ]
    names = sorted(file.name for file in (root / "inbox").iterdir())
    assert names == [".DS_Store", "clock.txt", "d.jpg", "e.jpg", "list.pdf"]


def test_the_same_is_said_once_for_many(tmp_path: Path) -> None:
    """Of many pictures from before the project one line tells the first and the last day."""
    inbox = {f"{n}.jpg": shot(n, f"1990-0{n}-14T20:00:00") for n in range(1, 10)}
    said = run("unload", journal_with(tmp_path, inbox), *ON)
    (line,) = (line for line in said.out.splitlines() if line.startswith("stays: "))
    assert line.startswith("stays: inbox/1.jpg, inbox/2.jpg")
    assert "inbox/8.jpg and 1 more: its camera's clock says 1990-01-14 to 1990-09-14" in line


def test_a_full_disk_says_that_nothing_is_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was done is told, then what the system says, and what to do."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(2, SECOND)})
    copy = moving._copy

    def full(source: Path, unfinished: Path) -> None:
        if source.name == "b.jpg":
            raise OSError(errno.ENOSPC, "No space left on device")
        copy(source, unfinished)

    monkeypatch.setattr(moving, "_copy", full)
    said = run("unload", root, *ON)
    assert said.status == 2
    assert said.out.startswith("2026-03-14: 1 picture to notes/2026-03-14-skins.md\n")
    assert "No space left on device; what is not filed is where it was" in said.err
    assert (root / "inbox/b.jpg").exists()


def test_an_empty_inbox_is_no_trouble(tmp_path: Path) -> None:
    """Nothing to do is said in one line, with or without the folder."""
    root = journal_with(tmp_path, {})
    assert run("unload", root, *ON).out == "no pictures filed\n"


def test_a_card_is_left_as_it_is(tmp_path: Path) -> None:
    """Its pictures are copied; with --move they go, and what could not be filed stays there."""
    root = journal_with(tmp_path / "journal", {"mine.jpg": shot(9, FIRST)})
    card = write(tmp_path / "card", {"DCIM/1.jpg": shot(1, FIRST), "DCIM/film.mov": b"\0" * 40})
    before = digests(card)
    said = run("unload", root, "--from", card, *ON)
    assert "all are still where they came from" in said.out
    assert digests(card) == before
    assert (root / "inbox/mine.jpg").exists()
    again = run("unload", root, "--from", card, "--move", *ON)
    assert "no pictures filed, 1 in the journal already" in again.out
    assert list(digests(card)) == ["DCIM/film.mov"]


def test_catching_up_lays_out_a_note(tmp_path: Path) -> None:
    """A day with pictures and no note has both after it, and a second run changes nothing."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2026-03-18T20:00:00")})
    run("unload", root, "--catch-up", *ON)
    (note,) = (root / "notes").rglob("2026-03-18*.md")
    assert "photos/2026/2026-03-18-200000-a.jpg" in note.read_text()
    before = originals(root)
    assert run("unload", root, "--catch-up", *ON).status == 0
    assert originals(root) == before


def test_a_notebook_is_caught_up_page_by_page(tmp_path: Path) -> None:
    """Old pages, photographed today, come into notes of the days in their names, as pages."""
    pages = {f"2025-08-0{day} page.jpg": shot(day, "2026-04-19T10:00:00") for day in (3, 4)}
    root = journal_with(tmp_path, pages)
    said = run("unload", root, "--as-pages", "--catch-up", *ON)
    assert (said.status, said.err) == (0, "")
    for day in ("2025-08-03", "2025-08-04"):
        (note,) = (root / "notes").rglob(f"{day}*.md")
        assert f"{{photo: photos/2025/{day}-page-page.jpg, as: page}}" in note.read_text()


def test_a_day_that_was_told_helps(tmp_path: Path) -> None:
    """With --day a picture without a date is filed under it and goes to its note."""
    root = journal_with(tmp_path, {"scan.jpg": shot(1)})
    said = run("unload", root, "--day", "2026-03-15", *ON)
    assert "inbox/scan.jpg: it holds no date; it is filed under 2026-03-15" in said.out
    assert "photos/2026/2026-03-15-scan.jpg" in (root / "notes/2026-03-15-rivets.md").read_text()


@pytest.mark.parametrize(
    ("source", "told"),
    [
        ("nowhere", "does not exist"),
        ("journal/journal.yaml", "is a file"),
        (".", "holds the journal itself"),
        ("journal/photos", "belongs to the journal"),
    ],
)
def test_a_folder_that_is_no_card_is_refused(tmp_path: Path, source: str, told: str) -> None:
    """Nothing is touched, and the sentence says what is wrong with the folder."""
    root = journal_with(tmp_path / "journal", {"a.jpg": shot(1, FIRST)})
    before = originals(root)
    said = run("unload", root, "--from", tmp_path / source, *ON)
    assert said.status == 2
    assert told in said.err
    assert originals(root) == before


def test_moving_needs_a_place_to_move_from(tmp_path: Path) -> None:
    """--move alone would promise what happens anyway."""
    said = run("unload", journal_with(tmp_path, {}), "--move")
    assert (said.status, "--from" in said.err) == (2, True)


def test_a_journal_that_is_being_written_is_busy(tmp_path: Path) -> None:
    """While another holds the lock nothing is filed."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})
    with hold(root / ".builderlog", "the journal"):
        said = run("unload", root, *ON)
    assert (said.status, "is busy" in said.err) == (2, True)
    assert (root / "inbox/a.jpg").exists()


@pytest.mark.slow
def test_it_fits_a_terminal(tmp_path: Path) -> None:
    """On a terminal of 80 columns no line is wider."""
    inbox = {f"a-picture-with-a-long-name-{n}.jpg": shot(n) for n in range(11)}
    said = show("unload", journal_with(tmp_path, inbox), *ON)
    assert said.status == 0
    assert "and 3 more" in " ".join(said.out.split())
    assert max(len(line) for line in said.out.splitlines() if "\x1b" not in line) <= 80
