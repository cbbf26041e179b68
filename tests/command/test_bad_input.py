"""Bad input, as it comes: a sentence with its place or correct handling, originals untouched.

Every case goes through check, tally, publish, dossier and verify; a traceback fails the test.
"""

from __future__ import annotations

import io
import struct
import unicodedata
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import pytest
from PIL import Image

from tests.command.running import Said, originals, run, write
from tests.command.small_journal import JOURNAL, jpeg

NOTE = "notes/2026-04-01-odd.md"


@dataclass(frozen=True, slots=True)
class Case:
    """Files to write over the small journal, and what `check` must say; no code: all is well."""

    name: str
    files: Mapping[str, str | bytes]
    code: str = ""
    place: str = ""  # path:line:column, or the beginning of it
    gone: tuple[str, ...] = ()


def note(front: str, words: str = "") -> dict[str, str | bytes]:
    """One more note with this front matter."""
    return {NOTE: f"---\n{front}\n---\n{words}"}


def shown(data: bytes, path: str = "photos/odd.jpg") -> dict[str, str | bytes]:
    """One more note with a picture of these bytes."""
    return {path: data, **note(f'photos: ["{path}"]')}


def saved(image: Image.Image, kind: str = "JPEG", **words: object) -> bytes:
    """An image in a format."""
    out = io.BytesIO()
    image.save(out, kind, **words)
    return out.getvalue()


def turned(orientation: int) -> bytes:
    """A small JPEG with an orientation."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    return saved(Image.new("RGB", (40, 30), "teal"), exif=exif)


def png_of(width: int, height: int, pixels: bytes = b"") -> bytes:
    """A PNG that claims a size."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    body = chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(pixels)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def spoilt_jpeg() -> bytes:
    """A JPEG with its middle overwritten."""
    data = bytearray(saved(Image.effect_noise((200, 150), 60).convert("RGB")))
    data[400:600] = bytes(200)
    return bytes(data)


RGB = Image.new("RGB", (40, 30), "teal")
WHOLE = jpeg(44)

