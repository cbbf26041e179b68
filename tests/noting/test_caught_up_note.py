"""The note of an evening with pictures alone: in order, and the span a guess that stands aside."""

from __future__ import annotations

from datetime import date, datetime

from builderlog.noting.caught_up_note import Shot, caught_up_note
from builderlog.noting.new_note import note_text

DAY, WRITTEN = date(2026, 3, 14), date(2026, 11, 27)


def shot(name: str, clock: str = "", camera: str = "") -> Shot:
    """A picture of the evening; from midnight to four it is of the next day."""
    if not clock:
        return Shot(f"photos/{name}.jpg", None, camera)
    hour, minute = (int(part) for part in clock.split(":"))
    return Shot(f"photos/{name}.jpg", datetime(2026, 3, 14 + (hour < 4), hour, minute), camera)  # noqa: DTZ001


def comments(*shots: Shot) -> list[str]:
    """What stands aside in the note."""
    return list(caught_up_note(DAY, shots, WRITTEN).comments)


def test_the_whole_note() -> None:
    """Pictures in the order of the clock, what has no time last, the day of writing, a guess."""
    note = caught_up_note(DAY, [shot("c"), shot("b", "22:25"), shot("a", "19:10")], WRITTEN)
    assert note_text(note) == (
        "---\ndate: 2026-03-14\nphotos: [photos/a.jpg, photos/b.jpg, photos/c.jpg]\n"
        "written: 2026-11-27\n"
        "# hours: 19:10-22:25  # a guess: from the first picture to the last\n---\n"
    )


def test_past_midnight() -> None:
    """A picture after midnight ends the span of the evening."""
    found = comments(shot("a", "22:40"), shot("b", "0:30"))
    assert found == ["hours: 22:40-0:30  # a guess: from the first picture to the last"]


def test_two_sessions() -> None:
    """Where nothing was taken for more than five hours the guess is two spans."""
    found = comments(
        *(shot(f"{at}", clock) for at, clock in enumerate(["9:10", "11:00", "19:00", "20:05"]))
    )
    assert found == [
        "hours: [9:10-11:00, 19:00-20:05]  # a guess: from the first picture to the last"
    ]


def test_a_single_picture_is_no_span() -> None:
    """One picture, or several of one minute, tell when and not how long; none tells nothing."""
    assert comments(shot("a", "20:14"), shot("b", "20:14")) == ["taken at 20:14"]
    assert comments(shot("a")) == []


def test_each_camera_has_its_own_clock() -> None:
    """Pictures of several cameras are not thrown together, for a clock may be wrong."""
    found = comments(
        shot("a", "19:10", "Fernon Five"), shot("b", "20:00", "Fernon Five"), shot("c", "18:00")
    )
    assert found == [
        "taken at 18:00, by a camera without a name",
        "hours: 19:10-20:00  # a guess: from the first picture to the last, by Fernon Five",
        "the clocks of the cameras may differ",
    ]


def test_a_page_tells_no_hours() -> None:
    """A page of a notebook was not written when it was photographed."""
    note = caught_up_note(DAY, [Shot("photos/a.jpg", datetime(2026, 5, 1, 9), page=True)], WRITTEN)  # noqa: DTZ001
    assert (note.comments, note.photos[0].page) == ((), True)
