"""`seal`: closes months in order, refuses with a sentence, never writes over anything."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from builderlog.deciding.sealing import covered_by
from tests.command.hidden_journal import HOURS_NOTE, PUBLIC_NOTE, markers_in, searched, write_hidden
from tests.command.running import originals, run
from tests.command.small_journal import RIVETS, write_small

APRIL = "---\nhours: 1h\ntasks: [W15]\n---\nMore.\n"


@pytest.fixture
def two_months(tmp_path: Path) -> Path:
    """The small journal with a note in April 2026 too."""
    return write_small(tmp_path / "journal", april=APRIL)


def sealed(root: Path, month: str, *words: str, on: str = "2026-06-01") -> str:
    """Seals a month and returns its digest."""
    said = run("seal", root, month, "--on", on, *words)
    assert (said.status, said.err) == (0, "")
    return said.out.splitlines()[2]


def test_a_month_is_sealed(two_months: Path) -> None:
    """One file is written and nothing else; its own digest is printed, with what to do with it."""
    before = originals(two_months)
    said = run("seal", two_months, "2026-03", "--on", "2026-04-01")
    file = two_months / "seals/2026-03.txt"
    assert said.status == 0
    assert hashlib.sha256(file.read_bytes()).hexdigest() in said.out.splitlines()
    assert "March 2026 is sealed: 4 files" in said.out
    assert "Give it to a friend" in said.out
    assert "does not show that what the notes say is true" in said.out
    after = originals(two_months)
    assert {path: after[path] for path in before} == before
    assert set(after) - set(before) == {"seals/2026-03.txt"}


def test_the_same_journal_gives_the_same_seal(two_months: Path, tmp_path: Path) -> None:
    """Two folders, sealed on the same day, have the same digest."""
    other = write_small(tmp_path / "elsewhere" / "twin", april=APRIL)
    assert sealed(two_months, "2026-03") == sealed(other, "2026-03")


def test_the_seal_says_what_tally_says(two_months: Path) -> None:
    """Each total in the file is that of `tally --json`."""
    sealed(two_months, "2026-03")
    text = (two_months / "seals/2026-03.txt").read_text(encoding="utf-8")
    march = json.loads(run("tally", two_months, "--json").out)["by_month"]["2026-03"]
    for key in ("seconds", "notes", "days", "photos"):
        assert f"\n# {key}: {march[key]}\n" in text
    for role, seconds in march["by_role"].items():
        assert f"\n# seconds as {role}: {seconds}\n" in text
    assert f"\n# spent USD: {march['spent']['USD']}\n" in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["2026-03", "--on", "2026-03-31"], "March 2026 is not over on 2026-03-31"),
        (["2026-04", "--on", "2026-05-01"], "2026-03 has notes and is not sealed yet"),
        (["2026-02", "--on", "2026-05-01"], "no note is dated in 2026-02"),
        (["2026-03", "--amend", "--why", "x", "--on", "2026-05-01"], "2026-03 is not sealed"),
        (["2026-03", "--why", "x", "--on", "2026-05-01"], "write --amend with it"),
        (["--amend", "2026-03", "--on", "2026-05-01"], "2026-03 is not sealed"),
        (["March"], "'March' is no month; write it as 2026-03"),
        (["2026-13"], "'2026-13' is no month"),
        ([], "is no month"),
        (["2026-03", "--on", "2026-02-30"], "that month has 28 days"),
        (["2026-03", "--why", "a\x07b"], "without control characters"),
        (["2026-03", "--amend", "elsewhere"], "one journal and one month are wanted"),
    ],
)
def test_what_cannot_be_sealed_is_refused(two_months: Path, words: list[str], told: str) -> None:
    """Exit status 2, one sentence that says why and what to do, and nothing written."""
    said = run("seal", two_months, *words)
    assert (said.status, said.out) == (2, "")
    assert told in said.err
    assert not (two_months / "seals").exists()


def test_the_current_folder_is_the_journal(
    two_months: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The month alone seals the journal in the current folder; so does --amend with it."""
    monkeypatch.chdir(two_months)
    assert run("seal", "2026-03", "--on", "2026-04-01").status == 0
    (two_months / "notes/2026-03-15-rivets.md").write_text(RIVETS + "More.\n", encoding="utf-8")
    said = run("seal", "--amend", "2026-03", "--why", "a word", "--on", "2026-04-02")
    assert (said.status, said.err) == (0, "")
    assert run("seal").status == 2
    assert sorted(file.name for file in Path("seals").iterdir()) == [
        "2026-03-amended-1.txt",
        "2026-03.txt",
    ]


