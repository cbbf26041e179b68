"""A dossier made by hand with every kind of block, and words that would break a careless page."""

from __future__ import annotations

from dataclasses import replace

from builderlog.knowing.ledger import Ledger, Picture
from builderlog.reading.photo_file import PhotoFile
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
    anchor,
)
from builderlog.sheets.shelf import FileLink
from tests.making import ledger

HOSTILE = """</title></style><script>alert("x")</script> & 'so' {{ 7 * 7 }} <b>"""
ODD_PATH = 'photos/it\'s 50 % # & "x" \u00e9?.jpg'
ODD_TASK = "W/1 <b>#?%"
RENAMED = "photos/line\nbreak.png"
BAGGED = "photos/line_break-0a1b.png"


def cell(words: str, to: str = "", *, weak: bool = False) -> Cell:
    """A cell without files."""
    return Cell(words, to=to, weak=weak)


def note_links(number: int) -> tuple[FileLink, ...]:
    """Notes of as many days."""
    days = (
        f"20{21 + at // 336:02}-{at // 28 % 12 + 1:02}-{at % 28 + 1:02}" for at in range(number)
    )
    return tuple(FileLink(day, f"notes/{day}.md") for day in days)


def shown(number: int, path: str, told: str = "2026-03-14: skins held by clecos") -> ShownPicture:
    """A picture as a chapter shows it."""
    return ShownPicture(number, path, f"{number:064x}", f"Picture {number}", told)


def table(caption: str, columns: int, rows: int, *, numbers: bool = False) -> Rows:
    """A table of words, or of words with numbers beside them."""
    headings = [
        Column("Area"),
        *(Column(f"Column/{at}", number=numbers) for at in range(1, columns)),
    ]
    body = [
        (cell(f"Row {at}"), *(cell("12" if numbers else f"some words {at}") for _ in headings[1:]))
        for at in range(rows)
    ]
    return Rows(caption, tuple(headings), tuple(body), "Nothing is on record.", sums=min(rows, 1))


CHART = Bars(
    "Hours by month",
    (
        Bar("2026-03", 7200, "2 h", (3600, 3600)),
        Bar("2026-04", 3601, "1 h", (3601, 0)),
        Bar("2026-05", 0, "none", (0, 0)),
    ),
    ("Assembly", "Fabrication"),
)
FACTS = Facts(
    (
        ("Design", cell("Ostrel Two")),
        ("Builder", Cell("Ines", note_links(12), to=anchor("W14"))),
        ("Drawing", cell("none on record", weak=True)),
        ("Kit", cell("")),
    )
)
MANY = Paragraph("Counted from the notes.", "quiet", note_links(30))
EVERY_KIND: tuple[Block, ...] = (
    Paragraph("What stands first on 2026-03-14.", "lead"),
    Paragraph("Only the authority decides.", "caution"),
    Paragraph("No second pair of eyes is on record.", "gap", note_links(2)),
    MANY,
    FACTS,
    Bullets((cell("One", "visits"), Cell("", note_links(3)), cell("100 %, by 2026-03-14"))),
    table("Numbers by area", 7, 4, numbers=True),
    table("Words by area", 6, 3),
    table("Two columns", 2, 2),
    table("Nothing in it", 3, 0),
    CHART,
    Bars("No hours", (Bar("2026-06", 0, "0 min"),)),
    Blanks(("Name", "Signature", "Date"), remarks=4),
)


def hostile_blocks(words: str) -> tuple[Block, ...]:
    """Every kind of block with the same words wherever there may be some."""
    linked = Cell(words, (FileLink(words, ODD_PATH), FileLink(words, "")), to=anchor(ODD_TASK))
    return (
        Paragraph(words, "lead", (FileLink(words, ODD_PATH),)),
        Facts(((words, linked),)),
        Bullets((linked, replace(linked, weak=True))),
        Rows(words, (Column(words), Column(words), Column(words)), ((linked, linked, linked),)),
        Rows(words, (Column(words),), (), empty=words),
        Pictures(
            (replace(shown(1, ODD_PATH, words), alt=words), shown(3, "photos/torn.jpg", words))
        ),
        Bars(words, (Bar(words, 3, words, (1, 2)),), (words, words)),
        Blanks((words,), 1),
    )


def made_dossier(words: str = HOSTILE) -> Dossier:
    """A dossier with every kind of block, and one in which all words are `words`."""
    pictures = Pictures((shown(1, ODD_PATH), shown(2, RENAMED), shown(3, "photos/torn.jpg")))
    return Dossier(
        title="Ostrel <Two> & friends",
        builders=("Ines Aldermark",),
        record_date="2026-04-20",
        running="Ostrel <Two> & friends",
        foot="It supports the builder's own statement. It grants nothing.",
        cover=Chapter(
            "cover",
            "Ostrel <Two> & friends",
            (
                Facts((("Builder", cell("Ines Aldermark")), ("Begun", cell("2026-03-14")))),
                Section("cover-claim", "The claim", (Paragraph("See there."),)),
                CHART,
            ),
        ),
        chapters=(
            Chapter("claim", "The claim by area", EVERY_KIND),
            Chapter(
                "area-w",
                "W Wings",
                (
                    table("The tasks of this area", 5, 2, numbers=True),
                    Section(
                        anchor("W14"),
                        "W14 Aileron skins",
                        (Section("w14-pictures", "Pictures", (pictures,)), FACTS),
                        aside="fabrication, done, 14 h 30 min",
                    ),
                    Section(anchor(ODD_TASK), ODD_TASK, (MANY,), aside="open"),
                ),
            ),
            Chapter("visits", "Visits", (Section("visit-1", words, hostile_blocks(words), words),)),
            Chapter("contact", "Contact sheets", (replace(pictures, small=True),)),
            Chapter("index", "Every task by its name", (Bullets((cell("W14", anchor("W14")),)),)),
        ),
    )


def long_dossier() -> Dossier:
    """The same with a table and with sheets of pictures that take more than one page."""
    made = made_dossier()
    sheets = Pictures(tuple(shown(at, ODD_PATH, "2026-03-14") for at in range(1, 901)), small=True)
    long = Chapter(
        "photos",
        "Photo index",
        (table("All", 7, 1200), Section("all", "All", (sheets,), aside="900 pictures")),
    )
    return replace(made, chapters=(*made.chapters, long))


def photo_file(path: str, *, fault: str | None = None) -> PhotoFile:
    """The facts of a picture of 4000 by 3000 pixels, or of one with a fault."""
    size = (0, 0) if fault else (4000, 3000)
    return PhotoFile(path, "", 1, "JPEG", *size, None, located=False, fault=fault)


def made_ledger() -> Ledger:
    """A ledger that knows the dossier's pictures; the third of them is torn."""
    files = [photo_file(ODD_PATH), photo_file(RENAMED)]
    files.append(photo_file("photos/torn.jpg", fault="it ends too early"))
    return replace(ledger(), pictures=tuple(Picture(file.name, file, ()) for file in files))
