"""The README tells the truth: its commands run, its commands and words are those of the code."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from builderlog.command.main import commands, main
from builderlog.deciding.claim_words import limit_words
from builderlog.knowing.note_words import NOTE_KEYS
from builderlog.knowing.rulebooks import RULEBOOKS, find_rulebook

README = Path(__file__).parents[2] / "README.md"


def _commands_to_run() -> list[list[str]]:
    """Every line of a shell block that begins with `builderlog`, in order."""
    blocks = re.findall(r"```sh\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    lines = [line for block in blocks for line in block.splitlines()]
    return [shlex.split(line)[1:] for line in lines if line.startswith("builderlog ")]


@pytest.mark.slow
def test_every_command_of_the_readme_runs_in_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The README's own commands, one after the other in an empty folder, all end with status 0."""
    monkeypatch.chdir(tmp_path)
    words = _commands_to_run()
    work = tmp_path / "my-aircraft/notes/2026-03-14-skins.md"
    for line in words:
        if line[0] in ("letter", "seal"):  # which a month has where it has a note
            work.write_text("---\nhours: 1h\n---\nSkins.\n", encoding="utf-8")
        assert (line, main(line)) == (line, 0)
    assert {line[0] for line in words} == {command.word for command in commands()}


def test_the_readme_lists_every_command_and_no_other() -> None:
    """The table of commands names just the commands that there are."""
    listed = re.findall(r"^\| `builderlog (\w+)", README.read_text(encoding="utf-8"), re.MULTILINE)
    assert listed == [command.word for command in commands()]


def test_the_readme_lists_every_word_of_a_note_as_the_registry_has_it() -> None:
    """The README's table of keys is the registry's, word by word."""
    text = README.read_text(encoding="utf-8")
    rows = "\n".join(f"| `{key.word}` | {key.meaning} |" for key in NOTE_KEYS)
    assert f"| key | what it says |\n|---|---|\n{rows}\n<!-- /words -->" in text


def test_the_readme_lists_every_rulebook_as_its_file_has_it() -> None:
    """The README's table of rulebooks has each file's measure and limit, and no other rulebook."""
    text = README.read_text(encoding="utf-8").partition("| rulebook | measure |")[2]
    rows = [line.split("|")[1:4] for line in text.splitlines()[2:] if line.startswith("| `")]
    listed = {name.strip(" `"): cells for names, *cells in rows for name in names.split(",")}
    assert sorted(listed) == list(RULEBOOKS)
    for name, (measure, limit) in listed.items():
        rulebook, _ = find_rulebook(name)
        if rulebook:
            assert measure.split()[0] == rulebook.measure.value, name
            assert limit.strip() == limit_words(rulebook.limit), name


def test_the_readme_opens_with_the_job_then_a_picture_then_two_commands() -> None:
    """Title, one paragraph, a picture that is there, then the two commands for a fresh machine."""
    text = README.read_text(encoding="utf-8")
    picture = re.search(r"!\[[^\]]+\]\(([^)]+)\)", text)
    assert picture
    assert (README.parent / picture[1]).is_file()
    assert text[: picture.start()].count("\n\n") == 2
    first, second = re.findall(r"```sh\n(.*?)```", text, re.DOTALL)[:2]
    assert first.count("\n") == second.count("\n") == 1
    assert "publish example_journal" in first
    assert second.strip() == "python3 tests/run.py"
