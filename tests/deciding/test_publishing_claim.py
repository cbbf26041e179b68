"""The claim on the friends' site: asked for or none, and paid help not to be found in its sums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.public import PublicClaim
from builderlog.deciding.publishing import public_ledger
from builderlog.deciding.publishing_claim import public_claim
from builderlog.knowing.entries import Privacy, Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Known, Measure, Rulebook, Side, Source
from builderlog.knowing.rulebooks import RULEBOOKS, find_rulebook
from builderlog.knowing.settings import Role, SiteSettings, Task
from tests import making
from tests.deciding.made_claims import ALL_BUT_OURS, HOUR, book, claimed, hours, rules

CLAIM, BOTH = frozenset({"claim"}), frozenset({"claim", "paid help"})
M, P, A, F, U = Side


def by(ledger: Ledger, rulebook: Rulebook | None = None) -> Ledger:
    """The ledger, counted by a rulebook."""
    return replace(ledger, rulebook=rulebook or rules())


def shown(ledger: Ledger, show: frozenset[str] = CLAIM) -> PublicClaim:
    """The claim, which must be there."""
    claim = public_claim(ledger, show)
    assert claim
    return claim


def two(work: Iterable[Worked] = ()) -> Ledger:
    """Two tasks in two areas, one with paid credit, and one that does not apply."""
    return book(
        claimed("W1", (3, 2, 4, 1), done=True),
        claimed("E1", (1, 0, 7, 0)),
        claimed("E2", applies=False),
        work=work,
    )


@pytest.mark.parametrize("show", [frozenset(), frozenset({"paid help", "snags", "costs"})])
def test_no_claim_without_the_word(show: frozenset[str]) -> None:
    """Where `show` does not name the claim there is none, whatever else it names."""
    assert public_claim(by(two()), show) is None


def test_no_claim_without_a_rulebook_or_tasks() -> None:
    """A journal that names no rulebook, and one without a task that applies, have no claim."""
    assert public_claim(two(), CLAIM) is None
    assert public_claim(by(book()), CLAIM) is None
    assert public_claim(by(book(claimed("W1", applies=False))), CLAIM) is None


def test_the_public_ledger_has_the_claim() -> None:
    """The word in journal.yaml is what opens it."""
    for show, there in (((), False), (("claim",), True)):
        settled = replace(making.settings(), site=SiteSettings(show=frozenset(show)))
        made = public_ledger(replace(by(two()), settings=settled))
        assert (made.claim is not None) is there


def test_two_sums_and_no_more() -> None:
    """Without paid help an area tells the amateurs' part and all else as one number."""
    claim = shown(by(two()))
    assert [column.heading for column in claim.columns] == [
        "Amateurs",
        "Others and not yet claimed",
    ]
    rows = [(row.area, row.tasks, row.done, row.units, row.share) for row in claim.areas]
    assert rows == [("W", 1, 1, (5, 5), "50.0 %"), ("E", 1, 0, (7, 3), "70.0 %")]
    assert (claim.whole.units, claim.whole.done, claim.whole.permille) == ((12, 8), 1, 600)
    assert (
        claim.verdict == "On this record the share is 60.0 %; the rulebook asks for more than 50 %."
    )
    assert claim.headroom is None


def test_paid_help_opens_every_column() -> None:
    """With paid help each side stands by itself, and what may still be hired out is told."""
    claim = shown(by(two()), BOTH)
    assert [column.side for column in claim.columns] == [
        "maker",
        "paid",
        "assembly",
        "fabrication",
        "unclaimed",
    ]
    assert claim.whole.units == (4, 2, 11, 1, 2)
    assert claim.headroom
    assert "0.1 points" in claim.headroom


def test_the_forms_own_headings() -> None:
    """With paid help the columns bear the form's own words where the rulebook has them."""
    rulebook, _ = find_rulebook("us-checklist")
    assert rulebook
    headings = [column.heading for column in shown(by(two(), rulebook), BOTH).columns]
    assert headings[:2] == ["A Mfr Kit/Part/Component", "B Commercial Assistance"]
    assert headings[-1] == "Unclaimed"


TENTHS = st.integers(0, 10)


