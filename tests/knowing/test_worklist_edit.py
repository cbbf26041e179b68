"""A merge brought into the text: what must change is changed, and no other byte moves."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builderlog.handover.tables import table_bytes, unguard
from builderlog.knowing.form_merge import merge_form
from builderlog.knowing.form_table import form_of
from builderlog.knowing.worklist_edit import edited, new_worklist, read_worklist
from builderlog.reading.csv_rows import read_csv
from builderlog.reading.problem import Weight
from builderlog.reading.yaml_edits import CannotEditError
from builderlog.sheets.form import form_sheet
from tests.examples import many
from tests.knowing.forms_typed import LIST, rows
from tests.knowing.worklist_styles import NAMES, worklists


def after(text: str, table: str) -> str:
    """The work list after a table was taken in."""
    found = read_worklist(LIST, text.encode())
    assert found.mistakes == ()
    merge, problems = merge_form(rows(table), found.worklist)
    assert [each for each in problems if each.weight is Weight.MISTAKE] == []
    return edited(found, merge).decode()


FLOW = """\
# ours   ## keep me
areas:
  - area: W
    name: Wings
    tasks:
      - {task: W1, name: "Spars: main", credit: {maker: 0.30, paid: 0}}   # the kit's
      - {task: W2,  state: 'open', name: 'It''s one'}

      - W3
  # between
  - {area: F, name: , tasks: [F1, {task: F2}]}
# end
"""
BLOCK = """\
areas:
- area: W   # wings
  tasks:
  -   task: W1
      # what the maker did
      credit:
        maker: "0.3"  # by the form
      name: >
        Main spars
        and doublers

  -   name: Ribs
      task: W2
      estimate:   # not yet
"""


@pytest.mark.parametrize(
    ("text", "table", "old", "new"),
    [
        (FLOW, "task,a\nW1,0.4", "maker: 0.30", "maker: 0.4"),
        (FLOW, "task,b\nW1,0.4", "paid: 0}", "paid: 0.4}"),
        (FLOW, "task,d\nW1,0.4", "paid: 0}", "paid: 0, fabrication: 0.4}"),
        (FLOW, "task,kind\nW1,assembly", 'main", ', 'main", work: assembly, '),
        (FLOW, 'task,name\nW1,"A, b"', '"Spars: main"', '"A, b"'),
        (FLOW, 'task,name\nW1,"A ""b"""', '"Spars: main"', "'A \"b\"'"),
        (FLOW, "task,name\nW2,Hers and it's", "'It''s one'", "'Hers and it''s'"),
        (FLOW, "task,state,a\nW2,done,1", "'open', name: 'It''s one'}",
         "'done', name: 'It''s one', credit: {maker: 1.0}}"),
        (FLOW, "task,marks maker,marks builder\nW2,x,", "one'}", "one', marks: [1, 0]}"),
        (FLOW, "task,estimate\nW3,2.5", "- W3", "- {task: W3, estimate: 2h30}"),
        (FLOW, "task,applies\nF1,no", "[F1, ", "[{task: F1, applies: no}, "),
        (FLOW, "task,name,a\nF2,Ribs,.5", "{task: F2}",
         "{task: F2, name: Ribs, credit: {maker: 0.5}}"),
        (FLOW, "task,area,area name\nF3,F,Body", "name: , tasks: [F1, {task: F2}]",
         "name: Body, tasks: [F1, {task: F2}, {task: F3}]"),
        (FLOW, "task,area,state\nW4,W,done", "      - W3\n",
         "      - W3\n\n      - {task: W4, state: done}\n"),
        (FLOW, "task,area,area name\nG1,G,Gear", "{task: F2}]}\n",
         "{task: F2}]}\n  - {area: G, name: Gear, tasks: [{task: G1}]}\n"),
        (BLOCK, "task,a\nW1,0.5", '"0.3"', '"0.5"'),
        (BLOCK, "task,b\nW1,0.5", "form\n", "form\n        paid: 0.5\n"),
        (BLOCK, "task,kind\nW1,assembly", "doublers\n", "doublers\n      work: assembly\n"),
        (BLOCK, "task,name\nW1,Spars", ">\n        Main spars\n        and doublers", "Spars"),
        (BLOCK, "task,estimate\nW2,4h", "estimate:   #", "estimate: 4h   #"),
        (BLOCK, "task,a,d\nW2,.5,.5", "# not yet\n",
         "# not yet\n      credit: {maker: 0.5, fabrication: 0.5}\n"),
        (BLOCK, "task,area,name\nW3,W,Tips", "# not yet\n",
         "# not yet\n\n  -   task: W3\n      name: Tips\n"),
        (BLOCK, "task,area,area name,name\nG1,G,Gear,Legs", "# not yet\n",
         "# not yet\n- area: G\n  name: Gear\n  tasks:\n  - task: G1\n    name: Legs\n"),
        (BLOCK, "area,area name,task\nW,Wings,W1", "# wings\n", "# wings\n  name: Wings\n"),
        ("areas: [{area: W, tasks: W1}]", "task\nW2", "W1}", "[W1, {task: W2}]}"),
        ("areas: {area: W}\n", "task\nW1", "{area: W}", "{area: W, tasks: [{task: W1}]}"),
        ("areas: {area: W}\n", "task\nV1", "{area: W}",
         "[{area: W}, {area: V, tasks: [{task: V1}]}]"),
        ("areas: []\n", "task\nV1", "[]", "[{area: V, tasks: [{task: V1}]}]"),
        ("{areas: }\n", "task\nV1", ": }", ": [{area: V, tasks: [{task: V1}]}]}"),
        ("areas:\n  - area: W\n    tasks: # none\n", "task\nW1", "# none\n",
         "# none\n      - {task: W1}\n"),
        ("areas:\n  - area: W # w", "task\nW1", "# w", "# w\n    tasks:\n      - {task: W1}"),
        ("---\nareas: # none", "task\nV1", "# none",
         "# none\n  - area: V\n    tasks:\n      - {task: V1}"),
        ("areas:\n- {area: W, tasks: [\n    W1,\n    W2\n  ]}\n", "task\nW3", "W2\n",
         "W2,\n    {task: W3}\n"),
        ("areas:\n- {area: W, tasks: [{task: W1, credit: {}}]}\n", "task,a,b\nW1,.9,.1", "{}",
         "{maker: 0.9, paid: 0.1}"),
        ("areas:\n- area: W\n  tasks:\n  - task: W1\n    credit:\n      paid: 0.1\n",
         "task,a\nW1,.5", "paid: 0.1", "maker: 0.5\n      paid: 0.1"),
        ("areas:\n- area: W\n  tasks:\n  - task: W1\n    marks:\n    - 1\n    - 0\n",
         "task,marks maker,marks builder\nW1,1,1", "marks:\n    - 1\n    - 0", "marks: [1, 1]"),
    ],
)  # fmt: skip
def test_the_text_is_changed_at_its_place_alone(text: str, table: str, old: str, new: str) -> None:
    """A value, a key or an item comes where it belongs, in the style of what stands around it."""
    for line_end in ("\n", "\r\n", "\r"):
        expected = text.replace(old, new).replace("\n", line_end)
        assert text.count(old) == 1
        assert after(text.replace("\n", line_end), table) == expected
    assert after(f"\ufeff{text}", table) == "\ufeff" + text.replace(old, new)


