"""Markers in chance places of all keys of notes: what is private is in no byte of any site."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from builderlog.drawing.theme import theme_names
from builderlog.knowing.note_words import NOTE_KEYS
from tests.command.hidden_journal import SHOW, photo, searched
from tests.command.running import run, write
from tests.examples import many

# What a note may say, by the word of `site: show` that lets friends see it: "plain" always,
# "never" never. Each @ becomes a marker that stands nowhere else, and names what it is.
LINES = {
    "title": "title: @plain@",
    "hours": "hours: {Ines: 1h, Tove: 30min}",
    "tasks": "tasks: [{task: W1, hours: 1h, per: @never@}]",
    "parts": "parts: [{part: @plain@, from: @suppliers@, ref: @refs@, receipt: papers/bill.pdf,"
    " status: fitted, for: W1, cost: 7 USD}]",
    "photos": "photos: [{photo: photos/PICTURE.jpg, caption: @picture@, shows: [W1]}]",
    "measured": "measured: {what: @plain@, value: 1 mm, limit: <= 2 mm}",
    "torqued": "torqued: {where: @never@, to: 20 in-lb, source: @never@, by: Ines}",
    "process": "process: {what: @never@, batch: @never@, mix: @never@, sample: @never@}",
    "snags": "snags: [{snag: @snags@, area: W}, @snags@]",
    "decided": "decided: {what: @plain@, why: @plain@, instead of: @plain@, again: @plain@}",
    "visits": "visits: {who: [@visits@], as: @visits@, looked at: [W1], said: @visits@,"
    " found: [@snags@], sheet: papers/bill.pdf, result: @never@}",
    "away": "away: {what: @never@, task: W1, with: @never@, as: paid, sent: 2026-03-02}",
    "bulletins": "bulletins: {no: @never@, applies: no, done: @never@}",
    "next": "next: [@plain@, @plain@]",
    "place": "place: @place@",
    "closes": "closes: [W1]",
    "opens": "opens: [W1]",
    "written": "written: 2026-04-03",
}
PROSE = (
    "Words @plain@.",
    "# @plain@\n\n> @plain@\n\n| @plain@ |\n|--|\n| @plain@ |",
    "[@plain@](2026-03-NOTE.md '@plain@') and ![@plain@](../photos/PICTURE.jpg '@plain@')",
    "[@plain@][a]\n\n[a]: ../papers/bill.pdf '@never@'\n[@never@]: x.pdf",
    "![@plain@][b]\n\n[b]: ../photos/PICTURE.jpg",
)
PICTURES = ("one", "two", "three")
MARK = re.compile("@([a-z]+)@")
LETTER = (
    "---\ntitle: @plain@\n---\n@plain@ [x](../notes/2026-03-NOTE.md) ![](../photos/PICTURE.jpg)\n"
)
JOURNAL = """\
title: Wings
builder: Ines
people: {Ines: {role: builder, full name: zqfullqz}, Tove: {role: helper, full name: zqneverqz}}
aircraft: {kit: zqsuppliersqz, registration: zqregistrationqz, serial: zqserialqz, maker: zqneverqz}
place: zqplaceqz
currency: USD
"""
WORKLIST = "areas: [{area: W, name: Wings, tasks: [{task: W1, name: Spar, estimate: 9h}]}]\n"

Lines = tuple[list[str], list[str], str, int]  # keys, prose, privacy, day
NOTE = st.tuples(
    st.lists(st.sampled_from(sorted(LINES)), min_size=6, unique=True),
    st.lists(st.sampled_from(PROSE), max_size=3, unique=True),
    st.sampled_from(["no", "no", "yes", "hours only"]),
    st.integers(11, 14),
)


def letters_of(number: int) -> str:
    """A number in letters alone, as markers are."""
    return "".join(chr(97 + int(digit)) for digit in str(number))


def marking(private: bool) -> Callable[[re.Match[str]], str]:  # noqa: FBT001 - of a whole note
    """What a place of a note becomes: its kind and a number, in letters."""
    numbers = iter(range(10_000))
    return lambda found: f"zq{'never' if private else found[1]}x{letters_of(next(numbers))}qz"


def written(notes: list[Lines], pictures: list[str]) -> Iterator[tuple[str, str]]:
    """The notes' files; each picture name and each link by the next of the drawn ones."""
    for number, (keys, prose, privacy, day) in enumerate(notes):
        lines = "\n".join((*(LINES[key] for key in keys), f"private: {privacy}"))
        text = f"---\n{lines}\n---\n" + "\n\n".join(prose)
        text = text.replace("PICTURE", pictures[number % len(pictures)])
        text = text.replace(
            "NOTE", f"{notes[number - 1][3]}-n{letters_of((number or len(notes)) - 1)}"
        )
        name = f"notes/2026-03-{day}-n{letters_of(number)}.md"
        yield (
            name,
            MARK.sub(marking(privacy != "no"), text).replace("zq", f"zq{letters_of(number)}y"),
        )


def private_pictures(files: dict[str, str]) -> set[str]:
    """The pictures that a private note names or links: no caption of theirs is for friends."""
    texts = [text for text in files.values() if "\nprivate: " in text and "private: no" not in text]
    return {name for name in PICTURES if any(f"photos/{name}.jpg" in text for text in texts)}


def allowed(marker: str, show: list[str], files: dict[str, str]) -> bool:
    """Whether friends may see a marker: its kind says so, or for a caption its picture."""
    kind = re.sub("^zq(?:[a-j]+y)?|x[a-j]*qz$|qz$", "", marker)
    if kind == "picture":
        (text,) = [text for text in files.values() if marker in text]
        (name,) = re.findall(r"photo: photos/(\w+).jpg", text)
        return name not in private_pictures(files)
    return kind == "plain" or kind in show or (kind == "full" and "full names" in show)


@pytest.mark.parametrize("theme", theme_names())
@settings(
    max_examples=many(4),
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.generate],
)
@given(
    st.lists(NOTE, min_size=3, max_size=5),
    st.lists(st.sampled_from(PICTURES), min_size=3, max_size=3),
    st.lists(st.sampled_from([word for word in SHOW if word != "claim"]), unique=True),
)
def test_private_markers_anywhere(
    theme: str, notes: list[Lines], pictures: list[str], show: list[str]
) -> None:
    """Notes of chance keys, some private: of their markers friends see only what they may."""
    site = f"site: {{theme: {theme}, address: 'https://e.org/w/', show: [{', '.join(show)}]}}\n"
    files = dict(written(notes, pictures))
    letter = LETTER.replace("PICTURE", pictures[0]).replace("NOTE", f"{notes[0][3]}-na")
    letter = MARK.sub(marking(private=False), letter)
    with TemporaryDirectory() as folder:
        root = write(Path(folder), files)
        write(root, {"journal.yaml": JOURNAL + site, "worklist.yaml": WORKLIST})
        write(root, {"papers/bill.pdf": "%PDF", "letters/2026-03.md": letter})
        write(root, {f"photos/{name}.jpg": photo(9 + 9 * at) for at, name in enumerate(PICTURES)})
        said = run("publish", root)
        assert said.status == 0, said.err
        found, size = searched(root / "published")
    assert [
        marker for marker in found if not allowed(marker, show, {**files, "letter": letter})
    ] == []
    assert len(found) >= 2
    assert size > 50_000


def test_every_key_has_a_line() -> None:
    """No key of a note is forgotten here, but for those that say what this is about."""
    names = {key.word for key in NOTE_KEYS}
    assert names - LINES.keys() <= {"date", "private", "fixed"}
