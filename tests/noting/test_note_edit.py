"""A note that is changed in place: what is asked for comes in, and what cannot be is told."""

from __future__ import annotations

from datetime import date

import pytest

from builderlog.knowing.snags import number_snags
from builderlog.noting.new_note import NewPart, NewPhoto
from builderlog.noting.note_edit import (
    CannotEditError,
    with_parts,
    with_photos,
    with_snag_numbers,
    with_span,
)
from tests.knowing.reading_notes import read

PATH = "notes/2026/2026-03-14.md"
DAY = date(2026, 3, 14)
NEW = NewPhoto("photos/b.jpg", shows=("W14",))


def fenced(front: str) -> bytes:
    """A note with these lines between its fences."""
    return f"---\n{front}\n---\nWords.\n".encode()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("title: a", "title: a\nphotos:\n  - {photo: photos/b.jpg, shows: [W14]}"),
        ("private: yes", "photos:\n  - {photo: photos/b.jpg, shows: [W14]}\nprivate: yes"),
        ("photos: a.jpg", "photos: [a.jpg, {photo: photos/b.jpg, shows: [W14]}]"),
        ("photos:\n- a.jpg  # c", "photos:\n- a.jpg  # c\n- {photo: photos/b.jpg, shows: [W14]}"),
        (
            "photos:\n  photo: a.jpg",
            "photos:\n  - photo: a.jpg\n  - photo: photos/b.jpg\n    shows: [W14]",
        ),
        ("# none", "# none\nphotos:\n  - {photo: photos/b.jpg, shows: [W14]}"),
    ],
)
def test_a_picture_comes_in_the_style_of_the_note(old: str, new: str) -> None:
    """In brackets, below a dash, or over lines, as the others are; a new list below its key."""
    assert with_photos(PATH, fenced(old), [NEW]) == fenced(new)


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("words", ["", "Words", "\tWords\n\n"])
def test_a_note_without_front_matter_gets_it(line_end: str, mark: str, words: str) -> None:
    """Above its words, below a byte-order mark; the words stay what they are."""
    front = "---\nphotos:\n  - photos/b.jpg\n---\n"
    if line_end in (text := words.replace("\n", line_end)):
        front = front.replace("\n", line_end)
    found = with_photos(PATH, f"{mark}{text}".encode(), [NewPhoto("photos/b.jpg")])
    assert found == f"{mark}{front}{text}".encode()


def test_a_picture_that_is_named_already_is_not_named_again() -> None:
    """Nor twice at once, nor where its name is the same in another form of Unicode."""
    note = fenced("photos: [cafe\u0301.jpg, {photo: b.jpg, caption: mine}]")
    assert with_photos(PATH, note, [NewPhoto("caf\u00e9.jpg"), NewPhoto("b.jpg")]) == note
    again = with_photos(PATH, fenced("photos: a.jpg"), [NewPhoto("b.jpg"), NewPhoto("b.jpg")])
    assert again == fenced("photos: [a.jpg, b.jpg]")


def test_two_parts_alike_are_two_lots() -> None:
    """Nothing is taken for a repetition."""
    lots = [NewPart("bolt", count="4"), NewPart("bolt", count="4")]
    row = "\n  - {part: bolt, count: 4}"
    assert with_parts(PATH, fenced("title: a"), lots) == fenced(f"title: a\nparts:{row}{row}")


def test_nothing_to_add_changes_nothing() -> None:
    """The same bytes come back."""
    assert with_photos(PATH, b"", []) == b""
    assert with_parts(PATH, fenced("title: a"), []) == fenced("title: a")


@pytest.mark.parametrize(
    ("note", "told"),
    [
        (b"---\ntitle: a: b\n---\n", "line 2 is to be mended first: a colon"),
        (b"---\ntitle: a\n", "line 1 is to be mended first: the front matter"),
        (b"---\ntitle: \xff\n---\n", "is not UTF-8"),
        ("---\ntitle: a\n---\n".encode("utf-16"), "saved as UTF-16"),
        (b"---\nphotos: |\n  a.jpg\n---\n", "put it in one line"),
        (b"---\n- a\n---\n", "keys with values belong here"),
    ],
)
def test_a_note_that_cannot_be_changed_is_told(note: bytes, told: str) -> None:
    """The sentence says what to mend, and nothing is handed out."""
    with pytest.raises(CannotEditError, match=told):
        with_photos(PATH, note, [NEW])


def test_an_outcome_that_says_something_else_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """The safety net bites: where the bytes do not say what is wanted, none are handed out."""
    monkeypatch.setattr("builderlog.noting.note_edit.flow_of", lambda _: "b.jpg, c.jpg")
    with pytest.raises(CannotEditError, match="write this into it yourself: photos: b"):
        with_photos(PATH, fenced("photos: [a.jpg]"), [NEW])


