"""Templates compiled once in a process: found again by where they stand and by what they say."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from types import CodeType
from typing import Any

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket


def compiled_for(filters: Mapping[str, Callable[..., Any]]) -> Compiled:
    """What was compiled with these very filters: jinja works out constants when it compiles.

    A filter that is told the page is worked out when a page is drawn; it may be another each time.
    """
    plain = (item for item in filters.items() if not hasattr(item[1], "jinja_pass_arg"))
    return _compiled_with(frozenset(plain))


@cache
def _compiled_with(_filters: frozenset[tuple[str, Callable[..., Any]]]) -> Compiled:
    return Compiled()


class Compiled(BytecodeCache):
    """What jinja made of each template; another text under the same name is compiled anew.

    For environments that are set up alike: how one reads a template is part of what it makes of it.
    """

    def __init__(self) -> None:
        """Nothing is compiled yet."""
        self._made: dict[tuple[str, str], CodeType] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fills the bucket where this very text was compiled before."""
        bucket.code = self._made.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keeps what was compiled."""
        if bucket.code:
            self._made[bucket.key, bucket.checksum] = bucket.code
