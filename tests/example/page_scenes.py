"""What is drawn by hand: the page of the notebook, the sketch of the fence."""

# ruff: noqa: C901, PLR0913, PLR0915, PLR0917
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import random

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from tests.example import textures as tx
from tests.example.sets import TALL


def edge_sketch() -> Image.Image:
    """A pencil sketch with the fence and the row of holes; few colours, for a PNG."""
    art = Image.new("RGB", (2800, 1800), (244, 239, 225))
    pen = ImageDraw.Draw(art)
    chance = random.Random("sketch")
    for x in range(0, 2800, 100):
        pen.line((x, 0, x, 1800), fill=(214, 222, 224), width=3)
    for y in range(0, 1800, 100):
        pen.line((0, y, 2800, y), fill=(214, 222, 224), width=3)
    ink, red = (48, 52, 66), (168, 48, 40)

    def stroke(
        x0: float,
        y0: float,
        x1: float,
        y1: float,
        wide: int = 9,
        colour: tuple[int, int, int] = ink,
    ) -> None:
        for _ in range(2):
            pts = [
                (
                    x0 + (x1 - x0) * i / 12 + chance.uniform(-2.5, 2.5),
                    y0 + (y1 - y0) * i / 12 + chance.uniform(-2.5, 2.5),
                )
                for i in range(13)
            ]
            pen.line(pts, fill=colour, width=wide, joint="curve")

    for a, b in (
        ((300, 560), (2500, 560)),
        ((300, 1180), (2500, 1180)),
        ((300, 560), (300, 1180)),
        ((2500, 560), (2500, 1180)),
    ):
        stroke(*a, *b)
    for i in range(9):
        x = 480 + i * 225
        pen.ellipse((x - 42, 1008, x + 42, 1092), outline=ink, width=9)
        stroke(x - 66, 1050, x + 66, 1050, 4)
        stroke(x, 984, x, 1116, 4)
    for i in range(54):
        stroke(320 + i * 41, 930, 350 + i * 41, 890, 4, (120, 118, 112))
    stroke(300, 880, 2500, 880, 11)
    stroke(300, 940, 2500, 940, 11)
    for x in (760, 1880):
        pen.rectangle((x, 800, x + 90, 1240), outline=ink, width=9)
        pen.ellipse((x + 18, 1250, x + 72, 1304), outline=ink, width=9)
    stroke(2620, 1050, 2620, 1180, 7, red)
    stroke(2520, 1050, 2700, 1050, 4, red)
    stroke(2520, 1180, 2700, 1180, 4, red)
    write = tx.font(92)
    pen.text((2290, 1230), ">= 2 x dia.", fill=red, font=write)
    pen.text((330, 690), "web FK-E-0211", fill=ink, font=write)
    pen.text((1020, 770), "steel fence, clamped", fill=ink, font=write)
    stroke(1400, 1500, 1180, 1110, 6)
    pen.text((1240, 1510), "every hole 3.2, pitch 15", fill=ink, font=write)
    pen.text((300, 180), "Rear web, second try", fill=ink, font=tx.font(140))
    stroke(300, 350, 1720, 346, 8)
    return art


