"""Documents read in this process: what their reader's own process gives, in a tenth of its time."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.handover import pdf_check
from builderlog.handover.pdf_attached import attached


def read_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is attached to a sound document is read here; a broken one is left to its process."""
    apart = pdf_check.attached_to

    def read(file: Path, size: int) -> list[tuple[str, str]]:
        try:
            return attached(file)
        except Exception:  # noqa: BLE001 - whatever it is, the process apart has to tell it
            return apart(file, size)

    monkeypatch.setattr(pdf_check, "attached_to", read)
