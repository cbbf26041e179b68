"""The rulebooks that come with the package, the builder's own, and how one is added."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from builderlog.knowing.forms import Choice
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Ask, AskedPaper, Known, Measure, Rulebook, Side
from builderlog.knowing.rulebook_words import PAPERS, SOURCES, rulebook_of
from builderlog.knowing.rulebooks import (
    FOLDER,
    OWN,
    RULEBOOKS,
    find_rulebook,
    read_rulebook_file,
)
from builderlog.knowing.settings_words import RULEBOOK
from tests.knowing.journals import JOURNAL, ledger_of

SHIPPED = tuple(name for name in RULEBOOKS if name != OWN)
# What each is to ask for, from the published texts where those could be read.
ASKED = {
    "us-checklist": (Measure.POINTS, "> 0.5"),
    "us-8000-38": (Measure.MARKS, "> 0.5"),
    "canada": (Measure.MARKS, "> 0.5"),
    "eu": (Measure.POINTS, ">= 0.51"),
    "france-hours": (Measure.HOURS, ">= 0.5"),
    "uk": (Measure.POINTS, ">= 0.51"),
    "australia": (Measure.POINTS, ">= 0.51"),
    "new-zealand": (Measure.POINTS, ">= 0.51"),
}
UNSETTLED = {"france-hours", "uk", "australia", "new-zealand"}
# A form of the authority bears the name "eligibility statement"; nothing else may say the word.
GRANTING = re.compile(
    r"\bapprov|complian|\bpass(?:ed|es)?\b|\beligib(?!ility statement\b)", re.IGNORECASE
)


def found(name: str) -> Rulebook:
    """A shipped rulebook, of which nothing may be told."""
    rulebook, problems = find_rulebook(name)
    assert problems == ()
    assert rulebook
    return rulebook


def test_the_names_are_the_contracts() -> None:
    """The rulebooks are the nine that journals may name, and journal.yaml knows the same."""
    assert set(RULEBOOKS) == {*ASKED, OWN}
    assert isinstance(RULEBOOK.form, Choice)
    assert set(RULEBOOK.form.words) == set(RULEBOOKS)
    assert {path.stem for path in FOLDER.iterdir()} == set(RULEBOOKS)


@pytest.mark.parametrize("name", RULEBOOKS)
def test_every_file_is_read_without_a_mistake(name: str) -> None:
    """No shipped file has a word that is not understood; all but `own` are complete."""
    row, problems = read_rulebook_file(f"{name}.yaml", (FOLDER / f"{name}.yaml").read_bytes())
    assert problems == ()
    rulebook, lacking = rulebook_of(name, row)
    told = [each.message.partition(";")[0] for each in lacking]
    if name == OWN:
        assert told == [f"the rulebook 'own' needs '{key}:'" for key in ("measure", "limit")]
    else:
        assert told == []
        assert rulebook == found(name)


@pytest.mark.parametrize(("name", "asked"), ASKED.items())
def test_measure_and_limit(name: str, asked: tuple[Measure, str]) -> None:
    """Each counts what the contract says it counts, against its limit."""
    rulebook = found(name)
    assert (rulebook.measure, str(rulebook.limit)) == asked


@pytest.mark.parametrize("name", SHIPPED)
def test_what_every_rulebook_carries(name: str) -> None:
    """Each has citation, rule, the six questions, proofs of both kinds of work, and a source."""
    rulebook = found(name)
    assert all((rulebook.title, rulebook.rule, rulebook.citation, rulebook.disclose))
    assert [question.ask for question in rulebook.questions] == list(Ask)
    assert all(rulebook.quality[kind] for kind in rulebook.quality)
    assert len(rulebook.quality) == 2
    assert rulebook.sources
    assert all(source.says for source in rulebook.sources)


@pytest.mark.parametrize("name", SHIPPED)
def test_which_columns_count(name: str) -> None:
    """Amateurs' columns alone count for the builder; a form with points counts the whole point."""
    rulebook = found(name)
    assert rulebook.builder == (Side.ASSEMBLY, Side.FABRICATION)
    whole = (Side.MAKER, Side.PAID, Side.UNCLAIMED)
    assert rulebook.against == (whole if rulebook.measure is Measure.POINTS else (Side.MAKER,))


@pytest.mark.parametrize("name", SHIPPED)
def test_what_is_not_known_is_said(name: str) -> None:
    """Where the limit stands on nothing that was read, the rulebook says what is unsettled."""
    rulebook = found(name)
    assert (rulebook.unsettled is not None) is (name in UNSETTLED)
    if rulebook.unsettled is None:
        assert any(source.known is not Known.MEMORY for source in rulebook.sources)


