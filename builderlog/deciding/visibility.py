"""Who and what friends may see: people by label, pictures by digest, notes by their privacy.

Whatever is not plainly allowed is withheld; private wins over public for a picture that both use.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import unquote

from builderlog.deciding.addresses import slugs_for
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.knowing.settings import Person, Role
from builderlog.reading.folder import folded

ROLE_LABELS = {Role.BUILDER: "a builder", Role.HELPER: "a helper", Role.PAID: "paid help"}


@dataclass(frozen=True, slots=True)
class Visibility:
    """The answers, found once for a whole site."""

    notes: dict[str, str]  # path of each public note -> its key
    digests: dict[str, str]  # path of each picture that may be seen -> digest
    labels: dict[str, str | None]  # person -> label; None: not even by role
    show: frozenset[str]

    def label(self, name: str) -> str | None:
        """What friends call the person; somebody undeclared is not spoken of."""
        return self.labels.get(name)


def what_friends_see(
    ledger: Ledger, left_out: frozenset[str], withheld: frozenset[str] = frozenset()
) -> Visibility:
    """`left_out` are the paths of notes with mistakes: they are withheld whole.

    `withheld` are paths of pictures to keep back whatever the notes say.
    """
    public = [
        note for note in ledger.notes if note.privacy is Privacy.OPEN and note.path not in left_out
    ]
    show = ledger.settings.site.show
    builder = ledger.settings.builder
    labels = {
        person.name: _label(person, show, is_builder=person.name == builder)
        for person in ledger.settings.people
    }
    digests = _digests(ledger, {note.path for note in public}, withheld)
    return Visibility(_keys(public), digests, labels, show)


def pictures_named_in(texts: Iterable[str], paths: Iterable[str]) -> frozenset[str]:
    """The pictures whose file name occurs in a text that could not be understood.

    Rather one picture too many than one that a broken note meant to keep private.
    """
    whole = "\n".join(texts)
    said = folded("\n".join((whole, unquote(whole))))
    return frozenset(path for path in paths if folded(path.rpartition("/")[2]) in said)


def may_be_seen(person: Person | None, *, is_builder: bool) -> bool:
    """The journal's builder unless it says no; everybody else only after a yes."""
    if person is None:
        return False
    return person.may_show is not False if is_builder else person.may_show is True


def _label(person: Person, show: frozenset[str], *, is_builder: bool) -> str | None:
    if person.role in (Role.PAID, None) and "paid help" not in show:
        return None  # a role that could not be read may have been this one
    if may_be_seen(person, is_builder=is_builder):
        return (person.full_name if "full names" in show else None) or person.name
    return "the builder" if is_builder else ROLE_LABELS[person.role or Role.HELPER]


def _keys(notes: Iterable[Note]) -> dict[str, str]:
    """A key for each note from its date and file name; where two would be one, with a digest.

    The digest is that of the path, so that no folder's name comes into a page's address.
    """
    names = {note.path: f"{note.day}-{file_words(note.path)}" for note in notes}
    slugs = slugs_for(names.values())
    keys: dict[str, str] = {}
    taken: set[str] = set()
    for path in sorted(names):
        slug = slugs[names[path]]
        digest = hashlib.sha256(path.encode("utf-8", "surrogatepass")).hexdigest()
        choices = (slug, *(f"{slug}-{digest[:length]}" for length in (8, 16, 64)))
        keys[path] = next(choice for choice in choices if choice not in taken)
        taken.add(keys[path])
    return keys


def file_words(path: str) -> str:
    """A note's file name without folder, date and ending; "note" where nothing is left."""
    stem = path.rpartition("/")[2].rpartition(".")[0]
    words = stem[10:] if stem[:10].replace("-", "").isdigit() else stem
    return words.strip(" -_.") or "note"


def _digests(ledger: Ledger, public: set[str], kept_back: frozenset[str]) -> dict[str, str]:
    """Pictures by path; one that anything private uses is withheld under every name it has."""
    allowed = {
        person.name
        for person in ledger.settings.people
        if may_be_seen(person, is_builder=person.name == ledger.settings.builder)
    }
    withheld = {
        picture.file.digest
        for picture in ledger.pictures
        if picture.path in kept_back or not _may_be_seen(picture, public, allowed)
    }
    return {
        picture.path: picture.file.digest
        for picture in ledger.pictures
        if picture.file.digest not in withheld
    }


def _may_be_seen(picture: Picture, public: set[str], allowed: set[str]) -> bool:
    if picture.file.fault or not picture.file.digest:
        return False
    return public.issuperset(picture.linked_from) and all(
        use.note in public and not use.private and allowed.issuperset(use.seen)
        for use in picture.uses
    )
