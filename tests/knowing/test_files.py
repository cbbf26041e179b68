"""The file that a note names, or a hint where it may be."""

from __future__ import annotations

import pytest

from builderlog.knowing.files import Finder, NotFoundError, is_picture

FILES = (
    *("photos/2026/skins.jpg", "photos/Fin.HEIC", "photos/caf\u00e9.png", "photos/50 %#?.jpg"),
    *("notes/2026/2026-03-14.md", "notes/2026/2026-03-15.md", "receipts/bill.pdf"),
)
FINDER = Finder(FILES, ["photos/away", "photos/linked.jpg"])


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("photos/2026/skins.jpg", "photos/2026/skins.jpg"),
        ("./photos//2026/../2026/skins.jpg", "photos/2026/skins.jpg"),
        (" photos/Fin.HEIC ", "photos/Fin.HEIC"),
        ("photos/cafe\u0301.png", "photos/caf\u00e9.png"),
        ("photos/50 %#?.jpg", "photos/50 %#?.jpg"),
    ],
)
def test_a_path_of_a_key_starts_at_the_journal(text: str, path: str) -> None:
    """A key's path is taken as written; Unicode form, doubled slashes and dots do not matter."""
    assert FINDER.named(text) == path


@pytest.mark.parametrize(
    ("target", "path"),
    [
        ("../../photos/2026/skins.jpg", "photos/2026/skins.jpg"),
        ("2026-03-15.md#later", "notes/2026/2026-03-15.md"),
        ("./2026-03-15.md?x", "notes/2026/2026-03-15.md"),
        ("../../photos/50%20%25%23%3F.jpg", "photos/50 %#?.jpg"),
        ("../../photos/cafe%CC%81.png", "photos/caf\u00e9.png"),
    ],
)
def test_a_link_starts_at_its_note(target: str, path: str) -> None:
    """A link is read as the web reads one: from its own file, with its signs unescaped."""
    assert FINDER.linked("notes/2026/2026-03-14.md", target) == path


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("../x.jpg", "outside", "leads out"),
        ("/photos/2026/skins.jpg", "outside", "leads out"),
        ("photos/../../x.jpg", "outside", "leads out"),
        ("..", "outside", "leads out"),
        ("a\0b", "outside", "leads out"),
        ("photos/linked.jpg", "outside", "a link to a place outside"),
        ("photos/away/x.jpg", "outside", "a link to a place outside"),
        ("photos/2026/Skins.JPG", "missing-file", "but 'photos/2026/skins.jpg'; write it so"),
        ("photos\\2026\\skins.jpg", "missing-file", "but 'photos/2026/skins.jpg'; write it so"),
        ("photos/2026/skin.jpg", "missing-file", "did you mean 'photos/2026/skins.jpg'?"),
        ("photos/2026/skinns.jpg", "missing-file", "did you mean 'photos/2026/skins.jpg'?"),
        ("photos/2026/skims.jpg", "missing-file", "did you mean 'photos/2026/skins.jpg'?"),
        ("photos/2026/skins.png", "missing-file", "did you mean 'photos/2026/skins.jpg'?"),
        ("photos/fin.jpg", "missing-file", "did you mean 'photos/Fin.HEIC'?"),
        ("skins.jpg", "missing-file", "did you mean 'photos/2026/skins.jpg'?"),
        ("photos/other.jpg", "missing-file", "put it there"),
        ("photos", "missing-file", "put it there"),
        ("", "missing-file", "put it there"),
    ],
)
def test_what_is_not_there_is_told_with_the_nearest(text: str, code: str, words: str) -> None:
    """A path out of the journal, a link to outside and a missing file each have their sentence."""
    with pytest.raises(NotFoundError) as told:
        FINDER.named(text)
    assert (told.value.code, words in str(told.value)) == (code, True)


def test_a_hint_for_a_link_starts_at_the_note() -> None:
    """The path that a link's hint offers is the one to write in that note."""
    with pytest.raises(NotFoundError, match=r"did you mean '\.\./\.\./photos/2026/skins\.jpg'"):
        FINDER.linked("notes/2026/2026-03-14.md", "../../photos/skins.jpg")


def test_names_that_need_escaping_cannot_climb_out() -> None:
    """An escaped way out of the journal is refused as any other."""
    for target in ("%2E%2E/%2E%2E/%2E%2E/x", "../../../x", "/x", "%2Fx"):
        with pytest.raises(NotFoundError) as told:
            FINDER.linked("notes/2026/2026-03-14.md", target)
        assert told.value.code == "outside"


def test_thousands_of_misses_among_thousands_of_files() -> None:
    """A journal whose pictures were all renamed is told in full; no miss compares all files."""
    finder = Finder(f"photos/IMG_{index:04}.jpg" for index in range(3_000))
    for index in range(3_000):
        with pytest.raises(NotFoundError, match=rf"did you mean 'photos/IMG_{index:04}\.jpg'"):
            finder.named(f"photos/IMG_{index:04}.heic")


def test_pictures_are_known_by_their_ending() -> None:
    """Five kinds of picture are known by their endings, in any case."""
    named = ("a.jpg", "a.JPEG", "a.png", "a.webp", "a.heic", "a.HEIF", "a.avif")
    assert all(is_picture(name) for name in named)
    assert not any(is_picture(name) for name in ("a.gif", "a.pdf", "jpg", "a.jpg.txt"))
