"""Money: each cost once, converted by the dated list, exact, and never by a guessed rate."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builderlog.deciding.costs import (
    amount_text,
    convert,
    minor_digits,
    missing_rates,
    shown,
    spendings,
    sum_by_currency,
)
from builderlog.knowing.entries import Money
from builderlog.reading.problem import Weight
from tests.making import day, ledger, part, rate, settings

RATES = (rate("EUR", "2026-01-01", "1.10"), rate("EUR", "2026-03-01", "1.20"))

# ISO 4217 list one: digits of the minor unit.
DIGITS = (("USD", 2), ("EUR", 2), ("JPY", 0), ("KRW", 0), ("ISK", 0), ("CLP", 0), ("VND", 0))
MORE_DIGITS = (("BHD", 3), ("KWD", 3), ("OMR", 3), ("TND", 3), ("JOD", 3), ("CLF", 4), ("CHF", 2))


def money(text: str) -> Money:
    """An amount from "8.40 USD"."""
    amount, code = text.split()
    return Money(Decimal(amount), code)


@pytest.mark.parametrize(("code", "digits"), DIGITS + MORE_DIGITS)
def test_currencies_have_their_own_smallest_unit(code: str, digits: int) -> None:
    """The number of digits shown is that of ISO 4217."""
    assert minor_digits(code) == digits


@pytest.mark.parametrize(
    ("written", "text"),
    [
        ("8.4 USD", "8.40"),
        ("8.405 USD", "8.41"),
        ("8.404999999999999999999999999999999999 USD", "8.40"),
        ("0.5 JPY", "1"),
        (
            "1234567890123456789012345678901234567890.125 EUR",
            f"{1234567890123456789012345678901234567890}.13",
        ),
        ("1.2345 KWD", "1.235"),
        ("-0.001 USD", "0.00"),
        ("-2.505 USD", "-2.51"),
        ("1E+3 USD", "1000.00"),
    ],
)
def test_amounts_are_rounded_half_up_once(written: str, text: str) -> None:
    """An amount of any length is shown in the smallest unit, a half away from zero."""
    assert amount_text(money(written)) == text


@pytest.mark.parametrize(
    ("on", "worth"),
    [("2025-12-31", None), ("2026-01-01", "11.0"), ("2026-02-28", "11.0"), ("2026-03-01", "12.0")],
)
def test_the_newest_rate_on_or_before_the_day_counts(on: str, worth: str | None) -> None:
    """A rate holds from its day on until the next one, and none holds before the first."""
    found = convert(money("10 EUR"), day(on), settings(exchange=RATES))
    assert (found and found.amount) == (Decimal(worth) if worth else None)


def test_of_two_rates_on_one_day_the_last_written_counts() -> None:
    """A rate corrected on the same day replaces the one before it."""
    rates = [rate("EUR", "2026-01-01", "1.1"), rate("EUR", "2026-01-01", "1.3")]
    found = convert(money("1 EUR"), day("2026-01-01"), settings(exchange=rates))
    assert found == money("1.3 USD")


def test_conversion_is_exact() -> None:
    """A product of many digits keeps every one, beyond what decimals round to by default."""
    long = "1.000000000000000000000000000001"
    rates = [rate("EUR", "2026-01-01", long)]
    found = convert(money(f"{long} EUR"), day("2026-01-01"), settings(exchange=rates))
    assert found == money("1.000000000000000000000000000002000000000000000000000000000001 USD")


def test_sums_are_exact() -> None:
    """Adding a very small to a very large amount loses nothing."""
    amounts = [money("1E+40 USD"), money("1E-40 USD"), money("-1E+40 USD")]
    assert sum_by_currency(amounts) == {"USD": Decimal("1E-40")}


def test_the_journals_currency_stands_first() -> None:
    """The journal's own currency leads, the others follow by alphabet."""
    amounts = [money("1 CHF"), money("1 USD"), money("1 AUD")]
    assert list(sum_by_currency(amounts, "USD")) == ["USD", "AUD", "CHF"]


def test_a_cost_counts_once_with_its_newest_amount_in_its_first_month() -> None:
    """A later cost of the same thing replaces the amount but not the day."""
    book = ledger(parts=[part("skin", ("2026-01-05", "10 EUR"), ("2026-03-05", "20 EUR"))])
    (spent,) = spendings(book)
    assert (spent.day, spent.written) == (day("2026-01-05"), money("20 EUR"))


def test_without_a_rate_an_amount_stays_in_its_own_currency() -> None:
    """An amount with no rate is summed under its own code, beside the journal's."""
    parts = [part("a", ("2026-01-05", "10 EUR")), part("b", ("2026-01-05", "5 GBP"))]
    book = ledger(parts=parts, settled=settings(exchange=RATES))
    sums = sum_by_currency((one.counted for one in spendings(book)), "USD")
    assert shown(sums) == {"USD": "11.00", "GBP": "5.00"}


def test_a_missing_rate_is_told_at_its_cost() -> None:
    """Each cost without a rate is one doubt at the entry that holds it, with what to write."""
    lost = part("b", ("2026-01-05", "5 GBP"), ("2026-02-05", None))
    book = ledger(
        parts=[part("a", ("2026-01-05", "10 EUR")), lost], settled=settings(exchange=RATES)
    )
    (problem,) = missing_rates(book)
    assert (problem.code, problem.weight) == ("no-rate", Weight.DOUBT)
    assert (problem.place.path, problem.place.line) == ("notes/2026-01-05.md", 4)
    assert "5 GBP" in problem.message
    assert "from: GBP, on: 2026-01-05" in problem.message


def test_without_a_currency_of_the_journal_nothing_is_missing() -> None:
    """Where the journal names no currency each amount keeps its own, and no rate is asked for."""
    book = ledger(parts=[part("a", ("2026-01-05", "10 EUR"))], settled=settings(None, RATES))
    assert list(missing_rates(book)) == []
    assert [one.counted for one in spendings(book)] == [money("10 EUR")]
