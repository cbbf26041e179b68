"""A copy of a picture that is kept back: told where friends would see it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL.Image import Transpose

from builderlog.deciding.checks_twins import kept_pictures_twins
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from tests.command.running import write
from tests.reading.shop_pictures import in_turn, saved, shop_picture, trimmed, turned

HEAD = "title: A\nbuilder: Ines\npeople: {Ines: builder, Bo: helper}\n"
COPY = saved(
    in_turn(trimmed(0.06, 0.02, 0.09, 0.03), turned(Transpose.ROTATE_90))(shop_picture(1)),
    quality=50,
)
PICTURES = {
    "photos/a.jpg": saved(shop_picture(1)),
    "photos/copy.jpg": COPY,
    "photos/other.jpg": saved(shop_picture(2)),
}


def told(
    root: Path, first: str, second: str = "{photo: photos/other.jpg}", prose: str = ""
) -> list[str]:
    """What is told of a journal whose two notes have these pictures."""
    notes = {
        "notes/2026-03-14.md": f"---\nphotos: [{first}]\n---\n",
        "notes/2026-03-15.md": f"---\nphotos: [{second}]\n---\n{prose}",
    }
    write(root, {"journal.yaml": HEAD, **notes, **PICTURES})
    found = [*kept_pictures_twins(read_journal(Folder.at(root)))]
    assert {each.code for each in found} <= {"kept-twin"}
    return [f"{each.place.path}:{each.place.line} {each.message}" for each in found]


@pytest.mark.parametrize("kept", ["private: yes", "seen: Bo"])
def test_a_copy_of_a_kept_picture_is_told(tmp_path: Path, kept: str) -> None:
    """Turned, trimmed and saved again: where friends see it, with the picture that stays back."""
    (one,) = told(tmp_path, f"{{photo: photos/a.jpg, {kept}}}", "photos/copy.jpg, photos/other.jpg")
    assert one == (
        "notes/2026-03-15.md:2 'photos/copy.jpg' is nearly the same picture as 'photos/a.jpg', "
        "which friends do not see; if it shows the same, write private: yes here too; else explain "
        "it: answers: [{gap: \"kept-twin: 'photos/copy.jpg'\", because: …}]"
    )


def test_a_copy_in_words_is_told(tmp_path: Path) -> None:
    """A picture that the words alone show is told at its note."""
    words = "![x](../photos/copy.jpg)\n"
    (one,) = told(tmp_path, "{photo: photos/a.jpg, private: yes}", prose=words)
    assert one.startswith("notes/2026-03-15.md:1 'photos/copy.jpg' is nearly the same")


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("photos/a.jpg", "photos/copy.jpg"),
        ("{photo: photos/a.jpg, private: yes}", "{photo: photos/copy.jpg, private: yes}"),
        ("{photo: photos/a.jpg, private: yes}", "photos/other.jpg"),
        ("{photo: photos/a.jpg, private: yes}", "{photo: photos/copy.jpg, as: page}"),
    ],
)
def test_what_tells_nothing_is_not_told(tmp_path: Path, first: str, second: str) -> None:
    """Both seen, both kept back, another picture, a scanned page, one that no note has."""
    assert told(tmp_path, first, second) == []