JOURNALS = (
    Case("journal.yaml empty", {"journal.yaml": ""}, "missing-key", "journal.yaml:1:1"),
    Case("journal.yaml a list", {"journal.yaml": "- a\n- b\n"}, "", "journal.yaml:1:1"),
    Case("journal.yaml a word", {"journal.yaml": "hello\n"}, "", "journal.yaml:1:1"),
    Case(
        "journal.yaml broken", {"journal.yaml": "title: [a\nbuilder: Ines\n"}, "", "journal.yaml:"
    ),
    Case("journal.yaml not UTF-8", {"journal.yaml": b"title: caf\xe9\n"}, "", "journal.yaml:1:11"),
    Case("journal.yaml with NUL", {"journal.yaml": b"\0\0\0"}, "", "journal.yaml:1:1"),
    Case("no journal.yaml", {}, "no-journal", "journal.yaml:1:1", gone=("journal.yaml",)),
    Case("worklist.yaml a list", {"worklist.yaml": "- W\n"}, "", "worklist.yaml:1:1"),
    Case("worklist.yaml empty", {"worklist.yaml": ""}),
    Case("windows journal", {"journal.yaml": "\ufeff" + JOURNAL.replace("\n", "\r\n")}),
)
WELL_NOTES: Mapping[str, str | bytes] = {
    "empty": "",
    "one line break": "\n",
    "windows ends and mark": "\ufeff---\r\nhours: 1h\r\n---\r\nWords.\r\n",
    "hours 3:15": "---\nhours: 3:15\n---\n",
    "hours 3,5": "---\nhours: 3,5\n---\n",
    "part 010": "---\nparts: [{part: 010, ref: 0042}]\n---\n",
    "a long line": f"---\ntitle: {'x' * 20_000}\n---\n",
    "HTML in words": ("---\ntitle: <script>x</script>\n---\n<script>alert(1)</script> & <b>"),
}
WELL_PICTURES: Mapping[str, bytes] = {
    "1 px.jpg": saved(Image.new("RGB", (1, 1))),
    "20,000 px wide.jpg": saved(Image.new("L", (20_000, 2))),
    "20,000 px high.jpg": saved(Image.new("L", (2, 20_000))),
    "CMYK.jpg": saved(RGB.convert("CMYK")),
    "16 bit.png": saved(Image.new("I;16", (40, 30), 40_000), "PNG"),
    "other ending.jpg": saved(RGB, "PNG"),
    "an animation.webp": saved(RGB, "WEBP", save_all=True, append_images=[RGB]),
    "see-through.png": saved(Image.new("RGBA", (40, 30)), "PNG"),
    "palette.png": saved(RGB.convert("P"), "PNG"),
    **{f"orientation {turn}.jpg": turned(turn) for turn in range(9)},
}
NOTES = (
    Case(
        "all that is well",
        {
            f"notes/2026-04-{day:02} {name.replace(':', '.')}.md": text
            for day, (name, text) in enumerate(WELL_NOTES.items(), 1)
        },
    ),
    Case("front matter never closes", {NOTE: "---\nhours: 1h\n"}, "", f"{NOTE}:1:1"),
    Case("tab in YAML", note("hours: 1h\nparts:\n\t- part: a"), "", f"{NOTE}:4:1"),
    Case("not UTF-8", {NOTE: b"---\nhours: 1h\ntitle: caf\xe9\n---\n"}, "", f"{NOTE}:3:11"),
    Case("words not UTF-8", {NOTE: b"---\nhours: 1h\n---\ncaf\xe9\n"}, "", f"{NOTE}:4:4"),
    Case("UTF-16", {NOTE: "---\nhours: 1h\n---\n".encode("utf-16")}, "", f"{NOTE}:1:1"),
    Case("hours in braces", note("tasks: {task: W14, who: Ines, hours: 3,5}"), "", f"{NOTE}:2:"),
    Case("who No", note("tasks: {task: W14, who: No, hours: 1}"), "unknown-person", f"{NOTE}:2:"),
    Case("29 February", note("date: 2026-02-29"), "unreadable", f"{NOTE}:2:7"),
    Case("29 February by name", {"notes/2026-02-29.md": "words"}, "", "notes/2026-02-29.md:1:1"),
    Case("another date", note("date: 2026-04-02"), "", f"{NOTE}:2:7"),
    Case("no date", {"notes/odd.md": "---\nhours: 1h\n---\n"}, "", "notes/odd.md:1:1"),
    Case("repeated key", note("hours: 1h\nhours: 2h"), "repeated-key", f"{NOTE}:3:1"),
    Case("unknown key", note("houres: 1h"), "unknown-key", f"{NOTE}:2:1"),
    Case("alias", note("title: &a b\nnext: *a"), "", f"{NOTE}:2:8"),
    Case("tag", note("title: !!python/object:os.system a"), "", f"{NOTE}:2:8"),
    Case("lost comment", note("title: #40 holes"), "", f"{NOTE}:2:"),
    Case("too deep", note("next: " + "[" * 40 + "]" * 40), "too-deep", f"{NOTE}:2:"),
    Case("overlap", note("hours: [17:00-18:00, 17:30-19:00]"), "", f"{NOTE}:2:8"),
    Case(
        "overlap of two notes",
        {"notes/2026-03-15-sunday.md": "---\nhours: 20:00-23:00\n---\n"},
        "spans-overlap",
        "notes/2026-03-15-sunday.md:2:8",
    ),
    Case("25 hours", note("hours: 25h"), "day-too-long", f"{NOTE}:2:8"),
    Case("task beyond hours", note("hours: 1h\ntasks: [{task: W14, hours: 2h}]"), "", f"{NOTE}:3:"),
    Case(
        "script link", note("hours: 1h", "[x](javascript:alert(1))"), "link-refused", f"{NOTE}:4:1"
    ),
    Case(
        "data link",
        note("hours: 1h", "![x](data:image/png;base64,AA)"),
        "link-refused",
        f"{NOTE}:4",
    ),
    Case(
        "two notes on one day",
        {
            "notes/2026-03-14-b.md": "---\nhours: 1h\n---\n",
            "notes/2026/2026-03-14-skins.md": "---\nhours: 1h\n---\n",
        },
    ),
    Case("a folder like a note", {"notes/2026-05-01.md/a.txt": "words"}),
    Case(
        "odd note names",
        {
            f"notes/2026-05-0{day} {name}.md": "---\nhours: 1h\n---\n[up](2026-03-14-skins.md)"
            for day, name in enumerate(
                ("a b", "é 板金 🛠️", "50 % #1?", '"it\'s"', "a\\b", "a\nb"), 1
            )
        },
    ),
)
PICTURES = (
    Case(
        "all that can be read",
        {f"photos/{name}": data for name, data in WELL_PICTURES.items()}
        | {
            f"notes/2026-06-{day:02}.md": f'---\nphotos: ["photos/{name}"]\n---\n'
            for day, name in enumerate(WELL_PICTURES, 1)
        },
    ),
    Case("empty picture", shown(b""), "picture-unreadable", f"{NOTE}:2:10"),
    Case("cut short", shown(WHOLE[:-40]), "picture-unreadable", f"{NOTE}:2:10"),
    Case("text as picture", shown(b"just words, no picture"), "picture-unreadable", f"{NOTE}:2:10"),
    Case(
        "bomb", shown(png_of(60_000, 60_000), "photos/odd.png"), "picture-unreadable", f"{NOTE}:2"
    ),
    Case(
        "PNG without pixels",
        shown(png_of(40, 30), "photos/odd.png"),
        "picture-unreadable",
        f"{NOTE}:2:10",
    ),
    Case("middle overwritten", shown(spoilt_jpeg()), "picture-unreadable", f"{NOTE}:2:10"),
    Case("a PDF", shown(b"%PDF-1.4\n%%EOF\n"), "picture-unreadable", f"{NOTE}:2:10"),
    Case("climbs out", note("photos: [../out.jpg]"), "outside", f"{NOTE}:2:10"),
    Case("climbs out later", note("photos: [photos/../../out.jpg]"), "outside", f"{NOTE}:2:10"),
    Case("absolute", note("photos: [/etc/hostname]"), "outside", f"{NOTE}:2:10"),
    Case("link climbs out", note("hours: 1h", "![x](../../out.jpg)"), "outside", f"{NOTE}:4"),
    Case("receipt climbs out", note("parts: {part: a, receipt: ../out.pdf}"), "outside", NOTE),
    Case("not there", note("photos: [photos/none.jpg]"), "missing-file", f"{NOTE}:2:10"),
    Case("a folder", note("photos: [photos]"), "missing-file", f"{NOTE}:2:10"),
    Case(
        "differs in case", shown(WHOLE, "photos/SKINS.jpg"), "names-alike", "photos/skins.jpg:1:1"
    ),
    Case("wrong case", note("photos: [photos/Skins.jpg]"), "missing-file", f"{NOTE}:2:10"),
    Case(
        "differs in form",
        {
            **shown(WHOLE, unicodedata.normalize("NFC", "photos/é.jpg")),
            unicodedata.normalize("NFD", "photos/é.jpg"): jpeg(50),
        },
        "names-alike",
        "photos/",
    ),
    Case(
        "named in the other form",
        {
            unicodedata.normalize("NFD", "photos/é.jpg"): WHOLE,
            **note(unicodedata.normalize("NFC", 'photos: ["photos/é.jpg"]')),
        },
    ),
)
CASES = (*JOURNALS, *NOTES, *PICTURES)


