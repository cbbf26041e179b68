"""Takes a form apart while it arrives: fields bounded, files written aside, refused in mid-stream.

Multipart by RFC 7578. Nothing of a form stays behind that was refused, broken off, or too slow.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from urllib.parse import parse_qsl

from python_multipart.exceptions import FormParserError
from python_multipart.multipart import MultipartParser, parse_options_header
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request

from builderlog.bench.form_parts import (
    BROKEN,
    STALE,
    TOKEN,
    TOKEN_HEADER,
    Gate,
    Limits,
    Parts,
    Received,
    UploadRefused,
    too_much,
)


@asynccontextmanager
async def received(request: Request, gate: Gate) -> AsyncIterator[Received]:
    """The form; its files are gone when the block is left. Raises `UploadRefused`, `Refused`.

    Raises starlette's `ClientDisconnect` where the sender has gone.
    """
    form = Received()
    try:
        await _take(request, gate, form)
        yield form
    finally:
        for upload in form.uploads:
            upload.incoming.discard()


async def _take(request: Request, gate: Gate, form: Received) -> None:
    """Fills the form as far as it comes."""
    _check_announced(request, gate)
    kind, options = parse_options_header(request.headers.get("content-type"))
    try:
        async with asyncio.timeout(gate.limits.whole_seconds):
            if kind == b"multipart/form-data" and options.get(b"boundary"):
                await _take_parts(request, gate, form, options[b"boundary"])
            elif kind == b"application/x-www-form-urlencoded":
                await _take_words(request, gate, form)
            else:
                raise UploadRefused(415, "this is no form; send it from the bench's own page")
    except TimeoutError:
        raise UploadRefused(408, "it came too slowly and was dropped; send it again") from None
    if not _shown(request, form, gate):
        raise UploadRefused(403, STALE)


def _check_announced(request: Request, gate: Gate) -> None:
    """What the head of the request gives away is refused before the body is read."""
    announced = request.headers.get("content-length", "0")
    if not announced.isdecimal() or int(announced) > gate.limits.whole:
        raise too_much(gate.limits.whole)
    token = request.headers.get(TOKEN_HEADER)
    if token is not None and not gate.admits(token):
        raise UploadRefused(403, STALE)


def _shown(request: Request, form: Received, gate: Gate) -> bool:
    """Whether the token was shown, in the head or among the fields that came so far."""
    token = request.headers.get(TOKEN_HEADER) or next(iter(form.fields.get(TOKEN, ())), "")
    return gate.admits(token)


async def _pieces(request: Request, limits: Limits) -> AsyncIterator[bytes]:
    """The body piece by piece, bounded, none of them awaited for too long."""
    stream, came = aiter(request.stream()), 0
    while True:
        async with asyncio.timeout(limits.pause_seconds):
            piece = await anext(stream, None)
        if piece is None:
            return
        came += len(piece)
        if came > limits.whole:
            raise too_much(limits.whole)
        yield piece


async def _take_words(request: Request, gate: Gate, form: Received) -> None:
    """A form without files, as a browser sends one that was made without `multipart`."""
    words = bytearray()
    async for piece in _pieces(request, gate.limits):
        words += piece
        if len(words) > gate.limits.one_field:
            raise too_much(gate.limits.one_field)
    try:
        pairs = parse_qsl(words.decode(), keep_blank_values=True, max_num_fields=gate.limits.fields)
    except ValueError:
        raise UploadRefused(400, "the form cannot be read; load the page again") from None
    for name, value in pairs:
        form.fields.setdefault(name, []).append(value)


async def _take_parts(request: Request, gate: Gate, form: Received, boundary: bytes) -> None:
    parts = Parts(form, gate, lambda: _shown(request, form, gate))
    try:
        parser = MultipartParser(boundary, parts.callbacks())
        async for piece in _pieces(request, gate.limits):
            parser.write(piece)
            if parts.waiting:
                await run_in_threadpool(parts.write_waiting)
        parser.finalize()
    except FormParserError:
        raise UploadRefused(400, BROKEN) from None
    if not parts.ended:
        raise UploadRefused(400, BROKEN)
