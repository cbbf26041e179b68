"""Totals equal those of an independent computation: pandas (PyPI), a general data-frame library.

The frames are made from the plain rows of a ledger; no sum of ours enters them. Money is summed
there as exact fractions of the standard library.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.months import months
from builderlog.deciding.totals import tally, tally_document
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Part, Picture, Worked
from tests import making

FIRST = date(2024, 12, 20)
TASKS = ("W1", "W2", "E1", "E2", "F1", "loose", '=odd, "id"')
LISTED = tuple(making.task(name, done=name in {"W1", "E2"}) for name in TASKS[:5])
RATES = (
    making.rate("EUR", "2025-01-01", "1.0873"),
    making.rate("EUR", "2025-02-01", "1.1"),
    making.rate("JPY", "2024-01-01", "0.0067"),
)
CURRENCIES = ("USD", "EUR", "JPY", "GBP")
DAYS = st.integers(0, 150).map(lambda count: FIRST + timedelta(days=count))


@st.composite
def rows_of_work(draw: st.DrawFn) -> Worked:
    """One row of work on any of 151 days over six months."""
    on = draw(DAYS).isoformat()
    task = draw(st.sampled_from((None, *TASKS)))
    person = draw(st.sampled_from(sorted(making.PEOPLE)))
    return making.worked(
        on, draw(st.integers(0, 86_400)), task, person, draw(st.sampled_from(list(Work)))
    )


@st.composite
def parts(draw: st.DrawFn) -> Part:
    """A part with one to three events, some with a cost."""
    days = sorted(draw(st.lists(DAYS, min_size=1, max_size=3)))
    amounts = st.integers(0, 10**9).map(lambda cents: f"{Decimal(cents) / 1000:f}")
    costs = st.tuples(amounts, st.sampled_from(CURRENCIES)).map(" ".join)
    return making.part("p", *((on.isoformat(), draw(st.none() | costs)) for on in days))


@st.composite
def pictures(draw: st.DrawFn) -> Picture:
    """A picture with any number of uses; without one it is only linked in a note's words."""
    shows = st.lists(st.sampled_from(TASKS), max_size=2).map(tuple)
    uses = draw(st.lists(st.tuples(DAYS.map(date.isoformat), shows), max_size=3))
    return making.picture("photos/x.jpg", *uses, linked=("notes/2024-12-20.md",))


@st.composite
def ledgers(draw: st.DrawFn) -> Ledger:
    """A whole journal; every day on which something happened has a note."""
    return book_of(
        draw(st.lists(rows_of_work(), max_size=60)),
        draw(st.lists(parts(), max_size=15)),
        draw(st.lists(pictures(), max_size=10)),
    )


def book_of(work: Iterable[Worked], bought: Iterable[Part], taken: Iterable[Picture]) -> Ledger:
    """A ledger in which pictures have names of their own and every day has its note."""
    named = [replace(one, path=f"photos/{number}.jpg") for number, one in enumerate(taken)]
    held = tuple(bought)
    days = {use.day: set[str]() for one in named for use in one.uses}
    days |= {event.day: set[str]() for one in held for event in one.events}
    for one in named:
        for use in one.uses:
            days[use.day].update(use.shows)
    return making.ledger(
        work=work,
        notes=[making.note(on.isoformat(), shows=sorted(shown)) for on, shown in days.items()],
        parts=held,
        pictures=named,
        tasks=LISTED,
        settled=making.settings(exchange=RATES),
    )


def frame_of(book: Ledger) -> pd.DataFrame:
    """The ledger's work as a data frame; the area comes from the first letter of a listed task."""
    listed = {one.id for one in LISTED}
    records = [
        {
            "day": row.day.isoformat(),
            "month": row.day.isoformat()[:7],
            "person": row.person,
            "role": str(row.role),
            "task": row.task if row.task is not None else "",
            "area": row.task[0] if row.task in listed and row.task else "",
            "kind": str(row.work),
            "seconds": row.seconds,
        }
        for row in book.work
    ]
    names = ["day", "month", "person", "role", "task", "area", "kind", "seconds"]
    return pd.DataFrame(records, columns=names).astype({"seconds": "int64"})


