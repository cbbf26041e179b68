"""`letter`: drafts once, draws each time, writes over nothing that the builder wrote."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.drawing import pixels
from tests.command.hidden_journal import TOLD, searched, write_hidden
from tests.command.running import Said, originals, run, write
from tests.command.small_journal import jpeg

MARCH = "2026-03"
LETTER = f"letters/{MARCH}.md"
WEB, MAIL = f"letters/{MARCH}.html", f"letters/{MARCH}.txt"
SKINS_SHOWN = "![Skins held with clecos](../photos/skins.jpg)"
SEEN = """\
---
date: 2026-03-20
title: Tomas holds
hours: 1h
tasks: [W14]
photos: [{photo: photos/tomas.jpg, seen: Tomas, caption: Tomas holds the bar}]
---
He held it.
"""


def letter(root: Path, *words: str) -> Said:
    """The letter of March."""
    return run("letter", root, MARCH, "--on", "2026-04-02", *words)


def edit(root: Path, old: str, new: str) -> None:
    """The builder rewrites some words of the letter."""
    file = root / LETTER
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_the_first_run_makes_all_three(journal: Path) -> None:
    """Draft, page and mail; no other file changes, and it says which one to edit."""
    before = originals(journal)
    said = letter(journal)
    assert (said.status, said.err) == (0, "")
    assert f"{LETTER} is the draft of a letter of March 2026" in said.out
    assert "Write it anew in your own words" in said.out
    after = originals(journal)
    assert {path: after[path] for path in before} == before
    assert set(after) - set(before) == {LETTER, WEB, MAIL}


def test_the_draft_is_made_of_the_record(journal: Path) -> None:
    """Hours, notes, the picture by its path, and what is next."""
    letter(journal)
    text = (journal / LETTER).read_text(encoding="utf-8")
    for words in (
        "written: 2026-04-02",
        "March 2026 came to 7 h 30 min in the shop on 2 days.",
        "\n14 March: Skins on. Straight within half a millimetre.",
        "![Skins held with clecos](../photos/skins.jpg)",
        "- dimple the nose skin",
    ):
        assert words in text


def test_the_draft_is_never_written_over(journal: Path) -> None:
    """A second run makes the two files of the builder's words and leaves the words alone."""
    letter(journal)
    edit(journal, "Dear friends,", "Hello you two,")
    mine = (journal / LETTER).read_bytes()
    said = letter(journal)
    assert (said.status, said.err) == (0, "")
    assert f"made of your words in {journal / LETTER}" in said.out
    assert (journal / LETTER).read_bytes() == mine
    for path in (WEB, MAIL):
        assert "Hello you two," in (journal / path).read_text(encoding="utf-8")


def test_the_same_letter_gives_the_same_bytes(journal: Path) -> None:
    """On any day, and without what was kept of the last run."""
    letter(journal)
    before = originals(journal)
    said = run("letter", journal, MARCH, "--on", "2031-01-01", "--replace")
    assert said.status == 0
    assert originals(journal) == before


@pytest.mark.parametrize("path", [WEB, MAIL])
def test_a_file_changed_by_hand_is_refused(journal: Path, path: str) -> None:
    """It stays to the last byte, the other one is made, and only --replace writes over it."""
    letter(journal)
    (journal / path).write_bytes(b"mine")
    edit(journal, "Dear friends,", "Hello you two,")
    said = letter(journal)
    assert said.status == 2
    assert f"{path} was changed by hand since it was made" in said.err
    assert (journal / path).read_bytes() == b"mine"
    other = MAIL if path == WEB else WEB
    assert "Hello you two," in (journal / other).read_text(encoding="utf-8")
    assert letter(journal, "--replace").status == 0
    assert "Hello you two," in (journal / path).read_text(encoding="utf-8")


def test_new_facts_are_offered(journal: Path) -> None:
    """What the record learnt since, as lines to paste; what was known is not told again."""
    letter(journal)
    edit(journal, "Dear friends,", "Hello you two,")
    assert "new fact" not in letter(journal).out
    write(journal, {"notes/2026-03-20.md": "---\ntitle: Ribs in\nhours: 2h\nnext: paint\n---\n"})
    lines = [line[2:] for line in letter(journal).out.splitlines() if line.startswith("  ")]
    told = [line.partition("  ")[2] for line in lines]
    assert told == [
        "March 2026 came to 9 h 30 min in the shop on 3 days.",
        "Other work: 3 h 45 min",
        "20 March: Ribs in",
        "Next: paint",
    ]


