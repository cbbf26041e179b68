"""The way from the ledger to the public ledger: what is kept, what is dropped, what adds up."""

from __future__ import annotations

import types
import typing
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from builderlog.deciding import public
from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.entries import Decided, FixedLine, Note, Privacy, SnagLine
from builderlog.knowing.ledger import Ledger, Snag
from builderlog.knowing.settings import Aircraft, SiteSettings
from builderlog.reading.prose import Prose
from tests.making import NOWHERE, ledger, note, part, picture, settings, task, word, worked

DAY, OTHER = "2026-03-14", "2026-03-15"
PLAIN = {str, int, bool, date, Decimal, type(None)}


def shown(book: Ledger, *show: str, **changes: object) -> PublicLedger:
    """The public ledger of a journal whose site tells these things."""
    settled = replace(book.settings, site=SiteSettings(show=frozenset(show)), **changes)  # type: ignore[arg-type]
    return public_ledger(replace(book, settings=settled))


def book_of(*notes: Note, **lists: object) -> Ledger:
    """A ledger of notes."""
    return ledger(notes=notes, **lists)  # type: ignore[arg-type]


def types_in(kind: object) -> set[object]:
    """Every type that a value of this type may hold, records left out but looked through."""
    if is_dataclass(kind):
        assert isinstance(kind, type)
        hints = typing.get_type_hints(kind)
        assert kind.__module__ == public.__name__, f"{kind} is no public record"
        return {each for one in fields(kind) for each in types_in(hints[one.name])}
    if typing.get_origin(kind) in (tuple, types.UnionType, typing.Union):
        inner = [each for each in typing.get_args(kind) if each is not Ellipsis]
        return {each for one in inner for each in types_in(one)}
    return {kind}


def test_the_public_ledger_can_hold_nothing_else() -> None:
    """Down to its last field the type holds words, numbers, days and public records alone."""
    assert types_in(PublicLedger) <= PLAIN
    assert {int, str} < types_in(PublicLedger)


@dataclass(frozen=True)
class Leaky:
    """A record as a careless change could make it."""

    title: str
    hidden: tuple[Path | None, ...]


def test_the_guard_bites(monkeypatch: pytest.MonkeyPatch) -> None:
    """A field of another type is found, however deep, and so is a record from elsewhere."""
    with pytest.raises(AssertionError):
        types_in(Leaky)
    monkeypatch.setattr(Leaky, "__module__", public.__name__)
    monkeypatch.setattr(public, "Path", Path, raising=False)
    assert Path in types_in(Leaky)


def test_private_evenings_count() -> None:
    """Totals, months and areas keep the hours of private notes, and say how many are not shown."""
    book = ledger(
        work=[worked(DAY, 3600, "W1"), worked(OTHER, 7200, "W1", "Ada")],
        notes=[note(DAY, "W1"), note(OTHER, "W1", privacy=Privacy.HOURS_ONLY)],
        tasks=[task("W1")],
    )
    made = shown(book)
    assert (made.seconds, made.evenings, made.not_shown, made.days) == (10_800, 2, 1, 2)
    assert [each.key for each in made.notes] == [f"{DAY}-note"]
    assert [(month.seconds, month.not_shown) for month in made.months] == [(10_800, 1)]
    assert [area.seconds for area in made.areas] == [10_800]
    assert [each.seconds for each in made.tasks] == [10_800]
    assert made.untasked_seconds == 0


def test_hours_by_label() -> None:
    """Two people of one label are one row; with paid help that is not shown there is none."""
    work = [worked(DAY, 60, None, "Ines"), worked(DAY, 30, None, "Tomas"), worked(DAY, 10)]
    (one,) = shown(ledger(work=work)).notes
    assert [(row.label, row.seconds) for row in one.hours] == [("Ines", 70), ("a builder", 30)]
    paid = ledger(work=[*work, worked(DAY, 5, None, "Shop & Co")])
    assert shown(paid).notes[0].hours == ()
    assert shown(paid).by_role == ()
    assert shown(paid).seconds == 105
    assert ("paid help", 5) in [(r.label, r.seconds) for r in shown(paid, "paid help").by_role]


