"""A form goes into the journal's work list whole or not at all, and the list comes out again."""

from __future__ import annotations

import os
from argparse import Namespace
from dataclasses import dataclass
from pathlib import Path

import pytest

from builderlog.command.claim_form import export_form, import_form
from builderlog.command.opening import CACHE_FOLDER, Opened, open_journal
from builderlog.handover.tables import table_bytes
from builderlog.sheets.record_time import tasks
from builderlog.storing.lock import hold
from builderlog.storing.refusal import Refused
from builderlog.storing.taking_in import LARGEST_TABLE
from tests.command.running import originals, run
from tests.command.small_journal import JOURNAL, WORKLIST, write_small


@dataclass
class Bench:
    """A journal, a table beside it, and what the commands print."""

    root: Path
    capsys: pytest.CaptureFixture[str]

    @property
    def opened(self) -> Opened:
        """The journal as it is now."""
        return open_journal(Namespace(journal=self.root))

    @property
    def worklist(self) -> str:
        """The text of the work list."""
        return (self.root / "worklist.yaml").read_bytes().decode()

    def table(self, text: str | bytes, name: str = "form.csv") -> Path:
        """A table in the folder above the journal."""
        file = self.root.parent / name
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
        return file

    def take(self, text: str | bytes, *, write: bool = True) -> tuple[int, str, str]:
        """Imports a table: exit status, what was printed, what was told."""
        status = import_form(self.opened, self.table(text), write=write)
        out, err = self.capsys.readouterr()
        return status, out, err.replace(str(self.root.parent) + os.sep, "")


@pytest.fixture
def bench(journal: Path, capsys: pytest.CaptureFixture[str]) -> Bench:
    """The small journal of these tests."""
    return Bench(journal, capsys)


def test_an_evaluation_changes_the_makers_credit_alone(bench: Bench) -> None:
    """Two columns are enough; the file changes at these places and the summary counts them."""
    status, out, err = bench.take("No.;Mfr kit/part/component\nW14;0,5\nW15;N/A\n")
    assert (status, err) == (0, "")
    assert out.splitlines() == [
        "2 tasks read; 2 changed, 0 added, 0 as they were",
        "worklist.yaml is written",
    ]
    assert bench.worklist == WORKLIST.replace(
        "work: fabrication, state: open}",
        "work: fabrication, state: open, credit: {maker: 0.5}}",
    ).replace("work: assembly, state", "work: assembly, applies: no, state")


def test_what_is_new_and_what_is_missing_is_counted(bench: Bench) -> None:
    """New tasks are added, and tasks that the table lacks are named and kept."""
    status, out, _ = bench.take(
        "no,name,a\n,Wings,\nW14,Fit aileron skins,\nW16,Tips,1\n,Floats,\nX1,Struts,1\n"
    )
    assert status == 0
    assert out.splitlines() == [
        "headings taken for areas: Wings, Floats",
        "new areas: X (Floats)",
        "3 tasks read; 0 changed, 2 added, 1 as they were; 1 of the list is not in the table: W15",
        "worklist.yaml is written",
    ]
    assert "W15" in bench.worklist
    assert [area.id for area in bench.opened.ledger.worklist.areas] == ["W", "X"]


def test_doubts_are_told_with_their_places(bench: Bench) -> None:
    """A column that is left out and a row of sums are told, and the import goes on."""
    status, _, err = bench.take("task,a,colour\nW14,0.5,red\nTotal,0.5,\n")
    assert status == 0
    assert [line.rpartition(": ")[0] for line in err.splitlines()] != []
    assert err.startswith("form.csv:1:8: column-not-understood: the column 'colour'")
    assert "\nform.csv:3:1: sums-left-out: the row 'Total'" in err


def test_without_writing_every_change_is_told_and_none_made(bench: Bench) -> None:
    """A rehearsal prints what would change and leaves every byte and file as it is."""
    before = originals(bench.root)
    status, out, _ = bench.take("task,area,a\nW14,W,0.5\nW16,W,1\n", write=False)
    assert status == 0
    assert out.splitlines() == [
        "W14: maker 0.5",
        "W16, new in W: maker 1.0",
        (
            "2 tasks read; would be: 1 changed, 1 added, 0 as they were; "
            "1 of the list is not in the table: W15"
        ),
        "nothing was written",
    ]
    assert originals(bench.root) == before


def test_a_form_that_the_list_says_already_touches_no_file(bench: Bench) -> None:
    """The same form twice: the second time the work list is not even written anew."""
    bench.take("task,a\nW14,0.5\n")
    stamp = (bench.root / "worklist.yaml").stat()
    status, out, _ = bench.take("task,a\nW14,0.5\n")
    assert (status, out.splitlines()[-1]) == (0, "worklist.yaml says so already")
    assert (bench.root / "worklist.yaml").stat().st_mtime_ns == stamp.st_mtime_ns
    assert (bench.root / "worklist.yaml").stat().st_ino == stamp.st_ino


