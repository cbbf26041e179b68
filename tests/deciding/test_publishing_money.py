"""Where the money went as friends may see it: only if asked, exact, nothing private by name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from builderlog.deciding.public import PublicMoney, PublicSpent
from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.totals import tally
from builderlog.knowing.entries import Privacy
from builderlog.knowing.ledger import Ledger, Part
from builderlog.knowing.settings import SiteSettings
from tests.making import ledger, note, part, rate, settings, task, word

OPEN, HIDDEN, LATER = "2026-03-14", "2026-03-15", "2026-04-01"
COSTS = frozenset({"costs", "suppliers"})


def bought(name: str, on: str, cost: str, task_id: str | None = None, source: str = "") -> Part:
    """A part with its cost, its task and where it is from."""
    made = part(name, (on, cost))
    event = made.events[0]
    line = replace(
        event.line,
        task=word(task_id) if task_id else None,
        source=word(source) if source else None,
    )
    return replace(made, events=(replace(event, line=line),))


def journal(*parts: Part, show: frozenset[str] = COSTS) -> Ledger:
    """A journal with two public notes and one private one between them."""
    settled = replace(
        settings(exchange=[rate("EUR", "2026-01-01", "1.1")]), site=SiteSettings(show=show)
    )
    notes = [note(OPEN), note(HIDDEN, privacy=Privacy.PRIVATE), note(LATER)]
    return ledger(notes=notes, parts=parts, tasks=[task("W1"), task("T1")], settled=settled)


PARTS = (
    bought("Spar", OPEN, "100.10 USD", "W1", "Fennick"),
    bought("Rib", LATER, "10 EUR", "T1"),
    bought("Glue", OPEN, "5.05 USD"),
    bought("Secret", HIDDEN, "40 USD", "T1", "Hushley"),
    bought("Paint", OPEN, "3 GBP", "W1", "Fennick"),
)


def money_of(*parts: Part, show: frozenset[str] = COSTS) -> PublicMoney | None:
    """What friends see of it."""
    return public_ledger(journal(*parts, show=show)).money


def by_name(spent: Iterable[PublicSpent]) -> dict[tuple[str, str], str]:
    """Exact amounts by name and currency."""
    return {(each.name, each.currency): f"{each.amount.normalize():f}" for each in spent}


def test_money_is_told_only_if_asked() -> None:
    """Without `costs` there is none; without `suppliers` none of them, even their number."""
    assert money_of(*PARTS, show=frozenset()) is None
    told = money_of(*PARTS, show=frozenset({"costs"}))
    assert told
    assert told.by_supplier == ()


def test_a_journal_without_costs_has_no_money() -> None:
    """Nothing is drawn where nothing was written."""
    assert money_of() is None


def test_areas_and_suppliers_come_from_public_notes_alone() -> None:
    """The private part stands with those of no area and no supplier, never alone."""
    told = money_of(*PARTS)
    assert told
    assert by_name(told.by_area) == {
        ("W", "USD"): "100.1",
        ("T", "USD"): "11",
        ("", "USD"): "45.05",
        ("W", "GBP"): "3",
    }
    assert by_name(told.by_supplier) == {
        ("Fennick", "USD"): "100.1",
        ("Fennick", "GBP"): "3",
        ("", "USD"): "56.05",
    }


def test_months_count_every_part() -> None:
    """The private part is in its month, as it is in the whole."""
    told = money_of(*PARTS)
    assert told
    assert by_name(told.by_month) == {
        ("2026-03", "USD"): "145.15",
        ("2026-03", "GBP"): "3",
        ("2026-04", "USD"): "11",
    }


def test_all_ways_of_looking_add_up_to_what_tally_says() -> None:
    """By month, by area and by supplier it is the same money, exact."""
    told = money_of(*PARTS)
    assert told
    spent = dict(tally(journal(*PARTS)).spent)
    for rows in (told.whole, told.by_month, told.by_area, told.by_supplier):
        sums: dict[str, Decimal] = {}
        for row in rows:
            sums[row.currency] = sums.get(row.currency, Decimal(0)) + row.amount
        assert sums == spent


def test_a_price_that_a_private_note_corrects_is_not_told() -> None:
    """Public notes said 10, a private one 12: the area tells 10, the difference nobody's."""
    first = bought("Spar", OPEN, "10 USD", "W1").events
    told = money_of(Part("Spar", None, first + part("Spar", (HIDDEN, "12 USD")).events))
    assert told
    assert by_name(told.by_area) == {("W", "USD"): "10", ("", "USD"): "2"}
