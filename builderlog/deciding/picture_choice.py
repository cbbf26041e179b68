"""Which pictures the dossier shows: numbers for all, the best for each task, the rest in small."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from builderlog.deciding.likeness import nearly_same
from builderlog.deciding.task_record import Closing, Shot, TaskRecord
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.signs import Signs, from_text

BEST_OF_A_TASK = 6
LAST_LOOKS = 2  # so many of those before a closing are wanted, where there is room

# Pictures whose distance in time is alike to a twentieth of the task's span are of equal rank,
# so that one with a caption is preferred.
PARTS_OF_SPAN = 20

_DAY = 86_400
_NO_DAY = "9"  # after every date


@dataclass(frozen=True, slots=True)
class Choice:
    """`numbers`: each picture's number by its path, 1 and up, by when it was taken.

    `best`: the pictures of each task's sheet by the task's id, in order of time. `rest`: those that
    no sheet shows, by number. A picture with a fault has a number and is in neither.
    """

    numbers: Mapping[str, int]
    best: Mapping[str, tuple[Shot, ...]]
    rest: tuple[Picture, ...]


def choose(ledger: Ledger, records: Sequence[TaskRecord]) -> Choice:
    """Numbers, and the choice for each task.

    A task's pictures are chosen in this order, until there are six: with a builder at work; the
    last ones before it was closed, for which one place of the six is kept; the first, the last and
    those farthest in time from what is chosen; scanned pages by the same rule. Of nearly the same
    pictures one is chosen.
    """
    ordered = _in_order(ledger)
    numbers = {each.path: number for number, each in enumerate(ordered, start=1)}
    album = _Album({each.path: each for each in ordered if each.file.fault is None}, numbers)
    best = {record.id: _Sheet(album, record).fill() for record in records}
    shown = {shot.path for shots in best.values() for shot in shots}
    rest = (each for path, each in album.pictures.items() if path not in shown)
    return Choice(numbers, best, tuple(rest))


def _in_order(ledger: Ledger) -> list[Picture]:
    """By the camera's clock as the builder saw it, whatever its zone; without one first that day.

    A picture that notes only link has the day of the first such note.
    """
    days = {note.path: note.day.isoformat() for note in ledger.notes if note.day}

    def when(picture: Picture) -> tuple[str, str]:
        linked = min((days.get(note, _NO_DAY) for note in picture.linked_from), default=_NO_DAY)
        named = min((use.day.isoformat() for use in picture.uses), default=linked)
        return (picture.file.taken or named)[:19], picture.path

    return sorted(ledger.pictures, key=when)


@dataclass(frozen=True, slots=True)
class _View:
    """A picture of one task: its second on the calendar, its place among the task's pictures."""

    shot: Shot
    moment: int  # the day's beginning where no clock is known
    place: int

    @property
    def is_told(self) -> bool:
        return bool(self.shot.caption)


@dataclass(slots=True)
class _Album:
    """The pictures that can be shown, and what is known of their likeness."""

    pictures: Mapping[str, Picture]
    numbers: Mapping[str, int]
    _signs: dict[str, Signs | None] = field(default_factory=dict)

    def views(self, shots: Iterable[Shot]) -> list[_View]:
        """Those that can be shown, in order of time."""
        shown = (shot for shot in shots if shot.path in self.pictures)
        ordered = sorted(shown, key=lambda shot: self.numbers[shot.path])
        return [_View(shot, self._moment(shot), place) for place, shot in enumerate(ordered)]

    def _moment(self, shot: Shot) -> int:
        clock = (self.pictures[shot.path].file.taken or "")[11:19] or "00:00:00"
        hours, minutes, seconds = map(int, clock.split(":"))
        return ((shot.taken.toordinal() * 24 + hours) * 60 + minutes) * 60 + seconds

    def are_alike(self, one: Shot, other: Shot) -> bool:
        """Whether both show nearly the same."""
        if one.digest == other.digest:
            return True
        signs, others = self._signs_of(one.path), self._signs_of(other.path)
        return signs is not None and others is not None and nearly_same(signs, others)

    def _signs_of(self, path: str) -> Signs | None:
        if path not in self._signs:
            text = self.pictures[path].file.likeness
            self._signs[path] = from_text(text) if text else None
        return self._signs[path]


