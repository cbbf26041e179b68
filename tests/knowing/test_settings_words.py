"""journal.yaml as settings; its mistakes stand in tests/cases/journals.txt."""

from __future__ import annotations

from datetime import time
from decimal import Decimal
from pathlib import Path

from builderlog.knowing.settings import Settings
from tests.knowing.journals import ledger_of
from tests.knowing.reading_notes import lines_of

WHOLE = """\
title: Building the Example Two
builder: Ines
primary: Ines
people:
  Ines: {role: builder, full name: Ines Example, from: 2026-01-10, may show: yes}
  Tomas: helper
aircraft: {design: Example Two, kit: standard, registration: ZZ-EXA,
  maker: I. Example, model: Two, serial: 0042}
kit evaluated: {date: 2024-05-02, file: papers/k.pdf, unaltered: yes}
kit hours: 600h
place: the barn
started: 2026-01-10
certificated: 2029-06-01
rulebook: us-checklist
citation: a paragraph
units: metric
currency: usd
exchange:
  - {from: EUR, on: 2026-03-01, rate: 1.0837}
  - from: CHF
    on: 2026-03-02
    rate: 1,1
wrenches: {small wrench: [2025-01-15, 2026-01-15], big wrench: {calibrated: 2026-02-01}, old one: }
papers: {registration: 2026-02-01, plan: {have: 2026-02-02, file: papers/k.pdf}, letter: }
answers: [{gap: W14, because: the camera was lost}]
week starts: sunday
day ends: 5:30
site: {address: "https://example.org/", theme: trammel, findable: yes, show: [costs, full names]}
"""


def settings_of(root: Path, text: str) -> Settings:
    """The settings of a journal with one paper in it; nothing may be told."""
    ledger = ledger_of(root, {"journal.yaml": text, "papers/k.pdf": "x"})
    assert ledger.problems == ()
    return ledger.settings


def test_every_word_of_journal_yaml_is_read(tmp_path: Path) -> None:
    """All keys of the contract, in short and in long form, become settings."""
    settings = settings_of(tmp_path, WHOLE)
    lines = [*lines_of(settings.people, "people"), *lines_of(settings.aircraft, "aircraft")]
    assert [line for line in lines if ".since" not in line] == [
        "people[0].name = Ines",
        "people[0].role = builder",
        "people[0].full_name = Ines Example",
        "people[0].may_show = yes",
        "people[1].name = Tomas",
        "people[1].role = helper",
        "aircraft.design = Example Two",
        "aircraft.kit = standard",
        "aircraft.registration = ZZ-EXA",
        "aircraft.maker = I. Example",
        "aircraft.model = Two",
        "aircraft.serial = 0042",
    ]
    assert (settings.title, settings.builder, settings.primary) == (
        "Building the Example Two",
        "Ines",
        "Ines",
    )
    assert settings.day_ends == time(5, 30)
    assert (settings.rulebook, settings.units, settings.currency, settings.week_starts) == (
        *("us-checklist", "metric", "USD", "sunday"),
    )


def test_a_day_ends_in_the_small_hours(tmp_path: Path) -> None:
    """`day ends` is four in the morning unless said, and never a time after noon."""
    text = "title: x\nbuilder: Ines\npeople: {Ines: builder}\n"
    assert settings_of(tmp_path / "a", text).day_ends == time(4)
    for number, wrong in enumerate(("12:00", "4", "3:60", "-1:00", "late")):
        ledger = ledger_of(tmp_path / f"{number}", {"journal.yaml": f"{text}day ends: '{wrong}'\n"})
        assert [problem.code for problem in ledger.problems] == ["unreadable"]
        assert f"'{wrong}' is no time from 0:00 to 11:59" in ledger.problems[0].message
        assert ledger.settings.day_ends == time(4)


def test_rates_wrenches_papers_and_answers_are_read(tmp_path: Path) -> None:
    """Lists by name and dated rates keep their order and every value."""
    settings = settings_of(tmp_path, WHOLE)
    assert [(each.currency, each.on.isoformat(), each.rate) for each in settings.exchange] == [
        ("EUR", "2026-03-01", Decimal("1.0837")),
        ("CHF", "2026-03-02", Decimal("1.1")),
    ]
    wrenches = {
        each.name: [str(word.day) for word in each.calibrated] for each in settings.wrenches
    }
    assert wrenches == {
        "small wrench": ["2025-01-15", "2026-01-15"],
        "big wrench": ["2026-02-01"],
        "old one": [],
    }
    papers = {each.name: (each.have is not None, str(each.file or "")) for each in settings.papers}
    assert papers == {
        "registration": (True, ""),
        "plan": (True, "papers/k.pdf"),
        "letter": (False, ""),
    }
    assert [(str(each.gap), str(each.because)) for each in settings.answers] == [
        ("W14", "the camera was lost")
    ]


def test_the_site_shows_nothing_beyond_its_default(tmp_path: Path) -> None:
    """Without a word about the site nothing is shown or findable; with one, just what it names."""
    bare = settings_of(tmp_path / "a", "title: x\nbuilder: Ines\npeople: {Ines: builder}\n").site
    assert (bare.findable, bare.show) == (False, frozenset())
    site = settings_of(tmp_path / "b", WHOLE).site
    assert (site.findable, site.show) == (True, frozenset({"costs", "full names"}))
    assert (site.address, site.theme) == ("https://example.org/", "trammel")


def test_what_cannot_be_read_about_the_site_shows_less(tmp_path: Path) -> None:
    """A word of `site` or of a person that has no meaning never opens anything."""
    text = (
        "title: x\nbuilder: Ines\npeople: {Ines: {role: builder, may show: perhaps}}\n"
        "site: {findable: perhaps, show: [all]}\n"
    )
    settings = ledger_of(tmp_path, {"journal.yaml": text}).settings
    assert (settings.site.findable, settings.site.show) == (False, frozenset())
    assert settings.people[0].may_show is None
