"""The dossier as chapters of ready words, in the order in which an inspector turns its pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from builderlog.deciding.findings import Findings
from builderlog.sheets.chapter import Chapter, Dossier
from builderlog.sheets.chapter_claim import claim_chapter
from builderlog.sheets.chapter_closeout import closeout
from builderlog.sheets.chapter_front import (
    FOOT,
    builders_of,
    cover,
    kept,
    reading,
    running_head,
    title_of,
)
from builderlog.sheets.chapter_gaps import missing_chapter
from builderlog.sheets.chapter_help import help_chapter
from builderlog.sheets.chapter_index import index
from builderlog.sheets.chapter_months import months
from builderlog.sheets.chapter_notes import notes
from builderlog.sheets.chapter_papers import papers
from builderlog.sheets.chapter_parts import parts
from builderlog.sheets.chapter_photos import contact, photos
from builderlog.sheets.chapter_process import process
from builderlog.sheets.chapter_remarks import remarks
from builderlog.sheets.chapter_seals import seals
from builderlog.sheets.chapter_tasks import task_chapters
from builderlog.sheets.chapter_visits import visits
from builderlog.sheets.chapter_work import bulletins, decisions, snags
from builderlog.sheets.material import Material, material

# Adding a chapter is adding a line; a maker gives none where the record has nothing to fill it,
# and several where each area has its own.
CHAPTERS: tuple[Callable[[Material], Iterable[Chapter]], ...] = (
    claim_chapter,
    kept,
    index,
    task_chapters,
    help_chapter,
    visits,
    parts,
    closeout,
    process,
    bulletins,
    snags,
    decisions,
    papers,
    months,
    notes,
    photos,
    contact,
    seals,
    missing_chapter,
    remarks,
)


def dossier(found: Findings) -> Dossier:
    """All chapters of what was found; the first tells how to read the others."""
    held = material(found)
    ledger = held.ledger
    chapters = tuple(chapter for make in CHAPTERS for chapter in make(held))
    return Dossier(
        title=title_of(ledger),
        builders=builders_of(ledger.settings),
        record_date=ledger.record_date.isoformat() if ledger.record_date else "",
        running=running_head(ledger),
        foot=FOOT,
        cover=cover(held),
        chapters=(reading(held, chapters), *chapters),
    )
