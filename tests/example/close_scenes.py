"""Pictures from near: a rule, a bolt, a weld, the panel, a seat. One function, one picture."""

# mypy: disable-error-code="misc"
# ruff: noqa: C901, PLR0913, PLR0915, PLR0917
# A lambda that keeps a loop's value as a default has no type that mypy can name.
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import math
from itertools import pairwise

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from tests.example import shapes as sh
from tests.example import stage as st
from tests.example import textures as tx
from tests.example.sets import LAND, bench, limbs
from tests.example.stage import (
    ALU,
    BLACK,
    COPPER,
    DARK_STEEL,
    HIDE,
    PLY,
    STEEL,
    WOOD,
    Frame,
    Stage,
    Stuff,
)


def edge_distance() -> Image.Image:
    """A steel rule laid over a hole that is too near the edge of a web."""
    s = bench(
        LAND,
        (-2.4, -8.6, 9.2),
        (-0.1, -1.15, 0),
        "edge",
        focal=1.75,
        wall=False,
        depth=40,
        lamp=(-30, 12, 34),
        far=60,
    )
    s.near = 6
    line = [(-30.0, -3.0), (30.0, -3.0), (30.0, 30.0), (-30.0, 30.0)]
    xs = [-9.6, -6.6, -3.6, -0.6, 2.4, 5.4, 8.4, 11.4]
    holes = [sh.ring(x, -2.54 if i == 3 else -2.35, 0.17, n=30) for i, x in enumerate(xs)]
    web = Frame((0, 0, 0.35))
    marks = [([(-30, -2.36), (30, -2.36), (30, -2.34), (-30, -2.34)], (0.18, 0.26, 0.5))]
    marks += [
        (sh.ring(x, -2.54 if i == 3 else -2.35, 0.205, n=30), (0.97, 0.97, 0.98))
        for i, x in enumerate(xs)
    ]
    s.plate(lambda u, v: web(u, v, 0), ALU, line, holes, cells=(50, 26), marks=marks)
    s.patch(lambda u, v: web(-30 + 60 * u, -3.0, -0.3 * v), 60, 1, ALU)
    s.layer = 1
    ring = [
        (-0.6 + 0.75 * math.cos(a), -2.5 + 0.62 * math.sin(a), 0.36)
        for a in [i * 0.2 for i in range(33)]
    ]
    sh.hose(s, ring, 0.035, Stuff((0.72, 0.08, 0.08)), 5)
    art = tx.rule(60)
    f = Frame((-0.53, -3.05, 0.40)).turned("z", 90)
    s.layer = 2
    s.picture(art, [f(-0.1, 0), f(6.1, 0), f(6.1, -1.55), f(-0.1, -1.55)])
    s.patch(lambda u, v: f(-0.1, -1.55 * u, -0.06 * v), 4, 1, STEEL)
    s.layer = 3
    deck = Frame((7.4, 3.4, 0.37)).turned("z", 24)
    sh.rod(
        s, deck(0, 0, 0.35), deck(6.2, 0, 0.35), 0.35, Stuff((0.72, 0.14, 0.11), 0.06, 0.5), n=14
    )
    sh.rod(s, deck(6.2, 0, 0.35), deck(7.1, 0, 0.35), 0.34, PLY, 0.06, n=14)
    for x, y, a in (
        (-5.6, 1.8, 0.4),
        (-7.4, 0.5, 2.2),
        (-3.9, 4.2, 1.2),
        (5.2, -0.4, 2.7),
    ):  # swarf
        curl = [
            (
                x + 0.10 * i * math.cos(a) + 0.16 * math.cos(i * 0.9),
                y + 0.10 * i * math.sin(a) + 0.16 * math.sin(i * 0.9),
                0.42 + 0.01 * i,
            )
            for i in range(16)
        ]
        sh.hose(s, curl, 0.035, ALU, 5)
    return s.render(0.6, 0.9)