def test_several_changes_of_one_task_keep_the_order_of_keys() -> None:
    """Keys that come to one place stand in the order in which a work list has them."""
    text = "areas:\n- area: W\n  tasks:\n  - task: W1\n    credit:\n      paid: 0\n"
    table = (
        "task,name,kind,applies,state,estimate,a,d,marks maker,marks builder,area,area name\n"
        "W1,Spars,assembly,yes,done,3h,0.5,0.5,1,0,W,Wings\nW2,,,,,,,,,,W,\nG1,,,,,,,,,,G,\n"
    )
    assert after(text, table) == (
        "areas:\n- area: W\n  name: Wings\n  tasks:\n  - task: W1\n    name: Spars\n"
        "    work: assembly\n    estimate: 3h\n    state: done\n    credit:\n      maker: 0.5\n"
        "      paid: 0\n      fabrication: 0.5\n    marks: [1, 0]\n  - task: W2\n"
        "- area: G\n  tasks:\n  - task: G1\n"
    )


def test_a_work_list_that_was_not_there_is_written_whole() -> None:
    """Its head names where it comes from and which form prevails; areas stand apart."""
    merge, _ = merge_form(
        rows("no,name,a,d\n,Wings,,\nW1,Spars,0.5,\nW2,Ribs,N/A,\n,Body,,\nF1,Skins: all,0,1\n"),
        read_worklist(LIST, b"").worklist,
    )
    assert new_worklist(LIST, "kit.csv", merge).decode() == (
        "# The areas and tasks of the aircraft, from kit.csv.\n"
        "# A working list: the form that your inspector uses prevails. Credit is in tenths of a\n"
        "# task's one point; what is missing to 1 is not yet claimed.\n"
        "areas:\n"
        "  - area: W\n    name: Wings\n    tasks:\n"
        "      - {task: W1, name: Spars, credit: {maker: 0.5}}\n"
        "      - {task: W2, name: Ribs, applies: no}\n"
        "\n"
        "  - area: F\n    name: Body\n    tasks:\n"
        '      - {task: F1, name: "Skins: all", credit: {maker: 0, fabrication: 1.0}}\n'
    )


@pytest.mark.parametrize("text", ["", "# mine\n", "# mine", "---\n", "\ufeff# mine\r\n"])
def test_a_list_without_words_keeps_its_comments(text: str) -> None:
    """Comments stay above the areas that come; line ends are those of the file."""
    found = after(text, "task\nW1\n")
    assert found.startswith(text)
    areas = "areas:\n  - area: W\n    tasks:\n      - {task: W1}\n"
    assert found.removeprefix(text).replace("\r\n", "\n").removeprefix("\n") == areas
    assert ("\r\n" in found) is ("\r\n" in text)
    assert not re.search(r"\r\n", found) or not re.search(r"(?<!\r)\n", found)


