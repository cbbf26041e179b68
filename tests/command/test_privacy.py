"""Nothing private reaches a friend, nothing of an hours-only note anyone: searched byte by byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.command.hidden_journal import (
    HEADINGS,
    HOURS_NOTE,
    JOURNAL,
    OPENED,
    PICTURES,
    PUBLIC_NOTE,
    SHOW,
    TOLD,
    WORKLIST,
    exif,
    markers_in,
    photo,
    planted,
    profile,
    searched,
    words_of_picture,
    write_hidden,
)
from tests.command.running import run, write

LABELS = {"zqinesqz", "zqyesqz"}  # with `full names` these two are called by their full ones
SEEN_SHADES = {8 * (1 + PICTURES.index(name)) for name in ("photonameqz", "onlylinkedqz")}


@pytest.fixture(scope="session")
def hidden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journal of markers, published with nothing asked for."""
    root = write_hidden(tmp_path_factory.mktemp("hidden") / "journal")
    assert run("publish", root).status == 0
    return root


def test_no_private_marker_is_published(hidden: Path) -> None:
    """Of all markers just those that friends may see are in any byte of the site."""
    found, size = searched(hidden / "published")
    assert found == set(TOLD)
    assert len(planted()) > 150
    assert size > 50_000


def test_markers_are_planted(hidden: Path) -> None:
    """Every marker that a test speaks of stands in the journal: none is a slip of the pen."""
    spoken = {*TOLD, *(word for words in OPENED.values() for word in words)}
    assert spoken <= planted()
    assert searched(hidden / "photos")[0] > {"zqxmpqz", "zqiccnamelyqz", "zqexifserialqz"}


@pytest.mark.parametrize("word", SHOW)
def test_each_word_opens_its_own(hidden: Path, tmp_path: Path, word: str) -> None:
    """One word of `site: show` lets friends see its own markers and no other."""
    (hidden / "journal.yaml").write_text(f"{JOURNAL}site: {{show: [{word}]}}\n")
    assert run("publish", hidden, "--out", tmp_path / "site").status == 0
    found, _ = searched(tmp_path / "site")
    replaced = LABELS if word == "full names" else set()
    assert found == set(TOLD) - replaced | set(OPENED[word])
    (hidden / "journal.yaml").write_text(f"{JOURNAL}site: {{show: []}}\n")


def test_paid_help_is_not_even_spoken_of(hidden: Path, tmp_path: Path) -> None:
    """That there was paid help is not said, and no sum beside others betrays it, until asked."""
    assert b"paid help" not in _all_bytes(hidden / "published")
    assert b"Whose hands" not in _all_bytes(hidden / "published")
    root = write_hidden(tmp_path / "journal", ["paid help"])
    assert run("publish", root).status == 0
    assert b"paid help" in _all_bytes(root / "published")


def test_claim_and_paid_help_open_the_columns(tmp_path: Path) -> None:
    """Both words together show the form's columns too, and neither person nor kit evaluation."""
    root = write_hidden(tmp_path / "journal", ["claim", "paid help"])
    assert run("publish", root).status == 0
    found, _ = searched(root / "published")
    assert found == {*TOLD, *OPENED["claim"], *OPENED["paid help"], *HEADINGS}


def test_the_claim_does_not_betray_paid_help(tmp_path: Path) -> None:
    """With the claim alone the site is the same to the byte, whoever has what is not ours."""
    root = write_hidden(tmp_path / "journal")
    sites: dict[str, list[bytes]] = {"claim": [], "claim, paid help": []}
    for credit in ("maker: 0.1, paid: 0.3", "maker: 0.4", "maker: 0, paid: 0.1"):
        changed = WORKLIST.replace("maker: 0.1, paid: 0.3", credit)
        (root / "worklist.yaml").write_text(changed)
        for show, held in sites.items():
            (root / "journal.yaml").write_text(f"{JOURNAL}site: {{show: [{show}]}}\n")
            assert run("publish", root).status == 0
            held.append(_all_bytes(root / "published"))
    assert len(set(sites["claim"])) == 1
    assert len(set(sites["claim, paid help"])) == 3
    assert b"paid help" not in sites["claim"][0]