def skin_drill() -> Image.Image:
    """A skin with its pilot holes, the drill and the twist tool lying on it."""
    s = bench(
        LAND, (-7, -47, 40), (0, 2, 0), "skin", focal=1.65, depth=62, far=150, lamp=(-60, 10, 90)
    )
    f = Frame((-48, -19, 1.6)).turned("z", 3)

    def g(u: float, v: float) -> st.Vec:
        return f(u, v, 1.6 * max(0.0, (v - 30) / 14) ** 2 + 0.02 * math.sin(u / 7))

    line = [(0.0, 0.0), (96.0, 0.0), (90.0, 46.0), (4.0, 46.0)]
    holes, marks = [], []
    for i in range(47):
        holes += [
            sh.ring(2 + i * 1.96, 1.2, 0.16),
            sh.ring(4.6 + i * 1.84, 44.6, 0.16),
            sh.ring(3.0 + i * 1.92, 22, 0.16),
        ]
    for x in (4, 18, 32, 46, 60, 74, 88):
        for j in range(22):
            holes.append(sh.ring(x + 0.06 * (23 - j) * (46 - x) / 46, 2.6 + j * 2, 0.16))
        marks.append(
            (
                [(x + 1.0, 2.0), (x + 1.06, 2.0), (x + 1.06, 44.0), (x + 1.0, 44.0)],
                (0.30, 0.38, 0.56),
            )
        )
    for u, v in [(p[0][0] - 0.16, p[0][1]) for p in holes[:60]]:
        marks.append((sh.ring(u, v, 0.30), (0.98, 0.98, 1.0)))
    s.plate(g, Stuff((0.84, 0.87, 0.91), 0.62, 0.6), line, holes, cells=(96, 46), marks=marks)
    s.layer = 1
    for i in range(0, 47, 6):
        sh.cleco(s, g(3.0 + i * 1.92, 22), (0, 0, 1), 1.0, COPPER)
    s.layer = 2
    d = f.moved(50, 14, 0.25).turned("z", 152)
    sh.drill(s, d, Stuff((0.66, 0.68, 0.70), 0.55, 0.7))
    s.layer = 3
    sh.deburrer(s, f.moved(26, 6, 0.1).turned("z", 24))
    for _ in range(40):
        a, px, py = s.chance.uniform(0, 6), s.chance.uniform(8, 80), s.chance.uniform(2, 20)
        curl = [
            st.add(
                g(px, py),
                (
                    0.09 * i_ * math.cos(a) + 0.14 * math.cos(i_),
                    0.09 * i_ * math.sin(a) + 0.14 * math.sin(i_),
                    0.12,
                ),
            )
            for i_ in range(8)
        ]
        sh.hose(s, curl, 0.05, ALU, 4)
    return s.render(0.6, 0.8)