BAD = """\
task,a,b,kind,estimate
W14,0.35,,fabricaton,4h
W15,0.5,0.6,,
,0.1,,,
W14,,,,
"""


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        (BAD, [
            "form.csv:2:5: unreadable", "form.csv:2:11: unknown-word",
            "form.csv:3:5: credit-above-1", "form.csv:4:2: task-id-missing",
            "form.csv:5:1: task-id-twice",
        ]),
        ("task,a\nW14,0,3\n", ["form.csv:2:7: too-many-cells"]),
        ("task,a\nW-14,0.3\n", ["form.csv:2:1: id-nearly-known"]),
        ("task,a\n", ["form.csv:1:1: no-tasks"]),
        ("", ["form.csv:1:1: table-empty"]),
        (b"PK\x03\x04\x00", ["form.csv:1:1: not-a-table"]),
        (b"task,a\nW14,\xff\n", ["form.csv:2:5: not-utf8"]),
        ('task,a\n"W14,0.3\nW15,0.3\n', ["form.csv:2:1: quote-not-closed"]),
        ("W14,Fit,0.3\nW15,Rivet,0.5\n", ["form.csv:1:1: no-id-column"]),
    ],
)  # fmt: skip
def test_a_bad_table_writes_nothing_and_tells_all(
    bench: Bench, table: str | bytes, expected: list[str]
) -> None:
    """One bad row anywhere: exit status 1, every mistake at its place, the work list as it was."""
    before = originals(bench.root)
    status, out, err = bench.take(table)
    *told, last = err.splitlines()
    assert (status, out) == (1, "")
    assert sorted(":".join(line.split(":")[:4]) for line in told) == sorted(expected)
    assert last.endswith("worklist.yaml is as it was")
    assert originals(bench.root) == before


def test_credit_that_does_not_fit_names_both_places(bench: Bench) -> None:
    """The table's cell and the list's task are both told where they stand."""
    bench.take("task,c,d\nW14,0.4,0.4\n")
    status, _, err = bench.take("task,a\nW14,0.5\n")
    assert status == 1
    assert err.startswith("form.csv:2:5: credit-above-1-together: with assembly 0.4 and ")
    assert "(worklist.yaml:5:16) this makes 1.3 for 'W14'" in err


def test_a_work_list_with_mistakes_is_left_alone(bench: Bench) -> None:
    """Its mistakes are told together with those of the table; nothing is written."""
    (bench.root / "worklist.yaml").write_text(WORKLIST.replace("state: open}", "state: opne}"))
    before = bench.worklist
    status, out, err = bench.take("task,a\nW14,0.5\nW15,0.35\n")
    assert (status, out, bench.worklist) == (1, "", before)
    assert "worklist.yaml:5:72: unknown-word" in err
    assert "form.csv:3:5: unreadable" in err


def test_mistakes_elsewhere_do_not_stand_in_the_way(bench: Bench) -> None:
    """A mistake in journal.yaml or in a note is no reason not to take a form in."""
    (bench.root / "journal.yaml").write_text(JOURNAL + "unheard: of\n")
    assert bench.opened.mistakes
    assert bench.take("task,a\nW14,0.5\n")[0] == 0


def test_a_single_task_without_a_dash_becomes_the_first_of_a_list(bench: Bench) -> None:
    """Odd YAML stays as it was written but for the dash that a second task asks for."""
    odd = "areas:\n  - area: W\n    tasks:\n      task: W14\n      name: Skins\n"
    (bench.root / "worklist.yaml").write_text(odd)
    status, _, _ = bench.take("task,area\nW15,W\n")
    assert status == 0
    assert "      - task: W14\n        name: Skins\n" in bench.worklist
    assert "task: W15" in bench.worklist.partition("Skins")[2]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_journal_without_a_list_gets_one(bench: Bench, encoding: str) -> None:
    """The new file names the table and the caution; any usual encoding is read."""
    (bench.root / "worklist.yaml").unlink()
    status, out, _ = bench.take("task;name\nW14;Bügel\nW15;b\n".encode(encoding))
    assert (status, out.splitlines()[0]) == (0, "new areas: W")
    assert bench.worklist.startswith("# The areas and tasks of the aircraft, from form.csv.\n")
    assert "the form that your inspector uses prevails" in bench.worklist
    assert [task.name for task in bench.opened.ledger.worklist.by_id.values()] == ["Bügel", "b"]


def test_line_ends_mark_and_mode_of_the_file_stay(bench: Bench) -> None:
    """A list with CRLF and a byte-order mark keeps both, and its permissions."""
    file = bench.root / "worklist.yaml"
    before = f"\ufeff{WORKLIST}".replace("\n", "\r\n")
    file.write_bytes(before.encode())
    file.chmod(0o640)
    bench.take("task,name\nW15,Rivet it\n")
    assert bench.worklist == before.replace("Rivet them", "Rivet it")
    assert file.stat().st_mode & 0o777 == 0o640
    assert sorted(path.name for path in bench.root.iterdir() if "worklist" in path.name) == [
        "worklist.yaml"
    ]


