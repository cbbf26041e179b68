"""The friends' site: every page, picture and file of it, drawn from the public ledger alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from builderlog.deciding import addresses
from builderlog.deciding.public import PublicLedger
from builderlog.drawing.frames import Pictures, frames_of
from builderlog.drawing.pages import Easel, set_up
from builderlog.drawing.pictures import read_copy
from builderlog.drawing.theme import Theme, ThemeFault
from builderlog.reading.problem import Place
from builderlog.sheets.shots import keep_pictures, shown_digests
from builderlog.sheets.site import Page, all_pages
from builderlog.storing.cache import Store

NO_ROBOTS = b"User-agent: *\nDisallow: /\n"


class Receiver(Protocol):
    """Where the site is put: an outbox, which has the last word on every path."""

    def put(self, path: str, data: bytes) -> None:
        """Takes one file."""
        ...


def draw_site(
    public: PublicLedger, pictures: Pictures, theme: Theme, store: Store
) -> Iterator[tuple[str, bytes]]:
    """Every file of the site as (site path, bytes), each path once.

    `pictures` are the copies by digest, from which only those that public notes show are taken;
    a picture without copies is left out of the pages. Raises `ThemeFault`.
    """
    drawable = keep_pictures(public, {digest for digest, copies in pictures.items() if copies})
    digests = shown_digests(drawable)
    easel = set_up(theme, {digest: frames_of(digest, pictures[digest]) for digest in digests})
    drawn: set[str] = set()
    for page in all_pages(drawable):
        drawn.add(page.path)
        yield page.path, page_bytes(easel, page, store)
    for path, data in _pictures(digests, pictures, store):
        drawn.add(path)
        yield path, data
    if not public.findable:
        drawn.add(addresses.ROBOTS)
        yield addresses.ROBOTS, NO_ROBOTS
    yield from _plain_files(theme, drawn)


def write_site(
    public: PublicLedger, pictures: Pictures, theme: Theme, store: Store, receiver: Receiver
) -> int:
    """Puts every file of the site; returns how many."""
    count = 0
    for path, data in draw_site(public, pictures, theme, store):
        receiver.put(path, data)
        count += 1
    return count


def page_bytes(easel: Easel, page: Page, store: Store) -> bytes:
    """The page from the store, else drawn and kept there."""
    key = easel.key(page)
    data = store.get(key)
    if data is None:
        data = easel.draw(page)
        store.put(key, data)
    return data


def _pictures(
    digests: tuple[str, ...], pictures: Pictures, store: Store
) -> Iterator[tuple[str, bytes]]:
    for digest in digests:
        for copy in {copy.width_px: copy for copy in pictures[digest]}.values():
            yield addresses.picture_path(digest, copy.width_px), read_copy(store, copy)


def _plain_files(theme: Theme, drawn: set[str]) -> Iterator[tuple[str, bytes]]:
    """The theme's own files. Raises `ThemeFault` for one that would stand in a page's place."""
    for path, file in theme.plain_files().items():
        if path in drawn:
            raise ThemeFault(
                Place(theme.shown(file)),
                f"the site has a file {path!r} of its own; give this one another name",
            )
        yield path, file.read_bytes()
