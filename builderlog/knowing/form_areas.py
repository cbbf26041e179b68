"""Which area of the work list each row of a form belongs to; ids for areas with but a name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from builderlog.knowing.form_cells import one_line
from builderlog.knowing.form_row import FormRow
from builderlog.knowing.settings import Area, Task, Worklist
from builderlog.reading.problem import Place, Problem, doubt, mistake

NO_AREA = "tasks"  # the area of tasks that name none and whose ids begin with no letter
_LETTERS = re.compile(r"[^\W\d_]+")
_WORD = re.compile(r"[^\W_]+")

Key = tuple[str, str]  # by what an area is known ("id", "name", "letters" of its tasks), and which


@dataclass(frozen=True, slots=True)
class Homes:
    """Areas for the tasks that are new, areas that are new, and new names for old ones."""

    of_new: dict[str, str]  # task id to area id
    made: tuple[Area, ...]  # without tasks, in the order of the form
    renamed: dict[str, str]  # id of an area of the work list to its new name
    problems: tuple[Problem, ...]


@dataclass(slots=True)
class _Group:
    """Rows of one area that the work list lacks."""

    name: str | None
    place: Place
    tasks: list[str] = field(default_factory=list)
    kept_in: set[str] = field(default_factory=set)  # the list's areas that hold its known tasks


def homes_of(rows: tuple[FormRow, ...], worklist: Worklist, known: Mapping[str, Task]) -> Homes:
    """Finds the area of every row; `known` are the work list's tasks by the ids of rows.

    Tasks that the work list has stay in their area: where the form says another, that is told.
    """
    listed = _Listed.of(worklist)
    groups = _groups(rows, listed, known)
    ids = _ids_of(groups, {area.id for area in worklist.areas})
    names, told = _names(rows)
    titles = {ids[key]: group.name for key, group in groups.items() if group.name} | names
    of_new: dict[str, str] = {}
    made: dict[str, Area] = {}
    for row in rows:
        key = _key(row)
        if row.id in known:
            continue
        home = listed.find(key) or _kept_in(key, groups)
        of_new[row.id] = home or ids[key]
        if home is None:
            name = titles.get(ids[key], ids[key])
            made.setdefault(ids[key], Area(ids[key], name, groups[key].place))
    elsewhere = _tell_elsewhere(rows, listed, known)
    renamed = dict(_renamed(worklist, names))
    return Homes(of_new, tuple(made.values()), renamed, (*told, *elsewhere))


def _renamed(worklist: Worklist, names: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    for area in worklist.areas:
        name = names.get(one_line(area.id))
        if name and name != one_line(area.name):
            yield area.id, name


@dataclass(frozen=True, slots=True)
class _Listed:
    """The work list's areas by id, by name and by the letters that their tasks begin with."""

    ids: frozenset[str]
    by_key: dict[Key, str]

    @staticmethod
    def of(worklist: Worklist) -> _Listed:
        """Of two areas of one name the first is meant; letters of several areas mean none."""
        by_key: dict[Key, str] = {}
        by_letters: dict[str, set[str]] = {}
        for task in worklist.by_id.values():
            by_letters.setdefault(_letters(task.id), set()).add(task.area)
        for area in worklist.areas:
            id_, name = one_line(area.id), one_line(area.name)
            for key in (("id", id_), ("letters", id_), ("name", name.casefold())):
                by_key.setdefault(key, area.id)
            by_key.setdefault(("name", id_.casefold()), area.id)
        for letters, areas in by_letters.items():
            if len(areas) == 1:
                by_key.setdefault(("letters", letters), *areas)
        return _Listed(frozenset(area.id for area in worklist.areas), by_key)

    def find(self, key: Key) -> str | None:
        """The id of the area that is known so; None where the work list lacks it."""
        return self.by_key.get(key)


def _letters(task: str) -> str:
    found = _LETTERS.match(task)
    return found.group() if found else ""


def _key(row: FormRow) -> Key:
    if row.area and row.area.id:
        return "id", row.area.id
    if row.area and row.area.name:
        return "name", row.area.name.casefold()
    return "letters", _letters(row.id)


def _groups(
    rows: tuple[FormRow, ...], listed: _Listed, known: Mapping[str, Task]
) -> dict[Key, _Group]:
    groups: dict[Key, _Group] = {}
    for row in rows:
        key = _key(row)
        if listed.find(key) is None:
            name = row.area.name if row.area else None
            group = groups.setdefault(key, _Group(name, row.place))
            group.tasks.append(row.id)
            if row.id in known:
                group.kept_in.add(known[row.id].area)
    return groups


def _kept_in(key: Key, groups: Mapping[Key, _Group]) -> str | None:
    """The area that holds all known tasks under a name, if the work list calls it otherwise."""
    homes = groups[key].kept_in
    return next(iter(homes)) if key[0] == "name" and len(homes) == 1 else None


def _ids_of(groups: Mapping[Key, _Group], taken: set[str]) -> dict[Key, str]:
    """An id for each: as given; else the letters that only its tasks begin with, else a word."""
    ids = {key: key[1] for key in groups if key[0] == "id"}
    used = {*taken, *ids.values()}
    begins = {key: {_letters(task) for task in groups[key].tasks} for key in groups}
    named = [key for key in groups if key[0] == "name"]
    for key in named:
        others = set().union(*(begins[other] for other in named if other != key))
        alone = len(begins[key]) == 1 and not begins[key] & (others | used | {""})
        ids[key] = next(iter(begins[key])) if alone else _word_for(groups[key].name or "", used)
        used.add(ids[key])
    for key in groups:
        if key[0] == "letters":
            ids[key] = key[1] or NO_AREA
    return ids


def _word_for(name: str, used: set[str]) -> str:
    """The name's first word, with a number behind it where that is an id already."""
    found = _WORD.search(name)
    word = found.group() if found else "area"
    count = 2
    free = word
    while free in used:
        free, count = f"{word}{count}", count + 1
    return free


def _names(rows: tuple[FormRow, ...]) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """The name that the form has for each area id, and where it has two."""
    first: dict[str, FormRow] = {}
    told: list[Problem] = []
    for row in rows:
        area = row.area
        if area is None or area.id is None or area.name is None:
            continue
        before = first.setdefault(area.id, row).area
        if before and before.name != area.name:
            words = (
                f"the area '{area.id}' is called '{area.name}' here and '{before.name}' in line "
                f"{before.place.line}; give it one name"
            )
            told.append(mistake(area.place, "area-names-differ", words))
    names = {id_: row.area.name for id_, row in first.items() if row.area and row.area.name}
    return names, tuple(told)


def _tell_elsewhere(
    rows: tuple[FormRow, ...], listed: _Listed, known: Mapping[str, Task]
) -> Iterator[Problem]:
    """Once for each pair of areas: the form's and the one where the work list has the task."""
    seen: set[tuple[Key, str]] = set()
    for row in rows:
        task, area, key = known.get(row.id), row.area, _key(row)
        if not task or not area or not area.own or listed.find(key) == task.area:
            continue
        if (key, task.area) not in seen:
            seen.add((key, task.area))
            told = (
                f"'{row.id}' belongs to '{area.id or area.name}' here, and to '{task.area}' in the "
                f"work list ({told_place(task.place)}); it stays there"
            )
            yield doubt(area.place, "other-area", told)


def told_place(place: Place) -> str:
    """A second place in a message: path, line and column."""
    return f"{place.path}:{place.line}:{place.column}"
