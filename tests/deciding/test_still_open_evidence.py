"""Evidence missing of work in sight: what it is, and in which order it will be hidden."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.before_closing import ClosingDesk
from builderlog.deciding.still_open_evidence import Evidence, missing_evidence
from builderlog.knowing.ledger import Ledger
from tests.deciding.claim_journals import journal
from tests.knowing.journals import ledger_of


def evidence(book: Ledger) -> tuple[Evidence, ...]:
    """All that is missing."""
    return missing_evidence(book, ClosingDesk(book))


def told(
    root: Path, tasks: list[str], notes: dict[str, str], more: str = "units: metric"
) -> list[str]:
    """`soon task kind hidden_by` of each."""
    return [
        f"{each.soon.name} {each.line.task or each.area} {each.line.kind} {each.hidden_by}".strip()
        for each in evidence(journal(root, tasks, notes, more))
    ]


def worked(*tasks: str) -> str:
    """A note with an hour on each task and a measurement, so that pictures alone are missing."""
    rows = ", ".join(f"{{task: {task}, hours: 1h}}" for task in tasks)
    return f"tasks: [{rows}]\nmeasured: {{what: gap, value: 1 mm}}"


@pytest.mark.parametrize(
    ("tasks", "notes", "expected"),
    [
        (["W1", "W2"], {"2026-03-01": worked("W1")}, ["LATER W1 picture W2"]),
        (["W1, state: done", "W2"], {"2026-03-01": worked("W1")}, ["NEXT W1 picture W2"]),
        (["W1, state: done"], {"2026-03-01": worked("W1")}, ["NEXT W1 picture"]),
        (
            ["W1", "W2", "W3"],
            {"2026-03-01": worked("W1"), "2026-03-02": worked("W3")},
            ["NOW W1 picture W3", "LATER W3 picture"],
        ),
        (
            ["W1", "W2, applies: no", "W3"],
            {"2026-03-01": worked("W1")},
            ["LATER W1 picture W3"],
        ),
        (
            ["F1", "W1"],
            {"2026-03-01": worked("F1", "W1")},
            ["LATER F1 picture", "LATER W1 picture"],
        ),
    ],
)
def test_what_follows_in_the_area_hides_a_task(
    tmp_path: Path, tasks: list[str], notes: dict[str, str], expected: list[str]
) -> None:
    """At once where it has begun, next where the task is done, later where it is not."""
    assert told(tmp_path, tasks, notes) == expected


def test_what_is_being_worked_on_comes_before_what_rests(tmp_path: Path) -> None:
    """Of two tasks that are hidden now, the one over which work went on last comes first."""
    notes = {
        "2026-03-01": worked("E1", "W1"),
        "2026-03-02": worked("W2"),
        "2026-03-05": worked("E2"),
    }
    found = told(tmp_path, ["W1", "W2", "E1", "E2"], notes)
    assert found[:2] == ["NOW E1 picture E2", "NOW W1 picture W2"]


def test_of_two_alike_the_costlier_comes_first(tmp_path: Path) -> None:
    """Where nothing else tells them apart, how much of the claim hangs on each does."""
    tasks = ["W1, credit: {assembly: 0.2}", "E1, credit: {assembly: 0.7}"]
    found = told(tmp_path, tasks, {"2026-03-01": worked("E1", "W1")})
    assert found == ["LATER E1 picture", "LATER W1 picture"]


def test_what_is_closed_or_not_begun_is_left_out(tmp_path: Path) -> None:
    """What cannot be seen any more is told by `check`; what was not begun has nothing to show."""
    notes = {"2026-03-01": worked("W1"), "2026-03-02": "closes: W1"}
    assert told(tmp_path / "a", ["W1", "W2"], notes) == []
    notes["2026-03-03"] = "opens: W"
    assert told(tmp_path / "b", ["W1", "W2"], notes) == ["LATER W1 picture W2"]


def test_what_the_builder_explained_is_left_out(tmp_path: Path) -> None:
    """A gap with an answer is not open."""
    more = 'answers: [{gap: "task-without-picture: W1:", because: lost}]'
    assert told(tmp_path, ["W1"], {"2026-03-01": worked("W1")}, more) == []


PHOTO = "photos: {photo: photos/2026-03-01-a.jpg, shows: W1, seen: Ines}"


@pytest.mark.parametrize(
    ("tasks", "later", "expected"),
    [
        (["W1"], [], []),
        (["W1, state: done"], [], ["NEXT W1 measurement"]),
        (["W1", "W2"], ["W2"], ["NOW W1 measurement W2"]),
    ],
)
def test_proof_is_asked_for_once_the_work_is_done_or_covered(
    tmp_path: Path, tasks: list[str], later: list[str], expected: list[str]
) -> None:
    """While a task goes on there is time to measure it."""
    notes = {"2026-03-01": f"tasks: {{task: W1, hours: 1h}}\n{PHOTO}"}
    notes |= {"2026-03-02": worked(*later)} if later else {}
    assert [each for each in told(tmp_path, tasks, notes) if " W1 " in each] == expected


@pytest.mark.parametrize(
    ("proof", "missing"),
    [
        ("torqued: {where: hinge, marked: yes}", []),
        ("process: {what: glue}", []),
        ("visits: {who: A. Person, looked at: [W1]}", []),
        (
            "title: nothing",
            ["no measurement, torque entry, process entry or visit on record"],
        ),
    ],
)
def test_any_proof_that_the_rulebook_names_will_do(
    tmp_path: Path, proof: str, missing: list[str]
) -> None:
    """For assembly it names four kinds; the sentence names them where there is none."""
    notes = {"2026-03-01": f"tasks: {{task: W1, hours: 1h}}\n{PHOTO}\n{proof}"}
    book = journal(tmp_path, ["W1, work: assembly, state: done"], notes)
    assert [each.line.message for each in evidence(book)] == missing


def test_a_builder_is_asked_for_once_an_area(tmp_path: Path) -> None:
    """Far enough into an area, no picture shows a builder; a task that goes on still may."""
    photo = "photos: [{photo: photos/2026-03-01-a.jpg, shows: [W1, W2]}]"
    notes = {"2026-03-01": f"{worked('W1')}\n{photo}"}
    assert told(tmp_path / "a", ["W1", "W2"], notes) == []
    done = ["W1, state: done", "W2"]
    assert told(tmp_path / "b", done, notes) == ["LATER W builder in a picture"]
    assert told(tmp_path / "c", done[:1], notes) == ["NEXT W builder in a picture"]
    seen = {"2026-03-01": notes["2026-03-01"].replace("]}]", "], seen: Ines}]")}
    assert told(tmp_path / "d", done, seen) == []


def test_a_visit_that_is_wanted_stands_once_an_area(tmp_path: Path) -> None:
    """With the tasks that wait for it, where the one that is hidden soonest puts it."""
    notes = {"2026-03-01": worked("E1"), "2026-03-02": worked("W1"), "2026-03-03": worked("W2")}
    book = journal(tmp_path, ["E1", "W1", "W2"], notes, "visit before closing: W")
    visits = [each for each in evidence(book) if each.line.kind == "visit"]
    assert [(each.soon.name, each.hidden_by, each.line.message) for each in visits] == [
        ("NOW", "W2", "W1 and W2: no visit on record, and journal.yaml:4 wants a visit first")
    ]


def test_without_a_work_list_nothing_follows(tmp_path: Path) -> None:
    """Free words have no order: what is missing is told, and nothing said of what hides it."""
    files = {"worklist.yaml": "(none)", "notes/2026-03-01.md": f"---\n{worked('a', 'b')}\n---\n"}
    found = evidence(ledger_of(tmp_path, files))
    assert [(each.line.task, each.soon.name, each.hidden_by) for each in found] == [
        ("a", "LATER", ""),
        ("b", "LATER", ""),
    ]
