"""Notes that are changed in place, held against ruamel.yaml, a YAML library of others (PyPI).

What a note says is read by ruamel.yaml's base loader, which leaves every scalar a text, before and
after: everything else must say the same. That nothing but additions was made is seen in the bytes.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from builderlog.knowing.units import parse_length
from builderlog.noting.new_note import NewPart, NewPhoto, flow_of
from builderlog.noting.note_edit import (
    with_parts,
    with_photos,
    with_snag_numbers,
    with_span,
)
from tests.examples import many
from tests.noting.note_styles import (
    DAY,
    HOURS,
    PARTS,
    PARTS_TO_ADD,
    PATH,
    PHOTOS,
    SNAGS,
    notes,
    photos,
)

MANY = settings(
    max_examples=many(60),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)


def loaded(text: str) -> Any:  # noqa: ANN401 - whatever the other library makes of it
    """YAML as ruamel.yaml reads it, each scalar as its text; it takes no tab for a blank."""
    return YAML(typ="base", pure=True).load(text.replace("\t", " "))


def halves(data: bytes) -> tuple[str, str]:
    """The front matter and the prose, cut by the fences alone."""
    text = re.sub("\r\n|\r", "\n", data.decode().removeprefix("\ufeff"))
    found = re.match(r"\n*---\n((?:.*\n)*?)---(?:\n|\Z)", text)
    return (found[1], text[found.end() :]) if found else ("", text)


def says(data: bytes) -> dict[str, Any]:
    """The front matter as the other library reads it."""
    return {**(loaded(halves(data)[0]) or {})}


def listed(found: object) -> list[Any]:
    """One item needs no list; nothing is no item."""
    return found if isinstance(found, list) else [] if found in (None, "") else [found]


def is_added_to(old: bytes, new: bytes) -> bool:
    """Every byte of the old is there, in its order: nothing was taken out or moved."""
    rest = iter(new)
    return all(byte in rest for byte in old)


def held(old: bytes, new: bytes, key: str, added: list[Any]) -> None:
    """Only `key` says something else, and that is what it said with `added` behind it."""
    before, after = says(old), says(new)
    assert listed(after.pop(key)) == [*listed(before.pop(key, None)), *added]
    assert after == before
    assert halves(new)[1] == halves(old)[1]
    assert is_added_to(old, new)
    for comment in re.findall("#.*\n", halves(old)[0]):
        assert halves(new)[0].count(comment) == halves(old)[0].count(comment)


@MANY
@given(notes(PHOTOS), photos())
def test_pictures_are_added_and_no_byte_is_lost(text: str, new: list[NewPhoto]) -> None:
    """In every style the list says what it said and the new ones; done again, nothing changes."""
    after = with_photos(PATH, text.encode(), new)
    held(text.encode(), after, "photos", [loaded(flow_of(photo)) for photo in new])
    assert with_photos(PATH, after, new) == after


@MANY
@given(notes(PARTS), PARTS_TO_ADD)
def test_parts_are_added_and_no_byte_is_lost(text: str, new: list[NewPart]) -> None:
    """The same for parts."""
    after = with_parts(PATH, text.encode(), new)
    held(text.encode(), after, "parts", [loaded(flow_of(part)) for part in new])


def seconds(found: object, builder: str) -> dict[str, int]:
    """Whose hours are how long; a list is a list of spans."""
    named = found if isinstance(found, dict) else {builder: found} if found else {}
    return {
        name: sum(parse_length(one).seconds for one in listed(length))
        for name, length in named.items()
        if length
    }


@MANY
@given(notes(HOURS), st.sampled_from(["", "Ines", "Bo"]))
def test_a_span_is_added_to_the_hours_of_one_person(text: str, person: str) -> None:
    """That person has as much more, everybody else and everything else is as it was."""
    old = text.encode()
    if re.search(r"^hours:\n *-", halves(old)[0], re.MULTILINE):
        person = ""  # a list with dashes cannot get a name in front
    new = with_span(PATH, old, "20:30-22:00", person, "Ines")
    before, after = says(old), says(new)
    had, has = (seconds(found.pop("hours", None), "Ines") for found in (before, after))
    who = person or "Ines"
    assert has == {**had, who: had.get(who, 0) + 5400}
    assert after == before
    assert halves(new)[1] == halves(old)[1]


@MANY
@given(notes(SNAGS))
def test_every_snag_gets_its_number(text: str) -> None:
    """It is the date and the place that day; nothing else is said; done again, nothing changes."""
    old = text.encode()
    new = with_snag_numbers(PATH, old, date(2026, 3, 14))
    before, after = says(old), says(new)
    for place, (one, numbered) in enumerate(zip(snags(before), snags(after), strict=True), 1):
        row = {key: value for key, value in one.items() if value}
        assert numbered == {"no": f"{DAY}.{place}", **row}
    assert without_snags(after) == without_snags(before)
    assert halves(new)[1] == halves(old)[1]
    assert is_added_to(old, new)
    assert with_snag_numbers(PATH, new, date(2026, 3, 14)) == new


def snags(found: dict[str, Any]) -> list[dict[str, str]]:
    """The snags of a note, whichever way they are told."""
    rows = [*listed(found.get("snags")), *listed(found.get("squawks"))]
    for visit in listed(found.get("visits")):
        rows += listed(visit["found"])
    return [row if isinstance(row, dict) else {"snag": row} for row in rows]


def without_snags(found: dict[str, Any]) -> dict[str, Any]:
    """All that a note says but its snags."""
    kept = {key: value for key, value in found.items() if key not in ("snags", "squawks")}
    kept["visits"] = [{**visit, "found": ""} for visit in listed(found.get("visits"))]
    return kept
