"""How soon notes were written and pictures taken, counted on small records."""

from __future__ import annotations

from dataclasses import replace

from builderlog.deciding.timeliness import in_all, timeliness
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Picture
from tests.making import dated, ledger, note, picture


def written(on: str, later: str | None) -> Note:
    """A note of a day, written on another one if named."""
    return replace(note(on), written=dated(later) if later else None)


def taken(path: str, day: str | None, *uses: str) -> Picture:
    """A picture with its day by Exif, and the days of the notes that name it."""
    made = picture(path, *((on, ()) for on in uses))
    return replace(made, file=replace(made.file, taken=f"{day}T20:15:00+01:00" if day else None))


def test_days_from_the_work_to_the_writing() -> None:
    """Notes of the same day, and how many days later the others were written."""
    days = (("2026-03-01", None), ("2026-03-02", "2026-03-02"), ("2026-03-03", "2026-03-04"))
    late = (("2026-03-05", "2026-03-09"), ("2026-03-31", "2026-04-10"), ("2026-05-01", None))
    march, may = timeliness(ledger(notes=[written(*each) for each in (*days, *late)]))
    assert (march.month, march.notes, march.same_day) == ("2026-03", 5, 2)
    assert (march.later, march.middle, march.longest) == ([1, 4, 10], 4, 10)
    assert (may.month, may.later, may.middle, may.longest) == ("2026-05", [], 0, 0)


def test_days_of_pictures_against_the_notes() -> None:
    """On the day, a day off on either side, farther, without a date; once for each note."""
    pictures = (
        taken("a", "2026-03-14", "2026-03-14", "2026-03-15"),
        taken("b", "2026-03-13", "2026-03-14"),
        taken("c", "2026-01-01", "2026-03-14"),
        taken("d", None, "2026-03-14"),
    )
    notes = [note("2026-03-14"), note("2026-03-15")]
    (march,) = timeliness(ledger(notes=notes, pictures=pictures))
    assert march.pictures == 5
    assert (march.on_the_day, march.within_a_day, march.farther, march.undated) == (1, 2, 1, 1)


def test_hidden_notes_are_only_counted() -> None:
    """Of a note with nothing but its time neither the writing nor a picture is judged."""
    hidden = replace(written("2026-03-14", "2026-03-20"), privacy=Privacy.HOURS_ONLY)
    shown = taken("a", "2026-03-14", "2026-03-14")
    (march,) = timeliness(ledger(notes=[hidden], pictures=[shown]))
    assert (march.notes, march.hidden, march.same_day) == (1, 1, 0)
    assert (march.later, march.pictures) == ([], 0)


def test_sums_over_months() -> None:
    """All months together have the sums, and the middle and most of all later notes."""
    notes = [written("2026-03-01", "2026-03-02"), written("2026-04-01", "2026-04-08")]
    months = timeliness(ledger(notes=[*notes, note("2026-04-03")]))
    whole = in_all(months)
    assert (whole.notes, whole.same_day, whole.later) == (3, 1, [1, 7])
    assert (whole.middle, whole.longest) == (7, 7)
