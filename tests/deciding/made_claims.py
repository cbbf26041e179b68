"""Claims made by hand: tasks with their credit in tenths, rulebooks without an authority."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from hypothesis import strategies as st

from builderlog.deciding.portion import Portion, portion
from builderlog.knowing.entries import Work
from builderlog.knowing.ledger import Ledger, Worked
from builderlog.knowing.rulebook import Measure, Rulebook, Side
from builderlog.knowing.rulebook_words import parse_limit
from builderlog.knowing.settings import Credit, Settings, Task
from builderlog.knowing.units import Length
from tests import making

HOUR = 3600
ALL_BUT_OURS = (Side.MAKER, Side.PAID, Side.UNCLAIMED)
MAKER_ALONE = (Side.MAKER,)
HALF_AND_MORE = ("> 0.5", ">= 0.5", ">= 0.51", "> 0.3333", ">= 0.999", "> 0.0001")

Tenths = tuple[int, int, int, int]  # maker, paid, assembly, fabrication


def rules(
    measure: Measure = Measure.POINTS, limit: str = "> 0.5", against: tuple[Side, ...] | None = None
) -> Rulebook:
    """A rulebook: points over all tasks that apply, the others against the maker, unless said."""
    usual = ALL_BUT_OURS if measure is Measure.POINTS else MAKER_ALONE
    return Rulebook(
        name="made",
        title="A made rulebook",
        measure=measure,
        limit=parse_limit(limit),
        rule="A rule.",
        citation="Made Rules, part 1",
        against=against or usual,
    )


def claimed(name: str, tenths: Tenths | None = None, **more: object) -> Task:
    """A task of the area that its first letter names; without tenths nothing is claimed of it."""
    task = Task(name, f"Task {name}", name[0], making.NOWHERE)
    task = replace(task, credit=Credit(*tenths) if tenths else None)
    return replace(task, **more)  # type: ignore[arg-type]


def book(
    *tasks: Task, work: Iterable[Worked] = (), kit: int | None = None, until: str | None = None
) -> Ledger:
    """A ledger of these; `kit` is the maker's declared hours, `until` the certificate's day."""
    settled: Settings = replace(
        making.settings(),
        kit_hours=Length(kit * HOUR) if kit is not None else None,
        certificated=making.dated(until) if until else None,
    )
    return making.ledger(tasks=tasks, work=work, settled=settled)


def reckoned(*tasks: Task, by: Rulebook | None = None) -> Portion:
    """The claim of these tasks."""
    return portion(book(*tasks), by or rules())


def hours(count: int, name: str | None, kind: Work, who: str = "Ines") -> Worked:
    """Whole hours of one person on a task in one note."""
    return making.worked("2026-03-14", count * HOUR, name, who, kind)


def credits_in_tenths() -> st.SearchStrategy[Tenths]:
    """Four columns that hold at most one point together."""

    def within(cuts: list[int]) -> Tenths:
        low, middle, high, top = sorted(cuts)
        return low, middle - low, high - middle, top - high

    return st.lists(st.integers(0, 10), min_size=4, max_size=4).map(within)


@st.composite
def task_lists(draw: st.DrawFn, most: int = 9) -> list[Task]:
    """Tasks of two areas in every state a work list can hold."""
    tasks = []
    for number in range(draw(st.integers(0, most))):
        marks = st.tuples(st.integers(0, 5), st.integers(0, 5))
        task = claimed(
            f"{draw(st.sampled_from('WT'))}{number}",
            draw(st.none() | credits_in_tenths()),
            work=draw(st.sampled_from((None, Work.FABRICATION, Work.ASSEMBLY))),
            applies=draw(st.integers(0, 4)) > 0,
            done=draw(st.booleans()),
            estimate=draw(st.none() | st.integers(0, 20).map(Length)),
            marks=draw(st.none() | marks),
        )
        tasks.append(task)
    return tasks


def met(limit: str, share: Fraction) -> bool:
    """Whether a share meets a limit as written, apart from the code that is tested."""
    sign, number = limit.split()
    return share > Fraction(number) if sign == ">" else share >= Fraction(number)
