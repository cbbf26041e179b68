"""Holds what the claim's bars draw; their numbers are held where they are laid out."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # our own SVG

from markupsafe import Markup

from builderlog.drawing.claim_bars import HATCH_OF, claim_bar, claim_hatches, claim_swatch
from builderlog.sheets.claim import BarPart, ClaimBar
from tests.drawing.made_public import drawn

BAR = ClaimBar(
    "Wings: the share is 60.5 %",
    (BarPart("amateurs", 0, 605, "<Amateurs>: 1"), BarPart("others", 605, 1000, "Others: 2")),
    510,
)


def read(svg: Markup) -> ET.Element:
    """Some SVG of ours, read."""
    return ET.fromstring(str(svg))  # noqa: S314 - our own SVG


def test_a_bar_says_what_it_shows() -> None:
    """A reader who does not see it hears its share, and each part has its size in words."""
    svg = read(claim_bar(BAR, "claim"))
    assert svg.attrib["role"] == "img"
    assert svg.attrib["aria-label"] == "Wings: the share is 60.5 %"
    assert [title.text for title in svg.iter("title")] == ["<Amateurs>: 1", "Others: 2"]


def test_the_limit_is_a_line_where_it_belongs() -> None:
    """The line crosses the whole bar at the limit, over all of its parts."""
    svg = read(claim_bar(BAR, "claim"))
    line = svg[-1]
    assert (line.tag, line.attrib["class"], line.attrib["x1"]) == ("line", "limit", "51.0%")
    bars = [(rect.attrib["x"], rect.attrib["width"]) for rect in svg.iter("rect")]
    assert bars == [("0.0%", "60.5%"), ("60.5%", "39.5%")]
    assert int(line.attrib["y2"]) > int(next(svg.iter("rect")).attrib["height"])


def test_sides_are_told_apart_without_colour() -> None:
    """No two sides of one claim share a hatch, each hatch is drawn once; nobody's part is blank."""
    sums, sides = ("amateurs", "others"), ("maker", "paid", "assembly", "fabrication", "unclaimed")
    for together in (sums, sides):
        fills = [read(claim_swatch(side, "claim"))[0].attrib["fill"] for side in together]
        assert len(set(fills)) == len(fills)
    assert read(claim_swatch("unclaimed", "claim"))[0].attrib["fill"] == "none"
    drawn_once = [node.attrib["id"] for node in read(claim_hatches("claim")).iter("pattern")]
    assert sorted(drawn_once) == sorted({f"claim-hatch-{number}" for number in HATCH_OF.values()})


def test_the_page_uses_the_hatches_it_has() -> None:
    """Every fill on the claim's page names a pattern of that page."""
    page = drawn()["claim.html"].decode()
    used = {part.split(")")[0] for part in page.split("url(#")[1:]}
    assert used
    assert all(f'<pattern id="{name}"' in page for name in used)


def test_the_page_carries_its_caution() -> None:
    """Verdict, what is not settled, caution, source and numbers stand on the page as words."""
    page = drawn()["claim.html"].decode().replace("\xa0", " ")
    for words in (
        "On this record the share is 65.0 %; the rulebook asks for more than 50 %.",
        "The limit was not seen.",
        "It grants nothing.",
        "Order 1, part 3, 2009-09-30 (read)",
        "A &lt;made&gt; rulebook",
        "<td>1.3</td><td>0.7</td>",
    ):
        assert words in page
    for word in ("approved", "compliant", "passed", "eligible"):
        assert word not in page.replace("nobody has approved it", "")
