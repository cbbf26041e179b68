"""Two journals that differ in nothing but what is kept back give friends the very same site.

Compared is all that the site is drawn from. What no search for words can find (a count, an order,
a number that jumps, a day that is missing) would be a difference here.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from builderlog.deciding.checks import judge
from builderlog.deciding.public import PublicLedger
from builderlog.deciding.publishing import public_ledger
from builderlog.knowing.journal import read_journal
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from tests.command.hidden_journal import SHOW, photo
from tests.command.running import write

PRIVATE, LATER = "notes/2026-02-19-evening.md", "notes/2026-03-12-late.md"
FIRST, RIBS, FIN = (f"notes/2026-{name}.md" for name in ("02-03-begin", "02-17-ribs", "03-05-fin"))
JOURNAL, LETTER = "journal.yaml", "letters/2026-02.md"
FILES = {
    JOURNAL: """\
title: Wings over the hill
builder: Ines
people:
  Ines: {role: builder, full name: Ines Valdano}
  Tove: {role: helper, full name: Tove Ostrander, may show: yes}
  Bo: {role: helper, full name: Bo Quillfeather}
  Abe: {role: helper, full name: Abe Zennor}
  Nils: {role: builder, full name: Nils Marrow, may show: no}
  Pia: {role: paid, full name: Pia Drosselberg}
aircraft: {design: Kittiwake, kit: Gannet Four, registration: D-EXYZ, maker: Marrow, model: K4,
  serial: S-77123}
place: The old dairy
currency: USD
rulebook: us-checklist
started: 2026-02-02
wrenches: {small: 2026-01-15}
holidays: [{from: 2026-07-06, until: 2026-07-26, why: sea}]
""",
    "worklist.yaml": """\
areas:
  - area: W
    name: Wings
    tasks:
      - {task: W1, name: Spar, work: fabrication, estimate: 40h,
         credit: {maker: 0.1, paid: 0.3, fabrication: 0.5}}
      - {task: W2, name: Ribs, work: assembly, state: done, estimate: 20h, credit: {assembly: 0.8}}
  - {area: T, name: Tail, tasks: [{task: T1, name: Fin, work: assembly, estimate: 30h}]}
""",
    FIRST: """\
---
title: Begin
hours: {Ines: 3h, Tove: 1h}
tasks: [{task: W1, hours: 2h, work: other}]
next: [Order rivets, Sweep]
photos: [{photo: photos/a.jpg, caption: First, shows: [W1]}, {photo: photos/b.jpg, seen: Bo}]
parts: {part: Rivets, count: 100, cost: 12.50 USD, from: Harrow, ref: R-10001, status: ordered,
  receipt: receipts/1.pdf}
---
Words.
""",
    RIBS: """\
---
title: Ribs
hours: {Ines: 2h, Bo: 1h, Abe: 2h}
tasks: [{task: W2, hours: 1h, per: manual 3}]
parts: {part: Rivets, count: 100, ref: R-10001, status: received}
snags: [{snag: Dent, task: W1}, {snag: Scratch, area: W}]
visits: {who: Olga, as: inspector, looked at: [W1], said: fine}
away: {what: Spar web, task: W1, with: Kestrel, as: paid, sent: 2026-02-10}
torqued: {where: Spar, bolt: AN3, to: 20 in-lb, source: manual, wrench: small}
process: {what: Epoxy, batch: B77}
bulletins: {no: SB-1, applies: no}
---
More [words](../receipts/1.pdf), ![](../photos/c.jpg).
""",
    FIN: """\
---
hours: {Ines: 2h, Nils: 1h}
tasks: [{task: T1, hours: 1h}]
fixed: {no: 2026-02-17.1, how: filled}
photos: [{photo: photos/d.jpg, seen: [Ines, Tove]}, photos/e.jpg]
place: The hangar
---
""",
    PRIVATE: """\
