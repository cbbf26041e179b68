"""Seals the example's months anew, as its builder did: one month too early, and then amended.

Run it after a change to a note of a sealed month: `python -m tests.example.seal_months`. A
builder amends instead; the example has to show what a record looks like that was sealed in time.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from builderlog.command.main import main as builderlog

JOURNAL = Path(__file__).parents[2] / "example_journal"
FORGOTTEN = JOURNAL / "notes/2026/2026-01-21-primer.md"
RECEIPT = ", receipt: receipts/2026-01-16-larch-and-pell.pdf"
WHY = "the receipt of Larch & Pell was found in a coat; the note names it now"
SEALED = (
    ("2026-01", "2026-02-03"),
    ("2026-02", "2026-03-04"),
    ("2026-03", "2026-04-06"),
)


def main() -> None:
    """Writes seals/ anew; the note is as it was when the script ends."""
    shutil.rmtree(JOURNAL / "seals", ignore_errors=True)
    whole = FORGOTTEN.read_bytes()
    FORGOTTEN.write_bytes(whole.replace(RECEIPT.encode(), b""))
    try:
        for month, day in SEALED:
            seal(month, "--on", day)
    finally:
        FORGOTTEN.write_bytes(whole)
    seal("2026-01", "--amend", "--why", WHY, "--on", "2026-04-11")
    seal("2026-04", "--on", "2026-05-04")
    seal("2026-05", "--on", "2026-06-01")


def seal(month: str, *words: str) -> None:
    """One month; raises where it is refused."""
    status = builderlog(["seal", str(JOURNAL), month, *words])
    if status:
        raise SystemExit(status)


if __name__ == "__main__":
    main()
