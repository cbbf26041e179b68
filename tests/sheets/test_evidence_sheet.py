"""The evidence sheet of one task: who, when, who saw it; every entry with its note and papers."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.findings import find
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import (
    Cell,
    Facts,
    Paragraph,
    Pictures,
    Section,
    ShownPicture,
    anchor,
)
from builderlog.sheets.chapter_tasks import task_chapters
from builderlog.sheets.evidence_sheet import CLAIMED, CLOSED, LOOKED, NOTES, TIME_TAKEN
from builderlog.sheets.material import material
from tests.deciding.claim_journals import journal
from tests.knowing.journals import ledger_of
from tests.sheets.chapter_reader import plain, rows, said, sections, tables
from tests.sheets.claim_rows import ruled

WHO, WHEN = "Who did the task", "When it was done"
TASKS = [
    (
        "W1, name: Aileron skins, work: fabrication, estimate: 6h, state: done, "
        "credit: {maker: 0.4, fabrication: 0.6}"
    ),
    "W2",
]
EVENING = """\
title: Skins on
hours: {Ines: 3h, Ada: 1h}
tasks: [{task: W1, hours: 3h, per: manual 4-1}, {task: W1, hours: 1h, who: Ada, per: manual 4-1}]
measured: [{what: gap, value: 2 mm, limit: <= 3 mm}, {what: rise, value: 4 mm, limit: <= 3 mm}]
torqued: {where: hinge, bolt: AN3-5A, count: 1, to: 25 in-lb, source: manual 5, marked: yes, \
by: Ines, witness: Ada}
process: {what: primer, batch: B7, coat: first, temperature: 17 C, sample: strip A}
visits: {who: [Hedda, Ines], as: counsellor, looked at: W1, said: All even., result: carry on}
snags: {snag: A dent, task: W1, no: R1}
away: {what: Covers, task: W1, with: A shop, as: paid, sent: 2026-03-01}
closes: W1
"""


ALONE = "tasks: W1\nhours: 1h\nmeasured: {what: rise}"


def sheet_of(ledger: Ledger, task: str = "W1") -> Section:
    """The sheet of one task by the checklist of points."""
    return sheet_as_it_is(ruled(ledger, "us-checklist"), task)


def sheet_as_it_is(ledger: Ledger, task: str = "W1") -> Section:
    """The sheet of one task by the journal's own rulebook, or by none."""
    chapters = task_chapters(material(find(ledger)))
    return next(found[anchor(task)] for found in map(sections, chapters) if anchor(task) in found)


def facts(sheet: Section) -> dict[str, Cell]:
    """Its facts by their terms, in their order."""
    [found] = [block for block in sheet.blocks if isinstance(block, Facts)]
    return dict(found.rows)


def words(sheet: Section, term: str) -> str:
    """What one of them says, with breaking spaces."""
    return facts(sheet)[term].words.replace("\xa0", " ")


def entries(sheet: Section) -> list[tuple[str, str]]:
    """Its entries but the measurements: kind and words."""
    found = [table for table in tables(sheet.blocks) if table.caption.startswith("Entries")]
    return [(row["Entry"], row["On record"]) for table in found for row in plain(table)]


def pictures(sheet: Section) -> tuple[ShownPicture, ...]:
    """The pictures that it shows."""
    return tuple(p for block in sheet.blocks if isinstance(block, Pictures) for p in block.items)


def test_it_begins_with_who_when_and_who_saw_it(tmp_path: Path) -> None:
    """The first three facts answer the question that an inspector asks; all six are answered."""
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": EVENING}))
    assert (found.title, found.aside) == ("W1 Aileron skins", "fabrication, done")
    assert list(facts(found))[:3] == [WHO, WHEN, LOOKED]
    assert words(found, WHO) == (
        "Ines, builder, 3 h; Ada, unpaid helper, 1 h; Covers away at A shop, paid."
    )
    assert words(found, WHEN).startswith("2026-03-01, 1 day; Covers sent 2026-03-01")
    assert words(found, LOOKED) == (
        "Hedda (counsellor), 2026-03-01, with Ines; "
        "Ada (second pair of eyes at 1 torque entry), 2026-03-01."
    )
    assert words(found, TIME_TAKEN) == (
        "4 h of the amateurs' work (4 h fabrication); estimate 6 h."
    )
    assert words(found, "With whose help, paid and unpaid").startswith(
        "Paid: Covers away at A shop"
    )
    assert words(found, CLOSED) == "Closed 2026-03-01."
    assert words(found, CLAIMED) == "A Mfr Kit/Part/Component 0.4; D Am-Builder Fabrication 0.6."
    assert [link.words for link in facts(found)[WHO].links] == ["2026-03-01"]


