"""Letters: which files are read as one, what they say, and when they hold the builder's words."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from builderlog.knowing.letters import Letter, letter_of, read_letters, words_digest
from builderlog.reading.folder import Folder
from tests.command.running import write

PATH = "letters/2026-03.md"
WORDS = "Dear friends,\n\nit holds.\n"
DRAFT = f"""\
---
title: March
written: 2026-04-02
# a comment of ours
draft: {words_digest(WORDS)}
facts: 0b7d2e 91cc04
---
{WORDS}"""


def letter(text: str) -> Letter:
    """A letter without a mistake."""
    made, told = letter_of(PATH, text.encode())
    assert told == ()
    return made


def test_a_letter_is_read_with_all_it_says() -> None:
    """Month, title, day, the facts that are known, and the words below."""
    made = letter(DRAFT)
    assert (made.month, made.title, made.written) == ("2026-03", "March", date(2026, 4, 2))
    assert made.facts == {"0b7d2e", "91cc04"}
    assert made.prose.text == WORDS


def test_an_untouched_draft_is_not_edited() -> None:
    """Line ends and blanks that an editor changes by itself do not count as the builder's words."""
    assert not letter(DRAFT).edited
    assert not letter(DRAFT.replace("\n", "\r\n")).edited
    assert not letter(DRAFT.replace("it holds.\n", "it holds. \n\n\n")).edited


@pytest.mark.parametrize(
    "text",
    [
        DRAFT.replace("holds", "holds well"),
        WORDS,
        f"---\ntitle: March\n---\n{WORDS}",
        DRAFT.replace("it holds.", ""),
    ],
)
def test_changed_words_and_words_without_a_draft_are_the_builders(text: str) -> None:
    """One word more is enough, and so is a letter that was written without a draft."""
    assert letter(text).edited


@pytest.mark.parametrize("text", ["", " \n\n", DRAFT.replace(WORDS, "")])
def test_a_letter_without_words_holds_nobodys(text: str) -> None:
    """An emptied file takes the place of nothing on the month's page."""
    assert not letter(text).edited


def test_facts_may_be_written_as_a_list() -> None:
    """Whoever adds one need not know in which form the others stand."""
    as_list = DRAFT.replace("facts: 0b7d2e 91cc04", "facts: [0b7d2e, 91cc04 111111]")
    assert letter(as_list).facts == {"0b7d2e", "91cc04", "111111"}


def test_an_unknown_key_is_told_with_its_place() -> None:
    """A key of no letter is a mistake with the nearest known one."""
    _, told = letter_of(PATH, b"---\ntitel: March\n---\n")
    (problem,) = told
    assert (problem.place.line, problem.place.column) == (2, 1)
    assert problem.message == "'titel' is not a key of a letter; did you mean 'title'?"


def test_a_file_with_another_name_is_told_and_not_read(tmp_path: Path) -> None:
    """Only a month names a letter; what is made of it to be sent is no letter."""
    write(
        tmp_path,
        {
            "letters/2026-03.md": DRAFT,
            "letters/2026-13.md": WORDS,
            "letters/march.md": WORDS,
            "letters/2026-03.html": "<p>",
            "letters/2026-03.txt": WORDS,
        },
    )
    letters, told = read_letters(Folder.at(tmp_path))
    assert [each.path for each in letters] == [PATH]
    assert [each.place.path for each in told] == ["letters/2026-13.md", "letters/march.md"]
    assert {each.code for each in told} == {"not-a-letter"}


def test_a_link_out_of_the_journal_is_told(tmp_path: Path) -> None:
    """A letter that lies elsewhere is not read in silence."""
    elsewhere = write(tmp_path / "elsewhere", {"letter.md": WORDS})
    root = write(tmp_path / "journal", {"letters/2026-02.md": WORDS})
    (root / "letters/2026-03.md").symlink_to(elsewhere / "letter.md")
    letters, told = read_letters(Folder.at(root))
    assert [each.month for each in letters] == ["2026-02"]
    assert [(each.code, each.place.path) for each in told] == [("letter-outside", PATH)]
