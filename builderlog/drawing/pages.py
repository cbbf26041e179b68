"""One page: a sheet and the page's chrome through the theme's template, or from the store.

The key of a page is the digest of its path, its sheet and chrome, its pictures' frames, the
theme's templates, our version and code, and the libraries that write the HTML.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

from jinja2 import TemplateRuntimeError, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

import builderlog
from builderlog.deciding import words
from builderlog.deciding.addresses import relative_url
from builderlog.drawing import chart_bars, chart_days, chart_growth, charts, claim_bars
from builderlog.drawing.frames import Frame, image, linked_image, size_of
from builderlog.drawing.prose_html import Surroundings, prose_html
from builderlog.drawing.theme import Pen, Theme
from builderlog.sheets.chart_days import DaysYear
from builderlog.sheets.chart_estimates import EstimateRow
from builderlog.sheets.chart_growth import GrowthChart
from builderlog.sheets.chart_money import MoneyChart
from builderlog.sheets.chart_pictures import PictureChart
from builderlog.sheets.claim import ClaimBar
from builderlog.sheets.note import ProseText
from builderlog.sheets.rows import HoursChart, Link, Photo
from builderlog.sheets.site import Chrome, Page
from builderlog.storing.cache import key_of

LIBRARIES = ("jinja2", "markupsafe", "markdown-it-py")
# The code that makes a page of a sheet: pages kept by other code are not used again.
CODE = ("reading/markdown.py", "reading/prose*.py", "deciding/*.py", "drawing/*.py")
_DIGEST = re.compile(r"\bdigest='([^']+)'")  # of a `Photo`, as its repr has it
PROSE_SIZES = "(min-width: 60rem) 44rem, 94vw"

Frames = Mapping[str, Sequence[Frame]]  # by digest


class FilterFault(TemplateRuntimeError):
    """A template gave a filter something it cannot draw."""


@dataclass(frozen=True, slots=True)
class Easel:
    """What all pages of one site are drawn with."""

    pen: Pen
    frames: Frames
    templates: str  # digest

    def key(self, page: Page) -> str:
        """The page's key in the store: the same key always gives the same bytes."""
        written = repr(page)
        photos = dict.fromkeys(_DIGEST.findall(written))  # words that look like one do no harm
        frames = [(digest, tuple(self.frames.get(digest, ()))) for digest in photos]
        return key_of("page", _code(), _libraries(), written, repr(frames), self.templates)

    def draw(self, page: Page) -> bytes:
        """The page's bytes. Raises `ThemeFault`."""
        text = self.pen.draw(f"{page.kind}.html", {"sheet": page.sheet, "chrome": page.chrome})
        return text.encode("utf-8")


def set_up(theme: Theme, frames: Frames) -> Easel:
    """The theme made ready for a site with these pictures."""
    return Easel(Pen(theme, _filters(frames)), frames, theme.digest())


@cache
def _code() -> str:
    """SHA-256 in hex over the modules that a page depends on."""
    package = Path(builderlog.__file__).parent
    files = sorted(file for pattern in CODE for file in package.glob(pattern))
    return key_of(*(file.read_bytes() for file in files))


@cache
def _libraries() -> str:
    return " ".join(f"{name} {version(name)}" for name in LIBRARIES)


def _filters(frames: Frames) -> dict[str, Any]:
    """What a template may call, beside jinja's own filters."""
    drawer = _Drawer(frames)
    return {
        "url": drawer.url,
        "picture": drawer.picture,
        "picture_link": drawer.picture_link,
        "picture_url": drawer.picture_url,
        "picture_address": drawer.picture_address,
        "prose": drawer.prose,
        "hours_chart": _hours_chart,
        "swatch": _swatch,
        "growth_chart": _growth_chart,
        "days_chart": _days_chart,
        "money_chart": _money_chart,
        "picture_chart": _picture_chart,
        "bar_hatches": _bar_hatches,
        "estimate_bar": _estimate_bar,
        "length_bar": _length_bar,
        "bar_swatch": _bar_swatch,
        "days_swatch": _days_swatch,
        "claim_bar": _claim_bar,
        "claim_hatches": _claim_hatches,
        "claim_swatch": _claim_swatch,
        "duration": words.duration,
        "counted": words.counted,
    }


