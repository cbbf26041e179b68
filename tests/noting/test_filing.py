"""Filing: names by day and time, each picture once, what is no picture stays and is named."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import pytest

from builderlog.noting.filing import Filed, HowToFile, file_pictures, filed_name, take_away
from builderlog.noting.picture_dates import Dated
from builderlog.storing import moving
from builderlog.storing.refusal import Refused
from tests.command.running import originals
from tests.noting.camera import FIRST, SECOND, journal_with, shot

TODAY = date(2026, 3, 20)
KEEP = HowToFile(remove=False, today=TODAY)
MOVE = HowToFile(remove=True, today=TODAY)


def filed(root: Path, how: HowToFile = MOVE) -> dict[str, Filed]:
    """All of the inbox filed, by name."""
    sources = sorted(file for file in (root / "inbox").rglob("*") if not file.is_dir())
    return {one.source.name: one for one in file_pictures(root, sources, how)}


@pytest.mark.parametrize(
    ("name", "at", "expected"),
    [
        ("IMG_4711.JPG", time(19, 10, 2), "2026-03-14-191002-img-4711.jpg"),
        ("IMG_20260314_191002.jpg", time(19, 10, 2), "2026-03-14-191002-img.jpg"),
        ("2026-03-14-191002-img.jpg", time(19, 10, 2), "2026-03-14-191002-img.jpg"),
        ("2026-03-14.jpeg", None, "2026-03-14.jpg"),
        ("Flügel außen (2).jpg", None, "2026-03-14-flugel-auen-2.jpg"),
        ("x" * 300 + ".jpg", None, f"2026-03-14-{'x' * 40}.jpg"),
    ],
)
def test_names_say_when_and_keep_the_cameras_word(
    name: str, at: time | None, expected: str
) -> None:
    """Day, time, the camera's own word in plain letters, and the ending of what it is."""
    assert filed_name(name, Dated(date(2026, 3, 14), at), "JPEG") == expected


def test_a_picture_is_filed_unaltered_and_leaves_the_inbox(tmp_path: Path) -> None:
    """Its bytes stand in photos/YYYY under its time; the ending tells the kind that it is."""
    data, other = shot(1, FIRST), shot(2, SECOND, "PNG")
    root = journal_with(tmp_path, {"IMG_1.JPG": data, "b.HEIC": other})
    done = filed(root)
    assert done["IMG_1.JPG"].path == "photos/2026/2026-03-14-193000-img-1.jpg"
    assert done["b.HEIC"].path == "photos/2026/2026-03-15-200000-b.png"
    assert (root / "photos/2026/2026-03-14-193000-img-1.jpg").read_bytes() == data
    assert (root / "photos/2026/2026-03-15-200000-b.png").read_bytes() == other
    assert not list((root / "inbox").iterdir())


def test_the_same_picture_twice_is_filed_once(tmp_path: Path) -> None:
    """By its bytes, whatever it is called, in one run and in the next."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "b.jpg": shot(1, FIRST)})
    done = filed(root, KEEP)
    assert done["a.jpg"].path == done["b.jpg"].path
    assert [done[name].was_there for name in ("a.jpg", "b.jpg")] == [False, True]
    assert filed(root, MOVE)["a.jpg"].was_there
    assert len(list((root / "photos/2026").iterdir())) == 1
    assert not list((root / "inbox").iterdir())


def test_names_that_differ_in_case_only_stay_apart(tmp_path: Path) -> None:
    """Two pictures of one second get two names that no file system takes for one."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST), "A.JPG": shot(2, FIRST)})
    names = {one.path for one in filed(root).values()}
    assert names == {f"photos/2026/2026-03-14-193000-a{end}.jpg" for end in ("", "-2")}


