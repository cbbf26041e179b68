"""A public ledger of notes in many tongues and parts with long numbers: what friends look for.

The notes stand in `tests/cases/tongues.txt`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from builderlog.deciding.public import PublicLedger, PublicNote, PublicPart, PublicTaskTime
from tests.drawing.made_public import PUBLIC, SECOND, month, task
from tests.reading.case_file import CASES

DAILY = (
    ("Another evening", "Blunt bits, blue tape, and the bluebells are out. Does the shoe fit?"),
    ("Edges again", "Fuel for the stove. The string was full of knots; ringing all evening."),
    ("Sanding", "The main thing is a block. Aft of the tail there is a cone of dust."),
)
PARTS = (
    *(
        "Rivet MS20470AD4-6",
        "Washer NAS1149F0332P",
        "Washer AN960-10L",
        "Bolt AN3-5A",
        "Bolt AN4-7",
    ),
    *("Nut 1/4-28", "Screw AN525-10R8", "Tail-wheel spring", "Push-rod end 3/8 in"),
)
TASKS = (
    *(("W05", "Top skins"), ("W14", "Tip-up canopy"), ("W15", "Wing-tip lights")),
    *(("T01", "Roll-over frame"), ("T14", "Counterweights of the ailerons")),
)


def tongues_ledger() -> PublicLedger:
    """A note every five days: in a tongue of its own, then three evenings as there are many."""
    texts = [each for one in _told() for each in (one, *DAILY)]
    tasks = tuple(replace(task(name), name=words) for name, words in TASKS)
    notes = tuple(_note(number, *text) for number, text in enumerate(texts))
    months = sorted({f"{note.day:%Y-%m}" for note in notes})
    return replace(
        PUBLIC,
        notes=notes,
        tasks=tasks,
        parts=tuple(PublicPart(name, "received", None, None, ()) for name in PARTS),
        months=tuple(
            month(name, 3600, tuple(note.key for note in notes if f"{note.day:%Y-%m}" == name))
            for name in months
        ),
    )


def _told() -> Iterator[tuple[str, str]]:
    """The title and the words of each note that is told in the text file."""
    for line in (CASES / "tongues.txt").read_text(encoding="utf-8").splitlines()[2:]:
        title, words = line.split(" | ")
        yield title, words


def _note(number: int, title: str, prose: str) -> PublicNote:
    day = date(2025, 1, 2) + timedelta(days=5 * number)
    return replace(
        SECOND,
        key=f"{day}-{number}",
        day=day,
        title=title,
        tasks=(PublicTaskTime(TASKS[number % 5][0], 3600),),
        prose=prose,
        links=(),
        visits=(),
    )
