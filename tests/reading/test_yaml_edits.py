"""Changes to YAML at exact places: what stands around decides how, and no other byte moves."""

from __future__ import annotations

import pytest

from builderlog.reading.source import source_of
from builderlog.reading.words import Series, Table
from builderlog.reading.yaml_edits import CannotEditError, Edits, Frame, Item, pair_of
from builderlog.reading.yaml_words import read_yaml

ORDER = ("a", "b", "c", "d")


def opened(text: str) -> tuple[Edits, Table]:
    """The edits of a text and its table."""
    source, _ = source_of("x.yaml", text.encode())
    root, problems = read_yaml(source, 0, len(text))
    assert problems == []
    assert isinstance(root, Table)
    return Edits(source), root


@pytest.mark.parametrize(
    ("text", "key", "new", "expected"),
    [
        ("a: 1\nb: 2\n", "a", "9", "a: 9\nb: 2\n"),
        ("{a: 'x', b: 2}", "a", "it's", "{a: 'it''s', b: 2}"),
        ('{a: "x"}', "a", "y z", '{a: "y z"}'),
        ('{a: "x"}', "a", 'say "y"', "{a: 'say \"y\"'}"),
        ("{a: 1}", "b", "x: y", '{a: 1, b: "x: y"}'),
        ("{a: 1, d: 4}", "c", "3", "{a: 1, c: 3, d: 4}"),
        ("{b: 1, d: 4}", "a", "3", "{a: 3, b: 1, d: 4}"),
        ("{a: 1,\n b: 2,  # two\n}", "c", "3", "{a: 1,\n b: 2, c: 3,  # two\n}"),
        ("a: 1   # one\nc: 3", "b", "2", "a: 1   # one\nb: 2\nc: 3"),
        ("a: 1   # one\nc: 3", "d", "4", "a: 1   # one\nc: 3\nd: 4"),
        ("c: 3\n", "a", "1", "a: 1\nc: 3\n"),
        ("a:   # nothing\nb: 2\n", "a", "1", "a: 1   # nothing\nb: 2\n"),
        ("{a: , b: 2}", "a", "1", "{a: 1, b: 2}"),
        ("a: |\n  one\n  two\n\nb: 2\n", "a", "3", "a: 3\n\nb: 2\n"),
        ("a: one\n  two # x\nb: 2\n", "a", "3", "a: 3 # x\nb: 2\n"),
        ("a: |\n  one\nc: 3\n", "b", "2", "a: |\n  one\nb: 2\nc: 3\n"),
    ],
)
def test_a_key_is_set_where_it_belongs(text: str, key: str, new: str, expected: str) -> None:
    """A value is replaced in its quotes; a key that is not there comes in the order of keys."""
    edits, table = opened(text)
    edits.set_text(table, key, new, ORDER)
    assert edits.changed() == expected


def test_a_list_below_its_key_gives_way_to_a_value_behind_it() -> None:
    """The key's own comment stays."""
    edits, table = opened("a:  # two\n- 1\n- 0\nb: x\n")
    edits.set_yaml(table, "a", "[1, 1]", ORDER)
    assert edits.changed() == "a: [1, 1]  # two\nb: x\n"


def test_of_two_at_one_place_the_first_asked_for_stands_first() -> None:
    """A value that is filled in and a key behind it do not change places."""
    edits, table = opened("{a: , d: 4}")
    edits.set_text(table, "a", "1", ORDER)
    edits.set_text(table, "b", "2", ORDER)
    edits.set_text(table, "c", "3", ORDER)
    assert edits.changed() == "{a: 1, b: 2, c: 3, d: 4}"


ITEM = Item("{a: 1}", ("a: 1", "b: 2"))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: [x, y]", "a: [x, y, {a: 1}]"),
        ("a: [x,y]", "a: [x,y,{a: 1}]"),
        ("a: [\n  x,\n  y,\n]", "a: [\n  x,\n  y,\n  {a: 1},\n]"),
        ("a: [\n  x\n]", "a: [\n  x,\n  {a: 1}\n]"),
        ("a: []", "a: [{a: 1}]"),
        ("a: x", "a: [x, {a: 1}]"),
        ("{a: {b: 1}}", "{a: [{b: 1}, {a: 1}]}"),
        ("a:\n- x\n- y\nb: z\n", "a:\n- x\n- y\n- a: 1\n  b: 2\nb: z\n"),
        ("a:\n  -   x # c\n\n  -   y # d\n",
         "a:\n  -   x # c\n\n  -   y # d\n\n  -   a: 1\n      b: 2\n"),
        ("a: # c\nb: z\n", "a: # c\n  - a: 1\n    b: 2\nb: z\n"),
        ("{a: , b: z}", "{a: [{a: 1}], b: z}"),
        ("b: z", "a:\n  - a: 1\n    b: 2\nb: z"),
        ("{b: z}", "{a: [{a: 1}], b: z}"),
    ],
)  # fmt: skip
def test_an_item_comes_to_the_end_of_a_list(text: str, expected: str) -> None:
    """In brackets or below dashes, parted and set in as the others are; a list where none was."""
    edits, table = opened(text)
    edits.append(table, "a", [ITEM], ORDER)
    assert edits.changed() == expected


