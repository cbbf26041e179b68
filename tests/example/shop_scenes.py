"""The large pieces: tail-cone, wings, the whole shop. One function, one picture."""

# mypy: disable-error-code="misc"
# ruff: noqa: C901, D103, PLR0912, PLR0913, PLR0915, PLR0917
# A lambda that keeps a loop's value as a default has no type that mypy can name.
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import math

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from tests.example import shapes as sh
from tests.example import stage as st
from tests.example.sets import LAND, TALL, bench, floor, limbs
from tests.example.stage import (
    ALU,
    ALU_DULL,
    COPPER,
    PLY,
    STEEL,
    WOOD,
    Frame,
    Stage,
    Stuff,
)


def bulkhead(
    s: Stage,
    f: Frame,
    w: float,
    h: float,
    stuff: Stuff = ALU,
    inner: float = 0.68,
    *,
    clecos: bool = False,
) -> None:
    """A ring of the fuselage standing in the frame's x-z, flange towards +y."""

    def rim(k: float) -> list[st.Point]:
        pts = []
        for i in range(48):
            a = 2 * math.pi * i / 48
            c, d = math.cos(a), math.sin(a)
            p = 0.55
            pts.append(
                (
                    k * w * abs(c) ** p * (1 if c > 0 else -1),
                    h * k * abs(d) ** p * (1 if d > 0 else -1),
                )
            )
        return pts

    out, cut = rim(1.0), rim(inner)
    s.plate(lambda u, v: f(u, 0, v), stuff, out, [cut], cells=(22, 18))
    s.patch(
        lambda u, v: f(out[round(u * 48) % 48][0], 3.0 * v, out[round(u * 48) % 48][1]),
        48,
        1,
        stuff,
    )
    s.patch(
        lambda u, v: f(cut[round(u * 48) % 48][0], 1.4 * v, cut[round(u * 48) % 48][1]),
        48,
        1,
        stuff,
    )
    if clecos:
        for i in range(0, 48, 4):
            x, z = out[i]
            n = st.unit(st.add(st.mul(f.ex, x / w), st.mul(f.ez, z / h)))
            sh.cleco(s, f(x, 1.5, z), n, 2.2, COPPER if i % 8 else STEEL)


def tail_cone() -> Image.Image:
    """Bulkheads, stringers and lower skins on the trestles, seen from the tail."""
    s = floor(LAND, (-150, -245, 168), (6, 20, 72), "cone", focal=1.65, lamp=(-140, -160, 320))
    f = Frame((-30, -130, 92)).turned("z", -14)
    ys = (0, 62, 124, 186, 248)
    size = [(17 + 8.2 * i, 20 + 8.6 * i) for i in range(5)]
    for i in (1, 3):
        w, h = size[i]
        for side in (0, 1):
            line = (
                [(-w - 16, -92), (w + 16, -92), (w + 16, 6), (w + 1, 6)]
                + [
                    (w * math.cos(a) * 1.03, -h * 1.03 * abs(math.sin(a)) ** 0.6)
                    for a in [0.1 + j * 0.147 for j in range(21)]
                ]
                + [(-w - 1, 6), (-w - 16, 6)]
            )
            s.layer = 10 - 2 * i
            s.plate(lambda u, v, y=ys[i] + 5 + 2 * side: f(u, y, v), PLY, line, cells=(10, 10))
    for i in range(4, -1, -1):
        w, h = size[i]
        s.layer = 11 - 2 * i
        if i < 4:
            w2, h2 = size[i + 1]

            def skin(
                u: float,
                v: float,
                w: float = w,
                h: float = h,
                w2: float = w2,
                h2: float = h2,
                i: int = i,
            ) -> st.Vec:
                a = math.pi + math.pi * u
                k, m = w + (w2 - w) * v, h + (h2 - h) * v
                c, d = math.cos(a), math.sin(a)
                return f(
                    k * abs(c) ** 0.55 * (1 if c > 0 else -1), ys[i] + 62 * v, -m * abs(d) ** 0.55
                )

            s.layer = 10 - 2 * i
            s.patch(skin, 40, 12, Stuff((0.84, 0.87, 0.91), 0.6, 0.5))
            s.layer = 11 - 2 * i
            for j in range(13):
                for u in (0.03, 0.2):
                    at = skin(u, j / 12)
                    n = (-0.9, -0.3, 0.1) if u < 0.1 else (-0.9, -0.2, -0.2)
                    if j % 3 == 0:
                        sh.cleco(s, at, n, 2.0, COPPER if j % 2 else STEEL)
                    else:
                        sh.disc(s, st.add(at, st.mul(n, 0.1)), n, 0.4, (0.12, 0.11, 0.1), push=2)
            for sx in (-0.55, 0.55, -1.0, 1.0):
                up = 0.98 if abs(sx) < 0.9 else 0.35
                a = f(sx * w * 0.97, ys[i], up * h)
                b = f(sx * w2 * 0.97, ys[i + 1], up * h2)
                sh.rod(s, a, b, 1.1, ALU, n=6)
        s.layer = 12 - 2 * i
        bulkhead(s, f.moved(0, ys[i], 0), w, h, ALU, 0.70, clecos=i < 2)
    s.layer = 20
    return s.render(0.5, 1.6)