@pytest.mark.parametrize("name", RULEBOOKS)
def test_a_paper_that_was_read_of_has_its_source(name: str) -> None:
    """A paper known to be asked for, read or second hand, cites a source that says how it is known.

    One from memory needs none; what is said to be read stands in a source that was read.
    """
    row, _ = read_rulebook_file(f"{name}.yaml", (FOLDER / f"{name}.yaml").read_bytes())
    sources = row.many(SOURCES)
    for paper in row.many(PAPERS):
        cited = [source for source in sources if source.what in (paper.citation or "")]
        if paper.known is not Known.MEMORY:
            assert paper.known in [source.known for source in cited], paper.name


@pytest.mark.parametrize("name", RULEBOOKS)
def test_no_word_names_two_papers(name: str) -> None:
    """No two papers of a list share a name, a form or a word by which they are known."""
    row, _ = read_rulebook_file(f"{name}.yaml", (FOLDER / f"{name}.yaml").read_bytes())
    words = [
        word
        for paper in row.many(PAPERS)
        for word in {
            each.casefold() for each in (paper.name, paper.form or paper.name, *paper.match)
        }
    ]
    assert sorted(words) == sorted(set(words))


def test_where_a_list_of_papers_is_known() -> None:
    """Lists stand where sources or memory give one; nothing is made up for the other authorities.

    Both lists of the United States are one, but for the form by which the kit was evaluated.
    """
    assert {name: len(found(name).papers) for name in SHIPPED} == {
        "us-checklist": 16,
        "us-8000-38": 16,
        "canada": 9,
        "uk": 4,
        "australia": 3,
        "france-hours": 1,
        "eu": 0,
        "new-zealand": 0,
    }
    lists = (found("us-checklist").papers, found("us-8000-38").papers)
    assert len([one for one, other in zip(*lists, strict=True) if one != other]) == 1


def test_the_former_form_knows_no_bought_help() -> None:
    """One rulebook is for projects without bought help (report of 2009 on AC 20-27G)."""
    assert [name for name in SHIPPED if not found(name).allows_paid_help] == ["us-8000-38"]


@pytest.mark.parametrize("name", RULEBOOKS)
def test_no_rulebook_grants_anything(name: str) -> None:
    """No word of a rulebook's file says that something is granted."""
    assert not GRANTING.search((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))


def journal(root: Path, *lines: str) -> Ledger:
    """A journal with these lines at the end of journal.yaml."""
    return ledger_of(root, {"journal.yaml": JOURNAL + "".join(f"{line}\n" for line in lines)})


def told(ledger: Ledger) -> list[str]:
    """What is told, without the path."""
    return [f"{each.place.line}:{each.place.column}: {each.code}" for each in ledger.problems]


@pytest.mark.parametrize("name", SHIPPED)
def test_a_journal_names_its_rulebook(tmp_path: Path, name: str) -> None:
    """`rulebook: NAME` gives the journal that rulebook, nothing told."""
    ledger = journal(tmp_path, f"rulebook: {name}")
    assert (ledger.rulebook, ledger.problems) == (found(name), ())


def test_a_journal_without_one(tmp_path: Path) -> None:
    """A journal need not name a rulebook, and then has none."""
    ledger = journal(tmp_path)
    assert (ledger.rulebook, ledger.problems) == (None, ())


def test_the_journals_citation_comes_first(tmp_path: Path) -> None:
    """`citation` in journal.yaml stands in place of the rulebook's, and changes nothing else."""
    ledger = journal(tmp_path, "rulebook: us-checklist", "citation: 14 CFR 21.191(x)")
    rulebook = ledger.rulebook
    assert rulebook
    assert rulebook.citation == "14 CFR 21.191(x)"
    assert rulebook.sources == found("us-checklist").sources
    assert found("us-checklist").citation == "14 CFR 21.191(g)"


OWN_LINES = ("rulebook: own", "own rulebook: {measure: marks, limit: at least 60 %}")


def test_the_builders_own_rulebook(tmp_path: Path) -> None:
    """Measure and limit are the builder's; all else comes from the file for such rulebooks."""
    ledger = journal(tmp_path, *OWN_LINES)
    assert ledger.problems == ()
    rulebook = ledger.rulebook
    assert rulebook
    assert (rulebook.name, rulebook.measure, str(rulebook.limit)) == (
        "own",
        Measure.MARKS,
        ">= 0.6",
    )
    assert rulebook.citation == "stated by the builder"
    assert [question.ask for question in rulebook.questions] == list(Ask)
    assert len(rulebook.quality) == 2
    assert rulebook.unsettled
    assert rulebook.against == (Side.MAKER,)


def test_own_rulebooks_may_say_more(tmp_path: Path) -> None:
    """Whatever else is stated under `own rulebook` takes the place of the file's words."""
    more = (
        "rulebook: own",
        "own rulebook:",
        "  measure: points",
        "  limit: more than 0.4",
        "  title: Our club's rule",
        "  counts against: [maker, paid]",
        "citation: Club rules",
    )
    ledger = journal(tmp_path, *more)
    assert ledger.problems == ()
    rulebook = ledger.rulebook
    assert rulebook
    assert (rulebook.title, rulebook.citation) == ("Our club's rule", "Club rules")
    assert rulebook.against == (Side.MAKER, Side.PAID)
    assert rulebook.rule.startswith("The measure and the limit are those")


