"""Holds on which sockets the bench listens, and that it ends when it is told to."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from builderlog.bench.serving import check_address, listen_on, port_of
from builderlog.storing.refusal import Refused
from tests.bench_server.made_desk import laid
from tests.bench_server.running_bench import events_of, get, running


def test_a_port_that_is_taken_is_told() -> None:
    """The sentence names the port and what to write."""
    with listen_on("127.0.0.1", 0) as taken, pytest.raises(Refused, match="--port 0"):
        listen_on("127.0.0.1", port_of(taken))


def test_only_this_machine_can_ask(tmp_path: Path) -> None:
    """The bench listens on the loopback address; the machine's other addresses are closed."""
    with running(laid(tmp_path)) as bench:
        for address in addresses():
            with socket.socket() as asking:
                asking.settimeout(2)
                assert asking.connect_ex((address, bench.port)) != 0
        assert get(bench.url).status_code == 200


def addresses() -> set[str]:
    """Other addresses of this machine: all of 127/8 but the first, and what its name leads to."""
    named = {str(found[4][0]) for found in socket.getaddrinfo(socket.gethostname(), None)}
    return {"127.0.0.2", *(name for name in named if "." in name)} - {"127.0.0.1"}


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("8.8.8.8", "no address of a house's own network"),
        ("0.0.0.0", "no address of a house's own network"),  # noqa: S104 - it is refused
        ("my-phone", "'my-phone' is no address"),
        ("", "is no address"),
    ],
)
def test_a_phone_is_served_in_a_private_network_only(address: str, words: str) -> None:
    """An address of the open internet, or of all networks at once, is not listened on."""
    with pytest.raises(Refused, match=words):
        check_address(address)


@pytest.mark.parametrize("address", ["192.168.1.20", "10.0.0.7", "172.16.3.4", "127.0.0.1"])
def test_an_address_of_the_house_is_taken(address: str) -> None:
    """Those that RFC 1918 sets apart for private networks, and this machine's own."""
    assert check_address(address) == address


def test_an_open_page_does_not_keep_the_bench(tmp_path: Path) -> None:
    """It ends although a page still listens to what happens, and the page is told."""
    with running(laid(tmp_path)) as bench:
        listening = events_of(bench.url, 2)
        assert next(listening)[0] == "problems"
        bench.bench.stop()
        assert list(listening) == []


@pytest.mark.slow
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_ctrl_c_ends_it_cleanly(tmp_path: Path, number: signal.Signals) -> None:
    """Exit status 0, a last sentence, no traceback, and the port is free again."""
    command = [sys.executable, "-m", "builderlog", "bench", str(laid(tmp_path)), "--port", "0"]
    pipe, env = subprocess.PIPE, {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(command, stdout=pipe, stderr=pipe, text=True, env=env) as process:
        assert process.stdout
        url = process.stdout.readline().split()[-1]
        while "Ctrl-C" not in process.stdout.readline():
            pass
        listening = events_of(url, 2)
        next(listening)
        process.send_signal(number)
        out, err = process.communicate(timeout=60)
        listening.close()
    assert (process.returncode, err) == (0, "")
    assert "the bench is closed" in out
