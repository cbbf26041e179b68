"""The pace as friends may see it: sums of what they see anyhow, and nothing of who is paid.

Until the journal shows paid help, the pace is that of all hours alike, be there paid ones or
not, so that none can be reckoned from it. No holiday to come is told, nor why one was taken: that
nobody will be at home is for no stranger. Where there is no window its reason stays with the
builder.
"""

from __future__ import annotations

from builderlog.deciding.pace import Pace, pace, pace_of_all
from builderlog.deciding.public import PublicPace
from builderlog.knowing.ledger import Ledger


def public_pace(ledger: Ledger, show: frozenset[str]) -> PublicPace | None:
    """The window and what it is reckoned from; None where there is no window."""
    found: Pace = pace(ledger) if "paid help" in show else pace_of_all(ledger)
    if found.window is None or found.record_date is None or found.remaining_seconds is None:
        return None
    return PublicPace(
        record_date=found.record_date,
        remaining_seconds=found.remaining_seconds,
        weekly_seconds=found.weekly_seconds or 0,
        weeks=len(found.sample),
        earliest=found.window.earliest,
        latest=found.window.latest,
        assumptions=found.assumptions,
    )
