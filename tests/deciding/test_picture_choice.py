"""Which pictures stand on a task's sheet: each preference by itself, and what always holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from itertools import combinations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL.Image import Transpose

from builderlog.deciding.coverage import coverage
from builderlog.deciding.picture_choice import BEST_OF_A_TASK, Choice, choose
from builderlog.knowing.entries import Note
from builderlog.knowing.ledger import Ledger, PhotoUse, Picture
from builderlog.reading.fingerprint import take_fingerprint
from tests import making
from tests.reading.shop_pictures import (
    apart_by,
    in_turn,
    saved,
    shop_picture,
    smaller,
    trimmed,
    turned,
)

FIRST_DAY = date(2026, 3, 1)


@dataclass(frozen=True)
class Made:
    """A picture of a test. `taken` is a day or a moment by the camera, "" for the note's day."""

    name: str
    on: int = 0  # the note's day, counted from the first of March
    taken: str = ""
    seen: tuple[str, ...] = ()
    caption: str | None = None
    page: bool = False
    shows: tuple[str, ...] = ("W1",)
    likeness: str = ""
    digest: str = ""
    fault: str | None = None


def on(number: int) -> str:
    """So many days after the first of March 2026."""
    return (FIRST_DAY + timedelta(days=number)).isoformat()


def picture(made: Made) -> Picture:
    """The picture of the ledger, with one use."""
    plain = making.picture(f"photos/{made.name}.jpg")
    file = replace(
        plain.file,
        taken=made.taken or None,
        likeness=made.likeness,
        digest=made.digest or plain.file.digest,
        fault=made.fault,
    )
    day = making.day(on(made.on))
    use = PhotoUse(
        f"notes/{day}.md", day, made.shows, made.seen, made.caption, private=False, page=made.page
    )
    return replace(plain, file=file, uses=(use,))


def closing(number: int, closes: str = "", opens: str = "") -> Note:
    """A note of that day that closes and opens areas or tasks."""
    words = {"closes": closes, "opens": opens}
    found = {key: tuple(map(making.word, text.split())) for key, text in words.items()}
    return replace(making.note(on(number)), **found)  # type: ignore[arg-type]


def book(pictures: Iterable[Made], notes: Iterable[Note] = ()) -> Ledger:
    """The ledger of two tasks, these pictures and these notes."""
    return making.ledger(
        tasks=(making.task("W1"), making.task("W2")), pictures=map(picture, pictures), notes=notes
    )


def chosen(pictures: Iterable[Made], *notes: Note, task: str = "W1") -> list[str]:
    """The names of a task's best pictures, in the order in which they are shown."""
    ledger = book(pictures, notes)
    return [name_of(shot.path) for shot in choose(ledger, coverage(ledger)).best[task]]


def name_of(path: str) -> str:
    """The name under which a test knows a picture."""
    return path.removeprefix("photos/").removesuffix(".jpg")


def daily(count: int, prefix: str = "d", **words: object) -> list[Made]:
    """So many pictures, one a day."""
    return [Made(f"{prefix}{day:02}", on=day, **words) for day in range(count)]  # type: ignore[arg-type]


# ---- spread over time ----------------------------------------------------------------------


def test_all_are_shown_where_they_have_room() -> None:
    """Up to six pictures are all on the sheet, in order of time."""
    assert chosen(reversed(daily(6))) == ["d00", "d01", "d02", "d03", "d04", "d05"]


def test_first_last_and_between() -> None:
    """Of many pictures the first, the last, the middle and the quarters are shown."""
    found = chosen(daily(41))
    assert found == ["d00", "d05", "d10", "d20", "d30", "d40"]


def test_spread_is_by_the_calendar_not_by_count() -> None:
    """Fifty pictures of one evening do not crowd out the few of later weeks."""
    evening = [Made(f"a{at:02}", taken=f"2026-03-01T19:{at:02}:00") for at in range(50)]
    later = [Made("b", on=20), Made("c", on=30), Made("d", on=40), Made("e", on=50)]
    assert chosen([*evening, *later]) == ["a00", "a49", "b", "c", "d", "e"]


@pytest.mark.parametrize("clock", ["{0:02}:00:00", "19:{0:02}:00", "19:00:{0:02}"])
def test_a_day_is_spread_by_the_clock(clock: str) -> None:
    """Pictures of one day are spread over its hours, minutes, seconds, not by their count."""
    times = [*range(11), 12, 15, 20]
    day = [Made(f"a{at:02}", taken=f"2026-03-01T{clock.format(at)}") for at in times]
    assert chosen(day) == ["a00", "a02", "a05", "a10", "a15", "a20"]


