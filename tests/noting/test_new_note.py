"""A new note as text: the vocabulary's order, odd words in quotes, and a free name."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.knowing.entries import Note
from builderlog.knowing.notes import note_of
from builderlog.noting.new_note import (
    NewFixed,
    NewNote,
    NewPart,
    NewPhoto,
    NewSnag,
    NewTask,
    note_path,
    note_text,
)
from builderlog.reading.front_matter import read_note
from tests.examples import many

DAY = date(2026, 3, 14)
PATH = "notes/2026/2026-03-14.md"


def read_back(note: NewNote) -> Note:
    """The note as any other is read; nothing may be told of it."""
    raw, told = read_note(PATH, note_text(note).encode())
    read, told_note = note_of(raw, "USD")
    assert (*told, *told_note) == ()
    return read


def test_a_whole_note_stands_in_the_readmes_style() -> None:
    """Keys come in the vocabulary's order, one row a line, and quotes only where they must be."""
    note = NewNote(
        DAY,
        "Aileron skins on, left",
        (("Ines", "3h15"), ("Tomas", "19:10-20:00"), ("Tomas", "21:00-22:25")),
        (NewTask("W14", "2.5", (), "fabrication", "manual 27-3 rev C"), NewTask("W15")),
        (NewPhoto("photos/2026/skins.jpg", ("W14",), ("Ines",), "Held, with clecos"),),
        (NewPart("010", "12", "8.40 USD", status="fitted", task="W14"),),
        (NewSnag("nick #4 in the skin", area="W"),),
        "It came out straight.\r\n\r\nAll of it.",
        ("dimple the nose skin", "order: rivets"),
        ("W14",),
        date(2026, 3, 16),
        "yes",
        ("19:10 to 22:25 by the pictures",),
    )
    assert note_text(note) == (
        "---\n"
        "date: 2026-03-14\n"
        "title: Aileron skins on, left\n"
        "hours: {Ines: 3h15, Tomas: [19:10-20:00, 21:00-22:25]}\n"
        "tasks:\n"
        "  - {task: W14, hours: 2.5, work: fabrication, per: manual 27-3 rev C}\n"
        "  - W15\n"
        "parts:\n"
        "  - {part: 010, count: 12, cost: 8.40 USD, status: fitted, for: W14}\n"
        "photos:\n"
        "  - {photo: photos/2026/skins.jpg, shows: [W14], seen: [Ines],"
        ' caption: "Held, with clecos"}\n'
        "snags:\n"
        '  - {snag: "nick #4 in the skin", area: W}\n'
        "closes: [W14]\n"
        "next:\n"
        "  - dimple the nose skin\n"
        '  - "order: rivets"\n'
        "written: 2026-03-16\n"
        "private: yes\n"
        "# 19:10 to 22:25 by the pictures\n"
        "---\n"
        "It came out straight.\n\nAll of it.\n"
    )
    assert read_back(note).parts[0].part.text == "010"


def test_a_short_note_is_short() -> None:
    """What was not said is not written, and bare words of one kind share a line."""
    note = NewNote(DAY, hours=(("", "3h15"),), tasks=(NewTask("W14"), NewTask("W15")))
    assert note_text(note) == "---\ndate: 2026-03-14\nhours: 3h15\ntasks: [W14, W15]\n---\n"


def test_the_builder_stands_alone() -> None:
    """Hours of nobody beside hours of somebody are our own mistake, not the builder's."""
    with pytest.raises(ValueError, match="name the builder"):
        note_text(NewNote(DAY, hours=(("", "1h"), ("Tomas", "1h"))))


WORDS = st.text(
    st.one_of(
        st.sampled_from("ab 0:#,'\"{}[]&*!|>%@`-?~=\\/\t\x07\u2028\r\n\u00e9"), st.characters()
    ),
    min_size=1,
    max_size=12,
).map(lambda text: f"x{text}")


def test_snags_put_right_stand_by_their_numbers() -> None:
    """A bare number where that is all, and how where it was said; both are read back."""
    note = NewNote(DAY, fixed=(NewFixed("2026-03-10.1"), NewFixed("7", "filed out: 0.2 mm")))
    assert '  - 2026-03-10.1\n  - {no: 7, how: "filed out: 0.2 mm"}\n' in note_text(note)
    read = read_back(note)
    assert [(each.number.text, each.how and each.how.text) for each in read.fixed] == [
        ("2026-03-10.1", None),
        ("7", "filed out: 0.2 mm"),
    ]


def visible(text: str) -> str:
    """The letters and signs of a text that can be seen."""
    return "".join(sign for sign in text if sign.isprintable() and not sign.isspace())


@settings(max_examples=many(150), deadline=None)
@given(WORDS, WORDS, WORDS)
def test_any_words_are_read_back(title: str, caption: str, person: str) -> None:
    """Whatever signs a word holds, all that can be seen of it is read back without a problem."""
    note = NewNote(
        DAY,
        title,
        ((person, "1h"),),
        (NewTask(title, per=caption),),
        (NewPhoto(title, (caption,), (person,), caption),),
        snags=(NewSnag(caption, task=title),),
        next_steps=(title, caption),
    )
    read = read_back(note)
    assert read.title is not None
    assert read.photos[0].caption is not None
    assert read.hours[0].person is not None
    assert visible(read.title.text) == visible(title)
    assert visible(read.photos[0].caption.text) == visible(caption)
    assert visible(read.hours[0].person.text) == visible(person)
    assert [visible(step.text) for step in read.next_steps] == [visible(title), visible(caption)]


@pytest.mark.parametrize(
    ("title", "taken", "path"),
    [
        ("", (), "2026-03-14"),
        ("", ("2026-03-14",), "2026-03-14-2"),
        ("Aileron skins: on!", (), "2026-03-14-aileron-skins-on"),
        ("Aileron skins", ("2026-03-14-AILERON-skins",), "2026-03-14-aileron-skins-2"),
        ("Fl\u00fcgel", ("2026-03-14-flu\u0308gel",), "2026-03-14-fl\u00fcgel-2"),
        ("word " * 40, (), "2026-03-14-" + "-".join(["word"] * 12)),
        ("x" * 90, (), "2026-03-14-" + "x" * 59),
        ("../../etc", (), "2026-03-14-etc"),
    ],
)
def test_the_name_is_free_and_short(title: str, taken: tuple[str, ...], path: str) -> None:
    """A note is called by day and title; a name that is taken, in any spelling, gets a number."""
    used = [f"notes/2026/{name}.md" for name in taken]
    assert note_path(DAY, title, used) == f"notes/2026/{path}.md"