def torque() -> Image.Image:
    """A torque wrench on the hinge bolt, the paint mark across nut and bracket."""
    s = bench(
        LAND,
        (-9, -30, 22),
        (4.2, 0, 7.2),
        "torque",
        focal=1.7,
        depth=70,
        far=110,
        blur=22,
        lamp=(-24, -60, 52),
    )
    s.near = 10
    s.layer = 0
    wall_ = Frame((-30, 3, 0)).turned("z", -4)
    s.sheet(
        lambda u, v: wall_(60 * u, 0.2 * math.sin(3 * u), 18 * v),
        60,
        20,
        Stuff((0.84, 0.87, 0.91), 0.3, 0.5),
    )
    s.layer = 0.5
    for i in range(26):
        for z in (2.0, 16.4):
            sh.rivet(s, wall_(1 + i * 2.3, -0.06, z), (0, -1, 0.05), 0.42)
    s.layer = 1
    for z in (4.6, 10.0):
        f = Frame((-1, 2.6, z))
        line = (
            [(-4.2, 0.0), (4.2, 0.0), (3.1, -5.0)]
            + [
                (3.1 * math.cos(a), -5.6 - 2.6 * math.sin(a))
                for a in [i * math.pi / 10 for i in range(1, 10)]
            ]
            + [(-3.1, -5.0)]
        )
        for t in (0.0, 0.28, 0.5):
            s.layer = 1 if z < 6 else 3
            s.plate(
                lambda u, v, f=f, t=t: f(u, v, t),
                STEEL if t < 0.5 else Stuff((0.70, 0.72, 0.74), 0.6, 0.7),
                line,
                cells=(20, 16),
            )
        s.patch(lambda u, v, f=f: f(-4.2 + 8.4 * u, -0.05, -1.3 + 1.4 * v), 12, 2, STEEL)
    at = Frame((-1, -2.9, 0))
    s.layer = 2
    sh.lathe(
        s, Frame(at(0, 0, 5.1)), [(2.0, 0), (2.0, 4.9)], Stuff((0.80, 0.68, 0.36), 0.5, 0.6), 36
    )
    s.layer = 4
    sh.lathe(
        s,
        Frame(at(0, 0, 10.5)),
        [(1.75, 0), (1.75, 0.16), (0, 0.16)],
        Stuff((0.76, 0.78, 0.80), 0.7, 0.7),
        40,
    )
    hexa = [(1.22, 0.16), (1.22, 1.15), (0.85, 1.3)]
    for (r0, z0), (r1, z1) in pairwise(hexa):
        s.patch(
            lambda u, v, r0=r0, z0=z0, r1=r1, z1=z1: at(
                (r0 + (r1 - r0) * v) * hexr(u) * math.cos(6.283 * u),
                (r0 + (r1 - r0) * v) * hexr(u) * math.sin(6.283 * u),
                10.5 + z0 + (z1 - z0) * v,
            ),
            48,
            2,
            STEEL,
        )
    s.layer = 7
    s.patch(
        lambda u, v: at(
            0.85 * v * hexr(u) * math.cos(6.283 * u), 0.85 * v * hexr(u) * math.sin(6.283 * u), 11.8
        ),
        48,
        1,
        STEEL,
    )
    sh.lathe(
        s,
        Frame(at(0, 0, 11.8)),
        [(0.62, 0), (0.62, 0.5), (0.5, 0.62), (0, 0.62)],
        Stuff((0.78, 0.70, 0.45), 0.6, 0.7),
        24,
    )
    for dz in (0.62, 0.95):
        s.patch(
            lambda u, v, dz=dz: at(
                1.22 * hexr(u) * math.cos(6.283 * u),
                1.22 * hexr(u) * math.sin(6.283 * u),
                10.5 + dz + 0.33 * v,
            ),
            48,
            1,
            STEEL,
        )
    s.patch(
        lambda u, v: at(
            (1.22 - 0.37 * v) * hexr(u) * math.cos(6.283 * u),
            (1.22 - 0.37 * v) * hexr(u) * math.sin(6.283 * u),
            11.65 + 0.15 * v,
        ),
        48,
        1,
        STEEL,
    )
    s.layer = 5
    head = Frame(at(0, 0, 10.95)).turned("z", -20)
    inner = [
        (
            1.32 * hexr(i / 24) * math.cos(i / 24 * 6.283),
            1.32 * hexr(i / 24) * math.sin(i / 24 * 6.283),
        )
        for i in range(24)
    ]
    tongue = [
        (2.45 * math.cos(a), 2.45 * math.sin(a))
        for a in [0.42 + i * (6.283 - 0.84) / 30 for i in range(31)]
    ]
    line = [*tongue, (6.5, -0.95), (6.5, 0.95)]
    for t in (0.0, 0.2, 0.4, 0.55):
        s.plate(
            lambda u, v, t=t: head(u, v, t),
            DARK_STEEL if t < 0.5 else Stuff((0.74, 0.76, 0.79), 0.75, 0.9),
            line,
            [inner],
            cells=(26, 20),
        )
    s.layer = 6
    h = Frame(head(6.0, 0, 0.3), head.ey, head.ez, head.ex)
    sh.lathe(s, h, [(0.85, 0), (1.15, 0.3), (1.15, 16)], Stuff((0.76, 0.78, 0.80), 0.75, 0.9), 30)
    sh.lathe(s, h, [(1.2, 9.6), (1.2, 12.4)], Stuff((0.16, 0.26, 0.46), 0.1, 0.5), 30)
    sh.lathe(
        s,
        h,
        [(1.5, 16), (1.6, 16.4), (1.6, 30), (1.2, 30.6), (0, 30.6)],
        Stuff((0.09, 0.09, 0.10), 0.08, 0.5),
        30,
    )
    s.layer = 9
    stripe = Stuff((0.86, 0.30, 0.08), 0.02, 0.5)
    path = [
        at(0.1, -0.70, 11.84),
        at(0.12, -0.88, 11.80),
        at(0.14, -1.16, 11.6),
        at(0.14, -1.22, 11.1),
        at(0.14, -1.24, 10.8),
        at(0.15, -1.5, 10.72),
        at(0.16, -1.78, 10.70),
        at(0.18, -1.85, 10.55),
        at(0.2, -2.4, 10.54),
        at(0.22, -3.0, 10.53),
    ]
    sh.hose(s, path, 0.14, stripe, 8)
    return s.render(0.6, 1.2)


