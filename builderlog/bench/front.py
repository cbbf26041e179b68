"""The bench's first page: what the builder wants to know tonight, and the form for the note."""

from __future__ import annotations

from builderlog.bench.desk import Desk
from builderlog.bench.form import FormKept
from builderlog.bench.form_view import form_view, pictures_of, small_url
from builderlog.bench.panels import panels
from builderlog.bench.pen import draw
from builderlog.bench.written import written


def front_page(desk: Desk, kept: FormKept | None = None, wrote: str = "", told: str = "") -> str:
    """The whole page. `wrote` is the path of the note just written, `told` a sentence over all."""
    done = written(desk, wrote) if wrote else None
    values: dict[str, object] = {
        "title": desk.ledger.settings.title or "A journal without a title",
        "token": desk.token,
        "panels": panels(desk),
        "form": None if done else form_view(desk, kept),
        "written": done,
        "told": told,
        "small_url": small_url,
    }
    return draw("front.html", values)


def front_parts(desk: Desk) -> str:
    """The panels alone, each a section with its id, and what pictures lie in the inbox.

    They are for the page that is open already.
    """
    values: dict[str, object] = {
        "token": desk.token,
        "panels": panels(desk),
        "pictures": pictures_of(desk),
        "small_url": small_url,
    }
    return draw("fragment.html", values)
