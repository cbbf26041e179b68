"""The columns of a packing list: names, numbers, and what is told of all others."""

from __future__ import annotations

from tests.noting.packing import parts, read, told


def test_names_of_makers() -> None:
    """Parts and counts are found under the names that makers give them."""
    for header in ("Description,Qty,Status", "Item,Quantity,state", "PART NAME,Pcs,Condition"):
        assert parts(f"{header}\nRib,2,ok\n") == ["Rib 2 received"]


def test_a_part_beside_a_description_is_its_number() -> None:
    """`Part` is a number where `Description` names the thing, and that is told."""
    found = read("Part,Description,Status\nFK-1,Rib,ok\n")
    assert [(part.part, part.ref) for part in found.parts] == [("Rib", "FK-1")]
    assert told(found) == ["1:1 part-or-number (doubt)"]


def test_a_list_that_says_of_nothing_whether_it_came() -> None:
    """Then all is noted as received, and that is doubtful."""
    found = read("part\nRib\nSpar\n")
    assert [part.status for part in found.parts] == ["received", "received"]
    assert told(found) == ["1:1 all-received (doubt)"]


def test_columns_that_mean_nothing_here() -> None:
    """Their words are kept as comments; two columns of one meaning, or none of parts, stop it."""
    found = read("A kit,,\npart,status,Crate\nRib,ok,3\n")
    assert found.comments == ("Rib: Crate: 3",)
    assert told(found) == ["1:1 above-the-table (doubt)", "2:13 column-not-understood (doubt)"]
    assert told(read("part,qty,count,status\nRib,1,1,ok\n")) == ["1:10 column-twice (mistake)"]
    assert told(read("thing,how many\nRib,1\n")) == ["1:1 no-part-column (mistake)"]
