"""Everything that `check` tells; the cases of it stand in tests/cases/journals.txt."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builderlog.deciding.checks import judge, paths_with_mistakes
from builderlog.knowing.settings import Answer
from builderlog.reading.problem import Place, Weight, doubt, gap, mistake
from tests.making import ledger, settings, word
from tests.reading.case_file import CASES, read_cases
from tests.reading.told_codes import codes_in, codes_told, telling_modules, texts_in_tests

TESTS = Path(__file__).resolve().parent.parent
OF_JOURNALS = [TESTS / room for room in ("reading", "knowing", "deciding")]
HERE = Place("notes/x.md", 3)


def codes_expected() -> set[str]:
    """Every code that a case expects, or that a test of these rooms writes."""
    cases = (case for path in CASES.glob("*.txt") for case in read_cases(path.name))
    tests = [path for room in OF_JOURNALS for path in room.glob("test_*.py")]
    return {code for case in cases for code in case.codes} | texts_in_tests(tests)


def untested(told: set[str], expected: set[str]) -> set[str]:
    """Codes that can be told and that no case and no test expects."""
    return told - expected


def test_every_code_has_a_case_or_a_test() -> None:
    """No problem can be told that no case and no test has seen in its place."""
    assert untested(codes_told(), codes_expected()) == set()


@pytest.mark.slow
@pytest.mark.parametrize(
    "source",
    [
        'def f(desk):\n    desk.tell(place, "brand-new", "x")',
        'def f():\n    return mistake(place, "brand-new", "x")',
        'def f():\n    yield doubt(place, "a" if x else "brand-new", "x")',
        'def f(fault):\n    code = "brand-new"\n    return fault.mend(at, code, told, None)',
        'def f():\n    raise NotFoundError("brand-new", "x")',
        'def f():\n    return LinkJudged("file", path, "brand-new", told)',
    ],
)
def test_a_new_code_without_a_case_is_found(source: str) -> None:
    """The guard bites: a code that is told in any of these ways and expected nowhere is found."""
    told = set(codes_in("module", source))
    assert "brand-new" in untested(told, codes_expected() - {"brand-new"})


def test_a_code_that_is_passed_on_is_found() -> None:
    """A call that passes a code on is told by its module and function, so that it is listed."""
    source = 'def f(fault):\n    return mistake(place, fault.code, "x")'
    assert set(codes_in("module", source)) == {"module.f"}


def test_the_guard_reads_every_module_that_tells() -> None:
    """The modules that are read for codes are all of reading and knowing and all checks."""
    names = {path.stem for path in telling_modules()}
    assert {"yaml_mending", "forms", "hours", "links", "checks_time", "costs"} <= names
    assert len(codes_told()) > 70


def test_what_was_told_in_reading_is_told_in_check() -> None:
    """Problems of reading stand among those of the checks, the worst first."""
    told = (gap(HERE, "g", "z"), doubt(HERE, "d", "y"), mistake(HERE, "m", "x"))
    found = judge(replace(ledger(), problems=told))
    assert [each.code for each in found] == ["m", "d", "g"]


@pytest.mark.parametrize(
    ("answer", "explained"),
    [
        ("no-caption: 'photos/a.jpg'", True),
        ("no-caption", True),
        ("photos/a.jpg", True),
        ("photos/b.jpg", False),
    ],
)
def test_a_gap_that_is_explained_stays_with_its_explanation(answer: str, explained: bool) -> None:  # noqa: FBT001
    """An answer that names part of what is printed adds the explanation; nothing is hidden."""
    told = gap(HERE, "no-caption", "'photos/a.jpg' has no caption; write one")
    answers = (Answer(word(answer), word("too dark")),)
    made = ledger(settled=replace(settings(), answers=answers))
    found = [each for each in judge(replace(made, problems=(told,))) if each.weight is Weight.GAP]
    assert [each.told.endswith("(explained: too dark)") for each in found] == [explained]
    assert [each.message for each in found] == [told.message]


def test_an_answer_to_nothing_is_told() -> None:
    """An answer whose words stand in no gap is told at its place: no typing slip hides it."""
    answers = (Answer(word("no-capton"), word("too dark")),)
    made = ledger(settled=replace(settings(), answers=answers))
    (found,) = judge(replace(made, problems=()))
    assert (found.code, found.weight) == ("answer-to-nothing", Weight.DOUBT)
    assert "'no-capton'" in found.message


def test_a_mistake_cannot_be_explained() -> None:
    """A mistake is mended: no answer touches it, whatever its words."""
    told = (mistake(HERE, "mended", "photos/a.jpg"),)
    answers = (Answer(word("mended: photos/a.jpg"), word("because")),)
    made = ledger(settled=replace(settings(), answers=answers))
    assert not any(each.because for each in judge(replace(made, problems=told)))


@pytest.mark.parametrize(("answer", "explained"), [("W14", False), ("not-seen: W14", True)])
def test_a_doubt_is_explained_by_its_code(answer: str, explained: bool) -> None:  # noqa: FBT001
    """A doubt is explained only by words that hold its code, never by a task's id alone."""
    told = (doubt(HERE, "not-seen", "W14 is not seen"), gap(HERE, "bare", "W14 is bare"))
    made = ledger(settled=replace(settings(), answers=(Answer(word(answer), word("alone")),)))
    found = {each.code: bool(each.because) for each in judge(replace(made, problems=told))}
    assert found["not-seen"] is explained


def test_what_more_of_the_claim_hangs_on_comes_first() -> None:
    """Gaps are told by what hangs on them, those that are explained behind all that are open."""
    told = (gap(HERE, "small", "x", 1), gap(HERE, "large", "y", 9), gap(HERE, "known", "z", 10))
    made = ledger(settled=replace(settings(), answers=(Answer(word("known"), word("lost")),)))
    found = [each.code for each in judge(replace(made, problems=told))]
    assert found == ["large", "small", "known"]


def test_a_file_with_a_mistake_is_known() -> None:
    """Only files that hold a mistake are left out; doubts and gaps leave none out."""
    told = (mistake(HERE, "m", "x"), doubt(Place("a"), "d", "x"), gap(Place("b"), "g", "x"))
    assert paths_with_mistakes(told) == {"notes/x.md"}
