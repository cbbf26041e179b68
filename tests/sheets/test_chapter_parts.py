"""The chapter of parts: each once with source, receipt and cost; sums are those of `tally`."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.totals import tally, tally_document
from builderlog.knowing.entries import PartStatus
from builderlog.sheets.cells import sums_words
from builderlog.sheets.chapter import Cell, Chapter
from builderlog.sheets.chapter_parts import parts
from tests import making
from tests.sheets.chapter_reader import example, made, of_notes, plain, rows, said, sections, tables

BOUGHT = """\
date: 2026-03-14
parts:
  - {part: Bolt, ref: B-7, count: 12, cost: 8.40 EUR, from: Bram, status: ordered, for: W14}
  - {part: Glue, cost: 0.505 USD, from: Holm, receipt: receipts/glue.pdf, for: [W15]}
  - {part: Rag}
"""
CAME = """\
date: 2026-03-20
parts:
  - {part: Bolt, ref: B-7, status: received, receipt: receipts/bolt.pdf, for: W14}
  - {part: Tyre, count: 2, status: back-ordered, due: 2026-05-01, cost: 10 GBP}
  - {part: Old web, status: scrapped, from: Bram}
"""
MONEY = """\
title: A test
builder: Ines
people: {Ines: builder}
currency: USD
exchange: {from: EUR, on: 2026-01-01, rate: 1.1}
"""
FILES = {"journal.yaml": MONEY, "receipts/glue.pdf": "x", "receipts/bolt.pdf": "y"}


def bought(root: Path) -> Chapter:
    """The chapter of the two notes above."""
    return made(parts, of_notes(root, BOUGHT.replace("[W15]", "W15"), CAME, files=FILES))


def test_a_thing_stands_once_with_all_that_its_notes_say(tmp_path: Path) -> None:
    """Ordered, then received: one row with both notes, its source, receipt and cost twice over."""
    [section] = [each for each in sections(bought(tmp_path)).values() if "Wings" in each.title]
    bolt, glue, together = plain(tables([section])[0])
    assert section.title == "Area W: Wings"
    assert bolt == {
        "Part or material": "Bolt, B-7",
        "Count": "12",
        "Standing": "received",
        "From": "Bram",
        "For": "W14 Skins",
        "Cost": "8.40 EUR = 9.24 USD",
        "Receipt": "[bolt.pdf]",
        "Notes": "[2026-03-14] [2026-03-20]",
    }
    assert (glue["Cost"], glue["Receipt"]) == ("0.51 USD", "[glue.pdf]")
    # 9.24 + 0.505 = 9.745 is rounded once, half up.
    assert (together["Part or material"], together["Cost"]) == ("Together", "9.75 USD")


def test_what_is_not_here_yet_stands_apart(tmp_path: Path) -> None:
    """What is wanted, ordered, back-ordered or short is told with the day it is expected on."""
    [row] = rows(tables([sections(bought(tmp_path))["parts-awaited"]])[0])
    assert (row["Part or material"].words, row["Standing"].words) == ("Tyre", "back-ordered")
    assert (row["Expected on"].words, row["From"].weak) == ("2026-05-01", True)
    assert row["Cost"].words == "10.00 GBP"


def test_what_has_no_source_or_receipt_is_named(tmp_path: Path) -> None:
    """Of what came in and stayed, what lacks a source or a receipt is named and counted."""
    section = sections(bought(tmp_path))["parts-thin"]
    assert plain(tables([section])[0]) == [
        {"Part or material": "Rag", "For": "", "Not on record": "source and receipt"}
    ]
    assert "stayed, 1 have no source and 1 have no receipt." in said([section])


def test_sources_add_up_to_what_was_spent(tmp_path: Path) -> None:
    """Each source has its sum by currency, those without one stand last, and all is the tally's."""
    section = sections(bought(tmp_path))["parts-spent"]
    assert [tuple(row.values()) for row in plain(tables([section])[0])] == [
        ("Bram", "2", "9.24 USD"),
        ("Holm", "1", "0.51 USD"),
        ("no source on record", "2", "10.00 GBP"),
        ("In all", "5", "9.75 USD, 10.00 GBP"),
    ]


