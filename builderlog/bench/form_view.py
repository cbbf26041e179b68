"""The form as its template draws it: every field with what stands in it and what is wrong there.

A form that is opened fresh is filled with what is known for tonight; one that came back, with
what came. Both go the same way: fields first, then rows of ready words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from urllib.parse import quote

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.bench.fields import HOURS, Fields, filled, many, one
from builderlog.bench.form import FormKept, Trouble
from builderlog.bench.form_names import Choice, areas_offered, people_offered, tasks_offered
from builderlog.deciding.tonight import Tonight, known_for, night_of
from builderlog.deciding.words import day_long, day_plain
from builderlog.knowing.entries import PartStatus, Work
from builderlog.knowing.settings import Person, Role
from builderlog.knowing.units import UnreadableError, parse_date
from builderlog.noting.clock import clock_words, spans_of

# Without script rows cannot be added: these many more are there for such browsers.
SPARE = {"task": 3, "snag": 1, "part": 2}
ROLES: Mapping[Role | None, str] = {
    Role.BUILDER: "builder",
    Role.HELPER: "helper",
    Role.PAID: "paid",
}


@dataclass(frozen=True, slots=True)
class Tick:
    """A box to tick: what it sends and how it is called."""

    value: str
    words: str
    on: bool


@dataclass(frozen=True, slots=True)
class TimeField:
    """A person's time; a name may hold blanks, an id may not."""

    id: str
    name: str
    person: str
    role: str
    value: str
    told: str


@dataclass(frozen=True, slots=True)
class FormRow:
    """One row of a list; `name` is that of its first field, and the others begin with it."""

    name: str
    value: str
    values: Mapping[str, str]  # the other fields with one value, by what follows the name
    ticks: Mapping[str, tuple[Tick, ...]]
    told: Mapping[str, str]  # by what follows the name; "" for the row's first field
    called: str = ""  # the name of its task; of a picture when it was taken
    spare: bool = False  # only for browsers without script


@dataclass(frozen=True, slots=True)
class FormView:
    """Everything that the form's template prints."""

    token: str
    once: str
    day: str
    day_words: str
    title: str
    hours: tuple[TimeField, ...]
    clock: str  # since when it runs: "19:10"; "" where it stands
    clock_on: bool
    tasks: tuple[FormRow, ...]
    pictures: tuple[FormRow, ...]
    waiting: int  # pictures in the inbox that are of other days
    phone: bool
    text: str
    last_day: str  # of the session that `still` is from
    still: tuple[Tick, ...]
    next: str
    snags: tuple[FormRow, ...]
    fixed: tuple[Tick, ...]  # open snags, by number
    came: tuple[FormRow, ...]
    parts: tuple[FormRow, ...]
    closes: str
    private: str
    told: Mapping[str, str]  # by field
    troubles: tuple[Trouble, ...]
    anchors: Mapping[str, str]  # by field, the id of what shows it, where that is another word
    kept: bool  # the form came back, so that what stands in it is the builder's
    offered_tasks: tuple[Choice, ...]
    offered_areas: tuple[Choice, ...]
    kinds: tuple[str, ...]
    statuses: tuple[str, ...]
    blank: Mapping[str, FormRow]  # a row of each list with nothing in it, for script to copy


def form_view(desk: Desk, kept: FormKept | None = None) -> FormView:
    """The form fresh or as it came."""
    tonight = known_for(desk.ledger, desk.tonight)
    fields = kept.fields if kept else prefilled(desk, tonight)
    return _View(desk, fields, kept.told if kept else ()).drawn(tonight, kept=kept is not None)


def pictures_of(desk: Desk) -> tuple[FormRow, ...]:
    """The rows of the inbox's pictures as a fresh form has them."""
    return form_view(desk).pictures


