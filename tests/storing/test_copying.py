"""Copying with digests: the bytes, the published values, and what differs by one byte."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from builderlog.storing.copying import (
    ALGORITHMS,
    PIECE_BYTES,
    copy_with_digests,
    digests_if_same,
)

SIZES = (0, 1, PIECE_BYTES - 1, PIECE_BYTES, 2 * PIECE_BYTES + 3)


def data_of(size: int) -> bytes:
    """Bytes of no short period."""
    return bytes(number * number % 251 for number in range(size))


@pytest.mark.parametrize("size", SIZES)
def test_a_copy_has_the_bytes_and_the_digests(tmp_path: Path, size: int) -> None:
    """Whatever the size, the copy is the same and both digests are those of the library."""
    data = data_of(size)
    (tmp_path / "one").write_bytes(data)
    digests = copy_with_digests(tmp_path / "one", tmp_path / "two")
    assert (tmp_path / "two").read_bytes() == data
    expected = {name: hashlib.new(name, data).hexdigest() for name in ALGORITHMS}
    assert (digests.by_algorithm, digests.size_bytes) == (expected, size)
    assert digests_if_same(tmp_path / "one", tmp_path / "two") == digests


@pytest.mark.parametrize("place", [0, PIECE_BYTES, 2 * PIECE_BYTES + 2])
def test_one_other_byte_is_not_the_same(tmp_path: Path, place: int) -> None:
    """A file of the same size that differs in one byte anywhere is another."""
    data = bytearray(data_of(2 * PIECE_BYTES + 3))
    (tmp_path / "one").write_bytes(data)
    data[place] ^= 1
    (tmp_path / "two").write_bytes(data)
    assert digests_if_same(tmp_path / "one", tmp_path / "two") is None


def test_a_copy_never_goes_over_a_file(tmp_path: Path) -> None:
    """Where a file stands already, nothing is copied."""
    (tmp_path / "one").write_bytes(b"1")
    (tmp_path / "two").write_bytes(b"2")
    with pytest.raises(FileExistsError):
        copy_with_digests(tmp_path / "one", tmp_path / "two")
    assert (tmp_path / "two").read_bytes() == b"2"
