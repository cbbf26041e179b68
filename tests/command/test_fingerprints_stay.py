"""Fingerprints of pictures stay in the cache of facts: no friend and no inspector gets one."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest

from builderlog.reading import fingerprint
from builderlog.reading.signs import is_text, signs_of, to_text
from tests.command.running import digests, run, write
from tests.command.small_journal import write_small
from tests.reading.shop_pictures import saved, shop_picture

PIECE = 16  # letters; so many in a row are no chance


def published(root: Path) -> Path:
    """The small journal with a picture that has a fingerprint, published and bagged."""
    write_small(root)
    write(root, {"photos/skins.jpg": saved(shop_picture(1))})
    for word in ("publish", "dossier"):
        assert run(word, root).status == 0
    return root


def fingerprints(root: Path) -> set[str]:
    """What the cache holds of them."""
    rows = json.loads((root / ".builderlog/photos.json").read_bytes())["photos"]
    return {facts["likeness"] for _, facts in rows} - {""}


def pieces_in(data: bytes, text: str) -> bool:
    """Whether any part of a fingerprint, as text or as bytes, is in the data."""
    raw = base64.b64decode(text)
    parts = [text[at : at + PIECE].encode() for at in range(0, len(text) - PIECE + 1, PIECE)]
    parts += [raw[at : at + PIECE] for at in range(0, len(raw) - PIECE + 1, PIECE)]
    return any(part in data for part in parts)


def test_no_fingerprint_leaves_the_cache(tmp_path: Path) -> None:
    """In no file but the cache of facts is any part of a fingerprint, as letters or as bytes."""
    root = published(tmp_path / "journal")
    (text,) = fingerprints(root)
    assert is_text(text)
    holding = [
        file.relative_to(root).as_posix()
        for file in sorted(root.rglob("*"))
        if file.is_file() and pieces_in(file.read_bytes(), text)
    ]
    assert holding == [".builderlog/photos.json"]


def test_the_search_bites() -> None:
    """A fingerprint planted among other bytes is found, as text and as bytes, whole or in part."""
    text = to_text(signs_of([*range(400)] * 4))
    for planted in (text.encode(), base64.b64decode(text)[40:120], text[500:560].encode()):
        assert pieces_in(b"<p>" + planted + b"</p>", text)
    assert not pieces_in(b"<p>" + text[:9].encode() + b"</p>", text)


def test_nothing_depends_on_a_fingerprint(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With other fingerprints site and dossier are the same bytes, and so are the store's keys."""
    one = published(tmp_path / "one" / "journal")
    other_text = to_text(signs_of([*range(400)] * 4))
    monkeypatch.setattr(fingerprint, "take_fingerprint", lambda *_: other_text)
    other = published(tmp_path / "other" / "journal")
    assert fingerprints(one) != fingerprints(other) == {other_text}
    for folder in ("published", "dossier", ".builderlog/made"):
        assert digests(one / folder) == digests(other / folder)
