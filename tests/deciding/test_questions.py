"""The authority's questions answered; whole journals of it stand in tests/cases/claims.txt."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.questions import USUAL_QUESTIONS, Answered, answers
from builderlog.knowing.rulebook import Ask, Rulebook
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from tests.deciding.claim_journals import journal, record_of

TASKS = ["W1, work: assembly", "W2", "F1"]


def rulebook(name: str = "us-checklist") -> Rulebook:
    """One that comes with the package."""
    found, _ = find_rulebook(name)
    assert found
    return found


def answered(
    root: Path,
    notes: dict[str, str],
    asked: Ask,
    more: str = "place: The barn",
    by: str = "us-checklist",
) -> tuple[str, bool, list[str]]:
    """The sentence on W1 with breaking spaces, whether it answers, and its notes by day."""
    record = record_of(journal(root, TASKS, notes, more), "W1")
    (said,) = [each for each in answers(record, rulebook(by)) if each.ask is asked]
    days = [path.removeprefix("notes/").removesuffix(".md") for path in said.notes]
    return said.sentence.replace("\xa0", " "), said.answered, days


WORK = "hours: {Ines: 3h15, Ada: 1h}\ntasks: {task: W1, hours: 1h, who: [Ines, Ada]}"
PAID = "hours: {Osk: 2h}\ntasks: {task: W1, who: Osk, per: sheet 3}"
AWAY = "away: {what: Covers, task: W1, with: A shop, as: paid, sent: 2026-02-01, back: 2026-03-05}"
BY_MAKER = "away: {what: Tank, task: W1, with: The maker, as: maker, sent: 2026-02-01}"
BY_FRIEND = "away: {what: Weld, task: W1, as: unpaid}"
BY_NOBODY = "away: {what: Box, task: W1, with: B shop}"
BACK = "parts: [{part: Skin, status: sent back, for: W1}, {part: Nut, for: W1}]"
CAME = "away: {what: Tank, task: W1, as: maker, back: 2026-03-05}"

CASES: list[tuple[Ask, list[str], str, bool, str]] = [
    (Ask.WHO, [WORK], "Ines 1 h, Ada 1 h (unpaid)", True, "1"),
    (Ask.WHO, [WORK, PAID], "Ines 1 h, Ada 1 h (unpaid), Osk 2 h (paid)", True, "12"),
    (Ask.WHO, [AWAY], "Covers away at A shop (paid)", True, "1"),
    (Ask.WHO, [BY_NOBODY], "Box away at B shop (who did it is not said)", True, "1"),
    (Ask.WHO, ["title: x"], "The record does not say who did it.", False, ""),
    (Ask.WHEN, [WORK], "2026-03-01, 1 day", True, "1"),
    (Ask.WHEN, [WORK, "title: x", PAID], "2026-03-01 to 2026-03-03, 2 days", True, "13"),
    (Ask.WHEN, [AWAY], "Covers sent 2026-02-01, back 2026-03-05", True, "1"),
    (Ask.WHEN, [BY_MAKER], "Tank sent 2026-02-01, not yet back", True, "1"),
    (Ask.WHEN, [CAME], "Tank back 2026-03-05", True, "1"),
    (Ask.WHEN, [BY_FRIEND], "The record does not say when it was done.", False, ""),
    (Ask.WHERE, [WORK], "The barn", True, "1"),
    (
        Ask.WHERE,
        [WORK, f"{PAID}\nplace: The garage", f"{PAID}\nplace: The garage"],
        "The barn (1 note); The garage (2 notes)",
        True,
        "123",
    ),
    (Ask.WHERE, [f"{WORK}\n{AWAY}"], "The barn; Covers away at A shop", True, "1"),
    (Ask.WHERE, [BY_FRIEND], "The record does not say where it was done.", False, ""),
    (Ask.METHOD, [PAID], "sheet 3", True, "1"),
    (
        Ask.METHOD,
        [PAID, PAID.replace("sheet 3", "manual 4"), PAID],
        "sheet 3 and manual 4",
        True,
        "123",
    ),
    (
        Ask.METHOD,
        [WORK, "photos: {photo: photos/a.jpg, shows: W1}"],
        "shown in 1 picture",
        True,
        "2",
    ),
    (
        Ask.METHOD,
        [f"{WORK}\nphotos: {{photo: photos/a.jpg, shows: W1, as: page}}"],
        "The record does not say by what method it was done.",
        False,
        "",
    ),
    (
        Ask.QUALITY,
        [
            f"{WORK}\nmeasured: [{{what: gap}}, {{what: twist}}]",
            "visits: {who: [Hedda, Ines], looked at: W1}",
        ],
        "2 measurements; 1 visit (Hedda, Ines, 2026-03-02)",
        True,
        "12",
    ),
    (
        Ask.QUALITY,
        [
            "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}]\ntorqued: {where: hinge}",
            f"{WORK}\nprocess: [{{what: glue}}, {{what: primer}}]",
        ],
        "1 torque entry; 2 process entries; some entries stand in notes that name other tasks too",
        True,
        "12",
    ),
    (
        Ask.QUALITY,
        ["snags: [{snag: Dent, task: W1, no: A}, {snag: Gap, task: W1, no: B}]\nfixed: A"],
        "no measurement, torque entry, process entry or visit on record; 2 snags, 1 still open",
        False,
        "1",
    ),
    (
        Ask.QUALITY,
        [f"{WORK}\nmeasured: {{what: gap}}\nsnags: {{snag: Dent, task: W1, no: A}}\nfixed: A"],
        "1 measurement; 1 snag, put right",
        True,
        "1",
    ),
    (Ask.HELP, [WORK], "no paid help on record; unpaid: Ada 1 h", True, "1"),
    (
        Ask.HELP,
        ["tasks: {task: W1, hours: 1h}\nparts: {part: Nut, for: W1}"],
        "no paid help on record",
        True,
        "",
    ),
    (
        Ask.HELP,
        [PAID, AWAY, BY_MAKER, BY_FRIEND, BACK],
        (
            "paid: Osk 2 h, Covers away at A shop; its maker: Tank away at The maker, Skin sent "
            "back on 2026-03-05; unpaid: Weld away"
        ),
        True,
        "12345",
    ),
    (
        Ask.HELP,
        [BY_NOBODY],
        "no paid help on record; Box away at B shop: who did it is not said",
        False,
        "1",
    ),
    (Ask.HELP, ["title: x"], "No time is on record, so neither is any help.", False, ""),
]


@pytest.mark.parametrize("case", CASES)
def test_a_question_is_answered_from_the_record(
    tmp_path: Path, case: tuple[Ask, list[str], str, bool, str]
) -> None:
    """The sentence, whether the record says, and the notes that say it."""
    asked, notes, sentence, says, days = case
    written = {f"2026-03-{day:02}": text for day, text in enumerate(notes, start=1)}
    told = [f"2026-03-0{day}" for day in days]
    assert answered(tmp_path, written, asked) == (sentence, says, told)


def test_a_note_with_words_describes(tmp_path: Path) -> None:
    """Notes that work on a task and have words are told beside the pages followed."""
    written = {"2026-03-01": f"{PAID}\n---\nHow it was done.\n"}
    sentence, says, _ = answered(tmp_path, written, Ask.METHOD)
    assert (sentence, says) == ("sheet 3; described in 1 note", True)


def test_without_a_place_the_record_does_not_say_where(tmp_path: Path) -> None:
    """Where neither journal nor note has a place, the record does not say where."""
    sentence, says, _ = answered(tmp_path, {"2026-03-01": WORK}, Ask.WHERE, more="")
    assert (sentence, says) == ("The record does not say where it was done.", False)


def test_work_after_the_certificate_answers_nothing(tmp_path: Path) -> None:
    """Where all time is later than the certificate the sentence says so."""
    found = answered(tmp_path, {"2026-03-01": WORK}, Ask.WHO, "certificated: 2026-02-01")
    words = "The record does not say who did it: 2 h after the certificate are no build time."
    assert found == (words, False, [])


def test_only_the_proofs_that_the_rulebook_names_answer(tmp_path: Path) -> None:
    """A rulebook that wants visits is not answered by a measurement, and says what it misses."""
    written = {"2026-03-01": f"{WORK}\nmeasured: {{what: gap}}"}
    found = answered(tmp_path / "a", written, Ask.QUALITY, by="uk")
    assert found == ("1 measurement; no visit on record", False, ["2026-03-01"])
    written = {"2026-03-01": f"{WORK}\nvisits: {{who: Hedda}}"}
    found = answered(tmp_path / "b", written, Ask.QUALITY, by="uk")
    assert found == ("1 visit (Hedda, 2026-03-01)", True, ["2026-03-01"])


def test_a_rulebook_without_proofs_takes_any(tmp_path: Path) -> None:
    """Where a rulebook names no proofs any entry answers."""
    record = record_of(
        journal(tmp_path, TASKS, {"2026-03-01": f"{WORK}\ntorqued: {{where: x}}"}), "W1"
    )
    bare = replace(rulebook(), quality={})
    assert [each.answered for each in answers(record, bare) if each.ask is Ask.QUALITY] == [True]


@pytest.mark.parametrize("name", [name for name in RULEBOOKS if name != OWN])
def test_every_rulebook_gets_its_questions_in_its_order(tmp_path: Path, name: str) -> None:
    """Each question of each rulebook has one answer, in the rulebook's order and words."""
    record = record_of(journal(tmp_path, TASKS, {"2026-03-01": WORK}), "W1")
    found: tuple[Answered, ...] = answers(record, rulebook(name))
    assert [(each.ask, each.words) for each in found] == [
        (each.ask, each.words) for each in rulebook(name).questions
    ]
    assert all(each.sentence for each in found)


def test_without_a_rulebook_the_usual_questions_are_asked(tmp_path: Path) -> None:
    """The six of the circular, in words of our own; any proof at all answers for the quality."""
    notes = {"2026-03-01": f"{WORK}\ntorqued: {{where: hinge}}"}
    told = answers(record_of(journal(tmp_path, TASKS, notes, ""), "W1"), None)
    assert [each.ask for each in told] == list(Ask)
    assert [each.words for each in told] == [each.words for each in USUAL_QUESTIONS]
    assert [each.sentence for each in told if each.ask is Ask.QUALITY] == ["1 torque entry"]


def test_a_rulebook_without_questions_asks_the_usual_ones(tmp_path: Path) -> None:
    """A rulebook of the builder's own that asks nothing leaves no task without its answers."""
    record = record_of(journal(tmp_path, TASKS, {"2026-03-01": WORK}), "W1")
    told = answers(record, replace(rulebook(), questions=()))
    assert len(told) == len(USUAL_QUESTIONS)
