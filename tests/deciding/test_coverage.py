"""The record of each task, gathered from notes, work, pictures and snags."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding import sums
from builderlog.deciding.assistance import assistance
from builderlog.deciding.coverage import coverage
from builderlog.deciding.totals import tally
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Proof
from tests import making
from tests.deciding.claim_journals import in_another_order, journal, record_of
from tests.knowing.journals import ledger_of

TASKS = ["W1", "W2", "W3, applies: no", "F1"]
EVENING = """\
hours: {Ines: 4h, Ada: 1h}
tasks:
  - {task: W1, hours: 2h, work: fabrication, per: manual 4-1}
  - {task: W1, hours: 1h, work: assembly, who: [Ines, Ada]}
place: The garage
measured: [{what: gap, value: 1 mm}, {what: twist}]
torqued: {where: hinge}
process: {what: primer}
parts:
  - {part: Bolt, for: W1, receipt: receipts/a.pdf}
  - {part: Nut, for: W2}
snags: [{snag: A dent, task: W1}, {snag: A scratch, area: W}]
away: {what: Covers, task: W1, with: A trim shop, as: paid}
"""


def paths(notes: object) -> list[str]:
    """The days of notes, as their files are named."""
    assert isinstance(notes, tuple)
    return [note.path.removeprefix("notes/").removesuffix(".md") for note in notes]


def test_tasks_that_apply_stand_in_the_order_of_the_list(tmp_path: Path) -> None:
    """Every task that applies has a record, work or none, in the work list's order."""
    book = journal(tmp_path, TASKS, {"2026-03-01": "tasks: {task: F1, hours: 1h}"})
    assert [(each.id, each.area, each.seconds) for each in coverage(book)] == [
        ("W1", "W", 0),
        ("W2", "W", 0),
        ("F1", "F", 3600),
    ]


def test_without_a_work_list_every_named_task_has_a_record(tmp_path: Path) -> None:
    """Without a work list the tasks are those that any entry names, by alphabet."""
    notes = {
        "notes/2026-03-01.md": "---\ntasks: {task: W9, hours: 1h}\n"
        "photos: {photo: photos/a.jpg, shows: B}\nparts: [{part: Nut, for: C}, Bolt]\n"
        "snags: [{snag: x, task: D}, y]\naway: [{what: y, task: E}, {what: z}]\n"
        "visits: {who: Hedda, found: [{snag: z, task: F}, w]}\n---\n",
        "notes/2026-03-02.md": "---\ntasks: A\nhours: 1h\nparts: {part: Nut, for: Hidden}\n"
        "private: hours only\n---\n",
        "worklist.yaml": "(none)",
        "photos/a.jpg": "(picture)",
    }
    found = coverage(ledger_of(tmp_path, notes))
    assert [each.id for each in found] == ["A", "B", "C", "D", "E", "F", "W9"]
    assert {(each.name == each.id, each.area, each.task) for each in found} == {(True, "", None)}
    assert not any(each.done for each in found)


def test_time_is_told_by_role_kind_and_person(tmp_path: Path) -> None:
    """Time of a task by role, by kind, by person, and of the amateurs alone; days oldest first."""
    notes = {
        "2026-03-02": EVENING,
        "2026-03-01": "tasks: {task: W1, hours: 4h, who: Osk, work: other}",
        "2026-03-03": "tasks: {task: W1, hours: 2h, who: Tomas, work: other}",
    }
    found = record_of(journal(tmp_path, TASKS, notes), "W1")
    assert found.by_role == {"builder": 18000, "helper": 3600, "paid": 14400}
    assert found.by_kind == {"fabrication": 7200, "assembly": 7200, "other": 21600}
    assert (found.seconds, found.amateur_seconds) == (36000, 21600)
    assert [(each.name, each.role.value, each.seconds) for each in found.people] == [
        ("Ines", "builder", 10800),
        ("Tomas", "builder", 7200),
        ("Ada", "helper", 3600),
        ("Osk", "paid", 14400),
    ]
    assert found.people[0].notes == ("notes/2026-03-02.md",)
    assert found.days == (date(2026, 3, 1), date(2026, 3, 2), date(2026, 3, 3))
    assert [row.person for row in found.paid_work] == ["Osk"]


