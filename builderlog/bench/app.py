"""The bench's app on this machine: the first page, the form, the live site, the events."""

from __future__ import annotations

import mimetypes
import re
from collections.abc import AsyncIterator
from dataclasses import dataclass
from html import escape

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp

from builderlog.bench import answers
from builderlog.bench.answers import nothing_here, see, surroundings, take_note, take_picture
from builderlog.bench.bulletin import event
from builderlog.bench.form import FormKept
from builderlog.bench.form_parts import Gate, UploadRefused
from builderlog.bench.front import front_page, front_parts
from builderlog.bench.guard import CONTENT_POLICY, POLICY, Guard
from builderlog.bench.live_journal import told
from builderlog.bench.receiving import received
from builderlog.bench.workplace import Workplace
from builderlog.deciding.addresses import NOT_FOUND
from builderlog.drawing.theme import ThemeFault
from builderlog.storing.refusal import Refused

INK = frozenset(("bench.css", "form.js", "bench.js", "live.js", "live.css"))
LIVE = b'<link rel="stylesheet" href="/ink/live.css"><script src="/ink/live.js" defer></script>'
# The page for what is not there is one file alone, with its style inside.
ALONE = {
    CONTENT_POLICY: POLICY[CONTENT_POLICY].replace(
        "style-src 'self'", "style-src 'self' 'unsafe-inline'"
    )
}
# A page carries its own policy for friends, which lets no script in: ours stands in its place.
_OWN_POLICY = re.compile(rb'<meta\s+http-equiv="?content-security-policy"?[^>]*>', re.IGNORECASE)


def bench_app(place: Workplace, hosts: frozenset[str]) -> ASGIApp:
    """The app; it answers under `hosts` alone (name and port)."""
    bench = Bench(place, Gate(lambda token: token == place.token, place.live.cache))
    routes = [
        Route("/", bench.front),
        Route("/parts", bench.parts),
        Route("/note", bench.note, methods=["POST"]),
        Route("/pictures", bench.pictures, methods=["POST"]),
        Route("/clock", bench.clock, methods=["POST"]),
        Route("/inbox/{name}/small", bench.small),
        Route("/events", bench.events),
        Route("/ink/{name}", bench.ink),
        Route("/site", bench.site),
        Route("/site/{path:path}", bench.site),
    ]
    return Guard(Starlette(routes=routes, exception_handlers={Refused: surroundings}), hosts)


@dataclass(frozen=True, slots=True)
class Bench:
    """What each address answers."""

    place: Workplace
    gate: Gate

    async def front(self, request: Request) -> Response:
        """The builder's first page."""
        query = request.query_params
        wrote = query.get("wrote", "")
        said = self.place.said.pop() if "told" in query and self.place.said else ""
        text = await run_in_threadpool(
            lambda: front_page(self.place.desk(), wrote=wrote, told=said)
        )
        return HTMLResponse(text)

    async def parts(self, _request: Request) -> Response:
        """The panels alone."""
        return HTMLResponse(await run_in_threadpool(lambda: front_parts(self.place.desk())))

    async def note(self, request: Request) -> Response:
        """Writes tonight's note."""
        made = await take_note(request, self.place, self.gate, self._form)
        return see("/", wrote=made) if isinstance(made, str) else made

    def _form(self, kept: FormKept | None, said: str) -> str:
        return front_page(self.place.desk(), kept, told=said)

    async def pictures(self, request: Request) -> Response:
        """Takes one picture into the inbox."""
        return await take_picture(request, self.place, self.gate)

    async def clock(self, request: Request) -> Response:
        """Starts or stops the shop's clock."""
        try:
            async with received(request, self.gate) as form:
                do = next(iter(form.fields.get("do", ())), "")
        except UploadRefused as refused:
            return PlainTextResponse(f"{refused.sentence}\n", refused.status)
        if do not in ("start", "stop"):
            return PlainTextResponse("a clock is started or stopped\n", answers.UNREADY)
        said = await run_in_threadpool(self.place.turn_clock, do)
        self.place.said[:] = [said] if said else []
        return see("/", told="yes" if said else "")

    async def small(self, request: Request) -> Response:
        """A small picture of one that lies in the inbox."""
        file = await run_in_threadpool(self.place.inbox.find, request.path_params["name"])
        if file is None:
            return nothing_here()
        try:
            data = await run_in_threadpool(self.place.inbox.small, file, self.place.live.store)
        except UploadRefused:
            return nothing_here()
        return Response(data, media_type="image/webp")

    async def events(self, _request: Request) -> Response:
        """What happens, as it happens; the problems as they stand come first."""
        first = event("problems", told(self.place.live.now.problems))
        return StreamingResponse(self._listened(first), media_type="text/event-stream")

    async def _listened(self, first: bytes) -> AsyncIterator[bytes]:
        async for data in self.place.live.bulletin.listen([first]):
            yield data

    async def ink(self, request: Request) -> Response:
        """A style sheet or a script."""
        return await run_in_threadpool(answers.ink, request.path_params["name"], INK)

    async def site(self, request: Request) -> Response:
        """A file of the friends' site as it would be published now."""
        path = request.path_params.get("path")
        if path is None:
            return see("/site/")
        return await run_in_threadpool(self._site, path or "index.html")

    def _site(self, path: str) -> Response:
        try:
            try:
                data = self._drawn(path)
            except (ThemeFault, OSError):  # of the look a file may be gone since it was looked at
                self.place.live.look()
                data = self._drawn(path)
        except (ThemeFault, Refused, OSError) as fault:
            return HTMLResponse(with_live(_trouble(str(fault))), 500)
        if data is None:
            return nothing_here()
        kind = mimetypes.guess_type(path)[0] or "application/octet-stream"
        if kind != "text/html":
            return Response(data, media_type=kind)
        return HTMLResponse(with_live(data), headers=ALONE if path == NOT_FOUND else None)

    def _drawn(self, path: str) -> bytes | None:
        """The file as the site stands now; None where it has none. Raises as `LiveSite.draw`."""
        site = self.place.live.now.site
        if site is None or path not in site.marks:
            return None
        return site.draw(path, self.place.live.store)


def with_live(page: bytes) -> bytes:
    """The page with our script in its head, which swaps its words when they change."""
    opened = _OWN_POLICY.sub(b"", page, count=1)
    head, end, rest = opened.partition(b"</head>")
    return head + LIVE + end + rest if end else LIVE + page


def _trouble(sentence: str) -> bytes:
    """A page in place of one that a theme's fault keeps from being drawn."""
    head = "<!doctype html><html lang=en><head><meta charset=utf-8><title>Not drawn</title></head>"
    return f"{head}<body><main id=main><p>{escape(sentence)}</p></main></body></html>".encode()
