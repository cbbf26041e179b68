"""The vocabulary of journal.yaml, and how its rows become settings."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

from builderlog.knowing.entries import DatedWord
from builderlog.knowing.extensions import parse_wrench_length
from builderlog.knowing.forms import (
    ByName,
    Choice,
    Day,
    Desk,
    Key,
    Many,
    Parsed,
    Row,
    Rows,
    Text,
    Time,
    YesNo,
    read_row,
)
from builderlog.knowing.holiday_words import HOLIDAYS
from builderlog.knowing.money import parse_currency
from builderlog.knowing.rulebook_words import RULEBOOK_KEYS
from builderlog.knowing.rulebooks import RULEBOOKS
from builderlog.knowing.settings import (
    DAY_ENDS,
    Aircraft,
    Answer,
    DossierSettings,
    KitEvaluated,
    Paper,
    Person,
    Rate,
    Role,
    Settings,
    SiteSettings,
    Wrench,
)
from builderlog.knowing.units import UnreadableError, parse_small_hours
from builderlog.knowing.web_names import TAG_EXAMPLE, parse_address, parse_tag
from builderlog.reading.problem import Place, Problem, mistake
from builderlog.reading.quoting import in_braces
from builderlog.reading.words import Table, Word

K = Key[Any]
TEXT = Text()
NAME = Text("a name")
FILE = Text("a path from the journal's folder")

PAPER_SIZES = {"A4": "a4", "letter": "us-letter"}  # as builders write it, as the document is told
SHOWABLE = (
    *("full names", "place", "costs", "suppliers", "receipts", "registration", "serial"),
    *("refs", "snags", "visits", "paid help", "claim"),
)


def _currency(text: str) -> str:
    return parse_currency(text.strip())


def _rate(text: str) -> Decimal:
    if not re.fullmatch(r"\d{1,9}(?:[.,]\d{1,12})?", text.strip()):
        raise UnreadableError(f"'{text}' is not a rate; write 1.0837")
    rate = Decimal(text.strip().replace(",", "."))
    if not rate:
        raise UnreadableError("a rate of nothing cannot be; write what one unit is worth")
    return rate


CURRENCY: Parsed[str] = Parsed("three letters", _currency)

R_ROLE = K("role", Choice(tuple(Role)), "builder, helper (unpaid) or paid", "builder")
R_FULL = K("full name", TEXT, "for the inspector", "Ines Example")
R_FROM = K("from", Day(), "works on it since", "2026-01-10")
R_UNTIL = K("until", Day(), "worked on it until", "2026-05-01")
R_MAY = K("may show", YesNo(), "may be named and pictured on the friends' site", "yes")
PERSON_KEYS: tuple[K, ...] = (R_ROLE, R_FULL, R_FROM, R_UNTIL, R_MAY)


def _person(row: Row) -> Person:
    role = row.get(R_ROLE)
    full = row.get(R_FULL)
    return Person(
        name="",
        role=Role(role) if role else None,
        place=row.place,
        full_name=str(full) if full else None,
        since=row.get(R_FROM),
        until=row.get(R_UNTIL),
        may_show=row.get(R_MAY),
    )


PERSON = Rows("a person", PERSON_KEYS, _person, ("role",), "role")

C_DESIGN = K("design", TEXT, "the design", "Example Two")
C_KIT = K("kit", TEXT, "the kit and its release", "standard kit release 4")
C_REGISTRATION = K("registration", TEXT, "the registration mark", "ZZ-EXA")
C_MAKER = K("maker", TEXT, "the maker on the data plate", "I. Example")
C_MODEL = K("model", TEXT, "the model on the data plate", "Example Two")
C_SERIAL = K("serial", TEXT, "the serial number on the data plate", "0042")
AIRCRAFT_KEYS: tuple[K, ...] = (C_DESIGN, C_KIT, C_REGISTRATION, C_MAKER, C_MODEL, C_SERIAL)


def _text(row: Row, key: K) -> str | None:
    word = row.get(key)
    return str(word) if word else None


def _aircraft(row: Row) -> Aircraft:
    return Aircraft(*(_text(row, key) for key in AIRCRAFT_KEYS))


E_DATE = K("date", Day(), "the day of the evaluation", "2024-05-02")
E_FILE = K("file", FILE, "the letter or form", "receipts/evaluation.pdf")
E_UNALTERED = K("unaltered", YesNo(), "the kit is as it was evaluated", "yes")


def _evaluated(row: Row) -> KitEvaluated:
    return KitEvaluated(row.get(E_DATE), row.get(E_FILE), row.get(E_UNALTERED))


X_FROM = K("from", CURRENCY, "the foreign currency", "EUR")
X_ON = K("on", Day(), "valid from this day", "2026-03-01")
X_RATE = K("rate", Parsed("a number", _rate), "what one unit is worth in the journal's", "1.0837")


def _exchange(row: Row) -> Rate:
    on: DatedWord = row.need(X_ON)
    return Rate(row.need(X_FROM), on.day, row.need(X_RATE), row.place)


W_CALIBRATED = K("calibrated", Many(Day()), "the days it was calibrated", "2026-01-15")
W_LENGTH = K(
    "length",
    Parsed("a length with its unit", parse_wrench_length),
    "from the centre of its drive to where the hand pulls",
    "240 mm",
)


def _wrench(row: Row) -> Wrench:
    return Wrench("", row.place, row.many(W_CALIBRATED), row.get(W_LENGTH))


L_HAVE = K("have", Day(), "since when it is at hand", "2026-02-01")
L_FILE = K("file", FILE, "a copy of it", "receipts/registration.pdf")


def _paper(row: Row) -> Paper:
    return Paper("", row.place, row.get(L_HAVE), row.get(L_FILE))


G_GAP = K("gap", TEXT, "the gap, as check prints it", '"task-without-picture: W14"')
G_BECAUSE = K("because", TEXT, "the explanation", "the camera was lost")


def _answer(row: Row) -> Answer:
    return Answer(row.need(G_GAP), row.get(G_BECAUSE))


S_ADDRESS = K(
    "address",
    Parsed("a web address", parse_address),
    "where the site will stand",
    "https://example.org/build/",
)
S_THEME = K("theme", NAME, "the look", "trammel")
S_FINDABLE = K("findable", YesNo(), "may be offered to search engines", "no")
S_SHOW = K("show", Many(Choice(SHOWABLE)), "what it may tell beyond its default", "[costs, refs]")
S_TAG = K(
    "tag",
    Parsed("a tag URI", parse_tag),
    "what the feeds' ids begin with, so that they stay when the address changes",
    f'"{TAG_EXAMPLE}"',
)


def _site(row: Row) -> SiteSettings:
    return SiteSettings(
        row.get(S_ADDRESS),
        _text(row, S_THEME),
        bool(row.get(S_FINDABLE)),
        frozenset(row.many(S_SHOW)),
        row.get(S_TAG),
    )


D_PAPER = K("paper", Choice(tuple(PAPER_SIZES)), "the paper of its document", "A4")
D_ORGANIZATION = K("organization", TEXT, "who hands it over, as bag-info names it", "I. Example")


def _dossier(row: Row) -> DossierSettings:
    paper = row.get(D_PAPER)
    return DossierSettings(PAPER_SIZES[paper] if paper else "a4", _text(row, D_ORGANIZATION))


TITLE = K("title", TEXT, "the journal's title", "Building the Example Two")
BUILDER = K("builder", NAME, "the name meant when a note names nobody", "Ines")
PEOPLE = K(
    "people",
    ByName("people", PERSON, "{role: builder}"),
    "everyone who works, with role",
    "{Ines: {role: builder}}",
)
PRIMARY = K("primary", NAME, "the primary builder", "Ines")
AIRCRAFT = K(
    "aircraft",
    Rows("the aircraft", AIRCRAFT_KEYS, _aircraft, (), "design"),
    "as papers and data plate name it",
    "{design: Example Two, serial: 0042}",
)
KIT_EVALUATED = K(
    "kit evaluated",
    Rows("the kit's evaluation", (E_DATE, E_FILE, E_UNALTERED), _evaluated),
    "the authority's evaluation from which the maker's credit is taken",
    "{date: 2024-05-02, file: receipts/evaluation.pdf, unaltered: yes}",
)
KIT_HOURS = K("kit hours", Time(), "the maker's declared hours, where hours are counted", "600h")
PLACE = K("place", TEXT, "where the work is usually done", "the barn at home")
STARTED = K("started", Day(), "the first day", "2026-01-10")
CERTIFICATED = K("certificated", Day(), "later work is not build time", "2029-06-01")
RULEBOOK = K("rulebook", Choice(RULEBOOKS), "how the authority counts", "us-checklist")
OWN_RULEBOOK = K(
    "own rulebook",
    Rows("a rulebook", RULEBOOK_KEYS, lambda row: row),  # what it lacks is told where it is used
    "measure and limit where rulebook is own, and whatever else a rulebook says",
    "{measure: points, limit: more than 0.5}",
)
CITATION = K("citation", TEXT, "overrides the rulebook's citation", "14 CFR 21.191(g)")
UNITS = K("units", Choice(("metric", "inch")), "which system comes first", "metric")
CURRENCY_KEY = K("currency", CURRENCY, "the journal's currency", "USD")
EXCHANGE = K(
    "exchange",
    Many(Rows("a rate", (X_FROM, X_ON, X_RATE), _exchange, ("from", "on", "rate"))),
    "dated rates of exchange",
    "[{from: EUR, on: 2026-03-01, rate: 1.0837}]",
)
WRENCHES = K(
    "wrenches",
    ByName("wrenches", Rows("a wrench", (W_CALIBRATED, W_LENGTH), _wrench, (), "calibrated")),
    "torque wrenches and when they were calibrated",
    "{small wrench: 2026-01-15}",
)
PAPERS = K(
    "papers",
    ByName("papers", Rows("a paper", (L_HAVE, L_FILE), _paper, (), "have")),
    "the documents the authority asks for",
    "{registration: {have: 2026-02-01}}",
)
ANSWERS = K(
    "answers",
    Many(Rows("an answer", (G_GAP, G_BECAUSE), _answer, ("gap", "because"))),
    "gaps explained; they stay listed with the explanation",
    "[{gap: W14, because: the camera was lost}]",
)
VISIT_FIRST = K(
    "visit before closing",
    Many(NAME),
    "areas or tasks that you want somebody to look at before they are closed",
    "[W, T03]",
)
WEEK_STARTS = K("week starts", Choice(("monday", "sunday")), "first day of the week", "monday")
DAY_ENDS_KEY = K(
    "day ends",
    Parsed("a time of day", parse_small_hours),
    "till then a note belongs to the evening before",
    "4:00",
)
SITE = K(
    "site",
    Rows("the site", (S_ADDRESS, S_THEME, S_FINDABLE, S_SHOW, S_TAG), _site),
    "the friends' site",
    "{findable: no, show: [snags]}",
)
DOSSIER = K(
    "dossier",
    Rows("the dossier", (D_PAPER, D_ORGANIZATION), _dossier),
    "the inspector's dossier",
    "{paper: letter}",
)
SETTINGS_KEYS: tuple[K, ...] = (
    *(TITLE, BUILDER, PEOPLE, PRIMARY, AIRCRAFT, KIT_EVALUATED, KIT_HOURS, PLACE, STARTED),
    *(
        CERTIFICATED,
        RULEBOOK,
        OWN_RULEBOOK,
        CITATION,
        UNITS,
        CURRENCY_KEY,
        EXCHANGE,
        WRENCHES,
        PAPERS,
    ),
    *(ANSWERS, VISIT_FIRST, WEEK_STARTS, DAY_ENDS_KEY, HOLIDAYS, SITE, DOSSIER),
)
NEEDED = ("title", "builder", "people")


def settings_of(table: Table | None, place: Place) -> tuple[Settings, tuple[Problem, ...]]:
    """journal.yaml's words as settings, with every mistake of its own; never fails."""
    desk = Desk()
    row = read_row(table or Table((), place), SETTINGS_KEYS, desk, "journal.yaml")
    for word in NEEDED:
        if word not in row.values:
            told = f"journal.yaml needs '{word}:'; write {_example(word)}"
            desk.tell(place, "missing-key", told)
    settings = _settings(row)
    return settings, (*desk.problems, *_unknown_builders(row, settings))


