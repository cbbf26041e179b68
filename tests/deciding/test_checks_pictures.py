"""One picture that stands for two tasks: told once, at the later place, with both."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from PIL import Image
from PIL.Image import Transpose

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_pictures import same_picture_for_two_tasks
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, Weight
from tests.knowing.journals import WORKLIST, write_journal
from tests.reading.shop_pictures import in_turn, saved, shop_picture, trimmed, turned

ONE = saved(shop_picture(1))
COPY = saved(
    in_turn(trimmed(0.06, 0.02, 0.09, 0.03), turned(Transpose.ROTATE_90))(shop_picture(1)),
    quality=50,
)
OTHER = saved(shop_picture(2))
FILES = {"a": ONE, "b": COPY, "c": OTHER, "same": ONE, "d": saved(shop_picture(1), "PNG")}
WRITE = "in both places if it shows both, or name another picture in one of them"


def read(
    root: Path,
    notes: Mapping[str, str],
    pictures: Mapping[str, bytes] = FILES,
    worklist: str = WORKLIST,
) -> Ledger:
    """The ledger of notes by their day, each with its `photos`, and of pictures by name.

    `a: W14` stands for an entry with the picture a that shows W14; more words may follow.
    """
    files = {f"notes/{day}.md": f"---\nphotos:\n{rows(text)}---\n" for day, text in notes.items()}
    write_journal(root, {**files, "worklist.yaml": worklist})
    (root / "photos").mkdir(exist_ok=True)
    for name, data in pictures.items():
        (root / f"photos/{name}.jpg").write_bytes(data)
    return read_journal(Folder.at(root))


def rows(text: str) -> str:
    """The entries of one note, one a line."""
    entries = [line.split(": ", 1) for line in text.split("\n")]
    return "".join(f"  - {{photo: photos/{name}.jpg, shows: {words}}}\n" for name, words in entries)


def told(root: Path, notes: Mapping[str, str], pictures: Mapping[str, bytes] = FILES) -> list[str]:
    """Place and beginning of each doubt, up to what makes it doubtful."""
    return [
        f"{at(each)}: {each.message.partition(';')[0]}"
        for each in same_picture_for_two_tasks(read(root, notes, pictures))
    ]


def at(problem: Problem) -> str:
    """Where it is told."""
    return f"{problem.place.path}:{problem.place.line}:{problem.place.column}"


def test_nearly_the_same_picture(tmp_path: Path) -> None:
    """A turned and trimmed copy for another task is told at the later entry, in full."""
    notes = {"2026-03-14": "a: W14", "2026-03-15": "c: W16\nb: W15"}
    (found,) = same_picture_for_two_tasks(read(tmp_path, notes))
    assert (found.code, found.weight) == ("same-picture", Weight.DOUBT)
    assert at(found) == "notes/2026-03-15.md:4:13"
    assert found.message == (
        "'photos/b.jpg' shows W15 here, and nearly the same picture, 'photos/a.jpg', shows W14 in "
        "notes/2026-03-14.md:3; one picture is thin evidence for two tasks: write shows: "
        f"[W14, W15] {WRITE}"
    )


def test_the_same_bytes_and_the_same_file(tmp_path: Path) -> None:
    """Two files of the same bytes are the same picture; one file in two entries is named once."""
    notes = {"2026-03-14": "a: W14\na: W15", "2026-03-15": "same: W16"}
    same = "notes/2026-03-15.md:3:13: 'photos/same.jpg' shows W16 here, and the same picture, "
    same += "'photos/a.jpg', shows"
    assert told(tmp_path, notes) == [
        "notes/2026-03-14.md:4:13: 'photos/a.jpg' shows W15 here and W14 in notes/2026-03-14.md:3",
        f"{same} W14 in notes/2026-03-14.md:3",
        f"{same} W15 in notes/2026-03-14.md:4",
    ]


@pytest.mark.parametrize(
    "notes",
    [
        {"2026-03-14": "a: [W14, W15]"},
        {"2026-03-14": "a: W14", "2026-03-15": "b: W14"},
        {"2026-03-14": "a: [W14, W15]", "2026-03-15": "b: [W15, W16]"},
        {"2026-03-14": "a: W14", "2026-03-15": "c: W15"},
        {"2026-03-14": "a: W14", "2026-03-15": "b: []"},
        {"2026-03-14": "a: W14, as: page", "2026-03-15": "b: W15"},
        {"2026-03-14": "a: W14", "2026-03-15": "a: W15, as: page"},
        {"2026-03-14": "a: W14", "2026-03-15": "gone: W15"},
    ],
)
def test_no_fault(tmp_path: Path, notes: dict[str, str]) -> None:
    """One entry for two tasks, a task in common, none, a scanned page, another picture: nothing."""
    assert told(tmp_path, notes) == []


def test_plain_and_broken_pictures(tmp_path: Path) -> None:
    """Plain pictures are the same only by their bytes; of broken ones only the fault is told."""
    walls = {f"wall{shade}": saved(Image.new("RGB", (64, 48), (shade,) * 3)) for shade in (90, 91)}
    more = {**walls, "twin": walls["wall90"], "broken": b"no", "broken2": b"no"}
    notes = {"2026-03-14": "wall90: W14\nwall91: W15\nbroken: W14\nbroken2: W15"}
    assert told(tmp_path / "one", notes, more) == []
    (found,) = told(tmp_path / "two", {"2026-03-14": "wall90: W14\ntwin: W15"}, more)
    assert "the same picture, 'photos/wall90.jpg'" in found


def test_private_and_hours_only(tmp_path: Path) -> None:
    """A private note's picture is evidence for an inspector; of `hours only` it reaches nobody."""
    for privacy, count in (("yes", 1), ("hours only", 0)):
        root = tmp_path / privacy
        read(root, {"2026-03-14": "a: W14", "2026-03-15": "b: W15"})
        note = root / "notes/2026-03-14.md"
        note.write_text(note.read_text().replace("photos:", f"private: {privacy}\nphotos:"))
        ledger = read_journal(Folder.at(root))
        assert len([*same_picture_for_two_tasks(ledger)]) == count


