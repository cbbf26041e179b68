"""Runs commands as a builder does: in this process, or for a terminal and a pipe in another."""

from __future__ import annotations

import hashlib
import io
import os
import pty
import subprocess
import sys
import termios
from collections.abc import Mapping
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from builderlog.command.main import main

OURS = (".builderlog", "published", "dossier")


@dataclass(frozen=True, slots=True)
class Said:
    """What a command printed, and its exit status."""

    status: int
    out: str
    err: str


def run(*words: str | Path) -> Said:
    """Runs one command line in this process, its output in a pipe."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([str(word) for word in words])
        except SystemExit as leave:
            status = int(leave.code or 0)
    return Said(status, out.getvalue(), err.getvalue())


def start(*words: str | Path, env: Mapping[str, str] | None = None) -> Said:
    """Runs one command line in a process of its own; what it adds to the environment is `env`."""
    command = [sys.executable, "-m", "builderlog", *map(str, words)]
    done = subprocess.run(
        command,
        check=False,
        capture_output=True,
        stdin=subprocess.DEVNULL,
        env={**os.environ, **(env or {})},
    )
    return Said(done.returncode, done.stdout.decode(), done.stderr.decode())


def show(*words: str | Path, env: Mapping[str, str] | None = None) -> Said:
    """Runs one command line on a terminal of 80 columns; `out` is all that came to the screen."""
    ours, theirs = pty.openpty()
    termios.tcsetwinsize(theirs, (24, 80))
    environment = {key: value for key, value in os.environ.items() if key != "COLUMNS"}
    process = subprocess.Popen(
        [sys.executable, "-m", "builderlog", *map(str, words)],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**environment, "TERM": "xterm", **(env or {})},
    )
    os.close(theirs)
    shown = b""
    while chunk := _read(ours):
        shown += chunk
    os.close(ours)
    return Said(process.wait(), shown.decode().replace("\r\n", "\n"), "")


def _read(terminal: int) -> bytes:
    """What the terminal got; nothing once the last writer has left (EIO)."""
    try:
        return os.read(terminal, 65536)
    except OSError:
        return b""


def write(root: Path, files: Mapping[str, str | bytes]) -> Path:
    """Writes files below `root`, which is returned."""
    for path, data in files.items():
        file = root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data if isinstance(data, bytes) else data.encode())
    return root


def digests(root: Path, *left_out: str) -> dict[str, str]:
    """SHA-256 of every file below a folder by path; links by what they lead to."""
    found = {}
    for file in sorted(root.rglob("*")):
        path = file.relative_to(root).as_posix()
        if path.split("/")[0] in left_out or (left_out and "/.builderlog/" in path):
            continue
        if file.is_symlink():
            found[path] = f"link to {file.readlink()}"
        elif file.is_file():
            found[path] = hashlib.sha256(file.read_bytes()).hexdigest()
    return found


def originals(root: Path) -> dict[str, str]:
    """The digests of what the builder owns in a journal."""
    return digests(root, *OURS)


def stamps(root: Path) -> dict[str, tuple[str, int]]:
    """Digest and time of change (ns) of every file below a folder."""
    return {
        path: (digest, (root / path).lstat().st_mtime_ns) for path, digest in digests(root).items()
    }
