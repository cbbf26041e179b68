"""`verify`: whatever is done to a bag is found, all of it at once, and nothing makes it fail."""

from __future__ import annotations

import hashlib
import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from builderlog.handover import tables_check, verify
from builderlog.handover.bag_info import DECLARATION
from builderlog.handover.digests import digests_of_regular
from builderlog.handover.verify import check_form, verify_bag
from builderlog.storing.copying import Digests
from builderlog.storing.refusal import Refused
from tests.examples import many
from tests.handover.made_pdfs import pdf_with
from tests.handover.small_journal import bag_of, write_journal

NOTE = "data/notes/2026-03-14-skins.md"
HOURS = "data/tables/hours.csv"


@pytest.fixture(scope="session")
def whole_bag(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bag that is made once and must be left as it is."""
    folder = tmp_path_factory.mktemp("whole")
    bag_of(write_journal(folder / "journal"), folder / "bag")
    return folder / "bag"


def files_of(bag: Path) -> list[str]:
    """Every file of a bag."""
    return sorted(path.relative_to(bag).as_posix() for path in bag.rglob("*") if path.is_file())


def told(bag: Path) -> set[tuple[str, str]]:
    """Path and code of every fault."""
    return {(fault.path, fault.code) for fault in verify_bag(bag)}


def redo_manifests(bag: Path) -> None:
    """Makes every digest and count right again, as somebody would who wants to hide a change."""
    data = [path for path in files_of(bag) if path.startswith("data/")]
    sizes = [(bag / path).stat().st_size for path in data]
    info = (bag / "bag-info.txt").read_text(encoding="utf-8").splitlines()
    kept = [line for line in info if not line.startswith("Payload-Oxum")]
    oxum = f"Payload-Oxum: {sum(sizes)}.{len(sizes)}"
    (bag / "bag-info.txt").write_text("\n".join([*kept, oxum, ""]), encoding="utf-8")
    for kind in ("manifest", "tagmanifest"):
        for algorithm in ("sha256", "sha512"):
            tags = [path for path in files_of(bag) if not path.startswith(("data/", "tagmanifest"))]
            lines = [
                f"{hashlib.new(algorithm, (bag / path).read_bytes()).hexdigest()}  {path}\n"
                for path in (data if kind == "manifest" else tags)
            ]
            (bag / f"{kind}-{algorithm}.txt").write_text("".join(lines), encoding="utf-8")


def flip(file: Path, position: int, bit: int) -> None:
    """Turns one bit of a file over."""
    data = bytearray(file.read_bytes())
    data[position] ^= 1 << bit
    file.write_bytes(data)


def test_an_untouched_bag_has_no_fault(bag: Path) -> None:
    """A bag as it was written passes, and checking it writes nothing."""
    before = {path: (bag / path).stat().st_mtime_ns for path in files_of(bag)}
    assert verify_bag(bag) == ()
    assert {path: (bag / path).stat().st_mtime_ns for path in files_of(bag)} == before


def test_redone_manifests_alone_are_no_fault(bag: Path) -> None:
    """The test's own way of hiding a change is accepted, so that what follows means something."""
    redo_manifests(bag)
    assert verify_bag(bag) == ()


@pytest.mark.slow
def test_one_flipped_bit_in_any_file_is_found_and_named(whole_bag: Path) -> None:
    """Every file by itself, at one of its bytes: the fault names it."""
    chance = random.Random(8493)
    missed: list[tuple[str, int, int]] = []
    for path in files_of(whole_bag):
        position, bit = chance.randrange((whole_bag / path).stat().st_size), chance.randrange(8)
        if path not in _named(whole_bag, path, position, bit):
            missed.append((path, position, bit))
    assert missed == []


@pytest.mark.parametrize("part", [0.0, 0.5, 1.0])
def test_one_flipped_bit_in_every_file_is_found_and_named(bag: Path, part: float) -> None:
    """All files at once, each at its first, middle or last byte: the faults name every one."""
    chance = random.Random(8493)
    paths = [path for path in files_of(bag) if not path.startswith(("manifest", "tagmanifest"))]
    for path in paths:
        flip(bag / path, int(part * ((bag / path).stat().st_size - 1)), chance.randrange(8))
    faults, _ = check_form(bag)
    assert {fault.path for fault in faults} >= set(paths)


def _named(bag: Path, path: str, position: int, bit: int) -> set[str]:
    """The paths that are told for a flipped bit, which is then put right again."""
    flip(bag / path, position, bit)
    faults, _ = check_form(bag)
    flip(bag / path, position, bit)
    return {fault.path for fault in faults}


@given(st.data())
@hypothesis_settings(
    deadline=None,
    max_examples=many(60),
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_flipped_bit_is_found(whole_bag: Path, data: st.DataObject) -> None:
    """Any bit of any file, chosen by Hypothesis."""
    path = data.draw(st.sampled_from(files_of(whole_bag)))
    position = data.draw(st.integers(0, (whole_bag / path).stat().st_size - 1))
    assert _named(whole_bag, path, position, data.draw(st.integers(0, 7)))


@pytest.mark.parametrize(
    "path",
    [
        NOTE, HOURS, "data/tables/ledger.json", "data/photos/skin.png", "data/journal.yaml",
        "dossier.pdf", "binder/index.html", "READ ME FIRST.txt", "bagit.txt", "bag-info.txt",
        "manifest-sha512.txt", "tagmanifest-sha256.txt", ".builderlog-written.json",
    ],
)  # fmt: skip
def test_verify_names_a_changed_file_of_each_kind(bag: Path, path: str) -> None:
    """A note, a table, a picture, the document, a page, a tag: one flipped bit is told by name."""
    flip(bag / path, (bag / path).stat().st_size // 2, 1)
    found = told(bag)
    assert (path, "changed") in found or path.startswith("tagmanifest")
    assert found


@pytest.mark.slow
@given(st.data())
@hypothesis_settings(
    deadline=None,
    max_examples=many(15),
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_bytes_in_any_file_are_told_and_never_raise(
    whole_bag: Path, data: st.DataObject
) -> None:
    """Whatever bytes stand in the place of a file, the answer is a list of faults."""
    path = data.draw(st.sampled_from(files_of(whole_bag)))
    held = (whole_bag / path).read_bytes()
    junk = data.draw(st.binary(max_size=400) | st.just(held * 2) | st.just(held[:-1]))
    try:
        (whole_bag / path).write_bytes(junk)
        assert verify_bag(whole_bag) or junk == held
    finally:
        (whole_bag / path).write_bytes(held)


def test_every_fault_is_told_at_once(bag: Path) -> None:
    """A missing, an extra, a changed and a cut file are all told in one run."""
    (bag / "data/photos/skin.png").unlink()
    (bag / "data/photos/extra.png").write_bytes(b"x")
    (bag / "letter.txt").write_bytes(b"x")
    flip(bag / "data/receipts/a.txt", 0, 0)
    (bag / "bag-info.txt").write_bytes(b"")
    assert told(bag) >= {
        ("data/photos/skin.png", "missing"),
        ("data/photos/extra.png", "unlisted"),
        ("letter.txt", "unlisted"),
        ("data/receipts/a.txt", "changed"),
        ("bag-info.txt", "changed"),
        ("bag-info.txt", "payload-oxum"),
    }


def test_an_edited_hour_is_found_with_every_digest_redone(bag: Path) -> None:
    """The tables no longer follow from the notes; the fault says which cell, and both values."""
    note = bag / NOTE
    note.write_bytes(note.read_bytes().replace(b"task: W14, hours: 2.5", b"task: W14, hours: 2.25"))
    redo_manifests(bag)
    faults = {fault.path: fault.message for fault in verify_bag(bag)}
    assert faults[HOURS] == "row 2, column seconds: the table says '9000', the notes say '8100'"
    assert {"data/tables/tasks.csv", "data/tables/ledger.json"} <= set(faults)
    assert "the notes say" in faults["data/tables/ledger.json"]
    assert {"binder/index.html", "READ ME FIRST.txt"} & set(faults)
    assert "dossier.pdf" not in faults  # it carries the same tables as the bag


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda rows: [rows[0].replace(b"week", b"wk"), *rows[1:]], "its columns are"),
        (lambda rows: rows[:-1], "row 10 is missing: the notes give '2026-04-21'"),
        (lambda rows: [*rows, rows[-1]], "row 11 is one too many"),
        (lambda rows: [row.replace(b"\r\n", b"\n") for row in rows], "in other bytes"),
        (lambda rows: [rows[0], b"x\r\n", *rows[2:]], "row 2, column date: the table says 'x'"),
        (lambda rows: [*rows[:0], b'"'], "no CSV table"),
        (lambda rows: rows[:0], "its columns are none"),
    ],
)
def test_a_table_that_does_not_follow_from_the_notes_is_told(
    bag: Path, change: Callable[[list[bytes]], list[bytes]], message: str
) -> None:
    """Columns, rows, cells or bytes that differ are named in words, with every digest redone."""
    rows = (bag / HOURS).read_bytes().splitlines(keepends=True)
    (bag / HOURS).write_bytes(b"".join(change(rows)))
    redo_manifests(bag)
    document, fault = sorted(verify_bag(bag), key=lambda each: each.path, reverse=True)
    assert (fault.path, fault.code) == (HOURS, "table")
    assert message in fault.message
    assert (document.path, document.code) == ("dossier.pdf", "attachment")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda data: data.replace(b"9000", b"9001"), "the file says '9001', the notes say '9000'"),
        (lambda data: data + b" ", "in other bytes"),
        (lambda data: data[:-9], "it is no JSON"),
        (lambda data: b"[" * 100 * len(data), "it is no JSON"),
        (lambda data: data[:1] + b"}", "the notes say"),
        (
            lambda data: data.rstrip().removesuffix(b"}") + b', "more": 1}',
            "more: the file says '1', the notes say nothing",
        ),
    ],
)
def test_a_ledger_that_does_not_follow_from_the_notes_is_told(
    bag: Path, change: Callable[[bytes], bytes], message: str
) -> None:
    """A number, a name or bytes of ledger.json that differ are named, with every digest redone."""
    file = bag / "data/tables/ledger.json"
    file.write_bytes(change(file.read_bytes()))
    redo_manifests(bag)
    faults = {fault.path: fault for fault in verify_bag(bag)}
    assert faults["data/tables/ledger.json"].code == "table"
    assert message in faults["data/tables/ledger.json"].message


