"""The work lists of the package: whole, told apart, nothing guessed, and no official wording."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from builderlog.knowing import worklists
from builderlog.knowing.entries import Work
from builderlog.knowing.settings import Worklist
from builderlog.knowing.worklist_words import worklist_of
from builderlog.knowing.worklists import worklist_names, worklist_text
from builderlog.reading.front_matter import as_table
from builderlog.reading.problem import Place, Problem
from builderlog.reading.source import source_of
from builderlog.reading.yaml_words import read_yaml

AREAS = {
    "W": "Wings",
    "A": "Ailerons and flaps",
    "T": "Tail surfaces",
    "F": "Fuselage",
    "C": "Cabin, canopy and doors",
    "K": "Flight controls",
    "U": "Undercarriage",
    "P": "Engine and propeller installation",
    "Q": "Fuel system",
    "E": "Electrics and instruments",
    "R": "Rigging and closing up",
}
ROW = re.compile(r'      - \{task: [A-Z]\d\d, name: "[^"]+", +work: (?:fabrication|assembly)\}')
NOT_ON_EVERY = "      # Not on every aircraft"

# The verbs of the two kinds. Joints that are glued, bonded, riveted, welded, soldered, crimped or
# swaged, and covering and painting, are fabrication: AMA 549.5 (Transport Canada), Appendix A;
# AC 20-27G (FAA), from memory. All other verbs of a name (check, draw, examine, test) tell nothing.
VERBS = {
    Work.FABRICATION: frozenset(
        """
        beat bend blast bond brace bush cast cement coat cope countersink cover crimp cut deburr
        dimple drill fill flare flute form glue hot-wire lace laminate lay light-proof make mend
        mould oil plane post-cure prime ream rivet roll sand scarf seal set-up sew shape shim shrink
        solder splice steam stiffen swage tack tape taper trim varnish weld
        """.split()
    ),
    Work.ASSEMBLY: frozenset(
        "bleed bolt connect fit hang lock pin rig run screw set tension".split()
    ),
}
VERB = re.compile(r"(?:^|, | and | or )([a-z-]+)")

# One word for one thing over all lists: what is not written, and what is written for it.
ONE_WORD = {
    "access": "inspection opening, inspection cover",
    "air-data": "pitot and static",
    "beacon": "emergency transmitter",
    "belt": "harness",
    "canopy glass": "canopy glazing",
    "canopy sheet": "canopy glazing",
    "engine's cables": "engine controls",
    "fillet": "fairing",
    "gear": "undercarriage, leg",
    "intake box": "air box",
    "lift strut": "wing strut",
    "loom": "wire bundle",
    "nose plywood": "leading-edge skin",
    "push-pull": "push-rod",
    "radiator": "cooler",
    "strainer": "filter",
    "tailplane": "stabiliser",
    "warm-air flap": "alternate air door",
    "wiring": "wire bundle",
}

# Task names as the FAA's Amateur-Built Aircraft Fabrication and Assembly Checklist prints them:
# the forms of 2011 for fixed wing, helicopter and gyroplane, and the draft of 2008. All we saw.
OFFICIAL = (
    "Fabricate Longitudinal Members",  # 2011, fixed wing, F1
    "Fabricate Composite Cores or Shells, Skins",  # 2011, fixed wing, F2, cut; 2008 draft, fuselage
    "Fabricate Engine Propeller",  # 2008 draft, 169
    "Assemble Propeller to Engine",  # 2008 draft, 171
    "Fabricate Seat Brackets and Fittings",  # 2008 draft, 182
    "Fabricate Electrical Wiring, Controls and Switches",  # 2008 draft, 186
    "Fabricate Instrument Panel, Sub Panels, Brackets and Fittings",  # 2011, helicopter, C1
    # 2011, gyroplane, A1 and A2:
    "Fabricate Basic Airframe Structural Components (Usually Metal Frame)",
    "Assemble Basic Airframe Structure",
)
WITHOUT_WEIGHT = {"fabricate", "assemble", "and", "or", "to", "the", "of", "its", "usually"}

every_list = pytest.mark.parametrize("name", worklist_names())


def read(text: str) -> tuple[Worklist, tuple[Problem, ...]]:
    """A list as a journal's worklist.yaml would be read, with all that is told of it."""
    source, problems = source_of("worklist.yaml", text.encode())
    root, told = read_yaml(source, 0, len(source.text))
    table, more = as_table(root)
    worklist, told_tasks = worklist_of(table, Place("worklist.yaml"))
    return worklist, (*problems, *told, *more, *told_tasks)


