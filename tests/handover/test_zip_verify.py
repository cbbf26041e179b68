"""`verify` of a zip: every lie is told, nothing leaves the private folder, nothing is left."""

from __future__ import annotations

import random
import tempfile
import zipfile
import zlib
from pathlib import Path

import pytest

from builderlog.handover import zip_check, zip_read, zip_verify
from builderlog.handover.bag import Wish, write_dossier
from builderlog.handover.verify import verify_bag
from builderlog.handover.zip_verify import verify_zip
from builderlog.storing.refusal import Refused
from tests.handover.made_zips import UTF8, Made, made_of, zip_of
from tests.handover.small_journal import read, write_journal

Files = dict[str, bytes]


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a bag and its zip, made once and left as they are."""
    folder = tmp_path_factory.mktemp("zipped")
    write_dossier(*read(write_journal(folder / "journal")), folder / "bag", Wish(zipped=True))
    return folder


@pytest.fixture(scope="session")
def files(whole: Path) -> Files:
    """The files of the bag."""
    found = (path for path in (whole / "bag").rglob("*") if path.is_file())
    return {path.relative_to(whole / "bag").as_posix(): path.read_bytes() for path in found}


@pytest.fixture(autouse=True)
def aside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder for temporary files, of this test alone."""
    folder = tmp_path / "aside"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def told(tmp_path: Path, made: list[Made] | bytes) -> set[tuple[str, str]]:
    """Path and code of every fault of a zip; nothing may be left of it."""
    file = tmp_path / "sent.zip"
    file.write_bytes(made if isinstance(made, bytes) else zip_of(made))
    before = {*tmp_path.rglob("*")}
    found = {(fault.path, fault.code) for fault in verify_zip(file)}
    assert {*tmp_path.rglob("*")} == before
    return found


def test_our_own_zip_has_no_fault(whole: Path, aside: Path) -> None:
    """A zip as it was written passes, counts up to all bytes, and leaves nothing behind."""
    counts: list[tuple[int, int]] = []
    assert verify_zip(whole / "bag.zip", lambda done, of: counts.append((done, of))) == ()
    assert counts[-1][0] == counts[-1][1] > 0
    assert list(aside.iterdir()) == []


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_packed_again_by_others_it_has_no_fault(whole: Path, tmp_path: Path, method: int) -> None:
    """The same folder in a zip that another program made, packed or not, passes."""
    with zipfile.ZipFile(tmp_path / "again.zip", "w", method) as archive:
        for path in sorted((whole / "bag").rglob("*"), reverse=True):
            archive.write(path, f"any name/{path.relative_to(whole / 'bag').as_posix()}")
    assert verify_zip(tmp_path / "again.zip") == ()


def test_faults_have_the_paths_of_the_bag(files: Files, tmp_path: Path) -> None:
    """A changed, a missing and an added file are told as in a folder, without the zip's own."""
    changed = {**files, "data/receipts/a.txt": b"a Receipt", "letter.txt": b"x"}
    del changed["data/photos/skin.png"]
    assert told(tmp_path, made_of(changed)) >= {
        ("data/receipts/a.txt", "changed"),
        ("data/photos/skin.png", "missing"),
        ("letter.txt", "unlisted"),
    }


@pytest.mark.parametrize(
    "name",
    [
        "/etc/passwd", "../outside.txt", "dossier/../../outside.txt", "dossier/data/./x",
        "dossier\\data\\x", "C:/x", "dossier/C:x/..", "dossier//x", "dossier/a\0b", "dossier/..",
    ],
)  # fmt: skip
def test_names_that_lead_out_are_told(files: Files, tmp_path: Path, name: str) -> None:
    """A name that leaves the bag, here or on another system, is told and never unpacked."""
    found = told(tmp_path, [*made_of(files), Made(name, b"x")])
    assert {code for _, code in found} <= {"zip-name", "zip-outside"}
    assert len(found) == 1


