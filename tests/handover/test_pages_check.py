"""Pages and pictures changed, added or taken away are found even where every digest was redone."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.handover.bag_info import software_agent
from builderlog.handover.binder import BINDER_FRONT, PICTURES_FOLDER
from builderlog.handover.first_page import FIRST_PAGE
from tests.handover.test_verify import redo_manifests, told

CHANGES = (
    (BINDER_FRONT, b"grants nothing"),
    ("binder/missing.html", b"What is missing"),
    ("binder/binder.css", b"Georgia"),
    (FIRST_PAGE, b"grants nothing"),
)


@pytest.mark.parametrize(("page", "words"), CHANGES)
def test_a_changed_page_is_found_with_every_digest_redone(
    bag: Path, page: str, words: bytes
) -> None:
    """A word changed on a page is not what the notes give, whatever the manifests say."""
    file = bag / page
    before = file.read_bytes()
    file.write_bytes(before.replace(words, b"Something else"))
    assert file.read_bytes() != before
    redo_manifests(bag)
    assert told(bag) == {(page, "page")}


def test_pages_more_and_less_are_found_with_every_digest_redone(bag: Path) -> None:
    """A page that the notes do not give, and one that they give and that is gone, are named."""
    (bag / "binder/granted.html").write_bytes(b"<p>All is well.</p>")
    (bag / "binder/script.js").write_bytes(b"alert(1)")
    (bag / "binder/help.html").unlink()
    redo_manifests(bag)
    assert told(bag) == {
        ("binder/granted.html", "page-unknown"),
        ("binder/script.js", "page-unknown"),
        ("binder/help.html", "page-missing"),
    }


def test_pictures_more_and_less_are_found_with_every_digest_redone(bag: Path) -> None:
    """A drawn picture that no page shows, and one that is gone, are named."""
    gone = min((bag / PICTURES_FOLDER).iterdir())
    gone.unlink()
    (bag / PICTURES_FOLDER / "9999.jpg").write_bytes(b"\xff\xd8")
    redo_manifests(bag)
    assert told(bag) == {
        (f"{PICTURES_FOLDER}9999.jpg", "picture-unknown"),
        (f"{PICTURES_FOLDER}{gone.name}", "picture-missing"),
    }


def test_names_that_differ_in_case_alone_are_other_pages(bag: Path) -> None:
    """A page under another spelling is one too many, and the right one is missing."""
    (bag / "binder/help.html").rename(bag / "binder/HELP.html")
    redo_manifests(bag)
    assert told(bag) == {
        ("binder/HELP.html", "page-unknown"),
        ("binder/help.html", "page-missing"),
    }


def test_pages_of_another_version_are_its_own(bag: Path) -> None:
    """What another version wrote on its pages is not held against ours; tables always are."""
    info = bag / "bag-info.txt"
    info.write_text(info.read_text().replace(software_agent(), f"{software_agent()}.9"))
    (bag / BINDER_FRONT).write_bytes(b"<p>Other words.</p>")
    (bag / "binder/more.html").write_bytes(b"<p>More.</p>")
    redo_manifests(bag)
    assert told(bag) == set()
    table = bag / "data/tables/claim.csv"
    table.write_bytes(table.read_bytes().replace(b"in all", b"in part"))
    redo_manifests(bag)
    assert ("data/tables/claim.csv", "table") in told(bag)
