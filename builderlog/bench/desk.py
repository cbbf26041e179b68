"""What the bench's pages are drawn from: the journal, the hour, the inbox, the token."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime

from builderlog.deciding.tonight import night_of
from builderlog.knowing.ledger import Ledger
from builderlog.noting.clock import Clock
from builderlog.reading.problem import Problem


@dataclass(frozen=True, slots=True)
class InboxPicture:
    """A picture that lies in the inbox: its file name there, and when it was taken if it says."""

    name: str
    taken: str = ""  # ISO 8601


@dataclass(frozen=True, slots=True)
class Desk:
    """All that one page needs; `now` is the wall clock of this machine, without a zone."""

    ledger: Ledger
    problems: tuple[Problem, ...]  # worst first
    now: datetime
    token: str
    inbox: tuple[InboxPicture, ...] = ()
    clock: Clock = field(default_factory=Clock)
    phone: bool = False
    once: str = ""  # what a form carries so that sending it twice writes one note

    @property
    def tonight(self) -> date:
        """The day whose evening it is."""
        return night_of(self.now, self.ledger.settings.day_ends)