@pytest.mark.parametrize(
    ("old", "person", "new"),
    [
        ("title: a", "", "title: a\nhours: 21:00-22:00"),
        ("title: a", "Bo", "title: a\nhours: {Bo: 21:00-22:00}"),
        ("hours:  # c", "", "hours: 21:00-22:00  # c"),
        ("hours: 3h15", "", "hours: 4h15"),
        ("hours: '3,5'", "", "hours: '4h30'"),
        ("hours: 3.33", "", "hours: 4.33"),
        ("hours: 3h15", "Ines", "hours: 4h15"),
        ("hours: 3,25", "Bo", 'hours: {Ines: "3,25", Bo: 21:00-22:00}'),
        ("hours: 18:00-19:00", "", "hours: [18:00-19:00, 21:00-22:00]"),
        ("hours: {Ines: 1h, Bo: 1h}", "", "hours: {Ines: 2h, Bo: 1h}"),
        ("hours:\n  Ines: 1h", "Bo", "hours:\n  Ines: 1h\n  Bo: 21:00-22:00"),
        (
            "hours:\n  Ines:\n    - 18:00-19:00\n  Bo: 1h",
            "Ines",
            "hours:\n  Ines:\n    - 18:00-19:00\n    - 21:00-22:00\n  Bo: 1h",
        ),
    ],
)
def test_a_span_is_added_to_what_is_there(old: str, person: str, new: str) -> None:
    """A span becomes a list, another length the sum; a name is put in where it is needed."""
    found = with_span(PATH, fenced(old), "21:00-22:00", person, "Ines")
    assert found == fenced(new)
    if "-" in new and "4h" not in new:
        assert with_span(PATH, found, "21:00-22:00", person, "Ines") == found


@pytest.mark.parametrize(
    ("old", "person", "builder", "told"),
    [
        ("hours: {Bo: 1h}", "", "", "say whose this time is"),
        ("hours: 3h", "Bo", "", "have no name"),
        ("hours: all day", "", "", "'all day' is not a length of time"),
        ("hours: [3h, 1h]", "", "", "no clock spans"),
        ("hours:\n- 18:00-19:00", "Bo", "Ines", "put it in one line"),
        ("tasks: [{task: W1, hours: 1h}]", "", "Ines", "line 2 gives time to task W1"),
        ("tasks: [{task: W1, hours: 1h, who: Bo}]", "Bo", "Ines", "hours: {Bo: 21:00-22:00}"),
    ],
)
def test_time_that_cannot_be_added_is_told(old: str, person: str, builder: str, told: str) -> None:
    """Whose it is, or what its place holds, is asked; nothing is guessed and nothing lost."""
    with pytest.raises(CannotEditError, match=told):
        with_span(PATH, fenced(old), "21:00-22:00", person, builder)


def test_only_a_span_of_the_clock_is_added() -> None:
    """A length, or words that are none, are told."""
    for text in ("1h", "late"):
        with pytest.raises(CannotEditError, match="19:10-22:25"):
            with_span(PATH, fenced("title: a"), text)


def test_somebody_elses_tasks_do_not_hinder() -> None:
    """Only who has time from tasks alone would lose it."""
    note = fenced("tasks: [{task: W1, hours: 1h, who: Bo}]")
    assert b"hours: 21:00-22:00" in with_span(PATH, note, "21:00-22:00", "", "Ines")


def test_snags_get_the_numbers_of_the_ledger() -> None:
    """In the file's order, those of visits too; a word becomes a row; a number there stays."""
    note = fenced(
        "snags:\n  - nick, left  # c\n  - {snag: x, no: old-1}\n"
        "visits: {who: A, found: [burr, {snag: y, area: W}]}"
    )
    new = with_snag_numbers(PATH, note, DAY)
    assert new == fenced(
        'snags:\n  - {snag: "nick, left", no: 2026-03-14.1}  # c\n  - {snag: x, no: old-1}\n'
        "visits: {who: A, found: [{snag: burr, no: 2026-03-14.3}, "
        "{snag: y, area: W, no: 2026-03-14.4}]}"
    )
    before, after = (number_snags([read(data, PATH)[0]])[0] for data in (note, new))
    assert [snag.number for snag in after] == [snag.number for snag in before]
    assert with_snag_numbers(PATH, new, DAY) == new


def test_snags_of_other_notes_of_the_day_count() -> None:
    """Those in notes that come before it; and a number that is taken is passed over."""
    earlier = read(fenced("date: 2026-03-14\nsnags: [a, b]"), "notes/2026/2026-03-14-a.md")[0]
    later = read(fenced("snags: {snag: z, no: 2026-03-14.3}"), "notes/2026/2026-03-14-z.md")[0]
    path, note = "notes/2026/2026-03-14-b.md", fenced("snags: [c]")
    assert with_snag_numbers(path, note, DAY, [earlier]) == fenced(
        "snags: [{snag: c, no: 2026-03-14.3}]"
    )
    assert with_snag_numbers(path, note, DAY, [earlier, later]) == fenced(
        "snags: [{snag: c, no: 2026-03-14.4}]"
    )


def test_a_number_that_a_later_snag_has_is_passed_over() -> None:
    """The first gets the next that nobody has."""
    note = fenced("snags: [a, {snag: b, no: 2026-03-14.1}]")
    found = with_snag_numbers(PATH, note, DAY)
    assert found == fenced("snags: [{snag: a, no: 2026-03-14.2}, {snag: b, no: 2026-03-14.1}]")


def test_a_note_without_snags_stays() -> None:
    """The same bytes come back, mistakes elsewhere in its words or not."""
    assert with_snag_numbers(PATH, fenced("titel: a"), DAY) == fenced("titel: a")
