"""Where a picture stands: the bench and the floor before the tool wall, and people.

People are soft dark shapes of round strokes, laid on a drawn picture.
"""

# ruff: noqa: PLR0913, PLR0917
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

from collections.abc import Sequence

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from tests.example import shapes as sh
from tests.example import stage as st
from tests.example import textures as tx
from tests.example.stage import (
    WOOD,
    Frame,
    Stage,
)

LAND, TALL = (3200, 2400), (2400, 3200)

MARGIN_PX = 400

Strokes = Sequence[tuple[float, float, float, float, float]]


def bench(
    size: tuple[int, int],
    eye: st.Vec,
    target: st.Vec,
    seed: str,
    *,
    focal: float = 1.6,
    wall: bool = True,
    depth: float = 70,
    lamp: st.Vec = (-70, -30, 130),
    far: float = 260,
    blur: float = 7,
) -> Stage:
    """A stage with the bench and, behind it, the tool wall."""
    s = Stage(*size, eye=eye, target=target, focal=focal, seed=seed, lamp=lamp, near=20, far=far)
    if wall:
        s.upright(tx.wall(), -170, 170, depth + 22, -25, 145, blur)
    art = tx.wood(3800, 1500, seed)
    tx.stain(art, 2500, 420, 62)
    s.ground(art, -240, 240, -150, depth)
    sh.box(s, Frame((-150, depth, -6)), 300, 2, 6.0, WOOD, 4)
    s.faces.clear()
    s.throws.clear()
    return s


def floor(
    size: tuple[int, int],
    eye: st.Vec,
    target: st.Vec,
    seed: str,
    *,
    focal: float = 1.5,
    depth: float = 330,
    lamp: st.Vec = (-120, -60, 330),
    far: float = 900,
) -> Stage:
    """A stage on the dairy's floor, the tool wall far behind."""
    s = Stage(*size, eye=eye, target=target, focal=focal, seed=seed, lamp=lamp, near=60, far=far)
    s.upright(tx.wall(), -430, 430, depth, -2, 428, 6)
    s.ground(tx.concrete(3600, 1600, seed), -900, 900, -430, depth)
    return s


def limbs(
    image: Image.Image,
    x: float,
    y: float,
    ink: tuple[int, int, int],
    strokes: Strokes,
    soft: float = 24,
) -> None:
    """One garment or one piece of skin, of round strokes (x0, y0, x1, y1, radius)."""
    mask = Image.new("L", (image.width + 2 * MARGIN_PX, image.height + 2 * MARGIN_PX))
    pen = ImageDraw.Draw(mask)
    x, y = x + MARGIN_PX, y + MARGIN_PX
    for x0, y0, x1, y1, r in strokes:
        pen.line((x + x0, y + y0, x + x1, y + y1), fill=255, width=int(2 * r))
        for px, py in ((x0, y0), (x1, y1)):
            pen.ellipse((x + px - r, y + py - r, x + px + r, y + py + r), fill=255)
    body(image, mask, ink, soft)


def body(
    image: Image.Image,
    mask: Image.Image,
    ink: tuple[int, int, int],
    soft: float = 22,
    rim: float = 1.0,
) -> None:
    """Fill a rounded shape: soft outline, dark core, light from the upper right edge."""
    half = mask.resize((mask.width // 2, mask.height // 2))
    round_ = half.filter(ImageFilter.GaussianBlur(soft / 2)).point(
        [max(0, min(255, (i - 118) * 14)) for i in range(256)]
    )
    swell = round_.filter(ImageFilter.GaussianBlur(34))
    fold = round_.filter(ImageFilter.GaussianBlur(9))
    edge = ImageChops.subtract(fold, ImageChops.offset(fold, -14, 16)).point(
        [min(255, int(i * 2.2 * rim)) for i in range(256)]
    )
    broad = ImageChops.subtract(swell, ImageChops.offset(swell, -40, 46)).point(
        [min(255, int(i * 0.9)) for i in range(256)]
    )
    light = ImageChops.add(edge, broad)
    bands = []
    for i, c in enumerate(ink):
        core = Image.new("L", half.size, int(c * 0.50))
        lift = light.point([int(v * (c / 255 + (0.42, 0.36, 0.26)[i]) * 0.62) for v in range(256)])
        bands.append(ImageChops.add(core, lift))
    spare = ((mask.width - image.width) // 2, (mask.height - image.height) // 2)
    inside = (spare[0], spare[1], spare[0] + image.width, spare[1] + image.height)
    filled = Image.merge("RGB", bands).resize(mask.size).crop(inside)
    image.paste(filled, (0, 0), round_.resize(mask.size).crop(inside))
