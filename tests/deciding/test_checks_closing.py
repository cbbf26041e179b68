"""Gaps of what is closed to the end of the record: snags, torque, visits that came too late."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_closing import closing_problems
from builderlog.deciding.states import as_state
from builderlog.reading.problem import Weight
from tests.deciding.claim_journals import journal
from tests.knowing.journals import ledger_of

TASKS = ["W1", "W2", "F1"]
WORK = "tasks: {task: W1, hours: 1h}"
SNAG = "snags: {snag: A nick, task: W1}"
BOLT = "torqued: {where: Left hinge, to: 22 in-lb, wrench: small}"


def told(root: Path, notes: dict[str, str], more: str = "units: metric") -> list[str]:
    """`code path:line message` of each."""
    problems = closing_problems(journal(root, TASKS, notes, more))
    return [f"{p.code} {p.place.path[6:]}:{p.place.line} {p.message}" for p in problems]


@pytest.mark.parametrize(
    ("word", "snag", "head"),
    [("W1", "task: W1", "W1: "), ("W", "task: W1", "W1: "), ("W", "area: W", "")],
)
def test_a_snag_that_was_closed_over_is_told_where_it_was_closed(
    tmp_path: Path, word: str, snag: str, head: str
) -> None:
    """Found before and put right by no note, it is behind the skin now."""
    note = f"{WORK}\nsnags: {{snag: A nick, {snag}}}"
    assert told(tmp_path, {"2026-03-01": note, "2026-03-02": f"closes: {word}"}) == [
        (
            f"closed-with-snag 2026-03-02.md:2 {head}'{word}' is closed, and snag 2026-03-01.1 "
            "('A nick') is still open; put it right, or write fixed: 2026-03-01.1 if it was"
        )
    ]


@pytest.mark.parametrize(
    "notes",
    [
        {"2026-03-01": f"{WORK}\n{SNAG}"},
        {"2026-03-01": f"{WORK}\n{SNAG}\ncloses: W2"},
        {"2026-03-01": f"{WORK}\n{SNAG}\ncloses: F"},
        {"2026-03-01": f"{WORK}\n{SNAG}\ncloses: W1", "2026-03-02": "opens: W"},
        {"2026-03-01": f"{WORK}\n{SNAG}\ncloses: W1", "2026-03-02": "fixed: 2026-03-01.1"},
        {"2026-03-01": f"{WORK}\ncloses: W1", "2026-03-02": SNAG},
        {"2026-03-01": f"{WORK}\nsnags: {{snag: A nick, area: W}}\ncloses: W1"},
        {"2026-03-01": f"{WORK}\nsnags: {{snag: A nick}}\ncloses: W"},
    ],
)
def test_a_snag_elsewhere_later_or_put_right_is_not_told(
    tmp_path: Path, notes: dict[str, str]
) -> None:
    """Nor where it was opened again: then there is time, and the list of what is open has it."""
    assert told(tmp_path, notes) == []


def test_a_joint_without_its_mark_is_told_where_it_was_closed(tmp_path: Path) -> None:
    """The entry stands in a note that names only what is closed, so it is behind it for sure."""
    assert told(tmp_path, {"2026-03-01": f"{WORK}\n{BOLT}", "2026-03-02": "closes: W"}) == [
        (
            "closed-untorqued 2026-03-02.md:2 W1: 'W' is closed, and of Left hinge the record has: "
            "nothing said of a mark; write what was done in the torqued entry, or torque them when "
            "it is opened again"
        )
    ]


@pytest.mark.parametrize(
    "notes",
    [
        {"2026-03-01": f"{WORK}\n{BOLT[:-1]}, marked: yes}}\ncloses: W"},
        {"2026-03-01": f"tasks: [W1, F1]\n{BOLT}\ncloses: W1"},
        {"2026-03-01": f"{BOLT}\ncloses: W1"},
        {"2026-03-01": f"{WORK}\ncloses: W", "2026-03-02": f"{WORK}\n{BOLT}"},
    ],
)
def test_a_joint_that_is_marked_or_may_be_elsewhere_is_not_told(
    tmp_path: Path, notes: dict[str, str]
) -> None:
    """An entry carries no task of its own: of a note with tasks in sight it may be theirs."""
    assert told(tmp_path, notes) == []


def test_a_visit_that_was_wanted_first_is_told(tmp_path: Path) -> None:
    """Nobody had looked at it; one who looked before some more work had."""
    more = "rulebook: us-checklist\nvisit before closing: W"
    visit = "visits: {who: A. Person, looked at: W}"
    closed = {"2026-03-01": WORK, "2026-03-05": "closes: W"}
    assert told(tmp_path / "a", closed, more) == [
        (
            "closed-without-visit 2026-03-05.md:2 W1: 'W' is closed: no visit on record, and "
            "journal.yaml:5 wants a visit first; write it under visits: if there was one"
        )
    ]
    both = {**closed, "2026-03-01": "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}]"}
    assert "'W' closes W1 and W2: no visit" in told(tmp_path / "d", both, more)[0]
    seen = {**closed, "2026-03-02": visit, "2026-03-03": WORK}
    assert told(tmp_path / "b", seen, more) == []
    late = {**closed, "2026-03-06": visit}
    assert len(told(tmp_path / "c", late, more)) == 1


def test_a_rulebook_that_wants_each_stage_seen_is_told(tmp_path: Path) -> None:
    """Where the authority wants it first, the gap names the rulebook and how that is known."""
    found = told(tmp_path, {"2026-03-01": f"{WORK}\ncloses: W"}, "rulebook: canada")
    assert found == [
        (
            "closed-without-visit 2026-03-01.md:3 W1: 'W' is closed: no visit on record, and the "
            "rulebook 'canada' wants a pre-cover inspection (procedures of the Minister's "
            "delegate) by inspector or delegate first; write it under visits: if there was one"
        )
    ]


def test_they_are_gaps_and_stand_in_check_once(tmp_path: Path) -> None:
    """All three come with `check` beside the picture that is missing; none is told twice."""
    note = f"{WORK}\n{SNAG}\n{BOLT}\ncloses: [W, W1]"
    more = "visit before closing: W1"
    problems = judge(journal(tmp_path, TASKS, {"2026-03-01": note}, more))
    closed = [each for each in problems if each.code.startswith("closed-")]
    assert sorted(each.code for each in closed) == [
        "closed-untorqued",
        "closed-with-snag",
        "closed-without-picture",
        "closed-without-visit",
    ]
    assert {each.weight for each in closed} == {Weight.GAP}


def test_as_a_state_they_give_no_advice(tmp_path: Path) -> None:
    """An inspector reads what the record has, and not what the builder is to write."""
    note = f"{WORK}\n{SNAG}\n{BOLT}\ncloses: W1"
    found = closing_problems(
        journal(tmp_path, TASKS, {"2026-03-01": note}, "visit before closing: W1")
    )
    assert [as_state(each.message, "W1") for each in found] == [
        "W1: 'W1' is closed, and snag 2026-03-01.1 ('A nick') is still open.",
        "W1: 'W1' is closed, and of Left hinge the record has: nothing said of a mark.",
        "W1: 'W1' is closed: no visit on record, and journal.yaml:4 wants a visit first.",
    ]


def test_what_is_to_be_visited_must_be_an_area_or_a_task(tmp_path: Path) -> None:
    """A wish for what the work list does not hold is a mistake at its place in journal.yaml."""
    book = journal(tmp_path / "a", TASKS, {}, "visit before closing: [W, W1, W9]")
    assert [(p.code, p.place.line, p.message) for p in judge(book)] == [
        ("unknown-task", 4, "'W9' is no task or area of worklist.yaml; did you mean 'W'?")
    ]
    free = "title: A\nbuilder: Ines\npeople: {Ines: builder}\nvisit before closing: tail\n"
    assert not judge(ledger_of(tmp_path / "b", {"worklist.yaml": "(none)", "journal.yaml": free}))
