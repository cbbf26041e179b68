"""The panels: hours, clock, problems and claim in ready words."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from builderlog.bench.desk import Desk
from builderlog.bench.panels import panels
from builderlog.deciding.claim_words import CAUTION
from builderlog.noting.clock import Clock
from builderlog.reading.problem import Place, doubt, gap, mistake
from tests.bench_server.made_desk import at, desk_of, laid


def test_the_hours_are_tonights_the_months_and_all(made_desk: Desk) -> None:
    """Tonight is empty two days after the last note; month and whole have its four hours."""
    cells = [(cell.label, cell.words, cell.beside) for cell in panels(made_desk).cells]
    four = "4\N{NO-BREAK SPACE}h"
    assert cells == [
        ("Tonight", "0\N{NO-BREAK SPACE}min", ""),
        ("March 2026", four, "on 1 day"),
        ("In all", four, "on 1 day"),
    ]
    that_night = at(made_desk, datetime(2026, 3, 15, 2, 0))  # noqa: DTZ001 - the shop's clock
    assert panels(that_night).cells[0].words == four


def test_the_clock_tells_since_when_and_how_long(made_desk: Desk) -> None:
    """A clock that ran for longer than an evening is told as forgotten."""
    since = datetime(2026, 3, 16, 19, 10)  # noqa: DTZ001 - the shop's clock
    running = replace(made_desk, clock=Clock(since=since))
    clock = panels(running).clock
    assert (clock.since, clock.iso, clock.run, clock.forgotten) == (
        *("19:10", "2026-03-16T19:10"),
        *("3\N{NO-BREAK SPACE}h\N{NO-BREAK SPACE}20\N{NO-BREAK SPACE}min", False),
    )
    late = at(running, datetime(2026, 3, 17, 12, 0))  # noqa: DTZ001
    assert panels(late).clock.forgotten
    assert panels(made_desk).clock.since == ""


def test_problems_are_told_by_weight_and_explained_ones_are_not_open(made_desk: Desk) -> None:
    """Mistakes, doubts and gaps each by themselves; what the builder explained is but counted."""
    place = Place("notes/a.md", 6, 3)
    told = (
        mistake(place, "x", "one"),
        doubt(place, "x", "two"),
        gap(place, "x", "three"),
        replace(gap(place, "x", "four"), because="so it is"),
    )
    found = panels(replace(made_desk, problems=told)).problems
    assert [(one.words, one.where) for one in found.mistakes] == [("one", "notes/a.md, line 6")]
    assert [one.words for one in (*found.doubts, *found.gaps)] == ["two", "three"]
    assert (found.summary, found.explained) == ("1 mistake, 1 doubt, 1 gap", 1)
    assert panels(replace(made_desk, problems=())).problems.summary == "no mistakes"


def test_the_claim_carries_its_caution_and_grants_nothing(made_desk: Desk) -> None:
    """Verdict, headroom and caution are those that `claim` prints; the bar ends at the share."""
    claim = panels(made_desk).claim
    assert claim
    assert claim.caution == CAUTION
    assert claim.verdict.startswith("On this record the share is")
    assert claim.bar
    assert claim.bar.parts[0].end == claim.bar.parts[1].start
    assert claim.bar.limit == 500


def test_a_journal_with_nothing_in_it_has_panels_too(tmp_path: Path) -> None:
    """Without rulebook, work list and notes there is no claim, and nothing breaks."""
    bare = {"journal.yaml": "title: A\nbuilder: Ines\npeople: {Ines: {role: builder}}\n"}
    root = laid(tmp_path, bare)
    for path in ("worklist.yaml", "notes/2026/2026-03-14-skins.md"):
        (root / path).unlink()
    found = panels(desk_of(root))
    assert found.claim is None
    assert [cell.words for cell in found.cells] == ["0\N{NO-BREAK SPACE}min"] * 3


def test_evidence_has_a_panel_of_its_own(made_desk: Desk) -> None:
    """What evidence is missing stands apart from the other open things, and only once."""
    found = panels(made_desk)
    assert found.evidence
    keys = [section.key for section in found.open.sections]
    assert "evidence" not in keys
    assert keys[:2] == ["next", "snags"]