def sums(frame: pd.DataFrame, *keys: str) -> dict[str, int]:
    """Seconds by one column, or by two that are joined with a bar; nothing where they are 0."""
    grouped = frame.groupby(list(keys))["seconds"].sum().reset_index()
    named = {"|".join(row[:-1]): int(row[-1]) for row in grouped.itertuples(index=False)}
    return {key: value for key, value in named.items() if value}


def nonzero(found: Mapping[str, int]) -> dict[str, int]:
    """The same without zeros."""
    return {key: value for key, value in found.items() if value}


def agree_on_time(book: Ledger) -> None:
    """Every sum of seconds is the one that pandas finds."""
    frame, found = frame_of(book), tally(book)
    assert found.seconds == int(frame["seconds"].sum())
    assert nonzero(found.by_role) == sums(frame, "role")
    assert found.by_person == sums(frame, "person")
    assert found.by_day == sums(frame, "day")
    assert nonzero(found.by_kind) == sums(frame, "kind")
    assert found.by_area == sums(frame[frame["area"] != ""], "area")
    assert found.untasked == int(frame[frame["task"] == ""]["seconds"].sum())
    tasked = frame[frame["task"] != ""]
    assert nonzero({task: row.seconds for task, row in found.by_task.items()}) == sums(
        tasked, "task"
    )
    told = {f"{t}|{k}": n for t, row in found.by_task.items() for k, n in row.by_kind.items()}
    assert nonzero(told) == sums(tasked, "task", "kind")


def agree_on_months(book: Ledger) -> None:
    """Every month's sums are those that pandas finds, and the running total is its cumsum."""
    frame, found = frame_of(book), months(book)
    by_month = {one.month: one.seconds for one in found}
    assert nonzero(by_month) == sums(frame, "month")
    told = {f"{one.month}|{area}": n for one in found for area, n in one.by_area.items()}
    assert nonzero(told) == sums(frame, "month", "area")
    roles = {f"{one.month}|{role}": n for one in found for role, n in one.by_role.items()}
    assert nonzero(roles) == sums(frame, "month", "role")
    running = pd.Series(by_month, dtype="int64").sort_index().cumsum()
    assert [one.running_seconds for one in found] == [int(value) for value in running]
    worked = frame[frame["seconds"] > 0]
    days = worked.groupby("month")["day"].nunique().to_dict()
    assert {one.month: one.days for one in found if one.days} == days


def agree_on_gaps(book: Ledger) -> None:
    """Each month's gap is the longest streak that pandas counts day by day, up to its end."""
    days = [one.day for one in book.notes if one.day]
    if not days:
        return
    calendar = pd.date_range(min(days), max(days), freq="D")
    worked = {row.day.isoformat() for row in book.work if row.seconds}
    idle = pd.Series([stamp.date().isoformat() not in worked for stamp in calendar], calendar)
    streak = idle.astype(int).groupby((~idle).cumsum()).cumsum()
    longest = streak.groupby(calendar.strftime("%Y-%m")).max().to_dict()
    assert {one.month: one.longest_gap_days for one in months(book)} == longest


def agree_on_counts(book: Ledger) -> None:
    """Notes, pictures, and what tasks are named by, are the counts that pandas finds."""
    found = tally(book)
    uses = pd.DataFrame(
        [(one.path, use.day.isoformat()[:7]) for one in book.pictures for use in one.uses],
        columns=["path", "month"],
    )
    assert found.photos == uses["path"].nunique()
    by_month = uses.groupby("month")["path"].nunique().to_dict()
    assert {one.month: one.photos for one in months(book) if one.photos} == by_month
    shown = pd.DataFrame(
        [(one.path, task) for one in book.pictures for use in one.uses for task in use.shows],
        columns=["path", "task"],
    )
    by_task = shown.groupby("task")["path"].nunique().to_dict()
    assert {task: row.photos for task, row in found.by_task.items() if row.photos} == by_task


