"""The document for the inspector's table is what its standards ask for, as others' programs see it.

Sources: `qpdf --check`, poppler's `pdfinfo`, `pdffonts` and `pdftotext`, and pikepdf, all tried
with the programs themselves. ISO 19005-3 (PDF/A-3: identified in XMP, every font embedded) and
ISO 14289-1 (PDF/UA-1: headings without a gap, words for every figure), from memory of their text.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from tests.outside import tools

A_PART, A_LEVEL, UA_PART = "pdfaid:part", "pdfaid:conformance", "pdfuaid:part"
MONTHS = (
    "January February March April May June July August September October November December".split()
)
A4_WIDTH, POINTS_IN_MM = 595.276, 72 / 25.4
SIDES = ("maker", "paid", "assembly", "fabrication", "unclaimed")


def ran(name: str, *words: str) -> str:
    """What a program says; any other end than success fails the test."""
    command = [tools.program(name), *words]
    done = subprocess.run(command, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def told(*words: str) -> dict[str, Any]:
    """What a command of ours prints of the example with `--json`."""
    command = [sys.executable, "-m", "builderlog", *words, str(tools.EXAMPLE), "--json"]
    done = subprocess.run(command, cwd=tools.TOP, check=True, capture_output=True, text=True)
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.fixture
def document(example_dossier: Path) -> Path:
    """The document of the example's dossier."""
    return example_dossier / "dossier.pdf"


@cache
def words_of(document: Path) -> str:
    """Its words, each line of a table on one line, as pdftotext lays them out."""
    return ran("pdftotext", "-layout", str(document), "-")


def rows_of(document: Path) -> list[str]:
    """The same, a row each, blanks made single."""
    return [" ".join(line.split()) for line in words_of(document).splitlines()]


def recorded(bag: Path) -> dict[str, Any]:
    """The one document of all tables that lies in the bag."""
    found: dict[str, Any] = json.loads((bag / "data/tables/ledger.json").read_bytes())
    return found


def elements(tree: pikepdf.Object) -> Iterator[pikepdf.Dictionary]:
    """Every element of the tree of tags, in the order of reading."""
    waiting: list[Any] = [tree]
    while waiting:
        node = waiting.pop()
        if isinstance(node, pikepdf.Array):
            waiting.extend(reversed(list(node)))
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                yield node
            if "/K" in node:
                waiting.append(node["/K"])


def tags(document: Path) -> list[tuple[str, str]]:
    """Name and words for the eye-less (`Alt`) of every element."""
    with pikepdf.open(document) as pdf:
        tree = pdf.Root["/StructTreeRoot"]["/K"]
        return [(str(each["/S"]), str(each.get("/Alt", ""))) for each in elements(tree)]


