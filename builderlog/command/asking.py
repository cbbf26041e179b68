"""Reads words from the command line: help that fits the terminal, errors that say what to write."""

from __future__ import annotations

import sys
from argparse import Action, ArgumentError, ArgumentParser, HelpFormatter
from textwrap import fill
from typing import Any, NoReturn

from builderlog.command.shape import REFUSED
from builderlog.command.terminal import say
from builderlog.knowing.forms import nearest


class FilledHelp(HelpFormatter):
    """Help whose paragraphs are filled to the width of the terminal, one by one."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        paragraphs = text.split("\n\n")
        return "\n\n".join(
            fill(paragraph, width, initial_indent=indent, subsequent_indent=indent)
            for paragraph in paragraphs
        )


class Asker(ArgumentParser):
    """A parser of ours: exit status 2 and a sentence for whoever called wrongly."""

    def __init__(self, **words: Any) -> None:  # noqa: ANN401 - argparse's own keywords
        super().__init__(formatter_class=FilledHelp, allow_abbrev=False, **words)

    def error(self, message: str) -> NoReturn:
        """Says what is wrong and where help is, on standard error."""
        say(f"builderlog: {message}", sys.stderr)
        say(f"builderlog: help is in: {self.prog} --help", sys.stderr)
        self.exit(REFUSED)

    def _check_value(self, action: Action, value: object) -> None:
        if action.choices is not None and value not in action.choices:
            known = [str(choice) for choice in action.choices]
            hint = nearest(str(value), known)
            told = f"'{value}' is none of the words here{hint or ''}; write one of "
            raise ArgumentError(action, told.replace("?;", "?") + ", ".join(known))
