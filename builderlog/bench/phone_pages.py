"""The phone's three pages: the code, the form, and what was understood; they know nothing else."""

from __future__ import annotations

from builderlog.bench.desk import Desk
from builderlog.bench.form import FormKept
from builderlog.bench.form_view import form_view, small_url
from builderlog.bench.pen import draw
from builderlog.bench.written import written


def code_page(token: str, told: str = "") -> str:
    """The page that asks for the code which stands on the terminal."""
    return draw("phone-code.html", {"token": token, "told": told})


def form_page(desk: Desk, kept: FormKept | None = None, told: str = "") -> str:
    """The form alone."""
    view = form_view(desk, kept)
    return draw("phone-form.html", {"form": view, "told": told, "small_url": small_url})


def written_page(desk: Desk, wrote: str) -> str:
    """What was understood of the note just written; that alone, and no sum of the journal."""
    return draw("phone-written.html", {"written": written(desk, wrote)})
