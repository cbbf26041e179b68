"""The front door: help, exit statuses, and what comes to which stream."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from builderlog import __version__
from builderlog.command.main import commands, parser_for
from builderlog.command.shape import Command
from tests.command.running import Said, originals, run, start, write
from tests.command.small_journal import write_small

COMMANDS = commands()
ON_A_JOURNAL = ("check", "tally", "publish", "dossier")
MISTAKE = "---\nhours: all day\n---\n"


def options_of(command: Command) -> list[str]:
    """Every option of a command as it is typed."""
    parser = parser_for([command])
    (places,) = (action for action in parser._actions if action.dest == "command")
    assert isinstance(places.choices, dict)
    actions = places.choices[command.word]._actions
    return [option for action in actions for option in action.option_strings]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.word)
def test_help_names_every_option(command: Command) -> None:
    """Each command tells its story and its options with --help, and ends with status 0."""
    said = run(command.word, "--help")
    assert said.status == 0
    assert not said.err
    assert all(option in said.out for option in options_of(command))
    assert command.summary[1:] in " ".join(said.out.split())


@pytest.mark.parametrize("words", [["--help"], *([command.word, "--help"] for command in COMMANDS)])
def test_help_fits_a_terminal(words: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """No line of help is wider than 80 columns, and a narrow terminal gets narrower ones."""
    for columns in (80, 60):
        monkeypatch.setenv("COLUMNS", str(columns))
        lines = run(*words).out.splitlines()
        assert max(map(len, lines)) <= columns


def test_help_lists_every_command() -> None:
    """The help of builderlog itself names each command with its summary."""
    said = run("--help")
    assert said.status == 0
    assert all(command.word in said.out for command in COMMANDS)
    assert "never says that one is granted" in " ".join(said.out.split())


def test_version() -> None:
    """--version tells the package's own version."""
    assert run("--version") == Said(0, f"builderlog {__version__}\n", "")


@pytest.mark.parametrize("word", ON_A_JOURNAL)
def test_done(journal: Path, word: str) -> None:
    """A journal without mistakes ends with status 0, doubts and gaps included."""
    said = run(word, journal)
    assert (said.status, said.err) == (0, said.err if word == "check" else "")