def inside_the_cone() -> Image.Image:
    """Looking aft through the rings; a small person with a lamp lies far inside."""
    s = Stage(
        *TALL,
        eye=(0, -40, 8),
        target=(0, 200, -6),
        focal=1.15,
        seed="inside",
        lamp=(22, 120, 18),
        near=20,
        far=420,
    )
    s.casts = False
    ys = (0, 55, 110, 165, 220, 275)
    size = [(50 - 4.6 * i, 56 - 5.0 * i) for i in range(7)]

    def lit(y: float) -> float:
        return 0.35 + 1.0 * math.exp(-(((y - 135) / 75) ** 2))

    for i in range(5, -1, -1):
        w, h = size[i]
        w2, h2 = size[i + 1]

        def skin(
            u: float,
            v: float,
            w: float = w,
            h: float = h,
            w2: float = w2,
            h2: float = h2,
            i: int = i,
        ) -> st.Vec:
            a = 2 * math.pi * u
            k, m = w + (w2 - w) * v, h + (h2 - h) * v
            c, d = math.cos(a), math.sin(a)
            return (
                k * abs(c) ** 0.6 * (1 if c > 0 else -1),
                ys[i] + 55 * v,
                m * abs(d) ** 0.6 * (1 if d > 0 else -1),
            )

        s.layer = 30 - 3 * i
        s.dim = lit(ys[i] + 30) * 0.85
        s.patch(skin, 60, 10, Stuff((0.58, 0.62, 0.40), 0.12, 0.4))
        s.layer = 31 - 3 * i
        for j in range(14):
            for u in (0.06, 0.15, 0.35, 0.44, 0.62, 0.88):
                at = skin(u, (j + 0.5) / 14)
                n = st.unit((-at[0], 0, -at[2]))
                s.dim = lit(at[1])
                sh.rivet(s, st.add(at, st.mul(n, 0.2)), n, 0.55)
        for u in (0.10, 0.25, 0.40, 0.60, 0.75, 0.90):
            a, b = skin(u, 0.0), skin(u, 1.0)
            inward = st.unit((-a[0], 0, -a[2]))
            sh.rod(
                s,
                st.add(a, st.mul(inward, 1.4)),
                st.add(b, st.mul(inward, 1.2)),
                1.3,
                Stuff((0.60, 0.63, 0.38), 0.1, 0.4),
                n=6,
            )
        s.layer = 32 - 3 * i
        s.dim = lit(ys[i]) * 0.9
        bulkhead(s, Frame((0, ys[i], 0)), w, h, Stuff((0.64, 0.67, 0.42), 0.14, 0.4), 0.80)
    s.dim = 1.0
    s.layer = 0
    s.flat([(-40, 330, -40), (40, 330, -40), (40, 330, 40), (-40, 330, 40)], (0.02, 0.02, 0.02))
    s.faces.sort(key=lambda f: (f.layer, -f.depth))
    cut = [f for f in s.faces if f.layer <= 26]
    rest = [f for f in s.faces if f.layer > 26]
    s.faces = cut
    drawn = s.render(0.0)
    lying(drawn, s)
    s.image = drawn
    s.pen = ImageDraw.Draw(s.image)
    s.faces = rest
    return s.render(0.0)