def test_a_day_without_clock_is_spread_by_name() -> None:
    """Pictures of one day of which no clock is known are spread in the order of their names."""
    assert chosen([Made(f"a{at:02}") for at in range(41)]) == "a00 a05 a10 a20 a30 a40".split()


# ---- captions ------------------------------------------------------------------------------


def test_a_caption_is_preferred_at_equal_rank() -> None:
    """Of pictures of about the same time the one with a caption is shown."""
    told = [Made(f"d{day:02}-told", on=day, caption="The rib") for day in (1, 11, 21, 31, 39, 5)]
    plain = [each for each in daily(41) if each.on not in (1, 11, 21, 31, 39, 5)]
    assert all(name.endswith("-told") for name in chosen([*plain, *told]))


def test_a_caption_does_not_outweigh_time() -> None:
    """A caption does not bring six pictures of one evening onto the sheet of a long task."""
    told = [Made(f"t{at}", taken=f"2026-03-20T19:0{at}:00", caption="x") for at in range(6)]
    found = chosen([*daily(41), *told])
    assert sum(name.startswith("t") for name in found) <= 2
    assert {"d00", "d40"} <= set(found)


def test_captions_lead_where_no_clock_is_known() -> None:
    """Of pictures that only share a day those with a caption are all shown."""
    pictures = [Made(f"a{at}", caption="x" if at in (3, 4, 8) else None) for at in range(12)]
    assert {"a3", "a4", "a8"} <= set(chosen(pictures))


# ---- a builder at work ---------------------------------------------------------------------


def test_a_builder_at_work_comes_first() -> None:
    """Pictures with a builder are shown before any other, whatever their place in time."""
    builders = [Made(f"b{at}", on=20, seen=("Tomas",)) for at in range(5)]
    found = chosen([*daily(41, caption="x"), *builders])
    assert [name for name in found if name.startswith("b")] == ["b0", "b1", "b2", "b3", "b4"]
    assert len(found) == BEST_OF_A_TASK


@pytest.mark.parametrize("who", ["Ada", "Shop & Co", "Nobody"])
def test_others_at_work_have_no_precedence(who: str) -> None:
    """Helpers, paid help and unknown names count as any picture."""
    others = [Made(f"b{at}", on=20, seen=(who,)) for at in range(5)]
    assert chosen([*daily(41), *others])[:2] == ["d00", "d05"]


def test_too_many_with_a_builder_are_spread() -> None:
    """Of more than six with a builder those are shown that are farthest apart in time."""
    found = chosen([*daily(41, "b", seen=("Ines",)), *daily(60, "x")])
    assert found == ["b00", "b05", "b10", "b20", "b30", "b40"]


# ---- before it was closed ------------------------------------------------------------------


def test_the_last_two_before_closing_are_shown() -> None:
    """The last pictures before a task was closed are on its sheet, the closing day included."""
    found = chosen(daily(41), closing(23, "W1"))
    assert {"d22", "d23"} <= set(found)
    assert {"d00", "d40"} <= set(found)
    assert not {"d21", "d24"} & set(found)


def test_the_last_looks_with_a_builder_are_shown() -> None:
    """Of many with a builder the last two before the closing are among those shown."""
    assert {"b22", "b23"} <= set(chosen(daily(41, "b", seen=("Ines",)), closing(23, "W1")))


def test_last_looks_with_a_builder_are_looks_enough() -> None:
    """Where two with a builder are the last looks, no others are sought for the closing."""
    builders = [Made("b1", on=22, seen=("Ines",)), Made("b2", on=23, seen=("Ines",))]
    assert "d18" not in chosen([*daily(20), *builders], closing(23, "W1"))


def test_many_closings_fill_one_sheet() -> None:
    """However often a task was closed, six pictures are shown, those of the last closings."""
    notes = [closing(day, "W1") for day in (9, 19, 29, 39)]
    assert chosen(daily(60), *notes) == ["d18", "d19", "d28", "d29", "d38", "d39"]


def test_an_area_closes_its_tasks() -> None:
    """Closing the area counts for the task."""
    assert {"d22", "d23"} <= set(chosen(daily(41), closing(23, "W")))


def test_closing_another_task_does_not_count() -> None:
    """What was closed elsewhere changes nothing."""
    assert chosen(daily(41), closing(23, "W2")) == chosen(daily(41))


