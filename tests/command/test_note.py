"""`note` in one go: a whole note from one line, or a clear word and nothing written."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builderlog.storing.lock import hold
from tests.command.evening import Evening
from tests.command.running import originals, run
from tests.command.small_journal import jpeg

TODAY = "2026-04-10"


def test_a_whole_note_in_one_go(evening: Evening, tmp_path: Path) -> None:
    """Hours, tasks, a picture from elsewhere, a part, a snag and a text become one note."""
    picture = tmp_path / "skins 2.jpg"
    picture.write_bytes(jpeg(40))
    said = evening.note(
        *("--hours", "2h30", "--task", "W14", "--per", "manual 27-3", "--task", "W15=0:45"),
        *("--photo", picture, "--caption", "Held, with clecos", "--shows", "W14,W15"),
        *("--seen", "Ines", "--part", "hinge pin=fitted", "--count", "2"),
        *("--snag", "W14=nick in the skin", "--next", "dimple: the nose"),
        *("--say", "Skins on.", "--say", "Tea."),
    )
    assert (said.status, said.err) == (0, "")
    assert evening.text(TODAY) == (
        "---\n"
        "date: 2026-04-10\n"
        "hours: 2h30\n"
        "tasks:\n"
        "  - {task: W14, per: manual 27-3}\n"
        "  - {task: W15, hours: 0:45}\n"
        "parts:\n"
        "  - {part: hinge pin, count: 2, status: fitted}\n"
        "photos:\n"
        "  - {photo: photos/2026/2026-04-10-skins-2.jpg, shows: [W14, W15], seen: [Ines],"
        ' caption: "Held, with clecos"}\n'
        "snags:\n"
        "  - {snag: nick in the skin, task: W14, no: 2026-04-10.1}\n"
        'next: "dimple: the nose"\n'
        "---\n"
        "Skins on.\n\nTea.\n"
    )
    assert picture.read_bytes() == jpeg(40)
    assert said.out.splitlines()[:4] == [
        f"Written: {evening.root}/notes/2026/2026-04-10.md",
        "2 h 30 min tonight (Ines): W14 1 h 45 min, W15 45 min; 1 picture",
        "April 2026: 2 h 30 min on 1 day",
        "In all: 10 h",
    ]


def test_a_snag_put_right(evening: Evening) -> None:
    """`--fixed` closes a snag by its number; of an unknown number nothing is written."""
    assert evening.note("--hours", "1h", "--snag", "W14=nick in the skin").status == 0
    said = evening.note("--hours", "30m", "--fixed", f"{TODAY}.1=filed out")
    assert (said.status, said.err) == (0, "")
    assert f"fixed:\n  - {{no: {TODAY}.1, how: filed out}}\n" in evening.text(f"{TODAY}-2")
    assert evening.note("--hours", "30m", "--fixed", "77").status == 2


def test_several_people(evening: Evening) -> None:
    """`--who` gives the hours to each of them, and the timed tasks too."""
    said = evening.note("--hours", "2h", "--who", "Ines,Tomas", "--task", "W14=1h", "--task", "W15")
    assert said.status == 0
    assert "hours: {Ines: 2h, Tomas: 2h}\n" in evening.text(TODAY)
    assert "  - {task: W14, hours: 1h, who: [Ines, Tomas]}\n" in evening.text(TODAY)
    assert "4 h tonight (Ines 2 h and Tomas 2 h): W14 2 h, W15 2 h" in said.out
    evening.note("--hours", "2h", "--hours", "Tomas=1h")
    assert "hours: {Ines: 2h, Tomas: 1h}\n" in evening.text(f"{TODAY}-2")


def test_after_midnight_it_is_still_the_evening(evening: Evening) -> None:
    """Before four in the morning the note is yesterday's, and not written late."""
    evening.at("2026-04-11 01:15")
    assert "tonight" in evening.note("--hours", "19:10-1:10").out
    assert "written:" not in evening.text(TODAY)
    evening.note("--hours", "1h", "--on", "2026-04-02")
    assert "written: 2026-04-10\n" in evening.text("2026-04-02")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--hours", "3x"), "'3x' is not a length of time"),
        (("--task", "W99", "--hours", "1h"), "'W99' is no task of worklist.yaml"),
        (("--hours", "Nobody=1h"), "'Nobody' is not among the people"),
        (("--hours", "1h", "--task", "W14=2h"), "2h on W14 are more than Ines has left"),
        (("--photo", "gone.jpg"), "there is no picture 'gone.jpg'"),
        (("--caption", "Skins"), "--caption 'Skins' belongs behind a --photo"),
        (("--hours", "1h", "--on", "2026-04-12"), "2026-04-12 is still to come"),
        (("--at", "22:30", "--hours", "1h"), "--at goes with --start or --stop"),
        (("--start", "--hours", "1h"), "--start or --stop stands alone"),
        (("--work", "painting"), "'painting' is none of fabrication, assembly, other"),
        ((), "there is no terminal here for an editor; say it without an editor"),
        (("--json",), "--json goes with the words of a whole note"),
    ],
)
def test_what_would_not_count_is_not_written(
    evening: Evening, words: tuple[str, ...], told: str
) -> None:
    """A word that has no meaning is told, with status 2, and the journal is as it was."""
    before = originals(evening.root)
    said = evening.note(*words)
    assert (said.status, said.out) == (2, "")
    assert told in said.err
    assert originals(evening.root) == before


