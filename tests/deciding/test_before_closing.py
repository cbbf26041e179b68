"""What an area or a task lacks before it is closed, and what a note that closes is told at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.before_closing import (
    BeforeClosing,
    Lack,
    UnknownSubjectError,
    before_closing,
    closed_last,
    closing_now,
)
from builderlog.knowing.ledger import Ledger
from tests.deciding.claim_journals import journal
from tests.knowing.journals import ledger_of

TASKS = ["W1, state: done", "W2, state: done, credit: {assembly: 1}", "F1, state: done"]
WORK = "tasks: {task: W1, hours: 1h}"
SEEN = "photos: {photo: photos/2026-03-01-a.jpg, shows: W1, seen: Ines}"
GAP = "measured: {what: gap, value: 1 mm}"
WELL = f"{WORK}\n{SEEN}\n{GAP}"
OPEN_BOLT = "torqued: {where: Left hinge, to: 22 in-lb, wrench: small}"
DONE_BOLT = "torqued: {where: Left hinge, to: 22 in-lb, wrench: small, marked: yes}"


def told(found: BeforeClosing) -> list[str]:
    """`kind task message`, each line with its explanation if it has one."""
    return [
        f"{line.kind} {line.task or '-'} {line.message}{f' ({line.because})' * bool(line.because)}"
        for line in found.lines
    ]


def lines(root: Path, notes: dict[str, str], subject: str = "W1", more: str = "") -> list[str]:
    """What is told of a subject in a journal of these notes."""
    return told(before_closing(journal(root, TASKS, notes, more or "units: metric"), subject))


def test_what_is_shown_measured_and_marked_lacks_nothing(tmp_path: Path) -> None:
    """A picture with a builder in it, a measurement and a marked bolt: the list is empty."""
    assert lines(tmp_path, {"2026-03-01": f"{WELL}\n{DONE_BOLT}"}) == []


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        (f"{WORK}\n{GAP}", "picture W1 no picture shows it"),
        (
            f"{WORK}\n{GAP}\nphotos: {{photo: photos/2026-03-01-a.jpg, shows: W1, as: page}}",
            "picture W1 no picture but a scanned page shows it",
        ),
        (
            f"{WORK}\n{GAP}\nphotos: {{photo: photos/2026-03-01-a.jpg, shows: W1, seen: Ada}}",
            "builder in a picture W1 no builder is seen in its only picture",
        ),
        (f"{WORK}\n{SEEN}", "measurement W1 no measurement on record"),
        (
            f"{WORK}\n{SEEN}\n{DONE_BOLT}\nvisits: {{who: A. Person, looked at: [W1]}}",
            "measurement W1 no measurement on record (but 1 torque entry and 1 visit)",
        ),
        (f"{WELL}\n{OPEN_BOLT}", "torque W1 Left hinge: nothing said of a mark"),
        (f"{WELL}\nsnags: {{snag: A nick, task: W1}}", "snag W1 snag 2026-03-01.1: A nick"),
        (f"{WELL}\nsnags: {{snag: A nick, area: W}}", "snag - snag 2026-03-01.1: A nick"),
    ],
)
def test_each_thing_that_may_lack(tmp_path: Path, note: str, expected: str) -> None:
    """One thing left out of what lacks nothing is told, and nothing else."""
    assert lines(tmp_path, {"2026-03-01": note}) == [expected]


def test_a_snag_of_another_task_of_the_area_is_not_of_this_one(tmp_path: Path) -> None:
    """Before a task is closed the snags of its area as a whole are told, not its neighbours'."""
    notes = {"2026-03-01": f"{WELL}\nsnags: {{snag: A nick, task: W2}}"}
    assert lines(tmp_path / "a", notes) == []
    assert "snag W2 snag 2026-03-01.1: A nick" in lines(tmp_path / "b", notes, "W")


