"""Help disclosed: paid help before anyone asks, sums as the totals have them, papers beside it."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.totals import tally
from builderlog.deciding.words import duration_clock
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Chapter, Paragraph
from builderlog.sheets.chapter_help import help_chapter
from tests.knowing.journals import ledger_of
from tests.sheets.chapter_reader import example, made, of_notes, plain, rows, said, sections, tables

PEOPLE = "title: A\nbuilder: Ines\npeople: {Ines: builder, Ada: {role: helper, full name: Ada Q}"
JOURNAL = {"journal.yaml": f"{PEOPLE}, Osk: paid}}\nrulebook: us-checklist\n"}


def first(chapter: Chapter) -> str:
    """The sentence with which it begins."""
    block = chapter.blocks[0]
    assert isinstance(block, Paragraph)
    return block.words


def helped(root: Path, *notes: str, files: dict[str, str] | None = None) -> Chapter:
    """The chapter of these notes."""
    return made(help_chapter, of_notes(root, *notes, files={**JOURNAL, **(files or {})}))


def test_without_paid_help_it_says_so_first(tmp_path: Path) -> None:
    """The first sentence says that none is on record and none is claimed."""
    chapter = helped(tmp_path, "date: 2026-03-01\nhours: {Ines: 1h, Ada: 2h}")
    assert first(chapter) == "There was no paid help: none is on record and none is claimed."
    [unpaid] = tables(sections(chapter)["help-unpaid"].blocks)
    assert plain(unpaid)[0] == {
        "Who": "Ada Q",
        "Task": "given to no task",
        "Hours": "2:00",
        "Days": "2026-03-01",
        "Notes": "[2026-03-01]",
    }


def test_paid_help_is_disclosed_with_receipts(tmp_path: Path) -> None:
    """Who, which task, how long, which days, which receipt; then what went away for pay."""
    note = (
        "date: 2026-03-01\nhours: {Ines: 1h, Osk: 2h}\ntasks: {task: W14, hours: 2h, who: Osk}\n"
        "parts: {part: Fee, receipt: ./receipts//a.pdf}\n"
        "away: {what: Covers, task: W15, with: A shop, as: paid, sent: 2026-03-01}"
    )
    chapter = helped(tmp_path, note, files={"receipts/a.pdf": "x"})
    assert first(chapter).startswith("There was paid help: Osk worked for pay; 1 piece of work")
    paid, away = tables(sections(chapter)["help-paid"].blocks)
    assert plain(paid)[0]["Task"] == "W14"
    assert rows(paid)[0]["Task"].to == "task-W14"
    assert [link.path for link in rows(paid)[0]["Receipts"].links] == ["receipts/a.pdf"]
    assert (plain(paid)[-1]["Hours"], paid.sums) == ("2:00", 1)
    assert plain(away)[0]["Sent, back"] == "sent 2026-03-01, not yet back"


def test_credit_for_paid_help_is_told_before_there_was_any(tmp_path: Path) -> None:
    """What the work list gives to paid help is disclosed, and that nothing was given yet."""
    tasks = "areas: {area: W, tasks: [{task: W1, credit: {paid: 0.3}}]}"
    chapter = helped(tmp_path, "date: 2026-03-01", files={"worklist.yaml": tasks})
    assert first(chapter).startswith("No paid help is on record, but some is claimed as planned")
    [claimed] = tables(sections(chapter)["help-paid"].blocks)
    assert (claimed.rows[0][1].words, claimed.rows[0][3].words) == ("0.3", "nothing yet")


def test_other_work_away_and_parts_sent_back_stand_apart(tmp_path: Path) -> None:
    """Work by the maker, by somebody unsaid, and a part at its maker each have their table."""
    note = (
        "date: 2026-03-01\naway:\n  - {what: Tank, with: The maker, as: maker, back: 2026-03-01}\n"
        "  - {what: Box, task: W15}\n"
        "parts: {part: Skin, ref: S1, status: sent back, from: The maker, for: W14}"
    )
    chapter = helped(
        tmp_path, note, "date: 2026-03-09\nparts: {part: Skin, ref: S1, status: received}"
    )
    [away] = tables(sections(chapter)["help-away"].blocks)
    assert [row["Done by"] for row in plain(away)] == ["its maker", "who did it is not said"]
    assert rows(away)[1]["With"].weak
    [back] = tables(sections(chapter)["help-sent-back"].blocks)
    told = plain(back)[0]["Sent back, here again"]
    assert told == "sent 2026-03-01, here again 2026-03-09"


def test_everyone_has_the_hours_of_the_tally() -> None:
    """By person, by role and in all: the seconds that `tally` sums, paid and unpaid ones too."""
    ledger: Ledger = example()
    found = tally(ledger)
    chapter = made(help_chapter, ledger)
    [table] = tables(sections(chapter)["help-everyone"].blocks)
    shown = plain(table)
    by_name = {row["In the notes"]: row["Hours on record"] for row in shown if row["In the notes"]}
    assert by_name == {name: duration_clock(s) for name, s in found.by_person.items()}
    sums = [row["Hours on record"] for row in shown[-4:]]
    assert sums == [duration_clock(s) for s in (*found.by_role.values(), found.seconds)]
    [unpaid] = tables(sections(chapter)["help-unpaid"].blocks)
    assert plain(unpaid)[-1]["Hours"] == duration_clock(found.by_role["helper"])


def test_many_notes_are_counted(tmp_path: Path) -> None:
    """More notes than a cell holds are told by their number, and the table names them."""
    notes = [f"date: 2026-03-{day:02d}\nhours: {{Ada: 1h}}" for day in range(1, 12)]
    [table] = tables(sections(helped(tmp_path, *notes))["help-unpaid"].blocks)
    assert plain(table)[0]["Notes"] == "11 notes, named in help.csv"
    assert plain(table)[0]["Days"] == "2026-03-01 to 2026-03-11, 11 days"


def test_a_rulebook_that_rules_paid_help_out_is_told(tmp_path: Path) -> None:
    """A rulebook for projects without bought help, in a journal with some: the chapter says so."""
    files = {
        "journal.yaml": JOURNAL["journal.yaml"].replace("us-checklist", "us-8000-38"),
        "notes/2026-03-01.md": "---\nhours: {Osk: 2h}\n---\n",
    }
    words = said(made(help_chapter, ledger_of(tmp_path, files)).blocks)
    assert "without bought help" in words