def clock(seconds: int) -> str:
    """Hours and minutes, as tables print them; the example's times are whole minutes."""
    hours, minutes = divmod(seconds // 60, 60)
    return f"{hours}:{minutes:02}"


def test_an_independent_reader_finds_no_fault(document: Path) -> None:
    """`qpdf --check` ends with 0: neither errors nor warnings (3 would be those)."""
    assert "No syntax or stream encoding errors found" in ran("qpdf", "--check", str(document))


def test_it_is_tagged_and_on_the_paper_that_the_journal_asks_for(document: Path) -> None:
    """By pdfinfo: tagged, A4 on every page, neither locked nor with a script."""
    found = ran("pdfinfo", "-l", "-1", str(document))
    facts = dict(re.findall(r"(?m)^([^:]+): +(.*)$", found))
    expected = {"Tagged": "yes", "Encrypted": "no", "JavaScript": "no"}
    assert {name: facts[name] for name in expected} == expected
    sizes = re.findall(r"(?m)^Page +\d+ size: +(.*)$", found)
    assert set(sizes) == {"595.276 x 841.89 pts (A4)"}
    assert len(sizes) == int(facts["Pages"]) > 20


def test_it_says_which_standards_it_follows(document: Path) -> None:
    """XMP names PDF/A part 3, conformance A, and PDF/UA part 1; marks are told to be there."""
    with pikepdf.open(document) as pdf:
        with pdf.open_metadata() as xmp:
            assert [xmp[key] for key in (A_PART, A_LEVEL, UA_PART)] == ["3", "A", "1"]
        assert bool(pdf.Root["/MarkInfo"]["/Marked"]) is True
        assert str(pdf.Root["/Lang"]).startswith("en")
        assert bool(pdf.Root["/ViewerPreferences"]["/DisplayDocTitle"]) is True


def test_its_day_is_that_of_the_last_entry(example_dossier: Path, document: Path) -> None:
    """Both dates in it are the record's date, so that the same journal gives the same bytes."""
    day = recorded(example_dossier)["record_date"].replace("-", "")
    with pikepdf.open(document) as pdf, pdf.open_metadata() as xmp:
        stamps = (xmp["xmp:CreateDate"], xmp["xmp:ModifyDate"])
    assert [re.sub(r"\D", "", stamp)[:8] for stamp in stamps] == [day, day]


def test_every_font_is_embedded(document: Path) -> None:
    """By pdffonts it is yes under `emb` for each, and pikepdf finds the file of each."""
    lines = ran("pdffonts", str(document)).splitlines()[2:]
    assert lines
    assert {line.split()[-5] for line in lines} == {"yes"}
    with pikepdf.open(document) as pdf:
        described = [
            each
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor"
        ]
        assert len(described) >= len(lines)
        assert all({"/FontFile2", "/FontFile3"} & set(each.keys()) for each in described)


def test_what_is_attached_is_what_lies_in_the_bag(example_dossier: Path, document: Path) -> None:
    """Every table and the ledger come out byte for byte, and nothing else is attached."""
    lying = {path.name: path for path in (example_dossier / "data/tables").iterdir()}
    with pikepdf.open(document) as pdf:
        attached = {name: pdf.attachments[name].get_file().read_bytes() for name in pdf.attachments}
        related = {str(each["/AFRelationship"]) for each in pdf.Root["/AF"]}
    assert attached == {name: path.read_bytes() for name, path in lying.items()}
    assert related == {"/Data"}


def test_no_level_of_the_headings_is_skipped(document: Path) -> None:
    """Heading levels go down one at a time, from the first (ISO 14289-1, 7.4.2)."""
    found = [int(name[2:]) for name, _ in tags(document) if re.fullmatch(r"/H\d", name)]
    skips = [pair for pair in zip([0, *found], found, strict=False) if pair[1] > pair[0] + 1]
    assert skips == []
    assert set(found) >= {1, 2, 3}


def test_every_figure_has_words(document: Path) -> None:
    """Each Figure has an Alt that says something (ISO 14289-1, 7.3)."""
    words = [alt.strip() for name, alt in tags(document) if name == "/Figure"]
    assert len(words) > 10
    assert all(len(alt) > 3 for alt in words)


def test_every_table_has_headings(document: Path) -> None:
    """No table without heading cells: as many heads as tables."""
    names = [name for name, _ in tags(document)]
    assert names.count("/THead") == names.count("/Table") > 20


def test_the_bookmarks_hold_every_chapter(example_dossier: Path, document: Path) -> None:
    """At the first level they are the binder's chapters in their order, and every one leads on."""
    with pikepdf.open(document) as pdf, pdf.open_outline() as outline:
        marks = [(str(item.title), item.destination or item.action) for item in outline.root]
    front = (example_dossier / "binder/index.html").read_text(encoding="utf-8")
    titles = [title for title, _ in marks]
    assert all(led is not None for _, led in marks)
    assert len(set(titles)) == len(titles) > 15
    places = [front.find(f">{title}<") for title in titles]
    assert -1 not in places, titles[places.index(-1)]


def test_every_task_and_day_of_a_note_is_printed(example_dossier: Path, document: Path) -> None:
    """By pdftotext: every task's id and every note's date are words of their own."""
    found, tables = words_of(document), recorded(example_dossier)["tables"]
    days = {row["date"] for row in tables["notes"]}
    wanted = {row["task"] for row in tables["tasks"]} | days
    missing = {each for each in wanted if not re.search(rf"\b{re.escape(each)}\b", found)}
    assert missing == set()
    assert len(wanted) > 60


@pytest.mark.parametrize("command", ["tally", "claim"])
def test_the_attached_totals_are_those_of_the_command(example_dossier: Path, command: str) -> None:
    """What is in ledger.json under its name is what the command prints, but for the pace."""
    printed = {key: value for key, value in told(command).items() if key != "pace"}
    assert recorded(example_dossier)[command] == printed


def test_the_hours_are_printed(document: Path) -> None:
    """Those of every month, every area and in all stand in one row of a table, with the spending.

    By `tally --json`: a row is the label, then numbers, the sum last or before what follows.
    """
    rows, tally = rows_of(document), told("tally")
    for month, counted in tally["by_month"].items():
        label = f"{MONTHS[int(month[5:]) - 1]} {month[:4]} "
        parts = [clock(counted["by_role"][role]) for role in ("builder", "helper", "paid")]
        numbers = f"{counted['notes']} {counted['days']} {' '.join(parts)}"
        line = f"{label}{numbers} {clock(counted['seconds'])} "
        money = tuple(f"{amount} {unit}" for unit, amount in counted["spent"].items())
        assert [row for row in rows if row.startswith(line) and row.endswith(money)], line
    for area, seconds in tally["by_area"].items():
        assert [row for row in rows if re.match(rf"{area} .*\b{clock(seconds)}$", row)], area
    for name, seconds in tally["by_person"].items():
        line = rf".*\b{name}\b.*\b{clock(seconds)}$"
        assert [row for row in rows if re.match(line, row)], line
    whole = " ".join(clock(tally["by_role"][role]) for role in ("builder", "helper", "paid"))
    assert [row for row in rows if row.endswith(f"{whole} {clock(tally['seconds'])}")]
    assert [row for row in rows if row.startswith("In all") and "22648.20 USD" in row]


def test_the_claim_is_printed(document: Path) -> None:
    """The row of each area and of all has the claim's columns and its share.

    By `claim --json`, whose shares are fractions to six places.
    """
    rows, claim = rows_of(document), told("claim")
    for area, counted in (*claim["areas"].items(), ("In all", claim)):
        numbers = " ".join(counted["columns"][side] for side in SIDES)
        percent = f"{round(float(counted['share']) * 100, 1):.1f} %"
        line = rf"{area}\b.* {counted['tasks']} {re.escape(f'{numbers} {percent}')}"
        assert [row for row in rows if re.fullmatch(line, row)], line


def test_the_index_leads_to_pages_on_paper(document: Path) -> None:
    """In the list from A to Z each task's page number is that of the page its sheet begins on."""
    pages = words_of(document).split("\f")
    index = " ".join(" ".join(page.split()) for page in pages if "Tasks and people from A" in page)
    led = dict(re.findall(r"\b([A-Z]\d\d) [^.]{4,80}? p\.\s(\d+)\b", index))
    assert len(led) > 40
    wrong = {
        task: number
        for task, number in led.items()
        if not re.search(rf"(?m)^\s*{task} ", pages[int(number) - 1])
    }
    assert wrong == {}


def test_no_words_leave_the_page(document: Path) -> None:
    """No word's box goes over the right margin of 18 mm, but for the cover's frame of zones."""
    found = ran("pdftotext", "-f", "2", "-bbox", str(document), "-")
    edges = [float(edge) for edge in re.findall(r'xMax="([0-9.]+)"', found)]
    assert len(edges) > 5_000
    assert max(edges) <= A4_WIDTH - 18 * POINTS_IN_MM + 0.1
