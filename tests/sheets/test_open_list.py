"""What is open, in words: every row leads to the line that tells it, and says how many days."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from builderlog.deciding.before_closing import before_closing
from builderlog.deciding.still_open import still_open
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.sheets.open_list import (
    CLOSING_CAUTION,
    NOT_NAMED,
    ClosingList,
    OpenSection,
    closing_list,
    open_list,
)
from tests import making
from tests.deciding.claim_journals import journal

EXAMPLE = Path(__file__).resolve().parents[2] / "example_journal"
TODAY = making.day("2026-04-01")
TASKS = ["E1, name: Fin frame, state: done", "E2", "W1", "W2"]


def section(root: Path, key: str, notes: dict[str, str], days: int = 0) -> OpenSection:
    """One section of what is open some days after the first of April 2026."""
    book = journal(root, TASKS, notes, "units: metric")
    listed = open_list(book, still_open(book, TODAY + timedelta(days=days)))
    return next(each for each in listed.sections if each.key == key)


def told(found: OpenSection) -> list[str]:
    """`group | head | text | when`, with a mark where it presses."""
    return [
        f"{row.group} | {row.head} | {row.text} | {row.when}" + " !" * row.pressing
        for row in found.rows
    ]


def test_the_sections_stand_in_the_order_in_which_they_are_asked_for(tmp_path: Path) -> None:
    """What to do, what is wrong, what is awaited, what is away, and last what was never shown."""
    book = journal(tmp_path, TASKS, {})
    listed = open_list(book, still_open(book, TODAY))
    assert listed.title == "What is open on Wednesday 1 April 2026"
    assert [each.key for each in listed.sections] == [
        *("next", "snags", "parts", "away", "decisions", "torque", "evidence")
    ]
    assert all(each.empty.endswith(".") and not each.rows for each in listed.sections)


def test_next_steps(tmp_path: Path) -> None:
    """Under their areas, with the day and how many notes have passed over them."""
    notes = {
        "2026-03-01": "tasks: [{task: E1, hours: 1h}, {task: W1, hours: 1h}]\nnext: Order a web",
        "2026-03-02": "tasks: {task: W1, hours: 1h}",
        "2026-03-03": "next: Sweep",
    }
    assert told(section(tmp_path, "next", notes)) == [
        "Of no one area |  | Sweep | 3 Mar 2026",
        "E, W |  | Order a web | 1 Mar 2026, 1 note on it since",
    ]


def test_snags(tmp_path: Path) -> None:
    """With number, task and age; one from tomorrow's note is told as such."""
    notes = {
        "2026-03-31": "snags: [{snag: A nick, task: W1}, {snag: A dent, area: E}]",
        "2026-04-01": "snags: {snag: A scratch, area: E, no: s-1}",
        "2026-04-02": "snags: {snag: Dust}",
    }
    assert told(section(tmp_path, "snags", notes)) == [
        "E | 2026-03-31.2 | A dent | 1 day ago, 31 Mar 2026",
        "E | s-1 | A scratch | today, 1 Apr 2026",
        "W | 2026-03-31.1 | A nick (W1) | 1 day ago, 31 Mar 2026",
        "Of no one area | 2026-04-02.1 | Dust | in 1 day, 2 Apr 2026",
    ]


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        (
            "part: web, ref: A-1, count: 2, status: ordered, due: 2026-03-20, from: Mill, for: E1",
            (
                "Late |  | web, A-1 (2 of them) for E1 | 12 days late, due 20 Mar 2026, ordered "
                "31 days ago, from Mill !"
            ),
        ),
        (
            "part: web, status: ordered, due: 2026-04-01",
            "Ordered |  | web | due today, ordered 31 days ago",
        ),
        (
            "part: web, count: 1, status: back-ordered, due: 2026-04-02",
            "Back-ordered |  | web | due in 1 day, 2 Apr 2026, back-ordered 31 days ago",
        ),
        ("part: web, status: short", "Short |  | web | no day named, short for 31 days"),
        ("part: web, status: damaged", "Damaged |  | web | damaged for 31 days"),
        ("part: web, status: wanted", "Wanted |  | web | no day named, wanted for 31 days"),
    ],
)
def test_parts(tmp_path: Path, part: str, expected: str) -> None:
    """What it is, how many, what for; days late or to come; since when; from whom."""
    assert told(section(tmp_path, "parts", {"2026-03-01": f"parts: {{{part}}}"})) == [expected]


