"""The vocabulary of a shop note: every key with its form, its meaning and an example.

The rows inside its lists are in `note_rows`; what follows from settings, work list and other
notes is not made here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from builderlog.knowing.entries import PersonHours, Privacy
from builderlog.knowing.forms import ByName, Day, Desk, Key, Many, Parsed, Time
from builderlog.knowing.note_rows import (
    AWAY_ROW,
    BULLETIN_ROW,
    DECIDED_ROW,
    FIXED_ROW,
    MEASURED_ROW,
    PART_ROW,
    PHOTO_ROW,
    PROCESS_ROW,
    SNAG_ROW,
    TASK_ID,
    TASK_ROW,
    TEXT,
    TORQUED_ROW,
    VISIT_ROW,
)
from builderlog.knowing.units import UnreadableError
from builderlog.reading.words import Node, Table

K = Key[Any]


@dataclass(frozen=True, slots=True)
class Hours:
    """`3h15` for the journal's builder, or `{Ines: 3h15, Tomas: 1h}` by name."""

    name: str = "a length of time, or {name: length, …}"

    def read(self, node: Node, desk: Desk) -> tuple[PersonHours, ...]:
        if not isinstance(node, Table):
            length = Time().read(node, desk)
            return () if length is None else (PersonHours(None, length, node.place),)
        named = ByName("hours", Time(), "2h").read(node, desk) or ()
        return tuple(PersonHours(who, length, who.place) for who, length in named if length)


def _privacy(text: str) -> Privacy:
    word = {"true": "yes", "false": "no"}.get(text.lower(), text.lower())
    try:
        return Privacy(word)
    except ValueError:
        raise UnreadableError(
            f"'{text}' is none of the words for this; write yes or hours only"
        ) from None


DATE = K("date", Day(), "the day of the work; may stand in the file's name instead", "2026-03-14")
TITLE = K("title", TEXT, "a few words", "Aileron skins on")
HOURS = K(
    "hours", Hours(), "time in the shop, of the builder or by name", "{Ines: 3h15, Tomas: 1h}"
)
TASKS = K(
    "tasks",
    Many(TASK_ROW),
    "what was worked on",
    "[{task: W14, hours: 2.5}]",
)
PARTS = K(
    "parts",
    Many(PART_ROW),
    "parts and materials that moved",
    "[{part: AN3-5A bolt, count: 12, status: fitted}]",
)
PHOTOS = K(
    "photos",
    Many(PHOTO_ROW),
    "pictures of the day",
    "[{photo: photos/2026/skins.jpg, shows: [W14], caption: Skins on}]",
)
MEASURED = K(
    "measured",
    Many(MEASURED_ROW),
    "what was measured against which limit",
    "{what: hinge gap, value: 0.8 mm, limit: <= 1 mm}",
)
TORQUED = K(
    "torqued",
    Many(TORQUED_ROW),
    "fasteners brought to torque; the kit's manual prevails",
    "{where: hinge, bolt: AN3-5A, to: 20..25 in-lb, source: kit manual 51-2}",
)
PROCESS = K(
    "process",
    Many(PROCESS_ROW),
    "glue, resin, fabric, primer, heat",
    "{what: epoxy primer, batch: B-2207, temperature: 19 °C}",
)
SNAGS = K(
    "snags",
    Many(SNAG_ROW),
    "found wrong or forgotten",
    "[{snag: nick in the left skin, area: W}]",
    aliases=("squawks",),
)
FIXED = K(
    "fixed",
    Many(FIXED_ROW),
    "snags put right, by number",
    "{no: 2026-03-14.2, how: blended out}",
)
DECIDED = K(
    "decided",
    Many(DECIDED_ROW),
    "a decision and its reason",
    "{what: flush rivets, why: the paint shows every head}",
)
VISITS = K(
    "visits",
    Many(VISIT_ROW),
    "an inspector, counsellor or mechanic looked at the work",
    "{who: A. Person, as: counsellor, looked at: [W]}",
)
AWAY = K(
    "away",
    Many(AWAY_ROW),
    "work that left the shop",
    "{what: seat shells, with: a trim shop, as: paid, sent: 2026-03-02}",
)
BULLETINS = K(
    "bulletins",
    Many(BULLETIN_ROW),
    "a maker's or authority's bulletin",
    "{no: SB-12, applies: yes, done: 2026-03-14}",
)
CLOSES = K("closes", Many(TASK_ID), "areas or tasks that from now on cannot be seen", "[W14]")
OPENS = K("opens", Many(TASK_ID), "undoes closes", "[W14]")
NEXT = K("next", Many(TEXT), "what to do next time", "dimple the nose skin")
WHERE = K("place", TEXT, "where, if not at the usual place", "the hangar")
WRITTEN = K("written", Day(), "the day of writing, if not the evening itself", "2026-03-16")
PRIVATE = K(
    "private",
    Parsed("yes | hours only", _privacy),
    "yes: not for friends; hours only: nothing but the time for anyone",
    "yes",
)

NOTE_KEYS: tuple[K, ...] = (
    *(DATE, TITLE, HOURS, TASKS, PARTS, PHOTOS, MEASURED, TORQUED, PROCESS, SNAGS, FIXED),
    *(DECIDED, VISITS, AWAY, BULLETINS, CLOSES, OPENS, NEXT, WHERE, WRITTEN, PRIVATE),
)