def test_the_entries_of_a_note_belong_to_the_tasks_that_it_works_on(tmp_path: Path) -> None:
    """Measurements, torque and processes are of all tasks of a note; parts, snags, away of one."""
    book = journal(tmp_path, TASKS, {"2026-03-02": EVENING})
    one, two = record_of(book, "W1"), record_of(book, "W2")
    assert one.proofs == {Proof.MEASURED: 2, Proof.TORQUED: 1, Proof.PROCESS: 1}
    assert [str(each.line.per) for each in one.methods] == ["manual 4-1"]
    assert [str(each.line.part) for each in one.parts] == ["Bolt"]
    assert one.receipts == ("receipts/a.pdf",)
    assert [str(snag.line.snag) for snag in one.snags] == ["A dent"]
    assert [(each.what, each.firm) for each in one.away] == [("Covers", "A trim shop")]
    assert ([str(each.line.part) for each in two.parts], two.receipts) == (["Nut"], ())
    assert (two.proofs, two.methods, two.snags, two.away, two.notes) == ({}, (), (), (), ())


def test_notes_are_those_that_name_it_and_those_that_work_on_it(tmp_path: Path) -> None:
    """A note names a task in `tasks` or in what a picture shows, and works on it in `tasks`."""
    notes = {
        "2026-03-03": "tasks: {task: W1, hours: 1h}",
        "2026-03-02": "photos: {photo: photos/a.jpg, shows: W1}",
        "2026-03-01": "tasks: W1",
        "2026-03-04": "parts: {part: Bolt, for: W1}",
    }
    found = record_of(journal(tmp_path, TASKS, notes), "W1")
    assert paths(found.notes) == ["2026-03-01", "2026-03-02", "2026-03-03"]
    assert paths(found.worked_on) == ["2026-03-01", "2026-03-03"]


def test_a_place_is_that_of_the_note_or_the_usual_one(tmp_path: Path) -> None:
    """Work was done where its note says, else at the journal's usual place, else nowhere known."""
    notes = {"2026-03-01": "tasks: W1\nhours: 1h", "2026-03-02": EVENING}
    found = record_of(journal(tmp_path / "a", TASKS, notes, "place: The barn"), "W1")
    assert [(each.words, each.notes) for each in found.places] == [
        ("The barn", ("notes/2026-03-01.md",)),
        ("The garage", ("notes/2026-03-02.md",)),
    ]
    found = record_of(journal(tmp_path / "b", TASKS, notes), "W1")
    assert [each.words for each in found.places] == ["The garage"]


def test_a_picture_is_one_however_many_notes_show_it(tmp_path: Path) -> None:
    """A picture has the day of its camera, all its notes, and everyone whom any note sees in it."""
    notes = {
        "2026-03-03": "photos: {photo: photos/2026-03-01-a.jpg, shows: W1, seen: Ada}",
        "2026-03-02": "photos: {photo: photos/2026-03-01-a.jpg, seen: [Ines, Ada]}",
        "2026-03-05": "photos:\n  - {photo: photos/2026-03-01-a.jpg, caption: Seen}\n"
        "  - {photo: photos/c.jpg, shows: W1, as: page}",
        "2026-03-06": "photos: {photo: photos/c.jpg, shows: W1}",
        "2026-03-04": "photos:\n  - {photo: photos/b.jpg, shows: [W1, W2], seen: Osk, as: page}\n"
        "  - {photo: photos/2026-03-01-a.jpg, shows: W1}",
    }
    first, second, third = record_of(journal(tmp_path, TASKS, notes), "W1").pictures
    assert (first.path, first.taken, first.caption) == (
        "photos/2026-03-01-a.jpg",
        date(2026, 3, 1),
        "Seen",
    )
    assert first.notes == ("notes/2026-03-03.md", "notes/2026-03-04.md")
    assert first.note == first.notes[0]
    assert (first.seen, first.builder_seen, first.page) == (("Ines", "Ada"), True, False)
    assert (second.path, second.taken, second.page) == ("photos/b.jpg", date(2026, 3, 4), True)
    assert (second.seen, second.builder_seen) == (("Osk",), False)
    assert (third.path, third.page, third.caption) == ("photos/c.jpg", False, None)


