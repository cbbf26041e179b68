"""What search engines are told: the site map where they may look, and otherwise to stay away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.etree.ElementTree import Element, SubElement, indent, register_namespace, tostring

from builderlog.deciding import addresses
from builderlog.deciding.public import PublicLedger
from builderlog.sheets.site import canonical

NO_ROBOTS = b"User-agent: *\nDisallow: /\n"
# The protocol of sitemaps.org, version 0.9; a map holds at most 50,000 addresses.
NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
MOST_PAGES = 50_000


def finding_files(public: PublicLedger, pages: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    """The files by site path. A map needs whole addresses, and so the site's own."""
    if not public.findable:
        yield addresses.ROBOTS, NO_ROBOTS
    elif public.address is not None:
        yield addresses.SITE_MAP, _site_map(public, pages)
        where = public.address + addresses.SITE_MAP
        yield addresses.ROBOTS, f"User-agent: *\nAllow: /\nSitemap: {where}\n".encode("ascii")


def _site_map(public: PublicLedger, pages: Iterable[str]) -> bytes:
    register_namespace("", NAMESPACE)
    root = Element(f"{{{NAMESPACE}}}urlset")
    days = {addresses.note_path(note.key): note.day.isoformat() for note in public.notes}
    for path in sorted(pages)[:MOST_PAGES]:
        page = SubElement(root, f"{{{NAMESPACE}}}url")
        SubElement(page, f"{{{NAMESPACE}}}loc").text = canonical(public, path)
        if path in days:
            SubElement(page, f"{{{NAMESPACE}}}lastmod").text = days[path]
    indent(root, space="")
    made: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return made + b"\n"
