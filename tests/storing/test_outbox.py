"""The staged output: what it promises of the folder, of strange files and of a crash."""

from __future__ import annotations

import hashlib
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path

import pytest

from builderlog.storing.inside import MARK_NAME, STAGE_NAME
from builderlog.storing.mark import Kind
from builderlog.storing.outbox import Changes, Outbox, open_outbox
from builderlog.storing.refusal import Refused

Files = dict[str, bytes]

ORIGINALS = ("notes", "photos", "receipts", "inbox", "letters", "seals", "look", ".builderlog")


class Crash(BaseException):
    """As a kill: nothing of ours catches it."""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal with two originals."""
    folder = tmp_path / "wings"
    (folder / "notes").mkdir(parents=True)
    (folder / "photos").mkdir()
    (folder / "notes" / "2026-03-14.md").write_text("skins on")
    return folder


def write(journal: Path, files: Files, out: Path | None = None, kind: Kind = "site") -> Changes:
    """One whole run that puts exactly these files."""
    with open_box(journal, out, kind) as box:
        for path, data in files.items():
            box.put(path, data)
        return box.commit()


def open_box(
    journal: Path, out: Path | None = None, kind: Kind = "site"
) -> AbstractContextManager[Outbox]:
    """The outbox of a journal, as a command opens it."""
    originals = [journal / name for name in ORIGINALS]
    return open_outbox(out or journal / "published", kind, originals, journal)


def read(folder: Path) -> Files:
    """Every file below a folder, without the mark."""
    files = (file for file in folder.rglob("*") if file.is_file() or file.is_symlink())
    found = {file.relative_to(folder).as_posix(): file for file in files}
    return {path: file.read_bytes() for path, file in found.items() if path != MARK_NAME}


def test_first_run_writes_what_was_put(journal: Path) -> None:
    """The first commit makes the folder, its files and the mark, and leaves no stage."""
    files = {"index.html": b"one", "notes/2026/höhenruder ✈️ 1.html": b"two"}
    changes = write(journal, files)
    assert changes == Changes(tuple(sorted(files)), (), (), (), ())
    assert read(journal / "published") == files
    assert not (journal / "published" / STAGE_NAME).exists()
    mark = json.loads((journal / "published" / MARK_NAME).read_bytes())
    assert mark == {"format": 1, "kind": "site", "paths": sorted(files)}


def test_second_run_tells_what_it_did(journal: Path) -> None:
    """New, changed, deleted and unchanged files are each told, and emptied folders vanish."""
    write(journal, {"a": b"1", "b": b"1", "gone/deep/c": b"1"})
    changes = write(journal, {"a": b"1", "b": b"2", "d/e": b"3"})
    assert changes == Changes(("d/e",), ("b",), ("gone/deep/c",), ("a",), ())
    assert read(journal / "published") == {"a": b"1", "b": b"2", "d/e": b"3"}
    assert not (journal / "published" / "gone").exists()


def test_unchanged_file_keeps_its_time(journal: Path) -> None:
    """A file with the same bytes is not written again, nor is the mark."""
    write(journal, {"a": b"1"})
    times = {}
    for name in ("a", MARK_NAME):
        os.utime(journal / "published" / name, ns=(10**18, 10**18))
        times[name] = (journal / "published" / name).stat()
    assert write(journal, {"a": b"1"}).unchanged == ("a",)
    for name, old in times.items():
        new = (journal / "published" / name).stat()
        assert (new.st_mtime_ns, new.st_ino) == (old.st_mtime_ns, old.st_ino)


def test_without_commit_nothing_changes(journal: Path) -> None:
    """Leaving early, by the end or by an error, touches nothing and leaves no stage."""
    write(journal, {"a": b"1"})
    with open_box(journal) as box:
        box.put("a", b"2")
    with pytest.raises(ValueError, match="plain"), open_box(journal) as box:
        box.put("..", b"2")
    assert read(journal / "published") == {"a": b"1"}


def test_folder_made_in_vain_is_taken_away(journal: Path) -> None:
    """Folders that were made only for an output that never came are gone again."""
    with open_box(journal, journal / "x" / "y"):
        pass
    assert not (journal / "x").exists()


def test_relative_folder(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A relative folder works, also the current one, also after the process went elsewhere."""
    monkeypatch.chdir(journal)
    with open_box(Path(), Path("published")) as box:
        box.put("a", b"1")
        monkeypatch.chdir("/")
        box.commit()
    monkeypatch.chdir(journal / "published")
    assert write(journal, {"a": b"1"}, Path()).unchanged == ("a",)


