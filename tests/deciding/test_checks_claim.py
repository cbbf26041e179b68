"""The claim against the record; whole journals of it stand in tests/cases/claims.txt."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_claim import claim_problems
from builderlog.deciding.coverage import coverage
from builderlog.deciding.questions import answers
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Worklist
from builderlog.reading.problem import Weight
from tests.deciding.claim_journals import NO_PICTURE, in_another_order, journal, messages, told
from tests.examples import many
from tests.knowing.journals import ledger_of
from tests.reading.case_file import Case, each_case, read_cases
from tests.reading.case_file import told as told_lines

WHOLE = "credit: {maker: 0.4, assembly: 0.2, fabrication: 0.4}"
ASSEMBLED = "credit: {maker: 0.4, assembly: 0.6}"
HOURS = "rulebook: france-hours\nkit hours: 100h"
MARKS = "rulebook: us-8000-38"
SEEN = "photos: {photo: photos/a.jpg, shows: [W1, W2], seen: Ines}\nmeasured: {what: gap}"


def checked(root: Path, task: str, *notes: str, more: str = "rulebook: us-checklist") -> list[str]:
    """What is told of the task W1 with these notes on 1, 2, … March, a picture and a proof."""
    days = {f"2026-03-{day:02}": text for day, text in enumerate(notes, start=1)}
    days["2026-02-01"] = f"tasks: [{{task: W1}}, {{task: W2}}]\n{SEEN}"
    listed = [f"W1, {task}", f"W2, {ASSEMBLED}"]
    return told(journal(root, listed, days, more))


@each_case("claims.txt")
def test_case(case: Case, tmp_path: Path) -> None:
    """The journal is told what the case writes and no more, and answers as the case writes."""
    ledger = ledger_of(tmp_path, case.files)
    assert told_lines(judge(ledger), with_path=True) == case.problems
    assert list(_answered(ledger)) == case.values


def _answered(ledger: Ledger) -> list[str]:
    """Every answer on every task that a note names; breaking spaces, since a case is read."""
    assert ledger.rulebook
    return [
        f"{record.id} {'' if said.answered else 'not '}{said.ask}: {said.sentence}".replace(
            "\xa0", " "
        )
        for record in coverage(ledger)
        if record.notes
        for said in answers(record, ledger.rulebook)
    ]


@pytest.mark.parametrize(
    ("task", "notes", "expected"),
    [
        (f"state: done, {WHOLE}", [], ["credit-without-work worklist.yaml:4 6"]),
        ("state: done, marks: [1, 1]", [], ["credit-without-work worklist.yaml:4 10"]),
        (
            f"state: done, {WHOLE}",
            ["hours: {Osk: 2h}\ntasks: {task: W1, who: Osk}"],
            ["credit-without-work worklist.yaml:4 6", "paid-not-claimed 2026-03-01.md:3 6"],
        ),
        (f"state: open, {WHOLE}", [], []),
        ("state: done, credit: {maker: 1.0}", [], []),
        ("state: done, credit: {maker: 0.5, paid: 0.5}", [], []),
        ("state: done, marks: [1, 0]", [], []),
        ("state: done, work: assembly", [], []),
        (f"state: done, applies: no, {WHOLE}", [], []),
        (
            f"state: done, {ASSEMBLED}",
            ["tasks: {task: W1, hours: 1h, who: Ada, work: assembly}"],
            [],
        ),
    ],
)
def test_credit_needs_work(
    tmp_path: Path, task: str, notes: list[str], expected: list[str]
) -> None:
    """A done task of which the builder claims a part needs time of an amateur, and no other."""
    assert checked(tmp_path, task, *notes) == expected


@pytest.mark.parametrize(
    ("task", "words"),
    [
        (WHOLE, "0.6 of it claimed for the builder"),
        ("marks: [1, 1]", "marked for the builder"),
        ("credit: {maker: 1.0}, marks: [1, 1]", "marked for the builder"),
    ],
)
def test_the_message_on_credit_says_what_is_claimed(tmp_path: Path, task: str, words: str) -> None:
    """It quotes the tenths, or says that the builder's mark stands there."""
    found = messages(journal(tmp_path, [f"W1, state: done, {task}"], {}), "credit-without-work")
    assert found == [
        (
            f"W1: done and {words}, but no time of the amateurs is on record; "
            "say in a note who did it and when, or claim less"
        )
    ]


