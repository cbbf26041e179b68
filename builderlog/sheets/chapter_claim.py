"""The claim as its rulebook counts it: verdict, areas with columns and totals, what stands beside.

Without a rulebook nothing is counted, and the chapter tells the hours by area alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builderlog.deciding import sums
from builderlog.deciding.claim_sentences import bought_help, evaluation, source_words
from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    headroom_words,
    percent_text,
    share_text,
    units_text,
    units_words,
    verdict,
)
from builderlog.deciding.portion import Portion
from builderlog.deciding.states import as_state, sentence
from builderlog.deciding.words import duration, duration_clock, listed
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Role
from builderlog.sheets.chapter import (
    Bar,
    Bars,
    Block,
    Bullets,
    Cell,
    Chapter,
    Column,
    Facts,
    Paragraph,
    Rows,
    Section,
)
from builderlog.sheets.evidence_count import IN_ALL, count_columns, count_headings, part_cells
from builderlog.sheets.material import Material
from builderlog.sheets.places import area_chapters, titled

CHAPTER = "claim"
TITLE = "The claim by area"
OF_ONE_KIT = (
    "The maker's hours are declared for the whole kit, so an area has none of them and no share; "
    "time given to no task stands in the last row alone."
)
NO_RULEBOOK = (
    "The journal names no rulebook, so nothing is counted and no share is told here. The hours on "
    "record stand below by area; what each task has on record stands with the task."
)
AREA = Column("Area", share=5)
HOURS = (
    AREA,
    *(Column(kind.value.capitalize(), number=True) for kind in Work),
    Column("Builders", number=True),
    Column("Unpaid helpers", number=True),
    Column("Paid", number=True),
    Column("All", number=True),
)


def claim_chapter(material: Material) -> Iterator[Chapter]:
    """Always there: the count, or the sentence that nothing is counted."""
    counted, ledger = material.found.portion, material.ledger
    if counted is None:
        blocks: tuple[Block, ...] = (Paragraph(NO_RULEBOOK, kind="lead"), _hours(ledger))
    else:
        blocks = tuple(_counted(material, counted))
    yield Chapter(CHAPTER, TITLE, (*blocks, Paragraph(CAUTION, kind="caution")))


def _counted(material: Material, counted: Portion) -> Iterator[Block]:
    ledger, rulebook = material.ledger, counted.rulebook
    yield Paragraph(as_state(verdict(counted)), kind="lead")
    headroom = headroom_words(counted)
    if headroom:
        yield Paragraph(as_state(headroom))
    yield from (Paragraph(words, kind="caution") for words in unsettled_words(rulebook))
    yield Facts((*facts_of(rulebook), *_exactly(counted)))
    yield Section("claim-count", "By area", tuple(_by_area(ledger, counted)))
    yield _hours(ledger)
    rows = ((label, Cell(as_state(words))) for label, words in beside(counted))
    yield Section("claim-beside", "Beside the claim", (Paragraph(BESIDE), Facts(tuple(rows))))
    yield Section("claim-kit", "The kit and bought help", tuple(_kit(material, rulebook)))
    yield Section("claim-sources", "By which sources", tuple(_sources(rulebook)))
    yield from (Paragraph(words, kind="caution") for words in rulebook.cautions)


BESIDE = (
    "What the record carries already, what the finished tasks come to by themselves, and what the "
    "whole comes to if all goes as planned."
)


def unsettled_words(rulebook: Rulebook) -> Iterator[str]:
    """What the rulebook's sources leave open, if anything."""
    if rulebook.unsettled:
        yield f"Not settled by the sources: {sentence(rulebook.unsettled)}"


def facts_of(rulebook: Rulebook) -> Iterator[tuple[str, Cell]]:
    """By which rule it is counted, in what, and what need not be built."""
    rows = (
        ("Rulebook", rulebook.title),
        ("Rule", rulebook.rule),
        ("Citation", rulebook.citation),
        ("Counted in", rulebook.measure.value),
        ("Columns of", rulebook.form or ""),
        ("Need not be built", listed(rulebook.not_built)),
    )
    yield from ((term, Cell(words)) for term, words in rows if words)


def _exactly(counted: Portion) -> Iterator[tuple[str, Cell]]:
    """Share and limit as decimals; where hours are counted, the columns as decimals too."""
    whole, measure = counted.whole, counted.rulebook.measure
    if whole.share is not None:
        limit = counted.rulebook.limit
        yield "Share, to six decimals", Cell(f"{share_text(whole.share)} (limit {limit})")
    if measure is Measure.HOURS:
        told = (f"{side.value} {units_text(whole.columns.of((side,)), measure)}" for side in Side)
        yield "Hours counted, as decimals", Cell(", ".join(told))