def agree_on_money(book: Ledger) -> None:
    """What was spent is what exact fractions, converted rate by rate, come to."""
    spent: dict[str, Fraction] = {}
    for one in book.parts:
        told = [(event.day, event.line.cost) for event in one.events if event.line.cost]
        money = told[-1][1] if told else None
        if money is not None:
            code, amount = in_dollars(money.currency, Fraction(money.amount), told[0][0])
            spent[code] = spent.get(code, Fraction(0)) + amount
    found = tally(book)
    assert {code: Fraction(amount) for code, amount in found.spent.items()} == spent
    shown = tally_document(found)["spent"]
    assert shown == {code: half_up(spent[code], 0 if code == "JPY" else 2) for code in found.spent}


def in_dollars(code: str, amount: Fraction, on: date) -> tuple[str, Fraction]:
    """The amount by the newest rate on or before the day, or as it is."""
    known = [one for one in RATES if one.currency == code and one.on <= on]
    return ("USD", amount * Fraction(known[-1].rate)) if known else (code, amount)


def half_up(amount: Fraction, digits: int) -> str:
    """A fraction that is not negative, as decimal text, a half rounded up."""
    whole = (amount * 10**digits * 2 + 1) // 2
    text = str(whole).rjust(digits + 1, "0")
    return f"{text[:-digits]}.{text[-digits:]}" if digits else text


def agree(book: Ledger) -> None:
    """All of it."""
    agree_on_time(book)
    agree_on_months(book)
    agree_on_gaps(book)
    agree_on_counts(book)
    agree_on_money(book)


@given(ledgers())
@settings(deadline=None)
def test_totals_of_any_journal_agree(book: Ledger) -> None:
    """On generated journals every total is the one that pandas and exact fractions find."""
    agree(book)


@given(st.lists(rows_of_work(), max_size=40), st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_no_total(rows: list[Worked], chance: random.Random) -> None:
    """Work in another order gives the same document."""
    other = list(rows)
    chance.shuffle(other)
    one = tally_document(tally(making.ledger(work=rows, tasks=LISTED)))
    assert tally_document(tally(making.ledger(work=other, tasks=LISTED))) == one


@given(ledgers())
@settings(deadline=None)
def test_every_way_of_adding_gives_the_same_total(book: Ledger) -> None:
    """Hours by role, person, day, month, kind, and by task with the untasked, add to one total."""
    found = tally(book)
    for parts_of_it in (found.by_role, found.by_person, found.by_day, found.by_week, found.by_kind):
        assert sum(parts_of_it.values()) == found.seconds
    assert sum(month.seconds for month in found.by_month.values()) == found.seconds
    tasked = sum(row.seconds for row in found.by_task.values())
    assert tasked + found.untasked == found.seconds


@pytest.mark.slow
def test_totals_of_a_large_journal_agree() -> None:
    """On one seeded journal of 20,000 rows of work and 3,000 parts every total agrees."""
    chance = random.Random(20260314)

    def some_day() -> str:
        return (FIRST + timedelta(days=chance.randrange(3_000))).isoformat()

    people, kinds = sorted(making.PEOPLE), list(Work)
    work = [
        making.worked(
            some_day(),
            chance.randrange(20_000),
            chance.choice((None, *TASKS)),
            chance.choice(people),
            chance.choice(kinds),
        )
        for _ in range(20_000)
    ]
    bought = [
        making.part(
            "p", (some_day(), f"{chance.randrange(10**7) / 1000:.3f} {chance.choice(CURRENCIES)}")
        )
        for _ in range(3_000)
    ]
    taken = [
        making.picture("x", (some_day(), (chance.choice(TASKS),)), (some_day(), ()))
        for _ in range(2_000)
    ]
    agree(book_of(work, bought, taken))