def test_a_link_inside_the_journal_stays_a_link(bench: Bench) -> None:
    """The file that the link leads to is changed; a link that leads outside is refused."""
    file, kept = bench.root / "worklist.yaml", bench.root / "lists.yaml"
    file.rename(kept)
    file.symlink_to("lists.yaml")
    assert bench.take("task,a\nW14,0.5\n")[0] == 0
    assert file.is_symlink()
    assert "maker: 0.5" in kept.read_text()
    outside = bench.root.parent / "outside.yaml"
    kept.rename(outside)
    file.unlink()
    file.symlink_to(outside)
    before = outside.read_text()
    status, _, err = bench.take("task,a\nW14,0.9\n")
    assert (status, outside.read_text()) == (1, before)
    assert "worklist.yaml:1:1: outside:" in err


def test_the_surroundings_are_refused_with_a_sentence(bench: Bench) -> None:
    """No file, a folder, a file too large, or another run at work: Refused, and nothing done."""
    opened, above = bench.opened, bench.root.parent
    with pytest.raises(Refused, match=r"could not read .*none\.csv: No such file"):
        import_form(opened, above / "none.csv")
    with pytest.raises(Refused, match="could not read"):
        import_form(opened, above)
    with pytest.raises(Refused, match="which no form has"):
        import_form(opened, bench.table(b"task\n" * (LARGEST_TABLE // 5 + 1)))


def test_two_imports_do_not_write_at_once(bench: Bench) -> None:
    """While another run holds the journal an import is refused; a rehearsal is not."""
    table = bench.table("task,a\nW14,0.5\n")
    with hold(bench.root / CACHE_FOLDER, "the journal"):
        with pytest.raises(Refused, match="is busy"):
            import_form(bench.opened, table)
        assert import_form(bench.opened, table, write=False) == 0


def test_an_export_comes_back_byte_for_byte(bench: Bench, tmp_path: Path) -> None:
    """Into the same journal it changes nothing; into an empty one it exports the same again."""
    bench.take("task,name,a,d,estimate\nW14,=SUM of skins,0.3,0.7,2h30\nW15,-x,,,\n")
    first = tmp_path / "first.csv"
    assert export_form(bench.opened, first) == 0
    assert bench.capsys.readouterr().out == f"2 tasks written to {first}\n"
    assert b",'=SUM of skins," in first.read_bytes()
    before = originals(bench.root)
    assert import_form(bench.opened, first) == 0
    assert originals(bench.root) == before
    other = Bench(write_small(tmp_path / "other"), bench.capsys)
    (other.root / "worklist.yaml").unlink()
    assert import_form(other.opened, first) == 0
    assert export_form(other.opened, tmp_path / "second.csv") == 0
    assert (tmp_path / "second.csv").read_bytes() == first.read_bytes()


def test_the_dossiers_table_of_tasks_is_a_form_too(bench: Bench) -> None:
    """The record's own table of tasks reads without a doubt and changes nothing."""
    bench.take("task,a,d,estimate\nW14,0.3,0.7,2h30\nW15,,,\n")
    before = bench.worklist
    status, out, err = bench.take(table_bytes(tasks(bench.opened.ledger)))
    assert (status, err, bench.worklist) == (0, "", before)
    assert out.startswith("2 tasks read; 0 changed, 0 added, 2 as they were\n")


def test_an_export_overwrites_nothing(bench: Bench, tmp_path: Path) -> None:
    """A file that is there is refused and stays; so is a place that cannot be written."""
    there = tmp_path / "there.csv"
    there.write_text("mine")
    with pytest.raises(Refused, match="exists already"):
        export_form(bench.opened, there)
    assert there.read_text() == "mine"
    with pytest.raises(Refused, match="could not write"):
        export_form(bench.opened, tmp_path / "none" / "form.csv")


def test_a_list_with_mistakes_or_none_is_not_exported(bench: Bench, tmp_path: Path) -> None:
    """Half a list would be taken for the whole: the mistakes are told and no table is made."""
    file, out = bench.root / "worklist.yaml", tmp_path / "out.csv"
    file.write_text(WORKLIST.replace("state: open}", "state: opne}"))
    assert export_form(bench.opened, out) == 1
    told = bench.capsys.readouterr().err
    assert "worklist.yaml:5:72: unknown-word" in told
    assert told.endswith("no table was written\n")
    file.unlink()
    with pytest.raises(Refused, match="has no work list"):
        export_form(bench.opened, out)
    assert not out.exists()


def test_a_preview_goes_with_an_import(tmp_path: Path) -> None:
    """`claim --import … --preview` tells each change and writes nothing; alone it is refused."""
    root = tmp_path / "journal"
    assert run("start", root).status == 0
    before = (root / "worklist.yaml").read_bytes()
    table = tmp_path / "form.csv"
    table.write_text("id,maker\nW01,0.3\n")
    said = run("claim", root, "--import", table, "--preview")
    assert (said.status, said.err) == (0, "")
    assert "W01: maker 0.3" in said.out
    assert (root / "worklist.yaml").read_bytes() == before
    assert run("claim", root, "--preview").status == 2
    assert run("claim", root, "--import", table).status == 0
    assert (root / "worklist.yaml").read_bytes() != before