@given(st.lists(st.tuples(TENTHS, TENTHS, TENTHS, TENTHS, TENTHS, TENTHS), min_size=1, max_size=4))
def test_points_do_not_betray_paid_help(rows: list[tuple[int, ...]]) -> None:
    """However the rest falls to maker, paid help and nobody, friends see the same."""

    def journal(first: int, second: int) -> Ledger:
        return by(book(*(_task(number, row, first, second) for number, row in enumerate(rows))))

    assert shown(journal(2, 3)) == shown(journal(4, 5)) == shown(journal(3, 2))


def _task(number: int, row: tuple[int, ...], maker: int, paid: int) -> Task:
    """A task whose amateurs' credit is that of the row's first two, and the rest as it fits."""
    assembly = row[0]
    fabrication = min(row[1], 10 - assembly)
    left = 10 - assembly - fabrication
    own = min(row[maker], left)
    return claimed(
        f"{'WE'[number % 2]}{number}",
        (own, min(row[paid], left - own), assembly, fabrication),
        done=number % 2 == 0,
    )


def test_marks_do_not_betray_paid_help() -> None:
    """A row that paid help worked on and one that nobody claims are the same to friends."""
    rows = ((0, 7, 0, 0), (0, 0, 0, 0)), ((3, 2, 5, 0), (3, 0, 5, 0)), ((4, 6, 0, 0), (4, 0, 0, 0))
    for paid, nobody in rows:
        one, other = (
            shown(by(book(claimed("W1", row), claimed("E1", (1, 0, 1, 0))), rules(Measure.MARKS)))
            for row in (paid, nobody)
        )
        assert one == other


@pytest.mark.parametrize("measure", list(Measure))
def test_paid_hours_change_nothing(measure: Measure) -> None:
    """Whoever is paid, on a task that amateurs worked on too, for however long: the same claim."""
    amateurs = [hours(5, "W1", Work.ASSEMBLY), hours(1, "E1", Work.FABRICATION)]
    paid = hours(40, "W1", Work.ASSEMBLY, "Shop & Co")
    tasks = (claimed("W1", (3, 0, 5, 0)), claimed("E1", (2, 0, 0, 7)))
    rulebook = rules(measure)
    claims = [
        shown(by(book(*tasks, work=work, kit=4), rulebook))
        for work in (amateurs, [*amateurs, paid])
    ]
    assert claims[0] == claims[1]


def test_hours_are_a_share_and_no_number() -> None:
    """Of hours friends see all; so the claim tells the share alone, of the whole, and no hours."""
    work = [hours(6, "W1", Work.ASSEMBLY), hours(3, "W1", Work.ASSEMBLY, "Shop & Co")]
    claim = shown(by(book(claimed("W1", done=True), work=work, kit=4), rules(Measure.HOURS)))
    assert (claim.whole.share, claim.whole.units, claim.whole.permille) == ("60.0 %", (), 600)
    assert [(row.units, row.share) for row in claim.areas] == [((), None)]
    assert claim.beside == ()


def test_hours_with_paid_help() -> None:
    """With paid help hours stand by side; the maker's only in all, since they are for the kit."""
    work = [hours(6, "W1", Work.ASSEMBLY), hours(3, "W1", Work.ASSEMBLY, "Shop & Co")]
    claim = shown(by(book(claimed("W1"), work=work, kit=4), rules(Measure.HOURS)), BOTH)
    assert claim.areas[0].units == (None, 3 * HOUR, 6 * HOUR, 0, 0)
    assert claim.whole.units == (4 * HOUR, 3 * HOUR, 6 * HOUR, 0, 0)
    assert [label for label, _ in claim.beside] == ["Work on record", "All as planned"]


