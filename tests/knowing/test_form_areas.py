"""Tasks that are new find their area: by id, by name, by their letters, or in a new one."""

from __future__ import annotations

import pytest

from tests.knowing.forms_typed import merged

LIST = """\
areas:
  - {area: W, name: Wings, tasks: [W1, W2, X7]}
  - {area: T, name: Tail, tasks: [E1]}
  - {area: B, tasks: [C1]}
  - {area: D, tasks: [C2]}
"""


def homes(list_: str, table: str) -> dict[str, str]:
    """The area of each task that is new."""
    merge, _ = merged(list_, table)
    return {change.task.id: change.task.area for change in merge.added}


def made(list_: str, table: str) -> list[tuple[str, str]]:
    """Id and name of each area that is new."""
    return [(area.id, area.name) for area in merged(list_, table)[0].made]


@pytest.mark.parametrize(
    ("table", "area"),
    [
        ("area,task\nW,Q1", "W"),
        ("area,task\nWings,Q1", "W"),
        ("area,task\nWINGS,Q1", "W"),
        ("task,name,a\n,Tail,\nQ1,x,1", "T"),
        ("area name,task\nb,Q1", "B"),
        ("task\nW9", "W"),
        ("task\nE9", "T"),
        ("task\nX8", "W"),
        ("section,task\nWing group,W1\n,Q1", "W"),
    ],
)
def test_a_new_task_finds_an_area_of_the_list(table: str, area: str) -> None:
    """By the area's id or name, by where its neighbours in the form are, or by its letters."""
    assert homes(LIST, table)[next(iter(homes(LIST, table)))] == area
    assert made(LIST, table) == []


@pytest.mark.parametrize(
    ("table", "areas"),
    [
        ("area,area name,task\nQ,Floats,Q1\nQ,,Q2", [("Q", "Floats")]),
        ("area,task\nQ,Z1", [("Q", "Q")]),
        ("section,task\nFloats,Q1\n,Q2\n", [("Q", "Floats")]),
        ("section,task\nFloats and struts,Q1\n,R2\n", [("Floats", "Floats and struts")]),
        ("section,task\nFloats,Q1\nStruts,Q2\n", [("Floats", "Floats"), ("Struts", "Struts")]),
        ("section,task\nFloats,1\n,2\nFloats aft,3\n", [
            ("Floats", "Floats"), ("Floats2", "Floats aft"),
        ]),
        ("section,task\nFloats,W5\n,W6\n", [("Floats", "Floats")]),
        ("section,task\nWings aft,1\n", [("Wings", "Wings aft")]),
        ("section,task\n(?) !,1\n", [("area", "(?) !")]),
        ("task\nQ1\nQ2\n", [("Q", "Q")]),
        ("task\n1\n2\n", [("tasks", "tasks")]),
        ("task\nC3\n", [("C", "C")]),
        ("task,section\nQ1,\nQ2,Floats\n", [("Q", "Floats")]),
    ],
)  # fmt: skip
def test_an_area_that_is_new_gets_an_id(table: str, areas: list[tuple[str, str]]) -> None:
    """Its own, else the letters that only its tasks begin with, else a word that is free."""
    assert made(LIST, table) == areas


def test_an_area_that_is_only_named_for_known_tasks_is_not_made() -> None:
    """A form's other areas do not become empty ones in the list."""
    assert made(LIST, "section,task\nWing group,W1\n") == []


def test_a_name_that_the_form_gives_replaces_the_lists() -> None:
    """Where a column of ids and one of names say so, the list's area gets the name."""
    merge, _ = merged(LIST, "area,area name,task\nW,Mainplanes,W1\nT,Tail,E1\nB,Body,C1\n")
    assert merge.renamed == {"W": "Mainplanes", "B": "Body"}
    assert [area.name for area in merge.wanted.areas] == ["Mainplanes", "Tail", "Body", "D"]
