"""The documents that `check --open --json` and `check --before-closing --json` print."""

from __future__ import annotations

from datetime import date

from builderlog.deciding.before_closing import BeforeClosing, ClosingLine
from builderlog.deciding.still_open import Again, Awaited, Away, NextSteps, OpenSnag, StillOpen
from builderlog.deciding.still_open_evidence import Evidence
from builderlog.deciding.torque_register import Group
from builderlog.reading.problem import Place
from builderlog.reading.words import Word

Document = dict[str, object]


def open_document(found: StillOpen) -> Document:
    """Every list by its name, each thing with its place; days in ISO 8601, None where not said."""
    return {
        "today": found.today.isoformat(),
        "next": [step for each in found.next_steps for step in _next(each)],
        "snags": [_snag(each) for each in found.snags],
        "parts": [_part(each) for each in found.parts],
        "away": [_away(each) for each in found.away],
        "decisions": [_decision(each) for each in found.decisions],
        "torque": [_torque(each) for each in found.torque],
        "evidence": [_evidence(each) for each in found.evidence],
    }


def closing_document(found: BeforeClosing) -> Document:
    """The area or task with what it lacks."""
    return {
        "subject": found.subject,
        "name": found.name,
        "closed_since": _iso(found.closed_since),
        "lines": [_line(line) for line in found.lines],
    }


def _next(each: NextSteps) -> list[Document]:
    return [
        {
            **_at(step.place),
            "step": step.text,
            "areas": list(each.areas),
            "date": _iso(each.note.day),
            "notes_since": each.since,
        }
        for step in each.steps
    ]


def _snag(each: OpenSnag) -> Document:
    line = each.snag.line
    return {
        **_at(line.place),
        "no": each.snag.number,
        "snag": line.snag.text,
        "area": each.area or None,
        "task": _text(line.task),
        "date": _iso(each.snag.day),
        "days": each.days,
    }


def _part(each: Awaited) -> Document:
    return {
        **_at(each.place),
        "part": each.part.name,
        "ref": each.part.ref,
        "state": each.state,
        "status": each.status.value,
        "since": _iso(each.since),
        "due": _iso(each.due),
    }


def _away(each: Away) -> Document:
    return {
        **_at(each.place),
        "what": each.what,
        "with": each.firm,
        "task": each.task,
        "sent": _iso(each.sent),
        "due": _iso(each.due),
    }


def _decision(each: Again) -> Document:
    return {
        **_at(each.line.place),
        "what": each.line.what.text,
        "again": _text(each.line.again),
        "on": _iso(each.on),
        "date": _iso(each.note.day),
    }


def _torque(each: Group) -> Document:
    return {
        **_at(each.line.place),
        "where": _text(each.line.where),
        "bolt": _text(each.line.bolt),
        "areas": [area.id for area in each.areas],
        "open": list(each.open_because),
        "date": _iso(each.note.day),
    }


def _evidence(each: Evidence) -> Document:
    return {
        **_line(each.line),
        "area": each.area or None,
        "hidden_by": each.hidden_by or None,
        "soon": each.soon.name.lower(),
    }


def _line(line: ClosingLine) -> Document:
    return {
        **_at(line.place),
        "kind": line.kind.value,
        "task": line.task or None,
        "message": line.message,
        "explained": line.because or None,
    }


def _at(place: Place) -> Document:
    return {"path": place.path, "line": place.line, "column": place.column}


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _text(word: Word | None) -> str | None:
    return word.text if word else None
