"""Amounts of money as the builder writes them: exact, with their currency (ISO 4217)."""

from __future__ import annotations

import re
from decimal import Decimal

from builderlog.knowing.entries import Money
from builderlog.knowing.units import UnreadableError, refuse_two_readings, short_enough

_SIGNS = {"€": "EUR", "£": "GBP"}  # the dollar sign belongs to many currencies
_AMOUNT = r"\d[\d.,' \u00a0\u202f]*|[.,]\d+"
_BEHIND = re.compile(rf"({_AMOUNT})\s*([A-Za-z]{{3}}|[€£$])?")
_BEFORE = re.compile(rf"([A-Za-z]{{3}}|[€£$])\s*({_AMOUNT})")


def parse_money(text: str, currency: str | None) -> Money:
    """`8.40 USD`, `8,40 EUR`, `USD 8.40`, or in the journal's currency. Raises UnreadableError."""
    word = short_enough(text, "an amount of money")
    if found := _BEFORE.fullmatch(word):
        return Money(_amount(text, found[2]), parse_currency(found[1]))
    found = _BEHIND.fullmatch(word)
    if not found:
        raise UnreadableError(f"'{text}' is not an amount of money; write 8.40 USD")
    if found[2] is None and currency is None:
        raise UnreadableError(
            f"'{text}' has no currency; write {text} USD, or a currency: in journal.yaml"
        )
    return Money(_amount(text, found[1]), parse_currency(found[2]) if found[2] else str(currency))


def parse_currency(text: str) -> str:
    """A currency's three letters in capitals. Raises UnreadableError."""
    code = _SIGNS.get(text, text.upper())
    if not re.fullmatch(r"[A-Z]{3}", code):
        raise UnreadableError(f"'{text}' is not a currency; write its three letters, as in USD")
    return code


def _amount(text: str, word: str) -> Decimal:
    """Grouped or plain; `1.250` alone could be a thousand or one and is refused."""
    digits = re.sub(r"[' \u00a0\u202f]", "", word)
    refuse_two_readings(text, digits)
    last = max(digits.rfind("."), digits.rfind(","))
    if last >= 0 and digits.count(digits[last]) > 1:
        last = len(digits)  # 1.250.000: groups only
    head, tail = (digits[:last], digits[last + 1 :]) if last >= 0 else (digits, "")
    whole = re.sub(r"[.,]", "", head)
    grouped = re.split(r"[.,]", head)
    if any(len(group) != 3 for group in grouped[1:]) or not (whole or tail):
        raise UnreadableError(f"'{text}' is not an amount of money; write 8.40 USD")
    return Decimal(f"{whole or '0'}.{tail or '0'}") if tail else Decimal(whole)
