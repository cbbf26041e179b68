"""Where the builder's own words, which friends read as written, name what the site keeps back.

Nothing is taken out of them: they are the builder's. Each such place is told as a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from builderlog.deciding.checks_files import finder_of
from builderlog.deciding.hidden_names import HiddenName, NameIndex, hidden_names
from builderlog.deciding.links import judge_link
from builderlog.deciding.visibility import Visibility, file_words, what_friends_see
from builderlog.deciding.whole_words import fold
from builderlog.deciding.words import counted
from builderlog.knowing.entries import Note, Visit
from builderlog.knowing.files import Finder, NotFoundError
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.letters import Letter
from builderlog.reading.problem import Place, Problem, doubt
from builderlog.reading.words import Word

TOLD_ANYHOW = ("hidden-name", "letter-private-words", "folder-in-look")
# In an address on the web such a word begins no folder of a machine.
HOME_FOLDER = re.compile(r"(?:(?<![\w.-])/(?:home|Users)/|\b[A-Z]:[\\/]Users[\\/])[\w.-]+")
IN_ADDRESS = "in the name of this file, which the page's address is made of"
_IS = "' is "  # ends the name in a message
IN_WORDS = "in words that friends read"
MOST_LINES = 8  # of a name in one file that are named


@dataclass(frozen=True, slots=True)
class Said:
    """Words that friends read, and where they begin; `address` says that they are a file's name."""

    text: str
    place: Place
    address: bool = False

    def at(self, begin: int, end: int) -> Place:
        """Where a piece of them stands; where all do, if they were written with escapes."""
        if self.address or not self.place.end:
            return self.place
        length = self.place.end - self.place.start
        quotes = (length - len(self.text)) // 2
        if "\n" in self.text or length - len(self.text) not in (0, 2):
            return self.place
        column = self.place.column + quotes + begin
        return replace(self.place, column=column, start=begin, end=end)


@dataclass(frozen=True, slots=True)
class _Told(Said):
    """Prose, of which every sign stands in the file as here."""

    def at(self, begin: int, end: int) -> Place:
        """Where a piece of it stands, by line and column."""
        before = self.text[:begin]
        line, column = before.count("\n"), begin - (before.rfind("\n") + 1) + 1
        first = self.place.column - 1 if not line else 0
        line += self.place.line
        return replace(self.place, line=line, column=first + column, start=begin, end=end)


def names_told_anyhow(ledger: Ledger) -> Iterator[Problem]:
    """One doubt for each hidden name in each file whose words friends read, at its first place."""
    sight = what_friends_see(ledger, frozenset())
    names = NameIndex.of(hidden_names(ledger, sight))
    if not names.names:
        return
    finder, paths = finder_of(ledger), frozenset(note.path for note in ledger.notes)
    for note in ledger.notes:
        if note.path in sight.notes:
            said = [
                *_words(note, sight, finder),
                *([] if ledger.worklist.written else _said(*(line.task for line in note.tasks))),
                _Told(_shown(note, finder, paths), note.prose.place),
            ]
            yield from _found(
                names, [*said, Said(file_words(note.path), Place(note.path), address=True)]
            )
    for letter in ledger.letters:
        title = Said(letter.title or "", Place(letter.path))
        prose = _Told(_shown(letter, finder, paths), letter.prose.place)
        yield from _found(names, [title, prose])
    yield from _found(names, [Said(ledger.settings.title, Place("journal.yaml"))])
    yield from _found(names, _worklist(ledger))


def names_in_look(ledger: Ledger, texts: Iterable[tuple[str, str]]) -> Iterator[Problem]:
    """The same for text files of the journal's look, by path: no note can be named instead."""
    names = NameIndex.of(hidden_names(ledger, what_friends_see(ledger, frozenset())))
    for path, text in texts:
        said = (_Told(text, Place(path, end=len(text))), Said(path, Place(path), address=True))
        for problem in _found(names, said):
            told = problem.message.partition("; ")[0]
            yield replace(problem, message=f"{told}; take it out of the look")


def folders_in_look(texts: Iterable[tuple[str, str]]) -> Iterator[Problem]:
    """Folders of the builder's own machine, as drawing programs write them into what they save."""
    for path, text in texts:
        if found := HOME_FOLDER.search(text):
            said = _Told(text, Place(path, end=len(text)))
            told = f"'{found[0]}' names a folder of your machine, and often you; take it out"
            yield doubt(said.at(*found.span()), "folder-in-look", told)


