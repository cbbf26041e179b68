"""The JSON documents of what is open: other programs find everything in them, with its place."""

from __future__ import annotations

import json
from pathlib import Path

from builderlog.deciding.before_closing import before_closing
from builderlog.deciding.open_document import closing_document, open_document
from builderlog.deciding.still_open import still_open
from tests import making
from tests.deciding.claim_journals import journal

NOTE = """\
tasks: {task: W1, hours: 1h}
next: Order a web
snags: {snag: A nick, task: W1}
parts: {part: web, status: ordered, due: 2026-03-20}
away: {what: seats, with: Shop, sent: 2026-03-01}
decided: {what: Flush rivets, again: 2026-07}
torqued: {where: hinge, to: 22 in-lb, wrench: small}
"""


def test_every_list_is_there_with_its_places(tmp_path: Path) -> None:
    """Each thing has the line that tells it; what is not said is null."""
    book = journal(tmp_path, ["W1, state: done", "W2"], {"2026-03-01": NOTE}, "units: metric")
    document = open_document(still_open(book, making.day("2026-04-01")))
    path = {"path": "notes/2026-03-01.md"}
    assert json.loads(json.dumps(document)) == {
        "today": "2026-04-01",
        "next": [
            {
                **path,
                "line": 3,
                "column": 7,
                "step": "Order a web",
                "areas": ["W"],
                "date": "2026-03-01",
                "notes_since": 0,
            }
        ],
        "snags": [
            {
                **path,
                "line": 4,
                "column": 8,
                "no": "2026-03-01.1",
                "snag": "A nick",
                "area": "W",
                "task": "W1",
                "date": "2026-03-01",
                "days": 31,
            }
        ],
        "parts": [
            {
                **path,
                "line": 5,
                "column": 8,
                "part": "web",
                "ref": None,
                "state": "late",
                "status": "ordered",
                "since": "2026-03-01",
                "due": "2026-03-20",
            }
        ],
        "away": [
            {
                **path,
                "line": 6,
                "column": 7,
                "what": "seats",
                "with": "Shop",
                "task": None,
                "sent": "2026-03-01",
                "due": None,
            }
        ],
        "decisions": [
            {
                **path,
                "line": 7,
                "column": 10,
                "what": "Flush rivets",
                "again": "2026-07",
                "on": "2026-07-01",
                "date": "2026-03-01",
            }
        ],
        "torque": [
            {
                **path,
                "line": 8,
                "column": 10,
                "where": "hinge",
                "bolt": None,
                "areas": ["W"],
                "open": ["nothing said of a mark"],
                "date": "2026-03-01",
            }
        ],
        "evidence": [
            {
                "path": "worklist.yaml",
                "line": 4,
                "column": 16,
                "kind": "picture",
                "task": "W1",
                "message": "no picture shows it",
                "explained": None,
                "area": "W",
                "hidden_by": "W2",
                "soon": "next",
            }
        ],
    }


def test_a_closing_list_has_what_is_explained_too(tmp_path: Path) -> None:
    """A line that the builder explained carries the explanation; what is closed says since when."""
    more = 'answers: [{gap: "task-without-picture: W1:", because: lost}]'
    notes = {"2026-03-01": "tasks: {task: W1, hours: 1h}\nmeasured: {what: gap, value: 1 mm}"}
    notes["2026-03-02"] = "closes: W1"
    # After the closing it is another gap that `check` tells, so that its answer is found before.
    book = journal(tmp_path / "a", ["W1"], {"2026-03-01": notes["2026-03-01"]}, more)
    assert closing_document(before_closing(book, "W1")) == {
        "subject": "W1",
        "name": "W1",
        "closed_since": None,
        "lines": [
            {
                "path": "worklist.yaml",
                "line": 4,
                "column": 16,
                "kind": "picture",
                "task": "W1",
                "message": "no picture shows it",
                "explained": "lost",
            }
        ],
    }
    closed = journal(tmp_path / "b", ["W1"], notes, more)
    assert closing_document(before_closing(closed, "W1"))["closed_since"] == "2026-03-02"
