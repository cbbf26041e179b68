"""Who may ask: our own pages under our own names, and nobody else's; before a byte is read.

Against a foreign page in the same browser, and against a name that was made to lead to this
machine. Not against other people who use this machine: they can open what we serve.
"""

from __future__ import annotations

from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

READS = ("GET", "HEAD")
MISDIRECTED, FORBIDDEN = 421, 403
# Nothing on a page comes from elsewhere, runs inline, or is shown in another page's frame. The
# referrer policy is not `no-referrer`: a browser would then send our own forms with `Origin: null`.
CONTENT_POLICY = "content-security-policy"
POLICY = {
    CONTENT_POLICY: (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
        "font-src 'self'; media-src 'self'; connect-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "no-store",
}


@dataclass(frozen=True, slots=True)
class Guard:
    """Wraps an app; `hosts` are the names with port under which it may be asked."""

    app: ASGIApp
    hosts: frozenset[str]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuses, or passes on; the policy goes with every answer."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_policy(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in POLICY.items():
                    headers.setdefault(name, value)
            await send(message)

        refused = self._refuses(scope["method"], Headers(scope=scope))
        app: ASGIApp = PlainTextResponse(refused[1] + "\n", refused[0]) if refused else self.app
        await app(scope, receive, send_with_policy)

    def _refuses(self, method: str, headers: Headers) -> tuple[int, str] | None:
        """Status and sentence, or nothing where all is well."""
        named = headers.getlist("host")
        if len(named) != 1 or named[0].lower() not in self.hosts:
            return MISDIRECTED, f"asked under another name; open http://{min(self.hosts)}/"
        if not self._is_ours(method, headers):
            return FORBIDDEN, "asked from a page that is not the bench's own; nothing was done"
        return None

    def _is_ours(self, method: str, headers: Headers) -> bool:
        """What browsers say of where a request comes from; who says nothing needs the token."""
        origins, site = headers.getlist("origin"), headers.get("sec-fetch-site", "none")
        origin_is_ours = all(
            origin.lower().removeprefix("http://") in self.hosts for origin in origins
        )
        if method not in READS:
            return origin_is_ours and site in ("same-origin", "none") and len(origins) < 2
        follows_a_link = headers.get("sec-fetch-mode") == "navigate"
        return origin_is_ours and (follows_a_link or site in ("same-origin", "none"))
