"""The things of the workshop, put together from the stage's faces and sheets.

Each function puts one thing on a stage; measures are centimetres, as there.
"""

# ruff: noqa: D103, PLR0913, PLR0917
# A picture is one long list of where things stand; splitting it would hide the drawing.

# mypy: disable-error-code="misc"
from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from tests.example import stage as st
from tests.example.stage import (
    ALU,
    BRASS,
    COPPER,
    STEEL,
    WOOD,
    Colour,
    Frame,
    Point,
    Stage,
    Stuff,
    Vec,
)


def ring(u: float, v: float, ru: float, rv: float | None = None, n: int = 22) -> list[Point]:
    """A round hole or mark in the (u, v) of a sheet."""
    rv = ru if rv is None else rv
    return [
        (u + ru * math.cos(2 * math.pi * i / n), v + rv * math.sin(2 * math.pi * i / n))
        for i in range(n)
    ]


def box(s: Stage, f: Frame, x: float, y: float, z: float, stuff: Stuff, cells: int = 6) -> None:
    """A block from the frame's origin to (x, y, z)."""
    n = cells
    s.patch(lambda u, v: f(u * x, v * y, z), n, n, stuff)
    s.patch(lambda u, v: f(u * x, 0, v * z), n, n, stuff)
    s.patch(lambda u, v: f(u * x, y, v * z), n, n, stuff)
    s.patch(lambda u, v: f(0, u * y, v * z), n, n, stuff)
    s.patch(lambda u, v: f(x, u * y, v * z), n, n, stuff)


def lathe(
    s: Stage, f: Frame, profile: Sequence[Point], stuff: Stuff, n: int = 24, *, throw: bool = True
) -> None:
    """A turned thing: (radius, height) along the frame's z; finer where it looks large."""
    widest_px = max(r for r, _ in profile) * s.scale_px / max(1.0, s.distance(f.origin))
    n = max(n, min(160, int(widest_px / 1.5))) if n > 8 else n
    for (r0, z0), (r1, z1) in pairwise(profile):

        def f_uv(
            u: float, v: float, r0: float = r0, z0: float = z0, r1: float = r1, z1: float = z1
        ) -> Vec:
            a, r = 2 * math.pi * u, r0 + (r1 - r0) * v
            return f(r * math.cos(a), r * math.sin(a), z0 + (z1 - z0) * v)

        steps = max(1, min(6, int(math.hypot(r1 - r0, z1 - z0) / 3)))
        s.patch(f_uv, n, steps, stuff, throw=throw)


def along(a: Vec, b: Vec) -> Frame:
    """A frame at a whose z looks at b."""
    ez = st.unit(st.sub(b, a))
    side = (0.0, 0.0, 1.0) if abs(ez[2]) < 0.9 else (1.0, 0.0, 0.0)
    ex = st.unit(st.cross(side, ez))
    return Frame(a, ex, st.cross(ez, ex), ez)


def rod(
    s: Stage, a: Vec, b: Vec, r: float, stuff: Stuff, r1: float | None = None, n: int = 16
) -> None:
    length = math.dist(a, b)
    end = r if r1 is None else r1
    lathe(s, along(a, b), [(0, 0), (r, 0), (end, length), (0, length)], stuff, n)


def hose(s: Stage, points: Sequence[Vec], r: float, stuff: Stuff, n: int = 10) -> None:
    """A tube along a line of points."""
    frames = [along(p, q) for p, q in pairwise(points)]
    frames.append(Frame(points[-1], frames[-1].ex, frames[-1].ey, frames[-1].ez))

    def f(u: float, v: float) -> Vec:
        fr = frames[round(u * (len(frames) - 1))]
        a = 2 * math.pi * v
        return fr(r * math.cos(a), r * math.sin(a), 0)

    s.patch(f, len(frames) - 1, n, stuff)


def ball(s: Stage, at: Vec, r: float, stuff: Stuff, squash: Vec = (1, 1, 1), n: int = 18) -> None:
    def f(u: float, v: float) -> Vec:
        a, b = 2 * math.pi * u, math.pi * (v - 0.5)
        return (
            at[0] + r * squash[0] * math.cos(a) * math.cos(b),
            at[1] + r * squash[1] * math.sin(a) * math.cos(b),
            at[2] + r * squash[2] * math.sin(b),
        )

    s.patch(f, n, n // 2, stuff)


def disc(
    s: Stage, at: Vec, normal: Vec, r: float, colour: Colour, n: int = 12, push: float = 0.0
) -> None:
    """A flat round spot of a ready colour, `push` nearer to the eye in the sorting."""
    f = along(at, st.add(at, normal))
    points = [
        f(r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n)) for i in range(n)
    ]
    nearer = st.add(at, st.mul(st.unit(st.sub(s.eye, at)), push))
    s.flat(points, colour, nearer)


