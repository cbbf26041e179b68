"""The builder's papers against the list of the authority: known by their words, never guessed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.deciding.papers import is_at_hand, papers
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import AskedPaper, Known, Rulebook
from builderlog.knowing.rulebooks import find_rulebook
from builderlog.knowing.settings import KitEvaluated, Paper
from tests import making
from tests.deciding.made_claims import rules


def listed(*names: str, by: Rulebook | None = None, kit: KitEvaluated | None = None) -> Ledger:
    """A journal with papers of these names, each at hand since a day."""
    have = making.dated("2026-03-09")
    settled = replace(
        making.settings(),
        papers=tuple(Paper(name, making.NOWHERE, have) for name in names),
        kit_evaluated=kit,
    )
    return replace(making.ledger(settled=settled), rulebook=by or found("us-checklist"))


def found(name: str) -> Rulebook:
    """A rulebook of the package."""
    rulebook, _ = find_rulebook(name)
    assert rulebook
    return rulebook


def meant(ledger: Ledger) -> dict[str, str]:
    """For each of the builder's papers the one it is taken for, "" where none."""
    told = papers(ledger)
    known = {p.name: held.asked.name for held in told.asked for p in held.listed}
    return known | {paper.name: "" for paper in told.others}


@pytest.mark.parametrize(
    ("name", "start"),
    [
        ("registration application", "Registration of the aircraft"),
        ("Registration", "Registration of the aircraft"),
        ("AC Form 8050-1", "Registration of the aircraft"),
        ("form 8050-1, signed", "Registration of the aircraft"),
        ("registration marks", "Registration marks"),
        ("kit bill of sale", "Bill of sale"),
        ("AC 8050-2", "Bill of sale"),
        ("8130-12, before the notary", "Eligibility statement"),
        ("Form 8130-6", "Application for the airworthiness"),
        ("Weight & Balance", "Weight and balance"),
        ("weight and balance report with equipment list", "Weight and balance"),
        ("Three-View Drawing", "Three-view drawings"),
        ("kit evaluation letter of 2025", "Kit evaluation letter"),
        ("engine log book", "Engine logbook"),
        ("engine logbook", "Engine logbook"),
        ("registration fee", ""),
        ("receipt for the checklist", ""),
        ("8050-18", ""),
        ("18130-6", ""),
        ("insurance", ""),
        ("-", ""),
        ("", ""),
    ],
)
def test_papers_are_known_by_their_words(name: str, start: str) -> None:
    """Whole words of the list tell a paper, the longest first; other words tell none."""
    [(_, taken)] = meant(listed(name)).items()
    assert taken.startswith(start)
    assert bool(taken) is bool(start)


def test_two_papers_in_one_name_are_neither() -> None:
    """A name that says two papers equally well is taken for none of them."""
    by = replace(rules(), papers=(AskedPaper("letter a"), AskedPaper("letter b")))
    assert meant(listed("letter a, letter b", by=by)) == {"letter a, letter b": ""}
    assert meant(listed("letter b", by=by)) == {"letter b": "letter b"}


def test_every_paper_stands_once() -> None:
    """The list keeps its order and loses nothing; each of the builder's papers stands once."""
    names = ("kit bill of sale", "bill of sale of the engine", "club card")
    ledger = listed(*names)
    told = papers(ledger)
    assert ledger.rulebook
    assert tuple(held.asked for held in told.asked) == ledger.rulebook.papers
    mine = [paper.name for held in told.asked for paper in held.listed]
    assert sorted([*mine, *(paper.name for paper in told.others)]) == sorted(names)
    assert [held.asked.name for held in told.asked if held.at_hand] == ["Bill of sale of the kit"]


def test_a_paper_with_neither_day_nor_file_is_not_at_hand() -> None:
    """Listing a paper does not bring it to hand: that takes a day since when, or a file."""
    bare = Paper("registration", making.NOWHERE)
    assert not is_at_hand(bare)
    assert is_at_hand(replace(bare, have=making.dated("2026-01-01")))
    assert is_at_hand(replace(bare, file=making.word("papers/r.pdf")))
    settled = replace(making.settings(), papers=(bare,))
    by = found("us-checklist")
    [first, *_] = papers(replace(making.ledger(settled=settled), rulebook=by)).asked
    assert (first.listed, first.at_hand) == ((bare,), False)


def test_the_kits_evaluation_counts_as_a_paper() -> None:
    """What `kit evaluated` names is at hand without being listed, and stands once if it is."""
    kit = KitEvaluated(making.dated("2025-05-20"), making.word("papers/kit.pdf"))
    by = "Kit evaluation letter"
    assert meant(listed(kit=kit)) == {"kit evaluation of 2025-05-20": by}
    assert meant(listed(kit=replace(kit, file=None))) == {}
    ledger = listed(kit=kit)
    mine = Paper("evaluation letter", making.NOWHERE, file=making.word("papers/kit.pdf"))
    settled = replace(ledger.settings, papers=(mine,))
    assert meant(replace(ledger, settings=settled)) == {"evaluation letter": by}


def test_without_a_list_all_papers_stand_beside_it() -> None:
    """Where no list is known, or no rulebook is named, nothing is asked for and nothing is lost."""
    for ledger in (listed("bill of sale", by=found("eu")), listed("bill of sale", by=rules())):
        assert papers(ledger).asked == ()
        assert meant(ledger) == {"bill of sale": ""}
    none = replace(listed("bill of sale"), rulebook=None)
    assert (papers(none).asked, meant(none)) == ((), {"bill of sale": ""})


def test_words_without_letters_tell_nothing() -> None:
    """A word of the list that has no letter or digit is known in no name."""
    by = replace(rules(), papers=(AskedPaper("--", Known.MEMORY, match=("", "…")),))
    assert meant(listed("", "-", "… --", by=by)) == {"": "", "-": "", "… --": ""}