def test_a_document_taken_away_is_told(bag: Path) -> None:
    """Without the PDF the bag is not whole, even with every digest redone."""
    (bag / "dossier.pdf").unlink()
    redo_manifests(bag)
    assert told(bag) == {("dossier.pdf", "document-missing")}


def test_another_document_is_told(bag: Path) -> None:
    """A PDF of another record, with every digest redone, carries other tables."""
    (bag / "dossier.pdf").write_bytes(pdf_with({"hours.csv": b"x"}))
    redo_manifests(bag)
    assert told(bag) == {("dossier.pdf", "attachment")}


def test_a_table_taken_away_or_added_is_told(bag: Path) -> None:
    """A table that the notes give must be there, and no other."""
    (bag / HOURS).rename(bag / "data/tables/more.csv")
    redo_manifests(bag)
    assert told(bag) == {
        (HOURS, "table-missing"),
        ("data/tables/more.csv", "table-unknown"),
        ("dossier.pdf", "attachment"),
    }


def test_an_added_note_is_found_by_the_tables(bag: Path) -> None:
    """A note that somebody adds, with every digest redone, changes the totals."""
    (bag / "data/notes/2026-05-01.md").write_bytes(b"---\nhours: 8h\n---\n")
    redo_manifests(bag)
    assert (HOURS, "table") in told(bag)


