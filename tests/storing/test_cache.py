"""The content store: what comes out is what was put in, or nothing."""

from __future__ import annotations

import hashlib
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from builderlog.storing.cache import Store, key_of


def entry_of(folder: Path, key: str) -> Path:
    """The one file that holds a key's content."""
    (file,) = (folder / "made").glob(f"??/{key}-*")
    return file


def test_put_is_there_in_the_next_run(tmp_path: Path) -> None:
    """What one run put, the next one gets, also as a file of exactly these bytes."""
    key = key_of("page", b"sheet")
    Store(tmp_path).put(key, b"html")
    later = Store(tmp_path)
    assert later.get(key) == b"html"
    file = later.file(key)
    assert file is not None
    assert file.read_bytes() == b"html"
    assert later.get(key_of("page", b"other")) is None


def test_parts_of_a_key_cannot_run_together() -> None:
    """Other parts, another split, or another type of part give another key."""
    keys = [key_of("ab", "c"), key_of("a", "bc"), key_of("abc"), key_of(b"abc"), key_of("1"),
            key_of(1), key_of(), key_of(""), key_of("", "")]  # fmt: skip
    assert len(set(keys)) == len(keys)
    assert all(set(key) <= set("0123456789abcdef") for key in keys)


@pytest.mark.parametrize("damaged", [b"", b"htm", b"html ", b"hTml"])
def test_damaged_entry_is_a_miss(tmp_path: Path, damaged: bytes) -> None:
    """An entry whose bytes are not those put is as if absent, and may be put again."""
    key = key_of("page")
    Store(tmp_path).put(key, b"html")
    entry_of(tmp_path, key).write_bytes(damaged)
    store = Store(tmp_path)
    assert store.file(key) is None
    assert store.get(key) is None
    store.put(key, b"html")
    assert store.get(key) == b"html"
    assert store.trouble is None


def test_second_put_replaces(tmp_path: Path) -> None:
    """The last content put under a key is the one that stays, and the only file."""
    key = key_of("page")
    store = Store(tmp_path)
    store.put(key, b"one")
    store.put(key, b"two")
    assert Store(tmp_path).get(key) == b"two"
    assert entry_of(tmp_path, key).read_bytes() == b"two"


def test_folder_is_marked_as_a_cache(tmp_path: Path) -> None:
    """Backups and version control leave the folder out."""
    Store(tmp_path / ".builderlog").put(key_of("x"), b"")
    tag = (tmp_path / ".builderlog" / "CACHEDIR.TAG").read_text()
    assert tag.startswith("Signature: 8a477f597d28d172789f06886806bc55")
    assert (tmp_path / ".builderlog" / ".gitignore").read_text() == "*\n"


def test_without_folder_in_memory() -> None:
    """Without a folder the store serves this run, and has no files."""
    store = Store(None)
    store.put(key_of("x"), b"1")
    assert store.get(key_of("x")) == b"1"
    assert store.file(key_of("x")) is None
    assert store.trouble is None
    assert store.sweep() == 0


def test_folder_that_cannot_be_written(tmp_path: Path) -> None:
    """Where the folder cannot be made the work goes on in memory, and the reason is kept."""
    (tmp_path / "file").write_text("")
    store = Store(tmp_path / "file")
    store.put(key_of("x"), b"1")
    assert store.get(key_of("x")) == b"1"
    assert store.trouble is not None
    assert "cannot be used" in store.trouble


def test_read_only_folder_still_serves(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Entries on a medium that cannot be written are still found; the trouble is told."""
    key = key_of("x")
    Store(tmp_path).put(key, b"1")
    store = Store(tmp_path)

    def refuse(*_: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(os, "utime", refuse)
    assert store.get(key) == b"1"
    assert "Read-only file system" in (store.trouble or "")


def test_crash_while_putting(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry is there whole or not at all, and nothing temporary remains."""
    key = key_of("x")
    store = Store(tmp_path)

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    store.put(key_of("y"), b"0")
    monkeypatch.setattr(os, "replace", refuse)
    store.put(key, b"1")
    assert store.get(key) == b"1"
    assert "No space left" in (store.trouble or "")
    assert Store(tmp_path).get(key) is None
    assert not list(tmp_path.rglob("*.tmp"))


def test_sweep_drops_the_longest_unused(tmp_path: Path) -> None:
    """Beyond the bound the longest unused go first; what this run used stays."""
    keys = [key_of("x", number) for number in range(4)]
    old = Store(tmp_path)
    for number, key in enumerate(keys):
        old.put(key, bytes(100))
        os.utime(entry_of(tmp_path, key), (number, number))
    store = Store(tmp_path)
    store.get(keys[0])
    assert store.sweep(250) == 1
    assert [Store(tmp_path).get(key) is not None for key in keys] == [True, False, True, True]


@pytest.mark.parametrize("name", ["made/00/left.1-1.tmp", "letters.json.1-1.tmp"])
def test_sweep_drops_what_was_left_half_written(tmp_path: Path, name: str) -> None:
    """An entry or a list that a killed run left goes when it is old; one of just now stays."""
    leftover = tmp_path / name
    leftover.parent.mkdir(parents=True, exist_ok=True)
    leftover.write_bytes(b"")
    store = Store(tmp_path)
    store.sweep()
    assert leftover.exists()
    os.utime(leftover, (0, 0))
    store.sweep()
    assert not leftover.exists()


def test_from_two_threads(tmp_path: Path) -> None:
    """Many threads may put and get, also under one key."""
    store = Store(tmp_path)

    def work(number: int) -> bytes | None:
        key = key_of(number % 10)
        store.put(key, str(number % 10).encode())
        return store.get(key)

    with ThreadPoolExecutor(8) as threads:
        assert list(threads.map(work, range(400))) == [str(n % 10).encode() for n in range(400)]
    assert store.trouble is None


def test_the_digest_of_what_is_kept(tmp_path: Path) -> None:
    """Content is known by its own digest, in a folder and in memory; there is none of nothing."""
    wanted = hashlib.sha256(b"words").hexdigest()[:32]
    for store in (Store(tmp_path), Store(None)):
        assert store.digest("a" * 64) is None
        store.put("a" * 64, b"words")
        assert store.digest("a" * 64) == wanted
    assert Store(tmp_path).digest("a" * 64) == wanted
