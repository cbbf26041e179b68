"""The bulletin: what happens is told to every open page, as server-sent events.

Their form on the wire is that of the WHATWG HTML standard, section 9.2.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Iterable
from dataclasses import dataclass
from threading import Lock

BEAT_SECONDS = 15.0  # a line without meaning, so that a connection that is gone is noticed
LONGEST_QUEUE = 64  # a page that takes nothing for so long is let go; it connects anew by itself


def event(name: str, data: object) -> bytes:
    """One event as it goes over the wire; JSON, so that no line end breaks it."""
    return f"event: {name}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n".encode()


@dataclass(frozen=True, slots=True, eq=False)
class _Listener:
    """One page that listens, on the loop that serves it."""

    queue: asyncio.Queue[bytes | None]
    loop: asyncio.AbstractEventLoop

    def hand(self, data: bytes | None) -> None:
        """From any thread; nothing where its server has stopped already."""
        if not self.loop.is_closed():
            self.loop.call_soon_threadsafe(self._take, data)

    def _take(self, data: bytes | None) -> None:
        if self.queue.full():
            self.queue.get_nowait()
            data = None
        self.queue.put_nowait(data)


class Bulletin:
    """Told from any thread; listened to on the servers' loops."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._listeners: set[_Listener] = set()
        self._closed = False

    def tell(self, name: str, data: object) -> None:
        """Hands an event to every page that listens now."""
        made = event(name, data)
        with self._lock:
            for listener in self._listeners:
                listener.hand(made)

    def close(self) -> None:
        """Ends every stream, so that the servers can stop at once."""
        with self._lock:
            self._closed = True
            for listener in self._listeners:
                listener.hand(None)

    async def listen(self, first: Iterable[bytes] = ()) -> AsyncIterator[bytes]:
        """The events from now on, after those in `first`, until the page or the bulletin ends."""
        listener = _Listener(asyncio.Queue(LONGEST_QUEUE), asyncio.get_running_loop())
        with self._lock:
            if self._closed:
                return
            self._listeners.add(listener)
        try:
            yield b"retry: 1000\n\n"
            for made in first:
                yield made
            while (data := await _next(listener.queue)) is not None:
                yield data
        finally:
            with self._lock:
                self._listeners.discard(listener)


async def _next(queue: asyncio.Queue[bytes | None]) -> bytes | None:
    try:
        return await asyncio.wait_for(queue.get(), BEAT_SECONDS)
    except TimeoutError:
        return b": \n\n"