@pytest.mark.parametrize(
    "rows",
    [
        b"junk",
        b"bagged,original\r\n../../journal.yaml,photos/skin.png\r\n",
        b"bagged,original\r\nphotos/skin.png,receipts/a.txt\r\n",
    ],
)
def test_a_list_of_names_that_lies_is_told(bag: Path, rows: bytes) -> None:
    """A list that is no table, leads elsewhere or covers another file is not used."""
    (bag / "data/tables/names.csv").write_bytes(rows)
    redo_manifests(bag)
    assert ("data/tables/names.csv", "names") in told(bag)


@pytest.mark.parametrize(
    "path", ["data/photos/skin.png", "manifest-sha256.txt", "bagit.txt", "data"]
)
def test_a_link_is_a_fault_and_not_followed(bag: Path, tmp_path: Path, path: str) -> None:
    """A link in place of a file, a manifest or all of data/, to the very same bytes, is told."""
    outside = tmp_path / "outside"
    (bag / path).rename(outside)
    (bag / path).symlink_to(outside)
    found = told(bag)
    assert (path, "link") in found
    assert (path, "missing") not in found


def test_a_linked_folder_or_a_circle_is_not_entered(bag: Path) -> None:
    """A folder that is a link back to the bag is one fault."""
    (bag / "data/photos/round").symlink_to(bag, target_is_directory=True)
    assert told(bag) == {("data/photos/round", "link")}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
@pytest.mark.parametrize(
    "path", ["data/photos/skin.png", "manifest-sha512.txt", "bagit.txt", "data/new"]
)
def test_a_pipe_is_told_and_never_opened(bag: Path, path: str) -> None:
    """A pipe, which would keep a reader waiting for ever, is told."""
    (bag / path).unlink(missing_ok=True)
    os.mkfifo(bag / path)
    assert (path, "no-file") in told(bag)


def test_a_name_that_is_not_utf8_is_told(bag: Path) -> None:
    """A file whose name no manifest can hold is told with its bytes."""
    (bag / os.fsdecode(b"data/\xff.md")).write_bytes(b"x")
    assert ("data/\\udcff.md", "name-not-utf8") in told(bag)


