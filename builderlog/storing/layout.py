"""Lays out the files and folders of a new journal, in an empty folder only."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from builderlog.storing.cache import lay_out, replace_file
from builderlog.storing.refusal import Refused, refusing

FOLDERS = ("notes", "photos", "receipts", "inbox", "letters")
SCHEMAS = "schemas"  # a folder in the cache: what an editor reads, and anyone may delete


def lay_out_journal(root: Path, files: Mapping[str, str]) -> None:
    """Writes each file below `root`. Raises Refused where the folder holds anything already."""
    with refusing(f"make the folder {root}"):
        root.mkdir(parents=True, exist_ok=True)
        if any(root.iterdir()):
            raise Refused(f"{root} is not empty; name a new folder, so that nothing is overwritten")
    with refusing(f"write into {root}"):
        for name in FOLDERS:
            (root / name).mkdir()
        for path, text in files.items():
            target = root / path
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("x", encoding="utf-8", newline="\n") as file:
                file.write(text)


def lay_out_schemas(cache: Path, schemas: Mapping[str, str]) -> Path:
    """Writes what an editor completes by into the journal's `.builderlog`; gives the folder."""
    folder = cache / SCHEMAS
    with refusing(f"write into {folder}"):
        lay_out(cache)
        folder.mkdir(exist_ok=True)
        for name, text in schemas.items():
            replace_file(folder / name, text.encode())
    return folder
