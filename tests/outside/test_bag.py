"""The evidence export is a bag that others' programs accept.

Sources: RFC 8493 (The BagIt File Packaging Format V1.0), by section number, from memory of
its text; the `bagit` package from PyPI, an independent reader; `sha256sum` and `sha512sum`.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
import unicodedata
from pathlib import Path

import bagit
import pytest

from builderlog.handover.tables import read_table
from builderlog.handover.verify import verify_bag
from tests.command.small_journal import write_small
from tests.handover.test_verify import redo_manifests
from tests.outside import tools

ALGORITHMS = ("sha256", "sha512")


def manifest(path: Path) -> dict[str, str]:
    """File name to digest, as a manifest lists them; RFC 8493, 2.1.3: one file a line."""
    lines = path.read_text(encoding="utf-8").splitlines()
    pairs = [re.fullmatch(r"([0-9a-f]+)[ \t]+(\S.*)", line) for line in lines]
    assert all(pairs), lines
    return {pair[2]: pair[1] for pair in pairs if pair}


def files_below(folder: Path, pattern: str) -> dict[str, Path]:
    """Every file that matches, by its path from the folder, with `/`."""
    found = (path for path in sorted(folder.glob(pattern)) if path.is_file())
    return {path.relative_to(folder).as_posix(): path for path in found}


@pytest.fixture
def spoiled(example_dossier: Path, tmp_path: Path) -> Path:
    """A copy of the dossier that a test may spoil."""
    return Path(shutil.copytree(example_dossier, tmp_path / "spoiled"))


def test_the_independent_reader_accepts_the_bag(example_dossier: Path) -> None:
    """The `bagit` package finds the bag complete and every digest right."""
    assert bagit.Bag(str(example_dossier)).validate(processes=1) is True


def test_one_flipped_bit_is_refused_by_the_independent_reader(spoiled: Path) -> None:
    """One flipped bit of one note makes the bag unacceptable, so the acceptance means something."""
    note = next(path for path in sorted((spoiled / "data" / "notes").rglob("*.md")))
    content = bytearray(note.read_bytes())
    content[0] ^= 1
    note.write_bytes(content)
    with pytest.raises(bagit.BagValidationError):
        bagit.Bag(str(spoiled)).validate(processes=1)


@pytest.mark.parametrize("algorithm", ALGORITHMS)
@pytest.mark.parametrize("name", ["manifest", "tagmanifest"])
def test_the_usual_checkers_accept_the_manifests(
    example_dossier: Path, algorithm: str, name: str
) -> None:
    """`sha256sum -c` and `sha512sum -c`, run inside the bag, accept every line, strictly."""
    command = [tools.program(f"{algorithm}sum"), "--check", "--strict", f"{name}-{algorithm}.txt"]
    done = subprocess.run(command, cwd=example_dossier, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_declaration_is_two_lines(example_dossier: Path) -> None:
    """RFC 8493, 2.1.1: bagit.txt is the version and the encoding, with no byte-order mark."""
    declaration = (example_dossier / "bagit.txt").read_bytes()
    assert declaration == b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"


@pytest.mark.parametrize("algorithm", ALGORITHMS)
def test_every_payload_file_is_listed_once_with_its_digest(
    example_dossier: Path, algorithm: str
) -> None:
    """RFC 8493, 2.1.3 and 3: each payload manifest lists all of data/ and nothing else, rightly."""
    payload = files_below(example_dossier, "data/**/*")
    digests = {
        name: hashlib.new(algorithm, path.read_bytes()).hexdigest()
        for name, path in payload.items()
    }
    assert manifest(example_dossier / f"manifest-{algorithm}.txt") == digests


@pytest.mark.parametrize("algorithm", ALGORITHMS)
def test_every_tag_file_is_listed(example_dossier: Path, algorithm: str) -> None:
    """RFC 8493, 2.2.1: a tag manifest lists the payload manifests, and no tag manifest."""
    tags = {
        name
        for name in files_below(example_dossier, "**/*")
        if not name.startswith(("tagmanifest-", "data/"))
    }
    assert {"binder/index.html", "READ ME FIRST.txt"} <= tags
    assert set(manifest(example_dossier / f"tagmanifest-{algorithm}.txt")) == tags
    assert {f"manifest-{other}.txt" for other in ALGORITHMS} <= tags


def test_the_payload_sum_is_right(example_dossier: Path) -> None:
    """RFC 8493, 2.2.2: Payload-Oxum is the number of octets, a dot, and the number of files."""
    sizes = [path.stat().st_size for path in files_below(example_dossier, "data/**/*").values()]
    information = (example_dossier / "bag-info.txt").read_text(encoding="utf-8")
    assert f"Payload-Oxum: {sum(sizes)}.{len(sizes)}" in information.splitlines()


def test_no_day_of_bagging_is_named_unasked(example_dossier: Path) -> None:
    """The same journal gives the same bag on any day, so no Bagging-Date stands in it."""
    assert "Bagging-Date" not in (example_dossier / "bag-info.txt").read_text(encoding="utf-8")


def test_the_bag_carries_no_link(example_dossier: Path) -> None:
    """RFC 8493, 5: nothing in the bag leads out of it, since it holds files and folders alone."""
    assert [path for path in example_dossier.rglob("*") if path.is_symlink()] == []


@pytest.mark.parametrize("pictures", ["full", "print"])
def test_odd_names_are_borne(tmp_path: Path, pictures: str) -> None:
    """RFC 8493, 2.1.3: no path needs `%` escapes; accents stay in the form they have."""
    journal = write_small(tmp_path / "journal")
    accents = [unicodedata.normalize("NFC", "r\u00e9\u00e7u.txt")]
    accents.append(unicodedata.normalize("NFD", "ch\u00e8que.txt"))
    odd = ["50 % off%0A.txt", "100%25.txt", *accents]
    for number, name in enumerate(odd):
        (journal / "receipts" / name).write_text(f"receipt {number}", encoding="utf-8")
    out = tmp_path / "bag"
    tools.builderlog("dossier", str(journal), "--out", str(out), "--pictures", pictures)
    assert bagit.Bag(str(out)).validate(processes=1) is True
    listed = manifest(out / "manifest-sha256.txt")
    assert [path for path in listed if "%" in path] == []
    names = {original: bagged for bagged, original in _names(out)}
    for number, name in enumerate(odd):
        bagged = names.get(f"receipts/{name}", f"receipts/{name}")
        assert (out / "data" / bagged).read_text(encoding="utf-8") == f"receipt {number}"
        assert f"data/{bagged}" in listed
    for algorithm in ALGORITHMS:
        command = [tools.program(f"{algorithm}sum"), "-c", "--strict", f"manifest-{algorithm}.txt"]
        assert subprocess.run(command, cwd=out, check=False, capture_output=True).returncode == 0
    assert verify_bag(out) == ()


def _names(bag: Path) -> list[tuple[str, ...]]:
    return read_table((bag / "data/tables/names.csv").read_bytes())[1:]


def test_another_zone_language_and_folder_give_the_same_bytes(
    example_dossier: Path, tmp_path: Path
) -> None:
    """Made in another process, zone, language and order of hashing: not a byte differs."""
    journal = tools.copy_example(tmp_path / "another" / "journal")
    small = write_small(tmp_path / "small")
    surroundings = {**os.environ, "TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8"}
    surroundings |= {"LANG": "tr_TR.UTF-8", "PYTHONHASHSEED": "7"}
    words = [sys.executable, "-m", "builderlog", "dossier"]
    for out, root in (("one", journal), ("two", small), ("three", small)):
        command = [*words, str(root), "--zip", "--out", str(tmp_path / out / "dossier")]
        subprocess.run(command, env=surroundings, check=True, capture_output=True)
        if root is small:
            surroundings |= {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "8"}
    zips = {(tmp_path / out / "dossier.zip").read_bytes() for out in ("two", "three")}
    assert len(zips) == 1
    ours = files_below(tmp_path / "one" / "dossier", "**/*")
    theirs = files_below(example_dossier, "**/*")
    assert [*ours] == [*theirs]
    assert [path for path in ours if ours[path].read_bytes() != theirs[path].read_bytes()] == []


def test_an_edited_hour_of_a_sealed_month_is_named(spoiled: Path) -> None:
    """With every digest redone the note, its month's seal, and the tables are told."""
    note = spoiled / "data/notes/2026/2026-04-02-spars.md"
    text = note.read_text(encoding="utf-8")
    edited = text.replace("hours: 3.0", "hours: 3.5")
    assert edited != text
    note.write_text(edited, encoding="utf-8")
    redo_manifests(spoiled)
    told = {(fault.path, fault.code): fault.message for fault in verify_bag(spoiled)}
    assert "2026-04" in told["data/notes/2026/2026-04-02-spars.md", "seal"]
    assert "time" in told["data/seals/2026-04.txt", "seal"]
    assert {("data/tables/hours.csv", "table"), ("data/tables/totals.csv", "table")} <= set(told)


@pytest.mark.parametrize("month", ["2026-01", "2026-03", "2026-05"])
def test_an_altered_seal_is_named(spoiled: Path, month: str) -> None:
    """One sign of a seal altered and every digest redone: some fault names that month."""
    seal = spoiled / f"data/seals/{month}.txt"
    seal.write_bytes(seal.read_bytes().replace(b"closes", b"closeS", 1))
    redo_manifests(spoiled)
    faults = verify_bag(spoiled)
    assert (f"data/seals/{month}.txt", "seal") in {(each.path, each.code) for each in faults}
