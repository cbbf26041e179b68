"""Visits that are wanted before closing: by the builder, by the rulebook, and whether they came."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.coverage import coverage
from builderlog.deciding.visits_first import authority_words, named, unmet, wishes
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebooks import RULEBOOKS, find_rulebook
from tests.deciding.claim_journals import journal

TASKS = ["W1", "W2", "F1"]
WORK = {
    "2026-03-01": "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}, {task: F1, hours: 1h}]"
}
INSPECTOR = "visits: {who: A. Person, as: Inspector, looked at: [W1]}"
FRIEND = "visits: {who: A. Person, as: mechanic, looked at: [W1]}"
WANTED = "visit before closing: [W1]"


def told(ledger: Ledger) -> list[str]:
    """Each wish that is not met, with its tasks."""
    records = coverage(ledger)
    return [
        f"{' '.join(each.tasks)}: {each.words}{' (since)' if each.worked_since else ''}"
        for wish in wishes(ledger)
        for each in unmet(wish, records)
    ]


@pytest.mark.parametrize(
    ("wanted", "tasks"),
    [("W1", ["W1"]), ("W", ["W1 W2"]), ("[W2, F]", ["W2", "F1"]), ("['', W1]", ["W1"])],
)
def test_the_builder_names_areas_or_tasks(tmp_path: Path, wanted: str, tasks: list[str]) -> None:
    """A wish for an area is one for each of its tasks."""
    ledger = journal(tmp_path, TASKS, WORK, f"visit before closing: {wanted}")
    words = "no visit on record, and journal.yaml:4 wants a visit first"
    assert told(ledger) == [f"{each}: {words}" for each in tasks]


@pytest.mark.parametrize(
    ("visit", "expected"),
    [
        (INSPECTOR, []),
        (FRIEND, []),
        (
            "visits: {who: A. Person, looked at: [W2]}",
            ["W1: no visit on record, and journal.yaml:4 wants a visit first"],
        ),
    ],
)
def test_to_the_builder_any_visitor_is_one(tmp_path: Path, visit: str, expected: list[str]) -> None:
    """The builder's own wish is met by anybody who looked at the task."""
    assert told(journal(tmp_path, TASKS, {**WORK, "2026-03-02": visit}, WANTED)) == expected


def test_work_after_the_visit_is_told(tmp_path: Path) -> None:
    """What was looked at and then worked on is not as it was seen."""
    later = {"2026-03-02": FRIEND, "2026-03-05": "tasks: {task: W1, hours: 2h30}"}
    assert told(journal(tmp_path, TASKS, {**WORK, **later}, WANTED)) == [
        "W1: last looked at by A. Person as mechanic on 2026-03-02, with 2h30 of work since (since)"
    ]


def test_a_visit_before_it_was_opened_again_is_none(tmp_path: Path) -> None:
    """What was opened since wants to be looked at once more."""
    notes = {**WORK, "2026-03-02": FRIEND, "2026-03-03": "closes: W1", "2026-03-04": "opens: W1"}
    first = "W1: no visit in time (A. Person as mechanic on 2026-03-02), and journal.yaml:4 wants "
    first += "a visit first"
    assert told(journal(tmp_path / "a", TASKS, notes, WANTED)) == [first]
    notes["2026-03-06"] = FRIEND
    assert told(journal(tmp_path / "b", TASKS, notes, WANTED)) == []


OWN = (
    "rulebook: own\nown rulebook: {measure: points, limit: at least 0.5, title: T, rule: R, "
    "citation: C, visit before closing: {visit: stage inspection, by: [inspector, delegate]}}"
)


def test_a_rulebook_wants_everything_looked_at_by_its_own_people(tmp_path: Path) -> None:
    """A visit by somebody else is told as what it is; the words of `as` count in any case."""
    wanted = "and the rulebook 'own' wants a stage inspection (from memory) by inspector or "
    wanted += "delegate first"
    assert told(journal(tmp_path / "a", TASKS, {**WORK, "2026-03-02": INSPECTOR}, OWN)) == [
        f"W2 F1: no visit on record, {wanted}"
    ]
    assert told(journal(tmp_path / "b", TASKS, {**WORK, "2026-03-02": FRIEND}, OWN)) == [
        f"W1: looked at by A. Person as mechanic on 2026-03-02, {wanted}",
        f"W2 F1: no visit on record, {wanted}",
    ]


def test_what_the_authority_may_want_is_no_wish(tmp_path: Path) -> None:
    """A visit at the authority's discretion is told as such, and nothing is missing."""
    ledger = journal(tmp_path, TASKS, WORK, "rulebook: us-checklist")
    assert told(ledger) == []
    assert list(authority_words(ledger.rulebook)) == [
        (
            "The authority may want a pre-cover inspection (FAA guidance, as a designee's page "
            "gives it, second hand), and need not: ask before you close."
        )
    ]


def test_a_rulebook_that_knows_none_says_so() -> None:
    """That nothing is known is told apart from that nothing is wanted; with a wish no word more."""
    rulebook, _ = find_rulebook("eu")
    assert list(authority_words(rulebook)) == [
        (
            "Whether the authority wants a visit before work is closed is not in the rulebook "
            "'eu', which is not that it wants none: ask before you close."
        )
    ]
    assert list(authority_words(find_rulebook("canada")[0])) == []
    assert list(authority_words(None)) == []


@pytest.mark.parametrize("name", [name for name in RULEBOOKS if name != "own"])
def test_every_visit_of_a_rulebook_says_how_it_is_known(name: str) -> None:
    """What is not from memory names its source, and the source stands among the rulebook's."""
    rulebook, _ = find_rulebook(name)
    assert rulebook
    sources = {source.what for source in rulebook.sources}
    for visit in rulebook.visits_first:
        assert visit.known == "memory" or visit.citation in sources


@pytest.mark.parametrize(
    ("tasks", "expected"),
    [
        (["W1"], "W1"),
        (["W1", "W2"], "W1 and W2"),
        ([f"W{n}" for n in range(6)], "W0, W1, W2, W3, W4 and W5"),
        ([f"W{n}" for n in range(8)], "W0, W1, W2, W3, W4 and 3 more"),
    ],
)
def test_long_lists_of_tasks_are_cut(tasks: list[str], expected: str) -> None:
    """Six are named at most; of more the first five and how many follow."""
    assert named(tasks) == expected
