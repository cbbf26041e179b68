"""How many examples a test by Hypothesis takes: all of them, or a part in a quick run."""

from __future__ import annotations

from hypothesis import settings

USUAL = 100  # what Hypothesis takes unasked
QUICK = 30


def many(whole: int) -> int:
    """So many of `whole` as the run at hand takes of the usual number."""
    return max(1, whole * settings().max_examples // USUAL)
