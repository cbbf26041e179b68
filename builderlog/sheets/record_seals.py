"""Sheets of the sealed months: the chain of seals, and how soon the record was written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builderlog.deciding.checks_seals import standing
from builderlog.deciding.sealing import is_sealed
from builderlog.deciding.sealing_words import days_after
from builderlog.deciding.timeliness import Timeliness, timeliness
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.seals import Seal, newest_seals
from builderlog.sheets.table import Column, Sheet, number, sheet, text

AS_SEALED = "as sealed"


@dataclass(frozen=True, slots=True)
class SealRow:
    """One seal of the chain; `amended_by` is the path of the one that counts instead of it."""

    seal: Seal
    amended_by: str
    state: tuple[str, ...]  # what is told of it; empty where all is as it was sealed


def seal_rows(ledger: Ledger) -> Iterator[SealRow]:
    """Every seal in the order of the chain."""
    newest, states = newest_seals(ledger.seals), standing(ledger)
    for seal in ledger.seals:
        counting = newest[seal.month]
        yield SealRow(seal, "" if counting is seal else counting.path, states[seal.path])


def state_words(row: SealRow) -> tuple[str, ...]:
    """How the month stands: as sealed, amended, or what is another."""
    if row.state:
        return row.state
    return (f"amended by {row.amended_by}",) if row.amended_by else (AS_SEALED,)


def seals(ledger: Ledger) -> Sheet:
    """The chain of seals and how each month stands now."""
    columns: tuple[Column[SealRow], ...] = (
        text("month", "the month that it closes", lambda row: row.seal.month),
        text("sealed_on", "by the builder's clock", lambda row: row.seal.sealed_on),
        number("days_after", "days after the month's last day", lambda row: days_after(row.seal)),
        text("digest", "the seal: SHA-256 of its file", lambda row: row.seal.digest),
        text("before", "the seal before it; empty: the first", lambda row: row.seal.before),
        text("amends", "the seal that it amends", lambda row: row.seal.amends),
        text("why", "why it was amended", lambda row: row.seal.why),
        number("files", "files that it lists", lambda row: len(row.seal.files)),
        number("without_name", "of them without a name", lambda row: _kept(row.seal)),
        text("state", "as sealed, or what is another now", state_words),
        text("seal", "its file", lambda row: row.seal.path),
    )
    title = "Sealed months, in the order of sealing; each seal holds the digest of the one before."
    return sheet("seals", title, columns, seal_rows(ledger))


def _kept(seal: Seal) -> int:
    return sum(one.kept_back is not None for one in seal.files)


def written_soon(ledger: Ledger) -> Sheet:
    """How soon notes were written after the work, and pictures taken, month by month."""
    columns: tuple[Column[Timeliness], ...] = (
        text("month", "calendar month with notes", lambda row: row.month),
        text("sealed", "yes or no", lambda row: is_sealed(ledger, row.month)),
        number("notes", "notes dated in the month", lambda row: row.notes),
        number("time_only", "of them handed over with nothing but their time", lambda r: r.hidden),
        number("same_day", "of the rest not said to be written later", lambda row: row.same_day),
        number("later", "of the rest written later", lambda row: len(row.later)),
        number("middle_days", "days later of the middle one of these", lambda row: row.middle),
        number("longest_days", "days later of the last of these", lambda row: row.longest),
        number("pictures", "pictures, once for each note naming it", lambda row: row.pictures),
        number("on_the_day", "of them taken on the note's day", lambda row: row.on_the_day),
        number("within_a_day", "taken a day before or after", lambda row: row.within_a_day),
        number("farther", "taken on another day", lambda row: row.farther),
        number("undated", "without a date of their own", lambda row: row.undated),
    )
    title = "How soon notes were written after the work; the days of pictures by their cameras."
    return sheet("timeliness", title, columns, timeliness(ledger))
