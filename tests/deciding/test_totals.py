"""The totals and the document that other programs rely on."""

from __future__ import annotations

import json

from builderlog.deciding.totals import tally, tally_document
from builderlog.knowing.entries import Privacy, Work
from tests.making import ledger, note, part, picture, task, worked

TASK_KEYS = ("seconds", "fabrication", "assembly", "other", "notes", "photos")
BOOK = ledger(
    work=[
        worked("2026-03-14", 9000, "W14", kind=Work.FABRICATION),
        worked("2026-03-14", 2700, "W15", kind=Work.ASSEMBLY),
        worked("2026-03-14", 2700, "W15", "Ada", Work.ASSEMBLY),
        worked("2026-03-14", 900, None, "Ada"),
        worked("2026-04-02", 3600, "loose"),
        worked("2026-04-02", 0, "W16", "Tomas"),
    ],
    notes=[
        note("2026-03-14", "W14", "W15", shows=["W14", "W17"]),
        note("2026-04-02", "loose", "W16"),
        note("2026-04-03", privacy=Privacy.HOURS_ONLY),
    ],
    tasks=[task("W14"), task("W15"), task("W16"), task("W17"), task("W18"), task("X1")],
    pictures=[picture("photos/a.jpg", ("2026-03-14", ("W14", "W17")))],
    parts=[part("bolt", ("2026-03-14", "8.4 USD")), part("nut", ("2026-04-02", "1 EUR"))],
)


def test_the_document_is_the_contracts() -> None:
    """A small journal gives exactly the keys and numbers of the contract, and four keys more."""
    document = tally_document(tally(BOOK))
    assert json.loads(json.dumps(document)) == {
        "seconds": 18900,
        "by_role": {"builder": 15300, "helper": 3600, "paid": 0},
        "by_person": {"Ada": 3600, "Ines": 15300},
        "by_month": {
            "2026-03": {
                "seconds": 15300,
                "by_role": {"builder": 11700, "helper": 3600, "paid": 0},
                "notes": 1,
                "days": 1,
                "photos": 1,
                "spent": {"USD": "8.40"},
            },
            "2026-04": {
                "seconds": 3600,
                "by_role": {"builder": 3600, "helper": 0, "paid": 0},
                "notes": 2,
                "days": 1,
                "photos": 0,
                "spent": {"EUR": "1.00"},
            },
        },
        "by_area": {"W": 14400},
        "by_task": {
            "W14": dict(zip(TASK_KEYS, (9000, 9000, 0, 0, 1, 1), strict=True)),
            "W15": dict(zip(TASK_KEYS, (5400, 0, 5400, 0, 1, 0), strict=True)),
            "W16": dict(zip(TASK_KEYS, (0, 0, 0, 0, 1, 0), strict=True)),
            "W17": dict(zip(TASK_KEYS, (0, 0, 0, 0, 1, 1), strict=True)),
            "loose": dict(zip(TASK_KEYS, (3600, 0, 0, 3600, 1, 0), strict=True)),
        },
        "notes": 3,
        "photos": 1,
        "spent": {"USD": "8.40", "EUR": "1.00"},
        "untasked": 900,
        "by_day": {"2026-03-14": 15300, "2026-04-02": 3600},
        "by_week": {"2026-W11": 15300, "2026-W14": 3600},
        "by_kind": {"fabrication": 9000, "assembly": 5400, "other": 4500},
        "days": 2,
    }


def test_tasks_stand_in_the_work_lists_order() -> None:
    """Tasks of the work list come first, in its order, and free ones after them by alphabet."""
    book = ledger(notes=[note("2026-03-14", "b", "W2", "a", "W1")], tasks=[task("W2"), task("W1")])
    assert list(tally(book).by_task) == ["W2", "W1", "a", "b"]


def test_an_empty_journal_has_totals_of_nothing() -> None:
    """No note at all gives zeros, all three roles, and no months."""
    document = tally_document(tally(ledger()))
    assert document["by_role"] == {"builder": 0, "helper": 0, "paid": 0}
    assert (document["seconds"], document["by_month"], document["spent"]) == (0, {}, {})


def test_a_month_without_a_note_is_no_key() -> None:
    """A month in which no note is dated stays out of `by_month`."""
    book = ledger(work=[worked("2026-01-10", 60), worked("2026-03-10", 30)])
    assert list(tally(book).by_month) == ["2026-01", "2026-03"]


def test_an_hours_only_note_counts_as_any_other() -> None:
    """What is kept from every reader still counts in every total."""
    hidden = note("2026-01-10", "W1", privacy=Privacy.HOURS_ONLY)
    found = tally(ledger(work=[worked("2026-01-10", 60, "W1")], notes=[hidden]))
    assert (found.seconds, found.notes, found.by_task["W1"].notes) == (60, 1, 1)
