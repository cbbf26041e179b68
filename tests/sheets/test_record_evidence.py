"""The record beside the claim: each task's numbers, the questions answered, all help."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding import sums
from builderlog.deciding.claim_words import units_text
from builderlog.deciding.findings import find
from builderlog.deciding.portion import build_work
from builderlog.deciding.task_columns import columns_of
from builderlog.deciding.totals import tally
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Side
from builderlog.knowing.settings import Role, Task
from builderlog.sheets.record_evidence import claim_tasks, helped, task_answers
from tests import making
from tests.deciding.claim_journals import journal
from tests.deciding.made_claims import book, claimed, rules, task_lists
from tests.knowing.journals import ledger_of
from tests.sheets.claim_rows import by_rows, ruled

FIRST = making.day("2026-01-01")
TASKS = ("W1", "T2", None)
EVENING = """\
hours: {Ines: 4h, Ada: 1h, Osk: 0:30}
tasks:
  - {task: W1, hours: 2h, work: fabrication, per: manual 4-1}
  - {task: W1, hours: 1h, work: assembly, who: [Ines, Ada]}
  - {task: W2, hours: 0:30, who: Osk}
measured: [{what: gap, value: 1 mm}, {what: twist}]
torqued: {where: hinge}
process: {what: primer}
photos:
  - {photo: photos/a.jpg, shows: [W1], seen: [Ines]}
  - {photo: photos/b.jpg, shows: [W1], seen: [Ada]}
  - {photo: photos/c.jpg, shows: [W1], as: page}
parts:
  - {part: Bolt, for: W1, receipt: receipts/bolt.pdf}
visits: {who: Hedda, looked at: W1}
away: {what: Covers, task: W1, with: A shop, as: paid, sent: 2026-03-01}
"""


@st.composite
def rows_of_work(draw: st.DrawFn) -> Worked:
    """One row of work of anybody on any task, or on none, within three weeks."""
    on = FIRST + timedelta(days=draw(st.integers(0, 20)))
    who = draw(st.sampled_from(sorted(making.PEOPLE)))
    task, kind = draw(st.sampled_from(TASKS)), draw(st.sampled_from(list(Work)))
    return making.worked(on.isoformat(), draw(st.just(0) | st.integers(0, 9000)), task, who, kind)


def worked(rows: list[Worked], until: str | None = "2026-01-11") -> Ledger:
    """A journal of this work on two tasks, and its certificate."""
    return book(claimed("W1"), claimed("T2"), work=rows, until=until)


@given(task_lists(), st.sampled_from((Measure.POINTS, Measure.MARKS)))
def test_what_is_claimed_of_a_task_is_its_own_columns(tasks: list[Task], measure: Measure) -> None:
    """Each task that applies has a row with its own columns, and together they are the count's."""
    found = find(ruled(book(*tasks), rules(measure)))
    rows = {row["task"]: row for row in by_rows(claim_tasks(found))}
    assert set(rows) == {task.id for task in tasks if task.applies}
    for task in (task for task in tasks if task.applies):
        columns = columns_of(task, measure)
        told = {side.value: rows[task.id][side.value] for side in Side}
        assert told == {side.value: units_text(columns.of((side,)), measure) for side in Side}


def test_derived_marks_are_told_as_derived() -> None:
    """Marks that nobody gave have `yes` beside them; where points count there is no such cell."""
    tasks = (claimed("W1", (3, 0, 7, 0)), claimed("W2", marks=(1, 1)), claimed("W3"))
    marks = by_rows(claim_tasks(find(ruled(book(*tasks), rules(Measure.MARKS)))))
    assert [row["derived"] for row in marks] == ["yes", "no", "no"]
    points = claim_tasks(find(ruled(book(*tasks), rules())))
    assert "derived" not in points.header


def test_credit_stands_as_given_where_hours_are_counted() -> None:
    """By hours a task's columns show the work list's credit, and the meaning says points."""
    ledger = ruled(book(claimed("W1", (3, 0, 7, 0)), kit=5), rules(Measure.HOURS))
    sheet = claim_tasks(find(ledger))
    assert [by_rows(sheet)[0][side.value] for side in Side] == ["0.3", "0.0", "0.7", "0.0", "0.0"]
    assert "points" in dict(zip(sheet.header, sheet.headings, strict=True))["maker"].meaning