def test_a_file_that_cannot_be_read_is_told(bag: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that the system refuses to open is a fault, and the rest is checked all the same."""

    def refuse(file: Path) -> Digests:
        if file.name == "2026-03-14-skins.md":
            raise PermissionError(13, "Permission denied")
        return digests_of_regular(file)

    monkeypatch.setattr(verify, "digests_of_regular", refuse)
    found = told(bag)
    assert (NOTE, "unreadable") in found
    assert (HOURS, "table") in found


def test_a_note_too_large_to_be_one_is_not_read(bag: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A text beyond any sensible size is told instead of filling the memory."""
    monkeypatch.setattr(tables_check, "LARGEST_TEXT", 600)
    assert (NOTE, "too-large") in told(bag)


@pytest.mark.parametrize("name", ["manifest-sha256.txt", "manifest-sha512.txt"])
def test_manifests_that_disagree_are_told(bag: Path, name: str) -> None:
    """A file that only one of the two manifests lists is told, and with which."""
    lines = (bag / name).read_bytes().splitlines(keepends=True)
    (bag / name).write_bytes(b"".join(line for line in lines if NOTE.encode() not in line))
    assert (NOTE, "manifests-disagree") in told(bag)


def test_one_wrong_digest_of_two_is_told(bag: Path) -> None:
    """Where one algorithm agrees and the other does not, the fault says which manifest differs."""
    name = bag / "manifest-sha512.txt"
    lines = name.read_bytes()
    name.write_bytes((b"1" if lines.startswith(b"0") else b"0") + lines[1:])
    found = {fault.path: fault for fault in verify_bag(bag)}
    assert set(found) == {"data/journal.yaml", "manifest-sha512.txt"}
    assert {fault.code for fault in found.values()} == {"changed"}
    assert "listed in manifest-sha512.txt;" in found["data/journal.yaml"].message


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("bag-info.txt", "missing"),
        ("manifest-sha256.txt", "missing"),
        ("tagmanifest-sha512.txt", "missing"),
        ("READ ME FIRST.txt", "missing"),
        (".builderlog-written.json", "missing"),
    ],
)
def test_a_file_of_the_bag_itself_that_is_gone_is_told(bag: Path, name: str, code: str) -> None:
    """What makes the folder a bag must be there."""
    (bag / name).unlink()
    assert (name, code) in told(bag)


@pytest.mark.parametrize(
    ("name", "data", "code"),
    [
        ("bagit.txt", b"\xef\xbb\xbfBagIt-Version: 1.0\n", "declaration"),
        ("bagit.txt", b"BagIt-Version: 0.97\nTag-File-Character-Encoding: UTF-8\n", "declaration"),
        ("bag-info.txt", b"Payload-Oxum: 1.1\n", "payload-oxum"),
        ("bag-info.txt", b"\0\xff" * 1000, "payload-oxum"),
        ("fetch.txt", b"x", "fetch"),
        ("manifest-md5.txt", b"x", "unlisted"),
        ("deep/er/file.txt", b"x", "unlisted"),
        (".builderlog-stage/lock", b"", "unlisted"),
        ("data/published/index.html", b"x", "unlisted"),
        ("data/.hidden", b"x", "unlisted"),
    ],
)
def test_what_does_not_belong_is_told(bag: Path, name: str, data: bytes, code: str) -> None:
    """Wrong declarations and counts, parts that lie elsewhere, and files that nothing lists."""
    (bag / name).parent.mkdir(parents=True, exist_ok=True)
    (bag / name).write_bytes(data)
    assert (name, code) in told(bag)


def test_a_bag_without_payload_is_told(bag: Path) -> None:
    """An emptied bag gives faults for each file and no error."""
    shutil.rmtree(bag / "data")
    found = told(bag)
    assert {("data/", "missing"), (NOTE, "missing"), (HOURS, "table-missing")} <= found


def test_a_declaration_alone_is_a_bag_with_faults(tmp_path: Path) -> None:
    """A folder with nothing but bagit.txt is told what it lacks."""
    (tmp_path / "bagit.txt").write_bytes(DECLARATION)
    assert {("manifest-sha256.txt", "missing"), ("data/", "missing")} <= told(tmp_path)


def test_what_is_no_bag_is_refused(tmp_path: Path) -> None:
    """A folder without bagit.txt, a file, or nothing at all: the surroundings refuse."""
    (tmp_path / "file").write_bytes(b"")
    for place in (tmp_path, tmp_path / "file", tmp_path / "nothing"):
        with pytest.raises(Refused):
            verify_bag(place)


def test_progress_counts_up_to_all_bytes(bag: Path) -> None:
    """Progress ends with all bytes of the bag."""
    counts: list[tuple[int, int]] = []
    verify_bag(bag, lambda done, of: counts.append((done, of)))
    size = sum((bag / path).stat().st_size for path in files_of(bag))
    assert counts[-1] == (size, size)
