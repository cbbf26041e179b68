"""The front page's sheet: what the aircraft is, where the build stands, what is new and next."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding import addresses, words
from builderlog.deciding.public import PublicLedger
from builderlog.sheets.book import Book, area_row, month_row
from builderlog.sheets.brief import BriefLine, front_brief
from builderlog.sheets.chart import hours_chart
from builderlog.sheets.lists import next_rows
from builderlog.sheets.milestones import Milestone, milestones_page, newest_milestones
from builderlog.sheets.news import News, news
from builderlog.sheets.rows import (
    AreaRow,
    HoursChart,
    Link,
    MonthRow,
    NextRow,
    NoteRow,
    Time,
    TimeRow,
    day_of,
    time_of,
)

NEWEST_NOTES = 6
NEXT_STEPS = 5
CHART_MONTHS = 12


@dataclass(frozen=True, slots=True)
class FrontSheet:
    """The front page. `lead` is the newest note with a picture, `newest` the others."""

    title: str
    aircraft: str | None
    particulars: tuple[tuple[str, str], ...]  # label, words
    total: Time
    span: str  # "on 61 days since 4 January 2026"
    by_role: tuple[TimeRow, ...]
    spent: tuple[str, ...]
    standing: str  # "12 of 58 tasks done"
    areas: tuple[AreaRow, ...]
    claim: Link | None  # only where the journal shows the claim
    lead: NoteRow | None
    news: News | None
    newest: tuple[NoteRow, ...]
    milestones: tuple[Milestone, ...]  # the newest first
    milestones_page: Link | None
    months: tuple[MonthRow, ...]  # newest first
    chart: HoursChart | None
    next_steps: tuple[NextRow, ...]
    more_next: int
    open_snags: str | None  # "2 open snags", only where the journal shows snags
    lead_label: str = "Newest"  # the lead is not always the newest note: it has a picture
    brief: tuple[BriefLine, ...] = ()  # for whoever has a minute


def front_sheet(book: Book) -> FrontSheet:
    """The front page of the site."""
    public = book.public
    lead, newest = _newest_notes(book)
    areas = tuple(area_row(book, area) for area in book.areas.values())
    steps, fresh, standing = next_rows(book), news(book), _standing(areas)
    recent = public.months[-CHART_MONTHS:]
    return FrontSheet(
        title=public.title,
        aircraft=public.design,
        particulars=_particulars(public),
        total=time_of(public.seconds),
        span=_span(public),
        by_role=tuple(TimeRow(row.label, time_of(row.seconds)) for row in public.by_role),
        spent=public.spent,
        standing=standing,
        areas=areas,
        claim=Link("The claim, area by area", addresses.CLAIM) if public.claim else None,
        lead=lead,
        news=fresh,
        newest=newest,
        milestones=newest_milestones(book),
        milestones_page=milestones_page(book),
        months=tuple(month_row(month) for month in reversed(public.months)),
        chart=hours_chart(book, recent, "Hours by month") if public.seconds and recent else None,
        next_steps=steps[:NEXT_STEPS],
        more_next=max(0, len(steps) - NEXT_STEPS),
        open_snags=_open_snags(public),
        lead_label=_lead_label(book, lead),
        brief=front_brief(fresh, standing, steps),
    )


def _newest_notes(book: Book) -> tuple[NoteRow | None, tuple[NoteRow, ...]]:
    """The newest note with a picture, and the newest others; newest first."""
    rows = tuple(reversed(tuple(book.rows.values())))
    lead = next((row for row in rows if row.cover), rows[0] if rows else None)
    return lead, tuple(row for row in rows if row is not lead)[:NEWEST_NOTES]


def _lead_label(book: Book, lead: NoteRow | None) -> str:
    return "Newest" if lead is None or lead.number == len(book.rows) else "Newest with a picture"


def _particulars(public: PublicLedger) -> tuple[tuple[str, str], ...]:
    cells = (
        ("Aircraft", public.design),
        ("Kit", public.kit),
        ("Built by", public.full_name or public.builder),
        ("Registration", public.registration),
        ("Serial", public.serial),
        ("Shop", public.place),
    )
    return tuple((label, value) for label, value in cells if value)


def _span(public: PublicLedger) -> str:
    days = words.counted(public.days, "day")
    if public.started is None:
        return f"on {days}"
    return f"on {days} since {day_of(public.started).plain}"


def _standing(areas: tuple[AreaRow, ...]) -> str:
    done = sum(area.done for area in areas)
    applicable = sum(area.applicable for area in areas)
    if not applicable:
        return ""
    if applicable == 1:
        return f"The one task is {'done' if done else 'still open'}"
    if done == applicable:
        return f"All {words.counted(done, 'task')} done"
    return f"{done or 'None'} of {words.counted(applicable, 'task')} done"


def _open_snags(public: PublicLedger) -> str | None:
    if not (public.shows_snags and public.snags):
        return None
    return words.counted(sum(snag.fixed_on is None for snag in public.snags), "open snag")
