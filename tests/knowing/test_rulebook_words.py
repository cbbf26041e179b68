"""A rulebook's words: what each line becomes, and what is told of one that cannot be read."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.knowing.entries import Work
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
)
from builderlog.knowing.rulebook_words import parse_limit, rulebook_of
from builderlog.knowing.rulebooks import read_rulebook_file
from builderlog.knowing.settings import Role
from builderlog.knowing.units import UnreadableError

WHOLE = """\
title: Example Authority, count of tasks
measure: marks
limit: at least 51 %
rule: Amateurs do the larger part.
citation: Example Rules, part 3
counts for: [fabrication]
counts against: [maker, assembly]
amateurs: builder
form: Form 1
headings: {maker: By the maker, fabrication: By you}
unsettled: The rows were not seen.
need not be built: [engine, tyres]
questions:
  - {ask: who, words: Who did it}
  - {ask: help, words: With whom}
quality: {fabrication: [measured, visits], assembly: torqued}
disclose: [who was paid]
paid help: no
evaluated: The maker's column is given.
cautions: [the form prevails]
papers:
  - {paper: Letter, what: Of intent., form: L-1, citation: Order 1, known: read, match: [to build]}
  - {paper: Weight report}
sources:
  - {what: Order 1, paragraph: part 3, date: 2009-09-30, known: second hand, says: More than half.}
  - {what: Order 2, known: memory}
"""
SHORT = """\
title: T
measure: points
limit: more than 0.5
rule: R
citation: C
"""


def read(text: str) -> tuple[Rulebook | None, list[str]]:
    """The rulebook of a file's text, and what is told of it, each with its place."""
    row, problems = read_rulebook_file("made.yaml", text.encode())
    rulebook, more = rulebook_of("made", row)
    told = [
        f"{each.place.path}:{each.place.line}:{each.place.column}: {each.code}: {each.message}"
        for each in (*problems, *more)
    ]
    return rulebook, told


def test_every_line_becomes_a_word_of_the_rulebook() -> None:
    """A file that says everything there is to say gives a rulebook with all of it."""
    assert read(WHOLE) == (
        Rulebook(
            name="made",
            title="Example Authority, count of tasks",
            measure=Measure.MARKS,
            limit=Limit(Fraction(51, 100), strict=False, decimal="0.51"),
            rule="Amateurs do the larger part.",
            citation="Example Rules, part 3",
            builder=(Side.FABRICATION,),
            against=(Side.MAKER, Side.ASSEMBLY),
            amateurs=(Role.BUILDER,),
            headings={Side.MAKER: "By the maker", Side.FABRICATION: "By you"},
            form="Form 1",
            unsettled="The rows were not seen.",
            not_built=("engine", "tyres"),
            questions=(Question(Ask.WHO, "Who did it"), Question(Ask.HELP, "With whom")),
            quality={
                Work.FABRICATION: (Proof.MEASURED, Proof.VISITS),
                Work.ASSEMBLY: (Proof.TORQUED,),
            },
            disclose=("who was paid",),
            allows_paid_help=False,
            evaluated="The maker's column is given.",
            cautions=("the form prevails",),
            papers=(
                AskedPaper("Letter", Known.READ, "Of intent.", "L-1", "Order 1", ("to build",)),
                AskedPaper("Weight report", Known.MEMORY),
            ),
            sources=(
                Source("Order 1", Known.SECOND_HAND, "part 3", "2009-09-30", "More than half."),
                Source("Order 2", Known.MEMORY),
            ),
        ),
        [],
    )


@pytest.mark.parametrize(
    ("measure", "against"),
    [
        ("points", (Side.MAKER, Side.PAID, Side.UNCLAIMED)),
        ("marks", (Side.MAKER,)),
        ("hours", (Side.MAKER,)),
    ],
)
def test_what_is_left_out_has_its_usual_meaning(measure: str, against: tuple[Side, ...]) -> None:
    """Five lines are enough: points count over all tasks that apply, the others over both sides."""
    rulebook, told = read(SHORT.replace("points", measure))
    assert told == []
    assert rulebook
    assert (rulebook.builder, rulebook.against) == ((Side.ASSEMBLY, Side.FABRICATION), against)
    assert rulebook.amateurs == (Role.BUILDER, Role.HELPER)
    assert (rulebook.questions, rulebook.sources, rulebook.unsettled) == ((), (), None)
    assert rulebook.allows_paid_help