def test_a_task_has_what_the_record_has_of_it(tmp_path: Path) -> None:
    """Seconds by kind, people with their role, days, and the number of each kind of evidence."""
    files = {
        "journal.yaml": "title: A\nbuilder: Ines\nrulebook: us-checklist\n"
        "people: {Ines: builder, Ada: helper, Osk: paid}\n",
        "worklist.yaml": "areas: {area: W, name: Wings, tasks: [{task: W1, name: Skin}, W2, W3]}\n",
        "notes/2026-03-01.md": f"---\n{EVENING}---\n",
        **{f"photos/{name}.jpg": "(picture)" for name in "abc"},
        "receipts/bolt.pdf": "x",
    }
    one, two, three = by_rows(claim_tasks(find(ledger_of(tmp_path, files))))
    told = ("task", "area", "name", "fabrication_seconds", "assembly_seconds", "people", "first")
    assert [one[name] for name in told] == [
        *("W1", "W", "Skin", "7200", "7200"),
        *("Ines (builder); Ada (helper)", "2026-03-01"),
    ]
    counts = "notes pictures builder_seen measured torqued process visits away".split()
    assert [one[name] for name in counts] == ["1", "2", "1", "2", "1", "1", "1", "1"]
    assert one["receipts"] == "receipts/bolt.pdf"
    assert (two["paid_seconds"], two["people"]) == ("1800", "Osk (paid)")
    assert (three["notes"], three["people"], three["first"]) == ("0", "", "")


@given(st.lists(rows_of_work(), max_size=30), st.sampled_from((None, "2026-01-11", "2025-12-01")))
def test_seconds_of_tasks_add_up_to_the_tally(rows: list[Worked], until: str | None) -> None:
    """The amateurs' and the paid seconds of all tasks are the tally's, up to the certificate."""
    ledger = worked(rows, until)
    table = by_rows(claim_tasks(find(ledger)))
    tasked = [row for row in build_work(ledger) if row.task is not None]
    found = tally(replace(ledger, work=tuple(tasked)))
    assert sum(int(row["paid_seconds"]) for row in table) == found.by_role[Role.PAID]
    own = [int(row[f"{kind.value}_seconds"]) for row in table for kind in Work]
    assert sum(own) == found.by_role[Role.BUILDER] + found.by_role[Role.HELPER]


@pytest.mark.parametrize("more", ["rulebook: us-checklist", "rulebook: france-hours"])
def test_every_question_is_answered_once_for_each_task_begun(tmp_path: Path, more: str) -> None:
    """Tasks with a note, with work away alone and done ones have all questions, in their order."""
    tasks = ["W1", "W2, state: done", "W3", "W4", "W5"]
    notes = {
        "2026-03-01": "tasks: {task: W1, hours: 1h}\nparts: {part: Rib, for: W5, status: wanted}",
        "2026-03-02": "away: {what: Plating, task: W4, with: A shop, as: paid}",
    }
    ledger = journal(tmp_path, tasks, notes, more)
    assert ledger.rulebook
    rows = by_rows(task_answers(find(ledger)))
    asks = [question.ask.value for question in ledger.rulebook.questions]
    assert [(row["task"], row["asks"]) for row in rows] == [
        (task, ask) for task in ("W1", "W2", "W4") for ask in asks
    ]
    assert all(row["question"] and row["answer"] for row in rows)
    who = {row["task"]: row for row in rows if row["asks"] == "who"}
    assert (who["W1"]["answered"], who["W1"]["notes"]) == ("yes", "notes/2026-03-01.md")
    assert (who["W2"]["answered"], who["W2"]["notes"]) == ("no", "")
    assert who["W4"]["answer"] == "Plating away at A shop (paid)"


def test_answers_name_notes_that_exist(tmp_path: Path) -> None:
    """Each note behind an answer is one of the journal's files."""
    notes = {"2026-03-01": EVENING.replace("receipts/bolt.pdf", "photos/a.jpg"), "2026-03-02": ""}
    ledger = journal(tmp_path, ["W1", "W2"], notes)
    named = {
        path
        for row in by_rows(task_answers(find(ledger)))
        for path in row["notes"].split("; ")
        if path
    }
    assert named == {"notes/2026-03-01.md"}
    assert named <= ledger.files


def test_nothing_is_asked_without_a_rulebook(tmp_path: Path) -> None:
    """Where no rulebook is named, the answers have headings and no rows; the record has both."""
    notes = {"2026-03-01": "tasks: {task: W1, hours: 1h, work: assembly}"}
    ledger = journal(tmp_path, ["W1"], notes, "")
    found = find(ledger)
    assert task_answers(found).rows == ()
    assert task_answers(found).header[0] == "task"
    assert [row["assembly_seconds"] for row in by_rows(claim_tasks(found))] == ["3600"]