def test_a_note_that_others_do_not_see(evening: Evening) -> None:
    """`--private` and `--hours-only` take no word after them, so that a journal may follow."""
    assert evening.note("--say", "On.", "--private").status == 0
    assert "private: yes\n" in evening.text(TODAY)
    assert run("note", "--say", "On.", "--hours-only", evening.root).status == 0
    assert "private: hours only\n" in evening.text(f"{TODAY}-2")


def test_a_picture_of_the_inbox_is_filed_out_of_it(evening: Evening) -> None:
    """What lay in inbox/ lies in photos/ afterwards, once."""
    inbox = evening.root / "inbox"
    inbox.mkdir()
    (inbox / "a.jpg").write_bytes(jpeg(41))
    said = evening.note("--say", "On.", "--photo", "inbox/a.jpg")
    assert said.status == 0
    assert [*inbox.iterdir()] == []
    assert (evening.root / "photos/2026/2026-04-10-a.jpg").read_bytes() == jpeg(41)


def test_a_file_that_is_no_picture_is_told(evening: Evening, tmp_path: Path) -> None:
    """The note is written without it, and says why; the file stays."""
    strange = tmp_path / "a.jpg"
    strange.write_text("no picture")
    said = evening.note("--say", "On.", "--photo", strange)
    assert said.status == 0
    assert "a.jpg" in said.out
    assert "photos" not in evening.text(TODAY)
    assert strange.exists()


def test_a_sealed_month_gets_the_note_and_a_word(evening: Evening) -> None:
    """A note in a sealed month is made, and its seal has to be amended."""
    seal = evening.root / "seals"
    assert evening.note("--hours", "1h", "--on", "2026-03-16").status == 0
    assert run("seal", evening.root, "2026-03", "--on", "2026-04-10").status == 0
    assert [*seal.iterdir()] != []
    said = evening.note("--hours", "1h", "--on", "2026-03-20")
    assert said.status == 0
    assert "2026-03 is sealed already" in said.out
    assert "builderlog seal --amend 2026-03" in said.out


def test_what_closes_is_listed_at_once(evening: Evening) -> None:
    """A note that says `closes` tells the same evening what is still missing, and the cautions."""
    said = evening.note("--hours", "1h", "--task", "W15", "--closes", "W15")
    assert said.status == 0
    assert "W15" in said.out.split("In all")[1]
    assert "picture: W15: No picture shows it" in said.out
    assert "manual" in said.out


def test_a_document_for_programs(evening: Evening) -> None:
    """`--json` gives path, seconds, pictures, problems and what closes."""
    said = evening.note("--hours", "1h", "--task", "W15", "--closes", "W15", "--json")
    document = json.loads(said.out)
    assert document["path"] == "notes/2026/2026-04-10.md"
    assert document["seconds"] == {"note": 3600, "month": 3600, "whole": 30600}
    assert document["closing"][0]["subject"] == "W15"
    assert {"date", "by_person", "pictures", "sealed", "told", "problems"} < document.keys()


def test_the_text_comes_from_a_pipe(evening: Evening) -> None:
    """`--say -` reads what was done from the standard input."""
    evening.answers("Said by a phone.", "Two lines.")
    assert evening.note("--say", "-").status == 0
    assert evening.text(TODAY).endswith("---\nSaid by a phone.\nTwo lines.\n")


def test_a_busy_journal_is_waited_for(evening: Evening, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another writes it is waited for some time; then it is told, and nothing is written."""
    monkeypatch.setattr("builderlog.storing.lock.PATIENCE_SECONDS", 0.2)
    before = originals(evening.root)
    with hold(evening.root / ".builderlog", "the journal"):
        said = evening.note("--hours", "1h")
    assert said.status == 2
    assert "is busy" in said.err
    assert originals(evening.root) == before
