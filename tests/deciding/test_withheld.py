"""The list of what is kept back: what the journal really has, counted, each thing once."""

from __future__ import annotations

from pathlib import Path

from builderlog.deciding.withheld import Withheld, lines_of, withheld
from tests.knowing.journals import ledger_of

HEAD = """\
title: A
builder: Ines
people:
  Ines: {role: builder, full name: Ines Valdano}
  Lena: {role: helper, full name: Lena Morn, may show: yes}
  Mark: helper
  Osk: paid
aircraft: {registration: ZZ-OST, serial: F-1, kit: Fennick, maker: Marrow}
place: Kelmsby
rulebook: us-checklist
holidays: [{from: 2026-07-06, until: 2026-07-26}]
"""
CREDIT = (
    "areas: [{area: W, tasks: [{task: W1, name: Ribs, work: assembly, credit: {assembly: 1}}]}]\n"
)
NOTES = {
    "notes/2026-03-10.md": (
        "---\nhours: {Ines: 1h, Osk: 2h}\nplace: Nordfold\n"
        "parts: [{part: A, from: Larch, cost: 3 USD, ref: R, receipt: receipts/r.pdf}, {part: B}]\n"
        "snags: [one, two]\nfixed: 2026-03-10.1\nvisits: {who: Ada}\naway: {what: Spar}\n"
        "torqued: {where: Spar}\nprocess: {what: Epoxy}\nbulletins: {no: B}\n"
        "tasks: {task: W1, per: page 3}\n"
        "photos: [{photo: photos/shown.jpg, seen: [Ines, Lena]}, photos/shared.jpg,\n"
        "  {photo: photos/marked.jpg, private: yes}, {photo: photos/seen.jpg, seen: Mark},\n"
        "  {photo: photos/both.jpg, private: yes, seen: Mark}]\n---\n![x](../photos/linked.jpg)\n"
    ),
    "notes/2026-03-11.md": (
        "---\nprivate: yes\nphotos: [photos/shared.jpg, photos/own.jpg]\nsnags: three\n"
        "parts: {part: C, cost: 9 USD}\n---\n![x](../photos/linked.jpg)\n"
    ),
    "notes/2026-03-12.md": "---\nprivate: hours only\nhours: 1h\n---\n",
    "notes/2026-03-13.md": "---\nphotos: photos/broken.jpg\n---\n",
}
NAMES = ("shown", "shared", "marked", "seen", "both", "linked", "own", "broken")
PICTURES = {
    f"photos/{name}.jpg": f"(picture of 2026-03-{10 + place})" for place, name in enumerate(NAMES)
}


def found(root: Path, show: str = "", left_out: frozenset[str] = frozenset()) -> Withheld:
    """What this journal's site keeps back where it shows these words."""
    written = {
        "journal.yaml": f"{HEAD}site: {{show: [{show}]}}\n",
        "worklist.yaml": CREDIT,
        "receipts/r.pdf": "%PDF",
        **NOTES,
        **PICTURES,
    }
    return withheld(ledger_of(root, written), left_out, frozenset())


def test_everything_that_is_kept_back_is_counted(tmp_path: Path) -> None:
    """Notes by their kind, pictures by their first reason, and each word with what it would open.

    Of private notes no part, snag or cost is counted: no word opens them.
    """
    assert found(tmp_path, left_out=frozenset(["notes/2026-03-13.md"])) == Withheld(
        notes="3 of 4: 1 private, 1 with nothing but its hours for anyone, 1 with mistakes; "
        "their hours count",
        pictures="7 of 8: 2 marked private, 1 with somebody who has not said yes, "
        "2 of a private note, 1 linked in a private note, 1 named in a note with mistakes",
        people="Mark is 'a helper' until may show: yes",
        unshown="full names (of Ines and Lena), place (the journal's and 1 note with one), "
        "costs (of 1 part), suppliers (the kit's and of 1 part), registration, serial, "
        "refs (of 1 part), snags (2, 1 of them open), visits (1), "
        "paid help (2\N{NO-BREAK SPACE}h), claim",
        never="receipts of 1 part, work away (1), torque (1), processes (1), bulletins (1), "
        "drawings followed (1), holidays (1), the data plate's maker",
    )


def test_what_is_shown_is_not_kept_back(tmp_path: Path) -> None:
    """A word that `site: show` has is not listed, and somebody paid then goes by that."""
    every = "full names, place, costs, suppliers, registration, serial, refs, snags, visits, claim"
    assert found(tmp_path, every).unshown == "paid help (2\N{NO-BREAK SPACE}h)"
    shown = found(tmp_path / "more", f"{every}, paid help, receipts")
    assert (shown.unshown, shown.people) == (
        "",
        "Mark is 'a helper', Osk is 'paid help' until may show: yes",
    )


def test_a_journal_that_hides_nothing_has_no_list(tmp_path: Path) -> None:
    """Without anything kept back there is not even a heading."""
    plain = "title: A\nbuilder: Ines\npeople: {Ines: builder}\n"
    ledger = ledger_of(tmp_path, {"journal.yaml": plain, "notes/2026-03-14.md": "Words.\n"})
    assert [*lines_of(withheld(ledger, frozenset(), frozenset()))] == []


def test_the_list_has_a_line_for_each_kind() -> None:
    """A heading, then what there is, in the same order always."""
    lines = lines_of(Withheld("a", "", "c", "d", ""))
    assert [*lines] == [
        "Kept from friends:",
        "notes: a",
        "people: c",
        "unless site: show says so: d",
    ]


def test_a_copy_under_another_name_is_the_same_picture(tmp_path: Path) -> None:
    """Two files with the same bytes are one picture, kept back once under its worst reason."""
    written = {
        "photos/a.jpg": "(picture)",
        "photos/b.jpg": "(picture)",
        "notes/2026-03-14.md": "---\nphotos:\n  - photos/a.jpg\n"
        "  - {photo: photos/b.jpg, private: yes}\n---\n",
    }
    kept = withheld(ledger_of(tmp_path, written), frozenset(), frozenset())
    assert kept.pictures == "1 of 1: 1 marked private"
