"""A seal's file is checked by other programs: `sha256sum` of GNU coreutils, strictly.

Source: GNU coreutils manual, `sha256sum invocation` and `md5sum invocation` (odd names are written
with a backslash in front), tried with the program itself.
"""

from __future__ import annotations

import hashlib
import subprocess
from pathlib import Path

import pytest

from tests.deciding.sealed_journals import FILES, WITH_HIDDEN, seal, sealed
from tests.outside import tools

BLANK = "[a name that ends in a blank](../photos/ends%20in%20a%20blank.pdf%20)"
ODD = (
    "photos/50 % done.pdf",
    "photos/back\\slash.pdf",
    "photos/line\nbreak.pdf",
    "photos/ends in a blank.pdf ",
    "photos/r\u00f6hre e\u0301 \u2028.pdf",
    "photos/\\n is no line.pdf",
    "photos/*star.pdf",
    "photos/#hash.pdf",
)


def sums(root: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Runs `sha256sum` from the journal's folder."""
    command = [tools.program("sha256sum"), *words]
    return subprocess.run(command, cwd=root, check=False, capture_output=True, text=True)


def odd_journal(root: Path) -> Path:
    """A journal whose note names or links papers with odd names."""
    quoted = (
        name.replace("\\", "\\\\").replace("\n", "\\n") for name in ODD if name.strip() == name
    )
    parts = "".join(f'  - {{part: a bolt, receipt: "{name}"}}\n' for name in quoted)
    files = {**FILES, "notes/2026-03-25.md": f"---\nparts:\n{parts}---\n{BLANK}\n"}
    return sealed(root, files={**files, **{name: f"receipt {name}" for name in ODD}})


@pytest.mark.parametrize("strict", [[], ["--strict"]])
def test_every_line_is_accepted(tmp_path: Path, strict: list[str]) -> None:
    """Comments are skipped, every listed file is found and right, whatever its name holds."""
    root = odd_journal(tmp_path)
    made = seal(root, "2026-03")
    done = sums(root, "--check", *strict, made.path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count(": OK\n") == len(made.files) == 6 + len(ODD)


def test_a_changed_file_is_refused(tmp_path: Path) -> None:
    """One flipped bit fails, and the program names the file, so its acceptance means something."""
    root = odd_journal(tmp_path)
    made = seal(root, "2026-03")
    file = root / "receipts/bolts.pdf"
    file.write_bytes(bytes([file.read_bytes()[0] ^ 1]) + file.read_bytes()[1:])
    done = sums(root, "--check", made.path)
    assert done.returncode == 1
    assert "receipts/bolts.pdf: FAILED\n" in done.stdout
    assert done.stdout.count("FAILED") == 1


def test_what_is_kept_back_does_not_disturb(tmp_path: Path) -> None:
    """Digests without a name are comments to the program: it accepts the rest."""
    root = sealed(tmp_path, files=WITH_HIDDEN)
    done = sums(root, "--check", "--strict", seal(root, "2026-03").path)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_lines_are_those_that_the_program_writes(tmp_path: Path) -> None:
    """Each line of a file is, to the byte, what `sha256sum` itself prints for it."""
    root = odd_journal(tmp_path)
    made = seal(root, "2026-03")
    printed = sums(root, "--", *(one.path for one in made.files)).stdout
    text = (root / made.path).read_text(encoding="utf-8")
    assert text.endswith(printed)


def test_the_seal_is_the_digest_of_its_file(tmp_path: Path) -> None:
    """The program gives the month's seal when asked for the digest of the seal's file."""
    root = sealed(tmp_path)
    made = seal(root, "2026-03")
    assert sums(root, made.path).stdout == f"{made.digest}  {made.path}\n"
    assert made.digest == hashlib.sha256((root / made.path).read_bytes()).hexdigest()
