"""The last chapter: room for remarks and signatures, empty."""

from __future__ import annotations

from collections.abc import Iterator

from builderlog.knowing.settings import Role
from builderlog.sheets.chapter import Blanks, Chapter, Paragraph, Section
from builderlog.sheets.material import Material

REMARK_LINES = 7  # all that goes on one page with the lines for signatures
LOOKED = ("Name, and in what capacity", "Date and place", "Signature")
EMPTY = (
    "This page is left empty for those who look at the record. A signature here says no more than "
    "who looked at it, where and on which day."
)


def remarks(held: Material) -> Iterator[Chapter]:
    """Lines for each builder and for two who look at the record, and room for remarks."""
    people = held.ledger.settings.people
    builders = [each.full_name or each.name for each in people if each.role is Role.BUILDER]
    signed = tuple(f"Signature of {name}" for name in builders)
    yield Chapter(
        "remarks",
        "Remarks and signatures",
        (
            Paragraph(EMPTY),
            Section("remarks-remarks", "Remarks", (Blanks(remarks=REMARK_LINES),)),
            Section("remarks-looked", "Looked at by", (Blanks((*LOOKED, *LOOKED)),)),
            Section(
                "remarks-builders",
                "Shown by" if builders else "Shown by the builder",
                (Blanks(("Date and place", *(signed or ("Name", "Signature")))),),
            ),
        ),
    )
