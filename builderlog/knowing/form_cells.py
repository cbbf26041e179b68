"""The cells of a typed form to values: credit in tenths, marks, yes and no, lengths of time.

Each function takes the text alone and raises `UnreadableError` with a sentence that says what to
write; who holds the cell adds its place.
"""

from __future__ import annotations

import re

from builderlog.knowing.entries import Work
from builderlog.knowing.forms import nearest
from builderlog.knowing.units import UnreadableError, parse_length
from builderlog.knowing.worklist_words import parse_tenths

NOT_APPLICABLE = frozenset({"n/a", "na", "n.a.", "n.a", "not applicable"})
_YES = frozenset({"yes", "y", "true", "x", "1"})
_NO = frozenset({"no", "n", "false", "0"})
_TICKS = frozenset({"x", "yes", "\N{CHECK MARK}", "\N{HEAVY CHECK MARK}"})
_PERCENT = re.compile(r"(\d{1,3})\s*%")
_MANY_DIGITS = re.compile(r"[0-9]{1,9}")


def is_not_applicable(text: str) -> bool:
    """`N/A`, as a form has it in any box of a task that the aircraft has not.

    FAA Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), instructions.
    """
    return text.casefold() in NOT_APPLICABLE


def credit_of(text: str) -> int:
    """`0.3`, `0,3`, `.3` or `1` to tenths of the task's one point."""
    if found := _PERCENT.fullmatch(text):
        tenths, rest = divmod(int(found[1]), 10)
        meant = f"{tenths // 10}.{tenths % 10}" if not rest and tenths <= 10 else "0 to 1"
        raise UnreadableError(f"'{text}' is not a credit in tenths of a point; write {meant}")
    if text.casefold() in _TICKS:
        raise UnreadableError(
            f"'{text}' is not a credit in tenths; write 0 to 1, or name the column 'marks maker' "
            "or 'marks builder' where the form counts marks"
        )
    return parse_tenths(text)


def marks_of(text: str) -> int:
    """A tick or a whole number of marks."""
    if text.casefold() in _TICKS:
        return 1
    if not re.fullmatch(r"[0-9]{1,4}", text):
        raise UnreadableError(f"'{text}' is neither a tick nor a number of marks; write 1, 0 or x")
    return int(text)


def truth_of(text: str) -> bool:
    """Yes or no, as people write them."""
    word = text.casefold()
    if word not in _YES | _NO:
        raise UnreadableError(f"'{text}' is neither; write yes, no or N/A")
    return word in _YES


def is_yes(text: str) -> bool:
    """A cross or a word for yes."""
    return text.casefold() in _YES


def work_of(text: str) -> Work:
    """Fabrication or assembly, the kinds that a work list knows."""
    return Work(_word_of(text, (Work.FABRICATION.value, Work.ASSEMBLY.value)))


def done_of(text: str) -> bool:
    """Done or open."""
    return _word_of(text, ("open", "done")) == "done"


def seconds_of(text: str) -> int:
    """A length of time in words."""
    return parse_length(text).seconds


def whole_seconds_of(text: str) -> int:
    """Whole seconds, as our own tables have them."""
    if not _MANY_DIGITS.fullmatch(text):
        raise UnreadableError(f"'{text}' is not a number of whole seconds")
    return int(text)


def _word_of(text: str, words: tuple[str, ...]) -> str:
    if text.casefold() in words:
        return text.casefold()
    hint = nearest(text, words) or f"; write {' or '.join(words)}"
    raise UnreadableError(f"'{text}' is none of the words for this{hint}")


def tenths_text(tenths: int) -> str:
    """3 to `0.3`: a number of tenths as a form writes it."""
    return f"{tenths // 10}.{tenths % 10}"


def one_line(text: str) -> str:
    """The text with one blank for every run of blanks and line ends, as a cell holds it."""
    return " ".join(text.split())
