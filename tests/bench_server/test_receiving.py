"""Holds how a form is taken apart while it arrives: its bounds, its refusals, what stays behind."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest
from starlette.requests import ClientDisconnect, Request

from builderlog.bench.form_parts import Gate, Limits, UploadRefused
from builderlog.bench.receiving import received
from tests.command.small_journal import jpeg

LIMITS = Limits(one_file=4000, whole=9000, files=2, one_field=50, fields=4, pause_seconds=0.05)
SLOW = "slow"
PICTURE = jpeg()


def part(name: str, data: bytes, filename: str | None = None) -> bytes:
    """One part of a form."""
    file = b"" if filename is None else f'; filename="{filename}"'.encode()
    head = b'--frame\r\nContent-Disposition: form-data; name="' + name.encode() + b'"' + file
    return head + b"\r\n\r\n" + data + b"\r\n"


END = b"--frame--\r\n"
TOKEN = part("token", b"right")


@dataclass
class Sender:
    """What a browser sends, piece by piece; counts what was asked of it."""

    pieces: list[bytes | str]
    headers: dict[str, str] = field(default_factory=dict)
    asked: int = 0
    sent: bytes = b""

    async def __call__(self) -> dict[str, Any]:
        """The next piece; at the end of them the connection drops, unless the form was whole."""
        if not self.pieces:
            return {"type": "http.disconnect"}
        piece = self.pieces.pop(0)
        self.asked += 1
        if isinstance(piece, str):
            await asyncio.sleep(5)
            piece = b""
        self.sent += piece
        whole = piece == b"" or (not self.pieces and self.sent.endswith(END))
        return {"type": "http.request", "body": piece, "more_body": not whole}


def take(tmp_path: Path, sender: Sender, limits: Limits = LIMITS) -> dict[str, Any]:
    """Fields, and the files with their bytes, as they were inside the block."""
    kind = {"content-type": "multipart/form-data; boundary=frame", **sender.headers}
    scope = {
        "type": "http",
        "method": "POST",
        "headers": [(name.encode(), value.encode()) for name, value in kind.items()],
    }

    async def taking() -> dict[str, Any]:
        gate = Gate("right".__eq__, tmp_path, limits)
        async with received(Request(scope, sender), gate) as form:
            files = [(one.field, one.name, one.incoming.size) for one in form.uploads]
            assert count(tmp_path) == len(files)
            return {"fields": form.fields, "files": files}

    try:
        return asyncio.run(taking())
    finally:
        assert count(tmp_path) == 0


def count(cache: Path) -> int:
    """How many files are on their way in."""
    return len(list(cache.glob("incoming/*")))


def refused(tmp_path: Path, pieces: Iterable[bytes | str], **headers: str) -> UploadRefused:
    """The refusal of a form."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    with pytest.raises(UploadRefused) as found:
        take(tmp_path, Sender(list(pieces), named))
    return found.value


@pytest.mark.parametrize("step", [1, 7, 64, 10_000])
def test_a_form_comes_in_whole_whatever_the_pieces(tmp_path: Path, step: int) -> None:
    """Fields and pictures are the same however the bytes are cut, and nothing is left after."""
    whole = (
        TOKEN
        + part("text", "Skins on, 12 °C".encode())
        + part("file", PICTURE, "../../etc/IMG 1.jpg")
        + part("file", b"", "")
        + part("task-1", b"W14")
        + part("task-1", b"W15")
        + END
    )
    found = take(tmp_path, Sender([whole[at : at + step] for at in range(0, len(whole), step)]))
    assert found["fields"] == {
        "token": ["right"],
        "text": ["Skins on, 12 °C"],
        "task-1": ["W14", "W15"],
    }
    assert found["files"] == [("file", "../../etc/IMG 1.jpg", len(PICTURE))]


