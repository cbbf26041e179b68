"""How commands speak: one plain line each in a pipe, 80 columns with the source on a terminal."""

from __future__ import annotations

import io
import re
import unicodedata
from pathlib import Path

import pytest
from rich.cells import cell_len

from builderlog.command.terminal import count_problems, plain, print_problems
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Place, Problem, doubt, gap, mistake
from tests.command.running import run, show, write

LONG = "notes/2026/a folder with a long name/2026-04-01-and-a-note-that-wants-to-tell-it-all.md"
WIDE = "板金" * 30
SPOILT = {
    LONG: f"---\nhours: all day and half the night, {'again and ' * 9}again\n---\n",
    "notes/2026-04-02.md": f"---\ntitle: 板金の夜 🛠️\nhours: {WIDE}\n---\n",
    "notes/2026-04-03.md": f"---\nnext: {'x' * 90}\ntasks: [{'W14, ' * 20}Z9]\n---\n",
    "notes/2026-04-04.md": "---\nhours: {Ines: soon}\n---\n",
    "notes/2026-04-05-\x1b[31mred\nline.md": "---\nhours: \x1b[31m red\n---\n",
}
PIPED = re.compile(r"[^:]+:\d+:\d+: [a-z0-9-]+: .+")
COLOUR = re.compile(r"\x1b\[[0-9;]*m")
CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")


@pytest.fixture
def spoilt(journal: Path) -> Path:
    """A journal with mistakes whose words are long, wide or would move the cursor."""
    return write(journal, SPOILT)


def test_lines_in_a_pipe(spoilt: Path) -> None:
    """In a pipe each problem is one line, never wrapped, with no escape code in it."""
    said = run("check", spoilt)
    lines = said.out.splitlines()
    assert lines
    assert all(PIPED.fullmatch(line) for line in lines)
    assert "\x1b" not in said.out + said.err
    assert max(map(len, lines)) > 150
    assert any("2026-04-05-\\x1b[31mred\\nline.md:2:" in line for line in lines)


@pytest.mark.parametrize("env", [{}, {"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_problems_on_a_terminal(spoilt: Path, env: dict[str, str]) -> None:
    """On a terminal nothing is wider than 80 columns, and a mark stands under the word."""
    said = show("check", spoilt, env=env)
    assert said.status == 1
    assert bool(COLOUR.search(said.out)) is not bool(env)
    lines = CONTROL.sub("", said.out).replace("\r", "\n").split("\n")
    assert max(map(cell_len, lines)) <= 80
    assert lines[lines.index("    | hours: {Ines: soon}") + 1] == "    |               ^^^^"
    assert "\x1b[31m" not in said.out


@pytest.mark.parametrize("word", ["tally", "publish", "dossier"])
def test_other_commands_on_a_terminal(journal: Path, word: str) -> None:
    """What a command reports fits 80 columns too, long paths and wide letters included."""
    deep = journal / "photos" / "a folder with a name that is rather long" / "板金の夜 🛠️"
    note = "---\nhours: {Ines: 1h, Tomas: 2h}\ntasks: [W14]\n---\n"
    write(journal, {"notes/2026-04-02.md": note, f"{deep}/a\nb %.jpg": "x"})
    said = show(word, journal, env={"NO_COLOR": "1"})
    assert said.status == 0
    assert not COLOUR.search(said.out)
    lines = CONTROL.sub("", said.out).replace("\r", "\n").split("\n")
    assert max(map(cell_len, lines)) <= 80


def test_a_refusal_on_a_terminal(tmp_path: Path) -> None:
    """A refusal and an error of the command line fit 80 columns."""
    for words in (["tally", str(tmp_path)], ["tally", "--by", "moon"], ["x"], ["x", "--help"]):
        said = show(*words)
        assert max(map(cell_len, said.out.split("\n"))) <= 80


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """It does."""
        return True


def shown(tmp_path: Path, text: str, start: int, end: int) -> list[str]:
    """The source line and the mark under it, of a problem in a file of one line."""
    (tmp_path / "a.md").write_text(text, encoding="utf-8", newline="")
    out = Terminal()
    problem = mistake(Place("a.md", 1, start + 1, start, end), "code", "words")
    print_problems([problem], Folder.at(tmp_path), out)
    return CONTROL.sub("", out.getvalue()).splitlines()[2:]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("hours: all day", "all day"),
        ("{a: 1, b: all day, c: 2}", "all day"),
        (f"{'x' * 200} all day", "all day"),
        (f"{'x' * 60} all day {'y' * 200}", "all day"),
        (f"{'板' * 60} all day", "all day"),
        ("title: 板金の夜 板金", "板金の夜"),
        (f"{'x' * 70}{'z' * 300}", "z" * 300),
        ("all\tday", "all\tday"),
    ],
)
def test_the_mark_stands_under_the_word(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, word: str
) -> None:
    """The mark begins under the first letter and is as wide as the word, within 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")
    start = text.index(word)
    line, mark = shown(tmp_path, text, start, start + len(word))
    assert cell_len(line) <= 80
    assert cell_len(mark) <= 80
    behind = 0
    while cell_len(line[:behind]) < mark.index("^"):
        behind += 1
    shown_word = word.replace("\t", " ")
    assert line[behind:].startswith(shown_word[: len(line) - behind])
    assert mark.count("^") == min(cell_len(shown_word), 30, 80 - mark.index("^"))


@pytest.mark.parametrize(
    ("problems", "told"),
    [
        ([], "no mistakes, no doubts, no gaps"),
        ([mistake(Place("a"), "c", "m")], "1 mistake"),
        ([doubt(Place("a"), "c", "m"), gap(Place("a"), "c", "m")] * 2, "2 doubts, 2 gaps"),
    ],
)
def test_count(problems: list[Problem], told: str) -> None:
    """Problems are counted by their weight, in words."""
    assert count_problems(problems) == told


def test_plain() -> None:
    """Whatever moves the cursor becomes an escape; letters of every script stay."""
    every = [chr(code) for code in range(0x3000)]
    made = plain("".join(every)[11:])
    assert not any(unicodedata.category(sign) in ("Cc", "Zl", "Zp") for sign in made)
    assert plain("板金 🛠️ é ŕ") == "板金 🛠️ é ŕ"
    assert plain("a\nb\udcff") == "a\\nb\\udcff"
