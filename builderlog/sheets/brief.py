"""A page in three lines, for whoever has a minute: what is new, how far it is, what is next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builderlog.deciding import words
from builderlog.sheets.month_work import names_told
from builderlog.sheets.news import News
from builderlog.sheets.rows import Link, NextRow, Time

MOST_FACTS = 2
MOST_NAMES = 2
LONGEST_NAMES = 48  # characters of those after the first one
LONGEST_STEP = 90


@dataclass(frozen=True, slots=True)
class BriefLine:
    """One line: "Next", the words, and the id of the section that tells more on the same page."""

    label: str
    words: str
    anchor: str


@dataclass(frozen=True, slots=True)
class MonthInBrief:
    """What the three lines of a month are made of."""

    done: tuple[Link, ...]
    areas: tuple[str, ...]  # by name, the most worked on first
    names_tasks: bool  # the page says which tasks of the areas were worked on
    events: tuple[BriefLine, ...]  # what happened beside work: parts, decisions
    running: Time
    next_heading: str
    next_steps: tuple[NextRow, ...]


def front_brief(
    news: News | None, standing: str, steps: Sequence[NextRow]
) -> tuple[BriefLine, ...]:
    """The front page in three lines at most; what there is nothing of is left out."""
    return tuple(_front(news, standing, steps))


def _front(news: News | None, standing: str, steps: Sequence[NextRow]) -> Iterator[BriefLine]:
    if news:
        yield BriefLine(news.heading, _news_words(news), "news")
    if standing:
        yield BriefLine("How far", standing, "standing")
    yield from _next("Next", steps)


def _news_words(news: News) -> str:
    """19 h 50 min in the shop, 3 notes; begun: Main legs and 3 more. The section has the rest."""
    counted = [f"{fact.number} {fact.words}" for fact in news.facts[:MOST_FACTS]]
    facts = ", ".join((*counted, *((news.pause,) if news.pause else ())))
    named = (("done", news.done), ("begun", news.begun))
    told = next((f"{label}: {some(links)}" for label, links in named if links), "")
    return f"{facts}; {told}" if told else facts


def month_brief(month: MonthInBrief) -> tuple[BriefLine, ...]:
    """A month in three lines or so: what was done in it, how far it came, what was next."""
    return tuple(_month(month))


def _month(month: MonthInBrief) -> Iterator[BriefLine]:
    anchor = "work" if month.names_tasks else "sums"
    if month.done:
        yield BriefLine("Done", some(month.done), anchor)
    elif month.areas:
        yield BriefLine("Worked on", names_told(month.areas[:MOST_NAMES]), anchor)
    else:
        yield from month.events
    if month.running.seconds:
        yield BriefLine("So far", f"{month.running.words} since the start", "sums")
    yield from _next(month.next_heading, month.next_steps)


def _next(label: str, steps: Sequence[NextRow]) -> Iterator[BriefLine]:
    if steps:
        more = f" (and {len(steps) - 1} more)" if len(steps) > 1 else ""
        yield BriefLine(label, f"{words.clipped(steps[0].text, LONGEST_STEP)}{more}", "next")


def some(links: Sequence[Link]) -> str:
    """The names of a few, and how many more there are; of long names but one."""
    names = [link.words for link in links]
    told = names[:MOST_NAMES] if len(", ".join(names[:MOST_NAMES])) <= LONGEST_NAMES else names[:1]
    more = f" (and {len(names) - len(told)} more)" if len(told) < len(names) else ""
    return f"{names_told(told)}{more}"