def test_a_done_task_without_work_is_told_once(tmp_path: Path) -> None:
    """A done task without work is told by one code, whether it gives its credit or not."""
    rows = [f"W1, state: done, {WHOLE}", "W2, state: done", "W3, state: done, credit: {maker: 1.0}"]
    found = [each for each in judge(journal(tmp_path, rows, {})) if each.weight is Weight.GAP]
    assert [(each.code, each.place.line) for each in found] == [
        ("credit-without-work", 4),
        ("done-without-work", 5),
    ]


def test_where_hours_count_work_alone_is_asked_for(tmp_path: Path) -> None:
    """Where hours are counted credit claims nothing: a done task without time is told as such."""
    rows = [f"W1, state: done, {WHOLE}", "W2, state: done", "W3, state: done, credit: {maker: 1.0}"]
    found = [
        each for each in judge(journal(tmp_path, rows, {}, HOURS)) if each.weight is Weight.GAP
    ]
    assert [(each.code, each.place.line) for each in found] == [
        ("done-without-work", 4),
        ("done-without-work", 5),
    ]


def work(hours: str, kind: str, who: str = "Ines") -> str:
    """A note with one entry for W1."""
    return f"tasks: {{task: W1, hours: {hours}, who: {who}, work: {kind}}}"


@pytest.mark.parametrize(
    ("task", "notes", "expected"),
    [
        ("state: done", [work("2h", "assembly")], ["fabrication-not-on-record worklist.yaml:4 4"]),
        ("state: done", [work("2h", "other")], ["fabrication-not-on-record worklist.yaml:4 4"]),
        ("state: done", [work("2h", "assembly"), work("1m", "fabrication")], []),
        ("state: done", [work("2h", "assembly"), work("1m", "fabrication", "Ada")], []),
        (
            "state: done",
            [work("2h", "assembly"), work("1h", "fabrication", "Osk")],
            [
                "fabrication-not-on-record worklist.yaml:4 4",
                "paid-not-claimed 2026-03-02.md:2 6",
            ],
        ),
        ("state: done", [], ["credit-without-work worklist.yaml:4 6"]),
        ("state: open", [work("2h", "assembly")], ["fabrication-not-on-record worklist.yaml:4 4"]),
        ("estimate: 2h", [work("2h", "assembly")], ["fabrication-not-on-record worklist.yaml:4 4"]),
        ("estimate: 3h", [work("2h", "assembly")], []),
        ("state: done, estimate: 3h", [work("2h", "assembly"), work("1m", "fabrication")], []),
        ("state: open", [], []),
    ],
)
def test_fabrication_needs_fabrication(
    tmp_path: Path, task: str, notes: list[str], expected: list[str]
) -> None:
    """Credit for fabrication needs it on record, unless an estimate says that it is to come."""
    assert checked(tmp_path, f"{task}, {WHOLE}", *notes) == expected


def test_fabrication_is_not_asked_where_none_is_claimed_or_hours_count(tmp_path: Path) -> None:
    """Assembly is enough for a task that claims assembly, and everywhere if hours are counted."""
    done = [work("2h", "assembly")]
    assert checked(tmp_path / "a", f"state: done, {ASSEMBLED}", *done) == []
    assert checked(tmp_path / "b", f"state: done, {WHOLE}", *done, more=HOURS) == []


def test_the_message_on_fabrication_names_the_first_entry(tmp_path: Path) -> None:
    """It says what is on record instead, where its first entry stands, and what to write."""
    notes = {"2026-03-02": work("2h", "assembly"), "2026-03-01": work("1h30", "other")}
    found = messages(
        journal(tmp_path, [f"W1, state: done, {WHOLE}"], notes), "fabrication-not-on-record"
    )
    assert found == [
        (
            "W1: done and 0.4 claimed for fabrication, but the record has 2h of assembly and "
            "1h30 of other only (notes/2026-03-01.md:2 and 1 more note); write work: "
            "fabrication on the entry that was it"
        )
    ]


def test_the_message_on_fabrication_of_an_open_task_offers_an_estimate(tmp_path: Path) -> None:
    """Where more may be to come, it is not called done, and an estimate would say so."""
    notes = {"2026-03-02": work("2h", "assembly")}
    (found,) = messages(journal(tmp_path, [f"W1, {WHOLE}"], notes), "fabrication-not-on-record")
    assert found.startswith("W1: 0.4 claimed for fabrication, but the record has 2h of assembly")
    assert found.endswith("on the entry that was it, or an estimate if it is to come")


