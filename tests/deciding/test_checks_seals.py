"""Checks of sealed months: each change is told with its month and place, and nothing else is."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_seals import seal_faults, standing
from builderlog.handover.inspector import inspector_view
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from tests.deciding.sealed_journals import (
    FILES,
    HIDDEN,
    RIVETS,
    WITH_HIDDEN,
    change,
    message,
    read,
    seal,
    sealed,
    told,
)
from tests.examples import many

SEALED_FILES = [path for path in FILES if "2026-04" not in path]
GIFT = "notes/2026-03-21-a-gift.md"


def view_of(root: Path) -> Ledger:
    """The ledger of the inspector's view."""
    folder = Folder.at(root)
    return read_journal(inspector_view(folder, read_journal(folder)))


def told_in_view(root: Path) -> list[str]:
    """Codes of what is told of seals in the inspector's view."""
    return [each.code for each in judge(view_of(root)) if each.code.startswith("seal")]


@pytest.mark.parametrize("files", [FILES, WITH_HIDDEN])
def test_an_unchanged_record_is_as_sealed(tmp_path: Path, files: dict[str, str]) -> None:
    """Nothing is told of months that nobody touched, in the journal and in the inspector's view."""
    root = sealed(tmp_path, "2026-03", "2026-04", files=files)
    assert told(root) == []
    assert told_in_view(root) == []
    assert set(standing(read(root)).values()) == {()}
    assert seal_faults(view_of(root)) == ()