@pytest.mark.parametrize(
    ("pieces", "status", "words"),
    [
        ([TOKEN, part("file", PICTURE + bytes(4000), "a.jpg"), END], 413, "64 MB"),
        ([TOKEN, *[part("file", PICTURE, "a.jpg")] * 3, END], 413, "more than 2 pictures"),
        ([TOKEN, part("text", bytes(51)), END], 413, "came"),
        ([TOKEN, *[part("x", b"1")] * 4, END], 413, "too many fields"),
        ([TOKEN, part("file", b"#!/bin/sh\nrm -r ~\n" * 9, "a.jpg"), END], 415, "a text file"),
        ([TOKEN, part("file", b"MZ\x90\0" * 40, "a.jpg"), END], 415, "'a.jpg' is not a picture"),
        ([TOKEN, part("file", b"GIF89a", "a.gif"), END], 415, "a GIF picture"),
        ([part("file", PICTURE, "a.jpg"), TOKEN, END], 403, "older than the bench"),
        ([part("text", b"hello"), END], 403, "older than the bench"),
        ([part("token", b"wrong"), END], 403, "older than the bench"),
        ([b"no form at all"], 400, "broke off"),
        ([TOKEN, SLOW, END], 408, "too slowly"),
        ([TOKEN, part("file", PICTURE, "a.jpg"), SLOW, END], 408, "too slowly"),
    ],
)
def test_what_is_too_much_or_no_picture_is_refused(
    tmp_path: Path, pieces: list[bytes | str], status: int, words: str
) -> None:
    """Each has its status and a sentence, and leaves no file behind."""
    found = refused(tmp_path, pieces)
    assert (found.status, words in found.sentence) == (status, True), found.sentence


def test_a_form_that_breaks_off_is_no_form(tmp_path: Path) -> None:
    """A sender that goes away in the middle of a picture leaves nothing behind."""
    begun = [TOKEN, part("file", PICTURE, "a.jpg")[:400]]
    with pytest.raises(ClientDisconnect):
        take(tmp_path, Sender([*begun]))
    sender = Sender([*begun, b""])
    with pytest.raises(UploadRefused, match="broke off"):
        take(tmp_path, sender)


def test_what_is_announced_as_too_much_is_refused_unread(tmp_path: Path) -> None:
    """Not one piece is asked for where the head of the request says more than is taken."""
    sender = Sender([TOKEN, END], {"content-length": "9001"})
    with pytest.raises(UploadRefused, match="more than"):
        take(tmp_path, sender)
    assert sender.asked == 0


def test_what_is_too_much_is_refused_on_the_way(tmp_path: Path) -> None:
    """Without an announced length the reading ends where the limit is passed, not at the end."""
    pieces = [bytes(1000)] * 40
    sender = Sender([TOKEN, part("file", PICTURE, "a.jpg")[:-2], *pieces])
    with pytest.raises(UploadRefused):
        take(tmp_path, sender, replace(LIMITS, one_file=10**9))
    assert sender.asked < 12


def test_a_wrong_token_in_the_head_is_refused_unread(tmp_path: Path) -> None:
    """A script that sends no token of ours is stopped before its picture comes."""
    sender = Sender([part("file", PICTURE, "a.jpg"), END], {"x-bench-token": "guessed"})
    with pytest.raises(UploadRefused, match="older than the bench"):
        take(tmp_path, sender)
    assert sender.asked == 0


def test_a_form_without_files_may_come_as_words(tmp_path: Path) -> None:
    """The plain encoding of forms is taken too, within the same bounds."""
    kind = {"content-type": "application/x-www-form-urlencoded"}
    found = take(tmp_path, Sender([b"token=right&do=st", b"art&empty=", b""], kind))
    assert found["fields"] == {"token": ["right"], "do": ["start"], "empty": [""]}
    with pytest.raises(UploadRefused):
        take(tmp_path, Sender([b"token=right&text=" + bytes(60), b""], kind))
    with pytest.raises(UploadRefused, match="no form"):
        take(tmp_path, Sender([b"{}", b""], {"content-type": "application/json"}))
