"""`unload --packing-list`: a kit's packing list becomes a note of parts, whole or not at all."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER
from builderlog.command.shape import DONE, MISTAKES
from builderlog.command.terminal import count_problems, print_problems, say
from builderlog.deciding.sealing import is_sealed
from builderlog.deciding.words import counted, listed, month_of
from builderlog.knowing.form_cells import one_line
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.noting.packing_list import (
    PackingList,
    note_with,
    packing_list,
    packing_note,
    statuses,
)
from builderlog.noting.writing import write_note
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight, sort_worst_first
from builderlog.storing.lock import hold
from builderlog.storing.refusal import Refused, refusing
from builderlog.storing.taking_in import take_table


def take_packing_list(root: Path, file: Path, today: date) -> int:
    """Writes the note of a list; exit status 1, and nothing written, where it has a mistake.

    Raises Refused where a file cannot be read or written, or today's month is sealed.
    """
    data = take_table(file)
    with hold(root / CACHE_FOLDER, f"the journal {root}"):
        with refusing(f"read the journal in {root}"):
            folder = Folder.at(root)
            ledger = read_journal(folder, root / CACHE_FOLDER)
        table, told = read_csv(str(file), data)
        read = packing_list(table, _tasks(ledger), ledger.settings.currency, today)
        found = read if table.rows else PackingList()
        problems = sort_worst_first((*told, *found.problems))
        shown = folder.overlaid((), {str(file): table.source.text.encode()})
        print_problems(problems, shown, sys.stderr)
        if any(each.weight is Weight.MISTAKE for each in problems):
            say(f"builderlog: {count_problems(problems)}; no note was written", sys.stderr)
            return MISTAKES
        say(_write(root, ledger, found, (one_line(file.stem), today)), sys.stdout)
    return DONE


def _write(root: Path, ledger: Ledger, found: PackingList, named: tuple[str, date]) -> str:
    """Writes the note, unless one holds the whole list already; what to say of it."""
    name, today = named
    there = note_with(found, ledger)
    if there:
        return f"{there.path} holds every part of this list already; nothing was written"
    if is_sealed(ledger, month_of(today)):
        told = f"the month of {today} is sealed, so no note is added to it; name another day"
        raise Refused(f"{told} with --on")
    path = write_note(root, packing_note(found, name, today), ledger.files)
    each = listed([f"{number} {status}" for status, number in statuses(found.parts).items()])
    return f"{path} has {counted(len(found.parts), 'entry', 'entries')} of parts: {each}"


def _tasks(ledger: Ledger) -> dict[str, str] | None:
    if not ledger.worklist.written:
        return None
    return {one_line(id_).casefold(): id_ for id_ in ledger.worklist.by_id}
