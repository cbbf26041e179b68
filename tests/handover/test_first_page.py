"""The page for a stranger: plain text that says whose record it is and how to check it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.findings import find
from builderlog.handover.first_page import COLUMNS, FIRST_PAGE, first_page
from builderlog.handover.small_copies import ORIGINALS
from builderlog.handover.tables import all_sheets
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.dossier import dossier
from builderlog.sheets.table import Heading, Sheet
from tests.deciding.sealed_journals import seal
from tests.handover.small_journal import FILES, bag_of, read, write_journal
from tests.making import ledger, settings


def page_of(seen: Ledger, *more: Sheet) -> str:
    """The page of a ledger with all its tables."""
    found = find(seen)
    return first_page(seen, dossier(found), (*all_sheets(seen, {}, found), *more)).decode("utf-8")


def plain(page: str) -> str:
    """All words with single blanks."""
    return " ".join(page.split())


def commands_under(page: str, system: str) -> list[str]:
    """The lines that stand indented below the name of a system."""
    lines = page.partition(f"{system}:\n\n")[2].splitlines()
    end = next(at for at, line in enumerate(lines) if not line.startswith("    "))
    return [line[4:] for line in lines[:end]]


def test_it_is_plain_text_that_any_screen_shows(bag: Path) -> None:
    """UTF-8 without a byte-order mark, LF line ends, 76 columns, no blank at a line's end."""
    data = (bag / FIRST_PAGE).read_bytes()
    assert not data.startswith(b"\xef\xbb\xbf")
    assert b"\r" not in data
    assert b"\t" not in data
    lines = data.decode("utf-8").split("\n")
    assert lines.pop() == ""
    assert max(map(len, lines)) <= COLUMNS
    assert [line for line in lines if line != line.rstrip()] == []


def test_it_says_whose_record_it_is(bag: Path) -> None:
    """Title as written, builders by their full names, design, notes, days and rulebook."""
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    assert page.startswith("Ostrel <Two> & friends\n======================\n")
    for words in (
        *("Builders: Ines Aldermark and Tomas", "Design: Ostrel Two", "Notes: 3 notes"),
        *("Dated: 14 March 2026 to 21 April 2026", "Counted by the rulebook: United States"),
    ):
        assert words in plain(page)


def test_a_title_of_any_length_and_kind_stays_on_the_page() -> None:
    """A title over several lines, one longer than a line and none at all give a whole page."""
    for title in ("A\ntitle:\tof\u2028two", "x" * 200, ""):
        named = replace(ledger(), settings=replace(settings(), title=title))
        page = page_of(named)
        assert max(map(len, page.split("\n"))) <= COLUMNS
        assert "What it is not" in page


def test_it_says_what_the_record_is_not(bag: Path) -> None:
    """The cautions stand on the page: it supports a statement and grants nothing."""
    words = plain((bag / FIRST_PAGE).read_text(encoding="utf-8"))
    assert "supports the builder's own statement. It grants nothing" in words
    assert "They do not show that what was written is true." in words
    assert '"private: hours only"' in words


def test_what_it_names_is_there(bag: Path) -> None:
    """Every file and folder that the page names below `What lies where` is in the bag."""
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    places = page.partition("What lies where")[2].partition("How to check")[0]
    named = re.findall(r"^([a-z][\w/*.-]+)(?=[ ,])", places, re.MULTILINE)
    assert {"dossier.pdf", "binder/", "data/notes/", "manifest-*.txt"} <= set(named)
    assert [each for each in named if each != "other" and not [*bag.glob(each)]] == []


def test_it_promises_no_file_that_is_not_there() -> None:
    """A journal without pictures, receipts, seals, work list or rulebook is told of none."""
    page = page_of(ledger())
    absent = ("data/photos/", "data/receipts/", "seals/", "worklist.yaml", "rulebook:")
    assert not [word for word in absent if word in page]
    assert "data/tables/" in page


def test_it_tells_of_copies_where_the_originals_stayed() -> None:
    """Where pictures go along as copies the page says so, and promises no original picture."""
    copies = Sheet(ORIGINALS, "The originals.", (Heading("path", "its path"),), ())
    page = plain(page_of(ledger(), copies))
    assert "data/prints/ the pictures as print-size copies" in page
    assert "the original pictures, not altered" not in page


