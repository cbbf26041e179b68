"""`note`: tonight's note, in the builder's editor or in one go; and the shop's clock."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from datetime import datetime
from pathlib import Path

from builderlog.command.editor import WITHOUT, on_terminal
from builderlog.command.note_at_once import evening_of, note_at_once
from builderlog.command.note_clock import start_clock, stop_clock, time_of_day
from builderlog.command.note_session import note_in_editor
from builderlog.command.note_words import content_options, says_something
from builderlog.command.opening import list_journal, open_journal, take_journal
from builderlog.command.shape import DONE, Command, day
from builderlog.storing.refusal import Refused

STORY = """\
Without further words it makes tonight's note and opens it in your editor (VISUAL or EDITOR). The
tasks of the last session, what you wanted to do next, parts on their way and open snags stand
there as lines with #: take the # away and they count, leave them and they vanish. Pictures of the
evening, from inbox/ too, are named already. When the editor closes, three lines say what was
understood, or what needs mending.

With words of its own, the note is written in one go:
builderlog note --hours 2h30 --task W14 --task W15=0:45 --say "Skins on."

Before four in the morning it is still yesterday's note (day ends in journal.yaml). Nothing is
ever overwritten: a second session on one day becomes a second note."""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    take_journal(parser)
    add = parser.add_argument
    add("--start", action="store_true", help="start the shop's clock; the next note takes its time")
    add("--stop", action="store_true", help="stop it")
    add("--at", type=time_of_day, metavar="TIME", help="with these: not now but then, as in 22:30")
    add("--on", type=day, metavar="DATE", help="the day of the note (tonight unless named)")
    content_options(parser)
    add("--edit", action="store_true", help="open the note in the editor, with these words in it")
    add("--json", action="store_true", help="print one JSON document about the note written")


def wall_clock() -> datetime:
    """The time as a watch in the shop shows it."""
    return datetime.now()  # noqa: DTZ005 - a watch knows no zone


def run(arguments: Namespace) -> int:
    """Keeps the clock, or writes the note. Raises Refused."""
    root, now = Path(arguments.journal), wall_clock()
    if arguments.start or arguments.stop:
        return _keep_time(arguments, root, now)
    if arguments.at:
        raise Refused("--at goes with --start or --stop; the note's own time is said with --hours")
    at_once = says_something(arguments) and not arguments.edit
    if arguments.json and not at_once:
        raise Refused("--json goes with the words of a whole note, and not with an editor")
    if not at_once and not on_terminal():
        raise Refused(f"there is no terminal here for an editor; {WITHOUT}")
    opened = open_journal(arguments)
    evening = evening_of(arguments, opened, now)
    if evening.day > evening.today:
        raise Refused(f"{evening.day} is still to come; write the day of the work")
    if at_once:
        return note_at_once(arguments, opened, evening)
    return note_in_editor(arguments, opened, evening, now)


def _keep_time(arguments: Namespace, root: Path, now: datetime) -> int:
    if (arguments.start and arguments.stop) or says_something(arguments) or arguments.on:
        raise Refused("--start or --stop stands alone; write the note when the clock is stopped")
    list_journal(root)
    if arguments.start:
        start_clock(root, now, arguments.at)
    else:
        stop_clock(root, now, arguments.at)
    return DONE


COMMAND = Command("note", "make tonight's note", STORY, options, run)
