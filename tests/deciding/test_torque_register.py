"""The register: order, areas, what is open, what was done again or opened again."""

from __future__ import annotations

from pathlib import Path
from random import Random

from builderlog.deciding.torque_register import Group, register, same_fasteners
from tests.deciding.claim_journals import in_another_order
from tests.deciding.torque_entries import journal, torqued

WHOLE = "to: 20 in-lb, set: 20 in-lb, wrench: one, marked: yes"


def names(groups: tuple[Group, ...]) -> list[str]:
    """Each group by where it is."""
    return [str(group.line.where) for group in groups]


def test_areas_run_from_tail_to_nose_and_open_ones_stand_first(tmp_path: Path) -> None:
    """Tail, wings, engine, then controls, then no area; in each what is open, then by day."""
    notes = {
        "2026-03-01": f"tasks: P1\nhours: 1h\ntorqued: {{where: mount, {WHOLE}}}",
        "2026-03-02": f"tasks: K1\nhours: 1h\ntorqued: {{where: stick, {WHOLE}}}",
        "2026-03-03": f"tasks: W1\nhours: 1h\ntorqued: {{where: aileron, {WHOLE}}}",
        "2026-03-04": "tasks: E1\nhours: 1h\n"
        f"torqued: [{{where: fin, {WHOLE}}}, {{where: rudder}}]",
        "2026-03-05": f"tasks: E2\nhours: 1h\ntorqued: {{where: elevator, {WHOLE}}}",
        "2026-03-06": f"torqued: {{where: somewhere, {WHOLE}}}",
    }
    found = register(journal(tmp_path, notes))
    assert names(found) == ["rudder", "fin", "elevator", "aileron", "mount", "stick", "somewhere"]
    assert [[area.id for area in group.areas] for group in found[2:]] == [
        ["E"],
        ["W"],
        ["P"],
        ["K"],
        [],
    ]
    assert found[0].tasks == ("E1",)


def test_a_note_of_several_areas_names_them_all(tmp_path: Path) -> None:
    """An entry has no task of its own: it may be of any area of its note's tasks."""
    notes = {"2026-03-01": f"tasks: [W1, W2, E1]\nhours: 1h\ntorqued: {{where: a, {WHOLE}}}"}
    (found,) = register(journal(tmp_path, notes))
    assert ([area.id for area in found.areas], found.tasks) == (["E", "W"], ("W1", "W2", "E1"))


def test_what_is_missing_keeps_an_entry_open(tmp_path: Path) -> None:
    """Value, wrench and mark are asked for; a second pair of eyes and safetying are not."""
    rows = ("wrench: one, marked: yes", "to: 2 N·m, marked: no", "to: 2 N·m, wrench: one", WHOLE)
    entries = "".join(f"  - {{where: j{n}, {row}}}\n" for n, row in enumerate(rows))
    found = register(journal(tmp_path, {"2026-03-01": f"torqued:\n{entries}"}))
    assert {str(group.line.where): group.open_because for group in found} == {
        "j0": ("no torque value on record",),
        "j1": ("no wrench named", "no mark applied"),
        "j2": ("nothing said of a mark",),
        "j3": (),
    }
    assert [group.state for group in found] == ["open", "open", "open", "closed"]


def test_a_later_entry_takes_the_place_of_an_earlier_one(tmp_path: Path) -> None:
    """The same place and bolt in a later note: the earlier entry is done again, never open."""
    notes = {
        "2026-03-01": "torqued: [{where: Left  Hinge, bolt: AN3-5A}, {where: left hinge}]",
        "2026-04-01": f"torqued: {{where: left hinge, bolt: an3-5a, {WHOLE}}}",
    }
    found = register(journal(tmp_path, notes))
    told = [(str(group.line.where), group.state, str(group.again)) for group in found]
    assert told == [
        ("left hinge", "open", "None"),
        ("Left  Hinge", "done again", "2026-04-01"),
        ("left hinge", "closed", "None"),
    ]
    assert found[1].open_because == ()


def test_the_same_words_in_another_area_are_other_fasteners(tmp_path: Path) -> None:
    """A hinge of the tail is no hinge of the wings; one of several areas may be either."""
    entry = "hours: 1h\ntorqued: {where: hinge}"
    tasks = {"2026-03-01": "W1", "2026-03-02": "E1", "2026-03-04": "[P1, W2]"}
    notes = {day: f"tasks: {named}\n{entry}" for day, named in tasks.items()}
    found = register(journal(tmp_path, {**notes, "2026-03-03": "torqued: {where: hinge}"}))
    told = {str(group.note.day): str(group.again) for group in found}
    assert told == {
        "2026-03-01": "2026-03-04",
        "2026-03-02": "None",
        "2026-03-03": "None",
        "2026-03-04": "None",
    }


