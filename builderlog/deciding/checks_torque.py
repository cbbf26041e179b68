"""Checks of torque: values against the published table, settings against drag, calibration.

Doubts and gaps only: the kit's and the part maker's manual prevails over every rule named here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builderlog.deciding.both_systems import both, kind
from builderlog.deciding.calibration import Calibrated
from builderlog.deciding.torque import TORQUE, Verdict, wrench_length
from builderlog.deciding.torque_range import Ranged
from builderlog.deciding.torque_register import Group, register
from builderlog.deciding.torque_words import name_of, outside_words, should_words
from builderlog.deciding.words import counted
from builderlog.knowing.entries import Torqued
from builderlog.knowing.extensions import parse_extension
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.units import UnreadableError
from builderlog.reading.problem import Problem, doubt, gap
from builderlog.reading.quoting import in_braces


def torque_problems(ledger: Ledger) -> Iterator[Problem]:
    """Everything about torque; of fasteners that were torqued again only the newest entry."""
    groups = register(ledger)
    wrenches = {wrench.name: wrench for wrench in ledger.settings.wrenches}
    for group in groups:
        if not group.again:
            yield from no_torques(group)
            yield from outside_the_table(group)
            yield from set_by_no_rule(group)
            named = wrenches.get(group.line.wrench.text) if group.line.wrench else None
            yield from extensions_unknown(group, known=bool(named and named.length))
    yield from wrenches_out_of_date(groups)


def no_torques(group: Group) -> Iterator[Problem]:
    """A value in a unit that is none of torque."""
    line = group.line
    for key, value in (("to", line.wanted), ("drag", line.drag), ("set", line.set_to)):
        if value and kind(value.unit) != TORQUE:
            told = f"{key}: '{value.written}' is no torque; write it in in-lb, ft-lb or N·m"
            yield doubt(line.place, "no-torque", told)


def outside_the_table(group: Group) -> Iterator[Problem]:
    """A value that the published table does not recommend, where it applies."""
    if group.held.ranged is Ranged.OVER_LIMIT:
        yield doubt(group.line.place, "torque-over-limit", outside_words(group))
    elif group.held.ranged in {Ranged.ABOVE, Ranged.BELOW}:
        yield doubt(group.line.place, "torque-outside-table", outside_words(group))


def set_by_no_rule(group: Group) -> Iterator[Problem]:
    """A setting that neither of the two published drag rules gives."""
    line, setting = group.line, group.setting
    if setting.verdict is not Verdict.NEITHER or not line.set_to:
        return
    through = " through the extension" if setting.through_extension else ""
    told = f"{name_of(line)}: set to {both(line.set_to)}, but{through} it should be"
    told = f"{told} {should_words(setting)}"
    mend = "write drag: if it was added" if setting.no_drag else "mend to:, drag: or set:"
    yield doubt(line.place, "torque-setting", f"{told}; {mend}, or say in the note why it differs")


def extensions_unknown(group: Group, *, known: bool) -> Iterator[Problem]:
    """An adapter whose effect cannot be reckoned; `known`: the wrench's length is declared."""
    line = group.line
    if not line.extension:
        return
    try:
        extension = parse_extension(line.extension.text)
    except UnreadableError as fault:
        yield doubt(line.extension.place, "extension-unread", str(fault))
        return
    if extension.longer and not known and wrench_length(extension, None) is None:
        told = (
            f"'{line.extension}' changes what the wrench must show, and its own length is not on "
            f"record; write extension: {line.extension} on 240 mm with the true length, or give it "
            f"once in journal.yaml: wrenches: {{{_wrench_named(line)}: {{length: 240 mm}}}}"
        )
        yield gap(line.extension.place, "wrench-length-unknown", told)


def _wrench_named(line: Torqued) -> str:
    return in_braces(line.wrench.text if line.wrench else "its name")


def wrenches_out_of_date(groups: Iterable[Group]) -> Iterator[Problem]:
    """A wrench that was not calibrated within a year before its use; once for each calibration."""
    used: dict[tuple[str, object], list[Group]] = {}
    for group in groups:
        if group.line.wrench and group.calibration.state in {Calibrated.NEVER, Calibrated.OLDER}:
            key = group.line.wrench.text, group.calibration.last
            used.setdefault(key, []).append(group)
    for (name, last), late in used.items():
        late.sort(key=lambda group: (str(group.note.day), group.line.place))
        first, days = late[0], {group.note.day for group in late}
        known = f"was last calibrated on {last}" if last else "has no calibration on record before"
        more = f" (and on {counted(len(days) - 1, 'more day')})" if len(days) > 1 else ""
        told = (
            f"'{name}' was used on {first.note.day}{more} and {known}; AC 43.13-1B par. 7-40 a "
            "asks for one at least once a year. Write the days in journal.yaml: wrenches"
        )
        place = first.line.wrench.place if first.line.wrench else first.line.place
        yield gap(place, "wrench-not-calibrated", told)


TORQUE_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (torque_problems,)