def test_a_fact_is_not_offered_twice(journal: Path) -> None:
    """Neither when its line stands in the letter, nor when its digest stands behind `facts`."""
    letter(journal)
    write(journal, {"notes/2026-03-20.md": "---\ntitle: Ribs in\nnext: paint\n---\n"})
    out = letter(journal).out
    assert "2 new facts since this draft was made" not in out
    digest = next(line.split()[0] for line in out.splitlines() if line.endswith("Next: paint"))
    edit(journal, "\n---\nDear", f" {digest}\n---\nRibs in!\n\nDear")
    assert "new fact" not in letter(journal).out


def test_an_untouched_draft_can_be_made_anew(journal: Path) -> None:
    """With new facts it says how, since nothing of the builder's would be lost."""
    letter(journal)
    write(journal, {"notes/2026-03-20.md": "---\ntitle: Ribs in\n---\n"})
    assert f"delete {journal / LETTER} and run this again for a new draft" in letter(journal).out


def test_a_letter_without_a_draft_is_the_builders_too(journal: Path) -> None:
    """Plain words in the right place are a letter, and its facts are told as not told yet."""
    write(journal, {LETTER: "All is well.\n"})
    said = letter(journal)
    assert said.status == 0
    assert f"that {journal / LETTER} does not tell" in said.out
    assert "All is well." in (journal / MAIL).read_text(encoding="utf-8")


def test_a_picture_with_somebody_who_did_not_say_yes_stays_out(journal: Path) -> None:
    """Out of the draft; in a letter that names it all the same, it is told and left out."""
    write(journal, {"notes/2026-03-20-holds.md": SEEN, "photos/tomas.jpg": jpeg(11)})
    letter(journal)
    assert "tomas" not in (journal / LETTER).read_text(encoding="utf-8").replace("Tomas", "")
    edit(journal, "Dear friends,", "![Him](../photos/tomas.jpg)")
    said = letter(journal)
    assert said.status == 0
    assert f"{LETTER}:9:1: letter-kept-back: " in said.err
    html = (journal / WEB).read_text(encoding="utf-8")
    assert html.count("<img") == 1
    assert "tomas" not in html


def test_mistakes_stop_a_letter(journal: Path) -> None:
    """They are told with their place, and nothing is written."""
    write(journal, {"notes/2026-03-20.md": "---\nhours: all day\n---\n"})
    said = letter(journal)
    assert said.status == 1
    assert "notes/2026-03-20.md:2:8: unreadable: 'all day'" in said.err
    assert "no letter was made" in said.err
    assert not (journal / "letters").exists()


def test_a_mistake_in_the_letter_is_told_with_its_place(journal: Path) -> None:
    """By every command, as of a note."""
    write(journal, {LETTER: "---\ntitel: x\n---\nWords.\n"})
    for command in ("letter", "publish"):
        words = [command, journal, *([MARCH] if command == "letter" else [])]
        said = run(*words)
        assert said.status == 1
        assert f"{LETTER}:2:1: unknown-key: 'titel' is not a key of a letter" in said.err


