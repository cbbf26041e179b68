"""Holds how a picture stands on a page: its shape, and the link that opens it."""

from __future__ import annotations

import pytest

from builderlog.drawing.frames import Frame, image, linked_image
from builderlog.drawing.theme import open_theme, theme_names
from builderlog.sheets.rows import Day, Link, Photo
from tests.drawing.made_public import SKINS, drawn

DAY = Day("2026-03-14", "Saturday 14 March 2026", "14 March 2026", "14 Mar 2026")
PHOTO = Photo(SKINS, 'Skins <held> & "on"', None, DAY, Link("A note", "notes/a.html"))


@pytest.mark.parametrize(
    ("width", "height", "shape"),
    [
        (300, 400, "tall"),
        (400, 300, "wide"),
        (400, 400, "wide"),
        (3, 2, "wide"),
        (16, 9, "broad"),
        (27, 10, "broad"),
        (28, 10, "broad strip"),
    ],
)
def test_a_picture_tells_its_shape(width: int, height: int, shape: str) -> None:
    """A theme learns by a class whether a picture is tall, wide, broad or a long strip."""
    made = image(PHOTO, [Frame("p.webp", width, height)], "index.html", "", eager=False)
    assert f'<img class="{shape}"' in made


def test_a_link_to_a_picture_tells_its_size() -> None:
    """The link leads to the largest copy from the page's own place, and says how large it is."""
    large = Frame("pictures/5-1600.webp", 1600, 1200)
    shown = image(PHOTO, [large], "notes/a.html", "", eager=True)
    assert linked_image(shown, large, "notes/a.html") == (
        '<a href="../pictures/5-1600.webp" data-large="1600 1200">'
        '<img class="wide" src="../pictures/5-1600.webp" width="1600" height="1200" '
        'alt="Skins &lt;held&gt; &amp; &#34;on&#34;" fetchpriority="high"></a>'
    )


@pytest.mark.parametrize("theme", theme_names())
def test_pages_with_pictures_to_open_bring_the_viewer(theme: str) -> None:
    """Every page with such a link loads the viewer, and no other page does."""
    pages = {
        path: data
        for path, data in drawn(theme=open_theme(theme)).items()
        if path.endswith(".html")
    }
    opens = {path for path, data in pages.items() if b"data-large=" in data}
    brings = {path for path, data in pages.items() if b"viewer.js" in data}
    assert "photos.html" in opens
    assert "parts.html" not in opens
    assert brings == opens
