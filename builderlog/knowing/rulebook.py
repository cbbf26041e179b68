"""What a rulebook says: how an authority counts the major portion, and what it wants to be shown.

Rulebooks are data, one YAML file each in `builderlog/rulebooks`; nothing here knows one by name.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from builderlog.knowing.entries import Work
from builderlog.knowing.settings import Role


class Measure(StrEnum):
    """What is counted, and the smallest step of it that the count knows."""

    POINTS = "points"  # one a task, in tenths
    MARKS = "marks"  # one a task and side
    HOURS = "hours"  # in seconds


class Side(StrEnum):
    """A column of the count."""

    MAKER = "maker"  # the kit's or the part's maker
    PAID = "paid"  # help for hire or compensation
    ASSEMBLY = "assembly"  # by the amateurs
    FABRICATION = "fabrication"  # by the amateurs
    UNCLAIMED = "unclaimed"  # of a task that applies, and nobody's yet


class Known(StrEnum):
    """How well a source is known to those who wrote the rulebook."""

    READ = "read"
    SECOND_HAND = "second hand"
    MEMORY = "memory"


class Ask(StrEnum):
    """What an authority wants the record to answer for each task."""

    WHO = "who"
    WHEN = "when"
    WHERE = "where"
    METHOD = "method"
    QUALITY = "quality"
    HELP = "help"


class Proof(StrEnum):
    """What can speak for the quality of a task's work."""

    MEASURED = "measured"
    TORQUED = "torqued"
    PROCESS = "process"
    VISITS = "visits"


@dataclass(frozen=True, slots=True)
class Limit:
    """What the share must reach: more than `share`, or at least `share` where not strict."""

    share: Fraction
    strict: bool
    decimal: str  # the number as it was written: "0.51"

    def met_by(self, share: Fraction) -> bool:
        """Exactly; no rounding comes before the comparison."""
        return share > self.share if self.strict else share >= self.share

    def __str__(self) -> str:
        return f"{'>' if self.strict else '>='} {self.decimal}"


@dataclass(frozen=True, slots=True)
class Source:
    """A published document: what it is, where in it, of when, how it is known, what it says."""

    what: str
    known: Known
    paragraph: str | None = None
    date: str | None = None
    says: str | None = None


@dataclass(frozen=True, slots=True)
class AskedPaper:
    """A paper that the authority asks for at the inspection, as far as the sources tell.

    `known` is how it is known that the authority asks for it. A paper that the builder lists is
    this one where its name holds one of the words in `match`, or this one's own name or form.
    """

    name: str
    known: Known = Known.MEMORY
    what: str | None = None
    form: str | None = None
    citation: str | None = None
    match: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitFirst:
    """A visit that the authority wants before work is closed, as far as the sources tell.

    `by` are words of a visit's `as` that mean who must come; where there is none anybody may.
    """

    what: str
    known: Known = Known.MEMORY
    citation: str | None = None
    by: tuple[str, ...] = ()
    always: bool = True  # false: the authority may come, and often does not


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that the evidence must answer, in the words of a reader."""

    ask: Ask
    words: str


@dataclass(frozen=True, slots=True)
class Rulebook:
    """One authority's way of counting.

    The share is what `builder` columns hold, over what `builder` and `against` hold together;
    a column in neither is shown and counts on no side.
    """

    name: str
    title: str
    measure: Measure
    limit: Limit
    rule: str
    citation: str
    builder: tuple[Side, ...] = (Side.ASSEMBLY, Side.FABRICATION)
    against: tuple[Side, ...] = (Side.MAKER, Side.PAID, Side.UNCLAIMED)
    amateurs: tuple[Role, ...] = (Role.BUILDER, Role.HELPER)
    headings: dict[Side, str] = field(default_factory=dict)  # the form's own, where there is one
    form: str | None = None  # the form whose headings those are
    unsettled: str | None = None  # what the sources leave open
    not_built: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    quality: dict[Work, tuple[Proof, ...]] = field(default_factory=dict)
    disclose: tuple[str, ...] = ()
    allows_paid_help: bool = True  # false: the rulebook is for projects without any
    evaluated: str | None = None
    cautions: tuple[str, ...] = ()
    visits_first: tuple[VisitFirst, ...] = ()  # none: not known, which is not that none is wanted
    papers: tuple[AskedPaper, ...] = ()  # none: not known, which is not that none is asked for
    sources: tuple[Source, ...] = ()
