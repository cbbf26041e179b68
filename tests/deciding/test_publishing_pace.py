"""The pace on the friends' site: nothing of paid help, of holidays to come or of reasons."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.publishing_pace import public_pace
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Role, SiteSettings
from tests.deciding.pace_journals import estimated, holiday, journal, week_by_week
from tests.making import day

SHOWN = frozenset({"paid help"})
WORK = (
    *week_by_week((5, 3, 0, 6, 5, 5, 2, 5, 5, 7, 5, 5)),
    *week_by_week((0, 0, 4, 0, 3, 3, 3), person="Ada"),
)
TASKS = (estimated("W1", 160), estimated("W2", 30), estimated("W3", 10, done=True))


def as_role(book: Ledger, role: Role) -> Ledger:
    """The same journal with Ada working in another role."""
    rows = tuple(replace(row, role=role) if row.person == "Ada" else row for row in book.work)
    return replace(book, work=rows)


def test_who_is_paid_changes_nothing_that_friends_see_of_the_pace() -> None:
    """Helper or paid: the window, what is left and each month are the same, until it is asked."""
    helped, paid = (as_role(journal(WORK, *TASKS), role) for role in (Role.HELPER, Role.PAID))
    assert public_pace(helped, frozenset()) == public_pace(paid, frozenset())
    assert public_ledger(helped).months == public_ledger(paid).months
    assert public_pace(helped, SHOWN) != public_pace(paid, SHOWN)


def test_the_journal_s_own_word_opens_it() -> None:
    """`site: show` hands its words on: with paid help shown, paid hours do nothing of the rest."""
    book = as_role(journal(WORK, *TASKS), Role.PAID)
    opened = replace(book, settings=replace(book.settings, site=SiteSettings(show=SHOWN)))
    told = public_ledger(opened).pace
    assert told == public_pace(book, SHOWN)
    assert told is not None
    assert "paid" in told.assumptions
    assert "paid" not in (public_ledger(book).pace or told).assumptions


def test_without_a_window_friends_are_told_nothing_of_it() -> None:
    """Why there is none is advice for the builder alone."""
    assert public_ledger(journal(WORK)).pace is None


def test_no_reason_and_no_day_of_a_holiday_is_public() -> None:
    """Neither why nor when the builder will be away stands anywhere in the public ledger."""
    away = holiday("2026-06-01", "2026-06-21", "zqhospitalqz")
    gone = holiday("2026-02-02", "2026-02-08", "zqharvestqz")
    told = repr(public_ledger(journal(WORK, *TASKS, holidays=[away, gone])))
    assert "qz" not in told
    assert repr(day("2026-06-01")) not in told
    assert repr(day("2026-06-21")) not in told
