#!/usr/bin/env python3
"""Second model of a tank job: exact fractions, no rounding, no trade lines.

    second_model.py JOB.toml        prints {work id: quantity} as JSON
    measure(job) -> {work id: Fraction}

Every part is a block with a rank, bounded by four upright planes and two surfaces; a surface is level, or follows
the floor at a constant distance. The plan is cut at every x and y, and wherever a level surface crosses one that
follows the floor; between two cuts the order of the surfaces is the same everywhere, so each cell has one owner and
a volume and faces that are exact. Circles and metres are added by formula. Written from the definitions of works,
without sight of the program that it checks.
"""
import json
import re
import sys
import tomllib
from bisect import bisect_left
from collections import defaultdict
from fractions import Fraction

# What a part is when the job file gives the part but leaves the key out (lengths in mm). One place, to be aligned.
DEFAULTS = {
    "ground.support": "none",
    "ground.keep_dry": False,
    "tank.cover_top": 0,
    "tank.pit.face": "tight",
    "tank.pit.working_space": 0,
    "tank.pit.batter": 0,
    "tank.pit.termite": False,
    "tank.pit.over_break": "0 mm",
    "tank.base.hardcore": 0,
    "tank.base.blinding.thickness": 0,
    "tank.base.concrete.thickness": 100,
    "tank.base.projection": 0,
    "tank.base.fall": 0,
    "tank.walls.unit": "brick-220x105x65",
    "tank.walls.thickness": 220,
    "tank.walls.hoop_iron_every": 3,
    "tank.walls.hoop_iron_strips": 1,
    "tank.partitions.thickness": "as the walls",
    "tank.partitions.air_gap": 0,
    "tank.partitions.opening.number": 1,
    "tank.columns.size": "as the walls",
    "tank.columns.pocket": 0,
    "tank.cover.thickness": 150,
    "tank.cover.wall_beams": 0,
    "tank.cover.span_beam.bearing": 0,
    "tank.cover.manholes": [],
    "tank.cover.membrane": False,
    "tank.manhole_shafts.thickness": 110,
    "tank.manhole_shafts.upstand": 0,
    "tank.plaster.paste": False,
    "tank.plaster.outside": False,
    "tank.pipes.inlet.length": 0,
    "tank.pipes.inlet.drop": 0,
    "tank.pipes.outlet.length": 0,
    "tank.pipes.outlet.drop": 0,
    "tank.pipes.outlet.fall": "1 in 100",
    "tank.pipes.trench.bed": 0,
    "tank.pipes.vent_height": 0,
    "drain.number": 1,
    "drain.stone_over": 50,
    "drain.pipe.diameter": 110,
    "drain.sheet": "geotextile",
    "inspection_chambers.number": 1,
    "inspection_chambers.thickness": 110,
    "inspection_chambers.base.thickness": 100,
    "inspection_chambers.plaster.thickness": 15,
    "soak_pit.number": 1,
    "soak_pit.sheet": False,
    "soak_pit.lining.packing": 0,
    "soak_pit.cover.thickness": 150,
    "soak_pit.cover.soil": 0,
}
JOINT = 10
JOINTS = {"block-450x225x225": 25, "block-450x150x225": 25, "block-450x125x225": 25}  # units that say so themselves
PI = Fraction(31415926536, 10**10)
UNITS = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "ft": Fraction("304.8"), "in": Fraction("25.4")}
NUMBER = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(mm|cm|m|ft|in)\b\s*")

INSIDE = ("clear", "opening")
MASONRY_SIDE = ("wall", "column", "ring-beam", "wall-beam")


def number(value):
    if isinstance(value, bool) or not isinstance(value, (int, str)):
        raise ValueError(f"not a number: {value!r}")
    if isinstance(value, int):
        return Fraction(value)
    part, _, whole = value.partition(" in ")  # "1 in 4"
    return Fraction(part.strip()) / Fraction(whole.strip() or 1)


def length(value):
    """A length in mm: a whole number, or text with units ("5 ft 6 in", "-0.30 m")."""
    if isinstance(value, Fraction) or isinstance(value, int) and not isinstance(value, bool):
        return Fraction(value)
    if not isinstance(value, str):
        raise ValueError(f"not a length: {value!r}")
    text = value.strip()
    sign = -1 if text.startswith("-") else 1
    text = text.lstrip("+-")
    total, at = Fraction(0), 0
    while at < len(text):
        found = NUMBER.match(text, at)
        if not found:
            raise ValueError(f"not a length: {value!r}")
        total += Fraction(found[1]) * UNITS[found[2]]
        at = found.end()
    if not at:
        raise ValueError(f"not a length: {value!r}")
    return sign * total


