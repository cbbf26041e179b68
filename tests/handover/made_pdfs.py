"""Small PDFs with attached files, made by another program than ours."""

from __future__ import annotations

import io
from collections.abc import Mapping

from pypdf import PdfWriter


def pdf_with(files: Mapping[str, bytes]) -> bytes:
    """A PDF of one blank page with these files attached."""
    writer = PdfWriter()
    writer.add_blank_page(width=72, height=72)
    for name, data in files.items():
        writer.add_attachment(name, data)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
