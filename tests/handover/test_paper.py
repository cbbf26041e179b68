"""The document: the same bytes anywhere, whatever its words hold, on the paper asked for."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pikepdf
import pypdf
import pytest

from builderlog.drawing.theme import ThemeFault, theme_names
from builderlog.handover.paper import document
from builderlog.knowing.print_signs import print_fonts
from builderlog.sheets.chapter import (
    Cell,
    Chapter,
    Column,
    Dossier,
    Paragraph,
    Pictures,
    Rows,
)
from tests.handover.made_dossier import draw_pictures, made, picture, printing

FURNITURE = frozenset("ABCDEF")  # letters along a frame are no part of the record
ATTACHED = {"hours.csv": b"date\r\n2026-03-14\r\n", "ledger.json": b"{}\n"}
HOSTILE = (
    '#set text(red) #panic("x") [a] *b* _c_ `d` $e$ <f> @g // h /* i */ \\ ~ = + - \' "',
    '#include "/etc/passwd" ]] )) }} #{ let x = 1',
    "".join(map(chr, range(1, 32))) + "\x7f\x85\u2028\u2029\ufeff\ufffe",
    "\U0001f600 \U0001f468\u200d\U0001f469\u200d\U0001f467 \u4e2d\u6587 \ue000",
    "\u05e9\u05dc\u05d5\u05dd \u202etxt.exe\u202c \u0645\u0631\u062d\u0628\u0627",
    "e\u0301 " + "z" + "\u0300" * 60,
    "W" * 400,
    "notes/" + "a-very-long-name/" * 30,
)


def words_in(pdf: bytes) -> str:
    """All text of a document, line ends as blanks."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def set_in(folder: Path, dossier: Dossier, paper: str = "a4") -> bytes:
    """The document of a dossier, set in a folder of its own."""
    draw_pictures(range(1, 40), folder)
    return document(dossier, printing(folder, paper), ATTACHED)


def test_two_folders_zones_and_tongues_give_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither the folder, nor the zone, nor the language of the machine is in the document."""
    one = set_in(tmp_path / "a", made())
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    monkeypatch.setenv("LC_ALL", "tr_TR.UTF-8")
    time.tzset()
    other = set_in(tmp_path / "another folder, deeper" / "b", made())
    monkeypatch.undo()
    time.tzset()
    assert one == other
    assert str(tmp_path).encode() not in one


@pytest.mark.parametrize("theme", theme_names())
def test_every_theme_prints_the_same_record(tmp_path: Path, theme: str) -> None:
    """All words and tables of the first theme's document, declared as PDF/A-3a and PDF/UA-1.

    The compiler refuses to declare so what is not; the same record gives the same bytes.
    """
    draw_pictures(range(1, 40), tmp_path)
    own = document(made(), printing(tmp_path, theme=theme), ATTACHED)
    assert own == document(made(), printing(tmp_path, theme=theme), ATTACHED)
    model = document(made(), printing(tmp_path), ATTACHED)
    assert set(words_in(model).split()) - set(words_in(own).split()) <= FURNITURE
    with pikepdf.open(io.BytesIO(own)) as pdf:
        told = pdf.open_metadata()
        assert (told["pdfaid:part"], told["pdfaid:conformance"]) == ("3", "A")
        assert told["pdfuaid:part"] == "1"
        assert set(pdf.attachments) == set(ATTACHED)


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("us-letter", (612, 792))])
def test_every_page_has_the_size_that_is_asked_for(
    tmp_path: Path, paper: str, points: tuple[int, int]
) -> None:
    """A4 by ISO 216, US Letter by ANSI Y14.1, in points rounded to whole ones."""
    with pikepdf.open(io.BytesIO(set_in(tmp_path, made(), paper))) as pdf:
        boxes = [[round(float(side)) for side in page.mediabox] for page in pdf.pages]
    assert boxes == [[0, 0, *points]] * len(boxes)


@pytest.mark.slow
@pytest.mark.parametrize("words", HOSTILE)
def test_any_words_can_be_set(tmp_path: Path, words: str) -> None:
    """Signs of the typesetter's own language and signs without a shape are words like others."""
    table = Rows(words, (Column(words), Column("b")), ((Cell(words), Cell("end")),))
    page = Chapter("odd", words, (Paragraph(words, "caution"), Paragraph("still here"), table))
    assert "still here" in words_in(set_in(tmp_path, made(page, title=words)))


