"""Money: what each part cost, in the journal's currency by its dated exchange list, summed exactly.

A missing rate is told and the amount stays in its own currency; no rate is ever guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import MAX_EMAX, MAX_PREC, MIN_EMIN, ROUND_HALF_UP, Context, Decimal

from builderlog.knowing.entries import Money
from builderlog.knowing.ledger import Ledger, Part, PartEvent
from builderlog.knowing.settings import Settings
from builderlog.reading.problem import Problem, doubt

# Sums and products of decimals are finite: with the widest context none is ever rounded.
_EXACT = Context(prec=MAX_PREC, Emax=MAX_EMAX, Emin=MIN_EMIN)

# Digits after the point where they are not 2: ISO 4217, list one (current currencies and funds).
_NO_DIGITS = frozenset(
    "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF".split()
)
_THREE_DIGITS = frozenset("BHD IQD JOD KWD LYD OMR TND".split())
_FOUR_DIGITS = frozenset("CLF UYW".split())


@dataclass(frozen=True, slots=True)
class Spending:
    """What one part cost: its day, the amount as written, and the amount as it is counted."""

    day: date
    written: Money
    counted: Money


def minor_digits(currency: str) -> int:
    """Digits after the point in which a currency is shown; 2 for a code that is not listed."""
    if currency in _NO_DIGITS:
        return 0
    if currency in _THREE_DIGITS:
        return 3
    return 4 if currency in _FOUR_DIGITS else 2


def amount_text(money: Money) -> str:
    """The amount rounded half up to the currency's smallest unit, without the code: "8.40"."""
    unit = Decimal(1).scaleb(-minor_digits(money.currency))
    rounded = money.amount.quantize(unit, rounding=ROUND_HALF_UP, context=_EXACT)
    return f"{abs(rounded) if rounded.is_zero() else rounded:f}"


def convert(money: Money, day: date, settings: Settings) -> Money | None:
    """The amount in the journal's currency, exact; None where it names none or no rate is known."""
    if money.currency == settings.currency:
        return money
    rate = _rate_on(money.currency, day, settings)
    if settings.currency is None or rate is None:
        return None
    return Money(_EXACT.multiply(money.amount, rate), settings.currency)


def _rate_on(currency: str, day: date, settings: Settings) -> Decimal | None:
    """The newest rate on or before `day`; of two on one day, the one written last."""
    known = [rate for rate in settings.exchange if rate.currency == currency and rate.on <= day]
    newest = max((rate.on for rate in known), default=None)
    return next((rate.rate for rate in reversed(known) if rate.on == newest), None)


def spendings(ledger: Ledger) -> tuple[Spending, ...]:
    """Each part that has a cost, once, in the ledger's order."""
    found = (spending_of(part, ledger.settings) for part in ledger.parts)
    return tuple(spending for spending in found if spending)


def spending_of(part: Part, settings: Settings) -> Spending | None:
    """What a part cost: its newest cost, dated in the entry that first gave one; None without."""
    if part.cost is None:
        return None
    day, money = part.cost
    return Spending(day, money, convert(money, day, settings) or money)


def sum_by_currency(amounts: Iterable[Money], first: str | None = None) -> dict[str, Decimal]:
    """Exact sums by currency, the one named `first` before the others, these by alphabet."""
    sums: dict[str, Decimal] = {}
    for money in amounts:
        sums[money.currency] = _EXACT.add(sums.get(money.currency, Decimal(0)), money.amount)
    return {code: sums[code] for code in sorted(sums, key=lambda code: (code != first, code))}


def shown(sums: Mapping[str, Decimal]) -> dict[str, str]:
    """Sums by currency as decimal text, each rounded once, at the end."""
    return {code: amount_text(Money(amount, code)) for code, amount in sums.items()}


def missing_rates(ledger: Ledger) -> Iterator[Problem]:
    """A doubt (code `no-rate`) at each cost that the exchange list cannot convert.

    None where journal.yaml names no currency: then there is nothing to convert to.
    """
    if ledger.settings.currency is None:
        return
    for part in ledger.parts:
        if part.cost and convert(part.cost[1], part.cost[0], ledger.settings) is None:
            yield _missing_rate(part.cost[0], _newest_cost(part), ledger.settings.currency)


def _newest_cost(part: Part) -> PartEvent:
    """The event whose cost counts; the part is known to have one."""
    return [event for event in part.events if event.line.cost][-1]


def _missing_rate(day: date, event: PartEvent, currency: str) -> Problem:
    money = event.line.cost or Money(Decimal(0), currency)
    return doubt(
        event.line.place,
        "no-rate",
        f"{money.amount:f} {money.currency} stays in {money.currency}: `exchange` in journal.yaml"
        f" has no rate from {money.currency} to {currency} on or before {day.isoformat()};"
        f" add a line such as {{from: {money.currency}, on: {day.isoformat()}, rate: 1.0850}}",
    )
