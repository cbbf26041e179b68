"""How what is open, and what is to be seen to before closing, stands on the terminal.

In a pipe one line each, `path:line: …`, never folded; on a terminal under headings.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import TextIO

from builderlog.command.terminal import say, say_indented, width_of
from builderlog.sheets.open_list import ClosingList, ClosingRow, OpenList, OpenRow, OpenSection

BOLD, DIM, URGENT = "1", "2", "33"


def print_open(found: OpenList, stream: TextIO) -> None:
    """Section by section; in a pipe the rows alone."""
    if width_of(stream) is None:
        for section in found.sections:
            for row in section.rows:
                _line((f"{row.path}:{row.line}", section.key, *_words(row)), stream)
        return
    say(found.title, stream)
    for section in found.sections:
        _section(section, stream)


def _words(row: OpenRow) -> tuple[str, ...]:
    when = f" ({row.when})" if row.when else ""
    return row.group, row.head, f"{row.text}{when}"


def _line(words: Iterable[str], stream: TextIO) -> None:
    say(": ".join(word for word in words if word), stream)


def _section(section: OpenSection, stream: TextIO) -> None:
    number = f" ({len(section.rows)})" if section.rows else ""
    print(file=stream)
    say_indented(f"{section.title}{number}", 0, stream, style=BOLD)
    if not section.rows:
        say_indented(section.empty, 2, stream)
    for group, rows in groupby(section.rows, key=lambda row: row.group):
        if group:
            say_indented(group, 2, stream)
        for row in rows:
            _row(row, 4 if group else 2, stream)
    if section.note and section.rows:
        say_indented(section.note, 2, stream, style=DIM)


def _row(row: OpenRow, margin: int, stream: TextIO) -> None:
    """What it is; below, when and where it is told."""
    head = f"{row.head}  " if row.head else ""
    say_indented(f"{head}{row.text}", margin, stream, hang=2)
    style = URGENT if row.pressing else DIM
    at = f"{row.path}:{row.line}"
    told = f"{row.when} \N{MIDDLE DOT} {at}" if row.when else at
    fits = margin + 2 + len(told) <= (width_of(stream) or 0)
    for line in (told,) if fits or not row.when else (row.when, at):
        say_indented(line, margin + 2, stream, style=style)


def print_closing(found: Iterable[ClosingList], stream: TextIO) -> None:
    """The lists, then their cautions, each once; these stand in a pipe too."""
    cautions: dict[str, None] = {}
    for each in found:
        _closing(each, stream)
        cautions |= dict.fromkeys(each.cautions)
    for caution in cautions:
        say(caution, stream)


def _closing(found: ClosingList, stream: TextIO) -> None:
    if width_of(stream) is None:
        say(found.title, stream)
        for row in found.rows:
            _line((f"{row.path}:{row.line}", row.kind, row.task, _told(row)), stream)
    else:
        say_indented(found.title, 0, stream, style=BOLD)
        for heading, rows in groupby(found.rows, key=lambda row: row.heading):
            say_indented(heading, 2, stream)
            for row in rows:
                _closing_row(row, stream)
    if not found.rows:
        say(found.empty, stream)


def _told(row: ClosingRow) -> str:
    return f"{row.text} (explained: {row.because})" if row.because else row.text


def _closing_row(row: ClosingRow, stream: TextIO) -> None:
    """The sentence, and in brackets which task it is."""
    name = f" [{row.name}]" if row.name else ""
    head = f"{row.task}  " if row.task else ""
    say_indented(f"{head}{_told(row)}{name}", 4, stream, DIM if row.because else "", 2)
