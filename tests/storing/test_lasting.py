"""Makes names last, also where a file system cannot be asked for it."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from builderlog.storing.lasting import keep_names


def failing(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on the disk answers with an error."""

    def fail(_descriptor: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fail)


def test_a_folder_that_cannot_be_asked_is_no_trouble(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A network folder or a stick does without, and the folder is closed again."""
    failing(errno.EINVAL, monkeypatch)
    before = sum(1 for _ in Path("/dev/fd").iterdir())
    keep_names(tmp_path)
    assert sum(1 for _ in Path("/dev/fd").iterdir()) == before


def test_a_disk_that_fails_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the disk could not write is never passed over."""
    failing(errno.EIO, monkeypatch)
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        keep_names(tmp_path)