def test_people_stand_in_full(tmp_path: Path) -> None:
    """A full name that the journal gives stands wherever the person is named."""
    people = "title: A\nbuilder: Ines\npeople: {Ines: {role: builder, full name: Ines Aldermark}}\n"
    note = (
        "---\ntasks: {task: W14, hours: 1h}\n"
        "photos: {photo: photos/a.jpg, shows: W14, seen: Ines}\n---\n"
    )
    files = {"journal.yaml": people, "notes/2026-03-01.md": note, "photos/a.jpg": "(picture)"}
    found = sheet_of(ledger_of(tmp_path, files), "W14")
    assert words(found, WHO) == "Ines Aldermark, builder, 1 h."
    assert pictures(found)[0].told == "1 March 2026. Seen: Ines Aldermark."


def test_measurements_are_held_against_their_limits(tmp_path: Path) -> None:
    """Value and limit stand in both systems, and whether the one is inside the other."""
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": EVENING}))
    measured = tables(found.blocks)[0]
    assert [tuple(row.values()) for row in plain(measured)] == [
        ("gap", "2 mm (0.0787 in)", "<= 3 mm (<= 0.118 in)", "inside the limit", "[2026-03-01]"),
        ("rise", "4 mm (0.157 in)", "<= 3 mm (<= 0.118 in)", "outside the limit", "[2026-03-01]"),
    ]


def test_every_entry_is_told_with_its_papers(tmp_path: Path) -> None:
    """Method, torque in both systems, process, visit, snag and work away, each once."""
    notes = {"2026-03-01": EVENING, "2026-03-04": "fixed: {no: R1, how: Filled, by: Ines}"}
    found = sheet_of(journal(tmp_path, TASKS, notes))
    assert entries(found) == [
        ("method", "manual 4-1"),
        (
            "torqued",
            (
                "hinge, AN3-5A, 1 piece; asked 25 in-lb (2.82 N·m), without drag, by manual 5; "
                "marked; by Ines, second pair of eyes Ada"
            ),
        ),
        ("process", "primer, batch B7, coat first, temperature 17 C (62.6 °F), sample strip A"),
        ("visit", "Hedda and Ines (counsellor). Said: All even. Result: carry on."),
        ("snag", "R1 A dent; put right on 2026-03-04: Filled, by Ines"),
        ("work away", "Covers, A shop, paid, sent 2026-03-01, not yet back"),
    ]


def test_bare_entries_are_told_as_far_as_they_go(tmp_path: Path) -> None:
    """An entry with one word only has no empty bracket, no lone comma and no word `None`."""
    note = (
        "tasks: {task: W1, hours: 1h}\nmeasured: {what: gap}\ntorqued: {where: hinge}\n"
        "process: {what: glue}\nvisits: {who: Hedda}\nsnags: {snag: A dent, task: W1}\n"
        "away: {what: Covers, task: W1}"
    )
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": note}))
    assert [told for _, told in entries(found)] == [
        *("hinge", "glue", "Hedda.", "2026-03-01.1 A dent; open"),
        "Covers, who did it is not said, not yet back",
    ]
    assert plain(tables(found.blocks)[0])[0]["Held against it"] == "no value stated"


def test_entries_of_notes_on_several_tasks_are_told_as_such(tmp_path: Path) -> None:
    """Where an entry may speak of another task, the sheet says so with the note's day."""
    note = "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}]\nmeasured: {what: gap}"
    ledger = journal(tmp_path, TASKS, {"2026-03-01": note, "2026-03-02": ALONE})
    told = [
        b.words for b in sheet_of(ledger).blocks if isinstance(b, Paragraph) and b.kind == "quiet"
    ]
    assert [each.endswith("here for 2026-03-01.") for each in told] == [True]