@pytest.mark.parametrize(
    "path",
    ["", "/a", "a/", "a//b", ".", "a/./b", "../a", "a/../b", "a\\b", "a\0", STAGE_NAME + "/x",
     MARK_NAME, MARK_NAME.upper()],
)  # fmt: skip
def test_path_that_is_not_plain(journal: Path, path: str) -> None:
    """A path that is not plain, or is our own bookkeeping, is a programming error."""
    with open_box(journal) as box, pytest.raises(ValueError, match=r"path|bookkeeping"):
        box.put(path, b"")


@pytest.mark.parametrize(
    ("first", "second"),
    [("a", "a"), ("a.html", "A.HTML"), ("é", "e\u0301"), ("straße", "STRASSE"),
     ("a", "a/b"), ("a/b", "A"), ("A/b", "a/b/c")],
)  # fmt: skip
def test_paths_that_collide(journal: Path, first: str, second: str) -> None:
    """Two paths that some file system takes for one, or as file and folder, are our bug."""
    with open_box(journal) as box:
        box.put(first, b"")
        with pytest.raises(ValueError, match="collides"):
            box.put(second, b"")


def test_after_commit_nothing_more(journal: Path) -> None:
    """Neither a second commit nor a late path is taken."""
    with open_box(journal) as box:
        box.commit()
        with pytest.raises(ValueError, match="already"):
            box.commit()
        with pytest.raises(ValueError, match="after the commit"):
            box.put("a", b"")


def test_put_files_copies_and_compares(journal: Path) -> None:
    """An original is copied once, then found unchanged; the copy is a file of its own."""
    source = journal / "photos" / "skin.jpg"
    source.write_bytes(b"x" * 3_000_000)
    digest = hashlib.sha256(source.read_bytes()).hexdigest()
    for found in ("new", "unchanged"):
        with open_box(journal, journal / "dossier", "dossier") as box:
            ((path, digests),) = box.put_files([("data/skin.jpg", source)])
            assert (path, digests.by_algorithm["sha256"]) == ("data/skin.jpg", digest)
            assert getattr(box.commit(), found) == ("data/skin.jpg",)
    copy = journal / "dossier" / "data" / "skin.jpg"
    assert copy.read_bytes() == source.read_bytes()
    assert not copy.samefile(source)


@pytest.mark.parametrize("held", [b"old", b"newer", b"ne", b""])
def test_put_files_replaces_other_bytes(journal: Path, held: bytes) -> None:
    """A copy with other bytes is replaced, whatever its size; what was given is the new one's."""
    source = journal / "photos" / "skin.jpg"
    source.write_bytes(b"new")
    write(journal, {"skin.jpg": held})
    with open_box(journal) as box:
        ((_, digests),) = box.put_files([("skin.jpg", source)])
        assert digests.by_algorithm["sha256"] == hashlib.sha256(b"new").hexdigest()
        assert box.commit().changed == ("skin.jpg",)
    assert (journal / "published" / "skin.jpg").read_bytes() == b"new"


def test_put_files_keeps_the_order(journal: Path) -> None:
    """Many files of all sizes come out in the order in which they went in, each with its own."""
    sources = [journal / "photos" / f"{number}.jpg" for number in range(30)]
    for number, source in enumerate(sources):
        source.write_bytes(b"x" * ((number * 7919) % 20_000))
    with open_box(journal) as box:
        put = list(box.put_files((source.name, source) for source in sources))
        box.commit()
    sizes = [digests.size_bytes for _, digests in put]
    assert [path for path, _ in put] == [source.name for source in sources]
    assert sizes == [source.stat().st_size for source in sources]
    assert read(journal / "published") == {each.name: each.read_bytes() for each in sources}


def test_a_source_that_cannot_be_read_is_refused(journal: Path) -> None:
    """An original that is gone is refused by name, and nothing is written."""
    with (
        pytest.raises(Refused, match=r"no\.jpg: No such file"),
        open_box(journal) as box,
    ):
        list(box.put_files([("skin.jpg", journal / "photos" / "no.jpg")]))
    assert not (journal / "published").exists()


def test_the_workroom_is_gone_in_the_end(journal: Path) -> None:
    """What is made in the workroom can be put from there, and nothing of it stays behind."""
    for found in ("new", "unchanged"):
        with open_box(journal) as box:
            (box.workroom / "1.jpg").write_bytes(b"drawn")
            list(box.put_files([("pictures/1.jpg", box.workroom / "1.jpg")]))
            assert getattr(box.commit(), found) == ("pictures/1.jpg",)
    assert read(journal / "published") == {"pictures/1.jpg": b"drawn"}
    assert not (journal / "published" / STAGE_NAME).exists()


