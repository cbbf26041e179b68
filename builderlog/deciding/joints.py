"""What a joint is made of as far as the record's words tell: metal, something softer, not said.

A torque table for bolts in metal says nothing of joints that clamp wood, tube or laminate.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from builderlog.knowing.ledger import Ledger

_WOOD = (
    r"\w*wood\w*|timber|spruce|ply|plywood|birch|mahogany|balsa|pine|fir|ash|oak|beech|hickory|"
    r"walnut"
)
_LAMINATE = (
    r"foam|composite\w*|laminat\w*|fib(?:re|er)glass|glass|carbon(?! steel)|kevlar|aramid|"
    r"lay-?ups?|honeycomb|plastic|acrylic|rubber"
)
_TUBE = r"tub(?:e|es|ing|ular)|pipes?"
_SOFT = re.compile(rf"\b(?:{_WOOD}|{_LAMINATE}|{_TUBE})\b", re.IGNORECASE)
_METAL = re.compile(
    r"\b(?:metals?|all-metal|sheet-?metal|steel|stainless|alumin\w+|alloy|titanium|brass|bronze|"
    r"alclad|4130|2024(?:-t\d+)?|6061(?:-t\d+)?|7075(?:-t\d+)?)\b",
    re.IGNORECASE,
)
# Of the softer materials those that an aircraft is built of; each has plastic and rubber somewhere.
_STRUCTURE = re.compile(
    rf"\b(?:{_WOOD}|foam|composite\w*|laminat\w*|lay-?ups?|honeycomb|carbon(?! steel)|fabric|"
    r"tub(?:e|ing|ular) frame)\b",
    re.IGNORECASE,
)
# Work that is done on sheet metal alone; it tells of an aircraft, not of a single joint.
_METAL_WORK = re.compile(
    r"\b(?:rivet\w*|debur\w*|dimpl\w*|nut ?plates?|flut(?:e|es|ing))\b", re.IGNORECASE
)


class Made(StrEnum):
    """What a joint is made of."""

    METAL = "metal"
    SOFT = "soft"  # wood, tube, laminate, plastic or rubber is named, so it may be clamped
    UNTOLD = "untold"


@dataclass(frozen=True, slots=True)
class Joint:
    """What a joint is made of; `word` is what told it, "" where nothing did."""

    made: Made
    word: str = ""


def joint_of(own: Iterable[str], around: Iterable[str], whole: Joint) -> Joint:
    """What a joint is made of: by its own words, else by those of its tasks and areas, else whole.

    A softer material counts wherever it is named; metal only where none is. `whole` is what
    `aircraft_of` found.
    """
    near, far = " ; ".join(own), " ; ".join(around)
    if soft := _SOFT.search(near) or _SOFT.search(far):
        return Joint(Made.SOFT, soft[0])
    if metal := _METAL.search(near) or _METAL.search(far) or _METAL_WORK.search(far):
        return Joint(Made.METAL, metal[0])
    return whole if whole.made is Made.METAL else Joint(Made.UNTOLD)


def aircraft_of(ledger: Ledger) -> Joint:
    """Metal where the work list speaks of metal or of work on it, and nowhere of wood or laminate.

    Tubes do not tell: an aircraft of metal has them too.
    """
    words = " ; ".join(
        word
        for area in ledger.worklist.areas
        for word in (area.name, *(task.name for task in area.tasks if task.applies))
    )
    if soft := _STRUCTURE.search(words):
        return Joint(Made.SOFT, soft[0])
    metal = _METAL.search(words) or _METAL_WORK.search(words)
    return Joint(Made.METAL, metal[0]) if metal else Joint(Made.UNTOLD)
