"""A seal's file: it reads back as it was written, and nothing in it is passed over in silence."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.knowing import seals_file
from builderlog.knowing.seals import Seal, SealedFile
from builderlog.knowing.seals_file import (
    escaped,
    read_seal,
    read_seals,
    seal_text,
    unescaped,
    with_digest,
)
from builderlog.knowing.settings import Role
from builderlog.reading.folder import Folder
from builderlog.reading.problem import Place, Problem, Weight

A, B, C = "a" * 64, "b" * 64, "c" * 64
SEAL = with_digest(
    Seal(
        path="seals/2026-03-amended-1.txt",
        month="2026-03",
        amends="seals/2026-03.txt",
        why="a receipt was missing",
        sealed_on=date(2026, 4, 2),
        before=C,
        roles=(("Ada: the 2nd", Role.HELPER), ("Ines", Role.BUILDER)),
        files=(
            SealedFile(A, "notes/2026-03-14.md"),
            SealedFile(B, "photos/back\\slash\nand line.jpg"),
            SealedFile(C, "kept-back/2026-03-14.1", kept_back=date(2026, 3, 14)),
        ),
        totals=(("seconds", "3600"), ("seconds of Ada: the 2nd", "3600"), ("spent USD", "8.40")),
    )
)
TEXT = seal_text(SEAL)


def problems_of(text: str | bytes, path: str = SEAL.path) -> list[Problem]:
    """What is told of a seal's file."""
    data = text if isinstance(text, bytes) else text.encode()
    return list(read_seal(path, data)[1])


def without_places(seal: Seal | None) -> Seal | None:
    """The seal as if it stood nowhere."""
    if seal is None:
        return None
    files = tuple(replace(one, place=Place("")) for one in seal.files)
    return replace(seal, files=files, place=Place(""))


def test_the_file_is_plain() -> None:
    """What it is, its key and value lines, what is kept back, and the lines of sha256sum."""
    lines = TEXT.splitlines()
    assert lines[0].startswith("# This seal closes the month 2026-03 of a builder's record")
    assert lines[1].endswith("sha256sum -c seals/2026-03-amended-1.txt")
    assert lines[3:10] == [
        "# month: 2026-03",
        "# sealed on: 2026-04-02",
        f"# before: {C}",
        "# amends: seals/2026-03.txt",
        "# why: a receipt was missing",
        "# role of Ada: the 2nd: helper",
        "# role of Ines: builder",
    ]
    assert lines[13:] == [
        f"{A}  notes/2026-03-14.md",
        f"\\{B}  photos/back\\\\slash\\nand line.jpg",
        f"# kept-back: {C}  kept-back/2026-03-14.1",
    ]
    assert "\r" not in TEXT


def test_it_reads_back() -> None:
    """A seal that was written is read as it was, with each line's place."""
    seal, problems = read_seal(SEAL.path, TEXT.encode())
    assert problems == ()
    assert without_places(seal) == without_places(SEAL)
    assert seal
    assert (seal.files[0].place.line, seal.files[0].place.column) == (14, 1)


WORDS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)
DIGESTS = st.text("0123456789abcdef", min_size=64, max_size=64)
PATHS = WORDS.map(lambda text: f"photos/{text}")
SEALS = st.builds(
    Seal,
    path=st.just("seals/2026-03.txt"),
    month=st.just("2026-03"),
    amends=st.just("") | PATHS,
    why=WORDS,
    sealed_on=st.dates(date(2000, 1, 1)),
    before=st.just("") | DIGESTS,
    roles=st.dictionaries(WORDS, st.sampled_from(Role)).map(lambda made: tuple(made.items())),
    files=st.dictionaries(PATHS, DIGESTS).map(
        lambda made: tuple(SealedFile(digest, path) for path, digest in made.items())
    ),
    totals=st.dictionaries(WORDS.map(lambda name: f"seconds of {name}"), st.just("1")).map(
        lambda made: tuple(made.items())
    ),
)


@given(SEALS)
def test_any_seal_reads_back(made: Seal) -> None:
    """Whatever names, paths and reasons hold, reading gives what was written."""
    seal = with_digest(made if made.amends else replace(made, why=""))
    back, problems = read_seal(seal.path, seal_text(seal).encode())
    assert problems == ()
    assert without_places(back) == without_places(seal)


