"""The order in which a finished aircraft is walked round: areas from tail to nose, by their names.

A work list's areas carry no position. The well-known words in an area's name (or in its id) give
one; of several words the one nearest the tail counts. Areas whose words tell no place (controls,
fuel, wiring) run through the aircraft and follow, in the order of the list. Common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from builderlog.knowing.settings import Area

# Each place with the words that mean it, from the tail forward; the engine is looked at last.
_WORDS = {
    "tail": (
        r"tail(?![ -]?(?:cone|boom|wheel|skid))(?:planes?|feathers)?",
        r"empennage|stabili[sz]ers?|stabilators?|fins?|rudders?|elevators?",
    ),
    "rear fuselage": (r"tail[ -]?(?:cones?|booms?)|(?:aft|rear) fuselage|turtle ?decks?",),
    "fuselage": (r"fuselages?|airframe|hull",),
    "wings": (r"wings?|mainplanes?|ailerons?|flaps?|spars?|struts?",),
    "undercarriage": (
        r"undercarriage|gear|(?:tail)?wheels?|(?:tail)?skids?|brakes?|floats?|skis?",
    ),
    "cockpit": (r"cockpit|cabin|canopy|doors?|seats?|interior|windscreens?|windshields?",),
    "nose": (r"nose|canards?|foreplanes?",),
    "engine": (
        r"engines?|propulsion|power ?plants?|motors?|cowl(?:s|ings?)?|exhausts?",
        r"propellers?|spinners?|firewall",
    ),
}
PLACES: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (place, re.compile(rf"\b(?:{'|'.join(words)})\b", re.IGNORECASE))
    for place, words in _WORDS.items()
)
NO_PLACE = len(PLACES)


def place_of(area: Area) -> int:
    """Its place in PLACES, NO_PLACE where its words tell none."""
    words = f"{area.name} ; {area.id}"
    return next(
        (at for at, (_, pattern) in enumerate(PLACES) if pattern.search(words)),
        NO_PLACE,
    )


def tail_to_nose(areas: Iterable[Area]) -> tuple[Area, ...]:
    """The areas from tail to nose; those of one place in the order of the list."""
    return tuple(sorted(areas, key=place_of))
