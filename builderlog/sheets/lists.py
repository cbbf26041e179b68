"""The sheets of the lists: parts, pictures by month, area and task, and what is next."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from builderlog.deciding import addresses, words
from builderlog.deciding.public import PublicPart, PublicPartEvent
from builderlog.sheets.book import Book, snag_row
from builderlog.sheets.rows import (
    Link,
    NextRow,
    PartEventRow,
    PartRow,
    Photo,
    SnagRow,
    day_of,
)
from builderlog.sheets.shots import Shot, each_once

# Where a part is, by its newest status; a part without one was only named.
PART_GROUPS = (
    ("On the aircraft", ("fitted",)),
    ("In the shop", ("received", "damaged")),
    ("On their way", ("ordered", "back-ordered", "short")),
    ("Wanted", ("wanted",)),
    ("Gone again", ("sent back", "scrapped")),
    ("Named in notes", (None,)),
)
OF_NO_AREA = "Of no one area"
OF_NO_TASK = "Of no one task"


@dataclass(frozen=True, slots=True)
class PartGroup:
    """The parts that are in one place."""

    name: str
    parts: tuple[PartRow, ...]


@dataclass(frozen=True, slots=True)
class PartsSheet:
    """All parts that public notes name."""

    groups: tuple[PartGroup, ...]
    count: str
    shows_costs: bool


def parts_sheet(book: Book) -> PartsSheet:
    """The page of the parts; within a group in the order of their first note."""
    rows = part_rows(book)
    groups = tuple(
        PartGroup(name, tuple(row for row in rows if row.status in statuses))
        for name, statuses in PART_GROUPS
    )
    return PartsSheet(
        groups=tuple(group for group in groups if group.parts),
        count=words.counted(len(book.public.parts), "part"),
        shows_costs=any(part.cost for part in book.public.parts),
    )


def part_rows(book: Book) -> tuple[PartRow, ...]:
    """Every part with its place on the page of the parts, in the order of their first note."""
    parts = book.public.parts
    anchors = addresses.anchors_for("part", [part.name for part in parts])
    return tuple(_part_row(book, *pair) for pair in zip(parts, anchors, strict=True))


def _part_row(book: Book, part: PublicPart, anchor: str) -> PartRow:
    return PartRow(
        name=part.name,
        count=None if part.count is None else words.amount(part.count),
        status=part.status,
        task=book.task_link(part.task),
        events=tuple(_event_row(book, event) for event in part.events),
        cost=part.cost,
        supplier=part.supplier,
        ref=part.ref,
        anchor=anchor,
    )


def _event_row(book: Book, event: PublicPartEvent) -> PartEventRow:
    return PartEventRow(
        day=day_of(event.day),
        status=event.status,
        count=None if event.count is None else words.amount(event.count),
        due=day_of(event.due) if event.due else None,
        note=book.note_link(event.note),
    )


@dataclass(frozen=True, slots=True)
class PhotoGroup:
    """Pictures under one heading; `link` leads to its month, area or task."""

    name: str
    link: Link | None
    photos: tuple[Photo, ...]


@dataclass(frozen=True, slots=True)
class PhotoSheet:
    """A picture index. `orders` are the three ways it is sorted, with this one's words."""

    order: str  # "by month"
    orders: tuple[Link, ...]
    count: str
    groups: tuple[PhotoGroup, ...]


ORDERS = (
    Link("by month", addresses.PHOTOS),
    Link("by area", addresses.PHOTOS_BY_AREA),
    Link("by task", addresses.PHOTOS_BY_TASK),
)


def photos_by_month(book: Book) -> PhotoSheet:
    """The pictures by the month they were taken in, newest first, each once."""
    months: dict[str, list[Shot]] = {}
    for shot in book.all_shots:
        months.setdefault(shot.month, []).append(shot)
    return _photo_sheet(
        ORDERS[0],
        (
            PhotoGroup(words.month_long(month), book.month_link(month), each_once(shots))
            for month, shots in sorted(months.items(), reverse=True)
        ),
    )


def photos_by_area(book: Book) -> PhotoSheet:
    """The pictures by the area they show; one that shows two areas stands in both."""
    area_of = {task.id: task.area for task in book.tasks.values()}
    shots = _shots_by(book, lambda task: area_of[task])
    groups = (
        PhotoGroup(area.name, book.area_link(area.id), each_once(shots.get(area.id, ())))
        for area in book.areas.values()
    )
    return _photo_sheet(ORDERS[1], (*groups, _unsorted(book, OF_NO_AREA)))


def photos_by_task(book: Book) -> PhotoSheet:
    """The pictures by the task they show, in the order of the work list."""
    shots = _shots_by(book, lambda task: task)
    groups = (
        PhotoGroup(task.name, book.task_link(task.id), each_once(shots.get(task.id, ())))
        for task in book.tasks.values()
    )
    return _photo_sheet(ORDERS[2], (*groups, _unsorted(book, OF_NO_TASK)))


def _shots_by(book: Book, group_of: Callable[[str], str]) -> Mapping[str, list[Shot]]:
    """All shots by the group of each task they show."""
    found: dict[str, list[Shot]] = {}
    for shot in book.all_shots:
        for group in dict.fromkeys(map(group_of, shot.shows)):
            found.setdefault(group, []).append(shot)
    return found


def _unsorted(book: Book, name: str) -> PhotoGroup:
    return PhotoGroup(name, None, each_once(shot for shot in book.all_shots if not shot.shows))


def _photo_sheet(order: Link, groups: Iterable[PhotoGroup]) -> PhotoSheet:
    kept = tuple(group for group in groups if group.photos)
    digests = {photo.digest for group in kept for photo in group.photos}
    return PhotoSheet(order.words, ORDERS, words.counted(len(digests), "picture"), kept)


@dataclass(frozen=True, slots=True)
class NextSheet:
    """What comes next; snags only where the journal shows them."""

    steps: tuple[NextRow, ...]
    awaited: tuple[PartRow, ...]
    shows_snags: bool
    open_snags: tuple[SnagRow, ...]
    fixed_snags: tuple[SnagRow, ...]


def next_sheet(book: Book) -> NextSheet:
    """The page of what is next: steps, parts on their way, open snags."""
    snags = tuple(snag_row(book, snag) for snag in book.public.snags if book.public.shows_snags)
    on_their_way = dict(PART_GROUPS)["On their way"]
    return NextSheet(
        steps=next_rows(book),
        awaited=tuple(row for row in part_rows(book) if row.status in on_their_way),
        shows_snags=book.public.shows_snags,
        open_snags=tuple(snag for snag in snags if snag.fixed_on is None),
        fixed_snags=tuple(snag for snag in snags if snag.fixed_on is not None),
    )


def next_rows(book: Book) -> tuple[NextRow, ...]:
    """The next steps, those last written first."""
    steps = sorted(book.public.next_steps, key=lambda step: step.day, reverse=True)
    return tuple(
        NextRow(step.text, day_of(step.day), book.note_link(step.note), _areas_of(book, step.areas))
        for step in steps
    )


def _areas_of(book: Book, areas: tuple[str, ...]) -> tuple[Link, ...]:
    links = (book.area_link(area) for area in areas)
    return tuple(link for link in links if link)