def test_free_tasks_claim_nothing(tmp_path: Path) -> None:
    """Without a work list tasks stand by alphabet, with their record and empty columns."""
    notes = {
        "notes/2026-03-01.md": "---\ntasks: [{task: skins, hours: 1h}, {task: =a, hours: 1h}]\n---"
    }
    files = {"worklist.yaml": "(none)", **notes}
    found = find(ruled(ledger_of(tmp_path, files), "us-checklist"))
    rows = by_rows(claim_tasks(found))
    assert [(row["task"], row["area"], row["name"]) for row in rows] == [
        ("=a", "", "=a"),
        ("skins", "", "skins"),
    ]
    assert {row[side.value] for row in rows for side in Side} == {""}
    assert {row["task"] for row in by_rows(task_answers(found))} == {"=a", "skins"}


@given(st.lists(rows_of_work(), max_size=30), st.sampled_from((None, "2026-01-11", "2025-12-01")))
def test_help_adds_up_to_the_tally(rows: list[Worked], until: str | None) -> None:
    """All rows of help come to the tally's helpers and paid people, up to the certificate."""
    ledger = worked(rows, until)
    table = by_rows(helped(find(ledger)))
    counted = tally(replace(ledger, work=build_work(ledger))).by_role
    for kind, role in (("unpaid", Role.HELPER), ("paid", Role.PAID)):
        assert sum(int(row["seconds"]) for row in table if row["kind"] == kind) == counted[role]
    for row in table:
        told = {f"notes/{day}.md" for day in row["days"].split("; ")}
        assert told == set(row["notes"].split("; "))


def test_help_stands_by_person_and_task_then_work_away(tmp_path: Path) -> None:
    """Unpaid people, paid people, work away and parts sent back, each with days and receipts."""
    notes = {
        "2026-03-01": "tasks: [{task: W1, hours: 1h, who: [Osk, Ada]}, "
        "{task: W2, hours: 2h, who: Osk}]\nhours: {Osk: 4h, Ada: 1h}\n"
        "parts: [{part: Work, for: W1, receipt: photos/a.jpg},"
        " {part: Drive, receipt: photos/b.jpg}]",
        "2026-03-02": "hours: {Ada: 0}\ntasks: {task: W1, who: Ada, hours: 0}",
        "2026-03-03": "away: {what: Covers, task: W2, with: A shop, sent: 2026-03-01}\n"
        "parts: {part: Skin, ref: S1, for: W1, from: The maker, status: sent back}",
        "2026-03-09": "away: {what: Covers, task: W2, with: A shop, as: paid, back: 2026-03-08}\n"
        "parts: {part: Skin, ref: S1, status: received}",
    }
    rows = by_rows(helped(find(journal(tmp_path, ["W1", "W2"], notes))))
    assert [
        (row["kind"], row["who"], row["what"], row["task"], row["seconds"]) for row in rows
    ] == [
        ("unpaid", "Ada", "", "W1", "3600"),
        ("paid", "Osk", "", "W1", "3600"),
        ("paid", "Osk", "", "W2", "7200"),
        ("paid", "Osk", "", "", "3600"),
        ("away, paid", "A shop", "Covers", "W2", ""),
        ("sent back", "The maker", "Skin S1", "W1", ""),
    ]
    assert [row["days"] for row in rows[-2:]] == [
        "2026-03-01; 2026-03-08",
        "2026-03-03; 2026-03-09",
    ]
    assert rows[0]["notes"] == "notes/2026-03-01.md"
    receipts = [row["receipts"] for row in rows]
    assert receipts[:4] == ["", "photos/a.jpg; photos/b.jpg", "photos/b.jpg", "photos/b.jpg"]
    assert (rows[0]["hours"], rows[0]["h:mm"], rows[4]["hours"]) == ("1.0000", "1:00", "")


def test_days_of_help_are_days_with_time(tmp_path: Path) -> None:
    """Help that begins after the certificate has no row at all."""
    notes = {"2026-03-01": "hours: {Ada: 1h}", "2026-04-01": "hours: {Ada: 2h, Osk: 2h}"}
    more = "rulebook: us-checklist\ncertificated: 2026-03-15"
    (row,) = by_rows(helped(find(journal(tmp_path, ["W1"], notes, more))))
    assert (row["who"], row["days"], row["seconds"]) == ("Ada", "2026-03-01", "3600")
    assert sums.seconds_of(build_work(journal(tmp_path, ["W1"], notes, more))) == 3600