def lying(image: Image.Image, s: Stage) -> None:
    """Jorun, lying on her side on cushions, seen from her boots; torch on her head."""
    x, y = s.see((0, 100, -15))
    k = s.scale_px / 140 * 0.118

    def shape(
        ink: tuple[int, int, int], strokes: list[tuple[float, float, float, float, float]]
    ) -> None:
        limbs(
            image, x, y, ink, [(a * k, b * k, c * k, d * k, r * k) for a, b, c, d, r in strokes], 14
        )

    shape((150, 60, 48), [(-150, 190, 130, 200, 46), (-120, 250, 140, 250, 40)])
    shape((54, 70, 100), [(-30, 110, -70, 190, 70), (40, 110, 60, 190, 66)])
    shape((60, 48, 40), [(-85, 205, -95, 150, 40), (70, 205, 84, 150, 40)])
    shape((190, 120, 50), [(0, 20, 0, 100, 86), (60, -20, 160, -80, 36), (-60, 0, -110, 70, 34)])
    shape((206, 156, 124), [(165, -85, 190, -110, 24), (0, -90, 0, -80, 50)])
    shape((70, 44, 28), [(-6, -116, 8, -112, 50), (-40, -90, -52, -40, 22)])
    shape((40, 70, 120), [(-58, -92, -58, -80, 22), (56, -92, 56, -80, 22)])
    glow = Image.new("RGB", image.size)
    pen = ImageDraw.Draw(glow)
    cx, cy = x + 14 * k, y - 138 * k
    pen.ellipse((cx - 30 * k, cy - 26 * k, cx + 30 * k, cy + 26 * k), fill=(255, 240, 200))
    wide = glow.filter(ImageFilter.GaussianBlur(60))
    tight = glow.filter(ImageFilter.GaussianBlur(10))
    image.paste(ImageChops.screen(ImageChops.screen(image, wide), tight))


