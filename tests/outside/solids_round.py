"""What belongs to a tank, as meshes: trenches, drains, inspection chambers, soak pits. Each stands by itself."""
from fractions import Fraction

from manifold3d import Manifold
from second_model import Entry, length, number
from shapes import CHORD, beside, box, disc, join, over, shared, sloping, tube, underside, upright


class Round:
    """Quantities of all that stands round the tank, in mm."""

    def __init__(self, tank):
        self.tank, self.r, self.found = tank, tank.r, {}
        self.supported = self.r.raw("ground.support") != "none"
        self.trenches()
        for drain in self.entries("drain"):
            self.drain(drain)
        for chamber in self.entries("inspection_chambers"):
            self.chamber(chamber)
        if self.r.table("soak_pit") is not None:
            self.soak_pit()

    def entries(self, name):
        return [Entry(name, entry) for entry in self.r.table(name) or []]

    def add(self, key, value, times=1):
        self.found[key] = self.found.get(key, 0.0) + value * times

    # Trenches of pipes

    def invert(self, end):
        """Depth of the invert at the tank."""
        return self.r.length(f"tank.pipes.{end}.below_top") - self.tank.masonry

    def ends(self, end):
        """Depths of the inverts at both ends of a pipe; None where the job does not say."""
        r, pipe, at = self.r, f"tank.pipes.{end}", self.invert(end)
        along = r.length(pipe + ".length")
        if end == "outlet":
            return at, at + along * number(r.raw(pipe + ".fall"))
        if r.table(pipe + ".start") is not None:
            return r.length(pipe + ".start"), at
        return (at - along * number(r.raw(pipe + ".fall")), at) if r.table(pipe + ".fall") is not None else None

    def trenches(self):
        r = self.r
        if r.table("tank.pipes.trench") is not None:
            wide, bed = r.length("tank.pipes.trench.width"), r.length("tank.pipes.trench.bed")
            for end in ("inlet", "outlet"):
                given = r.table("tank.pipes.trench.depth") is not None
                depths = (r.length("tank.pipes.trench.depth"),) * 2 if given else self.ends(end)
                self.trench(r.length(f"tank.pipes.{end}.length"), wide, depths, bed, given)
        for line in self.entries("pipes"):
            if line.table("trench") is None:
                continue
            given, along = line.table("trench.depth") is not None, line.length("length")
            depths = (line.length("trench.depth"),) * 2
            if not given:
                depths = line.length("start"), line.length("start") + along * number(line.raw("fall"))
            self.trench(along, line.length("trench.width"), depths, line.length("trench.bed"), given)

    def trench(self, along, wide, depths, bed, whole):
        """Depths to the bottom (`whole`), or to the invert with the bed below."""
        if not along:
            return
        bottom = [-d - (0 if whole else bed) for d in depths]
        dug = sloping(along, bottom, (0, 0), wide)
        laid = sloping(along, bottom, [b + bed for b in bottom], wide) if bed else Manifold()
        self.add("excavation-trench", dug.volume())
        self.add("pipe-bed", laid.volume())
        self.add("backfill@pipes", (dug - laid).volume())
        self.add("disposal@pipes", laid.volume())

    # Drains and chambers

    def drain(self, drain):
        count, plan = drain.raw("number"), (0, drain.length("length"), 0, drain.length("width"))
        below = drain.length("stone_below")
        if drain.table("depth") is not None:
            deep = drain.length("depth")
        else:
            deep = below + (drain.length("invert") if drain.table("invert") is not None else self.ends("outlet")[1])
        dug = box(plan, -deep, 0)
        stone = box(plan, -deep, -deep + below + drain.length("pipe.diameter") + drain.length("stone_over"))
        self.add("excavation-drain", dug.volume(), count)
        self.add("drain-stone", stone.volume(), count)
        self.add("disposal@soak-pit", (dug ^ stone).volume(), count)
        self.add("soil-cover/drain", (dug - stone).volume(), count)
        if drain.raw("sheet") != "none":
            self.add("drain-sheet", underside(stone), count)
        if self.supported:
            self.add("earthwork-support@soak-pit", upright(dug), count)

    def chamber(self, chamber):
        count, (a, b) = chamber.raw("number"), map(length, chamber.raw("size"))
        t, space, deep = (chamber.length(key) for key in ("thickness", "working_space", "depth"))
        base, bench, top = (chamber.length(key) for key in ("base.thickness", "benching.depth", "upstand"))

        def plan(out):
            return -out, a + out, -out, b + out
        dug = box(plan(t + space), -deep - base, 0)
        clear = box(plan(0), -deep, top)
        benching = box(plan(0), -deep, -deep + bench) if bench else Manifold()
        slab = box(plan(t), -deep - base, -deep)
        wall = box(plan(t), -deep, top) - clear
        whole = join((slab, wall, clear))
        for key, size in (("excavation-chamber", dug), ("concrete-chamber-base", slab), ("concrete-benching", benching),
                          ("brickwork-chamber", wall), ("backfill@pipes", dug - whole), ("disposal@pipes", dug ^ whole)):
            self.add(key, size.volume(), count)
        if chamber.table("plaster") is not None:
            self.add("plaster-chamber", beside(wall, clear - benching), count)
        if self.supported:
            self.add("earthwork-support@pipes", upright(dug), count)

    # Soak pits, heights from their base

    def soak_pit(self):
        r, get, count = self.r, self.r.length, self.r.raw("soak_pit.number")

        def has(part):
            return r.table("soak_pit." + part) is not None
        wide, deep, fill = get("soak_pit.diameter"), get("soak_pit.depth"), get("soak_pit.fill_depth")
        dug, nothing = disc(wide, 0, deep), Manifold()
        ring = foot = dry = packing = slab = hole = nothing
        clear, thick, top = wide, Fraction(0), fill
        if has("cover"):
            thick = get("soak_pit.cover.thickness")
            top = deep - get("soak_pit.cover.soil") - thick
        if has("lining"):
            out = wide - 2 * get("soak_pit.lining.packing")
            clear = out - 2 * get("soak_pit.lining.thickness")
            inlet = deep - (get("soak_pit.invert") if has("invert") else self.ends("outlet")[1])
            foot = self.foot(wide, out, clear)
            ring = tube(out, clear, 0, top) - foot
            dry = ring ^ disc(wide, 0, inlet)
            packing = disc(wide, 0, inlet) - disc(out, 0, deep) - foot
        if has("cover"):
            a, b = map(length, r.table("soak_pit.cover.manhole") or (0, 0))
            if a and b:
                hole = box((-a / 2, a / 2, -b / 2, b / 2), top, top + thick)
            slab = disc(wide, top, top + thick) - hole
            self.add("formwork-soak-cover", over(slab, disc(clear, 0, top)), count)
            self.add("formwork-soak-manhole", beside(slab, hole), count)
        stone = disc(clear, 0, fill) - foot if fill else nothing
        room = disc(clear, 0, top) - foot if top else nothing  # inside the ring, with stone or without
        soil = dug - join((ring, foot, slab, packing, room, hole))
        for key, size in (("excavation-soak-pit", dug), ("brickwork-soak-pit", ring), ("brickwork-soak-pit/dry", dry),
                          ("brickwork-soak-pit/mortar", ring - dry), ("concrete-soak-foot", foot), ("concrete-soak-cover", slab),
                          ("soak-fill/packing", packing), ("soak-fill/", stone), ("soil-cover/", soil),
                          ("disposal@soak-pit", dug - soil)):
            self.add(key, size.volume(), count)
        if r.raw("soak_pit.sheet"):
            self.add("polythene-sheet", underside(disc(clear if has("cover") else wide, 0, 1)), count)
        if (r.table("soak_pit.support") or r.raw("ground.support")) != "none":
            self.add("earthwork-support@soak-pit", upright(dug) / CHORD, count)
        if has("lining.foot"):
            earth = disc(wide + 1000, 0, deep) - dug
            self.add("formwork-soak-foot", (upright(foot) - shared(foot, earth)) / CHORD, count)

    def foot(self, wide, out, clear):
        """In the middle under the ring, moved inwards where the dig is too tight."""
        if self.r.table("soak_pit.lining.foot") is None:
            return Manifold()
        high, across = self.r.length("soak_pit.lining.foot.thickness"), self.r.length("soak_pit.lining.foot.width")
        edge = min(wide, (out + clear) / 2 + across)
        return tube(edge, edge - 2 * across, 0, high)
