"""Recommended torque of nuts by thread as published, and which thread a bolt's name means.

FAA AC 43.13-1B (8 September 1998), Table 7-1; the values were read in two copies that agree. It
applies only where the manufacturer gives no torque (paragraph 7-40 i).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

SOURCE = "FAA AC 43.13-1B (8 September 1998), Table 7-1"
CAPTIONS = (
    "values are for oil-free cadmium-plated threads",
    "the recommended columns are for bolts loaded primarily in shear",
    "the maximum columns are the allowable tightening limits",
    "values with a star are estimated",
    "it applies only where the manufacturer gives no specific torque (paragraph 7-40 i)",
)
UNIT = "in-lb"


class Nut(StrEnum):
    """The two kinds of nut that the table tells apart."""

    TENSION = "tension"  # MS20365, AN310; recommended for 40 000 psi in the bolt
    SHEAR = "shear"  # MS20364, AN320; recommended for 24 000 psi in the bolt


@dataclass(frozen=True, slots=True)
class TorqueRow:
    """One thread's row, whole inch-pounds; `recommended` from and to, `limit` the maximum."""

    thread: str
    series: str  # fine or coarse
    tension: tuple[int, int]
    shear: tuple[int, int]
    tension_limit: int
    shear_limit: int
    shear_estimated: bool = False

    def recommended(self, nut: Nut) -> tuple[int, int]:
        """The range of the nut's column."""
        return self.tension if nut is Nut.TENSION else self.shear

    def limit(self, nut: Nut) -> int:
        """The allowable tightening limit of the nut's column."""
        return self.tension_limit if nut is Nut.TENSION else self.shear_limit

    def estimated(self, nut: Nut) -> bool:
        """Whether the table marks the range as an estimated corresponding value."""
        return self.shear_estimated and nut is Nut.SHEAR


FINE = (
    TorqueRow("8-36", "fine", (12, 15), (7, 9), 20, 12),
    TorqueRow("10-32", "fine", (20, 25), (12, 15), 40, 25),
    TorqueRow("1/4-28", "fine", (50, 70), (30, 40), 100, 60),
    TorqueRow("5/16-24", "fine", (100, 140), (60, 85), 225, 140),
    TorqueRow("3/8-24", "fine", (160, 190), (95, 110), 390, 240),
    TorqueRow("7/16-20", "fine", (450, 500), (270, 300), 840, 500),
    TorqueRow("1/2-20", "fine", (480, 690), (290, 410), 1100, 660),
    TorqueRow("9/16-18", "fine", (800, 1000), (480, 600), 1600, 960),
    TorqueRow("5/8-18", "fine", (1100, 1300), (600, 780), 2400, 1400),
    TorqueRow("3/4-16", "fine", (2300, 2500), (1300, 1500), 5000, 3000),
    TorqueRow("7/8-14", "fine", (2500, 3000), (1500, 1800), 7000, 4200),
    TorqueRow("1-14", "fine", (3700, 5500), (2200, 3300), 10000, 6000, shear_estimated=True),
    TorqueRow("1-1/8-12", "fine", (5000, 7000), (3000, 4200), 15000, 9000, shear_estimated=True),
    TorqueRow("1-1/4-12", "fine", (9000, 11000), (5400, 6600), 25000, 15000, shear_estimated=True),
)
COARSE = (
    TorqueRow("8-32", "coarse", (12, 15), (7, 9), 20, 12),
    TorqueRow("10-24", "coarse", (20, 25), (12, 15), 35, 21),
    TorqueRow("1/4-20", "coarse", (40, 50), (25, 30), 75, 45),
    TorqueRow("5/16-18", "coarse", (80, 90), (48, 55), 160, 100),
    TorqueRow("3/8-16", "coarse", (160, 185), (95, 100), 275, 170),
    TorqueRow("7/16-14", "coarse", (235, 255), (140, 155), 475, 280),
    TorqueRow("1/2-13", "coarse", (400, 480), (240, 290), 880, 520),
    TorqueRow("9/16-12", "coarse", (500, 700), (300, 420), 1100, 650),
    TorqueRow("5/8-11", "coarse", (700, 900), (420, 540), 1500, 900),
    TorqueRow("3/4-10", "coarse", (1150, 1600), (700, 950), 2500, 1500),
    TorqueRow("7/8-9", "coarse", (2200, 3000), (1300, 1800), 4600, 2700),
)
ROWS = {row.thread: row for row in (*FINE, *COARSE)}

# Which thread a bolt of the AN3 to AN20 series has: from memory, the nine that are sure.
BOLT_THREADS = {
    3: "10-32",
    4: "1/4-28",
    5: "5/16-24",
    6: "3/8-24",
    7: "7/16-20",
    8: "1/2-20",
    9: "9/16-18",
    10: "5/8-18",
    12: "3/4-16",
}
CLEVIS = range(21, 37)  # AN21 to AN36: clevis bolts (memory); they are not tightened by the table

_AN = re.compile(r"\bAN\s?-?\s?(\d{1,4})(?!\d|\.\d)([A-Z]*)", re.IGNORECASE)
_THREAD = re.compile(
    r"(?<![\w/.-])(?:" + "|".join(re.escape(thread) for thread in ROWS) + r")(?![\w/-]|\.\d)"
)
_CLEVIS_WORD = re.compile(r"\bclevis\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Bolt:
    """What a bolt's words tell of it: its thread, or why the thread is not known."""

    thread: str | None
    why: str = ""
    clevis: bool = False

    @property
    def row(self) -> TorqueRow | None:
        """Its row of the table."""
        return ROWS[self.thread] if self.thread else None


def bolt_of(words: str) -> Bolt:
    """`AN3-5A`, `AN 4-7 bolt`, `10-32`, `1/4-28 UNF`: never guessed, no thread where in doubt."""
    named = [(int(found[1]), "DD" in found[2].upper()) for found in _AN.finditer(words)]
    if _CLEVIS_WORD.search(words) or any(name in CLEVIS for name, _ in named):
        return Bolt(None, "it is a clevis bolt", clevis=True)
    if any(alloy and name in BOLT_THREADS for name, alloy in named):
        return Bolt(None, "it is a bolt of aluminium alloy (DD in its name)")
    threads = {BOLT_THREADS[name] for name, _ in named if name in BOLT_THREADS}
    threads.update(_THREAD.findall(words))
    if len(threads) > 1:
        return Bolt(None, f"'{words}' names two threads")
    return Bolt(threads.pop()) if threads else Bolt(None, f"'{words}' tells no thread of the table")