def spar() -> Image.Image:
    """The main spar: lower row riveted, upper row in clecos, doublers at the root."""
    s = bench(
        LAND, (-52, -46, 34), (6, 3, 5), "spar", focal=1.75, depth=56, far=220, lamp=(-50, -50, 90)
    )
    f = Frame((-62, -2, 1.5)).turned("z", -9)
    long, tall = 176.0, 15.0
    s.sheet(lambda u, v: f(u * long, 0, tall * v), 110, 10, Stuff((0.84, 0.86, 0.89), 0.36, 0.5))
    s.layer = 1
    for z0, z1 in ((0.0, 3.0), (12.0, 15.0)):
        s.patch(lambda u, v, z0=z0, z1=z1: f(u * long, -0.9, z0 + (z1 - z0) * v), 110, 3, ALU)
        s.patch(lambda u, v, z1=z1: f(u * long, -0.9 + 0.9 * v, z1), 110, 1, ALU)
    s.patch(lambda u, v: f(u * long, -4.2 + 3.4 * v, 15.05), 110, 3, ALU)
    s.layer = 2
    s.patch(
        lambda u, v: f(4 + u * 50, -1.5, 0.4 + 2.3 * v), 40, 2, Stuff((0.74, 0.76, 0.80), 0.5, 0.4)
    )
    s.patch(
        lambda u, v: f(4 + u * 50, -1.5, 12.3 + 2.3 * v), 40, 2, Stuff((0.74, 0.76, 0.80), 0.5, 0.4)
    )
    s.layer = 3
    for i in range(70):
        x = 2 + i * 2.5
        back = -1.55 if x < 54 else -0.95
        sh.rivet(s, f(x, back, 0.95 if i % 2 else 2.05), st.mul(f.ey, -1), 0.40)
        if i % 2 == 0 and i < 44:
            sh.cleco(
                s,
                f(x, back, 13.5),
                st.unit(st.sub((0, 0, 0), f.ey)),
                1.3,
                COPPER if i % 4 else STEEL,
            )
        else:
            sh.disc(s, f(x, back, 13.4), st.mul(f.ey, -1), 0.2, (0.12, 0.1, 0.09), push=0.6)
    for i in range(8):
        x = 60 + i * 14
        sh.rivet(s, f(x, -0.05, 5.2), st.mul(f.ey, -1), 0.35)
        sh.rivet(s, f(x, -0.05, 7.4), st.mul(f.ey, -1), 0.35)
        sh.rivet(s, f(x, -0.05, 9.6), st.mul(f.ey, -1), 0.35)
    s.layer = 4
    sq = Frame((-16, -28, 0)).turned("z", 16)
    yoke = Stuff((0.62, 0.16, 0.12), 0.08, 0.5)
    rod_ = Frame(sq(0, 0, 2), sq.ey, sq.ez, sq.ex)
    sh.lathe(
        s,
        rod_,
        [(0, 0), (2.0, 0.1), (2.2, 1), (2.2, 13), (1.6, 14)],
        Stuff((0.70, 0.71, 0.73), 0.6, 0.7),
        26,
    )
    c = [
        (sq(14 + 4.4 * math.cos(a) + 3.2, 4.4 * math.sin(a), 2))
        for a in [2.6 + i * 0.25 for i in range(16)]
    ]
    sh.hose(s, c, 1.0, yoke, 12)
    for _ in range(16):
        a = s.chance.uniform(0, 6.28)
        at = (s.chance.uniform(-46, -30), s.chance.uniform(-26, -17), 0.35)
        sh.rod(s, at, st.add(at, (0.9 * math.cos(a), 0.9 * math.sin(a), 0)), 0.2, ALU, n=8)
        sh.ball(s, at, 0.33, ALU, n=8)
    return s.render(0.6, 1.0)


def wing_bones(s: Stage, f: Frame, n: int, pitch: float, chord: float, *, base: int = 0) -> None:
    """Ribs on a main and a rear spar, lying level; nearest rib last."""
    row = ((0.16, 0.042), (0.42, 0.055), (0.54, 0.05), (0.65, 0.04))
    for i in range(n - 1, -1, -1):
        s.layer = base + (n - 1 - i) * 2 + 1
        g = Frame(f(0, i * pitch, 0), f.ex, f.ez, st.mul(f.ey, -1))
        sh.rib(
            s,
            g,
            chord,
            ALU_DULL if i % 2 else ALU,
            x0=0.01,
            x1=0.76,
            thick=0.145,
            holes=row,
            flange=2.0,
        )
        if i:
            s.layer = base + (n - 1 - i) * 2 + 2
            for x, h in ((0.29, 0.135), (0.75, 0.062)):
                z0 = chord * (0.016 - h / 2)
                s.patch(
                    lambda u, v, x=x, z0=z0, h=h, i=i: f(
                        x * chord, (i - u) * pitch, z0 + h * chord * v
                    ),
                    5,
                    5,
                    Stuff((0.80, 0.83, 0.87), 0.55, 0.4),
                )
                for e in (0, 1):
                    s.patch(
                        lambda u, v, x=x, z0=z0, h=h, i=i, e=e: f(
                            x * chord + 3.5 * v, (i - u) * pitch, z0 + h * chord * e
                        ),
                        5,
                        1,
                        ALU,
                    )