---
title: Secret
hours: {Ines: 2h}
tasks: [{task: W1, hours: 1h, per: drawing 9}]
parts: {part: Rivets, count: 5, ref: R-10001, status: fitted}
photos: {photo: photos/p.jpg, shows: W2}
snags: Hidden
fixed: {no: 2026-02-17.2, how: in secret}
decided: Sell
next: Quit
closes: W
visits: {who: Zed, said: bad}
place: Nowhere
private: yes
---
Private words ![](../photos/q.jpg).
""",
    "notes/2026-02-23-hours.md": """\
---
hours: {Tove: 1h}
tasks: [{task: W2, hours: 1h}]
private: hours only
---
""",
    LATER: "---\nhours: {Ines: 1h}\ntasks: T1\nprivate: yes\n---\n",
    LETTER: "---\ntitle: March\n---\nDear all ![](../photos/d.jpg) [x](../receipts/1.pdf)\n",
    "receipts/1.pdf": "%PDF",
}
PICTURES = {f"photos/{name}.jpg": photo(20 + 20 * place) for place, name in enumerate("abcdepq")}
# File, words that are kept back, what stands there instead, and the words of `site: show` of
# which any would let friends see it.
KEPT: tuple[tuple[str, str, str, tuple[str, ...]], ...] = (
    (PRIVATE, "title: Secret\n", "", ()),
    (PRIVATE, "Private words", "Others, many more of them", ()),
    (PRIVATE, "private: yes", "private: hours only", ()),
    (PRIVATE, "parts: {part: Rivets, count: 5, ref: R-10001, status: fitted}\n", "", ()),
    (PRIVATE, "photos/p.jpg", "photos/q.jpg", ()),
    (PRIVATE, "snags: Hidden\n", "", ()),
    (PRIVATE, "fixed: {no: 2026-02-17.2, how: in secret}\n", "", ()),
    (PRIVATE, "decided: Sell\n", "", ()),
    (PRIVATE, "next: Quit\n", "", ()),
    (PRIVATE, "closes: W\n", "", ()),
    (PRIVATE, "visits: {who: Zed, said: bad}\n", "", ()),
    (PRIVATE, "place: Nowhere\n", "", ()),
    (PRIVATE, ", per: drawing 9", "", ()),
    (PRIVATE, "{Ines: 2h}\ntasks: [{", "{Nils: 2h}\ntasks: [{who: Nils, ", ()),
    (LATER, "private: yes", "private: yes\nwritten: 2026-05-01", ()),
    (LATER, "private: yes", "private: yes\ntitle: Sold", ()),
    (JOURNAL, "Bo Quillfeather", "Bo Elsewhere", ()),
    (JOURNAL, "Ines Valdano", "Ines Elsewhere", ("full names",)),
    (JOURNAL, "D-EXYZ", "D-EABC", ("registration",)),
    (JOURNAL, "S-77123", "S-1", ("serial",)),
    (JOURNAL, "maker: Marrow, model: K4", "maker: Other, model: O5", ()),
    (JOURNAL, "Gannet Four", "Heron", ("suppliers",)),
    (JOURNAL, "The old dairy", "Elsewhere", ("place",)),
    (JOURNAL, "2026-07-06, until: 2026-07-26, why: sea", "2026-08-06, until: 2026-08-09", ()),
    (JOURNAL, "small: 2026-01-15", "small: 2026-01-16", ()),
    ("worklist.yaml", "paid: 0.3", "paid: 0.2", ("claim", "paid help")),
    (RIBS, "Bo: 1h, Abe: 2h", "Bo: 2h, Abe: 1h", ()),
    (RIBS, "Bo: 1h, Abe: 2h", "Abe: 3h", ()),
    (RIBS, ", per: manual 3", "", ()),
    (RIBS, "Scratch, area: W", "Scratch, area: T", ("snags",)),
    (RIBS, "snag: Dent", "snag: Hole", ("snags",)),
    (RIBS, "visits: {who: Olga, as: inspector, looked at: [W1], said: fine}\n", "", ("visits",)),
    (RIBS, "away: {what: Spar web, task: W1, with: Kestrel, as: paid, sent: 2026-02-10}\n", "", ()),
    (
        RIBS,
        "torqued: {where: Spar, bolt: AN3, to: 20 in-lb, source: manual, wrench: small}\n",
        "",
        (),
    ),
    (RIBS, "process: {what: Epoxy, batch: B77}\n", "", ()),
    (RIBS, "bulletins: {no: SB-1, applies: no}\n", "", ()),
    (FIRST, "cost: 12.50 USD, ", "", ("costs",)),
    (FIRST, "12.50 USD", "99 USD", ("costs",)),
    (FIRST, "from: Harrow, ", "", ("suppliers",)),
    (FIRST, ",\n  receipt: receipts/1.pdf", "", ()),
    (FIRST, ", work: other", "", ()),
    (FIRST, ", {photo: photos/b.jpg, seen: Bo}", "", ()),
    (FIRST, "seen: Bo", "seen: Bo, caption: Bo", ()),
    (FIN, "fixed: {no: 2026-02-17.1, how: filled}\n", "", ("snags",)),
    (FIN, "seen: [Ines, Tove]", "seen: Ines", ()),
    (FIN, "place: The hangar\n", "", ("place",)),
)


def told(files: Mapping[str, str], show: tuple[str, ...]) -> PublicLedger:
    """What friends may see of a journal, which has no mistake."""
    site = f"site: {{show: [{', '.join(show)}], address: 'https://example.org/w/'}}\n"
    with TemporaryDirectory() as folder:
        root = write(Path(folder), {**files, **PICTURES, JOURNAL: files[JOURNAL] + site})
        ledger = read_journal(Folder.at(root))
    assert [each for each in judge(ledger) if each.weight is Weight.MISTAKE] == []
    return public_ledger(ledger)


@cache
def _as_written(show: tuple[str, ...]) -> PublicLedger:
    return told(FILES, show)


def _without(opens: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(word for word in SHOW if word not in opens)


@pytest.mark.parametrize(("path", "old", "new", "opens"), KEPT)
def test_what_is_kept_back_moves_nothing(
    path: str, old: str, new: str, opens: tuple[str, ...]
) -> None:
    """With no word said, and with all but those that open it, the change is not to be seen."""
    assert old in FILES[path]
    changed = {**FILES, path: FILES[path].replace(old, new)}
    for show in ((), _without(opens)):
        assert told(changed, show) == _as_written(show)


@pytest.mark.parametrize(("path", "old", "new", "opens"), [row for row in KEPT if row[3]])
def test_what_is_asked_for_moves_something(
    path: str, old: str, new: str, opens: tuple[str, ...]
) -> None:
    """With the word that opens it the same change is seen: the comparison is not blind."""
    changed = {**FILES, path: FILES[path].replace(old, new)}
    assert told(changed, opens) != _as_written(opens)


@pytest.mark.parametrize("day", ["02-18", "02-24", "02-28"])
def test_the_day_of_a_private_note_moves_nothing(day: str) -> None:
    """Wherever in its month a private note stands, friends are told the same."""
    moved = {path.replace("02-19", day): text for path, text in FILES.items()}
    for show in ((), SHOW):
        assert told(moved, show) == _as_written(show)


@pytest.mark.parametrize("name", ["photos/0.jpg", "photos/IMG_0042.jpg", "photos/attic/z.jpg"])
def test_the_name_of_a_picture_moves_nothing(name: str) -> None:
    """Under whatever name and in whatever folder a picture lies, friends see it in its place."""
    moved = {path: text.replace("photos/e.jpg", name) for path, text in FILES.items()}
    pictures = {name if path == "photos/e.jpg" else path: data for path, data in PICTURES.items()}
    with TemporaryDirectory() as folder:
        ledger = read_journal(Folder.at(write(Path(folder), {**moved, **pictures})))
    with TemporaryDirectory() as folder:
        before = read_journal(Folder.at(write(Path(folder), {**FILES, **PICTURES})))
    assert public_ledger(ledger) == public_ledger(before)