def test_markup_is_printed_as_it_was_written(tmp_path: Path) -> None:
    """Nothing that a builder writes is taken for an instruction."""
    page = Chapter("odd", "Odd", (Paragraph("#strong[a] *b* $c$ <d> @e"),))
    assert "#strong[a] *b* $c$ <d> @e" in words_in(set_in(tmp_path, made(page)))


def test_a_sign_that_the_fonts_lack_is_named(tmp_path: Path) -> None:
    """An emoji is written as its code point in brackets."""
    page = Chapter("odd", "Odd", (Paragraph("done \U0001f600"),))
    assert "done [U+1F600]" in words_in(set_in(tmp_path, made(page)))


def test_a_dossier_with_nothing_but_a_title_is_set(tmp_path: Path) -> None:
    """Chapters without a block do not stop it."""
    bare = Dossier("Bare", (), "", "Bare", "Grants nothing.", Chapter("cover", "Bare", ()), ())
    with pikepdf.open(io.BytesIO(document(bare, printing(tmp_path), ATTACHED))) as pdf:
        assert len(pdf.pages) >= 1


def test_a_fault_in_the_builders_own_template_is_told_with_its_place(tmp_path: Path) -> None:
    """A template in look/ that cannot be set is named with its line."""
    journal = tmp_path / "journal"
    (journal / "look").mkdir(parents=True)
    (journal / "look/dossier.typ").write_text("\n#let x = (\n", encoding="utf-8")
    draw_pictures(range(1, 40), tmp_path)
    with pytest.raises(ThemeFault) as told:
        document(made(), printing(tmp_path, journal=journal), ATTACHED)
    assert told.value.place.path == "look/dossier.typ"
    assert told.value.place.line == 2


def test_what_is_attached_comes_out_again(tmp_path: Path) -> None:
    """Each file is in the document under its name, byte by byte."""
    with pikepdf.open(io.BytesIO(set_in(tmp_path, made()))) as pdf:
        held = {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}
    assert held == ATTACHED


def test_a_picture_without_a_print_is_said_in_words(tmp_path: Path) -> None:
    """Where the picture could not be drawn its words stand in the frame, and no other lacks."""
    sheet = Pictures(tuple(picture(number) for number in (12, 13, 14)))
    pdf = set_in(tmp_path, made(Chapter("lost", "Lost", (sheet,))))
    said = words_in(pdf)
    assert [f"The spar at step {number}" in said for number in (12, 13, 14)] == [False, True, False]


def test_no_font_but_the_compilers_own_is_used(tmp_path: Path) -> None:
    """Fonts are those of the table of signs, whatever lies on the machine; scripts come out."""
    page = Chapter("odd", "Odd", (Paragraph("\u0395\u03bb \u2713 \u2192 \u0414 \u05d0 \u2200"),))
    with pikepdf.open(io.BytesIO(set_in(tmp_path, made(page)))) as pdf:
        names = {
            str(each["/FontName"]).partition("+")[2].partition("-")[0]
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor"
        }
    known = {name.replace(" ", "") for name in print_fonts().names}
    assert names
    assert {name for name in names if not name.startswith(("NewCM", *known))} == set()


def test_a_package_from_elsewhere_is_refused(tmp_path: Path) -> None:
    """A look that fetches a package is told so, with its line, and nothing is fetched."""
    look = tmp_path / "journal/look"
    look.mkdir(parents=True)
    (look / "dossier-ink.typ").write_text('\n\n#import "@preview/box:1.0.0"\n', encoding="utf-8")
    with pytest.raises(ThemeFault, match="its own files only") as told:
        document(made(), printing(tmp_path, journal=tmp_path / "journal"), ATTACHED)
    assert (told.value.place.path, told.value.place.line) == ("look/dossier-ink.typ", 3)


def test_the_working_folder_is_gone_afterwards(tmp_path: Path) -> None:
    """What was laid out to be set is removed, whether the setting came off or not."""
    set_in(tmp_path / "a", made())
    journal = tmp_path / "journal"
    (journal / "look").mkdir(parents=True)
    (journal / "look/dossier.typ").write_text("#nothing-of-this-name", encoding="utf-8")
    with pytest.raises(ThemeFault):
        document(made(), printing(tmp_path / "a", journal=journal), ATTACHED)
    assert [path for path in (tmp_path / "a").iterdir() if path.suffix != ".jpg"] == []
