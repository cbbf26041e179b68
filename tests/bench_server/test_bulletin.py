"""Holds the stream of events: every open page hears all, and a slow or gone one hinders nobody."""

from __future__ import annotations

import asyncio
import json

import pytest

from builderlog.bench import bulletin
from builderlog.bench.bulletin import LONGEST_QUEUE, Bulletin, event


def heard(told: Bulletin, count: int, during: object) -> list[bytes]:
    """What one listener hears after the line on reconnecting, `count` at most."""

    async def listen() -> list[bytes]:
        stream = told.listen([event("first", 1)])
        got = [await anext(stream), await anext(stream)]
        assert callable(during)
        await asyncio.to_thread(during)
        async for data in stream:
            got.append(data)
            if len(got) == count + 2:
                break
        await stream.aclose()  # type: ignore[attr-defined]
        return got[1:]

    return asyncio.run(listen())


def test_an_event_is_one_line_of_json() -> None:
    """Line ends in what is told break nothing, and every letter arrives."""
    made = event("problems", [{"message": "12 °C\n\ndata: x"}]).decode()
    name, data, *rest = made.split("\n")
    assert (name, rest) == ("event: problems", ["", ""])
    assert json.loads(data.removeprefix("data: ")) == [{"message": "12 °C\n\ndata: x"}]


def test_what_is_told_in_another_thread_is_heard() -> None:
    """After what stands at the beginning come the events, in their order."""
    told = Bulletin()

    def telling() -> None:
        told.tell("site", 1)
        told.tell("front", 2)

    expected = [event("first", 1), event("site", 1), event("front", 2)]
    assert heard(told, 2, telling) == expected


def test_a_closed_bulletin_ends_all_streams() -> None:
    """Those that listen, and those that come later."""
    told = Bulletin()
    assert heard(told, 5, told.close) == [event("first", 1)]

    async def late() -> list[bytes]:
        return [data async for data in told.listen()]

    assert asyncio.run(late()) == []


def test_a_page_that_takes_nothing_is_let_go() -> None:
    """It comes back by itself and is told how things stand; memory does not grow for it."""
    told = Bulletin()

    def telling() -> None:
        for number in range(LONGEST_QUEUE * 3):
            told.tell("front", number)

    assert len(heard(told, LONGEST_QUEUE * 3, telling)) <= LONGEST_QUEUE + 1


def test_silence_is_broken_by_a_beat(monkeypatch: pytest.MonkeyPatch) -> None:
    """A line without meaning goes out from time to time, so that a gone page is noticed."""
    monkeypatch.setattr(bulletin, "BEAT_SECONDS", 0.02)
    assert heard(Bulletin(), 1, bool)[1] == b": \n\n"
