"""The words of the claim's pages: the same count as the tables, gaps where they belong, help."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.claim_words import CAUTION
from builderlog.deciding.findings import find
from builderlog.deciding.words import duration_clock
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.settings import Task
from builderlog.reading.problem import Place, gap
from builderlog.sheets.evidence import AreaEvidence, ClaimEvidence, claim_evidence
from builderlog.sheets.record_claim import claim, gaps
from tests import making
from tests.deciding.claim_journals import journal
from tests.deciding.made_claims import book, claimed, hours, rules, task_lists
from tests.knowing.journals import ledger_of
from tests.sheets.claim_rows import PUBLISHED, by_rows, ruled

POINTS, MARKS, HOURS = rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5")
PEOPLE = "title: A\nbuilder: Ines\npeople: {Ines: builder, Ada: helper, Osk: paid}\n"
ASSEMBLED = "state: done, credit: {maker: 0.4, assembly: 0.6}"


def evidence(ledger: Ledger) -> ClaimEvidence:
    """The pages' words of a journal with a rulebook."""
    found = claim_evidence(find(ledger))
    assert found is not None
    return found


def on_disk(root: Path, files: dict[str, str]) -> ClaimEvidence:
    """The same of these files, with people and the checklist of points."""
    more = {"journal.yaml": f"{PEOPLE}rulebook: us-checklist\n"}
    return evidence(ledger_of(root, {**more, **files}))


def area(found: ClaimEvidence, name: str) -> AreaEvidence:
    """One of its areas."""
    return next(each for each in found.areas if each.id == name)


def test_without_a_rulebook_there_is_nothing_to_say() -> None:
    """A journal that names no rulebook has no page of a claim."""
    assert claim_evidence(find(book(claimed("W1", (1, 0, 9, 0))))) is None


@given(task_lists(), st.sampled_from((POINTS, MARKS, HOURS)), st.none() | st.integers(0, 9))
def test_pages_and_tables_have_the_same_numbers(
    tasks: list[Task], by: Rulebook, kit: int | None
) -> None:
    """Every row of the page's count is the table's; hours stand there as hours and minutes."""
    work = [hours(2, task.id, Work.FABRICATION) for task in tasks if task.done]
    found = find(ruled(book(*tasks, work=work, kit=kit), by))
    shown, table = evidence(found.ledger), by_rows(claim(found))
    assert [row.id for row in shown.rows] == [row["area"] for row in table]
    for row, told in zip(shown.rows, table, strict=True):
        number, *cells, share = row.cells
        columns = [told[side.value] for side in Side]
        if by.measure is Measure.HOURS:
            columns = [duration_clock(int(float(cell) * 3600)) for cell in columns]
        assert (number, cells) == (told["tasks"], columns)
        assert (share == "\N{EN DASH}") is (told["share"] == "")


@given(task_lists(), st.sampled_from((POINTS, MARKS)))
def test_the_rows_of_an_area_add_up_to_its_own(tasks: list[Task], by: Rulebook) -> None:
    """Tasks that apply add up, column by column, to the area's last row and to the count's."""
    found = evidence(ruled(book(*tasks), by))
    counted = {row.id: list(row.cells[1:-1]) for row in found.rows}
    for each in found.areas:
        rows = [row for row in each.rows if row.applies and not row.whole]
        sums = [sum(float(row.cells[at]) for row in rows) for at in range(len(Side))]
        last = each.rows[-1]
        if rows:
            assert (last.whole, list(last.cells)) == (True, counted[each.id])
            assert [float(cell) for cell in last.cells] == pytest.approx(sums)
        else:
            assert each.id not in counted


@pytest.mark.parametrize("by", [POINTS, MARKS])
def test_a_task_that_is_not_on_the_aircraft_is_shown_as_such(by: Rulebook) -> None:
    """It has N/A in every column, is in no sum and has no evidence of its own."""
    tasks = (
        claimed("W1", (4, 0, 6, 0)),
        claimed("W2", applies=False),
        claimed("F1", applies=False),
    )
    found = evidence(ruled(book(*tasks), by))
    rows = {row.id: row for row in area(found, "W").rows}
    assert (rows["W2"].cells, rows["W2"].applies) == (("N/A",) * 5, False)
    assert rows["W1"].cells == rows[""].cells
    assert [task.id for task in area(found, "W").tasks] == ["W1"]
    assert ([row.id for row in area(found, "F").rows], area(found, "F").tasks) == (["F1"], ())


