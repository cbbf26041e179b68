"""Holds the phone's door: one code lets one phone in, and few wrong ones are borne."""

from __future__ import annotations

import pytest

from builderlog.bench.door import (
    CODE_LENGTH,
    MOST_IN_WINDOW,
    MOST_PHONES,
    SIGNS,
    WINDOW_SECONDS,
    WRONG_CODES,
    Door,
    DoorClosed,
    Session,
    shown,
)


def test_a_code_lets_one_phone_in() -> None:
    """It is used up by that; the next phone needs the next code, which is shown."""
    codes: list[str] = []
    door = Door(codes.append)
    first = door.knock(codes[0])
    assert first is not None
    assert door.session(first.word) is first
    assert door.knock(codes[0]) is None
    second = door.knock(codes[1])
    assert second is not None
    assert first.word != second.word
    assert first.token != second.token
    assert len(codes) == 3


def test_a_code_may_be_typed_as_one_likes() -> None:
    """Small letters, blanks and hyphens are no mistakes."""
    codes: list[str] = []
    assert Door(codes.append).knock(f" {shown(codes[0]).lower()} ") is not None


def test_codes_are_guessed_a_few_times_only() -> None:
    """After too many wrong codes the right one opens nothing; who is in stays in."""
    codes: list[str] = []
    door = Door(codes.append)
    inside = door.knock(codes[0])
    for _ in range(WRONG_CODES):
        assert door.knock("22222222") is None or codes[1] == "22222222"
    with pytest.raises(DoorClosed, match="too many wrong codes"):
        door.knock(codes[1])
    assert inside is not None
    assert door.session(inside.word) is inside


def test_a_house_has_few_phones() -> None:
    """When all of them are in, no code is shown, and none opens, not even an empty one."""
    codes: list[str] = []
    door = Door(codes.append)
    for _ in range(MOST_PHONES):
        door.knock(codes[-1])
    assert len(codes) == MOST_PHONES
    for code in ("", codes[-1]):
        with pytest.raises(DoorClosed, match="phones are in"):
            door.knock(code)


def test_nothing_is_no_session() -> None:
    """No cookie, an empty one and a guessed one are nobody's."""
    door = Door(lambda _code: None)
    assert [door.session(word) for word in (None, "", "guessed")] == [None] * 3


def test_a_code_is_hard_to_guess() -> None:
    """Five guesses find one in less than 1e-11 of all cases, and no sign reads as another one."""
    assert WRONG_CODES / len(SIGNS) ** CODE_LENGTH < 1e-11
    assert not set("01OIL") & set(SIGNS)


def test_a_session_is_not_endless_work() -> None:
    """So many deeds in ten minutes and no more; afterwards it goes on."""
    session = Session()
    assert all(session.may(1.0) for _ in range(MOST_IN_WINDOW))
    assert not session.may(WINDOW_SECONDS)
    assert session.may(WINDOW_SECONDS + 2)
