"""Brings a merge into the text of worklist.yaml: what must change, at its place, and nothing else.

The outcome is read again and must say what was wanted; else nothing is changed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from builderlog.knowing.form_merge import COLUMNS, Merge, Setting, TaskChange
from builderlog.knowing.settings import Area, Worklist
from builderlog.knowing.worklist_words import AREA_KEYS, TASK_KEYS, worklist_of
from builderlog.reading.front_matter import as_table
from builderlog.reading.problem import Place, Problem, Weight
from builderlog.reading.quoting import in_braces
from builderlog.reading.source import BYTE_ORDER_MARK, Source, source_of
from builderlog.reading.words import Node, Series, Table, Word
from builderlog.reading.yaml_edits import (
    STEP,
    CannotEditError,
    Edits,
    Frame,
    Item,
    is_empty,
    pair_of,
)
from builderlog.reading.yaml_words import read_yaml

_TASK_ORDER = tuple(key.word for key in TASK_KEYS)
_AREA_ORDER = tuple(key.word for key in AREA_KEYS)
_ROOT_ORDER = ("areas",)
_NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class WorklistText:
    """The text of a work list, its words and what they say."""

    source: Source
    table: Table | None
    worklist: Worklist
    problems: tuple[Problem, ...]

    @property
    def mistakes(self) -> tuple[Problem, ...]:
        """What must be mended before anything is changed."""
        return tuple(each for each in self.problems if each.weight is Weight.MISTAKE)


def read_worklist(path: str, data: bytes) -> WorklistText:
    """Reads worklist.yaml with the places of all its words; `path` is what messages call it."""
    source, problems = source_of(path, data)
    begin = len(BYTE_ORDER_MARK) if source.text.startswith(BYTE_ORDER_MARK) else 0
    root, told = read_yaml(source, begin, len(source.text))
    table, more = as_table(root)
    worklist, told_words = worklist_of(table, Place(path))
    return WorklistText(source, table, worklist, (*problems, *told, *more, *told_words))


def edited(text: WorklistText, merge: Merge) -> bytes:
    """The bytes after the merge; `text` has no mistakes. Raises CannotEditError."""
    if not (merge.changed or merge.added or merge.renamed):
        return text.source.data
    edits = Edits(text.source)
    _Editor(text.table, edits).take(merge)
    data = edits.changed().encode()
    _verify(read_worklist(text.source.path, data), merge.wanted)
    return data


def new_worklist(path: str, origin: str, merge: Merge) -> bytes:
    """The bytes of a work list that was not there; `origin` names where it comes from."""
    head = (
        f"# The areas and tasks of the aircraft, from {origin}.\n"
        "# A working list: the form that your inspector uses prevails. Credit is in tenths of a\n"
        "# task's one point; what is missing to 1 is not yet claimed.\n"
    )
    return edited(read_worklist(path, head.encode()), merge)


def _verify(found: WorklistText, wanted: Worklist) -> None:
    """Raises CannotEditError unless the text says what was wanted."""
    if found.mistakes or _placeless(found.worklist) != _placeless(wanted):
        raise CannotEditError(
            "the work list is written in a way that cannot be changed in place without harm; "
            "nothing was changed; write its tasks one a line, as in "
            "- {task: W14, name: Fit aileron skins, credit: {maker: 0.3}}"
        )


def _placeless(worklist: Worklist) -> tuple[Area, ...]:
    return tuple(
        replace(
            area,
            place=_NOWHERE,
            tasks=tuple(replace(task, place=_NOWHERE) for task in area.tasks),
        )
        for area in worklist.areas
    )


@dataclass(slots=True)
class _Editor:
    """Turns a merge into edits; knows where each area and task stands."""

    table: Table | None
    edits: Edits
    areas: dict[str, Table] = field(init=False)
    tasks: dict[str, Node] = field(init=False)

    def __post_init__(self) -> None:
        self.areas = {}
        self.tasks = {}
        for area in _items(_value(self.table, "areas")):
            if isinstance(area, Table):
                self.areas[_word(area, "area")] = area
                for task in _items(_value(area, "tasks")):
                    self.tasks[_word(task, "task")] = task

    def take(self, merge: Merge) -> None:
        """Asks for every edit that the merge needs."""
        for change in merge.changed:
            self._change(self.tasks[change.task.id], change.settings)
        for id_, name in merge.renamed.items():
            self.edits.set_text(self.areas[id_], "name", name, _AREA_ORDER)
        added: dict[str, list[TaskChange]] = {}
        for change in merge.added:
            added.setdefault(change.task.area, []).append(change)
        for id_, changes in added.items():
            if id_ in self.areas:
                items = [self._task(change, id_) for change in changes]
                self.edits.append(self.areas[id_], "tasks", items, _AREA_ORDER)
        made = [self._area(area, added[area.id]) for area in merge.made]
        if made and self.table is None:
            self._write_all(made)
        elif made and self.table:
            self.edits.append(self.table, "areas", made, _ROOT_ORDER)

    def _change(self, node: Node, settings: Sequence[Setting]) -> None:
        if isinstance(node, Word):
            written = in_braces(node.text) if node.plain else self.edits.raw(node)
            self.edits.replace(node, _braced([f"task: {written}", *_pairs(settings)]))
        elif isinstance(node, Table):
            # In the order of the keys: of two insertions at one place the first stands first.
            for setting in settings:
                if setting.key == "marks":
                    self.edits.set_yaml(node, "marks", setting.after, _TASK_ORDER)
                elif setting.key in COLUMNS:
                    self._change_credit(node, setting, settings)
                else:
                    self.edits.set_text(node, setting.key, setting.after, _TASK_ORDER)

    def _change_credit(self, task: Table, column: Setting, settings: Sequence[Setting]) -> None:
        """A column of the credit, or with the first of them the whole credit if there is none."""
        credit = _value(task, "credit")
        columns = [setting for setting in settings if setting.key in COLUMNS]
        if isinstance(credit, Table) and credit.pairs:
            self.edits.set_text(credit, column.key, column.after, COLUMNS)
        elif column is columns[0]:
            self.edits.set_yaml(task, "credit", _credit(columns), _TASK_ORDER)

    def _task(self, change: TaskChange, area: str | None) -> Item:
        """A new task, in the style of its area's last one, or of the last that there is."""
        pairs = [f"task: {in_braces(change.task.id)}", *_pairs(change.settings)]
        flow = _braced(pairs)
        lines = tuple(pairs) if self._is_in_lines(area) else (flow,)
        return Item(flow, lines)

    def _is_in_lines(self, area: str | None) -> bool:
        """True where tasks are written with a line for each key."""
        areas = [self.areas[area]] if area else []
        for table in (*areas, *reversed(self.areas.values())):
            items = [task for task in _items(_value(table, "tasks")) if isinstance(task, Table)]
            if items:
                return not self.edits.is_flow(items[-1])
        return False

    def _area(self, area: Area, changes: Sequence[TaskChange]) -> Item:
        """A new area, in the style of the last one."""
        tasks = [self._task(change, None) for change in changes]
        pairs = [f"area: {in_braces(area.id)}"]
        pairs += [f"name: {in_braces(area.name)}"] if area.name != area.id else []
        flow = _braced([*pairs, f"tasks: [{', '.join(task.flow for task in tasks)}]"])
        last = next(reversed(self.areas.values()), None)
        if last and self.edits.is_flow(last):
            return Item(flow, (flow,))
        step = " " * self._step()
        below = (
            step + ("  " if place else "- ") + line
            for task in tasks
            for place, line in enumerate(task.lines)
        )
        return Item(flow, (*pairs, "tasks:", *below))

    def _step(self) -> int:
        """By how many columns the tasks of the last area stand in from its keys."""
        for area in reversed(self.areas.values()):
            tasks = _value(area, "tasks")
            if isinstance(tasks, Series) and not self.edits.is_flow(tasks):
                return tasks.place.column - area.place.column
        return STEP

    def _write_all(self, areas: Sequence[Item]) -> None:
        """The whole list, below whatever comments there are."""
        text, line_break = self.edits.source.text, self.edits.line_break()
        before = line_break if text.strip("\ufeff") and not text.endswith(("\n", "\r")) else ""
        first, rest = Frame(line_break, STEP), Frame(line_break, STEP, parted=True)
        written = f"areas:{first.lines_of(areas[:1])}{rest.lines_of(areas[1:])}"
        self.edits.insert(len(text), f"{before}{written}{line_break}")


