"""The answers that both servers give alike: a form taken in, a picture taken in, a file of ours."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, Response

from builderlog.bench.form import FormKept
from builderlog.bench.form_parts import Gate, Received, Upload, UploadRefused
from builderlog.bench.receiving import received
from builderlog.bench.workplace import Outcome, Workplace
from builderlog.storing.refusal import Refused

KINDS = {".css": "text/css", ".js": "text/javascript"}
SEE_OTHER, UNREADY, NO_ROOM, GONE = 303, 422, 507, 499

LAST = {"connection": "close"}  # an answer before the body was read to its end
Page = Callable[[FormKept | None, str], str]  # the form again: what was filled in, what is told


def ink(name: str, allowed: frozenset[str]) -> Response:
    """A style sheet or a script of ours; only those that this server may give away."""
    ending = name[name.rfind(".") :]
    if name not in allowed or ending not in KINDS:
        return nothing_here()
    data = (files("builderlog.bench") / "pages" / name).read_bytes()
    return Response(data, media_type=KINDS[ending])


def nothing_here() -> Response:
    """What every address gives that does not exist."""
    return PlainTextResponse("nothing is here\n", 404)


def surroundings(_request: Request, refusal: Exception) -> Response:
    """What a page gives where a folder cannot be read or written."""
    return PlainTextResponse(f"{refusal}\n", NO_ROOM)


def see(address: str, **words: str) -> Response:
    """Leads on to a page, so that loading it again sends nothing twice."""
    query = "&".join(f"{name}={quote(value)}" for name, value in words.items() if value)
    place = f"{address}?{query}" if query else address
    return Response(status_code=SEE_OTHER, headers={"location": place})


async def take_picture(request: Request, place: Workplace, gate: Gate) -> Response:
    """POST /pictures: one picture into the inbox; JSON either way."""
    try:
        async with received(request, gate) as form:
            picture = await run_in_threadpool(place.inbox.take, _only(form))
    except UploadRefused as refused:
        return JSONResponse({"told": refused.sentence}, refused.status, LAST)
    except Refused as refusal:
        return JSONResponse({"told": str(refusal)}, NO_ROOM, LAST)
    except ClientDisconnect:
        return Response(status_code=GONE)
    place.live.bulletin.tell("front", {})
    small = f"/inbox/{quote(picture.name)}/small"
    return JSONResponse({"name": picture.name, "taken": picture.taken, "small": small})


async def take_note(
    request: Request, place: Workplace, gate: Gate, page: Page, *, phone: bool = False
) -> Response | str:
    """POST /note: the path of the note, or the form again with all that was filled in."""
    try:
        async with received(request, gate) as form:
            names = [
                (await run_in_threadpool(place.inbox.take, upload)).name for upload in form.uploads
            ]
            outcome = await run_in_threadpool(_write, place, form, names, phone)
    except UploadRefused as refused:
        return HTMLResponse(await run_in_threadpool(page, None, refused.sentence), refused.status)
    except Refused as refusal:
        return HTMLResponse(await run_in_threadpool(page, None, str(refusal)), NO_ROOM)
    except ClientDisconnect:
        return Response(status_code=GONE)
    if outcome.path:
        return outcome.path
    status = UNREADY if outcome.kept and outcome.kept.told else 200
    return HTMLResponse(await run_in_threadpool(page, outcome.kept, ""), status)


def _only(form: Received) -> Upload:
    if len(form.uploads) != 1:
        raise UploadRefused(400, "one picture is taken at a time; send one")
    return form.uploads[0]


def _write(place: Workplace, form: Received, names: list[str], phone: bool) -> Outcome:  # noqa: FBT001
    fields = {name: tuple(values) for name, values in form.fields.items()}
    return place.write(fields, names, phone=phone)
