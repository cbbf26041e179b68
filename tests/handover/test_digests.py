"""Digests against published values, and that only regular files are opened."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from builderlog.handover.digests import (
    NotRegularError,
    digests_of_bytes,
    digests_of_regular,
    open_regular,
)
from builderlog.handover.fault import printable
from builderlog.storing.copying import PIECE_BYTES

# NIST, example values for the Secure Hash Standard (FIPS 180-4): the message "abc".
ABC_SHA256 = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
ABC_SHA512 = (
    "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
    "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f"
)


def test_digests_are_those_of_the_standard() -> None:
    """The digests of "abc" are the published ones."""
    found = digests_of_bytes(b"abc")
    assert found.by_algorithm == {"sha256": ABC_SHA256, "sha512": ABC_SHA512}
    assert found.size_bytes == 3


def test_pieces_and_the_whole_come_to_the_same(tmp_path: Path) -> None:
    """A file larger than one piece, read in pieces, has the digests of its bytes."""
    data = bytes(range(256)) * 10_000
    assert len(data) > 2 * PIECE_BYTES
    (tmp_path / "file").write_bytes(data)
    assert digests_of_regular(tmp_path / "file") == digests_of_bytes(data)


def test_a_folder_is_not_opened(tmp_path: Path) -> None:
    """A folder in place of a file is an error of the system's kind."""
    with pytest.raises(OSError, match=r".+"):
        open_regular(tmp_path)


@pytest.mark.skipif(not hasattr(os, "O_NOFOLLOW"), reason="this system cannot refuse links")
def test_a_link_is_not_opened(tmp_path: Path) -> None:
    """A link to a good file is refused."""
    (tmp_path / "file").write_bytes(b"x")
    (tmp_path / "link").symlink_to(tmp_path / "file")
    with pytest.raises(OSError, match=r".+"):
        open_regular(tmp_path / "link")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    """A pipe with no writer is refused at once."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(NotRegularError):
        open_regular(tmp_path / "pipe")


@pytest.mark.parametrize(
    ("path", "shown"),
    [
        ("data/caf\u00e9 1.md", "data/caf\u00e9 1.md"),
        ("data/a\nb\x1b[31m", "data/a\\nb\\x1b[31m"),
        ("data/\udcff", "data/\\udcff"),
    ],
)
def test_a_path_is_shown_on_one_line(path: str, shown: str) -> None:
    """Line breaks, terminal codes and bytes that are not UTF-8 are shown as escapes."""
    assert printable(path) == shown