def everything(journal: Path) -> dict[str, Said]:
    """What every command says of a journal."""
    said = {word: run(word, journal) for word in ("check", "tally", "publish", "dossier")}
    if (journal / "dossier").exists():
        said["verify"] = run("verify", journal / "dossier")
    return said


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_bad_input(journal: Path, case: Case) -> None:
    """The case is told at its place, or handled: by every command alike, originals untouched."""
    write(journal, case.files)
    for path in case.gone:
        (journal / path).unlink()
    before = originals(journal)
    said = everything(journal)
    lines = said["check"].out.splitlines()
    if case.code or case.place:
        assert any(line.startswith(case.place) and f": {case.code}" in line for line in lines)
    mistakes = int(bool(case.code or case.place))
    bagged = {"dossier": mistakes, **({} if mistakes else {"verify": 0})}
    statuses = {word: each.status for word, each in said.items()}
    assert statuses == {"check": mistakes, "tally": mistakes, "publish": mistakes, **bagged}, lines
    assert run("publish", journal, "--keep-going").status == mistakes
    assert originals(journal) == before


ODD_NAMES = (
    ("a b", " two  blanks ", "\u00e9", "\u677f\u91d1", "\U0001f6e0\ufe0f", "50 %", "100%25"),
    ("#1", "why?", "'quoted'", '"quoted"', "a\\b", "a\nb", "a\rb", "&amp;", "<b>", "-dash", "~"),
    ("a:b", "*", "|", "$HOME", "`x`", "(round)", "[square]", "{curly}", "con", "trailing."),
    ("e\u0301", "\u202eleft", "a\u2028b", "tab\there"),
)


