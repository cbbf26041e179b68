"""Areas from tail to nose, by the words in their names."""

from __future__ import annotations

import pytest

from builderlog.deciding.tail_to_nose import NO_PLACE, PLACES, place_of, tail_to_nose
from builderlog.knowing.settings import Area
from builderlog.reading.problem import Place

NAMED = {
    "Tail surfaces": "tail",
    "Empennage": "tail",
    "Stabilizer and elevators": "tail",
    "Tailplane": "tail",
    "Tail-cone and fuselage": "rear fuselage",
    "Tail boom": "rear fuselage",
    "Aft fuselage": "rear fuselage",
    "Fuselage": "fuselage",
    "Wings": "wings",
    "Ailerons and flaps": "wings",
    "Undercarriage": "undercarriage",
    "Landing gear": "undercarriage",
    "Tail wheel": "undercarriage",
    "Tailwheel": "undercarriage",
    "Cabin, canopy and doors": "cockpit",
    "Canard": "nose",
    "Engine and propeller": "engine",
    "Cowling": "engine",
    "Firewall forward": "engine",
    "Flight controls": None,
    "Fuel system": None,
    "Electrics and instruments": None,
    "Finishing": None,
    "Sparring": None,
}


def area(name: str, code: str = "X") -> Area:
    """An area of that name."""
    return Area(code, name, Place("worklist.yaml"))


@pytest.mark.parametrize(("name", "place"), NAMED.items(), ids=NAMED)
def test_an_area_has_the_place_that_its_name_tells(name: str, place: str | None) -> None:
    """Well-known words tell a place; of several the one nearest the tail."""
    at = place_of(area(name))
    assert (PLACES[at][0] if at != NO_PLACE else None) == place


def test_areas_run_from_tail_to_nose_and_then_through_the_aircraft() -> None:
    """Areas of one place, and those without one, keep the order of the list."""
    names = ["Engine", "Fuel", "Left wing", "Controls", "Right wing", "Rudder", "Cabin"]
    found = [each.name for each in tail_to_nose(map(area, names))]
    assert found == ["Rudder", "Left wing", "Right wing", "Cabin", "Engine", "Fuel", "Controls"]


def test_an_id_can_tell_where_a_name_does_not() -> None:
    """An area that is called by its id alone has the place of its id."""
    assert PLACES[place_of(area("", "wing"))][0] == "wings"