def test_a_sealed_month_is_not_sealed_again(two_months: Path) -> None:
    """The second time it is refused with the way to amend, and the file is as it was."""
    sealed(two_months, "2026-03")
    before = originals(two_months)
    said = run("seal", two_months, "2026-03", "--on", "2026-06-02")
    assert said.status == 2
    assert '--amend 2026-03 --why "the reason"' in said.err
    assert originals(two_months) == before


def test_an_amendment_keeps_the_old_seal(two_months: Path) -> None:
    """What changed is told, sealed again with the reason, and told no more; both files stay."""
    first = sealed(two_months, "2026-03")
    (two_months / "notes/2026-03-15-rivets.md").write_text(RIVETS + "More.\n", encoding="utf-8")
    assert "seal-changed" in run("check", two_months).out
    second = sealed(two_months, "2026-03", "--amend", "--why", "a word was missing")
    assert "seal-" not in run("check", two_months).out
    seals = two_months / "seals"
    assert hashlib.sha256((seals / "2026-03.txt").read_bytes()).hexdigest() == first
    text = (seals / "2026-03-amended-1.txt").read_text(encoding="utf-8")
    assert hashlib.sha256(text.encode()).hexdigest() == second
    assert f"# before: {first}\n# amends: seals/2026-03.txt\n# why: a word was missing\n" in text
    said = run("seal", two_months, "2026-03", "--amend", "--why", "x", "--on", "2026-06-03")
    assert said.status == 2
    assert "nothing has changed since seals/2026-03-amended-1.txt" in said.err
    said = run("seal", two_months, "2026-03", "--amend", "--on", "2026-06-03")
    assert "an amendment says why" in said.err


def test_a_day_before_the_last_sealing_is_refused(two_months: Path) -> None:
    """A seal cannot be older than the one before it."""
    sealed(two_months, "2026-03", on="2026-06-01")
    said = run("seal", two_months, "2026-04", "--on", "2026-05-31")
    assert said.status == 2
    assert "cannot be older than the one before it" in said.err


def test_a_journal_with_mistakes_is_not_sealed(two_months: Path) -> None:
    """The mistakes are listed, exit status 1, and nothing is written."""
    (two_months / "notes/2026-04-20.md").write_text("---\nhours: long\n---\n", encoding="utf-8")
    said = run("seal", two_months, "2026-03", "--on", "2026-06-01")
    assert said.status == 1
    assert "notes/2026-04-20.md:2:8: unreadable" in said.err
    assert "nothing was sealed" in said.err
    assert not (two_months / "seals").exists()


def test_a_folder_of_seals_elsewhere_is_refused(two_months: Path, tmp_path: Path) -> None:
    """Seals stay with the record: a link in place of their folder is not written through."""
    (tmp_path / "elsewhere").mkdir()
    (two_months / "seals").symlink_to(tmp_path / "elsewhere")
    said = run("seal", two_months, "2026-03", "--on", "2026-06-01")
    assert said.status == 2
    assert "is a link to another place" in said.err
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_no_journal_is_left_alone(tmp_path: Path) -> None:
    """A folder that is no journal is refused, and no lock is left in it."""
    said = run("seal", tmp_path, "2026-03")
    assert said.status == 2
    assert list(tmp_path.iterdir()) == []


