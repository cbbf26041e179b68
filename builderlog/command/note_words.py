"""The words of `note` on the command line, and the note that they ask for."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial

from builderlog.command.shape import words
from builderlog.knowing.entries import PartStatus, Privacy, Work
from builderlog.knowing.ledger import Ledger
from builderlog.noting.new_note import NewFixed, NewNote, NewPart, NewPhoto, NewSnag, NewTask
from builderlog.storing.refusal import Refused

Said = tuple[str, str]  # an option without its dashes, and the word behind it
AGAIN = "; may be repeated"


def _as_it_is(text: str) -> str:
    return text


def _work(text: str) -> str:
    if text not in {str(work) for work in Work}:
        raise ArgumentTypeError(f"'{text}' is none of fabrication, assembly, other")
    return text


@dataclass(frozen=True, slots=True)
class Option:
    """One option that says a word of the note; `of` is the option that it must stand behind."""

    name: str
    metavar: str
    told: str
    read: Callable[[str], str] = words
    of: str = ""


OPTIONS = (
    Option("title", "TEXT", "a few words"),
    Option("hours", "LENGTH", f"2.5, 2h30, 45m, 19:10-22:25; NAME=2h30 for somebody{AGAIN}"),
    Option("who", "NAME", f"who worked, where it was not the builder alone{AGAIN}"),
    Option("task", "ID[=LENGTH]", f"what was worked on, W14 or W14=0:45{AGAIN}"),
    Option("work", "KIND", "of the task before it: fabrication, assembly or other", _work, "task"),
    Option("per", "TEXT", "of the task before it: the drawing or page followed", words, "task"),
    Option("photo", "FILE", f"a picture; filed into photos/ if it is not there{AGAIN}", _as_it_is),
    Option("caption", "TEXT", "of the picture before it: what one sees", words, "photo"),
    Option("shows", "ID", "of the picture before it: the task in it", words, "photo"),
    Option("seen", "NAME", "of the picture before it: the person in it", words, "photo"),
    Option("part", "PART[=STATUS]", f"a part that moved, as in 'hinge pin=fitted'{AGAIN}"),
    Option("count", "NUMBER", "of the part before it: how many", words, "part"),
    Option("snag", "[ID=]TEXT", f"wrong or forgotten, as in 'W14=nick in the skin'{AGAIN}"),
    Option("fixed", "NUMBER[=HOW]", f"a snag put right, as in '2026-03-14.2=filed out'{AGAIN}"),
    Option("closes", "ID", f"an area or task that from now on cannot be seen{AGAIN}"),
    Option("next", "TEXT", f"what to do next time{AGAIN}"),
    Option(
        "say", "TEXT", "what was done, a paragraph each time; - reads it from a pipe", _as_it_is
    ),
)
_OF = {option.name: option.of for option in OPTIONS if option.of}


def content_options(parser: ArgumentParser) -> None:
    """What a note can say, in one go and without an editor; kept in the order of the line."""
    for option in OPTIONS:
        parser.add_argument(
            f"--{option.name}",
            dest="said",
            action="append",
            type=partial(_tagged, option),
            metavar=option.metavar,
            help=option.told,
        )
    for flag, privacy, told in (
        ("--private", Privacy.PRIVATE, "not for friends: totals and the inspector only"),
        ("--hours-only", Privacy.HOURS_ONLY, "nothing but the time for anyone"),
    ):
        parser.add_argument(
            flag, dest="private", action="store_const", const=str(privacy), help=told
        )


def _tagged(option: Option, text: str) -> Said:
    return option.name, option.read(text)


@dataclass(slots=True)
class _Entry:
    """A task, picture or part of the command line, with the words that followed it."""

    word: str
    more: dict[str, list[str]] = field(default_factory=dict)

    def one(self, key: str) -> str:
        return self.more.get(key, [""])[-1]

    def many(self, key: str) -> tuple[str, ...]:
        return tuple(_parted(self.more.get(key, [])))


def _entries(said: Iterable[Said], name: str) -> list[_Entry]:
    """Each use of an option with what belongs to it. Raises Refused for what belongs to none."""
    found: list[_Entry] = []
    for key, word in said:
        if key == name:
            found.append(_Entry(word))
        elif _OF.get(key) == name:
            if not found:
                raise Refused(f"--{key} '{word}' belongs behind a --{name}; write that before it")
            found[-1].more.setdefault(key, []).append(word)
    return found


def _parted(given: Iterable[str]) -> Iterator[str]:
    """The words of several options; a comma parts them too."""
    for text in given:
        yield from (word.strip() for word in text.split(",") if word.strip())


def says_something(arguments: Namespace) -> bool:
    """True where the command line holds a word of the note itself."""
    return bool(arguments.said or arguments.private)


def asked_note(arguments: Namespace, ledger: Ledger, day: date) -> NewNote:
    """The note that the words ask for; its pictures still as the command line names them.

    Raises Refused for a word that belongs to nothing.
    """
    said: Sequence[Said] = arguments.said or ()

    def all_of(name: str) -> list[str]:
        return [word for key, word in said if key == name]

    who = tuple(_parted(all_of("who")))
    return NewNote(
        day=day,
        title=all_of("title")[-1] if all_of("title") else "",
        hours=_hours(all_of("hours"), who, ledger),
        tasks=tuple(_task(entry, who, ledger) for entry in _entries(said, "task")),
        photos=tuple(_photo(entry) for entry in _entries(said, "photo")),
        parts=tuple(_part(entry) for entry in _entries(said, "part")),
        snags=tuple(_snag(text, ledger) for text in all_of("snag")),
        fixed=tuple(_fixed(text) for text in all_of("fixed")),
        text="\n\n".join(sys.stdin.read() if text == "-" else text for text in all_of("say")),
        next_steps=tuple(all_of("next")),
        closes=tuple(_parted(all_of("closes"))),
        private=arguments.private or "",
    )


def with_clock(note: NewNote, spans: Sequence[str], arguments: Namespace) -> NewNote:
    """The note with the clock's spans as its hours, where it says none itself."""
    if note.hours or not spans:
        return note
    who = tuple(_parted(word for key, word in arguments.said or () if key == "who")) or ("",)
    return replace(note, hours=tuple((name, span) for name in who for span in spans))


