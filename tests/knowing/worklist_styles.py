"""Work lists written in every style that YAML allows and a builder may use, drawn by Hypothesis."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st

from builderlog.reading.quoting import in_braces

# Names as people write them, with every sign that YAML could take for its own.
NAMES = st.text(
    st.sampled_from("ab Zé0.,:;#'\"-{}[]&*!|>%@`\\/?=+~()½№中"), min_size=1, max_size=12
).map(lambda text: " ".join(text.split()) or "x")
IDS = st.from_regex(r"[A-C][0-9]{1,2}|[0-9]{2}|No|W 1|x:y|#[0-9]|[a-c]-[1-3]", fullmatch=True)
COLUMNS = ("maker", "paid", "assembly", "fabrication")


@st.composite
def credits_of(draw: st.DrawFn) -> dict[str, int]:
    """Tenths for some of the columns, one point together at most."""
    left, credit = 10, {}
    for column in draw(st.lists(st.sampled_from(COLUMNS), unique=True)):
        credit[column] = draw(st.integers(0, left))
        left -= credit[column]
    return {column: credit[column] for column in COLUMNS if column in credit}


@dataclass(frozen=True)
class OneTask:
    """A task as it is to be written: key to words; `credit` apart, since it is a table."""

    words: dict[str, str]
    credit: dict[str, int] | None


@st.composite
def tasks(draw: st.DrawFn, id_: str) -> OneTask:
    """A task with any of its keys."""
    words = {"task": id_}
    choices: dict[str, st.SearchStrategy[str]] = {
        "name": NAMES,
        "work": st.sampled_from(["fabrication", "assembly"]),
        "applies": st.sampled_from(["yes", "no"]),
        "estimate": st.sampled_from(["14h", "2h30", "3,25", "45m", "0.5"]),
        "state": st.sampled_from(["open", "done"]),
        "marks": st.sampled_from(["[1, 0]", "[2, 3]"]),
    }
    for key in draw(st.lists(st.sampled_from(sorted(choices)), unique=True)):
        words[key] = draw(choices[key])
    credit = draw(st.none() | credits_of())
    if words.get("applies") == "no":  # then it has no credit and no marks
        words.pop("marks", None)
        credit = credit and dict.fromkeys(credit, 0)
    return OneTask(words, credit)


OneArea = tuple[str, str | None, list[OneTask]]  # id, name, tasks


@dataclass
class Writer:
    """Writes tables and lists; every choice of style is drawn."""

    draw: st.DrawFn

    def flip(self) -> bool:
        """Yes or no."""
        return self.draw(st.booleans())

    def scalar(self, text: str) -> str:
        """A text, in any quotes that can hold it."""
        forms = [in_braces(text), "'" + text.replace("'", "''") + "'"]
        if '"' not in text and "\\" not in text:
            forms.append(f'"{text}"')
        return self.draw(st.sampled_from(forms))

    def comment(self) -> str:
        """A comment behind a value, or none."""
        return self.draw(st.sampled_from(["", "", "   # as told", " # {x: [y"]))

    def between(self, indent: int) -> list[str]:
        """Lines that say nothing."""
        return self.draw(st.sampled_from([[], [], [""], [" " * indent + "# - a comment: here"]]))

    def flow_table(self, pairs: dict[str, str]) -> str:
        """A table in braces."""
        blank = self.draw(st.sampled_from(["", " "]))
        end = self.draw(st.sampled_from(["", ","])) if pairs else ""
        inner = ", ".join(f"{key}: {value}" for key, value in pairs.items())
        return f"{{{blank}{inner}{end}{blank}}}"

    def flow_list(self, items: list[str]) -> str:
        """A list in brackets."""
        return "[" + self.draw(st.sampled_from([", ", ","])).join(items) + "]"

    def flow_task(self, task: OneTask) -> str:
        """A task in one piece."""
        if len(task.words) == 1 and task.credit is None and self.flip():
            return self.scalar(task.words["task"])
        pairs = {k: v if k == "marks" else self.scalar(v) for k, v in task.words.items()}
        if task.credit is not None:
            pairs["credit"] = self.flow_table(self.tenths(task.credit))
        return self.flow_table(self.shuffled(pairs))

    def tenths(self, credit: dict[str, int]) -> dict[str, str]:
        """Tenths as people write them."""
        forms: list[Callable[[int], str]] = [
            lambda n: f"{n // 10}.{n % 10}",
            lambda n: f"{n // 10}.{n % 10}0",
            lambda n: f"'{n // 10},{n % 10}'",
        ]
        return self.shuffled({k: self.draw(st.sampled_from(forms))(n) for k, n in credit.items()})

    def shuffled(self, pairs: dict[str, str]) -> dict[str, str]:
        """The pairs in another order."""
        return {key: pairs[key] for key in self.draw(st.permutations(list(pairs)))}

    def block_table(self, pairs: dict[str, str | list[str]], indent: int) -> list[str]:
        """A table with a key a line; a value of lines stands below its key."""
        lines: list[str] = []
        for key, value in pairs.items():
            if lines:
                lines += self.between(indent)
            if isinstance(value, str):
                lines.append(f"{' ' * indent}{key}: {value}{self.comment()}")
            else:
                lines += [f"{' ' * indent}{key}:{self.comment()}", *value]
        return lines

    def block_list(self, items: list[Callable[[int], list[str]]], indent: int) -> list[str]:
        """A list with dashes; each item is asked for its lines at an indent."""
        dash = self.draw(st.sampled_from(["- ", "-   "]))
        lines: list[str] = []
        for item in items:
            if lines:
                lines += self.between(indent)
            first, *rest = item(indent + len(dash))
            lines += [" " * indent + dash + first.lstrip(" "), *rest]
        return lines

    def task_lines(self, task: OneTask) -> Callable[[int], list[str]]:
        """A task below a dash."""

        def lines(indent: int) -> list[str]:
            if self.flip():
                return [self.flow_task(task) + self.comment()]
            pairs: dict[str, str | list[str]] = {
                k: v if k == "marks" else self.scalar(v) for k, v in task.words.items()
            }
            if task.credit and self.flip():
                tenths: dict[str, str | list[str]] = {**self.tenths(task.credit)}
                pairs["credit"] = self.block_table(tenths, indent + 2)
            elif task.credit is not None:
                pairs["credit"] = self.flow_table(self.tenths(task.credit))
            keys = self.draw(st.permutations(list(pairs)))
            return self.block_table({key: pairs[key] for key in keys}, indent)

        return lines

    def area_lines(
        self, id_: str, name: str | None, listed: list[OneTask]
    ) -> Callable[[int], list[str]]:
        """An area below a dash."""

        def lines(indent: int) -> list[str]:
            pairs: dict[str, str | list[str]] = {"area": self.scalar(id_)}
            if name is not None:
                pairs["name"] = self.scalar(name)
            pairs["tasks"] = self.task_list(listed, indent)
            if not listed and self.flip():
                del pairs["tasks"]
            return self.block_table(pairs, indent)

        return lines

    def task_list(self, listed: list[OneTask], indent: int) -> str | list[str]:
        """The tasks of an area, in brackets or with dashes, or none."""
        if not listed:
            return self.draw(st.sampled_from(["", "[]", "[ ]"]))
        if len(listed) == 1 and self.flip():
            return self.flow_task(listed[0])
        if self.flip():
            return self.flow_list([self.flow_task(task) for task in listed])
        step = self.draw(st.sampled_from([0, 2, 4]))
        return self.block_list([self.task_lines(task) for task in listed], indent + step)

    def flow_area(self, id_: str, name: str | None, listed: list[OneTask]) -> str:
        """An area in braces."""
        pairs = {"area": self.scalar(id_)}
        if name is not None:
            pairs["name"] = self.scalar(name)
        if listed or self.flip():
            pairs["tasks"] = self.flow_list([self.flow_task(task) for task in listed])
        return self.flow_table(pairs)

    def area_item(self, area: OneArea) -> Callable[[int], list[str]]:
        """An area below a dash, over lines or in braces."""
        return (lambda _: [self.flow_area(*area)]) if self.flip() else self.area_lines(*area)

    def document(self, areas: list[OneArea]) -> str:
        """The whole file."""
        head = self.draw(st.sampled_from(["", "# head\n", "---\n", "\n# a\n\n"]))
        if self.flip():
            items = [self.area_item(area) for area in areas]
            indent = self.draw(st.sampled_from([0, 2]))
            lines = ["areas:" + self.comment(), *self.block_list(items, indent)]
        else:
            lines = ["areas: " + self.flow_list([self.flow_area(*area) for area in areas])]
        text = head + "\n".join([*lines, *self.between(0)])
        return text + self.draw(st.sampled_from(["", "\n", "\n# end\n"]))


@st.composite
def worklists(draw: st.DrawFn) -> bytes:
    """The bytes of a work list that has no mistakes."""
    writer = Writer(draw)
    ids = draw(st.lists(IDS, unique=True, min_size=1, max_size=6))
    known = st.sampled_from(["A", "B", "C", "W 1", "tail"])
    area_ids = draw(st.lists(known, unique=True, min_size=1))
    areas: list[OneArea] = [(id_, draw(st.none() | NAMES), []) for id_ in area_ids]
    for id_ in ids:
        draw(st.sampled_from(areas))[2].append(draw(tasks(id_)))
    text = writer.document(areas)
    mark = draw(st.sampled_from(["", "\ufeff"]))
    return (mark + text.replace("\n", draw(st.sampled_from(["\n", "\r\n", "\r"])))).encode()
