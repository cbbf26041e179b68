"""An evening in the shop for tests of `note`: a made-up hour, an editor by script, answers."""

from __future__ import annotations

import io
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest

from builderlog.command import note, note_session
from tests.command.running import Said, run

NIGHT = "2026-04-10 22:30"


@dataclass(frozen=True, slots=True)
class Evening:
    """A shop at a given hour: `note` there, as if somebody sat at its terminal."""

    root: Path
    patch: pytest.MonkeyPatch
    folder: Path

    def at(self, now: str) -> None:
        """The hour on the wall."""
        moment = datetime.fromisoformat(now)
        self.patch.setattr(note, "wall_clock", lambda: moment)

    def edits(self, *scripts: str) -> None:
        """What the editor does to its file (`file`, a Path), one script each time it is opened."""
        for number, script in enumerate(scripts):
            (self.folder / f"edit-{number}.py").write_text(script)
        opened = self.folder / "opened"
        opened.write_text("0")

        def edit(_editor: tuple[str, ...], file: Path, line: int) -> bool:
            number = int(opened.read_text())
            opened.write_text(f"{number + 1}")
            words = {"file": file, "line": line, "ended": True}
            exec(scripts[min(number, len(scripts) - 1)], words)  # noqa: S102 - our own script
            return bool(words["ended"])

        self.patch.setattr(note_session, "edit", edit)
        self.patch.setattr(note_session, "find_editor", lambda _: ("an editor",))
        self.patch.setattr(note, "on_terminal", lambda: True)

    def opened(self) -> int:
        """How often the editor was opened."""
        return int((self.folder / "opened").read_text())

    def answers(self, *words: str) -> None:
        """What is typed at the questions."""
        typed = io.StringIO("".join(f"{word}\n" for word in words))
        self.patch.setattr(sys, "stdin", typed)

    def note(self, *words: str | Path) -> Said:
        """Runs `note` on the journal; no-break spaces come as common ones."""
        said = run("note", self.root, *words)
        out, err = (text.replace("\N{NO-BREAK SPACE}", " ") for text in (said.out, said.err))
        return Said(said.status, out, err)

    def text(self, name: str) -> str:
        """A note of April 2026."""
        return (self.root / "notes/2026" / f"{name}.md").read_text()
