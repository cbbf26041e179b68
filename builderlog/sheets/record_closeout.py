"""The sheet of the torque and close-out register: every group of fasteners, tail to nose."""

from __future__ import annotations

from builderlog.deciding.both_systems import both
from builderlog.deciding.torque import RULE_SOURCES, Verdict
from builderlog.deciding.torque_register import Group, register
from builderlog.deciding.torque_words import held_words, setting_words
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.units import Quantity
from builderlog.sheets.table import Column, Sheet, number, sheet, text


def closeout(ledger: Ledger) -> Sheet:
    """Every value in both systems; the rounded one in brackets is for reading only."""
    columns: tuple[Column[Group], ...] = (
        *_joint_columns(),
        *_torque_columns(),
        *_closing_columns(),
    )
    title = "Torque and close-out register, by area from tail to nose, open ones first."
    return sheet("closeout", title, columns, register(ledger))


def _joint_columns() -> tuple[Column[Group], ...]:
    return (
        text("state", "open, closed, or done again by a later entry", lambda row: row.state),
        text("open_because", "what is still to be done", lambda row: row.open_because),
        text("areas", "of the tasks of its note", lambda row: tuple(a.id for a in row.areas)),
        text("tasks", "of its note; an entry has none of its own", lambda row: row.tasks),
        text("where", "which joint", lambda row: row.line.where),
        text("bolt", "which bolt", lambda row: row.line.bolt),
        text("nut", "tension, shear or other", lambda row: row.line.nut),
        text("threads", "dry or oiled", lambda row: row.line.threads),
        number("count", "how many", lambda row: row.line.count),
    )


def _torque_columns() -> tuple[Column[Group], ...]:
    return (
        text("asked", "the torque wanted, without drag", lambda row: _both(row.line.wanted)),
        text("source", "where that value comes from; it prevails", lambda row: row.line.source),
        text("table", "held against the published table, or why not", held_words),
        text("drag", "the nut's own drag", lambda row: _both(row.line.drag)),
        text("set", "what the wrench showed", lambda row: _both(row.line.set_to)),
        text("extension", "adapter on the wrench", lambda row: row.line.extension),
        text("drag_rule", "the published rule that the setting agrees with", _rules),
        text("setting", "the same in a sentence", lambda row: setting_words(row.setting)),
        text("wrench", "which wrench", lambda row: row.line.wrench),
        text("calibrated", "its newest calibration before", lambda row: row.calibration.last),
        text("calibration", "within a year, older or never", _calibration),
    )


def _closing_columns() -> tuple[Column[Group], ...]:
    return (
        text("marked", "yes: a mark was put across nut and part", lambda row: row.line.marked),
        text("safetied", "cotter, wire or locknut", lambda row: row.line.safetied),
        text("by", "by whom", lambda row: row.line.by),
        text("witness", "the second pair of eyes", lambda row: row.line.witness),
        text("date", "day of the note", lambda row: row.note.day),
        text("again", "day on which they were torqued again", lambda row: row.again),
        text("note", "the note that says so", lambda row: row.note.path),
    )


def _both(quantity: Quantity | None) -> str:
    return both(quantity) if quantity else ""


def _rules(group: Group) -> tuple[str, ...]:
    """Both where both rules come to the same; none is named where no drag is on record."""
    setting = group.setting
    if setting.verdict is Verdict.NEITHER:
        return ("none",)
    return () if setting.no_drag else tuple(RULE_SOURCES[rule] for rule in setting.rules)


def _calibration(group: Group) -> str:
    return group.calibration.state.value if group.line.wrench else ""
