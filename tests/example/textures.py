"""Flat art for the stage: bench tops, walls with tools, paper, a steel rule."""

# ruff: noqa: D103, C901, PLR0913, PLR0915
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import math
import random
from functools import cache

from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont

Ink = tuple[int, int, int]


def font(size: float) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    """Pillow's own face, so that no font of the machine is needed."""
    return ImageFont.load_default(size)


def wood(
    w: int, h: int, seed: str, base: Ink = (146, 106, 66), boards: int = 6, *, upright: bool = False
) -> Image.Image:
    """Planks with grain and a few knots and scratches."""
    chance = random.Random("wood " + seed)
    art = Image.new("RGB", (w, h), base)
    pen = ImageDraw.Draw(art, "RGBA")
    tall = h / boards
    for b in range(boards):
        top, k = b * tall, chance.uniform(0.86, 1.10)
        pen.rectangle((0, top, w, top + tall), fill=(*(int(c * k) for c in base), 255))
        drift = chance.uniform(0, 6.28)
        for _ in range(int(tall * 0.9)):
            y, tone, phase = (
                top + chance.random() * tall,
                chance.uniform(-34, 24),
                drift + chance.uniform(-0.25, 0.25),
            )
            ink = tuple(max(0, min(255, int(c * k + tone))) for c in base)
            swing, wave = chance.uniform(1, 5), chance.uniform(0.0016, 0.003)
            line = [(x, y + swing * math.sin(x * wave + phase)) for x in range(0, w + 40, 40)]
            pen.line(line, fill=(*ink, chance.randint(40, 120)), width=chance.choice((1, 1, 2, 3)))
        for _ in range(chance.randint(0, 2)):
            x, y, r = (
                chance.random() * w,
                top + chance.uniform(0.25, 0.75) * tall,
                chance.uniform(5, 12),
            )
            for i in range(6, 0, -1):
                knot = tuple(int(c * (0.45 + 0.08 * i)) for c in base)
                pen.ellipse(
                    (x - r * i / 3.2, y - r * i / 7, x + r * i / 3.2, y + r * i / 7),
                    fill=(*knot, 120),
                )
        pen.line((0, top, w, top), fill=(30, 20, 12, 220), width=4)
        pen.line((0, top + 4, w, top + 4), fill=(255, 230, 190, 50), width=2)
    for _ in range(90):
        x, y, a, r = (
            chance.random() * w,
            chance.random() * h,
            chance.uniform(0, 3.14),
            chance.uniform(10, 120),
        )
        ink = chance.choice(((40, 26, 16, 70), (225, 200, 160, 60)))
        pen.line(
            (x, y, x + r * math.cos(a), y + r * math.sin(a) * 0.5),
            fill=ink,
            width=chance.choice((1, 2)),
        )
    for _ in range(5):
        x, y, r = chance.random() * w, chance.random() * h, chance.uniform(15, 60)
        pen.ellipse((x - r, y - r * 0.8, x + r, y + r * 0.8), fill=(40, 28, 20, 26))
    art = art.filter(ImageFilter.GaussianBlur(0.9))
    return art.transpose(Image.Transpose.ROTATE_90) if upright else art


def stain(art: Image.Image, x: float, y: float, r: float) -> None:
    """The ring of a mug."""
    pen = ImageDraw.Draw(art, "RGBA")
    for i in range(3):
        pen.ellipse(
            (x - r - i, y - r - i, x + r + i, y + r + i), outline=(60, 36, 16, 70), width=5 - i
        )


