"""Names on the web as the builder writes them: the site's address, and a tag that feeds keep."""

from __future__ import annotations

import re
from datetime import date
from urllib.parse import quote, urlsplit

from builderlog.knowing.units import UnreadableError

_HOST = re.compile(
    r"(?=.{1,253}$)[a-z0-9](?:[a-z0-9-]*[a-z0-9])?(?:\.[a-z0-9](?:[a-z0-9-]*[a-z0-9])?)*", re.ASCII
)
# tagURI of RFC 4151, section 2.1: an authority, a day, and what the authority made of it.
_TAG = re.compile(
    r"tag:(?P<authority>[^,:]+),(?P<day>\d{4}(?:-\d\d(?:-\d\d)?)?):"
    r"(?P<specific>(?:[\w.~!$&'()*+,;=:@/?-]|%[0-9A-Fa-f]{2})*)",
    re.ASCII,
)
_MAIL_NAME = re.compile(r"[\w.-]+", re.ASCII)
TAG_EXAMPLE = "tag:example.org,2026:my-aircraft"


def parse_address(text: str) -> str:
    """The address of a site's folder, `https://example.org/build/`, always with its last `/`.

    Raises `UnreadableError`.
    """
    write = "write the folder's address, as in https://example.org/build/"
    try:
        parts = urlsplit(text.strip())
        host, port = parts.hostname or "", parts.port
    except ValueError as fault:
        raise UnreadableError(f"'{text}' is no address of a web space; {write}") from fault
    if parts.scheme not in ("http", "https") or not _HOST.fullmatch(host):
        raise UnreadableError(f"'{text}' is no address of a web space; {write}")
    if parts.query or parts.fragment or parts.username is not None:
        raise UnreadableError(f"'{text}' is more than the address of a folder; {write}")
    if parts.path.endswith((".html", ".htm")):
        raise UnreadableError(f"'{text}' is the address of one page; {write}")
    path = quote(parts.path.strip("/"), safe="/%~!$&'()*+,;=:@")
    shown_port = f":{port}" if port else ""
    return f"{parts.scheme}://{host}{shown_port}/{path}{'/' if path else ''}"


def parse_tag(text: str) -> str:
    """A tag URI (RFC 4151), `tag:example.org,2026:my-aircraft`. Raises `UnreadableError`."""
    found = _TAG.fullmatch(text.strip())
    name, _, host = (found["authority"] if found else "").rpartition("@")
    if (
        found is None
        or not _HOST.fullmatch(host)
        or ("@" in found["authority"] and not _MAIL_NAME.fullmatch(name))
    ):
        told = f"'{text}' is no tag URI; write a host of yours, a day on which it was yours, a name"
        raise UnreadableError(f"{told}, as in {TAG_EXAMPLE}")
    year, month, day = (*found["day"].split("-"), "01", "01")[:3]
    try:
        date(int(year), int(month), int(day))
    except ValueError as fault:
        told = f"'{found['day']}' in '{text}' is no day of the calendar; write {TAG_EXAMPLE}"
        raise UnreadableError(told) from fault
    return text.strip()
