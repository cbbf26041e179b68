"""The friends' site: every page, picture and file of it, drawn from the public ledger alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from builderlog.deciding import addresses
from builderlog.deciding.public import PublicLedger
from builderlog.drawing.feed import feed_bytes
from builderlog.drawing.finding import finding_files
from builderlog.drawing.frames import Pictures, frames_of
from builderlog.drawing.look_files import UncleanError, bytes_to_publish
from builderlog.drawing.own_pages import with_own_pages
from builderlog.drawing.pages import Easel, set_up
from builderlog.drawing.pictures import CopyRef, read_copy
from builderlog.drawing.theme import LOOK, Theme, ThemeFault
from builderlog.reading.problem import Place
from builderlog.sheets.feed import Feed
from builderlog.sheets.shots import keep_pictures, shown_digests
from builderlog.sheets.site import Page, all_feeds, all_pages
from builderlog.storing.cache import Store
from builderlog.storing.inside import fold, folders_of

Item = Page | Feed | CopyRef | Path | bytes  # what a file of the site is made of


class Receiver(Protocol):
    """Where the site is put: an outbox, which has the last word on every path."""

    def put(self, path: str, data: bytes) -> None:
        """Takes one file."""
        ...


@dataclass(frozen=True, slots=True)
class SitePlan:
    """Every file of the site by its path, none of them drawn yet."""

    easel: Easel
    items: Mapping[str, Item]

    def draw(self, path: str, store: Store) -> bytes:
        """The bytes of one file; KeyError where the site has none. Raises `ThemeFault`."""
        item = self.items[path]
        if isinstance(item, Page):
            return page_bytes(self.easel, item, store)
        if isinstance(item, Feed):
            return feed_bytes(item, self.easel.frames)
        if isinstance(item, CopyRef):
            return read_copy(store, item)
        return _plain(path, item, store) if isinstance(item, Path) else item


def plan_site(public: PublicLedger, pictures: Pictures, theme: Theme) -> SitePlan:
    """What the site consists of, each path once.

    `pictures` are the copies by digest, from which only those that public notes show are taken;
    a picture without copies is left out of the pages. Raises `ThemeFault`.
    """
    drawable = keep_pictures(public, {digest for digest, copies in pictures.items() if copies})
    digests = shown_digests(drawable)
    easel = set_up(theme, {digest: frames_of(pictures[digest]) for digest in digests})
    pages = with_own_pages(all_pages(drawable), theme.templates())
    items: dict[str, Item] = {page.path: page for page in pages}
    items.update({feed.path: feed for feed in all_feeds(drawable)})
    items.update(_pictures(digests, pictures))
    items.update(finding_files(drawable, _to_find(items)))
    items.update(dict(_plain_files(theme, items)))
    return SitePlan(easel, items)


def draw_site(
    public: PublicLedger, pictures: Pictures, theme: Theme, store: Store
) -> Iterator[tuple[str, bytes]]:
    """Every file of the site as (site path, bytes), each path once. Raises `ThemeFault`."""
    plan = plan_site(public, pictures, theme)
    for path in plan.items:
        yield path, plan.draw(path, store)


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


def _plain(path: str, file: Path, store: Store) -> bytes:
    """A plain file of the look or the theme. Raises `ThemeFault` for a picture that tells more."""
    try:
        return bytes_to_publish(file, store)
    except UncleanError as fault:
        raise ThemeFault(Place(f"{LOOK}/{path}"), str(fault)) from fault


def _to_find(paths: Iterable[str]) -> list[str]:
    """The pages that an address leads to."""
    return [path for path in paths if path.endswith(".html") and path != addresses.NOT_FOUND]


def _pictures(digests: tuple[str, ...], pictures: Pictures) -> Iterator[tuple[str, CopyRef]]:
    for digest in digests:
        for copy in {copy.width_px: copy for copy in pictures[digest]}.values():
            yield addresses.picture_path(copy.stem, copy.width_px), copy


def _plain_files(theme: Theme, drawn: Mapping[str, Item]) -> Iterator[tuple[str, Path]]:
    """The theme's own files. Raises `ThemeFault` for one that would stand in another's place.

    Also where only some file systems take the two names for one, or one is the other's folder.
    """
    taken = {fold(path): path for path in drawn}
    folders = {fold(folder): path for path in drawn for folder in folders_of(path)}
    for path, file in theme.plain_files().items():
        above = [fold(folder) for folder in folders_of(path)]
        for there in filter(None, (*map(taken.get, (fold(path), *above)), folders.get(fold(path)))):
            raise ThemeFault(Place(theme.shown(file)), _in_the_way(path, there))
        taken[fold(path)] = path
        folders.update(dict.fromkeys(above, path))
        yield path, file


def _in_the_way(path: str, there: str) -> str:
    if path == there:
        return f"the site has a file {path!r} of its own; give this one another name"
    return f"{path!r} cannot stand beside the site's {there!r}; give this one another name"