def test_mark_is_known_before_the_commit(journal: Path) -> None:
    """The mark's bytes can be had before, whatever the order of the paths."""
    with open_box(journal, None, "dossier") as box:
        box.put("b", b"")
        box.put("a", b"")
        expected = box.mark_bytes(["b", "a"])
        box.commit()
    assert (journal / "published" / Outbox.mark_path).read_bytes() == expected


def test_foreign_files_stay_and_are_told(journal: Path) -> None:
    """Files in the output that we never wrote are left alone, and named."""
    out = journal / "published"
    write(journal, {"a": b"1", "d/b": b"1"})
    (out / "d" / "mine.txt").write_text("mine")
    (out / "link").symlink_to("/nowhere")
    assert write(journal, {}).foreign == ("d/mine.txt", "link")
    assert read_names(out) == {MARK_NAME, "d/mine.txt", "link"}


def read_names(folder: Path) -> set[str]:
    """All paths below a folder that are no folders, links not followed."""
    return {f.relative_to(folder).as_posix() for f in folder.rglob("*") if not f.is_dir()}


def put_file_in_way(out: Path) -> None:
    """A file where a page must go."""
    (out / "new.html").write_text("mine")


def put_folder_in_way(out: Path) -> None:
    """A folder with something in it where a page must go."""
    (out / "new.html").mkdir()
    (out / "new.html" / "mine").write_text("mine")


def put_link_in_way(out: Path) -> None:
    """A link where a page must go."""
    (out / "new.html").symlink_to(out / "a")


@pytest.mark.parametrize("hinder", [put_file_in_way, put_folder_in_way, put_link_in_way])
def test_strange_file_is_never_overwritten(journal: Path, hinder: Callable[[Path], None]) -> None:
    """A strange file, folder or link in the way is named, before anything is changed."""
    out = journal / "published"
    write(journal, {"a": b"1"})
    hinder(out)
    before = read_names(out)
    with pytest.raises(Refused, match=r"new\.html.*did not write it"):
        write(journal, {"a": b"2", "new.html": b"2"})
    assert (out / "a").read_bytes() == b"1"
    assert read_names(out) == before


def test_strange_file_where_a_folder_must_go(journal: Path) -> None:
    """A strange file in the place of a folder is named, before anything is changed."""
    out = journal / "published"
    write(journal, {"a": b"1"})
    (out / "d").write_text("mine")
    with pytest.raises(Refused, match="d stands where d/e must go"):
        write(journal, {"a": b"2", "d/e": b"2"})
    assert read(out) == {"a": b"1", "d": b"mine"}


def test_strange_file_in_other_case(journal: Path) -> None:
    """A strange file that differs from one of ours in case only is not taken for ours."""
    out = journal / "published"
    write(journal, {"A.html": b"1"})
    (out / "a.html").write_text("mine")
    if (out / "A.html").samefile(out / "a.html"):
        pytest.skip("this disk does not tell case apart")
    with pytest.raises(Refused, match=r"a\.html"):
        write(journal, {"a.html": b"2"})
    assert read(out) == {"A.html": b"1", "a.html": b"mine"}


def test_own_file_becomes_a_folder_and_back(journal: Path) -> None:
    """What was a file may become a folder and the reverse."""
    out = journal / "published"
    first: Files = {"x": b"1", "y/a": b"1", "y/b/c": b"1"}
    second: Files = {"x/deep/er": b"2", "x/side": b"3", "y": b"2"}
    write(journal, first)
    assert write(journal, second).deleted == ("x", "y/a", "y/b/c")
    assert read(out) == second
    write(journal, first)
    assert read(out) == first


def test_own_file_changes_its_case(journal: Path) -> None:
    """A file of ours may change its case; the old one never outlives or undoes the new one."""
    write(journal, {"A.html": b"1"})
    write(journal, {"a.html": b"2"})
    assert read(journal / "published") == {"a.html": b"2"}


def test_not_empty_without_mark(journal: Path) -> None:
    """A folder with files that is not ours is refused untouched, without a stage."""
    out = journal.parent / "holiday"
    out.mkdir()
    (out / "beach.jpg").write_text("mine")
    with pytest.raises(Refused, match=r"did not write \('beach.jpg'"):
        write(journal, {"a": b"1"}, out)
    assert read_names(out) == {"beach.jpg"}


