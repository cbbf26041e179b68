"""What the torque register is held against: the published rules by name, and the table's rows."""

from __future__ import annotations

from collections.abc import Iterable

from builderlog.deciding.torque_range import limit_words, recommended_words
from builderlog.deciding.torque_register import Group
from builderlog.deciding.words import first_upper
from builderlog.knowing.torque_table import CAPTIONS, ROWS, SOURCE, Nut, TorqueRow
from builderlog.sheets.chapter import Bullets, Cell, Column, Paragraph, Rows, Section

RULES = (
    (
        "Drag, first rule: AC 43.13-1B, paragraph 7-40 d, always adds the nut's friction drag to "
        "the torque asked."
    ),
    (
        "Drag, second rule: US Army TB 43-0218, paragraph 7 c, adds it only from one third of the "
        "recommended torque on, and leaves it out below that."
    ),
    (
        "The two differ where the drag is below one third. The register names the one that a "
        "setting agrees with, and prefers neither. It agrees where it is the same to its last "
        "digit, else within 4 % (how closely wrenches are commonly held: common practice)."
    ),
    (
        "Extension: setting = torque \N{MULTIPLICATION SIGN} L / (L + E), L from the drive's "
        "centre to the hand, E what the adapter adds, less than nought where it shortens (US Army "
        "TM 1-1500-204-23-9, figure 8-16). At a right angle nothing is changed."
    ),
    (
        "Wrenches are calibrated at least once a year, and at once after abuse or a drop (AC "
        "43.13-1B, paragraph 7-40 a)."
    ),
    (
        "A mark shows at a glance whether a fitting has moved (Transport Canada TP 185, 3/2005). "
        "Safetying stands beside it: it is no way of obtaining or keeping torque (AC 43.13-1B, "
        "paragraph 7-122), and everything but a self-locking nut is locked or safetied (7-37, "
        "7-38)."
    ),
)
TABLE = "Table 7-1, as far as it was used"
NOT_APPLIED = (
    f"{SOURCE}, was applied to no entry: it is only for bolts in metal whose thread, nut and dry "
    "threads are on record, and only where no manufacturer's value is named."
)
COLUMNS = (
    Column("Thread", share=2),
    Column("Tension-type nut", share=4),
    Column("Shear-type nut", share=4),
    Column("Limit, tension", share=3),
    Column("Limit, shear", share=3),
)


def rules_section() -> Section:
    """The rules that a setting, a mark and a wrench are held against, each with its source."""
    items = tuple(map(Cell, RULES))
    return Section("closeout-rules", "The rules named here", (Bullets(items),))


def table_section(groups: Iterable[Group]) -> Section:
    """The rows of the table that were used, with its own cautions; none where none was."""
    used = {group.held.row.thread for group in groups if group.held.row}
    rows = tuple(_row(row) for thread, row in ROWS.items() if thread in used)
    cautions = Paragraph(f"{first_upper('; '.join(CAPTIONS))}.", "caution")
    if not rows:
        return Section("closeout-table", TABLE, (Paragraph(NOT_APPLIED), cautions))
    table = Rows(f"Rows of {SOURCE}, that were used", COLUMNS, rows)
    return Section("closeout-table", TABLE, (Paragraph(f"{SOURCE}."), cautions, table))


def _row(row: TorqueRow) -> tuple[Cell, ...]:
    return (
        Cell(f"{row.thread} ({row.series})"),
        *(Cell(recommended_words(row, nut)) for nut in Nut),
        *(Cell(limit_words(row, nut)) for nut in Nut),
    )