def test_one_place_is_kept_for_the_last_look() -> None:
    """Six pictures with a builder still leave room for the last one before the closing."""
    found = chosen([*daily(20, "b", seen=("Ines",)), Made("last", on=22)], closing(23, "W1"))
    assert found[-1] == "last"
    assert [name[0] for name in found[:-1]] == ["b"] * 5


def test_no_place_is_kept_where_a_builder_is_in_the_last_look() -> None:
    """Where the last picture before the closing shows a builder, it is the first choice."""
    builders = [*daily(20, "b", seen=("Ines",)), Made("b23", on=23, seen=("Ines",))]
    found = chosen([*builders, *daily(23, "a")], closing(23, "W1"))
    assert "b23" in found
    assert [name[0] for name in found] == ["b"] * 6


def test_a_place_that_is_kept_and_not_needed_goes_to_a_builder() -> None:
    """Where the last look is nearly the same as what is shown, a sixth builder's is."""
    builders = daily(21, "b", seen=("Ines",))
    like = replace(builders[20], name="last", on=22, seen=(), digest="same")
    builders[20] = replace(builders[20], digest="same")
    found = chosen([*builders, like, Made("x", on=60)], closing(22, "W1"))
    assert [name[0] for name in found] == ["b"] * 6


def test_the_last_closing_comes_first() -> None:
    """Of several closings the last one's pictures have the first claim on the kept place."""
    pictures = [*daily(5, "b", seen=("Ines",)), Made("one", on=10), Made("two", on=20)]
    notes = closing(11, "W1"), closing(15, opens="W1"), closing(21, "W1")
    assert chosen([*pictures, *daily(30, "x", seen=("Ada",))[25:]], *notes)[-1] == "two"


def test_each_closing_has_its_last_looks() -> None:
    """A task closed, opened and closed again shows the last ones before each."""
    notes = closing(11, "W1"), closing(15, opens="W1"), closing(21, "W1")
    assert {"d10", "d11", "d20", "d21"} <= set(chosen(daily(41), *notes))


def test_what_was_taken_while_it_was_closed_is_no_last_look() -> None:
    """Before the second closing counts only what was taken after it was opened."""
    pictures = [*daily(9), Made("shut", on=13), Made("late", on=40)]
    notes = closing(11, "W1"), closing(15, opens="W1"), closing(21, "W1")
    more = [Made(f"b{at}", on=2, seen=("Ines",)) for at in range(3)]
    assert "shut" not in chosen([*pictures, *more], *notes)


def test_of_one_moment_the_last_look_with_a_caption_leads() -> None:
    """Where several were taken on the closing day without a clock, those with a caption lead."""
    day = [Made(f"a{at}", on=5, caption="x" if at in (1, 2) else None) for at in range(8)]
    builders = daily(4, "b", seen=("Ines",))
    found = chosen([*day, *builders], closing(5, "W1"))
    assert found == ["b00", "b01", "b02", "b03", "a1", "a2"]


def test_of_one_day_the_last_look_is_the_last_by_name() -> None:
    """Where nothing tells those of the closing day apart, the last ones by name are taken."""
    day = [Made(f"a{at}", on=5) for at in range(8)]
    builders = daily(4, "b", seen=("Ines",))
    found = chosen([*day, *builders], closing(5, "W1"))
    assert found == ["b00", "b01", "b02", "b03", "a6", "a7"]


# ---- nearly the same -----------------------------------------------------------------------


@cache
def print_of(number: int, *, copied: bool = False) -> str:
    """The fingerprint of a picture of the shop, or of a smaller copy of it, turned and trimmed."""
    change = in_turn(trimmed(0.04, 0, 0.05, 0.02), turned(Transpose.ROTATE_90), smaller(2))
    image = shop_picture(number)
    return take_fingerprint(saved(change(image) if copied else image), "JPEG")


def test_nearly_the_same_is_shown_once() -> None:
    """Of a picture and its smaller, turned, trimmed copy only one is shown."""
    pictures = [Made("a", likeness=print_of(1)), Made("b", 1, likeness=print_of(1, copied=True))]
    assert print_of(1) != print_of(1, copied=True)
    assert chosen([*pictures, Made("c", 2, likeness=print_of(2))]) == ["a", "c"]


def test_of_two_alike_the_one_of_higher_rank_is_shown() -> None:
    """Of two alike the one with a builder is shown, else the one with a caption."""
    one, copy = print_of(1), print_of(1, copied=True)
    assert chosen([Made("a", likeness=one), Made("b", 1, seen=("Ines",), likeness=copy)]) == ["b"]
    assert chosen([Made("a", likeness=one), Made("b", likeness=copy, caption="x")]) == ["b"]


