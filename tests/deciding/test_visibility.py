"""Who and what friends may see: labels of people, keys of notes, pictures by digest."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builderlog.deciding.visibility import (
    Visibility,
    file_words,
    pictures_named_in,
    what_friends_see,
)
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger, Picture
from builderlog.knowing.settings import Person, Role, SiteSettings
from tests.making import NOWHERE, ledger, note, picture, settings

DAY, OTHER = "2026-03-14", "2026-03-15"


def person(name: str, role: Role | None, **words: object) -> Person:
    """A person of the journal."""
    return replace(Person(name, role, NOWHERE), **words)  # type: ignore[arg-type]


def label(one: Person, *show: str) -> str | None:
    """How friends know a person of a journal whose builder is Ines."""
    settled = replace(
        settings(), builder="Ines", people=(one,), site=SiteSettings(show=frozenset(show))
    )
    return what_friends_see(ledger(settled=settled), frozenset()).label(one.name)


@pytest.mark.parametrize(
    ("one", "show", "expected"),
    [
        (person("Ines", Role.BUILDER), (), "Ines"),
        (person("Ines", Role.BUILDER, may_show=True), (), "Ines"),
        (person("Ines", Role.BUILDER, may_show=False), (), "the builder"),
        (person("Ines", Role.BUILDER, full_name="Ines A."), (), "Ines"),
        (person("Ines", Role.BUILDER, full_name="Ines A."), ("full names",), "Ines A."),
        (person("Ines", Role.BUILDER), ("full names",), "Ines"),
        (
            person("Ines", Role.BUILDER, full_name="Ines A.", may_show=False),
            ("full names",),
            "the builder",
        ),
        (person("Tomas", Role.BUILDER), (), "a builder"),
        (person("Tomas", Role.BUILDER, may_show=True), (), "Tomas"),
        (person("Ada", Role.HELPER), (), "a helper"),
        (person("Ada", Role.HELPER, may_show=False), (), "a helper"),
        (person("Ada", Role.HELPER, may_show=True), (), "Ada"),
        (person("Ada", Role.HELPER, full_name="Ada B."), ("full names",), "a helper"),
        (person("Osk", Role.PAID), (), None),
        (person("Osk", Role.PAID, may_show=True), (), None),
        (person("Osk", Role.PAID), ("paid help",), "paid help"),
        (person("Osk", Role.PAID, may_show=True), ("paid help",), "Osk"),
        (person("Unread", None), (), None),
        (person("Unread", None, may_show=True), (), None),
    ],
)
def test_label(one: Person, show: tuple[str, ...], expected: str | None) -> None:
    """The builder by name unless it says no, others after a yes, paid help only when asked for."""
    assert label(one, *show) == expected


def test_a_stranger_is_not_spoken_of() -> None:
    """A name that journal.yaml does not declare has no label."""
    assert label(person("Ada", Role.HELPER, may_show=True)) == "Ada"
    assert what_friends_see(ledger(), frozenset()).label("Nobody") is None


def seen(book: Ledger, left_out: str = "", withheld: str = "") -> Visibility:
    """What friends see of a ledger."""
    return what_friends_see(book, frozenset({left_out} - {""}), frozenset({withheld} - {""}))


def test_public_notes() -> None:
    """Open notes are seen; private ones, hours-only ones and those with mistakes are not."""
    book = ledger(
        notes=[
            note("2026-03-01"),
            note("2026-03-02", privacy=Privacy.PRIVATE),
            note("2026-03-03", privacy=Privacy.HOURS_ONLY),
            note("2026-03-04"),
        ]
    )
    assert set(seen(book, "notes/2026-03-04.md").notes) == {"notes/2026-03-01.md"}


def used(path: str, *days: str, digest: str = "", linked: tuple[str, ...] = ()) -> Picture:
    """A picture used in the notes of some days."""
    made = picture(path, *((day, ()) for day in days), linked=linked)
    return replace(made, file=replace(made.file, digest=digest or made.file.digest))


def book_with(*pictures: Picture, **changes: Privacy) -> Ledger:
    """A ledger with a public note of 14 March and one of the 15th, private unless changed."""
    other = note(OTHER, privacy=changes.get("other", Privacy.PRIVATE))
    return ledger(notes=[note(DAY), other], pictures=pictures)


def test_a_picture_of_a_public_note() -> None:
    """A picture that only public notes use or link is seen."""
    linked = used("photos/b.jpg", linked=(f"notes/{DAY}.md",))
    assert set(seen(book_with(used("photos/a.jpg", DAY), linked)).digests) == {
        "photos/a.jpg",
        "photos/b.jpg",
    }


@pytest.mark.parametrize(
    "shown",
    [
        used("photos/a.jpg", OTHER),
        used("photos/a.jpg", DAY, OTHER),
        used("photos/a.jpg", DAY, linked=(f"notes/{OTHER}.md",)),
        used("photos/a.jpg", linked=(f"notes/{OTHER}.md",)),
        used("photos/a.jpg", linked=(f"notes/{DAY}.md", f"notes/{OTHER}.md")),
    ],
)
@pytest.mark.parametrize("privacy", [Privacy.PRIVATE, Privacy.HOURS_ONLY])
def test_private_wins(shown: Picture, privacy: Privacy) -> None:
    """A picture that a private note uses or links is withheld from every other note too."""
    assert not seen(book_with(shown, other=privacy)).digests
    assert seen(book_with(shown, other=Privacy.OPEN)).digests
    assert not seen(book_with(shown, other=Privacy.OPEN), f"notes/{OTHER}.md").digests


def test_a_copy_under_another_name() -> None:
    """Equal bytes are one picture: private under one name, withheld under all."""
    twins = (
        used("photos/a.jpg", DAY, digest="d1"),
        used("photos/b.jpg", OTHER, digest="d1"),
        used("photos/c.jpg", DAY, digest="d2"),
    )
    assert seen(book_with(*twins)).digests == {"photos/c.jpg": "d2"}
    assert seen(book_with(*twins[::2]), withheld="photos/a.jpg").digests == {"photos/c.jpg": "d2"}


@pytest.mark.parametrize(("who", "expected"), [("Ines", True), ("Ada", False), ("Nobody", False)])
def test_people_in_pictures(who: str, expected: bool) -> None:  # noqa: FBT001 - a parameter
    """A picture in which somebody is seen who did not say yes stays back."""
    made = used("photos/a.jpg", DAY)
    shown = replace(made, uses=(replace(made.uses[0], seen=("Ines", who)),))
    assert bool(seen(book_with(shown)).digests) is expected


def test_faulty_and_private_pictures() -> None:
    """A picture with a fault, without a digest, or private by itself is withheld."""
    made = used("photos/a.jpg", DAY)
    private = replace(made, uses=(replace(made.uses[0], private=True),))
    faulty = replace(made, file=replace(made.file, fault="cut short"))
    unread = replace(made, file=replace(made.file, digest=""))
    for each in (private, faulty, unread):
        assert not seen(book_with(each)).digests


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("photos: [photos/a b.jpg]", {"photos/a b.jpg"}),
        ("![](../photos/a%20b.jpg)", {"photos/a b.jpg"}),
        ("see A B.JPG", {"photos/a b.jpg"}),
        ("photos/2026/e\u0301.png", {"photos/2026/é.png"}),
        ("nothing of it", set()),
        ("", set()),
    ],
)
def test_pictures_named_in_a_broken_text(text: str, expected: set[str]) -> None:
    """File names are found in any writing: plain, percent-encoded, other case, other form."""
    assert pictures_named_in([text], ["photos/a b.jpg", "photos/2026/é.png"]) == expected


def keys_of(*paths: str) -> dict[str, str]:
    """The keys of notes of one day under these paths."""
    notes: list[Note] = [replace(note(DAY), path=path) for path in paths]
    return seen(ledger(notes=notes)).notes


def test_keys() -> None:
    """A key holds date and file name, in letters that every host takes."""
    assert keys_of(f"notes/2026/{DAY}-Skins on!.md", f"notes/{DAY}.md", "notes/odd.md") == {
        f"notes/2026/{DAY}-Skins on!.md": f"{DAY}-skins-on",
        f"notes/{DAY}.md": f"{DAY}-note",
        "notes/odd.md": f"{DAY}-odd",
    }


def test_keys_of_equal_names() -> None:
    """Notes of one name in several folders keep apart, and no folder's name comes into a key."""
    paths = [f"notes/{folder}/{DAY}-skins.md" for folder in ("home", "secret", "z")]
    keys = keys_of(*paths, f"notes/{DAY}-SKINS.md")
    assert len({key.casefold() for key in keys.values()}) == 4
    assert not any("secret" in key or "home" in key for key in keys.values())


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("notes/2026-03-14-aileron-skins.md", "aileron-skins"),
        ("notes/2026-03-14.md", "note"),
        ("notes/2026-03-14 - .md", "note"),
        ("notes/20260314x-a.md", "20260314x-a"),
        ("notes/skins.v2.md", "skins.v2"),
        ("notes/deep/er/.md", "note"),
    ],
)
def test_file_words(path: str, expected: str) -> None:
    """The words of a file name without folder, date and ending."""
    assert file_words(path) == expected
