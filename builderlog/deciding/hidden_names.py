"""The names that friends are not told: of people, firms, places, and the signs of the aircraft.

Of every name only that is searched for which would tell a stranger something: "the garage" is
everybody's, and what the site tells anyhow is no secret.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from builderlog.deciding.visibility import Visibility, may_be_seen
from builderlog.deciding.whole_words import (
    Folded,
    Pattern,
    fold,
    is_name_there,
    is_unspaced,
    keys_of_name,
    keys_of_sign,
    pattern_of_name,
    pattern_of_sign,
    words_in,
    words_of,
)
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Person, Role

# What many a builder writes for a place or a source, and what betrays neither.
COMMON = frozenset(
    (
        *("attic", "barn", "basement", "cellar", "club", "friend", "garage", "hangar", "hall"),
        *("home", "house", "kit", "kitchen", "local", "maker", "none", "outside", "own", "scrap"),
        *("self", "shed", "shop", "stock", "store", "supplier", "unknown", "workshop", "yard"),
    )
)
ARTICLES = ("the ", "a ", "an ", "my ", "our ")
NOT_TOLD = ", which friends are not told"
WITH_COUNTRY = "registration"  # begins with the letters of a country
LEAST_GIVEN = 3  # letters of a given name: no initial, and no "Al" or "Jo"
LEAST_NAME, LEAST_SIGNS, LEAST_REF = 2, 3, 5  # shorter ones stand in too many words


@dataclass(frozen=True, slots=True)
class HiddenName:
    """A name, what it is, how it is told otherwise, and how it is found."""

    name: str
    what: str  # "a supplier, which friends are not told"
    instead: str  # what to write: "write 'the supplier'"
    shown_by: str  # the word of `site: show` that opens it; "" where none does
    keys: frozenset[str]  # a text that has none of these words need not be searched
    is_sign: bool = False

    @property
    def pattern(self) -> Pattern:
        """How it is found: made when it is needed, as most names of most journals never are."""
        if self.is_sign:
            return pattern_of_sign(self.name, country=self.shown_by == WITH_COUNTRY)
        return pattern_of_name(self.name)

    def may_be_in(self, text: Folded, words: AbstractSet[str]) -> bool:
        """Whether a text, which has these words, need be searched."""
        if is_unspaced(self.name) and not self.is_sign:
            return words_of(self.name)[0] in text.text
        return not self.keys.isdisjoint(words)

    def found_in(self, text: Folded, *, anyhow: bool = False) -> Iterator[tuple[int, int]]:
        """Where it stands; `anyhow` says that small letters may stand for capitals."""
        for begin, end in text.found(self.pattern):
            if self.is_sign or anyhow or is_name_there(text, self.name, begin, end):
                yield begin, end


@dataclass(frozen=True, slots=True)
class NameIndex:
    """Hidden names, the longest first, found by the words of a text: a journal has hundreds."""

    names: tuple[HiddenName, ...]
    by_key: Mapping[str, tuple[int, ...]]  # places in `names`
    loose: tuple[int, ...]  # of those to which no word leads

    @staticmethod
    def of(names: tuple[HiddenName, ...]) -> NameIndex:
        """The index of these names."""
        by_key: dict[str, tuple[int, ...]] = {}
        for place, name in enumerate(names):
            for key in name.keys:
                by_key[key] = (*by_key.get(key, ()), place)
        loose = (place for place, name in enumerate(names) if is_unspaced(name.name))
        return NameIndex(names, by_key, tuple(loose))

    def possible(self, texts: Iterable[Folded]) -> Iterator[HiddenName]:
        """Those that may stand in one of the texts, in their order."""
        whole = tuple(texts)
        words = {word for text in whole for word in words_in(text)}
        places = {place for word in words for place in self.by_key.get(word, ())}
        places |= {
            place
            for place in self.loose
            if any(self.names[place].may_be_in(text, words) for text in whole)
        }
        return (self.names[place] for place in sorted(places))


def hidden_names(ledger: Ledger, sight: Visibility) -> tuple[HiddenName, ...]:
    """Each once, the longest first, so that a whole name is told before a part of it."""
    told = [(fold(text), frozenset(words_of(text))) for text in _told_anyhow(ledger, sight)]
    found: dict[tuple[str, ...], HiddenName] = {}
    for name in _all(ledger, sight):
        texts = (text for text, words in told if name.may_be_in(text, words))
        if not any(True for text in texts for _ in name.found_in(text, anyhow=True)):
            found.setdefault(words_of(name.name), name)
    return tuple(sorted(found.values(), key=lambda each: (-len(each.name), each.name)))


def _told_anyhow(ledger: Ledger, sight: Visibility) -> Iterator[str]:
    """What stands on every site: the design, and those who are called by their names."""
    yield ledger.settings.aircraft.design or ""
    yield from (label for label in sight.labels.values() if label)
    if "full names" in sight.show:
        yield from (
            person.full_name or ""
            for person in ledger.settings.people
            if sight.label(person.name) == person.full_name
        )


def _all(ledger: Ledger, sight: Visibility) -> Iterator[HiddenName]:
    show = sight.show
    yield from _people(ledger, sight)
    if "place" not in show:
        yield from _places(ledger)
    yield from _firms(ledger, show)
    if "visits" not in show:
        yield from _visitors(ledger.notes)
    yield from _signs(ledger, show)


def _people(ledger: Ledger, sight: Visibility) -> Iterator[HiddenName]:
    for person in ledger.settings.people:
        label, is_builder = sight.label(person.name), person.name == ledger.settings.builder
        opens = "full names" if may_be_seen(person, is_builder=is_builder) else ""
        if person.full_name and label != person.full_name:
            what = f"the full name of {person.name}{NOT_TOLD}"
            short = label or "no name"
            yield from _names(person.full_name, what, f"write {short!r}", opens)
            yield from _surname(person, opens)
        if label is None or label not in (person.name, person.full_name):
            yield from _short(person, label)
    maker = ledger.settings.aircraft.maker
    yield from _names(maker, f"the maker on the data plate{NOT_TOLD}", "leave it out", "")


def _short(person: Person, label: str | None) -> Iterator[HiddenName]:
    """A short name, of somebody who did not say yes, or of paid help."""
    if label is None and person.role in (Role.PAID, None):
        what, shown_by = "paid help, of which friends are not told", "paid help"
    else:
        what, shown_by = f"to friends {label or ''!r} (may show does not say yes)", ""
    if len("".join(words_of(person.name))) >= LEAST_NAME:
        instead = f"write {label or 'somebody'!r}"
        yield HiddenName(person.name, what, instead, shown_by, keys_of_name(person.name))


def _surname(person: Person, opens: str) -> Iterator[HiddenName]:
    what = f"part of the full name of {person.name}{NOT_TOLD}"
    words = (person.full_name or "").split()[:1]
    given = (word for word in words if len(word) >= LEAST_GIVEN and word[:1].isupper())
    for piece in dict.fromkeys((*_last_word(person.full_name or ""), *given)):
        if piece != person.name:
            yield from _names(piece, what, "leave it out", opens)


def _last_word(name: str) -> Iterator[str]:
    """The last of several words, if it has a capital: what a family is called by.

    Where writing knows no capitals the family's name may be the first: each word then.
    """
    words = name.split()
    if len(words) > 1 and is_unspaced(name):
        yield from words
    elif len(words) > 1 and words[-1][:1].isupper():
        yield words[-1]


def _places(ledger: Ledger) -> Iterator[HiddenName]:
    written = (note.where.text for note in ledger.notes if note.where)
    for place in dict.fromkeys((ledger.settings.place, *written)):
        yield from _with_pieces(
            place, f"where work is done{NOT_TOLD}", "write 'the workshop'", "place"
        )


def _firms(ledger: Ledger, show: frozenset[str]) -> Iterator[HiddenName]:
    """Suppliers, the kit's name, and who had work away; of paid work only with paid help."""
    instead = "write 'the supplier'"
    if "suppliers" not in show:
        yield from _with_pieces(
            ledger.settings.aircraft.kit, f"the kit{NOT_TOLD}", instead, "suppliers"
        )
        lines = (line for note in ledger.notes for line in note.parts)
        for source in dict.fromkeys(line.source.text for line in lines if line.source):
            yield from _with_pieces(source, f"a supplier{NOT_TOLD}", instead, "suppliers")
    for away in (away for note in ledger.notes for away in note.away):
        opens = "paid help" if away.capacity == "paid" else "suppliers"
        if opens not in show and away.firm:
            yield from _with_pieces(
                away.firm.text, f"who had work away{NOT_TOLD}", "write 'a firm'", opens
            )


