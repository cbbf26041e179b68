"""The pictures of public notes as sheets show them: each once a note, with what it shows."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from datetime import date

from builderlog.deciding import addresses, words
from builderlog.deciding.public import PublicLedger, PublicNote, PublicPhotoUse, PublicTask
from builderlog.sheets.rows import Link, Photo, day_of

LARGE_PX = 1000  # the longer side of a picture that may stand across a page
LONGEST_SHAPE = 3  # of a picture that is still none but a strip: its sides' ratio


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture in one note: the known tasks it shows and the month it was taken in.

    `worth` tells how well it opens a page: of two, the greater one does.
    """

    photo: Photo
    shows: tuple[str, ...]
    month: str  # "2026-03"
    worth: tuple[bool, ...] = ()


def link_to_note(note: PublicNote) -> Link:
    """The page of a note under its title."""
    return Link(note.title, addresses.note_path(note.key))


def shots_of(note: PublicNote, tasks: Mapping[str, PublicTask]) -> tuple[Shot, ...]:
    """The note's pictures in its own order, then those only linked in its words; each once."""
    found: dict[str, Shot] = {}
    for use in note.photos:
        found.setdefault(use.digest, _named_shot(use, note, tasks))
    for _, kind, digest in note.links:
        if kind == "picture":
            found.setdefault(digest, _linked_shot(digest, note))
    return tuple(found.values())


def _named_shot(use: PublicPhotoUse, note: PublicNote, tasks: Mapping[str, PublicTask]) -> Shot:
    shows = tuple(name for name in use.shows if name in tasks)
    names = words.listed([tasks[name].name for name in shows])
    taken = _taken_day(use)
    alt = use.caption or f"Picture of {words.day_plain(taken)}: {names or note.title}"
    photo = Photo(use.digest, alt, use.caption, day_of(taken), link_to_note(note))
    return Shot(photo, shows, words.month_of(taken), _worth(use))


def _taken_day(use: PublicPhotoUse) -> date:
    """The day a picture was taken; the note's day where the words are not a date."""
    try:
        return date.fromisoformat(use.taken[:10])
    except ValueError:
        return use.day


def _linked_shot(digest: str, note: PublicNote) -> Shot:
    alt = f"Picture of {words.day_plain(note.day)}: {note.title}"
    photo = Photo(digest, alt, None, day_of(note.day), link_to_note(note))
    return Shot(photo, (), words.month_of(note.day), (True, False, True, True))


def _worth(use: PublicPhotoUse) -> tuple[bool, ...]:
    """What speaks for a picture, the weightiest first; a size that is not known does.

    A page of a notebook is read, not looked at. Words show that the builder cares for a picture.
    One that is small or a long strip does not fill the place that opens a page.
    """
    short, long = sorted((use.width_px, use.height_px))
    return (
        not use.page,
        bool(use.caption),
        not long or long >= LARGE_PX,
        not short or long <= LONGEST_SHAPE * short,
    )


def best_photo(shots: Iterable[Shot], beside: Container[str] = ()) -> Photo | None:
    """The picture that opens a page: of those with the most worth the first; None without any.

    Of equals one that the page does not show elsewhere: `beside` has the digests of those.
    """
    best = max(shots, key=lambda shot: (shot.worth, shot.photo.digest not in beside), default=None)
    return best.photo if best else None


def each_once(shots: Iterable[Shot]) -> tuple[Photo, ...]:
    """The pictures of some shots in their order, each digest once."""
    found: dict[str, Photo] = {}
    for shot in shots:
        found.setdefault(shot.photo.digest, shot.photo)
    return tuple(found.values())


def keep_pictures(public: PublicLedger, drawable: AbstractSet[str]) -> PublicLedger:
    """The ledger without the pictures that have no copies to show, in photos and in words."""
    return replace(
        public,
        notes=tuple(_keep_in_note(note, drawable) for note in public.notes),
        letters=tuple(
            replace(letter, links=_keep_in_links(letter.links, drawable))
            for letter in public.letters
        ),
    )


def _keep_in_note(note: PublicNote, drawable: AbstractSet[str]) -> PublicNote:
    return replace(
        note,
        photos=tuple(use for use in note.photos if use.digest in drawable),
        links=_keep_in_links(note.links, drawable),
    )


def _keep_in_links(
    links: tuple[tuple[str, str, str], ...], drawable: AbstractSet[str]
) -> tuple[tuple[str, str, str], ...]:
    """The links of a note's or a letter's words, those to pictures without copies dropped."""
    return tuple(
        (target, "drop", "") if kind == "picture" and value not in drawable else link
        for link in links
        for target, kind, value in (link,)
    )


def shown_digests(public: PublicLedger) -> tuple[str, ...]:
    """The pictures that public notes show or link, each once, sorted."""
    named = {use.digest for note in public.notes for use in note.photos}
    linked = {value for note in public.notes for _, kind, value in note.links if kind == "picture"}
    return tuple(sorted(named | linked))