def test_what_is_no_picture_stays_and_is_named(tmp_path: Path) -> None:
    """A film, a script with a picture's name, an empty and a broken picture, a link."""
    film = b"\0\0\0\x14ftypqt  \0\0\0\0qt  "
    inbox = {
        "IMG_7.MOV": film,
        "IMG_7.HEIC": shot(7, FIRST, "HEIF") if _heif() else shot(7, FIRST),
        "run.jpg": b"#!/bin/sh\nrm -rf /\n",
        "empty.jpg": b"",
        "cut.jpg": shot(3, FIRST)[:-40],
    }
    root = journal_with(tmp_path, inbox)
    (root / "inbox/link.jpg").symlink_to(root / "photos/skins.jpg")
    done = filed(root)
    told = {name: one.told for name, one in done.items() if one.path is None}
    assert sorted(told) == ["IMG_7.MOV", "cut.jpg", "empty.jpg", "link.jpg", "run.jpg"]
    assert ": a film, no picture" in told["IMG_7.MOV"]
    assert "belongs to the picture of its name" in told["IMG_7.MOV"]
    assert ": a text file, no picture" in told["run.jpg"]
    assert all(f"inbox/{name}" in sentence for name, sentence in told.items())
    assert all(
        (root / "inbox" / name).is_symlink() or (root / "inbox" / name).exists() for name in told
    )


def _heif() -> bool:
    from pillow_heif import register_heif_opener

    register_heif_opener()
    return True


def test_a_clock_that_is_wrong_is_told_and_not_believed(tmp_path: Path) -> None:
    """The picture stays; with a day that was told it is filed under that day."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, "2000-01-01T00:00:09")})
    done = filed(root)["a.jpg"]
    assert done.path is None
    assert done.told.startswith("inbox/a.jpg: its camera's clock says 2000-01-01")
    told = filed(root, HowToFile(remove=True, today=TODAY, day=date(2026, 3, 14)))["a.jpg"]
    assert told.path == "photos/2026/2026-03-14-a.jpg"
    assert "filed under 2026-03-14" in told.told


def test_an_original_of_the_journal_is_its_own_path(tmp_path: Path) -> None:
    """What lies in the journal already is neither copied nor taken away."""
    root = journal_with(tmp_path, {})
    before = originals(root)
    (done,) = file_pictures(root, [root / "photos/skins.jpg"], MOVE)
    assert (done.path, done.was_there) == ("photos/skins.jpg", True)
    assert originals(root) == before


def test_photos_that_lead_elsewhere_are_refused(tmp_path: Path) -> None:
    """A link in the place of the year's folder would take the pictures out of the record."""
    root = journal_with(tmp_path / "journal", {"a.jpg": shot(1, FIRST)})
    (tmp_path / "elsewhere").mkdir()
    (root / "photos/2026").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(Refused, match="link to another place"):
        filed(root)
    assert not list((tmp_path / "elsewhere").iterdir())
    assert (root / "inbox/a.jpg").exists()


def test_a_picture_that_is_still_being_written_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the bytes change between two readings nothing is filed."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})
    copy = moving._copy

    def growing(source: Path, unfinished: Path) -> None:
        source.write_bytes(shot(2, FIRST))
        copy(source, unfinished)

    monkeypatch.setattr(moving, "_copy", growing)
    done = filed(root)["a.jpg"]
    assert done.path is None
    assert "changed while it was read" in done.told
    assert (root / "inbox/a.jpg").exists()


def test_taking_away_waits_for_a_safe_copy(tmp_path: Path) -> None:
    """A copy that was damaged after it was filed keeps the original in the inbox."""
    root = journal_with(tmp_path, {"a.jpg": shot(1, FIRST)})
    done = filed(root, KEEP)["a.jpg"]
    assert done.path
    whole = (root / done.path).read_bytes()
    (root / done.path).write_bytes(whole[:-1])
    assert not take_away(root, done)
    (root / done.path).write_bytes(whole)
    assert take_away(root, done)
    assert not (root / "inbox/a.jpg").exists()
