"""A table that is handed to us is read whole, or refused with a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.storing import taking_in
from builderlog.storing.refusal import Refused


def test_a_table_is_read(tmp_path: Path) -> None:
    """The bytes come as they are."""
    (tmp_path / "a.csv").write_bytes(b"date\r\n\xff")
    assert taking_in.take_table(tmp_path / "a.csv") == b"date\r\n\xff"


def test_what_cannot_be_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that is not there, a folder, and one larger than any table."""
    monkeypatch.setattr(taking_in, "LARGEST_TABLE", 4)
    (tmp_path / "large").write_bytes(b"12345")
    for name in ("absent", ".", "large"):
        with pytest.raises(Refused):
            taking_in.take_table(tmp_path / name)
