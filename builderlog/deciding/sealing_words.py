"""What a seal proves and what it does not, in plain words; and the words for how it stands."""

from __future__ import annotations

from builderlog.deciding.weeks import last_day_of
from builderlog.deciding.words import counted
from builderlog.knowing.seals import Seal

PROVES = (
    "A seal is the SHA-256 digest of a list of digests: one for each note, picture and paper of a"
    " month. Any program that reckons SHA-256 can check it. If a single byte of one of these files"
    " is changed, or a file is taken away, the list no longer fits; if the list is changed, its own"
    " digest is another. Each seal holds the digest of the one before it, so an earlier seal cannot"
    " be exchanged without all later ones."
)
WITNESSES = (
    "Whoever was given the digest on some day (in a letter, or from the builder's website) can tell"
    " that the month's record has not been changed since that day. Compare the digest with theirs."
)
NOT_PROVED = (
    "A seal does not show that what the notes say is true, nor that they were written on the day"
    " that they name. The day of sealing is by the clock of the builder's own computer. Somebody"
    " who holds all the files could make the whole chain anew, and then only copies of a digest"
    " that others hold tell the difference; so could the last seals be taken away."
)
NEVER_REWRITTEN = (
    "A seal is never rewritten: what had to be changed later is sealed again by an amendment, which"
    " says why, and the older seal stays. Everyone's hours in a sealed month count in the role that"
    " was declared on the day of sealing."
)
HIDDEN = (
    "Where nothing but the time of a note is handed over, its digest stands in the seal without"
    " its name; here it cannot be checked, only that a note stands for it."
)


def days_after(seal: Seal) -> int:
    """Days from the month's last day to the day of sealing; at least 1 in a seal of ours."""
    return (seal.sealed_on - last_day_of(seal.month)).days


def covered_words(seal: Seal) -> str:
    """How many files a seal lists: "12 files, 2 of them without a name"."""
    kept = sum(one.kept_back is not None for one in seal.files)
    words = counted(len(seal.files), "file")
    return f"{words}, {kept} of them without a name" if kept else words
