#!/usr/bin/env python3
"""Random job files that the program must accept, and, where asked, spoiled ones that it must refuse.

    random_job(rng) -> dict           a valid job; every length a whole number of mm, some written as text
    random_job(rng, refused=True)     a job spoiled in one way; ["job"]["title"] says how
    to_toml(job) -> str               its job file
    problems(job) -> [str]            why a job would be refused; [] for a valid one

    random_jobs.py SEED [COUNT FOLDER]   prints one, or writes COUNT files into FOLDER
"""
import json
import random
import sys
from fractions import Fraction
from pathlib import Path

from second_model import Site, SoakPit, length, number

UNITS = ("brick-220x105x65", "brick-215x102.5x65", "brick-190x90x90", "brick-230x110x75", "block-440x215x215",
         "block-400x200x200", "block-390x190x190", "block-450x225x225")
SOILS = ("firm-clay", "loam", "sand", "gravel", "laterite")
MIXES = ("1:2:4", "1:1.5:3", "1:3:6")


def problems(job):
    """The refused list of the design, as far as a drawn job can offend; where parts might touch, a gap is asked."""
    found = []

    def ask(holds, what):
        if not holds:
            found.append(what)

    s, r = Site(job), Site(job).reader
    tank, cover = job["tank"], job["tank"].get("cover", {})
    low = s.floor(0)
    ask(s.floor_outlet < 0, "floor above ground")
    if not s.open:
        for key in ("working_space", "batter"):
            ask(number_or_length(tank.get("pit", {}).get(key, 0)) == 0, f"{key} in a tight pit")
        ask(s.projection == 0, "projection in a tight pit")
    span_depth = s.span[1] if s.span else Fraction(0)
    ask(s.wall_beams < s.height and span_depth < s.height, "beams as deep as the tank")
    ask(s.air_gap < s.height, "air gap not less than the height")
    for n, (z0, z1) in enumerate(s.rings):
        ask(s.floor_outlet < z0 and z1 < s.masonry_top, "ring beam not between floor and top")
        ask(n == 0 or s.rings[n - 1][1] < z0, "ring beams overlap")
    inx = iny = Fraction(0)
    if s.columns:
        sx, sy = s.columns
        inx, iny = max(Fraction(0), sx - s.t), max(Fraction(0), sy - s.t)
        ask(2 * sx < s.length + 2 * s.t and 2 * sy < s.width + 2 * s.t, "column wider than half the tank")
        ask(inx < s.chambers[0] and inx < s.chambers[-1], "column meets a partition")
        ask(2 * inx < s.length and 2 * iny < s.width, "columns meet")
    if s.span:
        wide, _, bearing = s.span
        ask(2 * wide < s.width, "span beam as wide as the tank")
        ask(iny < s.width / 2 - wide, "column meets the span beam")
        ask(bearing < s.t, "bearing beyond the wall")
    for x0, x1 in s.partitions:
        for y0, y1, z0, z1 in s.openings:
            ask(z1 < s.partition_top and z1 < s.masonry_top, "opening reaches the partition's top or a beam")
            ask(z1 < s.soffit - span_depth, "opening reaches the span beam")
            ask(z0 >= s.floor(x1), "sill below the floor")
            ask(y0 > 0 and y1 < s.width, "opening as wide as the tank")
            if s.haunch:
                ask(z0 > s.haunch[1] or (y0 > s.haunch[0] and y1 < s.width - s.haunch[0]), "haunch in an opening")
    for (d, z), floor in zip(s.pipe_holes, (low, s.floor_outlet)):
        ask(floor < z and z + d < s.masonry_top, "pipe hole outside the masonry")
        ask(all(z + d < z0 or z1 < z for z0, z1 in s.rings), "pipe hole meets a ring beam")
        ask(z + d < s.soffit - span_depth, "pipe hole meets a beam's end")
        ask(iny < (s.width - d) / 2 and d < s.width, "pipe hole meets a column")
        if s.columns:
            ask(s.columns[1] < s.t + (s.width - d) / 2, "pipe hole meets a column")
        if s.haunch:
            ask(z > s.haunch[1] or s.haunch[0] < (s.width - d) / 2, "pipe hole meets a haunch")
    count = len(cover.get("manholes", []))
    ask(count in (0, len(s.chambers)), "manholes neither none nor one per chamber")
    left = s.width / 2 + s.span[0] if s.span else Fraction(0)
    for (x0, x1, y0, y1), (c0, c1) in zip(s.manholes, s.chamber_spans):
        ask(c0 <= x0 and x1 <= c1, "manhole longer than its chamber")
        ask(left <= y0 - iny and y1 + iny <= s.width, "manhole does not fit across")
    if s.shaft:
        for n, (x0, x1, y0, y1) in enumerate(s.manholes):
            ask(s.shaft[0] <= s.t, "shaft beyond the cover")
            ask(n == 0 or s.manholes[n - 1][1] + 2 * s.shaft[0] < x0, "shafts meet")
    bounds = [(0, inx), (s.length - inx, s.length), *s.partitions]
    for n, (x0, x1, into, z0, z1) in enumerate(s.boards):
        ask(0 < x0 and x1 < s.length and all(x1 < a or b < x0 for a, b in bounds), "board meets a partition or column")
        ask(all(x1 < b[0] or b[1] < x0 for b in s.boards[:n]), "boards meet")
        ask(s.floor_outlet < z0 and z1 < s.masonry_top and z1 < s.soffit - span_depth, "board meets floor or beams")
        ask(all(z1 < a or b < z0 for a, b in s.rings), "board meets a ring beam")
        ask(into < s.t, "board through the wall")
        ask(not s.haunch or z0 > s.haunch[1], "board meets a haunch")
    if s.haunch:
        ask(2 * s.haunch[0] < s.width and s.floor_outlet < s.haunch[1] < s.masonry_top, "haunch does not fit")
        ask(all(s.haunch[1] < z0 for z0, _ in s.rings), "haunch meets a ring beam")
        ask(not s.partitions or s.haunch[1] < s.partition_top, "haunch over the partition")
        ask(not s.span or s.haunch[1] < s.soffit - span_depth, "haunch meets the span beam")
        ask(iny < s.width / 2 and (not s.columns or s.haunch[0] != iny), "haunch flush with a column")
    if "soak_pit" in job:
        ask(r.length("soak_pit.fill_depth") <= r.length("soak_pit.depth"), "fill over depth")
        pit = SoakPit(s)
        if r.table("soak_pit.invert") is not None:
            ask(0 < pit.inlet < pit.deep, "invert below the base")
        ask(pit.lined or not pit.covered, "cover without a lining")
        if pit.lined:
            ask(pit.inlet is not None, "inlet not known")
            ask(pit.inlet is None or 0 < pit.inlet < pit.top, "inlet over the lining")
            ask(pit.clear > 0 and 0 < pit.top and pit.fill <= pit.top, "lining or cover fills the pit")
            ask(pit.hole[0] ** 2 + pit.hole[1] ** 2 < pit.clear ** 2, "manhole over the ring")
            if pit.foot:
                high, edge, inner = pit.foot
                ask(edge - inner >= 2 * pit.thick and inner > 0, "foot too narrow or too wide")
                ask(pit.inlet is not None and high < pit.inlet and (not pit.fill or pit.fill >= high), "foot too high")
    pipes = tank.get("pipes", {})
    if "trench" in pipes:
        if "depth" in pipes["trench"]:
            ask(r.length("tank.pipes.trench.bed") <= r.length("tank.pipes.trench.depth"), "bed over trench depth")
        else:
            for end in ("inlet", "outlet"):
                ask(s.inverts(end) is not None, "trench depth not known")
                ask(s.inverts(end) is None or s.inverts(end)[0] > 0, "pipe out of the ground")
    if "inlet" in pipes and (inverts := s.inverts("inlet")):
        ask(0 < inverts[0] <= inverts[1], "drain from the house rises, or comes out of the ground")
        if {"start", "fall"} <= pipes["inlet"].keys():
            reached = inverts[0] + r.length("tank.pipes.inlet.length") * number(pipes["inlet"]["fall"])
            ask(abs(reached - inverts[1]) < 1, "start and fall do not lead to the inlet")
    for drain in s.entries("drain"):
        own = drain.table("invert") is not None
        if not own and "outlet" not in pipes:
            ask(drain.table("depth") is not None, "drain depth not known")
            fed = None
        else:
            fed = drain.length("invert") if own else s.inverts("outlet")[1]
            ask(own or s.inverts("outlet")[0] > 0, "pipe out of the ground")
        if fed is not None or drain.table("depth") is not None:
            deep = s.drain_depth(drain)
            stone = drain.length("stone_below") + drain.length("pipe.diameter") + drain.length("stone_over")
            ask(stone <= deep, "more stone than drain")
            ask(fed is None or deep - drain.length("stone_below") >= fed, "drain above the pipe that feeds it")
    for chamber in s.entries("inspection_chambers"):
        ask(chamber.length("benching.depth") < chamber.length("depth"), "benching fills its chamber")
    for line in s.entries("pipes"):
        if line.table("trench.depth") is not None:
            ask(line.length("trench.bed") <= line.length("trench.depth"), "bed over trench depth")
            ask(line.table("start") is None or line.table("fall") is None, "depth of a line in two ways")
        elif line.table("trench") is not None:
            ask(line.table("start") is not None and line.table("fall") is not None, "depth of a line not known")
    return found


