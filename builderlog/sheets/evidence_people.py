"""People as an inspector wants them named: in full, in what capacity; and who looked at a task."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from builderlog.deciding.task_record import PersonTime, TaskRecord
from builderlog.deciding.words import counted, duration, listed
from builderlog.knowing.entries import Note, Visit
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Person, Role
from builderlog.reading.words import Word

ROLE_WORDS: Mapping[Role | None, str] = {
    Role.BUILDER: "builder",
    Role.HELPER: "unpaid helper",
    Role.PAID: "paid",
    None: "role not said",
}
NOBODY_LOOKED = "Nobody is named on record."


@dataclass(frozen=True, slots=True)
class Look:
    """Somebody looked at a task or at its work: who in words, their names, the notes' paths."""

    words: str
    names: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class People:
    """The declared people of a journal by the names that its notes use."""

    declared: Mapping[str, Person]

    def full(self, name: object) -> str:
        """The full name of a person where the journal gives one."""
        person = self.declared.get(str(name))
        return (person.full_name if person else None) or str(name)

    def names(self, words: Iterable[object]) -> str:
        """Several of them, each once: "Runa Aldermark and Pim Tessendal"."""
        return listed(list(dict.fromkeys(map(self.full, words))))

    def worked(self, people: Iterable[PersonTime]) -> str:
        """Who gave how long in what capacity: "Runa Aldermark, builder, 7 h"."""
        told = (
            f"{self.full(each.name)}, {ROLE_WORDS[each.role]}, {duration(each.seconds)}"
            for each in people
        )
        return "; ".join(told)

    def looks(self, record: TaskRecord) -> tuple[Look, ...]:
        """Who looked at a task: visits first, then the second pair of eyes at its entries."""
        return (*map(self._visit, *_told(record)), *self._witnesses(record))

    def _visit(self, note: Note, visit: Visit) -> Look:
        """Who came, and with whom of the journal's own people they looked."""
        own = [word for word in visit.who if word.text in self.declared]
        came = [word for word in visit.who if word.text not in self.declared] or own
        capacity = f" ({visit.capacity})" if visit.capacity else ""
        beside = f", with {self.names(own)}" if own != came and own else ""
        names = tuple(dict.fromkeys(word.text for word in came))
        return Look(f"{self.names(came)}{capacity}, {note.day}{beside}", names, (note.path,))

    def _witnesses(self, record: TaskRecord) -> Iterator[Look]:
        """Who watched the nuts torqued, and who a snag put right.

        An entry of a note on several tasks may be of another of them, which the words say.
        """
        seen: dict[tuple[tuple[str, ...], bool], list[Note]] = {}
        for torqued in record.torqued:
            if torqued.line.witness:
                shared = any(line.task.text != record.id for line in torqued.note.tasks)
                key = (_texts(torqued.line.witness), shared)
                seen.setdefault(key, []).append(torqued.note)
        for (names, shared), notes in seen.items():
            days = ", ".join(dict.fromkeys(str(note.day) for note in notes))
            entries = counted(len(notes), "torque entry", "torque entries")
            entries += " in a note on several tasks" if shared else ""
            words = f"{self.names(names)} (second pair of eyes at {entries}), {days}"
            yield Look(words, names, tuple(dict.fromkeys(note.path for note in notes)))
        yield from self._repairs_seen(record)

    def _repairs_seen(self, record: TaskRecord) -> Iterator[Look]:
        for snag in record.snags:
            if snag.fixed and snag.fixed.witness:
                names = _texts(snag.fixed.witness)
                words = f"{self.names(names)} (at the repair of snag {snag.number})"
                yield Look(f"{words}, {snag.fixed_on}", names, (snag.fixed_in or snag.note,))


def people_of(ledger: Ledger) -> People:
    """The people whom journal.yaml declares."""
    return People({person.name: person for person in ledger.settings.people})


def _told(record: TaskRecord) -> tuple[list[Note], list[Visit]]:
    return [each.note for each in record.visits], [each.line for each in record.visits]


def _texts(words: Iterable[Word]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word.text for word in words))
