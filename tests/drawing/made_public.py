"""A small public ledger made by hand, and what is needed to draw it: no journal, no reader."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from builderlog.deciding.public import (
    PublicArea,
    PublicClaim,
    PublicClaimColumn,
    PublicClaimRow,
    PublicDecision,
    PublicHours,
    PublicLedger,
    PublicMeasured,
    PublicMoney,
    PublicMonth,
    PublicNext,
    PublicNote,
    PublicPart,
    PublicPartEvent,
    PublicPhotoUse,
    PublicSnag,
    PublicSpent,
    PublicTask,
    PublicTaskTime,
    PublicVisit,
)
from builderlog.drawing.pictures import CopyRef
from builderlog.drawing.site import draw_site
from builderlog.drawing.theme import Theme, open_theme
from builderlog.storing.cache import Store

SKINS = "5" * 64  # digests of pictures
RIBS = "a" * 64
SPARE = "0" * 64  # copies exist, but no note shows it
HOUR = 3600

_MARCH = date(2026, 3, 14)
_MAY = date(2026, 5, 2)

FIRST = PublicNote(
    key="2026-03-14-skins",
    day=_MARCH,
    title="Skins <on> & off",
    seconds=3 * HOUR + 900,
    hours=(PublicHours("Ines", 3 * HOUR), PublicHours("a helper", 900)),
    tasks=(PublicTaskTime("W14", 2 * HOUR), PublicTaskTime("W15", 0)),
    photos=(
        PublicPhotoUse(SKINS, "Skins held with clecos", ("W14",), "2026-03-13", _MARCH, "x"),
        PublicPhotoUse(RIBS, None, (), "2026-03-14T20:15:00+01:00", _MARCH, "x"),
    ),
    parts=(("AN3-5A bolt", "12", "fitted"), ("Hinge", None, None)),
    snags=(),
    decided=(PublicDecision("Rivet later", "The arm must fit in", "now", "2026-10-01"),),
    measured=(PublicMeasured("Edge distance", "18 mm", ">= 15 mm"),),
    visits=(),
    next_steps=("Dimple the lower row",),
    closes=("W14",),
    place=None,
    written_later=date(2026, 3, 17),
    prose="The trailing edge came out *straight*.\n\n### A heading\n\nMore.",
    links=(),
)
SECOND = PublicNote(
    key="2026-05-02-späte-nähte",
    day=_MAY,
    title="Second",
    seconds=0,
    hours=(),
    tasks=(),
    photos=(),
    parts=(),
    snags=(),
    decided=(),
    measured=(),
    visits=(PublicVisit("a counsellor", "counsellor", ("W",), "Good"),),
    next_steps=(),
    closes=(),
    place=None,
    written_later=None,
    prose="See [the skins](2026-03-14-skins.md) and ![ribs](../photos/ribs.jpg) and [no](no.pdf).",
    links=(
        ("2026-03-14-skins.md", "note", "2026-03-14-skins"),
        ("../photos/ribs.jpg", "picture", RIBS),
        ("no.pdf", "drop", ""),
    ),
)


def task(name: str, *, done: bool = False, applies: bool = True, seconds: int = 0) -> PublicTask:
    """A task of area W, named after its id."""
    return PublicTask(
        name, f"Task {name}", "W", "assembly", done, applies, seconds, estimate_seconds=4 * HOUR
    )


def month(name: str, seconds: int, notes: tuple[str, ...]) -> PublicMonth:
    """A month with all its time in area W; no note means a hole."""
    return PublicMonth(
        month=name,
        seconds=seconds,
        by_area=(("W", seconds),) if seconds else (),
        days=len(notes),
        longest_gap_days=5,
        evenings=len(notes),
        not_shown=0,
        photos=0,
        tasks_begun=("W15",) if notes else (),
        tasks_done=("W14",) if notes else (),
        running_seconds=seconds,
        notes=notes,
    )


SNAG = PublicSnag(
    "edge-1", "Too little edge distance", _MARCH, FIRST.key, "W", "W14", fixed_on=None, how=None
)
CLAIM = PublicClaim(
    measure="points",
    facts=(("Rulebook", "A <made> rulebook"), ("Citation", "Made Rules, part 1")),
    limit="more than 50 %",
    limit_permille=500,
    verdict="On this record the share is 65.0 %; the rulebook asks for more than 50 %.",
    unsettled="The limit was not seen.",
    columns=(
        PublicClaimColumn("amateurs", "Amateurs", "for"),
        PublicClaimColumn("others", "Others and not yet claimed", "against"),
    ),
    whole=PublicClaimRow(None, "In all", 2, 1, (13, 7), "65.0 %", 650),
    areas=(PublicClaimRow("W", "Wings", 2, 1, (13, 7), "65.0 %", 650),),
    beside=(("Done tasks alone", "70.0 % (1 task)"),),
    headroom=None,
    sources=("Order 1, part 3, 2009-09-30 (read)",),
    cautions=("It grants nothing.", "Mind the step."),
)
MONEY = PublicMoney(
    whole=(PublicSpent("", "USD", Decimal("108.40")),),
    by_month=(PublicSpent("2026-03", "USD", Decimal("108.40")),),
    by_area=(
        PublicSpent("W", "USD", Decimal(100)),
        PublicSpent("", "USD", Decimal("8.40")),
    ),
    by_supplier=(
        PublicSpent("Fennick <works>", "USD", Decimal(100)),
        PublicSpent("", "USD", Decimal("8.40")),
    ),
)
PUBLIC = PublicLedger(
    title="Ostrel Two",
    design="Ostrel Two",
    kit="Fennick full kit",
    builder="Ines",
    seconds=3 * HOUR + 900,
    by_role=(PublicHours("builder", 3 * HOUR), PublicHours("helper", 900)),
    evenings=3,
    not_shown=1,
    days=2,
    record_date=date(2026, 6, 30),
    started=date(2026, 1, 4),
    notes=(FIRST, SECOND),
    months=(
        month("2026-03", 3 * HOUR + 900, (FIRST.key,)),
        month("2026-04", 0, ()),
        month("2026-05", 0, (SECOND.key,)),
    ),
    areas=(PublicArea("W", "Wings", ("W14", "W15", "W16"), 2 * HOUR, 1, 2),),
    tasks=(
        task("W14", done=True, seconds=2 * HOUR),
        task("W15", seconds=60),
        task("W16", applies=False),
    ),
    parts=(
        PublicPart(
            "AN3-5A bolt",
            "fitted",
            Decimal(12),
            "W14",
            (PublicPartEvent(FIRST.key, _MARCH, "fitted", Decimal(12), date(2026, 4, 1)),),
        ),
        PublicPart("Hinge", "ordered", None, None, ()),
    ),
    next_steps=(PublicNext("Dimple the lower row", _MARCH, FIRST.key, ("W",)),),
    snags=(SNAG,),
    shows_snags=True,
    untasked_seconds=0,
    findable=False,
    claim=CLAIM,
    money=MONEY,
)
EMPTY = replace(
    PUBLIC,
    notes=(),
    months=(),
    areas=(),
    tasks=(),
    parts=(),
    next_steps=(),
    snags=(),
    by_role=(),
    seconds=0,
    evenings=0,
    not_shown=0,
    record_date=None,
    started=None,
    claim=None,
    money=None,
)


def with_prose(text: str, links: tuple[tuple[str, str, str], ...] = ()) -> PublicLedger:
    """The ledger with other words in its second note."""
    return replace(PUBLIC, notes=(FIRST, replace(SECOND, prose=text, links=links)))


def filled_store(folder: Path | None = None) -> Store:
    """A store that holds bytes for the copies of all pictures."""
    store = Store(folder)
    for copies in PICTURES.values():
        for copy in copies:
            store.put(copy.key, f"bytes of {copy.key}".encode())
    return store


PICTURES = {
    SKINS: (
        CopyRef(480, 360, "skinssmall", SKINS[:16]),
        CopyRef(1600, 1200, "skinslarge", SKINS[:16]),
    ),
    RIBS: (CopyRef(300, 400, "ribsonly", RIBS[:16]),),
    SPARE: (CopyRef(480, 360, "sparesmall", SPARE[:16]),),
}


def drawn(
    public: PublicLedger = PUBLIC, theme: Theme | None = None, store: Store | None = None
) -> dict[str, bytes]:
    """The whole site by path."""
    files = draw_site(public, PICTURES, theme or open_theme("trammel"), store or filled_store())
    return dict(files)
