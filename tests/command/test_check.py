"""`check`: what is open, and what is to be seen to before something is closed."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import pytest

from builderlog.command import check
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.open_list import CLOSING_CAUTION
from tests.command.running import run, show

JOURNAL = "title: A\nbuilder: Ines\npeople: {Ines: builder}\nrulebook: us-checklist\n"
WORKLIST = """\
areas:
  - {area: W, name: Wings, tasks: [{task: W1, name: Frame, state: done}, {task: W2, name: Skin}]}
"""
NOTE = """\
---
tasks: {task: W1, hours: 1h}
next: Order a web
snags: {snag: A nick at the third rib, task: W1}
parts: {part: Aileron counterweight with a long name, status: ordered, due: 2026-03-20}
---
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A journal with one note."""
    (tmp_path / "notes").mkdir()
    (tmp_path / "journal.yaml").write_text(JOURNAL, encoding="utf-8")
    (tmp_path / "worklist.yaml").write_text(WORKLIST, encoding="utf-8")
    (tmp_path / "notes/2026-03-01.md").write_text(NOTE, encoding="utf-8")
    return tmp_path


def test_open_in_a_pipe_is_one_line_a_thing(book: Path) -> None:
    """Place, section and words on one line, whatever its length; nothing else is printed."""
    said = run("check", book, "--open", "--on", "2026-04-01")
    assert (said.status, said.err) == (0, "")
    at = "notes/2026-03-01.md"
    assert said.out.splitlines() == [
        f"{at}:3: next: W Wings: Order a web (1 Mar 2026)",
        (
            f"{at}:4: snags: W Wings: 2026-03-01.1: A nick at the third rib (W1) "
            "(31 days ago, 1 Mar 2026)"
        ),
        (
            f"{at}:5: parts: Late: Aileron counterweight with a long name (12 days late, due "
            "20 Mar 2026, ordered 31 days ago)"
        ),
        (
            "worklist.yaml:2: evidence: Done, what follows is next: W1: Frame: no picture shows it "
            "(last worked on 1 Mar 2026; W2 follows)"
        ),
        (
            "worklist.yaml:2: evidence: Done, what follows is next: W1: Frame: no measurement, "
            "torque entry, process entry or visit on record (last worked on 1 Mar 2026; W2 follows)"
        ),
    ]


def test_open_as_json(book: Path) -> None:
    """One document, and nothing beside it."""
    said = run("check", book, "--open", "--json", "--on", "2026-04-01")
    document = json.loads(said.out)
    assert document["today"] == "2026-04-01"
    assert [each["step"] for each in document["next"]] == ["Order a web"]


def test_today_is_the_builders_evening(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --on it is reckoned on the day of the builder's own clock."""

    def today(_ledger: Ledger) -> date:
        return date(2026, 3, 2)

    monkeypatch.setattr(check, "_today", today)
    assert "(1 day ago, 1 Mar 2026)" in run("check", book, "--open").out


def test_what_is_open_with_a_mistake(book: Path) -> None:
    """What can be told is told; the mistake goes to standard error, and the status is 1."""
    (book / "notes/2026-03-02.md").write_text("---\nhours: all day\n---\n", encoding="utf-8")
    said = run("check", book, "--open", "--on", "2026-04-01")
    assert said.status == 1
    assert "Order a web" in said.out
    assert "'all day' is not a length of time" in said.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--before-closing", "W9"], "'W9' is no area and no task; did you mean 'W'?"),
        (["--on", "2026-04-01"], "write --open with it"),
        (["--open", "--before-closing", "W"], "not allowed with argument"),
    ],
)
def test_what_is_called_wrongly(book: Path, words: list[str], told: str) -> None:
    """A word that names nothing, and words that do not go together: exit status 2."""
    said = run("check", book, *words)
    assert said.status == 2
    assert told in said.err


def test_before_closing_in_a_pipe(book: Path) -> None:
    """A line for each thing with its place, then the cautions."""
    said = run("check", book, "--before-closing", "W1")
    assert said.status == 0
    assert said.out.splitlines()[:5] == [
        "Before W1, Frame, is closed",
        "notes/2026-03-01.md:4: snag: W1: Snag 2026-03-01.1: A nick at the third rib.",
        "worklist.yaml:2: picture: W1: No picture shows it.",
        "worklist.yaml:2: measurement: W1: No measurement on record.",
        CLOSING_CAUTION,
    ]
    document = json.loads(run("check", book, "--before-closing", "W1", "--json").out)
    assert [line["kind"] for line in document["lines"]] == ["snag", "picture", "measurement"]


def test_a_closing_note_gets_the_list_while_it_is_the_newest(book: Path) -> None:
    """`check` tells it beside its problems, which stay one line each; then no more."""
    assert "is closed" not in run("check", book).err
    closing = book / "notes/2026-03-03.md"
    closing.write_text("---\nhours: 1h\ncloses: [W1, W2]\n---\n", encoding="utf-8")
    said = run("check", book)
    assert "Before W1, Frame, is closed" in said.err
    assert "Before W2, Skin, is closed" in said.err
    assert said.err.count("approves nothing") == 1
    assert all(re.match(r"[\w./-]+:\d+:\d+: [\w-]+: ", line) for line in said.out.splitlines())
    document = json.loads(run("check", book, "--json").out)
    assert [each["subject"] for each in document["closing"]] == ["W1", "W2"]
    closing.with_name("2026-03-04.md").write_text("---\nhours: 1h\n---\n", encoding="utf-8")
    assert "Before W1" not in run("check", book).err
    assert json.loads(run("check", book, "--json").out)["closing"] == []


def test_on_a_terminal_it_fits(book: Path) -> None:
    """Under headings, with the place below each thing: on a line of its own where it is long."""
    said = show(
        "check", book, "--open", "--on", "2026-04-01", env={"NO_COLOR": "1", "COLUMNS": "72"}
    )
    lines = re.sub(r"\x1b\[[?\d]*[A-Za-z]", "", said.out).splitlines()
    assert max(map(len, lines)) <= 72
    lines = lines[lines.index("What is open on Wednesday 1 April 2026") :]
    assert lines[2] == "Next steps, as last written for each area (1)"
    at = lines.index("    Aileron counterweight with a long name")
    assert lines[at - 2 : at + 3] == [
        "Parts wanted, ordered and late (1)",
        "  Late",
        "    Aileron counterweight with a long name",
        "      12 days late, due 20 Mar 2026, ordered 31 days ago",
        "      notes/2026-03-01.md:5",
    ]
    assert "      last worked on 1 Mar 2026; W2 follows \N{MIDDLE DOT} worklist.yaml:2" in lines