def _example(word: str) -> str:
    return next(f"{key.word}: {key.example}" for key in SETTINGS_KEYS if key.word == word)


def _unknown_builders(row: Row, settings: Settings) -> tuple[Problem, ...]:
    """`builder` and `primary` must be among `people`."""
    named: tuple[Word, ...] = tuple(word for word in (row.get(BUILDER), row.get(PRIMARY)) if word)
    return tuple(
        mistake(
            word.place,
            "unknown-person",
            f"'{word}' is not among people; write it there, as in "
            f"{in_braces(word.text)}: {{role: builder}}",
        )
        for word in named
        if settings.people and settings.person(word.text) is None
    )


def _settings(row: Row) -> Settings:
    return Settings(
        title=_text(row, TITLE) or "",
        builder=_text(row, BUILDER),
        people=_people(row),
        primary=_text(row, PRIMARY),
        aircraft=row.get(AIRCRAFT) or Aircraft(),
        kit_evaluated=row.get(KIT_EVALUATED),
        kit_hours=row.get(KIT_HOURS),
        place=_text(row, PLACE),
        started=row.get(STARTED),
        certificated=row.get(CERTIFICATED),
        rulebook=row.get(RULEBOOK),
        own_rulebook=row.get(OWN_RULEBOOK),
        citation=_text(row, CITATION),
        units=row.get(UNITS),
        currency=row.get(CURRENCY_KEY),
        exchange=row.many(EXCHANGE),
        wrenches=_wrenches(row),
        papers=_papers(row),
        answers=row.many(ANSWERS),
        visit_first=row.many(VISIT_FIRST),
        week_starts=row.get(WEEK_STARTS),
        day_ends=row.get(DAY_ENDS_KEY) or DAY_ENDS,
        holidays=row.many(HOLIDAYS),
        site=row.get(SITE) or SiteSettings(),
        dossier=row.get(DOSSIER) or DossierSettings(),
    )


def _people(row: Row) -> tuple[Person, ...]:
    """Everyone named, the role None where it could not be read (told already)."""
    return tuple(
        replace(person or Person("", None, name.place), name=name.text, place=name.place)
        for name, person in row.get(PEOPLE) or ()
    )


def _wrenches(row: Row) -> tuple[Wrench, ...]:
    named = row.get(WRENCHES) or ()
    return tuple(
        replace(wrench or Wrench("", name.place), name=name.text, place=name.place)
        for name, wrench in named
    )


def _papers(row: Row) -> tuple[Paper, ...]:
    named = row.get(PAPERS) or ()
    return tuple(
        replace(paper or Paper("", name.place), name=name.text, place=name.place)
        for name, paper in named
    )
