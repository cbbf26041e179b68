"""The panels beside the form: hours, what is open, evidence, the claim, the pace, what is wrong."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from builderlog.bench.desk import Desk
from builderlog.deciding.claim_words import CAUTION, headroom_words, limit_words, verdict
from builderlog.deciding.claim_words import percent_text as percent
from builderlog.deciding.counting import Count
from builderlog.deciding.pace import pace
from builderlog.deciding.portion import portion
from builderlog.deciding.still_open import still_open
from builderlog.deciding.sums import days_with_time, seconds_of
from builderlog.deciding.words import (
    counted,
    day_long,
    duration,
    duration_iso,
    month_long,
    month_of,
)
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Rulebook
from builderlog.noting.clock import LONGEST_SESSION, clock_words
from builderlog.reading.problem import Problem, Weight
from builderlog.sheets.claim import BarPart, ClaimBar
from builderlog.sheets.open_list import OpenList, OpenSection, open_list
from builderlog.sheets.pace import PaceWords, pace_words

WHOLE = 1000
EVIDENCE = "evidence"  # the section of what is open that has a panel of its own


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of the title block: a label, a time, and what is beside it."""

    label: str
    words: str
    iso: str
    beside: str = ""


@dataclass(frozen=True, slots=True)
class ClockPanel:
    """The clock: since when it runs, for how long; `forgotten` where it ran too long."""

    since: str
    iso: str  # of its start
    run: str
    forgotten: bool
    waiting: str  # spans that no note has yet


@dataclass(frozen=True, slots=True)
class Told:
    """One problem."""

    words: str
    where: str  # "notes/2026/2026-03-14.md, line 6"
    weight: str


@dataclass(frozen=True, slots=True)
class ProblemsPanel:
    """Mistakes first, then doubts; gaps stand in the evidence."""

    summary: str
    mistakes: tuple[Told, ...]
    doubts: tuple[Told, ...]
    gaps: tuple[Told, ...]
    explained: int


@dataclass(frozen=True, slots=True)
class ClaimPanel:
    """How the claim stands, and that nothing is granted."""

    rulebook: str
    verdict: str
    headroom: str
    bar: ClaimBar | None
    limit: str
    caution: str
    more: tuple[str, ...]  # what the rulebook warns of besides


@dataclass(frozen=True, slots=True)
class Panels:
    """All of them in ready words."""

    day: str
    cells: tuple[Cell, ...]
    clock: ClockPanel
    problems: ProblemsPanel
    open: OpenList
    evidence: OpenSection | None
    claim: ClaimPanel | None
    pace: PaceWords


def panels(desk: Desk) -> Panels:
    """The panels for this hour."""
    ledger = desk.ledger
    found = open_list(ledger, still_open(ledger, desk.tonight))
    return Panels(
        day=day_long(desk.tonight),
        cells=tuple(_cells(desk)),
        clock=_clock(desk),
        problems=_problems(desk.problems),
        open=OpenList(found.day, tuple(each for each in found.sections if each.key != EVIDENCE)),
        evidence=next((each for each in found.sections if each.key == EVIDENCE), None),
        claim=_claim(ledger, ledger.rulebook) if ledger.rulebook else None,
        pace=pace_words(pace(ledger), desk.tonight),
    )


def _cells(desk: Desk) -> Iterable[Cell]:
    month, work = month_of(desk.tonight), desk.ledger.work
    yield _cell("Tonight", [row for row in work if row.day == desk.tonight], days=False)
    yield _cell(month_long(month), [row for row in work if month_of(row.day) == month])
    yield _cell("In all", work)


def _cell(label: str, work: Iterable[Worked], *, days: bool = True) -> Cell:
    rows = list(work)
    seconds = seconds_of(rows)
    beside = f"on {counted(len(days_with_time(rows)), 'day')}" if days and seconds else ""
    return Cell(label, duration(seconds), duration_iso(seconds), beside)


def _clock(desk: Desk) -> ClockPanel:
    since = desk.clock.since
    run = max(int((desk.now - since).total_seconds()), 0) if since else 0
    return ClockPanel(
        since=clock_words(since) if since else "",
        iso=since.isoformat(timespec="minutes") if since else "",
        run=duration(run) if since else "",
        forgotten=run > LONGEST_SESSION.total_seconds(),
        waiting=", ".join(f"{span.start.date()} {span.words}" for span in desk.clock.spans),
    )


def _problems(problems: Iterable[Problem]) -> ProblemsPanel:
    still = [each for each in problems if not each.because]
    by_weight = {
        weight: tuple(told(each) for each in still if each.weight is weight) for weight in Weight
    }
    counts = [
        counted(len(each), weight.value)
        for weight, each in by_weight.items()
        if each or weight is Weight.MISTAKE
    ]
    return ProblemsPanel(
        summary=", ".join(counts),
        mistakes=by_weight[Weight.MISTAKE],
        doubts=by_weight[Weight.DOUBT],
        gaps=by_weight[Weight.GAP],
        explained=sum(bool(each.because) for each in problems),
    )


def told(problem: Problem) -> Told:
    """A problem in words, with its place."""
    where = f"{problem.place.path}, line {problem.place.line}"
    return Told(problem.told, where, problem.weight.value)


def _claim(ledger: Ledger, rulebook: Rulebook) -> ClaimPanel:
    found = portion(ledger, rulebook)
    return ClaimPanel(
        rulebook=rulebook.title,
        verdict=verdict(found),
        headroom=headroom_words(found),
        bar=_bar(found.whole, rulebook),
        limit=limit_words(rulebook.limit),
        caution=CAUTION,
        more=rulebook.cautions,
    )


def _bar(whole: Count, rulebook: Rulebook) -> ClaimBar | None:
    """The builder's part of all that the share is taken of, against the limit."""
    if whole.share is None:
        return None
    end = int(whole.share * WHOLE)
    parts = (
        BarPart("amateurs", 0, end, "the builder's"),
        BarPart("others", end, WHOLE, "what stands against it"),
    )
    label = f"The share is {percent(whole.share, rulebook.limit)}"
    return ClaimBar(label, parts, int(rulebook.limit.share * WHOLE))