def rivet(
    s: Stage, at: Vec, normal: Vec, r: float, *, flush: bool = False, push: float = 0.6
) -> None:
    """A rivet's head: a dome with its small shadow and its spark of light."""
    normal = st.unit(normal)
    tint = s.shade(ALU, at, normal)
    lamp = st.unit(st.sub(s.lamp, at))
    slide = st.sub(lamp, st.mul(normal, st.dot(lamp, normal)))
    if flush:
        disc(s, at, normal, r, st.mul(tint, 0.58), push=push)
        disc(s, at, normal, r * 0.84, st.mul(tint, 0.97), push=push + 0.05)
        return
    disc(s, st.add(at, st.mul(slide, -0.45 * r)), normal, r * 1.12, st.mul(tint, 0.45), push=push)
    disc(s, at, normal, r, st.mul(tint, 0.74), push=push + 0.05)
    disc(
        s,
        st.add(at, st.mul(slide, 0.20 * r)),
        normal,
        r * 0.72,
        st.mul(tint, 0.98),
        push=push + 0.1,
    )
    disc(
        s,
        st.add(at, st.mul(slide, 0.42 * r)),
        normal,
        r * 0.3,
        (1.0, 0.99, 0.95),
        8,
        push=push + 0.15,
    )


def cleco(s: Stage, at: Vec, normal: Vec, size: float = 1.0, stuff: Stuff = COPPER) -> None:
    """A spring clamp standing in a hole: body, collar and plunger."""
    f = along(at, st.add(at, normal))
    k = size
    lathe(s, f, [(0.0, 0), (0.36 * k, 0.02), (0.36 * k, 0.35 * k), (0.46 * k, 0.4 * k)], STEEL, 12)
    lathe(s, f, [(0.46 * k, 0.4 * k), (0.46 * k, 1.9 * k), (0.38 * k, 2.05 * k)], stuff, 12)
    lathe(
        s,
        f,
        [
            (0.38 * k, 2.05 * k),
            (0.2 * k, 2.1 * k),
            (0.2 * k, 2.6 * k),
            (0.3 * k, 2.65 * k),
            (0.3 * k, 2.95 * k),
            (0, 3.0 * k),
        ],
        STEEL,
        12,
    )