def test_other_kind(journal: Path) -> None:
    """A site is not written over a dossier."""
    write(journal, {"bagit.txt": b"1"}, None, "dossier")
    with pytest.raises(Refused, match="written by `dossier`, not by `publish`"):
        write(journal, {"index.html": b"1"})
    assert read(journal / "published") == {"bagit.txt": b"1"}


def test_file_in_the_place_of_the_folder(journal: Path) -> None:
    """An output that is a file is refused."""
    with pytest.raises(Refused, match="is a file, not a folder"):
        write(journal, {}, journal / "notes" / "2026-03-14.md")


@pytest.mark.parametrize(
    "out", [".", "..", "notes", "Notes", "notes/site", "photos/a/b", ".builderlog/site", "look"]
)
def test_output_over_originals(journal: Path, out: str) -> None:
    """An output that is, contains or lies in the journal or its originals is refused."""
    with pytest.raises(Refused, match="journal"):
        write(journal, {"a": b""}, journal / out)
    assert read_names(journal) == {"notes/2026-03-14.md"}


def test_output_reaches_originals_by_links(journal: Path, tmp_path: Path) -> None:
    """Links on the way, or originals that are links, cannot hide that an output overlaps them."""
    store = tmp_path / "store"
    (store / "pictures").mkdir(parents=True)
    (journal / "photos").rmdir()
    (journal / "photos").symlink_to(store / "pictures")
    (tmp_path / "way").symlink_to(journal)
    for out in (store, store / "pictures" / "site", tmp_path / "way" / "notes" / "site"):
        with pytest.raises(Refused, match="journal's originals"):
            write(journal, {"a": b""}, out)


def test_output_inside_another(journal: Path) -> None:
    """A dossier inside the site would go online with it: refused."""
    write(journal, {"index.html": b""})
    with pytest.raises(Refused, match="itself an output"):
        write(journal, {}, journal / "published" / "dossier", "dossier")


def test_folder_that_is_a_link(journal: Path, tmp_path: Path) -> None:
    """An output that is a link is refused, also one that leads nowhere."""
    for target in (tmp_path, tmp_path / "nowhere"):
        (journal / "published").symlink_to(target)
        with pytest.raises(Refused, match="is a link"):
            write(journal, {"a": b""})
        (journal / "published").unlink()


def test_folder_inside_that_became_a_link(journal: Path, tmp_path: Path) -> None:
    """Neither writing nor deleting ever goes through a link inside the output."""
    out, outside = journal / "published", tmp_path / "outside"
    write(journal, {"d/a": b"1", "e": b"1"})
    (out / "d").rename(outside)
    (out / "d").symlink_to(outside)
    for files in ({"d/a": b"2"}, {"e": b"1"}, {}):
        with pytest.raises(Refused, match="is a link that leads elsewhere"):
            write(journal, files)
    (out / "link").symlink_to(outside)
    (out / "d").unlink()
    with pytest.raises(Refused, match="is a link that leads elsewhere"):
        write(journal, {"link/a": b"2"})
    assert read(outside) == {"a": b"1"}


def test_own_file_that_became_a_link(journal: Path, tmp_path: Path) -> None:
    """A file of ours that was replaced by a link is replaced or deleted; its target is not."""
    out, outside = journal / "published", tmp_path / "letter"
    outside.write_text("mine")
    write(journal, {"a": b"1", "b": b"1"})
    for name in ("a", "b"):
        (out / name).unlink()
        (out / name).symlink_to(outside)
    changes = write(journal, {"a": b"mine"})
    assert (changes.changed, changes.deleted) == (("a",), ("b",))
    assert not (out / "a").is_symlink()
    assert outside.read_text() == "mine"


def test_stage_or_mark_that_is_a_link(journal: Path, tmp_path: Path) -> None:
    """A link planted for our own bookkeeping is refused."""
    out = journal / "published"
    for name in (STAGE_NAME, MARK_NAME):
        out.mkdir()
        (out / name).symlink_to(tmp_path)
        with pytest.raises(Refused, match="is not a f"):
            write(journal, {"a": b""})
        (out / name).unlink()
        out.rmdir()