def test_the_same_bytes_are_shown_once() -> None:
    """Two files with the same bytes are one, also where they show too little for a fingerprint."""
    pictures = [Made("a", digest="0a"), Made("b", on=5, digest="0a"), Made("c", on=2)]
    assert chosen(pictures) == ["a", "c"]


def test_plain_pictures_are_not_taken_for_alike() -> None:
    """Pictures without a fingerprint are like no other."""
    assert chosen(daily(3)) == ["d00", "d01", "d02"]


# ---- pages, faults, several tasks ----------------------------------------------------------


def test_pages_fill_what_pictures_of_the_work_leave() -> None:
    """Scanned pages come after all pictures of the work, also after those without a caption."""
    pages = [
        Made(f"p{at}", on=at, page=True, caption="Page", seen=("Ines",)) for at in range(0, 30, 3)
    ]
    work = [Made("w1", on=7), Made("w2", on=8), Made("w3", on=9)]
    found = chosen([*pages, *work], closing(28, "W1"))
    assert {"w1", "w2", "w3"} <= set(found)
    assert sum(name.startswith("p") for name in found) == 3
    assert not any(name.startswith("p") for name in chosen([*pages, *daily(6)]))


def test_broken_pictures_are_nowhere_but_numbered() -> None:
    """A picture with a fault has a number, and is neither on a sheet nor among the rest."""
    made = [Made("a", fault="'a' is empty", seen=("Ines",)), Made("b", on=1)]
    ledger = book([*made, replace(made[0], name="c", shows=())])
    found = choose(ledger, coverage(ledger))
    assert set(found.numbers) == {"photos/a.jpg", "photos/b.jpg", "photos/c.jpg"}
    assert ([name_of(each.path) for each in found.best["W1"]], found.rest) == (["b"], ())


def test_a_picture_may_be_on_several_sheets() -> None:
    """A picture that shows two tasks stands on both sheets under one number."""
    ledger = book([Made("a", shows=("W1", "W2")), Made("b", on=1, shows=("W2",))])
    found = choose(ledger, coverage(ledger))
    sheets = {task: [name_of(each.path) for each in shots] for task, shots in found.best.items()}
    assert sheets == {"W1": ["a"], "W2": ["a", "b"]}
    assert found.rest == ()


def test_the_rest_holds_all_others_by_number() -> None:
    """Pictures that no sheet shows, those nearly the same among them, follow by number."""
    alike = [Made("y", on=50, digest="0a"), Made("x", on=51, digest="0a")]
    ledger = book([*daily(12), *alike, Made("none", on=3, shows=())])
    found = choose(ledger, coverage(ledger))
    shown = {shot.path for shots in found.best.values() for shot in shots}
    rest = [each.path for each in found.rest]
    assert rest == sorted(set(found.numbers) - shown, key=found.numbers.__getitem__)
    assert "photos/none.jpg" in rest
    assert len(shown & {"photos/x.jpg", "photos/y.jpg"}) == 1


# ---- numbers -------------------------------------------------------------------------------


def numbered(pictures: Iterable[Made]) -> list[str]:
    """The names of pictures by their numbers, which must begin with 1 and leave none out."""
    numbers = choose(book(pictures), ()).numbers
    assert sorted(numbers.values()) == list(range(1, len(numbers) + 1))
    return [name_of(path) for path in sorted(numbers, key=numbers.__getitem__)]


def test_numbers_follow_the_clock_that_the_builder_saw() -> None:
    """The day and clock of the camera order pictures, whatever zone is written beside it."""
    assert numbered(
        [
            Made("a", taken="2026-03-01T20:00:00-08:00"),
            Made("b", taken="2026-03-01T19:30:00"),
            Made("c", taken="2026-03-01T19:00:00+14:00", on=9),
            Made("0", taken="2026-03-02T00:10:00+01:00"),
            Made("d", on=0),
        ]
    ) == ["d", "c", "b", "a", "0"]


def test_equal_moments_follow_by_path() -> None:
    """Two cameras that agree to the second are told apart by path, never by the zone they write."""
    assert numbered(
        [Made("b", taken="2026-03-01T19:00:00"), Made("a", taken="2026-03-01T19:00:00+02:00")]
    ) == ["a", "b"]


