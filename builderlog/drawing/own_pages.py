"""The builder's own pages: each template in `look/pages/` is a page of the site and in its list.

An own page sees the front page's sheet. It is called after its file: `pages/the-shop.html` is
"The shop".
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import PurePosixPath

from builderlog.deciding.addresses import relative_url
from builderlog.deciding.words import first_upper
from builderlog.drawing.theme import OWN_PAGES, TEMPLATE_ENDING
from builderlog.sheets.site import NavLink, Page


def with_own_pages(pages: Iterable[Page], templates: Iterable[str]) -> Iterator[Page]:
    """The site's pages, the front page first, then the builder's own; every list names these."""
    own = tuple(_names(templates))
    front: Page | None = None
    for page in pages:
        front = front or page
        yield _listing(page, own) if own else page
    if front is not None:
        yield from (_listing(_own_page(front, name), own) for name in own)


def _names(templates: Iterable[str]) -> Iterator[str]:
    """The own pages among a theme's templates, sorted, each "pages/the-shop"."""
    for name in sorted(templates):
        if PurePosixPath(name).parent == PurePosixPath(OWN_PAGES):
            yield name.removesuffix(TEMPLATE_ENDING)


def _title(name: str) -> str:
    return first_upper(PurePosixPath(name).name.replace("-", " "))


def _own_page(front: Page, name: str) -> Page:
    title, path = _title(name), f"{name}{TEMPLATE_ENDING}"
    address = front.chrome.canonical
    chrome = replace(
        front.chrome,
        path=path,
        title=title,
        description=f"{title}. {front.chrome.site_title}.",
        nav=tuple(replace(entry, here=False) for entry in front.chrome.nav),
        sheet_name=title,
        canonical=f"{address}{relative_url('', path)}" if address else None,
        card=None,
    )
    return Page(path, name, chrome, front.sheet)


def _listing(page: Page, own: tuple[str, ...]) -> Page:
    links = (NavLink(_title(name), f"{name}{TEMPLATE_ENDING}", here=False) for name in own)
    return replace(page, chrome=replace(page.chrome, nav=(*page.chrome.nav, *links)))
