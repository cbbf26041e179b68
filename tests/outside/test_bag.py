"""The evidence export is a bag that others' programs accept.

Sources: RFC 8493 (The BagIt File Packaging Format V1.0), by section number, from memory of
its text; the `bagit` package from PyPI, an independent reader; `sha256sum` and `sha512sum`.
"""

from __future__ import annotations

import hashlib
import re
import shutil
import subprocess
from pathlib import Path

import bagit
import pytest

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