@pytest.mark.parametrize(
    "mark",
    [b"", b"[]", b'{"format": 1, "kind": "site"}', b'{"format": 2, "kind": "site", "paths": []}',
     b'{"format": 1, "kind": "car", "paths": []}',
     b'{"format": 1, "kind": "site", "paths": ["../wings/notes/2026-03-14.md"]}',
     b'{"format": 1, "kind": "site", "paths": ["/etc/hostname"]}',
     b'{"format": 1, "kind": "site", "paths": [7]}', b"\xff"],
)  # fmt: skip
def test_damaged_mark(journal: Path, mark: bytes) -> None:
    """A mark that is damaged, or would lead a deletion outside, is refused."""
    out = journal / "published"
    out.mkdir()
    (out / MARK_NAME).write_bytes(mark)
    with pytest.raises(Refused, match="is damaged"):
        write(journal, {})
    assert (journal / "notes" / "2026-03-14.md").exists()


def test_list_planted_to_lead_outside(journal: Path) -> None:
    """A list of changes that names a path outside is refused, whoever wrote it."""
    out = journal / "published"
    write(journal, {"a": b"1"})
    (out / STAGE_NAME).mkdir()
    words = {"format": 1, "kind": "site", "moves": [], "paths": []}
    words["deletions"] = ["../notes/2026-03-14.md"]
    (out / STAGE_NAME / "changes.json").write_text(json.dumps(words))
    with pytest.raises(Refused, match="damaged"):
        write(journal, {})
    assert (journal / "notes" / "2026-03-14.md").exists()


def test_second_writer_is_refused(journal: Path) -> None:
    """Who comes second is refused with a clear word, and may come again later."""
    with open_box(journal) as box:
        box.put("a", b"1")
        with pytest.raises(Refused, match="published is busy: another builderlog"):
            write(journal, {"b": b"2"})
        box.commit()
    assert write(journal, {"b": b"2"}).new == ("b",)


def test_folder_that_cannot_be_written(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system refuses is told with the folder and the reason, not as a traceback."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", "published")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(Refused, match=r"could not .*published.*Permission denied"):
        write(journal, {"a": b""})


OLD: Files = {
    "index.html": b"old",
    "same": b"same",
    "gone/a": b"x",
    "gone/b/c": b"y",
    "file": b"f",
    "folder/x": b"x",
    "folder/y/z": b"z",
    "Case": b"c",
}
NEW: Files = {
    "index.html": b"new",
    "same": b"same",
    "fresh/1": b"1",
    "fresh/2": b"2",
    "file/now/folder": b"f",
    "folder": b"file now",
    "case": b"c",
}


def crash_after(steps: int, monkeypatch: pytest.MonkeyPatch) -> Callable[[], int]:
    """Lets so many changing calls of the system pass, then fails each; returns the count made."""
    made = 0

    def step(real: Callable[..., None], *args: object, **kwargs: object) -> None:
        nonlocal made
        if made >= steps:
            raise Crash
        made += 1
        real(*args, **kwargs)

    for name in ("replace", "unlink", "rmdir", "mkdir", "fsync"):
        monkeypatch.setattr(os, name, partial(step, getattr(os, name)))
    return lambda: made


def count_steps(journal: Path, first: Files) -> int:
    """How many changing calls a whole run from the first state to NEW makes."""
    if first:
        write(journal, first, journal / "counted")
    with pytest.MonkeyPatch.context() as patch:
        made = crash_after(10**9, patch)
        write(journal, NEW, journal / "counted")
        return made()


@pytest.mark.parametrize("first", [OLD, {}])
def test_crash_at_every_step(journal: Path, first: Files) -> None:
    """After a crash at any step each file is old or new, and the next run ends at the new state."""
    steps = count_steps(journal, first)
    assert steps > 20
    for step in range(steps):
        out = journal / f"out-{step}"
        if first:
            write(journal, first, out)
        with pytest.MonkeyPatch.context() as patch:
            crash_after(step, patch)
            with pytest.raises(Crash):
                write(journal, NEW, out)
        _assert_each_whole(out, first)
        _assert_next_open_settles(journal, out, first)
        write(journal, NEW, out)
        assert read(out) == NEW
        assert not any(f.is_dir() and not any(f.iterdir()) for f in out.rglob("*"))


def _assert_each_whole(out: Path, first: Files) -> None:
    for path, data in read(out).items() if out.exists() else ():
        if not path.startswith(STAGE_NAME):
            assert data in (first.get(path), NEW.get(path)), path


def _assert_next_open_settles(journal: Path, out: Path, first: Files) -> None:
    """Merely opening finishes a commit that had begun, and drops one that had not."""
    begun = (out / STAGE_NAME / "changes.json").exists()
    before = NEW if begun else read(out) if out.exists() else {}
    with open_box(journal, out):
        pass
    kept = {path: data for path, data in before.items() if not path.startswith(STAGE_NAME)}
    assert (read(out) if out.exists() else {}) == kept
    assert begun or kept in (first, NEW)


