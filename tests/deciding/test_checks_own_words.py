"""Hidden names in the builder's own words: found where friends read them, told once a file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.checks import judge
from builderlog.deciding.checks_own_words import folders_in_look, names_told_anyhow, told_anyhow
from builderlog.knowing.settings import Worklist
from builderlog.reading.problem import Problem, Weight
from tests.knowing.journals import ledger_of

HEAD = """\
title: A wing in a year
builder: Ines
people:
  Ines: {role: builder, full name: Ines Valdano}
  Mark: {role: helper, full name: Mark Ostrander}
  Lena: {role: helper, may show: yes}
  Osk: {role: paid}
aircraft: {design: Ostrel Two, kit: "Fennick Works, Ostrel Two kit", registration: ZZ-OST,
           maker: Ines Valdano, serial: FKW-0417}
place: The old dairy, Kelmsby
"""
WORKLIST = "areas: [{area: W, name: Wings, tasks: [{task: W1, name: Ribs}]}]\n"
SOURCES = """\
parts: [{part: Bolt, from: Larch and Pell, ref: SN-99812}, {part: Web, from: kit, ref: WEB}]
away: {what: Spar, with: Skarn Anodising, as: paid}
visits: {who: Hedda Quillane}
place: Hangar 4, Nordfold
private: yes
"""


def told(root: Path, note: str, site: str = "{}", **files: str) -> list[str]:
    """Line, column and name of each doubt about a journal with this note."""
    return [
        f"{each.place.line}:{each.place.column} {each.message.partition(' is ')[0]}"
        for each in problems(root, note, site, **files)
    ]


def problems(root: Path, note: str, site: str = "{}", **files: str) -> list[Problem]:
    """The doubts about a journal with this note and another that is private."""
    written = {
        "journal.yaml": f"{HEAD}site: {site}\n",
        "worklist.yaml": WORKLIST,
        "notes/2026-03-13-private.md": f"---\n{SOURCES}---\n",
        "notes/2026-03-14-ribs.md": note,
        **files,
    }
    return list(names_told_anyhow(ledger_of(root, written)))


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("by Ines Valdano.", "Ines Valdano"),
        ("The Valdano way.", "Valdano"),
        ("Mark held the ribs.", "Mark"),
        ("Mark Ostrander held them.", "Mark Ostrander"),
        ("OSK came by.", "Osk"),
        ("from fennick-works.", "Fennick Works"),
        ("bolts of Larch & Pell.", "Larch and Pell"),
        ("by Skarn Anodising.", "Skarn Anodising"),
        ("with Mrs. Quillane.", "Quillane"),
        ("in the Old Dairy.", "old dairy"),
        ("down in Kélmsby.", "Kelmsby"),
        ("at Nordfold.", "Nordfold"),
        ("zzost on its tail.", "ZZ-OST"),
        ("plate FKW 0417.", "FKW-0417"),
        ("it has SN99812 on it.", "SN-99812"),
        ("[here](https://larch-and-pell.example/bolts).", "Larch and Pell"),
        ("<post@valdano.example>", "Valdano"),
    ],
)
def test_each_kind_of_name_is_found_in_prose(tmp_path: Path, words: str, name: str) -> None:
    """Full names, those who did not say yes, firms, visitors, places, signs: where they stand."""
    (line,) = told(tmp_path, f"First line.\n\nTonight {words}\n")
    assert line.endswith(f" '{name}'")
    assert line.startswith("3:")
    assert int(line.partition(" ")[0][2:]) > len("Tonight")


@pytest.mark.parametrize(
    "words",
    [
        "Ines and Lena mark the ribs of the Ostrel Two in the kit, at home in the shop.",
        "Kelmsbyer, marked, bosk, fuzzost, FKW-04170",
        "[the bill](../receipts/larch-and-pell.pdf)",
        "[the bill][1]\n\n[1]: ../receipts/larch-and-pell.pdf",
        "![a web](../photos/kelmsby.jpg)",
    ],
)
def test_what_betrays_nothing_is_not_told(tmp_path: Path, words: str) -> None:
    """Public names, longer words, and targets inside the journal, which no page has, are none."""
    assert told(tmp_path, f"{words}\n") == []


def test_every_place_that_friends_read_is_searched(tmp_path: Path) -> None:
    """Title, steps, parts, decisions, measurements and shown captions are; each at its place."""
    note = (
        "---\ntitle: 'Kelmsby bolts'\nnext: ring Osk\nparts: Quillane bolt\n"
        "decided: {what: so, why: Valdano said}\nmeasured: {what: the ZZ OST plate}\n"
        "photos: {photo: photos/a.jpg, caption: Nordfold}\nplace: Skarn Anodising\n---\n"
    )
    assert told(tmp_path, note) == [
        "4:8 'Quillane'",
        "2:9 'Kelmsby'",
        "5:26 'Valdano'",
        "6:22 'ZZ-OST'",
        "3:12 'Osk'",
    ]


def test_shown_words_are_searched_only_where_shown(tmp_path: Path) -> None:
    """Snags, visits and the place are read by friends where the journal shows them, else not."""
    note = (
        "---\nsnags: Osk slipped\nvisits: {who: Ada, said: ask Osk}\nplace: At Osk's\n"
        "fixed: {no: 2026-03-14.1, how: by Osk}\n---\n"
    )
    assert told(tmp_path, note) == []
    shown = problems(tmp_path / "shown", note, "{show: [snags, visits, place]}")
    assert [(each.place.line, "3 more times" in each.message) for each in shown] == [(2, True)]


@pytest.mark.parametrize(
    ("show", "left"),
    [
        ("full names", "Ostrander Quillane Larch Kelmsby Osk ZZ-OST FKW-0417 SN-99812"),
        ("suppliers", "Valdano Ostrander Quillane Kelmsby Osk ZZ-OST FKW-0417 SN-99812"),
        ("place", "Valdano Ostrander Quillane Larch Osk ZZ-OST FKW-0417 SN-99812"),
        ("paid help", "Valdano Ostrander Quillane Larch Kelmsby Osk ZZ-OST FKW-0417 SN-99812"),
        ("registration", "Valdano Ostrander Quillane Larch Kelmsby Osk FKW-0417 SN-99812"),
        ("serial", "Valdano Ostrander Quillane Larch Kelmsby Osk ZZ-OST SN-99812"),
        ("refs", "Valdano Ostrander Quillane Larch Kelmsby Osk ZZ-OST FKW-0417"),
        ("visits", "Valdano Ostrander Larch Kelmsby Osk ZZ-OST FKW-0417 SN-99812"),
    ],
)
def test_what_is_shown_is_no_secret(tmp_path: Path, show: str, left: str) -> None:
    """Each word of `site: show` takes its own names from the list; a person without a yes stays."""
    words = "Valdano Ostrander Quillane, Larch and Pell, Kelmsby Osk ZZ-OST FKW-0417 SN-99812"
    found = {line.partition("'")[2][:-1] for line in told(tmp_path, words, f"{{show: [{show}]}}")}
    assert {name.partition(" ")[0] for name in found} == set(left.split())


def test_a_file_name_becomes_an_address(tmp_path: Path) -> None:
    """The name of a public note's file is searched too, small letters and all."""
    (found,) = problems(
        tmp_path, "", **{"notes/2026-03-15-kelmsby-with-lena.md": "---\ntitle: A\n---\n"}
    )
    assert (found.place.path, found.place.line) == ("notes/2026-03-15-kelmsby-with-lena.md", 1)
    assert "give the file another name" in found.message