def told_anyhow(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Of a journal's problems one for each such name that the builder has not explained."""
    found: dict[str, Problem] = {}
    for problem in problems:
        if problem.code in TOLD_ANYHOW and not problem.because:
            found.setdefault(problem.message.partition(_IS)[0], problem)
    return tuple(found.values())


def _worklist(ledger: Ledger) -> Iterator[Said]:
    """Names and ids, which both stand on pages."""
    for area in ledger.worklist.areas:
        rows = ((each.name, each.id, each.place) for each in area.tasks)
        for name, word, place in ((area.name, area.id, area.place), *rows):
            for words in dict.fromkeys((name, word)):
                yield Said(words, replace(place, start=0, end=0))


def _found(names: NameIndex, said: Iterable[Said]) -> Iterator[Problem]:
    """The doubts of one file; what is part of a name that was found there is not told again."""
    texts = [(each, fold(each.text)) for each in said]
    taken: list[tuple[int, int, int]] = []
    for name in names.possible(text for _, text in texts):
        places = [
            (number, begin, end)
            for number, (words, text) in enumerate(texts)
            for begin, end in name.found_in(text, anyhow=words.address)
            if not _within((number, begin, end), taken)
        ]
        taken += places
        if places:
            where = [texts[number][0].at(begin, end) for number, begin, end in places]
            yield _doubt(name, where, address=texts[places[0][0]][0].address)


def _within(found: tuple[int, int, int], taken: list[tuple[int, int, int]]) -> bool:
    return any(found[0] == at and begin <= found[1] and found[2] <= end for at, begin, end in taken)


def _doubt(name: HiddenName, where: Sequence[Place], *, address: bool) -> Problem:
    """At the first of its places, with the lines of the others."""
    stands = IN_ADDRESS if address else IN_WORDS
    again = _again(where[0].line, [place.line for place in where[1:]])
    told = f"'{name.name}{_IS}{name.what}, but stands {stands}{again}"
    shown = f", or show it with site: {{show: [{name.shown_by}]}}" if name.shown_by else ""
    explain = f"answers: [{{gap: \"hidden-name: '{name.name}'\", because: …}}]"
    advice = "give the file another name" if address else name.instead
    return doubt(where[0], "hidden-name", f"{told}; {advice}{shown}, or explain it: {explain}")


def _again(first: int, lines: Sequence[int]) -> str:
    """How often more, and on which other lines: ", and 2 more times in this file (line 9)"."""
    if not lines:
        return ""
    others = sorted({line for line in lines if line != first})
    named = [str(line) for line in others[:MOST_LINES]]
    named += ["…"] if others[MOST_LINES:] else []
    told = f", and {counted(len(lines), 'more time', 'more times')} in this file"
    return (
        f"{told} ({'line' if len(others) == 1 else 'lines'} {', '.join(named)})" if named else told
    )


def _words(note: Note, sight: Visibility, finder: Finder) -> Iterator[Said]:
    """What a public note's entries say to friends, in the order of a reader's interest."""
    yield from _said(note.title, *note.next_steps, *(line.part for line in note.parts))
    for each in note.decided:
        yield from _said(each.what, each.why, each.instead_of, each.again)
    yield from _said(*(line.what for line in note.measured))
    for photo in note.photos:
        if photo.caption and _path(finder, photo.photo.text) in sight.digests:
            yield from _said(photo.caption)
    if "snags" in sight.show:
        yield from _said(*(line.snag for line in note.snags), *(line.how for line in note.fixed))
    if "visits" in sight.show:
        yield from (said for visit in note.visits for said in _visit(visit))
    if "place" in sight.show:
        yield from _said(note.where)


def _visit(visit: Visit) -> Iterator[Said]:
    yield from _said(*visit.who, visit.capacity, visit.said, *(line.snag for line in visit.found))


def _said(*words: Word | None) -> Iterator[Said]:
    yield from (Said(word.text, word.place) for word in words if word)


def _path(finder: Finder, text: str) -> str:
    try:
        return finder.named(text)
    except NotFoundError:
        return ""  # told in the checks of files


def _shown(note: Note | Letter, finder: Finder, paths: frozenset[str]) -> str:
    """The prose with blanks for the targets of links that lead into the journal: none is told."""
    text = note.prose.text
    for target in {link.target for link in note.prose.links}:
        links = (link for link in note.prose.links if link.target == target)
        if any(judge_link(note.path, link, finder, paths).kind != "wide world" for link in links):
            text = text.replace(f"]({target}", "](" + " " * len(target))
            text = text.replace(f"]: {target}", "]: " + " " * len(target))
    return text