AWAY = "away: {what: Covers, task: W1, with: A trim shop, as: paid}"


@pytest.mark.parametrize("state", ["open", "done"])
@pytest.mark.parametrize(
    ("credit", "notes", "expected"),
    [
        (ASSEMBLED, [work("2h", "assembly", "Osk")], ["paid-not-claimed 2026-03-01.md:2 6"]),
        (ASSEMBLED, [AWAY], ["paid-not-claimed 2026-03-01.md:2 6"]),
        (
            ASSEMBLED,
            ["title: x", AWAY, work("2h", "assembly", "Osk")],
            ["paid-not-claimed 2026-03-02.md:2 6"],
        ),
        (
            ASSEMBLED,
            ["title: x", work("2h", "assembly", "Osk"), AWAY],
            ["paid-not-claimed 2026-03-02.md:2 6"],
        ),
        ("credit: {paid: 0.1, assembly: 0.9}", [work("2h", "assembly", "Osk"), AWAY], []),
        (ASSEMBLED, [AWAY.replace("paid", "unpaid")], []),
        (ASSEMBLED, [work("2h", "assembly", "Ada")], []),
        ("credit: {}", [work("2h", "assembly", "Osk")], []),
    ],
)
def test_paid_help_is_claimed_as_paid(
    tmp_path: Path, state: str, credit: str, notes: list[str], expected: list[str]
) -> None:
    """Paid help, open task or done, contradicts a credit with nothing under paid; told once."""
    own = "tasks: {task: W1, hours: 1h, work: assembly}"
    assert checked(tmp_path, f"state: {state}, {credit}", *notes, own) == [
        *expected,
        *(["work-not-claimed worklist.yaml:4 10"] if credit == "credit: {}" else []),
    ]


def test_paid_help_where_no_credit_is_claimed(tmp_path: Path) -> None:
    """Marks alone and hours have no credit that paid help could contradict."""
    note = work("2h", "assembly", "Osk")
    own = work("2h", "assembly")
    assert checked(tmp_path / "a", "marks: [1, 1]", note, own, more=MARKS) == []
    assert checked(tmp_path / "b", ASSEMBLED, note, own, more=HOURS) == []


def test_the_message_on_paid_help_says_who_and_where_it_is_claimed(tmp_path: Path) -> None:
    """It names everyone and every piece of work, and the line of the task in the work list."""
    notes = {"2026-03-01": AWAY, "2026-03-02": work("2h", "assembly", "[Osk, Bo]")}
    found = messages(journal(tmp_path, [f"W1, {ASSEMBLED}"], notes), "paid-not-claimed")
    assert found == [
        (
            "W1: paid help on record (4h of Bo and Osk and 'Covers' away at A trim shop), but its "
            "credit in worklist.yaml:4 has nothing under paid; write paid: 0.1 or more there"
        )
    ]


@pytest.mark.parametrize(
    ("credit", "note", "expected"),
    [
        (
            "credit: {assembly: 0.6, fabrication: 0.4}",
            "away: {what: Tank, task: W1, as: maker}",
            ["maker-not-claimed 2026-03-01.md:2 10"],
        ),
        (ASSEMBLED, "away: {what: Tank, task: W1, as: maker}", []),
        (
            "credit: {assembly: 0.6, fabrication: 0.4}",
            "parts: {part: Tank, status: sent back, for: W1}",
            [],
        ),
        (
            "credit: {assembly: 0.6, fabrication: 0.4}",
            "away: {what: Tank, task: W1}",
            ["away-without-as 2026-03-01.md:2 10"],
        ),
        (ASSEMBLED, "away: {what: Tank}", []),
        (ASSEMBLED, "away: {what: Tank, task: W1, as: unpaid}", []),
        (
            ASSEMBLED,
            "away: [{what: Tank, task: W1, sent: 2026-02-01}, {what: Tank, task: W1, as: maker}]",
            [],
        ),
    ],
)
def test_work_away_is_claimed_for_whom_it_was(
    tmp_path: Path, credit: str, note: str, expected: list[str]
) -> None:
    """Work of the maker contradicts a credit with none of it; one of nobody knows whom is a gap."""
    own = "tasks: {task: W1, hours: 1h, work: assembly}"
    assert checked(tmp_path, f"state: open, estimate: 9h, {credit}", note, own) == expected


