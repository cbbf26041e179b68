"""How `claim` speaks on the terminal: tables that fit 80 columns, sentences that grant nothing."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence

from builderlog.command.opening import Opened
from builderlog.command.terminal import print_problems, print_table, say
from builderlog.deciding.claim_sentences import (
    done_among,
    evaluation,
    hiring_words,
    source_words,
    to_disclose,
)
from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    headroom_words,
    percent_text,
    units_text,
    units_words,
    verdict,
)
from builderlog.deciding.hiring import Hiring
from builderlog.deciding.portion import Portion
from builderlog.deciding.what_if import Supposed
from builderlog.deciding.words import duration_clock, listed
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.reading.problem import Problem

COSTLIEST = 5
SHORT = {
    Side.MAKER: "maker",
    Side.PAID: "paid",
    Side.ASSEMBLY: "assem.",
    Side.FABRICATION: "fabr.",
    Side.UNCLAIMED: "uncl.",
}


def print_claim(found: Portion, opened: Opened) -> None:
    """The verdict, the count by area, what stands beside it, the costliest gaps, the caution."""
    _title(found.rulebook)
    _say(*filter(None, (verdict(found), headroom_words(found))))
    _print_areas(found)
    _say("", *(f"{label}: {words}." for label, words in beside(found)))
    _print_gaps(opened.problems)
    _say("", *evaluation(opened.ledger, found.rulebook))
    _close(found.rulebook)


def _title(rulebook: Rulebook) -> None:
    say(f"{rulebook.title}; {rulebook.citation}", sys.stdout)


def _say(*lines: str) -> None:
    for line in lines:
        say(line, sys.stdout)


def _close(rulebook: Rulebook) -> None:
    """By which source, what the sources leave open, and the caution."""
    if rulebook.sources:
        _say(f"Source: {source_words(rulebook.sources[0])}")
    if rulebook.unsettled:
        _say(f"Not settled: {rulebook.unsettled}")
    _say(f"Caution: {CAUTION}")


def _print_areas(found: Portion) -> None:
    sides = [side for side in Side if found.whole.columns.of((side,))]
    header = ("area", "tasks", *(SHORT[side] for side in sides), "share", "open")
    title = f"By area, in {found.rulebook.measure.value}; open: the builder's in open tasks"
    print_table(title, header, _area_rows(found, sides))


def _area_rows(found: Portion, sides: Sequence[Side]) -> Iterator[tuple[str, ...]]:
    measure, limit = found.rulebook.measure, found.rulebook.limit
    parts = [
        (f"{each.area.id}  {each.area.name}", each.count, each.open_builder) for each in found.areas
    ]
    for name, part, still in (*parts, ("in all", found.whole, sum(found.open_builder.values()))):
        columns = (_cell(part.columns.of((side,)), measure) for side in sides)
        share = percent_text(part.share, limit)
        yield name, str(part.tasks), *columns, share, _cell(still, measure)


def _cell(units: int, measure: Measure) -> str:
    return duration_clock(units) if measure is Measure.HOURS else units_text(units, measure)


def _print_gaps(problems: Iterable[Problem]) -> None:
    """The open gaps and doubts on which most of the claim hangs."""
    still = [each for each in problems if each.stake and not each.because]
    worst = sorted(still, key=lambda each: (-each.stake, each.order))[:COSTLIEST]
    if worst:
        more = len(still) - len(worst)
        _say("", f"Most hangs on these{f' ({more} more in builderlog check)' if more else ''}:")
        print_problems(worst, None, sys.stdout)


def print_supposed(
    ledger: Ledger, states: tuple[Portion, Portion], changes: Sequence[Supposed]
) -> None:
    """The claim now and then, and what the record would have to disclose."""
    after = states[1]
    rulebook = after.rulebook
    _title(rulebook)
    print_table("If that went to paid help", ("", "now", "then"), _compared(states))
    _say("", verdict(after).replace("On this record", "With that", 1))
    if states[0].whole.meets and not after.whole.meets:
        _say("So the limit would be lost.")
    for name in done_among(ledger, changes):
        _say(f"{name} is done: finished work cannot be hired out, so this only reckons.")
    _say("", "The record would then have to disclose:")
    _say(*(f"- {words}" for words in to_disclose(rulebook, changes)), "")
    _close(rulebook)


def _compared(states: tuple[Portion, Portion]) -> Iterator[tuple[str, ...]]:
    rulebook = states[0].rulebook
    measure, limit = rulebook.measure, rulebook.limit
    yield "share", *(percent_text(each.whole.share, limit) for each in states)
    yield "as planned", *(percent_text(each.planned.share, limit) for each in states)
    yield "headroom", *(units_words(each.whole.headroom, measure) for each in states)
    yield "paid", *(units_words(each.whole.columns.paid, measure) for each in states)


def print_hiring(asked: Hiring, found: Portion, names: Sequence[str]) -> None:
    """How much of some tasks or areas can still be hired out."""
    _title(found.rulebook)
    first, *rest = hiring_words(asked, found)
    _say(f"{listed(list(names))}: {first}", *rest, "")
    _close(found.rulebook)
