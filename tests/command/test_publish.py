"""`publish`: whole or not at all, twice the same, and the same everywhere."""

from __future__ import annotations

import io
import shutil
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from builderlog.drawing import pictures
from builderlog.drawing.pictures import Copy
from builderlog.reading.photo_file import PhotoFile
from tests.command.running import digests, originals, run, stamps, start, write
from tests.command.small_journal import jpeg, write_small
from tests.reading.shop_pictures import saved, shop_picture

MISTAKE = "---\nhours: all day\ntitle: A secret slip\nphotos: [photos/slip.jpg]\n---\nOdd words.\n"
ABROAD = {
    "TZ": "Pacific/Kiritimati",
    "LANG": "tr_TR.UTF-8",
    "LC_ALL": "C",
    "PYTHONHASHSEED": "4711",
}
AT_HOME = {"TZ": "America/Los_Angeles", "LANG": "C.UTF-8", "PYTHONHASHSEED": "1"}


def undrawable() -> bytes:
    """A PNG whose every part is whole and whose pixels are not."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", 40, 30, 8, 2, 0, 0, 0)
    parts = (
        chunk(b"IHDR", header) + chunk(b"IDAT", b"no stream of zlib at all") + chunk(b"IEND", b"")
    )
    return b"\x89PNG\r\n\x1a\n" + parts


def site_text(root: Path) -> str:
    """All pages of a site as one text."""
    return "\n".join(file.read_text() for file in sorted(root.rglob("*.html")))


def test_mistakes_leave_the_last_site(journal: Path) -> None:
    """With a mistake the last good site stays untouched, byte for byte and in its times."""
    assert run("publish", journal).status == 0
    before = stamps(journal / "published")
    write(journal, {"notes/2026-04-01.md": MISTAKE, "photos/skins.jpg": jpeg(10)})
    said = run("publish", journal)
    assert (said.status, said.out) == (1, "")
    assert "notes/2026-04-01.md:2:8: unreadable: " in said.err
    assert "2 mistakes; nothing was published" in said.err
    assert stamps(journal / "published") == before


def test_mistakes_make_no_folder(journal: Path) -> None:
    """Where there was no site, a mistake leaves none."""
    write(journal, {"notes/2026-04-01.md": MISTAKE})
    assert run("publish", journal).status == 1
    assert run("dossier", journal).status == 1
    assert not (journal / "published").exists()
    assert not (journal / "dossier").exists()


def test_keep_going(journal: Path) -> None:
    """--keep-going publishes the rest, lists what it left out, and ends with status 1."""
    write(journal, {"notes/2026-04-01.md": MISTAKE, "photos/slip.jpg": jpeg(10)})
    said = run("publish", journal, "--keep-going")
    assert said.status == 1
    assert "builderlog: left out: notes/2026-04-01.md" in said.err
    assert "  notes: 1 of 3: 1 with mistakes; their hours count" in said.out
    text = site_text(journal / "published")
    assert "Skins on" in text
    assert "secret" not in text
    assert len(list((journal / "published" / "pictures").iterdir())) == 1


def test_keep_going_without_mistakes(journal: Path) -> None:
    """--keep-going in a good journal is `publish` as ever."""
    assert run("publish", journal, "--keep-going").status == 0
    assert not run("publish", journal, "--keep-going").err


def test_a_mistake_mended(journal: Path) -> None:
    """What was left out comes back when its mistake is mended."""
    write(journal, {"notes/2026-04-01.md": MISTAKE, "photos/slip.jpg": jpeg(10)})
    run("publish", journal, "--keep-going")
    write(journal, {"notes/2026-04-01.md": MISTAKE.replace("all day", "1h")})
    assert run("publish", journal).status == 0
    assert "A secret slip" in site_text(journal / "published")


ODD_NOTES = (
    "---\nhours: 1h\nphotos: [photos/odd.png]\n---\nOdd.\n",
    "---\nhours: 1h\n---\nOdd ![odd](../photos/odd.png)\n",
)


@pytest.mark.parametrize("note", ODD_NOTES)
def test_a_picture_that_cannot_be_decoded(journal: Path, note: str) -> None:
    """A picture whose parts are whole and whose pixels are not is a mistake of each note it is in.

    `check` tells it in the same words: nothing has to be drawn to find it.
    """
    assert run("publish", journal).status == 0
    before = stamps(journal / "published")
    write(journal, {"photos/odd.png": undrawable(), "notes/2026-04-01-odd.md": note})
    assert_stays_back(journal, before, "'photos/odd.png' begins like a PNG picture, but what")
    assert "begins like a PNG picture, but what follows" in run("check", journal).out


@pytest.mark.parametrize("note", ODD_NOTES)
def test_a_picture_that_cannot_be_drawn(
    journal: Path, monkeypatch: pytest.MonkeyPatch, note: str
) -> None:
    """A picture that fails only in drawing (damaged meanwhile) is told, and its note stays back."""
    assert run("publish", journal).status == 0
    before = stamps(journal / "published")
    draw = pictures.draw_copies

    def fail(file: Path, photo: PhotoFile) -> tuple[Copy, ...]:
        if file.name == "odd.png":
            raise OSError("broken since")
        return draw(file, photo)

    monkeypatch.setattr(pictures, "draw_copies", fail)
    odd = io.BytesIO()
    Image.new("RGB", (40, 30), "teal").save(odd, "PNG")
    write(journal, {"photos/odd.png": odd.getvalue(), "notes/2026-04-01-odd.md": note})
    told = "'photos/odd.png' looks whole but cannot be decoded (broken since)"
    assert_stays_back(journal, before, told)


def assert_stays_back(journal: Path, before: dict[str, tuple[str, int]], told: str) -> None:
    """The note with the odd picture is told and not published, with --keep-going alone."""
    said = run("publish", journal)
    assert said.status == 1
    assert "notes/2026-04-01-odd.md:" in said.err
    assert f"picture-unreadable: {told}" in said.err
    assert stamps(journal / "published") == before
    said = run("publish", journal, "--keep-going")
    assert said.status == 1
    assert "left out: notes/2026-04-01-odd.md" in said.err
    assert "Odd." not in site_text(journal / "published")
    assert len(list((journal / "published" / "pictures").iterdir())) == 1


def test_a_second_time(journal: Path) -> None:
    """Publishing again changes nothing: no byte, no time, and it says so."""
    run("publish", journal)
    before = stamps(journal / "published")
    said = run("publish", journal)
    assert "0 new, 0 changed, 0 deleted" in said.out
    assert stamps(journal / "published") == before
    shutil.rmtree(journal / ".builderlog")
    assert "0 new, 0 changed, 0 deleted" in run("publish", journal).out
    assert stamps(journal / "published") == before


@pytest.mark.slow
@pytest.mark.parametrize("word", ["publish", "dossier"])
def test_the_same_everywhere(tmp_path: Path, word: str) -> None:
    """Two copies of a journal give equal bytes in other places, zones, languages and hash seeds."""
    first = write_small(tmp_path / "here" / "journal")
    second = write_small(tmp_path / "a far away place" / "über 板金")
    out = tmp_path / "out"
    assert start(word, first, "--out", out, env=AT_HOME).status == 0
    assert start(word, second, env=ABROAD).status == 0
    default = second / {"publish": "published", "dossier": "dossier"}[word]
    assert digests(out) == digests(default)
    assert len(digests(out)) > 10


def test_on_another_day(journal: Path) -> None:
    """--on reckons the site on another day; without it on the newest date of the record."""
    run("publish", journal)
    assert "15 March 2026" in site_text(journal / "published")
    assert "1 May 2031" not in site_text(journal / "published")
    assert run("publish", journal, "--on", "2031-05-01").status == 0
    assert "1 May 2031" in site_text(journal / "published")


def test_bagging_date(journal: Path) -> None:
    """--on alone writes the day of handing over into the bag, and the bag stays whole."""
    run("dossier", journal)
    assert "Bagging-Date" not in (journal / "dossier" / "bag-info.txt").read_text()
    run("dossier", journal, "--on", "2031-05-01")
    assert "Bagging-Date: 2031-05-01\n" in (journal / "dossier" / "bag-info.txt").read_text()
    assert run("verify", journal / "dossier").status == 0


@pytest.mark.parametrize(
    ("path", "text", "told"),
    [
        (
            "journal.yaml",
            "site: {theme: moonlight}\n",
            "journal.yaml:1:1: theme: there is no theme",
        ),
        ("look/note.html", "{% if %}", "look/note.html:1:1: theme: "),
        ("look/front.html", "\n{{ sheet.price }}", "look/front.html:2:1: theme: "),
    ],
)
def test_a_look_at_fault(journal: Path, path: str, text: str, told: str) -> None:
    """A mistake in the journal's own look is told with its place and leaves the last site."""
    run("publish", journal)
    before = stamps(journal / "published")
    kept = (journal / path).read_text() if (journal / path).exists() else ""
    write(journal, {path: kept + text})
    said = run("publish", journal)
    assert (said.status, said.out) == (1, "")
    assert told in said.err
    assert stamps(journal / "published") == before


