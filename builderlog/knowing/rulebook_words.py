"""The vocabulary of a rulebook, and how its rows become one: files of ours and `own rulebook`."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from builderlog.knowing.entries import Work
from builderlog.knowing.forms import (
    Choice,
    Desk,
    Key,
    Many,
    Parsed,
    Row,
    Rows,
    Text,
    YesNo,
    read_row,
)
from builderlog.knowing.rulebook import (
    Ask,
    AskedPaper,
    Known,
    Limit,
    Measure,
    Proof,
    Question,
    Rulebook,
    Side,
    Source,
    VisitFirst,
)
from builderlog.knowing.settings import Role
from builderlog.knowing.units import UnreadableError
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.words import Table

K = Key[Any]
TEXT = Text()
COLUMNS = (Side.MAKER, Side.PAID, Side.ASSEMBLY, Side.FABRICATION)
AMATEURS_OWN = (Side.ASSEMBLY, Side.FABRICATION)  # nothing else can ever count for the builder
UNPAID = (Role.BUILDER, Role.HELPER)
_LIMIT = re.compile(r"(>=?|more than|at least)\s*([01]?[.,]\d{1,9}|\d{1,2}(?:[.,]\d{1,7})?\s*%)")


def parse_limit(text: str) -> Limit:
    """`more than 0.5`, `at least 51 %`, `>= 0.51` to a limit. Raises UnreadableError."""
    found = _LIMIT.fullmatch(" ".join(text.split()).lower())
    if not found:
        told = f"'{text}' is not a limit; write more than 0.5, or at least 0.51"
        raise UnreadableError(told)
    number = found[2].replace(",", ".")
    share = Fraction(number.rstrip("% ")) / (100 if number.endswith("%") else 1)
    if not 0 < share < 1:
        raise UnreadableError(
            f"'{text}' is not a limit between nothing and all; write at least 0.51"
        )
    return Limit(share, found[1] in (">", "more than"), _decimal(share))


def _decimal(share: Fraction) -> str:
    """Exact: what was read has at most nine decimals."""
    digits = str(int(share * 10**9)).rjust(10, "0")
    return f"{digits[:-9]}.{digits[-9:].rstrip('0')}"


S_WHAT = K("what", TEXT, "the document", "Order 1 of the Example Authority")
S_PARAGRAPH = K("paragraph", TEXT, "where in it", "paragraph 8.h")
S_DATE = K("date", TEXT, "of when", "2009-09-30")
S_KNOWN = K("known", Choice(tuple(Known)), "read, second hand or from memory", "read")
S_SAYS = K("says", TEXT, "what it says", "more than half of the tasks")
SOURCE_KEYS: tuple[K, ...] = (S_WHAT, S_PARAGRAPH, S_DATE, S_KNOWN, S_SAYS)


def _text(row: Row, key: K) -> str | None:
    word = row.get(key)
    return str(word) if word else None


def _source(row: Row) -> Source:
    return Source(
        str(row.need(S_WHAT)),
        Known(row.need(S_KNOWN)),
        _text(row, S_PARAGRAPH),
        _text(row, S_DATE),
        _text(row, S_SAYS),
    )


Q_ASK = K("ask", Choice(tuple(Ask)), "what is asked of each task", "who")
Q_WORDS = K("words", TEXT, "in a reader's words", "who did the work")
QUESTION_KEYS: tuple[K, ...] = (Q_ASK, Q_WORDS)

A_PAPER = K("paper", TEXT, "the paper's name", "weight and balance report")
A_WHAT = K("what", TEXT, "what it is, and what is not sure", "empty weight and its centre")
A_FORM = K("form", TEXT, "the form's number", "Form 2")
A_CITATION = K("citation", TEXT, "where it is asked for", "Example Rules part 4")
A_KNOWN = K("known", Choice(tuple(Known)), "read, second hand or (usual) memory", "read")
A_MATCH = K("match", Many(TEXT), "words that a builder may name it by", "[mass and balance]")
PAPER_KEYS: tuple[K, ...] = (A_PAPER, A_WHAT, A_FORM, A_CITATION, A_KNOWN, A_MATCH)


def _paper(row: Row) -> AskedPaper:
    return AskedPaper(
        str(row.need(A_PAPER)),
        Known(row.get(A_KNOWN) or Known.MEMORY),
        _text(row, A_WHAT),
        _text(row, A_FORM),
        _text(row, A_CITATION),
        tuple(map(str, row.many(A_MATCH))),
    )


F_VISIT = K("visit", TEXT, "the visit", "pre-cover inspection")
F_BY = K("by", Many(TEXT), "words of as: that mean who must come", "[inspector]")
F_CITATION = K("citation", TEXT, "where it is asked for", "Example Rules part 5")
F_KNOWN = K("known", Choice(tuple(Known)), "read, second hand or (usual) memory", "read")
F_ALWAYS = K("always", YesNo(), "no: the authority may come, and need not", "yes")
VISIT_KEYS: tuple[K, ...] = (F_VISIT, F_BY, F_CITATION, F_KNOWN, F_ALWAYS)


def _visit(row: Row) -> VisitFirst:
    return VisitFirst(
        str(row.need(F_VISIT)),
        Known(row.get(F_KNOWN) or Known.MEMORY),
        _text(row, F_CITATION),
        tuple(map(str, row.many(F_BY))),
        always=row.get(F_ALWAYS) is not False,
    )


H_KEYS: tuple[K, ...] = tuple(
    K(side.value, TEXT, f"over the column of {side.value}", "Maker") for side in COLUMNS
)
P_KEYS: tuple[K, ...] = tuple(
    K(kind.value, Many(Choice(tuple(Proof))), f"what speaks for {kind.value}", "[measured, visits]")
    for kind in (Work.FABRICATION, Work.ASSEMBLY)
)

TITLE = K("title", TEXT, "its name for a reader", "Example Authority 51 % rule")
MEASURE = K("measure", Choice(tuple(Measure)), "what is counted", "points")
LIMIT = K("limit", Parsed("a limit", parse_limit), "what the share must reach", "at least 0.51")
RULE = K("rule", TEXT, "the rule in one sentence", "Amateurs do more than half of the tasks.")
CITATION = K("citation", TEXT, "where the rule stands", "Example Rules part 3")
BUILDER = K("counts for", Many(Choice(AMATEURS_OWN)), "the builder's columns", "[assembly]")
AGAINST = K("counts against", Many(Choice(tuple(Side))), "the other side", "[maker, paid]")
AMATEURS = K("amateurs", Many(Choice(UNPAID)), "whose hours are amateurs' hours", "[builder]")
FORM = K("form", TEXT, "the form that the authority uses", "Form 1")
HEADINGS = K(
    "headings",
    Rows("the headings", H_KEYS, lambda row: row),
    "the form's own words over its columns",
    "{maker: A Maker}",
)
UNSETTLED = K("unsettled", TEXT, "what the sources leave open", "the exact limit was not seen")
NOT_BUILT = K("need not be built", Many(TEXT), "what nobody is expected to make", "[engine, tyres]")
QUESTIONS = K(
    "questions",
    Many(Rows("a question", QUESTION_KEYS, lambda r: r, ("ask", "words"))),
    "what the evidence must answer for each task",
    "[{ask: who, words: who did the work}]",
)
QUALITY = K(
    "quality",
    Rows("the proofs of quality", P_KEYS, lambda row: row),
    "what speaks for a finished task, any one of them",
    "{fabrication: [measured, visits]}",
)
DISCLOSE = K("disclose", Many(TEXT), "what bought help makes necessary", "[who was paid]")
PAID_HELP = K("paid help", YesNo(), "no: this rulebook is for projects without any", "no")
EVALUATED = K("evaluated", TEXT, "what an evaluated kit changes", "the maker's credit is given")
CAUTIONS = K("cautions", Many(TEXT), "what a reader must know", "[the form prevails]")
PAPERS = K(
    "papers",
    Many(Rows("a paper", PAPER_KEYS, _paper, ("paper",), "paper")),
    "what the authority asks for at the inspection",
    "[{paper: weight and balance report, known: memory}]",
)
VISITS_FIRST = K(
    "visit before closing",
    Many(Rows("a visit", VISIT_KEYS, _visit, ("visit",), "visit")),
    "what the authority wants to see before it is covered",
    "[{visit: pre-cover inspection, by: inspector, known: memory}]",
)
SOURCES = K(
    "sources",
    Many(Rows("a source", SOURCE_KEYS, _source, ("what", "known"))),
    "the published documents",
    "[{what: Order 1, known: read}]",
)
RULEBOOK_KEYS: tuple[K, ...] = (
    *(TITLE, MEASURE, LIMIT, RULE, CITATION, BUILDER, AGAINST, AMATEURS, FORM, HEADINGS),
    *(UNSETTLED, NOT_BUILT, QUESTIONS, QUALITY, DISCLOSE, PAID_HELP, EVALUATED, CAUTIONS, PAPERS),
    *(VISITS_FIRST, SOURCES),
)
NEEDED: tuple[K, ...] = (TITLE, MEASURE, LIMIT, RULE, CITATION)


def read_rulebook_row(table: Table | None, place: Place) -> tuple[Row, tuple[Problem, ...]]:
    """The words of a rulebook's file by key, with every mistake of its own."""
    desk = Desk()
    row = read_row(table or Table((), place), RULEBOOK_KEYS, desk, "a rulebook")
    return row, tuple(desk.problems)