@pytest.mark.parametrize(
    ("word_shown", "name"),
    [("registration", "registration"), ("serial", "serial"), ("suppliers", "kit")],
)
def test_words_of_the_aircraft(word_shown: str, name: str) -> None:
    """Kit, registration and serial number are None until they are asked for."""
    aircraft = Aircraft("Pellar Two", "kit", "ZZ-EXA", "maker", "model", "0042")
    assert getattr(shown(ledger(), aircraft=aircraft), name) is None
    assert getattr(shown(ledger(), word_shown, aircraft=aircraft), name)
    assert shown(ledger(), aircraft=aircraft).design == "Pellar Two"


def test_full_name_of_a_builder_who_says_no() -> None:
    """Full names never name a builder whose `may show` is no."""
    book = ledger(settled=settings())
    for may, expected in ((None, "Ines A."), (False, None)):
        people = tuple(
            replace(each, full_name="Ines A.", may_show=may) if each.name == "Ines" else each
            for each in book.settings.people
        )
        assert shown(book, "full names", people=people).full_name == expected
        assert shown(book, people=people).full_name is None


def test_parts() -> None:
    """A part is told by its public sightings alone; one that only private notes name is not."""
    notes = [note(DAY), note(OTHER, privacy=Privacy.PRIVATE)]
    parts = [part("bolt", (DAY, "8.40 USD"), (OTHER, "9.99 USD")), part("gift", (OTHER, "1 USD"))]
    (one,) = shown(ledger(notes=notes, parts=parts)).parts
    assert (one.name, len(one.events), one.cost, one.supplier, one.ref) == (
        "bolt",
        1,
        None,
        None,
        None,
    )
    assert shown(ledger(notes=notes, parts=parts), "costs").parts[0].cost == "8.40 USD"


def snag(note_path: str, fixed_in: str | None) -> Snag:
    """A snag and, in another note, its fix."""
    line = SnagLine(word("nick"), NOWHERE, word("W"))
    if fixed_in is None:
        return Snag("1", note_path, date(2026, 3, 14), line)
    fix = FixedLine(word("1"), NOWHERE, word("blended"))
    return Snag("1", note_path, date(2026, 3, 14), line, fix, date(2026, 3, 15), fixed_in)


def test_snags() -> None:
    """Snags of public notes are told when asked for; a fix in a private note leaves them open."""
    notes = (note(DAY), note(OTHER, privacy=Privacy.PRIVATE))
    book = book_of(*notes)
    fixed = replace(book, snags=(snag(f"notes/{DAY}.md", f"notes/{OTHER}.md"),))
    assert shown(fixed).snags == ()
    (one,) = shown(fixed, "snags").snags
    assert (one.text, one.fixed_on, one.how) == ("nick", None, None)
    hidden = replace(book, snags=(snag(f"notes/{OTHER}.md", None),))
    assert shown(hidden, "snags").snags == ()


def with_words(text: str) -> Note:
    """A note with these words."""
    return replace(note(DAY), prose=Prose(text, NOWHERE))


@pytest.mark.parametrize(
    ("target", "kind"),
    [
        (f"{OTHER}.md", "note"),
        ("2026-03-16.md", "drop"),
        ("../photos/a.jpg", "picture"),
        ("../photos/b.jpg", "drop"),
        ("../receipts/a.pdf", "drop"),
        ("../../out.jpg", "drop"),
        ("nowhere.md", "drop"),
        ("javascript:alert(1)", "drop"),
        ("https://example.org/", None),
        ("#below", None),
    ],
)
def test_links(target: str, kind: str | None) -> None:
    """Links become copies and pages where friends may see what they lead to, else nothing."""
    book = book_of(
        with_words(f"[x]({target})"),
        note(OTHER),
        note("2026-03-16", privacy=Privacy.PRIVATE),
        pictures=[
            picture("photos/a.jpg", linked=(f"notes/{DAY}.md",)),
            picture("photos/b.jpg", ("2026-03-16", ())),
        ],
    )
    paths = {f"notes/{day}.md" for day in (DAY, OTHER, "2026-03-16")}
    files = {*paths, "photos/a.jpg", "photos/b.jpg", "receipts/a.pdf"}
    links = shown(replace(book, files=frozenset(files))).notes[0].links
    assert [(each, what) for each, what, _ in links] == ([(target, kind)] if kind else [])


