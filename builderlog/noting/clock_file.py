"""The shop's clock on the disk: `inbox/clock.txt`, which outlives a crash and a restart."""

from __future__ import annotations

from pathlib import Path

from builderlog.noting.clock import CLOCK_FILE, Clock, clock_text, read_clock
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.replacing import replace_original


def clock_of(root: Path) -> Clock:
    """The clock as its file has it, standing and empty where there is none.

    Raises Refused where the file cannot be read, or holds what is no time.
    """
    return read_clock(_text(_data(root)))


def keep_clock(root: Path, clock: Clock) -> None:
    """Writes the clock; whoever calls holds the journal's lock. Lines that begin with # go.

    Raises Refused where it cannot be written; then the file is as it was.
    """
    file, old, new = root / CLOCK_FILE, _data(root), clock_text(clock).encode("utf-8")
    if old is None and new:
        write_new(file, new)
    elif old is not None and read_clock(_text(old)) != clock:
        if new:
            replace_original(file, old, new)
        else:
            with refusing(f"remove {file}"):
                file.unlink()


def _data(root: Path) -> bytes | None:
    with refusing(f"read {root / CLOCK_FILE}"):
        try:
            return (root / CLOCK_FILE).read_bytes()
        except FileNotFoundError:
            return None


def _text(data: bytes | None) -> str:
    try:
        return (data or b"").decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused(f"{CLOCK_FILE} is not UTF-8; save it in the encoding UTF-8") from None
