"""The document: the same bytes anywhere, whatever its words hold, on the paper asked for."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pikepdf
import pypdf
import pytest

from builderlog.drawing.theme import ThemeFault
from builderlog.handover.paper import document
from builderlog.sheets.chapter import Cell, Chapter, Column, Dossier, Paragraph, Rows
from tests.handover.made_dossier import draw_pictures, made, printing

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


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("us-letter", (612, 792))])
def test_every_page_has_the_size_that_is_asked_for(
    tmp_path: Path, paper: str, points: tuple[int, int]
) -> None:
    """A4 by ISO 216, US Letter by ANSI Y14.1, in points rounded to whole ones."""
    with pikepdf.open(io.BytesIO(set_in(tmp_path, made(), paper))) as pdf:
        boxes = [[round(float(side)) for side in page.mediabox] for page in pdf.pages]
    assert boxes == [[0, 0, *points]] * len(boxes)


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