@pytest.mark.parametrize(
    ("task", "more", "expected"),
    [
        ("state: done, credit: {maker: 0.3, assembly: 0.5}", "us-checklist", 2),
        ("state: done, credit: {maker: 0.4, assembly: 0.5}", "us-checklist", 1),
        ("state: open, credit: {maker: 0.3, assembly: 0.5}", "us-checklist", 2),
        ("state: done, credit: {maker: 0.5, assembly: 0.5}", "us-checklist", None),
        ("state: open", "us-checklist", 10),
        ("state: done", "us-checklist", 10),
        ("state: open, marks: [1, 1]", "us-checklist", 10),
        ("state: done, credit: {maker: 0.3, assembly: 0.5}", "us-8000-38", None),
        ("state: done, credit: {maker: 0.3}", "us-8000-38", 7),
        ("state: done, marks: [1, 0]", "us-8000-38", None),
        ("state: open", "us-8000-38", 10),
        ("state: done, credit: {maker: 0.3, assembly: 0.5}", "france-hours", None),
        ("state: open", "france-hours", None),
        ("state: open", "", None),
        ("state: done, credit: {maker: 0.3, assembly: 0.5}", "", 2),
    ],
)
def test_work_is_claimed(tmp_path: Path, task: str, more: str, expected: int | None) -> None:
    """Work on record of which a part of the point is nobody's is told, done or not."""
    rulebook = f"rulebook: {more}\nkit hours: 10h" if more else ""
    found = checked(tmp_path, task, work("2h", "assembly"), more=rulebook)
    assert found == ([f"work-not-claimed worklist.yaml:4 {expected}"] if expected else [])


def test_without_any_work_nothing_is_left_unclaimed(tmp_path: Path) -> None:
    """An open task without work and credit is told nothing, nor one on which only Osk worked."""
    assert checked(tmp_path / "a", "state: open") == []
    assert checked(tmp_path / "b", "state: open", work("2h", "assembly", "Osk")) == []


def test_a_list_without_any_credit_is_told_once(tmp_path: Path) -> None:
    """Where no task gives its credit yet, one line tells it, however many tasks have work."""
    rows = ["W1", "W2", "W3"]
    note = "tasks: [{task: W1, hours: 2h}, {task: W2, hours: 1h}]"
    ledger = journal(tmp_path, rows, {"2026-03-01": note})
    assert told(ledger, *NO_PICTURE) == ["work-not-claimed worklist.yaml:4 20"]
    assert messages(ledger, "work-not-claimed")[0].startswith("2 tasks with 3h of the amateurs'")


PROVED = {
    "measured": "measured: {what: gap}",
    "torqued": "torqued: {where: hinge}",
    "process": "process: {what: primer}",
    "visits": "visits: {who: Hedda, looked at: W1}",
    "visit to the area": "visits: {who: Hedda, looked at: W}",
    "visit that names nothing": "visits: {who: Hedda}",
}


@pytest.mark.parametrize("proof", [*PROVED])
@pytest.mark.parametrize("kind", ["assembly", "fabrication"])
def test_any_proof_of_the_rulebook_will_do(tmp_path: Path, proof: str, kind: str) -> None:
    """One entry of a kind that the rulebook names for such work is enough, and no other is."""
    note = f"tasks: {{task: W1, hours: 1h, work: {kind}}}\n{PROVED[proof]}"
    rows = [f"W1, work: {kind}, state: done, credit: {{maker: 0.4, {kind}: 0.6}}"]
    found = told(journal(tmp_path, rows, {"2026-03-01": note}), *NO_PICTURE)
    lacking = proof == "torqued" and kind == "fabrication"
    assert found == (["done-without-proof worklist.yaml:4 6"] if lacking else [])


