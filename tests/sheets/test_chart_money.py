"""The charts of money: one a currency, areas in their order, the dearest supplier first."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from builderlog.deciding.public import PublicMoney, PublicSpent
from builderlog.sheets.book import open_book
from builderlog.sheets.chart_money import (
    NO_AREA_MONEY,
    NO_SUPPLIER,
    NOT_SHOWN,
    MoneyChart,
    money_charts,
)
from tests.drawing.made_public import PUBLIC


def spent(*rows: tuple[str, str, str]) -> tuple[PublicSpent, ...]:
    """Rows of name, amount and currency."""
    return tuple(PublicSpent(name, currency, Decimal(amount)) for name, amount, currency in rows)


MONEY = PublicMoney(
    whole=spent(("", "150.555", "USD"), ("", "9", "EUR")),
    by_month=spent(("2026-03", "150.555", "USD"), ("2026-04", "9", "EUR")),
    by_area=spent(("", "30.555", "USD"), ("W", "100", "USD"), ("W", "9", "EUR")),
    by_supplier=spent(
        ("", "10", "USD"), ("Ash", "50", "USD"), ("Birch", "90.555", "USD"), ("Ash", "9", "EUR")
    ),
)


def charts_of(money: PublicMoney | None) -> tuple[MoneyChart, ...]:
    """The charts of a ledger with this money."""
    return money_charts(open_book(replace(PUBLIC, money=money)))


def test_no_money_is_no_chart() -> None:
    """A journal that does not show costs has none."""
    assert charts_of(None) == ()


def test_each_currency_has_a_chart_of_its_own() -> None:
    """What no rate converts is never added to other money."""
    dollars, euros = charts_of(MONEY)
    assert (dollars.currency, dollars.total) == ("USD", "150.56")
    assert (euros.currency, euros.total) == ("EUR", "9.00")
    assert dollars.description == "150.56 USD in all. The largest part, 100.00, went into Wings."
    assert euros.description == "9.00 EUR in all."


def test_areas_stand_in_order_and_the_rest_last() -> None:
    """Areas with their pages, then what has none or stands in notes that are not shown."""
    rows = charts_of(MONEY)[0].areas
    assert [(row.name, row.words) for row in rows] == [
        ("Wings", "100.00"),
        (NO_AREA_MONEY + NOT_SHOWN, "30.56"),
    ]
    assert rows[0].link
    assert [row.units for row in rows] == [100, 31]


def test_a_journal_without_private_notes_has_nothing_else() -> None:
    """Then what has no area has none, and says no more."""
    whole = replace(PUBLIC, money=MONEY, not_shown=0)
    rows = money_charts(open_book(whole))[0].areas
    assert [row.name for row in rows] == ["Wings", NO_AREA_MONEY]


def test_the_dearest_supplier_stands_first() -> None:
    """What has no supplier is last."""
    rows = charts_of(MONEY)[0].suppliers
    assert [row.name for row in rows] == ["Birch", "Ash", NO_SUPPLIER + NOT_SHOWN]


def test_suppliers_not_shown_are_no_rows() -> None:
    """Neither is a list of nothing but money without a supplier."""
    assert charts_of(replace(MONEY, by_supplier=()))[0].suppliers == ()
    nameless = replace(MONEY, by_supplier=spent(("", "150.555", "USD")))
    assert charts_of(nameless)[0].suppliers == ()


def test_every_month_of_the_record_has_its_place() -> None:
    """Months without money are told with none."""
    months = charts_of(MONEY)[0].months
    assert [(month.month, month.words) for month in months] == [
        ("2026-03", "150.56"),
        ("2026-04", "0.00"),
        ("2026-05", "0.00"),
    ]


def test_money_that_came_back_has_no_length() -> None:
    """A sum below nothing is written, and its bar is empty."""
    back = replace(MONEY, by_area=spent(("W", "-4", "USD")))
    [row] = charts_of(back)[0].areas
    assert (row.words, row.units) == ("-4.00", 0)
