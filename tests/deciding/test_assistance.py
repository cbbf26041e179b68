"""Everything about help: who helped unpaid and for pay, what left the shop, what went back."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from random import Random

from builderlog.deciding.assistance import Assistance, WorkAway, assistance
from tests.deciding.claim_journals import in_another_order, journal

TASKS = ["W1", "W2", "F1"]


def helped(root: Path, notes: dict[str, str], more: str = "rulebook: us-checklist") -> Assistance:
    """The help of a journal with these notes."""
    return assistance(journal(root, TASKS, notes, more))


def away(root: Path, *notes: str) -> tuple[WorkAway, ...]:
    """The work away of notes on 1, 2, … March."""
    return helped(root, {f"2026-03-{day:02}": text for day, text in enumerate(notes, 1)}).away


def test_unpaid_and_paid_helpers_stand_apart(tmp_path: Path) -> None:
    """Helpers with their hours, tasks, days and notes; a builder is none."""
    notes = {
        "2026-03-02": "hours: {Ines: 2h, Ada: 2h, Osk: 1h}\n"
        "tasks: [{task: W2, hours: 1h, who: Ada}, {task: W1, hours: 1h, who: Osk}]",
        "2026-03-01": "hours: {Ada: 30m}\ntasks: {task: F1, who: Ada}",
        "2026-03-03": "hours: {Tomas: 1h}",
        "2026-03-04": "tasks: {task: W1, hours: 1h, who: Bo}",
    }
    found = helped(tmp_path, notes)
    (ada,) = found.unpaid
    assert (ada.person, ada.role.value, ada.seconds) == ("Ada", "helper", 9000)
    assert [*ada.by_task.items()] == [("W2", 3600), ("F1", 1800), ("", 3600)]
    assert ada.days == (date(2026, 3, 1), date(2026, 3, 2))
    assert ada.notes == ("notes/2026-03-01.md", "notes/2026-03-02.md")
    assert [(each.person, each.by_task) for each in found.paid] == [
        ("Bo", {"W1": 3600}),
        ("Osk", {"W1": 3600}),
    ]


def test_receipts_beside_paid_help_are_of_its_tasks_or_of_none(tmp_path: Path) -> None:
    """The receipts of paid help are those of its notes, for its task there or for none."""
    notes = {
        "2026-03-01": "hours: {Osk: 1h, Ada: 1h}\ntasks: {task: W1, who: [Osk, Ada]}\nparts:\n"
        "  - {part: Fee, receipt: receipts/fee.pdf}\n"
        "  - {part: Kit, for: W1, receipt: receipts/kit.pdf}\n"
        "  - {part: Nut, for: W2, receipt: receipts/nut.pdf}",
        "2026-03-02": "parts: {part: Bolt, receipt: receipts/bolt.pdf}",
    }
    found = helped(tmp_path, notes)
    assert found.paid[0].receipts == ("receipts/fee.pdf", "receipts/kit.pdf")
    assert found.unpaid[0].receipts == ()


def test_work_away_told_in_two_notes_is_one(tmp_path: Path) -> None:
    """What went in one note and came back in another is one piece of work with both days."""
    (found,) = away(
        tmp_path,
        "away: {what: Covers, task: W1, with: A shop, sent: 2026-03-01, due: 2026-03-20}",
        "away: {what: Covers, task: W1, with: A shop, as: paid, back: 2026-03-02}",
    )
    assert (found.what, found.firm, found.task, found.capacity) == (
        "Covers",
        "A shop",
        "W1",
        "paid",
    )
    assert (found.sent, found.due, found.back) == (
        date(2026, 3, 1),
        date(2026, 3, 20),
        date(2026, 3, 2),
    )
    assert found.notes == ("notes/2026-03-01.md", "notes/2026-03-02.md")
    assert (found.day, found.place.path, found.place.line) == (
        date(2026, 3, 1),
        "notes/2026-03-01.md",
        2,
    )


def test_other_work_away_is_another(tmp_path: Path) -> None:
    """Another thing, firm or task, one sent again, and one after it came back are other pieces."""
    found = away(
        tmp_path,
        "away: {what: Covers, task: W1, with: A shop, sent: 2026-03-01}",
        "away: [{what: Seats, task: W1, with: A shop}, {what: Covers, task: W2, with: A shop}]",
        "away: {what: Covers, task: W1, with: B shop, back: 2026-03-03}",
        "away: {what: Covers, task: W1, with: A shop, sent: 2026-03-04}",
        "away: {what: Covers, task: W1, with: A shop, back: 2026-03-05}",
        "away: {what: Covers, task: W1, with: A shop, as: paid}",
    )
    told = [(each.what, each.firm, each.task, each.sent, each.back) for each in found]
    assert told == [
        ("Covers", "A shop", "W1", date(2026, 3, 1), None),
        ("Seats", "A shop", "W1", None, None),
        ("Covers", "A shop", "W2", None, None),
        ("Covers", "B shop", "W1", None, date(2026, 3, 3)),
        ("Covers", "A shop", "W1", date(2026, 3, 4), date(2026, 3, 5)),
        ("Covers", "A shop", "W1", None, None),
    ]


def test_receipts_of_work_away_are_its_firms(tmp_path: Path) -> None:
    """Beside it no receipt of another firm or task is its own; elsewhere its firm's for it is."""
    beside = "away: {what: Covers, task: W1, with: A shop}\nparts:\n" + "".join(
        f"  - {{part: P{number}, {words}receipt: receipts/{number}.pdf}}\n"
        for number, words in enumerate(
            [
                "",
                "for: W1, ",
                "from: A shop, ",
                "from: A shop, for: W1, ",
                "from: B shop, ",
                "for: W2, ",
                "from: A shop, for: W2, ",
            ]
        )
    )
    elsewhere = "parts:\n" + "".join(
        f"  - {{part: Q{number}, {words}receipt: receipts/{number}.pdf}}\n"
        for number, words in enumerate(
            ["", "for: W1, ", "from: A shop, ", "from: A shop, for: W1, "], start=10
        )
    )
    before = "parts: {part: R, from: A shop, for: W1, receipt: receipts/20.pdf}"
    (found,) = away(tmp_path, before, f"{beside}  - {{part: Bare}}", elsewhere)
    assert found.receipts == tuple(f"receipts/{number}.pdf" for number in (20, 0, 1, 2, 3, 13))


