"""The form for tonight's note, read: fields as a browser sends them to a note that can be written.

What cannot be taken as it is, is told by field; nothing is written then, and nothing typed is lost.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from builderlog.bench.desk import Desk
from builderlog.bench.fields import HOURS, Fields, filled, lines, many, one, rows, split
from builderlog.bench.form_check import mistakes_in
from builderlog.bench.form_names import is_area, subject_meant, task_meant
from builderlog.bench.form_times import clock_span, times_of
from builderlog.knowing.entries import PartStatus, Privacy, Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.money import parse_money
from builderlog.knowing.units import UnreadableError, parse_count, parse_date
from builderlog.noting.new_note import NewFixed, NewNote, NewPart, NewPhoto, NewSnag, NewTask

YES = "yes"


@dataclass(frozen=True, slots=True)
class Trouble:
    """A field that cannot be taken as it is: what was found, what is wrong, what to write."""

    field: str  # "" is the form as a whole
    message: str


@dataclass(frozen=True, slots=True)
class FormKept:
    """The form as it was filled in, so that nothing typed is lost, and what is wrong with it."""

    fields: Fields
    told: tuple[Trouble, ...] = ()


@dataclass(frozen=True, slots=True)
class FormRead:
    """The note that the form asks for; a photo is named as it lies in the inbox."""

    note: NewNote
    told: tuple[Trouble, ...] = ()


def with_pictures(fields: Fields, names: Sequence[str]) -> Fields:
    """The fields with one more row, ticked, for each picture that came with the form itself."""
    first = max(rows(fields, "picture"), default=0) + 1
    added: dict[str, Sequence[str]] = {}
    for number, name in enumerate(names, first):
        added |= {f"picture-{number}": (name,), f"picture-{number}-attach": (YES,)}
    return {**fields, **added}


def read_form(fields: Fields, desk: Desk) -> FormRead:
    """The note; with anything in `told` it is not to be written."""
    reader = _Reader(fields, desk)
    note = reader.note()
    if not reader.told and not _says_anything(note):
        told = "the form is empty; write at least how long, or a word of what was done"
        reader.told.append(Trouble("", told))
    if not reader.told:
        reader.told.extend(Trouble(*told) for told in mistakes_in(note, desk.ledger, reader.tasks))
    return FormRead(note, tuple(reader.told))


def _says_anything(note: NewNote) -> bool:
    """Tasks alone, as a fresh form has them, say nothing of the evening."""
    timed = tuple(task for task in note.tasks if task.hours)
    return replace(note, tasks=timed, private="") != NewNote(note.day)


@dataclass(slots=True)
class _Reader:
    """Reads field by field and gathers what is wrong."""

    fields: Fields
    desk: Desk
    told: list[Trouble] = field(default_factory=list)
    tasks: list[str] = field(default_factory=list)  # the names of the tasks' rows, in order

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    def note(self) -> NewNote:
        day = self._day()
        return NewNote(
            day=day,
            title=one(self.fields, "title"),
            hours=self._hours(day),
            tasks=tuple(map(self._task, self._rows("task", "a task", "its id or its name"))),
            photos=tuple(self._photos()),
            parts=(
                *self._came(),
                *map(self._part, self._rows("part", "a part", "its name")),
            ),
            snags=tuple(map(self._snag, self._rows("snag", "a snag", "what is wrong"))),
            fixed=tuple(map(NewFixed, many(self.fields, "fixed"))),
            text="\n".join(self.fields.get("text", ())),
            next_steps=tuple(dict.fromkeys((*many(self.fields, "still"), *self._lines("next")))),
            closes=self._known("closes", subject_meant),
            private=self._private(),
        )

    def _lines(self, name: str) -> tuple[str, ...]:
        return lines(self.fields, name)

    def _tell(self, name: str, message: str) -> None:
        self.told.append(Trouble(name, message))

    def _checked(self, name: str, read: Callable[[str], object]) -> str:
        """The words as they stand, told where they cannot be read."""
        words = one(self.fields, name)
        if words:
            try:
                read(words)
            except UnreadableError as fault:
                self._tell(name, str(fault))
        return words

    def _day(self) -> date:
        """The day of the form, else tonight; a day that is still to come is told."""
        tonight = self.desk.tonight
        words = one(self.fields, "day")
        try:
            day = parse_date(words) if words else tonight
        except UnreadableError as fault:
            self._tell("day", str(fault))
            return tonight
        if day > self.desk.now.date():
            self._tell("day", f"{day} is still to come; write the day of the work")
        return day

    def _hours(self, day: date) -> tuple[tuple[str, str], ...]:
        """By person; the journal's builder alone goes without a name."""
        builder = self.ledger.settings.builder or ""
        given = [(name, time) for name in self._people() for time in self._times(name)]
        given += [(builder, span) for span in self._clock(builder, day)]
        if {name for name, _ in given} == {builder}:
            return tuple(("", time) for _, time in given)
        return tuple(given)

    def _people(self) -> Iterator[str]:
        known = {person.name for person in self.ledger.settings.people}
        for name in (name for name in self.fields if name.startswith(HOURS)):
            person = name.removeprefix(HOURS)
            if person in known:
                yield person
            elif one(self.fields, name):
                self._tell(
                    name, f"'{person}' is not among the people of journal.yaml; add the name"
                )

    def _times(self, person: str) -> tuple[str, ...]:
        words = one(self.fields, f"{HOURS}{person}")
        try:
            return times_of(words)
        except UnreadableError as fault:
            self._tell(f"{HOURS}{person}", str(fault))
            return ()

    def _clock(self, builder: str, day: date) -> tuple[str, ...]:
        """The running clock's span, where the form asks for it."""
        if not one(self.fields, "clock"):
            return ()
        try:
            return (clock_span(self.desk, day, one(self.fields, f"{HOURS}{builder}")),)
        except UnreadableError as fault:
            self._tell("clock", str(fault))
            return ()

    def _rows(self, head: str, what: str, write: str) -> Iterator[str]:
        """The rows with something in them; one without its first word is told."""
        for number in filled(self.fields, head):
            if one(self.fields, f"{head}-{number}"):
                yield f"{head}-{number}"
            elif any(one(self.fields, f"{head}-{number}-{key}") for key in DECIDING.get(head, ())):
                self._tell(
                    f"{head}-{number}", f"this row says something, but not {what}; write {write}"
                )

    def _one_known(self, name: str, meant: Callable[[str, Ledger], str]) -> str:
        words = one(self.fields, name)
        try:
            return meant(words, self.ledger) if words else ""
        except UnreadableError as fault:
            self._tell(name, str(fault))
            return words

    def _known(self, name: str, meant: Callable[[str, Ledger], str]) -> tuple[str, ...]:
        """Every word of a list by its id; a name that holds a comma is first taken as a whole."""
        found: list[str] = []
        for words in many(self.fields, name):
            try:
                found.append(meant(words, self.ledger))
            except UnreadableError:
                found.extend(self._each(name, words, meant))
        return tuple(dict.fromkeys(found))

    def _each(self, name: str, words: str, meant: Callable[[str, Ledger], str]) -> Iterator[str]:
        for word in split({name: (words,)}, name):
            try:
                yield meant(word, self.ledger)
            except UnreadableError as fault:
                self._tell(name, str(fault))

    def _of(self, name: str, known: Sequence[str]) -> str:
        """One of a few words, or nothing."""
        word = one(self.fields, name)
        if word and word not in known:
            self._tell(name, f"'{word}' is not among {', '.join(known)}; choose one of them")
        return word

    def _named(self, name: str) -> tuple[str, ...]:
        known = {person.name for person in self.ledger.settings.people}
        names = many(self.fields, name)
        for person in names:
            if person not in known:
                self._tell(
                    name, f"'{person}' is not among the people of journal.yaml; add the name"
                )
        return names

    def _task(self, row: str) -> NewTask:
        self.tasks.append(row)
        times = self._checked(f"{row}-hours", times_of)
        return NewTask(
            task=self._one_known(row, task_meant),
            hours=times,
            who=self._named(f"{row}-who"),
            work=self._of(f"{row}-work", [kind.value for kind in Work]),
            per=one(self.fields, f"{row}-per"),
        )

    def _photos(self) -> Iterator[NewPhoto]:
        """The rows that are ticked, in their order, each picture once."""
        here = {picture.name for picture in self.desk.inbox}
        taken: set[str] = set()
        for row in (f"picture-{number}" for number in filled(self.fields, "picture")):
            name = one(self.fields, row)
            if not name or name in taken or not one(self.fields, f"{row}-attach"):
                continue
            taken.add(name)
            if name not in here:
                self._tell(
                    row, f"'{name}' is not in the inbox any more; untick it or attach it again"
                )
            yield self._photo(row)

    def _photo(self, row: str) -> NewPhoto:
        return NewPhoto(
            photo=one(self.fields, row),
            shows=self._known(f"{row}-shows", task_meant),
            seen=self._named(f"{row}-seen"),
            caption=one(self.fields, f"{row}-caption"),
            page=bool(one(self.fields, f"{row}-page")),
            private=bool(one(self.fields, f"{row}-private")),
        )

    def _came(self) -> Iterator[NewPart]:
        """The parts on their way that are ticked as received."""
        for row in (f"came-{number}" for number in rows(self.fields, "came")):
            if one(self.fields, row) and (part := one(self.fields, f"{row}-part")):
                yield NewPart(part, status="received", ref=one(self.fields, f"{row}-ref"))

    def _part(self, row: str) -> NewPart:
        currency = self.ledger.settings.currency
        return NewPart(
            part=one(self.fields, row),
            count=self._checked(f"{row}-count", parse_count),
            cost=self._checked(f"{row}-cost", lambda words: parse_money(words, currency)),
            source=one(self.fields, f"{row}-from"),
            status=self._of(f"{row}-status", [status.value for status in PartStatus]),
            due=self._checked(f"{row}-due", parse_date),
            ref=one(self.fields, f"{row}-ref"),
            task=self._one_known(f"{row}-task", task_meant),
        )

    def _snag(self, row: str) -> NewSnag:
        where = self._one_known(f"{row}-at", subject_meant)
        snag = NewSnag(one(self.fields, row))
        if is_area(where, self.ledger):
            return replace(snag, area=where)
        return replace(snag, task=where)

    def _private(self) -> str:
        word = self._of("private", [privacy.value for privacy in Privacy])
        return "" if word == Privacy.OPEN.value else word


# What makes a row one that was meant: a tick in it alone does not.
DECIDING = {
    "task": ("hours", "per"),
    "part": ("count", "cost", "ref", "due", "from", "task"),
    "snag": ("at",),
}
