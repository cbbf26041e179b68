"""Cells that chapters share: tasks and areas by id and name, people by full name, days, gaps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from builderlog.deciding.costs import amount_text
from builderlog.deciding.findings import Findings
from builderlog.deciding.states import sentence
from builderlog.knowing.entries import FixedLine, Money
from builderlog.reading.words import Word
from builderlog.sheets.chapter import Cell, anchor
from builderlog.sheets.evidence_people import ROLE_WORDS, People, people_of
from builderlog.sheets.places import area_chapters, titled
from builderlog.sheets.shelf import FileLink

NOT_SAID = Cell("not said", weak=True)


@dataclass(frozen=True, slots=True)
class Names:
    """How tasks, areas and people are called, and where a task or an area stands in the dossier."""

    titles: Mapping[str, str]
    places: Mapping[str, str]  # the ids of sections and chapters
    people: People

    def title(self, name: str) -> str:
        """A task or area by id and name; a word that is neither as it is written."""
        return self.titles.get(name, name)

    def cell(self, name: str) -> Cell:
        """The same, with what it leads to."""
        return Cell(self.title(name), to=self.places.get(name, ""))

    def cells(self, names: Iterable[Word | str]) -> Cell:
        """Several in one cell, each once; only a single one can lead somewhere."""
        told = tuple(dict.fromkeys(map(str, names)))
        if len(told) == 1:
            return self.cell(told[0])
        return Cell("; ".join(map(self.title, told)))

    def persons(self, names: Iterable[Word | str]) -> str:
        """Ines Aldermark, Pim and Jorun, each once."""
        return self.people.names(names)

    def with_role(self, name: str) -> str:
        """Ines Aldermark (builder); someone who is not declared by the name alone."""
        person = self.people.declared.get(name)
        return f"{self.people.full(name)} ({ROLE_WORDS[person.role]})" if person else name

    def by_whom(self, fixed: FixedLine) -> str:
        """Who put a snag right and who saw it; "" where neither is said."""
        seen = f"seen by {self.persons(fixed.witness)}" if fixed.witness else ""
        return ", ".join(words for words in (self.persons(fixed.by), seen) if words)


def names_of(found: Findings) -> Names:
    """The names in a journal. An id that is an area's and a task's means the task."""
    areas = found.ledger.worklist.areas
    tasks = [task for area in areas for task in area.tasks]
    return Names(
        titles={
            **{area.id: titled(area.id, area.name) for area in areas},
            **{task.id: titled(task.id, task.name) for task in tasks},
        },
        places={
            **area_chapters(found.ledger),
            **{task.id: anchor(task.id) for task in tasks},
            **{record.id: anchor(record.id) for record in found.records},
        },
        people=people_of(found.ledger),
    )


def said(word: object | None, links: tuple[FileLink, ...] = ()) -> Cell:
    """The builder's words; where there are none, that it is not said."""
    words = "" if word is None else str(word)
    return Cell(words, links) if words.strip() else Cell(NOT_SAID.words, links, weak=True)


def maybe(word: object | None) -> Cell:
    """The builder's words, or an empty cell where nobody would ask for any."""
    return Cell("" if word is None else str(word))


def day_cell(day: date | None, links: tuple[FileLink, ...] = ()) -> Cell:
    """A day, year first."""
    return Cell(day.isoformat() if day else "", links)


def money_words(money: Money) -> str:
    """8.40 EUR, rounded half up to the currency's smallest unit."""
    return f"{amount_text(money)} {money.currency}"


def sums_words(shown: Mapping[str, str]) -> str:
    """Sums by currency as `shown` gives them: 120.40 USD, 33 JPY."""
    return ", ".join(f"{amount} {code}" for code, amount in shown.items())


def sentences(words: Iterable[object]) -> str:
    """Each with a capital and one full stop, whatever stands there already."""
    return " ".join(sentence(str(word)) for word in words if word)