def hexr(u: float) -> float:
    """How far the side of a hexagon of circumradius 1 stands from its middle."""
    a = (u * 6) % 1 - 0.5
    return 0.866 / math.cos(a * math.pi / 3)


def panel() -> Image.Image:
    """The instrument panel, its holes cut, leaning on blocks; the fly-cutter before it."""
    s = bench(
        LAND,
        (-16, -70, 30),
        (0, 4, 15),
        "panel",
        focal=1.55,
        depth=56,
        far=190,
        lamp=(-60, -50, 90),
    )
    s.layer = 1
    f = Frame((-50, 10, 0.4)).turned("x", -14)
    w, h = 100.0, 34.0
    line = (
        [(0.0, 0.0), (w, 0.0), (w, h * 0.62)]
        + [
            (w / 2 + w / 2 * math.cos(a), h * 0.62 + h * 0.38 * math.sin(a) ** 0.7)
            for a in [0.1 + i * 0.0981 for i in range(31)]
        ]
        + [(0.0, h * 0.62)]
    )
    cuts = [
        sh.ring(16, 21, 4),
        sh.ring(28, 21, 4),
        sh.ring(16, 10.6, 4),
        sh.ring(28, 10.6, 4),
        sh.ring(88, 21, 2.9),
        sh.ring(88, 12, 2.9),
    ]
    cuts += [
        [(37, 8), (61, 8), (61, 26), (37, 26)],
        [(65, 18), (82, 18), (82, 25), (65, 25)],
        [(65, 9), (82, 9), (82, 16), (65, 16)],
    ]
    cuts += [sh.ring(14 + i * 6, 3, 0.6) for i in range(13)]
    for x, y, r in ((16, 21, 4.9), (28, 21, 4.9), (16, 10.6, 4.9), (28, 10.6, 4.9)):
        cuts += [
            sh.ring(x + r * math.cos(a), y + r * math.sin(a), 0.28, n=10)
            for a in (0.785, 2.356, 3.927, 5.498)
        ]
    for x, y in ((36, 7), (62, 7), (62, 27), (36, 27)):
        cuts.append(sh.ring(x, y, 0.3, n=10))
    marks = [
        ([(x - 0.05, 4.5), (x + 0.05, 4.5), (x + 0.05, 30), (x - 0.05, 30)], (0.34, 0.40, 0.55))
        for x in (16, 28, 49, 73.5, 88)
    ]
    marks += [
        ([(6, y - 0.05), (94, y - 0.05), (94, y + 0.05), (6, y + 0.05)], (0.34, 0.40, 0.55))
        for y in (10.6, 21)
    ]
    back = f.moved(0, 0.5, 0)
    s.plate(
        lambda u, v: back(u, 0, v),
        Stuff((0.95, 0.96, 0.98), 0.5, 0.5),
        line,
        [[(x + 0.1, y - 0.1) for x, y in c] for c in cuts],
        cells=(4, 4),
        throw=False,
    )
    s.layer = 2
    s.plate(
        lambda u, v: f(u, 0, v),
        Stuff((0.80, 0.83, 0.87), 0.55, 0.5),
        line,
        cuts,
        cells=(60, 26),
        marks=marks,
    )
    s.layer = 0
    for x in (-44, 36):
        sh.box(s, Frame((x, 22, 0)), 9, 12, 20, WOOD, 4)
    s.layer = 3
    d = Frame((6, -26, 0.2)).turned("z", 14)
    sh.lathe(
        s,
        Frame(d(0, 0, 1.4), d.ey, d.ez, d.ex),
        [(0, 0), (0.7, 0.1), (0.7, 7), (1.5, 7.2), (1.5, 9.4), (0.35, 9.6), (0.35, 14), (0, 14.6)],
        STEEL,
        20,
    )
    sh.box(s, d.moved(7.6, -6.5, 0.9), 1.2, 13, 1.2, STEEL, 3)
    sh.box(s, d.moved(7.4, 5.4, 0.7), 4.2, 1.2, 1.4, DARK_STEEL, 3)
    s.plate(
        lambda u, v: Frame((-30, -22, 0.3)).turned("z", 8)(u, v, 0.15),
        ALU,
        sh.ring(0, 0, 3.95, n=40),
        [sh.ring(0, 0, 0.35)],
        cells=(10, 10),
    )
    s.plate(
        lambda u, v: Frame((-22, -27, 0.3))(u, v, 0.1),
        ALU,
        sh.ring(0, 0, 3.95, n=40),
        [sh.ring(0, 0, 0.35)],
        cells=(10, 10),
    )
    for _ in range(60):
        a, px, py = s.chance.uniform(0, 6), s.chance.gauss(-6, 18), s.chance.gauss(-13, 5)
        curl = [
            (
                px + 0.1 * j * math.cos(a) + 0.2 * math.cos(j),
                py + 0.1 * j * math.sin(a) + 0.2 * math.sin(j),
                0.2,
            )
            for j in range(9)
        ]
        sh.hose(s, curl, 0.05, ALU, 4)
    return s.render(0.6, 1.0)


