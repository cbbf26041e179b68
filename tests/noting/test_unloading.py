"""Unloading: each picture to the note of its evening, in an order that loses nothing."""

from __future__ import annotations

import errno
import os
from datetime import date
from pathlib import Path

import pytest

from builderlog.knowing.journal import read_journal
from builderlog.noting import unloading
from builderlog.noting.filing import HowToFile, Seen, look_at
from builderlog.noting.unloading import Handed, Unloading, nearly_same, unload
from builderlog.reading.folder import Folder
from builderlog.storing import moving
from builderlog.storing.refusal import Refused
from tests.command.running import originals, write
from tests.noting.camera import FIRST, SECOND, grained, journal_with, shot

TODAY = date(2026, 4, 20)
SKINS, RIVETS = "notes/2026-03-14-skins.md", "notes/2026-03-15-rivets.md"


def unloaded(root: Path, *, remove: bool = True, pages: bool = False) -> list[Handed]:
    """All of the inbox, handed over."""
    asked, seen = asking(root, remove=remove, pages=pages)
    return list(unload(asked, seen))


def asking(root: Path, *, remove: bool = True, pages: bool = False) -> tuple[Unloading, list[Seen]]:
    """What is asked, and what lies in the inbox."""
    how = HowToFile(remove=remove, today=TODAY, pages=pages)
    sources = sorted(file for file in (root / "inbox").iterdir() if file.is_file())
    return Unloading(root, read_journal(Folder.at(root)), how), list(look_at(root, sources, how))


def photos_of(root: Path, note: str) -> list[str]:
    """The pictures that a note names, in order."""
    notes = read_journal(Folder.at(root)).notes
    return [line.photo.text for one in notes if one.path == note for line in one.photos]


def test_pictures_go_to_the_note_of_their_day(tmp_path: Path) -> None:
    """In the order in which they were taken, after those that the note has already."""
    root = journal_with(tmp_path, {"b.jpg": shot(1, FIRST), "a.jpg": shot(2, FIRST[:-2] + "59")})
    (done,) = unloaded(root)
    assert (done.day, done.note, done.new) == (date(2026, 3, 14), SKINS, 2)
    new = ["photos/2026/2026-03-14-193000-b.jpg", "photos/2026/2026-03-14-193059-a.jpg"]
    assert photos_of(root, SKINS) == ["photos/skins.jpg", *new]
    assert not list((root / "inbox").iterdir())


def test_no_other_byte_of_the_note_changes(tmp_path: Path) -> None:
    """Without the lines of its pictures the note is what it was."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, SECOND)})
    before = (root / RIVETS).read_text()
    unloaded(root)
    after = (root / RIVETS).read_text().splitlines(keepends=True)
    added = [line for line in after if "photos" in line]
    assert added
    assert "".join(line for line in after if line not in added) == before


def test_after_midnight_it_is_still_the_evening_before(tmp_path: Path) -> None:
    """At half past twelve the picture goes to the note of the evening, its name has its day."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2026-03-16T00:30:00")})
    (done,) = unloaded(root)
    assert (done.day, done.note) == (date(2026, 3, 15), RIVETS)
    assert photos_of(root, RIVETS) == ["photos/2026/2026-03-16-003000-a.jpg"]


def test_early_hours_with_a_note_of_their_own_go_there(tmp_path: Path) -> None:
    """Where only the day in the calendar has a note it is the early riser's."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2026-04-02T03:30:00")})
    early = "notes/2026-04-02-early.md"
    write(root, {early: "---\nhours: 3:00-5:00\n---\n"})
    (done,) = unloaded(root)
    assert (done.day, done.note) == (date(2026, 4, 2), early)


def test_of_two_notes_of_a_day_the_nearest_hours_count(tmp_path: Path) -> None:
    """A picture goes to the session in which it was taken."""
    inbox = {"a.jpg": shot(1, "2026-04-02T09:10:00"), "b.jpg": shot(2, "2026-04-02T22:40:00")}
    root = journal_with(tmp_path, inbox)
    morning, evening = "notes/2026-04-02-a.md", "notes/2026-04-02-b.md"
    write(root, {morning: "---\nhours: 8:00-10:00\n---\n"})
    write(root, {evening: "---\ntasks: [{task: W14, hours: 20:00-22:30}]\n---\n"})
    assert [(done.note, done.new) for done in unloaded(root)] == [(morning, 1), (evening, 1)]


def test_a_picture_without_a_note_is_filed_all_the_same(tmp_path: Path) -> None:
    """It is safe in photos/ and gone from the inbox; the answer names no note."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2026-03-18T20:00:00")})
    (done,) = unloaded(root)
    assert (done.day, done.note, done.new) == (date(2026, 3, 18), "", 1)
    assert (root / "photos/2026/2026-03-18-200000-a.jpg").exists()


def test_a_second_run_changes_nothing(tmp_path: Path) -> None:
    """The same card read again gives the same journal, to the byte."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(2, SECOND)})
    unloaded(root, remove=False)
    before = originals(root)
    (done,) = unloaded(root, remove=False)
    assert (done.new, done.again) == (0, 2)
    assert originals(root) == before


def test_a_picture_that_another_note_names_is_not_handed_on(tmp_path: Path) -> None:
    """The builder's own choice of a note stands; the inbox is emptied all the same."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})
    write(root, {"photos/mine.jpg": shot(1, FIRST)})
    write(root, {"notes/2026-04-02-x.md": "---\nphotos: photos/mine.jpg\n---\n"})
    (done,) = unloaded(root)
    assert (done.again, photos_of(root, SKINS)) == (1, ["photos/skins.jpg"])
    assert not list((root / "inbox").iterdir())


