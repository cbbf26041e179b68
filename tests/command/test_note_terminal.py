"""`note` as the builder has it: a terminal of 80 columns, an editor, a question, three lines."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
import termios
from pathlib import Path

import pytest

from tests.command.small_journal import write_small

pytestmark = pytest.mark.slow
EDITOR = """\
#!/bin/sh
sed -i -e 's/^hours: $/hours: 2h/' -e 's/^next: $/next: dimple: the nose/' "$1"
"""


def converse(words: list[str], typed: bytes, env: dict[str, str]) -> tuple[int, list[str]]:
    """Runs a command on a terminal, types once it asks, and gives the lines that it printed."""
    ours, theirs = pty.openpty()
    termios.tcsetwinsize(theirs, (24, 80))
    environment = {key: value for key, value in os.environ.items() if key != "COLUMNS"}
    process = subprocess.Popen(
        [sys.executable, "-m", "builderlog", *words],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**environment, "TERM": "dumb", **env},
    )
    os.close(theirs)
    shown, answered = b"", False
    while chunk := _read(ours):
        shown += chunk
        if b"[Y/n]" in shown and not answered:
            os.write(ours, typed)
            answered = True
    os.close(ours)
    return process.wait(), shown.decode().replace("\r\n", "\n").split("\n")


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:
        return b""


def test_a_note_on_a_terminal(tmp_path: Path) -> None:
    """The editor is called, the mended line is offered and written on Enter, in 80 columns."""
    root = write_small(tmp_path / "journal")
    editor = tmp_path / "an editor"
    editor.write_text(EDITOR)
    editor.chmod(0o755)
    words = ["note", str(root), "--on", "2026-04-10"]
    status, lines = converse(words, b"\n", {"VISUAL": f"'{editor}'"})
    assert status == 0, lines
    assert 'next: "dimple: the nose"' in (root / "notes/2026/2026-04-10.md").read_text()
    assert any(line.startswith("Write it so? [Y/n]") for line in lines)
    assert "April 2026: 2 h on 1 day" in "\n".join(lines).replace("\N{NO-BREAK SPACE}", " ")
    assert max(map(len, lines)) <= 80


def test_no_editor_on_a_terminal(tmp_path: Path) -> None:
    """Where the editor is missing the sentence says what to do, and no note is begun."""
    root = write_small(tmp_path / "journal")
    status, lines = converse(["note", str(root)], b"", {"VISUAL": "no-such-editor"})
    assert status == 2
    assert "VISUAL is 'no-such-editor', which is no program here" in " ".join(lines)
    assert not (root / "notes/2026").exists()
