"""Where the links in a note's words lead: a picture, a note, the wide world, or nowhere."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from builderlog.knowing.files import Finder, NotFoundError, is_picture
from builderlog.reading.prose import ProseLink

_SCHEME = re.compile(r"([a-z][a-z0-9+.-]*):", re.IGNORECASE)
_WIDE_WORLD = frozenset({"http", "https", "mailto", "tel"})


@dataclass(frozen=True, slots=True)
class LinkJudged:
    """What a link is, the file it leads to, and what to tell the builder (code "" for nothing)."""

    kind: Literal["picture", "note", "wide world", "here", "file", "refused"]
    path: str = ""
    code: str = ""
    message: str = ""


def judge_link(note: str, link: ProseLink, finder: Finder, notes: frozenset[str]) -> LinkJudged:
    """`note` is the path of the note that holds the link; `notes` are the paths of all notes."""
    if link.kind == "link" and (link.target.startswith("#") or not link.target):
        return LinkJudged("here")
    if scheme := _SCHEME.match(link.target):
        return _with_scheme(link, scheme[1].lower())
    if link.target.startswith("//"):
        return _with_scheme(link, "https")
    try:
        path = finder.linked(note, link.target)
    except NotFoundError as fault:
        return LinkJudged("refused", "", fault.code, str(fault))
    return _inside(path, link, notes)


def _with_scheme(link: ProseLink, scheme: str) -> LinkJudged:
    if scheme not in _WIDE_WORLD:
        told = f"a link that begins with '{scheme}:' is refused; link to a file or to a page"
        return LinkJudged("refused", "", "link-refused", told)
    if link.kind == "image":
        told = f"'{link.target}' is not in the journal and is not shown; put a copy into photos/"
        return LinkJudged("wide world", "", "picture-elsewhere", told)
    return LinkJudged("wide world")


def _inside(path: str, link: ProseLink, notes: frozenset[str]) -> LinkJudged:
    if is_picture(path):
        return LinkJudged("picture", path)
    if path in notes and link.kind == "link":
        return LinkJudged("note", path)
    told = f"'{link.target}' is no picture and no note; friends see its words without the link"
    return LinkJudged("file", path, "link-not-shown", told)
