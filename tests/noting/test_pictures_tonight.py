"""Pictures of an evening without a note: by their own clock, and never by a plainly wrong one."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from builderlog.knowing.journal import read_journal
from builderlog.noting.pictures_tonight import Waiting, WhichEvening, waiting_pictures
from builderlog.reading.folder import Folder
from tests.command.running import write
from tests.knowing.journals import JOURNAL
from tests.noting.camera import shot

EVENING = WhichEvening(date(2026, 4, 10), date(2026, 4, 11))
NOTE = "---\ndate: 2026-04-10\nphotos: [photos/named.jpg]\n---\n"


def waiting(root: Path, files: dict[str, bytes]) -> Waiting:
    """What waits in a journal with these pictures and one note that names one of them."""
    named = shot(1, "2026-04-10T20:00:00")
    write(
        root,
        {
            "journal.yaml": f"{JOURNAL}started: 2026-01-01\n",
            "notes/a.md": NOTE,
            "photos/named.jpg": named,
            **files,
        },
    )
    folder = Folder.at(root)
    return waiting_pictures(folder, read_journal(folder), EVENING)


def test_the_evenings_pictures_in_their_order(tmp_path: Path) -> None:
    """Those of the evening, past midnight too, filed or not, as they were taken."""
    found = waiting(
        tmp_path,
        {
            "inbox/late.jpg": shot(2, "2026-04-11T03:59:00"),
            "photos/first.jpg": shot(3, "2026-04-10T18:00:00"),
            "inbox/sub/second.jpg": shot(4, "2026-04-10T19:00:00"),
            "inbox/morning.jpg": shot(5, "2026-04-11T04:00:00"),
            "inbox/clock.txt": b"2026-04-10 19:10-\n",
            "inbox/list.txt": b"no picture",
        },
    )
    assert found.pictures == (
        "photos/first.jpg",
        tmp_path / "inbox/sub/second.jpg",
        tmp_path / "inbox/late.jpg",
    )
    assert found.inbox == found.pictures[1:]
    assert found.others == 1


def test_a_wrong_clock_is_not_believed(tmp_path: Path) -> None:
    """A picture from before the project or from the future is of no evening; a name may tell it."""
    found = waiting(
        tmp_path,
        {
            "inbox/a.jpg": shot(2, "2000-01-01T00:00:00"),
            "inbox/b.jpg": shot(3, "2031-04-10T19:00:00"),
            "inbox/c.jpg": shot(4),
            "inbox/scan 2026-04-10.jpg": shot(5),
        },
    )
    assert found.pictures == (tmp_path / "inbox/scan 2026-04-10.jpg",)
    assert found.others == 3