def _visitors(notes: Iterable[Note]) -> Iterator[HiddenName]:
    visits = (visit for note in notes for visit in note.visits)
    for who in dict.fromkeys(who.text for visit in visits for who in visit.who):
        for name in (who, *_last_word(who)):
            yield from _names(
                name, "a visitor, of whom friends are not told", "write 'a visitor'", "visits"
            )


def _signs(ledger: Ledger, show: frozenset[str]) -> Iterator[HiddenName]:
    aircraft = ledger.settings.aircraft
    if "registration" not in show:
        yield from _sign(
            aircraft.registration, f"the registration{NOT_TOLD}", "registration", LEAST_SIGNS
        )
    if "serial" not in show:
        yield from _sign(aircraft.serial, f"the serial number{NOT_TOLD}", "serial", LEAST_SIGNS)
    if "refs" not in show:
        for part in ledger.parts:
            if part.ref and not set(words_of(part.ref)) <= set(words_of(part.name)):
                yield from _sign(
                    part.ref, f"the number of a part ({part.name}){NOT_TOLD}", "refs", LEAST_REF
                )


def _sign(sign: str | None, what: str, shown_by: str, least: int) -> Iterator[HiddenName]:
    if sign and len("".join(words_of(sign))) >= least:
        keys = keys_of_sign(sign, country=shown_by == WITH_COUNTRY)
        yield HiddenName(sign, what, "leave it out", shown_by, keys, is_sign=True)


def _with_pieces(name: str | None, what: str, instead: str, shown_by: str) -> Iterator[HiddenName]:
    """A name, and each piece of it between commas: "The old dairy, Kelmsby"."""
    for piece in dict.fromkeys((name or "", *(name or "").split(","))):
        bare = piece.strip()
        for article in ARTICLES:
            bare = bare[len(article) :].strip() if bare.casefold().startswith(article) else bare
        yield from _names(bare, what, instead, shown_by)


def _names(name: str | None, what: str, instead: str, shown_by: str) -> Iterator[HiddenName]:
    """The name, if it says something: more than a common word, and no word without a capital."""
    words = words_of(name or "")
    least = LEAST_NAME if is_unspaced(name or "") else LEAST_SIGNS
    if not name or COMMON.issuperset(words) or len("".join(words)) < least:
        return
    if len(words) == 1 and name.islower():
        return
    yield HiddenName(name, what, instead, shown_by, keys_of_name(name))
