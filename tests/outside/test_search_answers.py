"""What friends look for stands first: questions with their answers, over two journals.

Source: mean reciprocal rank, as E. M. Voorhees defines it in "The TREC-8 Question Answering Track
Report" (1999) and textbooks of information retrieval after it (from memory): one over the place of
the first right answer, none being nought, averaged over all questions.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from builderlog.drawing.site import plan_site
from builderlog.drawing.theme import open_theme
from builderlog.storing.cache import Store
from tests.drawing.made_public import PICTURES
from tests.drawing.made_tongues import tongues_ledger
from tests.reading.case_file import CASES

pytestmark = pytest.mark.browser

# Types each question all at once; the names of what is found, when the page has shown all it will.
ASK = """async all => {
    const field = document.querySelector('#words'), answers = [];
    for (const words of all) {
        field.value = words;
        field.dispatchEvent(new Event('input', {bubbles: true}));
        await new Promise(done => setTimeout(done, 5));
        answers.push([...document.querySelectorAll('[data-found] > li a')].map(
            link => link.textContent));
    }
    return answers;
}"""


Question = tuple[str, set[str]]  # what is typed, and the names of which one should come first


def questions(heading: str) -> list[Question]:
    """The questions of one part of `tests/cases/searches.txt`."""
    text = (CASES / "searches.txt").read_text(encoding="utf-8")
    part = text.partition(f"=== {heading}\n")[2].partition("\n===")[0]
    lines = [line.split("|") for line in part.splitlines() if line]
    return [(typed.strip(), {*names.strip().split("; ")} - {""}) for typed, names in lines]


def reciprocal_rank(wanted: set[str], found: list[str]) -> Fraction:
    """One over the place of the first right answer; where nothing is right, whether nothing is."""
    if not wanted:
        return Fraction(not found)
    places = (place for place, name in enumerate(found, 1) if name in wanted)
    return next((Fraction(1, place) for place in places), Fraction(0))


def mean_rank(browser: Browser, path: Path, asked: list[Question]) -> Fraction:
    """The mean reciprocal rank of the questions on a page of the search."""
    page = browser.new_page()
    page.goto(path.as_uri())
    answers = page.evaluate(ASK, [typed for typed, _ in asked])
    page.close()
    ranks = [
        reciprocal_rank(wanted, found) for (_, wanted), found in zip(asked, answers, strict=True)
    ]
    return sum(ranks, Fraction(0)) / len(ranks)


@pytest.fixture(scope="module")
def tongues(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the search of notes in many tongues, on disk."""
    folder = tmp_path_factory.mktemp("tongues")
    plan = plan_site(tongues_ledger(), PICTURES, open_theme("trammel"))
    for path in ("search.html", "search.js", "style.css", "icon.svg"):
        (folder / path).write_bytes(plan.draw(path, Store(None)))
    return folder / "search.html"


@pytest.mark.parametrize(
    ("which", "least"), [("asked", Fraction(99, 100)), ("unseen", Fraction(95, 100))]
)
def test_any_tongue_and_any_number_is_found(
    browser: Browser, tongues: Path, which: str, least: Fraction
) -> None:
    """Umlauts both ways, compounds, writing without blanks, part numbers without hyphens."""
    assert mean_rank(browser, tongues, questions(f"tongues, {which}")) >= least


@pytest.mark.parametrize(
    ("which", "least"), [("asked", Fraction(95, 100)), ("unseen", Fraction(95, 100))]
)
def test_what_friends_ask_of_the_example_comes_first(
    browser: Browser, example_site: Path, which: str, least: Fraction
) -> None:
    """Names, days in any form, ids, slips of a finger, words out of the text."""
    asked = questions(f"example, {which}")
    assert mean_rank(browser, example_site / "search.html", asked) >= least


def test_no_question_is_lost() -> None:
    """Every part of the file is read: over forty questions of each journal."""
    counts = [
        len(questions(f"{of}, {which}"))
        for of in ("example", "tongues")
        for which in ("asked", "unseen")
    ]
    assert counts == [86, 40, 100, 34]


def test_a_worse_order_is_measured() -> None:
    """An answer further down counts less, a missing one nothing, and noise is no silence."""
    assert reciprocal_rank({"Fin"}, ["Fin", "Rudder"]) == 1
    assert reciprocal_rank({"Fin", "Tail"}, ["Rudder", "Tail"]) == Fraction(1, 2)
    assert reciprocal_rank({"Fin"}, ["Rudder"]) == 0
    assert reciprocal_rank(set(), []) == 1
    assert reciprocal_rank(set(), ["Rudder"]) == 0