@dataclass(frozen=True, slots=True)
class _Drawer:
    """The filters that need the page they stand on, or the pictures."""

    frames: Frames

    @pass_context
    def url(self, context: Context, target: object) -> str:
        """The relative URL of a `Link` or a site path."""
        path = target.path if isinstance(target, Link) else target
        return relative_url(_page_of(context), _expect(path, str, "url"))

    @pass_context
    def picture(
        self, context: Context, photo: object, sizes: str = "100vw", *, eager: bool = False
    ) -> Markup:
        """The img element of a `Photo`."""
        shown = _expect(photo, Photo, "picture")
        return image(shown, self.frames[shown.digest], _page_of(context), sizes, eager=eager)

    @pass_context
    def picture_link(
        self, context: Context, photo: object, sizes: str = "100vw", *, eager: bool = False
    ) -> Markup:
        """The img element of a `Photo` in a link to its largest copy."""
        shown = _expect(photo, Photo, "picture_link")
        frames, page = self.frames[shown.digest], _page_of(context)
        return linked_image(image(shown, frames, page, sizes, eager=eager), frames[-1], page)

    @pass_context
    def picture_url(self, context: Context, photo: object) -> str:
        """The relative URL of a `Photo`'s largest copy."""
        shown = _expect(photo, Photo, "picture_url")
        return relative_url(_page_of(context), self.frames[shown.digest][-1].path)

    @pass_context
    def picture_address(self, context: Context, photo: object) -> str:
        """The whole address of a `Photo`'s largest copy, where the site's is known."""
        shown = _expect(photo, Photo, "picture_address")
        chrome: Chrome = context["chrome"]
        return f"{chrome.address or ''}{self.frames[shown.digest][-1].path}"

    @pass_context
    def prose(self, context: Context, text: object) -> Markup:
        """A `ProseText` as HTML."""
        page = _page_of(context)
        around = Surroundings(
            url=lambda path: relative_url(page, path),
            image=lambda photo: image(
                photo, self.frames[photo.digest], page, PROSE_SIZES, eager=False
            ),
            large=lambda photo: relative_url(page, self.frames[photo.digest][-1].path),
            size=lambda photo: size_of(self.frames[photo.digest][-1]),
        )
        return prose_html(_expect(text, ProseText, "prose"), around)


def _hours_chart(chart: object, name: str = "hours") -> Markup:
    return charts.hours_chart(_expect(chart, HoursChart, "hours_chart"), name)


def _swatch(position: object, name: str = "hours") -> Markup:
    return charts.swatch(name, _expect(position, int, "swatch"))


def _growth_chart(chart: object, name: str = "growth") -> Markup:
    return chart_growth.growth_drawing(_expect(chart, GrowthChart, "growth_chart"), name)


def _days_chart(year: object, title: str, name: str = "days") -> Markup:
    return chart_days.days_drawing(_expect(year, DaysYear, "days_chart"), title, name)


def _money_chart(chart: object, name: str = "money") -> Markup:
    return charts.money_drawing(_expect(chart, MoneyChart, "money_chart"), name)


def _picture_chart(chart: object, name: str = "pictures") -> Markup:
    return charts.pictures_drawing(_expect(chart, PictureChart, "picture_chart"), name)


def _bar_hatches(name: object) -> Markup:
    return chart_bars.bar_hatches(_expect(name, str, "bar_hatches"))


def _estimate_bar(row: object, longest: int, name: str = "bars") -> Markup:
    return chart_bars.estimate_bar(_expect(row, EstimateRow, "estimate_bar"), longest, name)


def _length_bar(length: object, longest: int, name: str = "bars") -> Markup:
    return chart_bars.length_bar(_expect(length, int, "length_bar"), longest, name)


def _bar_swatch(kind: object, name: str = "bars") -> Markup:
    return chart_bars.bar_swatch(_expect(kind, str, "bar_swatch"), name)


def _days_swatch(kind: object) -> Markup:
    return chart_days.days_swatch(_expect(kind, str, "days_swatch"))


def _claim_bar(bar: object, name: str = "claim") -> Markup:
    return claim_bars.claim_bar(_expect(bar, ClaimBar, "claim_bar"), name)


def _claim_hatches(name: object) -> Markup:
    return claim_bars.claim_hatches(_expect(name, str, "claim_hatches"))


def _claim_swatch(side: object, name: str = "claim") -> Markup:
    return claim_bars.claim_swatch(_expect(side, str, "claim_swatch"), name)


def _page_of(context: Context) -> str:
    chrome = context.get("chrome")
    if not isinstance(chrome, Chrome):
        raise FilterFault("the page is not known here; import macros `with context`")
    return chrome.path


def _expect(value: object, kind: type[Any], name: str) -> Any:  # noqa: ANN401 - of `kind`
    if not isinstance(value, kind):
        raise FilterFault(f"the filter {name!r} takes a {kind.__name__}, not {value!r}")
    return value
