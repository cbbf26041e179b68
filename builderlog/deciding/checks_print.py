"""Checks of print: signs in builders' words for which the document's fonts have no shape."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from builderlog.deciding.words import listed
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.print_signs import lacking, sign_name
from builderlog.reading.problem import Place, Problem, doubt
from builderlog.reading.prose import Prose, opening_words
from builderlog.reading.words import Word

MOST_NAMED = 3  # signs in one message

Said = tuple[str, Place]  # words, and where they begin


def signs_not_printed(ledger: Ledger) -> Iterator[Problem]:
    """One for each file whose words hold such a sign, at the first of them.

    Of a note its entries and first words, which the dossier prints; the rest of its prose goes
    along as the file that it is.
    """
    for note in ledger.notes:
        if note.privacy is not Privacy.HOURS_ONLY:
            yield from _told(sorted(_words_of(note), key=lambda each: each[1]))
    yield from _told(_settings_words(ledger))
    yield from _told(_worklist_words(ledger))


def _told(words: Iterable[Said]) -> Iterator[Problem]:
    found: dict[str, Place] = {}
    for text, place in words:
        for sign in lacking(text):
            found.setdefault(sign, _place_of(sign, text, place))
    if found:
        yield doubt(next(iter(found.values())), "sign-not-printed", _sentence(tuple(found)))


def _sentence(signs: tuple[str, ...]) -> str:
    named = [_quoted(sign) for sign in signs[:MOST_NAMED]]
    more = [f"{len(signs) - MOST_NAMED} more"] if len(signs) > MOST_NAMED else []
    return (
        f"the inspector's document has no shape for {listed([*named, *more])} and prints "
        f"{sign_name(signs[0])}{' and the like' if signs[1:] else ''}; write it in words if it "
        "matters"
    )


def _quoted(sign: str) -> str:
    return f"'{sign}'" if sign.isprintable() else f"the unseen {sign_name(sign)}"


def _place_of(sign: str, text: str, place: Place) -> Place:
    """Where the sign stands; where its word does, if that was written with escapes or folded."""
    before, length = text.partition(sign)[0], place.end - place.start
    quotes = (length - len(text)) // 2
    if "\n" in text or length - len(text) not in (0, 2) or len(before) == len(text):
        return place
    return replace(place, column=place.column + quotes + len(before))


def _words_of(note: Note) -> Iterator[Said]:
    """Every word of the note's entries, and the first words of its prose."""
    yield from _words_in(note)
    if lacking(note.prose.text):
        yield from _opening(note.prose)


def _words_in(value: object) -> Iterator[Said]:
    if isinstance(value, Word):
        yield value.text, value.place
    elif isinstance(value, tuple):
        for each in value:
            yield from _words_in(each)
    elif isinstance(value, Place | Prose):
        return
    else:
        for name in getattr(value, "__dataclass_fields__", ()):
            yield from _words_in(getattr(value, name))


def _opening(prose: Prose) -> Iterator[Said]:
    """The first words, sign by sign where they stand in the file."""
    for sign in lacking(opening_words(prose.text)):
        before, found, _ = prose.text.partition(sign)
        line = before.count("\n")
        column = len(before) - (before.rfind("\n") + 1) + 1 if found else 1
        yield sign, replace(prose.place, line=prose.place.line + line, column=column, end=0)


def _settings_words(ledger: Ledger) -> Iterator[Said]:
    settings = ledger.settings
    yield settings.title, Place("journal.yaml")
    for person in settings.people:
        yield f"{person.name} {person.full_name or ''}", _word_only(person.place)
    for wrench in settings.wrenches:
        yield wrench.name, _word_only(wrench.place)
    yield from _words_in((settings.answers, settings.papers))


def _worklist_words(ledger: Ledger) -> Iterator[Said]:
    for area in ledger.worklist.areas:
        yield f"{area.id} {area.name}", _word_only(area.place)
        for task in area.tasks:
            yield f"{task.id} {task.name}", _word_only(task.place)


def _word_only(place: Place) -> Place:
    """A place whose length tells nothing of the words' own."""
    return replace(place, end=place.start)


PRINT_CHECKS: tuple[Callable[[Ledger], Iterable[Problem]], ...] = (signs_not_printed,)
