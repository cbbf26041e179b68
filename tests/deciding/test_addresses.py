"""Holds where pages stand and how they lead to each other; not what is on them."""

from __future__ import annotations

import posixpath
from urllib.parse import unquote, urljoin, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.addresses import (
    anchors_for,
    picture_path,
    relative_url,
    slug_of,
    slugs_for,
)

FOLDERS = ("", "notes/", "areas/", "a b/ü/")


@given(st.lists(st.text(), unique=True))
def test_slugs_are_safe_and_unique(ids: list[str]) -> None:
    """Whatever the ids are, each has its own slug of small ASCII letters, digits and hyphens."""
    slugs = slugs_for(ids)
    assert len(set(slugs.values())) == len(set(ids))
    for slug in slugs.values():
        assert slug
        assert set(slug) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
        assert len(slug) < 140


@given(st.lists(st.sampled_from(["W1", "w1", "W-1", "w_1", "", "!", "con"]), unique=True))
def test_the_order_of_ids_changes_no_slug(ids: list[str]) -> None:
    """An id keeps its slug whatever the order in which ids are given."""
    assert slugs_for(ids) == slugs_for(list(reversed(ids)))


def test_ids_that_differ_only_in_case_get_a_digest() -> None:
    """W1 and w1 share a slug, so both carry a part of their digest."""
    slugs = slugs_for(["W1", "w1", "W2"])
    assert slugs["W2"] == "w2"
    assert slugs["W1"].startswith("w1-")
    assert slugs["w1"].startswith("w1-")


@pytest.mark.parametrize("name", ["con", "NUL", "com1", "", "日本", "x" * 61])
def test_a_name_no_file_may_have_gets_a_digest(name: str) -> None:
    """Device names, empty slugs and very long ones are never used as they are."""
    assert len(slug_of(name).split("-")[-1]) == 8


@given(
    st.sampled_from(FOLDERS),
    st.sampled_from(FOLDERS),
    st.text(
        st.characters(exclude_characters="/\\", exclude_categories=("Cs", "Cc")), min_size=1
    ).filter(lambda name: name not in (".", "..")),
)
def test_a_relative_link_leads_to_its_page(source: str, target: str, name: str) -> None:
    """Resolved as a browser does, the link leads to the page from wherever the site stands."""
    path = f"{target}{name}.html"
    url = relative_url(f"{source}page.html", path)
    assert not urlsplit(url).scheme
    base = "https://example.org/some/sub%20folder/"
    for root in (base, "file:///media/stick/site/"):
        resolved = urljoin(urljoin(root, f"{source.replace(' ', '%20')}page.html"), url)
        assert unquote(resolved) == unquote(posixpath.join(root, path))


def test_a_picture_is_named_by_its_digest() -> None:
    """A copy's name is made of its digest and its width, and of nothing from the phone."""
    assert picture_path("0123456789abcdef", 480) == "pictures/0123456789abcdef-480.webp"


def test_things_of_one_name_have_anchors_of_their_own() -> None:
    """The first of a name has the plain anchor, the others numbers, and no two are the same."""
    names = ("Hinge", "hinge", "Hinge 2", "Bolt", "Hinge")
    assert anchors_for("part", names) == (
        "part-hinge",
        "part-hinge-2",
        "part-hinge-2-2",
        "part-bolt",
        "part-hinge-3",
    )
