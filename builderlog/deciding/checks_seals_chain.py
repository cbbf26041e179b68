"""Checks of the chain of seals: each names the digest of the one before it, and there is one first.

By this a seal that was edited later is found, since the next one still names its old digest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builderlog.knowing.seals import Seal
from builderlog.knowing.seals_file import NAME
from builderlog.reading.problem import Problem, doubt

Told = tuple[str, Problem]  # path of the seal, and what is told of it


def chain_doubts(seals: Sequence[Seal]) -> Iterator[Told]:
    """What does not fit together; `seals` in the order of the chain."""
    by_digest = {seal.digest: seal for seal in seals}
    followed: dict[str, Seal] = {}
    for position, seal in enumerate(seals):
        before = seals[position - 1] if position else None
        told = _link(seal, before, by_digest.get(seal.before), followed.get(seal.before))
        if told:
            yield seal.path, doubt(seal.place, "seal-chain", told)
        followed.setdefault(seal.before, seal)
        yield from _name(seal)
    yield from _months(seals)


def _link(seal: Seal, in_order: Seal | None, named: Seal | None, other: Seal | None) -> str | None:
    """What is wrong with a seal's place in the chain.

    `in_order` stands before it, `named` is the one that it names, `other` follows the same one.
    """
    if not seal.before and other:
        told = f"it says that it is the first seal, and so does {other.path}"
        return f"{told}; one chain has one first seal"
    if seal.before and other and named:
        return f"it follows {named.path}, and so does {other.path}; a chain does not part"
    if seal.before and not named:
        return _broken(seal, in_order)
    if named and seal.sealed_on < named.sealed_on:
        told = f"it was sealed on {seal.sealed_on}, before {named.path}"
        return f"{told} ({named.sealed_on}), which it follows"
    return None


def _broken(seal: Seal, in_order: Seal | None) -> str:
    told = f"the seal before it had the digest {seal.before}, and no file in seals/ has it"
    if in_order is None:
        return f"{told}: a seal is missing, or was changed after this one was made"
    return f"{told}: {in_order.path} was changed after this one was made, or a seal is missing"


def _name(seal: Seal) -> Iterator[Told]:
    """The file's name against what stands in it."""
    name = NAME.fullmatch(seal.path)
    if name is None or name[1] != seal.month:
        told = f"the file is named as the seal of another month than {seal.month}, which it closes"
        yield seal.path, doubt(seal.place, "seal-month", told)
    if name is not None and ("-amended-" in seal.path) != bool(seal.amends):
        told = "it amends a seal and is not named so" if seal.amends else _NAMED
        yield seal.path, doubt(seal.place, "seal-month", told)


_NAMED = "it is named as an amendment and does not say what it amends"


def _months(seals: Sequence[Seal]) -> Iterator[Told]:
    """Each month has one first seal, and amendments name an earlier seal of their month."""
    earlier: dict[str, list[Seal]] = {}
    for seal in seals:
        known = earlier.setdefault(seal.month, [])
        if known and not seal.amends:
            told = f"{seal.month} was sealed before, in {known[0].path}; a month is sealed once"
            yield seal.path, doubt(seal.place, "seal-chain", told)
        if seal.amends and seal.amends not in {one.path for one in known}:
            told = f"it amends '{seal.amends}', which is no earlier seal of {seal.month}"
            yield seal.path, doubt(seal.place, "seal-chain", told)
        known.append(seal)
