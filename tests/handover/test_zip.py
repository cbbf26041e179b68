"""The zip of a dossier: the same bytes each time, read by others, replaced only where ours."""

from __future__ import annotations

import os
import time
import zipfile
from io import BytesIO
from pathlib import Path

import pytest

from builderlog.handover import zip_form, zip_write
from builderlog.handover.bag import Wish, write_dossier
from builderlog.handover.zip_check import check_entries
from builderlog.handover.zip_form import Packed, ending, local_header
from builderlog.handover.zip_read import read_directory, read_local
from builderlog.storing.refusal import Refused
from tests.handover.made_zips import made_of, zip_of
from tests.handover.small_journal import read, write_journal


def zipped(journal: Path, out: Path) -> Path:
    """The zip of a journal's dossier."""
    report = write_dossier(*read(journal), out, Wish(zipped=True))
    assert report.zipped is not None
    assert report.zipped.size_bytes == report.zipped.file.stat().st_size
    return report.zipped.file


def test_it_holds_the_folder_and_nothing_else(journal: Path, tmp_path: Path) -> None:
    """RFC 8493, 4: one folder at the top, named as the file, and in it every file of the bag."""
    file = zipped(journal, tmp_path / "the bag")
    assert file == tmp_path / "the bag.zip"
    held = {
        path.relative_to(tmp_path).as_posix(): path.read_bytes()
        for path in (tmp_path / "the bag").rglob("*")
        if path.is_file()
    }
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        assert {name: archive.read(name) for name in archive.namelist()} == held
        assert archive.namelist() == sorted(held)


def test_others_read_its_form(journal: Path, tmp_path: Path) -> None:
    """Nothing is packed, every name is UTF-8, and date and attributes are the same everywhere."""
    with zipfile.ZipFile(zipped(journal, tmp_path / "bag")) as archive:
        infos = archive.infolist()
    assert {info.date_time for info in infos} == {(1980, 1, 1, 0, 0, 0)}
    assert {info.compress_type for info in infos} == {zipfile.ZIP_STORED}
    assert {info.external_attr >> 16 for info in infos} == {0o100644}
    assert {(info.create_system, info.flag_bits) for info in infos} == {(3, 0x800)}


def test_the_same_journal_gives_the_same_zip(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another folder, time, zone and mask of permissions: not a byte differs."""
    one = zipped(write_journal(tmp_path / "one"), tmp_path / "here" / "bag").read_bytes()
    other = write_journal(tmp_path / "two")
    for file in other.rglob("*"):
        os.utime(file, (0, 0))
    monkeypatch.setenv("TZ", "Pacific/Kiritimati")
    time.tzset()
    mask = os.umask(0o077)
    try:
        assert zipped(other, tmp_path / "there" / "bag").read_bytes() == one
    finally:
        os.umask(mask)
        monkeypatch.undo()
        time.tzset()


def test_our_own_zip_is_replaced(journal: Path, tmp_path: Path) -> None:
    """A zip of a dossier of ours may be written over, and nothing stands beside it afterwards."""
    file = zipped(journal, tmp_path / "bag")
    before = file.read_bytes()
    (journal / "receipts" / "b.txt").write_bytes(b"another receipt")
    assert zipped(journal, tmp_path / "bag").read_bytes() != before
    assert {path.name for path in tmp_path.iterdir()} == {"journal", "bag", "bag.zip"}


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"a letter",
        zip_of(made_of({"photo.jpg": b"x"})),
        zip_of(made_of({".builderlog-written.json": b"{}"})),
        zip_of(
            made_of({".builderlog-written.json": b'{"format": 1, "kind": "site", "paths": []}'})
        ),
    ],
)
def test_a_strange_file_is_never_replaced(journal: Path, tmp_path: Path, data: bytes) -> None:
    """What is no dossier of ours stays as it is, and no dossier is made."""
    (tmp_path / "bag.zip").write_bytes(data)
    with pytest.raises(Refused, match="stands there already"):
        zipped(journal, tmp_path / "bag")
    assert (tmp_path / "bag.zip").read_bytes() == data
    assert not (tmp_path / "bag").exists()


def test_a_link_is_not_written_through(journal: Path, tmp_path: Path) -> None:
    """A link in the zip's place is refused, even where it leads to a zip of ours."""
    zipped(journal, tmp_path / "bag").rename(tmp_path / "kept.zip")
    (tmp_path / "bag.zip").symlink_to(tmp_path / "kept.zip")
    with pytest.raises(Refused, match="stands there already"):
        zipped(journal, tmp_path / "bag")


def test_the_zip_of_a_journal_is_no_part_of_it(journal: Path) -> None:
    """The zip beside the usual folder is not taken for a file of the journal the next time."""
    file = zipped(journal, journal / "dossier")
    before = file.read_bytes()
    assert "dossier.zip" not in read(journal)[0].paths
    assert zipped(journal, journal / "dossier").read_bytes() == before


def test_nothing_half_is_left(
    journal: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where writing fails, the old zip stays and no temporary file is left."""
    before = zipped(journal, tmp_path / "bag").read_bytes()

    def fail(*_words: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(zip_write, "_write_one", fail)
    with pytest.raises(Refused, match="No space left"):
        zipped(journal, tmp_path / "bag")
    assert (tmp_path / "bag.zip").read_bytes() == before
    assert {path.name for path in tmp_path.iterdir()} == {"journal", "bag", "bag.zip"}


def test_large_sizes_and_offsets_are_read_by_others(tmp_path: Path) -> None:
    """A file of five gigabytes and one behind it are listed as the standard library lists them.

    The bytes of the first are a hole in the file, which takes no room on the disk.
    """
    first = Packed("bag/film.mov", 5_000_000_000, 7, 0)
    second = Packed("bag/\u00e9.txt", 1, 9, first.end)
    with (tmp_path / "bag.zip").open("wb") as stream:
        stream.write(local_header(first))
        stream.seek(second.offset)
        stream.write(local_header(second) + b"x" + ending([first, second]))
    with (tmp_path / "bag.zip").open("rb") as stream:
        directory = read_directory(stream)
        assert check_entries(stream, directory, "bag/").faults == ()
        assert read_local(stream, directory.entries[0]).data == first.data_offset
    found = [(each.name, each.size, each.offset) for each in directory.entries]
    assert found == [(each.name, each.size, each.offset) for each in (first, second)]
    with zipfile.ZipFile(tmp_path / "bag.zip") as archive:
        others = [(i.filename, i.file_size, i.header_offset) for i in archive.infolist()]
    assert others == found


@pytest.mark.slow
def test_many_files_are_read_by_others() -> None:
    """More files than 16 bits count are listed, by us and by the standard library."""
    packed: list[Packed] = []
    for number in range(zip_form.FULL_16 + 5):
        offset = packed[-1].end if packed else 0
        packed.append(Packed(f"{number:06}", 0, 0, offset))
    whole = b"".join(map(local_header, packed)) + ending(packed)
    with zipfile.ZipFile(BytesIO(whole)) as archive:
        assert archive.namelist() == [one.name for one in packed]
    assert [one.name for one in read_directory(BytesIO(whole)).entries] == archive.namelist()