def test_the_examples_sum_is_that_of_tally() -> None:
    """The last row of the example is `tally --json`'s `spent`, and all its parts stand once."""
    ledger = example()
    chapter = made(parts, ledger)
    spent = tally_document(tally(ledger))["spent"]
    assert isinstance(spent, dict)
    last = rows(tables([sections(chapter)["parts-spent"]])[0])[-1]
    assert last["Spent"].words == sums_words(spent)
    assert last["Parts"].words == str(len(ledger.parts))
    assert listed(chapter) == len(ledger.parts)


def listed(chapter: Chapter) -> int:
    """How many parts the tables of the areas and of what is awaited have, sums left out."""
    names = [name for name in sections(chapter) if name not in ("parts-thin", "parts-spent")]
    found = [table for name in names for table in tables([sections(chapter)[name]])]
    return sum(len(table.rows) - table.sums for table in found)


COSTS = st.tuples(st.integers(0, 10**6), st.sampled_from(("USD", "EUR", "GBP", "JPY")))
STATUSES = st.none() | st.sampled_from(list(PartStatus))


@given(st.lists(st.tuples(COSTS, STATUSES), min_size=1, max_size=12))
def test_every_part_stands_once_and_sums_are_exact(
    bought: list[tuple[tuple[int, str], PartStatus | None]],
) -> None:
    """Whatever is bought: each lot stands once, and the sum is that of fractions, rounded once."""
    rates = (making.rate("EUR", "2026-01-01", "1.0873"),)
    found = [
        making.part(f"p{n}", ("2026-03-14", f"{Decimal(cents) / 1000:f} {code}"), status=status)
        for n, ((cents, code), status) in enumerate(bought)
    ]
    ledger = making.ledger(
        parts=found, notes=[making.note("2026-03-14")], settled=making.settings(exchange=rates)
    )
    chapter = made(parts, ledger)
    assert listed(chapter) == len(found)
    last = rows(tables([sections(chapter)["parts-spent"]])[0])[-1]
    assert last["Spent"].words == ", ".join(summed(bought))


def summed(bought: list[tuple[tuple[int, str], PartStatus | None]]) -> list[str]:
    """The sums by currency apart from the code that is tested: the journal's first."""
    found: dict[str, Fraction] = {}
    for (cents, code), _ in bought:
        amount = Fraction(cents, 1000) * (Fraction("1.0873") if code == "EUR" else 1)
        name = "USD" if code == "EUR" else code
        found[name] = found.get(name, Fraction(0)) + amount
    order = sorted(found, key=lambda code: (code != "USD", code))
    return [f"{half_up(found[code], 0 if code == 'JPY' else 2)} {code}" for code in order]


def half_up(amount: Fraction, digits: int) -> str:
    """An amount that is not negative, rounded half up."""
    units = int(amount * 10**digits + Fraction(1, 2))
    return f"{units // 10**digits}.{units % 10**digits:0{digits}}" if digits else str(units)


def test_parts_for_tasks_outside_any_area_are_not_lost() -> None:
    """A part for no task, or for one that no work list has, stands under no one area."""
    rag = making.part("Rag", ("2026-03-14", None))
    chapter = made(parts, making.ledger(parts=[rag], notes=[making.note("2026-03-14")]))
    [section] = [each for each in sections(chapter).values() if each.title == "For no one area"]
    [row] = rows(tables([section])[0])
    assert row["From"] == Cell("not said", weak=True)
    assert row["Receipt"] == Cell("none", weak=True)


def test_without_parts_the_chapter_says_so() -> None:
    """An inspector asks where materials came from, so that nothing is on record is said."""
    assert said(made(parts, making.ledger()).blocks).startswith("No note tells of a part")
