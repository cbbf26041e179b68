"""The public ledger: what friends may see, a type that has no field for anything else.

`public_ledger` is the only way from the ledger to the site; everything that draws the site
receives its result and nothing else. Fields that `site: show` can open are None until asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class PublicHours:
    """Whole seconds by the label under which friends know a person ("Ines", "a helper")."""

    label: str
    seconds: int


@dataclass(frozen=True, slots=True)
class PublicTaskTime:
    """A task's time in one note, over all people."""

    task: str
    seconds: int


@dataclass(frozen=True, slots=True)
class PublicPhotoUse:
    """A picture in one public note; `digest` is its only name."""

    digest: str
    caption: str | None
    shows: tuple[str, ...]
    taken: str  # ISO 8601, by Exif or else the note's day
    day: date  # the note's day
    note: str  # key of the note
    width_px: int = 0  # of the upright picture; 0 where it is not known
    height_px: int = 0
    page: bool = False  # a scanned page of a notebook


@dataclass(frozen=True, slots=True)
class PublicPartEvent:
    """A sighting of a part in a public note."""

    note: str
    day: date
    status: str | None
    count: Decimal | None
    due: date | None


@dataclass(frozen=True, slots=True)
class PublicPart:
    """A part as public notes tell it; cost, supplier and ref only where the journal shows them."""

    name: str
    status: str | None
    count: Decimal | None
    task: str | None
    events: tuple[PublicPartEvent, ...]
    cost: str | None = None  # "8.40 USD"
    supplier: str | None = None
    ref: str | None = None


@dataclass(frozen=True, slots=True)
class PublicSnag:
    """A snag, only where the journal shows snags."""

    number: str
    text: str
    day: date
    note: str
    area: str | None
    task: str | None
    fixed_on: date | None
    how: str | None


@dataclass(frozen=True, slots=True)
class PublicDecision:
    """A decision and its reason."""

    what: str
    why: str | None
    instead_of: str | None
    again: str | None


@dataclass(frozen=True, slots=True)
class PublicMeasured:
    """A measurement as the builder wrote it."""

    what: str
    value: str | None
    limit: str | None


@dataclass(frozen=True, slots=True)
class PublicVisit:
    """A visit, only where the journal shows visits."""

    who: str
    capacity: str | None
    looked_at: tuple[str, ...]
    said: str | None


@dataclass(frozen=True, slots=True)
class PublicNext:
    """One next step as last written."""

    text: str
    day: date
    note: str
    areas: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PublicNote:
    """One note that friends may read. `key` is unique and safe as a file name."""

    key: str
    day: date
    title: str
    seconds: int
    hours: tuple[PublicHours, ...]
    tasks: tuple[PublicTaskTime, ...]
    photos: tuple[PublicPhotoUse, ...]
    parts: tuple[tuple[str, str | None, str | None], ...]  # name, "12", status
    snags: tuple[PublicSnag, ...]
    decided: tuple[PublicDecision, ...]
    measured: tuple[PublicMeasured, ...]
    visits: tuple[PublicVisit, ...]
    next_steps: tuple[str, ...]
    closes: tuple[str, ...]
    place: str | None
    written_later: date | None
    prose: str  # Markdown as written
    links: tuple[tuple[str, str, str], ...]  # target, picture|note|drop, digest or key
    has_heading: bool = False  # the prose begins with the heading that became the title


@dataclass(frozen=True, slots=True)
class PublicTask:
    """One task of the work list, or a free-text task of a public note (area "")."""

    id: str
    name: str
    area: str
    kind: str | None
    done: bool
    applies: bool
    seconds: int
    estimate_seconds: int | None


@dataclass(frozen=True, slots=True)
class PublicArea:
    """One area with its time over all notes; done and applicable tasks counted."""

    id: str
    name: str
    tasks: tuple[str, ...]
    seconds: int
    done: int
    applicable: int


@dataclass(frozen=True, slots=True)
class PublicMonthPace:
    """A month's hours a week, over all notes and people, and how many of its weeks had any."""

    per_week: int | None  # seconds; None where the record has less than a week of it
    weeks: int  # 0, and so the next two, where private notes would show through
    worked: int
    holidays: int


@dataclass(frozen=True, slots=True)
class PublicPace:
    """The window of finishing dates and what it is reckoned from; whole seconds."""

    record_date: date
    remaining_seconds: int  # by the estimates
    weekly_seconds: int
    weeks: int  # of the record, that are drawn from
    earliest: date
    latest: date
    assumptions: str