def test_hours_are_not_told_by_task() -> None:
    """By hours an area has no table; what is not on the aircraft is named, the reason is given."""
    tasks = (claimed("W1"), claimed("W2", applies=False))
    found = evidence(ruled(book(*tasks, work=[hours(3, "W1", Work.ASSEMBLY)], kit=2), HOURS))
    assert (area(found, "W").rows, area(found, "W").left_out) == ((), ("W2 Task W2",))
    assert [row.cells for row in found.rows] == [
        ("1", "0:00", "0:00", "3:00", "0:00", "0:00", "\N{EN DASH}"),
        ("1", "2:00", "0:00", "3:00", "0:00", "0:00", "60.0 %"),
    ]
    assert "for the whole kit" in found.rows_note
    assert evidence(ruled(book(*tasks), POINTS)).rows_note == ""


def test_derived_marks_are_shown_as_derived() -> None:
    """Only where marks count, and only at a task whose marks nobody gave."""
    tasks = (claimed("W1", (3, 0, 7, 0)), claimed("W2", marks=(1, 1)), claimed("W3"))
    remarks = [row.remark for row in area(evidence(ruled(book(*tasks), MARKS)), "W").rows]
    assert remarks == ["marks derived", "", "", ""]
    points = area(evidence(ruled(book(*tasks), POINTS)), "W").rows
    assert {row.remark for row in points} == {""}


@pytest.mark.parametrize("name", PUBLISHED)
def test_headings_are_the_forms_where_there_is_one(name: str) -> None:
    """Over a column stand the form's words where the rulebook is that form's, else our own."""
    ledger = ruled(book(claimed("W1")), name)
    assert ledger.rulebook
    found, form = evidence(ledger), ledger.rulebook.headings
    ours = [side.value.capitalize() for side in Side]
    assert list(found.headings) == [
        form.get(side, own) for side, own in zip(Side, ours, strict=True)
    ]
    assert (found.cautions[-1], found.rulebook) == (CAUTION, ledger.rulebook.title)
    assert ("Columns of" in dict(found.facts)) is bool(form)


def test_free_tasks_stand_in_one_area(tmp_path: Path) -> None:
    """Without a work list all tasks that notes name stand together, and nothing is counted."""
    notes = {"notes/2026-03-01.md": "---\ntasks: [{task: skins, hours: 1h}, {task: hinge}]\n---\n"}
    found = on_disk(tmp_path, {"worklist.yaml": "(none)", **notes})
    (only,) = found.areas
    assert (only.id, only.title, only.rows) == ("All tasks", "All tasks", ())
    assert [task.title for task in only.tasks] == ["hinge", "skins"]
    assert [(row.id, row.title) for row in found.rows] == [("", "In all")]


def test_an_id_that_is_its_own_name_stands_once(tmp_path: Path) -> None:
    """Where an area or a task has no name, its id alone is its title."""
    found = on_disk(
        tmp_path, {"worklist.yaml": "areas: {area: W, tasks: [W1, {task: W2, name: Rib}]}"}
    )
    assert area(found, "W").title == "W"
    assert [row.title for row in area(found, "W").rows] == ["W1", "W2 Rib", "In all"]
    assert [task.title for task in area(found, "W").tasks] == ["W1", "W2 Rib"]


def test_what_is_missing_stands_with_its_own_task(tmp_path: Path) -> None:
    """Two tasks in one line, and one whose id begins with another's, each have what is theirs."""
    lists = (
        f"areas: [{{area: W, tasks: [{{task: W1, {ASSEMBLED}}}, {{task: W2, {ASSEMBLED}}}, "
        f'{{task: "W1: a", {ASSEMBLED}}}]}}]'
    )
    note = (
        '---\ntasks: [{task: "W1: a", hours: 1h, who: [Osk, Ines]}, {task: W2, hours: 1h}]\n---\n'
    )
    found = on_disk(tmp_path, {"worklist.yaml": lists, "notes/2026-03-01.md": note})
    told = {task.id: " ".join(task.gaps) for task in area(found, "W").tasks}
    assert told["W1"].startswith("W1: done and 0.6 of it claimed")
    assert "paid help" not in told["W1"] + told["W2"]
    assert told["W1: a"].startswith("W1: a: paid help on record")
    assert "no time of the amateurs" not in told["W2"]


