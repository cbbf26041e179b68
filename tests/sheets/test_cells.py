"""What cells share: names of tasks, areas and people, and links that lead somewhere."""

from __future__ import annotations

import re
from dataclasses import replace

from builderlog.deciding.findings import find
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.cells import NOT_SAID, Names, names_of, said, sentences
from builderlog.sheets.chapter import Cell, Chapter, Section
from builderlog.sheets.chapter_months import months
from builderlog.sheets.chapter_papers import papers
from builderlog.sheets.chapter_parts import parts
from builderlog.sheets.chapter_photos import contact, photos
from builderlog.sheets.chapter_remarks import remarks
from builderlog.sheets.chapter_tasks import task_chapters
from builderlog.sheets.chapter_visits import visits
from builderlog.sheets.chapter_work import bulletins, decisions, snags
from builderlog.sheets.material import material
from tests import making
from tests.sheets.chapter_reader import blocks_in, cells, example
from tests.sheets.chapter_reader import said as all_words
from tests.sheets.claim_rows import GRANTING

MAKERS = (*(visits, parts, bulletins, snags, decisions, papers, months, photos, contact, remarks),)


def names(*tasks: str, full: str | None = None) -> Names:
    """The names in a made journal with these tasks; Ines may have a full name."""
    ledger: Ledger = making.ledger(tasks=[making.task(name) for name in tasks])
    people = tuple(
        replace(each, full_name=full) if each.name == "Ines" else each
        for each in ledger.settings.people
    )
    return names_of(find(replace(ledger, settings=replace(ledger.settings, people=people))))


def test_tasks_and_areas_stand_with_id_and_name() -> None:
    """A task or area has its name and leads to its place; any other word stays as it is."""
    found = names("W1", "E1")
    assert found.cell("W1") == Cell("W1 Task W1", to="task-W1")
    assert found.cell("W") == Cell("W Area W", to="area-w")
    assert found.cell("the tail") == Cell("the tail")
    assert found.cells(["W1", "E1", "W1"]) == Cell("W1 Task W1; E1 Task E1")
    assert found.cells(["E1", "E1"]) == found.cell("E1")
    assert found.cells([]) == Cell("")


def test_an_id_of_an_area_and_a_task_means_the_task() -> None:
    """Where one word is both an area's and a task's, it is the task that is meant."""
    assert names("W").cell("W") == Cell("W Task W", to="task-W")


def test_people_stand_in_full_with_their_role() -> None:
    """Full name and capacity of those who are declared; a visitor has the name alone."""
    found = names(full="Ines Aldermark")
    assert found.persons(["Ines", "Hedda", "Ines"]) == "Ines Aldermark and Hedda"
    assert found.with_role("Ines") == "Ines Aldermark (builder)"
    assert found.with_role("Shop & Co") == "Shop & Co (paid)"
    assert found.with_role("Hedda") == "Hedda"


def test_what_is_not_said_is_said_to_be_so() -> None:
    """No word, an empty one and blanks are not said; a word stays, with its papers."""
    assert said(None) == said("") == said("  ") == NOT_SAID
    assert said("Ines") == Cell("Ines")


def test_sentences_end_once() -> None:
    """Each sentence has a capital and one full stop; what is empty is left out."""
    assert sentences(["one", "", None, "Two.", "three!"]) == "One. Two. Three!"


def all_chapters() -> list[Chapter]:
    """Those of the record, made of the example."""
    held = material(find(example()))
    return [chapter for make in MAKERS for chapter in make(held)]


def test_every_link_leads_somewhere_and_no_id_stands_twice() -> None:
    """In the example each link within the dossier has a section or chapter, each id one place."""
    held = material(find(example()))
    chapters = all_chapters()
    everything = [*chapters, *task_chapters(held)]
    inside = [each for chapter in everything for each in blocks_in(chapter.blocks)]
    ids = [chapter.id for chapter in everything]
    ids += [each.id for each in inside if isinstance(each, Section)]
    assert sorted(ids) == sorted(set(ids))
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+", each) for each in ids)
    leads = {cell.to for chapter in chapters for cell in cells(chapter.blocks) if cell.to}
    assert leads
    assert leads <= set(ids)


def test_every_file_named_by_the_chapters_is_in_the_journal() -> None:
    """Links to notes and papers lead to files of the journal."""
    ledger = example()
    links = [link for chapter in all_chapters() for c in cells(chapter.blocks) for link in c.links]
    assert links
    assert {link.path for link in links} <= ledger.files


def test_no_chapter_grants_anything() -> None:
    """No word of these chapters says that something is granted."""
    words = "\n".join(all_words(chapter.blocks) for chapter in all_chapters()).lower()
    assert [each for each in GRANTING if each in words] == []
