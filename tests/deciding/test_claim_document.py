"""The documents of `claim --json`: keys that other programs rely on, numbers as decimal text."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.claim_document import claim_document, columns_document, hiring_document
from builderlog.deciding.counting import Columns
from builderlog.deciding.hiring import hiring, tasks_named
from builderlog.deciding.portion import portion
from builderlog.knowing.entries import Work
from builderlog.knowing.rulebook import Measure, Rulebook
from builderlog.knowing.settings import Task
from builderlog.knowing.units import Length
from tests import making
from tests.deciding.made_claims import HOUR, book, claimed, hours, reckoned, rules, task_lists

BY_POINTS, BY_MARKS = rules(), rules(Measure.MARKS)
BY_HOURS = rules(Measure.HOURS, ">= 0.5")
DECIMAL = re.compile(r"\d+(\.\d+)?")
DONE = claimed("W1", (3, 0, 2, 5), done=True)
OPEN = claimed("T1", (0, 1, 8, 0))


def columns(*texts: str) -> dict[str, str]:
    """Columns in the contract's order."""
    return dict(zip(("maker", "paid", "assembly", "fabrication", "unclaimed"), texts, strict=True))


def test_the_document_is_the_contracts() -> None:
    """Two tasks give exactly the contract's keys and numbers, and ours beside them."""
    met = {"meets": True, "short": "0.0"}
    done = {
        **met,
        "tasks": 1,
        "columns": columns("0.3", "0.0", "0.2", "0.5", "0.0"),
        "share": "0.700000",
        "headroom": "0.1",
    }
    still = {
        **met,
        "tasks": 1,
        "columns": columns("0.0", "0.1", "0.8", "0.0", "0.1"),
        "share": "0.800000",
        "headroom": "0.2",
    }
    assert json.loads(json.dumps(claim_document(reckoned(DONE, OPEN)))) == {
        "rulebook": "made",
        "measure": "points",
        "tasks": 2,
        "columns": columns("0.3", "0.1", "1.0", "0.5", "0.1"),
        "share": "0.750000",
        "limit": "> 0.5",
        **met,
        "headroom": "0.4",
        "open_headroom": "0.4",
        "recorded": "0.0",
        "done": done,
        "planned": {
            "tasks": 2,
            "columns": columns("0.3", "0.1", "0.8", "0.0", "0.8"),
            "share": "0.400000",
            "meets": False,
            "headroom": "0.0",
            "short": "0.3",
        },
        "areas": {"W": {**done, "open": "0.0"}, "T": {**still, "open": "0.8"}},
        "derived_marks": [],
        "settled": True,
        "citation": "Made Rules, part 1",
    }


@pytest.mark.parametrize(
    ("by", "share", "headroom", "maker"),
    [
        (BY_POINTS, "0.750000", "0.4", "0.3"),
        (BY_MARKS, "0.666667", "0", "1"),
        (BY_HOURS, "0.600000", "1", "2"),
    ],
)
def test_numbers_of_every_measure(by: Rulebook, share: str, headroom: str, maker: str) -> None:
    """Points have one decimal, marks none, hours as many as they need."""
    work = [hours(3, "T1", Work.ASSEMBLY)]
    document = claim_document(portion(book(DONE, OPEN, work=work, kit=2), by))
    held = document["columns"]
    assert isinstance(held, dict)
    assert (document["share"], document["headroom"]) == (share, headroom)
    assert (held["maker"], document["measure"]) == (maker, by.measure.value)


@pytest.mark.parametrize(("more", "meets"), [(0, False), (1, True)])
def test_meets_comes_from_the_exact_fraction(more: int, meets: bool) -> None:  # noqa: FBT001 - a parameter of the test
    """Where six decimals say a half, `meets` still tells which side of it the share is."""
    work = [making.worked("2026-03-14", 1000 * HOUR + more, None, kind=Work.ASSEMBLY)]
    document = claim_document(portion(book(work=work, kit=1000), rules(Measure.HOURS, "> 0.5")))
    assert (document["share"], document["limit"]) == ("0.500000", "> 0.5")
    assert document["meets"] is meets


def test_columns_by_name() -> None:
    """Every column stands under its name, in the measure's unit."""
    assert columns_document(Columns(1, 2, 3, 4, 5), Measure.MARKS) == columns(*"12345")


def test_no_share_is_none_of_it() -> None:
    """Where no share can be told, six zeros stand for it and no limit is met."""
    document = claim_document(reckoned())
    assert (document["share"], document["meets"], document["headroom"]) == (
        "0.000000",
        False,
        "0.0",
    )
    assert document["areas"] == {}


@settings(deadline=None)
@given(task_lists(), st.sampled_from((BY_POINTS, BY_MARKS, BY_HOURS)))
def test_every_number_is_decimal_text(tasks: list[Task], by: Rulebook) -> None:
    """Every number but the count of tasks is plain decimal text; a part may have no share."""
    work = [hours(1, task.id, Work.ASSEMBLY) for task in tasks]
    found = portion(book(*tasks, work=work, kit=1), by)
    document = json.loads(json.dumps(claim_document(found)))
    parts = [document, document["done"], document["planned"], *document["areas"].values()]
    for part in parts:
        if part is document or part["share"] is not None:
            assert re.fullmatch(r"[01]\.\d{6}", part["share"])
        assert (part["share"] is None) is (part["meets"] is None)
        numbers = [*part["columns"].values(), part["headroom"], part["short"]]
        assert all(DECIMAL.fullmatch(number) for number in numbers)
        assert isinstance(part["tasks"], int)


def test_what_can_be_hired() -> None:
    """What `--hire` adds: the tasks, the open ones, and how much of them could go."""
    ledger = book(DONE, OPEN)
    found = portion(ledger, BY_POINTS)
    asked = hiring(tasks_named(ledger.worklist, ["W", "T"]), found)
    assert hiring_document(asked, Measure.POINTS) == {
        "tasks": ["W1", "T1"],
        "open": ["T1"],
        "builder": "0.8",
        "unclaimed": "0.1",
        "most": "0.4",
        "share": "0.550000",
    }


def test_hours_to_hire_in_the_document() -> None:
    """Where hours are counted, `most` is in hours, and the share is the planned one."""
    ledger = book(claimed("W1", estimate=Length(HOUR * 5 // 2)), kit=1)
    asked = hiring(tasks_named(ledger.worklist, ["W1"]), portion(ledger, BY_HOURS))
    document = hiring_document(asked, Measure.HOURS)
    assert (document["builder"], document["most"], document["share"]) == ("2.5", "1.5", "0.500000")
