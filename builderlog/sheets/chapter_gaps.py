"""What is missing, by the record's own count: doubts first, each with its explanation and place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from builderlog.deciding.states import sentence
from builderlog.deciding.words import counted, listed
from builderlog.reading.problem import Weight
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.evidence_gaps import Missing, about, told_of
from builderlog.sheets.material import Material
from builderlog.sheets.places import area_chapters

CHAPTER = "missing"
MOST_OF_A_KIND = 40  # beyond it a kind is counted, and named one by one in gaps.csv alone
COLUMNS = (
    Column("What the record has or lacks", share=6),
    Column("About", share=2),
    Column("Where", share=4),
    Column("The builder explains", share=4),
)
PARTS = (
    (Weight.DOUBT, "missing-doubts", "Doubts", "Counted as written, and worth a second look."),
    (Weight.GAP, "missing-gaps", "Gaps", "Here the evidence is thinner than one may wish."),
)


def missing_chapter(material: Material) -> Iterator[Chapter]:
    """Told so that nobody need look for it; always there."""
    told = told_of(material.found).all
    blocks: list[Block] = [Paragraph(_lead(told), kind="lead"), Paragraph(INTRO)]
    for weight, name, title, words in PARTS:
        held = [each for each in told if each.problem.weight is weight]
        if held:
            table = _table(title, held, material)
            blocks.append(Section(name, title, (Paragraph(words), *table)))
    yield Chapter(CHAPTER, "What is missing", tuple(blocks))


INTRO = (
    "The doubts and gaps that the record has by its own count: doubts first, and of each those on "
    "which most of the claim hangs; those that the builder explains stand last and stay listed. "
    "Only the authority decides what it wants to see. The same stands in data/tables/gaps.csv."
)


def _lead(told: Sequence[Missing]) -> str:
    if not told:
        return "The record names no doubt and no gap."
    weights = Counter(each.problem.weight for each in told)
    names = [counted(weights[Weight.DOUBT], "doubt"), counted(weights[Weight.GAP], "gap")]
    explained = sum(bool(each.problem.because) for each in told)
    return f"{listed(names).capitalize()}; the builder explains {explained} of them."


def _table(title: str, held: Sequence[Missing], material: Material) -> Iterator[Block]:
    chapters, kinds = area_chapters(material.ledger), Counter[str]()
    rows = []
    for each in held:
        kinds[each.problem.code] += 1
        if kinds[each.problem.code] <= MOST_OF_A_KIND:
            rows.append(_row(each, about(each, chapters), material))
    yield Rows(title, COLUMNS, tuple(rows))
    for code, number in kinds.items():
        if number > MOST_OF_A_KIND:
            first = next(each for each in held if each.problem.code == code)
            more = f"And {number - MOST_OF_A_KIND} more of one kind, of which the first is"
            yield Paragraph(f"{more}: {first.words}", kind="gap")


def _row(each: Missing, concerns: Cell, material: Material) -> tuple[Cell, ...]:
    because = each.problem.because
    return (
        Cell(each.words),
        concerns,
        Cell(links=(each.where(material.ledger),)),
        Cell(sentence(because)) if because else Cell(),
    )
