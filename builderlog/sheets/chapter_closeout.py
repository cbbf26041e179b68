"""The torque and close-out register as a chapter: cautions, what is open, areas from tail to nose.

It tells what notes state and what published rules say to it; no joint is judged by it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builderlog.deciding.tail_to_nose import tail_to_nose
from builderlog.deciding.torque_register import Group, register
from builderlog.deciding.torque_words import name_of
from builderlog.deciding.words import counted
from builderlog.knowing.settings import Area
from builderlog.sheets.cells import Names, names_of
from builderlog.sheets.chapter import (
    Block,
    Bullets,
    Cell,
    Chapter,
    Column,
    Paragraph,
    Rows,
    Section,
)
from builderlog.sheets.closeout_rules import rules_section, table_section
from builderlog.sheets.closeout_words import (
    by_words,
    held_against_words,
    mark_cell,
    safetied_cell,
    state_words,
    torque_words,
    where_words,
    wrench_cell,
)
from builderlog.sheets.material import Material
from builderlog.sheets.places import area_title
from builderlog.sheets.shelf import Shelf

TITLE = "Torque and close-out register"
CAUTION = (
    "The kit's manual and the part maker's manual prevail over everything here; then the practice "
    "of a licensed mechanic. This register repeats what the notes state and holds it against "
    "published rules; it grants nothing and takes the place of no inspection of a joint."
)
NONE = "No note tells of a fastener that was brought to torque."
NOT_HERE = (
    "Fasteners that no note names are not in this register, and nothing in the record can tell "
    "that they are missing from it."
)
ORDER = (
    "The areas stand from tail to nose as far as their names tell (common practice); those that "
    "run through the aircraft follow in the order of the work list. A value in brackets is the one "
    "as written, converted exactly and rounded for reading only."
)
SHARED = (
    "These notes name tasks of more than one area, and an entry carries no task of its own: it "
    "may belong to any of them."
)
NO_AREA = "No area named"
COLUMNS = (
    Column("Where", share=5),
    Column("Torque", share=6),
    Column("Held against the rules", share=7),
    Column("Wrench", share=3),
    Column("Mark", share=2),
    Column("Safetied", share=2),
    Column("By whom", share=4),
    Column("State", share=4),
)


@dataclass(frozen=True, slots=True)
class _Part:
    """The groups of one area, or of notes that name several."""

    id: str
    areas: tuple[Area, ...]
    groups: tuple[Group, ...]

    @property
    def title(self) -> str:
        """`Area E: Tail surfaces`; several with `or` between."""
        return " or ".join(map(area_title, self.areas)) or NO_AREA


@dataclass(frozen=True, slots=True)
class _Desk:
    names: Names
    shelf: Shelf


def closeout(held: Material) -> Iterator[Chapter]:
    """The chapter; where nothing was torqued it says so."""
    groups = register(held.ledger)
    caution = Paragraph(CAUTION, "caution")
    if not groups:
        yield Chapter("closeout", TITLE, (caution, Paragraph(NONE, "lead"), Paragraph(NOT_HERE)))
        return
    desk = _Desk(names_of(held.found), held.shelf)
    parts = _parts(groups, held.ledger.worklist.areas)
    blocks: list[Block] = [caution, Paragraph(_counts(groups), "lead"), Paragraph(NOT_HERE)]
    blocks.extend(_still_open(parts, desk))
    blocks.append(Paragraph(ORDER, "quiet"))
    blocks.extend(_section(part, desk) for part in parts)
    blocks += [rules_section(), table_section(groups)]
    yield Chapter("closeout", TITLE, tuple(blocks))


def _counts(groups: tuple[Group, ...]) -> str:
    still, again = (sum(each.state == state for each in groups) for state in ("open", "done again"))
    told = [f"{still or 'none'} still open"]
    told += [f"{again} done again by a later entry"] if again else []
    return f"{counted(len(groups), 'entry', 'entries')} on torque: {', '.join(told)}."


def _parts(groups: Iterable[Group], areas: Iterable[Area]) -> tuple[_Part, ...]:
    """One for each area from tail to nose; what may be of several areas follows the first."""
    ranks = {area.id: rank for rank, area in enumerate(tail_to_nose(areas))}
    by_areas: dict[tuple[str, ...], list[Group]] = {}
    for group in groups:
        by_areas.setdefault(tuple(area.id for area in group.areas), []).append(group)
    last = len(ranks)
    keys = sorted(by_areas, key=lambda ids: [ranks[each] for each in ids] or [last])
    return tuple(
        _Part(f"closeout-{number}", by_areas[key][0].areas, tuple(by_areas[key]))
        for number, key in enumerate(keys, start=1)
    )


def _still_open(parts: Iterable[_Part], desk: _Desk) -> Iterator[Section]:
    """What is still to be done, before everything else."""
    items = tuple(
        Cell(
            f"{name_of(group.line)}: {'; '.join(group.open_because)}",
            desk.shelf.note(group.note),
            to=part.id,
        )
        for part in parts
        for group in part.groups
        if group.is_open
    )
    if items:
        yield Section(
            "closeout-open",
            "Still open",
            (Bullets(items),),
            aside=counted(len(items), "entry", "entries"),
        )


def _section(part: _Part, desk: _Desk) -> Section:
    blocks: list[Block] = [Paragraph(SHARED, "quiet")] if len(part.areas) > 1 else []
    rows = tuple(_row(group, desk) for group in part.groups)
    blocks.append(Rows(f"Fasteners brought to torque: {part.title}", COLUMNS, rows))
    still = sum(group.is_open for group in part.groups)
    aside = f"{still} still open" if still else "nothing open"
    return Section(part.id, part.title, tuple(blocks), aside=aside)


def _row(group: Group, desk: _Desk) -> tuple[Cell, ...]:
    task = desk.names.places.get(group.tasks[0], "") if len(group.tasks) == 1 else ""
    return (
        Cell(where_words(group), to=task),
        Cell(torque_words(group.line)),
        Cell(held_against_words(group)),
        wrench_cell(group),
        mark_cell(group.line),
        safetied_cell(group.line),
        Cell(by_words(group.line, desk.names), desk.shelf.notes((group.note.path,))),
        Cell(state_words(group), weak=group.is_open),
    )
