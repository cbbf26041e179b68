"""What was found in a journal's words, kept for the next run: by the digest of each text.

One entry of the store, under a key of our version, of the code that finds it and of its library.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

import builderlog
from builderlog.reading.prose import Found, ProseLink, digest_of, found_in, remember
from builderlog.reading.prose_pieces import Body, Hole, Piece
from builderlog.storing.cache import Store, key_of

CODE = ("reading/markdown.py", "reading/prose*.py", "storing/prose_kept.py")
LIBRARIES = ("markdown-it-py", "mdurl")  # the second writes the addresses


def recall_prose(store: Store) -> frozenset[str]:
    """Remembers what earlier runs found; the digests of the texts."""
    data = store.get(_key())
    known = {} if data is None else {name: _from_row(row) for name, row in json.loads(data).items()}
    remember(known)
    return frozenset(known)


def keep_prose(store: Store, texts: Iterable[str], known: frozenset[str]) -> None:
    """Keeps what is found in these texts and no others, unless just they are `known`."""
    found = {digest_of(text): found_in(text) for text in texts}
    if found.keys() != known:
        rows = {digest: _to_row(found[digest]) for digest in sorted(found)}
        store.put(_key(), json.dumps(rows, separators=(",", ":")).encode("ascii"))


@cache
def _key() -> str:
    package = Path(builderlog.__file__).parent
    files = sorted(file for pattern in CODE for file in package.glob(pattern))
    return key_of("prose", *map(version, LIBRARIES), *(file.read_bytes() for file in files))


def _to_row(found: Found) -> list[Any]:
    links = [[link.kind, link.target, link.words, link.line] for link in found.links]
    body = [[_to_piece(piece) for piece in part] for part in (found.body.heading, found.body.rest)]
    return [links, found.heading, found.opening, found.paragraph, found.words, body]


def _from_row(row: list[Any]) -> Found:
    links, heading, opening, paragraph, words, body = row
    first, rest = (tuple(map(_from_piece, part)) for part in body)
    return Found(
        tuple(ProseLink(*link) for link in links),
        heading,
        opening,
        paragraph,
        words,
        Body(first, rest),
    )


def _to_piece(piece: Piece) -> str | list[str | None]:
    if isinstance(piece, str):
        return piece
    return [piece.kind, piece.target, piece.words, piece.title]


def _from_piece(piece: Any) -> Piece:  # noqa: ANN401 - as JSON has it
    return piece if isinstance(piece, str) else Hole(*piece)
