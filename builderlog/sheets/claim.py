"""The sheet of the claim's page: the count by area as bars and as a table, and what bounds it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding.claim_words import units_text, units_words
from builderlog.deciding.public import PublicClaim, PublicClaimColumn, PublicClaimRow
from builderlog.deciding.words import counted, duration, duration_clock, first_upper, listed
from builderlog.knowing.rulebook import Measure
from builderlog.sheets.book import Book
from builderlog.sheets.rows import Link

WHOLE_PERMILLE = 1000

HOW_COUNTED = {
    Measure.POINTS: "Counted in points: each task that applies is one, divided in tenths.",
    Measure.MARKS: "Counted in marks: a task can bear one for each side that worked on it.",
    Measure.HOURS: (
        "Counted in hours: those on record, beside those that the maker declares for the whole kit."
    ),
}
OF_THE_WHOLE = "The limit is asked of the whole; no area has to reach it by itself."
HOURS_NOTE = "Hours and minutes; time given to no task stands in the last row alone."


@dataclass(frozen=True, slots=True)
class BarPart:
    """A part of a bar by side, from where to where in thousandths of it; `words` tell its size."""

    side: str
    start: int
    end: int
    words: str


@dataclass(frozen=True, slots=True)
class ClaimBar:
    """The share of an area, or in all, against the limit; `limit` in thousandths."""

    label: str  # all of it in words
    parts: tuple[BarPart, ...]
    limit: int


@dataclass(frozen=True, slots=True)
class ClaimRow:
    """An area, or the whole, as bars and table show it; `link` leads to the area's page."""

    id: str
    name: str
    link: Link | None
    share: str | None
    standing: str  # "7 of 9 tasks done"
    bar: ClaimBar | None
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ClaimSheet:
    """The claim's page. `rows` are the areas; `legend` is what the parts of the bars stand for."""

    verdict: str
    share: str | None
    measured: str  # what the share is of: "or 33.5 of 58.0 points"
    limit: str
    headroom: str | None  # only where the journal shows paid help
    facts: tuple[tuple[str, str], ...]
    unsettled: str | None
    whole: ClaimRow
    rows: tuple[ClaimRow, ...]
    legend: tuple[tuple[str, str], ...]  # side, words
    headings: tuple[str, ...]
    remarks: tuple[str, ...]
    beside: tuple[tuple[str, str], ...]
    sources: tuple[str, ...]
    cautions: tuple[str, ...]


def claim_sheet(book: Book, claim: PublicClaim) -> ClaimSheet:
    """The sheet of the claim, where the journal shows it."""
    shown = _Shown(
        numbers=bool(claim.whole.units),
        shares=any(row.share for row in claim.areas),
    )
    headings = [column.heading for column in claim.columns] if shown.numbers else []
    return ClaimSheet(
        verdict=_kept(claim.verdict),
        share=_kept(claim.whole.share) if claim.whole.share else None,
        measured=_measured(claim),
        limit=_kept(claim.limit),
        headroom=claim.headroom,
        facts=claim.facts,
        unsettled=claim.unsettled,
        whole=_row(book, claim, claim.whole, shown),
        rows=tuple(_row(book, claim, row, shown) for row in claim.areas),
        legend=tuple((column.side, column.heading) for column in _sides(claim)),
        headings=("Area", "Tasks", "Done", *headings, *(("Share",) if shown.shares else ())),
        remarks=tuple(_remarks(claim, shown)),
        beside=tuple((label, first_upper(_kept(words))) for label, words in claim.beside),
        sources=claim.sources,
        cautions=claim.cautions,
    )


def _kept(words: str) -> str:
    """No line ends between a number and its per cent sign."""
    return words.replace(" %", "\N{NO-BREAK SPACE}%")


def _measured(claim: PublicClaim) -> str:
    """The builder's columns of all that the share is taken of; of hours not told, no number."""
    units = dict(zip(claim.columns, claim.whole.units, strict=False))
    own, total = (
        sum(each or 0 for column, each in units.items() if column.counts in kinds)
        for kinds in (("for",), ("for", "against"))
    )
    if not total:
        return f"of the {claim.measure} that count"
    hours = claim.measure == Measure.HOURS
    told = duration(own) if hours else units_text(own, Measure(claim.measure))
    return f"or {told} of {_words(total, claim)}"


@dataclass(frozen=True, slots=True)
class _Shown:
    """What every row of the table has beside its tasks."""

    numbers: bool
    shares: bool  # an area has one of its own


def _row(book: Book, claim: PublicClaim, row: PublicClaimRow, shown: _Shown) -> ClaimRow:
    measure = Measure(claim.measure)
    cells = [_cell(units, measure) for units in row.units]
    share = _kept(row.share or "\N{EN DASH}")
    link = book.area_link(row.area)
    return ClaimRow(
        id=row.area or "",
        name=link.words if link else row.name,
        link=link,
        share=_kept(row.share) if row.share else None,
        standing=f"{row.done} of {counted(row.tasks, 'task')} done",
        bar=_bar(claim, row),
        cells=(str(row.tasks), str(row.done), *cells, *((share,) if shown.shares else ())),
    )


def _cell(units: int | None, measure: Measure) -> str:
    if units is None:
        return "\N{EN DASH}"
    return duration_clock(units) if measure is Measure.HOURS else units_text(units, measure)


def _sides(claim: PublicClaim) -> tuple[PublicClaimColumn, ...]:
    """The columns that the share is of, the builder's first, so that they are held to the limit."""
    return tuple(
        column for side in ("for", "against") for column in claim.columns if column.counts == side
    )


def _bar(claim: PublicClaim, row: PublicClaimRow) -> ClaimBar | None:
    if row.share is None or row.permille is None:
        return None
    label = f"{row.name}: the share is {row.share}"
    return ClaimBar(label, tuple(_parts(claim, row, row.permille)), claim.limit_permille)


def _parts(claim: PublicClaim, row: PublicClaimRow, permille: int) -> Iterator[BarPart]:
    """One part for each column with anything in it; without numbers the share and the rest."""
    if not row.units:
        own, others = _sides(claim)
        yield BarPart(own.side, 0, permille, own.heading)
        yield BarPart(others.side, permille, WHOLE_PERMILLE, others.heading)
        return
    units = dict(zip(claim.columns, row.units, strict=True))
    sides = [(column, units[column] or 0) for column in _sides(claim)]
    total, before = sum(each for _, each in sides), 0
    for column, each in sides:
        if each:
            start = WHOLE_PERMILLE * before // total
            before += each
            words = f"{column.heading}: {_words(each, claim)}"
            yield BarPart(column.side, start, WHOLE_PERMILLE * before // total, words)


def _words(units: int, claim: PublicClaim) -> str:
    measure = Measure(claim.measure)
    return duration(units) if measure is Measure.HOURS else units_words(units, measure)


def _remarks(claim: PublicClaim, shown: _Shown) -> Iterator[str]:
    measure = Measure(claim.measure)
    yield HOW_COUNTED[measure]
    if any(row.share for row in claim.areas):
        yield OF_THE_WHOLE
    if shown.numbers and measure is Measure.HOURS:
        yield HOURS_NOTE
    beside = [column.heading for column in claim.columns if not column.counts]
    if beside:
        verb = "counts" if len(beside) == 1 else "count"
        yield f"{listed(beside)} {verb} on no side."
