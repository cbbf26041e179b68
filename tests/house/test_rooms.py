"""Holds the order of the rooms of the package, and shows that the guard bites; reads no more."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.house import rooms

TOP = Path(__file__).resolve().parent.parent.parent
PACKAGE = TOP / rooms.PACKAGE

# Each row: what is planted, in which module, and a piece of the sentence that must tell it.
PLANTED = (
    (
        "top",
        "reading/planted.py",
        "import builderlog.deciding.planted_target",
        "reading comes before",
    ),
    (
        "from",
        "reading/planted.py",
        "from builderlog.drawing import x",
        "reading comes before drawing",
    ),
    (
        "late",
        "knowing/planted.py",
        "def f() -> None:\n    from builderlog.handover import bag\n",
        "knowing comes before handover",
    ),
    (
        "typing-only",
        "storing/planted.py",
        "import typing\nif typing.TYPE_CHECKING:\n    from builderlog.command import main\n",
        "storing comes before command",
    ),
    (
        "relative",
        "deciding/planted.py",
        "from ..drawing import site",
        "deciding comes before drawing",
    ),
    (
        "relative room",
        "deciding/planted.py",
        "from .. import drawing",
        "deciding comes before drawing",
    ),
    (
        "by name",
        "drawing/planted.py",
        "from importlib import import_module\nimport_module('builderlog.command.main')\n",
        "drawing comes before command",
    ),
    (
        "by relative name",
        "drawing/planted.py",
        "import importlib\nimportlib.import_module('..command', __package__)\n",
        "drawing comes before command",
    ),
    (
        "by a name made at run time",
        "drawing/planted.py",
        "import importlib\nimportlib.import_module('.'.join(['a', 'b']))\n",
        "known only at run time",
    ),
    ("no room", "planted.py", "", "builderlog.planted stands in no room"),
    ("no such room", "cellar/planted.py", "", "builderlog.cellar.planted stands in no room"),
    ("main", "command/planted.py", "import builderlog.__main__", "imports builderlog.__main__"),
)


def test_every_import_keeps_the_order_of_rooms() -> None:
    """A module imports only from its own room or an earlier one, and no modules form a circle."""
    assert rooms.faults_of(PACKAGE) == []


def test_every_room_is_there() -> None:
    """The guard reads all seven rooms, so that a moved folder cannot make it blind."""
    found = {rooms.room_of(module) for module in rooms.modules_in(PACKAGE)}
    assert found == {"", *rooms.ROOMS}


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the package that a test may spoil."""
    copied = tmp_path / rooms.PACKAGE
    for file in PACKAGE.rglob("*.py"):
        place = copied / file.relative_to(PACKAGE)
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, place)
    return copied


@pytest.mark.parametrize(
    ("path", "text", "sentence"), [row[1:] for row in PLANTED], ids=[row[0] for row in PLANTED]
)
def test_a_planted_fault_is_caught(copy: Path, path: str, text: str, sentence: str) -> None:
    """A wrong import of each kind, planted in a copy, is told with its module and reason."""
    planted = copy / path
    planted.parent.mkdir(exist_ok=True)
    planted.write_text(text, encoding="utf-8")
    told = rooms.faults_of(copy)
    assert any(sentence in fault and "planted" in fault for fault in told), told


def test_a_planted_circle_within_a_room_is_caught(copy: Path) -> None:
    """Two modules of one room that import each other are told, even if one does so late."""
    one, two = copy / "deciding" / "planted_one.py", copy / "deciding" / "planted_two.py"
    one.write_text("from builderlog.deciding import planted_two", encoding="utf-8")
    two.write_text("def f() -> None:\n    from . import planted_one\n", encoding="utf-8")
    circles = [fault for fault in rooms.faults_of(copy) if fault.startswith("a circle")]
    assert len(circles) == 1
    assert "planted_one" in circles[0]
    assert "planted_two" in circles[0]


def test_the_package_itself_imports_no_room(copy: Path) -> None:
    """An import in the package's own `__init__` is told, since every room would pay for it."""
    front = copy / "__init__.py"
    front.write_text("from builderlog.reading import problem", encoding="utf-8")
    assert any("the package itself" in fault for fault in rooms.faults_of(copy))


def test_good_imports_are_left_alone(copy: Path) -> None:
    """Imports from the own room, an earlier one, the package itself and outside are no fault."""
    before = rooms.faults_of(copy)
    (copy / "drawing" / "planted.py").write_text(
        "import json\nfrom builderlog import __version__\nfrom ..deciding import planted_sums\n",
        encoding="utf-8",
    )
    (copy / "deciding" / "planted_sums.py").write_text(
        "from decimal import Decimal", encoding="utf-8"
    )
    assert rooms.faults_of(copy) == before
