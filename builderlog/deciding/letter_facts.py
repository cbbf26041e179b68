"""What a month's letter to friends could tell: facts of the public record, each told only once.

A fact is known by a short digest, so that a letter can say which facts its draft was made from,
and what the record has learnt since can be offered as a list.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builderlog.deciding.next_steps import last_written
from builderlog.deciding.public import (
    PublicDecision,
    PublicLedger,
    PublicMonth,
    PublicNote,
    PublicPart,
    PublicPartEvent,
    PublicSnag,
)
from builderlog.deciding.sums import NO_AREA, NO_AREA_NAME
from builderlog.deciding.words import (
    MONTHS,
    amount,
    counted,
    duration,
    first_upper,
    listed,
    month_long,
    month_of,
)
from builderlog.knowing.letters import Letter, words_digest
from builderlog.reading.prose import opening_words

NO_HOURS = "0"  # what tells the fact of a month without any
# What friends want to hear of a part; that it is fitted, the notes tell.
PART_NEWS: Mapping[str, str] = {
    "ordered": "Ordered",
    "back-ordered": "Waited for longer than was said",
    "received": "Came",
    "short": "Did not come, though it stood on the list",
    "damaged": "Came damaged",
    "sent back": "Sent back",
    "scrapped": "Scrapped",
}


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that a letter could tell.

    `line` is plain text. `said` are words of which any, standing in a letter, tells the fact.
    `about` is what tells it from others: where it changes, the fact is a new one.
    """

    kind: str  # "month", "area", "note", "picture", "part", "snag", "decided", "done", "next"
    about: str
    line: str
    said: tuple[str, ...] = ()
    area: str = NO_AREA
    key: str = ""  # of a note, or the digest of a picture

    @property
    def digest(self) -> str:
        """Six hex digits, which the letter's front matter lists."""
        return words_digest(f"{self.kind} {self.about}")


@dataclass(frozen=True, slots=True)
class MonthTold:
    """What the facts of one month are found in."""

    public: PublicLedger
    month: PublicMonth
    notes: tuple[PublicNote, ...]
    areas: Mapping[str, str]  # name by id
    task_areas: Mapping[str, str]
    task_names: Mapping[str, str] = field(default_factory=dict)


def month_told(public: PublicLedger, month: str) -> MonthTold | None:
    """The month, None where the record has none of that name."""
    found = next((each for each in public.months if each.month == month), None)
    if found is None:
        return None
    keys = frozenset(found.notes)
    return MonthTold(
        public,
        found,
        tuple(note for note in public.notes if note.key in keys),
        {area.id: area.name for area in public.areas},
        {task.id: task.area for task in public.tasks},
        {task.id: task.name for task in public.tasks},
    )


def facts_of(told: MonthTold) -> tuple[Fact, ...]:
    """Every fact of the month, in the order in which a letter tells them."""
    return (
        _month_fact(told),
        *_area_facts(told),
        *(_note_fact(note, told) for note in told.notes),
        *_picture_facts(told),
        *_done_facts(told),
        *_part_facts(told),
        *_snag_facts(told),
        *(_decided_fact(each) for note in told.notes for each in note.decided),
        *_next_facts(told),
    )


def _month_fact(told: MonthTold) -> Fact:
    month = told.month
    name, time = month_long(month.month), spaced(duration(month.seconds))
    if not month.seconds:
        return Fact("month", NO_HOURS, f"{name} went by without hours in the shop.")
    days = f" on {counted(month.days, 'day')}" if month.days else ""
    line = f"{name} came to {time} in the shop{days}."
    return Fact("month", f"{month.seconds} {month.days}", line, (time,))


def _area_facts(told: MonthTold) -> Iterator[Fact]:
    for area, seconds in areas_by_time(told.month):
        name = told.areas.get(area) or NO_AREA_NAME
        line = f"{name}: {spaced(duration(seconds))}"
        yield Fact("area", f"{area} {seconds}", line, area=area)


def areas_by_time(month: PublicMonth) -> tuple[tuple[str, int], ...]:
    """The areas that got time, the most first and other work last; none where all is other work."""
    given = [(area, seconds) for area, seconds in month.by_area if seconds]
    if all(area == NO_AREA for area, _ in given):
        return ()
    return tuple(sorted(given, key=lambda pair: (pair[0] == NO_AREA, -pair[1])))


def _note_fact(note: PublicNote, told: MonthTold) -> Fact:
    """A note by its day and title; it belongs to the area that it gave most time to."""
    times: dict[str, int] = {}
    for task in note.tasks:
        area = told.task_areas.get(task.task, NO_AREA)
        times[area] = times.get(area, 0) + task.seconds
    return Fact(
        "note",
        note.key,
        f"{day_of_month(note)}: {note.title}",
        (note.title,),
        area=max(times, key=lambda area: times[area]) if times else NO_AREA,
        key=note.key,
    )