@pytest.mark.parametrize(
    ("text", "share", "strict", "decimal"),
    [
        ("> 0.5", "1/2", True, "0.5"),
        (">0.5", "1/2", True, "0.5"),
        (">= 0.51", "51/100", False, "0.51"),
        (">= .51", "51/100", False, "0.51"),
        (">= 0,51", "51/100", False, "0.51"),
        ("more than 0.5", "1/2", True, "0.5"),
        ("More  Than 50 %", "1/2", True, "0.5"),
        ("at least 51%", "51/100", False, "0.51"),
        ("at least 50.5 %", "101/200", False, "0.505"),
        ("at least 0.510", "51/100", False, "0.51"),
        ("at least 5 %", "1/20", False, "0.05"),
        ("more than 0.333333333", "333333333/1000000000", True, "0.333333333"),
        ("at least 0.000000001", "1/1000000000", False, "0.000000001"),
    ],
)
def test_limits_that_are_read(text: str, share: str, strict: object, decimal: str) -> None:
    """A limit is a share or a percentage, strict or not, with point or comma, exactly."""
    limit = parse_limit(text)
    assert (limit.share, limit.strict, limit.decimal) == (Fraction(share), strict, decimal)
    assert str(limit) == f"{'>' if strict else '>='} {decimal}"
    assert parse_limit(str(limit)) == limit


NOT_A_LIMIT = "is not a limit; write more than 0.5, or at least 0.51"
NOT_BETWEEN = "is not a limit between nothing and all; write at least 0.51"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        *[
            (text, NOT_A_LIMIT)
            for text in ("> 50", "0", "0.5", "100 %", "> 100 %", "half", "1.5", "51 %", "< 0.5")
        ],
        *[
            (text, NOT_A_LIMIT)
            for text in ("", ">", "> -0.5", "> 1/2", "> 0.5.1", "about 0.5", "> 0.1234567891")
        ],
        *[
            (text, NOT_BETWEEN)
            for text in ("> 1.5", "> 0.0", ">= 1.0", "> 0 %", "more than 1.000000001")
        ],
    ],
)
def test_limits_that_are_not(text: str, told: str) -> None:
    """What is no limit is quoted, and so is one that nobody could miss or reach."""
    with pytest.raises(UnreadableError, match=f"^'{re.escape(text)}' {re.escape(told)}$"):
        parse_limit(text)


@settings(deadline=None)
@given(st.integers(1, 10**9 - 1), st.booleans(), st.fractions(0, 1))
def test_a_limit_is_exact(billionths: int, strict: bool, share: Fraction) -> None:  # noqa: FBT001 - a parameter of the test
    """Any limit of nine decimals is read back the same, and holds shares against itself exactly."""
    bar = Fraction(billionths, 10**9)
    limit = parse_limit(f"{'>' if strict else '>='} 0.{billionths:09}")
    assert (limit.share, parse_limit(str(limit))) == (bar, limit)
    assert limit.met_by(bar) is not strict
    assert limit.met_by(share) is (share > bar or (share == bar and not strict))


