"""The documents that `claim --json` prints."""

from __future__ import annotations

from builderlog.deciding.claim_words import share_text, units_text
from builderlog.deciding.counting import Columns, Count
from builderlog.deciding.hiring import Hiring
from builderlog.deciding.portion import Portion
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure, Side


def claim_document(found: Portion) -> dict[str, object]:
    """What `claim --json` prints: keys that other programs rely on; none is renamed.

    Numbers are decimal text; points have one decimal, `share` has six.
    """
    measure = found.rulebook.measure
    return {
        "rulebook": found.rulebook.name,
        "measure": measure.value,
        **_count_document(found.whole, measure),
        "limit": str(found.rulebook.limit),
        "open_headroom": units_text(found.open_headroom, measure),
        "recorded": units_text(found.recorded, measure),
        "done": _part_document(found.done, measure),
        "planned": _part_document(found.planned, measure),
        "areas": {
            each.area.id: {
                **_part_document(each.count, measure),
                "open": units_text(each.open_builder, measure),
            }
            for each in found.areas
        },
        "derived_marks": list(found.derived),
        "settled": found.rulebook.unsettled is None,
        "citation": found.rulebook.citation,
    }


def uncounted_document(ledger: Ledger) -> dict[str, object]:
    """The same keys where the journal's rulebook cannot be used: nothing is counted by a guess."""
    return {
        "rulebook": None,
        "measure": None,
        "tasks": sum(task.applies for task in ledger.worklist.by_id.values()),
        "columns": {side.value: None for side in Side},
        "share": None,
        "limit": None,
        "meets": None,
        "headroom": None,
    }


def _count_document(found: Count, measure: Measure) -> dict[str, object]:
    return {
        "tasks": found.tasks,
        "columns": columns_document(found.columns, measure),
        "share": share_text(found.share),
        "meets": found.meets,
        "headroom": units_text(found.headroom, measure),
        "short": units_text(found.short, measure),
    }


def _part_document(found: Count, measure: Measure) -> dict[str, object]:
    """A part of the whole; of hours it has no share, since the maker's are those of the kit."""
    document = _count_document(found, measure)
    return document if found.share is not None else {**document, "share": None, "meets": None}


def columns_document(columns: Columns, measure: Measure) -> dict[str, str]:
    """Every column by its name, as decimal text."""
    return {side.value: units_text(columns.of((side,)), measure) for side in Side}


def hiring_document(asked: Hiring, measure: Measure) -> dict[str, object]:
    """What `claim --hire … --json` adds."""
    return {
        "tasks": [task.id for task in asked.tasks],
        "open": [task.id for task in asked.open],
        "builder": units_text(asked.builder, measure),
        "unclaimed": units_text(asked.unclaimed, measure),
        "most": units_text(asked.most, measure),
        "share": share_text(asked.after.share),
    }
