"""Manifests: written as checkers read them, and read as if a stranger had written them."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.handover.manifests import (
    LONGEST_LINE,
    MOST_FAULTS,
    Manifest,
    manifest_bytes,
    read_manifest,
)

DIGEST = "0123456789abcdef" * 4
LINE = f"{DIGEST}  data/a.md\n".encode()


def read(data: bytes, kind: str = "manifest") -> Manifest:
    """A SHA-256 manifest of these bytes."""
    return read_manifest(kind, "sha256", io.BytesIO(data))


def test_a_manifest_is_sorted_and_plain() -> None:
    """One line a file, sorted, so that the same files give the same bytes."""
    digests = {"data/b": DIGEST, "data/a \u00e9": DIGEST}
    assert manifest_bytes(digests) == f"{DIGEST}  data/a \u00e9\n{DIGEST}  data/b\n".encode()


@given(st.dictionaries(st.from_regex(r"data/[a-z #'\u00e9]{1,9}", fullmatch=True), st.just(DIGEST)))
def test_what_is_written_is_read_back(digests: dict[str, str]) -> None:
    """Any plain paths come back with their digests, and nothing is told."""
    found = read(manifest_bytes(digests))
    assert (found.entries, found.faults) == (digests, [])


@pytest.mark.parametrize(
    "data",
    [
        LINE.replace(b"  ", b" "),
        LINE.replace(b"  ", b"\t"),
        LINE.replace(b"  ", b" *"),
        LINE.replace(b"\n", b"\r\n"),
        LINE.replace(DIGEST.encode(), DIGEST.upper().encode()),
    ],
)
def test_what_the_standard_allows_is_read(data: bytes) -> None:
    """RFC 8493, 2.1.3: any blank, capital digits and other line ends are read alike."""
    found = read(data)
    assert (found.entries, found.faults) == ({"data/a.md": DIGEST}, [])


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"junk\n", "not-a-line"),
        (b"\n", "not-a-line"),
        (b"\0\xff\xfe\n", "not-a-line"),
        (b"\xef\xbb\xbf" + LINE, "not-a-line"),
        (LINE[1:], "not-a-line"),
        (b"A" + LINE[1:], "not-a-line"),
        (LINE.replace(b"a.md", b"\xff.md"), "not-utf8"),
        (LINE.replace(b"a.md", b"a%2F.md"), "percent"),
        (LINE.replace(b"a.md", b"100%"), "percent"),
        (LINE.replace(b"data/a.md", b"data/../../a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"/data/a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"./data/a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"data//a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"data\\..\\a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"C:/a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"~/a"), "leaves-bag"),
        (LINE.replace(b"data/a.md", b"bagit.txt"), "not-its-place"),
        (LINE + LINE, "listed-twice"),
        (LINE.replace(b"a.md", b"a" * LONGEST_LINE), "long-line"),
        (b"x" * 5_000_000, "long-line"),
    ],
)
def test_a_bad_line_is_told(data: bytes, code: str) -> None:
    """Each kind of bad line is one fault of the manifest, and the good lines after it are kept."""
    good = f"{DIGEST}  data/good.md\n".encode()
    ended = data if data.endswith(b"\n") else data + b"\n"
    found = read(ended + good)
    assert [fault.code for fault in found.faults] == [code]
    assert "data/good.md" in found.entries


def test_encoded_line_breaks_are_read() -> None:
    """RFC 8493, 2.1.3: %0A, %0D and %25 stand for line feed, carriage return and percent sign."""
    found = read(LINE.replace(b"a.md", b"a%0Ab%0Dc%25d"))
    assert list(found.entries) == ["data/a\nb\rc%d"]


@pytest.mark.parametrize("path", ["data/a.md", "tagmanifest-sha256.txt"])
def test_a_tag_manifest_lists_neither_payload_nor_tag_manifests(path: str) -> None:
    """RFC 8493, 2.2.1: what does not belong into a tag manifest is told and not kept."""
    found = read(f"{DIGEST}  {path}\n".encode(), "tagmanifest")
    assert ([fault.code for fault in found.faults], found.entries) == (["not-its-place"], {})


def test_a_manifest_of_junk_is_told_in_bounds() -> None:
    """A million bad lines give no more faults than a person reads, and the last says so."""
    found = read(b"x\n" * 100_000)
    assert len(found.faults) == MOST_FAULTS + 1
    assert found.faults[-1].code == "more-faults"


@given(st.binary(max_size=300))
def test_nothing_raises(data: bytes) -> None:
    """Any bytes at all are read or told."""
    read(data)