def double_quoted(text: str) -> str:
    """The text as a YAML word in double quotes."""
    escapes = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t", "\u2028": "\\L"}
    return '"' + "".join(escapes.get(sign, sign) for sign in text) + '"'


def oddly_named(name: str, day: int) -> dict[str, str | bytes]:
    """A note, a picture and a receipt of that name, and a note that leads to the first."""
    photo, receipt = f"photos/{name}.jpg", f"receipts/{name}.pdf"
    front = (
        f"hours: 1h\nphotos: [{double_quoted(photo)}]\n"
        f"parts: [{{part: bolt {day}, receipt: {double_quoted(receipt)}}}]"
    )
    odd = f"2026-04-{day:02} {name}.md"
    return {
        photo: jpeg(size=(64 + day, 48)),
        receipt: f"receipt {day}".encode(),
        f"notes/{odd}": f"---\n{front}\n---\n![in words](../{quote(photo)})\n",
        f"notes/2026-05-{day:02}.md": f"---\nhours: 1h\n---\n[the odd one]({quote(odd)})\n",
    }


@pytest.mark.slow
@pytest.mark.parametrize("names", ODD_NAMES, ids=ascii)
def test_odd_file_names(journal: Path, names: tuple[str, ...]) -> None:
    """Notes, pictures and receipts of any name are published, bagged and verified."""
    for day, name in enumerate(names, 1):
        write(journal, oddly_named(name, day))
    before = originals(journal)
    for word, said in everything(journal).items():
        assert said.status == 0, (word, said)
    assert originals(journal) == before
    published, tables = journal / "published", journal / "dossier" / "data" / "tables"
    assert len(list((published / "notes").iterdir())) == 2 + 2 * len(names)
    assert len(list((published / "pictures").iterdir())) == 1 + len(names)
    photos = (tables / "photos.csv").read_text()
    for day, name in enumerate(names, 1):
        page = (published / "notes" / f"2026-05-{day:02}-note.html").read_text()
        assert ">the odd one</a>" in page, name
        assert f"2026-04-{day:02}" in photos, name


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["file", "folder", "broken", "loop"])
def test_links_to_outside(journal: Path, kind: str) -> None:
    """A link that leads out of the journal, or nowhere, is not followed and is told."""
    write(journal.parent, {"secrets/out.jpg": WHOLE})
    targets = {
        "file": journal.parent / "secrets" / "out.jpg",
        "folder": journal.parent / "secrets",
        "broken": journal / "photos" / "none.jpg",
        "loop": journal / "photos" / "odd",
    }
    link = journal / "photos" / ("odd" if kind in ("folder", "loop") else "odd.jpg")
    link.symlink_to(targets[kind])
    path = "photos/odd/out.jpg" if kind in ("folder", "loop") else "photos/odd.jpg"
    write(journal, note(f"photos: [{path}]"))
    before = originals(journal)
    said = everything(journal)
    assert {each.status for each in said.values()} == {1}
    assert f"{NOTE}:2:10: outside: " in said["check"].out
    (journal / NOTE).unlink()
    assert {each.status for each in everything(journal).values()} == {0}
    assert not list((journal / "dossier").rglob("out.jpg"))
    assert originals(journal) == {path: had for path, had in before.items() if path != NOTE}