def test_an_item_that_gets_brackets_may_be_changed_too() -> None:
    """The brackets stand around what has taken the item's place, whatever was asked for first."""
    edits, table = opened("a: x\nb: z")
    pair = pair_of(table, "a")
    assert pair
    edits.replace(pair.value, "{y: 1}")
    edits.append(table, "a", [ITEM], ORDER)
    assert edits.changed() == "a: [{y: 1}, {a: 1}]\nb: z"


def test_one_item_over_lines_gets_a_dash() -> None:
    """Its lines are set in below the dash, comments and the lines of a text too, blank ones not."""
    edits, table = opened("a:\n  b: |\n    x\n\n   \n    y\n  # c\n  c: 2\nd: 3\n")
    edits.append(table, "a", [ITEM], ORDER)
    assert edits.changed() == (
        "a:\n  - b: |\n      x\n\n     \n      y\n    # c\n    c: 2\n  - a: 1\n    b: 2\nd: 3\n"
    )


def test_a_text_over_lines_cannot_get_brackets() -> None:
    """A text with a bar would lose its lines there."""
    edits, table = opened("a: |\n  x\n")
    with pytest.raises(CannotEditError, match="put it in one line"):
        edits.append(table, "a", [ITEM], ORDER)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: x, y", 'a: ["x, y", {a: 1}]'),
        ('a: it\'s "x", y', "a: ['it''s \"x\", y', {a: 1}]"),
        ("a: 19:10-22:25", "a: [19:10-22:25, {a: 1}]"),
        ("a: 'x, y'", "a: ['x, y', {a: 1}]"),
    ],
)
def test_a_word_that_gets_brackets_gets_quotes_where_it_needs_them(
    text: str, expected: str
) -> None:
    """What would end in brackets is quoted; its own quotes stay what they are."""
    edits, table = opened(text)
    edits.append(table, "a", [ITEM], ORDER)
    assert edits.changed() == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a:\n  - x\n  # - y\nb: z", "a:\n  - x\n  # - y\n  - a: 1\n    b: 2\nb: z"),
        ("a:\n- x\n# of b\nb: z", "a:\n- x\n- a: 1\n  b: 2\n# of b\nb: z"),
        ("a:\n- x\n # of x\nb: z", "a:\n- x\n # of x\n- a: 1\n  b: 2\nb: z"),
        ("a:\n  - x\n\n  # apart\nb: z", "a:\n  - x\n  - a: 1\n    b: 2\n\n  # apart\nb: z"),
    ],
)
def test_a_comment_below_the_last_item_stays_with_it(text: str, expected: str) -> None:
    """Unless it begins where the keys begin: then it is the next key's."""
    edits, table = opened(text)
    edits.append(table, "a", [ITEM], ORDER)
    assert edits.changed() == expected


def test_keys_that_the_order_does_not_know_are_passed_over() -> None:
    """A key comes behind the last one that stands before it in the order."""
    edits, table = opened("x: 0\na: 1\n  # of a\ny: 2\nc: 3\n")
    edits.set_text(table, "b", "2", ORDER)
    assert edits.changed() == "x: 0\na: 1\n  # of a\nb: 2\ny: 2\nc: 3\n"


def test_blank_lines_that_belong_to_a_text_stay_in_it() -> None:
    """A text with a plus keeps its blank lines, so that what comes behind it comes below them."""
    edits, table = opened("a: |+\n  x\n\nc: 3\n")
    edits.set_text(table, "b", "2", ORDER)
    assert edits.changed() == "a: |+\n  x\n\nb: 2\nc: 3\n"


def test_a_node_ends_with_its_last_word() -> None:
    """What libyaml counts to a list, blank lines and comments behind it, is no part of it."""
    edits, table = opened("a:\n- x:\n    - y  # c\n\n# d\nb: 1\n")
    pair = pair_of(table, "a")
    assert pair
    assert isinstance(pair.value, Series)
    assert edits.raw(pair.value) == "- x:\n    - y"


def test_lines_of_items_follow_their_frame() -> None:
    """Line ends, indent, dash and blank lines are those of the frame."""
    frame = Frame("\r\n", 2, "-  ", parted=True)
    assert frame.lines_of([ITEM]) == "\r\n\r\n  -  a: 1\r\n     b: 2"
