"""A note for an evening of which there are pictures and no note: what is known, and no more.

The pictures stand in it in the order in which they were taken. How long the session was is a guess
from them and stands as a comment; hours, tasks and words are the builder's to write.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from builderlog.noting.new_note import NewNote, NewPhoto

LONGEST_PAUSE = timedelta(hours=5)  # with more between two pictures they are of two sessions


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture that was filed: its path in the journal, the clock when it was taken, by what."""

    path: str
    taken: datetime | None  # local time without zone; None where the picture does not say
    camera: str = ""  # as its Exif names it; "" where it does not
    page: bool = False  # a page of a paper notebook


def caught_up_note(day: date, shots: Sequence[Shot], written: date) -> NewNote:
    """The note of `day`, with `written` as the day of writing."""
    ordered = sorted(shots, key=_moment)
    return NewNote(
        day,
        photos=tuple(NewPhoto(shot.path, page=shot.page) for shot in ordered),
        written=written,
        comments=tuple(_guesses(ordered)),
    )


def _moment(shot: Shot) -> tuple[bool, str, str]:
    """By the clock; what has no time comes last."""
    return shot.taken is None, shot.taken.isoformat() if shot.taken else "", shot.path


def _guesses(shots: Iterable[Shot]) -> Iterator[str]:
    """A line `hours: 19:10-22:25` for each camera, so that one can be made a word of the note."""
    by_camera: dict[str, list[datetime]] = {}
    for shot in shots:
        if shot.taken and not shot.page:
            by_camera.setdefault(shot.camera, []).append(shot.taken)
    for camera, times in by_camera.items():
        by = f", by {camera or 'a camera without a name'}" if len(by_camera) > 1 else ""
        spans = [span for session in _sessions(times) if (span := _span(session))]
        if spans:
            hours = spans[0] if len(spans) == 1 else f"[{', '.join(spans)}]"
            yield f"hours: {hours}  # a guess: from the first picture to the last{by}"
        else:
            yield f"taken at {' and '.join(dict.fromkeys(map(_clock, times)))}{by}"
    if len(by_camera) > 1:
        yield "the clocks of the cameras may differ"


def _sessions(times: Sequence[datetime]) -> list[list[datetime]]:
    """The times, parted where nothing was taken for hours."""
    sessions = [[times[0]]]
    for before, now in pairwise(times):
        if now - before > LONGEST_PAUSE:
            sessions.append([])
        sessions[-1].append(now)
    return sessions


def _span(times: Sequence[datetime]) -> str:
    """`19:10-22:25`, past midnight too; nothing of a single moment."""
    begin, end = _clock(times[0]), _clock(times[-1])
    return f"{begin}-{end}" if begin != end else ""


def _clock(moment: datetime) -> str:
    return f"{moment.hour}:{moment.minute:02}"
