"""A draft after the editor: exactly our untouched lines go, whatever the editor made of others."""

from __future__ import annotations

import pytest

from builderlog.noting.new_note_tidy import still_off, without_leftovers

BEGUN = b"""\
---
# Lines with # vanish.
date: 2026-03-14
title: 
hours: 
tasks: 
  # - {task: W14, hours: , work: fabrication}  # Skins
  # - {task: W15, hours: }
photos:
  - photo: photos/a.jpg
    caption: 
    shows: []
    seen: []
fixed: 
  # - {no: 2026-03-02.1, how: }  # nick in the skin
next: 
  # - order rivets
---

"""  # noqa: W291 - as the draft has it


def tidied(*changes: tuple[bytes, bytes]) -> bytes:
    """The draft with these changes of the builder's, each where it first fits, then tidied."""
    data = BEGUN
    for old, new in changes:
        assert old in data
        data = data.replace(old, new, 1)
    return without_leftovers(data, BEGUN)


def test_what_was_left_alone_goes() -> None:
    """Of an untouched draft only its date and its pictures stay."""
    left = b"---\ndate: 2026-03-14\nphotos:\n  - photo: photos/a.jpg\n---\n\n"
    assert without_leftovers(BEGUN, BEGUN) == left


@pytest.mark.parametrize("line_end", [b"\n", b"\r\n", b"\r"])
def test_what_was_written_stays(line_end: bytes) -> None:
    """Rows without their sign, filled places and text keep every byte, with any line end."""
    written = tidied(
        (b"title: ", b"title:  Skins, all"),
        (b"# - {task: W14, hours: ", b"- {task: W14, hours: 2h"),
        (b"# - {task: W15, hours: }", b"- {task: W15, hours: }"),
        (b"caption: ", b"caption: Held, with clecos"),
        (b"# - {no: 2026-03-02.1, how: }", b"- {no: 2026-03-02.1, how: filed}"),
        (b"next: ", b"next: dimple"),
        (b"---\n\n", b"---\nOn.\n\n# A heading of mine\n"),
    )
    assert written == (
        b"---\ndate: 2026-03-14\ntitle:  Skins, all\ntasks:\n"
        b"  - {task: W14, hours: 2h, work: fabrication}\n  - W15\n"
        b"photos:\n  - photo: photos/a.jpg\n    caption: Held, with clecos\n"
        b"fixed:\n  - {no: 2026-03-02.1, how: filed}\nnext: dimple\n"
        b"---\nOn.\n\n# A heading of mine\n"
    )
    data = BEGUN.replace(b"title: ", b"title:  Skins, all").replace(b"\n", line_end)
    kept = without_leftovers(data, BEGUN)
    assert kept.count(line_end) == kept.count(b"\n") or line_end == b"\r"
    assert b"title:  Skins, all" + line_end in kept
    assert b"W14" not in kept


def test_a_comment_of_the_builders_stays() -> None:
    """A line that the builder changed, or added, is no leftover, and is told as not counting."""
    data = tidied(
        (b"  # - order rivets", b"  # - order more rivets"),
        (b"date: 2026-03-14\n", b"date: 2026-03-14\n# mine\n"),
    )
    assert b"# mine\n" in data
    assert b"next:\n  # - order more rivets\n" in data
    assert [*still_off(data)] == [(7, "# - order more rivets")]


def test_a_comment_that_was_doubled_goes_once() -> None:
    """As often as we wrote it: a copy that the builder made stays."""
    line = b"  # - order rivets\n"
    assert tidied((line, line + line)).count(line) == 1


def test_a_key_with_lines_below_it_stays() -> None:
    """A key of ours stays where the builder wrote a list below it, dashes set in or not."""
    assert b"\nhours:\n  Ines: 2h\n" in tidied((b"hours: \n", b"hours: \n  Ines: 2h\n"))
    assert b"\nnext:\n- rivets\n" in tidied((b"next: \n", b"next: \n- rivets\n"))


def test_blanks_at_line_ends_do_not_matter() -> None:
    """Editors that strip blanks at line ends leave nothing else behind."""
    stripped = b"\n".join(line.rstrip() for line in BEGUN.split(b"\n"))
    assert without_leftovers(stripped, BEGUN) == without_leftovers(BEGUN, BEGUN)


@pytest.mark.parametrize("data", [b"", b"no front matter", b"---\n", b"\xff\xfe---\n", b"---\r---"])
def test_what_is_no_note_any_more_is_kept(data: bytes) -> None:
    """Whatever the builder made of the draft is kept where it has no line of ours."""
    assert without_leftovers(data, BEGUN) == data
