"""The phone's door: a code that stands on the terminal lets one phone in, a few wrong ones none.

Sessions live in memory alone and end with the program. Nothing of a code or session is written.
"""

from __future__ import annotations

import secrets
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from hmac import compare_digest
from threading import Lock

# No sign that could be taken for another one: 31 signs, so eight of them are 8.5e11 codes.
SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
CODE_LENGTH = 8
WRONG_CODES, MOST_PHONES = 5, 4
MOST_IN_WINDOW, WINDOW_SECONDS = 120, 600.0  # deeds of one session; an evening's pictures are few


class DoorClosed(Exception):
    """Nobody is let in any more, in a sentence for whoever knocks."""


@dataclass(slots=True)
class Session:
    """One phone that was let in: its secret word, its token, the note it wrote last."""

    word: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    wrote: str = ""
    _deeds: deque[float] = field(default_factory=deque)

    def may(self, at: float) -> bool:
        """Counts a deed at a moment in seconds; False where there were too many of late."""
        while self._deeds and at - self._deeds[0] > WINDOW_SECONDS:
            self._deeds.popleft()
        if len(self._deeds) >= MOST_IN_WINDOW:
            return False
        self._deeds.append(at)
        return True


class Door:
    """Codes and sessions; asked from several threads. `tell` is handed each new code to show."""

    def __init__(self, tell: Callable[[str], None]) -> None:
        """Makes the first code and shows it."""
        self.token = secrets.token_urlsafe(24)  # of the page that asks for the code
        self._tell = tell
        self._lock = Lock()
        self._sessions: dict[str, Session] = {}
        self._wrong = 0
        self._code = _new_code()
        tell(self._code)

    def knock(self, code: str) -> Session | None:
        """A session for the right code, which is used up by it; None for a wrong one.

        Raises DoorClosed after too many wrong codes or phones.
        """
        with self._lock:
            if self._wrong >= WRONG_CODES:
                raise DoorClosed(
                    "too many wrong codes came; stop builderlog bench on the terminal and start it"
                    " again"
                )
            if not self._code:
                raise DoorClosed(f"{MOST_PHONES} phones are in; start builderlog bench again")
            if not compare_digest(_plain(code).encode(), self._code.encode()):
                self._wrong += 1
                return None
            return self._let_in()

    def _let_in(self) -> Session:
        session = Session()
        self._sessions[session.word] = session
        self._wrong = 0
        self._code = _new_code() if len(self._sessions) < MOST_PHONES else ""
        if self._code:
            self._tell(self._code)
        return session

    def session(self, word: str | None) -> Session | None:
        """The session of a cookie; None for none that is known."""
        return self._sessions.get(word or "")


def shown(code: str) -> str:
    """A code as one reads it out: in two halves."""
    return f"{code[: CODE_LENGTH // 2]}-{code[CODE_LENGTH // 2 :]}"


def _new_code() -> str:
    return "".join(secrets.choice(SIGNS) for _ in range(CODE_LENGTH))


def _plain(code: str) -> str:
    return "".join(sign for sign in code.upper() if sign in SIGNS)
