"""Every link of the example's site leads somewhere: from disk, and on a host in a sub-folder.

Source: RFC 3986, section 5 (how a relative reference is resolved), as urllib does it; a host of
the standard library.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import unquote, urldefrag, urljoin, urlsplit
from urllib.request import urlopen

import pytest

from builderlog.drawing.theme import theme_names
from tests.drawing.page_reader import ReadPage, read_page
from tests.outside import tools
from tests.outside.serving import hosted

Pages = Mapping[str, ReadPage]  # by their path from the site's folder

in_every_theme = pytest.mark.parametrize("theme", theme_names())


@pytest.fixture(scope="module")
def read(themed: Mapping[str, Path]) -> Mapping[str, Pages]:
    """All pages of the example's site by theme."""
    return {name: pages_in(site) for name, site in themed.items()}


def pages_in(site: Path) -> Pages:
    """Every page of a site."""
    return {
        file.relative_to(site).as_posix(): read_page(file.read_text(encoding="utf-8"))
        for file in tools.pages_of(site, "**/*.html")
    }


def links_of(pages: Pages, base: str) -> Iterator[tuple[str, str, str]]:
    """Where each link leads that is the site's own: the page it stands on, address and anchor.

    `base` is the address of the site's folder.
    """
    for path, page in pages.items():
        for url in page.urls:
            address, anchor = urldefrag(urljoin(base + path, url))
            if urlsplit(url).scheme not in ("http", "https", "mailto", "data"):
                yield path, address, unquote(anchor)


def strays(pages: Pages, site: Path, base: str) -> list[str]:
    """Links that leave the site's folder, or lead to no file or no place on its page."""
    told = []
    for path, address, anchor in links_of(pages, base):
        target = unquote(address.removeprefix(base)) or "index.html"
        if not address.startswith(base) or not (site / target).is_file():
            told.append(f"{path}: {address}")
        elif anchor and anchor not in pages[target].ids:
            told.append(f"{path}: {address}#{anchor}")
    return told


@in_every_theme
@pytest.mark.parametrize("base", ["file:///a%20stick/site/", "https://friends.example/a/b/"])
def test_every_link_and_anchor_is_there(
    themed: Mapping[str, Path], read: Mapping[str, Pages], theme: str, base: str
) -> None:
    """From disk and in a sub-folder alike: each stays in the folder and finds file and place."""
    assert strays(read[theme], themed[theme], base) == []
    assert sum(1 for _ in links_of(read[theme], base)) > 1000


@in_every_theme
def test_a_host_gives_every_file_that_is_linked(
    themed: Mapping[str, Path], read: Mapping[str, Pages], theme: str
) -> None:
    """A host that serves the folder above has each of them under its address, byte by byte."""
    site = themed[theme]
    with hosted(site.parent) as home:
        base = f"{home}{site.name}/"
        for address in sorted({address for _, address, _ in links_of(read[theme], base)}):
            with urlopen(address, timeout=10) as answer:  # noqa: S310 - our own host
                assert answer.status == 200, address
        with pytest.raises(HTTPError, match="404"):
            urlopen(f"{base}nowhere.html", timeout=10)  # noqa: S310 - the same


def test_strays_are_told(tmp_path: Path) -> None:
    """A link to no file, to no place on a page, out of the folder and from the root are told."""
    links = ("gone.html", "#gone", "../out.html", "/root.html", "index.html#here", "https://x.y/")
    html = "".join(f'<a id="here" href="{link}">x</a>' for link in links)
    (tmp_path / "index.html").write_text(html, encoding="utf-8")
    told = strays(pages_in(tmp_path), tmp_path, "https://friends.example/a/")
    assert [each.rpartition("/")[2] for each in told] == [
        "gone.html",
        "index.html#gone",
        "out.html",
        "root.html",
    ]
