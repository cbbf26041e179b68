"""The friends' site in other browsers than Chromium: from disk, as from a stick.

Sources: Firefox ESR (Gecko), and WebKitGTK (WebKit, the engine of Safari and of every browser on
iPhones), both from Debian's packages, by their own remote protocols.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from builderlog.drawing.theme import theme_names
from tests.drawing.made_public import SKINS
from tests.drawing.made_site import write_site
from tests.outside import tools
from tests.outside.engines import ENGINES, ESCAPE, RIGHT, Engine

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LINK = "document.querySelectorAll('main a[data-large]')[0]"
VIEWER = "document.querySelector('.viewer[open]')"
PICTURE = "document.querySelector('.viewer img')"
# Whether the picture ends above the words below it, to half a pixel.
ABOVE_ITS_WORDS = f"""{PICTURE}.getBoundingClientRect().bottom
    < document.querySelector('.viewer figcaption').getBoundingClientRect().top + 0.5"""
FIELD, FOUND = "document.querySelector('#words')", "document.querySelector('[data-found] a')"
# Style sheets and pictures that did not come, and what is wider than the window.
AMISS = """return [...document.querySelectorAll('link[rel=stylesheet]')].filter(one => !one.sheet)
    .concat([...document.images].filter(one => one.complete && !one.naturalWidth))
    .map(one => one.href || one.src).concat(
        document.documentElement.scrollWidth > innerWidth ? ['too wide'] : [])"""


@pytest.fixture(scope="module", params=ENGINES, ids=lambda engine: engine.__name__)
def engine(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Engine]:
    """One browser for all tests of it."""
    made: Engine = request.param(tmp_path_factory.mktemp("home"))
    with closing(made):
        made.start()
        yield made


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The hand-made site in every theme."""
    return {name: write_site(tmp_path_factory.mktemp(name), theme=name) for name in theme_names()}


@pytest.mark.parametrize("theme", theme_names())
def test_every_kind_of_page_is_whole(engine: Engine, sites: dict[str, Path], theme: str) -> None:
    """Its style and its pictures come, from disk under its own policy, and nothing is too wide."""
    told = {}
    for name, pattern in tools.KINDS:
        if pages := sorted(sites[theme].glob(pattern)):
            engine.open(pages[0].as_uri())
            told[name] = engine.run(AMISS)
    assert [amiss for amiss in told.items() if amiss[1]] == []
    assert len(told) > 10


@pytest.mark.parametrize("theme", theme_names())
def test_a_large_picture_leaves_its_words_free(
    engine: Engine, sites: dict[str, Path], theme: str
) -> None:
    """The viewer opens by its address, and the picture ends above its caption."""
    engine.open(f"{(sites[theme] / 'photos.html').as_uri()}#picture-{SKINS[:16]}")
    engine.until(f"{VIEWER} && {PICTURE}.naturalWidth && {ABOVE_ITS_WORDS}")


def test_keys_turn_the_pictures(engine: Engine, sites: dict[str, Path]) -> None:
    """An arrow turns to the next, Escape closes and gives the focus back to what opened it."""
    engine.open((sites["trammel"] / "photos.html").as_uri())
    engine.until(LINK)
    engine.run(f"{LINK}.focus(); {LINK}.click()")
    engine.until(VIEWER)
    engine.press(RIGHT)
    engine.until(f"{VIEWER}.innerText.includes('2 of ')")
    engine.press(ESCAPE)
    engine.until(f"!{VIEWER} && !location.hash")
    engine.until("document.activeElement.matches('main a[data-large]')")


def test_back_leads_to_the_search_as_it_was(engine: Engine, sites: dict[str, Path]) -> None:
    """What was typed stands in the field again, over what it found."""
    engine.open((sites["trammel"] / "search.html").as_uri())
    engine.run(f"{FIELD}.focus()")
    engine.press("skin")
    engine.until(FOUND)
    engine.run(f"{FOUND}.click()")
    engine.until("!location.pathname.endsWith('/search.html')")
    engine.back()
    engine.until(f"{FOUND} && {FIELD}.value === 'skin'")