def test_originals_stay_as_they_are(journal: Path) -> None:
    """Neither `publish` nor `dossier` changes a byte of what the builder owns."""
    before = originals(journal)
    for word in ("check", "tally", "publish", "dossier"):
        run(word, journal)
    assert originals(journal) == before


def test_what_is_gone_is_deleted(journal: Path) -> None:
    """A note that is deleted takes its page and its picture with it; a stranger's file stays."""
    run("publish", journal)
    write(journal / "published", {"mine.txt": "a friend's"})
    (journal / "notes/2026-03-14-skins.md").unlink()
    (journal / "notes/2026-03-15-rivets.md").write_text("---\nhours: 1h\n---\n")
    assert run("publish", journal).status == 0
    assert not (journal / "published/notes/2026-03-14-skins.html").exists()
    assert not (journal / "published/pictures").exists()
    assert (journal / "published/mine.txt").read_text() == "a friend's"


def test_names_in_the_builders_own_words(journal: Path) -> None:
    """Publishing ends with each name that stays back and yet stands in public words, once."""
    for day in ("2026-04-01", "2026-04-02"):
        write(journal, {f"notes/{day}.md": "Tomas held the skins.\n"})
    said = run("publish", journal)
    assert said.status == 0
    assert (
        "Your own words name what is kept back:\nnotes/2026-04-01.md:1:1: hidden-name: " in said.err
    )
    assert said.err.count("hidden-name: 'Tomas'") == 2  # the place, and the words to paste
    assert "Tomas is 'a helper' until may show: yes" in said.out
    assert "Tomas held the skins." in site_text(journal / "published")


