"""The files of a journal, and never a file outside of it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from builderlog.reading.folder import Folder, folded


def lay_out(root: Path, *paths: str) -> None:
    """Files that hold their own path."""
    for path in paths:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(path, encoding="utf-8")


def test_files_are_listed_by_path_in_order(tmp_path: Path) -> None:
    """Paths start at the journal, have `/`, and are sorted."""
    lay_out(tmp_path, "journal.yaml", "notes/b.md", "notes/a/c.md", "photos/ä ü#%.jpg")
    folder = Folder.at(tmp_path)
    assert folder.paths == ("journal.yaml", "notes/a/c.md", "notes/b.md", "photos/ä ü#%.jpg")
    assert folder.read("notes/b.md") == b"notes/b.md"
    assert folder.size("notes/b.md") == 10
    assert (folder.problems, folder.outside) == ((), frozenset())


def test_what_we_write_is_no_part_of_the_journal(tmp_path: Path) -> None:
    """Output folders, hidden names and folders that carry our mark are left out."""
    lay_out(
        tmp_path,
        *("journal.yaml", "published/index.html", "dossier/bagit.txt", ".builderlog/x"),
        *("photos/.hidden.jpg", "elsewhere/index.html", "elsewhere/.builderlog-written.json"),
        *("staged/x", "staged/.builderlog-stage", "notes/published/a.md"),
    )
    assert Folder.at(tmp_path).paths == ("journal.yaml", "notes/published/a.md")


def test_links_are_followed_inside_only(tmp_path: Path) -> None:
    """A link to a file of the journal is that file; any other is listed as outside."""
    root = tmp_path / "journal"
    lay_out(tmp_path, "journal/photos/a.jpg", "secret.txt", "elsewhere/b.jpg")
    links = {
        "photos/inside.jpg": "a.jpg",
        "photos/outside.jpg": "../../secret.txt",
        "photos/broken.jpg": "nowhere.jpg",
        "photos/folder": "../photos",
        "photos/away": str(tmp_path / "elsewhere"),
        "photos/self.jpg": "self.jpg",
    }
    for name, target in links.items():
        (root / name).symlink_to(target)
    folder = Folder.at(root)
    assert folder.paths == ("photos/a.jpg", "photos/inside.jpg")
    assert folder.outside == {name for name in links if name != "photos/inside.jpg"}
    assert folder.read("photos/inside.jpg") == b"journal/photos/a.jpg"


def test_a_journal_reached_by_a_link_is_read(tmp_path: Path) -> None:
    """The journal's own folder may be a link."""
    lay_out(tmp_path, "true/notes/a.md")
    (tmp_path / "true/notes/b.md").symlink_to("a.md")
    (tmp_path / "link").symlink_to("true")
    assert Folder.at(tmp_path / "link").paths == ("notes/a.md", "notes/b.md")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_file(tmp_path: Path) -> None:
    """A named pipe is passed over; opening it would wait for ever."""
    lay_out(tmp_path, "journal.yaml")
    os.mkfifo(tmp_path / "notes.md")
    assert Folder.at(tmp_path).paths == ("journal.yaml",)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("photos/Skin.jpg", "photos/skin.JPG"),
        ("photos/\u00e9.jpg", "photos/e\u0301.jpg"),
        ("Photos/a.jpg", "photos/a.jpg"),
    ],
)
def test_names_that_are_one_name_elsewhere_are_told(
    tmp_path: Path, first: str, second: str
) -> None:
    """Names that differ only in case or in Unicode form are told at the second of them."""
    lay_out(tmp_path, first, second)
    folder = Folder.at(tmp_path)
    if len(folder.paths) < 2:
        pytest.skip("this file system holds them for one name itself")
    ((problem,), later) = folder.problems, max(first, second)
    assert (problem.code, problem.place.path) == ("names-alike", later)
    assert folded(first) == folded(second)


def test_a_name_that_is_not_utf8_is_told(tmp_path: Path) -> None:
    """A name that no note can write is told and passed over."""
    lay_out(tmp_path, "journal.yaml")
    try:
        (Path(os.fsencode(tmp_path).decode()) / os.fsdecode(b"t\xe9.jpg")).write_bytes(b"x")
    except OSError:
        pytest.skip("this file system takes UTF-8 names only")
    folder = Folder.at(tmp_path)
    assert folder.paths == ("journal.yaml",)
    assert [(each.code, each.place.path) for each in folder.problems] == [
        ("name-not-utf8", "t?.jpg")
    ]


def test_stored_names_stand_for_journal_paths(tmp_path: Path) -> None:
    """In a bag a file is listed under its journal path and read where it is stored."""
    lay_out(tmp_path, "photos/50_.jpg", "notes/a.md")
    folder = Folder.at(tmp_path, {"photos/50 %.jpg": "photos/50_.jpg"})
    assert folder.paths == ("notes/a.md", "photos/50 %.jpg")
    assert folder.read("photos/50 %.jpg") == b"photos/50_.jpg"
    assert folder.where("photos/50 %.jpg") == tmp_path / "photos/50_.jpg"


def test_a_folder_can_be_asked_as_if_it_were_otherwise(tmp_path: Path) -> None:
    """Files can be added and taken away in thought; the disk is not touched."""
    lay_out(tmp_path, "notes/a.md", "notes/b.md")
    before = Folder.at(tmp_path)
    after = before.overlaid(["notes/a.md"], {"notes/c.md": b"new", "notes/b.md": b"changed"})
    assert after.paths == ("notes/b.md", "notes/c.md")
    assert (after.read("notes/b.md"), after.size("notes/c.md")) == (b"changed", 3)
    with pytest.raises(KeyError):
        after.where("notes/c.md")
    assert before.paths == ("notes/a.md", "notes/b.md")
    assert before.read("notes/b.md") == b"notes/b.md"


def test_originals_hold_every_folder_that_a_builder_fills(tmp_path: Path) -> None:
    """No output may be written into what stands at the top of the journal, there or not yet."""
    lay_out(tmp_path, "journal.yaml", "drawings/a.pdf")
    tops = {path.name for path in Folder.at(tmp_path).originals()}
    assert {"journal.yaml", "drawings", "notes", "photos", "receipts", "letters"} <= tops