def test_titles_work_list_and_letters_are_searched(tmp_path: Path) -> None:
    """What is no note and yet on the site: the journal's title, the list's names, the letters."""
    written = {
        "journal.yaml": HEAD.replace("A wing in", "Kelmsby wing in"),
        "worklist.yaml": WORKLIST.replace("Ribs", "Ribs as Osk wants them"),
        "letters/2026-03.md": "---\ntitle: From Kelmsby\n---\nDear all,\n\nOsk was here.\n",
    }
    found = names_told_anyhow(ledger_of(tmp_path, written))
    assert [(each.place.path, each.place.line) for each in found] == [
        ("letters/2026-03.md", 1),
        ("letters/2026-03.md", 6),
        ("journal.yaml", 1),
        ("worklist.yaml", 1),
    ]


def test_ids_are_searched(tmp_path: Path) -> None:
    """The id of a task stands on pages as its name does, be it from a list or free text."""
    note = "---\ntasks: [Paint for Osk]\n---\n"
    free = {"journal.yaml": HEAD, "notes/2026-03-14.md": note}
    unlisted = replace(ledger_of(tmp_path / "free", free), worklist=Worklist())
    assert len([*names_told_anyhow(unlisted)]) == 1
    areas = "areas: [{area: Osk, name: Wings, tasks: [{task: Kelmsby-1, name: Spar}]}]\n"
    written = {"journal.yaml": HEAD, "worklist.yaml": areas}
    assert len([*names_told_anyhow(ledger_of(tmp_path / "listed", written))]) == 2


