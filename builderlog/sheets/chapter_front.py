"""The cover, how the record is to be read, and the notes marked private that go along all the same.

What the record does not claim stands as plainly as what it shows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from builderlog.deciding import sums
from builderlog.deciding.words import counted, day_plain, duration, duration_clock, listed
from builderlog.knowing.entries import Note, Privacy
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.settings import Role, Settings
from builderlog.sheets.chapter import (
    Block,
    Cell,
    Chapter,
    Column,
    Facts,
    Paragraph,
    Rows,
    Section,
)
from builderlog.sheets.chapter_seals import cover_seal
from builderlog.sheets.evidence_people import people_of
from builderlog.sheets.material import Material
from builderlog.sheets.reading_words import (
    CHECKING,
    CITING,
    COUNTING,
    IN_CHAPTERS,
    IN_EACH_AREA,
    NOT_CLAIMED,
    WHAT_IT_IS,
    WORDS,
)

UNTITLED = "A builder's record"
READING = "reading"
FOOT = "Supports a claim; grants nothing. The authority decides."
NOT_NAMED = Cell("not named in the record", weak=True)
PRIVATE = (
    Column("Date"),
    Column("Note", share=4),
    Column("What it holds", share=5),
    Column("Time", number=True),
)
HIDDEN = (Column("Date"), Column("Who and how long", share=6), Column("Time", number=True))


def title_of(ledger: Ledger) -> str:
    """The journal's title; a plain one where it has none."""
    return ledger.settings.title.strip() or UNTITLED


def running_head(ledger: Ledger) -> str:
    """The title, and the aircraft's registration where it has one."""
    registration = (ledger.settings.aircraft.registration or "").strip()
    title = title_of(ledger)
    return f"{title}, {registration}" if registration and registration not in title else title


def cover(material: Material) -> Chapter:
    """What the record is of, by whom, under which rule, and how much there is."""
    ledger = material.ledger
    rows = (*_whose(ledger), *_aircraft(ledger.settings), *_rule(ledger), *_extent(ledger))
    blocks: tuple[Block, ...] = (
        Paragraph("The record of the building of an amateur-built aircraft.", kind="lead"),
        Facts(tuple((term, cell) for term, cell in rows if cell.words or cell.links)),
        Paragraph(NOT_CLAIMED[0], kind="caution"),
    )
    return Chapter("cover", title_of(ledger), blocks)


def builders_of(settings: Settings) -> tuple[str, ...]:
    """The amateurs who make the claim, by their full names."""
    people = [each for each in settings.people if each.role is Role.BUILDER]
    return tuple(each.full_name or each.name for each in people)


def _whose(ledger: Ledger) -> Iterator[tuple[str, Cell]]:
    settings, people = ledger.settings, people_of(ledger)
    builders = builders_of(settings)
    yield ("Builder" if len(builders) == 1 else "Builders"), Cell(listed(builders))
    yield "Primary builder", Cell(people.full(settings.primary)) if settings.primary else NOT_NAMED


def _aircraft(settings: Settings) -> Iterator[tuple[str, Cell]]:
    """What the data plate says, as the builder gives it; then design and kit."""
    aircraft = settings.aircraft
    plate = (
        ("Maker on the data plate", aircraft.maker),
        ("Model", aircraft.model),
        ("Serial number", aircraft.serial),
        ("Registration", aircraft.registration),
    )
    yield from ((term, Cell(words) if words else NOT_NAMED) for term, words in plate)
    yield "Design", Cell(aircraft.design or "")
    yield "Kit", Cell(aircraft.kit or "")
    kit = settings.kit_evaluated
    if kit:
        yield "Kit evaluated", Cell(day_plain(kit.on.day) if kit.on else "on no stated date")


def _rule(ledger: Ledger) -> Iterator[tuple[str, Cell]]:
    rulebook = ledger.rulebook
    yield "Rulebook", Cell(rulebook.title) if rulebook else NOT_NAMED
    if rulebook:
        yield "Citation", Cell(rulebook.citation)


def _extent(ledger: Ledger) -> Iterator[tuple[str, Cell]]:
    """How far the record reaches, how much there is of it, and by when it is reckoned."""
    settings, days = ledger.settings, [note.day for note in ledger.notes if note.day]
    certificated = settings.certificated
    yield "Place of work", Cell(settings.place or "")
    yield (
        "Span of the record",
        Cell(_span(days)) if days else Cell("no note is on record", weak=True),
    )
    yield "Certificated", Cell(day_plain(certificated.day) if certificated else "")
    yield "Notes", Cell(_notes(ledger))
    yield "Hours on record", Cell(_hours(ledger))
    yield "Pictures", Cell(counted(len(sums.named_pictures(ledger)), "picture"))
    yield cover_seal(ledger)
    yield "Reckoned on", Cell(day_plain(ledger.record_date) if ledger.record_date else "")


def _span(days: Sequence[date]) -> str:
    first, last = min(days), max(days)
    return day_plain(first) if first == last else f"{day_plain(first)} to {day_plain(last)}"


def _notes(ledger: Ledger) -> str:
    days = len(sums.days_with_time(ledger.work))
    return f"{counted(len(ledger.notes), 'note')}, {counted(days, 'day')} with time on them"