def header_of(name: str) -> list[str]:
    """The lines above the areas."""
    return worklist_text(name).partition("\nareas:\n")[0].splitlines()


def weighty(words: str) -> set[str]:
    """The words of a name that tell one task from another, folded."""
    return set(re.findall(r"[a-z]+", words.casefold())) - WITHOUT_WEIGHT


def kinds_of(name: str) -> set[Work]:
    """The kinds of work that the verbs of a name tell."""
    verbs = set(VERB.findall(re.sub(r"\bset up\b", "set-up", name.casefold())))
    return {kind for kind, of_kind in VERBS.items() if verbs & of_kind}


def echoed(name: str) -> list[str]:
    """The official names all of whose weighty words are in a name, whatever its verb."""
    return [official for official in OFFICIAL if weighty(official) <= weighty(name)]


def test_lists_are_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file in the folder is a list, by its file's name; the names are sorted."""
    for name in ("wood", "composite"):
        (tmp_path / f"{name}.yaml").write_text(f"# {name} \N{AIRPLANE}\n", encoding="utf-8")
    (tmp_path / "wood.txt").write_text("no list", encoding="utf-8")
    monkeypatch.setattr(worklists, "FOLDER", tmp_path)
    assert worklist_names() == ("composite", "wood")
    assert worklist_text("wood") == "# wood \N{AIRPLANE}\n"


def test_the_package_has_lists() -> None:
    """At least the lists for sheet metal and composite come with the package."""
    assert {"sheet-metal", "composite"} <= set(worklist_names())


@every_list
def test_a_list_is_read_without_a_word(name: str) -> None:
    """Nothing is told of a list: no mistake, no doubt, no gap."""
    assert read(worklist_text(name))[1] == ()


@every_list
def test_size_and_kinds(name: str) -> None:
    """A list has 120 to 190 tasks, and of each kind of work at least a quarter."""
    tasks = read(worklist_text(name))[0].by_id.values()
    assert 120 <= len(tasks) <= 190
    kinds = Counter(task.work for task in tasks)
    assert kinds.keys() == {Work.FABRICATION, Work.ASSEMBLY}
    assert min(kinds.values()) * 4 >= len(tasks)


@every_list
def test_one_rule(name: str) -> None:
    """The verbs of a task tell one kind of work, which is the kind that the row says."""
    tasks = read(worklist_text(name))[0].by_id.values()
    assert [(task.id, task.name) for task in tasks if kinds_of(task.name) != {task.work}] == []


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        ("Glue in the shelves, screw on the floorboards", {*VERBS}),
        ("Set up and rivet the ribs", {Work.FABRICATION}),
        ("Fit the ribs and rivet them", {*VERBS}),
        ("Bolt the drilled fittings to the spars", {Work.ASSEMBLY}),
        ("Bolt or bond the fittings to the spars", {*VERBS}),
        ("Check the ribs", set()),
    ],
)
def test_a_mixed_name_is_found(name: str, kinds: set[Work]) -> None:
    """A name that tells both kinds of work, or none, is told from one that tells one."""
    assert kinds_of(name) == kinds


@every_list
def test_one_word_for_one_thing(name: str) -> None:
    """No task is named with another word for a thing that all lists call by one word."""
    names = [task.name.casefold() for task in read(worklist_text(name))[0].by_id.values()]
    shunned = re.compile("|".join(rf"\b{word}s?\b" for word in ONE_WORD))
    assert [found for found in names if shunned.search(found)] == []


@every_list
def test_ids(name: str) -> None:
    """The tasks of an area are numbered from 01 on, behind the area's letter."""
    for area in read(worklist_text(name))[0].areas:
        numbered = [f"{area.id}{number:02}" for number in range(1, len(area.tasks) + 1)]
        assert [task.id for task in area.tasks] == numbered
        assert len(area.tasks) >= 5


