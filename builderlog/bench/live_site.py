"""The friends' site while the builder writes: planned anew at each saving, drawn page by page.

What a file is made of stands in its mark: equal marks, equal bytes. So what changed is known
before anything is drawn, and only what somebody looks at is drawn.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from builderlog.deciding import addresses
from builderlog.deciding.visibility import what_friends_see
from builderlog.drawing.pictures import CopyRef
from builderlog.drawing.publication import Draft, Manuscript, draft_of, theme_of
from builderlog.drawing.site import Item, SitePlan, plan_site
from builderlog.knowing.ledger import Ledger
from builderlog.reading.problem import Problem
from builderlog.sheets.feed import Feed
from builderlog.sheets.site import Page
from builderlog.storing.cache import Store

PAGES = ".html"


@dataclass(frozen=True, slots=True)
class LiveSite:
    """The site at one moment; `kept` are files of an earlier one that a mistake would take away."""

    plan: SitePlan
    marks: Mapping[str, object]
    pages: Mapping[str, str]  # path of each public note -> site path of its page
    mistakes: tuple[Problem, ...] = ()
    kept: Mapping[str, SitePlan] = field(default_factory=dict)

    def draw(self, path: str, store: Store) -> bytes:
        """One file's bytes; KeyError where there is none. Raises `ThemeFault`, `Refused`."""
        return self.kept.get(path, self.plan).draw(path, store)


def live_site(written: Manuscript, store: Store, before: LiveSite | None) -> LiveSite:
    """The site of a journal. Raises `ThemeFault`.

    While there are mistakes, no page that was good before goes away.
    """
    draft = draft_of(written, store, lambda _done, _total: None)
    theme = theme_of(written.ledger, written.folder.root)
    plan = plan_site(draft.public, draft.copies.refs, theme)
    marks = {path: _mark(item) for path, item in plan.items.items()}
    kept = _kept(plan, before) if draft.mistakes and before else {}
    if before:
        marks.update({path: before.marks[path] for path in kept})
    return LiveSite(plan, marks, _note_pages(written.ledger, draft), draft.mistakes, kept)


def changed_between(before: LiveSite | None, after: LiveSite) -> tuple[str, ...]:
    """The site paths that are new, gone, or would get other bytes."""
    old = before.marks if before else {}
    paths = {*old, *after.marks}
    changed = {path for path in paths if old.get(path) != after.marks.get(path)}
    if before and before.plan.easel.templates != after.plan.easel.templates:
        changed.update(path for path in paths if path.endswith(PAGES))
    return tuple(sorted(changed))


def _kept(plan: SitePlan, before: LiveSite) -> dict[str, SitePlan]:
    lost = (path for path in before.marks if path not in plan.items)
    return {path: before.kept.get(path, before.plan) for path in lost}


def _mark(item: Item) -> object:
    """What is drawn is known by what it is drawn of; of files the bytes tell."""
    if isinstance(item, Page | CopyRef | Feed):
        return item
    data = item.read_bytes() if isinstance(item, Path) else item
    return hashlib.sha256(data).hexdigest()


def _note_pages(ledger: Ledger, draft: Draft) -> dict[str, str]:
    left_out = frozenset(problem.place.path for problem in draft.mistakes)
    seen = what_friends_see(ledger, left_out)
    return {path: addresses.note_path(key) for path, key in seen.notes.items()}


def try_theme(site: LiveSite, store: Store, before: LiveSite | None) -> None:
    """Draws a page of each kind where a template is another one. Raises `ThemeFault`."""
    if before and before.plan.easel.templates == site.plan.easel.templates:
        return
    pages = {item.kind: item.path for item in site.plan.items.values() if isinstance(item, Page)}
    for path in pages.values():
        site.draw(path, store)