def cushion(s: Stage, f: Frame, w: float, h: float, fat: float, flutes: int, stuff: Stuff) -> None:
    """A padded cover in the frame's x-y, swelling along z, with stitched flutes."""

    def g(u: float, v: float) -> st.Vec:
        side = (1 - abs(2 * u - 1) ** 6) * (1 - abs(2 * v - 1) ** 8)
        inside = 0.14 < u < 0.86
        t = (u - 0.14) / 0.72 * flutes
        groove = 0.28 * (1 - abs(math.sin(math.pi * t)) ** 0.45) if inside else 0.0
        edge = 0.35 * math.exp(-(((u - 0.14) / 0.012) ** 2)) + 0.35 * math.exp(
            -(((u - 0.86) / 0.012) ** 2)
        )
        wing = 0.55 * (max(0.0, abs(2 * u - 1) - 0.72) / 0.28)
        return f(
            w * u,
            h * v,
            fat * (max(0.0, side) ** 0.5 * (1 - groove - edge) + wing * max(0.0, side) ** 0.3),
        )

    s.patch(g, 130, 44, stuff)
    for x in (0.125, 0.155, 0.845, 0.875):
        for j in range(46):
            v = 0.06 + 0.88 * j / 46
            a, b = g(x, v), g(x, v + 0.010)
            up = st.mul(f.ez, 0.06)
            q = st.mul(f.ex, 0.16)
            s.flat(
                [st.add(a, up), st.add(b, up), st.add(st.add(b, up), q), st.add(st.add(a, up), q)],
                (0.80, 0.66, 0.46),
                st.add(a, st.mul(f.ez, 1.0)),
            )


def seat() -> Image.Image:
    """A seat shell on the bench with the new fluted cover on it."""
    s = bench(
        LAND,
        (-56, -92, 62),
        (0, 4, 25),
        "seat",
        focal=1.72,
        depth=62,
        far=240,
        lamp=(-70, -70, 130),
    )
    base = Frame((-24, -24, 6)).turned("z", 16)
    shell = Stuff((0.20, 0.21, 0.22), 0.12, 0.5)
    s.layer = 0
    sh.box(s, base.moved(-1, -1, -5), 52, 50, 4.5, shell, 8)
    for x in (4, 42):
        sh.box(s, base.moved(x, -3, -5.8), 4, 54, 1.6, ALU, 6)
    bf = base.moved(-1, 46, 2).turned("x", 74)
    s.layer = 1
    s.patch(lambda u, v: bf(-1 + 54 * u, 62 * v, -3.6 + 1.5 * abs(2 * u - 1) ** 4), 30, 20, shell)
    for e in (0, 1):
        s.patch(
            lambda u, v, e=e: bf(-1 + 54 * e, 62 * v, -3.6 + 6 * u * (1 - 0.3 * v)), 8, 20, shell
        )
    s.layer = 2
    cushion(s, bf.moved(1, 1, -2), 50, 60, 6.0, 6, HIDE)
    s.layer = 3
    cushion(s, base.moved(0, -1, 0), 50, 46, 8.5, 6, HIDE)
    s.patch(
        lambda u, v: base(50 * u, -1.0 - 1.2 * math.sin(math.pi * v), 0.2 + 3.5 * v), 40, 6, HIDE
    )
    s.layer = 4
    sh.lathe(
        s,
        Frame((44, -22, 0)),
        [(0, 0.1), (2.6, 0.1), (2.6, 0.6), (0.9, 0.7), (0.9, 5.3), (2.6, 5.4), (2.6, 6), (0, 6)],
        PLY,
        26,
    )
    sh.lathe(s, Frame((44, -22, 0)), [(2.1, 0.8), (2.1, 5.2)], Stuff((0.80, 0.66, 0.46)), 26)
    off = Frame((34, -40, 0.2)).turned("z", 30)
    s.patch(
        lambda u, v: off(14 * u, 10 * v, 0.3 + 0.9 * math.sin(3 * u + 2 * v) ** 2 * u), 20, 14, HIDE
    )
    return s.render(0.6, 1.2)


