"""Holds what the claim's page says: its numbers, its bars against the limit, its words."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.public import PublicClaim, PublicClaimColumn, PublicClaimRow
from builderlog.sheets.book import open_book
from builderlog.sheets.claim import ClaimBar, ClaimSheet, claim_sheet
from builderlog.sheets.front import FrontSheet
from builderlog.sheets.site import all_pages
from tests.drawing.made_public import CLAIM, HOUR, PUBLIC

SIDES = ("maker", "paid", "assembly", "fabrication", "unclaimed")
AGAINST = {"maker": "against", "paid": "against", "unclaimed": "against"}


def sheet_of(claim: PublicClaim = CLAIM) -> ClaimSheet:
    """The sheet of a claim."""
    return claim_sheet(open_book(PUBLIC), claim)


def opened(
    measure: str, units: tuple[int | None, ...], counts: dict[str, str] | None = None
) -> PublicClaim:
    """A claim with a column for each side; units as the whole has them."""
    told = counts or AGAINST
    columns = tuple(PublicClaimColumn(side, side, told.get(side, "for")) for side in SIDES)
    whole = replace(CLAIM.whole, units=units)
    return replace(CLAIM, measure=measure, columns=columns, whole=whole, areas=())


def bar_of(sheet: ClaimSheet) -> ClaimBar:
    """The bar of the whole, which must be there."""
    assert sheet.whole.bar
    return sheet.whole.bar


def test_no_claim_has_no_page_and_no_link() -> None:
    """By default the site has no such page, and the front page leads to none."""
    pages = {page.path: page for page in all_pages(replace(PUBLIC, claim=None))}
    front = pages["index.html"].sheet
    assert "claim.html" not in pages
    assert isinstance(front, FrontSheet)
    assert front.claim is None


def test_the_front_page_leads_to_the_claim() -> None:
    """The claim is reached from where the build stands; the list of pages stays as it is."""
    pages = {page.path: page for page in all_pages(PUBLIC)}
    front = pages["index.html"].sheet
    assert isinstance(front, FrontSheet)
    assert front.claim
    assert front.claim.path == "claim.html"
    nav = pages["claim.html"].chrome.nav
    assert "claim.html" not in [link.path for link in nav]
    assert [link.words for link in nav if link.here] == ["The build"]


def test_rows_add_up_to_the_whole() -> None:
    """Each area has its tasks, its numbers in the measure, and its share; then the whole."""
    sheet = sheet_of()
    assert sheet.headings == (
        "Area",
        "Tasks",
        "Done",
        "Amateurs",
        "Others and not yet claimed",
        "Share",
    )
    assert sheet.rows[0].cells == ("2", "1", "1.3", "0.7", "65.0\xa0%")
    assert sheet.whole.cells == sheet.rows[0].cells
    assert sheet.rows[0].standing == "1 of 2 tasks done"
    assert sheet.rows[0].link
    assert sheet.measured == "or 1.3 of 2.0 points"


def test_no_line_ends_before_a_per_cent_sign() -> None:
    """Numbers and their per cent sign stay together wherever the page tells a share."""
    sheet = sheet_of()
    told = (sheet.verdict, sheet.share or "", sheet.limit, sheet.beside[0][1])
    assert all("\xa0%" in words and " %" not in words for words in told)


def test_the_verdict_is_in_the_words_of_every_other_place() -> None:
    """The sentence is the public ledger's own."""
    assert sheet_of().verdict.replace("\xa0", " ") == CLAIM.verdict


def test_bars_are_held_to_the_limit() -> None:
    """The amateurs' part begins a bar, so that its end is the share that the line is held to."""
    bar = bar_of(sheet_of(opened("points", (4, 2, 7, 3, 4))))
    assert [(part.side, part.start, part.end) for part in bar.parts] == [
        ("assembly", 0, 350),
        ("fabrication", 350, 500),
        ("maker", 500, 700),
        ("paid", 700, 800),
        ("unclaimed", 800, 1000),
    ]
    assert bar.parts[0].words == "assembly: 0.7 points"
    assert bar.limit == 500


def test_what_counts_on_no_side_is_told_and_not_drawn() -> None:
    """Marks of paid help and of nobody are in the table, not in the bar, and a sentence says so."""
    sheet = sheet_of(
        opened("marks", (4, 2, 7, 3, 4), {"maker": "against", "paid": "", "unclaimed": ""})
    )
    assert [part.side for part in bar_of(sheet).parts] == ["assembly", "fabrication", "maker"]
    assert "paid and unclaimed count on no side." in sheet.remarks
    assert sheet.whole.cells[2:7] == ("4", "2", "7", "3", "4")
    assert sheet.measured == "or 10 of 14 marks"


def test_hours_are_told_as_hours() -> None:
    """Hours stand as hours and minutes; where the maker has none in an area there is a dash."""
    claim = opened("hours", (10 * HOUR, 0, 5 * HOUR, 1800, 0))
    area = PublicClaimRow("W", "Wings", 2, 1, (None, 0, 5 * HOUR, 1800, 0), None, None)
    sheet = sheet_of(replace(claim, areas=(area,)))
    assert sheet.rows[0].cells == ("2", "1", "\N{EN DASH}", "0:00", "5:00", "0:30", "0:00")
    assert sheet.rows[0].bar is None
    assert "Share" not in sheet.headings
    assert sheet.measured == "or 5\xa0h\xa030\xa0min of 15\xa0h\xa030\xa0min"


def test_hours_that_are_not_told() -> None:
    """Without numbers the bar is drawn from the share alone, and no cell has an hour in it."""
    whole = PublicClaimRow(None, "In all", 2, 1, (), "28.6 %", 286)
    area = PublicClaimRow("W", "Wings", 2, 1, (), None, None)
    sheet = sheet_of(replace(CLAIM, measure="hours", whole=whole, areas=(area,)))
    assert [(part.start, part.end) for part in bar_of(sheet).parts] == [(0, 286), (286, 1000)]
    assert sheet.headings == ("Area", "Tasks", "Done")
    assert sheet.rows[0].cells == ("2", "1")
    assert sheet.measured == "of the hours that count"


def test_without_a_share_there_is_no_bar() -> None:
    """Where no share can be told the table stands without it, and nothing is divided by nothing."""
    whole = PublicClaimRow(None, "In all", 2, 1, (0, 0), None, None)
    sheet = sheet_of(
        replace(CLAIM, measure="marks", whole=whole, areas=(replace(whole, area="W"),))
    )
    assert (sheet.share, sheet.whole.bar) == (None, None)
    assert sheet.headings[-1] == "Others and not yet claimed"


@given(st.tuples(*[st.integers(0, 10**6)] * 5).filter(any))
def test_a_bar_is_whole(units: tuple[int, ...]) -> None:
    """The parts of a bar follow each other without a gap from its beginning to its end."""
    parts = bar_of(sheet_of(opened("points", units))).parts
    assert parts[0].start == 0
    assert parts[-1].end == 1000
    assert all(one.end == other.start for one, other in pairwise(parts))
