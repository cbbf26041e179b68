"""The hand-made site on disk, with pictures that decode, for tests in a browser."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

from builderlog.deciding.public import PublicLedger
from builderlog.drawing.theme import open_theme
from tests.drawing.made_public import PICTURES, PUBLIC, drawn, filled_store


def write_site(folder: Path, public: PublicLedger = PUBLIC, theme: str = "trammel") -> Path:
    """Puts every file of the site into the folder."""
    store = filled_store()
    for copy in (copy for copies in PICTURES.values() for copy in copies):
        made = io.BytesIO()
        Image.new("RGB", (copy.width_px, copy.height_px), "grey").save(made, "WEBP")
        store.put(copy.key, made.getvalue())
    for path, data in drawn(public, open_theme(theme), store).items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    return folder