def wing_frame() -> Image.Image:
    """The wing's skeleton on its horses, seen from the root."""
    s = floor(
        LAND, (-92, -175, 168), (46, 60, 76), "wing frame", focal=1.55, lamp=(-140, -120, 340)
    )
    for y in (10, 190):
        for x in (20, 110):
            sh.horse(s, x, y, 60, 74)
    f = Frame((-24, -60, 92)).turned("z", -8)
    wing_bones(s, f, 11, 33, 150, base=2)
    s.layer = 40
    for i in range(9):
        at = f(150 * 0.29 - 6 + 3 * (i % 2), -1.2, 92 * 0 + 150 * (0.016 + 0.052 - 0.013 * i))
        sh.cleco(s, at, st.mul(f.ey, -1), 2.0, COPPER if i % 2 else STEEL)
    return s.render(0.5, 1.6)


def aileron_frame() -> Image.Image:
    """The aileron's frame on a plain bench, clecos down the spar."""
    s = bench(LAND, (-40, -66, 56), (1, -1, 2), "aileron", focal=1.6, depth=64, far=220)
    f = Frame((-62, 0, 2)).turned("z", -12)
    row = ((0.3, 0.06), (0.55, 0.045))
    for i in range(8, -1, -1):
        s.layer = 0
        g = Frame(f(2 + i * 15.5, -12, 3.2), f.ey, f.ez, f.ex)
        sh.rib(
            s,
            g,
            40,
            ALU if i % 2 else ALU_DULL,
            x0=0.01,
            x1=0.86,
            thick=0.18,
            holes=row,
            flange=1.4,
            height=0.95,
        )
    sh.channel(s, f.moved(0, 0, 0.4), 128, 6.6, 2.2, ALU, [(9 + 15.5 * i, 1.5) for i in range(8)])
    s.patch(lambda u, v: f(u * 128, 21 + 1.8 * v, 3.6), 50, 1, ALU)
    s.layer = 1
    for i in range(17):
        at = f(2.5 + i * 7.75, 0.8, 7.05)
        if i % 2 == 0:
            sh.cleco(s, at, (0, 0, 1), 1.15, COPPER if i % 4 else STEEL)
        else:
            sh.disc(s, at, (0, 0, 1), 0.18, (0.12, 0.1, 0.09), push=0.6)
    sh.box(s, Frame((24, -34, 0)).turned("z", 10), 24, 3, 1.2, PLY, 4)
    sh.deburrer(s, Frame((-30, -26, 0)).turned("z", 14))
    return s.render(0.6, 1.0)


