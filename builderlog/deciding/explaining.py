"""The builder's answers to doubts and gaps: which of them each one explains."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from builderlog.knowing.settings import Answer
from builderlog.reading.problem import Problem, Weight, doubt


def explain(problems: Iterable[Problem], answers: tuple[Answer, ...]) -> Iterator[Problem]:
    """The problems, those that an answer explains with its reason; then answers to nothing.

    An answer names a gap by any words that `check` prints of it; a doubt by words with its code,
    so that no answer hides by chance what was never looked at. A mistake is mended, not explained.
    """
    used: set[Answer] = set()
    for problem in problems:
        fitting = [answer for answer in answers if _explains(answer, problem)]
        used.update(fitting)
        reasons = dict.fromkeys(str(answer.because) for answer in fitting)
        yield replace(problem, because="; ".join(reasons)) if fitting else problem
    for answer in answers:
        if answer not in used:
            told = f"no gap says '{answer.gap}'; copy the words that check prints, or delete this"
            yield doubt(answer.gap.place, "answer-to-nothing", told)


def _explains(answer: Answer, problem: Problem) -> bool:
    if (
        problem.weight is Weight.MISTAKE
        or answer.gap.text not in f"{problem.code}: {problem.message}"
    ):
        return False
    return problem.weight is Weight.GAP or problem.code in answer.gap.text