def test_a_link_inside(journal: Path) -> None:
    """A link to another file of the journal is followed: it is one picture under two names."""
    (journal / "photos" / "again.jpg").symlink_to("skins.jpg")
    write(journal, note("photos: [photos/again.jpg]"))
    assert {each.status for each in everything(journal).values()} == {0}
    assert len(list((journal / "published" / "pictures").iterdir())) == 1


def test_a_cache_that_cannot_be_written(journal: Path) -> None:
    """Where .builderlog cannot be a folder all is made, a doubt is told, and nothing is lost."""
    write(journal, {".builderlog": "a file in its place"})
    before = originals(journal)
    said = everything(journal)
    assert {each.status for each in said.values()} == {0}
    assert "cache-not-kept" in said["check"].out
    assert "nothing could be kept for next time" in said["publish"].err
    assert originals(journal) == before
    assert (journal / ".builderlog").read_text() == "a file in its place"


@pytest.mark.parametrize("word", ["publish", "dossier"])
@pytest.mark.parametrize("kind", ["file", "link", "strange"])
def test_the_usual_output_is_occupied(journal: Path, word: str, kind: str) -> None:
    """`published` or `dossier` that is a file, a link or a stranger's folder is left alone."""
    out = journal / {"publish": "published", "dossier": "dossier"}[word]
    if kind == "file":
        out.write_text("mine")
    elif kind == "link":
        out.symlink_to(journal / "photos")
    else:
        write(out, {"diary.txt": "mine"})
    before = originals(journal)
    said = run(word, journal)
    assert (said.status, said.out) == (2, "")
    assert said.err.startswith("builderlog: ")
    assert originals(journal) == before
    assert out.is_symlink() or (out if kind == "file" else out / "diary.txt").read_text() == "mine"
    assert sorted(file.name for file in (journal / "photos").iterdir()) == ["skins.jpg"]


def test_a_name_that_is_not_utf8(journal: Path) -> None:
    """A file whose name is not UTF-8 is told and left where it is."""
    odd = bytes(journal / "photos") + b"/caf\xe9.jpg"
    try:
        with open(odd, "wb") as file:  # noqa: PTH123 - a name that pathlib cannot print
            file.write(WHOLE)
    except OSError:
        pytest.skip("this file system takes only UTF-8")
    said = run("check", journal)
    assert said.status == 1
    assert "name-not-utf8" in said.out
    said.out.encode("utf-8")


def test_only_journal_yaml(tmp_path: Path) -> None:
    """A journal of title, builder and people alone is a journal: nothing else must exist."""
    write(tmp_path, {"journal.yaml": "title: T\nbuilder: I\npeople: {I: {role: builder}}\n"})
    assert {word: said.status for word, said in everything(tmp_path).items()} == {
        "check": 0,
        "tally": 0,
        "publish": 0,
        "dossier": 0,
        "verify": 0,
    }


def test_a_journal_read_from_inside(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The current folder is the journal unless one is named, and the outputs go into it."""
    monkeypatch.chdir(journal)
    assert {run(word).status for word in ("check", "tally", "publish", "dossier")} == {0}
    assert run("verify", "dossier").status == 0
    assert (journal / "published" / "index.html").is_file()