@pytest.mark.parametrize(
    ("text", "table", "expected"),
    [
        (
            "areas:\n- area: W\n  tasks:\n    task: W1\n    name: a\n",
            "task\nW2",
            "areas:\n- area: W\n  tasks:\n    - task: W1\n      name: a\n    - task: W2\n",
        ),
        (
            "areas:\n  area: W\n  tasks: [W1]\n",
            "task\nV2",
            "areas:\n  - area: W\n    tasks: [W1]\n  - area: V\n    tasks:\n      - {task: V2}\n",
        ),
    ],
)
def test_one_task_or_area_without_a_dash_gets_one(text: str, table: str, expected: str) -> None:
    """Its lines are set in, and the new one comes below it."""
    assert after(text, table) == expected


def test_what_cannot_be_changed_in_place_is_refused() -> None:
    """Odd YAML is told with what to write, and nothing comes of it."""
    with pytest.raises(CannotEditError, match="put it in one line"):
        after("areas:\n- area: W\n  tasks: |\n    W1\n", "task\nW2")


def test_an_outcome_that_says_something_else_is_refused() -> None:
    """The safety net bites: a text that does not come to what was wanted is not handed out."""
    found = read_worklist(LIST, FLOW.encode())
    merge, _ = merge_form(rows("task,a\nW1,0.5\n"), found.worklist)
    wanted = replace(merge.wanted, areas=merge.wanted.areas[:1])
    with pytest.raises(CannotEditError):
        edited(found, replace(merge, wanted=wanted))


# ---- any work list, in any style, with any form -----------------------------------------------

HEADER = (
    "task,name,kind,applies,state,estimate,a,b,c,d,marks maker,marks builder,area id,area name"
).split(",")
COMMENTS = re.compile(rb"#(?: as told| \{x: \[y| - a comment: here| head| a| end)(?=[\r\n]|\Z)")


@st.composite
def typed_forms(draw: st.DrawFn, ids: list[str], areas: list[str]) -> bytes:
    """A form over some of these tasks and some new ones, many of its cells empty."""
    names = {"A": "Alpha", "B": "Be: ta"}
    typed = []
    for id_ in draw(st.lists(st.sampled_from([*ids, "N1", "N2", "Q1"]), unique=True, min_size=1)):
        cells = [
            draw(st.just("") | st.sampled_from(choice))
            for choice in (
                *(["fabrication", "assembly"], ["yes", "no"], ["open", "done"], ["3h", "0.1"]),
                *(["0", "0.1", "0.2"],) * 4,
                *(["1", "2"], ["0", "2"], [*areas, "Z"]),
            )
        ]
        typed.append([id_, draw(st.just("") | NAMES), *cells, names.get(cells[-1], "")])
    out = io.StringIO()
    csv.writer(out).writerows([HEADER, *typed])
    return out.getvalue().encode()


@settings(max_examples=many(100), deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_form_goes_into_any_work_list(data: st.DataObject) -> None:
    """In every style the outcome says what was wanted, keeps all comments, and is then settled."""
    raw = data.draw(worklists())
    found = read_worklist(LIST, raw)
    assert found.mistakes == ()
    ids, areas = list(found.worklist.by_id), [area.id for area in found.worklist.areas]
    form, told = form_of(read_csv("form.csv", data.draw(typed_forms(ids, areas)))[0])
    merge, more = merge_form(form.rows, found.worklist)
    if any(each.weight is Weight.MISTAKE for each in (*told, *more)):
        return
    out = edited(found, merge)
    again, _ = merge_form(form.rows, read_worklist(LIST, out).worklist)
    assert (again.changed, again.added, again.renamed) == ((), (), {})
    assert COMMENTS.findall(out) == COMMENTS.findall(raw)
    if not (merge.changed or merge.added or merge.renamed):
        assert out == raw


@settings(max_examples=many(100), deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(worklists())
def test_an_exported_list_comes_back_as_it_was(raw: bytes) -> None:
    """Taken into an empty journal and exported again it gives the same bytes; into itself none."""
    found = read_worklist(LIST, raw)
    exported = table_bytes(form_sheet(found.worklist))
    table, _ = read_csv("form.csv", exported)
    form, told = form_of(table, unguard)
    assert [each.code for each in told] == ([] if found.worklist.by_id else ["no-tasks"])
    itself, more = merge_form(form.rows, found.worklist)
    assert (more, edited(found, itself)) == ((), raw)
    alone, _ = merge_form(form.rows, read_worklist(LIST, b"").worklist)
    made = read_worklist(LIST, new_worklist(LIST, "form.csv", alone))
    assert table_bytes(form_sheet(made.worklist)) == exported
