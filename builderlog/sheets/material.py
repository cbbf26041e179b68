"""What the dossier's chapters are made from: the findings, the files, the choice of pictures."""

from __future__ import annotations

from dataclasses import dataclass

from builderlog.deciding.findings import Findings
from builderlog.deciding.picture_choice import Choice, choose
from builderlog.knowing.ledger import Ledger
from builderlog.sheets.shelf import Shelf, shelf_of


@dataclass(frozen=True, slots=True)
class Material:
    """Found once, handed to every chapter."""

    found: Findings
    shelf: Shelf
    choice: Choice

    @property
    def ledger(self) -> Ledger:
        """The ledger in which it was found."""
        return self.found.ledger


def material(found: Findings) -> Material:
    """The material of these findings."""
    return Material(found, shelf_of(found.ledger), choose(found.ledger, found.records))
