"""A small stage for workshop pictures: a camera, a lamp and a painter's list.

Faces are sorted far to near inside a layer and drawn with Pillow; the shade of
each comes from its angle to the lamp and, for metal, from what it mirrors.
Shadows on the bench are the faces thrown down from the lamp and blurred; soft
darkening where things stand before one another comes from the blurred depth.

Lengths are centimetres; x to the right, y away from the viewer, z up, the
bench top at z = 0. Colours are (r, g, b) from 0 to 1. This is not a general
renderer: no face may reach behind the camera, and faces do not cut each other.
"""

# ruff: noqa: D102, D103, PLR0913, PLR0917
# A picture is one long list of where things stand; splitting it would hide the drawing.

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from PIL import Image, ImageChops, ImageDraw, ImageFilter

Vec = tuple[float, float, float]
Point = tuple[float, float]
Colour = tuple[float, float, float]
Surface = Callable[[float, float], Vec]
Ink = tuple[int, int, int]
Quad = tuple[list[Point], Ink, float]


def add(a: Vec, b: Vec) -> Vec:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vec, b: Vec) -> Vec:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def mul(a: Vec, k: float) -> Vec:
    return (a[0] * k, a[1] * k, a[2] * k)


def dot(a: Vec, b: Vec) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a: Vec) -> Vec:
    size = math.sqrt(dot(a, a)) or 1.0
    return (a[0] / size, a[1] / size, a[2] / size)


def mix(a: Colour, b: Colour, t: float) -> Colour:
    t = min(1.0, max(0.0, t))
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t)


@dataclass(frozen=True)
class Frame:
    """A place and three directions: f(x, y, z) is the point in the shop."""

    origin: Vec = (0.0, 0.0, 0.0)
    ex: Vec = (1.0, 0.0, 0.0)
    ey: Vec = (0.0, 1.0, 0.0)
    ez: Vec = (0.0, 0.0, 1.0)

    def __call__(self, x: float, y: float, z: float = 0.0) -> Vec:
        return add(self.origin, add(mul(self.ex, x), add(mul(self.ey, y), mul(self.ez, z))))

    def moved(self, x: float, y: float, z: float = 0.0) -> Frame:
        return replace(self, origin=self(x, y, z))

    def turned(self, axis: str, degrees: float) -> Frame:
        """The same place, turned about its own x, y or z."""
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        one, two = {"x": ("ey", "ez"), "y": ("ez", "ex"), "z": ("ex", "ey")}[axis]
        a, b = getattr(self, one), getattr(self, two)
        turned = {one: add(mul(a, c), mul(b, s)), two: add(mul(b, c), mul(a, -s))}
        return replace(self, **turned)


@dataclass(frozen=True)
class Stuff:
    """What a thing is made of: its colour, and how much it mirrors (0 to 1)."""

    colour: Colour
    mirror: float = 0.0
    gloss: float = 0.15
    glow: float = 0.0


ALU = Stuff((0.86, 0.88, 0.91), 0.72, 0.5)
ALU_DULL = Stuff((0.78, 0.80, 0.83), 0.45, 0.25)
FILM = Stuff((0.47, 0.64, 0.82), 0.35, 0.5)
STEEL = Stuff((0.55, 0.56, 0.58), 0.65, 0.7)
DARK_STEEL = Stuff((0.24, 0.25, 0.27), 0.35, 0.6)
COPPER = Stuff((0.80, 0.45, 0.26), 0.55, 0.6)
BRASS = Stuff((0.83, 0.66, 0.30), 0.55, 0.6)
PRIMER = Stuff((0.60, 0.63, 0.30), 0.06, 0.22)
WOOD = Stuff((0.66, 0.48, 0.30), 0.0, 0.06)
PLY = Stuff((0.80, 0.65, 0.44), 0.0, 0.06)
RED = Stuff((0.72, 0.13, 0.10), 0.08, 0.5)
BLUE = Stuff((0.14, 0.28, 0.50), 0.08, 0.45)
BLACK = Stuff((0.09, 0.09, 0.10), 0.06, 0.35)
CLOTH = Stuff((0.35, 0.38, 0.42), 0.0, 0.02)
HIDE = Stuff((0.40, 0.14, 0.10), 0.03, 0.28)
YELLOW = Stuff((0.88, 0.66, 0.12), 0.05, 0.4)
PAPER = Stuff((0.93, 0.90, 0.82), 0.0, 0.03)