@pytest.mark.parametrize("word", ON_A_JOURNAL)
def test_mistakes(journal: Path, word: str) -> None:
    """A mistake is told with its place, and the exit status is 1."""
    write(journal, {"notes/2026-04-01.md": MISTAKE})
    said = run(word, journal)
    assert said.status == 1
    assert "notes/2026-04-01.md:2:8: unreadable: 'all day'" in said.out + said.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "COMMAND"),
        (["polish"], "'polish' is none of the words here; did you mean 'publish'? write one of"),
        (["tally", "--colour"], "--colour"),
        (["tally", ".", "extra"], "extra"),
        (["tally", "--by", "moon"], "'moon' is none of the words here"),
        (["publish", "--on", "2026-02-29"], "2026-02-29"),
        (["publish", "--out"], "--out"),
        (["start"], "DIR"),
        (["start", "new", "--rulebook", "mars"], "write one of australia"),
        (["start", "new", "--builder", " "], "a name is a line of letters"),
        (["start", "new", "--title", "a\x1bb"], "a name is a line of letters"),
        (["verify"], "DIR"),
        (["tally", "--js"], "--js"),
    ],
)
def test_called_wrongly(
    words: list[str], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever calls wrongly gets a sentence and the way to the help, and status 2."""
    monkeypatch.chdir(tmp_path)
    said = run(*words)
    assert (said.status, said.out) == (2, "")
    assert told in said.err
    assert "--help" in said.err
    assert "invalid" not in said.err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("word", ON_A_JOURNAL)
@pytest.mark.parametrize("place", ["empty", "nowhere", "file", "stray"])
def test_no_journal(tmp_path: Path, word: str, place: str) -> None:
    """A folder that is no journal, a file or nothing at all is refused with status 2."""
    (tmp_path / "empty").mkdir()
    write(tmp_path, {"file": "words", "stray/photos/a.txt": "words"})
    before = originals(tmp_path)
    said = run(word, tmp_path / place)
    assert (said.status, said.out) == (2, "")
    assert "journal.yaml" in said.err
    assert originals(tmp_path) == before


@pytest.mark.parametrize("place", ["empty", "nowhere", "file", "journal"])
def test_no_dossier(journal: Path, place: str) -> None:
    """`verify` refuses what is no dossier with status 2."""
    (journal.parent / "empty").mkdir()
    write(journal.parent, {"file": "words"})
    said = run("verify", journal.parent / place)
    assert (said.status, said.out) == (2, "")
    assert "dossier" in said.err


@pytest.mark.parametrize("word", ["publish", "dossier"])
@pytest.mark.parametrize("kind", ["file", "strange", "originals", "journal", "link", "other"])
def test_output_refused(journal: Path, word: str, kind: str) -> None:
    """An output that is not ours, lies in the originals or is a link is refused, status 2."""
    out = {
        "file": journal.parent / "file",
        "strange": journal.parent / "strange",
        "originals": journal / "photos" / "site",
        "journal": journal,
        "link": journal.parent / "link",
        "other": journal.parent / "other",
    }[kind]
    write(journal.parent, {"file": "words", "strange/diary.txt": "mine"})
    (journal.parent / "link").symlink_to(journal.parent / "elsewhere")
    run("dossier" if word == "publish" else "publish", journal, "--out", journal.parent / "other")
    before = originals(journal.parent)
    said = run(word, journal, "--out", out)
    assert said.status == 2
    assert said.err.startswith("builderlog: ")
    assert said.err.count("\n") == 1
    assert originals(journal.parent) == before


def test_verify_tells_every_fault(journal: Path) -> None:
    """A whole dossier gives status 0; one with two spoilt files gives status 1 and both."""
    run("dossier", journal)
    assert run("verify", journal / "dossier").status == 0
    write(
        journal / "dossier", {"data/photos/skins.jpg": b"other", "data/journal.yaml": b"title: x"}
    )
    said = run("verify", journal / "dossier")
    assert said.status == 1
    assert "data/photos/skins.jpg: changed: " in said.out
    assert "data/journal.yaml: changed: " in said.out


@pytest.mark.parametrize("word", ["check", "tally"])
@pytest.mark.parametrize("broken", [False, True])
def test_json_alone(journal: Path, word: str, broken: bool) -> None:  # noqa: FBT001 - a parameter of the test
    """--json prints one JSON document and nothing else, with mistakes too, which go elsewhere."""
    if broken:
        write(journal, {"notes/2026-04-01.md": MISTAKE})
    said = run(word, journal, "--json")
    document = json.loads(said.out)
    assert said.out.lstrip().startswith("{")
    assert said.status == int(broken)
    if word == "tally":
        assert document["seconds"] == 3 * 3600 + 900 + 3600 + 3 * 3600 + 900
        assert document["notes"] == 3 if broken else 2
        assert ("unreadable" in said.err) is broken
    else:
        weights = {problem["weight"] for problem in document["problems"]}
        assert ("mistake" in weights) is broken
        assert not said.err


def test_json_of_verify(journal: Path) -> None:
    """`verify --json` prints its faults as one document."""
    run("dossier", journal)
    assert json.loads(run("verify", journal / "dossier", "--json").out) == {"faults": []}


def test_tally_counts_in_spite_of_mistakes(journal: Path) -> None:
    """With a mistake the tables are printed all the same; the mistake goes to standard error."""
    write(journal, {"notes/2026-04-01.md": MISTAKE})
    said = run("tally", journal)
    assert said.out.startswith("7:30 hours in 3 notes on 2 days, 1 picture, 8.40 USD spent\n")
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("view", ["person", "role", "kind", "day", "week", "month", "area", "task"])
def test_every_view_of_tally(journal: Path, view: str) -> None:
    """Each view of `tally` is printed when asked for, alone."""
    said = run("tally", journal, "--by", view)
    assert said.status == 0
    titles = [line for line in said.out.splitlines() if line.startswith("By ")]
    assert [title.split()[1] for title in titles] == [view]


def test_the_pace_of_tally(journal: Path) -> None:
    """The pace stands last in `tally`, week by week where asked for, and as one key of its JSON."""
    plain, asked = run("tally", journal).out, run("tally", journal, "--by", "pace").out
    assert plain[plain.index("\nPace\n") :] == asked[asked.index("\nPace\n") :]
    assert "No window is told: " in plain
    assert "Pace by week (ISO 8601)" in asked
    assert "2026-W11" in asked
    assert "By " not in asked.replace("Pace by", "")
    told = json.loads(run("tally", journal, "--json").out)["pace"]
    assert told["window"] is None
    assert told["why_no_window"] in plain


def test_check_of_words(tmp_path: Path) -> None:
    """`check --words` lists the vocabulary without any journal."""
    said = run("check", tmp_path, "--words")
    assert said.status == 0
    assert "hours: time in the shop" in said.out


@pytest.mark.slow
def test_a_reader_that_stops(tmp_path: Path) -> None:
    """`tally | head -1` dies quietly: nothing on standard error, and no status of a crash."""
    hours = "---\nhours: 1h\n---\n"
    notes = {
        f"notes/{year}-{month:02}-01.md": hours for year in range(1900, 2020) for month in (1, 2)
    }
    root = write(write_small(tmp_path / "journal"), notes)
    views = [word for view in ("day", "week", "month") for word in ("--by", view)] * 9
    for words in (["tally", str(root), *views], ["check", "--words"]):
        reader, writer = os.pipe()
        process = subprocess.Popen(
            [sys.executable, "-m", "builderlog", *words], stdout=writer, stderr=subprocess.PIPE
        )
        os.close(writer)
        os.close(reader)
        _, err = process.communicate()
        assert (process.returncode, err) == (0, b"")


def test_started_as_a_module(journal: Path) -> None:
    """`python -m builderlog` passes the exit status on."""
    write(journal, {"notes/2026-04-01.md": MISTAKE})
    assert start("check", journal).status == 1
    assert start("check", journal / "nowhere").status == 2


def test_unreadable_surroundings(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that the system will not give is told in a sentence with status 2, not a traceback."""
    whole = Path.read_bytes

    def refuse(file: Path) -> bytes:
        if file.name == "worklist.yaml":
            raise PermissionError(13, "Permission denied", str(file))
        return whole(file)

    monkeypatch.setattr(Path, "read_bytes", refuse)
    said = run("check", journal)
    assert (said.status, said.out) == (2, "")
    assert "could not read the journal" in said.err
    assert "worklist.yaml" in said.err


def test_stopped_by_the_builder(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends with status 130 and a word, not a traceback."""

    def stop(*_: object) -> bytes:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "read_bytes", stop)
    said = run("check", journal)
    assert said.status == 130
    assert said.err == "builderlog: stopped; what was there before is untouched\n"