def _value(node: Node | None, key: str) -> Node | None:
    """What a table holds under a key; None where it holds nothing."""
    pair = pair_of(node, key) if isinstance(node, Table) else None
    return None if pair is None or is_empty(pair.value) else pair.value


def _items(node: Node | None) -> tuple[Node, ...]:
    """The items of a list; one item needs no list."""
    if isinstance(node, Series):
        return tuple(item for item in node.items if not is_empty(item))
    return () if node is None else (node,)


def _word(node: Node, key: str) -> str:
    """The id of an area or a task; a task may be its id alone."""
    word = node if isinstance(node, Word) else _value(node, key)
    return str(word) if isinstance(word, Word) else ""


def _pairs(settings: Sequence[Setting]) -> list[str]:
    """Settings as keys with values, the columns of the credit as one."""
    columns = [setting for setting in settings if setting.key in COLUMNS]
    pairs: list[str] = []
    for each in settings:
        if each in columns[:1]:
            pairs.append(f"credit: {_credit(columns)}")
        elif each.key not in COLUMNS:
            written = each.after if each.key == "marks" else in_braces(each.after)
            pairs.append(f"{each.key}: {written}")
    return pairs


def _credit(columns: Sequence[Setting]) -> str:
    return _braced([f"{column.key}: {column.after}" for column in columns])


def _braced(pairs: Sequence[str]) -> str:
    return "{" + ", ".join(pairs) + "}"
