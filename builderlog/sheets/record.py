"""Every sheet of the record, in the order in which an inspector meets them."""

from __future__ import annotations

from collections.abc import Callable

from builderlog.deciding.findings import Findings, find
from builderlog.knowing.ledger import Ledger
from builderlog.sheets import record_claim as claim_sheets
from builderlog.sheets import record_closeout as closeout_sheets
from builderlog.sheets import record_evidence as evidence_sheets
from builderlog.sheets import record_seals as seal_sheets
from builderlog.sheets import record_supply as supply_sheets
from builderlog.sheets import record_time as time_sheets
from builderlog.sheets import record_work as work_sheets
from builderlog.sheets.table import Sheet

# Adding a sheet is adding a line; its name becomes that of a table in the bag.
CLAIM_SHEETS: tuple[Callable[[Findings], Sheet], ...] = (
    claim_sheets.claim,
    claim_sheets.claim_facts,
    evidence_sheets.claim_tasks,
    evidence_sheets.task_answers,
    evidence_sheets.helped,
    claim_sheets.gaps,
)
RECORD_SHEETS: tuple[Callable[[Ledger], Sheet], ...] = (
    time_sheets.hours,
    time_sheets.totals,
    time_sheets.month_table,
    time_sheets.areas_by_month,
    time_sheets.tasks,
    time_sheets.people,
    time_sheets.notes,
    work_sheets.methods,
    supply_sheets.parts,
    work_sheets.photos,
    work_sheets.visits,
    supply_sheets.away,
    work_sheets.snags,
    work_sheets.torqued,
    closeout_sheets.closeout,
    supply_sheets.wrenches,
    work_sheets.measured,
    work_sheets.processes,
    work_sheets.decisions,
    work_sheets.bulletins,
    work_sheets.closings,
    supply_sheets.papers,
    seal_sheets.seals,
    seal_sheets.written_soon,
)


def record_sheets(ledger: Ledger, found: Findings | None = None) -> tuple[Sheet, ...]:
    """All of them, those without a row too: that nothing is recorded is worth knowing.

    `found` is what `find` gave for this ledger, where it is at hand.
    """
    held = found or find(ledger)
    claims = (make(held) for make in CLAIM_SHEETS)
    return (*claims, *(make(ledger) for make in RECORD_SHEETS))