def test_work_away_without_firm_or_task_has_the_receipts_of_its_note(tmp_path: Path) -> None:
    """Where firm or task is not said no receipt of another note is taken for its own."""
    lines = ["", "for: W1, ", "from: A shop, "]
    parts = "".join(
        f"  - {{part: P{number}, {words}receipt: receipts/{number}.pdf}}\n"
        for number, words in enumerate(lines)
    )
    found = away(
        tmp_path,
        f"parts:\n{parts}",
        "away: [{what: A}, {what: B, task: W1}, {what: C, with: A shop}]\n"
        "parts: {part: Own, receipt: receipts/own.pdf}",
    )
    assert [each.receipts for each in found] == [("receipts/own.pdf",)] * 3


def test_a_shop_and_a_maker_are_different_things(tmp_path: Path) -> None:
    """Work away is told by its capacity, and parts sent back stand by themselves."""
    notes = {
        "2026-03-01": "away:\n  - {what: Paint, with: A shop, as: paid}\n"
        "  - {what: Tank, with: The maker, as: maker}\n"
        "  - {what: Weld, as: unpaid}\n  - {what: Box}",
        "2026-03-02": "parts: {part: Skin, ref: S1, from: The maker, status: sent back, for: W1}",
    }
    found = helped(tmp_path, notes)
    assert {
        capacity: [each.what for each in found.away_as(capacity)]
        for capacity in ("paid", "maker", "unpaid", None)
    } == {"paid": ["Paint"], "maker": ["Tank"], "unpaid": ["Weld"], None: ["Box"]}
    assert [each.part for each in found.sent_back] == ["Skin"]


