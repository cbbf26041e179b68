"""Holds the journal as it stands on the disk: what a saving changes, and what a mistake leaves."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from builderlog.bench.bulletin import Bulletin
from builderlog.bench.live_journal import JournalNow, LiveJournal
from builderlog.bench.live_site import LiveSite, live_site
from builderlog.command.publish import COMMAND
from tests.bench_server.made_desk import laid
from tests.command.running import run, write
from tests.command.small_journal import write_small

NOTE = "notes/2026-03-14-skins.md"
OTHER = "notes/2026-03-15-rivets.md"
PAGE = "notes/2026-03-14-skins.html"
OTHER_PAGE = "notes/2026-03-15-rivets.html"


@dataclass
class Told(Bulletin):
    """A bulletin that keeps what it is told."""

    events: list[tuple[str, object]] = field(default_factory=list)

    def tell(self, name: str, data: object) -> None:
        """Keeps it."""
        self.events.append((name, data))


@pytest.fixture
def told() -> Told:
    """What open pages would hear."""
    return Told()


@pytest.fixture
def live(tmp_path: Path, told: Told) -> LiveJournal:
    """The small journal, read."""
    root = write_small(tmp_path / "journal")
    return LiveJournal(root, root / ".builderlog", told)


def page(live: LiveJournal, path: str) -> str:
    """A page of the live site."""
    assert live.now.site
    return live.now.site.draw(path, live.store).decode()


def codes(now: JournalNow) -> set[str]:
    """The codes of the mistakes."""
    return {each.code for each in now.problems if each.weight == "mistake"}


def change(live: LiveJournal, path: str, old: str, new: str) -> JournalNow:
    """Saves a file with other words in it, and looks."""
    file = live.root / path
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new))
    return live.look()


def test_the_live_site_is_what_publish_writes(live: LiveJournal, tmp_path: Path) -> None:
    """Every file of it has the same bytes, and there is no other one."""
    assert COMMAND.word == "publish"
    assert run("publish", live.root, "--out", tmp_path / "out").status == 0
    published = {
        file.relative_to(tmp_path / "out").as_posix(): file.read_bytes()
        for file in (tmp_path / "out").rglob("*")
        if file.is_file() and not file.name.startswith(".")
    }
    site = live.now.site
    assert site
    assert {path: site.draw(path, live.store) for path in site.marks} == published


def test_looking_without_a_change_does_nothing(live: LiveJournal, told: Told) -> None:
    """A file that was touched, or saved with the same words, tells nobody anything."""
    before = live.now
    file = live.root / NOTE
    file.write_bytes(file.read_bytes())
    assert live.look() is before
    assert told.events == []


def test_a_saved_note_changes_its_own_pages(live: LiveJournal, told: Told) -> None:
    """Words change the note's page; the one beside it stays as it is."""
    change(live, NOTE, "Straight within", "Very straight within")
    site = dict(told.events)["site"]
    assert isinstance(site, dict)
    assert site["page"] == PAGE
    assert PAGE in site["changed"]
    assert OTHER_PAGE not in site["changed"]
    assert "Very straight" in page(live, PAGE)


def test_a_mistake_leaves_the_last_good_page(live: LiveJournal, told: Told) -> None:
    """It is told with its place; the page stays, other notes stay live, and mending shows."""
    change(live, NOTE, "Ines: 3h15", "Ines: all day")
    assert codes(live.now) == {"unreadable"}
    problems = dict(told.events)["problems"]
    assert isinstance(problems, list)
    assert (problems[0]["path"], problems[0]["line"], problems[0]["weight"]) == (NOTE, 4, "mistake")
    assert "site" not in dict(told.events)
    assert "3" in page(live, PAGE)
    change(live, OTHER, "All in.", "All of them in.")
    assert "All of them in." in page(live, OTHER_PAGE)
    assert "Straight within" in page(live, PAGE)
    change(live, NOTE, "Ines: all day", "Ines: 4h15")
    assert codes(live.now) == set()
    assert "4" in page(live, PAGE)


@pytest.mark.parametrize("path", ["journal.yaml", "worklist.yaml"])
def test_broken_settings_leave_the_site(live: LiveJournal, path: str) -> None:
    """The site stays as it was while journal.yaml or the work list is broken or away."""
    before = page(live, "index.html")
    text = (live.root / path).read_text()
    (live.root / path).write_text("[broken")
    assert codes(live.look())
    assert page(live, "index.html") == before
    (live.root / path).write_text(text)
    assert not codes(live.look())
    assert page(live, "index.html") == before


def test_a_picture_that_goes_away_leaves_the_page(live: LiveJournal) -> None:
    """The note's page stays with its picture until the note, or the picture, is mended."""
    before = page(live, PAGE)
    (live.root / "photos/skins.jpg").rename(live.root / "skins.jpg.kept")
    assert codes(live.look())
    assert page(live, PAGE) == before
    (live.root / "skins.jpg.kept").rename(live.root / "photos/skins.jpg")
    assert not codes(live.look())


def test_a_note_that_is_deleted_is_gone(live: LiveJournal) -> None:
    """Without a mistake in the journal no page outlives its note."""
    (live.root / OTHER).unlink()
    live.look()
    assert live.now.site
    assert OTHER_PAGE not in live.now.site.marks


def test_a_broken_look_leaves_the_site(live: LiveJournal) -> None:
    """A fault in the journal's own template is told with its place; the pages stay."""
    before = page(live, PAGE)
    write(live.root, {"look/style/broken.css": "a {}", "look/note.html": "{% if %}"})
    live.look()
    assert live.now.problems[0].code == "theme"
    assert live.now.problems[0].place.path == "look/note.html"
    assert page(live, PAGE) == before
    (live.root / "look/note.html").unlink()
    assert "theme" not in codes(live.look())


def test_a_journal_that_begins_with_a_mistake_shows_the_rest(tmp_path: Path) -> None:
    """The note with the mistake has no page yet; all others have."""
    root = write_small(tmp_path / "journal", late="---\ndate: 2026-04-01\nhours: long\n---\n")
    live = LiveJournal(root, root / ".builderlog", Bulletin())
    assert live.now.site
    assert PAGE in live.now.site.marks
    assert "notes/2026-04-01-late.html" not in live.now.site.marks


def test_a_private_note_is_on_no_page(tmp_path: Path) -> None:
    """The live site is the friends' site: what they do not see is not on it, saved or not."""
    root = laid(tmp_path / "journal")
    live = LiveJournal(root, root / ".builderlog", Bulletin())
    note = "---\ndate: 2026-03-16\nhours: 1h\nprivate: yes\n---\nA marker word.\n"
    write(root, {"notes/2026/2026-03-16.md": note})
    live.look()
    assert live.now.site
    assert not [path for path in live.now.site.marks if "2026-03-16" in path]
    for path in live.now.site.marks:
        assert b"A marker word" not in live.now.site.draw(path, live.store)


def test_a_file_that_goes_while_it_is_read_ends_nothing(
    live: LiveJournal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A part of the look that was there a moment ago is looked for again."""
    gone = [FileNotFoundError("look/own.css")]

    def once_gone(*given: Any) -> LiveSite:  # noqa: ANN401 - as it is given
        if gone:
            raise gone.pop()
        return live_site(*given)

    monkeypatch.setattr("builderlog.bench.live_journal.live_site", once_gone)
    change(live, NOTE, "Skins", "New skins")
    assert not gone
    assert "New skins" in page(live, PAGE)