@pytest.mark.parametrize(
    "note",
    [
        "away: {what: Covers, task: W2, with: A shop}",
        "visits: {who: Hedda, looked at: W2}",
        "snags: {snag: A dent, task: W2}",
        "parts: {part: Rib, for: W2, receipt: photos/a.jpg}",
    ],
)
def test_what_stands_in_a_note_on_other_things_is_told_too(tmp_path: Path, note: str) -> None:
    """A task that no note names but for work away, a visit, a snag or a receipt is told whole."""
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": note}), "W2")
    assert len(entries(found)) == 1
    assert "No note names this task." in said(found.blocks)


def test_papers_are_found_however_they_are_named(tmp_path: Path) -> None:
    """A sheet with a dot and two strokes, a receipt in the other form of Unicode are found."""
    composed = "receipts/\N{LATIN SMALL LETTER E WITH ACUTE}.pdf"
    apart = unicodedata.normalize("NFD", composed)
    note = (
        "---\nvisits: {who: Hedda, looked at: W14, sheet: ./papers//sheet 1.pdf}\n"
        "parts:\n"
        f"  - {{part: Rib, ref: R 1, for: W14, receipt: {apart}}}\n"
        "  - {part: Rib, for: W14, receipt: receipts/gone.pdf}\n"
        "  - {part: Nut, for: W14}\n---\n"
    )
    files = {"notes/2026-03-01.md": note, composed: "x", "papers/sheet 1.pdf": "x"}
    [table] = [
        t
        for t in tables(sheet_of(ledger_of(tmp_path, files), "W14").blocks)
        if t.caption.startswith("Entries")
    ]
    papers = [row["Notes and papers"].links[-1] for row in rows(table)]
    assert [(row["Entry"].words, row["On record"].words) for row in rows(table)] == [
        ("visit", "Hedda."),
        ("part", "Rib, R 1"),
        ("part", "Rib"),
    ]
    assert [paper.path for paper in papers] == ["papers/sheet 1.pdf", composed, ""]
    assert papers[2].words == "gone.pdf"


def test_pictures_are_told_in_words(tmp_path: Path) -> None:
    """Day, caption and people stand with a picture; its words where it cannot be seen."""
    note = (
        "---\nphotos:\n"
        "  - {photo: photos/a.jpg, shows: W14, caption: Skin on!, seen: [Ines, Ada]}\n"
        "  - {photo: photos/c.jpg, shows: W14, as: page}\n---\n"
    )
    named = {f"photos/{name}": "(picture)" for name in ("a.jpg", "c.jpg")}
    found = sheet_of(ledger_of(tmp_path, {"notes/2026-03-01.md": note, **named}), "W14")
    told = {each.path: (each.alt, each.told) for each in pictures(found)}
    assert told["photos/a.jpg"] == ("Skin on!", "1 March 2026. Skin on! Seen: Ines and Ada.")
    numbers = {each.number for each in pictures(found)}
    others = [word for word in ("1", "2") if f"photo index: {word}." in said(found.blocks)]
    assert len(numbers) + len(others) == 2


def test_notes_stand_by_date_with_time_and_first_words(tmp_path: Path) -> None:
    """Title, when it was written if later, first words, and who gave how long to this task."""
    files = {
        "notes/2026-03-02.md": "---\ntitle: Skins\nwritten: 2026-03-04\n"
        "hours: {Ines: 1h, Ada: 45m}\n"
        "tasks: [{task: W14, hours: 1h}, {task: W14, hours: 45m, who: Ada}]\n---\n"
        "![A picture](../photos/x.jpg)\n\nIt *went* on\nat once. Tea.\n\nMore.",
        "notes/2026-03-01.md": "---\nhours: 2h\ntasks: W14\n---\n",
    }
    found = sheet_of(ledger_of(tmp_path, files), "W14")
    [table] = [each for each in tables(found.blocks) if each.columns == NOTES]
    assert [tuple(row.values()) for row in plain(table)] == [
        ("[2026-03-01]", "", "Ines 2\xa0h"),
        (
            "[2026-03-02]",
            "Skins. (written 2026-03-04) It went on at once. Tea.",
            "Ines 1\xa0h; Ada 45\xa0min",
        ),
    ]