def prefilled(desk: Desk, tonight: Tonight) -> Fields:
    """What a fresh form holds: nothing that was not written, ticked or measured before."""
    fields: dict[str, Sequence[str]] = {"day": (tonight.day.isoformat(),)}
    spans = spans_of(desk.clock, tonight.day, desk.ledger.settings.day_ends)
    if spans:
        times = ", ".join(span.words for span in spans)
        fields[f"{HOURS}{desk.ledger.settings.builder}"] = (times,)
    if desk.clock.since:
        fields["clock"] = ("yes",)
    for number, task in enumerate(tonight.tasks, 1):
        fields |= {f"task-{number}": (task.task,), f"task-{number}-per": (task.per,)}
        fields[f"task-{number}-work"] = (task.work,)
    for number, part in enumerate(tonight.parts, 1):
        fields |= {f"came-{number}-part": (part.part,), f"came-{number}-ref": (part.ref,)}
    return {**fields, **_pictures_of(desk)}


def _pictures_of(desk: Desk) -> Fields:
    """The inbox's pictures of tonight, ticked; those that do not tell their day, not ticked.

    A phone is not told of pictures that it did not send.
    """
    fields: dict[str, Sequence[str]] = {}
    offered = [picture for picture in desk.inbox if not desk.phone and _offered(picture, desk)]
    for number, picture in enumerate(offered, 1):
        fields[f"picture-{number}"] = (picture.name,)
        if _night_taken(picture, desk):
            fields[f"picture-{number}-attach"] = ("yes",)
    return fields


def _offered(picture: InboxPicture, desk: Desk) -> bool:
    night = _night_taken(picture, desk)
    return night is None or night == desk.tonight


def _night_taken(picture: InboxPicture, desk: Desk) -> date | None:
    """By the camera's own clock, whatever its zone; None where the picture does not say."""
    try:
        taken = datetime.fromisoformat(picture.taken).replace(tzinfo=None)
    except ValueError:
        return None
    return night_of(taken, desk.ledger.settings.day_ends)