@given(WORDS)
def test_escapes_are_taken_off_again(text: str) -> None:
    """A text escaped stands on one line and comes back."""
    assert unescaped(escaped(text)) == text
    assert not {"\n", "\r"} & set(escaped(text))


@given(st.data())
def test_any_line_that_is_lost_or_doubled_is_seen(data: st.DataObject) -> None:
    """Without any one line from the month on, the seal says something else or is told."""
    lines = TEXT.splitlines(keepends=True)
    at = data.draw(st.integers(3, len(lines) - 1))
    shorter = "".join(lines[:at] + lines[at + 1 :])
    seal, problems = read_seal(SEAL.path, shorter.encode())
    assert problems or without_places(seal) != without_places(SEAL)
    assert problems_of("".join(lines[: at + 1] + lines[at:]))


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    """Anything at all is read without an error, and something that is no seal is told."""
    for whole in (data, TEXT.encode() + data):
        read_seal(SEAL.path, whole)
    assert problems_of(data)


@pytest.mark.parametrize(
    ("old", "new", "line", "word"),
    [
        (f"{A}  notes", f"{A} notes", 14, "two blanks"),
        ("# role of Ines: builder", "# role of Ines: owner", 10, "no comment that a seal has"),
        ("# why: a", "# because: a", 8, "no comment that a seal has"),
        ("# spent USD: 8.40", "# a word of mine", 13, "no comment that a seal has"),
        ("# seconds: 3600", "# seconds: 3600\n# seconds: 1", 12, "stands twice"),
        ("kept-back/2026-03-14.1", "kept-back/2026-02-30.1", 16, "kept-back line"),
        ("photos/back\\\\slash\\nand line.jpg", "notes/2026-03-14.md", 15, "stands twice"),
        ("# month: 2026-03", "# month: 2026-13", 1, "is no month"),
        (f"# before: {C}", "# before: abc", 1, "no SHA-256 digest"),
        (f"# before: {C}\n", "", 1, "lacks the line '# before"),
        ("# sealed on: 2026-04-02", "# sealed on: 2026-04-31", 1, "cannot be read"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_line(old: str, new: str, line: int, word: str) -> None:
    """Each broken line is a doubt at its place, and the rest is read."""
    assert old in TEXT
    problems = problems_of(TEXT.replace(old, new))
    assert {problem.weight for problem in problems} == {Weight.DOUBT}
    assert {problem.code for problem in problems} == {"seal-unreadable"}
    assert [p.place.line for p in problems if word in p.message] == [line]


def test_other_programs_that_save_it_anew_are_told() -> None:
    """CRLF line ends and another encoding are told once, and the lines are read all the same."""
    seal, (told,) = read_seal(SEAL.path, TEXT.replace("\n", "\r\n").encode())
    assert "LF alone" in told.message
    assert without_places(replace(seal or SEAL, digest="")) == without_places(
        replace(SEAL, digest="")
    )
    (told,) = problems_of(TEXT.replace("receipt", "re\xe7u").encode("latin-1"))
    assert "not UTF-8" in told.message


def test_only_files_of_the_right_name_are_seals(tmp_path: Path) -> None:
    """A stray text file is told by name, a signature beside a seal is left alone."""
    (tmp_path / "seals").mkdir()
    for name in (
        "2026-03.txt",
        "2026-3.txt",
        "notes.TXT",
        "2026-03.txt.asc",
        "2026-03-amended-1.txt",
    ):
        (tmp_path / "seals" / name).write_bytes(TEXT.encode())
    seals, problems = read_seals(Folder.at(tmp_path))
    assert {seal.path for seal in seals} == {"seals/2026-03.txt", "seals/2026-03-amended-1.txt"}
    assert [(each.code, each.place.path) for each in problems] == [
        ("seal-name", "seals/2026-3.txt"),
        ("seal-name", "seals/notes.TXT"),
    ]


def test_a_file_that_is_too_large_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file larger than any seal is told and not taken into memory."""
    monkeypatch.setattr(seals_file, "LARGEST_SEAL", len(TEXT) - 1)
    (tmp_path / "seals").mkdir()
    (tmp_path / "seals/2026-03.txt").write_bytes(TEXT.encode())
    seals, (told,) = read_seals(Folder.at(tmp_path))
    assert (seals, told.code) == ((), "seal-unreadable")