def test_once_for_two_pictures_and_their_tasks(tmp_path: Path) -> None:
    """However often two pictures stand for the same two tasks, and in whatever order: once."""
    notes = {
        "2026-03-14": "a: W14\na: W14",
        "2026-03-15": "b: W15",
        "2026-03-16": "b: W15\na: W14",
        "2026-03-17": "b: [W15, W16]",
    }
    other = "and nearly the same picture, 'photos/a.jpg', shows W14 in notes/2026-03-14.md:3"
    assert told(tmp_path, notes) == [
        f"notes/2026-03-15.md:3:13: 'photos/b.jpg' shows W15 here, {other}",
        f"notes/2026-03-17.md:3:13: 'photos/b.jpg' shows W15 and W16 here, {other}",
    ]


def test_told_at_the_later_day(tmp_path: Path) -> None:
    """Later is the note of the later day, whatever the files are called."""
    notes = {"2026-03-15": "a: W14", "2026-03-14": "b: W15"}
    (found,) = told(tmp_path, notes)
    assert found.startswith("notes/2026-03-15.md:3:13: 'photos/a.jpg' shows W14 here")


def test_each_two_of_three(tmp_path: Path) -> None:
    """Three copies for three tasks are three doubts, one for each two."""
    notes = {"2026-03-14": "a: W14\nb: W15\nd: W16"}
    places = [line.split(": ")[0][-4:] for line in told(tmp_path, notes)]
    assert places == ["4:13", "5:13", "5:13"]


def test_a_camera_fixed_to_the_wall(tmp_path: Path) -> None:
    """Where a picture stands against many, three are told and the others counted."""
    tasks = ["W14", "W15", "W16", "F1", "T1", "T2"]
    notes = {"2026-03-14": "\n".join(f"a: {task}" for task in tasks)}
    found = [*same_picture_for_two_tasks(read(tmp_path, notes))]
    counts = [sum(each.place.line == line for each in found) for line in range(3, 9)]
    assert counts == [0, 1, 2, 3, 3, 3]
    assert [each.message.endswith(WRITE) for each in found].count(False) == 2
    assert found[-1].message.endswith(f"{WRITE} (and so with 2 more)")
    assert found[8].message.endswith(f"{WRITE} (and so with 1 more)")


def test_task_ids_are_quoted_where_they_must_be(tmp_path: Path) -> None:
    """What is to be pasted stays what it says: an id with a comma is in quotes."""
    notes = {"2026-03-14": "a: 'W14, left'\nb: W15"}
    (found,) = same_picture_for_two_tasks(read(tmp_path, notes))
    assert f'write shows: ["W14, left", W15] {WRITE}' in found.message


def test_what_hangs_on_it(tmp_path: Path) -> None:
    """Its stake is what the builder claims of both tasks: it stands before lesser doubts."""
    credit = "credit: {{maker: 0, paid: 0, assembly: 0.{}, fabrication: 0.4}}"
    listed = WORKLIST.replace("name: Skins", f"name: Skins, {credit.format(5)}")
    listed = listed.replace("name: Hinges", f"name: Hinges, {credit.format(2)}")
    ledger = read(tmp_path, {"2026-03-14": "a: W14\nb: W15"}, worklist=listed)
    (found,) = same_picture_for_two_tasks(ledger)
    assert found.stake == 15
    assert found in judge(ledger)
