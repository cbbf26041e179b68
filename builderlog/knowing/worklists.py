"""The work lists that come with the package: one YAML file each; adding one is adding a file."""

from __future__ import annotations

from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "worklists"


def worklist_names() -> tuple[str, ...]:
    """The names of all lists, in the order of the alphabet; each is its file's name."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.yaml")))


def worklist_text(name: str) -> str:
    """A list as a journal's worklist.yaml holds it, comments too; the name is one of ours."""
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