def test_a_linked_picture_has_the_day_of_its_note() -> None:
    """A picture that notes only link stands at the first of their days; one of none comes last."""
    linked = making.picture("photos/l.jpg", linked=("notes/2026-03-05.md", "notes/2026-03-03.md"))
    lost = making.picture("photos/0.jpg", linked=("notes/gone.md",))
    notes = [making.note(on(number)) for number in (2, 4)]
    pictures = (lost, linked, *map(picture, daily(5)))
    ledger = making.ledger(pictures=pictures, notes=notes)
    numbers = choose(ledger, ()).numbers
    assert (numbers["photos/l.jpg"], numbers["photos/0.jpg"]) == (4, 7)


# ---- what always holds ---------------------------------------------------------------------

PRINTS = ("", *(print_of(number, copied=copied) for number in (1, 2) for copied in (False, True)))


@st.composite
def albums(draw: st.DrawFn) -> tuple[list[Made], list[Note]]:
    """Pictures of all sorts, and a few closings."""
    clock = st.sampled_from(["", "2026-03-04T19:00:00", "2026-03-20T08:30:00+01:00", "2026-03-09"])
    made = st.builds(
        Made,
        name=st.just(""),
        on=st.integers(0, 30),
        taken=clock,
        seen=st.sampled_from([(), (), ("Ines",), ("Ada",)]),
        caption=st.sampled_from([None, "x"]),
        page=st.sampled_from([False, False, True]),
        shows=st.sampled_from([("W1",), ("W1", "W2"), ("W2",), ()]),
        likeness=st.sampled_from(PRINTS),
        fault=st.sampled_from([None, None, None, "'x' is empty"]),
    )
    pictures = [
        replace(each, name=f"n{at:02}") for at, each in enumerate(draw(st.lists(made, max_size=18)))
    ]
    days = draw(st.lists(st.tuples(st.integers(0, 30), st.booleans()), max_size=3, unique=True))
    first = dict(days)
    return pictures, [
        closing(number, *(("W1", "") if shut else ("", "W"))) for number, shut in first.items()
    ]


def choice_of(pictures: Iterable[Made], notes: Iterable[Note]) -> Choice:
    """The choice for the two tasks."""
    ledger = book(pictures, notes)
    return choose(ledger, coverage(ledger))


@given(albums())
def test_what_holds_of_every_choice(album: tuple[list[Made], list[Note]]) -> None:
    """Never more than six, all the task's own, whole, none alike, in order of number."""
    pictures, notes = album
    found = choice_of(pictures, notes)
    by_path = {f"photos/{each.name}.jpg": each for each in pictures}
    for task, shots in found.best.items():
        made = [by_path[shot.path] for shot in shots]
        assert len(shots) <= BEST_OF_A_TASK
        assert all(task in each.shows and each.fault is None for each in made)
        numbers = [found.numbers[shot.path] for shot in shots]
        assert numbers == sorted(set(numbers))
        seen = [each.likeness for each in made if each.likeness]
        assert all(apart_by(*pair) > 12 for pair in combinations(seen, 2))


@given(albums(), st.randoms(use_true_random=False))
def test_the_order_of_files_changes_nothing(
    album: tuple[list[Made], list[Note]], chance: Random
) -> None:
    """In whatever order pictures and notes are read, the choice is the same."""
    pictures, notes = album
    found = choice_of(pictures, notes)
    mixed = chance.sample(pictures, len(pictures)), chance.sample(notes, len(notes))
    assert choice_of(*mixed) == found


@given(albums())
def test_no_place_stays_empty(album: tuple[list[Made], list[Note]]) -> None:
    """Where fewer than six are shown, all others of the task are broken or nearly the same."""
    pictures, notes = album
    found = choice_of(pictures, notes)
    for task, shots in found.best.items():
        if len(shots) < BEST_OF_A_TASK:
            shown = {name_of(shot.path) for shot in shots}
            seen = [each.likeness for each in pictures if each.name in shown and each.likeness]
            for each in pictures:
                if each.name not in shown and task in each.shows and not each.fault:
                    assert any(apart_by(each.likeness, other) <= 12 for other in seen)


@given(albums())
def test_pages_never_displace_work(album: tuple[list[Made], list[Note]]) -> None:
    """A page that is shown leaves no picture of the work out but those alike to one shown."""
    pictures, notes = album
    found = choice_of(pictures, notes)
    for task, shots in found.best.items():
        shown = {name_of(shot.path) for shot in shots}
        work = [each for each in pictures if task in each.shows and not each.page]
        left = [each for each in work if each.name not in shown and not each.fault]
        if any(each.page for each in pictures if each.name in shown):
            assert all(each.likeness for each in left)
