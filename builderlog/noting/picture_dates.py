"""When a picture was taken: by its camera if that can be believed, by its name, or as told.

Pure. A camera's clock is believed unless it is plainly wrong; what is not believed is told, never
mended. The camera's local time stands as it is: that is the day which the builder remembers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import PurePath

from builderlog.deciding.tonight import night_of

# Where a camera's clock begins when its battery was out.
CLOCK_BEGINS = (date(1970, 1, 1), date(1980, 1, 1), date(2000, 1, 1))

# Exif was published in October 1995; an earlier date needs a journal that began before it.
FIRST_CAMERAS = date(1995, 10, 1)

# Between two zones the camera's day can be one ahead of this machine's.
ZONES_APART = timedelta(days=1)

BY_JOURNAL = "by journal.yaml"

_PAGE = re.compile(r"\d{4}-\d\d-\d\d(?:-\d{6})?-page[-.]")
_DAY_IN_NAME = re.compile(r"(?<!\d)(\d{4})(-?)(\d\d)\2(\d\d)(?!\d)")


@dataclass(frozen=True, slots=True)
class Believing:
    """What dates are held against: today, when the project began, and the day that was told.

    `told_day` counts where a picture has no date that can be believed; of `pages` it counts
    always, and after it a date in the name: what is on a page was not written when it was
    photographed.
    """

    today: date
    started: date | None = None
    told_day: date | None = None
    pages: bool = False


@dataclass(frozen=True, slots=True)
class Dated:
    """The day in the calendar and the time on the clock, None where unknown.

    `told` says what is odd about it, or why there is no day; '' where all is well.
    """

    day: date | None
    at: time | None = None
    told: str = ""


def date_picture(name: str, taken: str | None, believing: Believing) -> Dated:
    """The day of the picture `name`, whose Exif says `taken` (ISO 8601, None for nothing)."""
    by_name, why = _named_day(name, believing)
    if believing.pages and (believing.told_day or by_name):
        return Dated(believing.told_day or by_name)
    if taken and not (believing.pages and why):
        moment = datetime.fromisoformat(taken)
        doubt = _why_not_believed(moment.date(), believing)
        if not doubt:
            return Dated(moment.date(), moment.time().replace(microsecond=0))
        why = f"its camera's clock says {moment.date()}, {doubt}"
    why = why or "it holds no date"
    if believing.told_day:
        return Dated(believing.told_day, told=f"{why}; it is filed under {believing.told_day}")
    if by_name:
        return Dated(by_name, told=f"{why}; the day in its name counts, {by_name}")
    return Dated(None, told=f"{why}; {_what_to_do(why)}")


def date_filed(path: str, taken: str | None, believing: Believing) -> Dated:
    """The day of a picture in photos/: the one at the head of its name, for so it was filed.

    A page of an old notebook, photographed today, has another day in its Exif.
    """
    dated = date_picture(path, taken, believing)
    name = PurePath(path).name
    head = _named_day(name[:10], believing)[0] if name[:4].isdecimal() else None
    return dated if head in (None, dated.day) else Dated(head)


def is_page(path: str) -> bool:
    """True for the name under which a page of a notebook was filed: `2025-08-03-page-left.jpg`."""
    return _PAGE.match(PurePath(path).name) is not None


def evening_of(dated: Dated, day_ends: time) -> date | None:
    """The day whose note it belongs to: what was taken before `day_ends` is yesterday's still."""
    if dated.day is None or dated.at is None:
        return dated.day
    return night_of(datetime.combine(dated.day, dated.at), day_ends)


def _why_not_believed(day: date, believing: Believing) -> str:
    """Why a date is plainly wrong, as it reads after the date; '' where it may be right."""
    if day in CLOCK_BEGINS:
        return "where a clock begins that was never set"
    if day > believing.today + ZONES_APART:
        return "which is still to come"
    if believing.started and day < believing.started:
        return f"before the project started, {believing.started} {BY_JOURNAL}"
    if not believing.started and day < FIRST_CAMERAS:
        return "before there were such cameras"
    return ""


def _what_to_do(why: str) -> str:
    told = "write its day into its name, as in 2026-03-14-spar.jpg, or say it with --day 2026-03-14"
    if why.endswith(BY_JOURNAL):
        return f"if the work began earlier, write that day as 'started' there; else {told}"
    return told


def _named_day(name: str, believing: Believing) -> tuple[date | None, str]:
    """The first date in a file's name (2026-03-14, 20260314) that can be believed.

    Where there is none but one that cannot be believed, also why not.
    """
    why = ""
    for found in _DAY_IN_NAME.finditer(PurePath(name).stem):
        year, _, month, day = found.groups()
        try:
            named = date(int(year), int(month), int(day))
        except ValueError:
            continue
        doubt = _why_not_believed(named, believing)
        if not doubt:
            return named, ""
        why = why or f"the day in its name is {named}, {doubt}"
    return None, why
