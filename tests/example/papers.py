"""Small invented invoices and papers: one-page PDF files written by hand, one PNG scan.

Every firm, sum and name in them is invented for the example journal.
"""

from __future__ import annotations

import io
import random
from collections.abc import Iterator
from dataclasses import dataclass

from PIL import Image, ImageDraw, ImageFilter

from tests.example import textures as tx


@dataclass(frozen=True)
class Paper:
    """One sheet: where it goes, its head, its lines of text and sum, its foot."""

    where: str
    head: str
    under: str
    lines: tuple[tuple[str, str], ...]
    foot: str


PAPERS = (
    Paper(
        "receipts/2026-01-04-fennick-kit-works.pdf",
        "Fennick Kit Works",
        "Invoice 26-0004, 2026-01-04, R. Aldermark, Kelmsby",
        (
            ("Ostrel Two, tail and wing crate, FKW-0417-A", "9480.00 USD"),
            ("Delivered to the door", "included"),
            ("Total", "9480.00 USD"),
        ),
        "Count first, then sign.",
    ),
    Paper(
        "receipts/2026-01-16-larch-and-pell.pdf",
        "Larch & Pell Coatings",
        "Invoice LP 311, 2026-01-16, R. Aldermark",
        (
            ("Two-part wash primer, batch LP-2207, 2 tins", "112.00 EUR"),
            ("Carriage, this way up", "6.40 EUR"),
            ("Total", "118.40 EUR"),
        ),
        "Keep from frost.",
    ),
    Paper(
        "receipts/2026-02-14-bramstow.pdf",
        "Bramstow Fasteners",
        "Delivery note and invoice 7719, 2026-02-14",
        (
            ("Stabiliser rear web FK-E-0211, cut to drawing", "64.25 USD"),
            ("Rivet AN470AD4-6, half a pound, BF-4416", "to follow"),
            ("Total", "64.25 USD"),
        ),
        "By hand of H. Quillane.",
    ),
    Paper(
        "receipts/2026-03-12-fennick-kit-works.pdf",
        "Fennick Kit Works",
        "Invoice 26-0071, 2026-03-12, R. Aldermark, Kelmsby",
        (
            ("Ostrel Two, fuselage crate, FKW-0417-B", "11260.00 USD"),
            ("Baggage floor panel FK-T-0560", "to follow"),
            ("Total", "11260.00 USD"),
        ),
        "Count first, then sign.",
    ),
    Paper(
        "receipts/2026-04-02-skarn.pdf",
        "Skarn Laserworks",
        "Job 2206, 2026-04-02, customer's own sheet",
        (("Spar doublers, 4 off, 2024-T3, cut to file", "146.00 EUR"), ("Total", "146.00 EUR")),
        "Edges are sharp.",
    ),
    Paper(
        "papers/2025-05-20-kit-evaluation.pdf",
        "Kit evaluation, Ostrel Two",
        "An invented paper for the example journal, 2025-05-20",
        (
            ("Tasks listed for this kit", "see worklist.yaml"),
            ("Maker's column", "as there"),
            ("Left to the builder", "as there"),
        ),
        "An example only: no authority wrote this and it evaluates nothing.",
    ),
    Paper(
        "papers/2026-01-04-bill-of-sale.pdf",
        "Bill of sale",
        "Fennick Kit Works to Runa Aldermark, 2026-01-04",
        (("One kit, Ostrel Two, number FKW-0417", "in two crates"),),
        "An example only.",
    ),
    Paper(
        "papers/2026-03-31-visit-sheet.pdf",
        "Visit sheet",
        "H. Quillane, counsellor, Kelmsby, 2026-03-31",
        (
            ("Looked at: T01, T02, T03", ""),
            ("Four rivets at bulkhead 4 set too low", "to do"),
            ("No grommet, cable hole of bulkhead 5", "to do"),
        ),
        "Two things to put right. An example only: an opinion, no sign-off.",
    ),
)


def escape(text: str) -> str:
    """Text as it stands between the brackets of a PDF."""
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def page_of(paper: Paper) -> str:
    """The drawing instructions of the page, in points from the lower left of an A5 sheet."""
    out = [f"BT /F2 18 Tf 40 540 Td ({escape(paper.head)}) Tj ET", "0.6 w 40 530 m 380 530 l S"]
    out.append(f"BT /F1 10 Tf 40 512 Td ({escape(paper.under)}) Tj ET")
    y = 470
    for what, amount in paper.lines:
        face = "F2" if what == "Total" else "F1"
        if what == "Total":
            out.append(f"0.4 w 40 {y + 14} m 380 {y + 14} l S")
        out.append(f"BT /{face} 10 Tf 40 {y} Td ({escape(what)}) Tj ET")
        out.append(f"BT /{face} 10 Tf 300 {y} Td ({escape(amount)}) Tj ET")
        y -= 22
    out.append(f"BT /F1 9 Tf 40 60 Td ({escape(paper.foot)}) Tj ET")
    return "\n".join(out)


def pdf_of(paper: Paper) -> bytes:
    """A whole PDF file: five objects, their places, and the trailer."""
    page = page_of(paper).encode("ascii")
    objects = (
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        (
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 420 595] /Contents 4 0 R"
            b" /Resources << /Font << /F1 5 0 R /F2 6 0 R >> >> >>"
        ),
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(page), page),
        b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
        b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold >>",
    )
    out, places = bytearray(b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"), []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    for place in places:
        out += b"%010d 00000 n \n" % place
    out += b"trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (
        len(objects) + 1,
        start,
    )
    return bytes(out)


def scan() -> bytes:
    """The upholsterers' invoice, as it came off the kitchen scanner."""
    chance = random.Random("scan")
    art = Image.new("L", (1680, 2200), 244)
    pen = ImageDraw.Draw(art)
    pen.text((160, 170), "Thrum & Veldt", fill=40, font=tx.font(110))
    pen.text((160, 300), "upholstery", fill=70, font=tx.font(64))
    pen.line((160, 400, 1520, 400), fill=60, width=5)
    rows = (
        ("No. 88, 2026-05-27", ""),
        ("R. Aldermark, Kelmsby", ""),
        ("", ""),
        ("2 seat covers, fluted, oxblood hide", "890.00 USD"),
        ("hide offcut, returned", "-"),
        ("", ""),
        ("Total", "890.00 USD"),
    )
    for i, (what, amount) in enumerate(rows):
        pen.text((160, 480 + i * 96), what, fill=50, font=tx.font(54))
        pen.text((1520, 480 + i * 96), amount, fill=50, font=tx.font(54), anchor="ra")
    pen.line((160, 1040, 1520, 1040), fill=90, width=3)
    pen.ellipse((1040, 1400, 1460, 1680), outline=120, width=12)
    pen.text((1250, 1540), "PAID", fill=120, font=tx.font(110), anchor="mm")
    pen.line((0, 1110, 1680, 1098), fill=226, width=8)
    for _ in range(60):
        x, y = chance.random() * 1680, chance.random() * 2200
        pen.point((x, y), fill=120)
    art = art.rotate(0.7, Image.Resampling.BICUBIC, fillcolor=225).filter(
        ImageFilter.GaussianBlur(0.8)
    )
    out = io.BytesIO()
    art.resize((840, 1100), Image.Resampling.LANCZOS).quantize(16).save(out, "PNG", optimize=True)
    return out.getvalue()


def all_papers() -> Iterator[tuple[str, bytes]]:
    """Path and bytes of each."""
    for paper in PAPERS:
        yield paper.where, pdf_of(paper)
    yield "receipts/2026-05-27-thrum-and-veldt.png", scan()
