"""A dossier with print-size copies: whole, checkable, the same each time, honest of originals."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import bagit
import pytest

from builderlog.handover.bag import Wish, write_dossier
from builderlog.handover.tables import read_table
from builderlog.handover.verify import verify_bag
from builderlog.handover.zip_verify import verify_zip
from builderlog.storing.refusal import Refused
from tests.handover.small_journal import FILES, SECRET_WORDS, read, write_journal
from tests.handover.test_bag import bytes_in
from tests.handover.test_verify import flip, redo_manifests

ORIGINALS = "data/tables/originals.csv"
COPY = "data/prints/photos/skin.png.jpg"
SMALL = Wish(small=True)


@pytest.fixture(scope="session")
def made_small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A dossier with copies, and its zip, made once; every test gets a copy of the folder."""
    folder = tmp_path_factory.mktemp("copies")
    root = write_journal(folder / "journal")
    write_dossier(*read(root), folder / "bag", Wish(small=True, zipped=True))
    return folder / "bag"


@pytest.fixture
def small(made_small: Path, tmp_path: Path) -> Path:
    """A copy of it, which a test may spoil."""
    return Path(shutil.copytree(made_small, tmp_path / "bag"))


def test_folder_and_zip_have_no_fault(made_small: Path) -> None:
    """Tables and pages made again from the copies and their list are those in the bag."""
    assert verify_bag(made_small) == ()
    assert verify_zip(made_small.with_name("bag.zip")) == ()


def test_the_independent_reader_accepts_it(made_small: Path) -> None:
    """The `bagit` package (PyPI) finds it complete and every digest right."""
    assert bagit.Bag(str(made_small)).validate(processes=1) is True


@pytest.mark.parametrize("algorithm", ["sha256", "sha512"])
def test_the_usual_checkers_accept_it(made_small: Path, algorithm: str) -> None:
    """`sha256sum` and `sha512sum`, run from inside the bag, accept every line."""
    program = shutil.which(f"{algorithm}sum")
    if program is None:
        pytest.skip(f"{algorithm}sum is missing")
    for kind in ("manifest", "tagmanifest"):
        words = [program, "--check", "--strict", "--quiet", f"{kind}-{algorithm}.txt"]
        assert subprocess.run(words, cwd=made_small, check=False).returncode == 0


def test_no_original_picture_goes_along(made_small: Path) -> None:
    """Photos are copies, receipts and notes are as they were, and each original is listed."""
    held = set(bytes_in(made_small).values())
    pictures = {path: data for path, data in FILES.items() if path.startswith("photos/")}
    listed = {row[0]: row[1] for row in read_table((made_small / ORIGINALS).read_bytes())[1:]}
    named = {"photos/skin.png", "photos/50 % done.png", "photos/line\nbreak.png"}
    assert named <= set(listed)
    assert not {pictures[path] for path in listed} & held
    assert all((made_small / "data" / bagged).is_file() for bagged in listed.values())
    assert (made_small / "data/receipts/a.txt").read_bytes() == FILES["receipts/a.txt"]


def test_nothing_secret_is_in_it(made_small: Path) -> None:
    """No word of an `hours only` note is in any file, nor in any name."""
    held = b"\n".join(path.encode() + data for path, data in bytes_in(made_small).items())
    assert [word for word in SECRET_WORDS if word in held] == []


def test_another_folder_gives_the_same_bytes(made_small: Path, tmp_path: Path) -> None:
    """Bag and zip are the same for a journal elsewhere, and a second run writes nothing anew."""
    root = write_journal(tmp_path / "else" / "where", dict(reversed(FILES.items())))
    write_dossier(*read(root), root / "bag", Wish(small=True, zipped=True))
    assert bytes_in(root / "bag") == bytes_in(made_small)
    assert (root / "bag.zip").read_bytes() == made_small.with_name("bag.zip").read_bytes()
    changes = write_dossier(*read(root), root / "bag", SMALL).changes
    assert (changes.new, changes.changed, changes.deleted) == ((), (), ())


def test_a_flipped_bit_of_a_copy_is_named(small: Path) -> None:
    """One bit of a copy is told with the copy's path."""
    flip(small / COPY, (small / COPY).stat().st_size // 2, 3)
    assert (COPY, "changed") in {(fault.path, fault.code) for fault in verify_bag(small)}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (lambda data: data.replace(b"PNG,1,1", b"PNG,1,7000"), "copy"),
        (lambda data: data.replace(b"PNG,1,1", b"PNG,1,x"), "originals"),
        (lambda data: data.replace(b"prints/", b"../prints/", 1), "originals"),
        (lambda data: data + data.splitlines(keepends=True)[1], "originals"),
        (lambda data: data[:20], "originals"),
        (lambda _data: b"\xff\x00", "originals"),
    ],
)
def test_a_list_of_originals_that_lies_is_told(
    small: Path, change: Callable[[bytes], bytes], code: str
) -> None:
    """Sizes, paths or rows that cannot be are told, with every digest redone."""
    held = (small / ORIGINALS).read_bytes()
    (small / ORIGINALS).write_bytes(change(held))
    assert (small / ORIGINALS).read_bytes() != held
    redo_manifests(small)
    assert code in {fault.code for fault in verify_bag(small)}


def test_another_picture_in_place_of_a_copy_is_told(small: Path) -> None:
    """Bytes that are no picture, in place of a copy, are told with every digest redone."""
    (small / COPY).write_bytes(b"a letter")
    redo_manifests(small)
    assert (COPY, "copy") in {(fault.path, fault.code) for fault in verify_bag(small)}


@pytest.mark.parametrize("wish", [Wish(), SMALL])
def test_all_that_cannot_be_drawn_is_told_at_once(tmp_path: Path, wish: Wish) -> None:
    """Two pictures that changed since they were read are both named, and nothing is made."""
    root = write_journal(tmp_path / "journal")
    folder, ledger = read(root)
    for name in ("skin.png", "shared.png"):
        (root / "photos" / name).write_bytes(b"another")
    with pytest.raises(Refused) as refusal:
        write_dossier(folder, ledger, tmp_path / "bag", wish)
    assert "no dossier was made" in str(refusal.value)
    assert all(name in str(refusal.value) for name in ("photos/skin.png", "photos/shared.png"))
    assert not (tmp_path / "bag").exists()
