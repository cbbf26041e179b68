"""The builder's editor, and short questions on the terminal."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

from builderlog.command.terminal import say
from builderlog.storing.refusal import Refused

USUAL = ("sensible-editor", "editor", "nano", "micro", "vim", "vi", "emacs")
TAKE_A_LINE = (*USUAL, "nvim", "pico", "joe", "mcedit", "kak", "ne")  # they know +4
FAR_RIGHT = 80  # a column beyond which nothing stands
AT_ONCE_SECONDS = 1.0
WITHOUT = (
    "say it without an editor, as in: builderlog note --hours 2h30 --task W14 --say 'what was done'"
)


def on_terminal() -> bool:
    """True where somebody can be asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def find_editor(environment: Mapping[str, str]) -> tuple[str, ...]:
    """The words that call the editor: VISUAL, EDITOR, or the first usual one that is there.

    Raises Refused where there is none.
    """
    for name in ("VISUAL", "EDITOR"):
        if written := environment.get(name, "").strip():
            return _named(name, written)
    for program in USUAL:
        if shutil.which(program, path=environment.get("PATH")):
            return (program,)
    raise Refused(f"no editor was found; name yours, as in: export EDITOR=nano; or {WITHOUT}")


def _named(name: str, written: str) -> tuple[str, ...]:
    try:
        words = shlex.split(written)
    except ValueError:
        words = []
    if not words or not shutil.which(words[0]):
        raise Refused(
            f"{name} is '{written}', which is no program here; name one that is, "
            f"as in: export {name}=nano; or {WITHOUT}"
        )
    return tuple(words)


def edit(editor: tuple[str, ...], file: Path, line: int) -> bool:
    """Opens the file at a line and waits; False where the editor says that it failed.

    An editor that comes back at once while its window stays open is waited for.
    """
    at = _at_line(editor[0], line)
    before, began = file.read_bytes(), time.monotonic()
    try:
        done = subprocess.run([*editor, *at, str(file)], check=False)  # noqa: S603 - asked for
    except OSError as error:
        raise Refused(f"{editor[0]} cannot be started: {error.strerror}") from error
    if done.returncode:
        return False
    if time.monotonic() - began < AT_ONCE_SECONDS and file.exists() and file.read_bytes() == before:
        say(f"{editor[0]} came back at once. Press Enter when the note is saved.", sys.stdout)
        sys.stdin.readline()
    return True


def _at_line(program: str, line: int) -> tuple[str, ...]:
    """The word that takes the cursor to the end of a line, or as near as this editor can."""
    true_name = Path(os.path.realpath(shutil.which(program) or program)).name
    if "nano" in (true_name, Path(program).name):
        return (f"+{line},{FAR_RIGHT}",)
    known = Path(program).name in TAKE_A_LINE or true_name.startswith(("vim", "emacs"))
    return (f"+{line}",) if known else ()


def confirmed(question: str, *, usual: bool) -> bool:
    """Asks on the terminal; Enter alone is the usual answer, the end of the input is no."""
    while True:
        print(f"{question} {'[Y/n]' if usual else '[y/N]'} ", end="", flush=True)
        answer = sys.stdin.readline()
        word = answer.strip().lower()
        if not answer:
            print()
            return False
        if not word:
            return usual
        if word in {"y", "yes", "n", "no"}:
            return word.startswith("y")