@given(st.data())
@settings(max_examples=many(60), deadline=None)
def test_any_changed_byte_of_a_sealed_file_is_told(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """One bit of one byte of a note, picture, receipt or hidden file: told, with the month."""
    root = sealed(tmp_path_factory.mktemp("sealed"), "2026-03", "2026-04", files=WITH_HIDDEN)
    path = data.draw(st.sampled_from([*SEALED_FILES, GIFT, "photos/gift.jpg", "receipts/gift.pdf"]))
    content = bytearray((root / path).read_bytes())
    content[data.draw(st.integers(0, len(content) - 1))] ^= 1 << data.draw(st.integers(0, 7))
    (root / path).write_bytes(content)
    found = [each for each in judge(read(root)) if each.code.startswith("seal")]
    assert any("2026-03" in each.message for each in found)
    assert {each.weight for each in found} == {Weight.DOUBT}


@given(st.data())
@settings(max_examples=many(40), deadline=None)
def test_any_changed_byte_of_an_earlier_seal_is_told(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """One bit of any seal but the last breaks the chain, whichever it is."""
    root = sealed(tmp_path_factory.mktemp("sealed"), "2026-03", "2026-04")
    content = bytearray((root / "seals/2026-03.txt").read_bytes())
    content[data.draw(st.integers(0, len(content) - 1))] ^= 1 << data.draw(st.integers(0, 7))
    (root / "seals/2026-03.txt").write_bytes(content)
    assert any(line.startswith("seal-chain seals/2026-04.txt") for line in told(root))
    assert seal_faults(read(root))


@pytest.mark.parametrize("path", SEALED_FILES)
def test_a_changed_file_is_told_at_its_place(tmp_path: Path, path: str) -> None:
    """A note, a picture and a receipt are told once, in their own file."""
    root = sealed(tmp_path, "2026-03")
    (root / path).write_bytes((root / path).read_bytes() + b"\n")
    assert told(root) == [f"seal-changed {path}:1"]
    assert f"'{path}' is not as it was when 2026-03" in message(root, "seal-changed")


@pytest.mark.parametrize("path", SEALED_FILES)
def test_a_lost_file_is_told_at_the_seals_line(tmp_path: Path, path: str) -> None:
    """What is gone has no place of its own: the line of the seal that lists it is told."""
    root = sealed(tmp_path, "2026-03")
    (root / path).unlink()
    lines = (root / "seals/2026-03.txt").read_text(encoding="utf-8").splitlines()
    number = next(at for at, line in enumerate(lines, 1) if line.endswith(f"  {path}"))
    assert f"seal-lost seals/2026-03.txt:{number}" in told(root)


def test_a_file_that_was_moved_is_told_with_its_new_place(tmp_path: Path) -> None:
    """A note under another name is one lost and one added, and the loss says where it went."""
    root = sealed(tmp_path, "2026-03")
    (root / "notes/2026-03-20.md").rename(root / "notes/2026-03-20-rivets.md")
    assert [line.split()[0] for line in told(root)] == ["seal-added", "seal-lost"]
    assert "is now 'notes/2026-03-20-rivets.md'" in message(root, "seal-lost")


def test_a_note_added_later_is_told(tmp_path: Path) -> None:
    """A note dated in a sealed month that its seal does not list, and the sums that it changes."""
    root = sealed(tmp_path, "2026-03")
    (root / "notes/2026-03-30.md").write_text(RIVETS, encoding="utf-8")
    assert told(root) == ["seal-added notes/2026-03-30.md:1", "seal-totals seals/2026-03.txt:1"]
    assert message(root, "seal-totals") == (
        "the month's sums are not those that were sealed: time 6h when sealed, 8h now; "
        "time as builder 5h when sealed, 7h now; time of Ines 5h when sealed, 7h now; "
        "notes 2 when sealed, 3 now; days 2 when sealed, 3 now"
    )


def test_an_amendment_settles_what_was_told(tmp_path: Path) -> None:
    """After an amendment the month is held against it, and the old seal stays in the chain."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    change(root, "notes/2026-03-20.md", "All in", "Nearly all in")
    assert told(root) == ["seal-changed notes/2026-03-20.md:1"]
    seal(root, "2026-03", date(2026, 5, 3), why="not all were in")
    assert told(root) == []
    change(root, "notes/2026-03-20.md", "Nearly all in", "All in")
    assert told(root) == ["seal-changed notes/2026-03-20.md:1"]


def test_an_edited_seal_is_found_by_the_next(tmp_path: Path) -> None:
    """Editing the list to fit a changed note breaks the chain, and the edited file is named."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    change(root, "seals/2026-03.txt", "# notes: 2", "# notes: 1")
    assert told(root) == ["seal-totals seals/2026-03.txt:1", "seal-chain seals/2026-04.txt:1"]
    assert "seals/2026-03.txt was changed after this one" in message(root, "seal-chain")


def test_a_missing_link_a_fork_and_a_second_first_are_told(tmp_path: Path) -> None:
    """A seal taken out, two that follow one, two that follow none: each is told."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    text = (root / "seals/2026-04.txt").read_text(encoding="utf-8")
    amended = text.replace("# role of", "# amends: seals/2026-04.txt\n# why: x\n# role of", 1)
    fork = root / "seals/2026-04-amended-1.txt"
    fork.write_text(amended, encoding="utf-8")
    assert told(root) == ["seal-chain seals/2026-04-amended-1.txt:1"]
    assert any("a chain does not part" in each for each in messages_of(root))
    before = next(line for line in amended.splitlines() if line.startswith("# before"))
    fork.write_text(amended.replace(before, "# before: none"), encoding="utf-8")
    assert any("one chain has one first seal" in each for each in messages_of(root))
    fork.unlink()
    (root / "seals/2026-03.txt").unlink()
    assert [each for each in messages_of(root) if "a seal is missing" in each]


def messages_of(root: Path) -> list[str]:
    """Every sentence told of the chain."""
    return [each.message for each in judge(read(root)) if each.code == "seal-chain"]


def test_a_seal_older_than_the_one_before_is_told(tmp_path: Path) -> None:
    """Days of sealing go forward along the chain."""
    root = sealed(tmp_path, "2026-03")
    seal(root, "2026-04", date(2026, 3, 30))
    assert "which it follows" in message(root, "seal-chain")


def test_a_month_is_sealed_once(tmp_path: Path) -> None:
    """A second seal of a month that does not amend the first is told."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    change(root, "seals/2026-04.txt", "# month: 2026-04", "# month: 2026-03")
    assert "a month is sealed once" in message(root, "seal-chain")
    assert "the file is named as the seal of another month" in message(root, "seal-month")


def test_an_amendment_of_nothing_is_told(tmp_path: Path) -> None:
    """An amendment names an earlier seal of its month, and its file is named as one."""
    root = sealed(tmp_path, "2026-03")
    (root / "seals/2026-03.txt").rename(root / "seals/2026-03-amended-1.txt")
    assert "does not say what it amends" in message(root, "seal-month")


def test_an_unknown_amended_seal_is_told(tmp_path: Path) -> None:
    """A seal that amends one that is not there is told, and that its name does not say so."""
    root = sealed(tmp_path, "2026-03")
    text = (root / "seals/2026-03.txt").read_text(encoding="utf-8")
    text = text.replace("# role of", "# amends: seals/x.txt\n# why: y\n# role of", 1)
    (root / "seals/2026-03.txt").write_text(text, encoding="utf-8")
    assert "which is no earlier seal of 2026-03" in message(root, "seal-chain")
    assert "is not named so" in message(root, "seal-month")


def test_a_broken_seal_is_told_with_its_line(tmp_path: Path) -> None:
    """A line that cannot be read is a doubt at its place, and what can be read is checked."""
    root = sealed(tmp_path, "2026-03")
    change(root, "seals/2026-03.txt", "# notes: 2", "# notes 2")
    assert [line.split(":")[0] for line in told(root)] == [
        "seal-totals seals/2026-03.txt",
        "seal-unreadable seals/2026-03.txt",
    ]
    (root / "seals/2026-03.txt").write_bytes(b"")
    assert {line.split()[0] for line in told(root)} == {"seal-unreadable"}
    assert list(standing(read(root))) == ["seals/2026-03.txt"]


def test_another_role_is_told_once_for_all_months(tmp_path: Path) -> None:
    """A role that journal.yaml now gives otherwise is one doubt a person, at the person."""
    root = sealed(tmp_path, "2026-03", "2026-04")
    change(root, "journal.yaml", "Ines: builder", "Ines: helper")
    assert told(root) == ["seal-role journal.yaml:3"]
    assert message(root, "seal-role") == (
        "'Ines' is helper here, and was builder when 2026-03, 2026-04 were sealed; "
        "that time counts as sealed"
    )
    assert seal_faults(read(root)) == ()


def test_money_that_a_later_note_changed_is_no_fault(tmp_path: Path) -> None:
    """A later cost of the same thing replaces the sealed one: a doubt, and the seal still holds."""
    bolts = "{part: bolts, ref: X, cost: 8.40 USD}"
    note = f"---\nhours: 1h\nparts: {bolts}\n---\n"
    root = sealed(tmp_path, "2026-03", files={"notes/2026-03-14.md": note})
    (root / "notes/2026-04-02.md").write_text(note.replace("8.40", "9.10"), encoding="utf-8")
    assert told(root) == ["seal-spent seals/2026-03.txt:1"]
    assert "spent USD 8.40 when sealed, 9.10 now" in message(root, "seal-spent")
    assert seal_faults(read(root)) == ()


def test_money_is_told_apart_from_counts(tmp_path: Path) -> None:
    """A rate that journal.yaml changed since alters the month's money, and only that is told."""
    files = {
        **FILES,
        "notes/2026-03-20.md": RIVETS.replace("tasks", "parts: {part: nut, cost: 2 EUR}\ntasks"),
    }
    journal = "exchange: {from: EUR, on: 2026-01-01, rate: 1.1}\n"
    root = sealed(tmp_path, files=files)
    (root / "journal.yaml").write_text((root / "journal.yaml").read_text() + journal)
    seal(root, "2026-03")
    assert told(root) == []
    change(root, "journal.yaml", "rate: 1.1", "rate: 1.2")
    assert told(root) == ["seal-spent seals/2026-03.txt:1"]
    assert "spent USD 10.60 when sealed, 10.80 now" in message(root, "seal-spent")
    assert seal_faults(read(root)) == ()


def test_a_changed_hidden_note_is_told_in_the_journal_alone(tmp_path: Path) -> None:
    """The builder reads which note it is; in the inspector's view its time stands for it."""
    root = sealed(tmp_path, "2026-03", files=WITH_HIDDEN)
    change(root, GIFT, "a gift", "a present")
    assert told(root) == [f"seal-changed {GIFT}:1"]
    assert told_in_view(root) == []


def test_a_hidden_note_with_other_hours_is_told_to_everyone(tmp_path: Path) -> None:
    """Where the time itself was changed the sums of the month tell it in the view too."""
    root = sealed(tmp_path, "2026-03", files=WITH_HIDDEN)
    change(root, GIFT, "Ines: 1h", "Ines: 2h")
    assert told_in_view(root) == ["seal-totals"]


@pytest.mark.parametrize("path", [GIFT, "photos/gift.jpg", "receipts/gift.pdf"])
def test_a_lost_hidden_file_is_told_at_the_seal(tmp_path: Path, path: str) -> None:
    """A hidden note or one of its files that is gone: the kept-back line is told, no name."""
    root = sealed(tmp_path, "2026-03", files=WITH_HIDDEN)
    (root / path).unlink()
    assert any(line.startswith("seal-lost seals/2026-03.txt") for line in told(root))
    assert "gift" not in message(root, "seal-lost")


def test_an_added_hidden_note_is_told(tmp_path: Path) -> None:
    """A hidden note on another day of the sealed month is told, in journal and view."""
    root = sealed(tmp_path, "2026-03", files=WITH_HIDDEN)
    (root / "notes/2026-03-22-more.md").write_text(HIDDEN, encoding="utf-8")
    assert "seal-added notes/2026-03-22-more.md:1" in told(root)
    assert set(told_in_view(root)) == {"seal-changed", "seal-totals"}


def test_a_note_hidden_after_sealing_is_told_by_name_to_the_builder(tmp_path: Path) -> None:
    """Its path stands in a seal that cannot be rewritten: told as long as it does."""
    root = sealed(tmp_path, "2026-03")
    change(root, "notes/2026-03-20.md", "hours", "private: hours only\nhours")
    assert [line.split()[0] for line in told(root)] == ["seal-changed", "seal-tells-hidden"]
    assert "'notes/2026-03-20.md' was listed" in message(root, "seal-tells-hidden")
    assert told_in_view(root) == ["seal-changed"]
    seal(root, "2026-03", date(2026, 4, 3), why="it is nobody's business")
    assert [line.split()[0] for line in told(root)] == ["seal-tells-hidden"]
    assert told_in_view(root) == []


def test_pictures_that_leave_with_a_hidden_note_are_no_losses(tmp_path: Path) -> None:
    """In the view a note hidden after sealing is told once, with the number of its files."""
    root = sealed(tmp_path, "2026-03")
    change(root, "notes/2026-03-14.md", "hours", "private: hours only\nhours")
    lines = [each for each in judge(view_of(root)) if each.code.startswith("seal")]
    assert {each.code for each in lines} == {"seal-changed", "seal-totals", "seal-spent"}
    (changed,) = (each for each in lines if each.code == "seal-changed")
    assert changed.place.path == "notes/2026-03-14-time-only.md"
    assert "4 of the files that it lists are not here" in changed.message


def test_a_sealed_paper_that_no_note_names_any_more_goes_along(tmp_path: Path) -> None:
    """What a seal lists is in the inspector's view, so that it is not told as lost there."""
    note = RIVETS + "[sheet](../papers/sheet.pdf)\n"
    files = {**FILES, "notes/2026-03-20.md": note, "papers/sheet.pdf": "x"}
    root = sealed(tmp_path, "2026-03", files=files)
    change(root, "notes/2026-03-20.md", "[sheet](../papers/sheet.pdf)\n", "")
    assert told_in_view(root) == ["seal-changed"]


def test_faults_name_path_and_sentence(tmp_path: Path) -> None:
    """What makes a month another than it was sealed is a fault, each once."""
    root = sealed(tmp_path, "2026-03")
    change(root, "notes/2026-03-20.md", "hours: 2h", "hours: 3h")
    faults = seal_faults(view_of(root))
    assert [path for path, _ in faults] == ["notes/2026-03-20.md", "seals/2026-03.txt"]
    assert "time of Ines 5h when sealed, 6h now" in faults[1][1]