def test_many_notes_are_not_named_at_each_answer(tmp_path: Path) -> None:
    """More notes than a few stand by date at the end of the sheet alone."""
    notes = {f"2026-03-{day:02d}": "tasks: W1\nhours: 1h" for day in range(1, 8)}
    found = sheet_of(journal(tmp_path, TASKS, notes))
    assert facts(found)[WHO].links == ()
    assert len(tables(found.blocks)[-1].rows) == 7


def test_a_hidden_note_gives_its_time_and_nothing_else(tmp_path: Path) -> None:
    """Of a note with `hours only` the sheet has hours and day; no entry, picture or place."""
    hidden = f"{EVENING}photos: {{photo: photos/a.jpg, shows: W1}}\nplace: A secret\n"
    found = sheet_of(journal(tmp_path, TASKS, {"2026-03-01": f"{hidden}private: hours only"}))
    told = said(found.blocks)
    assert (entries(found), pictures(found)) == ([], ())
    assert words(found, TIME_TAKEN).startswith("4 h")
    assert [
        word for word in ("secret", "manual", "Hedda", "Skins on", "a.jpg") if word in told
    ] == []
    assert "Only the time of this note goes along." in told


def test_paid_and_late_time_stand_apart(tmp_path: Path) -> None:
    """Paid time is no time of the amateurs', and what came after the certificate no build time."""
    notes = {
        "2026-03-01": "hours: {Ines: 1h, Osk: 2h}\n"
        "tasks: [{task: W1, who: Osk}, {task: W1, who: Ines}]",
        "2026-04-01": "hours: 3h\ntasks: W1",
    }
    more = "rulebook: us-checklist\ncertificated: 2026-03-15"
    told = words(sheet_of(journal(tmp_path, TASKS, notes, more)), TIME_TAKEN)
    assert told == (
        "1 h of the amateurs' work (1 h fabrication); 2 h of paid work; estimate 6 h; "
        "3 h after the certificate, no build time."
    )


def test_without_a_rulebook_the_usual_questions_are_asked(tmp_path: Path) -> None:
    """The six questions of the circular are answered all the same; nothing is claimed."""
    ledger = replace(journal(tmp_path, TASKS, {"2026-03-01": EVENING}), rulebook=None)
    told = facts(sheet_as_it_is(ledger))
    assert list(told)[:4] == [WHO, WHEN, LOOKED, "Where it was done"]
    assert CLAIMED not in told


def test_what_nobody_says_is_told_as_such(tmp_path: Path) -> None:
    """A done task without a word on record has an answer to each question: that there is none."""
    found = sheet_of(journal(tmp_path, TASKS, {}))
    weak = [term for term, cell in facts(found).items() if cell.weak]
    assert weak[:4] == [WHO, WHEN, LOOKED, "Where it was done"]
    assert words(found, WHO) == "The record does not say who did it."


def test_who_saw_a_repair_is_told_wherever_it_is_written(tmp_path: Path) -> None:
    """A witness of a repair stands on the sheet, though the note of the repair names no task."""
    notes = {
        "2026-03-01": "tasks: W1\nhours: 1h\nsnags: {snag: A dent, task: W1, no: R1}",
        "2026-03-04": "fixed: {no: R1, how: Filled, witness: Bo}",
    }
    looked = facts(sheet_of(journal(tmp_path, TASKS, notes)))[LOOKED]
    assert looked.words == "Bo (at the repair of snag R1), 2026-03-04."
    assert [link.path for link in looked.links] == ["notes/2026-03-04.md"]


def test_a_witness_in_a_note_on_several_tasks_is_told_as_such(tmp_path: Path) -> None:
    """Whoever watched a nut in such a note may have looked at another task, which is said."""
    note = (
        "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}]\n"
        "torqued: [{where: hinge, witness: Ada}, {where: horn, witness: Ada}]"
    )
    looked = words(sheet_of(journal(tmp_path, TASKS, {"2026-03-01": note})), LOOKED)
    told = "second pair of eyes at 2 torque entries in a note on several tasks"
    assert looked == f"Ada ({told}), 2026-03-01."