class Reader:
    def __init__(self, job):
        self.job = job

    def table(self, path):
        here = self.job
        for word in path.split("."):
            if not isinstance(here, dict) or word not in here:
                return None
            here = here[word]
        return here

    def raw(self, path):
        value = self.table(path)
        if value is not None:
            return value
        if path in DEFAULTS:
            return DEFAULTS[path]
        raise ValueError(f"{path} is missing")

    def length(self, path):
        return length(self.raw(path))


class Entry(Reader):
    """One entry of a list of tables, read by the keys inside it."""

    def __init__(self, name, entry):
        super().__init__(entry)
        self.name = name

    def raw(self, path):
        value = self.table(path)
        return value if value is not None else DEFAULTS.get(f"{self.name}.{path}", 0)


class Site:
    """Dimensions and levels of a job, in mm; z from ground level, x and y from the inner corner at the inlet."""

    def __init__(self, job):
        r = self.reader = Reader(job)
        get = r.length
        self.chambers = [length(c) for c in r.raw("tank.chambers")]
        self.width = get("tank.width")
        self.height = get("tank.height")
        self.t = get("tank.walls.thickness")
        self.tp = self.t if r.raw("tank.partitions.thickness") == "as the walls" else get("tank.partitions.thickness")
        self.length = sum(self.chambers) + (len(self.chambers) - 1) * self.tp

        self.open = r.raw("tank.pit.face") == "open"
        self.projection = get("tank.base.projection")
        self.working_space = get("tank.pit.working_space") if self.open else Fraction(0)
        self.batter = number(r.raw("tank.pit.batter")) if self.open else Fraction(0)

        self.cover_top = get("tank.cover_top")
        self.cover = get("tank.cover.thickness")
        self.soffit = self.cover_top - self.cover
        self.wall_beams = get("tank.cover.wall_beams")
        self.masonry_top = self.soffit - self.wall_beams
        self.floor_outlet = self.soffit - self.height
        self.fall = get("tank.base.fall")
        self.base = get("tank.base.concrete.thickness")
        self.blinding = get("tank.base.blinding.thickness")
        self.hardcore = get("tank.base.hardcore")
        self.dig_below_floor = self.base + self.blinding + self.hardcore

        self.air_gap = get("tank.partitions.air_gap")
        self.partition_top = self.soffit - self.air_gap if self.air_gap else self.masonry_top
        self.partitions, self.chamber_spans, x = [], [], Fraction(0)
        for n, clear in enumerate(self.chambers):
            if n:
                self.partitions.append((x, x + self.tp))
                x += self.tp
            self.chamber_spans.append((x, x + clear))
            x += clear

        self.openings = []  # (y0, y1, z0, z1) in every partition, evenly spread over the width
        if r.table("tank.partitions.opening") is not None:
            wide, high = get("tank.partitions.opening.width"), get("tank.partitions.opening.height")
            top = self.masonry_top - get("tank.partitions.opening.below_top")
            count = r.raw("tank.partitions.opening.number")
            gap = (self.width - count * wide) / (count + 1)
            for n in range(count):
                y = gap + n * (gap + wide)
                self.openings.append((y, y + wide, top - high, top))

        self.columns, self.pocket = None, Fraction(0)
        if r.table("tank.columns") is not None:
            size = r.raw("tank.columns.size")
            self.columns = (self.t, self.t) if size == "as the walls" else (length(size[0]), length(size[1]))
            self.pocket = get("tank.columns.pocket")

        self.rings = []
        for ring in r.table("tank.ring_beams") or []:
            low = self.floor_outlet + length(ring["above_floor"])
            self.rings.append((low, low + length(ring["depth"])))
        self.rings.sort()

        self.span = None  # (half width, depth, bearing)
        if r.table("tank.cover.span_beam") is not None:
            self.span = (get("tank.cover.span_beam.width") / 2, get("tank.cover.span_beam.depth"),
                         get("tank.cover.span_beam.bearing"))

        self.manholes = []  # (x0, x1, y0, y1)
        sizes = [(length(a), length(b)) for a, b in r.raw("tank.cover.manholes")]
        left = self.width / 2 + self.span[0] if self.span else Fraction(0)
        for n, ((along, across), (x0, x1)) in enumerate(zip(sizes, self.chamber_spans)):
            at = x0 if n == 0 else x1 - along if n == len(sizes) - 1 else (x0 + x1 - along) / 2
            y = (left + self.width - across) / 2
            self.manholes.append((at, at + along, y, y + across))
        self.shaft = None  # (thickness, top level)
        if r.table("tank.manhole_shafts") is not None and self.cover_top < 0:
            self.shaft = (get("tank.manhole_shafts.thickness"), get("tank.manhole_shafts.upstand"))

        self.boards = []  # (x0, x1, built in, z0, z1)
        for board in r.table("tank.boards") or []:
            x0, top = length(board["from_inlet"]), self.masonry_top - length(board["below_top"])
            self.boards.append((x0, x0 + length(board["thickness"]), length(board["built_in"]),
                                top - length(board["depth"]), top))

        self.haunch = None  # (width, top level)
        if r.table("tank.haunch") is not None:
            self.haunch = (get("tank.haunch.width"), self.floor_outlet + get("tank.haunch.height"))

        self.pipe_holes = []  # (diameter, invert)
        if r.table("tank.pipes") is not None:
            for end in ("inlet", "outlet"):
                self.pipe_holes.append((get(f"tank.pipes.{end}.diameter"),
                                        self.masonry_top - get(f"tank.pipes.{end}.below_top")))

    def inverts(self, end):
        """Depths below ground at both ends of the pipe outside the tank, as the water goes; None where not known."""
        r, pipe = self.reader, f"tank.pipes.{end}"
        at_tank = r.length(f"{pipe}.below_top") - self.masonry_top
        along = r.length(f"{pipe}.length")
        if end == "outlet":
            return at_tank, at_tank + along * number(r.raw(f"{pipe}.fall"))
        if r.table(f"{pipe}.start") is not None:
            return r.length(f"{pipe}.start"), at_tank
        if r.table(f"{pipe}.fall") is not None:
            return at_tank - along * number(r.raw(f"{pipe}.fall")), at_tank
        return None

    def entries(self, name):
        return [Entry(name, entry) for entry in self.reader.table(name) or []]

    def drain_depth(self, drain):
        """From ground to the bottom: given, or the invert of the pipe that comes in and the stone below."""
        if drain.table("depth") is not None:
            return drain.length("depth")
        own = drain.table("invert") is not None
        return (drain.length("invert") if own else self.inverts("outlet")[1]) + drain.length("stone_below")

    def floor(self, x):
        if x >= self.length:
            return self.floor_outlet
        return self.floor_outlet - self.fall * (self.length - max(x, 0)) / self.length

    def plan(self, beyond=0):
        """The outer plan, or a plan so much larger on every side."""
        out = self.t + beyond
        return -out, self.length + out, -out, self.width + out


