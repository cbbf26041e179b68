"""The vocabulary of a holiday in journal.yaml: from when until when no work is expected."""

from __future__ import annotations

from typing import Any

from builderlog.knowing.forms import Day, Key, Many, Row, Rows, Text
from builderlog.knowing.settings import Holiday

K = Key[Any]

FROM = K("from", Day(), "its first day", "2026-07-06")
UNTIL = K("until", Day(), "its last day; one day where it is not said", "2026-07-26")
WHY = K("why", Text(), "the reason; friends do not see it", "harvest")
HOLIDAY_KEYS: tuple[K, ...] = (FROM, UNTIL, WHY)


def _holiday(row: Row) -> Holiday:
    why = row.get(WHY)
    return Holiday(row.need(FROM), row.get(UNTIL), str(why) if why else None)


HOLIDAYS = K(
    "holidays",
    Many(Rows("a holiday", HOLIDAY_KEYS, _holiday, ("from",), "from")),
    "when no work is expected; the pace leaves these weeks out",
    "[{from: 2026-07-06, until: 2026-07-26, why: harvest}]",
)
