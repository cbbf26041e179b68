"""Parts and snags of public notes are told as if there were no private ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.journal import read_journal
from builderlog.knowing.settings_words import SHOWABLE
from builderlog.reading.folder import Folder
from tests.examples import many

JOURNAL = """\
title: Wings
builder: Ines
people: {Ines: {role: builder}, Tove: {role: helper}}
currency: USD
place: Kelmsby
site: {show: [%s]}
"""
WORKLIST = """\
areas:
  - {area: W, name: Wings, tasks: [{task: W1, name: Spar, estimate: 90h},
     {task: W2, name: Ribs, estimate: 40h}]}
  - {area: T, name: Tail, tasks: [{task: T1, name: Fin, estimate: 30h}]}
"""
PUBLIC = {
    "2026-03-04": "parts: [{part: bolt, status: ordered}, {part: nut, ref: N1, status: ordered}]",
    "2026-03-12": "parts: [{part: bolt, status: received}]\nsnags: [dent, {snag: scratch, no: S}]",
    "2026-03-17": "parts: [{part: bolt, status: fitted}]\nfixed: {no: S, how: filed}\nsnags: gap",
    "2026-04-16": "parts: [{part: nut, ref: N1, status: received, cost: 3 USD}]\nnext: paint",
}
LINES = (
    "parts: [{part: bolt, status: wanted}, {part: bolt, status: ordered}]",
    "parts: [{part: nut, ref: N1, status: wanted, due: 2026-04-01}]",
    "parts: [{part: bolt, status: received}, {part: shim}]",
    "snags: [hidden, also hidden]",
    "visits: {who: Orla, looked at: [W1], found: [loose nut]}",
    "next: [sell it]",
    "decided: {what: stop}",
    "measured: {what: gap, value: 2 mm}",
    "place: Elsewhere",
    "written: 2026-04-30",
    "title: Zebra",
)


def told(private: dict[str, str], show: str = ", ".join(sorted(SHOWABLE))) -> PublicLedger:
    """What friends see of the public notes and of these: by path, their front matter."""
    files = {"journal.yaml": JOURNAL % show, "worklist.yaml": WORKLIST}
    names = "-aside.md"
    weeks = (str(date(2026, 1, 3) + timedelta(days=7 * week)) for week in range(15))
    for day, lines in (dict.fromkeys(weeks, "") | PUBLIC).items():
        note = f"hours: 5h\ntasks: [W1]\n{lines}"
        files[f"notes/{day}{names}"] = f"---\n{note}\n---\nWords.\n"
    files |= {path: f"---\n{lines}\nprivate: yes\n---\nQuiet.\n" for path, lines in private.items()}
    added = {path: text.encode() for path, text in files.items()}
    return public_ledger(read_journal(Folder(Path("/nowhere"), tuple(sorted(added)), added=added)))


def private(day: str, name: str = "a", *lines: str) -> dict[str, str]:
    """A private note of two hours on a day, with these lines."""
    return {f"notes/{day}-{name}.md": "\n".join(("hours: 2h\ntasks: [W2]", *lines))}


def test_a_private_snag_moves_no_number() -> None:
    """Snags that have no number of their own are counted in public notes first."""
    book = told(private("2026-03-12", "a", "snags: [hidden, also hidden]"))
    assert [snag.number for snag in book.snags] == ["2026-03-12.1", "S", "2026-03-17.1"]


def test_the_window_is_there() -> None:
    """The journal of these tests has one, or they would say nothing of it."""
    assert told({}).pace is not None


def test_a_private_part_makes_no_lot_and_no_order() -> None:
    """A public part is followed through public notes, though a private one has an older lot."""
    book = told(private("2026-03-02", "a", "parts: [{part: nut, ref: N1}, {part: bolt}]"))
    lines = "parts: [{part: bolt, status: wanted}, {part: bolt, status: received}]"
    other = told(private("2026-03-02", "a", lines))
    assert [part.name for part in other.parts] == ["bolt", "nut"]
    assert book.parts == other.parts


NOTES = st.tuples(
    st.integers(1, 31),
    st.sampled_from(["a", "zz"]),
    st.lists(st.sampled_from(LINES), max_size=6, unique_by=lambda line: line.split(":")[0]),
)


@settings(deadline=None, max_examples=many(30))
@given(NOTES, NOTES, st.sampled_from(["03", "04", "05"]))
def test_a_private_note_tells_its_sums_alone(
    one: tuple[int, str, list[str]], other: tuple[int, str, list[str]], month: str
) -> None:
    """Whatever a private note says beside its hours, on whatever day of its month: all the same.

    But for how many days had time, where it shares the day of a public one.
    """
    books = [
        told(private(f"2026-{month}-{min(day, 30):02}", name, *lines))
        for day, name, lines in (one, other)
    ]
    first, second = (
        replace(book, days=0, months=tuple(replace(each, days=0) for each in book.months))
        for book in books
    )
    assert first == second, "private notes show through"
