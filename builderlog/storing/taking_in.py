"""Reads a file that the builder hands to us from anywhere: whole, never more than can be meant."""

from __future__ import annotations

from pathlib import Path

from builderlog.storing.refusal import Refused, refusing

LARGEST_TABLE = 1 << 25  # bytes; no form and no builder's table comes near it


def take_table(file: Path) -> bytes:
    """The bytes of a table. Raises Refused where it cannot be read or is larger than any table."""
    with refusing(f"read {file}"), file.open("rb") as stream:
        data = stream.read(LARGEST_TABLE + 1)
    if len(data) > LARGEST_TABLE:
        raise Refused(
            f"{file} has more than {LARGEST_TABLE} bytes, which no form has; name the table itself"
        )
    return data
