"""The claim's table equals an independent count of the same bag's tables, made with pandas (PyPI).

Points and marks are counted from tasks.csv, hours from hours.csv; headroom is found by trying one
step after the other. The example journal is the data; no sum of ours enters.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pandas as pd
import pytest

from builderlog.handover.tables import tables
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from builderlog.reading.folder import Folder
from tests.outside import tools

SIDES = ["maker", "paid", "assembly", "fabrication", "unclaimed"]
BUILDER = ["assembly", "fabrication"]
AGAINST = {
    Measure.POINTS: ["maker", "paid", "unclaimed"],
    Measure.MARKS: ["maker"],
    Measure.HOURS: ["maker"],
}
STEP = {
    Measure.POINTS: Fraction(1, 10),
    Measure.MARKS: Fraction(1),
    Measure.HOURS: Fraction(1, 3600),
}
TRIES = 10_000  # steps of headroom that are tried; by hours the bounds alone are


def frame(data: bytes) -> pd.DataFrame:
    """A table with every cell as it is written."""
    return pd.read_csv(io.BytesIO(data), dtype=str, keep_default_na=False)


def tenths(column: pd.Series) -> pd.Series:
    """Decimal text as tenths; an empty cell is none."""
    return column.str.replace(".", "", regex=False).replace("", "0").astype(int)


def points(tasks: pd.DataFrame, _hours: pd.DataFrame) -> pd.DataFrame:
    """A row of tenths for each task; what has no credit is a whole point unclaimed."""
    found = pd.DataFrame({side: tenths(tasks[f"credit_{side}"]) for side in SIDES})
    found.loc[tasks["credit_maker"] == "", "unclaimed"] = 10
    assert (found.sum(axis=1) == 10).all()
    return found


def marks(tasks: pd.DataFrame, hours: pd.DataFrame) -> pd.DataFrame:
    """A mark for each side with any credit; the builder's in the column of the task's kind."""
    assert set(tasks["marks_maker"]) == {""}
    credit = points(tasks, hours)
    builder = (credit[BUILDER].sum(axis=1) > 0).astype(int)
    found = pd.DataFrame(
        {
            "maker": (credit["maker"] > 0).astype(int),
            "paid": (credit["paid"] > 0).astype(int),
            "assembly": builder.where(tasks["kind"] == "assembly", 0),
            "fabrication": builder.where(tasks["kind"] == "fabrication", 0),
        }
    )
    found["unclaimed"] = (found.sum(axis=1) == 0).astype(int)
    return found


def seconds(tasks: pd.DataFrame, hours: pd.DataFrame) -> pd.DataFrame:
    """The seconds of each task by side; other work is unclaimed, the maker's are not by task."""
    side = hours["kind"].where(hours["kind"] != "other", "unclaimed")
    side = side.where(hours["role"] != "paid", "paid")
    work = hours.assign(side=side, seconds=hours["seconds"].astype(int))
    table = work.pivot_table(
        index="task", columns="side", values="seconds", aggfunc="sum", fill_value=0
    )
    return table.reindex(index=tasks["task"], columns=SIDES, fill_value=0).reset_index(drop=True)


COUNTERS: Mapping[Measure, Callable[[pd.DataFrame, pd.DataFrame], pd.DataFrame]] = {
    Measure.POINTS: points,
    Measure.MARKS: marks,
    Measure.HOURS: seconds,
}


def agree(made: Mapping[str, bytes], measure: Measure, limit: str) -> None:
    """Every row of claim.csv is the one that pandas counts."""
    told, listed = frame(made["claim"]), frame(made["tasks"])
    tasks = listed[listed["applies"] == "yes"].reset_index(drop=True)
    counted = COUNTERS[measure](tasks, frame(made["hours"]))
    counted["open"] = counted[BUILDER].sum(axis=1).where(tasks["state"] == "open", 0)
    by_area = counted.groupby(tasks["area"], sort=False).sum()
    numbers = tasks.groupby("area", sort=False).size()
    assert list(told["area"]) == [*by_area.index, ""]
    assert list(told["tasks"].astype(int)) == [*numbers, len(tasks)]
    for at, area in enumerate(by_area.index):
        one = {str(key): int(value) for key, value in by_area.loc[area].items()}
        agree_on_row(told.iloc[at].to_dict(), one, measure, limit)
    whole = {str(key): int(value) for key, value in counted.sum().items()}
    if measure is Measure.HOURS:
        hours = frame(made["hours"])
        whole = with_the_rest(whole, hours[~hours["task"].isin(tasks["task"])])
    agree_on_row(told.iloc[-1].to_dict(), whole, measure, limit)


