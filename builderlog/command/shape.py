"""The shape of a command: its word, its help, its options, what it does, its exit statuses."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from unicodedata import category

from builderlog.knowing.units import UnreadableError, parse_date

DONE, MISTAKES, REFUSED, INTERRUPTED = 0, 1, 2, 130


@dataclass(frozen=True, slots=True)
class Command:
    """One word of the command line: its help, its options, and what it does."""

    word: str
    summary: str
    story: str  # what --help says below the summary
    options: Callable[[ArgumentParser], None]
    run: Callable[[Namespace], int]


def day(text: str) -> date:
    """A date on the command line; argparse prints the sentence of what it raises."""
    try:
        return parse_date(text)
    except UnreadableError as fault:
        raise ArgumentTypeError(str(fault)) from fault


def words(text: str) -> str:
    """A name or title on the command line, as one line that a file can hold."""
    line = " ".join(text.split())
    if not line or any(category(sign) in ("Cc", "Cs") for sign in line):
        raise ArgumentTypeError("a name is a line of letters; write it without control characters")
    return line
