"""What pictures must show: the work, the work before it is covered, and a builder at it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_shown import closed_without_picture
from builderlog.deciding.held import hold
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.problem import Place
from builderlog.reading.words import Word
from tests import making
from tests.deciding.claim_journals import journal, messages, told
from tests.examples import many

ASSEMBLED = "credit: {maker: 0.4, assembly: 0.6}"
PICTURES = ("task-without-picture", "closed-without-picture", "no-builder-seen")


def told_of_pictures(
    root: Path, tasks: list[str], notes: dict[str, str], more: str = "rulebook: us-checklist"
) -> list[str]:
    """What is told of pictures alone."""
    lines = told(journal(root, tasks, notes, more))
    return [line for line in lines if line.startswith(PICTURES)]


@pytest.mark.parametrize(
    ("photo", "expected"),
    [
        ("photo: photos/a.jpg, shows: W1", []),
        ("photo: photos/a.jpg, shows: W2", ["task-without-picture worklist.yaml:4 6"]),
        ("photo: photos/a.jpg", ["task-without-picture worklist.yaml:4 6"]),
        ("photo: photos/a.jpg, shows: W1, as: page", ["task-without-picture worklist.yaml:4 6"]),
    ],
)
@pytest.mark.parametrize("who", ["Ines", "Osk"])
def test_work_needs_a_picture_of_any_note(
    tmp_path: Path, photo: str, expected: list[str], who: str
) -> None:
    """A task with anyone's work needs a picture of any day that shows it, not a scanned page."""
    notes = {"2026-03-01": f"tasks: {{task: W1, hours: 1h, who: {who}}}"}
    notes["2026-04-01"] = f"photos: {{{photo}}}"
    assert told_of_pictures(tmp_path, [f"W1, {ASSEMBLED}", "W2"], notes) == expected


def test_a_picture_in_a_hidden_note_shows_nothing(tmp_path: Path) -> None:
    """A picture that only a note with nothing but its time names reaches nobody."""
    note = "tasks: {task: W1, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W1}"
    private = {"2026-03-01": f"{note}\nprivate: yes"}
    hidden = {"2026-03-01": f"{note}\nprivate: hours only"}
    assert told_of_pictures(tmp_path / "a", [f"W1, {ASSEMBLED}"], private) == []
    assert told_of_pictures(tmp_path / "b", [f"W1, {ASSEMBLED}"], hidden) == [
        "task-without-picture worklist.yaml:4 6"
    ]


def test_a_task_without_work_or_that_does_not_apply_needs_none(tmp_path: Path) -> None:
    """What is only planned, or not on this aircraft, needs no picture."""
    notes = {"2026-03-01": "tasks: {task: W2, hours: 1h}"}
    assert told_of_pictures(tmp_path, [f"W1, {ASSEMBLED}", "W2, applies: no"], notes) == []


def test_a_page_is_told_in_the_message(tmp_path: Path) -> None:
    """Where a scanned page stands for the task the message says so."""
    note = "tasks: {task: W1, hours: 1h}\nphotos: {photo: photos/a.jpg, shows: W1, as: page}"
    book = journal(tmp_path, [f"W1, {ASSEMBLED}"], {"2026-03-01": note})
    assert messages(book, "task-without-picture") == [
        "W1: 1h of work and no picture that shows it but a scanned page; add shows: [W1] to one"
    ]


WORKED = "tasks: [{task: W1, hours: 1h}, {task: W2, hours: 1h}]"


@pytest.mark.parametrize(
    ("tasks", "notes", "expected"),
    [
        (["W1", "W2"], {"2026-03-02": f"{WORKED}\ncloses: W1"}, ["2026-03-02.md:3 6", "W2 1"]),
        (["W1", "W2"], {"2026-03-02": f"{WORKED}\ncloses: W"}, ["2026-03-02.md:3 7"]),
        (
            ["W1", "W2"],
            {"2026-03-02": f"{WORKED}\ncloses: [W1, W2]"},
            ["2026-03-02.md:3 1", "2026-03-02.md:3 6"],
        ),
        (
            ["W1", "W2"],
            {"2026-03-02": WORKED, "2026-03-03": "closes: [W, W1]"},
            ["2026-03-03.md:2 7"],
        ),
        (["W1", "W2"], {"2026-03-01": "closes: W", "2026-03-02": WORKED}, ["W1 6", "W2 1"]),
        (["W1", "W2, state: done"], {"2026-03-01": "closes: W"}, ["2026-03-01.md:2 1"]),
        (["W1", "W2"], {"2026-03-01": "closes: W1"}, ["2026-03-01.md:2 6"]),
        (["W1", "W2"], {"2026-03-01": "closes: F"}, []),
    ],
)
def test_a_closing_tells_what_it_hides_unseen(
    tmp_path: Path, tasks: list[str], notes: dict[str, str], expected: list[str]
) -> None:
    """One line a closing word, of the task itself, or of an area's tasks begun or done."""
    parts = ("0.6", "0.1")
    rows = [
        f"{task}, credit: {{assembly: {part}}}" for task, part in zip(tasks, parts, strict=True)
    ]
    rows.append("F1")
    found = told(journal(tmp_path, rows, notes), "credit-without-work", "no-builder-seen")
    lines = [_short(line) for line in found if line.startswith(PICTURES)]
    assert lines == sorted(expected)


