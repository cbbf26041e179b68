"""Brings an official form into the work list, and the work list out as a table again.

Nothing is written where a row of the table or the work list itself has a mistake.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER, Opened
from builderlog.command.shape import DONE, MISTAKES
from builderlog.command.terminal import count_problems, print_problems, say
from builderlog.deciding.words import counted
from builderlog.handover.tables import table_bytes, unguard
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_merge import Merge, TaskChange, merge_form
from builderlog.knowing.form_table import Form, form_of
from builderlog.knowing.journal import WORKLIST_FILE
from builderlog.knowing.settings import Area
from builderlog.knowing.worklist_edit import edited, new_worklist, read_worklist
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Problem, Weight, sort_worst_first
from builderlog.sheets.form import form_sheet
from builderlog.storing.lock import hold
from builderlog.storing.new_file import write_new
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.replacing import replace_original
from builderlog.storing.taking_in import take_table


def import_form(opened: Opened, file: Path, *, write: bool = True) -> int:
    """Takes the table into worklist.yaml; without `write` only tells what would change.

    Exit status 1, and nothing written, where the table or the work list has a mistake.
    Raises Refused where a file cannot be read or written, or another run is writing.
    """
    data = take_table(file)
    busy = hold(opened.root / CACHE_FOLDER, f"the journal {opened.root}")
    with busy if write else nullcontext():
        taken = _take(opened, file, data)
        if taken.has_mistakes:
            return _stop(taken.problems, taken.folder, f"{WORKLIST_FILE} is as it was")
        if write and taken.after != taken.before:
            _write(opened.root / WORKLIST_FILE, taken)
    print_problems(sort_worst_first(taken.problems), taken.folder, sys.stderr)
    for line in _report(taken, write=write):
        say(line, sys.stdout)
    return DONE


def export_form(opened: Opened, file: Path) -> int:
    """Writes the work list as a table into a file that is not there yet.

    Exit status 1, and nothing written, where the work list has a mistake. Raises Refused where
    there is no work list, or the file exists or cannot be written.
    """
    mistakes = _told_of_worklist(opened)
    if mistakes:
        return _stop(mistakes, opened.folder, "no table was written")
    if not opened.ledger.worklist.written:
        raise Refused(
            f"{opened.root} has no work list to write out; write {WORKLIST_FILE}, or import a form"
        )
    sheet = form_sheet(opened.ledger.worklist)
    _write_new(file, table_bytes(sheet))
    say(f"{counted(len(sheet.rows), 'task')} written to {file}", sys.stdout)
    return DONE


@dataclass(frozen=True, slots=True)
class _Taken:
    """What comes of an import: the work list before and after, and all that is to be told."""

    form: Form
    merge: Merge | None
    before: bytes | None  # None: there was none
    after: bytes
    problems: tuple[Problem, ...]
    folder: Folder  # the journal's, with the table in it, so that its lines can be shown

    @property
    def has_mistakes(self) -> bool:
        """True where nothing may be written."""
        return self.merge is None or any(p.weight is Weight.MISTAKE for p in self.problems)


def _take(opened: Opened, file: Path, data: bytes) -> _Taken:
    """Reads both files and merges them; the mistakes of both are told in one run."""
    table, told = read_csv(str(file), data)
    # A table that broke off behind its first row is told once, not as one without tasks too.
    readable = len(table.rows) > 1 or (table.rows and not told)
    form, told_form = form_of(table, unguard) if readable else (Form(), ())
    folder = opened.folder.overlaid((), {str(file): table.source.text.encode()})
    before = _worklist_bytes(opened)
    text = read_worklist(WORKLIST_FILE, before or b"")
    problems = (*told, *told_form, *text.mistakes, *_outside(opened))
    stopped = partial(_Taken, form, None, before, b"", folder=folder)
    if text.mistakes or _outside(opened):
        return stopped(problems=problems)
    merge, told_merge = merge_form(form.rows, text.worklist)
    problems = (*problems, *told_merge)
    if any(each.weight is Weight.MISTAKE for each in problems):
        return stopped(problems=problems)
    after = edited(text, merge) if before is not None else _new(file, merge)
    return _Taken(form, merge, before, after, problems, folder)


def _new(file: Path, merge: Merge) -> bytes:
    return new_worklist(WORKLIST_FILE, one_line(file.name), merge)


def _told_of_worklist(opened: Opened) -> tuple[Problem, ...]:
    return tuple(each for each in opened.mistakes if each.place.path == WORKLIST_FILE)


def _outside(opened: Opened) -> tuple[Problem, ...]:
    """A link in place of the work list that leads out of the journal, which is not followed."""
    return _told_of_worklist(opened) if WORKLIST_FILE in opened.folder.outside else ()


def _worklist_bytes(opened: Opened) -> bytes | None:
    file = opened.root / WORKLIST_FILE
    if WORKLIST_FILE in opened.folder.outside or not file.is_file():
        return None
    with refusing(f"read {file}"):
        return file.read_bytes()


def _write(file: Path, taken: _Taken) -> None:
    """Whole or not at all; a link inside the journal stays a link, and the file's mode its mode."""
    if taken.before is None:
        write_new(file, taken.after)
    else:
        replace_original(file, taken.before, taken.after)