def test_a_name_that_is_not_utf8_is_told(files: Files, tmp_path: Path) -> None:
    """Neither bytes that are no UTF-8 nor accents without the UTF-8 flag are guessed at."""
    odd = Made(b"dossier/\xff.md", b"x")
    unsaid = Made("dossier/\u00e9.md".encode(), b"x", flags=0)
    found = told(tmp_path, [*made_of(files), odd, unsaid])
    assert found == {("dossier/\\xff.md", "zip-name"), ("dossier/\u00e9.md", "zip-name")}


def test_what_lies_beside_the_bag_is_told(files: Files, tmp_path: Path) -> None:
    """A second folder at the top, as some systems add one, is told and left out."""
    found = told(tmp_path, [*made_of(files), Made("__MACOSX/._x", b"x")])
    assert found == {("__MACOSX/._x", "zip-outside")}


def test_a_bag_at_the_top_itself_is_told(files: Files, tmp_path: Path) -> None:
    """RFC 8493, 4: the bag has to lie in one folder; all else is checked nevertheless."""
    assert told(tmp_path, made_of(files, "")) == {("bagit.txt", "zip-top")}


@pytest.mark.parametrize(
    ("mode", "code"), [(0o120777, "link"), (0o20666, "no-file"), (0o10644, "no-file")]
)
def test_links_and_devices_are_told(files: Files, tmp_path: Path, mode: int, code: str) -> None:
    """A link, a device and a pipe are told, and nothing is made in their place."""
    path = "data/photos/skin.png"
    others = [one for one in made_of(files) if one.name != f"dossier/{path}"]
    found = told(tmp_path, [*others, Made(f"dossier/{path}", b"/etc/passwd", mode=mode)])
    assert (path, code) in found
    assert (path, "missing") in found


@pytest.mark.parametrize(
    ("first", "second"),
    [("x.txt", "x.txt"), ("x.txt", "X.TXT"), ("\u00e9", "e\u0301"), ("a", "a/b"), ("a/b", "A")],
)
def test_names_that_some_system_takes_for_one_are_told(
    files: Files, tmp_path: Path, first: str, second: str
) -> None:
    """Twice the same name, by capitals, by Unicode form or as file and folder, is told."""
    twice = [Made(f"dossier/data/{first}", b"1"), Made(f"dossier/data/{second}", b"2")]
    assert (f"data/{second}", "zip-twice") in told(tmp_path, [*made_of(files), *twice])


@pytest.mark.parametrize(
    ("made", "code"),
    [
        (Made("dossier/x", b"x", flags=UTF8 | 1), "zip-encrypted"),
        (Made("dossier/x", b"x", method=12), "zip-method"),
        (Made("dossier/x", b"x", size=2), "zip-headers"),
        (Made("dossier/x", b"x", lies={"name": b"dossier/y"}), "zip-headers"),
        (Made("dossier/x", b"x", lies={"size": 9}), "zip-headers"),
        (Made("dossier/x", b"x", lies={"crc": 9}), "zip-headers"),
        (Made("dossier/x", b"x", lies={"method": 8}), "zip-headers"),
        (Made("dossier/x", b"x", lies={"date": 99}), "zip-headers"),
        (Made("dossier/x", b"x", crc=9), "zip-bytes"),
        (Made("dossier/x", b"x" * 999, method=8, size=10), "zip-bytes"),
        (Made("dossier/x", b"x" * 999, method=8, size=10_000), "zip-bytes"),
        (Made("dossier/x", b"x", offset=1 << 30), "zip-headers"),
        (Made("dossier/x", b"x", offset=0), "zip-overlap"),
        (Made("dossier/x", b"x", mode=0o40755), "no-file"),
        (Made("dossier/" + "x" * 300, b"x"), "zip-bytes"),
    ],
)
def test_a_file_that_lies_is_told(files: Files, tmp_path: Path, made: Made, code: str) -> None:
    """Encryption, strange packing, headers that differ, wrong sizes and checksums are told."""
    assert code in {found for _, found in told(tmp_path, [*made_of(files), made])}