def test_the_pictures_of_a_sealed_month_stay(tmp_path: Path) -> None:
    """Nothing is filed and no note touched; the sentence says what can be done."""
    from tests.command.running import run

    root = journal_with(
        tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(2, "2026-03-18T20:00:00")}
    )
    assert run("seal", root, "2026-03", "--on", "2026-04-02").status == 0
    before = originals(root)
    done = unloaded(root)
    assert [one.path for handed in done for one in handed.filed] == [None, None]
    assert all("March 2026 is sealed" in one.told for handed in done for one in handed.filed)
    assert originals(root) == before


def test_a_note_that_cannot_be_changed_keeps_its_pictures_in_the_inbox(tmp_path: Path) -> None:
    """Broken front matter is not guessed at: the note and the inbox stay as they are."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2026-04-02T20:00:00")})
    write(root, {"notes/2026-04-02-x.md": "---\nphotos: [a.jpg\ntitle: }\n"})
    before = originals(root)
    (done,) = unloaded(root)
    assert done.stay == 1
    assert "notes/2026-04-02-x.md cannot be added to" in done.filed[0].told
    assert originals(root) == before


def test_pages_of_a_notebook_say_so(tmp_path: Path) -> None:
    """They stand in the note `as: page`, on the day that the page's name tells."""
    root = journal_with(tmp_path, {"2026-03-15 left.jpg": shot(1, "2026-03-19T12:00:00")})
    unloaded(root, pages=True)
    assert "as: page" in (root / RIVETS).read_text()
    assert photos_of(root, RIVETS) == ["photos/2026/2026-03-15-page-left.jpg"]


def test_nearly_the_same_pictures_are_told(tmp_path: Path) -> None:
    """A smaller copy is filed like any other picture, and the two are named together."""
    inbox = {"a.jpg": grained((320, 240), FIRST), "b.jpg": grained((200, 150), FIRST)}
    root = journal_with(tmp_path, inbox)
    asked, seen = asking(root)
    done = list(unload(asked, seen))
    one, other = (f"photos/2026/2026-03-14-193000-{name}.jpg" for name in "ab")
    assert nearly_same(asked.ledger, seen, done) == ((one, other),)


def test_a_full_disk_loses_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Evenings that were done stay done; all others are in the inbox, and the next run goes on."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(2, SECOND)})
    copy = moving._copy
    copied: list[Path] = []

    def full(source: Path, unfinished: Path) -> None:
        if copied:
            raise OSError(errno.ENOSPC, "No space left on device")
        copied.append(source)
        copy(source, unfinished)

    with monkeypatch.context() as patch:
        patch.setattr(moving, "_copy", full)
        asked, seen = asking(root)
        steps = unload(asked, seen)
        assert next(steps).note == SKINS
        with pytest.raises(Refused, match="No space left on device"):
            next(steps)
    assert [file.name for file in (root / "inbox").iterdir()] == ["b.jpg"]
    assert [done.note for done in unloaded(root)] == [RIVETS]
    assert not list((root / "inbox").iterdir())


def test_a_note_that_cannot_be_written_keeps_the_original(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the disk is full for the note the picture is in photos/ and in the inbox still."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})

    def full(*_: object) -> None:
        raise Refused("could not write the note: No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(unloading, "replace_original", full)
        with pytest.raises(Refused):
            unloaded(root)
    assert (root / "inbox/a.jpg").exists()
    (done,) = unloaded(root)
    assert (done.again, done.note) == (1, SKINS)
    assert len(list((root / "photos/2026").iterdir())) == 1


def test_an_inbox_on_another_file_system_is_emptied(tmp_path: Path) -> None:
    """A link to a folder in memory: copied, verified, removed there."""
    memory = Path("/dev/shm")  # noqa: S108 - the other file system that a Linux machine has
    if not memory.is_dir() or memory.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("there is no second file system on this machine")
    root = journal_with(tmp_path, {})
    other = memory / f"builderlog-test-{os.getpid()}"
    other.mkdir()
    try:
        (other / "a.jpg").write_bytes(shot(1, FIRST))
        (root / "inbox").symlink_to(other)
        (done,) = unloaded(root)
        assert (done.note, list(other.iterdir())) == (SKINS, [])
        assert (root / "photos/2026/2026-03-14-193000-a.jpg").read_bytes() == shot(1, FIRST)
    finally:
        for file in other.iterdir():
            file.unlink()
        other.rmdir()


def test_a_picture_that_a_note_names_in_the_inbox_stays(tmp_path: Path) -> None:
    """Moved away, the builder's own line would lead nowhere."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})
    write(root, {"notes/2026-04-02-x.md": "---\nphotos: inbox/a.jpg\n---\n"})
    before = originals(root)
    (done,) = unloaded(root)
    assert "notes/2026-04-02-x.md names it where it lies" in done.filed[0].told
    assert originals(root) == before


def test_a_read_only_note_keeps_its_pictures_in_the_inbox(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Other evenings go on; the builder's mark on the note stands."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(2, SECOND)})
    monkeypatch.setattr(os, "access", lambda file, _mode: Path(file).name != Path(SKINS).name)
    done = unloaded(root)
    assert [(one.note, one.new, one.stay) for one in done] == [(SKINS, 0, 1), (RIVETS, 1, 0)]
    assert "read-only" in done[0].filed[0].told


def test_a_card_that_cannot_be_written_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The picture is in the journal and in its note; that its original stays is said."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})

    def locked(*_: object) -> bool:
        raise Refused("could not take away inbox/a.jpg: Read-only file system")

    monkeypatch.setattr(unloading, "take_away", locked)
    (done,) = unloaded(root)
    assert (done.new, done.note) == (1, SKINS)
    assert "its original stays: could not take away" in done.filed[0].told
