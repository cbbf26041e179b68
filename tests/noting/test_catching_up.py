"""Catching up: every picture comes into the note of its evening, once, and nothing else changes."""

from __future__ import annotations

import hashlib
import random
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from builderlog.knowing.journal import read_journal
from builderlog.noting import catching_up
from builderlog.noting.catching_up import catch_up
from builderlog.noting.new_note import NewNote
from builderlog.noting.writing import write_note
from builderlog.reading.folder import Folder
from builderlog.storing.refusal import Refused
from tests.command.running import originals, run, write
from tests.command.small_journal import JOURNAL, write_small
from tests.noting.camera import shot

TODAY = date(2026, 11, 27)


def caught_up(root: Path) -> list[str]:
    """What is said of catching up."""
    return list(catch_up(root, TODAY))


def photos(root: Path) -> dict[str, list[str]]:
    """The pictures of each note."""
    notes = read_journal(Folder.at(root)).notes
    return {note.path: [line.photo.text for line in note.photos] for note in notes}


def test_a_note_is_laid_out(tmp_path: Path) -> None:
    """Pictures that no note names come into a new note of their evening, written today."""
    root = write_small(tmp_path)
    write(
        root,
        {
            "photos/a.jpg": shot(1, "2026-04-02T19:10:00"),
            "photos/b.jpg": shot(2, "2026-04-03T00:05:00"),
        },
    )
    before = originals(root)
    said = caught_up(root)
    assert said[0] == "2026-04-02: 2 pictures in a new note, notes/2026/2026-04-02.md"
    text = (root / "notes/2026/2026-04-02.md").read_text()
    assert (
        "photos: [photos/a.jpg, photos/b.jpg]\nwritten: 2026-11-27\n# hours: 19:10-0:05  #" in text
    )
    assert {path: one for path, one in originals(root).items() if path in before} == before


def test_twice_is_once(tmp_path: Path) -> None:
    """A second run changes nothing and says so."""
    root = write(write_small(tmp_path), {"photos/a.jpg": shot(1, "2026-04-02T19:10:00")})
    caught_up(root)
    before = originals(root)
    assert caught_up(root) == ["every picture in photos/ stands in a note already"]
    assert originals(root) == before


def test_a_note_of_the_day_gets_its_pictures(tmp_path: Path) -> None:
    """Where the evening has a note the picture is added there, and no note is made."""
    root = write(write_small(tmp_path), {"photos/a.jpg": shot(1, "2026-03-16T01:00:00")})
    assert caught_up(root) == ["2026-03-15: 1 picture to notes/2026-03-15-rivets.md"]
    assert photos(root)["notes/2026-03-15-rivets.md"] == ["photos/a.jpg"]


def test_a_day_that_ends_at_another_hour(tmp_path: Path) -> None:
    """`day ends` says until when it is still the evening before."""
    root = write(write_small(tmp_path), {"photos/a.jpg": shot(1, "2026-04-03T01:00:00")})
    (root / "journal.yaml").write_text(f"{JOURNAL}day ends: 0:30\n")
    caught_up(root)
    assert (root / "notes/2026/2026-04-03.md").exists()


def test_a_sealed_month_is_left(tmp_path: Path) -> None:
    """No note is added to a sealed month, and the pictures are told."""
    root = write_small(tmp_path)
    assert run("seal", root, "2026-03").status == 0
    write(root, {"photos/a.jpg": shot(1, "2026-03-20T19:00:00")})
    before = originals(root)
    (said,) = caught_up(root)
    assert said.startswith("March 2026 is sealed")
    assert "photos/a.jpg is left" in said
    assert originals(root) == before


def test_pictures_without_a_day_or_broken(tmp_path: Path) -> None:
    """They are told and left; a day in the name counts where the camera's cannot be believed."""
    root = write_small(tmp_path)
    broken = shot(3, "2026-04-02T19:00:00")[:200]
    write(
        root,
        {
            "photos/IMG_1.jpg": shot(1),
            "photos/2026/2026-04-02-x.jpg": shot(2, "2000-01-01T00:00:00"),
            "photos/broken.jpg": broken,
        },
    )
    said = caught_up(root)
    assert "photos/broken.jpg" in said[0]
    assert said[1].startswith("photos/IMG_1.jpg: no believable day")
    assert photos(root)["notes/2026/2026-04-02.md"] == ["photos/2026/2026-04-02-x.jpg"]


def test_a_note_that_cannot_be_changed_is_told(tmp_path: Path) -> None:
    """A note with broken words is left as it is, and the other evenings are caught up."""
    root = write_small(tmp_path, broken="---\ndate: 2026-04-01\nphotos: [a\n---\n")
    write(
        root,
        {
            "photos/a.jpg": shot(1, "2026-04-01T19:00:00"),
            "photos/b.jpg": shot(2, "2026-04-05T19:00:00"),
        },
    )
    before = (root / "notes/2026-04-01-broken.md").read_bytes()
    said = caught_up(root)
    assert "notes/2026-04-01-broken.md: 1 picture of 2026-04-01 cannot be added here" in said[0]
    assert (root / "notes/2026-04-01-broken.md").read_bytes() == before
    assert (root / "notes/2026/2026-04-05.md").exists()