def _short(line: str) -> str:
    """A closing by its place and stake, a task without picture by its id."""
    code, place, stake = line.split()
    ids = {"worklist.yaml:4": "W1", "worklist.yaml:5": "W2"}
    return f"{place if code == 'closed-without-picture' else ids[place]} {stake}"


def test_the_message_of_a_closing_names_its_tasks(tmp_path: Path) -> None:
    """It quotes the word, names every task that it hides, and says what to write."""
    notes = {"2026-03-02": f"{WORKED}\ncloses: W"}
    book = journal(tmp_path, [f"W1, {ASSEMBLED}", f"W2, {ASSEMBLED}"], notes)
    assert messages(book, "closed-without-picture") == [
        (
            "'W' closes W1 and W2, and no picture from before shows them; add shows: [W1, W2] to "
            "one that does, or take one when it is opened again"
        )
    ]


FIRST = date(2026, 1, 1)
EVENTS = st.lists(
    st.fixed_dictionaries(
        {
            "opens": st.sampled_from(["", "W14", "W"]),
            "closes": st.sampled_from(["", "W14", "W"]),
            "picture": st.booleans(),
        }
    ),
    max_size=8,
)


@settings(max_examples=many(300))
@given(EVENTS)
def test_a_task_is_seen_only_while_it_is_open(days: list[dict[str, str | bool]]) -> None:
    """As a walk through the days has it: hidden now, and shown on no day while it could be seen."""
    could, shown, hides = True, False, None
    for number, day in enumerate(days):
        could = could or bool(day["opens"])
        hides = None if day["opens"] else hides
        shown = shown or (could and bool(day["picture"]))
        if day["closes"] and could:
            could, hides = False, number
    expected = [] if hides is None or shown else [_note_path(hides)]
    found = closed_without_picture(hold(_closings(days)))
    assert [each.place.path for each in found] == expected


def _closings(days: list[dict[str, str | bool]]) -> Ledger:
    """One note a day, the work on the day before the first of them."""
    notes, pictures = [], list[Picture]()
    for number, day in enumerate(days):
        bare = making.note((FIRST + timedelta(days=number)).isoformat())
        notes.append(_opening(bare, str(day["opens"]), str(day["closes"])))
        if day["picture"]:
            on = (FIRST + timedelta(days=number)).isoformat()
            pictures.append(making.picture(f"photos/{number}.jpg", (on, ("W14",))))
    work = [making.worked("2025-12-31", 60, "W14")]
    return making.ledger(notes=notes, work=work, pictures=pictures, tasks=[making.task("W14")])


def _note_path(number: int) -> str:
    return f"notes/{FIRST + timedelta(days=number)}.md"


def _opening(bare: Note, opens: str, closes: str) -> Note:
    place = Place(bare.path, 2)
    return replace(
        bare,
        opens=(Word(opens, place),) if opens else (),
        closes=(Word(closes, place),) if closes else (),
    )


def area_notes(seen: str, days: int = 3) -> dict[str, str]:
    """Notes that work on W1, the first with a picture of it in which `seen` is seen."""
    notes = {f"2026-03-{day:02}": "tasks: {task: W1, hours: 1h}" for day in range(1, days + 1)}
    who = f", seen: {seen}" if seen else ""
    notes["2026-03-01"] += f"\nphotos: {{photo: photos/a.jpg, shows: W1{who}}}"
    return notes


