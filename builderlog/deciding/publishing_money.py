"""Money as friends may see it, where the journal shows costs: by month, by area, by supplier.

Months and the whole count every part. Areas and suppliers are told from public notes alone; what
no public note tells stands with what has no area or supplier, so that both add up to the whole and
no private price stands alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builderlog.deciding.costs import spending_of, spendings, sum_by_currency
from builderlog.deciding.public import PublicMoney, PublicSpent
from builderlog.deciding.publishing_things import parts_seen
from builderlog.deciding.sums import area_of
from builderlog.deciding.visibility import Visibility
from builderlog.deciding.words import month_of
from builderlog.knowing.entries import Money
from builderlog.knowing.ledger import Ledger, Part

_Named = tuple[str, Money]  # what the money went to


def public_money(ledger: Ledger, sight: Visibility) -> PublicMoney | None:
    """Where the money went; None unless the journal shows costs, or where there are none."""
    spent = spendings(ledger)
    if "costs" not in sight.show or not spent:
        return None
    whole = [spending.counted for spending in spent]
    seen = tuple(_seen(ledger, sight))
    areas = [(_area_of(part, ledger), money) for part, money in seen]
    suppliers = [(_supplier_of(part), money) for part, money in seen]
    return PublicMoney(
        whole=_sums(("", money) for money in whole),
        by_month=_sums((month_of(each.day), each.counted) for each in spent),
        by_area=_sums((*areas, *_rest(whole, areas))),
        by_supplier=_sums((*suppliers, *_rest(whole, suppliers)))
        if "suppliers" in sight.show
        else (),
    )


def _seen(ledger: Ledger, sight: Visibility) -> Iterator[tuple[Part, Money]]:
    """Each part as public notes tell it, with what it cost by them."""
    for part in parts_seen(ledger, sight):
        spending = spending_of(part, ledger.settings)
        if spending:
            yield part, spending.counted


def _area_of(part: Part, ledger: Ledger) -> str:
    """The area of the task that was written last; "" where none was."""
    tasks = [event.line.task for event in part.events]
    return area_of(next((task.text for task in reversed(tasks) if task), None), ledger.worklist)


def _supplier_of(part: Part) -> str:
    sources = [event.line.source for event in part.events]
    return next((source.text for source in reversed(sources) if source), "")


def _rest(whole: Iterable[Money], named: Iterable[_Named]) -> Iterator[_Named]:
    """What is in the whole and not in those named, by currency."""
    less = (Money(money.amount.copy_negate(), money.currency) for _, money in named)
    for currency, amount in sum_by_currency((*whole, *less)).items():
        if amount:
            yield "", Money(amount, currency)


def _sums(named: Iterable[_Named]) -> tuple[PublicSpent, ...]:
    """Exact sums by name and currency, names in the order in which they first come."""
    by_name: dict[str, list[Money]] = {}
    for name, money in named:
        by_name.setdefault(name, []).append(money)
    return tuple(
        PublicSpent(name, currency, amount)
        for name, amounts in by_name.items()
        for currency, amount in sum_by_currency(amounts).items()
    )
