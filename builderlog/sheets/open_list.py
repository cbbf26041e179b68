"""What is open, and what is to be seen to before closing, as rows of ready words.

The terminal and the bench's first page print the same rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.before_closing import BeforeClosing, ClosingLine, Lack, torque_open_words
from builderlog.deciding.still_open import LATE, Again, Awaited, Away, NextSteps, StillOpen
from builderlog.deciding.still_open_evidence import Evidence, Soon
from builderlog.deciding.visits_first import authority_words
from builderlog.deciding.words import amount, counted, day_long, day_plain, day_short, first_upper
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Worklist
from builderlog.reading.problem import Place

OF_NO_AREA = "Of no one area"


@dataclass(frozen=True, slots=True)
class OpenRow:
    """One open thing, and the line of the journal that tells it."""

    group: str  # the heading that it stands under in its section, such as an area; "" for none
    head: str  # short: a snag's number, a day, a task's id; may be ""
    text: str  # what it is
    when: str  # days, dates, who has it: "12 days late, due 10 Jul 2026"; may be ""
    path: str
    line: int
    pressing: bool = False  # late, or hidden soon


@dataclass(frozen=True, slots=True)
class OpenSection:
    """One kind of open things."""

    key: str  # next, snags, parts, away, decisions, torque, evidence
    title: str
    rows: tuple[OpenRow, ...]
    empty: str  # the sentence that stands where there is no row
    note: str = ""  # what is to be known about it, such as the usual caution


@dataclass(frozen=True, slots=True)
class OpenList:
    """Everything that is open, in the order in which it is asked for."""

    day: date
    sections: tuple[OpenSection, ...]

    @property
    def title(self) -> str:
        """`What is open on Monday 20 July 2026`."""
        return f"What is open on {day_long(self.day)}"


@dataclass(frozen=True, slots=True)
class ClosingRow:
    """One thing to see to before closing."""

    kind: str  # visit, snag, torque, picture, builder in a picture, measurement, work
    heading: str  # under which rows of this kind stand
    task: str  # its id; "" where it is of several
    name: str  # the task's name; "" without a work list
    text: str  # a sentence
    path: str
    line: int
    because: str  # the builder's explanation; "" where it is open


@dataclass(frozen=True, slots=True)
class ClosingList:
    """What an area or task lacks before it is closed."""

    subject: str
    title: str  # "Before W, Wings, is closed"
    rows: tuple[ClosingRow, ...]
    empty: str  # the sentence that stands where there is no row
    cautions: tuple[str, ...]


HEADINGS = {
    Lack.VISIT: "A visit is wanted first",
    Lack.SNAG: "Open snags",
    Lack.TORQUE: "Torque and marks",
    Lack.PICTURE: "Pictures",
    Lack.BUILDER: "A builder in a picture",
    Lack.MEASUREMENT: "Measurements",
    Lack.WORK: "Work",
}
NOTHING_LACKS = (
    "By the record nothing is missing: no visit, no snag, no torque or mark, no picture, no "
    "measurement that this list knows of."
)
CLOSING_CAUTION = (
    "This list repeats what the record has and has not; it approves nothing. The kit's and the "
    "part makers' manuals prevail, and who inspects for the authority decides what must be seen."
)
NOT_NAMED = "Fasteners that no note names are not here, and nothing can tell that they are missing."
TORQUE_CAUTION = f"The kit's and the part maker's manual prevails. {NOT_NAMED}"
EVIDENCE_CAUTION = (
    "What follows a task in the work list is taken for what will hide it. Only the authority "
    "decides what it wants to see."
)
SOON = {
    Soon.NOW: "What follows it has begun",
    Soon.NEXT: "Done, what follows is next",
    Soon.LATER: "Not done itself",
}


def open_list(ledger: Ledger, found: StillOpen) -> OpenList:
    """The lists in words, in the order in which a builder asks for them."""
    desk = _Desk(ledger, found.today)
    sections = (
        OpenSection(
            "next",
            "Next steps, as last written for each area",
            tuple(row for each in found.next_steps for row in desk.next_steps(each)),
            "No note says what to do next; write next: in tonight's.",
            "They stand until a later note of the area has next: again.",
        ),
        OpenSection("snags", "Open snags", tuple(desk.snags(found)), "No snag is open."),
        OpenSection(
            "parts",
            "Parts wanted, ordered and late",
            tuple(desk.part(each) for each in found.parts),
            "No part is awaited.",
        ),
        OpenSection(
            "away",
            "Away from the shop",
            tuple(desk.away(each) for each in found.away),
            "Nothing is away.",
        ),
        OpenSection(
            "decisions",
            "Decisions to look at again",
            tuple(desk.decision(each) for each in found.decisions),
            "No decision is to be looked at again.",
            "Decided again in the same words, without again:, it is off this list.",
        ),
        OpenSection(
            "torque",
            "Torque and marks outstanding, tail to nose",
            tuple(desk.torque(found)),
            "Nothing that notes tell of is outstanding.",
            TORQUE_CAUTION,
        ),
        OpenSection(
            "evidence",
            "Evidence missing, what is hidden soonest first",
            tuple(desk.evidence(each) for each in found.evidence),
            "Of work still in sight nothing is missing, by the record's own count.",
            EVIDENCE_CAUTION,
        ),
    )
    return OpenList(found.today, sections)


class _Desk:
    """The names of areas and tasks, and the day on which all is looked at."""

    def __init__(self, ledger: Ledger, today: date) -> None:
        self._today = today
        self._areas = {area.id: area.name for area in ledger.worklist.areas}
        self._worklist = ledger.worklist

    def _area(self, area: str) -> str:
        name = self._areas.get(area)
        return f"{area} {name}" if name and name != area else area or OF_NO_AREA

    def next_steps(self, each: NextSteps) -> Iterator[OpenRow]:
        """One row a step."""
        group = ", ".join(map(self._area, each.areas)) or OF_NO_AREA
        day = each.note.day or self._today
        later = f", {counted(each.since, 'note')} on it since" if each.since else ""
        for step in each.steps:
            yield _row(group, "", step.text, f"{day_short(day)}{later}", step.place)

    def snags(self, found: StillOpen) -> Iterator[OpenRow]:
        """One row a snag, with its number."""
        for each in found.snags:
            line, day = each.snag.line, each.snag.day
            task = f" ({line.task})" if line.task else ""
            when = f"{_ago(each.days)}, {day_short(day)}"
            group = self._area(each.area)
            yield _row(group, each.snag.number, f"{line.snag}{task}", when, line.place)

    def part(self, each: Awaited) -> OpenRow:
        """What it is and what for; then when it should come and from whom."""
        part, line = each.part, each.part.events[-1].line
        tasks = [event.line.task.text for event in part.events if event.line.task]
        firms = [event.line.source.text for event in part.events if event.line.source]
        told = [part.name, part.ref or ""]
        text = ", ".join(word for word in told if word)
        text += f" ({amount(part.count)} of them)" if part.count and part.count != 1 else ""
        text += f" for {tasks[-1]}" if tasks else ""
        when = [self._due(each.due, "no day named")] if each.status != "damaged" else []
        days = self._days(each.since)
        on_its_way = each.status in ("ordered", "back-ordered")
        when.append(f"{each.status} {_ago(days) if on_its_way else _for(days)}")
        when += [f"from {firms[-1]}"] if firms else []
        late = each.state == LATE
        return _row(first_upper(each.state), "", text, ", ".join(when), line.place, pressing=late)

    def away(self, each: Away) -> OpenRow:
        """What, where, what for; then when it should be back."""
        text = f"{each.what} at {each.firm}" if each.firm else each.what
        text += f" for {each.task}" if each.task else ""
        sent = f"sent {_ago(self._days(each.sent))}" if each.sent else "no day of sending"
        when = f"{self._due(each.due, 'no day named for its return')}, {sent}"
        late = each.due is not None and each.due < self._today
        return _row("", "", text, when, each.place, pressing=late)

    def decision(self, each: Again) -> OpenRow:
        """What was decided; then when it is to be looked at again."""
        decided = f"decided {day_short(each.note.day)}" if each.note.day else ""
        when = f"{self._again(each)}, {decided}"
        due = each.on is not None and each.on <= self._today
        return _row("", "", each.line.what.text, when, each.line.place, pressing=due)

    def _again(self, each: Again) -> str:
        if each.on is None:
            return f"again: {each.line.again}"
        days = (each.on - self._today).days
        if days > 0:
            return f"in {counted(days, 'day')}, {day_short(each.on)}"
        return f"due since {day_short(each.on)}" if days else "due today"

    def torque(self, found: StillOpen) -> Iterator[OpenRow]:
        """What is still to be done at each group of fasteners."""
        for group in found.torque:
            areas = " or ".join(self._area(area.id) for area in group.areas) or OF_NO_AREA
            day = day_short(group.note.day) if group.note.day else ""
            yield _row(areas, "", torque_open_words(group), day, group.line.place)

    def evidence(self, each: Evidence) -> OpenRow:
        """The task or area, what is missing, and what follows."""
        task = each.line.task
        name = _name_of(task, self._worklist) if task else self._areas.get(each.area, "")
        text = f"{name}: {each.line.message}" if name else each.line.message
        return _row(
            SOON[each.soon],
            task or each.area,
            text,
            _hidden_words(each),
            each.line.place,
            pressing=each.soon is Soon.NOW,
        )

    def _due(self, due: date | None, unsaid: str) -> str:
        if due is None:
            return unsaid
        days = (due - self._today).days
        if days < 0:
            return f"{counted(-days, 'day')} late, due {day_short(due)}"
        return f"due in {counted(days, 'day')}, {day_short(due)}" if days else "due today"

    def _days(self, since: date) -> int:
        return (self._today - since).days


def _row(  # noqa: PLR0913 - the fields of a row, in their order
    group: str, head: str, text: str, when: str, place: Place, *, pressing: bool = False
) -> OpenRow:
    return OpenRow(group, head, text, when, place.path, place.line, pressing)


def _ago(days: int) -> str:
    """`12 days ago`; a day to come is told as such, for a note may be dated ahead."""
    if days < 0:
        return f"in {counted(-days, 'day')}"
    return f"{counted(days, 'day')} ago" if days else "today"


def _for(days: int) -> str:
    """`for 12 days`; on the first day no more than that."""
    return f"for {counted(days, 'day')}" if days > 0 else "since today"


def _hidden_words(each: Evidence) -> str:
    """`W04 follows, worked on up to 23 May 2026`."""
    if each.soon is Soon.NOW:
        return f"{each.hidden_by} follows, worked on up to {day_short(each.last)}"
    last = f"last worked on {day_short(each.last)}" if each.last != date.min else ""
    follows = f"{each.hidden_by} follows" if each.hidden_by else ""
    return "; ".join(word for word in (last, follows) if word)


def _name_of(task: str, worklist: Worklist) -> str:
    known = worklist.by_id.get(task)
    return known.name if known and known.name != task else ""


def closing_list(ledger: Ledger, found: BeforeClosing) -> ClosingList:
    """The list in words, with its cautions."""
    named = f"{found.subject}, {found.name}," if found.name != found.subject else found.subject
    title = f"Before {named} is closed"
    if found.closed_since:
        title = f"{named} was closed on {day_plain(found.closed_since)}; what it lacks"
    return ClosingList(
        subject=found.subject,
        title=title,
        rows=tuple(_closing_row(line, ledger.worklist) for line in found.lines),
        empty=NOTHING_LACKS,
        cautions=(CLOSING_CAUTION, NOT_NAMED, *authority_words(ledger.rulebook)),
    )


def _closing_row(line: ClosingLine, worklist: Worklist) -> ClosingRow:
    return ClosingRow(
        kind=line.kind.value,
        heading=HEADINGS[line.kind],
        task=line.task,
        name=_name_of(line.task, worklist),
        text=f"{first_upper(line.message)}.",
        path=line.place.path,
        line=line.place.line,
        because=line.because,
    )