def test_a_snag_that_was_put_right_is_not_told(tmp_path: Path) -> None:
    """Fixed, it is no reason to wait."""
    notes = {"2026-03-01": f"{WELL}\nsnags: {{snag: A nick, task: W1}}"}
    notes["2026-03-02"] = "fixed: 2026-03-01.1"
    assert lines(tmp_path, notes) == []


def test_a_picture_from_before_the_work_is_told(tmp_path: Path) -> None:
    """A picture of the morning after is of the work; one of two days before shows less."""
    soon = {"2026-03-01": WELL, "2026-03-02": WORK}
    assert lines(tmp_path / "a", soon) == []
    later = {**soon, "2026-03-04": "tasks: {task: W1, hours: 1h30}"}
    assert lines(tmp_path / "b", later) == [
        "picture W1 its newest picture is of 2026-03-01, with 1h30 of work since"
    ]


def test_a_picture_taken_while_it_was_closed_shows_nothing(tmp_path: Path) -> None:
    """After a closing the camera sees only the skin over it."""
    hidden = WELL.replace("2026-03-01-a", "2026-03-05-a")
    notes = {"2026-03-01": hidden, "2026-03-03": "closes: W1", "2026-03-07": "opens: W1"}
    assert lines(tmp_path, notes) == ["picture W1 no picture shows it"]


def test_a_visit_comes_first(tmp_path: Path) -> None:
    """What must wait for somebody else is told before all that can be done tonight."""
    notes = {"2026-03-01": WORK}
    found = lines(tmp_path, notes, "W1", "visit before closing: W")
    assert found == [
        "visit W1 no visit on record, and journal.yaml:4 wants a visit first",
        "picture W1 no picture shows it",
        "measurement W1 no measurement on record",
    ]


def test_of_an_area_what_was_begun_is_told(tmp_path: Path) -> None:
    """A task without work that is not done is told as work to do, and lacks nothing else."""
    tasks = ["W1, state: done", "W2", "W3, applies: no"]
    book = journal(tmp_path, tasks, {"2026-03-01": WORK}, "visit before closing: W")
    assert told(before_closing(book, "W")) == [
        "visit W1 no visit on record, and journal.yaml:4 wants a visit first",
        "picture W1 no picture shows it",
        "measurement W1 no measurement on record",
        "work - not done by the work list: W2",
    ]


def test_of_an_area_what_is_closed_already_is_left_out(tmp_path: Path) -> None:
    """It cannot be photographed any more; its snags and bolts are still open."""
    notes = {"2026-03-01": f"{WORK}\n{OPEN_BOLT}\ncloses: W1"}
    assert lines(tmp_path, notes, "W") == [
        "torque W1 Left hinge: nothing said of a mark",
        "picture W2 no picture shows it",
        "measurement W2 no measurement on record",
    ]


def test_a_task_that_was_closed_says_since_when(tmp_path: Path) -> None:
    """Asked for by its own name it is told all the same, with the day on which it was closed."""
    notes = {"2026-03-01": WORK, "2026-03-02": "closes: W"}
    found = before_closing(journal(tmp_path, TASKS, notes), "W1")
    assert str(found.closed_since) == "2026-03-02"
    assert [line.kind for line in found.lines] == [Lack.PICTURE, Lack.MEASUREMENT]


def test_of_several_tasks_without_a_builder_one_line_tells(tmp_path: Path) -> None:
    """Those with one explanation, or with none, stand together; one alone is told by itself."""
    work = "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}, {task: F1, hours: 1h}]"
    shows = "photos: [{photo: photos/2026-03-01-a.jpg, shows: [W1, W2, F1]}]"
    notes = {"2026-03-01": f"{work}\n{shows}\n{GAP}"}
    assert lines(tmp_path / "a", notes, "W") == [
        "builder in a picture - W1 and W2: no builder is seen in any of their pictures"
    ]
    assert lines(tmp_path / "b", notes, "F") == [
        "builder in a picture F1 no builder is seen in its only picture"
    ]
    answers = 'answers: [{gap: "no-builder-seen: W:", because: I am alone}]'
    assert lines(tmp_path / "c", notes, "W", answers) == [
        "builder in a picture - W1 and W2: no builder is seen in any of their pictures (I am alone)"
    ]


