"""How commands speak: problems with their place, tables, progress; quiet and plain in a pipe.

Lines that are piped are never wrapped and never coloured; on a terminal they fit its width.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING, Literal, TextIO
from unicodedata import category

from builderlog.reading.problem import Problem, Weight

if TYPE_CHECKING:
    from rich.console import Console

    from builderlog.reading.folder import Folder

NARROWEST, USUAL_WIDTH, NEVER_WRAPPED = 40, 80, 1_000_000
LONGEST_MARK, ROOM_BEHIND = 30, 10  # columns
UNSPOKEN = ("Cc", "Cs", "Zl", "Zp")  # what would move the cursor or begin a line of its own
COLOURS = {Weight.MISTAKE: "1;31", Weight.DOUBT: "33", Weight.GAP: "36"}
NUMBER_NAMES: Mapping[Weight, tuple[str, str]] = {
    Weight.MISTAKE: ("mistake", "mistakes"),
    Weight.DOUBT: ("doubt", "doubts"),
    Weight.GAP: ("gap", "gaps"),
}


def width_of(stream: TextIO) -> int | None:
    """The columns of the terminal behind a stream; None where it is none."""
    if not stream.isatty():
        return None
    try:
        return max(
            NARROWEST,
            int(os.environ.get("COLUMNS") or os.get_terminal_size(stream.fileno()).columns)
            or USUAL_WIDTH,
        )
    except (OSError, ValueError):
        return USUAL_WIDTH


def coloured(stream: TextIO) -> bool:
    """Colour on a terminal, unless NO_COLOR is set (no-color.org) or the terminal is dumb."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def say(text: str, stream: TextIO) -> None:
    """One sentence: one line in a pipe, folded to the width of a terminal."""
    for line in _lines(plain(text), width_of(stream), stream):
        print(line, file=stream)


def say_indented(text: str, margin: int, stream: TextIO, style: str = "", hang: int = 0) -> None:
    """One sentence behind a margin, its later lines `hang` columns further in.

    `style` is an ANSI colour, as in COLOURS.
    """
    width = width_of(stream)
    for line in _lines(plain(text), width and width - margin - hang, stream):
        told = f"\x1b[{style}m{line}\x1b[0m" if style and coloured(stream) else line
        print(f"{' ' * margin}{told}", file=stream)
        margin, hang = margin + hang, 0


def plain(text: str) -> str:
    """The text on one line: line ends and control characters, as in odd file names, as escapes."""
    return "".join(
        repr(sign)[1:-1] if category(sign) in UNSPOKEN else sign for sign in text.strip("\n")
    )


def _lines(text: str, width: int | None, stream: TextIO) -> list[str]:
    """The text at most `width` columns wide, by what a terminal draws: some signs take two."""
    if width is None:
        return [text]
    from rich.text import Text

    folded = Text(text).wrap(_console(stream), width, overflow="fold")
    return [line.plain.rstrip() for line in folded]


def print_problems(problems: Iterable[Problem], folder: Folder | None, stream: TextIO) -> None:
    """One line each, `path:line:column: code: sentence`; on a terminal with its source line."""
    width = width_of(stream)
    for problem in problems:
        place = problem.place
        head = plain(f"{place.path}:{place.line}:{place.column}: {problem.code}:")
        message = plain(problem.told.replace("\r\n", " ").replace("\n", " "))
        if width is None:
            print(f"{head} {message}", file=stream)
            continue
        for line in _lines(head, width, stream):
            print(_paint(line, problem.weight, stream), file=stream)
        for line in _lines(message, width - 4, stream):
            print(f"    {line}", file=stream)
        if folder and place.end and place.path in folder.paths:
            print(_quoted(folder, problem, width), file=stream, end="")


def _paint(text: str, weight: Weight, stream: TextIO) -> str:
    return f"\x1b[{COLOURS[weight]}m{text}\x1b[0m" if coloured(stream) else text


def _quoted(folder: Folder, problem: Problem, width: int) -> str:
    """The source line, moved so that the place is in sight, and a mark under the place."""
    from rich.cells import cell_len, set_cell_size

    place = problem.place
    text = folder.read(place.path).decode("utf-8", "replace").lstrip("\ufeff")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if place.line > len(lines):
        return ""
    line = "".join(" " if category(sign) in UNSPOKEN else sign for sign in lines[place.line - 1])
    start, room = place.column - 1, width - 6
    begin = _first_shown(line, start, room)
    indent = cell_len(line[begin:start])
    marked = line[start : start + max(1, min(place.end - place.start, LONGEST_MARK))]
    marks = "^" * max(1, min(cell_len(marked), room - indent))
    shown = set_cell_size(line[begin : begin + room], room).rstrip()
    return f"    | {shown}\n    | {' ' * indent}{marks}\n"


def _first_shown(line: str, start: int, room: int) -> int:
    """The first sign of a line to show, so that the one at `start` has some room behind it."""
    from rich.cells import cell_len

    if start < room and cell_len(line[:start]) < room - ROOM_BEHIND:
        return 0
    begin = max(0, start - room + ROOM_BEHIND)
    while cell_len(line[begin:start]) > room - ROOM_BEHIND:
        begin += 1
    return begin


def count_problems(problems: Sequence[Problem]) -> str:
    """`2 mistakes, 1 doubt, no gaps`, leaving out what there is none of."""
    counts = {weight: sum(each.weight is weight for each in problems) for weight in Weight}
    told = [
        f"{number} {NUMBER_NAMES[weight][number != 1]}"
        for weight, number in counts.items()
        if number
    ]
    explained = sum(bool(each.because) for each in problems)
    words = ", ".join(told) or "no mistakes, no doubts, no gaps"
    return f"{words} ({explained} of them explained)" if explained else words


@contextmanager
def working(what: str) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on a terminal, nothing in a pipe; yields `(done, of how many)`."""
    if not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=_console(sys.stderr), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)


@contextmanager
def working_in_stages() -> Iterator[Callable[[str, int, int], None]]:
    """One bar after the other, each gone when the next begins; yields `(stage, done, of how many)`.

    A stage that comes again after another begins a bar anew.
    """
    with ExitStack() as stack:
        now: list[tuple[str, Callable[[int, int], None]]] = []

        def advance(stage: str, done: int, total: int) -> None:
            if not now or now[0][0] != stage:
                stack.close()
                now[:] = [(stage, stack.enter_context(working(stage)))]
            now[0][1](done, total)

        yield advance


def _console(stream: TextIO) -> Console:
    from rich.console import Console

    width = width_of(stream)
    return Console(
        file=stream,
        width=width or NEVER_WRAPPED,
        color_system="auto" if coloured(stream) else None,
        highlight=False,
        markup=False,
        emoji=False,
    )


def print_table(title: str, header: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A table whose first column is words and whose others are numbers, on standard output."""
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for place, name in enumerate(header):
        justify: Literal["left", "right"] = "right" if place else "left"
        table.add_column(name, justify=justify, no_wrap=bool(place), overflow="fold")
    for row in rows:
        table.add_row(*map(plain, row))
    if not table.row_count:
        return
    console = _console(sys.stdout)
    with console.capture() as captured:
        console.print(table)
    print(f"\n{title}")
    print("\n".join(line.rstrip() for line in captured.get().rstrip("\n").split("\n")))
