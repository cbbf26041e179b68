"""Where a link in a note's words leads."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.links import LinkJudged, judge_link
from builderlog.knowing.files import Finder
from builderlog.reading.prose import ProseLink, links_in
from tests.reading.case_file import Case, each_case

NOTE = "notes/2026/2026-03-14.md"
NOTES = frozenset({NOTE, "notes/2026/2026-03-15.md"})
FILES = (*NOTES, "photos/a.jpg", "photos/é 1.png", "receipts/a.pdf", "notes/plan.md")
FINDER = Finder(FILES, ["photos/linked.jpg"])
SAFE = ("http:", "https:", "mailto:", "tel:", "//")


def judged(markdown: str) -> LinkJudged:
    """The one link of a piece of Markdown, judged."""
    (link,) = links_in(markdown)
    return judge_link(NOTE, link, FINDER, NOTES)


@each_case("links.txt")
def test_case(case: Case) -> None:
    """Each line `Markdown => kind path code` of the case is judged so."""
    pairs = [line.split(" => ") for line in case.files[""].splitlines() if line]
    found = [judged(markdown) for markdown, _ in pairs]
    outcomes = [" ".join(filter(None, (link.kind, link.path, link.code))) for link in found]
    assert outcomes == [outcome for _, outcome in pairs]
    assert all(bool(link.code) == bool(link.message) for link in found)


@given(
    st.sampled_from(["link", "image"]),
    st.text(max_size=20) | st.text("javascript:data/%.#?& \t\n\\", max_size=20),
)
def test_only_the_wide_world_is_left_as_it_stands(kind: str, target: str) -> None:
    """A target is a file of the journal, a place in the note, or begins as the web's own do."""
    link = ProseLink("image" if kind == "image" else "link", target, "x", 1)
    found = judge_link(NOTE, link, FINDER, NOTES)
    if found.kind == "wide world":
        assert target.lower().startswith(SAFE)
    elif found.kind == "here":
        assert kind == "link"
        assert not target or target.startswith("#")
    elif found.kind == "refused":
        assert found.code in {"link-refused", "missing-file", "outside"}
    else:
        assert found.path in FILES
