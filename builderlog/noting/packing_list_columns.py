"""Which column of a kit's packing list means what, by the names that makers give them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from enum import StrEnum

from builderlog.knowing.form_cells import one_line
from builderlog.noting.table_columns import TableColumns, columns_in, find_header, names_of
from builderlog.reading.csv_rows import CsvTable
from builderlog.reading.problem import Problem, doubt, mistake


class Column(StrEnum):
    """What the cells of a column say of a part, by the name that a message gives the column."""

    PART = "part"
    REF = "ref"
    COUNT = "count"
    CAME = "received"
    STATUS = "status"
    SHORT = "short"
    DAMAGED = "damaged"
    BACK = "back-ordered"
    COST = "cost"
    PRICE = "unit price"
    FROM = "from"
    DUE = "due"
    FOR = "for"


_NAMES: tuple[tuple[Column, str], ...] = (
    (Column.PART, "part parts item items article component material product"),
    (Column.PART, "description name partname partdescription itemdescription productname"),
    (Column.REF, "ref reference partno partnumber partnr pn number no serial serialno"),
    (Column.REF, "serialnumber itemno itemnumber articleno articlenumber productno code"),
    (Column.COUNT, "count qty quantity pieces pcs ordered qtyordered orderedqty quantityordered"),
    (Column.COUNT, "required qtyrequired listed qtylisted"),
    (Column.CAME, "received qtyreceived receivedqty quantityreceived counted shipped qtyshipped"),
    (Column.CAME, "shippedqty quantityshipped packed qtypacked delivered found actual"),
    (Column.STATUS, "status state condition"),
    (Column.SHORT, "short missing qtyshort shortage"),
    (Column.DAMAGED, "damaged damage qtydamaged broken"),
    (Column.BACK, "backordered backorder bo qtybackordered backorderqty tofollow"),
    (Column.COST, "cost costs total totalprice amount extended extendedprice value linetotal"),
    (Column.PRICE, "price unitprice each priceeach unitcost"),
    (Column.FROM, "from supplier vendor source maker manufacturer"),
    (Column.DUE, "due duedate expected expecteddate eta"),
    (Column.FOR, "for task taskid"),
)
NAMES = names_of(_NAMES)
_THINGS = frozenset({"part", "parts", "item", "items", "article", "component"})
SAY_HOW = (Column.CAME, Column.STATUS, Column.SHORT, Column.DAMAGED, Column.BACK)


def packing_columns(
    table: CsvTable,
) -> tuple[TableColumns[Column] | None, tuple[Problem, ...]]:
    """The columns, with all that is to be told of them; None where none names the parts."""
    found = find_header(table, NAMES, Column.PART)
    if found is None:
        alone = columns_in(table.rows[0], 0, NAMES)
        if set(alone.at) == {Column.PART} and len(alone.at[Column.PART]) == 1:
            found = alone
    if found is None:
        names = ", ".join(f"'{one_line(cell.text)}'" for cell in table.rows[0] if cell.text)
        told = f"no row names a column 'part'; the first has {names}; name the columns"
        return None, (mistake(table.place(table.rows[0][0]), "no-part-column", told),)
    columns, problems = _names_and_numbers(table, found)
    return columns, (*problems, *_tell(table, columns))


def _names_and_numbers(
    table: CsvTable, columns: TableColumns[Column]
) -> tuple[TableColumns[Column], list[Problem]]:
    """`Part, Description`: where one column more names the thing, `part` is its number."""
    places = columns.at[Column.PART]
    header = table.rows[columns.header]
    first = next((at for at in places if one_line(header[at].text).casefold() in _THINGS), None)
    if len(places) != 2 or first is None or Column.REF in columns.at:
        return columns, []
    other = next(at for at in places if at != first)
    told = f"'{header[first].text}' is read as the part's number, for '{header[other].text}' "
    told += "names the thing; if that is wrong, name the columns 'part' and 'ref'"
    at = {**columns.at, Column.PART: (other,), Column.REF: (first,)}
    return replace(columns, at=at), [doubt(table.place(header[first]), "part-or-number", told)]


def _tell(table: CsvTable, columns: TableColumns[Column]) -> Iterator[Problem]:
    header = table.rows[columns.header]
    for row in table.rows[: columns.header]:
        words = " ".join(one_line(cell.text) for cell in row if cell.text)
        told = f"'{words}' stands above the names of the columns and is left out"
        yield doubt(table.place(row[0]), "above-the-table", told)
    for places in columns.at.values():
        if len(places) > 1:
            told = f"'{header[places[1]].text}' means the same as the column "
            told += f"'{header[places[0]].text}'; keep one, or give one another name"
            yield mistake(table.place(header[places[1]]), "column-twice", told)
    below = table.rows[columns.header + 1 :]
    for at, name in columns.others.items():
        if any(at < len(row) and row[at].text for row in below):
            what = f"the column '{name}' is not understood" if name else "a column has no name"
            told = f"{what}; its words are kept as comments in the note"
            yield doubt(table.place(header[at]), "column-not-understood", told)
    if not any(column in columns.at for column in SAY_HOW):
        told = "no column says what came; all parts are noted as received; write a column 'status'"
        yield doubt(table.place(header[0]), "all-received", f"{told} where some did not come whole")
