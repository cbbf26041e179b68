"""Names in the bag: which are kept, and that changed ones are safe and apart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.handover.naming import rename_stumbling

KEPT = (
    "notes/2026-03-14.md",
    "photos/two words.jpg",
    "photos/caf\u00e9 \U0001f6e9.jpg",
    'photos/#1?\'"quoted".jpg',
    "photos/a:b*c|d.jpg",
    "photos/~home.jpg",
)
CHANGED = (
    "photos/50 %.jpg",
    "photos/%0A.jpg",
    "photos/a\\b.jpg",
    "photos/a\nb.jpg",
    "photos/a\rb.jpg",
    "photos/a\u2028b.jpg",
    "photos/a\x85b.jpg",
    "photos/a\x0bb.jpg",
    "photos/blank ",
    "photos/blank\u00a0",
    "tables/hours.csv",
    "Tables/hours.csv",
    "%/%",
)


@pytest.mark.parametrize("path", KEPT)
def test_a_name_that_others_can_read_is_kept(path: str) -> None:
    """Blanks, accents, quotes and other signs stay as they are."""
    assert rename_stumbling([path]) == {}


@pytest.mark.parametrize("path", CHANGED)
def test_a_name_that_others_stumble_over_is_changed(path: str) -> None:
    """The new name holds none of the signs, ends in no blank, and is itself kept."""
    (new,) = rename_stumbling([path]).values()
    assert new != path
    assert rename_stumbling([new]) == {}


def test_a_new_name_depends_on_its_path_alone() -> None:
    """Another file changes no new name, so that a bag changes no more than it must."""
    alone = rename_stumbling(["photos/a%.jpg"])
    among = rename_stumbling(["photos/a%.jpg", "photos/a_.jpg", "photos/a\\.jpg"])
    assert among["photos/a%.jpg"] == alone["photos/a%.jpg"]


def test_a_new_name_that_is_taken_is_avoided() -> None:
    """Where somebody made a file of just the new name, in any case, another one is chosen."""
    (first,) = rename_stumbling(["photos/a%.jpg"]).values()
    (second,) = rename_stumbling(["photos/a%.jpg", first.upper()]).values()
    assert second.casefold() != first.casefold()


@given(st.lists(st.text("aA%\\\n ./b", min_size=1, max_size=8), unique=True, max_size=12))
def test_no_two_files_get_one_name(paths: list[str]) -> None:
    """Of any names, however alike, no two changed ones meet each other or a kept one."""
    plain = [path for path in paths if all(part.strip(".") for part in path.split("/"))]
    renamed = rename_stumbling(plain)
    bagged = [renamed.get(path, path) for path in plain]
    assert len(set(bagged)) == len(plain)