@pytest.mark.parametrize(
    ("state", "notes", "expected"),
    [
        ("open", area_notes("Ada"), True),
        ("open", area_notes(""), True),
        ("open", area_notes("Ada", 2), False),
        ("done", area_notes("Ada", 1), True),
        ("open", area_notes("Ines"), False),
        ("open", area_notes("[Ada, Tomas]"), False),
        ("done", {"2026-03-01": "tasks: {task: W1, hours: 1h}"}, False),
        (
            "done",
            {
                "2026-03-01": "tasks: {task: W1, hours: 1h, who: Osk}\n"
                "photos: {photo: photos/a.jpg, shows: W1}"
            },
            False,
        ),
    ],
)
def test_an_area_should_show_a_builder(
    tmp_path: Path,
    state: str,
    notes: dict[str, str],
    expected: bool,  # noqa: FBT001
) -> None:
    """Pictures of an area that has come some way should show a builder at it at least once."""
    rows = [f"W1, state: {state}, {ASSEMBLED}", "W2, credit: {assembly: 0.3}", "F1"]
    lines = told(journal(tmp_path, rows, notes))
    found = [line for line in lines if line.startswith("no-builder-seen")]
    assert found == (["no-builder-seen worklist.yaml:2 6"] if expected else [])


def test_a_builder_in_a_page_or_in_another_area_does_not_count(tmp_path: Path) -> None:
    """A builder seen in the pictures of another area, or in a scanned page, is not seen in this."""
    notes = area_notes("Ada")
    notes["2026-03-02"] += (
        "\nphotos:\n  - {photo: photos/b.jpg, shows: F1, seen: Ines}"
        "\n  - {photo: photos/c.jpg, shows: W1, seen: Ines, as: page}"
    )
    found = told(journal(tmp_path, [f"W1, {ASSEMBLED}", "F1"], notes))
    assert [line for line in found if line.startswith("no-builder")] == [
        "no-builder-seen worklist.yaml:2 6"
    ]


def test_seen_may_stand_in_another_note_that_names_the_picture(tmp_path: Path) -> None:
    """Who is in a picture counts wherever a note says so."""
    notes = area_notes("")
    notes["2026-03-05"] = "photos: {photo: photos/a.jpg, seen: Tomas}"
    found = told(journal(tmp_path, [f"W1, {ASSEMBLED}"], notes))
    assert [line for line in found if line.startswith("no-builder")] == []


def test_the_explanation_that_the_message_offers_explains_it(tmp_path: Path) -> None:
    """The answer that the message offers, written into journal.yaml, explains just that area."""
    rows = [f"W1, state: done, {ASSEMBLED}", f"E1, state: done, {ASSEMBLED}"]
    notes = {
        "2026-03-01": "tasks: [{task: W1, hours: 1h}, {task: E1, hours: 1h}]\n"
        "photos: {photo: photos/a.jpg, shows: [W1, E1]}"
    }
    bare = journal(tmp_path / "bare", rows, notes)
    offered = messages(bare, "no-builder-seen")[0].partition("answers: ")[2]
    more = f"rulebook: us-checklist\nanswers: {offered.replace('…', 'nobody to hold the camera')}"
    found = [
        each
        for each in judge(journal(tmp_path / "explained", rows, notes, more))
        if each.code in ("no-builder-seen", "answer-to-nothing")
    ]
    assert {each.place.line: each.because for each in found} == {
        2: "nobody to hold the camera",
        5: "",
    }


def test_the_message_on_an_area_names_a_builder(tmp_path: Path) -> None:
    """It offers the journal's builder, or the first builder where that one is none."""
    book = journal(tmp_path, [f"W1, state: done, {ASSEMBLED}"], area_notes("Ada"))
    assert "seen: [Ines] at" in messages(book, "no-builder-seen")[0]
    for name, offered in (("Tomas", "Tomas"), ("Ada", "Ines")):
        other = replace(book, settings=replace(book.settings, builder=name))
        assert f"seen: [{offered}] at" in messages(other, "no-builder-seen")[0]


def test_who_builds_without_a_builder_is_told_elsewhere(tmp_path: Path) -> None:
    """Where nobody has the role builder nobody can be seen in it."""
    book = journal(tmp_path, [f"W1, state: done, {ASSEMBLED}"], area_notes("Ada"))
    people = tuple(each for each in book.settings.people if each.name not in ("Ines", "Tomas"))
    alone = replace(book, settings=replace(book.settings, people=people))
    assert not [line for line in told(alone) if line.startswith("no-builder")]
