#!/usr/bin/env python3
"""Second model of a job's bars: exact fractions, from the design, BS 8666:2005 and rates/bars.toml.

    bars_model.py JOB.toml          prints every kind of bar
    bars(job) -> Counter            {(member, bar, shape, dims, length, stage): number}
    problems(job) -> [str]          why the bars of a job would be refused

Written without sight of the program that it checks. CHOICE marks what the design leaves open and the printed papers say.
"""
import re
import sys
import tomllib
from collections import Counter, namedtuple
from fractions import Fraction
from math import ceil, isqrt

from program import ROOT
from second_model import PI, Site, SoakPit, length

Mark = namedtuple("Mark", "member bar shape dims length stage")
DATA = tomllib.loads((ROOT / "rates/bars.toml").read_text(encoding="utf-8"))
SIZES = {int(size["id"]): size for size in DATA["size"]}
RIBBED = {grade["letter"] for grade in DATA["grade"] if grade["ribbed"]}
DEFAULTS = {"cover_to_steel": "40 mm", "stock_length": "12 m", "lap": "40d", "column_foot": "200 mm",
            "column_top": "300 mm", "beam_corner": "300 mm"}
# CHOICE: the design says "lintels wider than 250 mm" and no more; papers: 150 mm beyond each side, three bars.
LINTEL_FROM, LINTEL_BEARS, LINTEL_BARS = 250, 150, 3
# CHOICE: a piece of a cut bar that is left out as too short. Papers leave out 145 mm and keep 165 mm.
SHORTEST = 150
# CHOICE: chairs, shape 98: top 300 mm, feet 200 mm, as high as what both layers leave.
CHAIR_TOP, CHAIR_FOOT = 300, 200


def table(key, size):
    return length(SIZES[size][key])


