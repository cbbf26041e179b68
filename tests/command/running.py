"""Runs commands as a builder does: in this process, for a terminal too, or in another."""

from __future__ import annotations

import hashlib
import io
import os
import pty
import subprocess
import sys
import termios
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from typing import TextIO, cast

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
        status = _status_of(words)
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
    """Runs one command line on a terminal of 80 columns; `out` is all that came to the screen.

    In this process: its three standard files are the terminal's for as long as the command runs.
    """
    ours, theirs = pty.openpty()
    termios.tcsetwinsize(theirs, (24, 80))
    screen: list[bytes] = []
    reader = Thread(target=_read_all, args=(ours, screen))
    reader.start()
    try:
        with _surroundings({"TERM": "xterm", **(env or {})}), _on_terminal(theirs):
            status = _status_of(words)
    finally:
        os.close(theirs)
        reader.join()
        os.close(ours)
    return Said(status, b"".join(screen).decode().replace("\r\n", "\n"), "")


def _status_of(words: Iterable[str | Path]) -> int:
    try:
        return main([str(word) for word in words])
    except SystemExit as leave:
        return int(leave.code or 0)


@contextmanager
def _surroundings(env: Mapping[str, str]) -> Iterator[None]:
    """The environment with these words in it, and with no width but the terminal's own."""
    before = dict(os.environ)
    os.environ.pop("COLUMNS", None)
    os.environ.update(env)
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)


@contextmanager
def _on_terminal(terminal: int) -> Iterator[None]:
    """Standard input, output and errors of this process are a terminal."""
    kept = [os.dup(number) for number in range(3)]
    named = (sys.stdin, sys.stdout, sys.stderr)
    for number in range(3):
        os.dup2(terminal, number)
    with _wrapped(0, "r") as stdin, _wrapped(1, "w") as out:
        sys.stdin, sys.stdout, sys.stderr = stdin, out, out
        try:
            yield
        finally:
            sys.stdin, sys.stdout, sys.stderr = named
            out.flush()
            for number, old in enumerate(kept):
                os.dup2(old, number)
                os.close(old)


def _wrapped(number: int, mode: str) -> TextIO:
    return cast("TextIO", open(number, mode, encoding="utf-8", closefd=False))


def _read_all(terminal: int, screen: list[bytes]) -> None:
    """What the terminal gets, until its last writer has left (EIO)."""
    try:
        while chunk := os.read(terminal, 65536):
            screen.append(chunk)
    except OSError:
        return


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