class _Sheet:
    """The pictures of one task, chosen one by one."""

    def __init__(self, album: _Album, record: TaskRecord) -> None:
        self._album = album
        self._views = album.views(record.pictures)
        self._windows = _windows(record.closings)
        self._chosen: list[_View] = []
        self._out: set[str] = set()  # paths: chosen, or nearly the same as one that is

    def fill(self) -> tuple[Shot, ...]:
        """The choice, in order of time."""
        work = [view for view in self._views if not view.shot.page]
        pages = [view for view in self._views if view.shot.page]
        builders = [view for view in work if view.shot.builder_seen]
        endings = [_last_first(work, *window) for window in self._windows]
        for ending in endings:
            self._look_back([view for view in ending[:LAST_LOOKS] if view.shot.builder_seen])
        self._spread(builders, BEST_OF_A_TASK - self._kept_for(endings))
        for ending in endings:
            self._look_back(ending)
        for pool in (builders, work, pages):
            self._spread(pool, BEST_OF_A_TASK)
        return tuple(view.shot for view in sorted(self._chosen, key=lambda view: view.place))

    def _kept_for(self, endings: Sequence[Sequence[_View]]) -> int:
        """One place, unless the last look before the last closing is chosen already."""
        lasts = (ending[0] for ending in endings if ending)
        last = next(lasts, None)
        return int(last is not None and last.shot.path not in self._out)

    def _look_back(self, ending: Iterable[_View]) -> None:
        """The first few of these that can be had, those chosen already counted."""
        looks = 0
        for view in ending:
            if looks == LAST_LOOKS or len(self._chosen) == BEST_OF_A_TASK:
                return
            looks += view in self._chosen or self._admit(view)

    def _spread(self, pool: Iterable[_View], upto: int) -> None:
        """Those of the pool farthest from what is chosen, one by one, until so many are chosen."""
        left = list(pool)
        while left and len(self._chosen) < upto:
            next(filter(self._admit, self._farthest_first(left)), None)
            left = [view for view in left if view.shot.path not in self._out]

    def _farthest_first(self, left: Sequence[_View]) -> list[_View]:
        """By time from the nearest that is chosen, with a caption first where it is much alike.

        Where none is chosen yet, by time from the end, so that the first one leads.
        """
        span = self._views[-1].moment - self._views[0].moment or 1
        apart = {view.place: self._apart(view) for view in left}
        most, _ = max(apart.values())

        def rank(view: _View) -> tuple[int, bool, tuple[int, int], int]:
            seconds, _ = apart[view.place]
            short = (most - seconds) * PARTS_OF_SPAN // span
            return -short, view.is_told, apart[view.place], -view.place

        return sorted(left, key=rank, reverse=True)

    def _apart(self, view: _View) -> tuple[int, int]:
        """Seconds and places to the nearest chosen ones, or to the end."""
        near = self._chosen or self._views[-1:]
        return (
            min(abs(view.moment - each.moment) for each in near),
            min(abs(view.place - each.place) for each in near),
        )

    def _admit(self, view: _View) -> bool:
        """Chooses it unless it, or nearly the same, is chosen already."""
        if view.shot.path in self._out:
            return False
        self._out.add(view.shot.path)
        if any(self._album.are_alike(view.shot, each.shot) for each in self._chosen):
            return False
        self._chosen.append(view)
        return True


def _last_first(work: Iterable[_View], opened: date, closed: date) -> list[_View]:
    """What was taken between two days; of equal moments those with a caption lead."""
    seen = (view for view in work if opened <= view.shot.taken <= closed)
    return sorted(seen, key=lambda view: (view.moment, view.is_told, view.place), reverse=True)


def _windows(closings: Iterable[Closing]) -> list[tuple[date, date]]:
    """From when until when a task could be seen before each closing; the last closing first."""
    opened, windows = date.min, []
    for each in closings:
        day = each.note.day or date.min
        if each.closed:
            windows.append((opened, day))
        else:
            opened = day
    return windows[::-1]
