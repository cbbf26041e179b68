"""Sheets of the claim: the count by area and in all, what stands beside it, and its gaps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builderlog.deciding.claim_sentences import bought_help, evaluation, source_words
from builderlog.deciding.claim_words import (
    CAUTION,
    beside,
    headroom_words,
    limit_words,
    share_text,
    units_text,
    verdict,
)
from builderlog.deciding.counting import Count
from builderlog.deciding.findings import Findings
from builderlog.deciding.portion import Portion
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Rulebook, Side
from builderlog.reading.problem import Problem
from builderlog.sheets.table import Column, Sheet, number, sheet, text


@dataclass(frozen=True, slots=True)
class _Part:
    """An area, or (area "") the whole."""

    area: str
    name: str
    count: Count
    open_builder: int


def claim(found: Findings) -> Sheet:
    """The count by area, the whole in the last row; without rows where no rulebook is named."""
    title = "The claim as the rulebook counts it, by area and (last row) in all."
    rows = _parts(found.portion) if found.portion else ()
    return sheet("claim", title, _columns(found.ledger.rulebook), rows)


def _columns(rulebook: Rulebook | None) -> tuple[Column[_Part], ...]:
    measure = rulebook.measure if rulebook else None
    unit = measure.value if measure else "points, marks or hours"

    def units(value: int) -> str:
        return units_text(value, measure) if measure else ""

    def side(which: Side) -> Column[_Part]:
        heading = rulebook.headings.get(which) if rulebook else None
        meaning = f"{unit}{f'; on the form: {heading}' if heading else ''}"
        return number(which.value, meaning, lambda row: units(row.count.columns.of((which,))))

    return (
        text("area", "area id; empty: all of them", lambda row: row.area),
        text("name", "the area's name", lambda row: row.name),
        number("tasks", "tasks that apply", lambda row: row.count.tasks),
        *(side(which) for which in Side),
        number("share", "the builder's part, six decimals", lambda row: _share(row.count)),
        text(
            "limit", "what the rulebook asks for", lambda _: str(rulebook.limit) if rulebook else ""
        ),
        text("meets", "the share reaches the limit", lambda row: _meets(row.count)),
        number(
            "headroom", f"{unit} that may still go to paid help", lambda r: units(r.count.headroom)
        ),
        number("open", f"the builder's {unit} in open tasks", lambda row: units(row.open_builder)),
    )


def _share(found: Count) -> str | None:
    return None if found.share is None else share_text(found.share)


def _meets(found: Count) -> bool | None:
    return None if found.share is None else found.meets


def _parts(found: Portion) -> Iterator[_Part]:
    for each in found.areas:
        yield _Part(each.area.id, each.area.name, each.count, each.open_builder)
    yield _Part("", "in all", found.whole, sum(found.open_builder.values()))


@dataclass(frozen=True, slots=True)
class _Fact:
    what: str
    words: str


def claim_facts(found: Findings) -> Sheet:
    """The claim in sentences: rulebook, verdict, what stands beside it, sources, cautions."""
    columns: tuple[Column[_Fact], ...] = (
        text("what", "which fact", lambda row: row.what),
        text("words", "in words", lambda row: row.words),
    )
    title = "The claim in words: by which rulebook, what stands beside it, with which cautions."
    facts = _facts(found.ledger, found.portion) if found.portion else ()
    return sheet("claim_facts", title, columns, facts)


def _facts(ledger: Ledger, found: Portion) -> Iterable[_Fact]:
    rulebook = found.rulebook
    rows = (
        ("rulebook", rulebook.title),
        ("rule", rulebook.rule),
        ("citation", rulebook.citation),
        ("measure", rulebook.measure.value),
        ("limit", limit_words(rulebook.limit)),
        ("verdict", verdict(found)),
        ("headroom", headroom_words(found)),
        *((label.lower(), words) for label, words in beside(found)),
        *(("evaluation", words) for words in evaluation(ledger, rulebook)),
        ("bought help", bought_help(ledger) if not ledger.settings.kit_evaluated else ""),
        ("not settled", rulebook.unsettled or ""),
        *(("source", words) for words in map(source_words, rulebook.sources)),
        *(("caution", words) for words in (*rulebook.cautions, CAUTION)),
    )
    return (_Fact(what, words) for what, words in rows if words)


def gaps(found: Findings) -> Sheet:
    """What `check` tells of the evidence, what most of the claim hangs on first."""
    columns: tuple[Column[Problem], ...] = (
        text("weight", "doubt: worth a second look; gap: the evidence is thin", _weight),
        text("code", "which kind", lambda row: row.code),
        text("told", "in words", lambda row: row.message),
        text("explained", "the builder's explanation; empty: open", lambda row: row.because),
        number("stake", "tenths, tenths of a mark or seconds of the claim", lambda row: row.stake),
        text("path", "the file in which it stands", lambda row: row.place.path),
        number("line", "line in it, from 1", lambda row: row.place.line),
    )
    title = "Doubts and gaps that the record has by its own count, the costliest first."
    return sheet("gaps", title, columns, found.missing)


def _weight(problem: Problem) -> str:
    return problem.weight.value