def test_it_explains_every_column_of_every_table(bag: Path, journal: Path) -> None:
    """Each table in the bag has its line, and all its columns stand there with their meaning."""
    _, seen = read(journal)
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    words = plain(page)
    tables = {file.stem for file in (bag / "data/tables").glob("*.csv")}
    assert [name for name in tables if f"\n{name}.csv: " not in page] == []
    for sheet in all_sheets(seen, {}):
        assert " ".join(sheet.title.split()) in words
        for heading in sheet.headings:
            assert f"{heading.name}: {' '.join(heading.meaning.split())}" in words
    assert "'=A1" in page
    assert "year-month-day" in page


@pytest.mark.skipif(os.name != "posix", reason="these are the commands for Linux")
def test_the_commands_for_linux_check_the_bag(bag: Path) -> None:
    """Run as they stand they print nothing; after one changed bit and one in this page they do."""
    if not shutil.which("sha256sum") or not shutil.which("sha512sum"):
        pytest.skip("sha256sum or sha512sum is missing")
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    commands = commands_under(page, "Linux")
    assert len(commands) == 3
    assert [run(command, bag) for command in commands] == [(0, "")] * 3
    for path in ("data/worklist.yaml", FIRST_PAGE):
        data = (bag / path).read_bytes()
        (bag / path).write_bytes(bytes([data[0] ^ 1]) + data[1:])
    told = [run(command, bag) for command in commands]
    assert [status for status, _ in told] == [1, 1, 1]
    assert "data/worklist.yaml: FAILED" in told[0][1]
    assert f"{FIRST_PAGE}: FAILED" in told[2][1]


def test_the_commands_for_macos_name_the_same_lists(bag: Path) -> None:
    """The same three lists with the tool that is at hand there; Perl's shasum, where it is here."""
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    commands = commands_under(page, "macOS")
    lists = [command.rpartition(" ")[2] for command in commands]
    assert lists == [line.rpartition(" ")[2] for line in commands_under(page, "Linux")]
    if shutil.which("shasum"):
        assert [run(command, bag)[0] for command in commands] == [0, 0, 0]


def test_the_commands_for_windows_check_the_bag(bag: Path) -> None:
    """Both lists are read as UTF-8; where there is a PowerShell it runs, and finds nothing."""
    page = (bag / FIRST_PAGE).read_text(encoding="utf-8")
    script = "\n".join(commands_under(page, "Windows (PowerShell)"))
    assert "'manifest-sha256.txt', 'tagmanifest-sha256.txt'" in script
    assert "-Encoding UTF8" in script
    assert script.count("{") == script.count("}")
    shell = shutil.which("pwsh")
    if shell is None:
        pytest.skip("no PowerShell here: its commands were read, not run")
    words = [shell, "-NoProfile", "-Command", script]
    done = subprocess.run(words, cwd=bag, check=True, capture_output=True, text=True)
    assert done.stdout == ""


def test_a_sealed_month_is_checked_from_inside_data(tmp_path: Path) -> None:
    """With a seal its command stands there and holds, until a note of that month is changed."""
    note = b"---\nhours: 2h\ntasks: W14\n---\nAll in.\n"
    plain_files = {path: FILES[path] for path in ("journal.yaml", "worklist.yaml")}
    plain_files |= {"papers/bill.txt": b"a bill", "notes/2026-03-14.md": note}
    root = write_journal(tmp_path / "journal", plain_files)
    assert "sha256sum -c" not in page_of(read(root)[1])
    sealed = seal(root, "2026-03")
    bag_of(root, tmp_path / "bag")
    page = (tmp_path / "bag" / FIRST_PAGE).read_text(encoding="utf-8")
    command = f"sha256sum -c {sealed.path}"
    assert "From inside data/ (a file" in plain(page)
    assert f"\n    {command}\n" in page
    if shutil.which("sha256sum"):
        data = tmp_path / "bag/data"
        assert run(command, data)[0] == 0
        (data / "notes/2026-03-14.md").write_bytes(note.replace(b"2h", b"3h"))
        assert run(command, data)[0] == 1


def test_the_same_journal_gives_the_same_page(journal: Path, tmp_path: Path) -> None:
    """Another folder and order of files: not a byte differs."""
    other = write_journal(tmp_path / "other", dict(reversed(FILES.items())))
    bag_of(journal, tmp_path / "one")
    bag_of(other, tmp_path / "two")
    pages = {(tmp_path / name / FIRST_PAGE).read_bytes() for name in ("one", "two")}
    assert len(pages) == 1


def run(command: str, folder: Path) -> tuple[int, str]:
    """Exit status and all that is said."""
    done = subprocess.run(
        command.split(), cwd=folder, check=False, capture_output=True, text=True, encoding="utf-8"
    )
    return done.returncode, done.stdout + done.stderr
