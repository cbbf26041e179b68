"""The cells of the torque register: what an entry says, in words and in both systems."""

from __future__ import annotations

from builderlog.deciding.both_systems import both
from builderlog.deciding.calibration import Calibrated
from builderlog.deciding.torque_register import Group
from builderlog.deciding.torque_words import calibration_words, held_words, setting_words
from builderlog.deciding.words import amount
from builderlog.knowing.entries import Torqued
from builderlog.knowing.extensions import parse_extension
from builderlog.knowing.units import UnreadableError
from builderlog.sheets.cells import NOT_SAID, Names
from builderlog.sheets.chapter import Cell

SAFETIED = {"cotter": "cotter pin", "wire": "safety wire", "locknut": "self-locking nut"}
SAFETIED_BY_ITSELF = "locknut"


def where_words(group: Group) -> str:
    """`Left hinge: 4 of AN3-5A, shear-type nut, dry threads`, as far as the entry says."""
    line = group.line
    count = f"{amount(line.count)} of " if line.count is not None else ""
    bolt = str(line.bolt) if line.bolt else "bolt not said"
    nut = "" if line.nut is None else "another nut" if line.nut == "other" else f"{line.nut}-type"
    nut = f"{nut} nut" if nut.endswith("type") else nut
    threads = f"{line.threads} threads" if line.threads else ""
    told = ", ".join(word for word in (f"{count}{bolt}", nut, threads) if word)
    return f"{line.where}: {told}" if line.where else told


def torque_words(line: Torqued) -> str:
    """`asked 22 in-lb (2.49 N·m) by kit manual 3-4; drag ...; wrench set to ...; extension ...`."""
    asked = f"asked {both(line.wanted)}" if line.wanted else "the value asked is not said"
    source = f"by {line.source}" if line.source else "its source is not said"
    told = [f"{asked} {source}" if line.wanted and line.source else f"{asked}, {source}"]
    told.append(f"drag {both(line.drag)}" if line.drag else "no drag on record")
    told.append(f"wrench set to {both(line.set_to)}" if line.set_to else "setting not said")
    told += [f"extension {_extension(line.extension.text)}"] if line.extension else []
    return "; ".join(told)


def _extension(words: str) -> str:
    """The builder's words, with its length in the other system where they tell one."""
    try:
        extension = parse_extension(words)
    except UnreadableError:
        return words
    told = [both(each) for each in (extension.longer, extension.wrench) if each]
    return " on ".join(told) if extension.longer else words


def held_against_words(group: Group) -> str:
    """The drag rule that the setting agrees with; then how the value stands to the table."""
    return f"{setting_words(group.setting)} {held_words(group)}"


def wrench_cell(group: Group) -> Cell:
    """Its name and newest calibration; weak where there is none within a year."""
    if group.line.wrench is None:
        return NOT_SAID
    late = group.calibration.state is not Calibrated.WITHIN_A_YEAR
    told = calibration_words(group.calibration)
    return Cell(", ".join(word for word in (str(group.line.wrench), told) if word), weak=late)


def mark_cell(line: Torqued) -> Cell:
    """Whether a mark was put across nut and part."""
    if line.marked is None:
        return NOT_SAID
    return Cell("applied") if line.marked else Cell("not applied", weak=True)


def safetied_cell(line: Torqued) -> Cell:
    """How it is safetied; a self-locking nut needs no more (AC 43.13-1B, par. 7-37 and 7-38)."""
    if line.safetied is None:
        return NOT_SAID
    more = "; needs no other" if line.safetied == SAFETIED_BY_ITSELF else ""
    return Cell(f"{SAFETIED[line.safetied]}{more}")


def by_words(line: Torqued, names: Names) -> str:
    """Who did it, and the second pair of eyes."""
    by = names.persons(line.by) or "by whom is not said"
    seen = names.persons(line.witness)
    return f"{by}; seen by {seen}" if seen else f"{by}; no second pair of eyes on record"


def state_words(group: Group) -> str:
    """`open: no mark applied`, `closed`, `torqued again on 2026-04-02`."""
    if group.again:
        return f"torqued again on {group.again}"
    return f"open: {'; '.join(group.open_because)}" if group.is_open else "closed"
