"""The claim against published forms and rules, and against computations that share no code of ours.

Forms and rules: the FAA's Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), its
draft of 2008 as told in docket comment FAA-2008-0797-0005, the former Form 8000-38, Transport
Canada's AMA 549.5, Regulation (EU) 2018/1139, and the French order on kit aircraft. Work lists
are written to disk and read as a builder's are. Sums are checked with fractions of the standard
library and with pandas (PyPI).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import pandas as pd
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.claim_document import claim_document
from builderlog.deciding.portion import Portion, portion
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Rulebook
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Weight
from tests.command.running import write
from tests.examples import many

EXAMPLE = Path(__file__).resolve().parent.parent.parent / "example_journal"
COLUMNS = ("maker", "paid", "assembly", "fabrication")
JOURNAL = "title: A test\nbuilder: Ines\npeople: {Ines: builder, Ada: helper, Osk: paid}\n"
POINTS = ("us-checklist", "eu", "uk", "australia", "new-zealand")
MARKS = ("us-8000-38", "canada")


@dataclass(frozen=True, slots=True)
class Line:
    """A task as a builder writes it, in tenths; the name of its area is the first letter."""

    name: str
    credit: tuple[int, int, int, int] | None = None
    marks: tuple[int, int] | None = None
    applies: bool = True

    def text(self) -> str:
        """The task in worklist.yaml."""
        words = [f"task: {self.name}"]
        words += [] if self.applies else ["applies: no"]
        if self.credit:
            tenths = zip(COLUMNS, self.credit, strict=True)
            words.append(f"credit: {{{', '.join(f'{n}: {t // 10}.{t % 10}' for n, t in tenths)}}}")
        words += [f"marks: [{self.marks[0]}, {self.marks[1]}]"] if self.marks else []
        return f"      - {{{', '.join(words)}}}\n"


def worklist_text(lines: Iterable[Line]) -> str:
    """worklist.yaml: the lines by area, in order."""
    areas: dict[str, list[str]] = {}
    for line in lines:
        areas.setdefault(line.name[0], []).append(line.text())
    return "areas:\n" + "".join(
        f"  - area: {name}\n    tasks:\n{''.join(texts)}" for name, texts in areas.items()
    )


def read(root: Path, lines: Iterable[Line], more: Mapping[str, str] | None = None) -> Ledger:
    """The journal of these lines, written and read; nothing may be a mistake."""
    files = {"journal.yaml": JOURNAL, "worklist.yaml": worklist_text(lines), **(more or {})}
    ledger = read_journal(Folder.at(write(root, files)))
    assert [each for each in ledger.problems if each.weight is Weight.MISTAKE] == []
    return ledger


def rulebook(name: str) -> Rulebook:
    """A rulebook of the package."""
    found, _ = find_rulebook(name)
    assert found
    return found


def told(ledger: Ledger, name: str) -> dict[str, object]:
    """What the program prints of a journal by this rulebook."""
    return claim_document(portion(ledger, rulebook(name)))


# ---- rows of published forms --------------------------------------------------------------


def test_the_checklists_worked_row(tmp_path: Path) -> None:
    """The row that the form works out gives its columns and one point, 20 % of it the builder's.

    Source: Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), instructions:
    0.5 to A, 0.3 to B, 0.2 to D, "for a total of 1 point".
    """
    document = told(read(tmp_path, [Line("F1", (5, 3, 0, 2))]), "us-checklist")
    assert (document["tasks"], document["share"]) == (1, "0.200000")
    assert document["columns"] == {
        "maker": "0.5",
        "paid": "0.3",
        "assembly": "0.0",
        "fabrication": "0.2",
        "unclaimed": "0.0",
    }


@pytest.mark.parametrize(
    ("credit", "share"),
    [
        ((9, 0, 0, 1), "0.100000"),  # 0.9 in A and 0.1 in D: the natural reading
        ((9, 0, 1, 0), "0.100000"),  # 0.1 in C: the same share
        ((1, 0, 0, 9), "0.900000"),  # the other way round
    ],
)
def test_a_published_completed_row(
    tmp_path: Path, credit: tuple[int, int, int, int], share: str
) -> None:
    """A row of 0.9 and 0.1 is one point, and its share hangs on the columns alone.

    Source: completed fixed-wing checklist, on-site evaluation of 19 and 20 August 2014, row F1
    "Fabricate Longitudinal Members". The columns are lost in the copy that was read: 0.9 in A
    and 0.1 in D is the natural reading, and not certain.
    """
    document = told(read(tmp_path, [Line("F1", credit)]), "us-checklist")
    assert (document["tasks"], document["share"]) == (1, share)
    columns = document["columns"]
    assert isinstance(columns, dict)
    assert sum(map(Fraction, columns.values())) == 1


def test_a_row_may_carry_both_marks(tmp_path: Path) -> None:
    """A row marked on both sides counts once in each column, and one mark more is enough.

    Source: descriptions of the former FAA Form 8000-38 in public posts of builders (known second
    hand): marks are added up by column, a row may have both, more marks for the builder.
    """
    rows = [Line(f"F{number}", marks=(1, 1)) for number in range(6)]
    even, more = (
        told(read(tmp_path, lines), "us-8000-38")
        for lines in (rows, [*rows, Line("F9", marks=(0, 1))])
    )
    assert (even["share"], even["meets"]) == ("0.500000", False)
    assert (more["share"], more["meets"]) == ("0.538462", True)  # 7 of 13 marks


def test_canada_compares_two_totals(tmp_path: Path) -> None:
    """The builder's total must be greater than the manufacturer's, and equal ones are not enough.

    Source: AMA 549.5, Appendix A, information note (3 January 1991).
    """
    for builder, maker in ((10, 10), (11, 10), (10, 11), (1, 0)):
        lines = [Line("A1", marks=(maker, builder))]
        assert told(read(tmp_path, lines), "canada")["meets"] is (builder > maker)


# ---- limits -------------------------------------------------------------------------------

SHARES = ("50", "50.05", "50.5", "51")  # per cent
ACCEPT = {
    "us-checklist": ("50.05", "50.5", "51"),
    "us-8000-38": ("50.05", "50.5", "51"),
    "canada": ("50.05", "50.5", "51"),
    "eu": ("51",),
    "uk": ("51",),
    "australia": ("51",),
    "new-zealand": ("51",),
    "france-hours": SHARES,
}


def of_share(root: Path, percent: str) -> Ledger:
    """200 tasks, 2000 marks and 200 hours, of each of which exactly so much is the builder's."""
    builder = int(Fraction(percent) * 20)  # of 2000
    over = builder - 1000
    lines = [Line(f"W{number}", (5, 0, 2, 3), (5, 5)) for number in range(200 - over)]
    lines += [Line(f"T{number}", (4, 0, 2, 4), (4, 6)) for number in range(over)]
    hours = Fraction(builder, 10)
    kit = f"kit hours: {decimal(200 - hours)}\n"
    notes = {
        f"notes/2026-01-{day:02}.md": f"---\ntasks: [{{task: W1, hours: {decimal(part)}, "
        "work: assembly}]\n---\n"
        for day, part in enumerate([Fraction(5)] * int(hours // 5) + [hours % 5], 1)
        if part
    }
    return read(root, lines, {"journal.yaml": JOURNAL + kit, **notes})


def decimal(hours: Fraction) -> str:
    """Hours in tenths, as a note writes them."""
    return f"{int(hours * 10) // 10}.{int(hours * 10) % 10}"


@pytest.fixture(scope="module")
def journals(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Ledger]:
    """A journal of each share."""
    return {percent: of_share(tmp_path_factory.mktemp("share"), percent) for percent in SHARES}


@pytest.mark.parametrize("percent", SHARES)
@pytest.mark.parametrize("name", ACCEPT)
def test_the_limits(journals: dict[str, Ledger], name: str, percent: str) -> None:
    """Each rulebook's limit parts 50 %, 50.05 %, 50.5 % and 51 % as its source says.

    More than half: Checklist (2009, 2011), the strict reading from memory of AC 20-27G and Order
    8130.2; Form 8000-38, known second hand; Airworthiness Manual 549.5(a), read. At least 51 %:
    Regulation (EU) 2018/1139, Annex I 1(c), read in German; by it the United Kingdom (from
    memory), Australia and New Zealand (the 51 % known second hand). At least half of the hours:
    French order, art. 1.6, read.
    """
    document = told(journals[percent], name)
    assert Fraction(str(document["share"])) == Fraction(percent) / 100
    assert document["meets"] is (percent in ACCEPT[name])


def test_every_rulebook_was_held_to_its_limit() -> None:
    """No rulebook of the package is left out above, but the one whose limit the builder states."""
    assert {*ACCEPT, OWN} == set(RULEBOOKS)


def test_paid_time_counts_on_no_side(tmp_path: Path) -> None:
    """Paid hours change the French share in no way, and are shown.

    Source: French order on kit aircraft, art. 1.6: the builder's time must not be below 50 % of
    the total; paid assistance does not count. That it leaves the total too is our reading.
    """
    own = "{task: W1, hours: 5, work: assembly}"
    paid = "{task: W1, hours: 9, work: assembly, who: Osk}"
    kit = {"journal.yaml": f"{JOURNAL}kit hours: 5h\n"}
    alone, helped = (
        told(
            read(
                tmp_path,
                [Line("W1")],
                {**kit, "notes/2026-01-02.md": f"---\ntasks: [{', '.join(rows)}]\n---\n"},
            ),
            "france-hours",
        )
        for rows in ([own], [own, paid])
    )
    assert (alone["share"], alone["meets"], helped["share"]) == ("0.500000", True, "0.500000")
    assert isinstance(helped["columns"], dict)
    assert helped["columns"]["paid"] == "9"


# ---- what the share is taken of -----------------------------------------------------------

LISTED = 187  # tasks of the draft of 2008


def test_rows_that_do_not_apply_are_left_out(tmp_path: Path) -> None:
    """Of 187 rows 20 do not apply and 90 are the builder's: 90 of 167, not 90 of 187, is the share.

    The draft of 2008 divided by 187 whatever applied (docket comment FAA-2008-0797-0005 of 31
    July 2008, whose author objected) and would have told 48.1 %, less than half. The form of 2011
    writes N/A in a row that does not apply and gives credit for added ones, so that nothing is
    left for such a row to weigh; that its summary divides by all four columns is from memory.
    """
    rows = [Line(f"F{number}", (0, 0, 0, 10)) for number in range(90)]
    rows += [Line(f"W{number}", (10, 0, 0, 0)) for number in range(77)]
    rows += [Line(f"C{number}", applies=False) for number in range(20)]
    assert len(rows) == LISTED
    document = told(read(tmp_path, rows), "us-checklist")
    assert (document["tasks"], document["share"], document["meets"]) == (167, "0.538922", True)
    assert Fraction(90, LISTED) < Fraction(1, 2) < Fraction(90, 167)


def test_added_rows_enter_the_divisor(tmp_path: Path) -> None:
    """With 187 rows and 10 added ones, 95 the builder's, the share is 95 of 197: not enough.

    The draft's fixed divisor would have told 95 of 187, more than half; the same comment names
    just this. An added item is a task like any other (Checklist, 2011, "Add item" boxes).
    """
    rows = [Line(f"F{number}", (0, 0, 10, 0)) for number in range(95)]
    rows += [Line(f"W{number}", (10, 0, 0, 0)) for number in range(LISTED + 10 - 95)]
    document = told(read(tmp_path, rows), "us-checklist")
    assert (document["tasks"], document["share"], document["meets"]) == (197, "0.482234", False)
    assert Fraction(95, 197) < Fraction(1, 2) < Fraction(95, LISTED)


# ---- independent computations -------------------------------------------------------------


def frame_of(lines: Iterable[Line]) -> pd.DataFrame:
    """The lines that apply as a data frame of tenths and marks."""
    records = []
    for line in lines:
        if line.applies:
            tenths = line.credit or (0, 0, 0, 0)
            given = line.marks or (int(tenths[0] > 0), int(tenths[2] + tenths[3] > 0))
            records.append((line.name[0], *tenths, 10 - sum(tenths), *given, int(tenths[1] > 0)))
    names = ["area", *COLUMNS, "unclaimed", "marks_maker", "marks_builder", "marks_paid"]
    return pd.DataFrame(records, columns=names).astype(dict.fromkeys(names[1:], "int64"))


def agree_on_points(lines: list[Line], found: Portion) -> None:
    """Columns in all and by area are the sums that pandas finds; share and headroom follow."""
    frame = frame_of(lines)
    names = [*COLUMNS, "unclaimed"]
    assert [getattr(found.whole.columns, name) for name in names] == list(frame[names].sum())
    grouped = frame.groupby("area")[names].sum()
    areas = {
        each.area.id: [getattr(each.count.columns, name) for name in names] for each in found.areas
    }
    assert areas == {row[0]: list(row[1:]) for row in grouped.itertuples(name=None)}
    builder = int((frame["assembly"] + frame["fabrication"]).sum())
    agree_on_share(found, builder, 10 * len(frame) - builder, paid_counts=True)


def agree_on_marks(lines: list[Line], found: Portion) -> None:
    """Marks of both sides, and rows with paid help, are the sums that pandas finds."""
    frame = frame_of(lines)
    builder, maker = int(frame["marks_builder"].sum()), int(frame["marks_maker"].sum())
    columns = found.whole.columns
    assert (columns.maker, columns.paid) == (maker, int(frame["marks_paid"].sum()))
    assert columns.assembly + columns.fabrication == builder
    nobody = frame[(frame["marks_builder"] + frame["marks_maker"] + frame["marks_paid"]) == 0]
    assert columns.unclaimed == len(nobody)
    agree_on_share(found, builder, maker, paid_counts=False)


def agree_on_share(found: Portion, builder: int, other: int, *, paid_counts: bool) -> None:
    """The share is the fraction, and the headroom the most that can go while the limit is met."""
    sign, bar = str(found.rulebook.limit).split()

    def meets(steps: int) -> bool:
        whole = builder + other - (0 if paid_counts else steps)
        if not whole:
            return False
        share = Fraction(builder - steps, whole)
        return share > Fraction(bar) if sign == ">" else share >= Fraction(bar)

    share = Fraction(builder, builder + other) if builder + other else None
    assert (found.whole.share, found.whole.meets) == (share, meets(0))
    possible = [steps for steps in range(builder + 1) if meets(steps)]
    assert found.whole.headroom == max(possible, default=0)


@st.composite
def lines_of_tasks(draw: st.DrawFn) -> list[Line]:
    """A work list with every kind of row, of up to 40 tasks in four areas."""
    chance = Random(draw(st.integers(0, 2**32)))
    lean = draw(st.sampled_from(((1, 1, 1, 1), (2, 1, 4, 4), (5, 2, 1, 1))))
    return [made_line(chance, number, lean) for number in range(draw(st.integers(0, 40)))]


def made_line(chance: Random, number: int, lean: tuple[int, ...]) -> Line:
    """A task whose tenths go to the columns by their weights, some to nobody."""
    name = f"{chance.choice('WTFE')}{number}"
    if chance.random() < 0.1:
        return Line(name, applies=False)
    given_to = chance.choices(range(5), weights=(*lean, 1), k=10)
    tenths = (given_to.count(0), given_to.count(1), given_to.count(2), given_to.count(3))
    return Line(
        name,
        tenths if chance.random() < 0.9 else None,
        (chance.randint(0, 2), chance.randint(0, 3)) if chance.random() < 0.2 else None,
    )


@given(lines_of_tasks())
@settings(max_examples=many(30), deadline=None)
def test_generated_work_lists(lines: list[Line]) -> None:
    """Work lists written to disk and read back count as fractions and pandas count them."""
    with TemporaryDirectory() as folder:
        ledger = read(Path(folder), lines) if lines else without_tasks(Path(folder))
    for name in POINTS:
        agree_on_points(lines, portion(ledger, rulebook(name)))
    for name in MARKS:
        agree_on_marks(lines, portion(ledger, rulebook(name)))


def without_tasks(root: Path) -> Ledger:
    """A journal without a work list."""
    return read_journal(Folder.at(write(root, {"journal.yaml": JOURNAL})))


def lines_of_the_example() -> list[Line]:
    """The example's work list as PyYAML's own loader reads it, without our reader."""
    document = yaml.safe_load((EXAMPLE / "worklist.yaml").read_text(encoding="utf-8"))
    lines = []
    for area in document["areas"]:
        for task in area["tasks"]:
            credit = task.get("credit")
            tenths = [round(10 * credit.get(name, 0)) for name in COLUMNS] if credit else None
            applies = task.get("applies", True)
            lines.append(
                Line(
                    task["task"],
                    (tenths[0], tenths[1], tenths[2], tenths[3]) if tenths else None,
                    applies=applies,
                )
            )
    return lines


def test_the_example_journal() -> None:
    """The example's points and marks are those of fractions and pandas over the same file."""
    ledger, lines = read_journal(Folder.at(EXAMPLE)), lines_of_the_example()
    assert len(lines) > 50
    for name in POINTS:
        agree_on_points(lines, portion(ledger, rulebook(name)))
    for name in MARKS:
        agree_on_marks(lines, portion(ledger, rulebook(name)))


def test_the_examples_hours() -> None:
    """The example's hours by role and kind are the sums that pandas finds over its work."""
    ledger = read_journal(Folder.at(EXAMPLE))
    frame = pd.DataFrame(
        [(str(row.role), str(row.work), row.task, row.seconds) for row in ledger.work],
        columns=["role", "kind", "task", "seconds"],
    )
    amateurs = frame[frame["role"] != "paid"]
    kinds = amateurs.groupby("kind")["seconds"].sum()
    found = portion(ledger, rulebook("france-hours")).whole.columns
    assert found.assembly == int(kinds["assembly"])
    assert found.fabrication == int(kinds["fabrication"])
    assert found.unclaimed == int(kinds["other"])
    assert found.paid == int(frame[frame["role"] == "paid"]["seconds"].sum())