def _hours(ledger: Ledger) -> str:
    """Of the amateurs, then of paid help, which is told even where there is none."""
    roles = sums.by_role(ledger.work)
    return (
        f"{duration(roles[Role.BUILDER])} of the builders, {duration(roles[Role.HELPER])} of "
        f"unpaid helpers, {duration(roles[Role.PAID])} of paid help"
    )


# ---- how to read it ------------------------------------------------------------------------


def reading(material: Material, chapters: Sequence[Chapter]) -> Chapter:
    """What it is, where what stands in these chapters, and what its words mean."""
    blocks: tuple[Block, ...] = (
        Section("reading-what", "What this record is", _paragraphs(WHAT_IT_IS)),
        Section("reading-not", "What it does not claim", _cautions(material)),
        Section("reading-where", "Where what stands", (_contents(chapters),)),
        Section("reading-numbers", "How numbers are counted", _paragraphs(COUNTING)),
        Section("reading-cited", "How notes and pictures are cited", _paragraphs(CITING)),
        Section("reading-words", "What the words mean", (_words(),)),
        Section("reading-check", "How to check it without us", _paragraphs(CHECKING)),
    )
    return Chapter(READING, "How to read this record", blocks)


def _paragraphs(words: Iterable[str]) -> tuple[Block, ...]:
    return tuple(Paragraph(each) for each in words)


def _cautions(material: Material) -> tuple[Block, ...]:
    """Ours, then the rulebook's own."""
    rulebook = material.ledger.rulebook
    own = rulebook.cautions if rulebook else ()
    return tuple(Paragraph(words, kind="caution") for words in (*NOT_CLAIMED, *own))


def _contents(chapters: Sequence[Chapter]) -> Rows:
    """A row for each chapter, leading there; what an area's chapter holds is said once."""
    rows, said = [], False
    for chapter in chapters:
        is_area = chapter.id.startswith("area-")
        told = IN_CHAPTERS.get(chapter.id, "" if said or not is_area else IN_EACH_AREA)
        said = said or is_area
        rows.append((Cell(chapter.title, to=chapter.id), Cell(told)))
    columns = (Column("Chapter", share=4), Column("What stands there", share=7))
    return Rows("The chapters of this record", columns, tuple(rows))


def _words() -> Facts:
    return Facts(tuple((word, Cell(meaning)) for word, meaning in WORDS))


# ---- notes marked private -------------------------------------------------------------------


def kept(material: Material) -> Iterator[Chapter]:
    """Left out where no note is marked."""
    ledger = material.ledger
    private = [note for note in ledger.notes if note.privacy is Privacy.PRIVATE]
    hidden = [note for note in ledger.notes if note.privacy is Privacy.HOURS_ONLY]
    if not private and not hidden:
        return
    blocks: list[Block] = [Paragraph(KEPT, kind="lead")]
    if private:
        rows = tuple(_private(note, material) for note in private)
        table = Rows("Private notes, whole in this record", PRIVATE, rows)
        blocks.append(Section("kept-private", "Marked private: they go along whole", (table,)))
    if hidden:
        rows = tuple(_hidden(note, ledger) for note in hidden)
        table = Rows("Notes of which the time alone goes along", HIDDEN, rows)
        blocks.append(Section("kept-hours", "Hours only: nothing but the time", (table,)))
    yield Chapter("kept", "Notes marked private", tuple(blocks))


KEPT = (
    "The builder keeps these notes from the website that friends read. They are listed first, so "
    "that the builder sees what goes along to the inspector and what does not."
)


def _private(note: Note, material: Material) -> tuple[Cell, ...]:
    return (
        Cell(str(note.day)),
        Cell(links=material.shelf.note(note)),
        Cell(held_in(note)),
        Cell(_time_of(note, material.ledger)),
    )


def held_in(note: Note) -> str:
    """What a note holds beside its time: "2 pictures, 1 part, its words"."""
    held = (
        (len(note.photos), "picture", "pictures"),
        (len(note.parts), "part", "parts"),
        (sum(line.receipt is not None for line in note.parts), "receipt", "receipts"),
        (len(note.measured), "measurement", "measurements"),
        (len(note.torqued), "torque entry", "torque entries"),
        (len(note.process), "process entry", "process entries"),
        (len(note.snags) + len(note.fixed), "snag", "snags"),
        (len(note.visits), "visit", "visits"),
        (len(note.away), "piece of work away", "pieces of work away"),
        (len(note.decided), "decision", "decisions"),
        (len(note.next_steps), "plan", "plans"),
    )
    told = [counted(number, one, many) for number, one, many in held if number]
    told += ["its words"] if note.prose.text.strip() else []
    return ", ".join(told) or "nothing but its date and time"


def _hidden(note: Note, ledger: Ledger) -> tuple[Cell, ...]:
    """Who gave how long, which goes along; no word of the note itself."""
    people = people_of(ledger)
    time = sums.seconds_by((r for r in ledger.work if r.note == note.path), lambda row: row.person)
    told = (f"{people.full(name)} {duration(seconds)}" for name, seconds in time.items())
    return Cell(str(note.day)), Cell(", ".join(told)), Cell(_time_of(note, ledger))


def _time_of(note: Note, ledger: Ledger) -> str:
    return duration_clock(sums.seconds_of(row for row in ledger.work if row.note == note.path))
