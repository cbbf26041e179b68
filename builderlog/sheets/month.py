"""The sheet of a month's page: what was done, by which area, with which pictures."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from builderlog.deciding import words
from builderlog.deciding.public import PublicDecision, PublicMonth
from builderlog.deciding.sums import NO_AREA_NAME
from builderlog.sheets.book import Book, per_week_of
from builderlog.sheets.brief import MOST_NAMES, BriefLine, MonthInBrief, month_brief
from builderlog.sheets.letter import LetterWords, letter_of_month, opened_by
from builderlog.sheets.month_work import (
    AreaWork,
    Closed,
    area_work,
    closings,
    next_as_written,
    next_heading,
)
from builderlog.sheets.news import PartNews, part_news
from builderlog.sheets.note import photos_shown, rows_of
from builderlog.sheets.pace_site import SitePace, site_pace
from builderlog.sheets.rows import Link, NextRow, NoteRow, Photo, TaskTimeRow, Time, time_of
from builderlog.sheets.shots import Shot, best_photo, each_once

NO_TIME = replace(time_of(0), words="No hours")


@dataclass(frozen=True, slots=True)
class DecisionRow:
    """A decision and the note that tells it."""

    decision: PublicDecision
    note: Link


@dataclass(frozen=True, slots=True)
class MonthSheet:
    """One month. Sums hold all its evenings; notes and pictures are the shown ones."""

    name: str
    month: str
    time: Time
    span: str  # "on 8 days, told in 9 notes"
    gap: str | None  # "11 days", the longest pause between two notes
    per_week: Time | None
    weeks: str | None  # "4 of 5, 1 on holiday": its weeks with time
    pace: SitePace | None  # on the newest month's page
    not_shown: str | None
    running: Time
    areas: tuple[TaskTimeRow, ...]
    work: tuple[AreaWork, ...]  # the same areas, with what was done
    begun: tuple[Link, ...]
    done: tuple[Link, ...]
    notes: tuple[NoteRow, ...]
    cover: Photo | None  # none of those that stand in the letter below
    photos: tuple[Photo, ...]  # those that neither opens the page nor stands beside a note
    decisions: tuple[DecisionRow, ...]
    parts: tuple[PartNews, ...]
    closed: tuple[Closed, ...]
    next_heading: str
    next_steps: tuple[NextRow, ...]  # as last written in this month
    spent: tuple[str, ...]
    seal: str | None  # digest
    amended: str | None  # digest of the newest amendment
    earlier: Link | None
    later: Link | None
    empty: bool
    letter: LetterWords | None = None  # the builder's own words on the month
    brief: tuple[BriefLine, ...] = ()  # for whoever has a minute
    card: Photo | None = None  # what stands for the month where its page is shared


def month_sheet(book: Book, position: int) -> MonthSheet:
    """The month at a position of the ledger, from 0."""
    month = book.public.months[position]
    shots = tuple(shot for key in month.notes for shot in book.shots.get(key, ()))
    photos = each_once(shots)
    rows, areas = rows_of(book, month.notes), _area_times(book, month)
    letter = letter_of_month(book, month.month)
    in_letter = photos_shown(letter.prose) if letter else ()
    cover = _cover(shots, in_letter)
    if letter and cover is None:
        cover, letter = opened_by(letter)
    told = {each.digest for each in (cover, *in_letter) if each}
    rows = tuple(_told_once(row, told) for row in rows)
    told |= {row.cover.digest for row in rows if row.cover}
    sheet = MonthSheet(
        name=words.month_long(month.month),
        month=month.month,
        time=time_of(month.seconds) if month.seconds else NO_TIME,
        span=_span(month),
        gap=_gap(month),
        per_week=per_week_of(month),
        weeks=_weeks(month),
        pace=_site_pace(book, position),
        not_shown=notes_not_shown(month.not_shown),
        running=time_of(month.running_seconds),
        areas=areas,
        work=area_work(book, month, areas),
        begun=book.links_of(month.tasks_begun),
        done=book.links_of(month.tasks_done),
        notes=rows,
        cover=cover,
        photos=tuple(photo for photo in photos if photo.digest not in told),
        decisions=_decisions(book, month),
        parts=part_news(book, {month.month}),
        closed=closings(book, month),
        next_heading=next_heading(book, month),
        next_steps=next_as_written(book, month),
        spent=month.spent,
        seal=month.seals[0] if month.seals else None,
        amended=month.seals[1] if len(month.seals) > 1 else None,
        earlier=_neighbour(book, position - 1),
        later=_neighbour(book, position + 1),
        empty=month.evenings == 0,
        letter=letter,
        card=next((photo for photo in (cover, *in_letter) if photo), None),
    )
    return replace(sheet, brief=_brief(sheet))


def _told_once(row: NoteRow, told: AbstractSet[str]) -> NoteRow:
    """A note of the month without its picture where the page shows that large anyhow."""
    return replace(row, cover=None) if row.cover and row.cover.digest in told else row


def _cover(shots: tuple[Shot, ...], in_letter: tuple[Photo, ...]) -> Photo | None:
    """The best picture that the letter does not show; with a letter no page of a notebook."""
    shown = {photo.digest for photo in in_letter}
    left = [shot for shot in shots if shot.photo.digest not in shown]
    return best_photo(shot for shot in left if not shown or shot.worth[:1] != (False,))


def _brief(sheet: MonthSheet) -> tuple[BriefLine, ...]:
    return month_brief(
        MonthInBrief(
            done=sheet.done,
            areas=tuple(row.name for row in sheet.areas),
            names_tasks=any(row.tasks for row in sheet.work),
            events=tuple(_events(sheet)),
            running=sheet.running,
            next_heading="Next" if sheet.later is None else "Next then",
            next_steps=sheet.next_steps,
        )
    )


def _events(sheet: MonthSheet) -> Iterator[BriefLine]:
    """What a month without work has to tell."""
    if sheet.parts:
        told = [f"{row.name} {row.status}" for row in sheet.parts[:MOST_NAMES]]
        yield BriefLine("Parts", words.listed(told), "parts")
    if sheet.decisions:
        yield BriefLine("Decided", sheet.decisions[0].decision.what, "decided")


def notes_not_shown(number: int) -> str | None:
    """The sentence that keeps sums honest: "2 notes are not shown."."""
    if not number:
        return None
    return f"{words.counted(number, 'note')} {'is' if number == 1 else 'are'} not shown."


def _span(month: PublicMonth) -> str:
    if not month.seconds:
        return f"written down, {words.counted(month.evenings, 'note')}"
    days = words.counted(month.days, "day")
    return f"on {days}, told in {words.counted(month.evenings, 'note')}"


def _gap(month: PublicMonth) -> str | None:
    if month.longest_gap_days < 2 or not month.evenings:
        return None
    return words.counted(month.longest_gap_days, "day")


def _weeks(month: PublicMonth) -> str | None:
    """In how many of its weeks there was work; None where the month is shorter than a week."""
    pace = month.pace
    if pace is None or pace.weeks < 2 or not month.evenings:
        return None
    away = f", {pace.holidays} on holiday" if pace.holidays else ""
    return f"{pace.worked} of {pace.weeks}{away}"


def _site_pace(book: Book, position: int) -> SitePace | None:
    newest = position == len(book.public.months) - 1
    return site_pace(book.public.pace) if newest and book.public.pace else None


def _area_times(book: Book, month: PublicMonth) -> tuple[TaskTimeRow, ...]:
    """Where the month's time went, the most first; time given to no area last."""
    ordered = sorted(month.by_area, key=lambda pair: (pair[0] == "", -pair[1]))
    return tuple(_area_time(book, area, seconds) for area, seconds in ordered if seconds)


def _area_time(book: Book, area: str, seconds: int) -> TaskTimeRow:
    link = book.area_link(area) if area else None
    return TaskTimeRow(area, link.words if link else area or NO_AREA_NAME, link, time_of(seconds))


def _decisions(book: Book, month: PublicMonth) -> tuple[DecisionRow, ...]:
    return tuple(
        DecisionRow(decision, book.rows[key].link)
        for key in month.notes
        if key in book.notes
        for decision in book.notes[key].decided
    )


def _neighbour(book: Book, position: int) -> Link | None:
    months = book.public.months
    return book.month_link(months[position].month) if 0 <= position < len(months) else None
