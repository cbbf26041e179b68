"""A journal from a spreadsheet counts what pandas counts in the same file.

pandas (PyPI), a general data-frame library, is told the order of the dates, and reads dates and
lengths itself.
"""

from __future__ import annotations

import json
import random
from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest

from tests.command.running import run

PEOPLE = ("Ines", "Tomas", "Osk")
TASKS = ("W14", "W15", "F1", "")


def spreadsheet(chance: random.Random, form: str) -> str:
    """Some two hundred evenings, dates in one order, lengths as hours and minutes."""
    day, rows = date(2024, 11, 3), ["Date,Duration,Who,Task,Notes"]
    for number in range(220):
        day += timedelta(days=chance.choice((0, 1, 2, 3)))
        length = f"{chance.randrange(5)}:{chance.randrange(60):02}:00"
        who, task = chance.choice(PEOPLE), chance.choice(TASKS)
        rows.append(f'{day.strftime(form)},{length},{who},{task},"evening {number}, all well"')
    return "\n".join(rows) + "\n"


@pytest.mark.parametrize("form", ["%d/%m/%y", "%m/%d/%Y", "%d %b %Y"])
def test_totals_are_those_of_a_data_frame(tmp_path: Path, form: str) -> None:
    """Seconds in all, by person, by month and by task equal pandas' sums over the same file."""
    file = tmp_path / "hours.csv"
    file.write_text(spreadsheet(random.Random(form), form))
    people = ("--builder", "Ines", "--person", "Tomas=helper", "--person", "Osk=paid")
    made = run("start", tmp_path / "new", "--from-table", file, *people)
    assert (made.status, made.err.count("mistake")) == (0, 0), made.err
    tally = json.loads(run("tally", tmp_path / "new", "--json").out)
    frame = pd.read_csv(file, keep_default_na=False)
    frame["seconds"] = pd.to_timedelta(frame["Duration"]).dt.total_seconds().astype(int)
    days = pd.to_datetime(frame["Date"], format=form)
    frame["month"] = days.dt.strftime("%Y-%m")
    assert tally["seconds"] == int(frame["seconds"].sum())
    assert tally["by_person"] == sums(frame, "Who")
    assert {month: one["seconds"] for month, one in tally["by_month"].items()} == sums(
        frame, "month"
    )
    tasked = frame[frame["Task"] != ""]
    assert {task: one["seconds"] for task, one in tally["by_task"].items()} == sums(tasked, "Task")


def sums(frame: pd.DataFrame, column: str) -> dict[str, int]:
    """Seconds by the words of a column."""
    return {str(key): int(value) for key, value in frame.groupby(column)["seconds"].sum().items()}