@pytest.mark.parametrize(
    ("title", "words", "path", "expected"),
    [
        ("Skins on", "# Other", f"notes/{DAY}-file.md", "Skins on"),
        (None, "# Heading\n\nwords", f"notes/{DAY}-file.md", "Heading"),
        (None, "words", f"notes/{DAY}-aileron_skins-on.md", "Aileron skins on"),
        (None, "words", f"notes/{DAY}.md", "Shop note"),
        (None, "words", f"notes/{DAY}-2.md", "Shop note 2"),
    ],
)
def test_title(title: str | None, words: str, path: str, expected: str) -> None:
    """A note is called by its title, its first heading, its file name, or simply a shop note."""
    made = replace(with_words(words), title=word(title) if title else None, path=path)
    (one,) = shown(book_of(made)).notes
    assert one.title == expected
    assert one.has_heading is (expected == "Heading")


def test_next_steps() -> None:
    """An area's next steps are those of its newest public note that has any."""
    old, new, hidden = (
        replace(note(day, "W1"), next_steps=(word(text),))
        for day, text in ((DAY, "old"), (OTHER, "new"), ("2026-03-16", "hidden"))
    )
    other = replace(note("2026-03-01", "T1"), next_steps=(word("tail"),))
    book = book_of(
        other, old, new, replace(hidden, privacy=Privacy.PRIVATE), tasks=[task("W1"), task("T1")]
    )
    assert [(step.text, step.areas) for step in shown(book).next_steps] == [
        ("new", ("W",)),
        ("tail", ("T",)),
    ]


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("2026-10-01", "1 October 2026"),
        ("2026-10", "October 2026"),
        ("2026-13", "2026-13"),
        ("before the bottom skin", "before the bottom skin"),
    ],
)
def test_when_a_decision_is_looked_at_again(written: str, read: str) -> None:
    """A day or a month in numbers reads like every other day of the site; words stay."""
    decided = Decided(word("this skin"), NOWHERE, again=word(written))
    (note_read,) = shown(ledger(notes=[replace(note(DAY), decided=(decided,))])).notes
    assert [each.again for each in note_read.decided] == [read]


def test_what_a_mistake_leaves_out() -> None:
    """A note that is left out gives its hours and nothing else."""
    decided = replace(note(OTHER), decided=(Decided(word("secret"), NOWHERE),))
    book = ledger(work=[worked(OTHER, 60)], notes=[note(DAY), decided])
    made = public_ledger(book, frozenset({f"notes/{OTHER}.md"}))
    assert (made.seconds, made.not_shown) == (60, 1)
    assert "secret" not in repr(made)
    assert "secret" in repr(public_ledger(book))


def test_free_tasks() -> None:
    """Without a work list the tasks are those that public notes name."""
    book = ledger(
        work=[worked(DAY, 60, "paint"), worked(OTHER, 30, "hidden")],
        notes=[note(DAY, "paint", shows=["nose"]), note(OTHER, "hidden", privacy=Privacy.PRIVATE)],
        pictures=[picture("photos/a.jpg", (DAY, ("nose",)))],
    )
    book = replace(book, worklist=replace(book.worklist, written=False))
    assert {each.id for each in shown(book).tasks} == {"paint", "nose"}
    assert "hidden" not in repr(shown(book))


def test_a_month_before_the_year_1000_has_its_notes() -> None:
    """A year mistyped with a nought in front is still the year of the note's month."""
    early = note("0926-03-14")
    (month,) = shown(book_of(early)).months
    assert (month.month, month.notes) == ("0926-03", ("0926-03-14-note",))


def test_a_picture_tells_what_it_is_fit_for() -> None:
    """Its size and whether it is a page of a notebook go along, to choose what opens a page."""
    shown_in = picture("photos/a.jpg", (DAY, ("W1",)))
    page = replace(shown_in, uses=(replace(shown_in.uses[0], page=True),))
    book = book_of(note(DAY, shows=["W1"]), pictures=[page], tasks=[task("W1")])
    (use,) = shown(book).notes[0].photos
    assert (use.width_px, use.height_px, use.page) == (4, 3, True)