def test_two_alike_in_one_note_are_two(tmp_path: Path) -> None:
    """One note may tell of a left and a right one in the same words: both stand."""
    notes = {"2026-03-01": f"torqued: [{{where: hinge}}, {{where: hinge, {WHOLE}}}]"}
    found = register(journal(tmp_path, notes))
    assert [group.state for group in found] == ["open", "closed"]


def test_an_entry_that_says_no_place_is_never_done_again(tmp_path: Path) -> None:
    """Without `where` two entries cannot be told to be the same."""
    notes = dict.fromkeys(("2026-03-01", "2026-04-01"), f"torqued: {{{WHOLE}}}")
    assert [group.state for group in register(journal(tmp_path, notes))] == ["closed", "closed"]
    assert same_fasteners(torqued(bolt="AN3-5A")) is None


def test_what_was_opened_since_is_open_again(tmp_path: Path) -> None:
    """A task or area opened after it opens the entry; an opening before, or elsewhere, does not."""
    entry = f"hours: 1h\ntorqued: {{where: {{}}, {WHOLE}}}"
    rows = {"2026-03-02": ("W1", "a"), "2026-03-03": ("E1", "b"), "2026-03-04": ("K1", "c")}
    notes = {
        day: f"tasks: {task}\n{entry.replace('{}', name)}" for day, (task, name) in rows.items()
    }
    notes["2026-03-02"] += "\nopens: W1"
    notes |= {"2026-03-01": "opens: [W, E1]", "2026-03-05": "opens: W", "2026-03-06": "opens: E1"}
    found = {
        str(group.line.where): group.open_because for group in register(journal(tmp_path, notes))
    }
    assert found == {
        "a": ("W was opened again on 2026-03-05, and it was not torqued since",),
        "b": ("E1 was opened again on 2026-03-06, and it was not torqued since",),
        "c": (),
    }


def test_torqued_after_the_opening_is_closed(tmp_path: Path) -> None:
    """Torqued again after it was opened: the new entry is closed, the old one done again."""
    entry = f"tasks: W1\nhours: 1h\ntorqued: {{where: a, {WHOLE}}}"
    notes = {"2026-03-01": entry, "2026-03-02": "opens: W1", "2026-03-03": entry}
    found = register(journal(tmp_path, notes))
    assert [group.state for group in found] == ["done again", "closed"]


def test_the_joint_is_known_by_its_tasks(tmp_path: Path) -> None:
    """An entry in a note that works on a spruce spar is not held against the table."""
    entry = "torqued: {where: a, bolt: AN3-5A, nut: tension, threads: dry, to: 90 in-lb}"
    notes = {
        "2026-03-01": f"tasks: W2\nhours: 1h\n{entry}",
        "2026-03-02": f"tasks: W1\nhours: 1h\n{entry.replace('where: a', 'where: steel bracket')}",
    }
    found = {str(group.line.where): group.held for group in register(journal(tmp_path, notes))}
    assert "'spruce' is named" in found["a"].why
    assert found["steel bracket"].ranged == "over the limit"


def test_hidden_notes_are_left_out(tmp_path: Path) -> None:
    """A note of which only the time reaches anyone gives no entry, and opens nothing."""
    notes = {
        "2026-03-01": f"tasks: W1\nhours: 1h\ntorqued: {{where: a, {WHOLE}}}",
        "2026-03-02": "opens: W1\ntorqued: {where: b}\nprivate: hours only",
    }
    assert names(register(journal(tmp_path, notes))) == ["a"]


def test_without_a_work_list_entries_stand_by_day(tmp_path: Path) -> None:
    """Free task ids belong to no area; the register is then in order of day."""
    book = journal(
        tmp_path, {"2026-03-02": "torqued: {where: b}", "2026-03-01": "torqued: {where: a}"}
    )
    assert names(register(book)) == ["a", "b"]


def test_the_order_of_notes_changes_nothing(tmp_path: Path) -> None:
    """Notes in any order give the same register."""
    entry = f"hours: 1h\ntorqued: [{{where: a, {WHOLE}}}, {{where: b}}]"
    tasks = enumerate(("W1", "E1", "K1", "W1"), start=1)
    notes = {f"2026-03-0{n}": f"tasks: {task}\n{entry}\nopens: {task}" for n, task in tasks}
    book = journal(tmp_path, notes)
    for seed in range(20):
        assert register(in_another_order(book, Random(seed))) == register(book)
