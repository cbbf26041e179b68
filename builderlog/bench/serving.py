"""Serves the bench's apps on sockets of this machine until they are told to stop."""

from __future__ import annotations

import asyncio
import errno
import ipaddress
import signal
import socket
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass, field
from typing import Any

import uvicorn
from starlette.types import ASGIApp

from builderlog.bench.bulletin import Bulletin
from builderlog.storing.refusal import Refused

LOOPBACK = "127.0.0.1"
LOOPBACK_NAMES = (LOOPBACK, "localhost", "[::1]")
MOST_CONNECTIONS = 64
TICK_SECONDS = 0.05
NOWHERE = ("192.0.2.1", 9)  # an address that is nobody's (RFC 5737); nothing is sent to it


def listen_on(address: str, port: int) -> socket.socket:
    """A listening socket; port 0 is any free one. Raises Refused where it cannot be had."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((address, port))
        listening.listen(MOST_CONNECTIONS)
    except (OSError, OverflowError) as error:
        listening.close()
        raise Refused(_why_not(address, port, error)) from error
    return listening


def _why_not(address: str, port: int, error: Exception) -> str:
    if isinstance(error, OSError) and error.errno == errno.EADDRINUSE:
        return (
            f"port {port} is taken, perhaps by another bench that runs; "
            "close that one, or write --port 0 for any free port"
        )
    return f"{address} port {port} cannot be listened on: {error}; write --port 0 for a free one"


def port_of(listening: socket.socket) -> int:
    """The port that a socket listens on."""
    port: int = listening.getsockname()[1]
    return port


def house_address() -> str:
    """This machine's address in the network of the house. Raises Refused where it has none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(NOWHERE)  # sends nothing: only chooses the way out
            address: str = asking.getsockname()[0]
        except OSError:
            raise Refused(
                "this machine is in no network, so no phone can reach it; join the network of the "
                "house, or name this machine's address: --phone --address 192.168.1.20"
            ) from None
    return address


def check_address(address: str) -> str:
    """Only an address of a private network is listened on. Raises Refused for any other."""
    try:
        known = ipaddress.IPv4Address(address)
    except ValueError:
        raise Refused(
            f"'{address}' is no address; write this machine's own, such as 192.168.1.20"
        ) from None
    if not known.is_private or known.is_unspecified:
        raise Refused(
            f"{address} is no address of a house's own network, and the form must not stand open "
            "to others; join the network of the house, then name this machine's address there"
        )
    return address


@dataclass(frozen=True, slots=True)
class Serving:
    """One app with the socket it is served on."""

    app: ASGIApp
    socket: socket.socket


class _Server(uvicorn.Server):
    """Leaves the signals to us, for two servers end together; ends its streams before it waits."""

    def __init__(self, app: ASGIApp, bulletin: Bulletin) -> None:
        super().__init__(_config(app))
        self._bulletin = bulletin
        self.answers = asyncio.Event()

    def capture_signals(self) -> AbstractContextManager[None]:  # type: ignore[override]
        return nullcontext()

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self.answers.set()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._bulletin.close()
        await super().shutdown(sockets)


@dataclass(slots=True)
class Servers:
    """Servers that run in one loop and end together; `stop` may be called from any thread."""

    servings: Sequence[Serving]
    bulletin: Bulletin
    started: Callable[[], object] = bool  # called in a thread once all of them answer
    _servers: list[_Server] = field(default_factory=list)

    def run(self) -> None:
        """Serves until stopped, or until Ctrl-C."""
        self._servers = [_Server(serving.app, self.bulletin) for serving in self.servings]
        with _signals(self._signalled):
            asyncio.run(self._serve())

    def stop(self) -> None:
        """Ends all, without waiting."""
        for server in self._servers:
            server.should_exit = True

    def _signalled(self) -> None:
        """The second time is meant."""
        for server in self._servers:
            server.force_exit = server.should_exit
        self.stop()

    async def _serve(self) -> None:
        pairs = zip(self._servers, self.servings, strict=True)
        serving = [server.serve(sockets=[each.socket]) for server, each in pairs]
        await asyncio.gather(*serving, self._tell())

    async def _tell(self) -> None:
        for server in self._servers:
            await server.answers.wait()
        await asyncio.to_thread(self.started)


def _config(app: ASGIApp) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        log_config=None,
        log_level="error",
        access_log=False,
        lifespan="off",
        ws="none",
        proxy_headers=False,
        server_header=False,
        limit_concurrency=MOST_CONNECTIONS,
        timeout_keep_alive=30,
        timeout_graceful_shutdown=3,
    )


@contextmanager
def _signals(end: Callable[[], None]) -> Iterator[None]:
    """Ctrl-C and a request to end are for us; in another thread there are none."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def ended(_number: int, _frame: Any) -> None:  # noqa: ANN401 - what signal hands over
        end()

    before = {number: signal.signal(number, ended) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