LEVEL, FLOOR = "level", "floor"  # a surface is (LEVEL, z) or (FLOOR, height above the floor)


class Cells:
    """Blocks painted one over the other; volumes by owner, faces by owner, neighbour and direction."""

    def __init__(self, site):
        self.site = site
        self.blocks = []  # (owner, x0, x1, y0, y1, bottom, top), lowest rank first
        self.volume = defaultdict(Fraction)
        self.below_ground = defaultdict(Fraction)
        self.faces = defaultdict(Fraction)  # (owner, neighbour, "side" | "up" | "down"); up and down on plan

    def add(self, owner, plan, bottom, top):
        self.blocks.append((owner, *plan, bottom, top))

    def level(self, surface, x):
        return surface[1] if surface[0] == LEVEL else self.site.floor(x) + surface[1]

    def solve(self):
        site = self.site
        surfaces = {s for block in self.blocks for s in block[5:7]} | {(LEVEL, Fraction(0))}
        xs = {x for block in self.blocks for x in block[1:3]} | {Fraction(0), site.length}
        ys = sorted({y for block in self.blocks for y in block[3:5]})
        if site.fall:
            for kind, z in surfaces:
                for other, above in surfaces:
                    if kind == LEVEL and other == FLOOR:
                        x = site.length - (site.floor_outlet + above - z) * site.length / site.fall
                        if 0 < x < site.length:
                            xs.add(x)
        xs = sorted(xs)

        columns = []  # per x interval: (bottoms and tops at both ends, owner[j][k])
        for x0, x1 in zip(xs, xs[1:]):
            middle = (x0 + x1) / 2
            height = {s: self.level(s, middle) for s in surfaces}
            order = sorted(set(height.values()))
            ends = {}
            for s in surfaces:
                pair = (self.level(s, x0), self.level(s, x1))
                if ends.setdefault(height[s], pair) != pair:
                    raise AssertionError("surfaces cross inside an interval")
            owner = [["nothing"] * (len(order) - 1) for _ in ys[1:]]
            for name, bx0, bx1, by0, by1, bottom, top in self.blocks:
                if bx0 <= x0 and x1 <= bx1:
                    k0, k1 = bisect_left(order, height[bottom]), bisect_left(order, height[top])
                    for j in range(bisect_left(ys, by0), bisect_left(ys, by1)):
                        for k in range(k0, k1):
                            owner[j][k] = name
            columns.append((x0, x1, [ends[z] for z in order], order, owner))

        for x0, x1, ends, order, owner in columns:
            dx = x1 - x0
            area = []
            for (a0, a1), (b0, b1) in zip(ends, ends[1:]):
                if b0 < a0 or b1 < a1:
                    raise AssertionError("surfaces out of order")
                area.append(dx * (b0 + b1 - a0 - a1) / 2)
            for j, (y0, y1) in enumerate(zip(ys, ys[1:])):
                dy, stack = y1 - y0, owner[j]
                for k, name in enumerate(stack):
                    self.volume[name] += area[k] * dy
                    if order[k + 1] <= 0:
                        self.below_ground[name] += area[k] * dy
                    if k and stack[k - 1] != name:
                        self.faces[stack[k - 1], name, "up"] += dx * dy
                        self.faces[name, stack[k - 1], "down"] += dx * dy
                    if j and owner[j - 1][k] != name:
                        self.faces[owner[j - 1][k], name, "side"] += area[k]
                        self.faces[name, owner[j - 1][k], "side"] += area[k]
        for left, right in zip(columns, columns[1:]):
            a = [end[1] for end in left[2]]
            b = [end[0] for end in right[2]]
            for j, (y0, y1) in enumerate(zip(ys, ys[1:])):
                here, there, i, k = left[4][j], right[4][j], 0, 0
                while i < len(here) and k < len(there):
                    tall = min(a[i + 1], b[k + 1]) - max(a[i], b[k])
                    if tall > 0 and here[i] != there[k]:
                        self.faces[here[i], there[k], "side"] += tall * (y1 - y0)
                        self.faces[there[k], here[i], "side"] += tall * (y1 - y0)
                    if a[i + 1] <= b[k + 1]:
                        i += 1
                    else:
                        k += 1

    def face(self, owners, neighbours, directions):
        return sum((area for (a, b, way), area in self.faces.items()
                    if a in owners and b in neighbours and way in directions), Fraction(0))