@pytest.mark.parametrize(
    ("full_name", "words"),
    [
        ("山田 太郎", "今日は山田さんとリベットを打った。"),
        ("Jörg Größmann", "Then Groessmann's idea."),
        ("Bosse Quillfeather", "Bosse held the skin."),
        ("Bob Quillfeather", "Bob held the skin."),
        ("Bosse Quillfeather", "The Quill\N{SOFT HYPHEN}feathers came."),
        ("Bosse Quillfeather", "See https://quillfeather.example/tools."),
    ],
)
def test_other_forms_of_a_name(tmp_path: Path, full_name: str, words: str) -> None:
    """A family's or a given name alone, with an ending, without spaces, or in an address."""
    people = f"people: {{Ines: builder, Bo: {{role: helper, full name: {full_name}}}}}\n"
    head = f"title: A\nbuilder: Ines\n{people}"
    written = {"journal.yaml": head, "notes/2026-03-14.md": words}
    (found,) = names_told_anyhow(ledger_of(tmp_path, written))
    assert "the full name of Bo" in found.message


def test_private_notes_are_not_searched(tmp_path: Path) -> None:
    """What no friend reads may name whom it will."""
    assert told(tmp_path, "---\nprivate: yes\n---\nOsk in Kelmsby\n") == []


def test_a_name_is_told_once_a_file(tmp_path: Path) -> None:
    """The whole name is told at its first place with how often it stands; its parts are not."""
    (one,) = problems(tmp_path, "A day.\n\nInes Valdano, INES VALDANO and\nInes\nValdano\n")
    assert (one.weight, one.code, one.place.line, one.place.column) == (
        *(Weight.DOUBT, "hidden-name"),
        *(3, 1),
    )
    assert one.message == (
        "'Ines Valdano' is the full name of Ines, which friends are not told, but stands in "
        "words that friends read, and 2 more times in this file (line 4); write 'Ines', or show "
        "it with site: {show: [full names]}, or explain it: answers: "
        "[{gap: \"hidden-name: 'Ines Valdano'\", because: …}]"
    )


def test_the_answer_that_is_offered_explains_it(tmp_path: Path) -> None:
    """The words to paste explain the name in every note, and publishing tells it no more."""
    answer = "answers: [{gap: \"hidden-name: 'Osk'\", because: he likes it}]\n"
    written = {
        "journal.yaml": HEAD + answer,
        "notes/2026-03-14.md": "Osk came to Kelmsby.\n",
        "notes/2026-03-15.md": "Osk again, in Kelmsby.\n",
    }
    found = judge(ledger_of(tmp_path, written))
    names = [each for each in found if each.code == "hidden-name"]
    assert [bool(each.because) for each in names] == [False, False, True, True]
    assert [each.place.path for each in told_anyhow(found)] == ["notes/2026-03-14.md"]
    assert not [each for each in found if each.code == "answer-to-nothing"]


@pytest.mark.parametrize("folder", ["/home/ines", "/Users/ines.v", "C:\\Users\\Ines"])
def test_a_folder_of_the_machine_is_told_once_a_file(folder: str) -> None:
    """At its first place; a host's folder for its sites and a page on the web name nobody."""
    others = (("look/b", "/srv/web"), ("look/c", "https://example.org/home/wing"))
    (one,) = folders_in_look([("look/a.svg", f"<svg>\n{folder}/a {folder}/b"), *others])
    assert (one.code, one.place.line, one.place.column) == ("folder-in-look", 2, 1)
    assert one.message.startswith(f"'{folder}' names a folder of your machine")
