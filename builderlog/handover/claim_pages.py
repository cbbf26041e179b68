"""The claim as plain pages beside the bag's payload: the count, each task's evidence, help, gaps.

They need no script, no style sheet and no address; every file they lead to lies in the same bag.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path
from urllib.parse import quote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from builderlog.deciding.addresses import slugs_for
from builderlog.deciding.findings import Findings, find
from builderlog.deciding.words import first_upper
from builderlog.handover.guide import GUIDE_NAME
from builderlog.handover.tables import TABLES_FOLDER
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.evidence import ClaimEvidence, claim_evidence
from builderlog.sheets.evidence_task import FileLink

FOLDER = "claim/"
FRONT = "index.html"
TEMPLATES = Path(__file__).resolve().parent / "claim"
MOST_LINKS = 10  # in one row; a task of two years has hundreds of notes, and a table names them all
_DAY = re.compile(r"(?<!\d)\d{4}-\d{2}-\d{2}(?!\d)")


@dataclass(frozen=True, slots=True)
class _PageLink:
    """One of the claim's pages, by its path inside their folder."""

    words: str
    path: str


def claim_pages(
    ledger: Ledger, renamed: Mapping[str, str], found: Findings | None = None
) -> dict[str, bytes]:
    """Every page by its path in the bag; none where the journal names no rulebook.

    `renamed` maps journal paths to their paths below data/ where the two differ; `found` is what
    `find` gave for this ledger, where it is at hand.
    """
    claim = claim_evidence(found or find(ledger)) if ledger.rulebook else None
    if claim is None:
        return {}
    desk = _environment(renamed)
    return {f"{FOLDER}{path}": page for path, page in _pages(desk, claim)}


def _pages(desk: Environment, claim: ClaimEvidence) -> Iterator[tuple[str, bytes]]:
    slugs = slugs_for(area.id for area in claim.areas)
    paths = {area: f"area-{slug}.html" for area, slug in slugs.items()}
    links = [_PageLink("The claim", FRONT)]
    links += [_PageLink(area.title, paths[area.id]) for area in claim.areas]
    links += [_PageLink("Help", "help.html"), _PageLink("What is missing", "gaps.html")]
    every = {"claim": claim, "pages": links, "guide": GUIDE_NAME, "area_paths": paths}
    for name in (FRONT, "help.html", "gaps.html"):
        yield name, _draw(desk, name, {**every, "path": name})
    for area in claim.areas:
        path = paths[area.id]
        yield path, _draw(desk, "area.html", {**every, "path": path, "area": area})


def _draw(desk: Environment, template: str, words: Mapping[str, object]) -> bytes:
    return f"{desk.get_template(template).render(words).rstrip()}\n".encode()


def _environment(renamed: Mapping[str, str]) -> Environment:
    desk = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    bagged = _Bagged(renamed)
    desk.filters["bagged"] = bagged.href
    desk.filters["links"] = bagged.links
    desk.filters["few_links"] = bagged.few_links
    desk.filters["first_upper"] = first_upper
    desk.filters["anchor"] = anchor
    desk.filters["kept"] = _kept
    desk.filters["breaks"] = _breaks
    return desk


@dataclass(frozen=True, slots=True)
class _Bagged:
    """Links from a page in `claim/` to what lies below data/."""

    renamed: Mapping[str, str]

    def href(self, path: str) -> str:
        """A file by its journal path."""
        return f"../data/{quote(self.renamed.get(path, path))}"

    def links(self, files: Iterable[FileLink]) -> Markup:
        """All of them; what is not there is named without a link."""
        return Markup(", ".join(map(self._link, files)))  # noqa: S704 - every part is escaped

    def few_links(self, files: Sequence[FileLink], table: str) -> Markup:
        """The first of them, and the table that names them all."""
        told = self.links(files[:MOST_LINKS])
        if len(files) <= MOST_LINKS:
            return told
        href = f"../data/{TABLES_FOLDER}{table}.csv"
        more = Markup(' and {} more in <a href="{}">{}.csv</a>')
        return told + more.format(len(files) - MOST_LINKS, href, table)

    def _link(self, file: FileLink) -> str:
        words = escape(file.words, quote=False)
        if not file.path:
            return words
        whole = ' class="day"' if _DAY.fullmatch(words) else ""
        return f'<a{whole} href="{escape(self.href(file.path))}">{words}</a>'


def _kept(words: str) -> Markup:
    """The words, whose dates and percentages no line's end parts."""
    plain = escape(words, quote=False).replace(" %", "\N{NO-BREAK SPACE}%")
    return Markup(_DAY.sub(r'<span class="day">\g<0></span>', plain))  # noqa: S704 - escaped


def _breaks(words: str) -> Markup:
    """The words of a heading, which may break after a stroke."""
    return Markup("/<wbr>").join(words.split("/"))


def anchor(task: str) -> str:
    """An id for a task's place on its page: ASCII, never the same for two tasks."""
    return f"task-{''.join(map(_plain, task))}"


def _plain(sign: str) -> str:
    """Letters, digits, hyphens as they are; of all else a dot and two digits for each byte."""
    if sign.isascii() and (sign.isalnum() or sign in "-_"):
        return sign
    return "".join(f".{byte:02x}" for byte in sign.encode("utf-8"))