@pytest.mark.parametrize(
    ("away", "expected"),
    [
        (
            "what: spar, task: W1, with: Mill, sent: 2026-03-01, due: 2026-03-31",
            "spar at Mill for W1 | 1 day late, due 31 Mar 2026, sent 31 days ago !",
        ),
        ("what: spar, due: 2026-04-05", "spar | due in 4 days, 5 Apr 2026, no day of sending"),
        (
            "what: spar, sent: 2026-03-31",
            "spar | no day named for its return, sent 1 day ago",
        ),
    ],
)
def test_away(tmp_path: Path, away: str, expected: str) -> None:
    """What, where and what for; then when it should be back, and when it left."""
    found = told(section(tmp_path, "away", {"2026-03-01": f"away: {{{away}}}"}))
    assert found == [f" |  | {expected}"]


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (0, "in 91 days, 1 Jul 2026, decided 1 Mar 2026"),
        (91, "due today, decided 1 Mar 2026 !"),
        (95, "due since 1 Jul 2026, decided 1 Mar 2026 !"),
    ],
)
def test_decisions(tmp_path: Path, days: int, expected: str) -> None:
    """A month that is named is due from its first day on."""
    notes = {"2026-03-01": "decided: {what: Flush rivets, again: 2026-07}"}
    assert told(section(tmp_path, "decisions", notes, days)) == [f" |  | Flush rivets | {expected}"]


def test_a_decision_without_a_day_keeps_its_words(tmp_path: Path) -> None:
    """When to look again may be told in words; then they stand there."""
    notes = {"2026-03-01": "decided: {what: Flush rivets, again: when the rows are done}"}
    assert told(section(tmp_path, "decisions", notes)) == [
        " |  | Flush rivets | again: when the rows are done, decided 1 Mar 2026"
    ]


def test_torque_has_its_caution(tmp_path: Path) -> None:
    """Areas that an entry may belong to stand with `or`; the manual prevails, and what is not."""
    note = (
        "tasks: [{task: W1, hours: 1h}, {task: E1, hours: 1h}]\ntorqued: {where: hinge, to: 2 Nm}"
    )
    found = section(tmp_path, "torque", {"2026-03-01": note})
    assert told(found) == [
        "E or W |  | hinge: no wrench named; nothing said of a mark | 1 Mar 2026"
    ]
    assert found.note.startswith("The kit's and the part maker's manual prevails.")
    assert NOT_NAMED in found.note


def test_evidence_says_what_hides_it(tmp_path: Path) -> None:
    """Under how soon that may be; the assumption and the caution stand with it."""
    notes = {
        "2026-03-01": "tasks: [{task: W1, hours: 1h}, {task: E1, hours: 1h}]\n"
        "measured: {what: gap, value: 1 mm}",
        "2026-03-03": "tasks: {task: W2, hours: 1h}",
    }
    found = section(tmp_path, "evidence", notes)
    assert told(found) == [
        (
            "What follows it has begun | W1 | no picture shows it | W2 follows, worked on up to "
            "3 Mar 2026 !"
        ),
        (
            "Done, what follows is next | E1 | Fin frame: no picture shows it | last worked on "
            "1 Mar 2026; E2 follows"
        ),
        "Not done itself | W2 | no picture shows it | last worked on 3 Mar 2026",
    ]
    assert "Only the authority decides" in found.note


def test_every_row_leads_to_the_line_that_tells_it() -> None:
    """In the example journal the words of each row stand in the file, from its line on."""
    book = read_journal(Folder.at(EXAMPLE))
    listed = open_list(book, still_open(book, making.day("2026-07-20")))
    assert all(section.rows for section in listed.sections)
    for section in listed.sections:
        for row in section.rows:
            lines = (EXAMPLE / row.path).read_text(encoding="utf-8").splitlines()
            below = " ".join(lines[row.line - 1 : row.line + 8])
            clue = row.head if section.key == "evidence" else row.text[:12].strip()
            assert clue in below, row


def closing(root: Path, notes: dict[str, str], subject: str, more: str = "") -> ClosingList:
    """The list before a subject is closed."""
    book = journal(root, TASKS, notes, more or "rulebook: us-checklist")
    return closing_list(book, before_closing(book, subject))


def test_before_closing_in_sentences(tmp_path: Path) -> None:
    """Each row is a sentence under its heading, with the task's name beside it."""
    notes = {"2026-03-01": "tasks: {task: E1, hours: 1h}\nsnags: {snag: A nick, area: E}"}
    found = closing(tmp_path, notes, "E1")
    assert found.title == "Before E1, Fin frame, is closed"
    assert [(row.heading, row.task, row.name, row.text) for row in found.rows] == [
        ("Open snags", "", "", "Snag 2026-03-01.1: A nick."),
        ("Pictures", "E1", "Fin frame", "No picture shows it."),
        ("Measurements", "E1", "Fin frame", "No measurement on record."),
    ]
    assert found.rows[0].path == "notes/2026-03-01.md"


def test_the_closing_list_never_passes_for_approval(tmp_path: Path) -> None:
    """With lines or without, the cautions stand: it approves nothing, and who must be asked."""
    assert "approves nothing" in CLOSING_CAUTION
    for subject in ("E1", "W2"):
        found = closing(tmp_path / subject, {}, subject)
        assert found.cautions[:2] == (CLOSING_CAUTION, NOT_NAMED)
        assert "ask before you close" in found.cautions[2]
        assert found.empty.startswith("By the record nothing is missing")


def test_what_was_closed_already_says_so(tmp_path: Path) -> None:
    """Asked too late, the title says since when it cannot be seen."""
    found = closing(tmp_path, {"2026-03-01": "closes: W1"}, "W1")
    assert found.title == "W1 was closed on 1 March 2026; what it lacks"