@dataclass
class Face:
    """A thing on the list: what draws it, and when its turn comes."""

    layer: float
    depth: float
    draw: Callable[[Stage], None]


@dataclass
class Stage:
    """The picture being built; sizes in pixels are those of the large drawing."""

    width_px: int
    height_px: int
    eye: Vec
    target: Vec
    focal: float = 1.6
    lamp: Vec = (-60.0, -40.0, 120.0)
    near: float = 10.0
    far: float = 400.0
    warm: float = 0.0
    seed: str = "stage"
    layer: float = 0
    casts: bool = True
    dim: float = 1.0
    faces: list[Face] = field(default_factory=list)
    throws: list[list[Point]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.forward = unit(sub(self.target, self.eye))
        self.right = unit(cross(self.forward, (0.0, 0.0, 1.0)))
        self.upward = cross(self.right, self.forward)
        self.scale_px = self.focal * max(self.width_px, self.height_px) / 2
        size = (self.width_px, self.height_px)
        self.image = Image.new("RGB", size, (60, 54, 48))
        self.depth = Image.new("L", size, 0)
        self.pen = ImageDraw.Draw(self.image)
        self.depth_pen = ImageDraw.Draw(self.depth)
        self.chance = random.Random(self.seed)

    # -- looking -----------------------------------------------------------

    def distance(self, p: Vec) -> float:
        return dot(sub(p, self.eye), self.forward)

    def see(self, p: Vec) -> Point:
        """Where a point stands in the drawing; raises for one behind the eye."""
        ray = sub(p, self.eye)
        ahead = dot(ray, self.forward)
        if ahead < 0.5:
            raise ValueError(f"{p} lies behind the camera")
        k = self.scale_px / ahead
        return (
            self.width_px / 2 + dot(ray, self.right) * k,
            self.height_px / 2 - dot(ray, self.upward) * k,
        )

    def grey(self, distance: float) -> int:
        """Nearness from 1 (far) to 255, for the picture of depths."""
        t = (self.far - distance) / (self.far - self.near)
        return max(1, min(255, int(255 * t)))

    # -- shading -----------------------------------------------------------

    def mirrored(self, ray: Vec) -> Colour:
        """What the shop looks like in that direction: roof, tubes, wall, bench."""
        x, _, z = ray
        if z <= 0:
            return mix((0.50, 0.47, 0.43), (0.24, 0.17, 0.11), -z * 2.2)
        base = mix((0.50, 0.48, 0.45), (0.78, 0.79, 0.80), z**0.7)
        if z > 0.12:
            across = x / z
            for tube, spread in ((-0.75, 0.30), (0.55, 0.22), (2.4, 0.5)):
                base = mix(
                    base, (1.12, 1.10, 1.04), 0.8 * math.exp(-(((across - tube) / spread) ** 2))
                )
        window = dot(ray, (-0.82, 0.45, 0.35))
        return mix(base, (0.86, 0.96, 1.12), 0.6 * math.exp(-(1 - window) * 9))

    def shade(self, stuff: Stuff, p: Vec, n: Vec) -> Colour:
        view = unit(sub(self.eye, p))
        if dot(n, view) < 0:
            n = mul(n, -1)
        to_lamp = sub(self.lamp, p)
        light = unit(to_lamp)
        reach = dot(self.lamp, self.lamp) + 400
        fall = min(1.5, reach / (dot(to_lamp, to_lamp) + 400))
        lit = max(0.0, dot(n, light)) * fall
        sky = 0.5 + 0.5 * n[2]
        r, g, b = stuff.colour
        warm, cool = 0.66 * lit, 0.24 + 0.22 * sky
        body = (
            r * (warm * 1.10 + cool * 0.97),
            g * (warm * 1.02 + cool * 0.99),
            b * (warm * 0.88 + cool * 1.06),
        )
        back = sub(mul(n, 2 * dot(n, view)), view)
        if stuff.mirror:
            m = self.mirrored(back)
            body = mix(body, (m[0] * r, m[1] * g, m[2] * b), stuff.mirror)
        shine = stuff.gloss * max(0.0, dot(back, light)) ** 28 * 0.9 * fall
        k = self.dim
        return (
            (body[0] + shine) * k + stuff.glow * r,
            (body[1] + shine * 0.97) * k + stuff.glow * g,
            (body[2] + shine * 0.88) * k + stuff.glow * b,
        )

    # -- putting things on the list ---------------------------------------

    def throw(self, points: Sequence[Vec]) -> None:
        """The shadow of a face on the bench top."""
        if not self.casts or any(p[2] < -0.01 for p in points):
            return
        down = []
        for p in points:
            k = self.lamp[2] / max(1.0, self.lamp[2] - p[2])
            q = (
                self.lamp[0] + (p[0] - self.lamp[0]) * k,
                self.lamp[1] + (p[1] - self.lamp[1]) * k,
                0.0,
            )
            if self.distance(q) < 4:
                return
            down.append(self.see(q))
        self.throws.append(down)

    def put(self, depth: float, draw: Callable[[Stage], None]) -> None:
        self.faces.append(Face(self.layer, depth, draw))

    def face(self, points: Sequence[Vec], stuff: Stuff, *, throw: bool = True) -> None:
        """One flat face, shaded as a whole."""
        middle = mul(sum_of(points), 1 / len(points))
        normal = unit(cross(sub(points[1], points[0]), sub(points[2], points[0])))
        self.flat(points, self.shade(stuff, middle, normal), middle, throw=throw)

    def flat(
        self,
        points: Sequence[Vec],
        colour: Colour,
        middle: Vec | None = None,
        *,
        throw: bool = False,
    ) -> None:
        """One flat face of a ready colour."""
        where = middle or mul(sum_of(points), 1 / len(points))
        try:
            drawn = [self.see(p) for p in points]
        except ValueError:
            return
        ink, near = byte(colour), self.distance(where)
        tone = self.grey(near)

        def draw(stage: Stage) -> None:
            stage.pen.polygon(drawn, fill=ink)
            stage.depth_pen.polygon(drawn, fill=tone)

        self.put(math.dist(where, self.eye), draw)
        if throw:
            self.throw(points)

    def patch(
        self, f: Surface, nu: int, nv: int, stuff: Stuff, *, throw: bool = True, cull: bool = False
    ) -> None:
        """A curved surface f(u, v), u and v from 0 to 1, as nu by nv faces."""
        grid = [[f(i / nu, j / nv) for j in range(nv + 1)] for i in range(nu + 1)]
        for i in range(nu):
            for j in range(nv):
                quad = (grid[i][j], grid[i + 1][j], grid[i + 1][j + 1], grid[i][j + 1])
                normal = cross(sub(quad[2], quad[0]), sub(quad[3], quad[1]))
                if dot(normal, normal) < 1e-12:
                    continue
                middle = mul(sum_of(quad), 0.25)
                normal = unit(normal)
                if cull and dot(normal, sub(self.eye, middle)) < 0:
                    self.throw(quad)
                    continue
                self.flat(quad, self.shade(stuff, middle, normal), middle, throw=throw)

    def plate(
        self,
        f: Surface,
        stuff: Stuff,
        outline: Sequence[Point],
        holes: Sequence[Sequence[Point]] = (),
        *,
        cells: tuple[int, int] = (14, 10),
        marks: Sequence[tuple[Sequence[Point], Colour]] = (),
        depth: float | None = None,
        throw: bool = True,
    ) -> None:
        """A sheet f(u, v) cut to an outline in (u, v), with holes one sees through.

        `marks` are small painted shapes on it, in the same (u, v).
        """
        us, vs = [p[0] for p in outline], [p[1] for p in outline]
        u0, u1, v0, v1 = min(us), max(us), min(vs), max(vs)
        nu, nv = cells
        quads = []
        for i in range(nu):
            for j in range(nv):
                a, b = u0 + (u1 - u0) * i / nu, u0 + (u1 - u0) * (i + 1) / nu
                c, d = v0 + (v1 - v0) * j / nv, v0 + (v1 - v0) * (j + 1) / nv
                q = (f(a, c), f(b, c), f(b, d), f(a, d))
                middle = mul(sum_of(q), 0.25)
                normal = unit(cross(sub(q[2], q[0]), sub(q[3], q[1])))
                ink = byte(self.shade(stuff, middle, normal))
                quads.append(([self.see(p) for p in q], ink, self.distance(middle)))
        edge = [self.see(f(*p)) for p in outline]
        cuts = [[self.see(f(*p)) for p in hole] for hole in holes]
        paint = [([self.see(f(*p)) for p in shape], byte(ink)) for shape, ink in marks]
        middle = f((u0 + u1) / 2, (v0 + v1) / 2)

        def draw(stage: Stage) -> None:
            stage.draw_plate(quads, edge, cuts, paint)

        self.put(depth if depth is not None else math.dist(middle, self.eye), draw)
        if throw:
            self.throw([f(*p) for p in outline])

    def sheet(self, f: Surface, nu: int, nv: int, stuff: Stuff) -> None:
        """A large smooth skin that nowhere hides itself: as `plate`, without steps."""
        n = 40
        edge = [(i / n, 0.0) for i in range(n)] + [(1.0, i / n) for i in range(n)]
        edge += [(1 - i / n, 1.0) for i in range(n)] + [(0.0, 1 - i / n) for i in range(n)]
        self.plate(f, stuff, edge, cells=(nu, nv))

    def draw_plate(
        self,
        quads: list[Quad],
        edge: list[Point],
        cuts: list[list[Point]],
        paint: list[tuple[list[Point], Ink]],
    ) -> None:
        xs, ys = [p[0] for p in edge], [p[1] for p in edge]
        left, top = max(0, int(min(xs)) - 2), max(0, int(min(ys)) - 2)
        right, low = min(self.width_px, int(max(xs)) + 3), min(self.height_px, int(max(ys)) + 3)
        if right <= left or low <= top:
            return
        size = (right - left, low - top)

        def local(points: Sequence[Point]) -> list[Point]:
            return [(x - left, y - top) for x, y in points]

        inks = [q[1] for q in quads]
        middle = tuple(sum(i[k] for i in inks) // len(inks) for k in range(3))
        colours, depths, mask = (
            Image.new("RGB", size, middle),
            Image.new("L", size),
            Image.new("L", size),
        )
        pens = [ImageDraw.Draw(i) for i in (colours, depths, mask)]
        for points, ink, distance in sorted(quads, key=lambda q: -q[2]):
            pens[0].polygon(local(points), fill=ink, outline=ink)
            pens[1].polygon(local(points), fill=self.grey(distance))
        reach = 0.6 * math.sqrt(size[0] * size[1] / len(quads))
        if reach > 2:
            colours.paste(colours.filter(ImageFilter.GaussianBlur(min(30, reach))))
        for shape, ink in paint:
            pens[0].polygon(local(shape), fill=ink)
        pens[2].polygon(local(edge), fill=255)
        for cut in cuts:
            pens[2].polygon(local(cut), fill=0)
        self.image.paste(colours, (left, top), mask)
        self.depth.paste(depths, (left, top), mask)

    def picture(self, art: Image.Image, corners: Sequence[Vec], *, lit: float = 1.0) -> None:
        """A flat picture (RGBA) laid on the four corners, top left first, clockwise."""
        seen = [self.see(p) for p in corners]
        middle = mul(sum_of(corners), 0.25)
        normal = unit(cross(sub(corners[1], corners[0]), sub(corners[3], corners[0])))
        light = self.shade(Stuff((lit, lit, lit), 0.0, 0.0), middle, normal)
        tone = self.grey(self.distance(middle))

        def draw(stage: Stage) -> None:
            stage.lay(art, seen, light, tone)

        self.put(math.dist(middle, self.eye), draw)
        if corners[0][2] + corners[2][2] > 0.02:
            self.throw(corners)

    def lay(self, art: Image.Image, seen: Sequence[Point], light: Colour, tone: int) -> None:
        xs, ys = [p[0] for p in seen], [p[1] for p in seen]
        left, top = max(0, int(min(xs))), max(0, int(min(ys)))
        right = min(self.width_px, int(max(xs)) + 1)
        low = min(self.height_px, int(max(ys)) + 1)
        if right <= left or low <= top:
            return
        w, h = art.size
        shifted = [(x - left, y - top) for x, y in seen]
        coeffs = homography(shifted, [(0, 0), (w, 0), (w, h), (0, h)])
        laid = art.convert("RGBA").transform(
            (right - left, low - top), Image.Transform.PERSPECTIVE, coeffs, Image.Resampling.BICUBIC
        )
        scale = [min(1.6, c) for c in light]
        bands = laid.split()
        colours = Image.merge(
            "RGB",
            [
                b.point([min(255, int(i * k)) for i in range(256)])
                for b, k in zip(bands, scale, strict=False)
            ],
        )
        self.image.paste(colours, (left, top), bands[3])
        self.depth.paste(tone, (left, top, right, low), bands[3].point([0] * 128 + [255] * 128))

    # -- developing --------------------------------------------------------

    def ground(
        self, art: Image.Image, x0: float, x1: float, y0: float, y1: float, z: float = 0.0
    ) -> None:
        """A textured level surface, drawn at once; it may reach behind the eye."""
        w, h = art.size
        middle = (self.target[0], self.target[1], z)
        known = [
            add(middle, d)
            for d in ((-9.0, 9.0, 0.0), (9.0, 9.0, 0.0), (9.0, -9.0, 0.0), (-9.0, -9.0, 0.0))
        ]
        on_art = [((p[0] - x0) / (x1 - x0) * w, (y1 - p[1]) / (y1 - y0) * h) for p in known]
        coeffs = homography([self.see(p) for p in known], on_art)
        laid = art.convert("RGB").transform(
            self.image.size, Image.Transform.PERSPECTIVE, coeffs, Image.Resampling.BICUBIC
        )
        mask = Image.new("L", self.image.size)
        shape = self.ahead([(x0, y1, z), (x1, y1, z), (x1, y0, z), (x0, y0, z)])
        ImageDraw.Draw(mask).polygon([self.see(p) for p in shape], fill=255)
        self.image.paste(laid, (0, 0), mask)
        strips = 80
        for i in range(strips):
            a, b = y1 + (y0 - y1) * i / strips, y1 + (y0 - y1) * (i + 1) / strips
            shape = self.ahead([(x0, a, z), (x1, a, z), (x1, b, z), (x0, b, z)])
            if len(shape) > 2:
                tone = self.grey(self.distance((middle[0], (a + b) / 2, z)))
                self.depth_pen.polygon([self.see(p) for p in shape], fill=tone)

    def ahead(self, points: Sequence[Vec], least: float = 6.0) -> list[Vec]:
        """What of a polygon lies before the camera."""
        kept: list[Vec] = []
        for p, q in zip(points, [*points[1:], points[0]], strict=True):
            a, b = self.distance(p) - least, self.distance(q) - least
            if a >= 0:
                kept.append(p)
            if a * b < 0:
                kept.append(add(p, mul(sub(q, p), a / (a - b))))
        return kept

    def upright(
        self, art: Image.Image, x0: float, x1: float, y: float, z0: float, z1: float, blur: float
    ) -> None:
        """A textured wall across the back, repeated to both sides, out of focus."""
        away = (y - self.eye[1]) / self.forward[1]
        hit = add(self.eye, mul(self.forward, away))
        known = [
            add(hit, d)
            for d in ((-9.0, 0.0, 9.0), (9.0, 0.0, 9.0), (9.0, 0.0, -9.0), (-9.0, 0.0, -9.0))
        ]
        w, h = art.size
        beside = art.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        row = Image.new("RGB", (3 * w, h))
        for i, sheet in enumerate((beside, art, beside)):
            row.paste(sheet, (i * w, 0))
        on_art = [((p[0] - x0) / (x1 - x0) * w + w, (z1 - p[2]) / (z1 - z0) * h) for p in known]
        coeffs = homography([self.see(p) for p in known], on_art)
        laid = row.transform(
            self.image.size, Image.Transform.PERSPECTIVE, coeffs, Image.Resampling.BICUBIC
        )
        a, b = 2 * x0 - x1, 2 * x1 - x0
        shape = self.ahead([(a, y, z1), (b, y, z1), (b, y, z0), (a, y, z0)])
        mask = Image.new("L", self.image.size)
        ImageDraw.Draw(mask).polygon([self.see(p) for p in shape], fill=255)
        self.image.paste(laid, (0, 0), mask)
        if blur:
            self.image = self.image.filter(ImageFilter.GaussianBlur(blur))
            self.pen = ImageDraw.Draw(self.image)

    def render(self, shadow: float = 0.62, softness: float = 1.0) -> Image.Image:
        """Shadows first, then all faces from far to near, then the soft darkening."""
        self.drop_shadows(shadow, softness)
        for item in sorted(self.faces, key=lambda f: (f.layer, -f.depth)):
            item.draw(self)
        near = self.depth.filter(ImageFilter.GaussianBlur(26))
        wide = self.depth.filter(ImageFilter.GaussianBlur(70))
        dark = ImageChops.lighter(
            ImageChops.subtract(near, self.depth), ImageChops.subtract(wide, self.depth)
        )
        wall = self.depth.point([255] + [0] * 255)
        dark = dark.point([255 - int(90 * min(1.0, i / 45)) for i in range(256)]).filter(
            ImageFilter.GaussianBlur(3)
        )
        dark = ImageChops.lighter(dark, wall)
        return ImageChops.multiply(self.image, Image.merge("RGB", [dark] * 3))

    def drop_shadows(self, shadow: float, softness: float) -> None:
        half = (self.width_px // 2, self.height_px // 2)
        mask = Image.new("L", half, 0)
        pen = ImageDraw.Draw(mask)
        for points in self.throws:
            pen.polygon([(x / 2, y / 2) for x, y in points], fill=255)
        tight = mask.filter(ImageFilter.GaussianBlur(5 * softness))
        loose = mask.filter(ImageFilter.GaussianBlur(22 * softness))
        both = Image.blend(tight, loose, 0.45).resize((self.width_px, self.height_px))
        keep = [
            both.point([255 - int(i * shadow * k) for i in range(256)]) for k in (1.0, 0.99, 0.93)
        ]
        self.image = ImageChops.multiply(self.image, Image.merge("RGB", keep))
        self.pen = ImageDraw.Draw(self.image)


def sum_of(points: Sequence[Vec]) -> Vec:
    return (sum(p[0] for p in points), sum(p[1] for p in points), sum(p[2] for p in points))


def byte(colour: Colour) -> tuple[int, int, int]:
    """0..1 to 0..255 with a soft shoulder, so that bright metal keeps its drawing."""

    def one(c: float) -> int:
        c = max(0.0, c)
        return int(255 * (c if c < 0.8 else 1 - 0.2 * math.exp(-(c - 0.8) / 0.2)))

    return (one(colour[0]), one(colour[1]), one(colour[2]))


def homography(source: Sequence[Point], goal: Sequence[Point]) -> list[float]:
    """The eight numbers that carry four source points to four goal points."""
    rows: list[list[float]] = []
    for (x, y), (u, v) in zip(source, goal, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    for i in range(8):
        pivot = max(range(i, 8), key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for r in range(8):
            if r != i and rows[r][i]:
                k = rows[r][i] / rows[i][i]
                rows[r] = [a - k * b for a, b in zip(rows[r], rows[i], strict=True)]
    return [rows[i][8] / rows[i][i] for i in range(8)]


def develop(
    drawn: Image.Image,
    size: tuple[int, int],
    seed: str,
    *,
    spot: Point = (0.42, 0.36),
    depth: float = 0.42,
) -> Image.Image:
    """The large drawing as a photograph: glow, lamp light, tone and grain."""
    small = drawn.resize(size, Image.Resampling.LANCZOS)
    glow = small.point([max(0, i - 190) for i in range(256)] * 3).filter(
        ImageFilter.GaussianBlur(14)
    )
    small = ImageChops.screen(small, glow)
    small = ImageChops.multiply(small, lamp_pool(size, spot, depth))
    curve = [
        int(255 * (t := i / 255) ** 0.92 * (1 + 0.06 * math.sin(2 * math.pi * (t - 0.5))) * 1.06)
        for i in range(256)
    ]
    small = small.point([min(255, max(0, c)) for c in curve] * 3)
    grain = Image.frombytes("L", size, random.Random("grain " + seed).randbytes(size[0] * size[1]))
    grain = grain.filter(ImageFilter.GaussianBlur(0.8)).point(
        [max(0, min(255, 128 + (i - 128) // 20)) for i in range(256)]
    )
    return ImageChops.add(small, Image.merge("RGB", [grain] * 3), 1, -128)


def lamp_pool(size: tuple[int, int], spot: Point, depth: float) -> Image.Image:
    """Light that is brightest and whitest under the lamp and warm at the rim."""
    w, h = 80, 60
    pool = Image.new("RGB", (w, h))
    for x in range(w):
        for y in range(h):
            far = math.hypot((x / w - spot[0]) * 1.15, (y / h - spot[1])) / 0.95
            k = 1 - depth * min(1.0, far) ** 1.7
            pool.putpixel((x, y), byte((k * 1.03, k * (1 - 0.05 * far), k * (0.97 - 0.13 * far))))
    return pool.resize(size, Image.Resampling.BICUBIC)