def weld() -> Image.Image:
    """A close view of the weld round the leg socket, rows of ripples, heat colours."""
    s = bench(
        LAND,
        (-7, -21, 17),
        (0.4, 0, 4.3),
        "weld",
        focal=1.75,
        depth=60,
        far=80,
        blur=30,
        lamp=(-26, -22, 40),
    )
    s.near = 8
    steel = Stuff((0.44, 0.45, 0.47), 0.5, 0.6)

    def heat(d: float) -> Stuff:
        bands = (
            (0.0, (0.46, 0.45, 0.46)),
            (0.7, (0.40, 0.42, 0.54)),
            (1.4, (0.50, 0.40, 0.50)),
            (2.1, (0.62, 0.50, 0.32)),
            (3.0, (0.48, 0.48, 0.49)),
        )
        for (a, ca), (b, cb) in pairwise(bands):
            if d <= b:
                return Stuff(st.mix(ca, cb, (d - a) / (b - a)), 0.5, 0.6)
        return steel

    f = Frame((0, 0, 0.3)).turned("z", 14)
    s.layer = 0
    n, m = 140, 86
    for i in range(n):
        for j in range(m):
            x0, x1, y0, y1 = (
                -13 + 26 * i / n,
                -13 + 26 * (i + 1) / n,
                -8 + 16 * j / m,
                -8 + 16 * (j + 1) / m,
            )
            d = math.hypot((x0 + x1) / 2, (y0 + y1) / 2) - 4.2
            mid = f((x0 + x1) / 2, (y0 + y1) / 2, 1.2)
            stuff = heat(max(0.0, d))
            s.flat(
                [f(x0, y0, 1.2), f(x1, y0, 1.2), f(x1, y1, 1.2), f(x0, y1, 1.2)],
                s.shade(stuff, mid, (0.006 * s.chance.uniform(-1, 1), 0, 1)),
                mid,
                throw=True,
            )
    s.patch(lambda u, v: f(-13 + 26 * u, -8, 1.2 * v), 30, 2, steel)
    s.patch(lambda u, v: f(-13, -8 + 16 * u, 1.2 * v), 30, 2, steel)
    s.layer = 1
    for x, y in ((-10.6, -5.6), (10.6, -5.6), (-10.6, 5.6), (10.6, 5.6)):
        sh.disc(s, f(x, y, 1.22), f.ez, 1.0, (0.40, 0.40, 0.42), 30)
        sh.disc(s, f(x, y, 1.23), f.ez, 0.86, (0.05, 0.04, 0.04), 30, push=0.1)
    s.layer = 2
    for j in range(30):
        stuff = heat(1.6 + j * 0.3)
        s.patch(
            lambda u, v, j=j: f(
                3.7 * math.cos(6.283 * u), 3.7 * math.sin(6.283 * u), 1.2 + (j + v) * 0.28
            ),
            144,
            1,
            stuff,
        )
    s.layer = 3
    top = 1.2 + 30 * 0.28
    s.patch(
        lambda u, v: f(
            (3.0 + 0.7 * v) * math.cos(6.283 * u), (3.0 + 0.7 * v) * math.sin(6.283 * u), top
        ),
        72,
        1,
        Stuff((0.74, 0.75, 0.77), 0.7, 0.8),
    )
    s.layer = 4
    s.patch(
        lambda u, v: f(3.0 * v * math.cos(6.283 * u), 3.0 * v * math.sin(6.283 * u), top - 0.1),
        60,
        1,
        Stuff((0.04, 0.04, 0.04)),
    )
    s.layer = 5
    ripples = 58
    for k in range(ripples):
        a = 2 * math.pi * k / ripples
        s.layer = 1 if math.sin(a + math.radians(14)) > 0.12 else 5
        wob = s.chance.uniform(-0.05, 0.05)

        def bead(u: float, v: float, a: float = a, wob: float = wob) -> st.Vec:
            t = (u - 0.5) * 2
            spin = a + 0.098 * (v - 0.5) * 1.25 + 0.05 * t * t
            swell = (
                0.34
                * math.sqrt(max(0.0, 1 - t * t))
                * (0.72 + 0.5 * math.sin(math.pi * min(1.0, v * 1.02)) ** 0.7)
            )
            r = 3.78 + 0.42 * (1 - t) + swell * 0.72 + wob
            z = 1.22 + 0.46 * (1 + t) + swell * 0.72
            return f(r * math.cos(spin), r * math.sin(spin), z)

        s.patch(bead, 10, 8, Stuff((0.62, 0.61, 0.60), 0.62, 0.9))
    s.layer = 6
    return s.render(0.6, 1.0)


