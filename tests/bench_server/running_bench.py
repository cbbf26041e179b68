"""The bench as the command opens it, both servers, in a thread of this process."""

from __future__ import annotations

import json
import ssl
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Thread
from typing import Any
from urllib.parse import urlsplit

import httpx

from builderlog.command.bench_opening import Bench, Wanted
from tests.bench_server.serving import evening

PLAIN = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)  # nothing here is encrypted: no list is read


def get(url: str, **more: Any) -> httpx.Response:  # noqa: ANN401 - what httpx takes
    """Asks once."""
    return httpx.get(url, verify=PLAIN, **more)


def post(url: str, **more: Any) -> httpx.Response:  # noqa: ANN401 - what httpx takes
    """Sends once."""
    return httpx.post(url, verify=PLAIN, **more)


@dataclass(frozen=True, slots=True)
class Running:
    """A bench that answers; `said` is what it would print."""

    root: Path
    bench: Bench
    said: list[str]

    @property
    def url(self) -> str:
        """The bench's own address."""
        return self.bench.url

    @property
    def port(self) -> int:
        """The port of it."""
        return urlsplit(self.bench.url).port or 0

    @property
    def token(self) -> str:
        """What every form of the bench carries."""
        return self.bench.place.token

    @property
    def phone_url(self) -> str:
        """The phone's address, as the terminal shows it."""
        return self._shown(6)

    @property
    def code(self) -> str:
        """The newest code on the terminal."""
        return self._shown(-1)

    def _shown(self, word: int) -> str:
        return [line for line in self.said if line.startswith("For a phone")][-1].split()[word]

    def left_behind(self) -> list[str]:
        """Files that came in and were not taken away, and pictures in the inbox."""
        found = [*self.root.glob(".builderlog/incoming/*"), *self.root.glob("inbox/*")]
        return sorted(file.name for file in found)


@contextmanager
def running(root: Path, *, phone: bool = False) -> Iterator[Running]:
    """Serves until it is left."""
    said: list[str] = []
    wanted = Wanted(root, root / ".builderlog", 0, phone, "127.0.0.1" if phone else "")
    bench, up = Bench(wanted, evening, said.append), Event()
    thread = Thread(target=bench.serve, args=(up.set,))
    thread.start()
    try:
        assert up.wait(20)
        yield Running(root, bench, said)
    finally:
        bench.stop()
        thread.join(20)
        assert not thread.is_alive()


def events_of(url: str, wanted: int) -> Generator[tuple[str, Any], None, None]:
    """The first events that come; (name, data) each."""
    name = ""
    with httpx.stream("GET", f"{url}events", timeout=20, verify=PLAIN) as answer:
        for line in answer.iter_lines():
            if line.startswith("event: "):
                name = line.removeprefix("event: ")
            elif line.startswith("data: "):
                yield name, json.loads(line.removeprefix("data: "))
                wanted -= 1
                if not wanted:
                    return
