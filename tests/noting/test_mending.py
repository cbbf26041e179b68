"""Lines with one meaning only: offered mended, and written so without another byte moving."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builderlog.noting.mending import Mending, mended, mendings
from builderlog.reading.problem import Place
from tests.knowing.reading_notes import read
from tests.noting.note_styles import PHOTOS, notes

PATH = "notes/2026-03-14.md"


def fenced(front: str) -> bytes:
    """A note with these lines between its fences, saved on Windows."""
    return f"---\ndate: 2026-03-14\n{front}\n---\nWords: a: b\n".replace("\n", "\r\n").encode()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("title: stop drilled: twice", 'title: "stop drilled: twice"'),
        ("title: a: b #40 c", 'title: "a: b #40 c"'),
        ("snags:\n  - hole at #40", 'snags:\n  - "hole at #40"'),
        ("snags: {snag: hole #40, area: W}", 'snags: {snag: "hole #40", area: W}'),
        ("hours: {Ines: 3,25, Bo: 1h}", 'hours: {Ines: "3,25", Bo: 1h}'),
        ("parts: {part: a, cost: 1,2 USD, from: A, B}",
         'parts: {part: a, cost: "1,2 USD", from: "A, B"}'),
        ("tasks: [{task: W1, hours:2h}]", "tasks: [{task: W1, hours: 2h}]"),
        ("tasks:\n  - task:W2", "tasks:\n  - task: W2"),
        ("title:Skins", "title: Skins"),
        ("title: @home  ", 'title: "@home"  '),
        ("title: *that* one", 'title: "*that* one"'),
        ('title: "Skins" on', "title: '\"Skins\" on'"),
        ("next:\n  - call: Bo", 'next:\n  - "call: Bo"'),
        ("title: it's: \"x\"", "title: 'it''s: \"x\"'"),
        ("measured: {what: gap, limit: >= 1 mm}", 'measured: {what: gap, limit: ">= 1 mm"}'),
    ],
)  # fmt: skip
def test_a_line_with_one_meaning_is_mended(old: str, new: str) -> None:
    """Quotes or a blank are put in; every mistake of the line is gone, no other byte has moved."""
    found = mendings(PATH, fenced(old))
    assert mended(fenced(old), found) == fenced(new)
    assert [each.line for each in found] == [old.count("\n") + 3]
    assert read(fenced(new), PATH)[1] == ()


@pytest.mark.parametrize(
    "front",
    [
        'title: "open',  # to the line's end, or no quote at all
        "titel: a",
        "hours: all day",
        "hours: [1h, 2h",
        "\ttitle: a",
        "who knows",
        "title: a\ntitle: b",
        "written: 2026-3-14",
        "title: fine",
        "next:\n  - a: b\n    c",  # quotes would leave the c outside
        "title: a\n  b #40 c",
    ],
)
def test_what_can_be_meant_otherwise_is_left_alone(front: str) -> None:
    """No line is offered where another reading is as good, or where nothing is wrong."""
    assert mendings(PATH, fenced(front)) == ()


def test_any_of_the_lines_can_be_chosen() -> None:
    """The others stay broken, and each line is shown whole."""
    note = fenced("title: a: b\nplace: fine\nnext: c: d")
    first, second = mendings(PATH, note)
    assert (first.old, first.new) == ("title: a: b", 'title: "a: b"')
    assert (first.place.line, first.place.path) == (3, PATH)
    assert mended(note, [second]) == fenced('title: a: b\nplace: fine\nnext: "c: d"')
    assert mended(note, []) == note


@pytest.mark.parametrize("line", [3, 99])
def test_a_line_that_has_changed_stays(line: int) -> None:
    """What was meant for another text is not put in."""
    old = Mending(Place(PATH), line, "title: x: y", 'title: "x: y"')
    assert mended(fenced("title: a"), [old]) == fenced("title: a")
    assert mended(b"\xff\n\xff", [old]) == b"\xff\n\xff"


def test_a_line_that_would_lose_a_word_is_not_offered(monkeypatch: pytest.MonkeyPatch) -> None:
    """The safety net bites: fewer mistakes are not enough."""
    assert mendings(PATH, fenced("title: a: b")) != ()
    monkeypatch.setattr("builderlog.noting.mending._offered", lambda *_: "title: a")
    assert mendings(PATH, fenced("title: a: b")) == ()


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(notes(PHOTOS), st.sampled_from(["", "a: b: c", "next: #40"]))
def test_mending_makes_nothing_worse(text: str, broken: str) -> None:
    """However a note is written: as many lines, the same words below, no more mistakes."""
    note = text.replace("date: 2026-03-14", f"place: {broken}").encode()
    after = mended(note, mendings(PATH, note))
    assert after.splitlines()[-1:] == note.splitlines()[-1:]
    assert len(after.splitlines()) == len(note.splitlines())
    assert len(read(after, PATH)[1]) <= len(read(note, PATH)[1])
