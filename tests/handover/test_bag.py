"""The bag: what lies in it, that others' programs accept it, that it never differs by chance."""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from datetime import date
from pathlib import Path

import bagit
import pytest

from builderlog.handover.bag import Wish, write_dossier
from builderlog.handover.verify import verify_bag
from builderlog.storing.refusal import Refused
from tests.handover.small_journal import FILES, SECRET_WORDS, bag_of, read, write_journal


def bytes_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder, by its path."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_the_independent_reader_accepts_it(bag: Path) -> None:
    """The `bagit` package (PyPI) finds a bag with odd names complete and every digest right."""
    assert bagit.Bag(str(bag)).validate(processes=1) is True


@pytest.mark.parametrize("algorithm", ["sha256", "sha512"])
@pytest.mark.parametrize("kind", ["manifest", "tagmanifest"])
def test_the_usual_checkers_accept_it(bag: Path, kind: str, algorithm: str) -> None:
    """`sha256sum` and `sha512sum`, run from inside the bag, accept every line, odd names too."""
    program = shutil.which(f"{algorithm}sum")
    if program is None:
        pytest.skip(f"{algorithm}sum is missing")
    words = [program, "--check", "--strict", f"{kind}-{algorithm}.txt"]
    done = subprocess.run(words, cwd=bag, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def test_originals_are_in_it_byte_for_byte(bag: Path) -> None:
    """Every file that keeps its name is the same file."""
    held = bytes_in(bag)
    kept = {path: data for path, data in FILES.items() if f"data/{path}" in held}
    assert {"notes/2026-03-14-skins.md", "photos/skin.png", "worklist.yaml"} <= set(kept)
    ours = "tables/hours.csv"
    assert all(held[f"data/{path}"] == data for path, data in kept.items() if path != ours)
    assert FILES[ours] in held.values()


def test_nothing_secret_is_in_it(bag: Path) -> None:
    """No word of an `hours only` note is in any file of the bag, nor in any name."""
    held = b"\n".join(path.encode() + data for path, data in bytes_in(bag).items())
    assert [word for word in SECRET_WORDS if word in held] == []


def test_the_same_journal_gives_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another folder, order and time of making, another zone: not a byte differs."""
    backwards = dict(reversed(FILES.items()))
    one = write_journal(tmp_path / "one" / "journal")
    other = write_journal(tmp_path / "elsewhere" / "two", backwards)
    for file in other.rglob("*"):
        os.utime(file, (0, 0))
    bag_of(one, tmp_path / "bag")
    monkeypatch.setenv("TZ", "Pacific/Kiritimati")
    time.tzset()
    bag_of(other, other / "dossier")
    monkeypatch.undo()
    time.tzset()
    assert bytes_in(tmp_path / "bag") == bytes_in(other / "dossier")


def test_a_second_run_changes_nothing(journal: Path, tmp_path: Path) -> None:
    """Bagging the same journal again writes no file anew."""
    bag_of(journal, tmp_path / "bag")
    again = bag_of(journal, tmp_path / "bag").changes
    assert (again.new, again.changed, again.deleted) == ((), (), ())


def test_what_left_the_journal_leaves_the_bag(journal: Path, tmp_path: Path) -> None:
    """A picture taken out of the journal is gone from the next bag, which is whole again."""
    bag_of(journal, tmp_path / "bag")
    (journal / "photos/line\nbreak.png").unlink()
    gone = bag_of(journal, tmp_path / "bag").changes.deleted
    assert [path for path in gone if path.startswith("data/photos/line_break-")]
    assert {path.split("/")[0] for path in gone} <= {"data", "binder"}
    assert verify_bag(tmp_path / "bag") == ()


def test_the_journal_is_not_touched(journal: Path, tmp_path: Path) -> None:
    """After bagging the journal holds what it held."""
    bag_of(journal, tmp_path / "bag")
    assert bytes_in(journal) == FILES


def test_a_day_is_named_only_when_asked(journal: Path, tmp_path: Path) -> None:
    """Bagging-Date stands in bag-info.txt when a date is given, and the bag is as valid."""
    write_dossier(*read(journal), tmp_path / "bag", Wish(date(2026, 5, 1)))
    assert b"Bagging-Date: 2026-05-01\n" in (tmp_path / "bag" / "bag-info.txt").read_bytes()
    assert bagit.Bag(str(tmp_path / "bag")).validate(processes=1) is True


def test_a_journal_with_mistakes_is_refused(journal: Path, tmp_path: Path) -> None:
    """Nothing is written where a mistake stands: it could hide that a note must stay private."""
    note = journal / "notes" / "2026-04-21-secret-name.md"
    note.write_bytes(note.read_bytes().replace(b"private: hours only", b"private: hours onyl"))
    with pytest.raises(Refused, match="mistake"):
        bag_of(journal, tmp_path / "bag")
    assert not (tmp_path / "bag").exists()


@pytest.mark.parametrize("place", [".", "photos", "photos/deep", "notes"])
def test_it_is_not_written_into_originals(journal: Path, place: str) -> None:
    """An output folder that is or lies inside what the builder made is refused."""
    with pytest.raises(Refused):
        bag_of(journal, journal / place)
    assert bytes_in(journal) == FILES


def test_progress_counts_up_to_all_bytes(journal: Path, tmp_path: Path) -> None:
    """Each stage's progress never goes back, and bagging ends with all bytes of the originals."""
    told: list[tuple[str, int, int]] = []
    folder, ledger = read(journal)
    write_dossier(folder, ledger, tmp_path / "bag", Wish(), lambda *each: told.append(each))
    stages = {stage: [each[1:] for each in told if each[0] == stage] for stage, _, _ in told}
    assert all(counts == sorted(counts) for counts in stages.values())
    done, total = stages["Bagging (bytes)"][-1]
    held = bytes_in(tmp_path / "bag" / "data")
    made = {path for path in held if path.startswith("tables/") or "time-only" in path}
    assert done == total == sum(len(held[path]) for path in set(held) - made)


def test_the_report_says_what_was_bagged(journal: Path, tmp_path: Path) -> None:
    """Files, bytes, hidden notes and changed names are told to the command."""
    report = bag_of(journal, tmp_path / "bag")
    sizes = [file.stat().st_size for file in (tmp_path / "bag/data").rglob("*") if file.is_file()]
    assert (report.files, report.size_bytes, report.hours_only) == (len(sizes), sum(sizes), 1)
    assert set(report.renamed) >= {"photos/50 % done.png", "photos/line\nbreak.png"}


def test_pictures_that_were_read_are_not_read_again(
    journal: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A dossier decodes no picture that was decoded to read the journal."""
    folder, ledger = read(journal)

    def refuse(file: Path, name: str) -> None:
        raise AssertionError(f"{name} is read again from {file}")

    monkeypatch.setattr("builderlog.storing.photo_facts.read_photo", refuse)
    assert ledger.pictures
    assert write_dossier(folder, ledger, tmp_path / "bag").files > len(ledger.pictures)


def test_a_picture_that_changed_meanwhile_is_refused(journal: Path, tmp_path: Path) -> None:
    """Where a picture is another than the one the tables tell of, no dossier is made."""
    folder, ledger = read(journal)
    picture = journal / next(one.path for one in ledger.pictures if one.file.digest)
    picture.write_bytes(picture.read_bytes() + b"more")
    with pytest.raises(Refused, match="changed while the dossier"):
        write_dossier(folder, ledger, tmp_path / "bag")
    assert not (tmp_path / "bag" / "bagit.txt").exists()