def test_a_page_comes_to_the_day_that_was_told(tmp_path: Path) -> None:
    """A page photographed later, and filed under its own day, is a page of that day's note."""
    root = write_small(tmp_path)
    pages = {"2026-04-02": shot(1, "2026-05-20T19:00:00"), "2026-03-15": shot(2)}
    write(root, {f"inbox/{day} left.jpg": data for day, data in pages.items()})
    (root / "inbox/2026-03-15 left.jpg").rename(root / "photos/2026-03-15-page-left.jpg")
    assert run("unload", root, "--as-pages", "--catch-up", "--on", "2026-11-27").status == 0
    text = (root / "notes/2026/2026-04-02.md").read_text()
    assert "photos:\n  - {photo: photos/2026/2026-04-02-page-left.jpg, as: page}\n" in text
    assert "# " not in text
    text = (root / "notes/2026-03-15-rivets.md").read_text()
    assert "{photo: photos/2026-03-15-page-left.jpg, as: page}" in text


def test_a_run_that_was_stopped_is_finished(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a full disk half-way the next run lays out the rest, and nothing twice."""
    days = [f"2026-04-{day:02}" for day in range(2, 7)]
    root = write_small(tmp_path)
    write(root, {f"photos/{day}.jpg": shot(at, f"{day}T19:00:00") for at, day in enumerate(days)})
    written: list[str] = []

    def fails(root: Path, note: NewNote, taken: Iterable[str]) -> str:
        if len(written) == 2:
            raise Refused("cannot write: no space left on device")
        written.append(write_note(root, note, taken))
        return written[-1]

    monkeypatch.setattr(catching_up, "write_note", fails)
    with pytest.raises(Refused):
        caught_up(root)
    monkeypatch.undo()
    caught_up(root)
    found = photos(root)
    assert [found[f"notes/2026/{day}.md"] for day in days] == [
        [f"photos/{day}.jpg"] for day in days
    ]


def eight_months() -> dict[str, bytes]:
    """400 camera pictures by name: evenings from the first of March on, some past midnight."""
    chance = random.Random(5)
    made: dict[str, bytes] = {}
    evening = datetime(2026, 3, 1, 18, 30)  # noqa: DTZ001 - a camera's own clock
    while len(made) < 400:
        at = evening + timedelta(minutes=chance.randrange(120))
        for _ in range(chance.randint(1, 6)):
            data = shot(len(made), at.isoformat())
            made[f"IMG_{len(made):04}.jpg"] = data + len(made).to_bytes(2, "big")
            at += timedelta(minutes=chance.randrange(5, 80))
        evening += timedelta(days=chance.choice((1, 1, 2, 2, 4)))
    return dict(list(made.items())[:400])


@pytest.mark.slow
def test_eight_months_of_a_camera_in_one_sitting(tmp_path: Path) -> None:
    """400 pictures become one note an evening: dates right, each once, and twice is once."""
    pictures = eight_months()
    root = write(tmp_path, {"journal.yaml": f"{JOURNAL}started: 2026-03-01\n"})
    write(root, {f"inbox/{name}": data for name, data in pictures.items()})
    said = run("unload", root, "--catch-up", "--on", "2026-11-27")
    assert (said.status, said.err) == (0, "")
    filed = [hashlib.sha256(file.read_bytes()).hexdigest() for file in root.glob("photos/*/*")]
    assert sorted(filed) == sorted(hashlib.sha256(data).hexdigest() for data in pictures.values())
    ledger = read_journal(Folder.at(root))
    assert sorted(line.photo.text for note in ledger.notes for line in note.photos) == sorted(
        file.relative_to(root).as_posix() for file in root.glob("photos/*/*")
    )
    taken = {picture.path: picture.file.taken for picture in ledger.pictures}
    for note in ledger.notes:
        for line in note.photos:
            moment = datetime.fromisoformat(str(taken[line.photo.text])) - timedelta(hours=4)
            assert moment.date() == note.day
        assert note.written
        assert note.written.day == TODAY
    assert len({note.day for note in ledger.notes}) == len(ledger.notes) > 100
    before = originals(root)
    assert run("unload", root, "--catch-up", "--on", "2026-11-28").status == 0
    assert originals(root) == before
    told = run("check", root).out.splitlines()
    assert len([line for line in told if " only-pictures: " in line]) == len(ledger.notes)
    assert [line for line in told if " no-caption: " in line] == []
