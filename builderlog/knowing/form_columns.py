"""Which column of a typed form means what: the names that forms and our own tables give them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from builderlog.knowing.forms import nearest
from builderlog.reading.csv_rows import Cell, CsvTable, Row
from builderlog.reading.problem import Problem, doubt, mistake


class Meaning(StrEnum):
    """What the cells of a column say of a task, by the name that a message gives the column."""

    ID = "task"
    NAME = "name"
    AREA = "area"
    AREA_ID = "area id"
    AREA_NAME = "area name"
    KIND = "kind"
    APPLIES = "applies"
    NOT_APPLICABLE = "n/a"
    STATE = "state"
    ESTIMATE = "estimate"
    SECONDS = "estimate_seconds"
    MAKER = "maker"
    PAID = "paid"
    ASSEMBLY = "assembly"
    FABRICATION = "fabrication"
    MARKS_MAKER = "marks maker"
    MARKS_BUILDER = "marks builder"


CREDITS = (Meaning.MAKER, Meaning.PAID, Meaning.ASSEMBLY, Meaning.FABRICATION)
MARKS = (Meaning.MARKS_MAKER, Meaning.MARKS_BUILDER)

# Names without case, blanks and punctuation. The letters A to D and the long names are those of
# the FAA's Amateur-Built Aircraft Fabrication and Assembly Checklist (2011), header of its columns.
_NAMES: tuple[tuple[Meaning, str], ...] = (
    (Meaning.ID, "task taskid taskno taskno tasknumber no nr number item itemno id"),
    (Meaning.NAME, "name taskname description taskdescription operation title"),
    (Meaning.AREA, "area section group"),
    (Meaning.AREA_ID, "areaid sectionid groupid"),
    (Meaning.AREA_NAME, "areaname sectionname groupname"),
    (Meaning.KIND, "kind kindofwork work type"),
    (Meaning.APPLIES, "applies applicable"),
    (Meaning.NOT_APPLICABLE, "na notapplicable doesnotapply"),
    (Meaning.STATE, "state status"),
    (Meaning.ESTIMATE, "estimate estimated estimatedhours estimatehours estimatedtime"),
    (Meaning.SECONDS, "estimateseconds"),
    (Meaning.MAKER, "maker creditmaker manufacturer mfr kit a amfr kitmanufacturer"),
    (Meaning.MAKER, "mfrkitpartcomponent amfrkitpartcomponent manufacturerkitpartcomponent"),
    (Meaning.PAID, "paid creditpaid paidhelp b commercialassistance bcommercialassistance"),
    (Meaning.ASSEMBLY, "assembly creditassembly c ambuilderassembly cambuilderassembly"),
    (Meaning.ASSEMBLY, "builderassembly amateurassembly amateurbuilderassembly"),
    (Meaning.FABRICATION, "fabrication creditfabrication d ambuilderfabrication"),
    (Meaning.FABRICATION, "dambuilderfabrication builderfabrication amateurfabrication"),
    (Meaning.FABRICATION, "amateurbuilderfabrication"),
    (Meaning.MARKS_MAKER, "marksmaker makermarks marksmanufacturer manufacturermarks"),
    (Meaning.MARKS_BUILDER, "marksbuilder buildermarks"),
)
_MEANINGS = {name: meaning for meaning, names in _NAMES for name in names.split()}
# Two of one group say the same thing in two columns.
_SAME_THING = (
    (Meaning.APPLIES, Meaning.NOT_APPLICABLE),
    (Meaning.ESTIMATE, Meaning.SECONDS),
    (Meaning.AREA, Meaning.AREA_ID),
)
# Columns of the tables that we write ourselves: by these they are known, these are of no use here.
_OURS = (
    {"task", "area_name", "marks_builder"},
    {"task", "credit_maker", "estimate_seconds"},
)
_OF_NO_USE = frozenset(
    "credit_unclaimed seconds hours h:mm fabrication_seconds assembly_seconds other_seconds "
    "notes photos first last".split()
)
BRACKETS = re.compile(r"\([^)]*\)|\[[^\]]*\]")
_HOURS = re.compile(r"[(\[]\s*(?:h|hr|hrs|hours?|h:mm)\s*[)\]]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each meaning stands in a row; `ours`: the table is one that we wrote."""

    at: dict[Meaning, int]
    width: int
    ours: bool = False

    def cells(self, row: Row) -> dict[Meaning, Cell]:
        """The cells of a row that say something, by what they mean."""
        return {
            meaning: row[at] for meaning, at in self.at.items() if at < len(row) and row[at].text
        }


