"""Files that we made among the builder's own: one changed by hand is left as it is."""

from __future__ import annotations

from pathlib import Path

from builderlog.storing.made_files import LIST_NAME, MadeFiles
from tests.storing.left_behind import ended, left_by

PATH = "letters/2026-03.txt"


def made(root: Path) -> MadeFiles:
    """The list as the next run reads it."""
    return MadeFiles(root / ".builderlog")


def test_our_own_file_is_written_anew(tmp_path: Path) -> None:
    """What stands there as we wrote it, may be replaced."""
    assert made(tmp_path).write(tmp_path, PATH, b"one")
    assert made(tmp_path).write(tmp_path, PATH, b"two")
    assert (tmp_path / PATH).read_bytes() == b"two"


def test_a_file_changed_by_hand_is_left_alone(tmp_path: Path) -> None:
    """Not a byte of it is lost until the builder asks for it."""
    made(tmp_path).write(tmp_path, PATH, b"one")
    (tmp_path / PATH).write_bytes(b"mine")
    assert not made(tmp_path).write(tmp_path, PATH, b"two")
    assert (tmp_path / PATH).read_bytes() == b"mine"
    assert made(tmp_path).write(tmp_path, PATH, b"two", anyway=True)
    assert made(tmp_path).write(tmp_path, PATH, b"three")


def test_a_lost_list_takes_nothing_on_trust(tmp_path: Path) -> None:
    """Without the list a file is ours only where it is what would be written now."""
    made(tmp_path).write(tmp_path, PATH, b"one")
    (tmp_path / ".builderlog" / LIST_NAME).write_text("[not, json")
    assert not made(tmp_path).write(tmp_path, PATH, b"two")
    assert made(tmp_path).write(tmp_path, PATH, b"one")
    assert made(tmp_path).write(tmp_path, PATH, b"two")


def test_a_file_that_was_deleted_is_made_again(tmp_path: Path) -> None:
    """A file that is not there is nobody's."""
    made(tmp_path).write(tmp_path, PATH, b"one")
    (tmp_path / PATH).unlink()
    assert made(tmp_path).write(tmp_path, PATH, b"two")


def test_what_a_killed_run_left_goes_although_nothing_is_to_be_written(tmp_path: Path) -> None:
    """Letters that are the same as before take away what lies half written beside them."""
    made(tmp_path).write(tmp_path, PATH, b"one")
    left = left_by(ended(), (tmp_path / PATH).parent, b"half")
    assert made(tmp_path).write(tmp_path, PATH, b"one")
    assert not left.exists()
