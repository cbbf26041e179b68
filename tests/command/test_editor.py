"""The builder's editor: which one, at which line, and what it says when it fails."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from builderlog.command.editor import confirmed, edit, find_editor
from builderlog.storing.refusal import Refused


def program(folder: Path, name: str, script: str) -> Path:
    """A program that runs a shell script."""
    folder.mkdir(exist_ok=True)
    file = folder / name
    file.write_text(f"#!/bin/sh\n{script}\n")
    file.chmod(0o755)
    return file


def test_visual_comes_before_editor_before_the_usual_ones(tmp_path: Path) -> None:
    """VISUAL, EDITOR with its words, then what is there of the usual ones."""
    mine = program(tmp_path / "bin", "mine", "")
    program(tmp_path / "bin", "vi", "")
    path = {"PATH": str(tmp_path / "bin")}
    both = {**path, "VISUAL": f"{mine} --wait 'a b'", "EDITOR": "other"}
    assert find_editor(both) == (str(mine), "--wait", "a b")
    assert find_editor({**path, "VISUAL": " ", "EDITOR": str(mine)}) == (str(mine),)
    assert find_editor(path) == ("vi",)


@pytest.mark.parametrize(
    ("environment", "told"),
    [
        ({}, "no editor was found; name yours, as in: export EDITOR=nano; or say it without"),
        ({"EDITOR": "/no/such"}, "EDITOR is '/no/such', which is no program here"),
        ({"VISUAL": "vi 'open"}, "VISUAL is 'vi 'open', which is no program here"),
    ],
)
def test_no_editor_is_told(environment: dict[str, str], told: str, tmp_path: Path) -> None:
    """Where there is none, or none of that name, the sentence says what to write."""
    with pytest.raises(Refused) as refused:
        find_editor({"PATH": str(tmp_path), **environment})
    assert told in str(refused.value)


def test_the_editor_gets_line_and_file(tmp_path: Path) -> None:
    """Editors that know lines are taken to one; the others get the file alone."""
    note = tmp_path / "note.md"
    note.write_text("---\n")
    known = program(
        tmp_path / "bin", "nano", 'echo "$@" >> "$(dirname "$0")/said"; sed -i s/-/+/ "$2"'
    )
    other = program(
        tmp_path / "bin", "mine", 'echo "$@" >> "$(dirname "$0")/said"; sed -i s/-/+/ "$1"'
    )
    assert edit((str(known),), note, 4)
    assert edit((str(other),), note, 4)
    assert (tmp_path / "bin/said").read_text() == f"+4,80 {note}\n{note}\n"


def test_an_editor_that_fails_or_cannot_start(tmp_path: Path) -> None:
    """A status other than 0 is no saving; what is no program is refused."""
    note = tmp_path / "note.md"
    note.write_text("---\n")
    assert not edit((str(program(tmp_path / "bin", "cq", "exit 1")),), note, 1)
    (tmp_path / "bin/bad").write_text("\x7fELF")
    (tmp_path / "bin/bad").chmod(0o755)
    with pytest.raises(Refused, match="cannot be started"):
        edit((str(tmp_path / "bin/bad"),), note, 1)


def test_an_editor_with_a_window_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One that comes back at once with nothing changed is waited for until Enter."""
    note = tmp_path / "note.md"
    note.write_text("---\n")
    typed = io.StringIO("\nnext\n")
    monkeypatch.setattr(sys, "stdin", typed)
    assert edit((str(program(tmp_path / "bin", "window", "")),), note, 1)
    assert "came back at once. Press Enter" in capsys.readouterr().out
    assert typed.readline() == "next\n"


@pytest.mark.parametrize(
    ("typed", "usual", "yes"),
    [
        *(("y\n", False, True), ("NO\n", True, False), ("\n", True, True), ("\n", False, False)),
        *(("", True, False), ("perhaps\nyes\n", False, True)),
    ],
)
def test_questions(
    monkeypatch: pytest.MonkeyPatch,
    typed: str,
    usual: bool,  # noqa: FBT001
    yes: bool,  # noqa: FBT001
) -> None:
    """Enter is the usual answer, the end of the input is no, anything else is asked again."""
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    assert confirmed("Mend it?", usual=usual) is yes
