"""Where areas and tasks stand in the dossier: their titles, and the ids that links lead to."""

from __future__ import annotations

from collections.abc import Mapping

from builderlog.deciding.addresses import slugs_for
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Area

ALL_TASKS = "All tasks"  # stands where an area would, without a work list
ALL_TASKS_CHAPTER = "area-all-tasks"


def area_chapters(ledger: Ledger) -> Mapping[str, str]:
    """The id of each area's chapter by the area's own; without a work list there is none."""
    slugs = slugs_for(area.id for area in ledger.worklist.areas)
    return {area: f"area-{slug}" for area, slug in slugs.items()}


def area_title(area: Area) -> str:
    """`Area W: Wings`; the id alone where it has no name of its own."""
    named = f"Area {area.id}".strip()
    return named if area.name.strip() in ("", area.id.strip()) else f"{named}: {area.name}"


def titled(name: str, words: str) -> str:
    """An id with its name; once where the one is the other, and never without a letter."""
    told = words if name == words else f"{name} {words}"
    return told.strip() or "(no name)"