def rulebook_of(
    name: str, row: Row, base: Row | None = None
) -> tuple[Rulebook | None, tuple[Problem, ...]]:
    """The rulebook of a row; what the row leaves out is taken from `base`.

    None where a key that every rulebook needs is missing or could not be read, or where a column
    stands on both sides (told).
    """
    held = Row(row.place, {**(base.values if base else {}), **row.values}, row.written)
    missing = [key for key in NEEDED if held.get(key) is None]
    if missing:
        unread = row.values.keys()  # those that were written and not understood are told already
        return None, tuple(_lacks(name, row, key) for key in missing if key.word not in unread)
    rulebook = _rulebook(name, held)
    both = [side.value for side in rulebook.builder if side in rulebook.against]
    if not both:
        return rulebook, ()
    told = f"'{both[0]}' counts for and against the builder; keep it on one side"
    return None, (mistake(row.place, "column-on-both-sides", told),)


def _lacks(name: str, row: Row, key: K) -> Problem:
    told = f"the rulebook '{name}' needs '{key.word}:'; write {key.word}: {key.example}"
    return mistake(row.place, "missing-key", told)


def _rulebook(name: str, row: Row) -> Rulebook:
    headings, quality = row.get(HEADINGS), row.get(QUALITY)
    defaults = Rulebook("", "", Measure.POINTS, row.need(LIMIT), "", "")
    return Rulebook(
        name=name,
        title=str(row.need(TITLE)),
        measure=Measure(row.need(MEASURE)),
        limit=row.need(LIMIT),
        rule=str(row.need(RULE)),
        citation=str(row.need(CITATION)),
        builder=tuple(dict.fromkeys(map(Side, row.many(BUILDER)))) or defaults.builder,
        against=tuple(dict.fromkeys(map(Side, row.many(AGAINST)))) or _against(row),
        amateurs=tuple(map(Role, row.many(AMATEURS))) or defaults.amateurs,
        headings={Side(key.word): str(headings.get(key)) for key in H_KEYS if headings.get(key)}
        if headings
        else {},
        form=_text(row, FORM),
        unsettled=_text(row, UNSETTLED),
        not_built=tuple(map(str, row.many(NOT_BUILT))),
        questions=tuple(
            Question(Ask(each.need(Q_ASK)), str(each.need(Q_WORDS))) for each in row.many(QUESTIONS)
        ),
        quality={Work(key.word): tuple(map(Proof, quality.many(key))) for key in P_KEYS}
        if quality
        else {},
        disclose=tuple(map(str, row.many(DISCLOSE))),
        allows_paid_help=row.get(PAID_HELP) is not False,
        evaluated=_text(row, EVALUATED),
        cautions=tuple(map(str, row.many(CAUTIONS))),
        visits_first=row.many(VISITS_FIRST),
        papers=row.many(PAPERS),
        sources=row.many(SOURCES),
    )


def _against(row: Row) -> tuple[Side, ...]:
    """Points are over all tasks that apply; marks and hours over what both sides have."""
    if row.need(MEASURE) == Measure.POINTS:
        return (Side.MAKER, Side.PAID, Side.UNCLAIMED)
    return (Side.MAKER,)
