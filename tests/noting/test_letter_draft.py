"""Drafts of letters: what stands in them, that it reads back as it was, that words stay words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from urllib.parse import unquote

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.letter_facts import MonthTold, facts_of, month_told, new_facts
from builderlog.deciding.public import PublicLedger, PublicPhotoUse
from builderlog.knowing.letters import letter_of
from builderlog.noting.letter_draft import (
    MOST_PARAGRAPHS,
    MOST_PICTURES,
    Shelf,
    chosen_pictures,
    draft_text,
    fact_line,
    marked,
)
from builderlog.reading.markdown import parse
from builderlog.reading.prose import links_in
from tests.drawing.made_public import FIRST, PUBLIC, RIBS, SKINS

WRITTEN = date(2026, 4, 2)
PATH = "letters/2026-03.md"
SHELF = Shelf({SKINS: "photos/2026/skins (1).jpg", RIBS: "photos/ribs.jpg"}, {FIRST.key: SKINS})


def told(public: PublicLedger = PUBLIC) -> MonthTold:
    """March of a ledger."""
    month = month_told(public, "2026-03")
    assert month is not None
    return month


def with_pictures(*notes: tuple[int, int]) -> tuple[MonthTold, Shelf]:
    """March with a note on each of some days with that many pictures, the last one captioned."""
    made = []
    for day, count in notes:
        uses = tuple(
            PublicPhotoUse(
                f"{day:02}{number:062}",
                "The best" if number == count - 1 else None,
                (),
                "",
                date(2026, 3, day),
                "",
            )
            for number in range(count)
        )
        made.append(replace(FIRST, key=f"{day:02}", day=date(2026, 3, day), photos=uses))
    months = tuple(
        replace(month, notes=tuple(note.key for note in made))
        for month in PUBLIC.months
        if month.month == "2026-03"
    )
    digests = [use.digest for note in made for use in note.photos]
    best = {note.key: note.photos[-1].digest for note in made if note.photos}
    public = replace(PUBLIC, notes=tuple(made), months=months)
    return told(public), Shelf({digest: f"photos/{digest}.jpg" for digest in digests}, best)


def test_a_draft_reads_back_without_a_mistake() -> None:
    """As a letter of its month, untouched, that knows every fact it was made from."""
    text = draft_text(told(), SHELF, WRITTEN)
    letter, problems = letter_of(PATH, text.encode())
    assert problems == ()
    assert (letter.title, letter.written, letter.edited) == ("March 2026", WRITTEN, False)
    assert letter.facts == {fact.digest for fact in facts_of(told())}


def test_a_draft_tells_its_facts_in_order() -> None:
    """Numbers first, then the work with its pictures, decisions, what is next, and a name."""
    text = draft_text(told(), SHELF, WRITTEN)
    words = (
        *("Dear friends,", "March 2026 came to", "Skins \\<on\\> & off", "![Skins held"),
        *("## Decided", "Rivet later. Because", "## What is next", "Dimple the lower row", "Ines"),
    )
    places = [text.index(word) for word in words]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("prose", "expected"),
    [
        ("It fits. It really does.", "14 March: Skins on. It fits. It really does."),
        ("One. " + "Long " * 60 + "end.", "14 March: Skins on. One."),
        ('Two? Yes! "So." ' + "Long " * 60, 'Skins on. Two? Yes! "So."'),
        ("No end " * 60, "No end No\N{HORIZONTAL ELLIPSIS}"),
        ("", "14 March: Skins on."),
    ],
)
def test_a_note_is_told_in_whole_sentences(prose: str, expected: str) -> None:
    """As many as may stand there; of a sentence that is longer its first words."""
    note = replace(FIRST, title="Skins on", prose=prose, photos=())
    public = replace(PUBLIC, notes=(note, *PUBLIC.notes[1:]))
    text = draft_text(told(public), SHELF, WRITTEN)
    paragraph = next(each for each in text.split("\n\n") if each.startswith("14 March"))
    assert expected in " ".join(paragraph.split())


def test_a_title_that_ends_has_no_second_end() -> None:
    """A question stays one."""
    note = replace(FIRST, title="Does it fit?", prose="It does.")
    text = draft_text(told(replace(PUBLIC, notes=(note, *PUBLIC.notes[1:]))), SHELF, WRITTEN)
    assert "14 March: Does it fit? It does." in text


@pytest.mark.parametrize("count", [3, 24])
def test_each_picture_stands_behind_its_note(count: int) -> None:
    """In paragraphs where an area has few notes; a list of many is broken at its pictures."""
    month, shelf = with_pictures(*((day, 1) for day in range(1, count + 1)))
    text = draft_text(month, shelf, WRITTEN)
    lines = [line.removeprefix("- ") for line in text.splitlines() if " March: " in line]
    days = [line.split()[0] for line in lines]
    assert days == [str(day) for day in range(1, count + 1)]
    for digest, key in chosen_pictures(month, shelf).items():
        before, _, _ = text.partition(shelf.paths[digest])
        told_last = [line for line in before.splitlines() if " March: " in line][-1]
        assert told_last.removeprefix("- ").split()[0] == str(int(key))
    assert ("- 1 March: " in text) == (count > MOST_PARAGRAPHS)


def test_the_same_facts_give_the_same_draft() -> None:
    """Nothing of chance or of today goes in."""
    assert draft_text(told(), SHELF, WRITTEN) == draft_text(told(), SHELF, WRITTEN)


def test_a_picture_is_linked_from_the_folder_of_letters() -> None:
    """Whatever signs its name has, Markdown reads its path as it is."""
    targets = [link.target for link in links_in(draft_text(told(), SHELF, WRITTEN))]
    assert {unquote(target) for target in targets} == {
        f"../{path}" for path in SHELF.paths.values()
    }


def test_no_line_of_a_draft_is_longer_than_an_editor_shows() -> None:
    """But for pictures and for the list of facts, which nobody has to read."""
    long = "word " * 60
    note = replace(FIRST, prose=long, next_steps=(long, "a - b " * 40))
    public = replace(PUBLIC, notes=tuple(note if n.key == note.key else n for n in PUBLIC.notes))
    text = draft_text(told(public), SHELF, WRITTEN)
    for line in text.splitlines():
        assert len(line) <= 100 or line.startswith(("facts: ", "!["))


@pytest.mark.parametrize(
    "words", ["a - b", "x 1. y", "q # z", "a | b --- c", "k === m + n", "~ > o"]
)
def test_a_wrapped_line_begins_no_list(words: str) -> None:
    """Wherever the lines of a long step are broken, it stays one item with its own words."""
    step = " ".join([words] * 40)
    note = replace(FIRST, next_steps=(step,))
    public = replace(PUBLIC, notes=tuple(note if n.key == note.key else n for n in PUBLIC.notes))
    text = draft_text(told(public), SHELF, WRITTEN)
    said = [
        " ".join("".join(c.content or " " for c in token.children or []).split())
        for token in parse(letter_of(PATH, text.encode())[0].prose.text)
        if token.type == "inline"
    ]
    assert step in said


@pytest.mark.parametrize(
    ("notes", "expected"),
    [
        ([], 0),
        ([(1, 0)], 0),
        ([(1, 2)], 2),
        ([(1, 20)], MOST_PICTURES),
        ([(day, 1) for day in range(1, 25)], MOST_PICTURES),
        ([(1, 9), (20, 1)], MOST_PICTURES),
    ],
)
def test_at_most_six_pictures_are_chosen(notes: list[tuple[int, int]], expected: int) -> None:
    """However many there are, and all of them where there are few."""
    assert len(chosen_pictures(*with_pictures(*notes))) == expected


def test_the_pictures_are_spread_over_the_month() -> None:
    """Of 24 evenings every fourth is shown; each with the picture that opens its note."""
    month, shelf = with_pictures(*((day, 3) for day in range(1, 25)))
    chosen = chosen_pictures(month, shelf)
    assert [*chosen.values()] == ["01", "05", "09", "13", "17", "21"]
    assert set(chosen) == {shelf.best[key] for key in chosen.values()}


def test_an_evening_with_one_picture_is_not_pushed_out() -> None:
    """A note with many pictures fills up only what the others leave."""
    month, shelf = with_pictures((1, 9), (20, 1))
    assert "20" in chosen_pictures(month, shelf).values()


def test_a_picture_that_friends_may_not_see_is_never_chosen() -> None:
    """What is not on the shelf cannot be taken from it."""
    month, shelf = with_pictures((1, 3))
    assert chosen_pictures(month, Shelf({}, shelf.best)) == {}


WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp", "Zs")) | st.just(" "),
    max_size=40,
).map(lambda text: " ".join(text.split()))


@settings(max_examples=150, deadline=None)
@given(WORDS)
@pytest.mark.parametrize("before", ["", "- ", "word "])
def test_plain_words_stay_plain_words(before: str, text: str) -> None:
    """Whatever a builder writes in a title, Markdown shows it as it stands there."""
    shown = [
        "".join(child.content for child in token.children or [])
        for token in parse(f"{before}{marked(text)}\n")
        if token.type == "inline"
    ]
    assert "".join(shown) == f"{before.removeprefix('- ')}{text}".strip()


def test_a_pasted_line_tells_its_fact() -> None:
    """Each fact that is offered counts as told once its line stands in the letter."""
    facts = facts_of(told())
    body = "\n\n".join(fact_line(fact, SHELF) for fact in facts)
    letter, _ = letter_of(PATH, f"Dear all,\n\n{body}\n".encode())
    shown = [SKINS, RIBS]
    assert new_facts(facts, letter, shown) == ()