def rivet_rows() -> Image.Image:
    """Rows of flush rivets on the top skin; a gloved hand with the flush set."""
    s = bench(
        LAND,
        (-12, -34, 34),
        (0, 4, 0),
        "rows",
        focal=1.6,
        wall=False,
        depth=80,
        far=120,
        lamp=(-60, 30, 60),
    )
    skin = Stuff((0.84, 0.87, 0.91), 0.68, 0.6)

    def g(u: float, v: float) -> st.Vec:
        x, y = -60 + 120 * u, -22 + 80 * v
        return (x, y, 2.5 - 0.0022 * (y - 10) ** 2)

    s.sheet(g, 110, 70, skin)
    s.layer = 1
    for r in range(6):
        y = (-18 + r * 11.5 + 22) / 80
        for i in range(48):
            u = (i + 0.5) / 48
            at = st.add(g(u, y), (0, 0, 0.03))
            if r == 2 and u > 0.47:
                sh.disc(s, at, (0, 0, 1), 0.34, (0.60, 0.62, 0.65), 16)
                sh.disc(s, at, (0, 0, 1), 0.19, (0.10, 0.09, 0.08), 14, push=0.1)
            else:
                sh.rivet(s, at, (0, 0, 1), 0.46, flush=True)
    for c in (0.18, 0.52, 0.86):
        for i in range(28):
            sh.rivet(s, st.add(g(c, (i + 0.5) / 28), (0, 0, 0.03)), (0, 0, 1), 0.46, flush=True)
    s.layer = 2
    for i in (28, 32, 36, 40):
        sh.cleco(s, g((i + 0.5) / 48, (5 + 22) / 80), (0, 0, 1), 1.3, COPPER)
    s.layer = 3
    foot = g((22.5) / 48, (5 + 22) / 80)
    axis = st.unit((0.30, -0.22, 1.0))
    h = sh.along(foot, st.add(foot, axis))
    sh.lathe(
        s,
        h,
        [(0, 0.05), (2.3, 0.1), (2.3, 0.9), (1.2, 1.5), (0.75, 2.2), (0.75, 9)],
        Stuff((0.74, 0.76, 0.78), 0.7, 0.9),
        36,
    )
    sh.lathe(
        s,
        h,
        [(1.3, 7), (1.5, 7.2), (1.5, 9.6), (2.0, 10), (2.2, 11), (2.2, 24)],
        Stuff((0.62, 0.63, 0.66), 0.6, 0.8),
        36,
    )
    drawn = s.render(0.65, 0.9)
    fist(drawn, s.see(h(0, 0, 15.5)))
    return drawn