def test_scanned_pages_are_no_shots(tmp_path: Path) -> None:
    """Of the pictures of a task the scanned pages show no work."""
    note = "photos: [{photo: photos/a.jpg, shows: W1, as: page}, {photo: photos/b.jpg, shows: W1}]"
    found = record_of(journal(tmp_path, TASKS, {"2026-03-01": note}), "W1")
    assert [shot.path for shot in found.pictures] == ["photos/a.jpg", "photos/b.jpg"]
    assert [shot.path for shot in found.shots] == ["photos/b.jpg"]


def test_a_visit_looked_at_what_it_names_or_what_its_note_works_on(tmp_path: Path) -> None:
    """A visit belongs to its tasks, to begun tasks of its areas, or to those of its note."""
    notes = {
        "2026-03-01": "visits: {who: Before, looked at: W}",
        "2026-03-02": "tasks: {task: W1, hours: 1h}\nvisits: {who: Beside}",
        "2026-03-03": "visits: [{who: Area, looked at: W}, {who: Both, looked at: [W, W1]}]",
        "2026-03-04": "visits: {who: Other, looked at: F1}\ntasks: {task: W1, hours: 1h}",
        "2026-03-05": "visits: {who: Nobody}",
        "2026-03-06": "visits: {who: Planned, looked at: W2}",
    }
    book = journal(tmp_path, TASKS, notes)
    found = {each.id: [str(visit.line.who[0]) for visit in each.visits] for each in coverage(book)}
    assert found == {"W1": ["Beside", "Area", "Both"], "W2": ["Planned"], "F1": ["Other"]}


def test_closings_are_of_the_task_or_its_area_in_order(tmp_path: Path) -> None:
    """Closings and openings stand in order; in one note what was opened was opened first."""
    notes = {
        "2026-03-02": "opens: W1\ncloses: [W1, F]",
        "2026-03-01": "closes: W",
    }
    book = journal(tmp_path, TASKS, notes)
    found = [(str(each.word), each.closed) for each in record_of(book, "W1").closings]
    assert found == [("W", True), ("W1", False), ("W1", True)]
    assert [(str(each.word), each.closed) for each in record_of(book, "F1").closings] == [
        ("F", True)
    ]


def test_after_the_certificate_nothing_is_build_time(tmp_path: Path) -> None:
    """Later work stands apart, and later notes prove nothing; their pictures still show."""
    later = "photos: {photo: photos/a.jpg, shows: W1}\nplace: The field"
    notes = {"2026-03-01": EVENING, "2026-03-03": f"{EVENING.replace('place: The garage', later)}"}
    more = "rulebook: us-checklist\ncertificated: 2026-03-02"
    found = record_of(journal(tmp_path, TASKS, notes, more), "W1")
    assert (found.seconds, sums.seconds_of(found.late)) == (14400, 14400)
    assert found.proofs[Proof.MEASURED] == 2
    assert [each.words for each in found.places] == ["The garage"]
    assert (len(found.methods), len(found.away[0].notes), len(found.shots)) == (1, 1, 1)
    assert paths(found.worked_on) == ["2026-03-01"]
    assert paths(found.notes) == ["2026-03-01", "2026-03-03"]


def test_the_day_of_the_certificate_is_still_build_time(tmp_path: Path) -> None:
    """Work on the very day of the certificate counts."""
    more = "rulebook: us-checklist\ncertificated: 2026-03-01"
    assert record_of(journal(tmp_path, TASKS, {"2026-03-01": EVENING}, more), "W1").late == ()


