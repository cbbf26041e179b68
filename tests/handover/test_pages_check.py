"""Pages that were changed, added or taken away are found even where every digest was redone."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.handover.bag import software_agent
from builderlog.handover.guide import GUIDE_NAME
from tests.handover.test_verify import redo_manifests, told

FRONT = "claim/index.html"


@pytest.mark.parametrize("page", [FRONT, "claim/gaps.html", GUIDE_NAME])
def test_a_changed_page_is_found_with_every_digest_redone(bag: Path, page: str) -> None:
    """A word changed on a page is not what the notes give, whatever the manifests say."""
    file = bag / page
    before = file.read_bytes()
    file.write_bytes(before.replace(b"the authority", b"nobody"))
    assert file.read_bytes() != before
    redo_manifests(bag)
    assert told(bag) == {(page, "page")}


def test_pages_more_and_less_are_found_with_every_digest_redone(bag: Path) -> None:
    """A page that the notes do not give, and one that they give and that is gone, are named."""
    (bag / "claim/granted.html").write_bytes(b"<p>All is well.</p>")
    (bag / "claim/help.html").unlink()
    redo_manifests(bag)
    assert told(bag) == {
        ("claim/granted.html", "page-unknown"),
        ("claim/help.html", "page-missing"),
    }


def test_pages_of_another_version_are_its_own(bag: Path) -> None:
    """What another version wrote on its pages is not held against ours; tables always are."""
    info = bag / "bag-info.txt"
    info.write_text(info.read_text().replace(software_agent(), f"{software_agent()}.9"))
    (bag / FRONT).write_bytes(b"<p>Other words.</p>")
    redo_manifests(bag)
    assert told(bag) == set()
    table = bag / "data/tables/claim.csv"
    table.write_bytes(table.read_bytes().replace(b"in all", b"in part"))
    redo_manifests(bag)
    assert told(bag) == {("data/tables/claim.csv", "table")}