def columns_of(table: CsvTable) -> tuple[Columns, tuple[Problem, ...]]:
    """Reads the first row as the names of the columns; the table has a row at least."""
    header = table.rows[0]
    names = {cell.text for cell in header}
    ours = any(names >= own for own in _OURS)
    meanings = _tasks_beside_numbers(header)
    at: dict[Meaning, int] = {}
    problems: list[Problem] = []
    for place, (cell, meaning) in enumerate(zip(header, meanings, strict=True)):
        if meaning is None:
            problems.extend(_not_understood(table, place, ours=ours))
        elif (other := _same_thing(meaning, at)) is not None:
            told = f"'{cell.text}' means the same as the column '{header[other].text}'; keep one"
            problems.append(mistake(table.place(cell), "column-twice", told))
        else:
            at[meaning] = place
    if Meaning.ID not in at:
        return Columns(at, len(header)), (_no_ids(table),)
    return Columns(at, len(header), ours), tuple(problems)


def _meaning(text: str) -> Meaning | None:
    """The meaning of a column's name; a unit in brackets says nothing, but minutes are no hours."""
    if text == "#":
        return Meaning.ID
    found = _MEANINGS.get(bare_name(BRACKETS.sub("", text)) or bare_name(text))
    if found is Meaning.ESTIMATE and BRACKETS.search(text) and not _HOURS.search(text):
        return None
    return found


def bare_name(text: str) -> str:
    """A column's name without case, blanks and punctuation."""
    return "".join(sign for sign in text.casefold() if sign.isalnum())


def _tasks_beside_numbers(header: Row) -> list[Meaning | None]:
    """`No, Task, A, B, C, D`: where a column of numbers holds the ids, `task` holds the names."""
    meanings = [_meaning(cell.text) for cell in header]
    ids = [place for place, meaning in enumerate(meanings) if meaning is Meaning.ID]
    names = [place for place in ids if bare_name(header[place].text) in {"task", "item"}]
    if len(ids) == 2 and names and Meaning.NAME not in meanings:
        meanings[names[-1]] = Meaning.NAME
    return meanings


def _same_thing(meaning: Meaning, at: dict[Meaning, int]) -> int | None:
    """Where a column of the same meaning stands, if there is one."""
    group = next((group for group in _SAME_THING if meaning in group), (meaning,))
    return next((at[other] for other in group if other in at), None)


def _not_understood(table: CsvTable, place: int, *, ours: bool) -> Iterator[Problem]:
    """A column that is left out; nothing of one without a name and without cells."""
    cell = table.rows[0][place]
    if ours and cell.text in _OF_NO_USE:
        return
    if cell.text:
        names = tuple(meaning.value for meaning in Meaning)
        hint = nearest(cell.text, names) or f"; the columns here are {', '.join(names)}"
        told = f"the column '{cell.text}' is not understood and left out{hint}"
        yield doubt(table.place(cell), "column-not-understood", told)
    elif filled := next((row[place] for row in table.rows if _holds(row, place)), None):
        told = f"'{filled.text}' stands in a column without a name and is left out; name it"
        yield doubt(table.place(filled), "column-without-name", told)


def _holds(row: Row, place: int) -> bool:
    return place < len(row) and bool(row[place].text)


def _no_ids(table: CsvTable) -> Problem:
    names = ", ".join(f"'{cell.text}'" for cell in table.rows[0])
    told = (
        f"none of these columns holds the ids of tasks: {names}; name one 'task', and let the "
        "names of the columns be the first row"
    )
    return mistake(table.place(table.rows[0][0]), "no-id-column", told)