def airfoil(
    n: int = 24, thick: float = 0.13, x0: float = 0.0, x1: float = 1.0, curve: float = 0.02
) -> list[Point]:
    """A wing section between two parts of its chord, as a closed outline."""

    def half(x: float) -> float:
        return (
            5
            * thick
            * (0.2969 * math.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
        )

    xs = [x0 + (x1 - x0) * (0.5 - 0.5 * math.cos(math.pi * i / n)) for i in range(n + 1)]
    camber = [4 * curve * x * (1 - x) for x in xs]
    top = [(x, c + half(x)) for x, c in zip(xs, camber, strict=True)]
    low = [(x, c - half(x)) for x, c in zip(xs, camber, strict=True)]
    return top + low[::-1]


def rib(
    s: Stage,
    f: Frame,
    chord: float,
    stuff: Stuff,
    *,
    x0: float = 0.0,
    x1: float = 1.0,
    thick: float = 0.13,
    holes: Sequence[tuple[float, float]] = (),
    flange: float = 1.6,
    height: float = 1.0,
) -> None:
    """A pressed rib lying in the frame's x-y, its flange standing up along z.

    `holes` are (place along the chord, radius as a part of the chord).
    """
    outline = [(x * chord, y * chord * height) for x, y in airfoil(22, thick, x0, x1)]
    rounds = [(x * chord, 0.016 * chord, r * chord) for x, r in holes]
    cuts = [ring(x, y, r) for x, y, r in rounds]
    s.plate(lambda u, v: f(u, v, 0), stuff, outline, cuts, cells=(16, 5))
    for x, y, r in rounds:
        s.patch(
            lambda u, v, x=x, y=y, r=r: f(
                x + (r + 0.35 - 0.35 * v) * math.cos(2 * math.pi * u),
                y + (r + 0.35 - 0.35 * v) * math.sin(2 * math.pi * u),
                0.05 + 0.5 * v,
            ),
            22,
            1,
            stuff,
        )
    n = len(outline)

    def edge(u: float, v: float) -> Vec:
        i = min(n - 1, int(u * n + 0.5)) % n
        x, y = outline[i]
        wave = 1.0 - 0.04 * (i % 3 == 1)
        return f(x, y * wave, flange * v)

    s.patch(edge, n - 1, 1, stuff)


def channel(
    s: Stage,
    f: Frame,
    length: float,
    height: float,
    flange: float,
    stuff: Stuff,
    holes: Sequence[tuple[float, float]] = (),
    taper: float = 0.0,
) -> None:
    """A C section along x: web in the x-z of the frame, flanges towards +y."""

    def tall(x: float) -> float:
        return height * (1 - taper * x / length)

    web = [(0.0, 0.0), (length, 0.0), (length, tall(length)), (0.0, tall(0))]
    cuts = [ring(x, tall(x) / 2, r) for x, r in holes]
    s.plate(lambda u, v: f(u, 0, v), stuff, web, cuts, cells=(26, 4))
    for x, r in holes:
        s.patch(
            lambda u, v, x=x, r=r: f(
                x + (r + 0.3 - 0.3 * v) * math.cos(2 * math.pi * u),
                -0.4 * v,
                tall(x) / 2 + (r + 0.3 - 0.3 * v) * math.sin(2 * math.pi * u),
            ),
            22,
            1,
            stuff,
        )
    s.patch(lambda u, v: f(u * length, v * flange, 0), 24, 1, stuff)
    s.patch(lambda u, v: f(u * length, v * flange, tall(u * length)), 24, 1, stuff)


def horse(s: Stage, x: float, y: float, width: float, height: float, stuff: Stuff = WOOD) -> None:
    """A sawhorse with a padded top, standing on z = 0."""
    box(s, Frame((x - 3, y - width / 2, height - 5)), 6, width, 5, stuff)
    box(s, Frame((x - 3.4, y - width / 2, height)), 6.8, width, 1.2, Stuff((0.42, 0.20, 0.17)))
    for side in (-1, 1):
        for end in (-1, 1):
            a = (x + side * 1.5, y + end * (width / 2 - 6), height - 3)
            b = (x + side * height * 0.28, y + end * (width / 2 - 3), 0.0)
            rod(s, a, b, 2.0, stuff, n=4)


def drill(s: Stage, f: Frame, body: Stuff) -> None:
    """An air drill lying on its side: barrel along x, grip along -y, bit at the nose."""
    barrel = Frame(f(0, 0, 2.6), f.ey, f.ez, f.ex)
    lathe(s, barrel, [(0, 0), (2.0, 0.1), (2.6, 1.2), (2.6, 9), (2.2, 10.5), (1.5, 11)], body, 28)
    lathe(s, barrel, [(1.5, 11), (1.7, 11.2), (1.7, 13.6), (1.1, 15), (0.5, 15.2)], STEEL, 24)
    lathe(s, barrel, [(0.26, 15.2), (0.26, 21), (0.0, 21.8)], BRASS, 8)
    grip = Frame(f(2.4, -1.2, 2.6), f.ez, f.ex, st.mul(f.ey, -1)).turned("y", 0)
    lathe(
        s,
        grip,
        [(1.7, 0), (1.6, 4), (1.9, 9), (1.9, 11), (0, 11.2)],
        Stuff((0.10, 0.10, 0.11), 0.05, 0.3),
        20,
    )
    lathe(
        s,
        Frame(grip(0, 0, 11.2), grip.ex, grip.ey, grip.ez),
        [(0.7, 0), (0.7, 2.2), (0, 2.3)],
        BRASS,
        12,
    )
    rod(s, f(5.3, -1.5, 2.6), f(5.3, -3.2, 2.6), 0.6, STEEL, n=10)


def deburrer(s: Stage, f: Frame) -> None:
    """The twist tool: a wooden handle with a swivelling cutter, lying along x."""
    g = Frame(f(0, 0, 1.3), f.ey, f.ez, f.ex)
    lathe(
        s,
        g,
        [(0, 0), (1.0, 0.2), (1.35, 2), (1.0, 5), (1.2, 8), (0.8, 8.6)],
        Stuff((0.62, 0.22, 0.14), 0.05, 0.5),
        20,
    )
    lathe(s, g, [(0.8, 8.6), (0.8, 9.4), (0.3, 9.5), (0.3, 13)], STEEL, 14)
    lathe(s, g, [(0.3, 13), (0.75, 13.2), (0.75, 14), (0, 15)], STEEL, 14)
