"""`note` in an editor: prefilled, tidied, mended on a yes, and taken up again after a crash."""

from __future__ import annotations

from pathlib import Path

from builderlog.storing.begun import hold_begun
from tests.command.evening import Evening
from tests.command.running import write
from tests.noting.camera import shot

TODAY = "2026-04-10"
NOTE = f"notes/2026/{TODAY}.md"


def put(old: str, new: str) -> str:
    """A script for the editor: other words in the place of these."""
    return f"file.write_text(file.read_text().replace({old!r}, {new!r}, 1))\n"


def test_an_evening_in_the_editor(evening: Evening) -> None:
    """The clock's span stands ready, a task counts once its sign is away, the rest vanishes."""
    evening.note("--start", "--at", "20:30")
    evening.edits(
        put("  # - {task: W15", "  - {task: W15")
        + put("title: ", "title: Rivets, all of them")
        + put("snags: \n", "snags: \n  - nick in the skin\n")
        + "file.write_text(file.read_text() + 'All in.\\n')\n"
    )
    said = evening.note()
    assert (said.status, said.err) == (0, "")
    assert evening.text(TODAY) == (
        "---\ndate: 2026-04-10\ntitle: Rivets, all of them\nhours: 20:30-22:30\n"
        "tasks:\n  - W15\nsnags:\n  - {snag: nick in the skin, no: 2026-04-10.1}\n---\n\nAll in.\n"
    )
    assert said.out.splitlines() == [
        "The clock is stopped: 20:30-22:30",
        f"Written: {evening.root}/{NOTE}",
        "2 h tonight (Ines): W15 2 h",
        "April 2026: 2 h on 1 day",
        "In all: 9 h 30 min",
    ]
    assert not (evening.root / "inbox/clock.txt").exists()


def test_pictures_of_the_evening_are_named(evening: Evening) -> None:
    """From inbox/ and photos/; those of other days stay and are told."""
    night, other = shot(40, "2026:04:10 21:00:00"), shot(80, "2026:04:02 21:00:00")
    write(
        evening.root,
        {
            "inbox/a.jpg": night,
            "inbox/b.jpg": other,
            "photos/2026/c.jpg": shot(120, "2026:04:11 01:00:00"),
        },
    )
    evening.edits(put("caption: ", "caption: Held, with clecos"))
    said = evening.note()
    assert said.status == 0
    assert evening.text(TODAY) == (
        "---\ndate: 2026-04-10\nphotos:\n  - photo: photos/2026/2026-04-10-210000-a.jpg\n"
        "    caption: Held, with clecos\n"
        "  - photo: photos/2026/c.jpg\n---\n\n"
    )
    assert "1 more picture in inbox/, not of this evening: builderlog unload" in said.out
    assert [file.name for file in (evening.root / "inbox").iterdir()] == ["b.jpg"]


def test_a_picture_that_a_note_has_is_not_named_again(evening: Evening) -> None:
    """Left in the inbox by a crash after it was filed and named, it only leaves the inbox."""
    write(evening.root, {"inbox/a.jpg": shot(40, "2026-04-10T21:00:00")})
    evening.edits(put("title: ", "title: One"))
    evening.note()
    write(evening.root, {"inbox/a.jpg": shot(40, "2026-04-10T21:00:00")})
    evening.note()
    assert "photos" not in evening.text(f"{TODAY}-2")
    assert [*(evening.root / "inbox").iterdir()] == []


def test_words_of_the_command_line_open_in_the_editor(evening: Evening, tmp_path: Path) -> None:
    """`--edit` puts hours, task and picture into the draft, beside what the evening has."""
    (tmp_path / "b.jpg").write_bytes(shot(7))
    write(evening.root, {"inbox/a.jpg": shot(40, "2026-04-10T21:00:00")})
    evening.edits(put("title: ", "title: Two"))
    picture = tmp_path / "b.jpg"
    evening.note("--edit", "--hours", "1h", "--photo", picture, "--caption", "Held, all")
    assert evening.text(TODAY) == (
        "---\ndate: 2026-04-10\ntitle: Two\nhours: 1h\nphotos:\n"
        "  - photo: photos/2026/2026-04-10-b.jpg\n    caption: Held, all\n"
        "  - photo: photos/2026/2026-04-10-210000-a.jpg\n---\n\n"
    )


def test_a_draft_left_alone_is_offered_to_go(evening: Evening) -> None:
    """Unchanged it is deleted on Enter; kept on no, without what stood ready."""
    evening.edits("")
    evening.answers("")
    said = evening.note()
    assert "You left the note as it was made." in said.out
    assert not (evening.root / NOTE).exists()
    assert [*(evening.root / ".builderlog/begun").iterdir()] == []
    evening.answers("n")
    assert evening.note().status == 0
    assert evening.text(TODAY) == "---\ndate: 2026-04-10\n---\n\n"


def test_a_draft_with_the_clocks_time_stays_on_enter(evening: Evening) -> None:
    """What the clock or the pictures tell is not deleted by a key pressed in a hurry."""
    evening.note("--start", "--at", "20:30")
    evening.edits("")
    evening.answers("")
    assert evening.note().status == 0
    assert "hours: 20:30-22:30\n" in evening.text(TODAY)
    evening.note("--start", "--at", "22:30")
    evening.at(f"{TODAY} 23:30")
    evening.answers("y")
    assert "is deleted" in evening.note().out
    assert not (evening.root / "notes/2026" / f"{TODAY}-2.md").exists()
    assert "2026-04-10 22:30-23:30" in (evening.root / "inbox/clock.txt").read_text()


