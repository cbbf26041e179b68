"""The phone's app on the network of the house: the code, the form, the pictures; nothing else."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from builderlog.bench import answers
from builderlog.bench.answers import GONE, LAST, see, surroundings, take_note, take_picture
from builderlog.bench.door import Door, DoorClosed, Session
from builderlog.bench.form import FormKept
from builderlog.bench.form_parts import Gate, Limits, UploadRefused
from builderlog.bench.guard import Guard
from builderlog.bench.phone_pages import code_page, form_page, written_page
from builderlog.bench.receiving import received
from builderlog.bench.workplace import Workplace
from builderlog.storing.refusal import Refused

COOKIE = "builderlog-phone"
INK = frozenset(("bench.css", "form.js", "phone.js"))
A_CODE = Limits(one_file=0, whole=4096, files=0, one_field=256, fields=8, pause_seconds=5.0)
TOO_MANY, NOT_LET_IN = 429, 403


def phone_app(place: Workplace, door: Door, hosts: frozenset[str]) -> ASGIApp:
    """The app; it answers under `hosts` alone (name and port)."""
    phone = Phone(place, door, time.monotonic)
    routes = [
        Route("/", phone.page),
        Route("/code", phone.code, methods=["POST"]),
        Route("/note", phone.note, methods=["POST"]),
        Route("/pictures", phone.pictures, methods=["POST"]),
        Route("/ink/{name}", phone.ink),
    ]
    return Guard(Starlette(routes=routes, exception_handlers={Refused: surroundings}), hosts)


@dataclass(frozen=True, slots=True)
class Phone:
    """What each address answers."""

    place: Workplace
    door: Door
    seconds: Callable[[], float]

    async def page(self, request: Request) -> Response:
        """The code's page, or the form for a phone that was let in."""
        session = self._session(request)
        if session is None:
            return HTMLResponse(code_page(self.door.token))
        asked = bool(request.query_params.get("wrote")) and bool(session.wrote)
        return HTMLResponse(await run_in_threadpool(self._page, session, asked))

    async def code(self, request: Request) -> Response:
        """Lets a phone in; the code is used up by that."""
        gate = Gate(lambda token: token == self.door.token, self.place.live.cache, A_CODE)
        try:
            async with received(request, gate) as form:
                code = next(iter(form.fields.get("code", ())), "")
            session = self.door.knock(code)
        except UploadRefused as refused:
            return HTMLResponse(code_page(self.door.token, refused.sentence), refused.status, LAST)
        except DoorClosed as closed:
            return HTMLResponse(code_page(self.door.token, str(closed)), TOO_MANY)
        except ClientDisconnect:
            return Response(status_code=GONE)
        if session is None:
            told = "this is not the code that stands on the terminal; read it again"
            return HTMLResponse(code_page(self.door.token, told), NOT_LET_IN)
        answer = see("/")
        answer.set_cookie(COOKIE, session.word, httponly=True, samesite="strict", path="/")
        return answer

    async def note(self, request: Request) -> Response:
        """Writes tonight's note."""
        session = self._session(request)
        if refused := self._refuses(session):
            return refused
        assert session is not None  # noqa: S101 - refused above
        page = _Form(self, session)
        made = await take_note(request, self.place, self._gate(session), page, phone=True)
        if not isinstance(made, str):
            return made
        session.wrote = made
        return see("/", wrote="yes")

    async def pictures(self, request: Request) -> Response:
        """Takes one picture into the inbox."""
        session = self._session(request)
        if self._refuses(session):
            told = (
                "let the phone in again: load the page, then type the code"
                if session is None
                else "that is a lot at once; wait ten minutes, then go on"
            )
            status = NOT_LET_IN if session is None else TOO_MANY
            return JSONResponse({"told": told}, status, LAST)
        assert session is not None  # noqa: S101 - refused above
        return await take_picture(request, self.place, self._gate(session))

    async def ink(self, request: Request) -> Response:
        """A style sheet or a script."""
        return await run_in_threadpool(answers.ink, request.path_params["name"], INK)

    def _session(self, request: Request) -> Session | None:
        return self.door.session(request.cookies.get(COOKIE))

    def _refuses(self, session: Session | None) -> Response | None:
        if session is None:
            told = "type the code that stands on the terminal"
            return HTMLResponse(code_page(self.door.token, told), NOT_LET_IN, LAST)
        if not session.may(self.seconds()):
            return HTMLResponse("that is a lot at once; wait ten minutes, then go on", TOO_MANY)
        return None

    def _gate(self, session: Session) -> Gate:
        return Gate(lambda token: token == session.token, self.place.live.cache)

    def _page(self, session: Session, written: bool) -> str:  # noqa: FBT001
        desk = self.place.desk(phone=True, token=session.token)
        return written_page(desk, session.wrote) if written else form_page(desk)


@dataclass(frozen=True, slots=True)
class _Form:
    """The form again, for one session."""

    phone: Phone
    session: Session

    def __call__(self, kept: FormKept | None, told: str) -> str:
        desk = self.phone.place.desk(phone=True, token=self.session.token)
        return form_page(desk, kept, told)
