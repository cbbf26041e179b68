"""Checks of letters: each thing that friends do not get is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.checks_letters import (
    letter_links,
    letters_of_private_notes,
    letters_without_month,
)
from builderlog.deciding.checks_own_words import told_anyhow
from builderlog.deciding.explaining import explain
from builderlog.knowing.settings import Answer
from builderlog.reading.problem import Place, Weight
from builderlog.reading.words import Word
from tests.deciding.lettered_journals import LETTER, lettered

HEAD = "---\ntitle: March\n---\n"


@pytest.mark.parametrize(
    ("link", "code", "weight", "said"),
    [
        ("![a](../photos/alone.jpg)", "letter-kept-back", Weight.DOUBT, "no note that they may"),
        ("![a](../photos/nobodys.jpg)", "letter-kept-back", Weight.DOUBT, "no note that they may"),
        ("[a](../notes/2026-03-20-alone.md)", "letter-kept-back", Weight.DOUBT, "private note"),
        ("![a](../photos/gone.jpg)", "missing-file", Weight.MISTAKE, "there is no file"),
        ("![a](../../outside.jpg)", "outside", Weight.MISTAKE, "leads out of the journal"),
        ("[a](javascript:x)", "link-refused", Weight.MISTAKE, "is refused"),
        ("![a](https://example.org/a.jpg)", "picture-elsewhere", Weight.DOUBT, "is not shown"),
        ("![](../photos/skins.jpg)", "no-caption", Weight.GAP, "who cannot see it"),
    ],
)
def test_what_friends_do_not_get_is_told(
    tmp_path: Path, link: str, code: str, weight: Weight, said: str
) -> None:
    """With its path and line, and in words that say what to write."""
    (problem,) = letter_links(lettered(tmp_path, f"{HEAD}Dear friends,\n\n{link}\n"))
    assert (problem.code, problem.weight) == (code, weight)
    assert (problem.place.path, problem.place.line) == (LETTER, 6)
    assert said in problem.message


def test_a_picture_with_somebody_who_did_not_say_yes_is_told(tmp_path: Path) -> None:
    """The note is public, the picture is not."""
    note = "---\nphotos: [{photo: photos/nobodys.jpg, seen: Tomas}]\n---\n"
    words = "![a](../photos/nobodys.jpg)\n"
    (problem,) = letter_links(lettered(tmp_path, words, seen=note))
    assert problem.code == "letter-kept-back"
    assert "did not say yes" in problem.message


def test_what_friends_get_is_not_told(tmp_path: Path) -> None:
    """A picture and a note of the public record, and the wide world."""
    words = "![a](../photos/skins.jpg) [b](../notes/2026-03-14-skins.md) [c](https://example.org/)"
    assert [*letter_links(lettered(tmp_path, words))] == []


@pytest.mark.parametrize(("month", "told"), [("2026-02", 1), ("2026-03", 0), ("2026-04", 1)])
def test_a_letter_of_a_month_outside_the_record_is_told(
    tmp_path: Path, month: str, told: int
) -> None:
    """No page of the site would show it."""
    problems = [*letters_without_month(lettered(tmp_path, "Words.\n", f"letters/{month}.md"))]
    assert [each.code for each in problems] == ["letter-no-month"] * told


KEPT = """\
---
private: yes
next: ask the man with the crane
---
So. The *spar* is too short, by a mile.
"""
RETOLD = [
    ("20 March: Alone. We rested.", "'20 March: Alone'"),
    ("Well,\nthe spar\nis too short, by\na mile, I fear.", "'The spar is too short, by a mile'"),
    ("> The spar is too\n> short, by a mile.", "'The spar is too short, by a mile'"),
    ("- ask the man with the crane", "'ask the man with the crane'"),
]


@pytest.mark.parametrize(("words", "quoted"), RETOLD, ids=["title", "line", "quotation", "next"])
def test_words_of_a_note_made_private_are_told(tmp_path: Path, words: str, quoted: str) -> None:
    """A draft had them while the note was open: at their first line, and by `publish` too."""
    ledger = lettered(tmp_path, f"{HEAD}Hello.\n\n{words}\n", kept=KEPT)
    told = [*letters_of_private_notes(ledger)]
    (problem,) = told
    assert (problem.code, problem.weight) == ("letter-private-words", Weight.DOUBT)
    assert problem.place.line == (7 if words.startswith("Well") else 6)
    assert problem.message.startswith(f"{quoted} is from notes/2026-03-2")
    assert told_anyhow(told) == (problem,)


@pytest.mark.parametrize(
    ("words", "letter", "note"),
    [
        ("So. Nobody reads this, alone, on 20 March.", LETTER, KEPT),
        ("The spar is too short, by a milestone.", LETTER, KEPT),
        (RETOLD[1][0], "letters/2026-04.md", KEPT),
        (RETOLD[1][0], LETTER, KEPT.replace("private: yes\n", "")),
    ],
    ids=["few words", "other words", "other month", "open note"],
)
def test_what_no_private_note_says_is_not_told(
    tmp_path: Path, words: str, letter: str, note: str
) -> None:
    """Three words are anybody's, and an open note may be retold."""
    ledger = lettered(tmp_path, f"{words}\n", letter, secret=note)
    assert [*letters_of_private_notes(ledger)] == []


def test_words_in_quotes_can_be_explained_too(tmp_path: Path) -> None:
    """The line to paste ends where YAML would end it, and still explains the doubt."""
    kept = "---\ntitle: Our 'old' \"red\" shed\nprivate: yes\n---\n"
    words = "21 March: Our 'old' \"red\" shed.\n"
    (problem,) = letters_of_private_notes(lettered(tmp_path, words, kept=kept))
    gap = problem.message.partition('gap: "')[2].partition('"')[0]
    assert gap == "letter-private-words: '21 March: Our 'old' "
    answer = Answer(Word(gap, Place("journal.yaml")), Word("hers", Place("journal.yaml")))
    assert [each.because for each in explain([problem], (answer,))] == ["hers"]