def test_a_mistake_with_one_meaning_is_mended_on_a_yes(evening: Evening) -> None:
    """The mended line is shown, and written when Enter is pressed."""
    evening.edits(put("next: ", "next: dimple: the nose") + put("hours: ", "hours: 1h"))
    evening.answers("")
    said = evening.note()
    assert said.status == 0
    assert 'next: "dimple: the nose"' in said.out
    assert 'next: "dimple: the nose"\n' in evening.text(TODAY)
    assert "1 h tonight" in said.out
    assert evening.opened() == 1


def test_other_mistakes_open_the_editor_again(evening: Evening) -> None:
    """A mistake is told by line; the editor opens again until there is none."""
    evening.edits(put("hours: ", "hours: soon"), put("hours: soon", "hours: 2h"))
    evening.answers("y")
    said = evening.note()
    assert said.status == 0
    assert f"{NOTE}:3:8: unreadable: 'soon' is not a length of time" in said.out
    assert "2 h tonight" in said.out
    assert evening.opened() == 2


def test_mistakes_may_stay_for_tomorrow(evening: Evening) -> None:
    """On no the note stays as it is, with exit status 1; nothing of it is lost."""
    evening.edits(put("hours: ", "hours: soon"))
    evening.answers("n")
    said = evening.note()
    assert said.status == 1
    assert "It has mistakes and does not count yet" in said.out
    assert "hours: soon\n" in evening.text(TODAY)


def test_an_editor_that_fails_leaves_the_draft(evening: Evening) -> None:
    """The draft stays; the next `note` opens it again instead of making a second one."""
    evening.edits(put("title: ", "title: Half a title") + "ended = False\n", "")
    said = evening.note()
    assert said.status == 2
    assert "ended with a fault; the note stays as it is" in said.err
    again = evening.note()
    assert again.status == 0
    assert f"{NOTE} was begun and never finished; it opens again" in again.out
    assert "title: Half a title\n" in evening.text(TODAY)
    assert "# " not in evening.text(TODAY)
    assert [file.name for file in (evening.root / "notes/2026").iterdir()] == [f"{TODAY}.md"]


def test_another_note_of_that_name_is_not_taken_for_the_draft(evening: Evening) -> None:
    """A draft that was deleted by hand is forgotten, whatever note has its name by now."""
    evening.edits("ended = False\n", put("title: ", "title: Second"))
    evening.note()
    (evening.root / NOTE).unlink()
    evening.note("--say", "On.")
    assert evening.note().status == 0
    assert evening.text(TODAY) == "---\ndate: 2026-04-10\n---\nOn.\n"
    assert "title: Second\n" in evening.text(f"{TODAY}-2")


def test_a_draft_of_another_evening_is_told(evening: Evening) -> None:
    """What a crash left of another evening is named, with the word that opens it again."""
    evening.edits("ended = False\n", "ended = False\n", put("title: ", "title: Yesterday"))
    evening.note()
    evening.at("2026-04-11 22:00")
    said = evening.note()
    assert f"{NOTE} was begun and never finished: builderlog note --on 2026-04-10" in said.out
    assert evening.note("--on", "2026-04-10").status == 0
    assert "title: Yesterday\n" in evening.text(TODAY)


def test_two_at_once_are_two_notes(evening: Evening) -> None:
    """While one draft is in an editor, another `note` makes a note of its own."""
    evening.edits(put("title: ", "title: The first"))
    write(evening.root, {NOTE: "---\ndate: 2026-04-10\n---\n"})
    with hold_begun(evening.root / ".builderlog", NOTE) as begun:
        begun.keep(b"as begun")
        assert evening.note().status == 0
    assert evening.text(TODAY) == "---\ndate: 2026-04-10\n---\n"
    assert "title: The first" in evening.text(f"{TODAY}-2")


def test_a_note_that_was_moved_is_told(evening: Evening) -> None:
    """Moved away under the editor's hands, nothing is made in its place."""
    evening.edits("file.rename(file.with_name('2026-04-10-mine.md'))\n")
    said = evening.note()
    assert (said.status, "is gone: moved or deleted" in said.err) == (2, True)
    assert [file.name for file in (evening.root / "notes/2026").iterdir()] == ["2026-04-10-mine.md"]


def test_a_row_that_still_has_its_sign_is_told(evening: Evening) -> None:
    """Who writes into a row without taking its sign away is told that it does not count."""
    evening.edits(put("W15, hours: ", "W15, hours: 2h"))
    said = evening.note()
    assert "does not count, take its # away if it should: # - {task: W15, hours: 2h" in said.out


def test_a_note_of_another_evening(evening: Evening) -> None:
    """`--on` takes the words of that evening, and says when it was written."""
    evening.edits(put("hours: ", "hours: 1h"))
    said = evening.note("--on", "2026-03-16", "--edit", "--task", "W14")
    assert said.status == 0
    assert "1 h on 16 March 2026 (Ines): W14 1 h" in said.out
    assert evening.text("2026-03-16") == (
        "---\ndate: 2026-03-16\nhours: 1h\ntasks:\n  - W14\nwritten: 2026-04-10\n---\n\n"
    )


def test_a_latin_letter_does_not_stop_the_rest(evening: Evening) -> None:
    """An editor that saves in another encoding loses nothing; the byte is told by line."""
    evening.edits("file.write_bytes(file.read_bytes() + b'gr\\xfcn\\n')\n")
    evening.answers("n")
    said = evening.note()
    assert said.status == 1
    assert "not-utf8" in said.out
    assert (evening.root / NOTE).read_bytes().endswith(b"gr\xfcn\n")