def kg_per_metre(size):
    """What is printed is what is multiplied: three places."""
    mass = Fraction(DATA["density"]["value"]) * PI / 4 * size * size / 10**6
    return Fraction((mass * 1000 + Fraction(1, 2)) // 1, 1000)


def notation(text):
    found = re.fullmatch(r"(\d+)?([A-Z])(\d+)(?:@(\d+))?", text)
    if not found:
        raise ValueError(f"not a bar: {text!r}")
    number, letter, size, apart = found.groups()
    return int(number or 0), letter, int(size), int(apart or 0)


def up(value):
    """Lengths up to the next 25 mm."""
    return ceil(Fraction(value) / 25) * 25


def cutting_length(shape, size, d):
    """BS 8666:2005, all dimensions external; the last leg, in brackets there, counts like the others."""
    r = table("radius", size)
    a, b, c, e = (*d, *[0] * (4 - len(d)))
    return {"00": a, "11": a + b - r / 2 - size, "21": a + b + c - r - 2 * size,
            "51": 2 * (a + b + c) - Fraction(5, 2) * r - 5 * size,
            "98": a + 2 * b + c + e - 2 * r - 4 * size}[shape]


class Schedule:
    def __init__(self, job):
        self.site = Site(job)
        self.job = job
        self.steel = job.get("steel", {})
        self.marks = Counter()
        self.wrong = []
        self.c = self.length("cover_to_steel")
        self.stock = self.length("stock_length") // 25 * 25  # what can be cut from it, lengths being multiples of 25
        self.ring_stages = ["ring-beam"] + ["walls-upper"] * (len(self.site.rings) - 1)

    def length(self, key):
        return length(self.steel.get(key, DEFAULTS[key]))

    def lap(self, size):
        text = self.steel.get("lap", DEFAULTS["lap"])
        return Fraction(text[:-1]) * size if text.endswith("d") else length(text)

    def leg(self, key, size):
        """A leg; CHOICE: one shorter than the least end projection is made that long, none stays none."""
        leg = self.length(key)
        return max(leg, table("projection", size)) if leg else leg

    def put(self, member, bar, shape, dims, count, stage):
        letter, size = bar
        # Printed to tenths of a millimetre, half away from zero (design section 3); the length is that of the exact bar.
        shown = tuple(Fraction((d * 10 + Fraction(1, 2)) // 1, 10) for d in dims)
        mark = Mark(member, f"{letter}{size}", shape, shown,
                    up(cutting_length(shape, size, dims)), stage)
        if mark.length > self.stock:
            self.wrong.append(f"{member}: {mark.length} of {self.stock}")
        if count:
            self.marks[mark] += count

    def straight(self, member, bar, long, count, stage, start=0, end=0):
        """A bar with legs or none, in pieces that lap where it is longer than stock: full ones first."""
        letter, size = bar
        bend = table("radius", size) / 2 + size

        def piece(long, legs):
            legs = [leg for leg in legs if leg]
            if len(legs) == 2:
                return "21", (legs[0], long, legs[1])
            return ("11", (long, legs[0])) if legs else ("00", (long,))

        shape, dims = piece(long, (start, end))
        if up(cutting_length(shape, size, dims)) <= self.stock:
            return self.put(member, bar, shape, dims, count, stage)
        lap, legs, cut = self.lap(size), [start, end], []
        while True:
            shape, dims = piece(long, legs)
            if up(cutting_length(shape, size, dims)) <= self.stock:
                # CHOICE, printed: with hardly anything straight before its leg, the last two pieces are equal.
                if legs[1] and cut and long < table("projection", size):
                    before, leg = cut.pop()
                    half = (before + (leg - bend if leg else 0) + long + legs[1] - bend) / 2
                    cut.append((half - leg + bend if leg else half, leg))
                    long = half - legs[1] + bend
                for straight, leg in cut:
                    self.put(member, bar, *piece(straight, (leg, 0)), count, stage)
                return self.put(member, bar, *piece(long, legs), count, stage)
            first = self.stock - legs[0] + bend if legs[0] else self.stock
            cut.append((first, legs[0]))
            long, legs = long - first + lap, [0, legs[1]]
            if first <= lap or len(cut) > 100:
                return self.wrong.append(f"{member}: laps eat the bar")

    def spread(self, over, apart):
        """Number of bars: whole spaces and one more."""
        return ceil(Fraction(over) / apart) + 1

    def links(self, member, bar, sides, over, count, stage):
        """Links of shape 51 by member size less cover, spread over a length, in so many members."""
        _, letter, size, apart = notation(bar)
        a, b = (Fraction(side) - 2 * self.c for side in sides)
        if min(a, b) < 2 * table("radius", size) + 2 * size:
            self.wrong.append(f"{member}: {min(a, b)} left for {letter}{size}")
        ends = table("projection_links", size)
        self.put(member, (letter, size), "51", (a, b, ends, ends), count * self.spread(over, apart), stage)

    def base(self):
        mesh, s = self.steel["base"], self.site
        x0, x1, y0, y1 = s.plan(s.projection)
        along, across = x1 - x0 - 2 * self.c, y1 - y0 - 2 * self.c
        for member, text, long, over in (("base, across", mesh.get("short"), across, along),
                                         ("base, along", mesh.get("long"), along, across)):
            if text:
                _, letter, size, apart = notation(text)
                self.straight(member, (letter, size), long, self.spread(over, apart), "base")

    def columns(self):
        given, s, c = self.steel["columns"], self.site, self.c
        ends = ((" at the inlet", s.height + s.fall, 2), (" at the outlet", s.height, 2)) if s.fall else \
            (("", s.height, 4),)
        if "main" in given:
            number, letter, size, _ = notation(given["main"])
            bar = letter, size
            # Foot in the pocket, else in the base: `cover_to_steel` above its underside.
            down = (s.dig_below_floor + s.pocket if s.pocket else s.base) - c
            self.straight("columns, starter bars", bar, self.lap(size) + down, number * 4, "base",
                          end=self.leg("column_foot", size))
            for where, high, count in ends:
                self.straight(f"columns{where}, main bars", bar, high + s.cover - c, number * count, "walls-lower",
                              end=self.leg("column_top", size))
        if "links" in given:
            for where, high, count in ends:  # CHOICE: no cover taken off at floor and soffit
                self.links(f"columns{where}, links", given["links"], s.columns, high, count, "walls-lower")

    def band(self, given, names, deep, stage):
        """A beam round all four walls; CHOICE: links of the ends over the outer width, of the sides between them."""
        s = self.site
        x0, x1, y0, y1 = s.plan()
        sides, ends = (("sides", x1 - x0 - 2 * self.c), ("ends", y1 - y0 - 2 * self.c))
        if "main" in given:
            number, letter, size, _ = notation(given["main"])
            leg = self.leg("beam_corner", size)
            for name, long in (sides, ends):
                self.straight(names[name], (letter, size), long, 2 * number, stage, leg, leg)
            if leg > min(sides[1], ends[1]):
                self.wrong.append(f"legs of {leg}")
        if "links" in given:
            section = s.t, deep
            self.links(names["sides links"], given["links"], section, s.length, 2, stage)
            self.links(names["ends links"], given["links"], section, ends[1], 2, stage)

    def ring_beams(self):
        many = len(self.site.rings) > 1
        for n, ((z0, z1), stage) in enumerate(zip(self.site.rings, self.ring_stages), 1):
            word = f"ring beam {n}" if many else "ring beam"
            self.band(self.steel["ring_beams"],
                      {"sides": f"{word}, long sides", "ends": f"{word}, ends",
                       "sides links": f"{word}, links of the long sides", "ends links": f"{word}, links of the ends"},
                      z1 - z0, stage)

    def wall_beams(self):
        given, s = self.steel["wall_beams"], self.site
        word, stage = "beams on walls", "walls-upper"
        self.band(given, {"sides": f"{word}, long sides", "ends": f"{word}, ends",
                          "sides links": f"{word}, links of the long sides",
                          "ends links": f"{word}, links of the ends"}, s.wall_beams, stage)
        if s.partitions and not s.air_gap:
            count = len(s.partitions)
            if "main" in given:
                number, letter, size, _ = notation(given["main"])
                self.straight("beams on partitions", (letter, size), s.width + 2 * s.t - 2 * self.c, number * count, stage)
            if "links" in given:
                self.links("beams on partitions, links", given["links"], (s.tp, s.wall_beams), s.width, count, stage)

    def span_beam(self):
        given, s = self.steel["span_beam"], self.site
        half, deep, bearing = s.span
        if "main" in given:
            number, letter, size, _ = notation(given["main"])
            self.straight("beam under cover", (letter, size), s.length + 2 * bearing - 2 * self.c, number, "cover")
        if "links" in given:
            self.links("beam under cover, links", given["links"], (2 * half, deep), s.length, 1, "cover")

    def lintels(self):
        s = self.site
        if not s.openings or s.openings[0][1] - s.openings[0][0] <= LINTEL_FROM:
            return
        wide = s.openings[0][1] - s.openings[0][0] + 2 * LINTEL_BEARS
        if "lintel" in self.steel:
            number, letter, size, _ = notation(self.steel["lintel"])
        else:
            given = texts(self.steel) + [self.steel[key] for key in ("chairs",) if key in self.steel]
            used = [notation(text)[1:3] for text in given if notation(text)[1] in RIBBED]
            letter, size = min(used, key=lambda bar: bar[::-1])  # CHOICE: of equal ones the first letter
            number = LINTEL_BARS
        # It lies in the first masonry over the opening: in the upper part where that begins at the opening's top.
        lower = not s.rings or s.openings[0][3] < s.rings[0][0]
        self.straight("lintel over the opening of a partition", (letter, size), wide,
                      number * len(s.openings) * len(s.partitions), "walls-lower" if lower else "walls-upper")

    def cover(self):
        given, s, c = self.steel["cover"], self.site, self.c
        layers = given.get("layers", 1)
        x0, x1, y0, y1 = (edge + sign * c for edge, sign in zip(s.plan(), (1, -1, 1, -1)))
        for member, text, start, end, low, high, turn in (
                ("cover, across", given.get("short"), y0, y1, x0, x1, lambda m: (m[0], m[1], m[2], m[3])),
                ("cover, along", given.get("long"), x0, x1, y0, y1, lambda m: (m[2], m[3], m[0], m[1]))):
            if not text:
                continue
            _, letter, size, apart = notation(text)
            bar, count = (letter, size), self.spread(high - low, apart)
            cut = {}
            for n in range(count):
                at = low + (high - low) * n / (count - 1)
                # A bar meets a manhole where less than the cover to steel is left between them.
                met = [k for k, m in enumerate(map(turn, s.manholes)) if m[0] - c < at < m[1] + c]
                cut.setdefault(tuple(met), []).append(at)
            for met, bars in cut.items():
                if not met:
                    self.straight(member, bar, end - start, len(bars) * layers, "cover")
                    continue
                name = f"{member}, cut at manhole {', '.join(str(k + 1) for k in met)}"
                edges = [start]
                for k in met:
                    _, _, a, b = turn(s.manholes[k])
                    edges += [a - c, b + c]
                edges.append(end)
                for a, b in zip(edges[::2], edges[1::2]):
                    if b - a >= SHORTEST:
                        self.straight(name, bar, b - a, len(bars) * layers, "cover")
        if "trimmers" in given:
            number, letter, size, _ = notation(given["trimmers"])
            lap = self.lap(size)
            for n, (a0, a1, b0, b1) in enumerate(s.manholes, 1):
                for way, low, high, edge0, edge1 in (("along", a0, a1, x0, x1), ("across", b0, b1, y0, y1)):
                    long = min(high + lap, edge1) - max(low - lap, edge0)
                    self.straight(f"beside manhole {n}, {way}", (letter, size), long, 2 * number * layers, "cover")
        if "chairs" in self.steel and layers == 2:
            number, letter, size, _ = notation(self.steel["chairs"])
            both = sum(notation(given[key])[2] for key in ("short", "long") if key in given)
            high = s.cover - 2 * c - 2 * both
            if high < 2 * table("radius", size) + 2 * size:
                self.wrong.append(f"chairs {high}")
            self.put("cover, chairs between the layers", (letter, size), "98",
                     (CHAIR_TOP, high, CHAIR_FOOT, CHAIR_FOOT), number, "cover")

    def soak_pit_cover(self):
        """A mat in a circle: bars at the middles of equal strips, each as long as its chord; the manhole in the middle."""
        given, pit = self.steel["soak_pit_cover"], SoakPit(self.site)
        over = pit.dig - 2 * self.c
        _, letter, size, apart = notation(given["bars"])
        bar, count = (letter, size), max(1, ceil(Fraction(over) / apart))
        place = Counter()
        for n in range(count):
            off = abs(Fraction(2 * n + 1 - count, count))  # from the middle, of half the diameter
            place[off, min(n, count - 1 - n) + 1] += 1
        for (off, name), bars in place.items():
            square = (1 - off * off) * 10**8
            share = isqrt(ceil(square))
            share += share * share < square
            chord = over * Fraction(share, 10000)  # CHOICE: the chord's share of the diameter, up to four places
            if not any(pit.hole):
                self.straight(f"soak pit cover, both ways, bar {name} from the edge", bar, chord, 2 * bars * pit.count, "soak-pit")
                continue
            for way, along, across in (("along", *pit.hole), ("across", *pit.hole[::-1])):
                member = f"soak pit cover, {way} the manhole, bar {name} from the edge"
                if off * over / 2 >= Fraction(across) / 2 + self.c:
                    self.straight(member, bar, chord, bars * pit.count, "soak-pit")
                    continue
                piece = (chord - along) / 2 - self.c
                if piece >= SHORTEST:
                    self.straight(member + ", cut at it", bar, piece, 2 * bars * pit.count, "soak-pit")
        if any(pit.hole) and "trimmers" in given:
            number, letter, size, _ = notation(given["trimmers"])
            for way, side in zip(("along", "across"), pit.hole):
                long = min(side + 2 * self.lap(size), over)
                self.straight(f"beside manhole of soak pit, {way}", (letter, size), long, 2 * number * pit.count, "soak-pit")

    def draw_up(self):
        if not self.steel:
            return self
        s = self.site
        there = {"base": True, "columns": s.columns, "ring_beams": s.rings, "wall_beams": s.wall_beams,
                 "span_beam": s.span, "cover": True,
                 "soak_pit_cover": "cover" in self.job.get("soak_pit", {})}
        for member, built in there.items():
            if member in self.steel and built:
                getattr(self, member)()
        self.lintels()
        return self


def texts(steel):
    """Every bar notation of [steel]'s members."""
    return [text for member in steel.values() if isinstance(member, dict) for text in member.values()
            if isinstance(text, str)]


def bars(job):
    return Schedule(job).draw_up().marks


def mass(job):
    """Kilograms, exactly."""
    return sum((Fraction(count * mark.length, 1000) * kg_per_metre(int(mark.bar[1:])) for mark, count in bars(job).items()),
               Fraction(0))


def problems(job):
    return Schedule(job).draw_up().wrong


def main(arguments):
    if len(arguments) != 2:
        print("usage: bars_model.py JOB.toml", file=sys.stderr)
        return 2
    with open(arguments[1], "rb") as file:
        job = tomllib.load(file)
    for mark, count in bars(job).items():
        dims = " ".join(str(float(d)) for d in mark.dims)
        print(f"{count:4} {mark.bar:4} {mark.shape} {mark.length:6}  {mark.stage}: {mark.member}: {dims}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
