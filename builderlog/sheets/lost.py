"""The sheet of the page for an address at which nothing stands, which many hosts show by its name.

Such a page is shown at any address, so nothing in it may lead anywhere but by a whole address.
"""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding import addresses
from builderlog.deciding.addresses import relative_url
from builderlog.deciding.public import PublicLedger


@dataclass(frozen=True, slots=True)
class LostSheet:
    """What to say, and where to go on: words with a whole address; none where it is not known."""

    title: str
    site_title: str
    words: tuple[str, ...]  # paragraphs
    links: tuple[tuple[str, str], ...]


TITLE = "Nothing stands here"
FOUND = "This address leads to no page. It was moved or renamed, or there never was one."
BY_HAND = (
    "To go on, take away the end of the address above, back to the folder of the journal, "
    "and open that. Or ask whoever gave you this address."
)


def lost_sheet(public: PublicLedger) -> LostSheet:
    """The page for an address at which nothing stands."""
    if public.address is None:
        return LostSheet(TITLE, public.title, (FOUND, BY_HAND), ())
    pages = [(public.title, ""), ("All notes, month by month", addresses.ARCHIVE)]
    if public.notes:
        pages.append(("Search", addresses.SEARCH))
    links = tuple(
        (label, public.address + (relative_url("", path) if path else "")) for label, path in pages
    )
    return LostSheet(TITLE, public.title, (FOUND,), links)