def test_bytes_on_the_disk_are_sealed_not_what_was_kept_of_them(
    two_months: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A picture that is not what was read of it a moment ago stops the sealing."""
    picture = two_months / "photos/skins.jpg"

    def change_then_compose(path: Path) -> None:
        path.write_bytes(path.read_bytes() + b" ")

    from builderlog.command import seal as command

    before = covered_by

    def covered(*words: object) -> object:
        change_then_compose(picture)
        return before(*words)  # type: ignore[arg-type]

    monkeypatch.setattr(command, "covered_by", covered)
    said = run("seal", two_months, "2026-03", "--on", "2026-06-01")
    assert said.status == 2
    assert "photos/skins.jpg is not what was read of it" in said.err
    assert not (two_months / "seals").exists()


def test_friends_see_the_digest_and_nothing_of_the_list(two_months: Path) -> None:
    """The month's page shows the seal's digest and the amendment's; no path and no other digest."""
    first = sealed(two_months, "2026-03")
    assert run("publish", two_months).status == 0
    page = (two_months / "published/months/2026-03.html").read_text(encoding="utf-8")
    assert f"<code>{first}</code>" in page
    assert "<code>" not in (two_months / "published/months/2026-04.html").read_text(
        encoding="utf-8"
    )
    (two_months / "notes/2026-03-15-rivets.md").write_text(RIVETS + "More.\n", encoding="utf-8")
    second = sealed(two_months, "2026-03", "--amend", "--why", "the zqreasonqz")
    assert run("publish", two_months).status == 0
    page = (two_months / "published/months/2026-03.html").read_text(encoding="utf-8")
    assert page.count("<code>") == 2
    assert f"<code>{second}</code>" in page
    whole = b"\n".join(
        file.read_bytes() for file in (two_months / "published").rglob("*") if file.is_file()
    )
    assert b"seals/" not in whole
    assert b"zqreasonqz" not in whole
    listed = (two_months / "seals/2026-03.txt").read_text(encoding="utf-8").splitlines()
    receipt = next(line.split()[0] for line in listed if line.endswith("receipts/a.pdf"))
    assert receipt.encode() not in whole


@pytest.fixture
def hidden(tmp_path: Path) -> Path:
    """The journal of markers with its month sealed, without the link that betrays a name."""
    root = write_hidden(tmp_path / "journal")
    (root / "seals/zqsealqz.txt").unlink()
    note = root / "notes/2026-03-14-zqfilenameqz.md"
    note.write_text(PUBLIC_NOTE.replace("2026-03-21-zqhoursnameqz.md", "https://example.org/"))
    sealed(root, "2026-03")
    return root


def test_a_seal_does_not_name_what_is_hidden(hidden: Path) -> None:
    """No marker of an hours-only note is in the seal, nor anywhere in the dossier with it."""
    hours = markers_in(HOURS_NOTE.encode()) - {"zqinesqz"} | {"zqhoursnameqz"}
    assert not (searched(hidden / "seals")[0] & hours)
    assert run("dossier", hidden).status == 0
    assert (hidden / "dossier/data/seals/2026-03.txt").is_file()
    assert not (searched(hidden / "dossier")[0] & hours)
    said = run("verify", hidden / "dossier")
    assert (said.status, said.out.count("\n")) == (0, 1), said.out


def test_the_search_of_the_seal_bites(hidden: Path) -> None:
    """The names of what is private in the ordinary way do stand in the seal."""
    assert {"zqprivatenameqz", "zqprivateonlyqz"} <= searched(hidden / "seals")[0]


def test_friends_read_no_name_from_a_seal(hidden: Path) -> None:
    """What the site tells is the same with and without the seal, markers and all."""
    assert run("publish", hidden).status == 0
    with_seal, _ = searched(hidden / "published")
    (hidden / "seals/2026-03.txt").unlink()
    assert run("publish", hidden).status == 0
    assert searched(hidden / "published")[0] == with_seal


def test_an_altered_sealed_month_is_found_in_the_dossier(two_months: Path) -> None:
    """The dossier of a journal altered after sealing is made, says so, and fails `verify`."""
    sealed(two_months, "2026-03")
    (two_months / "notes/2026-03-15-rivets.md").write_text(RIVETS + "More.\n", encoding="utf-8")
    assert run("dossier", two_months).status == 0
    page = (two_months / "dossier/binder/seals.html").read_text(encoding="utf-8")
    assert "is not as it was when 2026-03" in page
    said = run("verify", two_months / "dossier")
    assert said.status == 1
    assert "notes/2026-03-15-rivets.md" in said.out
    assert "2026-03" in said.out
