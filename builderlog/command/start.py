"""`start`: lays out a new journal that can be published at once."""

from __future__ import annotations

import shlex
import sys
from argparse import ArgumentParser, Namespace
from datetime import date
from pathlib import Path

from builderlog.command.opening import CACHE_FOLDER
from builderlog.command.shape import DONE, MISTAKES, Command, words
from builderlog.command.start_table import FromTable, read_table, report, stop, table_options
from builderlog.command.terminal import say
from builderlog.knowing.journal import JOURNAL_FILE, WORKLIST_FILE
from builderlog.knowing.rulebooks import OWN, RULEBOOKS
from builderlog.knowing.schema import schemas
from builderlog.knowing.worklists import worklist_names, worklist_text
from builderlog.reading.quoting import quote
from builderlog.storing.layout import lay_out_journal, lay_out_schemas
from builderlog.storing.refusal import Refused

STORY = """\
DIR is made where it does not exist; a folder with anything in it is refused. What is laid out
are plain text files with comments that say what to write; every folder may be deleted again.

--worklist begins with a whole list of tasks for one way of building. It is a working list: the
form that your inspector uses prevails, and `builderlog claim --import` brings that in.

--from-table begins with the notes of a spreadsheet, saved as CSV in UTF-8: one row a session, the
columns by their names, such as date, hours (or start and end), who, task, title, text, next. Rows
of one day become one note. What no column means is kept as a comment; what cannot be read is told,
all at once, and then nothing is laid out.

.builderlog/schemas holds what an editor completes and checks by while you write; --schemas lays it
out in a journal that is there already, after it was deleted or builderlog was renewed, and
touches nothing else."""

MODELINE = (
    "# yaml-language-server: $schema=.builderlog/schemas/{name}.json\n"  # editors look for it
)

JOURNAL = """\
# Who builds what, where, and under which rulebook. `builderlog check --words` lists all words.
title: {title}
builder: {builder}          # the name meant when a note names nobody
people:
  {builder}: {{role: builder}}
{people}  # Tomas: {{role: helper, may show: no}}
  # A. Professional: {{role: paid}}
aircraft:
  design: {design}
started: {day}
{rulebook}
# currency: USD
# place: the workshop
# site: {{show: [snags]}}    # what friends may see beyond the default
"""

RULEBOOK = "# rulebook: us-checklist   # how your authority counts: {names}"

OWN_RULEBOOK = """\
own rulebook: {measure: points, limit: more than 0.5}   # write your authority's measure and limit
"""
KIT_HOURS = "# kit hours: 600h   # the maker's declared hours, where your rulebook counts hours"

WORKLIST = """\
# The areas and tasks of the aircraft, in your own words or as your authority's form lists them.
# A working list: the form that your inspector uses prevails; type it into a table, bring it in with
# `builderlog claim --import table.csv`, and delete the example below.
# To begin with a whole list instead, lay out a new journal: builderlog start DIR --worklist NAME,
# where NAME is one of {names}.
# `builderlog check --words` lists every word that may stand here.
areas:
  - area: W
    name: Wings
    tasks:
      - {{task: W01, name: "Make the wing ribs (an example: rename it)", work: fabrication}}
"""

NOTE = """\
---
date: {day}
title: The first evening
hours: 0h30
next: write down tonight what was done, with whom, and how long
---
The bench is set up and swept. A bench is no part of the aircraft, so its half hour counts, but
belongs to no task. From now on every evening gets a note, and what was worked on is named by its id
in worklist.yaml, in a line below the hours such as `tasks: [W01]`.
"""


def options(parser: ArgumentParser) -> None:
    """The command's words."""
    parser.add_argument("directory", metavar="DIR", help="the new journal's folder")
    parser.add_argument("--title", type=words, default="My aircraft", help="the journal's title")
    parser.add_argument(
        "--builder",
        type=words,
        default="Builder",
        metavar="NAME",
        help="your name in the notes",
    )
    parser.add_argument(
        "--design", type=words, default="not yet named", help="the aircraft's design"
    )
    parser.add_argument("--rulebook", choices=RULEBOOKS, metavar="NAME", help=", ".join(RULEBOOKS))
    lists = worklist_names()
    told = f"begin with a list of tasks: {', '.join(lists)}"
    parser.add_argument("--worklist", choices=lists, metavar="NAME", help=told)
    table_options(parser)
    told = "lay out only what editors complete by, in a journal that is there"
    parser.add_argument("--schemas", action="store_true", help=told)


def run(arguments: Namespace) -> int:
    """Lays the journal out; exit status 1, and nothing laid out, for a table with mistakes.

    Raises Refused for a folder that holds anything, and for a table that cannot be read.
    """
    root, today = Path(arguments.directory), date.today()  # noqa: DTZ011 - the builder's own day
    if arguments.schemas:
        return only_schemas(root)
    table = read_table(arguments, today)
    if table and table.is_stopped:
        stop(table)
        return MISTAKES
    lay_out_journal(root, files_for(arguments, today, table))
    lay_out_schemas(root / CACHE_FOLDER, schemas())
    say(f"A new journal is in {root}", sys.stdout)
    if table:
        report(table)
    word = "check" if table else "publish"
    say(f"Next: builderlog {word} {shlex.quote(str(root))}", sys.stdout)
    return DONE


def only_schemas(root: Path) -> int:
    """Lays the schemas out in a journal. Raises Refused where there is none."""
    if not (root / JOURNAL_FILE).is_file():
        raise Refused(f"{root} holds no {JOURNAL_FILE}; name the folder of a journal")
    folder = lay_out_schemas(root / CACHE_FOLDER, schemas())
    say(f"What editors complete by is in {folder}", sys.stdout)
    for file in (JOURNAL_FILE, WORKLIST_FILE):
        line = MODELINE.format(name=Path(file).stem).rstrip()
        say(f"Many editors find it by this first line of {file}: {line}", sys.stdout)
    return DONE


def files_for(arguments: Namespace, today: date, table: FromTable | None) -> dict[str, str]:
    """Every file of a new journal by path; without a table there is a note of the first evening."""
    day = table.first_day if table else today
    people = dict(arguments.person)
    people.pop(arguments.builder, None)
    values = {
        "title": quote(arguments.title),
        "builder": quote(arguments.builder),
        "design": quote(arguments.design),
        "day": day.isoformat(),
        "rulebook": rulebook_lines(arguments.rulebook),
        "people": "".join(f"  {quote(name)}: {{role: {role}}}\n" for name, role in people.items()),
    }
    notes = {f"notes/{day.year}/{day.isoformat()}-the-first-evening.md": NOTE.format(**values)}
    return {
        "journal.yaml": MODELINE.format(name="journal") + JOURNAL.format(**values),
        "worklist.yaml": MODELINE.format(name="worklist") + worklist_for(arguments.worklist),
        **(table.files if table else notes),
    }


def rulebook_lines(name: str | None) -> str:
    """How the authority counts, with what a rulebook needs beside it; a comment where none is."""
    if name is None:
        return RULEBOOK.format(names=", ".join(RULEBOOKS))
    return f"rulebook: {name}\n{OWN_RULEBOOK if name == OWN else ''}{KIT_HOURS}"


def worklist_for(name: str | None) -> str:
    """worklist.yaml's text: the list of that name, else one area with one task to be renamed."""
    if name is None:
        return WORKLIST.format(names=", ".join(worklist_names()))
    return worklist_text(name)


COMMAND = Command("start", "lay out a new journal", STORY, options, run)
