"""Every sheet of the record, in the order in which an inspector meets them."""

from __future__ import annotations

from builderlog.knowing.ledger import Ledger
from builderlog.sheets import record_supply as supply_sheets
from builderlog.sheets import record_time as time_sheets
from builderlog.sheets import record_work as work_sheets
from builderlog.sheets.table import Sheet

# Adding a sheet is adding a line; its name becomes that of a table in the bag.
RECORD_SHEETS = (
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
    supply_sheets.wrenches,
    work_sheets.measured,
    work_sheets.processes,
    work_sheets.decisions,
    work_sheets.bulletins,
    work_sheets.closings,
    supply_sheets.papers,
)


def record_sheets(ledger: Ledger) -> tuple[Sheet, ...]:
    """All of them, those without a row too: that nothing is recorded is worth knowing."""
    return tuple(make(ledger) for make in RECORD_SHEETS)
