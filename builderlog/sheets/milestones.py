"""The milestones of a build: areas begun and done, tasks done, work closed up, round sums of hours.

Each stands in its month. Its day is told only where public notes hold all the work that makes it
one: the day of a private note must not be read off a milestone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, chain

from builderlog.deciding import addresses, words
from builderlog.deciding.public import PublicMonth, PublicNote
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.month_work import names_of, names_told
from builderlog.sheets.rows import Day, Link, day_of, time_of

NEWEST_MILESTONES = 6
HOUR = 3600
ROUND_HOURS = (100, 250, 500, 750, *range(1000, 20_001, 500))
# Of those of one note; what has no day comes after all that have one.
KINDS = ("first", "begun", "task", "closed", "area", "hours")


@dataclass(frozen=True, slots=True)
class Milestone:
    """One milestone: "Started", "Wings", by whose page, in which month."""

    kind: str  # one of `KINDS`
    label: str
    name: str
    link: Link | None  # the page of the area or task
    month: Link
    day: Day | None = None
    note: Link | None = None  # the note that tells it


@dataclass(frozen=True, slots=True)
class MilestoneMonth:
    """A month that has any. `pause` tells of the months without one that lie before it."""

    link: Link
    sealed: bool  # its record is closed
    pause: str | None
    milestones: tuple[Milestone, ...]


@dataclass(frozen=True, slots=True)
class MilestonesSheet:
    """The time line, oldest month first. `since` tells of the months after the last of them."""

    count: str
    months: tuple[MilestoneMonth, ...]
    since: str | None


def milestones_sheet(book: Book) -> MilestonesSheet:
    """The page of the milestones."""
    rows: list[MilestoneMonth] = []
    waiting: list[PublicMonth] = []
    number = 0
    for month, found in milestones_by_month(book):
        if not found:
            waiting.append(month)
            continue
        sealed, link = bool(month.seals), link_to_month(month.month)
        rows.append(MilestoneMonth(link, sealed, _pause(waiting), found))
        number += len(found)
        waiting = []
    return MilestonesSheet(words.counted(number, "milestone"), tuple(rows), _pause(waiting))


def has_milestones(book: Book) -> bool:
    """Whether there is any beside the first note."""
    return any(each.kind != "first" for _, found in milestones_by_month(book) for each in found)


def newest_milestones(book: Book) -> tuple[Milestone, ...]:
    """The last of them, the newest first."""
    everything = tuple(chain.from_iterable(found for _, found in milestones_by_month(book)))
    return tuple(reversed(everything[-NEWEST_MILESTONES:]))


def milestones_page(book: Book) -> Link | None:
    """The page of all of them, None where it is not made."""
    return Link("All milestones", addresses.MILESTONES) if has_milestones(book) else None


def milestones_by_month(book: Book) -> Iterator[tuple[PublicMonth, tuple[Milestone, ...]]]:
    """Every month of the record with its milestones, those of one month in the order of days."""
    finder = _Finder.of(book)
    before = accumulate((month.seconds for month in book.public.months), initial=0)
    for position, month in enumerate(book.public.months):
        found = (
            *(finder.first(month) if position == 0 else ()),
            *finder.begun(month, book.public.months[:position]),
            *finder.tasks(month),
            *finder.areas(month),
            *finder.closed(month),
            *_round_hours(month, next(before)),
        )
        yield month, tuple(sorted(found, key=finder.order))


def _pause(months: Sequence[PublicMonth]) -> str | None:
    """February 2027 to April 2027: 61 h 20 min, no milestone."""
    if not months:
        return None
    first, last = words.month_long(months[0].month), words.month_long(months[-1].month)
    span = first if first == last else f"{first} to {last}"
    seconds = sum(month.seconds for month in months)
    return f"{span}: {f'{time_of(seconds).words}, ' if seconds else ''}no milestone"


def _round_hours(month: PublicMonth, before: int) -> Iterator[Milestone]:
    """The highest round sum that the hours reached in this month; its day is never told."""
    reached = [n for n in ROUND_HOURS if before < n * HOUR <= before + month.seconds]
    if reached:
        name = f"{reached[-1]}\N{NO-BREAK SPACE}hours"
        yield Milestone("hours", "Reached", name, None, link_to_month(month.month))


@dataclass(frozen=True, slots=True)
class _Finder:
    """What all months need, found once."""

    book: Book
    last_day: dict[str, PublicNote]  # task -> its last note, where all its time is in public ones
    ends: dict[str, PublicMonth]  # area that is done -> the month that finished it
    places: dict[str, int]  # of each note's page among all notes, from 1

    @staticmethod
    def of(book: Book) -> _Finder:
        places = {row.link.path: row.number for row in book.rows.values()}
        return _Finder(book, dict(_last_notes(book)), dict(_ends(book)), places)

    def order(self, milestone: Milestone) -> tuple[bool, int, int]:
        """What has a note in the order of the notes, the rest after it; then by kind."""
        note = milestone.note
        place = self.places[note.path] if note else 0
        return note is None, place, KINDS.index(milestone.kind)

    def first(self, month: PublicMonth) -> Iterator[Milestone]:
        """The beginning of the record."""
        known = bool(month.notes) and not month.not_shown
        told = self.book.notes[month.notes[0]] if known else None
        yield self._made("first", "Begun", ("The journal", None), month, told)

    def begun(self, month: PublicMonth, earlier: Sequence[PublicMonth]) -> Iterator[Milestone]:
        """The areas whose first time is in this month."""
        before = {area for each in earlier for area, seconds in each.by_area if seconds}
        for area, seconds in month.by_area:
            link = self.book.area_link(area) if area else None
            if link and seconds and area not in before:
                told = self._first_note(month, area, seconds)
                yield self._made("begun", "Started", (link.words, link), month, told)

    def _first_note(self, month: PublicMonth, area: str, seconds: int) -> PublicNote | None:
        tasks = frozenset(self.book.areas[area].tasks)
        notes = tuple(self.book.notes[key] for key in month.notes)
        working = tuple((note, _seconds_on(note, tasks)) for note in notes)
        if sum(worked for _, worked in working) != seconds:
            return None
        return next(note for note, worked in working if worked)

    def tasks(self, month: PublicMonth) -> Iterator[Milestone]:
        """The tasks finished in this month."""
        for task in month.tasks_done:
            link = self.book.task_link(task)
            if link:
                told = self.last_day.get(task)
                yield self._made("task", "Done", (link.words, link), month, told)

    def areas(self, month: PublicMonth) -> Iterator[Milestone]:
        """The areas of which the last task was finished in this month."""
        for area, end in self.ends.items():
            link = self.book.area_link(area)
            if link and end is month:
                told = self._finisher(month, frozenset(self.book.areas[area].tasks))
                yield self._made("area", "Finished", (link.words, link), month, told)

    def _finisher(self, month: PublicMonth, tasks: frozenset[str]) -> PublicNote | None:
        finished = [self.last_day.get(task) for task in month.tasks_done if task in tasks]
        known = [note for note in finished if note]
        last = max(known, key=lambda note: self.book.rows[note.key].number, default=None)
        return last if len(known) == len(finished) else None

    def closed(self, month: PublicMonth) -> Iterator[Milestone]:
        """What public notes closed up in this month."""
        for key in month.notes:
            note = self.book.notes[key]
            if note.closes:
                names, links = names_of(self.book, note.closes), self.book.links_of(note.closes)
                link = links[0] if len(names) == len(links) == 1 else None
                yield self._made("closed", "Closed up", (names_told(names), link), month, note)

    def _made(
        self,
        kind: str,
        label: str,
        what: tuple[str, Link | None],
        month: PublicMonth,
        told: PublicNote | None,
    ) -> Milestone:
        name, link = what
        day = day_of(told.day) if told else None
        note = self.book.note_link(told.key) if told else None
        return Milestone(kind, label, name, link, link_to_month(month.month), day, note)


def _seconds_on(note: PublicNote, tasks: frozenset[str]) -> int:
    return sum(line.seconds for line in note.tasks if line.task in tasks)


def _last_notes(book: Book) -> Iterator[tuple[str, PublicNote]]:
    """Each task whose time is all in public notes, with the last note that gave it any."""
    for task in book.public.tasks:
        working = _working_on(book, task.id)
        if working and sum(seconds for _, seconds in working) == task.seconds:
            yield task.id, working[-1][0]


def _working_on(book: Book, task: str) -> tuple[tuple[PublicNote, int], ...]:
    notes = (book.notes[key] for key in book.notes_by_task.get(task, ()))
    worked = ((note, _seconds_on(note, frozenset((task,)))) for note in notes)
    return tuple(pair for pair in worked if pair[1])


def _ends(book: Book) -> Iterator[tuple[str, PublicMonth]]:
    """Each area whose tasks are all done, with the month in which the last of them was."""
    for area in book.public.areas:
        if area.id and area.applicable and area.done == area.applicable:
            month = _last(book.public.months, frozenset(area.tasks))
            if month:
                yield area.id, month


def _last(months: Iterable[PublicMonth], tasks: frozenset[str]) -> PublicMonth | None:
    having = [month for month in months if not tasks.isdisjoint(month.tasks_done)]
    return having[-1] if having else None