@every_list
def test_areas(name: str) -> None:
    """The areas that all lists share stand in one order under one name; a list may add its own."""
    areas = {area.id: area.name for area in read(worklist_text(name))[0].areas}
    assert [area for area in areas.items() if area[0] in AREAS] == list(AREAS.items())


@every_list
def test_names_are_unique(name: str) -> None:
    """No two tasks of a list have one name, in whatever case."""
    tasks = read(worklist_text(name))[0].by_id.values()
    names = Counter(task.name.casefold() for task in tasks)
    assert [found for found, times in names.items() if times > 1] == []


@every_list
def test_nothing_is_guessed(name: str) -> None:
    """A row says id, name and kind of work, and no credit, estimate or state."""
    worklist, _ = read(worklist_text(name))
    rows = [line for line in worklist_text(name).splitlines() if line.startswith("      - ")]
    assert [row for row in rows if not ROW.fullmatch(row)] == []
    assert len(rows) == len(worklist.by_id)


@every_list
def test_the_header(name: str) -> None:
    """Every list begins with one header: a working list, and the inspector's form prevails."""
    lines = header_of(name)
    assert all(line.startswith("#") for line in lines if line)
    assert lines[1:] == header_of(worklist_names()[0])[1:]
    header = " ".join(line.removeprefix("#").strip() for line in lines)
    assert "A working list, not a form of any authority." in header
    assert "The form that your inspector uses prevails" in header
    assert "`builderlog claim --import table.csv`" in header
    assert "the maker's credit comes from that evaluation" in header
    assert "delete the tasks of this list that the form does not have" in header
    assert 'Look first through the rows marked "Not on every aircraft"' in header
    assert (
        "AMA 549.5 (Transport Canada), Appendix A, and AC 20-27G (FAA), the latter from" in header
    )
    assert "the definition of your own authority prevails" in header


@every_list
def test_the_headers_examples(name: str) -> None:
    """The rows that the header shows as examples can be read when they are pasted in."""
    shown = [line.removeprefix("#") for line in header_of(name) if line.startswith("#   - {")]
    for row in shown:
        tasks = f"areas:\n  - area: Z\n    tasks:\n   {row}\n"
        assert read(tasks)[1] == ()
    assert any("credit: {" in row for row in shown)
    assert any("applies: no" in row for row in shown)


@every_list
def test_what_not_every_aircraft_has(name: str) -> None:
    """A comment on what not every aircraft has names tasks that exist, the next row first."""
    lines = worklist_text(name).splitlines()
    ids = read(worklist_text(name))[0].by_id
    found = [number for number, line in enumerate(lines) if line.startswith(NOT_ON_EVERY)]
    for number in found:
        named, _, rest = lines[number].removeprefix(NOT_ON_EVERY).partition(":")
        concerned = re.findall(r"[A-Z]\d\d", named)
        assert f"{{task: {concerned[0]}," in lines[number + 1]
        assert set(concerned) <= ids.keys()
        assert re.fullmatch(r" write applies: no where there (?:is|are) no [a-z -]+\.", rest)
    assert found


@every_list
def test_no_official_wording(name: str) -> None:
    """No name is, or holds all weighty words of, a task's name in an official form we have seen."""
    names = [task.name for task in read(worklist_text(name))[0].by_id.values()]
    assert [(found, echoed(found)) for found in names if echoed(found)] == []
    assert [found for found in names if found.startswith(("Fabricate", "Assemble"))] == []


@pytest.mark.parametrize("official", OFFICIAL)
def test_official_wording_is_found(official: str) -> None:
    """An official name is seen in any case, with another verb, and inside a longer name."""
    assert echoed(official.upper())
    assert echoed(official.replace("Fabricate", "Make").replace("Assemble", "Fit the"))
    assert echoed(f"{official}, deburred")
    assert not echoed("Bolt on the propeller and check its track")


@every_list
def test_lines(name: str) -> None:
    """No line is longer than 100 characters or ends with a blank; the last ends with a newline."""
    text = worklist_text(name)
    assert [line for line in text.splitlines() if len(line) > 100 or line != line.rstrip()] == []
    assert text.endswith("}\n")
    assert "\t" not in text
