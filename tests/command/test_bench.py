"""Holds what `bench` says on the terminal; what it serves is held in tests/bench_server."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from builderlog.bench.serving import listen_on, port_of
from builderlog.command import bench, bench_opening
from tests.command.running import originals, run
from tests.command.small_journal import write_small


def test_a_trial_serves_its_pages_and_stops(tmp_path: Path) -> None:
    """It asks for its own pages once, says how many answered, and changes nothing."""
    root = write_small(tmp_path / "journal")
    before = originals(root)
    said = run("bench", root, "--port", "0", "--trial")
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[0].startswith("The bench: http://127.0.0.1:")
    assert lines[1] == f"The site for friends, live: {lines[0].split()[-1]}site/"
    assert "gap" in lines[2]
    assert lines[-1] == "tried 4 addresses, 4 answered as they should; stopped"
    assert originals(root) == before


def test_a_trial_tells_of_a_page_that_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page that does not answer as it should gives exit status 1."""
    monkeypatch.setattr(bench_opening, "TRIED", ("/", "/nowhere"))
    said = run("bench", write_small(tmp_path), "--port", "0", "--trial")
    assert said.status == 1
    assert "tried 2 addresses, 1 answered" in said.out


def test_the_phone_is_let_in_by_a_code(tmp_path: Path) -> None:
    """Caution, address and code are told; in a pipe there is no square to take."""
    words = ("--port", "0", "--phone", "--address", "127.0.0.1", "--trial")
    said = run("bench", write_small(tmp_path), *words)
    lines = said.out.splitlines()
    assert lines[0].startswith("Whoever is in this network can read")
    assert lines[1].startswith("For a phone in this network: http://127.0.0.1:")
    assert "\N{FULL BLOCK}" not in said.out
    assert said.status == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--port", "many"), "'many' is no port"),
        (("--port", "70000"), "'70000' is no port"),
        (("--phone", "--address", "8.8.8.8"), "no address of a house's own network"),
        (("--phone", "--address", "phone"), "'phone' is no address"),
    ],
)
def test_what_cannot_be_is_told(tmp_path: Path, words: tuple[str, ...], told: str) -> None:
    """A sentence and exit status 2."""
    root = write_small(tmp_path)
    rest = () if "--port" in words else ("--port", "0")
    said = run("bench", root, *words, *rest, "--trial")
    assert said.status == 2
    assert told in " ".join(said.err.split())


def test_a_port_that_is_taken_is_told(tmp_path: Path) -> None:
    """With what to write instead."""
    with listen_on("127.0.0.1", 0) as taken:
        port = port_of(taken)
        said = run("bench", write_small(tmp_path), "--port", str(port), "--trial")
    assert said.status == 2
    assert f"port {port} is taken" in said.err
    assert "--port 0" in said.err


def test_no_journal_is_told(tmp_path: Path) -> None:
    """As by every command, before a port is opened."""
    said = run("bench", tmp_path, "--trial")
    assert (said.status, "is no journal" in said.err) == (2, True)


def test_a_part_that_is_missing_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sentence names the parts and how to get them; nothing of them is imported before."""
    real = importlib.util.find_spec
    monkeypatch.setattr(
        bench, "find_spec", lambda name: None if name in ("uvicorn", "segno") else real(name)
    )
    said = run("bench", write_small(tmp_path), "--trial")
    assert said.status == 2
    assert "needs uvicorn and segno" in said.err
    assert "pip install '.[bench]'" in said.err
