"""The dossier as a whole: every link finds its place, every task is there, whatever the journal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.findings import find
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import Task
from builderlog.reading.folder import Folder
from builderlog.sheets.chapter import Chapter, Dossier, Paragraph, Section, anchor
from builderlog.sheets.dossier import dossier
from builderlog.sheets.evidence_count import NOT_HERE
from tests.deciding.made_claims import book, hours, rules, task_lists
from tests.handover.odd_journal import odd_files
from tests.knowing.journals import ledger_of
from tests.sheets.chapter_reader import blocks_in, cells, example, said, tables
from tests.sheets.claim_rows import GRANTING, PUBLISHED, ruled

MADE = (rules(), rules(Measure.MARKS), rules(Measure.HOURS, ">= 0.5"), None)
ALWAYS = ("reading", "claim", "help", "visits", "parts", "closeout", "process", "snags", "papers")


def all_chapters(made: Dossier) -> tuple[Chapter, ...]:
    """The cover and the chapters."""
    return made.cover, *made.chapters


def ids(made: Dossier) -> list[str]:
    """The ids of chapters and sections."""
    chapters = all_chapters(made)
    inner = (
        block.id
        for chapter in chapters
        for block in blocks_in(chapter.blocks)
        if isinstance(block, Section)
    )
    return [*(chapter.id for chapter in chapters), *inner]


def strays(made: Dossier) -> set[str]:
    """What leads nowhere."""
    led = {cell.to for chapter in all_chapters(made) for cell in cells(chapter.blocks)}
    return led - set(ids(made)) - {""}


def deepest(blocks: tuple[object, ...], depth: int = 0) -> int:
    """How many sections stand in one another."""
    inner = (deepest(each.blocks, depth + 1) for each in blocks if isinstance(each, Section))
    return max((depth, *inner))


def unsound(made: Dossier) -> Iterator[str]:
    """Everything that no dossier may have."""
    yield from (f"twice: {name}" for name, count in Counter(ids(made)).items() if count > 1)
    yield from (f"leads nowhere: {name}" for name in sorted(strays(made)))
    for chapter in all_chapters(made):
        if deepest(chapter.blocks) > 2:
            yield f"too deep: {chapter.id}"
        for table in tables(chapter.blocks):
            if any(len(row) != len(table.columns) for row in table.rows):
                yield f"ragged: {table.caption}"


def odd(root: Path) -> Ledger:
    """The journal whose ids would break a careless page."""
    for path, content in odd_files().items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(content)
    return read_journal(Folder.at(root))


def test_the_example_is_sound() -> None:
    """Unique ids, links that find their place, no section too deep, every task of the list."""
    ledger = example()
    made = dossier(find(ledger))
    assert list(unsound(made)) == []
    assert {anchor(task) for task in ledger.worklist.by_id} <= set(ids(made))
    assert (made.builders, made.record_date) == (("Runa Aldermark",), "2026-06-20")
    assert made.running == "Ostrel Two, from crate to grass, ZZ-OST"


def test_a_stray_link_is_found() -> None:
    """The test's own eye sees a link to a chapter that was taken out, and an id used twice."""
    made = dossier(find(example()))
    fewer = replace(made, chapters=tuple(c for c in made.chapters if c.id != "visits"))
    assert any(told.startswith("leads nowhere: visit") for told in unsound(fewer))
    twice = replace(made, chapters=(*made.chapters, made.chapters[0]))
    assert "twice: reading" in list(unsound(twice))


def test_odd_ids_have_places_of_their_own(tmp_path: Path) -> None:
    """Ids that differ in case, sign or length alone have each their section or chapter."""
    ledger = odd(tmp_path)
    made = dossier(find(ledger))
    assert list(unsound(made)) == []
    assert {anchor(task) for task in ledger.worklist.by_id} <= set(ids(made))
    areas = [chapter for chapter in made.chapters if chapter.id.startswith("area-")]
    assert len(areas) == len(ledger.worklist.areas)


@pytest.mark.parametrize("name", PUBLISHED)
def test_every_rulebook_makes_a_sound_dossier(name: str) -> None:
    """The example counted by each rulebook is sound and grants nothing."""
    made = dossier(find(ruled(example(), name)))
    assert list(unsound(made)) == []
    words = " ".join(said(chapter.blocks) for chapter in all_chapters(made)).casefold()
    assert [word for word in GRANTING if f" {word} " in words] == []


def test_without_a_rulebook_it_is_whole_too() -> None:
    """The same chapters stand there, and the tasks are asked the usual questions."""
    ledger = example()
    made = dossier(find(replace(ledger, rulebook=None)))
    assert list(unsound(made)) == []
    assert [each.id for each in made.chapters] == [
        each.id for each in dossier(find(ledger)).chapters
    ]
    assert "With what quality of workmanship" in said(made.chapters[4].blocks)


def test_an_empty_journal_has_a_dossier(tmp_path: Path) -> None:
    """With a title and nothing else each chapter that is always there says so in words."""
    words = "title: A\nbuilder: Ines\npeople: {Ines: builder}\n"
    ledger = ledger_of(tmp_path, {"journal.yaml": words, "worklist.yaml": "(none)"})
    made = dossier(find(ledger))
    assert list(unsound(made)) == []
    by_id = {each.id: each for each in made.chapters}
    assert set(ALWAYS) <= by_id.keys()
    assert all(any(isinstance(b, Paragraph) for b in blocks_in(by_id[i].blocks)) for i in ALWAYS)
    assert (made.record_date, made.title) == ("", "A")


def test_tasks_of_free_text_stand_in_one_chapter(tmp_path: Path) -> None:
    """Without a work list all tasks that notes name have their sheets together."""
    note = "---\ntasks: [{task: skins!, hours: 1h}, {task: hinge}]\n---\n"
    ledger = ledger_of(tmp_path, {"worklist.yaml": "(none)", "notes/2026-03-01.md": note})
    made = dossier(find(ledger))
    assert list(unsound(made)) == []
    assert {anchor("skins!"), anchor("hinge"), "area-all-tasks"} <= set(ids(made))


@given(task_lists(), st.sampled_from(MADE))
def test_every_task_is_found(tasks: list[Task], by: Rulebook | None) -> None:
    """Whatever the work list holds, each task has its one place, N/A or not, begun or not."""
    work = [hours(2, each.id, each.work) for each in tasks[::2] if each.work]
    made = dossier(find(replace(book(*tasks, work=work), rulebook=by)))
    assert list(unsound(made)) == []
    asides = {
        block.id: block.aside
        for chapter in made.chapters
        for block in blocks_in(chapter.blocks)
        if isinstance(block, Section) and block.id.startswith("task-")
    }
    assert asides.keys() == {anchor(task.id) for task in tasks}
    assert all((asides[anchor(task.id)] == NOT_HERE) is not task.applies for task in tasks)
