"""The day of a picture: what is believed of a camera's clock, of a name, and of what was told."""

from __future__ import annotations

from datetime import date, time

import pytest

from builderlog.noting.picture_dates import (
    Believing,
    Dated,
    date_filed,
    date_picture,
    evening_of,
    is_page,
)

TODAY = date(2026, 3, 20)
BEGAN = date(2025, 4, 3)
TOLD = date(2026, 1, 2)

# Name, Exif, what is believed, and the day with a piece of what is told ('' where all is well).
CASES = (
    ("IMG_1.JPG", "2026-03-14T19:10:02", Believing(TODAY), "2026-03-14", ""),
    ("a.jpg", "2026-03-14T19:10:02-09:30", Believing(TODAY, BEGAN), "2026-03-14", ""),
    ("a.jpg", "2026-03-21T01:00:00", Believing(TODAY), "2026-03-21", ""),
    ("a.jpg", "2026-03-22T01:00:00", Believing(TODAY), "", "still to come"),
    ("a.jpg", "2025-04-02T19:00:00", Believing(TODAY, BEGAN), "", "before the project started"),
    ("a.jpg", "2000-01-01T00:03:00", Believing(TODAY), "", "a clock begins"),
    ("a.jpg", "1970-01-01T00:00:00", Believing(TODAY), "", "a clock begins"),
    ("a.jpg", "1978-06-01T12:00:00", Believing(TODAY), "", "before there were such cameras"),
    ("a.jpg", "1978-06-01T12:00:00", Believing(TODAY, date(1975, 1, 1)), "1978-06-01", ""),
    ("a.jpg", None, Believing(TODAY), "", "it holds no date"),
    ("a.jpg", None, Believing(TODAY, told_day=TOLD), "2026-01-02", "filed under 2026-01-02"),
    ("a.jpg", "2000-01-01T00:03:00", Believing(TODAY, told_day=TOLD), "2026-01-02", "filed under"),
    ("a.jpg", "2026-03-14T19:10:02", Believing(TODAY, told_day=TOLD), "2026-03-14", ""),
    ("IMG-20260312-W3.jpg", None, Believing(TODAY), "2026-03-12", "the day in its name"),
    ("IMG-20260312-W3.jpg", None, Believing(TODAY, told_day=TOLD), "2026-01-02", "filed under"),
    ("IMG-20260312-W3.jpg", "2000-01-01T00:03:00", Believing(TODAY), "2026-03-12", "in its name"),
    ("20260399.jpg", None, Believing(TODAY), "", "it holds no date"),
    ("120260312.jpg", None, Believing(TODAY), "", "it holds no date"),
    (
        "20310101.jpg",
        None,
        Believing(TODAY),
        "",
        "the day in its name is 2031-01-01, which is still to come",
    ),
)


@pytest.mark.parametrize(("name", "taken", "believing", "day", "told"), CASES)
def test_the_day_of_a_picture(
    name: str, taken: str | None, believing: Believing, day: str, told: str
) -> None:
    """The camera's clock comes first, then the day that was told, then a date in the name."""
    dated = date_picture(name, taken, believing)
    assert str(dated.day or "") == day
    assert told in dated.told
    assert bool(dated.told) == bool(told)


def test_what_has_no_day_says_what_to_do() -> None:
    """The sentence names the option that helps."""
    assert "--day 2026-03-14" in date_picture("a.jpg", None, Believing(TODAY)).told


def test_a_journal_that_was_begun_late_can_be_mended() -> None:
    """For a date before `started` the sentence offers an earlier one, of a name as of a clock."""
    late = Believing(TODAY, started=TODAY)
    for name, taken in (("a.jpg", "2025-08-03T19:00:00"), ("20250803.jpg", None)):
        found = date_picture(name, taken, late)
        assert found.day is None
        assert "before the project started, 2026-03-20 by journal.yaml; if the work" in found.told
        assert "write that day as 'started' there; else" in found.told


def test_a_page_of_a_day_that_is_not_believed_is_not_filed_under_another() -> None:
    """The day on which the page was photographed is not taken in its place."""
    late = Believing(TODAY, started=TODAY, pages=True)
    found = date_picture("2025-08-03 left.jpg", "2026-03-20T10:00:00", late)
    assert found.day is None
    assert "the day in its name is 2025-08-03" in found.told


def test_a_page_has_the_day_that_was_told_then_that_of_its_name() -> None:
    """A notebook's page was not written on the day on which it was photographed."""
    now = "2026-03-14T19:10:02"
    pages = Believing(TODAY, pages=True)
    assert date_picture("2025-08-03 left.jpg", now, pages) == Dated(date(2025, 8, 3))
    told = Believing(TODAY, told_day=TOLD, pages=True)
    assert date_picture("2025-08-03 left.jpg", now, told) == Dated(TOLD)
    assert date_picture("a.jpg", now, pages).day == date(2026, 3, 14)


def test_small_hours_belong_to_the_evening_before() -> None:
    """Before the day ends it is yesterday still; without a time nothing moves."""
    ends = time(4, 0)
    day = date(2026, 3, 1)
    assert evening_of(Dated(day, time(3, 59, 59)), ends) == date(2026, 2, 28)
    assert evening_of(Dated(day, time(4, 0)), ends) == day
    assert evening_of(Dated(day), ends) == day
    assert evening_of(Dated(None), ends) is None


def test_a_filed_picture_has_the_day_of_its_name() -> None:
    """So a page, or one whose camera was wrong, keeps the day under which it was filed."""
    now = "2026-03-14T19:10:02"
    believing = Believing(TODAY)
    assert date_filed("photos/2025/2025-08-03-page-a.jpg", now, believing) == Dated(
        date(2025, 8, 3)
    )
    filed = date_filed("photos/2026/2026-03-14-191002-a.jpg", now, believing)
    assert filed == Dated(date(2026, 3, 14), time(19, 10, 2))
    assert date_filed("photos/spar.jpg", now, believing).day == date(2026, 3, 14)
    assert date_filed("photos/x-2025-08-03.jpg", now, believing).day == date(2026, 3, 14)


def test_a_page_is_known_by_its_name() -> None:
    """The word stands where filing puts it, and nowhere else."""
    assert is_page("photos/2025/2025-08-03-page-left.jpg")
    assert is_page("photos/2025/2025-08-03-120000-page.jpg")
    assert not is_page("photos/2025/2025-08-03-img-page-3.jpg")
    assert not is_page("photos/page-3.jpg")
