"""`start`: lays out a new journal that can be published at once."""

from __future__ import annotations

import shlex
import sys
from argparse import ArgumentParser, Namespace
from datetime import date
from pathlib import Path

from builderlog.command.shape import DONE, Command, words
from builderlog.command.terminal import say
from builderlog.knowing.settings_words import RULEBOOKS
from builderlog.reading.quoting import quote
from builderlog.storing.layout import lay_out_journal

STORY = """\
DIR is made where it does not exist; a folder with anything in it is refused. What is laid out
are plain text files with comments that say what to write; every folder may be deleted again."""

JOURNAL = """\
# Who builds what, where, and under which rulebook. `builderlog check --words` lists all words.
title: {title}
builder: {builder}          # the name meant when a note names nobody
people:
  {builder}: {{role: builder}}
  # Tomas: {{role: helper, may show: no}}
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

WORKLIST = """\
# The areas and tasks of the aircraft, in your own words or as your authority's form lists them.
# A working list: the form that your inspector uses prevails. See `builderlog check --words`.
areas:
  - area: S
    name: Shop
    tasks:
      - {task: S1, name: Build the workbench, work: fabrication, state: open}
"""

NOTE = """\
---
date: {day}
title: The first evening
hours: 0h30
tasks: [S1]
next: write down tonight what was done, with whom, and how long
---
The bench is set up and swept. From now on every evening gets a note.
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


def run(arguments: Namespace) -> int:
    """Lays the journal out. Raises Refused for a folder that holds anything."""
    root = Path(arguments.directory)
    lay_out_journal(root, files_for(arguments, date.today()))  # noqa: DTZ011 - the builder's own day
    say(f"A new journal is in {root}", sys.stdout)
    say(f"Next: builderlog publish {shlex.quote(str(root))}", sys.stdout)
    return DONE


def files_for(arguments: Namespace, day: date) -> dict[str, str]:
    """Every file of a new journal by path."""
    rulebook = arguments.rulebook
    values = {
        "title": quote(arguments.title),
        "builder": quote(arguments.builder),
        "design": quote(arguments.design),
        "day": day.isoformat(),
        "rulebook": f"rulebook: {rulebook}"
        if rulebook
        else RULEBOOK.format(names=", ".join(RULEBOOKS)),
    }
    return {
        "journal.yaml": JOURNAL.format(**values),
        "worklist.yaml": WORKLIST,
        f"notes/{day.year}/{day.isoformat()}-the-first-evening.md": NOTE.format(**values),
    }


COMMAND = Command("start", "lay out a new journal", STORY, options, run)