def with_the_rest(whole: dict[str, int], hours: pd.DataFrame) -> dict[str, int]:
    """The same with time that was given to no task, and with the maker's declared hours.

    Time on a task that is not on the aircraft is shown as unclaimed.
    """
    side = hours["kind"].where(hours["kind"] != "other", "unclaimed")
    side = side.where(hours["role"] != "paid", "paid").where(hours["task"] == "", "unclaimed")
    rest = hours["seconds"].astype(int).groupby(side).sum()
    return {**{key: n + int(rest.get(key, 0)) for key, n in whole.items()}, "maker": kit_seconds()}


def kit_seconds() -> int:
    """`kit hours` of the example, as its journal.yaml has them."""
    words = (tools.EXAMPLE / "journal.yaml").read_text(encoding="utf-8")
    found = re.search(r"^kit hours: (\d+)h$", words, re.MULTILINE)
    assert found
    return int(found[1]) * 3600


def agree_on_row(
    told: Mapping[str, str], counted: Mapping[str, int], measure: Measure, limit: str
) -> None:
    """Columns, share, limit, headroom: each number as an exact fraction of the measure's unit."""
    for side in SIDES:
        rounded = abs(Fraction(told[side]) - counted[side] * STEP[measure])
        assert rounded <= Fraction(1, 2_000_000), side
    if measure is not Measure.HOURS:
        assert Fraction(told["open"]) == counted["open"] * STEP[measure]
    builder = sum(counted[side] for side in BUILDER)
    against = sum(counted[side] for side in AGAINST[measure])
    assert told["limit"] == limit
    if measure is Measure.HOURS and told["area"]:
        assert (told["share"], told["meets"]) == ("", "")
        return
    share = Fraction(builder, builder + against)
    assert abs(Fraction(told["share"]) - share) <= Fraction(1, 2_000_000)
    assert told["meets"] == ("yes" if met(limit, share) else "no")
    agree_on_headroom(
        Fraction(told["headroom"]) / STEP[measure], (builder, against), measure, limit
    )


def agree_on_headroom(told: Fraction, both: tuple[int, int], measure: Measure, limit: str) -> None:
    """With the headroom gone to paid help the limit is met, and with one step more it is lost."""
    headroom = round(told)
    assert abs(told - headroom) < Fraction(1, 100)
    paid_counts = "paid" in AGAINST[measure]
    builder, against = both

    def after(step: int) -> bool:
        left = builder - step
        total = builder + against if paid_counts else left + against
        return total > 0 and left >= 0 and met(limit, Fraction(left, total))

    assert after(headroom) or headroom == 0
    assert not after(headroom + 1)
    if headroom:
        assert all(after(step) for step in range(min(headroom, TRIES)))


def made_in(bag: Path) -> dict[str, bytes]:
    """The tables of a bag that the count is made from and held against."""
    names = ("claim", "tasks", "hours")
    return {name: (bag / f"data/tables/{name}.csv").read_bytes() for name in names}


def met(limit: str, share: Fraction) -> bool:
    """Whether a share meets a limit as claim.csv writes it."""
    sign, number = limit.split()
    return share > Fraction(number) if sign == ">" else share >= Fraction(number)


@pytest.fixture(scope="session")
def example() -> Ledger:
    """The example journal, read once."""
    return read_journal(Folder.at(tools.EXAMPLE))


@pytest.mark.parametrize("name", [name for name in RULEBOOKS if name != OWN])
def test_the_claim_of_the_example_is_the_independent_count(example: Ledger, name: str) -> None:
    """By every rulebook the tables of the example agree among themselves."""
    by, _ = find_rulebook(name)
    assert by
    made = tables(replace(example, rulebook=by), {})
    names = ("claim", "tasks", "hours")
    agree({each: made[f"tables/{each}.csv"] for each in names}, by.measure, str(by.limit))


def test_the_claim_in_the_dossier_is_the_independent_count(example_dossier: Path) -> None:
    """In the example's bag claim.csv is what pandas counts from the bag's own tables."""
    agree(made_in(example_dossier), Measure.POINTS, "> 0.5")


@pytest.mark.parametrize(
    ("table", "row", "column", "by"),
    [
        ("claim", -1, "maker", "0.1"),
        ("claim", 0, "headroom", "0.1"),
        ("claim", 0, "open", "0.1"),
        ("claim", 1, "share", "0.000001"),
        ("claim", -1, "tasks", "1"),
        ("tasks", 0, "credit_maker", "0.1"),
    ],
)
def test_a_table_that_is_wrong_is_found(
    example_dossier: Path, table: str, row: int, column: str, by: str
) -> None:
    """One step more in a cell of claim.csv, or in a task's credit, is no longer the same count."""
    made = made_in(example_dossier)
    wrong = frame(made[table])
    cell = wrong.columns.get_loc(column)
    wrong.iloc[row, cell] = str(Decimal(wrong.iloc[row, cell]) + Decimal(by))
    made[table] = wrong.to_csv(index=False).encode()
    with pytest.raises(AssertionError):
        agree(made, Measure.POINTS, "> 0.5")