def test_the_claim_disappears(tmp_path: Path) -> None:
    """Without its word there is no page; one that was published goes in the next run."""
    root = write_hidden(tmp_path / "journal", ["claim"])
    assert run("publish", root).status == 0
    assert (root / "published/claim.html").is_file()
    (root / "journal.yaml").write_text(f"{JOURNAL}site: {{show: [snags]}}\n")
    assert run("publish", root).status == 0
    assert not (root / "published/claim.html").exists()
    assert b"claim.html" not in _all_bytes(root / "published")


def test_pixels_of_private_pictures_stay_back(hidden: Path) -> None:
    """The published pixels are those of four pictures, told by their shade; no twin slips in."""
    shades = set()
    for file in (hidden / "published" / "pictures").iterdir():
        with Image.open(file) as image:
            red, green, _ = image.convert("RGB").tobytes()[:3]
        assert abs(green - 128) < 6
        shades.add(red)
    wanted = {*SEEN_SHADES, 210, 220}
    assert len(shades) == len(wanted)
    assert all(min(abs(shade - each) for each in wanted) < 4 for shade in shades)


def test_copies_say_nothing_beside_their_pixels(hidden: Path) -> None:
    """A published picture has no Exif, no XMP, no profile, no comment."""
    for file in (hidden / "published" / "pictures").iterdir():
        with Image.open(file) as image:
            assert set(image.info) <= {"loop", "background", "timestamp", "duration"}
            assert not dict(image.getexif())


@pytest.mark.parametrize("place", ["name", "byte", "percent", "wide", "exif", "profile"])
def test_the_search_bites(tmp_path: Path, place: str) -> None:
    """A marker planted in a file's name, bytes, address or metadata is found."""
    file = tmp_path / ("zqplantedqz.html" if place == "name" else "page.html")
    data = {"byte": "zqplantedqz", "percent": "zqpl%61nted%71z"}.get(place, "").encode()
    file.write_bytes("zqplantedqz".encode("utf-16-le") if place == "wide" else data)
    if place in ("exif", "profile"):
        kept = {"exif": exif()} if place == "exif" else {"icc_profile": profile()}
        Image.new("RGB", (9, 9)).save(tmp_path / "a.webp", **kept)
        words = markers_in(words_of_picture(tmp_path / "a.webp"))
        assert words > {"zqexifmakeqz"} if place == "exif" else words == {"zqiccnamelyqz"}
    else:
        assert searched(tmp_path)[0] == {"zqplantedqz"}


def test_a_note_that_turns_private_disappears(tmp_path: Path) -> None:
    """Page, title, words and pictures of a note go in the very run in which it turns private."""
    root = write_hidden(tmp_path / "journal")
    run("publish", root)
    note = root / "notes/2026-03-14-zqfilenameqz.md"
    note.write_text(PUBLIC_NOTE.replace("next: zqnextqz", "next: zqnextqz\nprivate: yes"))
    assert run("publish", root).status == 0
    found, _ = searched(root / "published")
    own = {word for word in TOLD if word.encode() in PUBLIC_NOTE.encode()} | {"zqfilenameqz"}
    kept = {"zqinesqz", "zqyesqz", "zqnextnameqz"}
    assert not (found & (own - kept))
    assert not (root / "published" / "pictures").exists()
    assert {"zqheadingqz", "zqtaskqz"} <= found


def test_a_picture_that_turns_private_disappears(tmp_path: Path) -> None:
    """A picture that a private note takes up goes from every public note in the same run."""
    root = write_hidden(tmp_path / "journal")
    run("publish", root)
    before = len(list((root / "published/pictures").iterdir()))
    words = "---\nprivate: yes\nphotos: photos/zqphotonameqz.jpg\n---\n"
    write(root, {"notes/2026-03-22-later.md": words})
    assert run("publish", root).status == 0
    assert len(list((root / "published/pictures").iterdir())) == before - 1
    assert "zqcaptionqz" not in searched(root / "published")[0]