def test_a_name_too_long_for_the_disk_is_told(files: Files, tmp_path: Path) -> None:
    """What the disk cannot hold is one fault, and all others are found as well."""
    path = f"data/{'x' * 300}"
    assert (path, "zip-bytes") in told(tmp_path, made_of({**files, path: b"x"}))


def test_a_small_zip_that_swells_is_not_unpacked(
    files: Files, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a zip declares far more than it weighs, nothing at all is unpacked."""
    monkeypatch.setattr(zip_check, "FREE_RATIO", 1000)
    monkeypatch.setattr(zip_check, "MOST_RATIO", 2)
    bomb = Made("dossier/data/x", bytes(3_000_000), method=8)
    monkeypatch.setattr(zip_verify, "_unpack", None)
    assert ("sent.zip", "zip-size") in told(tmp_path, [*made_of(files), bomb])


def test_a_zip_that_swells_is_stopped_by_what_it_declares(tmp_path: Path, files: Files) -> None:
    """A file that declares little and unpacks to much is written no further than it declares."""
    bomb = Made("dossier/data/x", bytes(50_000_000), method=8, size=10)
    assert ("data/x", "zip-bytes") in told(tmp_path, [*made_of(files), bomb])


def test_a_disk_without_room_is_told(files: Files) -> None:
    """What does not fit on the disk is told with both numbers, and nothing is unpacked."""
    entries = tuple((path, _entry(len(data))) for path, data in files.items())
    checked = zip_check.Checked("dossier/", entries, ())
    total = sum(map(len, files.values()))
    assert zip_check.size_fault(checked, total, total) is None
    message = zip_check.size_fault(checked, total, total - 1)
    assert message is not None
    assert f"{total} bytes" in message
    assert "TMPDIR" in message


def _entry(size: int) -> zip_read.Entry:
    return zip_read.Entry("x", b"x", 0, 0, (0, 0), 0, size, size, 0, 3, 0)


def test_too_many_files_are_told(
    files: Files, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A list of contents beyond all bounds is not read, and the bound is named."""
    monkeypatch.setattr(zip_read, "MOST_ENTRIES", 5)
    assert told(tmp_path, made_of(files)) == {("sent.zip", "zip")}


@pytest.mark.parametrize("data", [b"", b"a letter", b"PK\3\4" + bytes(100)])
def test_what_is_no_zip_is_told(tmp_path: Path, data: bytes) -> None:
    """A file that cannot be read as a zip is one fault."""
    assert told(tmp_path, data) == {("sent.zip", "zip")}


def test_what_is_no_dossier_is_refused(tmp_path: Path) -> None:
    """A zip without a bag in it, and a file that is none, are named as such."""
    with pytest.raises(Refused, match=r"holds no bagit\.txt"):
        told(tmp_path, [Made("photos/x.png", b"x")])
    (tmp_path / "letter.txt").write_bytes(b"a letter")
    with pytest.raises(Refused, match="neither a folder nor a zip"):
        verify_zip(tmp_path / "letter.txt")


def test_a_link_to_a_zip_is_refused(whole: Path, tmp_path: Path) -> None:
    """No link is followed, not even the one that was named."""
    (tmp_path / "link.zip").symlink_to(whole / "bag.zip")
    with pytest.raises(Refused):
        verify_zip(tmp_path / "link.zip")


def test_one_flipped_bit_anywhere_in_the_zip_is_found(whole: Path, tmp_path: Path) -> None:
    """In the bytes of files, in headers, in the list of contents, at its end: each is found."""
    chance = random.Random(1980)
    data = (whole / "bag.zip").read_bytes()
    with zipfile.ZipFile(whole / "bag.zip") as archive:
        infos = chance.sample(archive.infolist(), 3)
        start = archive.start_dir
    places = [info.header_offset + chance.randrange(30) for info in infos]
    places += [chance.randrange(len(data)), start + chance.randrange(46), len(data) - 5]
    missed = [
        place
        for place in sorted(set(places))
        if not _found(tmp_path / "sent.zip", data, place, chance.randrange(8))
    ]
    assert missed == []


def _found(file: Path, data: bytes, place: int, bit: int) -> bool:
    flipped = bytearray(data)
    flipped[place] ^= 1 << bit
    file.write_bytes(flipped)
    try:
        return bool(verify_zip(file))
    except Refused:
        return True


def test_every_bit_of_the_zips_own_words_counts(whole: Path, tmp_path: Path) -> None:
    """Each byte of a header, of a line of the list of contents and of the end is looked at."""
    data = bytearray((whole / "bag.zip").read_bytes())
    with zipfile.ZipFile(whole / "bag.zip") as archive:
        info, start = archive.infolist()[4], archive.start_dir
    line = data.index(info.filename.encode(), start) - 46
    own = [*range(info.header_offset, info.header_offset + 30), *range(line, line + 46)]
    missed = [
        place
        for place in (*own, *range(len(data) - 22, len(data)))
        if not _is_seen(tmp_path / "sent.zip", data, place)
    ]
    assert missed == []


def _is_seen(file: Path, data: bytearray, place: int) -> bool:
    """Whether the zip's own form shows one flipped bit, without looking at the bag."""
    data[place] ^= 1
    file.write_bytes(data)
    data[place] ^= 1
    with file.open("rb") as stream:
        try:
            directory = zip_read.read_directory(stream)
        except zip_read.BrokenZipError:
            return True
        top = zip_check.find_top(directory.entries)
        checked = zip_check.check_entries(stream, directory, top or "")
        return bool(checked.faults or [*zip_verify._form_faults(stream, file, checked)])


def test_junk_in_place_of_any_part_never_raises(whole: Path, tmp_path: Path) -> None:
    """Cut, doubled, shuffled or overwritten with chance bytes: the answer is faults or a word."""
    chance = random.Random(7)
    data = (whole / "bag.zip").read_bytes()
    central = data.rindex(b"PK\1\2")
    for _ in range(60):
        junk = bytearray(data)
        place = chance.choice((0, central, len(data) - 60)) + chance.randrange(40)
        junk[place : place + 8] = chance.randbytes(8)
        file = tmp_path / "sent.zip"
        file.write_bytes(junk[: chance.randrange(len(junk))] if chance.random() < 0.2 else junk)
        with file.open("rb") as stream:
            try:
                directory = zip_read.read_directory(stream)
                top = zip_check.find_top(directory.entries) or ""
                for _path, entry in zip_check.check_entries(stream, directory, top).good:
                    b"".join(zip_read.unpacked(stream, entry))
            except zip_read.BrokenZipError:
                continue


def test_a_cut_zip_is_told_wherever_it_is_cut(
    whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cut at some three hundred places: a fault or a word, and no temporary folder is left."""
    room = tmp_path / "room"
    room.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(room))
    data = (whole / "bag.zip").read_bytes()
    ends = {*range(0, len(data), len(data) // 250), *range(len(data) - 50, len(data))}
    missed = [end for end in sorted(ends) if not _cut_is_found(tmp_path / "sent.zip", data[:end])]
    assert missed == []
    assert [*room.iterdir()] == []


def _cut_is_found(file: Path, data: bytes) -> bool:
    file.write_bytes(data)
    try:
        return bool(verify_zip(file))
    except Refused:
        return True


def test_the_folder_and_its_zip_tell_the_same(whole: Path) -> None:
    """Where the bag is at fault, zip and folder tell it in the same words."""
    assert verify_bag(whole / "bag") == verify_zip(whole / "bag.zip")


def test_deflated_bytes_are_read_a_piece_at_a_time(tmp_path: Path) -> None:
    """No piece of a packed file is larger than the bound, however well it packs."""
    data = bytes(10_000_000)
    file = tmp_path / "x.zip"
    file.write_bytes(zip_of([Made("x", data, method=8)]))
    with file.open("rb") as stream:
        (entry,) = zip_read.read_directory(stream).entries
        pieces = [len(piece) for piece in zip_read.unpacked(stream, entry)]
    assert sum(pieces) == len(data)
    assert max(pieces) <= zip_read.PIECE_BYTES
    assert entry.crc == zlib.crc32(data)
