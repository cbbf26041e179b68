"""Opens the bench: sockets, apps, the watch on the folder; and tries itself out.

Imported late: it needs the parts that only the bench needs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import datetime
from http.client import HTTPConnection
from pathlib import Path

import segno

from builderlog.bench.app import bench_app
from builderlog.bench.bulletin import Bulletin
from builderlog.bench.door import Door, shown
from builderlog.bench.inbox import Inbox
from builderlog.bench.live_journal import LiveJournal
from builderlog.bench.phone_app import phone_app
from builderlog.bench.serving import (
    LOOPBACK,
    LOOPBACK_NAMES,
    Servers,
    Serving,
    check_address,
    house_address,
    listen_on,
    port_of,
)
from builderlog.bench.watching import watching
from builderlog.bench.workplace import Workplace
from builderlog.storing.incoming import clear_incoming
from builderlog.storing.refusal import Refused

TRIED = ("/", "/parts", "/site/", "/ink/bench.css")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the command line asks for."""

    root: Path
    cache: Path
    port: int
    phone: bool
    address: str


class Bench:
    """A bench that is ready to serve: its sockets listen, its journal is read."""

    def __init__(
        self, wanted: Wanted, now: Callable[[], datetime], say: Callable[[str], None]
    ) -> None:
        """Raises Refused where a port is taken or the journal cannot be read."""
        self._say, self._told = say, ""
        with ExitStack() as opened:
            listening = opened.enter_context(listen_on(LOOPBACK, wanted.port))
            self._port = port_of(listening)
            self.url = f"http://{LOOPBACK}:{self._port}/"
            clear_incoming(wanted.cache)
            self.live = LiveJournal(wanted.root, wanted.cache, Bulletin())
            self.place = Workplace(self.live, Inbox(wanted.root), now)
            hosts = frozenset(f"{name}:{self._port}" for name in LOOPBACK_NAMES)
            servings = [Serving(bench_app(self.place, hosts), listening)]
            if wanted.phone:
                servings.append(self._phone(wanted))
            self._servers = Servers(servings, self.live.bulletin)
            opened.pop_all()  # from now on the servers close them

    def serve(self, started: Callable[[], object]) -> None:
        """Serves and watches until stopped."""
        self._servers.started = started
        with watching(self.live.root, self._look):
            self._servers.run()

    def _look(self) -> None:
        """A journal that cannot be read just now is told once; the last pages stay."""
        try:
            self.live.look()
            self._told = ""
        except Refused as refusal:
            if str(refusal) != self._told:
                self._told = str(refusal)
                self._say(self._told)

    def stop(self) -> None:
        """Ends `serve`, from another thread."""
        self._servers.stop()

    def try_out(self) -> int:
        """Serves, asks for its own pages once, and stops; exit status 0 where all are there."""
        found: dict[str, int] = {}

        def ask() -> None:
            try:
                found.update((path, self._ask(path)) for path in TRIED)
            finally:
                self.stop()

        self.serve(ask)
        good = [path for path in TRIED if found.get(path) == 200]
        self._say(f"tried {len(TRIED)} addresses, {len(good)} answered as they should; stopped")
        return 0 if len(good) == len(TRIED) else 1

    def _ask(self, path: str) -> int:
        connection = HTTPConnection(LOOPBACK, self._port, timeout=30)
        try:
            connection.request("GET", path)
            return connection.getresponse().status
        finally:
            connection.close()

    def _phone(self, wanted: Wanted) -> Serving:
        address = check_address(wanted.address or house_address())
        listening = listen_on(address, self._port + 1 if 0 < wanted.port < 65535 else 0)
        host = f"{address}:{port_of(listening)}"
        door = Door(lambda code: self._show(f"http://{host}/", code))
        return Serving(phone_app(self.place, door, frozenset((host,))), listening)

    def _show(self, url: str, code: str) -> None:
        """The address with the code behind its #, which no server is told, as a square to take."""
        if sys.stdout.isatty():
            segno.make(f"{url}#code={code}", micro=False).terminal(sys.stdout, compact=True)
        self._say(f"For a phone in this network: {url} with the code {shown(code)}")
        sys.stdout.flush()
