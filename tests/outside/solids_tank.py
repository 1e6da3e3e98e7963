"""The tank of a job file as meshes: set out from the design, the higher rank takes space from the lower by difference."""
from fractions import Fraction

from manifold3d import Manifold
from second_model import Reader, length, number
from shapes import beside, box, drilled, frustum, join, over, strip, underside, upright

MASONRY = ("wall", "column", "ring-beam", "wall-beam")
FAR = 5000  # mm of ground and air round the tank
WORKS = {"hardcore": "hardcore-bed", "blinding": "concrete-blinding", "base": "concrete-base", "wall": "brickwork-wall",
         "partition": "brickwork-partition", "column": "concrete-column", "ring-beam": "concrete-ring-beam",
         "wall-beam": "concrete-wall-beam", "span-beam": "concrete-span-beam", "cover": "concrete-cover",
         "board": "concrete-board", "haunch": "concrete-haunch", "shaft": "manhole-shaft", "clear": "void-clear-space",
         "opening": "void-opening", "manhole": "void-manhole", "shaft-void": "void-shaft", "pipe-hole": "void-pipe-hole"}
VOIDS = ("clear", "opening", "manhole", "pipe-hole", "shaft-void")
# Highest first, as DEVELOPERS.md has them under Ranks.
RANKS = ("column", "span-beam", "wall-beam", "ring-beam", "board", "pipe-hole", "wall", "opening", "partition", "haunch",
         "manhole", "cover", "shaft-void", "shaft", "base", "blinding", "hardcore", "clear")


