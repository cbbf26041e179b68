"""Names in texts: whole words, whatever their case, accents, hyphens and spaces."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builderlog.deciding.whole_words import (
    fold,
    is_name_there,
    keys_of_name,
    keys_of_sign,
    pattern_of_name,
    pattern_of_sign,
    words_of,
)


def found(text: str, name: str, *, sign: bool = False) -> list[str]:
    """What of the text is the name."""
    folded = fold(text)
    pattern = pattern_of_sign(name, country=True) if sign else pattern_of_name(name)
    return [text[begin:end] for begin, end in folded.found(pattern)]


@pytest.mark.parametrize(
    ("text", "name", "expected"),
    [
        ("with PIM tessendal", "Pim Tessendal", ["PIM tessendal"]),
        ("Pim-Tessendal's", "Pim Tessendal", ["Pim-Tessendal"]),
        ("Pim\n> Tessendal", "Pim Tessendal", ["Pim\n> Tessendal"]),
        ("Pim **Tessendal**", "Pim Tessendal", ["Pim **Tessendal"]),
        ("pimtessendal.example", "Pim Tessendal", ["pimtessendal"]),
        ("Pim Tessendals Werkstatt, the Tessendals", "Tessendal", ["Tessendals", "Tessendals"]),
        ("Pim Tessendalson, Tessendalish", "Tessendal", []),
        ("Pims", "Pim", []),
        ("Joerg Groessel, JÖRG GRÖSSEL", "Jörg Größel", ["Joerg Groessel", "JÖRG GRÖSSEL"]),
        ("Jörg, Jorg, Joerg", "Joerg", ["Jörg", "Jorg", "Joerg"]),
        ("Soren, Soeren, Søren", "Søren", ["Soren", "Soeren", "Søren"]),
        ("Sorén and Søren", "Soren", ["Sorén", "Søren"]),
        ("Tes\N{SOFT HYPHEN}sendal", "Tessendal", ["Tes\N{SOFT HYPHEN}sendal"]),
        ("larchpell.example, Larch+Pell", "Larch & Pell", ["larchpell", "Larch+Pell"]),
        ("山田さんが来た、山田太郎", "山田", ["山田", "山田"]),
        ("山田太郎です", "山田 太郎", ["山田太郎"]),
        ("김민수가 왔다", "김민수", ["김민수"]),
        ("私はTessendalさんと", "Tessendal", ["Tessendal"]),
        ("กับสมชายวันนี้", "สมชาย", ["สมชาย"]),
        ("Spim Tessendal", "Pim Tessendal", []),
        ("Pim and Tessendal", "Pim Tessendal", []),
        ("José, JOSE\N{COMBINING ACUTE ACCENT} and Jose", "José", ["José", "JOSE", "Jose"]),
        ("in der Straße", "STRASSE", ["Straße"]),
        ("ﬁnch, Łuk", "Finch", ["ﬁnch"]),
        ("Larch & Pell, larch-and-pell", "Larch and Pell", ["Larch & Pell", "larch-and-pell"]),
        ("from Larch&Pell", "Larch & Pell", ["Larch&Pell"]),
        ("a mark_2 Mark", "mark", ["mark", "Mark"]),
    ],
)
def test_a_name_is_found_as_whole_words(text: str, name: str, expected: list[str]) -> None:
    """Case, accents, hyphens and Markdown signs do not hide a name; longer words are others."""
    assert found(text, name) == expected


@pytest.mark.parametrize(
    ("text", "sign", "expected"),
    [
        ("ZZ-OST, zzost, Zz Ost", "ZZ-OST", ["ZZ-OST", "zzost", "Zz Ost"]),
        ("N-123 AB and N123AB", "N123AB", ["N-123 AB", "N123AB"]),
        ("D\N{EN DASH}MOST", "DMOST", ["D\N{EN DASH}MOST"]),
        ("fuzzost zzosten ZZ-OST1", "ZZ-OST", []),
        ("zzo st", "ZZ-OST", []),
        ("FKW 0417", "FKW-0417", ["FKW 0417"]),
    ],
)
def test_a_sign_is_found_however_it_is_parted(text: str, sign: str, expected: list[str]) -> None:
    """A hyphen or space may stand where signs are parted, and nowhere else."""
    assert found(text, sign, sign=True) == expected


@pytest.mark.parametrize(
    ("text", "name", "expected"),
    [
        ("mark the ribs", "Mark", False),
        ("Mark the ribs", "Mark", True),
        ("MARK", "Mark", True),
        ("mark@firm.example", "Mark", True),
        ("https://mark.example", "Mark", True),
        ("end of a mark. Then", "Mark", False),
        ("mark", "mark", True),
        ("pim tessendal", "Pim Tessendal", True),
    ],
)
def test_a_word_without_its_capital_is_no_name(text: str, name: str, *, expected: bool) -> None:
    """One word is a name only with its capital, but for addresses, which have none."""
    folded = fold(text)
    ((begin, end),) = folded.found(pattern_of_name(name))
    assert is_name_there(folded, name, begin, end) is expected


def test_words_of_a_name() -> None:
    """The words of a name are what must stand in a text, without signs, case and accents."""
    assert words_of("  José-María O'Näl & Co. ") == ("jose", "maria", "o", "nal", "and", "co")


TEXT = st.text(max_size=30)
NAME = st.text(st.characters(categories=["Lu", "Ll", "Lt", "Nd"]), min_size=1, max_size=12)


@settings(max_examples=40, deadline=None)
@given(TEXT, NAME, TEXT)
def test_a_name_is_found_amid_any_text(before: str, name: str, after: str) -> None:
    """Whatever stands round a name, it is found there, in offsets of the text as written."""
    text = f"{before} {name} {after}"
    places = set(fold(text).found(pattern_of_name(name)))
    assert any(begin == len(before) + 1 and text[begin:end] == name for begin, end in places) or (
        name in before  # which may run into it
    )


@settings(max_examples=40, deadline=None)
@given(TEXT, NAME)
def test_a_text_with_a_name_has_a_key_of_it(before: str, name: str) -> None:
    """No text that holds a name is passed over: one of the name's keys is among its words."""
    text = f"{before} {name}"
    if any(True for _ in fold(text).found(pattern_of_name(name))):
        assert keys_of_name(name).intersection(words_of(text))
    if any(True for _ in fold(text).found(pattern_of_sign(name, country=True))):
        assert keys_of_sign(name, country=True).intersection(words_of(text))


PARTS = st.lists(st.sampled_from(["Bosse", "Maria", "and", "Björn"]), min_size=1, max_size=4)


@given(PARTS, st.lists(st.sampled_from(["", " ", "-", ".", "s "]), min_size=4, max_size=4))
def test_words_that_are_run_together_have_a_key(parts: list[str], signs: list[str]) -> None:
    """Some of a name's words, or all, may stand without anything between: "BosseMaria Björn"."""
    text = "".join(map("".join, zip(parts, signs, strict=False)))
    if any(True for _ in fold(text).found(pattern_of_name(" ".join(parts)))):
        assert keys_of_name(" ".join(parts)).intersection(words_of(text))
