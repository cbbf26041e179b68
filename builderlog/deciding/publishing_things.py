"""Parts and snags as friends may see them: from public notes alone, money only if asked.

Parts are followed as if there were no private notes: one that is told apart from another for no
reason to be seen would tell of what is kept back.
"""

from __future__ import annotations

from builderlog.deciding.costs import amount_text, spending_of
from builderlog.deciding.public import PublicPart, PublicPartEvent, PublicSnag
from builderlog.deciding.visibility import Visibility
from builderlog.knowing.ledger import Ledger, Part, PartEvent, Snag
from builderlog.knowing.parts import follow_parts
from builderlog.knowing.settings import Settings


def public_parts(ledger: Ledger, sight: Visibility) -> tuple[PublicPart, ...]:
    """Each part with the sightings that public notes hold, in the order of the first of them."""
    return tuple(_part(part, ledger.settings, sight) for part in parts_seen(ledger, sight))


def parts_seen(ledger: Ledger, sight: Visibility) -> tuple[Part, ...]:
    """The parts of public notes."""
    return follow_parts(note for note in ledger.notes if note.path in sight.notes)


def _part(seen: Part, settings: Settings, sight: Visibility) -> PublicPart:
    lines = [event.line for event in seen.events]
    tasks = [line.task.text for line in lines if line.task]
    sources = [line.source.text for line in lines if line.source]
    return PublicPart(
        name=seen.name,
        status=seen.status.value if seen.status else None,
        count=seen.count,
        task=tasks[-1] if tasks else None,
        events=tuple(_event(event, sight) for event in seen.events),
        cost=_cost(seen, settings) if "costs" in sight.show else None,
        supplier=sources[-1] if sources and "suppliers" in sight.show else None,
        ref=seen.ref if "refs" in sight.show else None,
    )


def _event(event: PartEvent, sight: Visibility) -> PublicPartEvent:
    line = event.line
    return PublicPartEvent(
        note=sight.notes[event.note],
        day=event.day,
        status=line.status.value if line.status else None,
        count=line.count,
        due=line.due.day if line.due else None,
    )


def _cost(part: Part, settings: Settings) -> str | None:
    spending = spending_of(part, settings)
    return f"{amount_text(spending.written)} {spending.written.currency}" if spending else None


def public_snags(ledger: Ledger, sight: Visibility) -> tuple[PublicSnag, ...]:
    """Snags of public notes, where the journal shows snags; else none."""
    if "snags" not in sight.show:
        return ()
    return tuple(_snag(ledger, snag, sight) for snag in ledger.snags if snag.note in sight.notes)


def _snag(ledger: Ledger, snag: Snag, sight: Visibility) -> PublicSnag:
    """A fix told in a private note stays there: friends see the snag as open."""
    task = snag.line.task.text if snag.line.task else None
    listed = ledger.worklist.by_id.get(task) if task else None
    area = snag.line.area.text if snag.line.area else None
    fixed = snag.fixed if snag.fixed_in in sight.notes else None
    return PublicSnag(
        number=snag.number,
        text=snag.line.snag.text,
        day=snag.day,
        note=sight.notes[snag.note],
        area=area or (listed.area if listed else None),
        task=task,
        fixed_on=snag.fixed_on if fixed else None,
        how=fixed.how.text if fixed and fixed.how else None,
    )