class Tank:
    """Claims and parts; x along the flow from the inner face at the inlet, y across, z up from the ground."""

    def __init__(self, job, ranks=RANKS):
        self.r = Reader(job)
        self.levels()
        claims = {name: join(getattr(self, "claim_" + name.replace("-", "_"))()) for name in RANKS}
        self.part, self.taken = {}, Manifold()
        for name in ranks:
            self.part[name] = claims[name] - self.taken
            self.taken = self.taken + claims[name]
        self.earth()

    def given(self, path):
        return self.r.table(path) is not None

    def size(self, path):
        return self.r.length("tank." + path)

    # Setting out

    def levels(self):
        raw, size = self.r.raw, self.size
        chambers = [length(clear) for clear in raw("tank.chambers")]
        self.t, self.w, self.fall = size("walls.thickness"), size("width"), size("base.fall")
        own = raw("tank.partitions.thickness")
        self.tp = self.t if own == "as the walls" else length(own)
        self.rooms, x = [], Fraction(0)
        for clear in chambers:
            self.rooms.append((x, x + clear))
            x += clear + self.tp
        self.l = x - self.tp
        self.walls_between = [(a[1], b[0]) for a, b in zip(self.rooms, self.rooms[1:])]
        self.top = size("cover_top")
        self.soffit = self.top - size("cover.thickness")
        self.masonry = self.soffit - size("cover.wall_beams")
        self.bed = self.soffit - size("height")  # the floor at the outlet end
        self.open = raw("tank.pit.face") == "open"
        layers = [size("base.concrete.thickness"), size("base.blinding.thickness"), size("base.hardcore")]
        self.layer = [-sum(layers[:n]) for n in range(4)]  # from the floor to the dig bottom
        self.beyond = size("base.projection")
        self.room_round = size("pit.working_space") if self.open else Fraction(0)
        self.rings = sorted((self.bed + length(ring["above_floor"]), length(ring["depth"]))
                            for ring in self.r.table("tank.ring_beams") or [])
        self.columns = None
        if self.given("tank.columns"):
            own = raw("tank.columns.size")
            sx, sy = (self.t, self.t) if own == "as the walls" else map(length, own)
            out = self.plan()
            self.columns = [(x, x + sx, y, y + sy) for x in (out[0], out[1] - sx) for y in (out[2], out[3] - sy)]
        self.holes = [(size(f"pipes.{end}.diameter"), self.masonry - size(f"pipes.{end}.below_top"))
                      for end in ("inlet", "outlet") if self.given("tank.pipes")]

    def plan(self, beyond=0):
        out = self.t + beyond
        return -out, self.l + out, -out, self.w + out

    @property
    def inside(self):
        return Fraction(0), self.l, Fraction(0), self.w

    def floor(self, x):
        """Level at the outlet end wall, level at the inlet's, a straight line between their inner faces."""
        return self.bed - self.fall * (1 - min(max(x, 0), self.l) / self.l)

    def on_floor(self, plan, bottom, top):
        """A block whose bottom, and top where it is a pair, follow the floor at a distance."""
        x0, x1, y0, y1 = plan
        stations = [x0, *(x for x in (0, self.l) if x0 < x < x1), x1]
        high = (lambda x: self.floor(x) + top[0]) if isinstance(top, tuple) else (lambda x: top)
        return strip([(float(x), float(self.floor(x) + bottom), float(high(x))) for x in stations], float(y0), float(y1))

    def round_walls(self, bottom, top):
        """Over the four outer walls."""
        return [box(self.plan(), bottom, top) - box(self.inside, bottom, top)]

    # Claims, each of what its part would have if it were alone

    def claim_column(self):
        return [self.on_floor(plan, 0, self.soffit) for plan in self.columns or []]

    def claim_span_beam(self):
        if not self.given("tank.cover.span_beam"):
            return []
        half, into = self.size("cover.span_beam.width") / 2, self.size("cover.span_beam.bearing")
        plan = -into, self.l + into, self.w / 2 - half, self.w / 2 + half
        return [box(plan, self.soffit - self.size("cover.span_beam.depth"), self.soffit)]

    def claim_wall_beam(self):
        if self.masonry == self.soffit:
            return []
        over = [] if self.size("partitions.air_gap") else self.walls_between
        return self.round_walls(self.masonry, self.soffit) + [box((*ends, 0, self.w), self.masonry, self.soffit) for ends in over]

    def claim_ring_beam(self):
        return [ring for low, deep in self.rings for ring in self.round_walls(low, low + deep)]

    def claim_board(self):
        found = []
        for board in self.r.table("tank.boards") or []:
            x, thick, deep, under, into = (length(board.get(key, 0)) for key in
                                           ("from_inlet", "thickness", "depth", "below_top", "built_in"))
            top = self.masonry - under
            found.append(box((x, x + thick, -into, self.w + into), top - deep, top))
        return found

    def claim_pipe_hole(self):
        ends = (-self.t, Fraction(0)), (self.l, self.l + self.t)
        return [drilled(d, self.w / 2, invert + d / 2, *end) for (d, invert), end in zip(self.holes, ends)]

    def claim_wall(self):
        low = self.bed - self.fall - 1
        return [self.on_floor(self.plan(), 0, self.masonry) - box(self.inside, low, self.masonry + 1)]

    def claim_opening(self):
        if not self.given("tank.partitions.opening"):
            return []
        own = "partitions.opening."
        wide, high, count = self.size(own + "width"), self.size(own + "height"), self.r.raw("tank." + own + "number")
        top, gap = self.masonry - self.size(own + "below_top"), (self.w - count * wide) / (count + 1)
        lefts = [gap + n * (wide + gap) for n in range(count)]
        return [box((*ends, y, y + wide), top - high, top) for ends in self.walls_between for y in lefts]

    def claim_partition(self):
        gap = self.size("partitions.air_gap")
        top = self.soffit - gap if gap else self.masonry
        return [self.on_floor((*ends, 0, self.w), 0, top) for ends in self.walls_between]

    def claim_haunch(self):
        if not self.given("tank.haunch"):
            return []
        wide, top = self.size("haunch.width"), self.bed + self.size("haunch.height")
        return [self.on_floor((0, self.l, *ys), 0, top) for ys in ((0, wide), (self.w - wide, self.w))]

    def manholes(self):
        sizes = [tuple(map(length, pair)) for pair in self.r.raw("tank.cover.manholes")]
        left = self.w / 2 + self.size("cover.span_beam.width") / 2 if self.given("tank.cover.span_beam") else Fraction(0)
        for n, ((along, across), (x0, x1)) in enumerate(zip(sizes, self.rooms)):
            x = x0 if n == 0 else x1 - along if n == len(sizes) - 1 else (x0 + x1 - along) / 2
            y = (left + self.w - across) / 2
            yield x, x + along, y, y + across

    def claim_manhole(self):
        return [box(plan, self.soffit, self.top) for plan in self.manholes()]

    def claim_cover(self):
        return [box(self.plan(), self.soffit, self.top)]

    def shafts(self):
        return list(self.manholes()) if self.given("tank.manhole_shafts") and self.top < 0 else []

    def claim_shaft_void(self):
        return [box(plan, self.top, self.size("manhole_shafts.upstand")) for plan in self.shafts()]

    def claim_shaft(self):
        t = self.size("manhole_shafts.thickness") if self.shafts() else 0
        return [box((x0 - t, x1 + t, y0 - t, y1 + t), self.top, self.size("manhole_shafts.upstand"))
                for x0, x1, y0, y1 in self.shafts()]

    def bed_of(self, n):
        thin = self.layer[n] == self.layer[n + 1]
        return [] if thin else [self.on_floor(self.plan(self.beyond), self.layer[n + 1], (self.layer[n],))]

    def claim_base(self):
        return self.bed_of(0)

    def claim_blinding(self):
        return self.bed_of(1)

    def claim_hardcore(self):
        return self.bed_of(2)

    def claim_clear(self):
        return [self.on_floor(self.inside, 0, self.soffit)]

    # The ground

    def dug(self, beyond):
        return self.on_floor(self.plan(beyond), self.layer[3], Fraction(0))

    def earth(self):
        """The pit, the net part of it, and what lies round the tank: earth that stands, and what is open."""
        self.net, self.sides = self.dug(self.beyond), self.dug(self.beyond + self.room_round)
        self.pit, highest = self.sides, self.bed + self.layer[3]
        lean = number(self.r.raw("tank.pit.batter")) * -highest if self.open else 0
        if lean:
            plan, wider = (self.plan(self.beyond + self.room_round + more) for more in (0, lean))
            self.pit = self.pit + frustum(plan, highest, wider, 0)
        far, low, high = self.plan(FAR), highest - self.fall - FAR, max(self.top, Fraction(0)) + FAR
        self.ground = Manifold() if self.open else box(far, low, 0) - box(self.plan(), low, 0)
        self.outside = box(far, low if self.open else 0, high) - self.taken
        self.round_base = self.outside - box(self.plan(self.beyond), low, high)  # not over it, nor under it
        self.pockets = Manifold()
        if self.columns and self.size("columns.pocket"):
            deep = self.layer[3] - self.size("columns.pocket")
            self.pockets = join(self.on_floor(plan, deep, (self.layer[3],)) for plan in self.columns)

    # What is measured of it, in mm

    def over_dug(self):
        """Beyond the net faces of a tight pit, from its bottom to ground."""
        return 0.0 if self.open else upright(self.sides) * float(self.size("pit.over_break"))

    def unclaimed(self):
        """Room of the outer plan from the dig bottom to the top of the cover that no part has."""
        return (self.on_floor(self.plan(), self.layer[3], self.top) - self.taken).volume()

    def volumes(self):
        found = {WORKS[name]: part.volume() for name, part in self.part.items()}
        found |= {"concrete-pocket": self.pockets.volume(), "excavation-pocket": self.pockets.volume(),
                  "excavation-pit": self.pit.volume(), "backfill@finish": (self.pit - self.taken).volume(),
                  "disposal@dig": (self.pit ^ self.taken).volume() + self.pockets.volume()}
        if self.open:
            round_it = (self.pit - self.net).volume()
            found |= {"excavation-pit/net": self.net.volume(), "excavation-pit/working-space": round_it,
                      "backfill/working-space": round_it}
        return found

    def lifts(self):
        """Stages and levels of what goes up in lifts: below the lowest ring beam, in its depth, above it."""
        if not self.rings:
            return [("walls-lower", None, None)]
        low, deep = self.rings[0]
        return [("walls-lower", None, low), ("ring-beam", low, low + deep), ("walls-upper", low + deep, None)]

    def by_stage(self):
        """Volumes and forms by lifts; a partition goes on beside the ring beam as in the lift above."""
        found, deep = {}, self.bed - self.fall - FAR
        for stage, low, high in self.lifts():
            cut = box(self.plan(FAR), deep if low is None else low, self.top + FAR if high is None else high)
            for name in ("column", "ring-beam", "wall", "partition"):
                piece, when = self.part[name] ^ cut, stage
                if name == "partition" and low is not None:
                    when = "walls-upper"
                self.add(found, f"{WORKS[name]}@{when}", piece.volume())
                if name in ("column", "ring-beam"):
                    self.add(found, f"formwork-{name}@{when}", self.formed(piece))
        return found

    @staticmethod
    def add(found, key, value):
        found[key] = found.get(key, 0.0) + value

    def formed(self, part):
        """Towards the inside from the side and from below, and open faces outside."""
        return beside(part, self.room) + over(part, self.room) + beside(part, self.outside)

    def sides_by(self, names, other):
        """Part by part: joined meshes that only touch lose a digit where they do."""
        return sum(beside(self.part[name], other) for name in names)

    def cut_by_ground(self):
        """A hole that ground level cuts: its segment below ground, less its share by height, which is what is booked."""
        below = box(self.plan(1), self.bed - self.fall - FAR, 0)
        cut = [drilled(d, self.w / 2, invert + d / 2, -self.t, 0) for d, invert in self.holes if invert < 0 < invert + d]
        shares = [-invert / d for d, invert in self.holes if invert < 0 < invert + d]
        return sum((hole ^ below).volume() - float(share) * hole.volume() for hole, share in zip(cut, shares)) / float(self.t)

    def faces(self):
        part, raw = self.part, self.r.raw
        clear, opening, cover = part["clear"], part["opening"], part["cover"]
        self.room = clear + opening
        found = {f"formwork-{name}": self.formed(part[name]) for name in ("wall-beam", "span-beam")}
        found |= self.by_stage()
        found |= {"formwork-board": beside(part["board"], self.room) + over(part["board"], self.room),
                  "formwork-haunch": beside(part["haunch"], clear),
                  "formwork-base-edge": beside(part["base"], self.round_base),
                  "formwork-cover-edge": beside(cover, self.outside),
                  "formwork-cover-soffit": over(cover, self.room),
                  "formwork-manhole": beside(cover, part["manhole"]),
                  "bottom-trim": underside(self.sides)}
        if self.given("tank.plaster"):
            lined = self.sides_by((*MASONRY, "partition"), self.room)
            found["plaster-wall"] = (lined + over(self.room, part["partition"]) + over(part["partition"], opening)
                                     + beside(part["haunch"], clear) + over(clear, part["haunch"]))
            if self.given("tank.plaster.screed"):
                found["screed"] = over(clear, part["base"])
            if raw("tank.plaster.outside"):
                found["plaster-outside"] = self.sides_by((*MASONRY, "pipe-hole"), self.outside)
            if raw("tank.plaster.paste"):
                found["cement-paste"] = found["plaster-wall"] + found.get("screed", 0.0)
        if raw("tank.cover.membrane"):
            found["damp-proof-membrane"] = underside(cover)
        if raw("tank.pit.termite"):
            found["termite-treatment"] = underside(self.sides) + upright(self.sides)
        if raw("ground.support") != "none":
            found["earthwork-support@dig"] = upright(self.sides)
        if not self.open and self.size("pit.over_break"):
            solid = [name for name in part if name not in (*VOIDS, "shaft")]
            found["over-break"] = self.sides_by(solid, self.ground) + self.cut_by_ground()
        return found
