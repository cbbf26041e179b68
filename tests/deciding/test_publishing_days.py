"""A private note's day is in nothing that the site tells, directly or by subtraction."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.publishing_days import with_told_date, with_told_work
from builderlog.deciding.visibility import what_friends_see
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import SiteSettings
from tests.making import dated, ledger, note, task, worked

ALL = ("full names", "costs", "snags", "visits", "paid help", "claim", "place")


def journal(public: list[str], private: list[str], record: str | None = None) -> Ledger:
    """A journal with an hour on each day; the record ends with its newest note unless named."""
    notes = [note(day, "W1") for day in public]
    notes += [
        replace(note(day, "W1", privacy=Privacy.PRIVATE), path=hidden(day)) for day in private
    ]
    work = [worked(day, 3600, "W1") for day in public]
    work += [replace(worked(day, 3600, "W1"), note=hidden(day)) for day in private]
    made = ledger(
        notes=sorted(notes, key=_order),
        work=sorted(work, key=lambda row: row.day),
        tasks=[task("W1")],
    )
    return replace(made, record_date=date.fromisoformat(record or max([*public, *private])))


def hidden(day: str) -> str:
    """Where a private note stands."""
    return f"notes/{day}-hidden.md"


def _order(one: Note) -> tuple[date, str]:
    return one.order


def told(book: Ledger) -> PublicLedger:
    """What friends see with everything shown that may be."""
    settled = replace(book.settings, site=SiteSettings(show=frozenset(ALL)))
    return public_ledger(replace(book, settings=settled))


def test_a_record_that_ends_privately_ends_with_its_last_public_day() -> None:
    """The day of a private note that is the newest is not told; a public one is."""
    book = journal(["2026-03-01", "2026-03-10"], ["2026-03-25"])
    assert told(book).record_date == date(2026, 3, 10)
    assert told(journal(["2026-03-01"], ["2026-02-01"])).record_date == date(2026, 3, 1)


def test_another_day_that_was_asked_for_is_told() -> None:
    """`--on` is the builder's own word."""
    book = journal(["2026-03-01"], ["2026-03-25"], record="2026-04-02")
    assert told(book).record_date == date(2026, 4, 2)


def test_a_note_written_later_ends_the_record_where_it_is_public() -> None:
    """The day of writing counts where friends read it, and not where the note is private."""
    book = journal(["2026-03-01"], ["2026-03-05"], record="2026-03-09")
    late = [
        replace(one, written=dated("2026-03-09")) if one.path == hidden("2026-03-05") else one
        for one in book.notes
    ]
    assert told(replace(book, notes=tuple(late))).record_date == date(2026, 3, 1)
    both = [replace(one, written=dated("2026-03-09")) for one in late]
    assert told(replace(book, notes=tuple(both))).record_date == date(2026, 3, 9)


def test_work_after_the_last_public_day_is_no_part_of_the_pace() -> None:
    """The weeks of the pace end with the day that is told, unless another day was asked for."""
    book = journal(["2026-03-01", "2026-03-10"], ["2026-03-25"])
    sight = what_friends_see(book, frozenset())
    told_ledger = with_told_date(book, sight)
    kept = with_told_work(told_ledger, book, sight).work
    assert [(row.day.day, row.seconds) for row in kept] == [
        *((1, 3600), (1, 1800), (8, 1800), (10, 3600)),
    ]
    asked = replace(book, record_date=date(2026, 3, 2))
    all_rows = with_told_work(with_told_date(asked, sight), asked, sight).work
    assert [row.day.day for row in all_rows] == [1, 1, 10]


def test_private_work_stands_in_the_weeks_of_its_month_alike() -> None:
    """Of the pace not even the week of a private note can be reckoned, and not a second is lost."""
    books = [journal(["2026-03-01", "2026-03-31"], [f"2026-02-{day}"]) for day in ("03", "25")]
    for book in books:
        sight = what_friends_see(book, frozenset())
        kept = with_told_work(with_told_date(book, sight), book, sight).work
        assert [row.day.day for row in kept] == [1, 8, 15, 22, 1, 31]
        assert sum(row.seconds for row in kept) == 3 * 3600


def test_a_pause_is_not_told_where_a_private_note_cuts_it() -> None:
    """Without private notes a month tells its pause and weeks, with one neither; sums stay."""
    days = ["2026-03-03", "2026-03-12", "2026-03-26"]
    (open_month,) = told(journal(days, [])).months
    (shut,) = told(journal(days, ["2026-03-20"])).months
    assert (open_month.longest_gap_days, shut.longest_gap_days) == (13, 0)
    assert open_month.pace
    assert shut.pace
    assert (open_month.pace.worked, open_month.pace.weeks) == (3, 4)
    assert (shut.pace.worked, shut.pace.weeks) == (0, 0)
    assert (open_month.seconds, shut.seconds) == (3 * 3600, 4 * 3600)


def test_a_pause_from_a_month_with_a_private_note_is_not_told() -> None:
    """A pause that begins on a private note's day would tell it a month later."""
    april = told(journal(["2026-03-01", "2026-04-20", "2026-04-30"], ["2026-03-20"])).months[1]
    assert april.not_shown == 0
    assert april.longest_gap_days == 0


def test_an_empty_and_a_wholly_private_journal_are_told() -> None:
    """No note at all, or none that is public, is no trouble: there is no day to tell."""
    assert told(ledger()).record_date is None
    book = told(journal([], ["2026-03-05", "2026-04-05"]))
    assert book.record_date is None
    assert [month.longest_gap_days for month in book.months] == [0, 0]


DAYS = st.lists(
    st.dates(date(2026, 1, 1), date(2026, 4, 30)).map(str), min_size=1, max_size=8, unique=True
)


@settings(max_examples=25, deadline=None)
@given(DAYS, st.integers(1, 28), st.integers(1, 28))
def test_no_private_day_can_be_told_from_another(public: list[str], one: int, other: int) -> None:
    """Two journals that differ in the day alone of a private note give the same public ledger.

    But for how many days had time on them, where one of the two shares a public note's day.
    """
    taken = {date.fromisoformat(day) for day in public}
    days = [date(2026, 2, one), date(2026, 2, other)]
    if taken.intersection(days) or min(taken) > min(days) or max(taken) < date(2026, 3, 1):
        return
    first, second = (told(journal(public, [str(day)])) for day in days)
    assert first == second
