"""Names as one writes them in a hurry become the ids of the work list."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from builderlog.bench.desk import Desk
from builderlog.bench.form_names import (
    areas_offered,
    is_area,
    people_offered,
    subject_meant,
    task_meant,
    tasks_offered,
)
from builderlog.knowing.settings import Worklist
from builderlog.knowing.units import UnreadableError


@pytest.mark.parametrize(
    "words", ["W14", "w14", "Fit aileron skins", "fit  AILERON skins", "W14 Fit aileron skins"]
)
def test_a_task_is_known_by_id_name_or_both(made_desk: Desk, words: str) -> None:
    """Id, name, or the two as the list of completions shows them, in any case."""
    assert task_meant(words, made_desk.ledger) == "W14"


def test_an_unknown_task_is_told_with_the_nearest(made_desk: Desk) -> None:
    """What is no task is quoted, and a near id or name is offered."""
    with pytest.raises(UnreadableError, match=r"'W144' is no task .* did you mean 'W14'"):
        task_meant("W144", made_desk.ledger)
    with pytest.raises(UnreadableError, match="did you mean 'Fit aileron skins'"):
        task_meant("Fit aileron skin", made_desk.ledger)


def test_an_area_is_a_subject_and_no_task(made_desk: Desk) -> None:
    """Areas can be closed and hold snags; a task's hours cannot be given to them."""
    assert subject_meant("wings", made_desk.ledger) == "W"
    assert is_area("W", made_desk.ledger)
    assert not is_area("W14", made_desk.ledger)
    with pytest.raises(UnreadableError, match="'wings' is no task"):
        task_meant("wings", made_desk.ledger)


def test_without_a_work_list_ids_are_free_text(made_desk: Desk) -> None:
    """Any word stands for a task then, and those of the newest work are offered first."""
    free = replace(made_desk.ledger, worklist=Worklist())
    assert (task_meant("nose", free), subject_meant("tail", free)) == ("nose", "tail")
    assert [choice.id for choice in tasks_offered(free)] == ["W14"]
    assert areas_offered(free) == ()


def test_open_tasks_are_offered_first(made_desk: Desk) -> None:
    """Done tasks come last, and those that do not apply are not offered."""
    offered = [choice.id for choice in tasks_offered(made_desk.ledger)]
    assert offered == ["W14", "W15", "E01", "W13"]


def test_people_are_those_of_the_day(made_desk: Desk) -> None:
    """The journal's builder comes first, and nobody whose time here is over."""
    people = [person.name for person in people_offered(made_desk.ledger, date(2026, 3, 16))]
    assert people == ["Ines", "Tomas", "Ada"]
    before = [person.name for person in people_offered(made_desk.ledger, date(2026, 1, 16))]
    assert before[-1] == "Osk & Sons"
