"""What a joint is made of, from the words of the record alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.deciding.joints import Joint, Made, aircraft_of, joint_of
from tests.knowing.journals import ledger_of

UNTOLD = Joint(Made.UNTOLD)
METAL = Joint(Made.METAL, "rivet")
JOINTS = [
    # own words, those of tasks and areas, made of, by which word
    ("steel bracket on the spar", "Wings", Made.METAL, "steel"),
    ("hinge", "Aluminium spar", Made.METAL, "Aluminium"),
    ("hinge", "Rivet the skins", Made.METAL, "Rivet"),
    ("4130 fitting", "", Made.METAL, "4130"),
    ("carbon steel strap", "", Made.METAL, "steel"),
    ("spar of spruce", "Rivet the skins", Made.SOFT, "spruce"),
    ("steel bracket", "Wooden spar", Made.SOFT, "Wooden"),
    ("plywood gusset", "", Made.SOFT, "plywood"),
    ("hardwood block", "", Made.SOFT, "hardwood"),
    ("tube cluster", "Steel frame", Made.SOFT, "tube"),
    ("strut to tubing", "", Made.SOFT, "tubing"),
    ("bracket", "Laminate the spar caps", Made.SOFT, "Laminate"),
    ("carbon rib", "", Made.SOFT, "carbon"),
    ("canopy glass", "", Made.SOFT, "glass"),
    ("left hinge", "Wings", Made.UNTOLD, ""),
    ("skin", "Wings", Made.UNTOLD, ""),  # skins are of anything
    ("tubercle", "ashore, spineless, oaken", Made.UNTOLD, ""),
]


@pytest.mark.parametrize(("own", "around", "made", "word"), JOINTS)
def test_words_tell_what_a_joint_is_of(own: str, around: str, made: Made, word: str) -> None:
    """Softer materials count wherever they are named, metal only where none is."""
    assert joint_of([own], [around], UNTOLD) == Joint(made, word)


def test_an_aircraft_of_metal_tells_of_its_joints() -> None:
    """Where nothing near tells, the whole aircraft does, but only of metal."""
    assert joint_of(["hinge"], ["Wings"], METAL) == METAL
    assert joint_of(["tube"], ["Wings"], METAL).made is Made.SOFT
    assert joint_of(["hinge"], ["Wings"], Joint(Made.SOFT, "wood")) == UNTOLD


@pytest.mark.parametrize(
    ("names", "made"),
    [
        (["Rivet the fin", "Pitot tube"], Made.METAL),
        (["Skins: deburr, dimple", "Canopy acrylic"], Made.METAL),
        (["Rivet the fin", "Wooden tips"], Made.SOFT),
        (["Rivet the fin", "Cover with fabric"], Made.SOFT),
        (["Weld the tube frame"], Made.SOFT),
        (["Wings", "Fin"], Made.UNTOLD),
    ],
)
def test_a_work_list_tells_of_the_aircraft(tmp_path: Path, names: list[str], made: Made) -> None:
    """It is of metal where its list speaks of metal work and nowhere of wood or laminate."""
    tasks = "".join(f"      - {{task: T{n}, name: '{name}'}}\n" for n, name in enumerate(names))
    worklist = f"areas:\n  - area: A\n    tasks:\n{tasks}"
    assert aircraft_of(ledger_of(tmp_path, {"worklist.yaml": worklist})).made is made


def test_what_does_not_apply_tells_nothing(tmp_path: Path) -> None:
    """A task that is not on this aircraft says nothing of what it is made of."""
    tasks = "[{task: A1, name: Rivet}, {task: A2, name: Wood, applies: no}]"
    ledger = ledger_of(tmp_path, {"worklist.yaml": f"areas: [{{area: A, tasks: {tasks}}}]\n"})
    assert aircraft_of(ledger) == Joint(Made.METAL, "Rivet")
    assert aircraft_of(ledger_of(tmp_path / "b", {"worklist.yaml": "(none)"})) == UNTOLD