def test_a_picture_that_cannot_be_drawn_is_told_at_its_line(
    journal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One that looked whole and fails only in drawing is a mistake of the letter."""

    def fail(*_: object) -> list[bytes]:
        raise OSError("broken since")

    monkeypatch.setattr(pixels, "draw_prints", fail)
    said = letter(journal)
    assert said.status == 1
    line = (journal / LETTER).read_text(encoding="utf-8").splitlines().index(SKINS_SHOWN) + 1
    told = "picture-unreadable: 'photos/skins.jpg' looks whole but cannot be decoded"
    assert f"{LETTER}:{line}:1: {told}" in said.err
    assert said.err.endswith(f"; {journal / LETTER} is the draft, but no letter was made\n")
    assert not (journal / WEB).exists()


def test_a_template_that_cannot_be_drawn_leaves_the_draft(journal: Path) -> None:
    """The mistake is told with its place, and that the draft is there; the next run goes on."""
    write(journal, {"look/letter.html": "{% bad %}\n"})
    said = letter(journal)
    assert said.status == 1
    assert "look/letter.html:1:1: theme: " in said.err
    assert said.err.endswith(
        f"1 mistake; {journal / LETTER} is the draft, but no letter was made\n"
    )
    assert not (journal / WEB).exists()
    assert letter(journal).err.endswith("1 mistake; no letter was made\n")
    (journal / "look/letter.html").unlink()
    assert letter(journal).status == 0


def test_a_picture_that_the_words_only_lead_to_is_not_in_the_letter(journal: Path) -> None:
    """It is not counted as inside, and is offered as a fact that the letter does not tell."""
    write(journal, {LETTER: "Look at [the skins](../photos/skins.jpg).\n"})
    said = letter(journal)
    assert f"{WEB} (" in said.out
    assert "no pictures inside" in said.out
    assert SKINS_SHOWN in said.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "which month? write it behind the command, such as: builderlog letter 2026-03"),
        (["March"], "'March' is no month; write it as 2026-03"),
        (["2026-13"], "'2026-13' is no month"),
        (["2027-01"], "the record ends on 15 March 2026, so there is no letter of January 2027"),
        (["2025-01"], "the record begins on 14 March 2026"),
        (["elsewhere", "there"], "'there' is no month; write it as 2026-03"),
    ],
)
def test_a_month_that_has_no_letter_is_refused(
    journal: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    """Exit status 2, a sentence that says what to write, and nothing written."""
    monkeypatch.chdir(journal)
    told = run("letter", *words)
    assert told.status == 2
    assert said in told.err
    assert not (journal / "letters").exists()


def test_a_folder_of_letters_that_lies_elsewhere_is_refused(journal: Path, tmp_path: Path) -> None:
    """Nothing is written through a link that leads out of the journal."""
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (journal / "letters").symlink_to(elsewhere, target_is_directory=True)
    said = letter(journal)
    assert said.status == 2
    assert "is a link to another place" in said.err
    assert not [*elsewhere.iterdir()]


@pytest.mark.slow
def test_the_site_shows_the_words_once_they_are_the_builders(journal: Path, tmp_path: Path) -> None:
    """An untouched draft leaves every page as it was; an edited one stands on its month's page."""
    for word in ("without", "drafted", "edited"):
        if word == "drafted":
            letter(journal)
        if word == "edited":
            edit(journal, "Dear friends,", "Hello you two,")
        assert run("publish", journal, "--out", tmp_path / word).status == 0
    pages = {
        word: {
            file.relative_to(tmp_path / word).as_posix(): file.read_bytes()
            for file in (tmp_path / word).rglob("*")
            if file.is_file() and file.suffix in {".html", ".xml"}
        }
        for word in ("without", "drafted", "edited")
    }
    assert pages["drafted"] == pages["without"]
    changed = {path for path, data in pages["edited"].items() if data != pages["without"][path]}
    assert f"months/{MARCH}.html" in changed
    assert b"Hello you two," in pages["edited"][f"months/{MARCH}.html"]
    assert not any(path.startswith("notes/") for path in changed)


@pytest.mark.parametrize("drafted", [True, False], ids=["drafted", "written"])
def test_no_private_marker_is_in_what_is_sent(tmp_path: Path, *, drafted: bool) -> None:
    """Of a journal of markers page and mail hold those alone that friends see on the site.

    The pictures inside the page are decoded and searched too.
    """
    root = write_hidden(tmp_path / "journal")
    if drafted:
        (root / LETTER).unlink()
    assert letter(root, "--replace").status == 0
    sent = tmp_path / "sent"
    sent.mkdir()
    for path in (WEB, MAIL):
        (sent / path.rpartition("/")[2]).write_bytes((root / path).read_bytes())
    found, size = searched(sent)
    assert len(found) > 5
    assert found <= set(TOLD)
    assert size > 3000


def test_a_letter_changes_no_total(journal: Path) -> None:
    """It is for friends, not for the record."""
    before = run("tally", journal, "--json").out, run("claim", journal, "--json").out
    letter(journal)
    assert (run("tally", journal, "--json").out, run("claim", journal, "--json").out) == before


@pytest.mark.slow
def test_a_letter_changes_nothing_of_a_dossier(journal: Path, tmp_path: Path) -> None:
    """The inspector gets neither the letter nor a word about it."""
    for word in ("without", "with"):
        if word == "with":
            letter(journal)
            edit(journal, "Dear friends,", "[nowhere](../receipts/a.pdf)")
        assert run("dossier", journal, "--out", tmp_path / word).status == 0
    files = {
        word: {
            file.relative_to(tmp_path / word).as_posix(): file.read_bytes()
            for file in (tmp_path / word).rglob("*")
            if file.is_file() and not file.name.startswith(".builderlog")
        }
        for word in ("without", "with")
    }
    assert files["with"] == files["without"]
