"""The chain of seals: each behind the one that it names, in whatever order files are listed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random

from builderlog.knowing.seals import Seal, in_chain_order, newest_seals
from builderlog.knowing.seals_digests import sealed_digests
from builderlog.knowing.settings import Role
from builderlog.reading.folder import Folder
from tests.deciding.sealed_journals import FILES, change, read, seal, sealed


def made(number: int, month: str = "", amends: str = "") -> Seal:
    """The seal with the digest `number`, behind the one before."""
    name = month or f"2026-{number:02}"
    before = str(number - 1) if number > 1 else ""
    on = date(2026, number + 1, 1)
    return Seal(f"seals/{name}.txt", name, amends, "", on, before, (), (), (), str(number))


CHAIN = tuple(made(number) for number in range(1, 9))


def test_the_order_of_the_files_changes_nothing() -> None:
    """However the files are shuffled, the chain is the same."""
    for number in range(20):
        shuffled = Random(number).sample(CHAIN, len(CHAIN))
        assert in_chain_order(shuffled) == CHAIN


def test_days_of_sealing_do_not_order_the_chain() -> None:
    """Two months sealed on one day follow each other as they name each other."""
    same = tuple(replace(seal, sealed_on=date(2026, 9, 1)) for seal in CHAIN)
    assert in_chain_order(reversed(same)) == same


def test_a_broken_chain_loses_no_seal() -> None:
    """Where a link is missing the rest follows in its own order."""
    broken = (*CHAIN[:3], *CHAIN[4:])
    assert in_chain_order(Random(1).sample(broken, len(broken))) == broken
    edited = (*CHAIN[:3], replace(CHAIN[3], digest="edited"), *CHAIN[4:])
    assert in_chain_order(Random(2).sample(edited, len(edited))) == edited


def test_the_newest_of_a_month_counts() -> None:
    """Of a seal and its amendment the later one in the chain counts."""
    amendment = made(9, "2026-02", "seals/2026-02.txt")
    newest = newest_seals((*CHAIN, amendment))
    assert newest["2026-02"] is amendment
    assert list(newest) == sorted(newest)


def test_roles_count_as_on_the_day_of_sealing(tmp_path: Path) -> None:
    """In a sealed month time counts in the seal's role, in others and for others in today's."""
    root = sealed(tmp_path, "2026-03")
    change(root, "journal.yaml", "Ada: helper", "Ada: paid")
    change(root, "journal.yaml", "Ines: builder", "Ines: helper")
    found = {(f"{row.day}"[:7], row.person): row.role for row in read(root).work}
    assert found == {
        ("2026-03", "Ines"): Role.BUILDER,
        ("2026-03", "Ada"): Role.HELPER,
        ("2026-04", "Ines"): Role.HELPER,
    }


def test_a_person_who_is_not_in_the_seal_has_todays_role(tmp_path: Path) -> None:
    """Time that is added to a sealed month counts, in the role that is declared now."""
    root = sealed(tmp_path, "2026-03")
    change(root, "notes/2026-03-20.md", "hours: 2h", "hours: {Ines: 2h, Osk: 1h}")
    assert {row.role for row in read(root).work if row.person == "Osk"} == {Role.PAID}


def test_an_amendment_declares_roles_anew(tmp_path: Path) -> None:
    """Behind an amendment the month counts in the roles of the day of amending."""
    root = sealed(tmp_path, "2026-03")
    change(root, "journal.yaml", "Ada: helper", "Ada: builder")
    made = seal(root, "2026-03", date(2026, 4, 5), why="Ada is a builder")
    assert ("Ada", Role.BUILDER) in made.roles
    assert ("seconds as helper", "0") in made.totals
    assert {row.role for row in read(root).work if row.person == "Ada"} == {Role.BUILDER}


def test_who_is_no_longer_declared_keeps_the_sealed_time(tmp_path: Path) -> None:
    """A person taken out of journal.yaml still counts in sealed months; the name is told."""
    root = sealed(tmp_path, "2026-03")
    change(root, "journal.yaml", ", Ada: helper", "")
    assert sum(row.seconds for row in read(root).work if row.person == "Ada") == 3600


def test_the_record_is_reckoned_on_a_day_of_sealing_too(tmp_path: Path) -> None:
    """The record's date is the newest of notes, writing and sealing."""
    root = sealed(tmp_path)
    assert read(root).record_date == date(2026, 4, 2)
    seal(root, "2026-03", date(2026, 4, 9))
    assert read(root).record_date == date(2026, 4, 9)


def test_digests_are_those_of_notes_pictures_and_sealed_files(tmp_path: Path) -> None:
    """Receipts are read only where a seal lists them; notes and pictures are known anyway."""
    root = sealed(tmp_path)
    assert set(read(root).digests) == {path for path in FILES if not path.startswith("receipts/")}
    seal(root, "2026-03")
    assert set(read(root).digests) == set(FILES)


def test_a_sealed_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    """What vanishes between the listing and the reading has no digest and is a doubt."""
    root = sealed(tmp_path, "2026-03")
    listed, seals = Folder.at(root), read(root).seals
    (root / "receipts/bolts.pdf").unlink()
    digests, problems = sealed_digests(listed, seals, (), {})
    assert "receipts/bolts.pdf" not in digests
    assert [(each.code, each.place.path) for each in problems] == [
        ("sealed-unreadable", "receipts/bolts.pdf")
    ]