def test_crash_while_finishing(journal: Path) -> None:
    """A crash while an earlier crash is being finished does no harm either."""
    for step in range(count_steps(journal, OLD)):
        out = journal / f"out-{step}"
        write(journal, OLD, out)
        for again in (step, 2, 1, 0, 3):
            with pytest.MonkeyPatch.context() as patch:
                crash_after(again, patch)
                with pytest.raises(Crash):
                    write(journal, NEW, out)
            _assert_each_whole(out, OLD)
        write(journal, NEW, out)
        assert read(out) == NEW


def test_power_cut_that_emptied_a_staged_file(journal: Path) -> None:
    """A staged file that a power cut left empty never replaces a good one."""
    out = journal / "published"
    write(journal, {"a": b"old", "b": b"old"})
    crash_at_first_rename(journal, {"a": b"new", "b": b"new"})
    (out / STAGE_NAME / "files" / "00000000").write_bytes(b"")
    with open_box(journal):
        pass
    assert read(out) == {"a": b"old", "b": b"new"}
    write(journal, {"a": b"new", "b": b"new"})
    assert read(out) == {"a": b"new", "b": b"new"}


def crash_at_first_rename(journal: Path, files: Files) -> None:
    """Leaves a list of changes of which nothing has been done."""

    def stop(source: Path, target: Path) -> None:
        if "files" in Path(source).parts:
            raise Crash
        Path(source).rename(target)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "replace", stop)
        with pytest.raises(Crash):
            write(journal, files)


def test_finishing_never_goes_through_a_link(journal: Path, tmp_path: Path) -> None:
    """A folder that became a link since the crash is neither written nor deleted through."""
    out, outside = journal / "published", tmp_path / "outside"
    outside.mkdir()
    (outside / "a").write_bytes(b"mine")
    write(journal, {"gone/a": b"1"})
    crash_at_first_rename(journal, {"d/a": b"2"})
    (out / "gone").rename(tmp_path / "aside")
    (out / "gone").symlink_to(outside)
    (out / "d").rmdir()
    (out / "d").symlink_to(outside)
    with pytest.raises(Refused, match="d is a link that leads elsewhere"):
        write(journal, {"d/a": b"2"})
    (out / "d").unlink()
    write(journal, {"d/a": b"2"})
    assert read(outside) == {"a": b"mine"}
    assert (out / "d" / "a").read_bytes() == b"2"


VICTIM = """
import sys
from pathlib import Path
from builderlog.storing.outbox import open_outbox
journal, out, word = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3].encode()
print("go", flush=True)
with open_outbox(out, "site", [], journal) as box:
    for number in range(300):
        box.put(f"{word.decode()}/{number}", word * 1000)
        box.put(f"both/{number}", word * 1000)
    box.commit()
"""


@pytest.mark.slow
def test_killed_for_real(journal: Path) -> None:
    """A process killed at a random moment leaves whole files, no lock, and the next run settles."""
    out = journal / "published"
    for round_, word in enumerate(["one", "two"] * 15):
        command = [sys.executable, "-c", VICTIM, str(journal), str(out), word]
        with subprocess.Popen(command, stdout=subprocess.PIPE) as victim:
            assert victim.stdout is not None
            victim.stdout.readline()
            time.sleep(0.012 * round_)
            victim.send_signal(signal.SIGKILL)
        for path, data in read(out).items() if out.exists() else ():
            if not path.startswith(STAGE_NAME):
                assert data in (b"one" * 1000, b"two" * 1000)
    files = {f"both/{number}": b"end" for number in range(300)}
    write(journal, files)
    assert read(out) == files


@pytest.mark.slow
def test_two_processes_never_write_at_once(journal: Path) -> None:
    """Of many writers at once each either does its whole work or is refused as busy."""
    out = journal / "published"
    commands = [
        [sys.executable, "-c", VICTIM, str(journal), str(out), word] for word in ("one", "two") * 3
    ]
    running = [
        subprocess.Popen(c, stdout=subprocess.PIPE, stderr=subprocess.PIPE) for c in commands
    ]
    ends = [(process.communicate()[1], process.returncode) for process in running]
    assert all(code == 0 or b"is busy" in errors for errors, code in ends)
    assert any(code == 0 for _, code in ends)
    assert len(set(read(out).values())) == 1
    assert not (out / STAGE_NAME).exists()
