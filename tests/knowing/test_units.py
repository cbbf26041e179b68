"""Words to exact values: every form of time, date, amount and measurement."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.knowing.hours import length_text
from builderlog.knowing.money import parse_currency, parse_money
from builderlog.knowing.units import (
    DAY,
    FACTORS,
    UNIT_NAMES,
    Length,
    Quantity,
    UnreadableError,
    join_spans,
    parse_count,
    parse_date,
    parse_last_day,
    parse_length,
    parse_quantity,
)
from builderlog.knowing.worklist_words import parse_tenths
from tests.examples import many
from tests.reading.case_file import Case, each_case


def length(text: str) -> str:
    """Seconds, and the clock spans in seconds after midnight."""
    read = parse_length(text)
    spans = "".join(f" [{span.start}-{span.end}]" for span in read.spans)
    return f"{read.seconds} s{spans}"


def quantity(text: str) -> str:
    """Bounds as exact fractions, and the unit."""
    read = parse_quantity(text)
    low, high = ("" if bound is None else str(bound) for bound in (read.low, read.high))
    return f"{low if low == high else f'{low} to {high}'} {read.unit}"


def money(text: str) -> str:
    """Amount and currency, where the journal's currency is the US dollar."""
    read = parse_money(text, "USD")
    return f"{read.amount} {read.currency}"


def money_of_no_currency(text: str) -> str:
    """Amount and currency, where the journal names no currency."""
    read = parse_money(text, None)
    return f"{read.amount} {read.currency}"


READERS: dict[str, Callable[[str], object]] = {
    "length": length,
    "date": parse_date,
    "last day": parse_last_day,
    "count": parse_count,
    "quantity": quantity,
    "money": money,
    "money without a currency": money_of_no_currency,
    "currency": parse_currency,
    "tenths": parse_tenths,
}


def outcome(form: str, text: str) -> str:
    """What a form makes of a text, or `!` and the sentence that it tells."""
    try:
        return str(READERS[form](text))
    except UnreadableError as fault:
        return f"! {fault}"


@each_case("units.txt")
def test_case(case: Case) -> None:
    """Each line `text => value` of the case is read so, or refused with this sentence."""
    form = case.title.partition(":")[0]
    pairs = [line.split(" => ") for line in case.files[""].splitlines() if line]
    read = [[text, outcome(form, text)] for text, _ in pairs]
    assert read == pairs


@pytest.mark.parametrize("form", READERS)
@given(text=st.text(max_size=30) | st.text("0123456789.,:-/+ hmin±<=>°½٣", max_size=12))
@settings(max_examples=many(150), deadline=None)
def test_any_text_is_read_or_refused_with_a_sentence(form: str, text: str) -> None:
    """No text makes a form fail otherwise than with a sentence for the builder."""
    read = outcome(form, text)
    assert not read.startswith("!") or len(read) > 10


@pytest.mark.parametrize("form", READERS)
@pytest.mark.parametrize("sign", ["9", " ", "1 ", "a", "-", "1,", "1/"])
def test_long_texts_are_refused_at_once(form: str, sign: str) -> None:
    """A text of a hundred thousand signs is refused; no pattern runs over it again and again."""
    assert outcome(form, "1" + sign * 100_000 + "x").startswith("!")


def test_every_length_is_printed_as_it_is_read() -> None:
    """Reading what was printed gives the same seconds, for every length up to 200,000 s."""
    wrong = [each for each in range(200_001) if parse_length(length_text(each)).seconds != each]
    assert wrong == []


@given(st.integers(0, 1439), st.integers(0, 1439))
def test_a_span_goes_forward_and_past_midnight(start: int, end: int) -> None:
    """A span is as long as the clock runs from its start to its end, less than a day."""
    text = f"{start // 60}:{start % 60:02}-{end // 60:02}.{end % 60:02}"
    if start == end:
        with pytest.raises(UnreadableError):
            parse_length(text)
        return
    read = parse_length(text)
    assert read.seconds == (end - start) % 1440 * 60
    assert read.spans[0].start == start * 60
    assert read.spans[0].end - read.spans[0].start == read.seconds


@given(st.decimals(0, 999, places=4))
def test_decimal_hours_round_to_the_nearest_second(hours: Decimal) -> None:
    """With a point or a comma, decimal hours are off by half a second at most."""
    read = parse_length(f"{hours}").seconds
    assert abs(Fraction(hours) * 3600 - read) <= Fraction(1, 2)
    assert parse_length(f"{hours}".replace(".", ",")).seconds == read


@given(st.dates())
def test_every_date_is_read(day: date) -> None:
    """Every day of the calendar is read as ISO 8601 writes it."""
    assert parse_date(day.isoformat()) == day


@given(st.dates(max_value=date(9999, 11, 30)))
def test_a_month_means_its_last_day(day: date) -> None:
    """The day after a month's last day is the first of the next month."""
    last = parse_last_day(day.isoformat()[:7])
    assert (last.year, last.month) == (day.year, day.month)
    assert (last + timedelta(days=1)).day == 1


def test_spans_of_one_evening_join() -> None:
    """Several spans are one length with all its spans; anything but spans is refused."""
    spans = join_spans((parse_length("19:10-20:00"), parse_length("23:30-0:15")))
    assert (spans.seconds, len(spans.spans)) == (95 * 60, 2)
    assert spans.spans[1].end == DAY + 15 * 60
    with pytest.raises(UnreadableError, match="clock spans only"):
        join_spans((parse_length("19:10-20:00"), Length(60)))


@pytest.mark.parametrize("unit", UNIT_NAMES)
def test_every_unit_is_read(unit: str) -> None:
    """Every unit of the contract is read by its own name."""
    assert parse_quantity(f"1 {unit}") == Quantity(Fraction(1), Fraction(1), unit, f"1 {unit}")


def test_every_ratio_has_a_factor() -> None:
    """Every unit that can be converted has an exact factor, none above its kind's own unit lost."""
    assert set(FACTORS) <= set(UNIT_NAMES)
    assert set(UNIT_NAMES) - set(FACTORS) == {"deg", "V", "A", "ohm", "°C", "°F", "%"}