def test_a_hidden_note_gives_its_time_and_nothing_else(tmp_path: Path) -> None:
    """Of a note of which only the time reaches anyone the record has the time alone."""
    hidden = f"{EVENING}photos: {{photo: photos/a.jpg, shows: [W1, W2]}}\ncloses: W\n"
    hidden += "visits: {who: Hedda, found: {snag: Gap, task: W1}}\nprivate: hours only"
    book = journal(tmp_path, TASKS, {"2026-03-01": hidden}, "place: The barn")
    found, other = record_of(book, "W1"), record_of(book, "W2")
    assert (found.seconds, len(found.notes), len(found.people)) == (14400, 1, 2)
    assert (found.proofs, found.methods, found.places, found.pictures) == ({}, (), (), ())
    assert (found.parts, found.snags, found.away, found.closings) == ((), (), (), ())
    assert (found.visits, found.described, other.notes) == ((), (), ())


def test_described_are_notes_with_words_that_work_on_it(tmp_path: Path) -> None:
    """Notes that work on a task describe it where they have words."""
    files = {
        "notes/2026-03-01.md": "---\ntasks: {task: W14, hours: 1h}\n---\nHow it was done.\n",
        "notes/2026-03-02.md": "---\ntasks: {task: W14, hours: 1h}\n---\n\n",
        "notes/2026-03-03.md": "---\ntasks: {task: W15, hours: 1h}\n---\nOther words.\n",
        "notes/2026-03-04.md": "---\ntasks: W14\nhours: 1h\nprivate: hours only\n---\nHush.\n",
    }
    assert paths(record_of(ledger_of(tmp_path, files), "W14").described) == ["2026-03-01"]


def test_the_order_of_a_ledger_changes_nothing(tmp_path: Path) -> None:
    """Notes, work, pictures, snags and parts in any order give the same records and help."""
    more = "closes: {closes}\nopens: {opens}\nvisits: {{who: Hedda, looked at: W}}\nphotos:\n"
    more += "  - {{photo: photos/a.jpg, shows: W1, seen: {seen}, caption: {seen}}}\n"
    more += "  - {{photo: photos/b{seen}.jpg, shows: W1}}"
    notes = {
        f"2026-03-0{day}": EVENING.replace("garage", f"garage {seen}")
        + more.format(closes=one, opens=other, seen=seen)
        for day, (one, other, seen) in enumerate(
            [("W1", "W", "Ines"), ("W", "W1", "Ada"), ("[]", "W", "Osk")], start=1
        )
    }
    book = journal(tmp_path, TASKS, notes, "certificated: 2026-03-02")
    expected = coverage(book), assistance(book)
    for seed in range(20):
        turned = in_another_order(book, Random(seed))
        assert (coverage(turned), assistance(turned)) == expected


ROWS = st.lists(
    st.tuples(
        st.sampled_from([None, "W1", "W2", "E1"]),
        st.sampled_from(sorted(making.PEOPLE)),
        st.sampled_from(list(Work)),
        st.integers(0, 9000),
        st.integers(1, 28),
    )
)


@given(ROWS, st.randoms(use_true_random=False))
def test_the_records_hold_all_time_of_their_tasks(
    rows: list[tuple[str | None, str, Work, int, int]], random: Random
) -> None:
    """Over any work the records' sums are those of the tally, by task and kind, in any order."""
    work = [
        making.worked(f"2026-03-{day:02}", seconds, task, person, kind)
        for task, person, kind, seconds, day in rows
    ]
    tasks = [making.task(name) for name in ("W1", "W2", "E1")]
    book: Ledger = making.ledger(work=work, tasks=tasks)
    totals = tally(book).by_task
    for record in coverage(book):
        total = totals.get(record.id)
        assert record.seconds == (total.seconds if total else 0)
        assert record.by_kind == (dict(total.by_kind) if total else dict.fromkeys(Work, 0))
        assert sum(record.by_role.values()) == sum(each.seconds for each in record.people)
    random.shuffle(work)
    assert coverage(making.ledger(work=work, tasks=tasks))[0].seconds == coverage(book)[0].seconds