@pytest.mark.parametrize("key", ["title", "measure", "limit", "rule", "citation"])
def test_a_missing_line_is_told(key: str) -> None:
    """Each of the five lines that every rulebook needs is told where it is missing or empty."""
    lines = [line for line in SHORT.splitlines() if not line.startswith(key)]
    for text in ("\n".join(lines), "\n".join([*lines, f"{key}:"])):
        rulebook, told = read(text)
        assert rulebook is None
        assert len(told) == 1
        start = "rulebooks/made.yaml:1:1: missing-key: "
        assert told[0].startswith(f"{start}the rulebook 'made' needs '{key}:'; write {key}: ")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (
            "measure: tasks",
            "2:10: unknown-word: 'tasks' is none of the words for this; did you mean 'marks'?",
        ),
        (
            "measure: weight",
            (
                "2:10: unknown-word: 'weight' is none of the words for this; "
                "write one of points, marks, hours"
            ),
        ),
        ('limit: "> 50"', f"3:8: unreadable: '> 50' {NOT_A_LIMIT}"),
        ("limit: 0", f"3:8: unreadable: '0' {NOT_A_LIMIT}"),
        ("limit: 100 %", f"3:8: unreadable: '100 %' {NOT_A_LIMIT}"),
        ("limit: half", f"3:8: unreadable: 'half' {NOT_A_LIMIT}"),
        ("limit: 1.5", f"3:8: unreadable: '1.5' {NOT_A_LIMIT}"),
        ('limit: "> 1.5"', f"3:8: unreadable: '> 1.5' {NOT_BETWEEN}"),
        ("limit: [0.5]", "3:8: wrong-form: a list stands where a limit should; write a limit"),
    ],
)
def test_a_line_that_cannot_be_read_is_told_once(line: str, told: str) -> None:
    """A wrong measure or limit is told at its place and nothing else is; there is no rulebook."""
    key = line.partition(":")[0]
    text = "\n".join(line if each.startswith(key) else each for each in SHORT.splitlines())
    assert read(text) == (None, [f"rulebooks/made.yaml:{told}"])


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (
            "counts for: [assembly, unclaimed]",
            (
                "6:24: unknown-word: 'unclaimed' is none of the words for this; "
                "write one of assembly, fabrication"
            ),
        ),
        (
            "counts for: paid",
            (
                "6:13: unknown-word: 'paid' is none of the words for this; "
                "write one of assembly, fabrication"
            ),
        ),
        (
            "amateurs: [builder, paid]",
            (
                "6:21: unknown-word: 'paid' is none of the words for this; "
                "write one of builder, helper"
            ),
        ),
        (
            "title: again",
            ("6:1: repeated-key: 'title' stands a second time (first in line 1); keep one"),
        ),
        (
            "limits: 0.5",
            "6:1: unknown-key: 'limits' is not a key of a rulebook; did you mean 'limit'?",
        ),
        (
            "sources: [{what: Order 1}]",
            "6:11: missing-key: a source needs 'known:'; write known: …",
        ),
        (
            "questions: [{ask: why, words: Why}]",
            ("6:19: unknown-word: 'why' is none of the words for this; did you mean 'who'?"),
        ),
        (
            "quality: {fabrication: looked at}",
            (
                "6:24: unknown-word: 'looked at' is none of the words for this; "
                "write one of measured, torqued, process, visits"
            ),
        ),
        (
            "papers: [{form: L-1}]",
            "6:10: missing-key: a paper needs 'paper:'; write paper: …",
        ),
        (
            "papers: [{paper: Letter, known: guessed}]",
            (
                "6:33: unknown-word: 'guessed' is none of the words for this; "
                "write one of read, second hand, memory"
            ),
        ),
        ("paid help: never", "6:12: unknown-word: 'never' is neither; write yes or no"),
    ],
)
def test_other_mistakes_leave_the_rulebook(line: str, told: str) -> None:
    """A mistake in a line that no rulebook needs is told at its place, and the rest counts.

    What is unclaimed, paid or the maker's can never be made to count for the builder.
    """
    rulebook, found = read(f"{SHORT}{line}\n")
    assert found == [f"rulebooks/made.yaml:{told}"]
    assert rulebook
    assert {Side.ASSEMBLY} <= set(rulebook.builder) <= {Side.ASSEMBLY, Side.FABRICATION}
    assert Role.PAID not in rulebook.amateurs


@pytest.mark.parametrize(
    "lines",
    [
        "counts against: [maker, assembly]",
        "counts for: [assembly]\ncounts against: [maker, assembly]",
    ],
)
def test_a_column_counts_on_one_side(lines: str) -> None:
    """A column for and against the builder, by what is written or by what is usual, is told."""
    told = "'assembly' counts for and against the builder; keep it on one side"
    assert read(f"{SHORT}{lines}\n") == (
        None,
        [f"rulebooks/made.yaml:1:1: column-on-both-sides: {told}"],
    )


def test_a_column_named_twice_counts_once() -> None:
    """A column that is named twice on one side is summed once."""
    rulebook, told = read(
        f"{SHORT}counts for: [assembly, assembly]\ncounts against: [maker, maker, paid]\n"
    )
    assert told == []
    assert rulebook
    assert (rulebook.builder, rulebook.against) == ((Side.ASSEMBLY,), (Side.MAKER, Side.PAID))


@pytest.mark.parametrize("limit", ["> 0.5", ">0.5", ">= 0.51", ">=0.51"])
def test_a_limit_that_yaml_takes_for_folded_text(limit: str) -> None:
    """`limit: > 0.5` without quotes is read all the same, and told with the line to paste."""
    rulebook, told = read(SHORT.replace("more than 0.5", limit))
    assert rulebook
    assert rulebook.limit == parse_limit(limit)
    start = "rulebooks/made.yaml:3:8: wants-quotes: "
    assert told == [f"{start}a value that begins with '>' wants quotes; write: limit: \"{limit}\""]


@pytest.mark.parametrize("text", ["", "# nothing\n", "- a list\n", "a word\n"])
def test_a_file_that_says_nothing(text: str) -> None:
    """An empty file, or one that is no table, is no rulebook and says what one needs."""
    rulebook, told = read(text)
    assert rulebook is None
    assert sum("missing-key" in each for each in told) == 5
