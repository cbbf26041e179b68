"""Holds how a form becomes a note: pictures filed, snags numbered, the clock settled, once."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.bench import workplace
from builderlog.bench.bulletin import Bulletin
from builderlog.bench.inbox import Inbox
from builderlog.bench.live_journal import LiveJournal
from builderlog.bench.workplace import Outcome, Workplace
from builderlog.noting.clock_file import clock_of
from builderlog.storing import lock
from builderlog.storing.lock import hold
from builderlog.storing.refusal import Refused
from tests.bench_server.made_desk import laid
from tests.bench_server.serving import evening
from tests.command.small_journal import jpeg


@pytest.fixture
def place(tmp_path: Path) -> Workplace:
    """The workplace of the small journal, with two pictures in its inbox."""
    root = laid(tmp_path / "journal")
    (root / "inbox").mkdir()
    for shade in (40, 200):
        (root / f"inbox/{shade}.jpg").write_bytes(jpeg(shade))
    return Workplace(LiveJournal(root, root / ".builderlog", Bulletin()), Inbox(root), evening)


def form(**more: str) -> dict[str, tuple[str, ...]]:
    """A form that can be written."""
    fields = {"day": "2026-03-16", "hours:Ines": "2h", "task-1": "W14", **more}
    return {name.replace("_", "-"): (value,) for name, value in fields.items()}


def notes(place: Workplace) -> int:
    """How many notes there are."""
    return len(list(place.root.rglob("*.md")))


def written(place: Workplace, outcome: Outcome) -> str:
    """The text of the note that came of it."""
    assert outcome.path, outcome.kept
    return (place.root / outcome.path).read_text()


def test_snags_get_their_numbers(place: Workplace) -> None:
    """The file says what the record calls them, as after `note`."""
    text = written(place, place.write(form(snag_1="Scratch on rib 2", snag_1_at="W14"), []))
    assert "no: 2026-03-16.1" in text
    assert place.live.now.ledger.snags[-1].note.startswith("notes/2026/2026-03-16")


def test_pictures_leave_the_inbox_with_the_note(place: Workplace) -> None:
    """Under photos/, on the note's day, bytes unchanged; what is not attached stays."""
    text = written(place, place.write(form(picture_1="40.jpg", picture_1_attach="yes"), []))
    filed = list(place.root.glob("photos/2026/2026-03-16*.jpg"))
    assert [file.read_bytes() for file in filed] == [jpeg(40)]
    assert filed[0].name in text
    assert [file.name for file in place.root.glob("inbox/*")] == ["200.jpg"]


@pytest.mark.parametrize("name", ["../journal.yaml", "/etc/passwd", "no.jpg", ".hidden.jpg"])
def test_a_picture_that_is_not_there_is_told(place: Workplace, name: str) -> None:
    """Nothing but a picture of the inbox can be attached; nothing is written."""
    outcome = place.write(form(picture_1=name, picture_1_attach="yes"), [])
    assert outcome.kept is not None
    assert "not in the inbox" in outcome.kept.told[0].message
    assert (notes(place), (place.root / "journal.yaml").exists()) == (1, True)


def test_a_form_is_written_once(place: Workplace) -> None:
    """Sent twice, as by a double click, it is one note; without its word it is another one."""
    paths = [place.write(form(once=word), []).path for word in ("a", "a", "b")]
    assert paths[0] == paths[1] != paths[2]
    assert notes(place) == 3


def test_a_form_may_ask_for_its_pictures_only(place: Workplace) -> None:
    """The form comes back with a row for each; nothing is written."""
    outcome = place.write(form(do="attach"), ["40.jpg"])
    assert outcome.kept is not None
    assert outcome.kept.fields["picture-1"] == ("40.jpg",)
    assert notes(place) == 1


def test_a_busy_journal_keeps_the_form(place: Workplace, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where another program writes for long, all that was typed comes back with a sentence."""
    monkeypatch.setattr(lock, "PATIENCE_SECONDS", 0.05)
    with hold(place.live.cache, "the journal"):
        outcome = place.write(form(text="kept"), [])
    assert outcome.kept is not None
    assert outcome.kept.fields["text"] == ("kept",)
    assert "busy" in outcome.kept.told[0].message
    assert notes(place) == 1


def test_a_full_disk_loses_nothing(place: Workplace, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the note cannot be written the pictures stay in the inbox, and the form is kept."""

    def full(*_words: object) -> str:
        raise Refused("could not write the note: No space left on device")

    monkeypatch.setattr(workplace, "write_note", full)
    asked = form(picture_1="40.jpg", picture_1_attach="yes")
    outcome = place.write(asked, [])
    assert outcome.kept is not None
    assert "No space left" in outcome.kept.told[0].message
    assert (place.root / "inbox/40.jpg").read_bytes() == jpeg(40)
    monkeypatch.undo()
    assert "photos/2026/2026-03-16" in written(place, place.write(asked, []))
    assert len(list(place.root.glob("photos/**/*.jpg"))) == 1
    assert not (place.root / "inbox/40.jpg").exists()


def test_what_goes_wrong_after_the_note_does_not_write_it_twice(
    place: Workplace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The note is there, so the form is not shown again, whatever else could not be done."""

    def refuse(*_words: object) -> bool:
        raise Refused("could not take away the picture")

    monkeypatch.setattr(workplace, "take_away", refuse)
    assert place.write(form(picture_1="40.jpg", picture_1_attach="yes"), []).path
    assert notes(place) == 2


def test_the_clock_is_stopped_with_the_note(place: Workplace) -> None:
    """Its span is in the hours, and no other note is offered it."""
    place.turn_clock("start")
    (place.root / "inbox/clock.txt").write_text("2026-03-16 20:30-\n")
    fields = {**form(clock="yes"), "hours:Ines": ("",)}
    assert "20:30-22:30" in written(place, place.write(fields, []))
    clock = clock_of(place.root)
    assert (clock.since, clock.spans) == (None, ())