def test_an_answer_of_the_builder_explains_a_line_too(tmp_path: Path) -> None:
    """What explains the gap that `check` tells explains the same thing here."""
    answers = 'answers: [{gap: "task-without-picture: W1:", because: the camera was lost}]'
    found = lines(tmp_path, {"2026-03-01": f"{WORK}\n{GAP}"}, "W1", answers)
    assert found == ["picture W1 no picture shows it (the camera was lost)"]


@pytest.mark.parametrize(
    ("subject", "expected"),
    [
        ("W8", "'W8' is no area and no task; did you mean 'W'?"),
        ("Canopy", "'Canopy' is no area and no task; write one of W and F, or a task of these"),
        ("W3", "worklist.yaml says that W3 does not apply to this aircraft"),
    ],
)
def test_what_is_no_area_and_no_task(tmp_path: Path, subject: str, expected: str) -> None:
    """A word that names nothing is told with what to write."""
    book = journal(tmp_path, [*TASKS, "W3, applies: no"], {})
    with pytest.raises(UnknownSubjectError) as fault:
        before_closing(book, subject)
    assert str(fault.value) == expected


def test_without_a_work_list_a_task_is_what_notes_name(tmp_path: Path) -> None:
    """Free words are tasks; what no note names is none."""
    files = {"worklist.yaml": "(none)", "notes/2026-03-01.md": "---\ntasks: left wing\n---\n"}
    book = ledger_of(tmp_path, files)
    assert [line.kind for line in before_closing(book, "left wing").lines] == [
        Lack.PICTURE,
        Lack.MEASUREMENT,
    ]
    with pytest.raises(UnknownSubjectError, match=r"no area and no task; write one of left wing$"):
        before_closing(book, "tail")


def book_that_closes(root: Path) -> Ledger:
    """A note closes an area and one of its tasks; there is a bolt without a mark in the area."""
    close = f"{WELL}\n{OPEN_BOLT}\ncloses: [W, W1, W9]"
    return journal(
        root, ["W1, state: done", "F1"], {"2026-03-01": close, "2026-02-01": "hours: 1h"}
    )


def test_a_note_that_closes_gets_the_list_of_each_word(tmp_path: Path) -> None:
    """A line stands but once, and a word that names nothing has no list."""
    book = book_that_closes(tmp_path)
    found = closing_now(book, book.notes[-1])
    assert [(each.subject, told(each)) for each in found] == [
        ("W", ["torque W1 Left hinge: nothing said of a mark"]),
        ("W1", []),
    ]
    assert closing_now(book, book.notes[0]) == ()


def test_what_a_note_closes_is_in_sight_while_it_is_written(tmp_path: Path) -> None:
    """Its own closing does not hide what it closes: the picture can still be taken."""
    note = f"{WORK}\n{GAP}\ncloses: W"
    book = journal(tmp_path, ["W1, state: done"], {"2026-03-01": note})
    assert [told(each) for each in closing_now(book, book.notes[-1])] == [
        ["picture W1 no picture shows it"]
    ]


def test_the_last_day_is_the_one_on_which_it_helps(tmp_path: Path) -> None:
    """What the notes of the newest day close is told; once a later note stands it is not."""
    book = book_that_closes(tmp_path / "a")
    assert [each.subject for each in closed_last(book)] == ["W", "W1"]
    later = {"2026-03-01": f"{WORK}\ncloses: W1", "2026-03-02": "hours: 1h"}
    assert closed_last(journal(tmp_path / "b", TASKS, later)) == ()
    assert closed_last(journal(tmp_path / "c", TASKS, {})) == ()
