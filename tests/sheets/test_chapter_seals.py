"""The chapter and the sheets of the sealed months: the chain as it is, and what is another."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Block, Chapter, Paragraph, Rows, Section
from builderlog.sheets.chapter_seals import cover_seal, digest_words, seals
from builderlog.sheets.material import material
from builderlog.sheets.record_seals import seals as seals_sheet
from builderlog.sheets.record_seals import written_soon
from tests.deciding.sealed_journals import WITH_HIDDEN, change, read, seal, sealed


def chapter_of(ledger: Ledger) -> Chapter:
    """The one chapter."""
    (chapter,) = seals(material(find(ledger)))
    return chapter


def blocks_in(blocks: tuple[Block, ...]) -> Iterator[Block]:
    """Every block, those of sections too."""
    for block in blocks:
        yield block
        if isinstance(block, Section):
            yield from blocks_in(block.blocks)


def words_of(chapter: Chapter) -> str:
    """All paragraphs."""
    found = (block for block in blocks_in(chapter.blocks) if isinstance(block, Paragraph))
    return "\n".join(block.words for block in found)


def tables_of(chapter: Chapter) -> list[list[list[str]]]:
    """The words of every table, row by row."""
    found = (block for block in blocks_in(chapter.blocks) if isinstance(block, Rows))
    return [[[cell.words for cell in row] for row in block.rows] for block in found]


def test_every_seal_is_a_row(tmp_path: Path) -> None:
    """Month, day, days after the month, digest, reason and state, in the order of the chain."""
    root = sealed(tmp_path)
    first = seal(root, "2026-03", date(2026, 4, 3))
    change(root, "notes/2026-03-20.md", "All in", "Nearly all in")
    second = seal(root, "2026-03", date(2026, 4, 9), why="not all were in")
    chain, _ = tables_of(chapter_of(read(root)))
    assert chain == [
        [
            "March 2026",
            "2026-04-03",
            "3",
            digest_words(first.digest),
            "",
            f"amended by {second.path}",
        ],
        ["March 2026", "2026-04-09", "9", digest_words(second.digest), second.why, "as sealed"],
    ]
    assert digest_words(first.digest).replace(" ", "") == first.digest


def test_sealed_and_open_months_are_told(tmp_path: Path) -> None:
    """How many months are sealed, which are not, and that all is as it was sealed."""
    words = words_of(chapter_of(read(sealed(tmp_path, "2026-03"))))
    assert "Of 2 months with notes 1 is sealed." in words
    assert "Not sealed: April 2026." in words
    assert "Every file that a seal lists is as it was on the day of sealing." in words


def test_what_is_another_is_told_first(tmp_path: Path) -> None:
    """An altered month is a caution above the table, and its row says what was altered."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    change(root, "notes/2026-03-20.md", "hours: 2h", "hours: 3h")
    chapter = chapter_of(read(root))
    (caution,) = (
        block
        for block in chapter.blocks
        if isinstance(block, Paragraph) and block.kind == "caution"
    )
    assert caution.words.startswith("1 seal of 2: something is not as it was sealed")
    chain, _ = tables_of(chapter)
    assert "'notes/2026-03-20.md' is not as it was" in chain[0][-1]
    assert "time of Ines 5h when sealed, 6h now" in chain[0][-1]
    assert chain[1][-1] == "as sealed"
    assert "Every file that a seal lists" not in words_of(chapter)


def test_a_file_that_is_no_seal_is_told(tmp_path: Path) -> None:
    """What could not be read as a seal has no row, and is named."""
    root = sealed(tmp_path)
    (root / "seals").mkdir()
    (root / "seals/2026-03.txt").write_bytes(b"nothing")
    chapter = chapter_of(read(root))
    assert "its day of sealing cannot be read" in words_of(chapter)
    assert "No month of this record is sealed" in words_of(chapter)


def test_without_seals_the_chapter_says_so(tmp_path: Path) -> None:
    """No seal at all is one sentence, and what a seal would prove is said all the same."""
    chapter = chapter_of(read(sealed(tmp_path)))
    assert "No month of this record is sealed" in words_of(chapter)
    assert "does not show that what the notes say is true" in words_of(chapter)
    assert len(tables_of(chapter)) == 1


def test_how_soon_the_record_was_written(tmp_path: Path) -> None:
    """Notes written later and pictures by their own day, month by month with sums."""
    root = sealed(tmp_path, files=WITH_HIDDEN)
    change(root, "notes/2026-03-20.md", "hours: 2h", "hours: 2h\nwritten: 2026-03-23")
    chapter = chapter_of(read(root))
    (soon,) = tables_of(chapter)
    assert soon == [
        ["March 2026", "3", "1", "1", "3 and 3", "1", "1", "0", "0", "0"],
        ["April 2026", "1", "1", "0", "", "0", "0", "0", "0", "0"],
        ["All months", "4", "2", "1", "3 and 3", "1", "1", "0", "0", "0"],
    ]
    assert "1 note with nothing but the time handed over" in words_of(chapter)


def test_kept_back_digests_are_explained(tmp_path: Path) -> None:
    """Only where a seal lists a file without its name is that explained."""
    plain = words_of(chapter_of(read(sealed(tmp_path / "a", "2026-03"))))
    hidden = words_of(chapter_of(read(sealed(tmp_path / "b", "2026-03", files=WITH_HIDDEN))))
    assert ["without its name" in words for words in (plain, hidden)] == [False, True]


def test_the_cover_names_the_last_seal(tmp_path: Path) -> None:
    """The digest of the last sealed month with its day, or that there is none."""
    root = sealed(tmp_path)
    term, cell = cover_seal(read(root))
    assert (term, cell.weak, cell.to) == ("Seal", True, "seals")
    seal(root, "2026-03")
    last = seal(root, "2026-04")
    term, cell = cover_seal(read(root))
    assert term == "Seal of April 2026"
    assert cell.words == f"{digest_words(last.digest)}, sealed on 1 May 2026"


def test_the_sheets_hold_every_seal_and_month(tmp_path: Path) -> None:
    """One row a seal with digests whole, one row a month with its notes."""
    root = sealed(tmp_path, "2026-03", "2026-04", files=WITH_HIDDEN)
    change(root, "notes/2026-03-20.md", "All in", "Nearly all in")
    ledger = read(root)
    first, second = (
        dict(zip(seals_sheet(ledger).header, row, strict=True)) for row in seals_sheet(ledger).rows
    )
    assert (first["month"], first["files"], first["without_name"]) == ("2026-03", "8", "3")
    assert second["before"] == first["digest"]
    assert first["state"].startswith("'notes/2026-03-20.md' is not as it was")
    assert second["state"] == "as sealed"
    rows = [
        dict(zip(written_soon(ledger).header, row, strict=True))
        for row in written_soon(ledger).rows
    ]
    assert [(row["month"], row["sealed"], row["notes"], row["time_only"]) for row in rows] == [
        ("2026-03", "yes", "3", "1"),
        ("2026-04", "yes", "1", "0"),
    ]
