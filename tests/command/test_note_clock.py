"""`note --start` and `--stop`: the clock outlives everything, and the next note takes its spans."""

from __future__ import annotations

from tests.command.evening import Evening

TODAY = "2026-04-10"


def test_a_session_by_the_clock(evening: Evening) -> None:
    """Started, stopped, noted: the span stands in the note and is off the clock."""
    evening.at(f"{TODAY} 19:10:30")
    assert "The clock runs since 19:10" in evening.note("--start").out
    evening.at(f"{TODAY} 22:25")
    assert "19:10-22:25, 3 h 15 min" in evening.note("--stop").out
    said = evening.note("--task", "W14", "--say", "On.")
    assert "3 h 15 min tonight (Ines): W14 3 h 15 min" in said.out
    assert "hours: 19:10-22:25\n" in evening.text(TODAY)
    assert not (evening.root / "inbox/clock.txt").exists()
    evening.note("--say", "Later.")
    assert "hours" not in evening.text(f"{TODAY}-2")


def test_hours_that_are_said_leave_the_clock(evening: Evening) -> None:
    """Whoever says hours keeps the clock's span for another note; a clock that runs is told."""
    evening.note("--start", "--at", "19:10")
    evening.note("--stop", "--at", "20:10")
    evening.note("--start", "--at", "21:00")
    assert "the clock runs on, since 21:00" in evening.note("--hours", "2h").out
    assert "2026-04-10 19:10-20:10\n" in (evening.root / "inbox/clock.txt").read_text()


def test_a_clock_that_was_forgotten(evening: Evening) -> None:
    """After a night the clock is not believed; with the true end it is."""
    evening.note("--start", "--at", "19:10")
    evening.at("2026-04-11 18:00")
    said = evening.note("--stop")
    assert said.status == 2
    assert "since 2026-04-10 19:10, 22 hours, so it was forgotten" in said.err
    assert "19:10-22:30, 3 h 20 min" in evening.note("--stop", "--at", "22:30").out


def test_time_of_another_evening_is_told(evening: Evening) -> None:
    """A span without a note of its evening is not tonight's, and is not forgotten."""
    evening.note("--start", "--at", "19:10")
    evening.note("--stop", "--at", "20:10")
    evening.at("2026-04-11 22:00")
    said = evening.note("--say", "On.")
    assert "The clock holds time of 1 other evening that no note has" in said.out
    assert "builderlog note --on 2026-04-10" in said.out
    assert "hours" not in evening.text("2026-04-11")
    evening.note("--on", "2026-04-10", "--say", "On.")
    assert "hours: 19:10-20:10\n" in evening.text("2026-04-10")


def test_a_start_in_the_future_was_yesterday(evening: Evening) -> None:
    """`--start --at` is the last such time; a stop that is still to come is refused."""
    evening.at("2026-04-11 00:20")
    evening.note("--start", "--at", "23:40")
    assert "2026-04-10 23:40-" in (evening.root / "inbox/clock.txt").read_text()
    said = evening.note("--stop", "--at", "1:00")
    assert (said.status, "1:00 is still to come" in said.err) == (2, True)
    assert evening.note("--stop", "--at", "25:00").status == 2


def test_a_clock_needs_a_journal(evening: Evening) -> None:
    """In a folder that is no journal no clock is laid down."""
    (evening.root / "inbox").mkdir()
    assert evening.note("--start").status == 0
    for file in [*evening.root.glob("*.yaml"), *evening.root.glob("notes/*")]:
        file.unlink()
    assert evening.note("--stop").status == 2
