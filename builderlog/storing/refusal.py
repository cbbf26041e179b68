"""The surroundings refuse: a folder is busy, foreign or cannot be written. Exit status 2.

Not for mistakes in the journal: those are Problems and exit status 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


class Refused(Exception):
    """A whole sentence for the builder: what was found, what is wrong, what to do."""


@contextmanager
def refusing(doing: str) -> Iterator[None]:
    """Turns what the operating system says (`OSError`) into a `Refused` that names the deed.

    `doing` reads after "could not", as in "write into published".
    """
    try:
        yield
    except OSError as error:
        raise Refused(f"could not {doing}: {_reason(error)}") from error


def _reason(error: OSError) -> str:
    """The system's word and the file it is about, as far as the error knows them."""
    word = error.strerror or str(error) or type(error).__name__
    return f"{word} ({error.filename})" if error.filename is not None else word
