"""The chapter of the sealed months: the chain, what it proves, how soon the record was written."""

from __future__ import annotations

from collections.abc import Iterator

from builderlog.deciding.checks_seals import standing
from builderlog.deciding.sealing import is_sealed, last_seal, notes_by_month
from builderlog.deciding.sealing_words import (
    HIDDEN,
    NEVER_REWRITTEN,
    NOT_PROVED,
    PROVES,
    WITNESSES,
    days_after,
)
from builderlog.deciding.timeliness import Timeliness, in_all, timeliness
from builderlog.deciding.words import counted, day_plain, listed, month_long
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.chapter import Block, Cell, Chapter, Column, Paragraph, Rows, Section
from builderlog.sheets.material import Material
from builderlog.sheets.record_seals import SealRow, seal_rows, state_words
from builderlog.sheets.shelf import FileLink

ID = "seals"
GROUP = 8  # digits of a digest that an eye compares at once


def seals(material: Material) -> Iterator[Chapter]:
    """One chapter, which says too where nothing is sealed."""
    ledger = material.ledger
    yield Chapter(
        ID,
        "Sealed months",
        (
            *_opening(ledger),
            *_chain(ledger),
            Section(
                "seals-proof", "What a seal proves, and what it does not", tuple(_proof(ledger))
            ),
            Section("seals-soon", "How soon the record was written", tuple(_soon(ledger))),
        ),
    )


def cover_seal(ledger: Ledger) -> tuple[str, Cell]:
    """For the cover: the seal of the last sealed month, term and words."""
    seal = last_seal(ledger)
    if seal is None:
        return "Seal", Cell("No month of this record is sealed", to=ID, weak=True)
    told = f"{digest_words(seal.digest)}, sealed on {day_plain(seal.sealed_on)}"
    return f"Seal of {month_long(seal.month)}", Cell(told, to=ID)


def digest_words(digest: str) -> str:
    """A digest in groups of eight, as an eye compares it and a line can be broken."""
    return " ".join(digest[at : at + GROUP] for at in range(0, len(digest), GROUP))


def _opening(ledger: Ledger) -> Iterator[Block]:
    """How many months are sealed, which are not, and whether each is as it was sealed."""
    months = notes_by_month(ledger)
    open_months = [month for month in months if not is_sealed(ledger, month)]
    sealed = len(months) - len(open_months)
    if not ledger.seals:
        told = "No month of this record is sealed: nothing shows that it was not changed later."
        yield Paragraph(told, "gap")
        yield from _unread(ledger)
        return
    told = f"Of {counted(len(months), 'month')} with notes {sealed or 'none'}"
    yield Paragraph(f"{told} {'is' if sealed < 2 else 'are'} sealed.", "lead")
    if open_months:
        yield Paragraph(f"Not sealed: {listed([*map(month_long, open_months)])}.")
    states = standing(ledger)
    altered = sum(bool(states[seal.path]) for seal in ledger.seals)
    if altered:
        told = f"{counted(altered, 'seal')} of {len(ledger.seals)}"
        told = f"{told}: something is not as it was sealed. The table says what."
        yield Paragraph(told, "caution")
    else:
        yield Paragraph("Every file that a seal lists is as it was on the day of sealing.")
    yield from _unread(ledger)


def _unread(ledger: Ledger) -> Iterator[Block]:
    """Files among the seals that could not be read as one."""
    read = {seal.path for seal in ledger.seals}
    for path, messages in standing(ledger).items():
        if path not in read:
            yield Paragraph("; ".join(messages), "caution", (FileLink(path, path),))


def _chain(ledger: Ledger) -> Iterator[Block]:
    if ledger.seals:
        columns = (
            Column("Month", share=3),
            Column("Sealed on"),
            Column("Days after the month", number=True),
            Column("Seal (SHA-256)", share=4),
            Column("Amended because", share=3),
            Column("State", share=4),
        )
        rows = tuple(_chain_row(row) for row in seal_rows(ledger))
        yield Rows("The seals, in the order in which they follow each other", columns, rows)


def _chain_row(row: SealRow) -> tuple[Cell, ...]:
    seal = row.seal
    return (
        Cell(month_long(seal.month), (FileLink(seal.path, seal.path),)),
        Cell(seal.sealed_on.isoformat()),
        Cell(str(days_after(seal))),
        Cell(digest_words(seal.digest)),
        Cell(seal.why),
        Cell("; ".join(state_words(row)), weak=bool(row.state)),
    )


def _proof(ledger: Ledger) -> Iterator[Block]:
    yield Paragraph(PROVES)
    yield Paragraph(WITNESSES)
    yield Paragraph(NOT_PROVED, "caution")
    yield Paragraph(NEVER_REWRITTEN)
    if any(one.kept_back for seal in ledger.seals for one in seal.files):
        yield Paragraph(HIDDEN)


def _soon(ledger: Ledger) -> Iterator[Block]:
    told = (
        "A note that does not say when it was written counts as written on the day of the work;"
        " that is the builder's word. The day of a picture is that of its camera, which may be set"
        " wrongly, and which a program can change."
    )
    yield Paragraph(told)
    columns = (
        Column("Month", share=3),
        Column("Notes", number=True),
        Column("Same day", number=True),
        Column("Later", number=True),
        Column("Days later, middle and most", share=3),
        Column("Pictures", number=True),
        Column("Taken that day", number=True),
        Column("A day off", number=True),
        Column("Farther", number=True),
        Column("No date", number=True),
    )
    rows = [*timeliness(ledger)]
    cells = tuple(_soon_row(row) for row in rows)
    sums = (_soon_row(in_all(rows)),) if len(rows) > 1 else ()
    nothing = "No note is on record."
    caption = "When notes were written, and pictures taken, month by month"
    yield Rows(caption, columns, (*cells, *sums), nothing, len(sums))
    if hidden := sum(row.hidden for row in rows):
        told = f"{counted(hidden, 'note')} with nothing but the time handed over: not judged here."
        yield Paragraph(told, "quiet")


def _soon_row(row: Timeliness) -> tuple[Cell, ...]:
    later = f"{row.middle} and {row.longest}" if row.later else ""
    numbers = (row.pictures, row.on_the_day, row.within_a_day, row.farther, row.undated)
    return (
        Cell(month_long(row.month) if row.month else "All months"),
        Cell(str(row.notes)),
        Cell(str(row.same_day)),
        Cell(str(len(row.later))),
        Cell(later),
        *(Cell(str(number)) for number in numbers),
    )