def fist(image: Image.Image, at: st.Point) -> None:
    """Runa's gloved hand round the gun, her sleeve coming in from the right."""
    x, y = at
    glove, sleeve = (176, 128, 74), (50, 66, 96)
    limbs(image, x, y, sleeve, [(620, -170, 1700, -420, 230)])
    limbs(image, x, y, (214, 204, 184), [(520, -120, 600, -150, 196)])
    limbs(image, x, y, glove, [(150, -10, 470, -80, 176), (110, -90, 150, 80, 120)])
    for i, (dy, r) in enumerate(((-172, 60), (-62, 66), (52, 66), (158, 58))):
        limbs(
            image,
            x,
            y,
            glove,
            [
                (190, dy - 8, 20, dy - 16, r),
                (20, dy - 16, -118 + 14 * abs(i - 1), dy + 8, r),
                (-118 + 14 * abs(i - 1), dy + 8, -96, dy + 34, r * 0.86),
            ],
            14,
        )
    limbs(image, x, y, glove, [(210, -190, 60, -268, 66), (60, -268, -70, -262, 58)], 14)


def lamp() -> Image.Image:
    """The bench as it was left: one lamp, one rib, a mug, dust."""
    s = bench(
        LAND, (8, -72, 40), (-4, 4, 16), "lamp", focal=1.6, depth=60, far=200, lamp=(-18, -2, 42)
    )
    s.image = s.image.point([int(i * 0.56) for i in range(256)] * 3)
    s.pen = ImageDraw.Draw(s.image)
    s.casts = False
    sh.lathe(s, Frame((-40, 6, 0)), [(0, 0.2), (7, 0.2), (7, 1.6), (1.4, 2.2)], BLACK, 30)
    sh.rod(s, (-40, 6, 2), (-46, 10, 28), 0.7, STEEL)
    sh.rod(s, (-46, 10, 28), (-24, 2, 46), 0.7, STEEL)
    hood = Frame((-22, 0, 46)).turned("y", -14)
    sh.lathe(
        s, hood, [(1.2, 2), (2.2, 0), (3, -3), (8, -10)], Stuff((0.10, 0.28, 0.22), 0.08, 0.6), 36
    )
    s.layer = 1
    sh.ball(s, hood(0, 0, -7.4), 2.6, Stuff((1.0, 0.94, 0.74), 0, 0, 1.2))
    s.layer = 0
    s.casts = True
    sh.rib(
        s,
        Frame((-20, -14, 0.2)).turned("z", 7),
        56,
        ALU,
        x0=0.02,
        x1=0.76,
        thick=0.17,
        holes=((0.2, 0.055), (0.37, 0.068), (0.54, 0.052)),
        flange=1.8,
    )
    s.layer = 2
    cup = Frame((34, 6, 0.1))
    sh.lathe(
        s,
        cup,
        [(0, 0), (4, 0), (4.2, 9.4), (3.8, 9.4), (3.7, 8)],
        Stuff((0.82, 0.80, 0.74), 0.05, 0.6),
        34,
    )
    sh.hose(
        s,
        [
            cup(4.1 + 2.4 * math.sin(a), 0, 4.8 + 2.8 * math.cos(a))
            for a in [i * 0.2 for i in range(17)]
        ],
        0.5,
        Stuff((0.82, 0.80, 0.74), 0.05, 0.6),
        8,
    )
    s.layer = 3
    sh.lathe(s, cup, [(3.75, 7.6), (0, 7.6)], Stuff((0.16, 0.09, 0.05), 0.1, 0.5), 30)
    g = Frame((14, -25, 0)).turned("z", 12)
    sh.drill(s, g, Stuff((0.66, 0.68, 0.70), 0.55, 0.7))
    drawn = s.render(0.7, 1.2)
    pool = Image.new("L", drawn.size)
    x, y = s.see((-14, -4, 0))
    ImageDraw.Draw(pool).ellipse((x - 1150, y - 560, x + 1150, y + 620), fill=210)
    ImageDraw.Draw(pool).polygon(
        [s.see(hood(8, 0, -10)), s.see(hood(-8, 0, -10)), (x - 900, y), (x + 900, y)], fill=120
    )
    pool = pool.filter(ImageFilter.GaussianBlur(150))
    warm = Image.merge(
        "RGB", [pool.point([int(i * k) for i in range(256)]) for k in (1.0, 0.78, 0.44)]
    )
    return ImageChops.screen(
        drawn, ImageChops.multiply(warm, drawn.point([min(255, 110 + i) for i in range(256)] * 3))
    )