def pims_garage() -> Image.Image:
    """Two dark figures at a bench under a roof light, bicycle and freezer behind."""
    s = bench(
        LAND,
        (-4, -150, 62),
        (0, 10, 44),
        "garage",
        focal=1.5,
        wall=False,
        depth=44,
        far=300,
        lamp=(10, 60, 160),
    )
    back = Image.new("RGB", s.image.size, (86, 82, 78))
    pen = ImageDraw.Draw(back)
    for y in range(0, 1700, 90):
        pen.line((0, y, 3200, y), fill=(74, 70, 66), width=8)
    pen.rectangle((180, 560, 900, 1700), fill=(206, 206, 200))
    pen.rectangle((180, 560, 900, 660), fill=(226, 226, 222))
    pen.rectangle((820, 760, 850, 1100), fill=(120, 120, 122))
    for x in (2350, 2900):
        pen.ellipse((x - 250, 780, x + 250, 1280), outline=(28, 28, 30), width=26)
        for i in range(18):
            a = i * math.pi / 9
            pen.line(
                (x, 1030, x + 235 * math.cos(a), 1030 + 235 * math.sin(a)),
                fill=(120, 120, 124),
                width=4,
            )
    for start, end in (
        ((2350, 1030), (2520, 720)),
        ((2520, 720), (2830, 720)),
        ((2830, 720), (2620, 1060)),
        ((2620, 1060), (2520, 720)),
        ((2350, 1030), (2620, 1060)),
        ((2900, 1030), (2810, 640)),
    ):
        pen.line((*start, *end), fill=(30, 96, 92), width=26)
    pen.line((2740, 630, 2860, 640), fill=(28, 28, 30), width=24)
    pen.rounded_rectangle((2440, 650, 2600, 690), 18, fill=(40, 28, 22))
    pen.rectangle((1200, 90, 2000, 150), fill=(255, 250, 232))
    glow = Image.new("RGB", back.size)
    ImageDraw.Draw(glow).rectangle((1150, 60, 2050, 180), fill=(255, 240, 205))
    back = ImageChops.screen(
        back.filter(ImageFilter.GaussianBlur(7)), glow.filter(ImageFilter.GaussianBlur(220))
    )
    edge = int(s.see((0, 44, 0))[1])
    s.image.paste(back.crop((0, 0, 3200, edge)), (0, 0))
    table = s.image.crop((0, edge, 3200, 2400))
    for x, shirt, hair, k in (
        (1130, (40, 56, 78), (92, 56, 30), 0),
        (1960, (104, 58, 36), (52, 36, 26), 1),
    ):
        person(s.image, x, 560 - 60 * k, shirt, hair)
    s.image.paste(table, (0, edge))
    for x, shirt, k in ((1130, (40, 56, 78), 0), (1960, (104, 58, 36), 1)):
        forearms(s.image, x, 560 - 60 * k, shirt)
    s.pen = ImageDraw.Draw(s.image)
    f = Frame((-58, -14, 2)).turned("z", 2)
    for i in range(8):
        g = Frame(f(4 + i * 15, -12, 3.2), f.ey, f.ez, f.ex)
        sh.rib(
            s,
            g,
            36,
            ALU,
            x0=0.01,
            x1=0.86,
            thick=0.18,
            holes=((0.3, 0.06), (0.55, 0.045)),
            flange=1.4,
        )
    sh.channel(s, f.moved(0, 0, 0.4), 118, 6.2, 2.2, ALU, [(11 + 15 * i, 1.4) for i in range(7)])
    s.layer = 1
    for i in range(0, 15, 2):
        sh.cleco(s, f(4 + i * 7.5, 0.8, 6.7), (0, 0, 1), 1.3, COPPER)
    return s.render(0.6, 1.2)


def person(
    image: Image.Image, x: int, y: int, shirt: tuple[int, int, int], hair: tuple[int, int, int]
) -> None:
    """A person standing behind the bench, the light behind, head bent to the work."""
    limbs(
        image,
        x,
        y,
        shirt,
        [
            (0, 470, 0, 1300, 210),
            (-150, 380, 150, 380, 112),
            (-236, 420, -300, 720, 86),
            (236, 420, 300, 720, 86),
        ],
    )
    limbs(image, x, y, (122, 88, 70), [(0, 200, 0, 310, 76)])
    limbs(image, x, y, (140, 100, 78), [(0, 40, 0, 150, 116)])
    limbs(
        image,
        x,
        y,
        hair,
        [(-20, -24, 24, -24, 122), (-106, 10, -104, 90, 32), (108, 10, 104, 90, 32)],
    )
    limbs(
        image,
        x,
        y,
        (34, 32, 34),
        [(-56, 108, -24, 112, 26), (24, 112, 56, 108, 26), (-104, 96, 104, 96, 8)],
        8,
    )


def forearms(image: Image.Image, x: int, y: int, shirt: tuple[int, int, int]) -> None:
    """The arms from the elbows on, laid on the work."""
    limbs(image, x, y, shirt, [(-300, 720, -190, 930, 72), (300, 720, 190, 930, 72)])
    limbs(image, x, y, (140, 100, 78), [(-184, 950, -130, 1020, 52), (184, 950, 130, 1020, 52)])


