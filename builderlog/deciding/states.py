"""What was told to the builder, as a state of the record: without what they are to write.

An inspector reads what the record has and has not; advice on keeping it is for the builder alone.
"""

from __future__ import annotations

import re

from builderlog.deciding.words import first_upper

# With these words begins what a sentence tells the builder to do.
ADVICE = (
    *("add", "ask", "calibrate", "check", "copy", "declare", "evenly split", "explain", "give"),
    *("if it came back", "keep", "mend", "name", "put", "rename", "say", "seal", "take", "torque"),
    "write",
)
_ADVICE = re.compile(rf"(?:[;.]|, (?:or|so)) (?:{'|'.join(ADVICE)})\b|: write\b", re.IGNORECASE)
# A word in quotes is the builder's own: nothing in it is advice of ours.
_QUOTED = re.compile(r"(?:(?<=^)|(?<=[\s(\[]))'[^'\n]*(?:'\w[^'\n]*)*'(?!\w)")
_MORE_OF_THEM = re.compile(r" \(and so with \d+ more\)$")
# How a setting would be written, which stands in brackets behind what is not said.
_SETTING = re.compile(r" \((?:journal\.yaml, [a-z ]+: \w+|unaltered: yes)\)")


def as_state(words: str, about: str = "") -> str:
    """The words up to where they turn to the builder: a sentence, with its full stop.

    `about` is the id with which they begin, if they do: nothing in it is advice either.
    """
    begun = len(about) if words.startswith(about) else 0
    unquoted = _QUOTED.sub(lambda found: "x" * len(found[0]), words)
    advice = _ADVICE.search(unquoted, begun)
    more = _MORE_OF_THEM.search(words)
    kept = words[: advice.start()] if advice else words
    kept = f"{kept}{more[0]}" if more and advice else kept
    return sentence(_SETTING.sub("", kept), as_begun=bool(begun))


def sentence(words: str, *, as_begun: bool = False) -> str:
    """The words with a capital, unless they begin with an id, and with one full stop."""
    told = words.strip() if as_begun else first_upper(words.strip())
    return told if not told or told.endswith((".", "!", "?")) else f"{told}."
