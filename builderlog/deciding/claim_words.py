"""The claim in numbers and sentences: exact decimal text, and words that grant nothing."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import floor

from builderlog.deciding.counting import Count
from builderlog.deciding.portion import Portion
from builderlog.deciding.words import counted
from builderlog.knowing.rulebook import Limit, Measure, Rulebook, Side
from builderlog.knowing.units import HOUR

CAUTION = (
    "This reckons what the journal claims and supports a claim; it grants nothing. Only the "
    "authority or its designee decides, and the form that they use prevails."
)
SHARE_DECIMALS = 6


def units_text(units: int, measure: Measure) -> str:
    """The measure's smallest units as decimal text: points "17.9", marks "12", hours "162.5"."""
    if measure is Measure.POINTS:
        return f"{units // 10}.{units % 10}"
    if measure is Measure.MARKS:
        return str(units)
    hours = _rounded(Fraction(units, HOUR), SHARE_DECIMALS)
    return f"{hours:f}".rstrip("0").rstrip(".")


def units_words(units: int, measure: Measure) -> str:
    """The same with its noun: "4.4 points", "1 mark", "12.5 hours"."""
    text = units_text(units, measure)
    noun = measure.value.removesuffix("s") if text in ("1", "1.0") else measure.value
    return f"{text} {noun}"


def share_text(share: Fraction | None) -> str:
    """Six decimals, a half upwards; nothing to share is none of it."""
    return f"{_rounded(share or Fraction(0), SHARE_DECIMALS):f}"


def _rounded(value: Fraction, decimals: int) -> Decimal:
    """Exact until the one rounding, a half upwards."""
    return Decimal(floor(value * 10**decimals + Fraction(1, 2))).scaleb(-decimals)


def percent_text(share: Fraction | None, limit: Limit | None = None) -> str:
    """`57.8 %`, with as many decimals as it takes not to stand on the limit's other side.

    A share of 0.5004 is 50.04 %, since 50.0 % would say that it is not more than half.
    """
    if share is None:
        return "\N{EN DASH}"
    for decimals in range(1, SHARE_DECIMALS + 1):
        shown = _rounded(share * 100, decimals)
        if limit is None or _same_side(Fraction(shown) / 100, share, limit):
            return f"{shown:f} %"
    return f"{fraction_text(share)} of the whole"


def _same_side(shown: Fraction, share: Fraction, limit: Limit) -> bool:
    return (shown > limit.share) == (share > limit.share) and (
        (shown < limit.share) == (share < limit.share)
    )


def fraction_text(share: Fraction) -> str:
    """A share that no short decimal can tell from its limit, as the fraction that it is."""
    return f"{share.numerator}/{share.denominator}"


def limit_words(limit: Limit) -> str:
    """`more than 50 %`, `at least 51 %`."""
    number = f"{Decimal(limit.decimal) * 100:f}"
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return f"{'more than' if limit.strict else 'at least'} {number} %"


def verdict(found: Portion) -> str:
    """The sentence that the whole count comes to."""
    limit, whole = found.rulebook.limit, found.whole
    if whole.share is None:
        return f"On this record no share can be told; {_why_none(found)}."
    share = percent_text(whole.share, limit)
    return f"On this record the share is {share}; the rulebook asks for {limit_words(limit)}."


def _why_none(found: Portion) -> str:
    if found.rulebook.measure is Measure.HOURS:
        return (
            "it takes hours on record and the kit's declared ones (journal.yaml, kit hours: 600h)"
        )
    if not found.whole.tasks:
        return "the work list has no task that applies"
    return "nothing is claimed yet"


def headroom_words(found: Portion) -> str:
    """What may still be hired out, or what is missing."""
    whole, measure = found.whole, found.rulebook.measure
    if whole.share is None:
        return ""
    if not whole.meets:
        return _short_words(found)
    told = f"Headroom: {units_words(whole.headroom, measure)} of the builder's could still go"
    told = f"{told} to paid help before the limit is lost"
    if not whole.headroom:
        return f"{told}."
    if measure is Measure.HOURS:
        return f"{told}; that is of the hours on record, not of those planned."
    left = units_words(found.open_headroom, measure)
    if found.open_headroom == whole.headroom:
        return f"{told}; all of it lies in tasks still open."
    return f"{told}, but tasks still open hold only {left}: finished work cannot be hired out."


def _short_words(found: Portion) -> str:
    """What is missing; to whom nothing is claimed yet, how a claim begins."""
    whole, measure = found.whole, found.rulebook.measure
    told = f"The builder is {units_words(whole.short, measure)} short of that"
    if measure is Measure.HOURS or whole.columns.of(found.rulebook.builder):
        return f"{told}."
    return f"{told}: nothing is claimed yet. Write credit in worklist.yaml, or --import a form."


def beside(found: Portion) -> tuple[tuple[str, str], ...]:
    """What stands beside the claim: label, words."""
    whole, limit, measure = found.whole, found.rulebook.limit, found.rulebook.measure
    rows = [
        ("Work on record", _recorded(found)),
        ("Done tasks alone", _tasks_words(found.done, limit)),
        ("All as planned", _tasks_words(found.planned, limit)),
    ]
    if Side.UNCLAIMED in found.rulebook.against and whole.columns.unclaimed:
        rows.append(("At most", _at_most(whole, found.rulebook)))
    if found.derived:
        rows.append(("Derived marks", _derived(found)))
    if found.after_certificate:
        hours = units_words(found.after_certificate, Measure.HOURS)
        rows.append(("After certificate", f"{hours}, no build time and counted nowhere"))
    if measure is Measure.HOURS:
        rows = [row for row in rows if row[0] != "Done tasks alone"]
    return tuple(rows)


def _recorded(found: Portion) -> str:
    measure = found.rulebook.measure
    recorded = units_words(found.recorded, measure)
    if measure is Measure.HOURS:
        return f"{recorded} of the amateurs', fabrication and assembly"
    if measure is Measure.MARKS:
        return f"{recorded} of the builder's belong to tasks with work on record"
    share = Fraction(found.recorded, 10 * found.whole.tasks) if found.whole.tasks else None
    told = f"{recorded} of the builder's belong to tasks with work on record"
    return f"{told}, {percent_text(share)} of all that apply"


def _tasks_words(part: Count, limit: Limit) -> str:
    if part.share is None:
        return "nothing to take a share of"
    return f"{percent_text(part.share, limit)} ({counted(part.tasks, 'task')})"


def _at_most(whole: Count, rulebook: Rulebook) -> str:
    """What the share could still become: nobody's part may yet be the builder's."""
    builder, against = (whole.columns.of(side) for side in (rulebook.builder, rulebook.against))
    share = Fraction(builder + whole.columns.unclaimed, builder + against)
    left = units_words(whole.columns.unclaimed, rulebook.measure)
    return f"{percent_text(share, rulebook.limit)}, with the {left} that nobody claims yet"


def _derived(found: Portion) -> str:
    total = found.whole.tasks
    told = f"of {len(found.derived)} of {total} tasks the marks follow from the credit"
    return f"{told}; one tenth earns a whole mark that way, so give them where the form has them"


def form_heading(side: Side, rulebook: Rulebook) -> str:
    """The form's own words over a column where the rulebook is that form's, else ours."""
    return rulebook.headings.get(side, side.value)