def cells(site):
    """All blocks of a job, lowest rank first."""
    c, t, length_, width = Cells(site), site.t, site.length, site.width

    def level(z):
        return LEVEL, Fraction(z)

    def floor(above=0):
        return FLOOR, Fraction(above)

    outer, half = site.plan(), width / 2
    dig, ground, soffit = floor(-site.dig_below_floor), level(0), level(site.soffit)
    far = site.plan(site.projection + site.working_space + 1000)
    highest = max([Fraction(0), site.cover_top] + ([site.shaft[1]] if site.shaft else [])) + 1000
    c.add("air", far, dig, level(highest))
    c.add("ground", far, dig, ground)
    if site.open:
        c.add("fill", site.plan(site.projection + site.working_space), dig, ground)
    c.add("fill", outer, dig, ground)
    c.add("nobody", outer, dig, level(site.cover_top))

    bottom = -site.dig_below_floor
    for name, thick in (("hardcore", site.hardcore), ("blinding", site.blinding), ("base", site.base)):
        if thick:
            c.add(name, site.plan(site.projection), floor(bottom), floor(bottom + thick))
        bottom += thick
    c.add("cover", outer, soffit, level(site.cover_top))
    for x0, x1, y0, y1 in site.manholes:
        c.add("manhole", (x0, x1, y0, y1), soffit, level(site.cover_top))
    if site.shaft:
        s, top = site.shaft
        for x0, x1, y0, y1 in site.manholes:
            c.add("shaft", (x0 - s, x1 + s, y0 - s, y1 + s), level(site.cover_top), level(top))
        for manhole in site.manholes:
            c.add("shaft-void", manhole, level(site.cover_top), level(top))

    c.add("clear", (Fraction(0), length_, Fraction(0), width), floor(), soffit)
    if site.haunch:
        wide, top = site.haunch
        for y0, y1 in ((Fraction(0), wide), (width - wide, width)):
            c.add("haunch", (Fraction(0), length_, y0, y1), floor(), level(top))
    for x0, x1 in site.partitions:
        c.add("partition", (x0, x1, Fraction(0), width), floor(), level(site.partition_top))
    for x0, x1 in site.partitions:
        for y0, y1, z0, z1 in site.openings:
            c.add("opening", (x0, x1, y0, y1), level(z0), level(z1))
    ring = (outer[:2] + (-t, Fraction(0)), outer[:2] + (width, width + t),
            (-t, Fraction(0)) + outer[2:], (length_, length_ + t) + outer[2:])
    for plan in ring:
        c.add("wall", plan, floor(), level(site.masonry_top))
    for x0, x1, into, z0, z1 in site.boards:
        c.add("board", (x0, x1, -into, width + into), level(z0), level(z1))
    for low, high in site.rings:
        for plan in ring:
            c.add("ring-beam", plan, level(low), level(high))
    if site.wall_beams:
        over = [] if site.air_gap else [(x0, x1, Fraction(0), width) for x0, x1 in site.partitions]
        for plan in (*ring, *over):
            c.add("wall-beam", plan, level(site.masonry_top), soffit)
    if site.span:
        wide, deep, bearing = site.span
        c.add("span-beam", (-bearing, length_ + bearing, half - wide, half + wide), level(site.soffit - deep), soffit)
    if site.columns:
        sx, sy = site.columns
        for x in (outer[0], outer[1] - sx):
            for y in (outer[2], outer[3] - sy):
                c.add("column", (x, x + sx, y, y + sy), floor(), soffit)
    c.solve()
    for name in ("nobody", "nothing"):
        if c.volume[name]:
            raise AssertionError("a cell that nobody claims")
    return c


