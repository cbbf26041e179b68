"""A dossier made up of every kind of block, with pictures drawn on the spot, and its printing."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path

from PIL import Image, ImageDraw

from builderlog.drawing.theme import open_theme
from builderlog.handover.paper import Printing
from builderlog.handover.print_pictures import picture_name
from builderlog.sheets.chapter import (
    Bar,
    Bars,
    Blanks,
    Block,
    Bullets,
    Cell,
    Chapter,
    Column,
    Dossier,
    Facts,
    Paragraph,
    Pictures,
    Rows,
    Section,
    ShownPicture,
)
from builderlog.sheets.shelf import FileLink

FOOT = "This supports a claim and grants nothing."
SIZES = {False: (400, 300), True: (120, 90)}


def picture(number: int, told: str = "2026-03-14") -> ShownPicture:
    """A picture of that number; every third stands upright."""
    name = f"photos/{number}.jpg"
    return ShownPicture(number, name, f"{number:064x}", f"The spar at step {number}", told)


def size(number: int, small: bool) -> tuple[int, int] | None:  # noqa: FBT001 - as Prints has it
    """Width and height of the drawn picture; number 13 could not be drawn."""
    width, height = SIZES[small]
    if number == 13:
        return None
    return (height, width) if number % 3 == 0 else (width, height)


def draw_pictures(numbers: Iterable[int], folder: Path) -> None:
    """Writes both sizes of each."""
    folder.mkdir(parents=True, exist_ok=True)
    for number in numbers:
        for small in (False, True):
            measures = size(number, small)
            if measures:
                (folder / picture_name(number, small)).write_bytes(drawn(measures, number))


def drawn(measures: tuple[int, int], number: int) -> bytes:
    """A picture with a cross in it, whose grey is its number's."""
    image = Image.new("RGB", measures, (90 + number * 7 % 120,) * 3)
    pen = ImageDraw.Draw(image)
    pen.line((0, 0, *measures), fill=(250, 250, 250), width=3)
    pen.line((0, measures[1], measures[0], 0), fill=(20, 20, 20), width=3)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=70)
    return out.getvalue()


def printing(
    folder: Path, paper: str = "a4", journal: Path | None = None, theme: str = "trammel"
) -> Printing:
    """A theme, with the pictures of `folder`."""
    return Printing(open_theme(theme, journal), paper, folder, size)


NOTES = tuple(FileLink(f"2026-03-{day}", f"notes/2026-03-{day}.md") for day in range(10, 14))
HOURS = Rows(
    caption="Hours by person",
    columns=(Column("Person", share=3), Column("Role"), Column("Hours", number=True)),
    rows=(
        (Cell("Ines"), Cell("builder"), Cell("12.5")),
        (Cell("Ada", NOTES), Cell("helper, unpaid"), Cell("3.25")),
        (Cell("All"), Cell(), Cell("15.75")),
    ),
    sums=1,
)
TASK = Section(
    "task-W14",
    "W14 Rivet the left aileron",
    (
        Facts(
            (
                ("Done by", Cell("Ines, Tomas")),
                ("Seen by", Cell("K. Example, counsellor", to="visits")),
                ("Measured", Cell("not on record", weak=True)),
            )
        ),
        HOURS,
        Pictures(tuple(picture(number, "Rivets set, 2026-03-14") for number in (1, 2, 3))),
        Section("task-W14-notes", "Notes by date", (Bullets((Cell("", NOTES[:1]),)),)),
    ),
    aside="done on 2026-03-14",
)


def made(*more: Chapter, title: str = "Building the Example Two") -> Dossier:
    """Every kind of block once, and the chapters that a test adds."""
    return Dossier(
        title=title,
        builders=("Ines Example", "Tomas Example"),
        record_date="2026-05-31",
        running=title,
        foot=FOOT,
        cover=Chapter("cover", title, (Facts((("Maker", Cell("I. Example")),)),)),
        chapters=(
            Chapter("reading", "How to read this record", paragraphs()),
            Chapter("area-wings", "Wings", (TASK,)),
            Chapter("visits", "Visits and inspections", (Paragraph("Nobody came."),)),
            Chapter("months", "Month by month", (months(),)),
            Chapter("contact", "Contact sheets", (contact(),)),
            Chapter("remarks", "Remarks", (Blanks(("Name", "Date and signature"), 6),)),
            *more,
        ),
    )


def paragraphs() -> tuple[Block, ...]:
    """One of each kind."""
    return (
        Paragraph("What this is.", "lead"),
        Paragraph("Each task has a sheet of its own.", links=NOTES[:2]),
        Paragraph("This grants nothing.", "caution"),
        Paragraph("No receipt is on record.", "gap"),
        Paragraph("Reckoned on the last entry.", "quiet"),
    )


def months() -> Bars:
    """Three months in two parts, one of them without hours."""
    bars = (
        Bar("January 2026", 36_000, "10.0 h", (30_000, 6_000)),
        Bar("February 2026", 0, "0.0 h", (0, 0)),
        Bar("March 2026", 72_000, "20.0 h", (36_000, 36_000)),
    )
    return Bars("Hours by month: 10.0, 0.0 and 20.0", bars, ("Builders", "Helpers"))


def contact() -> Pictures:
    """Eight small pictures, of which one could not be drawn."""
    return Pictures(tuple(picture(number) for number in range(7, 15)), small=True)


def tables(*tables: tuple[str, tuple[tuple[str, ...], ...]]) -> tuple[Block, ...]:
    """Tables of words, each under its caption."""
    return tuple(
        Rows(caption, tuple(Column(f"C{n}") for n in range(len(rows[0]))), as_cells(rows))
        for caption, rows in tables
    )


def as_cells(rows: tuple[tuple[str, ...], ...]) -> tuple[tuple[Cell, ...], ...]:
    """Words as cells."""
    return tuple(tuple(Cell(words) for words in row) for row in rows)