def day_of_month(note: PublicNote) -> str:
    """The day as one writes it in a letter of its month: 14 March."""
    return f"{note.day.day} {MONTHS[note.day.month - 1]}"


def opening_of(note: PublicNote) -> str:
    """The first words of a note without its title, from which the builder may go on."""
    words = opening_words(note.prose)
    return "" if words == note.title else words


def _picture_facts(told: MonthTold) -> Iterator[Fact]:
    seen: set[str] = set()
    for note in told.notes:
        for use in note.photos:
            if use.digest not in seen:
                seen.add(use.digest)
                words = use.caption or f"A picture of {day_of_month(note)}: {note.title}"
                yield Fact("picture", use.digest, words, key=use.digest)


def _done_facts(told: MonthTold) -> Iterator[Fact]:
    for task in told.month.tasks_done:
        name = told.task_names.get(task, task)
        area = told.task_areas.get(task, NO_AREA)
        yield Fact("done", task, f"Done: {name}", (name,), area)


def _part_facts(told: MonthTold) -> Iterator[Fact]:
    """What happened to a part this month, as last written in it."""
    for part in told.public.parts:
        events = [each for each in part.events if month_of(each.day) == told.month.month]
        news = [each for each in events if each.status in PART_NEWS]
        if news:
            yield _part_fact(part, news[-1])


def _part_fact(part: PublicPart, event: PublicPartEvent) -> Fact:
    status = event.status or ""
    count = f" ({amount(event.count)})" if event.count and event.count != 1 else ""
    line = f"{PART_NEWS[status]}: {part.name}{count}"
    return Fact("part", f"{part.name} {status} {event.note}", line, (part.name,))


def _snag_facts(told: MonthTold) -> Iterator[Fact]:
    """Found this month or put right in it; none where the journal does not show snags."""
    for snag in told.public.snags:
        found = month_of(snag.day) == told.month.month
        fixed = snag.fixed_on is not None and month_of(snag.fixed_on) == told.month.month
        if found or fixed:
            yield _snag_fact(snag, fixed=fixed)


def _snag_fact(snag: PublicSnag, *, fixed: bool) -> Fact:
    how = f" ({snag.how})" if snag.how and fixed else ""
    line = f"{'Found and put right' if fixed else 'Found'}: {snag.text}{how}"
    return Fact("snag", f"{snag.number} {fixed}", line, () if fixed else (snag.text,))


def _decided_fact(decision: PublicDecision) -> Fact:
    why = f". Because: {decision.why}" if decision.why else ""
    return Fact("decided", decision.what, f"Decided: {decision.what}{why}", (decision.what,))


def _next_facts(told: MonthTold) -> Iterator[Fact]:
    """What was to be done next as last written in the month, area by area."""

    def areas(note: PublicNote) -> Iterator[str]:
        return (told.task_areas.get(task.task, NO_AREA) for task in note.tasks)

    for note, _ in reversed([*last_written(told.notes, areas)]):
        for step in note.next_steps:
            yield Fact("next", step, f"Next: {step}", (step,))


def new_facts(facts: Iterable[Fact], letter: Letter, shown: Iterable[str]) -> tuple[Fact, ...]:
    """The facts that neither the draft knew nor the letter tells; `shown` are its pictures."""
    words = folded_words(f"{letter.title or ''}\n{letter.prose.text}")
    pictures = frozenset(shown)
    return tuple(
        fact
        for fact in facts
        if fact.digest not in letter.facts
        and not (fact.kind == "month" and fact.about == NO_HOURS)  # of that nobody need be told
        and fact.key not in pictures
        and not any(_stands_in(said, words) for said in (fact.line, *fact.said))
    )


def _stands_in(said: str, words: str) -> bool:
    """Whether some words stand in a letter as whole words."""
    wanted = folded_words(said)
    return bool(wanted) and re.search(rf"(?<!\w){re.escape(wanted)}(?!\w)", words) is not None


def folded_words(text: str) -> str:
    """Words without case, marks of Markdown and line breaks, to find them in a letter."""
    plain = re.sub(r"[\\*_`]", "", text)
    return " ".join(plain.replace("\N{NO-BREAK SPACE}", " ").split()).casefold().rstrip(".")


def spaced(words: str) -> str:
    """With the spaces of a keyboard, as a text has them that somebody goes on with."""
    return words.replace("\N{NO-BREAK SPACE}", " ")


def summary_of(told: MonthTold) -> str:
    """The month in sentences: how long on how many days, which part had what, and all so far."""
    times = [
        (told.areas.get(fact.area) or NO_AREA_NAME.lower(), fact.line.rpartition(": ")[2])
        for fact in _area_facts(told)
    ]
    line = _month_fact(told).line
    if times:
        (first, most), *others = times
        shares = [f"{first} had {most} of it", *(f"{name} {time}" for name, time in others)]
        line = f"{line} {first_upper(listed(shares))}."
    running = told.month.running_seconds
    if not told.month.seconds or running == told.month.seconds:
        return line
    return f"{line} That makes {spaced(duration(running))} since the start."