@pytest.mark.parametrize(
    ("measure", "against", "there"),
    [
        (Measure.POINTS, ALL_BUT_OURS, True),
        (Measure.POINTS, (M,), True),
        (Measure.POINTS, (M, P), True),
        (Measure.POINTS, (P,), False),
        (Measure.POINTS, (M, U), False),
        (Measure.MARKS, (M,), True),
        (Measure.MARKS, (P,), False),
        (Measure.MARKS, (M, U), False),
        (Measure.HOURS, (M,), True),
        (Measure.HOURS, (M, P, U), True),
        (Measure.HOURS, (P, U), False),
        (Measure.HOURS, (U,), False),
    ],
)
def test_a_count_that_betrays_paid_help_is_not_told(
    measure: Measure, against: tuple[Side, ...], *, there: bool
) -> None:
    """Where the share would leave paid help alone there is no claim until both are shown."""
    work = [hours(6, "W1", Work.ASSEMBLY)]
    ledger = by(
        book(claimed("W1", (3, 1, 4, 0)), work=work, kit=4), rules(measure, against=against)
    )
    assert (public_claim(ledger, CLAIM) is not None) is there
    assert shown(ledger, BOTH).whole.units


@pytest.mark.parametrize("name", [name for name in RULEBOOKS if name != "own"])
def test_every_rulebook_of_the_package_can_be_shown(name: str) -> None:
    """None of them betrays paid help; with the claim alone no column is called after it."""
    rulebook, problems = find_rulebook(name)
    assert rulebook
    assert not problems
    claim = shown(by(two(), rulebook))
    assert {column.side for column in claim.columns} == {"amateurs", "others"}


def test_who_worked_is_not_betrayed() -> None:
    """Where claimed work was all paid, what would tell it beside the claim is left out."""
    amateurs = [hours(1, "W1", Work.ASSEMBLY), hours(1, "E1", Work.ASSEMBLY)]
    paid = [hours(1, "W1", Work.ASSEMBLY, "Shop & Co"), hours(1, "E1", Work.ASSEMBLY)]
    every = ["Work on record", "Done tasks alone", "All as planned"]
    assert [label for label, _ in shown(by(two(amateurs))).beside] == every
    assert [label for label, _ in shown(by(two(paid))).beside] == ["Done tasks alone"]
    assert [label for label, _ in shown(by(two(paid)), BOTH).beside] == every


def test_private_work_counts() -> None:
    """What is on record of a private and of an hours-only note counts, as in every total."""
    for privacy in Privacy:
        notes = [making.note("2026-03-14", "W1", privacy=privacy)]
        ledger = replace(two([hours(1, "W1", Work.ASSEMBLY)]), notes=tuple(notes))
        assert dict(shown(by(ledger)).beside)["Work on record"].startswith("0.5 points")


def test_no_share_gives_no_advice() -> None:
    """Where no share can be told, friends are not told what the builder should write."""
    claim = shown(by(book(claimed("W1")), rules(Measure.HOURS)))
    assert claim.verdict == (
        "On this record no share can be told yet; the rulebook asks for more than 50 %."
    )
    assert (claim.whole.share, claim.whole.permille) == (None, None)


def test_the_cautions_name_rulebook_source_and_day() -> None:
    """The caution grants nothing, says which form prevails, and what it was counted by."""
    rulebook = replace(
        rules(),
        sources=(Source("Order 1", Known.READ, "part 3", "2009-09-30"),),
        cautions=("Mind the step.",),
        unsettled="The limit was not seen.",
    )
    claim = shown(by(replace(two(), record_date=making.day("2026-06-30")), rulebook))
    first, second, *others = claim.cautions
    assert "grants nothing" in first
    assert "form that they use prevails" in first
    assert second == (
        "The rulebook is: A made rulebook. Its source: Order 1, part 3, 2009-09-30. "
        "It is reckoned on the record of 30 June 2026."
    )
    assert others == ["Mind the step."]
    assert claim.unsettled == "The limit was not seen."
    assert ("Citation", "Made Rules, part 1") in claim.facts


def test_the_kits_evaluation_stays_back() -> None:
    """Of the kit's evaluation, of people and of gaps nothing stands in the claim."""
    ledger = by(two([hours(1, "W1", Work.ASSEMBLY, "Shop & Co")]))
    people = [person.name for person in ledger.settings.people]
    for show in (CLAIM, BOTH):
        told = repr(shown(ledger, show))
        assert not [name for name in people if name in told]
        assert "evaluat" not in told
        assert Role.HELPER.value not in told