def test_own_rulebooks_may_list_papers(tmp_path: Path) -> None:
    """The builder's list is read, a bare name too; what is not said to be read is from memory."""
    more = (
        "rulebook: own",
        "own rulebook:",
        "  measure: points",
        "  limit: more than 0.4",
        "  papers:",
        "    - weight report",
        "    - {paper: club letter, known: read, citation: Rules 4, match: letter of the club}",
    )
    ledger = journal(tmp_path, *more)
    assert ledger.problems == ()
    assert ledger.rulebook
    assert ledger.rulebook.papers == (
        AskedPaper("weight report", Known.MEMORY),
        AskedPaper("club letter", Known.READ, citation="Rules 4", match=("letter of the club",)),
    )


def test_own_lines_count_for_own_alone(tmp_path: Path) -> None:
    """What stands under `own rulebook` changes no other rulebook."""
    assert journal(tmp_path, "rulebook: eu", OWN_LINES[1]).rulebook == found("eu")


@pytest.mark.parametrize(
    ("lines", "problems"),
    [
        (("rulebook: own",), ["1:1: missing-key"]),
        (("rulebook: own", "own rulebook:"), ["1:1: missing-key"]),
        (("rulebook: own", "own rulebook: {measure: points}"), ["6:15: missing-key"]),
        (("rulebook: own", "own rulebook: {limit: '> 0.5'}"), ["6:15: missing-key"]),
        (("rulebook: own", "own rulebook: {measure: points, limit: }"), ["6:15: missing-key"]),
        (("rulebook: own", "own rulebook: {measure: points, limit: half}"), ["6:40: unreadable"]),
        (
            ("rulebook: own", "own rulebook: {measure: weight, limit: half}"),
            ["6:25: unknown-word", "6:40: unreadable"],
        ),
        (("rulebook: own", "own rulebook: {measure: points, limit: '> 50'}"), ["6:40: unreadable"]),
        (
            ("rulebook: own", "own rulebook: {measure: points, limit: 51 %, limits: 1}"),
            ["6:40: unreadable", "6:46: unknown-key"],
        ),
    ],
)
def test_own_rulebooks_that_cannot_be_used(
    tmp_path: Path, lines: tuple[str, ...], problems: list[str]
) -> None:
    """What is missing or cannot be read is told once, at its place; then there is no rulebook."""
    ledger = journal(tmp_path, *lines)
    assert (ledger.rulebook, told(ledger)) == (None, problems)


@pytest.mark.parametrize(
    "lines",
    [
        ("own rulebook:", "  measure: points", "  limit: > 0.5"),
        ("own rulebook:", "  limit: > 0.5", "  measure: points"),
        ("own rulebook:", "  limit: >0.5", "  measure: points"),
        ("own rulebook: {measure: points, limit: > 0.5}",),
        ("own rulebook: {limit: > 0.5, measure: points}",),
        ("own rulebook: {limit: >0.5, measure: points}",),
    ],
)
def test_a_limit_without_quotes(tmp_path: Path, lines: tuple[str, ...]) -> None:
    """`limit: > 0.5`, to YAML the head of a folded text, is told with the line to paste, and read.

    Inside braces YAML itself refuses the sign; there too the limit is understood.
    """
    ledger = journal(tmp_path, "rulebook: own", *lines)
    assert ledger.rulebook
    assert str(ledger.rulebook.limit) == "> 0.5"
    assert [each.code for each in ledger.problems] == ["wants-quotes"]
    assert 'limit: ">' in ledger.problems[0].message
    assert "limit" in [*lines][ledger.problems[0].place.line - 6]


@pytest.mark.parametrize("limit", [">= 0.51", ">=0.51"])
def test_at_least_without_quotes(tmp_path: Path, limit: str) -> None:
    """`>= 0.51` without quotes is understood in a block and in braces."""
    block = ("own rulebook:", "  measure: points", f"  limit: {limit}")
    for lines in (block, (f"own rulebook: {{measure: points, limit: {limit}}}",)):
        rulebook = journal(tmp_path, "rulebook: own", *lines).rulebook
        assert rulebook
        assert str(rulebook.limit) == ">= 0.51"


def test_a_rulebook_is_added_as_a_file(tmp_path: Path) -> None:
    """One more YAML file is one more rulebook: nothing but its text is needed to count by it."""
    file = tmp_path / "south-africa.yaml"
    file.write_text(
        "title: South Africa\nmeasure: points\nlimit: more than 0.5\n"
        "rule: A rule.\ncitation: Civil Aviation Regulations 2011, part 24\n",
        encoding="utf-8",
    )
    row, problems = read_rulebook_file(file.name, file.read_bytes())
    rulebook, lacking = rulebook_of(file.stem, row)
    assert (problems, lacking) == ((), ())
    assert rulebook
    assert (rulebook.name, str(rulebook.limit)) == ("south-africa", "> 0.5")