def _hours(given: Sequence[str], who: Sequence[str], ledger: Ledger) -> tuple[Said, ...]:
    """By name as soon as one name is said; a length alone is of all in `who`, or the builder."""
    said: list[Said] = []
    for text in given:
        name, equals, length = text.rpartition("=")
        people = (name.strip(),) if equals else (tuple(who) or ("",))
        said.extend((person, length.strip()) for person in people)
    if any(name for name, _ in said):
        builder = ledger.settings.builder or "builder"
        said = [(name or builder, length) for name, length in said]
    return tuple(said)


def _task(entry: _Entry, who: Sequence[str], ledger: Ledger) -> NewTask:
    name, equals, length = entry.word.rpartition("=")
    alone = not who or tuple(who) == (ledger.settings.builder,)
    return NewTask(
        task=(name if equals else entry.word).strip(),
        hours=length.strip() if equals else "",
        who=() if alone else tuple(who),
        work=entry.one("work"),
        per=entry.one("per"),
    )


def _photo(entry: _Entry) -> NewPhoto:
    return NewPhoto(entry.word, entry.many("shows"), entry.many("seen"), entry.one("caption"))


def _part(entry: _Entry) -> NewPart:
    name, equals, status = entry.word.rpartition("=")
    if equals and status.strip() in {str(one) for one in PartStatus}:
        return NewPart(name.strip(), entry.one("count"), status=status.strip())
    return NewPart(entry.word, entry.one("count"))


def _fixed(text: str) -> NewFixed:
    number, _, how = text.partition("=")
    return NewFixed(number.strip(), how.strip())


def _snag(text: str, ledger: Ledger) -> NewSnag:
    """`W14=nick in the skin`, where W14 is an area or a task of the work list."""
    head, equals, rest = text.partition("=")
    name = head.strip()
    if equals and name in ledger.worklist.by_id:
        return NewSnag(rest.strip(), task=name)
    if equals and name in {area.id for area in ledger.worklist.areas}:
        return NewSnag(rest.strip(), area=name)
    return NewSnag(text)