@pytest.mark.parametrize(
    ("task", "note", "more", "expected"),
    [
        ("state: done", work("1h", "assembly"), "rulebook: us-checklist", True),
        ("state: open", work("1h", "assembly"), "rulebook: us-checklist", False),
        ("state: done", work("1h", "assembly"), "", False),
        ("state: done", work("1h", "assembly"), HOURS, True),
        ("state: done", "title: x", "rulebook: us-checklist", False),
        (
            "state: done",
            f"{work('1h', 'assembly')}\nvisits: {{who: Hedda, looked at: W2}}",
            "rulebook: us-checklist",
            True,
        ),
    ],
)
def test_done_work_of_the_builder_needs_a_proof(
    tmp_path: Path,
    task: str,
    note: str,
    more: str,
    expected: bool,  # noqa: FBT001
) -> None:
    """A done task with work and without proof is told where a rulebook asks; no other is."""
    rows = [f"W1, {task}, {ASSEMBLED}", f"W2, {ASSEMBLED}"]
    found = messages(journal(tmp_path, rows, {"2026-03-01": note}, more), "done-without-proof")
    words = (
        "W1: done, and the record has no measurement, torque entry, process entry or visit for "
        "it; write measured, torqued, process or visits where there was one"
    )
    assert found == ([words] if expected else [])


def test_what_the_builder_does_not_claim_needs_no_proof(tmp_path: Path) -> None:
    """A done task that is the maker's whole needs no proof of the builder's work."""
    rows = ["W1, state: done, credit: {maker: 1.0}"]
    ledger = journal(tmp_path, rows, {"2026-03-01": work("1h", "other")})
    assert told(ledger, *NO_PICTURE) == []


def test_work_after_the_certificate_is_told_once(tmp_path: Path) -> None:
    """Time on tasks after the certificate is told once, at its first entry, with the sum."""
    notes = {
        "2026-03-05": work("2h", "assembly"),
        "2026-03-04": work("1h", "assembly"),
        "2026-03-03": work("4h", "assembly"),
        "2026-03-06": "hours: 3h",
    }
    more = "rulebook: us-checklist\ncertificated: 2026-03-03"
    ledger = journal(tmp_path, [f"W1, {ASSEMBLED}"], notes, more)
    assert told(ledger, *NO_PICTURE) == ["after-certificate 2026-03-04.md:2 0"]
    assert messages(ledger, "after-certificate") == [
        (
            "3h on tasks after 2026-03-03 (certificated in journal.yaml:5) are no build time and "
            "count nowhere in the claim; mend the day if that is not so"
        )
    ]


def test_work_after_the_certificate_is_no_work_for_the_claim(tmp_path: Path) -> None:
    """A done task with all its time after the certificate has none that counts."""
    more = "rulebook: us-checklist\ncertificated: 2026-02-03"
    assert checked(tmp_path, f"state: done, {ASSEMBLED}", work("1h", "assembly"), more=more) == [
        "after-certificate 2026-03-01.md:2 0",
        "credit-without-work worklist.yaml:4 6",
    ]


def test_without_a_work_list_nothing_is_claimed(tmp_path: Path) -> None:
    """Without a work list there is no claim to hold the record against."""
    ledger = journal(tmp_path, [f"W1, state: done, {WHOLE}"], {"2026-03-01": work("1h", "other")})
    assert told(replace(ledger, worklist=Worklist())) == []


def test_without_a_work_list_work_away_is_still_asked_after(tmp_path: Path) -> None:
    """Work away of nobody knows whom is told without a work list too; no claim hangs on it."""
    notes = {"2026-03-01": "away: {what: Tank, task: W1}"}
    ledger = replace(journal(tmp_path, ["W1"], notes), worklist=Worklist())
    assert told(ledger) == ["away-without-as 2026-03-01.md:2 0"]


def whole_journal(root: Path) -> Ledger:
    """The journal of tests/cases that holds every contradiction."""
    return ledger_of(root, read_cases("claims.txt")[0].files)


@settings(
    max_examples=many(30),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(seed=st.integers(0, 2**32))
def test_order_changes_nothing(tmp_path_factory: pytest.TempPathFactory, seed: int) -> None:
    """Notes, work, pictures, snags and tasks in any order give the same records and problems."""
    ledger = _WHOLE.setdefault("ledger", whole_journal(tmp_path_factory.mktemp("whole")))
    assert isinstance(ledger, Ledger)
    turned = in_another_order(ledger, Random(seed), lists_of_tasks=True)
    assert {r.id: r for r in coverage(turned)} == {r.id: r for r in coverage(ledger)}
    assert {*claim_problems(turned)} == {*claim_problems(ledger)}


_WHOLE: dict[str, Ledger] = {}  # read once for all examples
