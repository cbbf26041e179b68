"""What was found in words and kept: the same as found anew, whatever happens to what is kept."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.reading import markdown, prose
from builderlog.reading.prose import Found, digest_of, found_in
from builderlog.storing import prose_kept
from builderlog.storing.cache import Store
from builderlog.storing.prose_kept import keep_prose, recall_prose

if TYPE_CHECKING:
    from pathlib import Path

    from markdown_it.token import Token

TEXT = '# Ribs\n\n![Skin](a.jpg)\n\nSee [it](b.md "T"), [](c.md).\n\n## On\n\n| a |\n|:-:|\n| b |\n'
BITS = st.sampled_from(
    ["# a\n", "\n\n", "![x *y*](p.jpg)", "[s](a.md 'q')", "[](a.md)", "- ", "> ", "\0", "\ud800"]
)
TEXTS = st.lists(BITS | st.text(max_size=6), max_size=9).map("".join)


@pytest.fixture(autouse=True)
def forgetful(monkeypatch: pytest.MonkeyPatch) -> dict[str, Found]:
    """What this process remembers, empty at first."""
    memory: dict[str, Found] = {}
    monkeypatch.setattr(prose, "_remembered", lambda: memory)
    return memory


def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """From now on, the texts that are really parsed."""
    texts: list[str] = []

    def parse(text: str) -> list[Token]:
        texts.append(text)
        return markdown.parse(text)

    monkeypatch.setattr(prose, "parse", parse)
    return texts


def another_run(folder: Path, memory: dict[str, Found]) -> frozenset[str]:
    """A process that begins with nothing but the folder."""
    memory.clear()
    return recall_prose(Store(folder))


def test_the_next_run_parses_nothing(
    tmp_path: Path, forgetful: dict[str, Found], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What one run found in a text the next one has again, whole and without a parse."""
    plain = found_in(TEXT)
    keep_prose(Store(tmp_path), [TEXT], frozenset())
    assert another_run(tmp_path, forgetful) == {digest_of(TEXT)}
    texts = parsed(monkeypatch)
    assert found_in(TEXT) == plain
    assert texts == []


@given(texts=st.lists(TEXTS, max_size=4))
def test_what_is_kept_is_what_is_found(
    texts: list[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Of any texts, what comes back is equal to what a parse finds."""
    folder = tmp_path_factory.mktemp("kept")
    plain = {digest_of(text): found_in(text) for text in texts}
    keep_prose(Store(folder), texts, frozenset())
    prose._remembered().clear()
    recall_prose(Store(folder))
    assert prose._remembered() == plain


def test_only_the_texts_there_are_stay_kept(tmp_path: Path, forgetful: dict[str, Found]) -> None:
    """What no note says any more is kept no longer; of a new text what is found is added."""
    keep_prose(Store(tmp_path), ["one", "two"], frozenset())
    known = another_run(tmp_path, forgetful)
    keep_prose(Store(tmp_path), ["two", "three"], known)
    assert another_run(tmp_path, forgetful) == {digest_of("two"), digest_of("three")}


def test_nothing_is_written_where_nothing_changed(
    tmp_path: Path, forgetful: dict[str, Found]
) -> None:
    """The same texts leave what is kept untouched."""
    keep_prose(Store(tmp_path), [TEXT], frozenset())
    (file,) = (tmp_path / "made").glob("??/*")
    known = another_run(tmp_path, forgetful)
    file.unlink()
    keep_prose(Store(tmp_path), [TEXT], known)
    assert not file.exists()


@pytest.mark.parametrize("where", [0, 40, -1])
def test_a_damaged_entry_is_found_anew(
    tmp_path: Path, forgetful: dict[str, Found], where: int
) -> None:
    """Where a single letter was changed on the disk, nothing of it is believed."""
    plain = found_in(TEXT)
    keep_prose(Store(tmp_path), [TEXT], frozenset())
    (file,) = (tmp_path / "made").glob("??/*")
    data = bytearray(file.read_bytes())
    data[where] ^= 1
    file.write_bytes(data)
    assert another_run(tmp_path, forgetful) == frozenset()
    assert found_in(TEXT) == plain


def test_other_code_believes_nothing(
    tmp_path: Path, forgetful: dict[str, Found], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What another version of the code or of the library found is not used."""
    found = replace(found_in(TEXT), words="as an older version found it")
    forgetful[digest_of(TEXT)] = found
    keep_prose(Store(tmp_path), [TEXT], frozenset())
    for name, value in (("CODE", ("reading/prose.py",)), ("version", lambda _: "0.0")):
        with monkeypatch.context() as other:
            other.setattr(prose_kept, name, value)
            prose_kept._key.cache_clear()
            assert another_run(tmp_path, forgetful) == frozenset(), name
        prose_kept._key.cache_clear()
    assert another_run(tmp_path, forgetful) == {digest_of(TEXT)}
