"""The clock on the disk: lines that a builder can read, and no file where it holds nothing."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from builderlog.noting.clock import CLOCK_FILE, Clock
from builderlog.noting.clock_file import clock_of, keep_clock
from builderlog.storing.refusal import Refused

RUNS = Clock(since=datetime(2026, 3, 14, 19, 10))  # noqa: DTZ001 - a wall clock


def test_the_clock_outlives_the_program(tmp_path: Path) -> None:
    """What is kept is read again; a clock that holds nothing leaves no file."""
    assert clock_of(tmp_path) == Clock()
    keep_clock(tmp_path, RUNS)
    assert clock_of(tmp_path) == RUNS
    assert (tmp_path / CLOCK_FILE).read_text().endswith("\n2026-03-14 19:10-\n")
    keep_clock(tmp_path, Clock())
    assert not (tmp_path / CLOCK_FILE).exists()
    keep_clock(tmp_path, Clock())


def test_a_clock_that_says_the_same_is_left_as_it_is(tmp_path: Path) -> None:
    """The builder's own comments stay while nothing changes."""
    file = tmp_path / CLOCK_FILE
    file.parent.mkdir()
    file.write_text("# mine\n2026-03-14 19.10 -\n")
    keep_clock(tmp_path, RUNS)
    assert file.read_text() == "# mine\n2026-03-14 19.10 -\n"


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    """Bytes that are no UTF-8 are named, and stay."""
    (tmp_path / "inbox").mkdir()
    (tmp_path / CLOCK_FILE).write_bytes(b"\xff\xfe")
    with pytest.raises(Refused, match=r"clock\.txt is not UTF-8"):
        clock_of(tmp_path)