def test_pictures_in_the_look(journal: Path) -> None:
    """A picture of the look goes along without metadata; a film is named; a phone's kind stops."""
    plain, told = Image.new("RGB", (8, 8)), io.BytesIO()
    plain.save(told, "JPEG", comment=b"taken at home")
    write(journal, {"look/shop.jpg": told.getvalue(), "look/roll.mp4": b"\0\0\0\x18ftypmp42"})
    said = run("publish", journal)
    assert said.status == 0
    assert b"taken at home" not in (journal / "published/shop.jpg").read_bytes()
    assert "look/roll.mp4 goes along as it is: a film may hold names, places and" in said.err
    write(journal, {"look/shop.heic": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"})
    said = run("publish", journal)
    assert said.status == 1
    assert "look/shop.heic:1:1: theme: few browsers show a picture of this kind" in said.err


def test_copies_of_kept_pictures_end_the_list(journal: Path) -> None:
    """Publishing ends with each picture that friends see beside another that is kept back."""
    write(
        journal,
        {
            "photos/x.jpg": saved(shop_picture(1)),
            "photos/y.jpg": saved(shop_picture(1), quality=40),
            "notes/2026-04-01.md": "---\nphotos: [photos/y.jpg,"
            " {photo: photos/x.jpg, private: yes}]\n---\n",
        },
    )
    said = run("publish", journal)
    assert "Pictures that friends see are copies of others that are kept back:\n" in said.err
    assert "notes/2026-04-01.md:2:10: kept-twin: 'photos/y.jpg' is nearly the same" in said.err


def test_names_in_the_look(journal: Path) -> None:
    """A template, a style or a name of the builder's own look that names somebody is told too."""
    write(journal, {"look/own.css": "/* mine,\n for Tomas and Tomas */\n", "look/a.bin": "Tomas"})
    said = run("publish", journal)
    assert said.status == 0
    assert "look/own.css:2:6: hidden-name: 'Tomas' is to friends 'a helper'" in said.err
    assert "and 1 more time in this file; take it out of the look\n" in said.err
    assert "explain it" not in said.err
    assert said.err.count("hidden-name") == 1
    write(journal, {"look/own.css": "a {}", "look/pages/tomas.html": "<p>Hello</p>"})
    assert "look/pages/tomas.html:1:1: hidden-name: 'Tomas'" in run("publish", journal).err


@pytest.mark.parametrize("folder", ["/home/ines", "/Users/ines.v", "C:\\Users\\Ines"])
def test_folders_in_the_look(journal: Path, folder: str) -> None:
    """A folder of the builder's machine that a drawing program wrote into its file is told once."""
    drawing = f"<svg>\n<!-- {folder}/wing.svg {folder} --></svg>"
    write(journal, {"look/wing.svg": drawing})
    said = run("publish", journal)
    assert f"look/wing.svg:2:6: folder-in-look: '{folder}' names a folder" in said.err
    assert said.err.count("folder-in-look") == 1
