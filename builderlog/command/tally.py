"""`tally`: hours and costs by person, role, day, week, month, area, task and kind; the pace."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Mapping, Sequence

from builderlog.command.opening import open_journal, take_journal
from builderlog.command.shape import DONE, MISTAKES, Command
from builderlog.command.terminal import print_problems, print_table, say, say_indented
from builderlog.deciding.costs import shown
from builderlog.deciding.pace import pace, pace_document
from builderlog.deciding.totals import Tally, tally, tally_document
from builderlog.deciding.words import counted
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.pace import PaceWords, pace_words

STORY = """\
Every hour counts, those of private notes too. Time that a note gives to no task is listed
as such. Costs stand in the journal's currency where journal.yaml has a rate for the day.
The pace tells what is left by the work list's estimates, how fast the builders' own weeks went,
and between which days all may be done: arithmetic on the past, no promise.
Where the journal has mistakes, what can be counted is printed all the same, the mistakes
go to standard error, and the exit status is 1."""

Rows = Iterable[tuple[str, ...]]


def hours(seconds: int) -> str:
    """Whole seconds as hours and minutes, `12:30`, with seconds only where there are any."""
    minutes, rest = divmod(seconds, 60)
    return f"{minutes // 60}:{minutes % 60:02}" + (f":{rest:02}" if rest else "")


def _plain(of: Callable[[Tally], Mapping[str, int]]) -> Callable[[Tally, Ledger], Rows]:
    return lambda totals, _: ((name, hours(seconds)) for name, seconds in of(totals).items())


def _months(totals: Tally, _: Ledger) -> Rows:
    for name, month in totals.by_month.items():
        spent = " + ".join(f"{amount} {code}" for code, amount in shown(month.spent).items())
        yield (
            name,
            hours(month.seconds),
            str(month.notes),
            str(month.days),
            str(month.photos),
            spent,
        )


def _areas(totals: Tally, ledger: Ledger) -> Rows:
    names = {area.id: area.name for area in ledger.worklist.areas}
    for area, seconds in totals.by_area.items():
        yield f"{area}  {names.get(area, '')}".strip(), hours(seconds)
    if totals.untasked:
        yield "given to no task", hours(totals.untasked)


def _tasks(totals: Tally, ledger: Ledger) -> Rows:
    for name, task in totals.by_task.items():
        listed = ledger.worklist.by_id.get(name)
        words = f"{name}  {listed.name}" if listed else name
        yield words, hours(task.seconds), str(task.notes), str(task.photos)


VIEWS: dict[str, tuple[str, tuple[str, ...], Callable[[Tally, Ledger], Rows]]] = {
    "person": ("By person", ("who", "hours"), _plain(lambda totals: totals.by_person)),
    "role": ("By role", ("role", "hours"), _plain(lambda totals: totals.by_role)),
    "kind": ("By kind of work", ("kind", "hours"), _plain(lambda totals: totals.by_kind)),
    "day": ("By day", ("day", "hours"), _plain(lambda totals: totals.by_day)),
    "week": ("By week (ISO 8601)", ("week", "hours"), _plain(lambda totals: totals.by_week)),
    "month": ("By month", ("month", "hours", "notes", "days", "pictures", "spent"), _months),
    "area": ("By area", ("area", "hours"), _areas),
    "task": ("By task", ("task", "hours", "notes", "pictures"), _tasks),
}
PACE = "pace"
SHOWN_UNLESS_ASKED = ("person", "month", "area", PACE)


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    parser.add_argument(
        "--by",
        action="append",
        choices=(*VIEWS, PACE),
        metavar="VIEW",
        help=f"one of {', '.join((*VIEWS, PACE))}; may be given again (unless asked: "
        f"{', '.join(SHOWN_UNLESS_ASKED)})",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document instead")


def run(arguments: Namespace) -> int:
    """Prints the totals; mistakes go to standard error and make the exit status 1."""
    opened = open_journal(arguments)
    totals = tally(opened.ledger)
    if arguments.json:
        told = tally_document(totals) | {"pace": pace_document(pace(opened.ledger))}
        print(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        _print(totals, opened.ledger, arguments.by)
    sys.stdout.flush()
    print_problems(opened.mistakes, opened.folder, sys.stderr)
    return MISTAKES if opened.mistakes else DONE


def _print(totals: Tally, ledger: Ledger, asked: Sequence[str] | None) -> None:
    spent = " + ".join(f"{amount} {code}" for code, amount in shown(totals.spent).items())
    say(
        f"{hours(totals.seconds)} hours in {counted(totals.notes, 'note')} "
        f"on {counted(totals.days, 'day')}, {counted(totals.photos, 'picture')}"
        + (f", {spent} spent" if spent else ""),
        sys.stdout,
    )
    for view in asked or SHOWN_UNLESS_ASKED:
        if view == PACE:
            _print_pace(pace_words(pace(ledger)), week_by_week=bool(asked))
        else:
            title, header, rows = VIEWS[view]
            print_table(title, header, rows(totals, ledger))


def _print_pace(told: PaceWords, *, week_by_week: bool) -> None:
    """The pace in lines; where it was asked for, its newest weeks before them."""
    if week_by_week and told.weeks:
        rows = [(week.week, week.time, week.trailing, week.told) for week in told.weeks]
        print_table("Pace by week (ISO 8601)", ("week", "hours", "mean of eight", ""), rows)
    say("", sys.stdout)
    say("Pace", sys.stdout)
    widest = max((len(label) for label, _ in told.facts), default=0)
    for label, words in told.facts:
        say_indented(f"{label:{widest}}  {words}", 2, sys.stdout, hang=widest + 2)
    for words in (told.window, told.assumptions, told.caution if told.has_window else ""):
        if words:
            say_indented(words, 2, sys.stdout)


COMMAND = Command("tally", "add up hours and costs", STORY, options, run)
