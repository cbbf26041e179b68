"""`start --from-table`: a journal from a spreadsheet, whole or not at all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builderlog.command.opening import list_journal
from builderlog.knowing.journal import read_journal
from tests.command.running import run

TABLE = """\
Date,Hours,Who,Task,Description,Weather
13/4/26,3:15,Ines & Tomas,W14,"Skins, both",sun
3/5/26,2.5,me,W15,Hinges,
"""
WHO = ("--builder", "Ines", "--person", "Tomas=helper")


def table(folder: Path, text: str = TABLE) -> Path:
    """A table beside the journal to come."""
    file = folder / "hours.csv"
    file.write_bytes(text.encode())
    return file


def test_a_journal_from_a_table(tmp_path: Path) -> None:
    """Notes, people, tasks and the day of the beginning come from the table, without a mistake."""
    said = run("start", tmp_path / "new", "--from-table", table(tmp_path), *WHO)
    assert said.status == 0
    assert "2 rows of" in said.out
    assert "became 2 notes of 2 days, 2026-04-13 to 2026-05-03" in said.out
    assert "dates written in figures were read as day-month-year" in said.out
    assert f"Next: builderlog check {tmp_path / 'new'}" in said.out
    assert "hours.csv:1:33: column-not-understood" in said.err
    ledger = read_journal(list_journal(tmp_path / "new"))
    assert str(ledger.settings.started.day if ledger.settings.started else "") == "2026-04-13"
    assert {p.name: p.role for p in ledger.settings.people} == {
        "Ines": "builder",
        "Tomas": "helper",
    }
    tally = json.loads(run("tally", tmp_path / "new", "--json").out)
    assert tally["by_person"] == {"Ines": 20700, "Tomas": 11700}
    assert tally["by_task"]["W14"]["seconds"] == 23400
    checked = run("check", tmp_path / "new")
    assert (checked.status, "mistake" in checked.err) == (0, False)
    assert run("publish", tmp_path / "new").status == 0


def test_with_a_mistake_nothing_is_laid_out(tmp_path: Path) -> None:
    """All mistakes are told at once, and no folder is made."""
    broken = f"{TABLE}soon,1,Osk,,,\n2026-05-04,all day,,,,\n"
    said = run("start", tmp_path / "new", "--from-table", table(tmp_path, broken), *WHO)
    assert (said.status, said.out) == (1, "")
    for place in ("4:1: unreadable", "4:8: unknown-person", "5:12: unreadable"):
        assert f"hours.csv:{place}" in said.err
    assert "3 mistakes, 2 doubts; no journal was laid out" in said.err
    assert not (tmp_path / "new").exists()


def test_a_list_of_ours_beside_a_table(tmp_path: Path) -> None:
    """With --worklist the table's tasks are looked up by id and name, and the list stays whole."""
    words = ("--from-table", table(tmp_path), "--worklist", "sheet-metal", *WHO)
    said = run("start", tmp_path / "new", *words)
    assert said.status == 0
    told = said.err.count("unknown-task")
    tasks = read_journal(list_journal(tmp_path / "new")).worklist.by_id
    assert told == sum(task not in tasks for task in ("W14", "W15"))
    assert run("check", tmp_path / "new").status == 0


@pytest.mark.parametrize("word", ["Tomas", "=helper", "Tomas=boss"])
def test_a_person_without_a_role(tmp_path: Path, word: str) -> None:
    """A person needs a name and a role that there is."""
    said = run("start", tmp_path / "new", "--person", word)
    assert said.status == 2
    assert "write NAME=ROLE with builder, helper, paid" in said.err


def test_what_is_no_table(tmp_path: Path) -> None:
    """A file that is not there is refused; a spreadsheet's own file is told; nothing is made."""
    assert run("start", tmp_path / "new", "--from-table", tmp_path / "absent").status == 2
    said = run("start", tmp_path / "new", "--from-table", table(tmp_path, "PK\x03\x04"))
    assert (said.status, "not-a-table" in said.err) == (1, True)
    assert not (tmp_path / "new").exists()


def test_the_order_of_dates_can_be_said(tmp_path: Path) -> None:
    """Where no date tells its order, --dates does."""
    file = table(tmp_path, "date,hours\n3/4/26,1\n")
    assert run("start", tmp_path / "a", "--from-table", file).status == 1
    assert (
        run("start", tmp_path / "b", "--from-table", file, "--dates", "month-day-year").status == 0
    )
    assert (tmp_path / "b" / "notes" / "2026" / "2026-03-04.md").exists()