def concrete(w: int, h: int, seed: str, base: Ink = (142, 137, 129)) -> Image.Image:
    """A dairy's floor: worn, stained, jointed."""
    chance = random.Random("concrete " + seed)
    art = Image.new("RGB", (w, h), base)
    for cell, amount in ((260, 14), (60, 9), (6, 9), (2, 12)):
        size = (max(2, w // cell), max(2, h // cell))
        noise = Image.frombytes("L", size, chance.randbytes(size[0] * size[1])).resize(
            (w, h), Image.Resampling.BICUBIC
        )
        noise = noise.point([128 + (i - 128) * amount // 128 for i in range(256)])
        art = ImageChops.add(art, Image.merge("RGB", [noise] * 3), 1, -128)
    pen = ImageDraw.Draw(art, "RGBA")
    for i in range(1, 4):
        x = w * i / 4
        pen.line((x, 0, x, h), fill=(50, 48, 46, 160), width=5)
        pen.line((x + 5, 0, x + 5, h), fill=(190, 186, 180, 60), width=2)
    pen.line((0, h * 0.55, w, h * 0.55), fill=(50, 48, 46, 160), width=5)
    for _ in range(14):
        x, y, r = chance.random() * w, chance.random() * h, chance.uniform(20, 130)
        pen.ellipse((x - r, y - r, x + r, y + r), fill=(50, 44, 40, 18))
    return art.filter(ImageFilter.GaussianBlur(1))


@cache
def wall(seed: str = "wall") -> Image.Image:
    """The tool wall: whitewashed brick, a board with tools and their shadows, a shelf."""
    w, h = 2600, 1300
    chance = random.Random("tools " + seed)
    art = Image.new("RGB", (w, h), (172, 164, 150))
    pen = ImageDraw.Draw(art, "RGBA")
    for row in range(h // 50 + 1):
        for col in range(-1, w // 130 + 1):
            x, y = col * 130 + (row % 2) * 65, row * 50
            k = chance.uniform(0.88, 1.06)
            pen.rectangle(
                (x, y, x + 124, y + 45), fill=(int(186 * k), int(178 * k), int(163 * k), 255)
            )
            pen.line((x, y + 46, x + 124, y + 46), fill=(110, 102, 92, 120), width=3)
    art = art.filter(ImageFilter.GaussianBlur(2))
    art.paste(wood(1560, 820, "board " + seed, (158, 122, 80), 5), (380, 180))
    pen = ImageDraw.Draw(art, "RGBA")
    for x in range(410, 1920, 34):
        for y in range(210, 990, 34):
            pen.ellipse((x - 3, y - 3, x + 3, y + 3), fill=(60, 42, 26, 190))
    layer = Image.new("RGBA", (w, h))
    tools(ImageDraw.Draw(layer), chance)
    shadow = Image.new("RGBA", (w, h))
    shadow.paste((20, 12, 6, 150), (14, 18), layer.getchannel("A"))
    art = Image.alpha_composite(art.convert("RGBA"), shadow.filter(ImageFilter.GaussianBlur(7)))
    return Image.alpha_composite(art, layer).convert("RGB").filter(ImageFilter.GaussianBlur(0.8))


def tools(pen: ImageDraw.ImageDraw, chance: random.Random) -> None:
    steel, dark, ash = (176, 180, 184, 255), (58, 58, 62, 255), (192, 148, 92, 255)
    red, blue, yellow = (170, 44, 34, 255), (44, 78, 128, 255), (214, 168, 44, 255)
    for x, head, tall in ((470, 96, 330), (620, 74, 290)):  # hammers
        pen.rounded_rectangle((x - 13, 300, x + 13, 300 + tall), 10, fill=ash)
        pen.rounded_rectangle((x - head, 268, x + head * 0.55, 318), 8, fill=dark)
        pen.polygon([(x + head * 0.5, 272), (x + head, 290), (x + head * 0.5, 314)], fill=dark)
    for i, ink in enumerate((red, yellow, blue)):  # snips
        x = 760 + i * 120
        pen.polygon([(x, 250), (x + 18, 250), (x + 26, 400), (x - 4, 400)], fill=steel)
        pen.ellipse((x - 10, 390, x + 34, 434), fill=dark)
        pen.line((x + 4, 425, x - 26, 610), fill=ink, width=26)
        pen.line((x + 20, 425, x + 50, 610), fill=ink, width=26)
    pen.polygon(
        [(1150, 260), (1180, 260), (1180, 560), (1390, 560), (1390, 590), (1150, 590)], fill=steel
    )  # square
    for i in range(7):  # screwdrivers and files
        x = 1250 + i * 62
        ink = chance.choice((red, blue, yellow, ash, dark))
        pen.rounded_rectangle((x - 13, 250, x + 13, 360), 12, fill=ink)
        pen.rectangle((x - 4, 358, x + 4, 360 + 60 + 18 * (i % 4)), fill=steel)
    for i in range(6):  # spanners, getting smaller
        x, tall, r = 1450 + i * 74, 290 - i * 26, 30 - i * 3
        pen.rectangle((x - 9, 660, x + 9, 660 + tall), fill=steel)
        pen.ellipse((x - r, 636 - r, x + r, 636 + r), fill=steel)
        pen.polygon(
            [
                (x - r * 0.5, 636 - r - 2),
                (x + r * 0.5, 636 - r - 2),
                (x + r * 0.35, 640),
                (x - r * 0.35, 640),
            ],
            fill=(120, 88, 56, 255),
        )
        pen.ellipse((x - r * 0.8, 655 + tall, x + r * 0.8, 655 + tall + r * 1.6), fill=steel)
    for i in range(4):  # clamps
        x = 460 + i * 120
        pen.rectangle((x - 8, 690, x + 8, 960), fill=steel)
        pen.rectangle((x - 8, 690, x + 70, 712), fill=dark)
        pen.rectangle((x - 4, 830 + i * 14, x + 72, 856 + i * 14), fill=red)
        pen.rounded_rectangle((x + 50, 850 + i * 14, x + 66, 940 + i * 14), 6, fill=ash)
    pen.arc((950, 690, 1250, 990), 0, 360, fill=(52, 66, 92, 255), width=40)  # air hose
    pen.arc((985, 725, 1215, 955), 0, 360, fill=(66, 82, 112, 255), width=30)
    pen.rectangle((1090, 660, 1112, 740), fill=dark)
    pen.rectangle((2030, 520, 2520, 546), fill=(128, 92, 56, 255))  # shelf with tins
    x = 2050
    while x < 2480:
        wide, tall, ink = (
            chance.randint(44, 84),
            chance.randint(80, 170),
            chance.choice((red, blue, yellow, steel, (90, 120, 80, 255))),
        )
        pen.rounded_rectangle((x, 520 - tall, x + wide, 520), 6, fill=ink)
        pen.rectangle((x, 520 - tall * 0.7, x + wide, 520 - tall * 0.3), fill=(226, 218, 198, 255))
        x += wide + chance.randint(6, 22)
    pen.rectangle((60, 260, 330, 640), fill=(232, 226, 210, 255))  # wall calendar
    pen.rectangle((60, 260, 330, 400), fill=(110, 140, 152, 255))
    pen.polygon([(60, 400), (140, 320), (210, 370), (270, 310), (330, 400)], fill=(70, 96, 84, 255))
    for r in range(5):
        for c in range(7):
            pen.rectangle(
                (76 + c * 35, 430 + r * 38, 100 + c * 35, 456 + r * 38),
                outline=(150, 144, 130, 255),
                width=2,
            )
    pen.line((76, 436, 280, 520), fill=(170, 44, 34, 160), width=4)


def rule(length_mm: int) -> Image.Image:
    """A steel rule with millimetres, halves and tens."""
    k = 14
    w, h = length_mm * k + 2 * k, 250
    art = Image.new("RGB", (w, h), (196, 200, 203))
    chance = random.Random("rule")
    pen = ImageDraw.Draw(art)
    for y in range(h):
        tone = 190 + int(26 * math.sin(y / 40)) + chance.randint(-5, 5)
        pen.line((0, y, w, y), fill=(tone, tone + 2, tone + 4))
    for half in range(length_mm * 2 + 1):
        x = k + half * k / 2
        mm = half / 2
        tall = 92 if mm % 10 == 0 else 72 if mm % 5 == 0 else 52 if half % 2 == 0 else 30
        pen.line((x, 0, x, tall), fill=(24, 24, 26), width=3 if half % 2 == 0 else 2)
        if mm % 10 == 0:
            pen.text((x, 100), str(int(mm)), fill=(24, 24, 26), font=font(54), anchor="mt")
    return art.convert("RGBA")


def paper_plan(w: int, h: int) -> Image.Image:
    """A drawing sheet with a rib, its dimensions and a title block."""
    art = Image.new("RGBA", (w, h), (233, 229, 216, 255))
    pen = ImageDraw.Draw(art)
    ink = (52, 66, 96)
    pen.rectangle((30, 30, w - 30, h - 30), outline=ink, width=4)
    pen.rectangle((w * 0.66, h * 0.80, w - 30, h - 30), outline=ink, width=3)
    for i in range(3):
        pen.line(
            (w * 0.66, h * (0.84 + 0.04 * i), w - 30, h * (0.84 + 0.04 * i)), fill=ink, width=2
        )
    for row, scale in ((0.28, 0.8), (0.6, 0.62)):
        points = []
        for i in range(61):
            t = i / 30
            x = t if t <= 1 else 2 - t
            y = 0.6 * (
                0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4
            )
            points.append((w * 0.1 + x * w * scale, h * row - (y if t <= 1 else -y) * w * scale))
        pen.line(points, fill=ink, width=4)
        for x, r in ((0.2, 0.035), (0.4, 0.045), (0.6, 0.035)):
            cx, cy, rr = w * 0.1 + x * w * scale, h * row, r * w * scale
            pen.ellipse((cx - rr, cy - rr, cx + rr, cy + rr), outline=ink, width=3)
            pen.line((cx - rr * 1.4, cy, cx + rr * 1.4, cy), fill=(120, 128, 150), width=1)
            pen.line((cx, cy - rr * 1.4, cx, cy + rr * 1.4), fill=(120, 128, 150), width=1)
        pen.line(
            (w * 0.1, h * (row + 0.13), w * (0.1 + scale), h * (row + 0.13)), fill=ink, width=2
        )
    for i in (1, 2):
        pen.line((w * i / 3, 0, w * i / 3, h), fill=(200, 194, 178), width=3)
    return art
