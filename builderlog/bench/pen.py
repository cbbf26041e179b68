"""Draws the bench's own pages from the templates in `pages`."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builderlog.drawing.claim_bars import claim_bar, claim_hatches

PAGES = Path(__file__).resolve().parent / "pages"


def draw(template: str, values: dict[str, object]) -> str:
    """A page, or a part of one, as text."""
    return _templates().get_template(template).render(values)


@cache
def _templates() -> Environment:
    jinja = Environment(
        loader=FileSystemLoader(PAGES),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    jinja.filters |= {"claim_bar": claim_bar, "claim_hatches": claim_hatches}
    return jinja