def _write_new(file: Path, data: bytes) -> None:
    with refusing(f"write {file}"):
        try:
            stream = file.open("xb")
        except FileExistsError:
            told = f"{file} exists already; name a new file, so that nothing is overwritten"
            raise Refused(told) from None
        try:
            with stream:
                stream.write(data)
        except OSError:
            file.unlink(missing_ok=True)
            raise


def _stop(problems: tuple[Problem, ...], folder: Folder, outcome: str) -> int:
    print_problems(sort_worst_first(problems), folder, sys.stderr)
    say(f"builderlog: {count_problems(problems)}; {outcome}", sys.stderr)
    return MISTAKES


def _report(taken: _Taken, *, write: bool) -> Iterator[str]:
    """What was done, or would be: in a few lines, and without writing change by change."""
    merge = taken.merge
    if merge is None:
        return
    if not write:
        yield from _changes(merge)
    if taken.form.headings:
        yield f"headings taken for areas: {', '.join(taken.form.headings)}"
    if merge.made:
        yield f"new areas: {', '.join(_named(area) for area in merge.made)}"
    if merge.renamed:
        yield f"areas with a new name: {', '.join(merge.renamed)}"
    told = (
        f"{counted(len(taken.form.rows), 'task')} read; {'' if write else 'would be: '}"
        f"{len(merge.changed)} changed, {len(merge.added)} added, "
        f"{merge.unchanged} as they were"
    )
    are = "is" if len(merge.missing) == 1 else "are"
    missing = f"; {len(merge.missing)} of the list {are} not in the table: "
    yield told + (missing + ", ".join(merge.missing) if merge.missing else "")
    yield _outcome(taken, write=write)


def _changes(merge: Merge) -> Iterator[str]:
    """One line a task."""
    for change in merge.changed:
        yield f"{change.task.id}: {_told(change)}"
    for change in merge.added:
        yield f"{change.task.id}, new in {change.task.area}: {_told(change) or 'its id alone'}"


def _told(change: TaskChange) -> str:
    return "; ".join(
        f"{each.key} {each.before} to {each.after}" if each.before else f"{each.key} {each.after}"
        for each in change.settings
    )


def _named(area: Area) -> str:
    return area.id if area.name == area.id else f"{area.id} ({area.name})"


def _outcome(taken: _Taken, *, write: bool) -> str:
    if taken.after == taken.before:
        return f"{WORKLIST_FILE} says so already" if write else "nothing would be written"
    return f"{WORKLIST_FILE} is written" if write else "nothing was written"
