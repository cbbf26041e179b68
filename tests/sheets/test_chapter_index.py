"""From A to Z: any word of a task's name finds it, with who did it and who looked at it."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.coverage import coverage
from builderlog.deciding.findings import find
from builderlog.deciding.words import duration_clock
from builderlog.sheets.chapter import Cell
from builderlog.sheets.chapter_index import index, index_words, sort_key
from builderlog.sheets.material import material
from tests import making
from tests.deciding.claim_journals import journal
from tests.sheets.chapter_reader import example, made, plain, rows, sections, tables


def test_a_task_is_found_by_each_word_of_its_name() -> None:
    """Under `aileron` stand the tasks of the ailerons, who worked on them and who saw it."""
    [table] = tables(sections(made(index, example()))["a-to-z-words"].blocks)
    word, found = "", dict[str, list[dict[str, Cell]]]()
    for row in rows(table):
        word = row["Word"].words or word
        found.setdefault(word, []).append(row)
    assert [row["Task"].to for row in found["aileron"]] == ["task-W03", "task-W08", "task-W09"]
    assert found["aileron"][1]["Who worked on it"].words == "Runa Aldermark and Pim Tessendal"
    assert found["aileron"][2]["Who worked on it"].words == "not begun"
    assert found["fin"][0]["Who looked at it"].words == "Hedda Quillane"
    assert list(found) == sorted(found, key=sort_key)


def test_every_task_that_applies_is_in_it() -> None:
    """Each task of the list leads to its place from at least one word."""
    [table] = tables(sections(made(index, example()))["a-to-z-words"].blocks)
    led = {row["Task"].to for row in rows(table)}
    tasks = example().worklist.by_id.values()
    assert led == {f"task-{task.id}" for task in tasks if task.applies}


def test_each_person_has_their_tasks_and_their_sum() -> None:
    """The time on all tasks is the sum of the rows below it, and that of the record."""
    [table] = tables(sections(made(index, example()))["a-to-z-people"].blocks)
    told = plain(table)
    start = [row["Person"] for row in told].index("Osk Verrimane, paid")
    assert (told[start]["Task"], told[start]["Time"]) == ("On all tasks", "2:30")
    assert told[start + 1]["Task"] == "I02 Wiring harness behind the panel"
    assert told[start + 1]["When"] == "2026-05-14"
    heads = [row["Time"] for row in told if row["Person"]]
    seconds: dict[str, int] = {}
    for record in coverage(example()):
        for each in record.people:
            seconds[each.name] = seconds.get(each.name, 0) + each.seconds
    assert sorted(heads) == sorted(map(duration_clock, seconds.values()))


def test_who_looked_has_their_tasks() -> None:
    """Whoever came, or stood by at a nut, is found with the tasks they looked at."""
    [table] = tables(sections(made(index, example()))["a-to-z-lookers"].blocks)
    names = [row["Person"] for row in plain(table) if row["Person"]]
    assert names == ["Hedda Quillane", "Pim Tessendal"]


def test_words_by_which_one_looks_things_up() -> None:
    """Small words and numbers are left out, hyphens and apostrophes hold a word together."""
    assert index_words("Fit the Tail-cone's No 4 rib, and fit it") == (
        "fit",
        "tail-cone's",
        "no",
        "rib",
    )
    assert index_words("1 2 3") == ()


def test_a_name_without_a_word_is_found_by_its_id(tmp_path: Path) -> None:
    """A task named by signs or numbers alone stands under its id."""
    ledger = journal(tmp_path, ['"7", name: "1 2"'], {})
    [table] = tables(sections(made(index, ledger))["a-to-z-words"].blocks)
    assert [row["Word"] for row in plain(table)] == ["7"]


def test_the_alphabet_knows_no_accents() -> None:
    """Words with accents stand where a reader looks for them, in one order everywhere."""
    assert sorted(["zinc", "\u00e9tage", "Elevator", "e\u0301tage"], key=sort_key) == [
        "Elevator",
        "e\u0301tage",
        "\u00e9tage",
        "zinc",
    ]


def test_without_a_task_there_is_none() -> None:
    """The chapter is left out where the record names no task."""
    assert list(index(material(find(making.ledger())))) == []
