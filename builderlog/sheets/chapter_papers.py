"""The chapter of the papers that the authority asks for: what is at hand and what is not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builderlog.deciding.claim_sentences import KNOWN
from builderlog.deciding.papers import HeldPaper, is_at_hand
from builderlog.deciding.papers import papers as papers_of
from builderlog.deciding.words import counted
from builderlog.knowing.rulebook import AskedPaper, Rulebook
from builderlog.knowing.settings import Paper
from builderlog.sheets.cells import maybe, sentences
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.material import Material
from builderlog.sheets.shelf import Shelf

PREVAILS = (
    "This list is no more than a reminder: what the authority asks for now is in its own current "
    "list, and that list prevails. That a paper is at hand says nothing of what the authority "
    "makes of it."
)


def papers(held: Material) -> Iterator[Chapter]:
    """The rulebook's list beside the builder's; without a list it says whom to ask for one."""
    found, rulebook = papers_of(held.ledger), held.ledger.rulebook
    blocks: list[Block] = [_opening(rulebook, found.asked)]
    if found.asked:
        blocks += [Paragraph(PREVAILS, "caution"), _asked(found.asked, held.shelf)]
    if found.others:
        blocks.append(_others(found.others, held.shelf))
    yield Chapter("papers", "Papers that the authority asks for", tuple(blocks))


def _opening(rulebook: Rulebook | None, asked: Sequence[HeldPaper]) -> Paragraph:
    if rulebook is None:
        told = "The journal names no rulebook, so there is no list of papers to go by"
    elif not asked:
        told = f"No list of papers is known for {rulebook.title}"
    else:
        have = sum(each.at_hand for each in asked)
        return Paragraph(
            f"{rulebook.title}: {counted(len(asked), 'paper')} on the list, {have} at hand, "
            f"{len(asked) - have} not at hand.",
            "lead",
        )
    return Paragraph(f"{told}; the authority's own list has to be asked for.", "gap")


def _asked(asked: Sequence[HeldPaper], shelf: Shelf) -> Rows:
    columns = (
        Column("Paper", share=5),
        Column("Form", share=2),
        Column("Asked for in", share=4),
        Column("At hand", share=4),
    )
    rows = tuple(
        (_named(each.asked), maybe(each.asked.form), _cited(each.asked), _hand(each, shelf))
        for each in asked
    )
    return Rows("Papers that the authority asks for, with what is at hand", columns, rows)


def _named(asked: AskedPaper) -> Cell:
    return Cell(sentences((asked.name, asked.what)) if asked.what else asked.name)


def _cited(asked: AskedPaper) -> Cell:
    known = KNOWN[asked.known]
    return Cell(f"{asked.citation} ({known})" if asked.citation else known)


def _hand(each: HeldPaper, shelf: Shelf) -> Cell:
    if not each.at_hand:
        listed = " (listed by the builder without day or file)" if each.listed else ""
        return Cell(f"not at hand{listed}", weak=True)
    have = [paper for paper in each.listed if is_at_hand(paper)]
    words = "; ".join(f'"{paper.name}", {_since(paper)}' for paper in have)
    return Cell(words, shelf.papers(paper.file.text for paper in have if paper.file))


def _since(paper: Paper) -> str:
    return f"since {paper.have.day}" if paper.have else "since when is not said"


def _others(others: Sequence[Paper], shelf: Shelf) -> Section:
    columns = (Column("Paper", share=5), Column("At hand", share=3))
    rows = tuple((Cell(paper.name), _other(paper, shelf)) for paper in others)
    told = Paragraph(
        "The builder lists these as well; no paper of the list above goes by these words.", "quiet"
    )
    caption = "Other papers that the builder lists"
    return Section("papers-others", caption, (told, Rows(caption, columns, rows)))


def _other(paper: Paper, shelf: Shelf) -> Cell:
    if not is_at_hand(paper):
        return Cell("not at hand", weak=True)
    files = shelf.papers([paper.file.text]) if paper.file else ()
    return Cell(_since(paper), files)
