"""What a killed run leaves: a file under our form of name, with the number of its process."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path


def ended() -> int:
    """The number of a process that was there and is gone."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def left_by(process: int, folder: Path, data: bytes, name: str = "a.txt") -> Path:
    """A half-written file of that process."""
    file = folder / f".{name}.builderlog-{process}.tmp"
    file.write_bytes(data)
    return file
