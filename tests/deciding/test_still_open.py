"""What is still open, list by list, each in the order in which a builder asks for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.still_open import AWAITED, StillOpen, still_open
from builderlog.knowing.entries import PartStatus
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.parts import follow_parts
from builderlog.knowing.snags import number_snags
from tests import making
from tests.deciding.claim_journals import journal
from tests.examples import many
from tests.knowing.journals import ledger_of
from tests.knowing.reading_notes import read

TODAY = making.day("2026-04-01")
TASKS = ["E1", "E2", "W1", "F1"]


def found(root: Path, notes: dict[str, str]) -> StillOpen:
    """What is open on the first of April 2026 in a journal of these notes."""
    return still_open(journal(root, TASKS, notes, "units: metric"), TODAY)


def test_of_an_empty_journal_nothing_is_open(tmp_path: Path) -> None:
    """Every list is there and has nothing in it."""
    assert found(tmp_path, {}) == StillOpen(TODAY)


def test_next_steps_of_private_notes_are_told(tmp_path: Path) -> None:
    """The list is for the builder alone; it says how many notes came after without a word."""
    notes = {
        "2026-03-01": "tasks: {task: E1, hours: 1h}\nnext: [Order a web, Write to them]",
        "2026-03-02": "tasks: {task: W1, hours: 1h}\nnext: One rib\nprivate: yes",
        "2026-03-03": "tasks: {task: E2, hours: 1h}",
        "2026-03-04": "tasks: {task: F1, hours: 1h}\nnext: [Sweep, '']\nprivate: hours only",
    }
    steps = found(tmp_path, notes).next_steps
    assert [(each.areas, [str(s) for s in each.steps], each.since) for each in steps] == [
        (("F",), ["Sweep"], 0),
        (("W",), ["One rib"], 0),
        (("E",), ["Order a web", "Write to them"], 1),
    ]


def test_snags_stand_by_area_and_the_oldest_first(tmp_path: Path) -> None:
    """Areas as the work list has them, those of no area last; what was put right is gone."""
    notes = {
        "2026-03-01": "snags: [{snag: a, task: W1}, {snag: b, area: E}, {snag: c}]",
        "2026-03-02": "snags: [{snag: d, task: E2}, {snag: e, area: W}]",
        "2026-03-03": "visits: {who: A. Person, found: {snag: f, task: E1}}",
        "2026-03-04": "fixed: 2026-03-02.1",
    }
    told = [
        (each.area, str(each.snag.line.snag), each.days) for each in found(tmp_path, notes).snags
    ]
    assert told == [("E", "b", 31), ("E", "f", 29), ("W", "a", 31), ("W", "e", 30), ("", "c", 31)]


def test_parts_stand_by_what_they_wait_for(tmp_path: Path) -> None:
    """What is overdue the longest comes first; what is here, fitted or gone is not awaited."""
    notes = {
        "2026-03-01": "parts:\n"
        "- {part: late, status: ordered, due: 2026-03-20}\n"
        "- {part: later, status: back-ordered, due: 2026-03-10}\n"
        "- {part: coming, status: ordered, due: 2026-04-10}\n"
        "- {part: sooner, status: ordered, due: 2026-04-01}\n"
        "- {part: unsaid, status: ordered}\n"
        "- {part: back, status: back-ordered}\n"
        "- {part: missing, status: short}\n"
        "- {part: bent, status: damaged, due: 2026-03-02}\n"
        "- {part: wish, status: wanted}\n"
        "- {part: here, status: received}\n"
        "- {part: on, status: fitted}\n"
        "- {part: scrap, status: scrapped}\n"
        "- {part: named}\n"
        "- {part: moved, status: wanted}",
        "2026-03-05": "parts: {part: moved, status: ordered, due: 2026-05-01}",
        "2026-03-07": "parts: {part: moved, status: received}",
    }
    told = [f"{each.state} {each.part.name}" for each in found(tmp_path, notes).parts]
    assert told == [
        "late later",
        "late late",
        "ordered sooner",
        "ordered coming",
        "ordered unsaid",
        "back-ordered back",
        "short missing",
        "damaged bent",
        "wanted wish",
    ]


def test_a_part_has_its_newest_due_and_the_day_of_its_state(tmp_path: Path) -> None:
    """Back-ordered twice it is so since the first time, and due when it was last said."""
    notes = {
        "2026-03-01": "parts: {part: web, ref: A-1, status: ordered, due: 2026-03-05}",
        "2026-03-06": "parts: {part: web, ref: A-1, status: back-ordered, due: 2026-03-30}",
        "2026-03-31": "parts: {part: web, ref: A-1, status: back-ordered}",
    }
    (part,) = found(tmp_path, notes).parts
    assert (part.state, part.status) == ("late", PartStatus.BACK_ORDERED)
    assert (str(part.since), str(part.due)) == ("2026-03-06", "2026-03-30")
    assert part.place.path == "notes/2026-03-31.md"


def test_work_away_stands_by_the_day_it_is_due(tmp_path: Path) -> None:
    """What has no day comes last; what is back is gone; a part sent back is away too."""
    notes = {
        "2026-03-01": "away:\n"
        "- {what: seats, with: Shop, sent: 2026-03-01}\n"
        "- {what: spar, task: W1, with: Mill, sent: 2026-03-01, due: 2026-04-03}\n"
        "- {what: cowl, with: Paint, sent: 2026-02-01, due: 2026-03-03}\n"
        "- {what: leg, with: Mill, sent: 2026-02-01, due: 2026-03-03, back: 2026-03-01}\n"
        "parts: [{part: socket, ref: S, status: received}, {part: gone, ref: G, status: received}]",
        "2026-03-02": "parts:\n"
        "- {part: socket, ref: S, status: sent back, from: Maker, for: E1, due: 2026-03-15}\n"
        "- {part: gone, ref: G, status: sent back}",
        "2026-03-04": "parts: {part: gone, ref: G, status: received}",
    }
    told = [
        f"{each.what} {each.firm} {each.task} {each.sent} {each.due}"
        for each in found(tmp_path, notes).away
    ]
    assert told == [
        "cowl Paint None 2026-02-01 2026-03-03",
        "socket Maker E1 2026-03-02 2026-03-15",
        "spar Mill W1 2026-03-01 2026-04-03",
        "seats Shop None 2026-03-01 None",
    ]


@pytest.mark.parametrize(
    ("again", "expected"),
    [
        ("2026-10-01", "2026-10-01"),
        ("2026-07", "2026-07-01"),
        ("when the rows are done", "None"),
        ("2026-13", "None"),
    ],
)
def test_the_day_of_a_decision(tmp_path: Path, again: str, expected: str) -> None:
    """A day, a month from its first on, or words that name no day; all are kept."""
    (each,) = found(tmp_path, {"2026-03-01": f"decided: {{what: x, again: {again}}}"}).decisions
    assert str(each.on) == expected


def test_a_decision_taken_again_stands_as_it_was_taken_last(tmp_path: Path) -> None:
    """The same words, case and blanks apart: without `again` it is settled."""
    notes = {
        "2026-03-01": "decided: [{what: Flush rivets, again: 2026-03-20}, {what: No, again: soon},"
        " {what: b, again: 2026-03-19}, {what: never}]",
        "2026-03-20": "decided: [{what: flush  rivets}, {what: 'no', again: 2026-05-01}]",
    }
    told = [f"{each.line.what} {each.on}" for each in found(tmp_path, notes).decisions]
    assert told == ["b 2026-03-19", "no 2026-05-01"]


def test_torque_stands_from_tail_to_nose(tmp_path: Path) -> None:
    """What the register has as open, in its order, and nothing that is closed."""
    bolt = "torqued: {{where: {}, to: 22 in-lb, wrench: small, marked: {}}}"
    work = "tasks: {{task: {}, hours: 1h}}\n" + bolt
    notes = {
        "2026-03-01": work.format("F1", "seat", "no"),
        "2026-03-02": work.format("E1", "hinge", "no"),
        "2026-03-03": work.format("E1", "horn", "yes"),
    }
    files = {
        "worklist.yaml": "areas: [{area: F, name: Cockpit, tasks: [F1]}, "
        "{area: E, name: Tail, tasks: [E1]}]\n"
    }
    files |= {f"notes/{day}.md": f"---\n{text}\n---\n" for day, text in notes.items()}
    book = ledger_of(tmp_path, files)
    assert [str(each.line.where) for each in still_open(book, TODAY).torque] == ["hinge", "seat"]


STATUSES = st.sampled_from([None, *PartStatus])


@settings(max_examples=many(60), deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), STATUSES, st.booleans()), max_size=12))
def test_no_snag_and_no_part_is_forgotten(rows: list[tuple[int, PartStatus | None, bool]]) -> None:
    """Every snag without a fix and every part that is not here stands once, whatever the day."""
    book = _book(rows)
    for shift in (-400, 0, 400):
        open_now = still_open(book, TODAY + timedelta(days=shift))
        assert sorted(each.snag.number for each in open_now.snags) == sorted(
            snag.number for snag in book.snags if snag.fixed is None
        )
        here = {None, PartStatus.RECEIVED, PartStatus.FITTED, PartStatus.SCRAPPED}
        waiting = [part for part in book.parts if part.status not in here]
        told = [each.part for each in open_now.parts]
        assert len(told) + len(open_now.away) == len(waiting)
        assert all(part in waiting for part in told)
        assert [AWAITED.index(each.state) for each in open_now.parts] == sorted(
            AWAITED.index(each.state) for each in open_now.parts
        )


def _book(rows: list[tuple[int, PartStatus | None, bool]]) -> Ledger:
    """One note a row: a sighting of one of five parts, a snag, and perhaps a fix of the first."""
    notes = []
    for at, (part, status, fixes) in enumerate(rows):
        told = f", status: {status.value}" if status else ""
        text = f"---\ndate: 2026-03-{at + 1:02}\nparts: {{part: p{part}, ref: r{part}{told}}}\n"
        text += "snags: {snag: nick}\n" + ("fixed: 2026-03-01.1\n" if fixes else "") + "---\n"
        notes.append(read(text.encode(), f"notes/{at:02}.md")[0])
    snags, _ = number_snags(notes)
    return replace(making.ledger(notes=notes, parts=follow_parts(notes)), snags=snags)
