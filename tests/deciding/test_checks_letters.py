"""Checks of letters: each thing that friends do not get is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.checks_letters import letter_links, letters_without_month
from builderlog.reading.problem import Weight
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