def test_a_part_sent_back_has_its_history(tmp_path: Path) -> None:
    """A part that went back has its maker, its task, its receipts, and the day it came again."""
    skin = "part: Skin, ref: S1"
    notes = {
        "2026-03-01": f"parts: {{{skin}, from: The maker, for: W1, receipt: receipts/a.pdf}}",
        "2026-03-02": f"parts: {{{skin}, status: sent back}}",
        "2026-03-03": f"parts: {{{skin}, status: ordered}}",
        "2026-03-04": f"parts: {{{skin}, status: received}}",
        "2026-03-05": f"parts: [{{{skin}, status: sent back}}, "
        "{part: Rib, ref: R, status: sent back}]",
        "2026-03-06": "parts: {part: Rib, ref: R, status: fitted}",
    }
    first, second, rib = helped(tmp_path, notes).sent_back
    assert (first.part, first.ref, first.maker, first.task) == ("Skin", "S1", "The maker", "W1")
    assert (first.day, first.back, first.note) == (
        date(2026, 3, 2),
        date(2026, 3, 4),
        "notes/2026-03-02.md",
    )
    assert first.receipts == ("receipts/a.pdf",)
    assert [(each.part, each.day, each.back) for each in (second, rib)] == [
        ("Skin", date(2026, 3, 5), None),
        ("Rib", date(2026, 3, 5), date(2026, 3, 6)),
    ]


def test_the_order_of_a_ledger_changes_no_help(tmp_path: Path) -> None:
    """Work, notes and parts in any order give the same help, its receipts in order of day."""
    notes = {
        f"2026-03-0{day}": "hours: {Osk: 1h, Bo: 1h, Ada: 1h}\ntasks: {task: W1}\n"
        f"away: {{what: Covers, with: A shop, task: W1}}\nparts:\n"
        f"  - {{part: Fee, receipt: receipts/{9 - day}.pdf}}\n"
        f"  - {{part: Skin {9 - day}, status: sent back}}"
        for day in range(1, 5)
    }
    book = journal(tmp_path, TASKS, notes)
    found = assistance(book)
    assert found.paid[1].receipts == tuple(f"receipts/{9 - day}.pdf" for day in range(1, 5))
    assert [each.part for each in found.sent_back] == [f"Skin {9 - day}" for day in range(1, 5)]
    for seed in range(20):
        assert assistance(in_another_order(book, Random(seed))) == found


def test_help_ends_with_the_certificate(tmp_path: Path) -> None:
    """After the certificate nothing is help with the building any more."""
    note = (
        "tasks: {task: W1, hours: 1h, who: [Ada, Osk]}\naway: {what: Covers, as: paid}\n"
        "parts: {part: Skin, status: sent back}"
    )
    notes = {
        "2026-03-01": note,
        "2026-03-02": note.replace("Covers", "Seats").replace("Skin", "Rib"),
    }
    found = helped(tmp_path, notes, "certificated: 2026-03-01")
    assert [each.seconds for each in (*found.unpaid, *found.paid)] == [3600, 3600]
    assert [each.what for each in found.away] == ["Covers"]
    assert [each.part for each in found.sent_back] == ["Skin"]


def test_a_hidden_note_tells_of_no_work_away(tmp_path: Path) -> None:
    """Of a note of which only the time reaches anyone only the helpers' time is told."""
    note = (
        "hours: {Osk: 1h}\ntasks: {task: W1, who: Osk}\nprivate: hours only\n"
        "away: {what: Covers}\nparts: {part: Skin, status: sent back, receipt: receipts/a.pdf}"
    )
    found = helped(tmp_path, {"2026-03-01": note})
    assert (found.away, found.sent_back) == ((), ())
    assert [(each.person, each.seconds, each.receipts) for each in found.paid] == [
        ("Osk", 3600, ())
    ]