def wing_stand() -> Image.Image:
    """The wing nose down in its stand, inner top skin in clecos, outer ribs bare."""
    s = floor(LAND, (-120, -290, 150), (10, 10, 78), "stand", focal=1.6, lamp=(-160, -160, 330))
    f = Frame((-150, 0, 26)).turned("z", 9)
    chord, span = 122.0, 300.0

    def face(u: float, v: float) -> st.Vec:
        x = 0.01 + 0.75 * v
        y = 0.7 * (
            0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4
        )
        return f(u * span, -y * chord, x * chord)

    s.layer = 1
    for i in range(10, -1, -1):
        s.layer = 1 + (10 - i) * 2
        g = Frame(f(i * 30, 0, 0), f.ez, st.mul(f.ey, -1), st.mul(f.ex, 1))
        sh.rib(
            s,
            g,
            chord,
            ALU,
            x0=0.01,
            x1=0.76,
            thick=0.14,
            holes=((0.16, 0.042), (0.42, 0.055), (0.54, 0.05), (0.65, 0.04)),
            flange=2.0,
        )
        if i > 5:
            s.layer += 1
            for x, h in ((0.29, 0.12), (0.75, 0.05)):
                s.patch(
                    lambda u, v, x=x, h=h, i=i: f((i - u) * 30, (0.5 - v) * h * chord, x * chord),
                    5,
                    4,
                    ALU_DULL,
                )
                s.patch(
                    lambda u, v, x=x, h=h, i=i: f(
                        (i - u) * 30, -0.5 * h * chord, x * chord + 3 * v
                    ),
                    5,
                    1,
                    ALU,
                )
    s.layer = 30
    s.sheet(lambda u, v: face(u * 0.56, v), 90, 30, Stuff((0.84, 0.87, 0.91), 0.68, 0.6))
    s.layer = 31
    for i in range(6):
        for j in range(26):
            u, v = 0.006 + i * 0.1085, 0.02 + 0.96 * j / 25
            spot(s, face(u, v), f, held=(i + j) % 3 == 0)
    for v in (0.02, 0.38, 0.985):
        for i in range(44):
            spot(s, face(0.006 + i * 0.0124, v), f, held=i % 4 == 1)
    s.layer = 40
    for x in (6.0, 286.0):
        for side in (-1, 1):
            sh.rod(s, f(x, side * 4, 70), f(x, side * 52, -24), 2.6, WOOD, n=4)
        sh.rod(s, f(x, -50, -22), f(x, 50, -22), 2.4, WOOD, n=4)
    sh.box(s, f.moved(-4, -14, -8), 310, 26, 7, Stuff((0.42, 0.20, 0.17)), 12)
    return s.render(0.5, 1.6)


def spot(s: Stage, at: st.Vec, f: Frame, *, held: bool) -> None:
    n = st.mul(f.ey, -1)
    if held:
        sh.cleco(s, at, n, 2.0, COPPER)
    else:
        sh.disc(s, st.add(at, st.mul(n, 0.15)), n, 0.42, (0.16, 0.14, 0.13), 8, push=2)