def number_or_length(value):
    try:
        return number(value)
    except ValueError:
        return length(value)


def random_job(rng, refused=False):
    while True:
        job = draw(rng)
        if problems(job):
            continue
        if not refused:
            return dress(rng, job)
        way = rng.choice(sorted(SPOILS))
        SPOILS[way](job, rng)
        if problems(job):
            job["job"]["title"] = "refused: " + way
            return job


def draw(rng):
    """One attempt; parts are placed so that most attempts are valid."""
    def yes(chance):
        return rng.random() < chance

    def mm(low, high):
        step = rng.choice((1, 1, 5, 10, 50))
        return max(low, rng.randint(low, max(low, high)) // step * step)

    def again(make, word):
        for _ in range(40):
            make()
            if not any(word in what for what in problems(job)):
                break

    is_open = yes(0.5)
    chambers = [mm(700, 3200) for _ in range(rng.choice((1, 2, 2, 3, 4)))]
    width, height = mm(700, 2600), mm(900, 2600)
    t = rng.choice((102, 110, 150, 190, 215, 220, 220, 230, 335, mm(100, 350)))
    tp = rng.choice((t, 100, 110, mm(90, 240)))
    thick = mm(75, 220)
    fall = 0 if yes(0.35) else mm(5, 200)
    level = rng.choice((0, mm(10, 300), -mm(10, 600), thick, thick + mm(50, 500), mm(75, 150)))
    many = len(chambers) > 1
    job = {"format": 1,
           "job": {"title": "Random tank", "date": "2026-11-25", "currency": "UGX", "profile": "exact",
                   "rates": "demo-ugx"},
           "ground": {"soil": rng.choice(SOILS), "support": rng.choice(("none", "open", "close"))}}
    if yes(0.3):
        job["ground"]["keep_dry"] = True
    tank = job["tank"] = {"chambers": chambers, "width": width, "height": height, "cover_top": level}
    if yes(0.3):
        tank["persons"] = rng.randint(4, 40)

    pit = tank["pit"] = {"face": "open" if is_open else "tight"}
    if is_open:
        if yes(0.7):
            pit["working_space"] = mm(100, 900)
        if yes(0.5):
            pit["batter"] = rng.choice(("0", "0.25", "0.5", "0.3", "1", "1.25"))
    elif yes(0.5):
        pit["over_break"] = mm(5, 50)
    if yes(0.4):
        pit["termite"] = True

    base = tank["base"] = {"concrete": {"thickness": mm(80, 300), "mix": rng.choice(MIXES)}}
    if yes(0.4):
        base["hardcore"] = mm(50, 250)
    if yes(0.5):
        base["blinding"] = {"thickness": mm(25, 100), "mix": "1:3:6"}
    if is_open and yes(0.6):
        base["projection"] = mm(20, 400)
    if fall:
        base["fall"] = fall

    every = rng.choice((0, 1, 2, 3, 4, 6))
    tank["walls"] = {"unit": rng.choice(UNITS), "thickness": t, "mortar": rng.choice(("1:3", "1:4")),
                     "hoop_iron_every": every, "hoop_iron_strips": rng.choice((1, 1, 2))}
    if yes(0.15):
        del tank["walls"]["hoop_iron_every"], tank["walls"]["hoop_iron_strips"]

    cover = tank["cover"] = {"thickness": thick, "mix": rng.choice(MIXES)}
    beam = mm(80, min(400, height // 4)) if yes(0.4) else 0
    if beam:
        cover["wall_beams"] = beam
    span = None
    if yes(0.45):
        span = {"width": mm(100, min(300, width // 3)), "depth": mm(60, min(400, height // 3))}
        if yes(0.5):
            span["bearing"] = mm(20, t - 10)
        cover["span_beam"] = span
    deepest = max(beam, span["depth"] if span else 0)

    air = 0
    if many:
        tank["partitions"] = {"thickness": tp}
        if yes(0.5):
            air = rng.choice((mm(20, height // 3), beam or 100, deepest or 60))
            tank["partitions"]["air_gap"] = air

    zmax = height - max(deepest, air)  # above the outlet floor, under everything
    haunch = None
    if yes(0.3):
        haunch = tank["haunch"] = {"width": mm(30, width // 4), "height": mm(30, 300), "mix": rng.choice(MIXES)}
    if many and yes(0.75):
        tall = mm(50, min(500, zmax // 2))
        if yes(0.3):  # on the floor where it is highest in every partition
            ups = [Site(job).floor(x1) for _, x1 in Site(job).partitions]
            sill = max(ups) - Site(job).floor_outlet if fall == 0 or len(ups) == 1 else 0
            sill = int(sill) if sill == int(sill) else 0
        else:
            sill = mm(0, zmax - tall - 1)
        number_ = rng.choice((1, 1, 2))
        wide = mm(60, min(600, (width - 20) // number_ - 10))
        tank["partitions"]["opening"] = {"width": wide, "height": tall, "number": number_,
                                         "below_top": height - beam - sill - tall}

    # ring beams: bands clear of what stands at the top
    room, z = height - beam, 0
    rings = []
    for _ in range(rng.choice((0, 0, 1, 1, 2))):
        deep = mm(75, 250)
        low = z + 50
        high = room - deep - 20
        if high <= low:
            break
        at = mm(low, high)
        rings.append({"above_floor": at, "depth": deep, "mix": rng.choice(MIXES)})
        z = at + deep
    if rings:
        tank["ring_beams"] = rings

    if yes(0.55):
        kind = rng.choice(("equal", "smaller", "larger", "mixed"))
        top = t + min(180, width // 3)
        pick = {"equal": lambda: t, "smaller": lambda: mm(60, t), "larger": lambda: mm(t, top),
                "mixed": lambda: mm(60, top)}[kind]
        tank["columns"] = {"size": [pick(), pick()], "mix": rng.choice(MIXES)}
        if yes(0.6):
            tank["columns"]["pocket"] = mm(50, 500)

    if yes(0.7):
        iny = max(0, tank["columns"]["size"][1] - t) if "columns" in tank else 0
        across = (width - (span["width"] if span else 0)) // (2 if span else 1) - 2 * iny
        if across > 120:
            cover["manholes"] = [[mm(120, min(700, c - 10)), mm(120, min(800, across))] for c in chambers]
    if level < 0 and "manholes" in cover and yes(0.8):
        tank["manhole_shafts"] = {"thickness": min(t, rng.choice((102, 110, 110, 220))), "upstand": mm(0, 300)}
    if yes(0.5):
        cover["membrane"] = True

    if yes(0.8):
        plaster = tank["plaster"] = {"thickness": rng.choice((12, 15, 20)), "mix": "1:3"}
        if yes(0.6):
            plaster["screed"] = {"thickness": rng.choice((20, 30)), "mix": "1:3"}
        if yes(0.5):
            plaster["paste"] = True
        if yes(0.4):
            plaster["outside"] = True

    if yes(0.75):
        def hole():
            d = rng.choice((50, 75, 110, 110, 160))
            return {"diameter": d, "below_top": mm(d + 10, max(d + 20, height // 2)), "length": mm(100, 15000),
                    "drop": mm(0, 700)}
        pipes = tank["pipes"] = {"inlet": hole(), "outlet": hole(), "vent_height": mm(500, 4000)}
        again(lambda: pipes.update(inlet=hole(), outlet=hole()), "pipe hole")
        if yes(0.6):
            deep = mm(200, 1200)
            pipes["trench"] = {"width": mm(250, 700), "depth": deep}
            if yes(0.5):
                pipes["trench"]["bed"] = mm(20, min(200, deep))
        at = Site(job).inverts("outlet")[0], length(pipes["inlet"]["below_top"]) - Site(job).masonry_top
        if at[1] > 50 and yes(0.5):
            if yes(0.5):
                pipes["inlet"]["start"] = mm(10, int(at[1]))
            else:
                pipes["inlet"]["fall"] = f"1 in {rng.randint(40, 200)}"
            if "trench" in pipes and at[0] > 0 and yes(0.6):
                del pipes["trench"]["depth"]

    if yes(0.5):
        deep = mm(1000, 4000)
        soak = job["soak_pit"] = {"diameter": mm(700, 3000), "depth": deep,
                                  "fill_depth": deep if yes(0.1) else mm(300, deep), "number": rng.choice((1, 1, 2, 3))}
        if yes(0.7):
            soak["pipe"] = {"diameter": 110, "length": mm(200, 3000)}
        if yes(0.6):
            soak["sheet"] = True
        if yes(0.3):
            soak["support"] = rng.choice(("none", "open", "close"))
        if yes(0.4):
            soak["spacing"] = mm(1000, 9000)
        if yes(0.3):
            soak["invert"] = mm(200, deep - 100)
        if yes(0.6):
            plain = {key: soak[key] for key in ("fill_depth", "invert") if key in soak}

            def line():
                for key in ("cover", "lining", "invert", "fill_depth"):
                    soak.pop(key, None)
                soak.update(plain)
                wide = soak["diameter"]
                lining = soak["lining"] = {"thickness": rng.choice((102, 110, 150, 220)), "unit": rng.choice(UNITS)}
                if yes(0.5):
                    lining["mortar"] = "1:3"
                if yes(0.5):
                    lining["packing"] = mm(50, min(250, wide // 6))
                if yes(0.5):
                    lining["foot"] = {"thickness": mm(80, 200), "width": mm(lining["thickness"], 450), "mix": rng.choice(MIXES)}
                if "pipes" not in tank or yes(0.4):
                    soak["invert"] = mm(300, deep // 2)
                if yes(0.7):
                    cover = soak["cover"] = {"thickness": mm(80, 200), "mix": rng.choice(MIXES)}
                    soak["fill_depth"] = 0 if yes(0.5) else mm(200, deep // 2)
                    if yes(0.5):
                        cover["soil"] = mm(50, 500)
                    if yes(0.6):
                        cover["manhole"] = [mm(400, 700), mm(400, 700)]
            words = ("invert", "inlet", "lining", "manhole over", "foot", "cover without")
            for _ in range(40):
                line()
                if not any(what.startswith(words) for what in problems(job)):
                    break

    if yes(0.4):
        fed = "pipes" in tank and Site(job).inverts("outlet")[0] > 250

        def trench():
            invert, below, over = mm(300, 900), mm(50, 500), mm(0, 120)
            drain = {"length": mm(1000, 30000), "number": rng.choice((1, 1, 2, 3)), "width": mm(300, 900),
                     "stone_below": below}
            if yes(0.6):
                drain["stone_over"] = over
            if yes(0.5):
                drain["pipe"] = {"diameter": mm(80, 125)}
            if yes(0.7):
                drain["sheet"] = rng.choice(("geotextile", "polythene", "none"))
            if not fed or yes(0.5):
                drain["invert"] = invert
                if yes(0.5):
                    drain["depth"] = invert + below + mm(0, 200)
            return drain
        job["drain"] = [trench() for _ in range(rng.choice((1, 1, 2)))]

    if yes(0.35):
        def chamber():
            deep = mm(250, 1300)
            c = {"size": [mm(300, 900), mm(300, 900)], "depth": deep, "number": rng.choice((1, 1, 2))}
            if yes(0.6):
                c["thickness"] = rng.choice((102, 110, 110, 150, 220))
            for key, low, high in (("upstand", 10, 150), ("working_space", 50, 400)):
                if yes(0.5):
                    c[key] = mm(low, high)
            if yes(0.4):
                c |= {"unit": rng.choice(UNITS), "mortar": rng.choice(("1:3", "1:4"))}
            if yes(0.5):
                c["base"] = {"thickness": mm(50, 200), "mix": rng.choice(MIXES)}
            if yes(0.5):
                c["benching"] = {"depth": mm(20, deep // 2), "mix": rng.choice(MIXES)}
            if yes(0.5):
                c["plaster"] = {"thickness": rng.choice((12, 15, 20)), "mix": "1:3"}
            return c
        job["inspection_chambers"] = [chamber() for _ in range(rng.choice((1, 1, 2)))]

    if yes(0.35):
        def line(n):
            one = {"title": f"Line {n}", "diameter": rng.choice((50, 75, 110, 110)), "length": mm(500, 30000)}
            levels = yes(0.5)
            if levels:
                one |= {"start": mm(200, 900), "fall": f"1 in {rng.randint(20, 150)}"}
            if yes(0.8):
                one["trench"] = {"width": mm(250, 700)} | ({} if levels else {"depth": mm(200, 1300)})
                if yes(0.5):
                    one["trench"]["bed"] = mm(20, 150)
            for key in ("bends", "tees"):
                if yes(0.5):
                    one[key] = rng.randint(0, 4)
            return one
        job["pipes"] = [line(n) for n in range(rng.choice((1, 1, 2)))]

    if yes(0.35):
        spans = Site(job).chamber_spans

        def hang():
            boards = []
            for x0, x1 in rng.sample(spans, rng.randint(1, min(2, len(spans)))):
                wide = mm(40, 120)
                under = mm(max(0, deepest - beam) + 10, max(0, deepest - beam) + 300)
                boards.append({"from_inlet": rng.randint(int(x0) + 20, max(int(x0) + 20, int(x1) - wide - 20)),
                               "thickness": wide, "depth": mm(150, 900), "below_top": under,
                               "built_in": 0 if yes(0.3) else mm(20, t - 10), "mix": rng.choice(MIXES)})
            tank["boards"] = sorted(boards, key=lambda b: b["from_inlet"])
        again(hang, "board")
    return job


LENGTHS = {"width", "height", "cover_top", "working_space", "over_break", "thickness", "hardcore", "projection", "fall",
           "air_gap", "below_top", "pocket", "above_floor", "depth", "wall_beams", "bearing", "diameter", "length",
           "drop", "bed", "vent_height", "fill_depth", "from_inlet", "built_in", "upstand", "start",
           "invert", "stone_below", "stone_over", "spacing", "packing", "soil"}


def dress(rng, value, key=None):
    """Some lengths written as text, all of them the same lengths."""
    if isinstance(value, dict):
        return {k: dress(rng, v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [dress(rng, v, "length" if key in ("chambers", "size", "manholes", "manhole", "length") and not isinstance(v, dict)
                      else None) for v in value]
    if key in LENGTHS and isinstance(value, int) and rng.random() < 0.3:
        way = rng.choice(("mm", "m"))
        if way == "mm":
            return f"{value} mm"
        return f"{'-' if value < 0 else ''}{abs(value) // 1000}.{abs(value) % 1000:03d} m"
    return value


# Ways to spoil a valid job; each must make problems() find something.
def whole(value):
    return int(length(value))


def _set(path, value):
    def spoil(job, rng):
        here = job
        *tables, last = path.split(".")
        for word in tables:
            here = here.setdefault(word, {})
        here[last] = value(job) if callable(value) else value
    return spoil


SPOILS = {
    "floor above ground": _set("tank.cover_top", lambda j: whole(j["tank"]["height"]) + 400),
    "beams as deep as the tank": _set("tank.cover.wall_beams", lambda j: j["tank"]["height"]),
    "air gap not less than the height": lambda job, rng: (
        _set("tank.chambers", lambda j: (j["tank"]["chambers"] * 2)[:max(2, len(j["tank"]["chambers"]))])(job, rng),
        _set("tank.cover.manholes", [])(job, rng),
        _set("tank.partitions.air_gap", lambda j: j["tank"]["height"])(job, rng)),
    "ring beam over the top": _set("tank.ring_beams", lambda j: [
        {"above_floor": whole(j["tank"]["height"]) - 50, "depth": 100, "mix": "1:2:4"}]),
    "ring beams overlap": _set("tank.ring_beams", [
        {"above_floor": 300, "depth": 150, "mix": "1:2:4"}, {"above_floor": 400, "depth": 100, "mix": "1:2:4"}]),
    "column wider than half the tank": _set("tank.columns", lambda j: {
        "size": [200, j["tank"]["width"]], "mix": "1:2:4"}),
    "span beam as wide as the tank": _set("tank.cover.span_beam", lambda j: {
        "width": j["tank"]["width"], "depth": 100}),
    "manholes not one per chamber": _set("tank.cover.manholes", lambda j: [
        [300, 300]] * (len(j["tank"]["chambers"]) + 1)),
    "manhole longer than its chamber": _set("tank.cover.manholes", lambda j: [
        [whole(c) + 10, 300] for c in j["tank"]["chambers"]]),
    "fill over depth": _set("soak_pit", {"diameter": 1500, "depth": 2000, "fill_depth": 2100}),
    "lining fills the pit": _set("soak_pit", {"diameter": 1000, "depth": 2000, "fill_depth": 1500, "invert": 600,
                                              "lining": {"thickness": 335, "packing": 165}}),
    "nothing over an empty pit": _set("soak_pit", {"diameter": 1500, "depth": 2000, "fill_depth": 0, "invert": 600,
                                                   "lining": {"thickness": 110}}),
    "a cover and no lining": _set("soak_pit", {"diameter": 1500, "depth": 2000, "fill_depth": 900, "cover": {}}),
    "water below the base": _set("soak_pit", {"diameter": 1500, "depth": 2000, "fill_depth": 900, "invert": 2000}),
    "pipe hole outside the masonry": _set("tank.pipes", {
        "inlet": {"diameter": 110, "below_top": 60, "length": 1000},
        "outlet": {"diameter": 110, "below_top": 350, "length": 1000}}),
    "projection in a tight pit": lambda job, rng: (_set("tank.pit.face", "tight")(job, rng),
                                                   _set("tank.base.projection", 100)(job, rng)),
    "batter in a tight pit": lambda job, rng: (_set("tank.pit.face", "tight")(job, rng),
                                               _set("tank.pit.batter", "0.5")(job, rng)),
    "working space in a tight pit": lambda job, rng: (_set("tank.pit.face", "tight")(job, rng),
                                                      _set("tank.pit.working_space", 300)(job, rng)),
}


def bare(key):
    """A key as TOML writes it: in quotation marks where it has a slash or the like."""
    return key if key.replace("-", "").replace("_", "").isalnum() else json.dumps(key)


def inline(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        return json.dumps(value)
    if isinstance(value, list):
        return "[" + ", ".join(inline(v) for v in value) + "]"
    return "{ " + ", ".join(f"{bare(k)} = {inline(v)}" for k, v in value.items()) + " }"


def to_toml(job):
    """Tables two deep as [headers], lists of tables as [[headers]], anything deeper inline."""
    out = []

    def write(table, path):
        def apart(v):
            return len(path) < 2 and (isinstance(v, dict) or isinstance(v, list) and bool(v) and isinstance(v[0], dict))

        plain = [(k, v) for k, v in table.items() if not apart(v)]
        if plain or path:
            if path:
                out.append(f"\n[{'.'.join(path)}]")
            out.extend(f"{bare(k)} = {inline(v)}" for k, v in plain)
        for k, v in table.items():
            if (k, v) in plain:
                continue
            if isinstance(v, dict):
                write(v, [*path, k])
            else:
                for entry in v:
                    out.append(f"\n[[{'.'.join([*path, k])}]]")
                    out.extend(f"{bare(a)} = {inline(b)}" for a, b in entry.items())

    write(job, [])
    return "\n".join(out).lstrip("\n") + "\n"


def main(arguments):
    rng = random.Random(int(arguments[1]) if len(arguments) > 1 else 1)
    if len(arguments) < 4:
        print(to_toml(random_job(rng)), end="")
        return 0
    folder = Path(arguments[3])
    folder.mkdir(parents=True, exist_ok=True)
    for n in range(int(arguments[2])):
        (folder / f"random-{n:04}.toml").write_text(to_toml(random_job(rng)), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
