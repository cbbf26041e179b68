"""The numbers of where the money went, one chart a currency; only where the journal shows costs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from builderlog.deciding.costs import amount_text
from builderlog.deciding.public import PublicMoney, PublicSpent
from builderlog.deciding.words import month_short
from builderlog.knowing.entries import Money
from builderlog.sheets.book import Book, link_to_month
from builderlog.sheets.rows import Link

NO_AREA_MONEY = "For no area"
NO_SUPPLIER = "No supplier written"
NOT_SHOWN = ", or not shown"  # of a journal with private notes


@dataclass(frozen=True, slots=True)
class MoneyRow:
    """Money under an area or a supplier; `units` are whole units of the currency."""

    id: str
    name: str
    link: Link | None
    words: str  # "8.40"
    units: int


@dataclass(frozen=True, slots=True)
class MoneyMonth:
    """The money of one month of the record."""

    link: Link
    month: str  # "2026-03"
    short: str  # "Mar 2026"
    words: str
    units: int
    empty: bool


@dataclass(frozen=True, slots=True)
class MoneyChart:
    """Where the money of one currency went; `suppliers` only where the journal shows them."""

    title: str
    description: str
    currency: str
    total: str
    areas: tuple[MoneyRow, ...]
    suppliers: tuple[MoneyRow, ...]
    months: tuple[MoneyMonth, ...]


def money_charts(book: Book) -> tuple[MoneyChart, ...]:
    """One for each currency in which there are costs."""
    money = book.public.money
    if money is None:
        return ()
    return tuple(_chart(book, money, whole) for whole in money.whole if whole.amount)


def _chart(book: Book, money: PublicMoney, whole: PublicSpent) -> MoneyChart:
    total, currency = _text(whole.amount, whole.currency), whole.currency
    areas = tuple(_area_rows(book, _of(money.by_area, currency)))
    suppliers = tuple(_supplier_rows(book, _of(money.by_supplier, currency)))
    return MoneyChart(
        title=f"Where the money went ({currency})",
        description=f"{total} {currency} in all.{_largest(areas)}",
        currency=currency,
        total=total,
        areas=areas,
        suppliers=suppliers if any(row.id for row in suppliers) else (),
        months=tuple(_months(book, _of(money.by_month, currency), currency)),
    )


def _largest(areas: tuple[MoneyRow, ...]) -> str:
    """What the most money went into; nothing where all went into one, or into no area."""
    most = max(areas, key=lambda row: row.units, default=None)
    if most is None or most.link is None or len(areas) == 1:
        return ""
    return f" The largest part, {most.words}, went into {most.name}."


def _of(spent: Iterable[PublicSpent], currency: str) -> dict[str, PublicSpent]:
    return {each.name: each for each in spent if each.currency == currency}


def _area_rows(book: Book, spent: dict[str, PublicSpent]) -> Iterator[MoneyRow]:
    """The work list's areas in its order, then the rest."""
    for area in book.areas:
        if area and area in spent:
            link = book.area_link(area)
            yield _row(area, link.words if link else area, spent[area], link)
    if "" in spent:
        yield _row("", _nameless(book, NO_AREA_MONEY), spent[""])


def _supplier_rows(book: Book, spent: dict[str, PublicSpent]) -> Iterator[MoneyRow]:
    """The dearest first."""
    for each in sorted(
        (each for name, each in spent.items() if name), key=lambda each: (-each.amount, each.name)
    ):
        yield _row(each.name, each.name, each)
    if "" in spent:
        yield _row("", _nameless(book, NO_SUPPLIER), spent[""])


def _nameless(book: Book, words: str) -> str:
    return f"{words}{NOT_SHOWN}" if book.public.not_shown else words


def _row(row_id: str, name: str, spent: PublicSpent, link: Link | None = None) -> MoneyRow:
    words = _text(spent.amount, spent.currency)
    return MoneyRow(row_id, name, link, words, _units(spent.amount))


def _months(book: Book, spent: dict[str, PublicSpent], currency: str) -> Iterator[MoneyMonth]:
    for month in book.public.months:
        known = spent.get(month.month)
        amount = known.amount if known else Decimal(0)
        yield MoneyMonth(
            link=link_to_month(month.month),
            month=month.month,
            short=month_short(month.month),
            words=_text(amount, currency),
            units=_units(amount),
            empty=month.evenings == 0,
        )


def _text(amount: Decimal, currency: str) -> str:
    return amount_text(Money(amount, currency))


def _units(amount: Decimal) -> int:
    """Whole units of the currency, for the length of a bar; nothing where it came back."""
    return max(0, int(amount.quantize(Decimal(1), rounding=ROUND_HALF_UP)))