def test_what_is_missing_of_an_area_stands_with_the_area(tmp_path: Path) -> None:
    """That no builder is seen in an area's pictures is told at its head, explained or not."""
    notes = {
        "2026-03-01": "tasks: {task: W1, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W1}",
    }
    more = 'rulebook: us-checklist\nanswers: [{gap: "no-builder-seen: W", because: I build alone}]'
    found = evidence(journal(tmp_path, [f"W1, {ASSEMBLED}", "F1"], notes, more))
    (words,) = area(found, "W").gaps
    assert words.startswith("W: 1 picture of it")
    assert words.endswith("(explained: I build alone)")
    assert area(found, "F").gaps == ()
    assert not any(
        "builder seen" in words for task in area(found, "W").tasks for words in task.gaps
    )


def test_gaps_stand_as_in_the_table(tmp_path: Path) -> None:
    """The page of gaps has the table's rows in its order, each with the file and line it is in."""
    tasks = [f"W1, {ASSEMBLED}", "W2, state: done"]
    notes = {"2026-03-01": "tasks: W2\nhours: 1h\nphotos: photos/a.jpg"}
    ledger = journal(tmp_path, tasks, notes)
    table, shown = by_rows(gaps(find(ledger))), evidence(ledger).gaps
    assert len(shown) > 2
    assert [(row.weight, row.told, row.explained) for row in shown] == [
        (row["weight"], row["told"], row["explained"]) for row in table
    ]
    assert [row.where.words for row in shown] == [
        f"{row['path']}, line {row['line']}" for row in table
    ]
    assert {row.where.path for row in shown} == {"worklist.yaml", "notes/2026-03-01.md"}


def test_a_gap_in_no_file_leads_nowhere() -> None:
    """What stands in a place that is no file of the journal is named without a link."""
    told = gap(Place("elsewhere.md", 3), "thin", "It is thin")
    (row,) = evidence(ruled(replace(making.ledger(), problems=(told,)), POINTS)).gaps
    assert (row.where.words, row.where.path) == ("elsewhere.md, line 3", "")


def test_help_has_its_days_papers_and_notes(tmp_path: Path) -> None:
    """Days are told as a span, time to no task as such, papers by the files that they name."""
    files = {
        "notes/2026-03-01.md": "---\nhours: {Ada: 1h30, Osk: 1h}\n"
        "parts: {part: Drive, receipt: ./receipts//a.pdf}\n---\n",
        "notes/2026-03-02.md": "---\nhours: {Ada: 1h}\n---\n",
        "notes/2026-03-05.md": "---\nhours: {Ada: 1h}\n---\n",
        "notes/2026-03-06.md": "---\naway: {what: Covers, task: W14, with: A shop}\n---\n",
        "receipts/a.pdf": "x",
    }
    ada, osk, away = on_disk(tmp_path, files).help
    assert (ada.kind, ada.who, ada.task, ada.time) == ("unpaid", "Ada", "no task", "3:30")
    assert ada.days == "2026-03-01 to 2026-03-05, 3 days"
    assert [note.words for note in ada.notes] == ["2026-03-01", "2026-03-02", "2026-03-05"]
    assert [(paper.words, paper.path) for paper in osk.receipts] == [("a.pdf", "receipts/a.pdf")]
    assert (away.kind, away.time, away.days, away.task) == ("away, not said as what", "", "", "W14")


def test_the_evaluation_leads_to_its_paper(tmp_path: Path) -> None:
    """The document by which the kit was evaluated is linked where the journal has the file."""
    kit = f"{PEOPLE}rulebook: us-checklist\nkit evaluated: {{file: papers/kit.pdf}}\n"
    found = on_disk(tmp_path, {"journal.yaml": kit, "papers/kit.pdf": "x"})
    assert [(paper.words, paper.path) for paper in found.papers] == [("kit.pdf", "papers/kit.pdf")]
    gone = on_disk(tmp_path / "b", {"journal.yaml": kit})
    assert [(paper.words, paper.path) for paper in gone.papers] == [("kit.pdf", "")]
    assert on_disk(tmp_path / "c", {}).papers == ()
