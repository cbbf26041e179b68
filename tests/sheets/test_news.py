"""Holds what the front page calls new, and which parts came."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from builderlog.deciding.public import PublicLedger, PublicPart, PublicPartEvent
from builderlog.sheets.book import open_book
from builderlog.sheets.news import News, news, part_news
from tests.drawing.made_public import EMPTY, FIRST, HOUR, PUBLIC, month

TWO = replace(
    PUBLIC,
    months=(
        replace(month("2026-05", HOUR, (FIRST.key,)), tasks_done=("W14",), photos=2),
        replace(month("2026-06", 2 * HOUR, ("one",)), tasks_done=(), photos=0),
    ),
    parts=(),
)


def told(public: PublicLedger) -> News:
    """The news, known to be there."""
    found = news(open_book(public))
    assert found
    return found


def facts_of(public: PublicLedger) -> list[str]:
    """The facts as they are read."""
    return [f"{fact.number} {fact.words}" for fact in told(public).facts]


def test_the_newest_month_is_new() -> None:
    """Late in a month it is told alone, since the one before it; what is nought is not told."""
    late = replace(TWO, record_date=date(2026, 6, 30))
    assert told(late).heading == "New since May 2026"
    assert [link.words for link in told(late).months] == ["June 2026"]
    assert facts_of(late) == ["2\N{NO-BREAK SPACE}h in the shop", "1 note"]
    assert [link.words for link in told(late).begun] == ["Task W15"]


def test_in_the_first_days_of_a_month_the_one_before_is_new_too() -> None:
    """On the third of June a friend still sees what May brought."""
    early = replace(TWO, record_date=date(2026, 6, 3))
    assert told(early).heading == "New so far"
    assert [link.words for link in told(early).months] == ["June 2026", "May 2026"]
    assert facts_of(early) == [
        "3\N{NO-BREAK SPACE}h in the shop",
        "2 notes",
        "2 pictures",
        "1 task done",
        "1 decision made",
    ]
    assert [link.words for link in told(early).done] == ["Task W14"]
    tenth, eleventh = (replace(TWO, record_date=date(2026, 6, day)) for day in (10, 11))
    assert [len(told(each).months) for each in (tenth, eleventh)] == [2, 1]


def test_a_note_that_friends_cannot_read_is_no_news() -> None:
    """Its time is in the month's; it is not counted among the notes to look for."""
    late = replace(TWO, record_date=date(2026, 6, 30))
    may, june = late.months
    private = replace(june, evenings=2, not_shown=1)
    assert "1 note" in facts_of(replace(late, months=(may, private)))
    alone = replace(june, not_shown=1, notes=())
    assert facts_of(replace(late, months=(may, alone))) == ["2\N{NO-BREAK SPACE}h in the shop"]


def test_a_record_that_ends_later_keeps_its_last_month() -> None:
    """A sealing early in July does not make May new again."""
    sealed = replace(TWO, record_date=date(2026, 7, 2))
    assert [link.words for link in told(sealed).months] == ["June 2026"]


def test_after_a_pause_the_pause_is_told() -> None:
    """New is what came since the last month with a note; a month without one is no news."""
    may, june = TWO.months
    silent = [month(name, 0, ()) for name in ("2026-06", "2026-07")]
    after = replace(TWO, months=(may, *silent, replace(june, month="2026-08")))
    late, early = (replace(after, record_date=date(2026, 8, day)) for day in (30, 3))
    for public in (late, early):
        assert told(public).heading == "New since May 2026"
        assert [link.words for link in told(public).months] == ["August 2026"]
        assert told(public).pause == "after 2 months without a note"
    one = replace(TWO, months=(may, silent[0], replace(june, month="2026-07")))
    assert told(one).pause == "after a month without a note"
    assert told(TWO).pause is None


def test_a_month_of_which_friends_read_nothing_is_told_by_its_notes() -> None:
    """Neither hours nor a note to read: that there was a note, as the footer tells it too."""
    quiet = replace(month("2026-06", 0, ()), evenings=1, not_shown=1)
    public = replace(TWO, months=(TWO.months[0], quiet), record_date=date(2026, 6, 30))
    assert facts_of(public) == ["1 note not shown"]


def test_a_journal_without_notes_has_no_news() -> None:
    """Nothing is told of nothing."""
    assert news(open_book(EMPTY)) is None


def part(name: str, *events: tuple[date, str]) -> PublicPart:
    """A part with its sightings, six of it at the last."""
    seen = tuple(
        PublicPartEvent(FIRST.key, day, status, Decimal(6), None) for day, status in events
    )
    return PublicPart(name, events[-1][1], Decimal(6), None, seen)


def test_parts_are_told_once_by_the_last_that_befell_them() -> None:
    """What is only wanted or ordered did not come; another month's parts are not told."""
    came = part("Bolt", (date(2026, 5, 9), "received"), (date(2026, 5, 12), "fitted"))
    ordered = part("Hinge", (date(2026, 5, 2), "ordered"))
    later = part("Skin", (date(2026, 5, 3), "ordered"), (date(2026, 6, 3), "received"))
    short = part("Panel", (date(2026, 5, 4), "short"))
    book = open_book(replace(TWO, parts=(came, ordered, later, short)))
    rows = part_news(book, {"2026-05"})
    assert [(row.name, row.status, row.count) for row in rows] == [
        ("Panel", "short", "6"),
        ("Bolt", "fitted", "6"),
    ]
    assert rows[1].day.iso == "2026-05-12"


def test_only_what_came_is_counted_as_new() -> None:
    """A part found damaged is news of its month, and no part that was received."""
    came, broken = (part(name, (date(2026, 6, 9), name)) for name in ("fitted", "damaged"))
    public = replace(TWO, parts=(came, broken), record_date=date(2026, 6, 30))
    assert "1 part received or fitted" in facts_of(public)
    assert [row.name for row in told(public).parts] == ["fitted"]
