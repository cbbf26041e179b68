"""Names in the bag: a journal path as it is, or a safe one where others' programs would stumble.

`sha256sum` writes a name with a backslash or a line break in a way of its own, the independent
reader of bags splits lines at every kind of break and reads `%` as a beginning of code.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from pathlib import PurePosixPath

from builderlog.handover.tables import TABLES_FOLDER
from builderlog.reading.folder import folded

# The percent sign, the backslash, and all that Unicode or Python takes for the end of a line.
_STUMBLING = re.compile("[%\\\\\n\r\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029]")
_DIGEST_LENGTHS = (12, 64)


def rename_stumbling(
    paths: Iterable[str], ours: tuple[str, ...] = (TABLES_FOLDER,)
) -> dict[str, str]:
    """Journal path to bagged path, for those alone that need another name.

    `ours` are the folders where only files that we made may stand. A path's new name depends on
    nothing but itself, unless somebody made a file of that name.
    """
    every = sorted(paths)
    taken = {folded(path) for path in every}
    renamed: dict[str, str] = {}
    for path in every:
        if _stumbles(path, ours):
            renamed[path] = _safe_name(path, taken, ours)
            taken.add(folded(renamed[path]))
    return renamed


def _stumbles(path: str, ours: tuple[str, ...]) -> bool:
    """Also a name that ends in a blank, which readers strip, and one where our files stand."""
    return folded(path).startswith(ours) or bool(_STUMBLING.search(path)) or path != path.rstrip()


def _safe_name(path: str, taken: set[str], ours: tuple[str, ...]) -> str:
    """The path with `_` for what stumbles and a digest of it before its ending."""
    plain = PurePosixPath(_STUMBLING.sub("_", _without_last_blank(path)))
    if folded(path).startswith(ours):
        plain = PurePosixPath("other") / plain
    digest = hashlib.sha256(path.encode("utf-8")).hexdigest()
    names = (f"{plain.stem}-{digest[:length]}{plain.suffix}" for length in _DIGEST_LENGTHS)
    choices = (plain.with_name(name).as_posix() for name in names)
    return next(choice for choice in choices if folded(choice) not in taken)


def _without_last_blank(path: str) -> str:
    """The path with `_` for the blanks at its end, of which a name may consist."""
    return path if path == path.rstrip() else f"{path.rstrip()}_"
