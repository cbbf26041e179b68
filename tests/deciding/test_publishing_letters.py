"""Letters as friends get them: the builder's words alone, and nothing that friends may not see."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from builderlog.deciding.public import PublicLetter
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.ledger import Picture
from builderlog.knowing.letters import words_digest
from tests.deciding.lettered_journals import LETTER, lettered

WORDS = """\
![skins](../photos/skins.jpg) ![alone](../photos/alone.jpg) ![nobody's](../photos/nobodys.jpg)
[public](../notes/2026-03-14-skins.md) [private](../notes/2026-03-20-alone.md)
[world](https://example.org/) [here](#here) [receipt](../receipts/a.pdf)
"""


def letters(root: Path, words: str = WORDS) -> tuple[PublicLetter, ...]:
    """What the public ledger holds of a letter with these words."""
    return public_ledger(lettered(root, words)).letters


def test_a_letter_shows_what_friends_see_anyhow(tmp_path: Path) -> None:
    """A picture and a note of the public record stay; the rest is dropped, out links untouched."""
    (letter,) = letters(tmp_path)
    kinds = {target.rpartition("/")[2]: kind for target, kind, _ in letter.links}
    assert kinds == {
        "skins.jpg": "picture",
        "alone.jpg": "drop",
        "nobodys.jpg": "drop",
        "2026-03-14-skins.md": "note",
        "2026-03-20-alone.md": "drop",
        "a.pdf": "drop",
    }
    assert all(value == "" for _, kind, value in letter.links if kind == "drop")


def test_a_picture_of_no_note_is_kept_back(tmp_path: Path) -> None:
    """Even where its facts are known: nobody has said who is seen in it."""
    ledger = lettered(tmp_path, "![nobody's](../photos/nobodys.jpg)\n")
    (known,) = (each for each in ledger.pictures if each.path == "photos/skins.jpg")
    file = replace(known.file, digest="f" * 64)
    nobodys = Picture("photos/nobodys.jpg", file, uses=(), linked_from=())
    (letter,) = public_ledger(replace(ledger, pictures=(*ledger.pictures, nobodys))).letters
    assert letter.links == (("../photos/nobodys.jpg", "drop", ""),)


def test_a_letter_without_a_title_is_called_by_its_month(tmp_path: Path) -> None:
    """March 2026, and no day where none is written."""
    (letter,) = letters(tmp_path)
    assert (letter.month, letter.title, letter.written) == ("2026-03", "March 2026", None)


def test_an_untouched_draft_is_not_published(tmp_path: Path) -> None:
    """It is no builder's word; the first word that is changed makes it one."""
    head = f"---\ndraft: {words_digest(WORDS)}\n---\n"
    assert letters(tmp_path / "untouched", head + WORDS) == ()
    assert len(letters(tmp_path / "changed", f"{head}{WORDS}More.\n")) == 1


def test_a_letter_with_a_mistake_is_left_out(tmp_path: Path) -> None:
    """What cannot be read whole is not shown in part."""
    ledger = lettered(tmp_path, WORDS)
    assert public_ledger(ledger, frozenset([LETTER])).letters == ()


def test_a_picture_kept_back_for_a_broken_note_is_kept_back_here_too(tmp_path: Path) -> None:
    """Nothing that publishing withholds comes in by the letter."""
    ledger = lettered(tmp_path, WORDS)
    public = public_ledger(ledger, frozenset(), frozenset(["photos/skins.jpg"]))
    assert next(kind for _, kind, _ in public.letters[0].links) == "drop"


def test_totals_do_not_know_of_letters(tmp_path: Path) -> None:
    """A letter is no part of the record: without it all else is the same."""
    ledger = lettered(tmp_path, WORDS)
    without = public_ledger(replace(ledger, letters=()))
    assert replace(public_ledger(ledger), letters=()) == without
