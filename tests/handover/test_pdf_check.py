"""What is attached to the document: equal, other, more, fewer; and PDFs made to harm."""

from __future__ import annotations

import random
import sys
import zlib
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

import pytest

from builderlog.handover import pdf_check
from builderlog.handover.pdf_attached import attached
from builderlog.handover.pdf_check import (
    DOCUMENT,
    BrokenDocumentError,
    attached_to,
    check_document,
)
from tests.handover.made_pdfs import pdf_with

TABLES = {"hours.csv": b"date,seconds\r\n", "ledger.json": b"{}"}


@pytest.fixture
def tables(tmp_path: Path) -> dict[str, Path]:
    """The bag's tables, written."""
    for name, data in TABLES.items():
        (tmp_path / name).write_bytes(data)
    return {name: tmp_path / name for name in TABLES}


def told(folder: Path, data: bytes, tables: Mapping[str, Path]) -> list[tuple[str, str]]:
    """Code and message of each fault of a PDF."""
    file = folder / DOCUMENT
    file.write_bytes(data)
    faults = [*check_document(file, len(data), tables)]
    assert {fault.path for fault in faults} <= {DOCUMENT}
    return [(fault.code, fault.message) for fault in faults]


def test_the_same_files_are_no_fault(tmp_path: Path, tables: dict[str, Path]) -> None:
    """A document that carries just the bag's tables passes."""
    assert told(tmp_path, pdf_with(TABLES), tables) == []


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ({**TABLES, "hours.csv": b"date,seconds\r\nx"}, "'hours.csv' is attached with other bytes"),
        ({"hours.csv": TABLES["hours.csv"]}, "'ledger.json' is not attached"),
        ({**TABLES, "more.csv": b""}, "'more.csv' is attached, and the bag has no such table"),
        ({}, "'hours.csv' is not attached"),
    ],
)
def test_other_files_are_told(
    tmp_path: Path, tables: dict[str, Path], files: dict[str, bytes], message: str
) -> None:
    """A table that differs, lacks or is one too many is named."""
    found = told(tmp_path, pdf_with(files), tables)
    assert {code for code, _ in found} == {"attachment"}
    assert any(message in told_one for _, told_one in found)


def test_a_document_that_is_not_there_is_told(tmp_path: Path, tables: dict[str, Path]) -> None:
    """Without the PDF one fault says so."""
    (fault,) = check_document(tmp_path / DOCUMENT, None, tables)
    assert (fault.path, fault.code) == (DOCUMENT, "document-missing")


@pytest.mark.parametrize("data", [b"", b"a letter", b"%PDF-1.7\n", b"%PDF-1.7\n%%EOF\n"])
def test_what_is_no_pdf_is_told(tmp_path: Path, tables: dict[str, Path], data: bytes) -> None:
    """Bytes that are no PDF are one fault, with the reader's reason."""
    ((code, message),) = told(tmp_path, data, tables)
    assert code == "document"
    assert message.startswith("what is attached to it cannot be read: ")


def test_one_too_large_is_not_opened(
    tmp_path: Path, tables: dict[str, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Beyond any sensible size nothing is read, and the bound is named."""
    monkeypatch.setattr(pdf_check, "LARGEST", 5)
    assert "not opened" in told(tmp_path, pdf_with(TABLES), tables)[0][1]


def test_one_that_keeps_the_reader_busy_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A reader that does not come back is ended, and the fault names the seconds."""
    monkeypatch.setattr(pdf_check, "MOST_SECONDS", 0.2)
    monkeypatch.setattr(pdf_check, "_PROGRAM", "while True: pass")
    (tmp_path / DOCUMENT).write_bytes(b"x")
    with pytest.raises(BrokenDocumentError, match="not read within"):
        attached_to(tmp_path / DOCUMENT, 1)


@pytest.mark.skipif(sys.platform == "win32", reason="this system cannot bound the memory")
def test_one_that_fills_the_memory_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The reader's memory is bounded: what asks for more ends as a fault."""
    greedy = (
        "from builderlog.handover import pdf_attached as p; p._bound_memory(); "
        "bytearray(2 * p.MOST_MEMORY)"
    )
    monkeypatch.setattr(pdf_check, "_PROGRAM", greedy)
    (tmp_path / DOCUMENT).write_bytes(b"x")
    with pytest.raises(BrokenDocumentError, match="MemoryError"):
        attached_to(tmp_path / DOCUMENT, 1)


def test_nothing_is_taken_from_where_it_is_run(
    tmp_path: Path, tables: dict[str, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that plants modules of our reader's names beside the bag has none of them run."""
    for name in ("json.py", "hashlib.py", "pypdf.py", "builderlog.py"):
        (tmp_path / name).write_text("raise SystemExit('planted')")
    monkeypatch.chdir(tmp_path)
    assert told(tmp_path, pdf_with(TABLES), tables) == []


@pytest.mark.slow
def test_a_swollen_attachment_is_told(tmp_path: Path, tables: dict[str, Path]) -> None:
    """A table that unpacks to gigabytes does not fill the memory and is a fault."""
    packed = zlib.compress(bytes(200_000_000), 9)
    for _ in range(1):
        packed = zlib.compress(packed, 9)
    bomb = pdf_with({"hours.csv": b"MARK" * 50})
    stream = (
        b"<<\n/Length %d\n/Filter [/FlateDecode /FlateDecode]\n/Type /EmbeddedFile\n>>\n"
        % len(packed)
    )
    at = bomb.index(b"MARK")
    begin = bomb.rindex(b"<<", 0, bomb.rindex(b"stream", 0, at))
    end = bomb.index(b"endstream", at)
    swollen = bomb[:begin] + stream + b"stream\n" + packed + b"\n" + bomb[end:]
    found = told(tmp_path, swollen, tables)
    assert found
    assert {code for code, _ in found} <= {"document", "attachment"}


def test_junk_inside_a_pdf_never_breaks_the_check(tmp_path: Path) -> None:
    """Chance bytes, cuts and doublings anywhere: the reader returns, or raises what is caught.

    Run in this process, without the one that bounds it, so that many can be tried.
    """
    chance = random.Random(32000)
    whole = pdf_with(TABLES)
    for _ in range(150):
        junk = bytearray(whole)
        for _ in range(chance.randrange(1, 6)):
            place = chance.randrange(len(junk))
            junk[place : place + chance.randrange(8)] = chance.randbytes(chance.randrange(8))
        file = tmp_path / DOCUMENT
        file.write_bytes(junk[: chance.randrange(len(junk))] if chance.random() < 0.2 else junk)
        with suppress(Exception):  # whatever it is ends the reader's process alone
            attached(file)