def notebook_page() -> Image.Image:
    """A lined page with the day's times, a sketch of the stabiliser and a thumb-print."""
    w, h = TALL
    art = tx.wood(w, h, "desk", (108, 78, 50), 5, upright=False).resize((w, h))
    page = Image.new("RGBA", (1960, 2760), (240, 233, 214, 255))
    pen = ImageDraw.Draw(page)
    for i in range(27):
        pen.line((0, 260 + i * 92, 1960, 260 + i * 92), fill=(176, 196, 206), width=4)
    pen.line((250, 0, 250, 2760), fill=(214, 140, 132), width=4)
    for i in range(28):
        y = 60 + i * 98
        pen.ellipse((50, y, 98, y + 48), fill=(70, 50, 34))
    hand(page)
    chance = random.Random("print")
    print_ = Image.new("L", page.size)
    ink = ImageDraw.Draw(print_)
    for i in range(12):
        r = 16 + i * 12
        ink.ellipse(
            (1560 - r * 0.8, 2250 - r * 1.15, 1560 + r * 0.8, 2250 + r * 1.15),
            outline=150 + chance.randint(-40, 40),
            width=6,
        )
    print_ = print_.filter(ImageFilter.GaussianBlur(3))
    page.paste((116, 124, 56), (0, 0), print_)
    light = (
        Image.linear_gradient("L")
        .rotate(90)
        .resize(page.size)
        .point([232 + i // 12 for i in range(256)])
    )
    shaded = ImageChops.multiply(page.convert("RGB"), Image.merge("RGB", [light] * 3)).convert(
        "RGBA"
    )
    shaded.putalpha(page.getchannel("A"))
    turned = shaded.rotate(-2.2, Image.Resampling.BICUBIC, expand=True)
    shadow = turned.getchannel("A")
    pad = Image.new("L", (w, h))
    pad.paste(shadow, (200, 220))
    art = Image.composite(
        Image.new("RGB", (w, h), (16, 10, 6)),
        art,
        pad.filter(ImageFilter.GaussianBlur(34)).point([int(i * 0.75) for i in range(256)]),
    )
    art.paste(turned.convert("RGB"), (170, 170), shadow)
    pencil = ImageDraw.Draw(art)
    pencil.line((1500, 3080, 2290, 2560), fill=(190, 150, 44), width=44)
    pencil.line((1500, 3068, 2290, 2548), fill=(226, 190, 84), width=12)
    pencil.polygon([(1482, 3062), (1518, 3098), (1430, 3130)], fill=(214, 178, 130))
    pencil.polygon([(1450, 3102), (1462, 3114), (1430, 3130)], fill=(40, 38, 40))
    return art


def hand(page: Image.Image) -> None:
    """Writing that leans and wavers, as of one who sits on a milk crate."""
    chance = random.Random("hand")
    lines = (
        "Sat 7 Feb - no laptop, Pim has it",
        "",
        "10.05  spars of the stabiliser on bench",
        "       lay out, square to 0.5 mm",
        "11.20  centre ribs 1+2 held (clecos)",
        "12.05  tea",
        "13.10  rudder T.E. over the steel bar",
        "       radius card: OK  OK  hm  OK",
        "14.10  stop. cold. 14 deg in here",
        "",
        "= 2h stab, 1h rudder, 15m sweeping",
    )
    write = tx.font(80)
    for i, text in enumerate(lines):
        x = 300.0
        for letter in text:
            tile = Image.new("L", (120, 140))
            ImageDraw.Draw(tile).text((20, 20), letter, fill=255, font=write)
            tile = tile.transform(
                tile.size,
                Image.Transform.AFFINE,
                (1, 0.24, -16, chance.uniform(-0.02, 0.02), 1, 0),
                Image.Resampling.BICUBIC,
            )
            tile = tile.rotate(chance.uniform(-5, 5), Image.Resampling.BICUBIC)
            page.paste((38, 48, 92), (int(x), int(166 + i * 92 + chance.uniform(-6, 6))), tile)
            x += write.getlength(letter) * 1.06 + chance.uniform(-2, 2)
    pen = ImageDraw.Draw(page)
    ink = (38, 48, 92)
    pen.line((300, 1230, 1270, 1222), fill=ink, width=6)
    outline = [(420, 1640), (1640, 1500), (1660, 1800), (430, 2010), (420, 1640)]
    pen.line(outline, fill=ink, width=7)
    pen.line((424, 1770, 1648, 1610), fill=ink, width=6)
    for k in (0.0, 0.25, 0.5, 0.75, 1.0):
        pen.line(
            (422 + 1222 * k, 1640 - 140 * k, 430 + 1228 * k, 2010 - 210 * k), fill=ink, width=5
        )
    pen.line((420, 2100, 1660, 1890), fill=ink, width=4)
    for x, y in ((420, 2100), (1660, 1890)):
        pen.line((x - 20, y + 24, x + 20, y - 24), fill=ink, width=6)
    pen.text((930, 2020), "2260", fill=ink, font=tx.font(84))
    pen.text((700, 2300), "ask Hedda: rivets -5 or -6 ?", fill=(150, 44, 40), font=tx.font(80))
