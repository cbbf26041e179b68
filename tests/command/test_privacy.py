"""Nothing private reaches a friend, nothing of an hours-only note anyone: searched byte by byte."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from builderlog.deciding import publishing, visibility
from builderlog.deciding.visibility import Visibility
from builderlog.drawing import pixels, site
from builderlog.knowing.entries import Privacy
from builderlog.knowing.ledger import Ledger
from tests.command.hidden_journal import (
    HEADINGS,
    HOURS_NOTE,
    LETTER,
    NOTES,
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
    settings,
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


def told_by(root: Path, out: Path, show: Iterable[str] = (), more: str = "") -> set[str]:
    """The markers on the site of the journal at `root` with other settings of its site."""
    (root / "journal.yaml").write_text(settings(show, more))
    said = run("publish", root, "--out", out)
    (root / "journal.yaml").write_text(settings())
    assert said.status == 0, said.err
    return searched(out)[0]


def with_words(*words: str) -> set[str]:
    """The markers that friends see where these words of `site: show` are said."""
    replaced = LABELS if "full names" in words else set()
    return set(TOLD) - replaced | {marker for word in words for marker in OPENED[word]}


def test_no_private_marker_is_published(hidden: Path) -> None:
    """Of all markers just those that friends may see are in any byte of the site."""
    found, size = searched(hidden / "published")
    pages = {file.name for file in (hidden / "published").rglob("*.html")}
    assert found == set(TOLD)
    assert len(planted()) > 230
    assert size > 150_000
    assert pages >= {"search.html", "figures.html", "milestones.html", "404.html", "2026-03.html"}


def test_markers_are_planted(hidden: Path) -> None:
    """Every marker that a test speaks of stands in the journal: none is a slip of the pen."""
    spoken = {*TOLD, *(word for words in OPENED.values() for word in words)}
    assert spoken <= planted()
    assert searched(hidden / "photos")[0] > {"zqxmpqz", "zqiccnamelyqz", "zqexifserialqz"}


@pytest.mark.parametrize("word", SHOW)
def test_each_word_opens_its_own(hidden: Path, tmp_path: Path, word: str) -> None:
    """One word of `site: show` lets friends see its own markers and no other."""
    assert told_by(hidden, tmp_path / "site", [word]) == with_words(word)


@pytest.mark.parametrize("show", [(), SHOW], ids=["nothing", "everything"])
def test_the_other_theme_tells_the_same(
    hidden: Path, tmp_path: Path, show: tuple[str, ...]
) -> None:
    """With another theme friends see the same markers, and no other, with all words and none."""
    more = HEADINGS if show else ()
    wanted = {*with_words(*show), *more}
    assert told_by(hidden, tmp_path / "other", show, ", theme: deckle") == wanted
    assert told_by(hidden, tmp_path / "own", show) == wanted


@pytest.mark.slow
@pytest.mark.parametrize("word", SHOW)
def test_each_word_opens_its_own_in_the_other_theme(
    hidden: Path, tmp_path: Path, word: str
) -> None:
    """In every theme each word opens the same."""
    assert told_by(hidden, tmp_path / "site", [word], ", theme: deckle") == with_words(word)


def test_a_site_that_may_be_found_tells_no_more(hidden: Path, tmp_path: Path) -> None:
    """With an address, feeds and a site map for search engines the markers are the same.

    Only then may a page be found, and only then is there a map; without, both are refused.
    """
    more = ", address: 'https://example.org/wings/', findable: yes"
    assert told_by(hidden, tmp_path / "site", (), more) == set(TOLD)
    found, kept = tmp_path / "site", hidden / "published"
    assert b"Disallow: /" not in (found / "robots.txt").read_bytes()
    assert b"https://example.org/wings/" in (found / "notes.xml").read_bytes()
    assert (found / "sitemap.xml").is_file()
    assert not (kept / "sitemap.xml").exists()
    assert b"Disallow: /\n" in (kept / "robots.txt").read_bytes()
    pages = [page for page in kept.rglob("*.html") if b'content="noindex' not in page.read_bytes()]
    assert pages == []
    open_pages = [page.name for page in found.rglob("*.html") if b"noindex" in page.read_bytes()]
    assert open_pages in (["404.html"], [])


def _all_notes_public(monkeypatch: pytest.MonkeyPatch) -> None:
    def seen(ledger: Ledger, *left_out: frozenset[str]) -> Visibility:
        notes = tuple(replace(note, privacy=Privacy.OPEN) for note in ledger.notes)
        return visibility.what_friends_see(replace(ledger, notes=notes), *left_out)

    monkeypatch.setattr(publishing, "what_friends_see", seen)


def _everybody_said_yes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(visibility, "may_be_seen", lambda _person, **_how: True)


def _pictures_unasked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(visibility, "_may_be_seen", lambda *_asked: True)


def _pictures_with_their_words(monkeypatch: pytest.MonkeyPatch) -> None:
    def written(image: Image.Image) -> bytes:
        out = io.BytesIO()
        image.save(out, "WEBP", exif=exif(), icc_profile=profile())
        return out.getvalue()

    monkeypatch.setattr(pixels, "_write_webp", written)


def _look_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(site, "bytes_to_publish", lambda file, _store: file.read_bytes())


@pytest.mark.parametrize(
    ("plant", "marker"),
    [
        (_all_notes_public, "zqprivatewordsqz"),
        (_everybody_said_yes, "zqseencaptionqz"),
        (_pictures_unasked, "zqprivatecaptionqz"),
        (_pictures_with_their_words, "zqexifserialqz"),
        (_look_as_it_is, "zqmakernoteqz"),
    ],
)
def test_a_leak_is_found(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    plant: Callable[[pytest.MonkeyPatch], None],
    marker: str,
) -> None:
    """A fault planted where privacy is decided, or where pictures are drawn, is seen."""
    root = write_hidden(tmp_path / "journal")
    plant(monkeypatch)
    assert run("publish", root).status == 0
    assert marker in searched(root / "published")[0] - set(TOLD)


def test_the_end_of_publishing_tells_what_was_kept(hidden: Path, tmp_path: Path) -> None:
    """The builder is told how much stays back and why; the site itself says nothing of it."""
    said = run("publish", hidden, "--out", tmp_path / "site")
    assert "Kept from friends:\n  notes: 2 of 5: 1 private, 1 with nothing but" in said.out
    assert "marked private" in said.out
    assert "costs (of 1 part)" in said.out
    assert b"Kept from friends" not in _all_bytes(tmp_path / "site")


def test_paid_help_is_not_even_spoken_of(hidden: Path, tmp_path: Path) -> None:
    """That there was paid help is not said, and no sum beside others betrays it, until asked."""
    assert b"paid help" not in _all_bytes(hidden / "published")
    assert b"Whose hands" not in _all_bytes(hidden / "published")
    root = write_hidden(tmp_path / "journal", ["paid help"])
    assert run("publish", root).status == 0
    assert b"paid help" in _all_bytes(root / "published")


@pytest.mark.parametrize("drafted", [True, False])
def test_the_letter_that_is_sent_tells_no_more(tmp_path: Path, *, drafted: bool) -> None:
    """What a letter's page and mail say friends may see: of the draft, and of the builder's words.

    The pictures inside the page have no metadata, and none is there that the site keeps back.
    """
    root = write_hidden(tmp_path / "journal")
    letters = root / "letters"
    for ending in ("html", "txt", *(["md"] if drafted else [])):
        (letters / f"2026-03.{ending}").unlink()
    assert run("letter", root, "2026-03").status == 0
    sent = {ending: (letters / f"2026-03.{ending}").read_bytes() for ending in ("html", "txt")}
    write(tmp_path / "sent", sent)
    found, size = searched(tmp_path / "sent")
    assert found <= set(TOLD)
    assert found > ({"zqnotetitleqz", "zqcaptionqz"} if drafted else {"zqletterwordsqz"})
    assert size > 4000
    assert sent["html"].count(b"data:image/") == (5 if drafted else 1)


def test_who_was_paid_and_when_cannot_be_reckoned(tmp_path: Path) -> None:
    """Whoever of several worked for pay, on whichever evening, the site is the same to the byte."""
    root, second = write_hidden(tmp_path / "journal"), "notes/2026-03-15-zqnextnameqz.md"
    first, sites = "notes/2026-03-14-zqfilenameqz.md", []
    for note, old, new in (
        (second, "zqpaidqz: 2h", "zqpaidqz: 2h"),
        (second, "zqpaidqz: 2h", "zqhelperqz: 2h"),
        (second, "zqinesqz: 1h, zqpaidqz: 2h", "zqinesqz: 2h30, zqpaidqz: 0h30"),
        (first, "zqhelperqz: 1h", "zqpaidqz: 1h"),
    ):
        words = NOTES[note].replace(old, new)
        write(root, {**NOTES, note: words})
        assert run("publish", root).status == 0
        sites.append(_all_bytes(root / "published"))
    assert len(set(sites)) == 1


def test_the_day_of_a_private_note_cannot_be_reckoned(tmp_path: Path) -> None:
    """On whichever day of its month a private note is, even the last on record, nothing moves."""
    root, path = write_hidden(tmp_path / "journal"), "notes/2026-03-20-zqprivatenameqz.md"
    sites = []
    for day in ("2026-03-20", "2026-03-27", "2026-03-31"):
        (root / path).unlink()
        path = f"notes/{day}-zqprivatenameqz.md"
        words = NOTES["notes/2026-03-20-zqprivatenameqz.md"].replace("2026-03-20", day)
        write(root, {path: words})
        link = NOTES["notes/2026-03-14-zqfilenameqz.md"].replace("2026-03-20", day)
        write(root, {"notes/2026-03-14-zqfilenameqz.md": link})
        write(root, {"letters/2026-03.md": LETTER.replace("2026-03-20", day)})
        assert run("publish", root).status == 0
        sites.append(_all_bytes(root / "published"))
    assert len(set(sites)) == 1


def test_what_a_camera_wrote_moves_no_byte(tmp_path: Path) -> None:
    """With other words beside the same pixels friends get the same site, addresses and all."""
    root = write_hidden(tmp_path / "journal")
    sites = []
    for word in (b"zqmakersownqz", b"zqothersownqz"):
        for file in (root / "photos").rglob("*.jpg"):
            file.write_bytes(file.read_bytes().replace(b"zqmakersownqz", word))
        assert run("publish", root).status == 0
        sites.append(_all_bytes(root / "published"))
    assert sites[0] == sites[1]
    assert b"zqothersownqz" in (root / "photos/zqphotonameqz.jpg").read_bytes()


def test_an_own_template_reaches_no_more(tmp_path: Path) -> None:
    """A look that prints all that its templates are handed tells friends nothing new.

    A note's words as written, which name files that they are not told of, it may not read at all.
    """
    root = write_hidden(tmp_path / "journal")
    everything = "{{ sheet }}{{ chrome }}{{ sheet.prose }}{{ sheet.prose.links }}"
    names = ("note", "month", "front", "archive", "search", "task", "area", "photos", "parts")
    for name in names:
        plain = everything if name == "note" else "{{ sheet }}{{ chrome }}"
        write(root, {f"look/{name}.html": f"<!doctype html><title>x</title>{plain}"})
    assert run("publish", root).status == 0
    assert searched(root / "published")[0] <= set(TOLD)
    assert b"NoteSheet(" in _all_bytes(root / "published")
    for asked in ("sheet.prose.text", "sheet.prose | attr('text')", "sheet.prose.links[0].target"):
        write(root, {"look/note.html": f"{{{{ {asked} }}}}"})
        said = run("publish", root)
        assert said.status == 1
        assert "look/note.html:1:1: theme: " in said.err


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
            (root / "journal.yaml").write_text(settings([show]))
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
    (root / "journal.yaml").write_text(settings(["snags"]))
    assert run("publish", root).status == 0
    assert not (root / "published/claim.html").exists()
    assert b"claim.html" not in _all_bytes(root / "published")


def test_pixels_of_private_pictures_stay_back(hidden: Path) -> None:
    """The published pixels are those of six pictures, told by their shade; no twin slips in."""
    shades = set()
    for file in (hidden / "published" / "pictures").iterdir():
        with Image.open(file) as image:
            red, green, _ = image.convert("RGB").tobytes()[:3]
        assert abs(green - 128) < 6
        shades.add(red)
    wanted = {*SEEN_SHADES, 210, 220, 240, 248}
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
    assert len(list((root / "published/pictures").iterdir())) == 5


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