@dataclass(frozen=True, slots=True)
class _View:
    """Turns fields into rows."""

    desk: Desk
    fields: Fields
    troubles: tuple[Trouble, ...]

    def drawn(self, tonight: Tonight, *, kept: bool) -> FormView:
        ledger = self.desk.ledger
        pictures = tuple(map(self._picture, filled(self.fields, "picture")))
        shown = {row.value for row in pictures}
        return FormView(
            token=self.desk.token,
            once=self.desk.once,
            day=one(self.fields, "day"),
            day_words=self._day_words(),
            title=one(self.fields, "title"),
            hours=tuple(self._hours()),
            clock=clock_words(self.desk.clock.since) if self.desk.clock.since else "",
            clock_on=bool(one(self.fields, "clock")),
            tasks=self._rows("task"),
            pictures=pictures,
            waiting=sum(
                picture.name not in shown for picture in self.desk.inbox if not self.desk.phone
            ),
            phone=self.desk.phone,
            text="\n".join(self.fields.get("text", ())),
            last_day=day_plain(tonight.last_day) if tonight.last_day else "",
            still=self._ticks("still", ((step, step) for step in tonight.next_steps)),
            next="\n".join(self.fields.get("next", ())),
            snags=self._rows("snag"),
            fixed=self._ticks(
                "fixed",
                ((snag.number, f"{snag.number} {snag.snag}") for snag in tonight.snags),
            ),
            came=tuple(self._came(tonight)),
            parts=self._rows("part"),
            closes=", ".join(many(self.fields, "closes")),
            private=one(self.fields, "private"),
            told=self._told_by_field(),
            troubles=self.troubles,
            anchors={time.name: time.id for time in self._hours()},
            kept=kept,
            offered_tasks=tasks_offered(ledger),
            offered_areas=areas_offered(ledger),
            kinds=tuple(kind.value for kind in Work),
            statuses=tuple(status.value for status in PartStatus),
            blank={head: self._row(f"{head}-0") for head in ("task", "snag", "part", "picture")},
        )

    def _told_by_field(self) -> Mapping[str, str]:
        told: dict[str, str] = {}
        for trouble in self.troubles:
            before = told.get(trouble.field)
            told[trouble.field] = f"{before}. {trouble.message}" if before else trouble.message
        return told

    def _day_words(self) -> str:
        try:
            return day_long(parse_date(one(self.fields, "day")))
        except UnreadableError:
            return day_long(self.desk.tonight)

    def _hours(self) -> Iterable[TimeField]:
        """Everybody who is here, and whoever has time in a form that came back."""
        here = {person.name: ROLES.get(person.role, "") for person in self._people()}
        told = self._told_by_field()
        came = [name.removeprefix(HOURS) for name in self.fields if name.startswith(HOURS)]
        here |= {name: "" for name in came if name not in here and one(self.fields, HOURS + name)}
        for number, (person, role) in enumerate(here.items(), 1):
            name = f"{HOURS}{person}"
            value, wrong = one(self.fields, name), told.get(name, "")
            yield TimeField(f"hours-{number}", name, person, role, value, wrong)

    def _rows(self, head: str) -> tuple[FormRow, ...]:
        """The rows that say something, else an empty one; some more for browsers without script."""
        numbers = filled(self.fields, head)
        after = max(numbers, default=0) + 1
        empty = range(after, after + (not numbers))
        plain = range(empty.stop, empty.stop + SPARE[head])
        return (
            *(self._row(f"{head}-{number}") for number in (*numbers, *empty)),
            *(self._row(f"{head}-{number}", spare=True) for number in plain),
        )

    def _row(self, name: str, called: str = "", *, spare: bool = False) -> FormRow:
        told = self._told_by_field()
        value = one(self.fields, name)
        known = self.desk.ledger.worklist.by_id.get(value)
        people = [(each.name, each.name) for each in self._people()]
        return FormRow(
            name=name,
            value=value,
            values={
                field.removeprefix(f"{name}-"): one(self.fields, field)
                for field in self.fields
                if field.startswith(f"{name}-")
            },
            ticks={key: self._ticks(f"{name}-{key}", people) for key in ("who", "seen")},
            told={
                field.removeprefix(name).removeprefix("-"): words
                for field, words in told.items()
                if field == name or field.startswith(f"{name}-")
            },
            called=called or (known.name if known else ""),
            spare=spare,
        )

    def _people(self) -> Iterable[Person]:
        return people_offered(self.desk.ledger, self.desk.tonight)

    def _ticks(self, name: str, choices: Iterable[tuple[str, str]]) -> tuple[Tick, ...]:
        """A box for each choice, and for what came ticked although it is no choice any more."""
        on = many(self.fields, name)
        known = dict(choices)
        more = {value: value for value in on if value not in known}
        return tuple(Tick(value, words, value in on) for value, words in {**known, **more}.items())

    def _picture(self, number: int) -> FormRow:
        name = one(self.fields, f"picture-{number}")
        taken = next((each.taken for each in self.desk.inbox if each.name == name), "")
        return self._row(f"picture-{number}", taken_words(taken))

    def _came(self, tonight: Tonight) -> Iterable[FormRow]:
        """The parts on their way, each with when it should have come."""
        for number, part in enumerate(tonight.parts, 1):
            name = f"came-{number}"
            due = f"due {day_plain(part.due)}" if part.due else ""
            late = "late, " if part.late else ""
            values = {"part": part.part, "ref": part.ref}
            tick = Tick("yes", part.part, bool(one(self.fields, name)))
            told = f"{part.status}{', ' if due else ''}{late}{due}"
            yield FormRow(name, "", values, {"came": (tick,)}, {}, told)


def taken_words(taken: str) -> str:
    """When a picture was taken, to the minute: "14 March 2026, 21:05"; "" where it does not say."""
    try:
        day = day_plain(parse_date(taken[:10]))
    except UnreadableError:
        return ""
    return f"{day}, {taken[11:16]}" if len(taken) >= len("2026-03-14T21:05") else day


def small_url(name: str) -> str:
    """Where the small copy of a picture in the inbox is."""
    return f"/inbox/{quote(name, safe='')}/small"