def _by_area(ledger: Ledger, counted: Portion) -> Iterator[Block]:
    """The count as the form sums it, and the same as bars."""
    rulebook, chapters = counted.rulebook, area_chapters(ledger)
    rows = [
        (
            Cell(titled(each.area.id, each.area.name), to=chapters[each.area.id]),
            *part_cells(each.count, rulebook),
        )
        for each in counted.areas
    ]
    rows.append((Cell(IN_ALL), *part_cells(counted.whole, rulebook)))
    columns = (
        AREA,
        Column("Tasks", number=True, share=1),
        *count_columns(rulebook),
        Column("Share", number=True),
    )
    yield Rows("The count by area", columns, tuple(rows), sums=1)
    if rulebook.measure is Measure.HOURS:
        yield Paragraph(OF_ONE_KIT)
    if counted.areas:
        yield _bars(counted)


def _bars(counted: Portion) -> Bars:
    """A bar for each area, as long as all that it counts, in parts by whose it is."""
    measure = counted.rulebook.measure
    bars, told = [], []
    for each in counted.areas:
        parts = tuple(each.count.columns.of((side,)) for side in Side)
        title = titled(each.area.id, each.area.name)
        words = (
            duration(sum(parts)) if measure is Measure.HOURS else units_words(sum(parts), measure)
        )
        share = percent_text(each.count.share, counted.rulebook.limit)
        has_share = each.count.share is not None
        bars.append(
            Bar(title, sum(parts), f"{words}, share {share}" if has_share else words, parts)
        )
        told.append(f"{title} {words}")
    headings = count_headings(counted.rulebook)
    alt = f"A bar for each area, divided into {listed(headings)}: {'; '.join(told)}."
    return Bars(alt, tuple(bars), headings)


def _hours(ledger: Ledger) -> Section:
    """All time on record by area, as `tally` sums it; what belongs to no area stands last."""
    chapters = area_chapters(ledger)
    areas: list[tuple[str, Cell]] = [
        (area.id, Cell(titled(area.id, area.name), to=chapters[area.id]))
        for area in ledger.worklist.areas
    ]
    areas.append((sums.NO_AREA, Cell("No area")))
    by_area: dict[str, list[Worked]] = {}
    for row in ledger.work:
        by_area.setdefault(sums.area_of(row.task, ledger.worklist), []).append(row)
    rows = [(cell, *_time(by_area[name])) for name, cell in areas if name in by_area]
    rows.append((Cell(IN_ALL), *_time(ledger.work)))
    table = Rows("The hours on record by area", HOURS, tuple(rows), sums=1)
    exact = Paragraph(_seconds(ledger), kind="quiet")
    return Section("claim-hours", "Hours on record by area", (Paragraph(OF_HOURS), table, exact))


def _seconds(ledger: Ledger) -> str:
    """The same sums unrounded, as the tables have them."""
    roles = sums.by_role(ledger.work)
    told = ", ".join(f"{role} {seconds}" for role, seconds in roles.items())
    return f"In whole seconds: {told}, all {sums.seconds_of(ledger.work)}."


OF_HOURS = (
    "Hours and minutes of everyone, by the kind of the work and by who gave them: two ways of "
    "dividing the same time. Time given to no task belongs to no area."
)


def _time(work: Iterable[Worked]) -> tuple[Cell, ...]:
    held = tuple(work)
    kinds, roles = sums.by_kind(held), sums.by_role(held)
    seconds = (*(kinds[kind.value] for kind in Work), *(roles[role.value] for role in Role))
    return tuple(Cell(duration_clock(each)) for each in (*seconds, sums.seconds_of(held)))


def _kit(material: Material, rulebook: Rulebook) -> Iterator[Paragraph]:
    ledger, kit = material.ledger, material.ledger.settings.kit_evaluated
    told = [as_state(words) for words in evaluation(ledger, rulebook)]
    if kit is None:
        told.insert(0, f"No evaluation of a kit is named. Bought help: {bought_help(ledger)}")
    yield from map(Paragraph, told)
    if kit and kit.file:
        yield Paragraph("The evaluation:", links=(material.shelf.paper(kit.file.text),))


def _sources(rulebook: Rulebook) -> Iterator[Block]:
    if rulebook.sources:
        yield Bullets(tuple(Cell(source_words(each)) for each in rulebook.sources))
    else:
        yield Paragraph("No published source stands behind this rulebook here.")