@pytest.mark.parametrize(
    "broken",
    [
        "---\nprivate: yes\nphotos: [photos/zqphotonameqz.jpg\n---\n",
        "---\ndate: 2026-02-31\nprivate: yes\nphotos: photos/zqphotonameqz.jpg\n---\n",
        "---\nprivat: yes\nphotos: photos/zqphotonameqz.jpg\n---\n",
        "---\nprivate: yes, really\n---\n![](../photos/zqphotoname%71z.jpg)\n",
    ],
)
def test_a_broken_note_hides_its_pictures(tmp_path: Path, broken: str) -> None:
    """With --keep-going a picture that an unreadable note names stays back everywhere."""
    root = write_hidden(tmp_path / "journal")
    write(root, {"notes/2026-03-22-zqbrokenqz.md": broken})
    said = run("publish", root, "--keep-going")
    assert said.status == 1
    assert "left out: notes/2026-03-22-zqbrokenqz.md" in said.err
    assert "zqcaptionqz" not in searched(root / "published")[0]
    assert len(list((root / "published/pictures").iterdir())) == 3


def test_no_other_hidden_file_goes_along(hidden: Path) -> None:
    """The only file of a site that begins with a dot is the list of what was written."""
    marks = [path for path in (hidden / "published").iterdir() if path.name.startswith(".")]
    assert [mark.name for mark in marks] == [".builderlog-written.json"]


def test_hours_only_reaches_no_inspector(tmp_path: Path) -> None:
    """In a dossier nothing of an hours-only note is found but its time; a private note is whole."""
    root = write_hidden(tmp_path / "journal")
    note = root / "notes/2026-03-14-zqfilenameqz.md"
    note.write_text(PUBLIC_NOTE.replace("2026-03-21-zqhoursnameqz.md", "https://example.org/"))
    assert run("dossier", root).status == 0
    found, size = searched(root / "dossier")
    hours = markers_in(HOURS_NOTE.encode()) - {"zqinesqz"} | {"zqhoursnameqz"}
    assert len(hours) > 20
    assert not (found & hours)
    assert {word for word in planted() if word.startswith("zqprivate")} <= found
    assert size > 100_000
    assert run("verify", root / "dossier").status == 0


def test_hours_only_search_bites(tmp_path: Path) -> None:
    """The same note, private in the ordinary way, is found in the dossier with all its words."""
    root = write_hidden(tmp_path / "journal")
    note = root / "notes/2026-03-21-zqhoursnameqz.md"
    note.write_text(HOURS_NOTE.replace("hours only", "yes"))
    assert run("dossier", root).status == 0
    found, _ = searched(root / "dossier")
    assert markers_in(HOURS_NOTE.encode()) <= found


def test_a_note_that_turns_hours_only_leaves_the_dossier(tmp_path: Path) -> None:
    """A second dossier after a note turned hours-only holds its time and not its words."""
    root = write_hidden(tmp_path / "journal")
    note = root / "notes/2026-03-20-zqprivatenameqz.md"
    assert run("dossier", root).status == 0
    note.write_text(note.read_text().replace("private: yes", "private: hours only"))
    assert run("dossier", root).status == 0
    found, _ = searched(root / "dossier")
    assert "zqprivatewordsqz" not in found
    assert "zqprivateonlyqz" not in found
    assert run("verify", root / "dossier").status == 0


def test_only_equal_bytes_are_one_picture(tmp_path: Path) -> None:
    """A picture that was saved anew is another one and is judged by its own notes."""
    root = write_hidden(tmp_path / "journal")
    write(root, {"photos/zqtwinqz.jpg": photo(200) + b" "})
    run("publish", root)
    assert "zqtwincaptionqz" in searched(root / "published")[0]


def _all_bytes(folder: Path) -> bytes:
    return b"\n".join(file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file())
