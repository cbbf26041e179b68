"""Process records and measurements as a chapter: batches, last days, values by their limits."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.findings import find
from builderlog.sheets.chapter import Cell, Chapter, Paragraph, Rows, Section
from builderlog.sheets.chapter_process import process
from builderlog.sheets.material import material
from tests.deciding.torque_entries import journal

NOTES = {
    "2026-03-01": """\
process:
  - {what: primer, batch: LP-2207, expires: 2026-02, mix: 1 to 1, coat: first, temperature: 17 °C,
     humidity: 58 %, sample: strip A}
  - {expires: 2026-03-01}
measured:
  - {what: Gap, value: 2 mm, limit: <= 1 mm}
  - {what: Span, value: 17-1/2 in}
  - {what: Twist, limit: 1 deg}
  - {what: Mass, value: 2 kg, limit: 1 mm}
snags: [{snag: gap too wide, no: 7}, {snag: dent}]
""",
    "2026-03-02": "measured: {what: gap, value: 1 mm, limit: <= 1 mm}\nfixed: 7",
}


def chapter_of(root: Path, notes: dict[str, str]) -> Chapter:
    """The one chapter."""
    (chapter,) = process(material(find(journal(root, notes))))
    return chapter


def table(chapter: Chapter, title: str) -> list[tuple[Cell, ...]]:
    """The rows of a section."""
    section = next(b for b in chapter.blocks if isinstance(b, Section) and b.title == title)
    (rows,) = (block for block in section.blocks if isinstance(block, Rows))
    assert all(len(row) == len(rows.columns) for row in rows.rows)
    return list(rows.rows)


def test_a_process_tells_batch_last_day_and_shop(tmp_path: Path) -> None:
    """Every word of an entry, temperatures in both systems, a material past its day flagged."""
    chapter = chapter_of(tmp_path, NOTES)
    first, second = table(chapter, "Glue, resin, fabric, primer, heat")
    assert [cell.words for cell in first[1:]] == [
        "primer",
        "LP-2207",
        "2026-02-28, past when used",
        "1 to 1",
        "first",
        "17 °C (62.6 °F)",
        "58 %",
        "strip A",
    ]
    assert [link.path for link in first[0].links] == ["notes/2026-03-01.md"]
    assert (first[3].weak, second[3].words, second[3].weak) == (True, "2026-03-01", False)
    assert [(cell.words, cell.weak) for cell in second[1:3]] == [("not said", True)] * 2


def test_a_measurement_is_held_against_its_limit(tmp_path: Path) -> None:
    """In both systems, with what the record tells of one that lies outside."""
    chapter = chapter_of(tmp_path, NOTES)
    rows = table(chapter, "Measurements and their limits")
    assert [[cell.words for cell in row[1:]] for row in rows] == [
        [
            "Gap",
            "2 mm (0.0787 in)",
            "<= 1 mm (<= 0.0394 in)",
            (
                "outside the limit; measured again on 2026-03-02; snag 7 of the same note was put "
                "right on 2026-03-02; snag 2026-03-01.2 of the same note is open"
            ),
        ],
        ["Span", "17-1/2 in (444.5 mm)", "", "no limit stated"],
        ["Twist", "", "1 deg", "no value stated"],
        [
            "Mass",
            "2 kg (4.41 lb)",
            "1 mm (0.0394 in)",
            "value and limit are of different kinds",
        ],
        ["gap", "1 mm (0.0394 in)", "<= 1 mm (<= 0.0394 in)", "inside the limit"],
    ]
    assert [row[4].weak for row in rows] == [False, True, True, False, False]


def test_the_chapter_counts_and_warns(tmp_path: Path) -> None:
    """Its lead counts the entries, its caution says what a limit is, its sections what is off."""
    chapter = chapter_of(tmp_path, NOTES)
    told = [block for block in chapter.blocks if isinstance(block, Paragraph)]
    assert told[0].words == "2 process entries and 5 measurements on record."
    assert (told[1].kind, "grants nothing" in told[1].words) == ("caution", True)
    asides = [block.aside for block in chapter.blocks if isinstance(block, Section)]
    assert asides == ["1 used after the last day", "1 outside the limit"]


def test_one_part_alone_says_that_the_other_is_empty(tmp_path: Path) -> None:
    """Where only measurements are on record the other table says that none is."""
    chapter = chapter_of(tmp_path, {"2026-03-01": "measured: {what: Gap, value: 2 mm}"})
    told = chapter.blocks[0]
    assert isinstance(told, Paragraph)
    assert told.words == "No process entries and 1 measurement on record."
    assert table(chapter, "Glue, resin, fabric, primer, heat") == []


def test_an_empty_record_says_so(tmp_path: Path) -> None:
    """Nothing on record is one sentence; a hidden note puts nothing on record."""
    hidden = "hours: 1h\nprocess: {what: primer}\nmeasured: {what: Gap}\nprivate: hours only"
    for root, notes in ((tmp_path / "a", {}), (tmp_path / "b", {"2026-03-01": hidden})):
        (told,) = chapter_of(root, notes).blocks
        assert isinstance(told, Paragraph)
        assert told.words.startswith("No note tells of glue")
