"""Files that killed runs left half written: ours are swept, and nobody else's is."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused
from builderlog.storing.replacing import replace_original
from builderlog.storing.unfinished import sweep_unfinished
from tests.storing.left_behind import ended, left_by

STOPPED_WHILE_WRITING = """
import os, sys
from pathlib import Path
from builderlog.storing.new_file import write_new
os.fsync = lambda _: (print("now", flush=True), sys.stdin.read())
write_new(Path(sys.argv[1]), b"half")
"""


def names(folder: Path) -> list[str]:
    """What stands in a folder, hidden files too."""
    return sorted(file.name for file in folder.iterdir())


def test_a_killed_writers_file_goes_with_the_next_write_and_a_living_ones_stays(
    tmp_path: Path,
) -> None:
    """A process is killed in the middle of a note; before, nobody touches what it is writing."""
    words = [sys.executable, "-c", STOPPED_WHILE_WRITING, str(tmp_path / "letter.md")]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as writer:
        assert writer.stdout
        assert writer.stdout.readline() == b"now\n"
        half = f".letter.md.builderlog-{writer.pid}.tmp"
        write_new(tmp_path / "a.txt", b"one")
        assert names(tmp_path) == [half, "a.txt"]
        os.kill(writer.pid, signal.SIGKILL)
    write_new(tmp_path / "letter.md", b"whole")
    assert names(tmp_path) == ["a.txt", "letter.md"]
    assert (tmp_path / "letter.md").read_bytes() == b"whole"


def test_a_change_of_a_file_sweeps_too(tmp_path: Path) -> None:
    """Whatever the name of the file that was half written: it is the folder that is tidied."""
    file = tmp_path / "a note.md"
    file.write_bytes(b"old")
    left_by(ended(), tmp_path, b"half", "another.md")
    replace_original(file, b"old", b"new")
    assert names(tmp_path) == ["a note.md"]


@pytest.mark.parametrize(
    "name",
    [
        ".a.txt.{gone}.tmp",
        "a.txt.builderlog-{gone}.tmp",
        ".a.txt.builderlog-{gone}.tmp.md",
        ".a.txt.builderlog-.tmp",
        ".a.txt.builderlog-{gone}x.tmp",
        ".a.txt.builderlog-{gone}.TMP",
        ".a.txt.builderlog-{here}.tmp",
        ".a.txt.builderlog-1.tmp",
        ".a.txt.builderlog-9999999999.tmp",
        ".builderlog-{gone}.tmp",
    ],
)
def test_what_only_looks_like_ours_stays(tmp_path: Path, name: str) -> None:
    """The builder's own file of a similar name, and that of a process that is there."""
    file = tmp_path / name.format(gone=ended(), here=os.getpid())
    file.write_bytes(b"mine")
    sweep_unfinished(tmp_path)
    assert file.read_bytes() == b"mine"


def test_a_folder_or_a_link_of_that_name_stays(tmp_path: Path) -> None:
    """We write files; whatever else bears the name is not ours."""
    gone = ended()
    (tmp_path / f".a.builderlog-{gone}.tmp").mkdir()
    (tmp_path / "other").write_bytes(b"other")
    link = tmp_path / f".b.builderlog-{gone}.tmp"
    link.symlink_to(tmp_path / "other")
    sweep_unfinished(tmp_path)
    assert len(names(tmp_path)) == 3
    sweep_unfinished(tmp_path / "nowhere")


def test_the_name_is_never_too_long_for_the_disk(tmp_path: Path) -> None:
    """A note whose name is as long as a disk allows can be written and changed."""
    file = tmp_path / f"{'ö' * 125}.md"
    write_new(file, b"one")
    replace_original(file, b"one", b"two")
    assert names(tmp_path) == [file.name]


def test_what_is_left_under_the_name_is_taken_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where the writing fails."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match="No space left"):
        write_new(tmp_path / "a", b"half")
    assert names(tmp_path) == []