@dataclass(frozen=True, slots=True)
class PublicMonth:
    """One month in sums over all notes, private ones too; `notes` holds the public ones' keys."""

    month: str  # "2026-03"
    seconds: int
    by_area: tuple[tuple[str, int], ...]  # area id ("" for no area), seconds
    days: int
    longest_gap_days: int  # 0 too where private notes would show through
    evenings: int  # all notes
    not_shown: int  # of them private
    photos: int  # public pictures
    tasks_begun: tuple[str, ...]
    tasks_done: tuple[str, ...]
    running_seconds: int
    notes: tuple[str, ...]
    spent: tuple[str, ...] = ()  # "8.40 USD", only where the journal shows costs
    seals: tuple[str, ...] = ()  # digests alone: of the month's seal, and of its newest amendment
    pace: PublicMonthPace | None = None


@dataclass(frozen=True, slots=True)
class PublicClaimColumn:
    """A column of the claim: one side, or several together so that none of them can be told."""

    side: str  # "assembly", "maker" …; "amateurs" and "others" are sides together
    heading: str
    counts: str  # "for" the builder, "against" or "" for on no side


@dataclass(frozen=True, slots=True)
class PublicClaimRow:
    """What is claimed of an area, or in all, in the measure's smallest unit, column by column."""

    area: str | None  # its id; None for the whole
    name: str
    tasks: int  # that apply
    done: int
    units: tuple[int | None, ...]  # empty where no numbers are shown; None where there is none
    share: str | None  # "57.8 %"
    permille: int | None  # the share, as a drawing needs it


@dataclass(frozen=True, slots=True)
class PublicClaim:
    """The claim, only where the journal shows it; paid help in it only where that is shown too."""

    measure: str  # "points", "marks" or "hours"
    facts: tuple[tuple[str, str], ...]  # label, words: the rulebook, its rule, its citation
    limit: str  # "more than 50 %"
    limit_permille: int
    verdict: str
    unsettled: str | None
    columns: tuple[PublicClaimColumn, ...]
    whole: PublicClaimRow
    areas: tuple[PublicClaimRow, ...]  # those with a task that applies
    beside: tuple[tuple[str, str], ...]  # label, words
    headroom: str | None  # only where the journal shows paid help
    sources: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PublicLetter:
    """A month's letter in the builder's own words; an untouched draft is none."""

    month: str  # "2026-03"
    title: str
    written: date | None
    prose: str  # Markdown as written
    links: tuple[tuple[str, str, str], ...]  # target, picture|note|drop, digest or key


@dataclass(frozen=True, slots=True)
class PublicSpent:
    """Money under a month, an area's id or a supplier's name; exact, not rounded."""

    name: str  # "" for the whole, for no area or supplier, and for what no public note tells
    currency: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class PublicMoney:
    """Where the money went, only where the journal shows costs; each adds up to the whole."""

    whole: tuple[PublicSpent, ...]
    by_month: tuple[PublicSpent, ...]
    by_area: tuple[PublicSpent, ...]
    by_supplier: tuple[PublicSpent, ...]  # empty unless suppliers are shown


@dataclass(frozen=True, slots=True)
class PublicLedger:
    """Everything the site is drawn from."""

    title: str
    design: str | None
    kit: str | None
    builder: str | None  # the label of the journal's builder
    seconds: int
    by_role: tuple[PublicHours, ...]
    evenings: int
    not_shown: int
    days: int
    record_date: date | None
    started: date | None
    notes: tuple[PublicNote, ...]  # oldest first, those of one day as `order_of_day` has them
    months: tuple[PublicMonth, ...]  # oldest first, those without a note too
    areas: tuple[PublicArea, ...]
    tasks: tuple[PublicTask, ...]
    parts: tuple[PublicPart, ...]
    next_steps: tuple[PublicNext, ...]
    snags: tuple[PublicSnag, ...]  # empty unless shown
    shows_snags: bool
    untasked_seconds: int
    findable: bool
    address: str | None = None  # of the folder that the site stands in, with its last "/"
    tag: str | None = None  # what the feeds' ids begin with, where the journal says it
    registration: str | None = None
    serial: str | None = None
    place: str | None = None
    spent: tuple[str, ...] = ()
    full_name: str | None = None
    claim: PublicClaim | None = None
    pace: PublicPace | None = None
    letters: tuple[PublicLetter, ...] = ()  # oldest month first, one a month
    money: PublicMoney | None = None
