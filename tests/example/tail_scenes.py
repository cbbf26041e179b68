"""The winter's pictures: crates, ribs, tail surfaces. One function, one picture."""

# mypy: disable-error-code="misc"
# ruff: noqa: C901, D103, PLR0912, PLR0913, PLR0915, PLR0917
# A lambda that keeps a loop's value as a default has no type that mypy can name.
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import math

from PIL import Image, ImageDraw, ImageFilter

from tests.example import shapes as sh
from tests.example import stage as st
from tests.example import textures as tx
from tests.example.sets import LAND, TALL, bench, body, floor, limbs
from tests.example.stage import (
    ALU,
    ALU_DULL,
    BRASS,
    COPPER,
    DARK_STEEL,
    FILM,
    PLY,
    STEEL,
    WOOD,
    Frame,
    Stage,
    Stuff,
)


def crate() -> Image.Image:
    """The crate open on the floor, with skins in blue film, ribs and bags in it."""
    s = floor(LAND, (-95, -275, 190), (22, 10, 40), "crate", focal=1.9, lamp=(-190, -330, 330))
    x, y, z, t = 200.0, 90.0, 52.0, 3.0
    art = tx.wood(1800, 520, "crate side", (190, 150, 98), 4)
    pen = ImageDraw.Draw(art)
    pen.text((900, 250), "FENNICK KIT WORKS", fill=(46, 40, 36), font=tx.font(120), anchor="mm")
    pen.text(
        (900, 400), "FKW-0417-A   THIS SIDE UP", fill=(46, 40, 36), font=tx.font(64), anchor="mm"
    )
    f = Frame((-x / 2, -y / 2, 0)).turned("z", 6)
    s.layer = 0
    s.patch(lambda u, v: f(u * x, y, v * z), 12, 6, PLY)
    s.patch(lambda u, v: f(u * x, v * y, 0.5), 12, 8, WOOD)
    s.patch(lambda u, v: f(0, u * y, v * z), 8, 6, PLY)
    s.patch(lambda u, v: f(x, u * y, v * z), 8, 6, PLY)
    s.patch(lambda u, v: f(u * x, y + t, v * z), 12, 6, PLY)
    s.layer = 1
    for i in range(9):  # skins standing in film
        yy = 66 + i * 2.4
        s.patch(
            lambda u, v, yy=yy, i=i: f(
                12 + u * (150 + 3 * (i % 3)),
                yy + 1.4 * math.sin(3 * u),
                4 + v * (56 + 2.5 * (i % 4)),
            ),
            24,
            4,
            FILM if i % 3 else ALU,
        )
    for i in range(10):  # ribs in a row
        g = Frame(f(16 + i * 11.0, 4, 51)).turned("z", 96).turned("x", 90)
        sh.rib(
            s,
            g,
            46,
            ALU,
            x0=0.12,
            x1=0.72,
            thick=0.34,
            holes=((0.25, 0.05), (0.45, 0.065), (0.62, 0.04)),
            flange=2.2,
        )
    for _ in range(22):  # crumpled paper
        c, r = s.chance, s.chance.uniform(4, 7)
        at = f(138 + c.uniform(-4, 50), c.uniform(8, 52), c.uniform(12, 34))
        bumps = [c.uniform(0.7, 1.15) for _ in range(64)]
        s.patch(
            lambda u, v, at=at, r=r, b=bumps: st.add(
                at,
                st.mul(
                    (
                        math.cos(6.283 * u) * math.sin(3.14 * v),
                        math.sin(6.283 * u) * math.sin(3.14 * v),
                        math.cos(3.14 * v),
                    ),
                    r * b[int(u * 8) % 8 * 8 + int(v * 7)],
                ),
            ),
            8,
            7,
            Stuff((0.78, 0.66, 0.48)),
        )
    for i in range(5):
        sh.box(
            s,
            f.moved(120 + (i % 3) * 17, 10 + (i // 3) * 16, 34 + 2 * (i % 2)).turned("z", 9 * i),
            14,
            10,
            9,
            Stuff((0.72, 0.54, 0.34)),
            3,
        )
    s.layer = 2
    s.picture(art.convert("RGBA"), [f(0, -t, z), f(x, -t, z), f(x, -t, 0), f(0, -t, 0)], lit=0.98)
    for xx in (0, x - 7):
        sh.box(s, f.moved(xx, -t - 2, 0), 7, 2, z, WOOD, 4)
    s.patch(lambda u, v: f(u * x, -t * (1 - v), z), 14, 1, PLY)
    s.patch(lambda u, v: f(x - t * v, u * y, z), 8, 1, PLY)
    s.layer = 0
    lid = Frame((118, 40, 0)).turned("z", 52).turned("x", 66)
    sh.box(s, lid, 88, 170, 3, PLY, 8)
    for yy in (16, 80, 145):
        sh.box(s, lid.moved(0, yy, -3), 88, 9, 3, WOOD, 4)
    s.layer = 3
    sh.rod(s, (-86, -128, 1.3), (-38, -106, 1.3), 1.2, DARK_STEEL, 0.8)
    sh.rod(s, (-38, -106, 1.3), (-34, -108, 4), 0.9, DARK_STEEL, 0.3)
    for _ in range(7):
        a = s.chance.uniform(0, 6.28)
        at = (s.chance.uniform(-20, 60), s.chance.uniform(-150, -95), 0.4)
        sh.rod(s, at, (at[0] + 4 * math.cos(a), at[1] + 4 * math.sin(a), 0.4), 0.25, STEEL, n=6)
    return s.render()


def ribs_laid_out() -> Image.Image:
    """Rib blanks in rows on the bench, the tail's small ones on the left."""
    s = bench(LAND, (4, -52, 58), (3, -1, 0), "ribs", focal=1.5)
    row = ((0.2, 0.055), (0.37, 0.068), (0.54, 0.052))
    for i in range(5):
        for j in range(2):
            g = Frame((-62 + j * 27 + 1.5 * i, -17 + i * 11.5, 0.2)).turned(
                "z", s.chance.uniform(-4, 4)
            )
            sh.rib(
                s,
                g,
                27,
                ALU,
                x0=0.02,
                x1=0.8,
                thick=0.20,
                holes=((0.3, 0.05), (0.5, 0.05)),
                flange=1.2,
            )
    for i in range(4):
        for j in range(2):
            g = Frame((-4 + j * 40 - i * 0.8, -19 + i * 15.5, 0.2)).turned(
                "z", s.chance.uniform(-2.5, 2.5)
            )
            sh.rib(
                s,
                g,
                49,
                FILM if (i, j) == (3, 1) else ALU,
                x0=0.02,
                x1=0.74,
                thick=0.17,
                holes=row,
                flange=1.6,
            )
    plan = tx.paper_plan(1200, 850)
    f = Frame((36, -34, 0.15)).turned("z", -8)
    s.layer = -1
    s.picture(plan, [f(0, 16), f(24, 16), f(24, 0), f(0, 0)])
    s.layer = 1
    sh.rod(s, (38, -24, 0.6), (52, -21, 0.6), 0.45, st.YELLOW, n=6)
    sh.rod(s, (52, -21, 0.6), (53.4, -20.7, 0.6), 0.45, st.PLY, 0.05, n=6)
    return s.render()


def dent() -> Image.Image:
    """A thumb-wide dent across the bend line of a thin skin."""
    s = bench(
        LAND, (-8, -44, 27), (0, 0, 1.5), "dent", focal=1.9, lamp=(-80, 8, 34), depth=60, far=150
    )

    def f(u: float, v: float) -> st.Vec:
        x, y = -34 + 68 * u, -17 + 36 * v
        bend = 2.2 * max(0.0, (y - 6) / 13) ** 2 * 3
        pit = math.exp(-(((x - 3) / 3.0) ** 2 + ((y - 1.5) / 2.1) ** 2))
        rim = math.exp(-(((x - 3) / 6.0) ** 2 + ((y - 1.5) / 4.6) ** 2)) - 0.9 * pit
        crease = math.exp(-((y - 1.5 - 0.35 * (x - 3)) ** 2) / 0.5) * math.exp(
            -(((x - 3) / 7) ** 2)
        )
        return (x, y, 1.6 + bend - 1.5 * pit + 0.55 * rim - 0.35 * crease)

    s.patch(f, 150, 84, Stuff((0.84, 0.87, 0.91), 0.62, 0.7))
    s.layer = 1
    for i in range(24):
        for y in (-15.5, 17.6):
            u, v = (i + 0.5) / 24, (y + 17) / 36
            sh.disc(s, f(u, v), (0, -0.2, 1), 0.26, (0.16, 0.13, 0.11))
    for i in range(36):
        x = -33 + i * 1.9
        u = (x + 34) / 68
        if abs(x - 3) > 0.1:
            sh.disc(
                s, st.add(f(u, (6 + 17) / 36), (0, 0, 0.03)), (0, 0, 1), 0.14, (0.30, 0.42, 0.66), 8
            )
    ringed = [
        st.add(
            f((3 + 7.2 * math.cos(a) + 34) / 68, (1.5 + 5.4 * math.sin(a) + 17) / 36), (0, 0, 0.06)
        )
        for a in [i * 0.105 for i in range(58)]
    ]
    sh.hose(s, ringed, 0.14, Stuff((0.70, 0.10, 0.10)), 6)
    tape = Frame((5, -13.5, 1.68)).turned("z", 6)
    art = Image.new("RGBA", (700, 240), (236, 222, 170, 255))
    pen = ImageDraw.Draw(art)
    pen.text((350, 75), "FK-E-0310L", fill=(40, 40, 60), font=tx.font(84), anchor="mm")
    pen.text((350, 168), "dent - not ours!", fill=(150, 30, 30), font=tx.font(70), anchor="mm")
    s.picture(art, [tape(0, 4.1), tape(12, 4.1), tape(12, 0), tape(0, 0)])
    return s.render()


def fin_frame() -> Image.Image:
    """The fin's frame standing in the vice, clecos in every third hole."""
    s = bench(
        TALL, (46, -104, 56), (8, 0, 46), "fin", focal=1.55, depth=52, far=230, lamp=(-60, -70, 150)
    )
    f = Frame((-20, 0, 12)).turned("z", -14)

    def post(x0: float, x1: float, tall: float, wide: float, holes: int, layer: int) -> None:
        s.layer = layer
        g = Frame(f(x0, 0, 0), f.ex, f.ey, f.ez)
        lean = (x1 - x0) / tall
        side = [(0.0, 0.0), (wide, 0.0), (wide * 0.62, tall), (0.0, tall)]
        cuts = [
            sh.ring(wide * 0.45, tall * (i + 0.6) / holes, 1.5 - 0.6 * i / holes)
            for i in range(holes)
        ]
        s.plate(lambda u, v: g(u + lean * v, -2, v), ALU, side, cuts, cells=(3, 24))
        for e in (0, 1):
            s.patch(
                lambda u, v, e=e: g(
                    lean * u * tall + e * wide * (1 - 0.38 * u), -2 + 3.6 * v, u * tall
                ),
                26,
                1,
                ALU,
            )
        for i in range(22):
            z = tall * (i + 0.5) / 22
            at = g(lean * z + wide * (1 - 0.38 * z / tall) * 0.86, -2.05, z)
            if i % 3 == 1:
                sh.cleco(s, at, st.mul(f.ey, -1), 1.15, COPPER if i % 2 else STEEL)
            else:
                sh.disc(s, at, (0, -1, 0), 0.2, (0.12, 0.1, 0.09), push=1)

    post(50, 52, 84, 6.5, 8, 0)
    s.layer = 1
    for i, z in enumerate((3, 27, 51, 74)):
        x0, x1 = 6 + 21 * z / 84, 51 + 2 * z / 84
        long = x1 - x0 - 1
        g = Frame(f(x0, -1.2, z), f.ex, f.ey, f.ez)
        line = [(0.0, -3.0), (long, -3.0), (long, 3.0), (0.0, 3.0)]
        cuts = (
            [sh.ring(long * k, 0, 1.7) for k in (0.3, 0.66)]
            if long > 14
            else [sh.ring(long / 2, 0, 1.2)]
        )
        s.plate(lambda u, v, g=g: g(u, v, 0), ALU_DULL, line, cuts, cells=(8, 4))
        s.patch(lambda u, v, g=g, long=long: g(u * long, -3, -2.2 + 2.2 * v), 12, 2, ALU)
        for j in range(5):
            at = g(long * (j + 0.5) / 5, -3.05, -1.1)
            if (i + j) % 3 == 0:
                sh.cleco(s, at, st.mul(f.ey, -1), 1.15)
            else:
                sh.disc(s, at, (0, -1, 0), 0.2, (0.12, 0.1, 0.09), push=1)
    post(2, 25, 84, 6.5, 8, 2)
    s.layer = 3
    for side in (0, 1):
        sh.box(
            s,
            Frame((-24 + 17 * side, -8 + 3 * side, 0)),
            15,
            5,
            13,
            Stuff((0.16, 0.28, 0.25), 0.08, 0.4),
        )
    sh.rod(s, (-9, -9, 6), (-9, -22, 6), 1.5, STEEL)
    sh.rod(s, (-19, -20, 6), (1, -20, 6), 0.7, STEEL)
    for x, a in ((24, 0.3), (30, 1.9), (20, 2.7), (34, 1.0), (27, 2.2)):
        y = -28 + 3 * math.sin(a * 5)
        lying = (math.cos(a), math.sin(a), 0.0)
        sh.cleco(s, (x, y, 0.6), lying, 1.2, COPPER if a > 1 else STEEL)
    return s.render()


def primer() -> Image.Image:
    """Primed ribs and stiffeners hanging on wires from the rail, over newspaper."""
    s = bench(
        LAND,
        (-14, -78, 40),
        (0, 2, 34),
        "primer",
        focal=1.5,
        depth=60,
        far=230,
        lamp=(-50, -60, 110),
    )
    news = Image.new("RGBA", (1400, 900), (208, 202, 188, 255))
    pen = ImageDraw.Draw(news)
    for col in range(5):
        for row in range(46):
            if row % 15 < 2:
                continue
            pen.line(
                (
                    50 + col * 265,
                    60 + row * 18,
                    50 + col * 265 + s.chance.randint(180, 235),
                    60 + row * 18,
                ),
                fill=(110, 106, 100),
                width=7,
            )
    for _ in range(160):
        x, y, r = s.chance.gauss(700, 330), s.chance.gauss(450, 200), s.chance.uniform(1, 9)
        pen.ellipse((x - r, y - r, x + r, y + r), fill=(144, 148, 66))
    for i, (x, y, a) in enumerate(((-52, -12, 5), (-2, -16, -7), (-30, 14, -3), (24, 12, 6))):
        f = Frame((x, y, 0.1 + 0.05 * i)).turned("z", a)
        s.layer = -3
        s.picture(news, [f(0, 32), f(50, 32), f(50, 0), f(0, 0)])
    s.layer = 0
    sh.rod(s, (-90, 4, 66), (90, 4, 66), 1.1, STEEL)
    wet = Stuff((0.50, 0.53, 0.27), 0.10, 0.6)
    spots = [
        (-56, 8, 1),
        (-41, 0, 0),
        (-27, 10, 1),
        (-12, 2, 0),
        (3, 9, 1),
        (17, 0, 0),
        (32, 8, 2),
        (44, 3, 1),
        (58, 8, 0),
    ]
    for i, (x, y, kind) in enumerate(spots):
        s.layer = 1 if y > 5 else 2
        top = 60 - 2.5 * (i % 3)
        sh.rod(s, (x, y, top - 3), (x, 4, 66), 0.14, STEEL, n=5)
        sh.hose(
            s,
            [(x, 4 + 1.4 * math.cos(t), 66 + 1.4 * math.sin(t)) for t in (0, 0.8, 1.6, 2.4, 3.1)],
            0.14,
            STEEL,
            5,
        )
        g = (
            Frame((x + 2, y, top))
            .turned("z", s.chance.uniform(-30, 25))
            .turned("y", 90)
            .turned("x", 90)
        )
        if kind == 2:
            g = Frame((x - 3, y, top - 46)).turned("z", 20)
            sh.channel(
                s,
                Frame(g.origin, g.ez, g.ey, g.ex),
                46,
                6,
                3,
                wet,
                [(8, 1.2), (20, 1.2), (32, 1.2)],
            )
            continue
        hung = Frame((x + 3.6, y, top), (0, 0, -1), g.ey, g.ez)
        turn = math.radians(s.chance.uniform(-28, 28))
        hung = Frame(
            (x, y, top),
            (0, 0, -1),
            (math.cos(turn), math.sin(turn), 0),
            (math.sin(turn), -math.cos(turn), 0),
        )
        sh.rib(
            s,
            hung,
            (46, 38)[kind],
            wet,
            x0=0.04,
            x1=0.86,
            thick=0.24,
            holes=((0.25, 0.06), (0.45, 0.06), (0.63, 0.045)),
            flange=1.8,
        )
    s.layer = 4
    can = Frame((38, -24, 0.3))
    sh.lathe(
        s,
        can,
        [(0, 0.1), (5, 0.1), (5, 11.5), (5.3, 12), (4.6, 12), (4.5, 10)],
        Stuff((0.70, 0.72, 0.74), 0.5, 0.6),
        36,
    )
    sh.lathe(s, can, [(5.06, 2.2), (5.06, 9.4)], Stuff((0.86, 0.80, 0.62)), 36)
    s.layer = 5
    sh.lathe(s, can, [(4.5, 10.4), (0, 10.4)], wet, 36)
    sh.rod(s, (33, -26, 10), (50, -21, 15), 0.45, PLY, n=8)
    jar = Frame((-34, -27, 0.2))
    sh.lathe(s, jar, [(0, 0.1), (3.6, 0.1), (3.7, 6), (0, 6)], wet, 30)
    sh.lathe(
        s,
        jar,
        [(3.8, 6), (3.8, 8.4), (3.1, 9.4), (3.1, 10.4)],
        Stuff((0.75, 0.82, 0.80), 0.5, 0.8),
        30,
    )
    return s.render()


def tail_surface(
    s: Stage,
    f: Frame,
    span: float,
    chord: float,
    tip: float,
    thick: float,
    stuff: Stuff,
    *,
    rows: int = 6,
    holes: bool = False,
) -> None:
    """A skinned tail surface lying flat, with its rivet rows."""

    def top(u: float, v: float) -> st.Vec:
        c = chord + (tip - chord) * u
        x = v
        y = (
            5
            * thick
            * (0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
        )
        return f(u * span, (chord - c) * 0.35 + v * c, (y * c) + thick * c * 0.5)

    def low(u: float, v: float) -> st.Vec:
        p = top(u, v)
        c = chord + (tip - chord) * u
        x = v
        y = (
            5
            * thick
            * (0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
        )
        return st.sub(p, st.mul(f.ez, 2 * y * c))

    layer = s.layer
    s.patch(low, 40, 18, stuff)
    s.layer = layer + 1
    s.patch(top, 70, 30, stuff)
    s.layer = layer + 2
    for r in range(rows + 1):
        u = 0.015 + 0.97 * r / rows
        for i in range(26):
            v = 0.03 + 0.94 * i / 25
            place(s, top, u, v, holes=holes)
    for v in (0.30, 0.94):
        for i in range(rows * 9):
            place(s, top, (i + 0.5) / (rows * 9), v, holes=holes)


def place(s: Stage, top: st.Surface, u: float, v: float, *, holes: bool) -> None:
    normal = st.unit(
        st.cross(
            st.sub(top(min(1, u + 0.01), v), top(u, v)), st.sub(top(u, min(1, v + 0.01)), top(u, v))
        )
    )
    at = st.add(top(u, v), st.mul(normal, 0.02))
    if holes:
        sh.disc(s, at, normal, 0.16, (0.14, 0.12, 0.10), 8)
    else:
        sh.rivet(s, at, normal, 0.55, flush=True)


def stabiliser() -> Image.Image:
    """The riveted stabiliser on padded horses, seen from the tip."""
    s = floor(LAND, (-170, -185, 160), (0, 6, 60), "stabiliser", focal=2.0, lamp=(-120, -120, 300))
    for x in (-62, 66):
        sh.horse(s, x, 10, 76, 70)
    s.layer = 2
    f = Frame((-112, -28, 71.5))
    tail_surface(s, f, 226, 62, 62, 0.13, Stuff((0.84, 0.86, 0.89), 0.66, 0.5), rows=9)
    s.layer = 5
    for x in (0, 112, 226):
        g = f.moved(x, 60.5, 2.2)
        sh.box(s, g.moved(-1.5, 0, 0), 3, 6, 3.6, DARK_STEEL, 2)
    return s.render(0.5, 1.5)


def rudder() -> Image.Image:
    """The rudder's frame on the bench with its folded skin beside it."""
    s = bench(LAND, (-20, -70, 80), (-7, 2, 0), "rudder", focal=1.52)
    f = Frame((-62, -6, 1.0)).turned("z", 4)
    sh.channel(
        s,
        Frame(f(0, 0, 0), f.ex, f.ey, f.ez),
        112,
        7.5,
        3.2,
        ALU,
        [(14 + 14 * i, 1.5) for i in range(7)],
        0.35,
    )
    for i in range(6):
        x = 2 + i * 21.4
        long = 33 - i * 2.6
        h = 3.7 - 0.22 * i
        rib = Frame(f(x, 1, h), f.ey, f.ez, f.ex)
        line = [(0.0, -h * 0.92), (long, -0.35), (long, 0.35), (0.0, h * 0.92)]
        cuts = [sh.ring(5.5, 0, h * 0.45), sh.ring(14, 0, h * 0.34)]
        s.plate(lambda u, v, r=rib: r(u, v, 0), ALU_DULL, line, cuts, cells=(10, 3))
        for e in (-1, 1):
            s.patch(
                lambda u, v, r=rib, e=e, h=h, long=long: r(
                    u * long, e * (h * 0.92 + (0.35 - h * 0.92) * u), 1.7 * v
                ),
                14,
                1,
                ALU,
            )
        for k in range(3):
            at = rib(
                4 + k * (long - 8) / 2, h * 0.92 * (1 - (4 + k * (long - 8) / 2) / long) + 0.3, 0.8
            )
            if (i + k) % 2 == 0:
                sh.cleco(s, at, f.ez, 1.05, COPPER if k % 2 else STEEL)
            else:
                sh.disc(s, at, f.ez, 0.17, (0.12, 0.10, 0.09), push=0.6)
    s.patch(lambda u, v: f(u * 112, 34 - 13 * u - 1.5 + 1.6 * v, 3.4 - 1.2 * u + 0.05), 40, 1, ALU)
    sh.box(s, f.moved(-5, -2.5, 1.2), 5, 9, 4, DARK_STEEL, 3)
    sh.lathe(
        s,
        Frame(f(-2.5, -4.5, 1), f.ex, f.ey, f.ez),
        [(0.5, 4.6), (1.5, 4.6), (1.5, 0.6)],
        STEEL,
        20,
    )
    s.layer = -1
    folded = Frame((-58, 34, 0.3)).turned("z", 2)
    s.patch(
        lambda u, v: folded(
            u * 118, v * (30 - 10 * u), 0.2 + 3.4 * math.sin(math.pi * v * 0.5) ** 6
        ),
        60,
        16,
        FILM,
    )
    s.layer = 1
    for i, (x, y, a) in enumerate(
        ((30, -30, 0.5), (36, -27, 2.0), (27, -25, 1.1), (40, -32, 2.7), (33, -34, 0.1))
    ):
        sh.cleco(s, (x, y, 0.5), (math.cos(a), math.sin(a), 0), 1.1, COPPER if i % 2 else BRASS)
    sh.deburrer(s, Frame((-50, -28, 0)).turned("z", 20))
    return s.render()


def bucking() -> Image.Image:
    """Pim as a dark figure behind the upright fin, the bar held to the skin."""
    s = bench(
        LAND,
        (-8, -120, 46),
        (0, 6, 42),
        "bucking",
        focal=1.55,
        depth=55,
        far=260,
        lamp=(-60, -90, 130),
    )
    s.image = s.image.filter(ImageFilter.GaussianBlur(9)).point(
        [int(i * 0.82) for i in range(256)] * 3
    )
    s.pen = ImageDraw.Draw(s.image)
    helper(s.image, 1780, 250)
    s.layer = 1
    f = Frame((-44, -10, 2)).turned("z", 5)

    def skin(u: float, v: float) -> st.Vec:
        wide = 82 - 26 * v
        return f(24 * v + wide * u, -4 * math.sin(math.pi * min(1.0, u * 1.05)) ** 0.7, 47 * v)

    s.sheet(skin, 60, 50, Stuff((0.84, 0.87, 0.91), 0.42, 0.6))
    s.layer = 2
    for c in range(4):
        for r in range(26):
            u, v = (0.03, 0.34, 0.66, 0.965)[c], 0.02 + 0.96 * r / 25
            at = st.add(skin(u, v), (0, -0.05, 0))
            if c == 3 and r > 13:
                if r % 3 == 0:
                    sh.cleco(s, at, (0.05, -1, 0), 1.25)
                else:
                    sh.disc(s, at, (0, -1, 0), 0.24, (0.10, 0.09, 0.08))
            else:
                sh.rivet(s, at, (0, -1, 0.0), 0.42)
    for row in (0.02, 0.36, 0.7, 0.98):
        for i in range(24):
            sh.rivet(s, st.add(skin(0.03 + 0.94 * i / 23, row), (0, -0.05, 0)), (0, -1, 0), 0.42)
    s.layer = 3
    for x in (-46, 34):
        sh.box(s, Frame((x, -14, 0)), 5, 16, 13, WOOD, 4)
    sh.box(s, Frame((-60, -13, 0)), 116, 14, 2, WOOD, 6)
    gun = Frame((-30, -34, 2.3)).turned("z", 14)
    metal = Stuff((0.72, 0.73, 0.76), 0.6, 0.7)
    sh.lathe(
        s,
        Frame(gun(0, 0, 0), gun.ey, gun.ez, gun.ex),
        [
            (0, 0),
            (1.9, 0.2),
            (2.2, 2),
            (2.2, 11),
            (1.5, 12),
            (0.9, 12.4),
            (0.9, 18),
            (1.3, 18.2),
            (1.3, 22),
            (0.6, 22.3),
        ],
        metal,
        28,
    )
    sh.lathe(
        s,
        Frame(gun(2.2, -1.4, 0), gun.ez, gun.ex, st.mul(gun.ey, -1)),
        [(1.6, 0), (1.5, 6), (1.8, 10), (0, 10.2)],
        metal,
        24,
    )
    line = [
        gun(2.2 - 0.9 * i + 0.03 * i * i, -12 - 1.1 * math.sin(i / 3.5), -1.4) for i in range(30)
    ]
    sh.hose(s, line, 0.8, Stuff((0.12, 0.22, 0.40), 0.05, 0.4))
    drawn = s.render(0.55)
    reach(drawn, s.see(st.add(skin(0.965, 0.62), (0, -0.1, 0))))
    return drawn


def helper(image: Image.Image, x: float, y: float) -> None:
    """Pim behind the fin: cap, glasses, ear defenders, head bent to the row."""
    shirt, skin = (52, 74, 86), (190, 138, 108)
    limbs(
        image,
        x,
        y,
        shirt,
        [(0, 640, 20, 1500, 300), (-190, 520, 210, 520, 130), (250, 560, 430, 900, 112)],
    )
    limbs(image, x, y, shirt, [(-240, 540, -350, 900, 112)])
    limbs(image, x, y, skin, [(0, 300, 0, 420, 92)])
    limbs(image, x, y, skin, [(10, 110, 24, 250, 138)])
    limbs(image, x, y, (150, 100, 76), [(46, 214, 56, 250, 24)], 12)
    limbs(
        image,
        x,
        y,
        (92, 58, 34),
        [(0, 322, 52, 326, 62), (-60, 270, -40, 320, 46), (96, 280, 84, 320, 46)],
    )
    limbs(
        image,
        x,
        y,
        (60, 66, 74),
        [(-60, 168, -2, 176, 34), (70, 178, 124, 172, 34), (-120, 160, 140, 164, 10)],
        10,
    )
    limbs(image, x, y, (112, 46, 34), [(-70, 26, 90, 26, 112), (-20, 92, 150, 104, 30)])
    limbs(image, x, y, (204, 150, 34), [(-142, 150, -136, 224, 50), (160, 150, 158, 224, 46)], 14)
    limbs(
        image,
        x,
        y,
        (40, 40, 44),
        [
            (-140, 130, -96, -40, 15),
            (-96, -40, 20, -100, 15),
            (20, -100, 120, -40, 15),
            (120, -40, 158, 130, 15),
        ],
        8,
    )


def reach(image: Image.Image, at: tuple[float, float]) -> None:
    """The forearm and the hand that holds the bar at the end of the row."""
    x, y = at
    limbs(image, x, y, (52, 74, 86), [(-150, -560, 300, -280, 96), (300, -280, 330, -240, 92)])
    limbs(image, x, y, (190, 138, 108), [(330, -230, 210, -20, 64), (190, -10, 120, 30, 66)])
    mask = Image.new("L", image.size)
    ImageDraw.Draw(mask).polygon(
        [(x + 14, y - 66), (x + 118, y - 96), (x + 140, y + 120), (x + 26, y + 130)], fill=255
    )
    body(image, mask, (150, 154, 160), 8, 1.4)
    limbs(
        image,
        x,
        y,
        (196, 144, 112),
        [
            (196, -40, 60, -52, 30),
            (206, 10, 62, 4, 31),
            (204, 62, 70, 58, 30),
            (186, 108, 84, 106, 27),
        ],
        12,
    )
