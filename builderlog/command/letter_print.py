"""How `letter` speaks: what was drafted or made, and which facts are new since."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from builderlog.command.terminal import say, say_indented
from builderlog.deciding.words import counted, listed, month_long
from builderlog.drawing.letter_file import LARGEST_BYTES, LetterFiles
from builderlog.knowing.letters import Letter, letter_path

ENDINGS = (".html", ".txt")  # of what is to be sent: a page, and plain text
FACT_MARGIN, FACT_HANG = 2, 8


@dataclass(frozen=True, slots=True)
class Made:
    """What is to be sent; `kept` are the paths of files that were left as they are."""

    files: LetterFiles
    kept: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class News:
    """Facts that are new: the digest and the line of each, the letter's file, and its state.

    `drafted`: the letter lists the facts that its draft was made from.
    """

    lines: tuple[tuple[str, str], ...]
    file: Path
    edited: bool
    drafted: bool


def letter_is_drafted(root: Path, month: str, made: Made, *, may_grow: bool) -> Iterator[str]:
    """After the first run: what to edit, and what the other two files are."""
    name, again = month_long(month), f"builderlog letter {_named(root)}{month}"
    yield f"{root / letter_path(month)} is the draft of a letter of {name}"
    yield f"Write it anew in your own words, as long as you like, then run: {again}"
    yield from _to_be_sent(root, month, made)
    yield "The month's page for friends shows your words once you have changed the draft."
    if may_grow:
        yield f"{name} is not over by the record; what is new will be listed when you run it again."


def letter_is_made(root: Path, letter: Letter, made: Made) -> Iterator[str]:
    """After a later run."""
    file = root / letter.path
    words = f"your words in {file}" if letter.edited else f"{file}, where nothing was changed yet"
    yield from _to_be_sent(root, letter.month, made, f", made of {words}")


def _named(root: Path) -> str:
    return "" if root == Path() else f"{shlex.quote(str(root))} "


def _to_be_sent(root: Path, month: str, made: Made, of: str = "") -> Iterator[str]:
    """The files that were made; nothing where both were left as they are."""
    files = made.files
    size = f"{len(files.html) // 1000 or 1} kB"
    web, mail = (letter_path(month, ending) for ending in ENDINGS)
    told = (
        (web, f"{root / web} ({size}, {counted(files.pictures, 'picture')} inside)"),
        (mail, f"{root / mail} (plain, for a mail)"),
    )
    named = [words for path, words in told if path not in made.kept]
    if named:
        yield f"To be sent: {listed(named)}{of}"
    if files.left_out:
        count = counted(len(files.left_out), "picture")
        limit = f"{LARGEST_BYTES // 1_000_000} MB"
        yield f"{count} did not fit into {limit}; only the words of each are in the letter"


def print_news(news: News, stream: TextIO) -> None:
    """The new facts, each as a line to paste, behind the digest by which it is known."""
    count = len(news.lines)
    told = f"{counted(count, 'new fact')} since the draft was made"
    if not news.drafted:
        told = f"{counted(count, 'fact')} that {news.file} does not tell"
    say(f"{told}, each as a line to paste, behind its six signs:", stream)
    for digest, line in news.lines:
        say_indented(f"{digest}  {line}", FACT_MARGIN, stream, hang=FACT_HANG)
    if news.edited:
        say(
            f"Put a line without its signs into {news.file}, or the signs behind facts: there, and"
            " it is not told again.",
            stream,
        )
    else:
        say(
            f"You changed nothing in it: delete {news.file} and run this again for a new draft.",
            stream,
        )


def changed_by_hand(paths: Sequence[str]) -> str:
    """The sentence that refuses to write over what the builder changed."""
    named = listed(paths)
    if len(paths) == 1:
        told = f"{named} was changed by hand since it was made, so it stays as it is"
        return f"{told}; move it away, or make it anew with --replace"
    told = f"{named} were changed by hand since they were made, so they stay as they are"
    return f"{told}; move them away, or make them anew with --replace"