def pit(site, beyond):
    """Plan, volume up to ground and side area of a pit with upright sides, `beyond` larger than the outer plan."""
    x0, x1, y0, y1 = site.plan(beyond)
    depth = site.dig_below_floor - site.floor_outlet  # at the outlet end
    section = depth * (x1 - x0) + site.fall * (-x0) + site.fall * site.length / 2
    sides = 2 * section + (y1 - y0) * (2 * depth + site.fall)
    return (x1 - x0, y1 - y0), section * (y1 - y0), sides, depth


class SoakPit:
    """The round pit, all lengths in mm, heights from its base; volumes of one pit by radii, so that a ring is a tube."""

    def __init__(self, site):
        r = site.reader
        get = r.length
        self.count = r.raw("soak_pit.number")
        self.dig, self.deep, self.fill = get("soak_pit.diameter"), get("soak_pit.depth"), get("soak_pit.fill_depth")
        self.support = r.table("soak_pit.support") or r.raw("ground.support")
        self.lined, self.covered = (r.table(f"soak_pit.{part}") is not None for part in ("lining", "cover"))
        self.inlet = None  # height at which water enters: the pit's own, else the end of the pipe from the outlet
        if r.table("soak_pit.invert") is not None:
            self.inlet = self.deep - get("soak_pit.invert")
        elif r.table("tank.pipes.outlet") is not None:
            out = "tank.pipes.outlet."
            self.inlet = self.deep + site.pipe_holes[1][1] - get(out + "length") * number(r.raw(out + "fall"))
        self.slab, self.soil = Fraction(0), self.deep - self.fill
        if self.covered:
            self.slab, self.soil = get("soak_pit.cover.thickness"), get("soak_pit.cover.soil")
        self.hole = [length(side) for side in r.table("soak_pit.cover.manhole") or (0, 0)]
        self.foot = None  # (thickness, outer diameter, inner diameter)
        if self.lined:
            self.thick = get("soak_pit.lining.thickness")
            self.out = self.dig - 2 * get("soak_pit.lining.packing")
            self.clear = self.out - 2 * self.thick
            self.top = self.deep - self.soil - self.slab if self.covered else self.fill
            if r.table("soak_pit.lining.foot") is not None:
                high, wide = get("soak_pit.lining.foot.thickness"), get("soak_pit.lining.foot.width")
                middle = (self.out + self.clear) / 2
                edge = self.dig if middle + wide > self.dig else middle + wide
                self.foot = high, edge, edge - 2 * wide

    @staticmethod
    def tube(outer, inner, high):
        """What lies between two cylinders: as long as its middle line, as thick as their radii differ."""
        return PI * (outer + inner) / 2 * (outer - inner) / 2 * high

    def quantities(self):
        """Of all pits, in mm, mm2, mm3; and what is taken away."""
        whole = self.tube(self.dig, 0, 1)
        q = {"excavation-soak-pit": whole * self.deep}
        if not self.lined:
            q["soak-fill"], q["soil-cover"] = whole * self.fill, whole * self.soil
            sheet = whole
        else:
            high, edge, inner = self.foot or (Fraction(0), self.out, self.clear)
            stands = self.tube(min(edge, self.out), max(inner, 0), high)  # of the foot, under and inside the ring
            under = self.tube(self.out, self.clear, high)
            beyond = self.tube(edge, self.out, high)
            q["brickwork-soak-pit"] = self.tube(self.out, self.clear, self.top - high)
            q["concrete-soak-foot"] = stands + beyond
            q["formwork-soak-foot"] = PI * high * (inner + (edge if edge < self.dig else 0)) if self.foot else Fraction(0)
            q["soak-fill"] = self.tube(self.dig, self.out, self.inlet) - beyond
            if self.fill:
                q["soak-fill"] += self.tube(self.clear, 0, self.fill) - (stands - under)
            q["soil-cover"] = whole * self.soil + self.tube(self.dig, self.out, self.top - self.inlet)
            sheet = self.tube(self.clear, 0, 1) if self.covered else whole
        if self.covered:
            a, b = self.hole
            q["concrete-soak-cover"] = (whole - a * b) * self.slab
            q["formwork-soak-cover"] = self.tube(self.clear, 0, 1) - a * b
            q["formwork-soak-manhole"] = 2 * (a + b) * self.slab
        q = {work: value * self.count for work, value in q.items()}
        return q, sheet * self.count, q["excavation-soak-pit"] - q["soil-cover"], PI * self.dig * self.deep * self.count