def shop() -> Image.Image:
    """The whole shop in June: the tail-cone in front, the wing in its stand behind."""
    s = floor(
        LAND, (-120, -360, 210), (14, 40, 78), "shop", focal=1.5, lamp=(-150, -120, 360), far=1000
    )
    s.layer = -20
    wing = Frame((-150, 190, 30)).turned("z", -4)
    s.sheet(
        lambda u, v: wing(u * 330, -14 * math.sin(math.pi * min(1, v * 0.9 + 0.1)), v * 118),
        80,
        26,
        Stuff((0.84, 0.87, 0.91), 0.66, 0.5),
    )
    s.layer = -19
    for i in range(12):
        for j in range(22):
            at = wing(
                2 + i * 29.6,
                -14 * math.sin(math.pi * min(1, j / 21 * 0.9 + 0.1)) - 0.3,
                2 + j * 5.4,
            )
            sh.disc(s, at, (0, -1, 0), 0.55, (0.46, 0.47, 0.49), 8, push=2)
    for x in (-140, 170):
        sh.rod(s, (x, 160, 0), (x, 186, 100), 3, WOOD, n=4)
        sh.rod(s, (x, 230, 0), (x, 190, 100), 3, WOOD, n=4)
    sh.box(s, wing.moved(-6, -12, -8), 342, 26, 8, Stuff((0.42, 0.20, 0.17)), 14)
    s.layer = -12
    f = Frame((-62, -90, 92)).turned("z", -52)

    def cone(u: float, v: float) -> st.Vec:
        a = 2 * math.pi * u
        k, m = 17 + 33 * v, 20 + 34 * v
        c, d = math.cos(a), math.sin(a)
        return f(
            k * abs(c) ** 0.6 * (1 if c > 0 else -1),
            250 * v,
            m * abs(d) ** 0.6 * (1 if d > 0 else -1),
        )

    for y, k in ((62, 25), (190, 43)):
        line = [(-k - 14, -92), (k + 14, -92), (k + 14, -10), (-k - 14, -10)]
        s.plate(lambda u, v, y=y: f(u, y, v), PLY, line, cells=(8, 8))
    s.layer = -11
    s.patch(cone, 64, 60, Stuff((0.84, 0.87, 0.91), 0.64, 0.5), cull=False)
    s.layer = -10
    for v in (0.01, 0.25, 0.5, 0.75, 0.99):
        for i in range(44):
            ring_spot(s, cone, i / 44, v)
    for u in (0.12, 0.3, 0.38, 0.5, 0.62, 0.88, 0.75):
        for j in range(60):
            ring_spot(s, cone, u, (j + 0.5) / 60)
    s.layer = -9
    end = [cone(i / 48, 0.0) for i in range(48)]
    s.flat(end, (0.10, 0.095, 0.085))
    s.layer = -8
    bulkhead(s, f, 17, 20, ALU, 0.62)
    s.layer = 0
    sh.box(
        s,
        Frame((140, -120, 0)).turned("z", 14),
        62,
        40,
        44,
        Stuff((0.24, 0.30, 0.36), 0.06, 0.3),
        8,
    )
    for i in range(4):
        f2 = Frame((140, -120, 0)).turned("z", 14)
        sh.box(
            s, f2.moved(2, -1.2, 3 + 10.2 * i), 58, 1.4, 9, Stuff((0.30, 0.38, 0.45), 0.08, 0.4), 4
        )
        sh.rod(s, f2(24, -3, 8 + 10.2 * i), f2(38, -3, 8 + 10.2 * i), 0.7, STEEL, n=8)
    sh.drill(s, Frame((158, -104, 44.2)).turned("z", 30), Stuff((0.66, 0.68, 0.70), 0.55, 0.7))
    drawn = s.render(0.5, 1.6)
    beam = Image.new("L", drawn.size)
    ImageDraw.Draw(beam).polygon([(2300, -100), (2900, -100), (1900, 2500), (500, 2500)], fill=70)
    beam = beam.filter(ImageFilter.GaussianBlur(120))
    return ImageChops.screen(
        drawn,
        Image.merge(
            "RGB", [beam.point([int(i * k) for i in range(256)]) for k in (1.0, 0.82, 0.52)]
        ),
    )


def ring_spot(s: Stage, cone: st.Surface, u: float, v: float) -> None:
    at = cone(u, v)
    n = st.unit(
        st.cross(
            st.sub(cone(u + 0.01, v), at),
            st.sub(cone(u, min(1.0, v + 0.01) if v < 0.99 else v - 0.01), at),
        )
    )
    away = st.sub(at, cone((u + 0.5) % 1, v))
    if st.dot(n, away) < 0:
        n = st.mul(n, -1)
    if st.dot(n, st.sub(s.eye, at)) > 0:
        sh.rivet(s, st.add(at, st.mul(n, 0.2)), n, 0.85)
