"""Where each page and picture of the site stands: site paths, and relative links between them.

A site path has `/` between its parts and no leading slash ("notes/2026-03-14-skins.html").
Every path is ASCII unless a note's own key is not, and no two differ only in case.
"""

from __future__ import annotations

import hashlib
import posixpath
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, count, takewhile
from urllib.parse import quote

FRONT = "index.html"
ARCHIVE = "notes.html"
PARTS = "parts.html"
PHOTOS = "photos.html"
PHOTOS_BY_AREA = "photos-by-area.html"
PHOTOS_BY_TASK = "photos-by-task.html"
NEXT = "next.html"
CLAIM = "claim.html"
FIGURES = "figures.html"
MILESTONES = "milestones.html"
SEARCH = "search.html"
ROBOTS = "robots.txt"
SITE_MAP = "sitemap.xml"
NOT_FOUND = "404.html"
NOTES_FEED = "notes.xml"
MONTHS_FEED = "months.xml"

LONGEST_SLUG = 60
# Names that some file systems keep for devices, whatever the ending.
DEVICES = frozenset(
    ("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)))
)


def note_path(key: str) -> str:
    """The page of a note; `key` is unique and safe as a file name."""
    return f"notes/{key}.html"


def month_path(month: str) -> str:
    """The page of a month, "2026-03"."""
    return f"months/{month}.html"


def area_path(slug: str) -> str:
    """The page of an area, by its slug from `slugs_for`."""
    return f"areas/{slug}.html"


def task_path(slug: str) -> str:
    """The page of a task, by its slug from `slugs_for`."""
    return f"tasks/{slug}.html"


def picture_path(stem: str, width_px: int) -> str:
    """A copy of a picture; what has the same stem and width has the same bytes for ever."""
    return f"pictures/{stem}-{width_px}.webp"


def relative_url(source: str, target: str) -> str:
    """The link from page `source` to site path `target`, percent-encoded.

    A leading "./" keeps a first part that holds a colon from being read as a scheme.
    """
    step = _step(source, target)
    url = quote(step, safe="/")
    return url if url.startswith(".") else f"./{url}" if ":" in step else url


def _step(source: str, target: str) -> str:
    """From a page's folder to a path: a page has a hundred links, and `relpath` is slow."""
    folders, parts = source.split("/")[:-1], target.split("/")
    if not {"", ".", ".."}.isdisjoint((*folders, *parts)):  # only what a template made up
        return posixpath.relpath(target, posixpath.dirname(source) or ".")
    pairs = zip(folders, parts[:-1], strict=False)
    shared = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
    return "/".join((*[".."] * (len(folders) - shared), *parts[shared:]))


def slugs_for(ids: Iterable[str]) -> Mapping[str, str]:
    """One slug for each id; those that would share one, even in another case, get a digest.

    The slug of an id never depends on the order of the others.
    """
    unique = sorted(set(ids))
    plain = {name: slug_of(name) for name in unique}
    uses = Counter(plain.values())
    settled = {name: slug for name, slug in plain.items() if uses[slug] == 1}
    taken = set(settled.values())
    for name in unique:
        if name not in settled:
            settled[name] = _with_digest(plain[name], name, taken)
            taken.add(settled[name])
    return settled


def anchors_for(kind: str, names: Sequence[str]) -> tuple[str, ...]:
    """An anchor for each thing of a kind on one page; of those with one name the first has it."""
    taken: dict[str, None] = {}  # in order
    for name in names:
        plain = f"{kind}-{slug_of(name)}"
        choices = chain((plain,), (f"{plain}-{number}" for number in count(2)))
        taken[next(choice for choice in choices if choice not in taken)] = None
    return tuple(taken)


def slug_of(name: str) -> str:
    """ASCII letters, digits and hyphens, in small letters; never empty, never a device's name."""
    ascii_only = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
    slug = re.sub(r"[^a-z0-9]+", "-", ascii_only.lower()).strip("-")
    if not slug or slug in DEVICES or len(slug) > LONGEST_SLUG:
        return _with_digest(slug[:LONGEST_SLUG].strip("-"), name, set())
    return slug


def _with_digest(slug: str, name: str, taken: set[str]) -> str:
    """The slug with as much of the id's SHA-256 as keeps it apart from those taken."""
    digest = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()
    choices = (f"{slug}-{digest[:length]}".strip("-") for length in (8, 16, 32, 64))
    return next(choice for choice in choices if choice not in taken)