def strip(inverts, along, under):
    """Elevation of a trench that follows an invert, its bed below: half the sum of its ends, along its length."""
    return (sum(inverts) / 2 + under) * along


def measure(job):
    return solve(job)[0]


def solve(job):
    """The quantities, and the site and the cells they came from."""
    site = Site(job)
    model = cells(site)
    r, vol, face = site.reader, model.volume, model.face
    q = {}
    cubic, square, run = Fraction(1, 10**9), Fraction(1, 10**6), Fraction(1, 1000)
    outside = ("air", "fill", "ground") if site.open else ("air",)

    # the pit
    (px, py), bottom_up, sides, depth = pit(site, site.projection + site.working_space)
    net = pit(site, site.projection)[1]
    lean = site.batter * depth * depth * (px + py) + Fraction(4, 3) * site.batter**2 * depth**3
    q["excavation-pit"] = (bottom_up + lean) * cubic
    if site.open:
        q["excavation-pit/net"] = net * cubic
        q["excavation-pit/working-space"] = (bottom_up + lean - net) * cubic
    q["bottom-trim"] = px * py * square

    pocket = 4 * site.columns[0] * site.columns[1] * site.pocket if site.columns else Fraction(0)
    q["excavation-pocket"] = q["concrete-pocket"] = pocket * cubic

    # trench and soak pit
    pipes, trench, bed = r.table("tank.pipes"), Fraction(0), Fraction(0)
    if pipes is not None:
        along = r.length("tank.pipes.inlet.length") + r.length("tank.pipes.outlet.length")
        drops = r.length("tank.pipes.inlet.drop") + r.length("tank.pipes.outlet.drop")
        q["pipe"] = (along + drops) * run
        q["pipe-tee"] = Fraction(2)
        q["vent-pipe"] = r.length("tank.pipes.vent_height") * run
        if r.table("tank.pipes.trench") is not None:
            wide, under = r.length("tank.pipes.trench.width"), r.length("tank.pipes.trench.bed")
            bed = along * wide * under
            if r.table("tank.pipes.trench.depth") is not None:
                trench = along * wide * r.length("tank.pipes.trench.depth")
            else:
                trench = sum(strip(site.inverts(end), r.length(f"tank.pipes.{end}.length"), under) * wide
                             for end in ("inlet", "outlet") if r.length(f"tank.pipes.{end}.length"))
    bends = tees = Fraction(0)
    for line in site.entries("pipes"):
        along = line.length("length")
        q["pipe"] = q.get("pipe", 0) + along * run
        bends, tees = bends + line.raw("bends"), tees + line.raw("tees")
        if line.table("trench") is not None:
            wide, under = line.length("trench.width"), line.length("trench.bed")
            if line.table("trench.depth") is not None:
                deep = along * line.length("trench.depth")
            else:
                start = line.length("start")
                deep = strip((start, start + along * number(line.raw("fall"))), along, under)
            trench, bed = trench + deep * wide, bed + along * wide * under
    q["pipe-bend"], q["pipe-tee"] = bends, q.get("pipe-tee", 0) + tees
    q["excavation-trench"], q["pipe-bed"] = trench * cubic, bed * cubic

    # drains: what lies in the trench layer by layer
    drain_side = drain_stone = drain_soil = Fraction(0)
    for drain in site.entries("drain"):
        count, along, wide = drain.raw("number"), drain.length("length"), drain.length("width")
        deep = site.drain_depth(drain)
        stone = drain.length("stone_below") + drain.length("pipe.diameter") + drain.length("stone_over")
        plan = count * along * wide
        drain_stone, drain_soil = drain_stone + plan * stone, drain_soil + plan * (deep - stone)
        drain_side += count * 2 * (along + wide) * deep
        q["drain-pipe"] = q.get("drain-pipe", 0) + count * along * run
        if drain.raw("sheet") != "none":
            q["drain-sheet"] = q.get("drain-sheet", 0) + plan * square
    q["excavation-drain"], q["drain-stone"] = (drain_stone + drain_soil) * cubic, drain_stone * cubic

    # inspection chambers: dug to the outer plan and the working space round it
    chamber_room = chamber_back = chamber_side = Fraction(0)
    for chamber in site.entries("inspection_chambers"):
        count, (a, b) = chamber.raw("number"), map(length, chamber.raw("size"))
        t, space = chamber.length("thickness"), chamber.length("working_space")
        high = chamber.length("depth") + chamber.length("upstand")
        base, bench = chamber.length("base.thickness"), chamber.length("benching.depth")
        deep = chamber.length("depth") + base
        oa, ob, da, db = a + 2 * t, b + 2 * t, a + 2 * t + 2 * space, b + 2 * t + 2 * space
        chamber_room, chamber_back = chamber_room + count * oa * ob * deep, chamber_back + count * (da * db - oa * ob) * deep
        chamber_side += count * 2 * (da + db) * deep
        for work, size in (("concrete-chamber-base", oa * ob * base), ("concrete-benching", a * b * bench),
                           ("brickwork-chamber", (oa * ob - a * b) * high)):
            q[work] = q.get(work, 0) + count * size * cubic
        if chamber.table("plaster") is not None:
            q["plaster-chamber"] = q.get("plaster-chamber", 0) + count * 2 * (a + b) * (high - bench) * square
        q["manhole-cover"] = q.get("manhole-cover", 0) + count
    q["excavation-chamber"] = (chamber_room + chamber_back) * cubic
    soak, soak_away, support = None, Fraction(0), Fraction(0)
    if r.table("soak_pit") is not None:
        soak = SoakPit(site)
        of_pits, sheet, soak_away, side = soak.quantities()
        q |= {work: value * (square if work.startswith("formwork") else cubic) for work, value in of_pits.items()}
        if soak.support != "none":
            support += side
        if r.table("soak_pit.pipe") is not None:
            q["soak-pipe"] = r.length("soak_pit.pipe.length") * soak.count * run
        if r.raw("soak_pit.sheet"):
            q["polythene-sheet"] = sheet * square

    q["soil-cover"] = q.get("soil-cover", 0) + drain_soil * cubic

    # earth: what is put back from the cells of earth, what goes away from the cells of everything else
    back = model.below_ground["fill"] + lean
    away = sum((v for name, v in model.below_ground.items() if name not in ("air", "fill", "ground")), Fraction(0))
    q["backfill"] = (back + trench - bed + chamber_back) * cubic
    q["disposal"] = (away + pocket + bed + soak_away + drain_stone + chamber_room) * cubic

    if r.raw("ground.support") != "none":
        support += sides + drain_side + chamber_side
    q["earthwork-support"] = support * square
    if r.raw("ground.keep_dry"):
        q["keep-dry"] = Fraction(1)
    if r.raw("tank.pit.termite"):
        q["termite-treatment"] = (px * py + sides) * square

    # solids; pipe holes are circles off the walls
    holes = sum((PI * d * d / 4 for d, _ in site.pipe_holes), Fraction(0))
    for work, owner in (("hardcore-bed", "hardcore"), ("concrete-blinding", "blinding"), ("concrete-base", "base"),
                        ("brickwork-partition", "partition"), ("concrete-column", "column"),
                        ("concrete-ring-beam", "ring-beam"), ("concrete-wall-beam", "wall-beam"),
                        ("concrete-span-beam", "span-beam"), ("concrete-cover", "cover"), ("concrete-board", "board"),
                        ("concrete-haunch", "haunch"), ("manhole-shaft", "shaft")):
        q[work] = vol[owner] * cubic
    q["brickwork-wall"] = (vol["wall"] - holes * site.t) * cubic

    # over-break of a tight pit: whatever stands upright against the ground; a hole's share of it below ground level
    if not site.open and r.length("tank.pit.over_break"):
        owners = ("hardcore", "blinding", "base", "wall", "column", "ring-beam", "wall-beam", "span-beam", "cover", "board")
        below = sum((PI * d / 4 * min(d, max(0, -invert)) for d, invert in site.pipe_holes), Fraction(0))
        q["over-break"] = (face(owners, ("ground",), ("side",)) - below) * square

    # formwork: towards the inside from the side or from below, and open faces outside
    for part in ("column", "ring-beam", "wall-beam", "span-beam"):
        area = face((part,), INSIDE, ("side", "down")) + face((part,), outside, ("side",))
        q["formwork-" + part] = area * square
    q["formwork-board"] = face(("board",), INSIDE, ("side", "down")) * square
    q["formwork-haunch"] = face(("haunch",), ("clear",), ("side",)) * square
    q["formwork-base-edge"] = face(("base",), outside, ("side",)) * square
    q["formwork-cover-edge"] = face(("cover",), outside, ("side",)) * square
    q["formwork-cover-soffit"] = face(("cover",), INSIDE, ("down",)) * square
    q["formwork-manhole"] = face(("cover",), ("manhole",), ("side",)) * square

    # linings
    plaster = screed = Fraction(0)
    if r.table("tank.plaster") is not None:
        plaster = (face((*MASONRY_SIDE, "partition"), INSIDE, ("side",)) + face(("partition",), INSIDE, ("up",))
                   + face(("partition",), ("opening",), ("down",)) + face(("haunch",), ("clear",), ("side", "up"))
                   - holes)
        if r.table("tank.plaster.screed") is not None:
            screed = face(("base",), ("clear",), ("up",))
        if r.raw("tank.plaster.outside"):
            q["plaster-outside"] = face(MASONRY_SIDE, outside, ("side",)) * square
        if r.raw("tank.plaster.paste"):
            q["cement-paste"] = (plaster + screed) * square
    q["plaster-wall"], q["screed"] = plaster * square, screed * square
    if r.raw("tank.cover.membrane"):
        q["damp-proof-membrane"] = vol["cover"] / site.cover * square

    every = r.raw("tank.walls.hoop_iron_every")
    if every:
        unit = r.raw("tank.walls.unit")
        course = Fraction(unit.split("x")[-1]) + JOINTS.get(unit, JOINT)
        ends = [site.floor_outlet, *(z for ring in site.rings for z in ring), site.masonry_top]
        strips = sum(max(0, ((ends[n + 1] - ends[n]) // course - 1) // every) for n in range(0, len(ends), 2))
        girth = 2 * (site.length + site.width) + 4 * site.t
        q["hoop-iron"] = strips * r.raw("tank.walls.hoop_iron_strips") * girth * run

    q["manhole-cover"] = q.get("manhole-cover", 0) + len(site.manholes) + (soak.count if soak and all(soak.hole) else 0)
    q["water-test"] = Fraction(1)
    return {work: quantity for work, quantity in sorted(q.items()) if quantity}, site, model


def text(value):
    """A fraction as a decimal that is exact, or as a/b."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    places = max(twos, fives)
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (digits[:-places] + "." + digits[-places:] if places else digits)


def main(arguments):
    if len(arguments) != 2:
        print("usage: second_model.py JOB.toml", file=sys.stderr)
        return 2
    with open(arguments[1], "rb") as file:
        job = tomllib.load(file)
    print(json.dumps({work: text(value) for work, value in measure(job).items()}, indent=2))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
