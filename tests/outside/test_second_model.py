#!/usr/bin/env python3
"""Checks of the second model: pencil sums, the textbook tank, the rest house, and identities on random jobs."""
import random
import tomllib
from fractions import Fraction

from random_jobs import SPOILS, problems, random_job, to_toml
from second_model import PI, length, measure, solve, text

REST_HOUSE = """
format = 1
[job]
title = "Rest house, hill road"
date = "2026-11-25"
currency = "UGX"
profile = "east-africa"
rates = "demo-ugx"
supply = "labour-and-materials"
[ground]
soil = "firm-clay"
water_table = "none"
support = "none"
keep_dry = false
surplus = "cart"
[tank]
persons = 14
chambers = ["2.00 m", "1.00 m"]
width = "1.50 m"
height = "1.60 m"
cover_top = "0 mm"
[tank.pit]
face = "tight"
working_space = "0 mm"
batter = "0"
over_break = "20 mm"
termite = true
[tank.base]
hardcore = "0 mm"
blinding = { thickness = "50 mm", mix = "1:3:6" }
concrete = { thickness = "150 mm", mix = "1:2:4" }
projection = "0 mm"
fall = "60 mm"
[tank.walls]
unit = "brick-220x105x65"
thickness = "220 mm"
mortar = "1:4"
hoop_iron_every = 4
hoop_iron_strips = 1
[tank.partitions]
thickness = "110 mm"
air_gap = "150 mm"
opening = { width = "200 mm", height = "200 mm", below_top = "700 mm", number = 1 }
[tank.columns]
size = ["220 mm", "220 mm"]
mix = "1:1.5:3"
pocket = "250 mm"
[[tank.ring_beams]]
above_floor = "700 mm"
depth = "150 mm"
mix = "1:1.5:3"
[tank.cover]
thickness = "125 mm"
mix = "1:1.5:3"
wall_beams = "0 mm"
span_beam = { width = "200 mm", depth = "150 mm", bearing = "0 mm" }
manholes = [["600 mm", "600 mm"], ["600 mm", "600 mm"]]
membrane = true
finish = "trowelled"
[tank.plaster]
thickness = "20 mm"
mix = "1:3"
waterproofer = true
screed = { thickness = "30 mm", mix = "1:3" }
paste = true
[tank.pipes]
inlet = { diameter = "110 mm", below_top = "300 mm", length = "9 m", drop = "400 mm" }
outlet = { diameter = "110 mm", below_top = "350 mm", length = "6 m", drop = "500 mm" }
trench = { width = "450 mm", depth = "700 mm", bed = "0 mm" }
vent_height = "2.5 m"
[soak_pit]
diameter = "2.00 m"
depth = "3.00 m"
fill_depth = "2.50 m"
pipe = { diameter = "110 mm", length = "2.50 m" }
sheet = true
number = 1
"""

TEXTBOOK = """
format = 1
[job]
title = "Textbook tank"
date = "2026-11-25"
[tank]
chambers = ["3.10 m"]
width = "1.10 m"
height = "1.20 m"
cover_top = "-0.30 m"
[tank.pit]
face = "open"
[tank.base]
concrete = { thickness = "300 mm", mix = "1:4:8" }
projection = "150 mm"
[tank.walls]
thickness = "300 mm"
hoop_iron_every = 0
[tank.cover]
thickness = "100 mm"
mix = "1:2:4"
[tank.plaster]
thickness = "20 mm"
mix = "1:4"
screed = { thickness = "20 mm", mix = "1:4" }
[[tank.boards]]
from_inlet = 600
thickness = 100
depth = 750
below_top = 150
built_in = 150
[[tank.boards]]
from_inlet = "2.40 m"
thickness = 100
depth = 750
below_top = 150
built_in = 150
[tank.pipes]
inlet = { diameter = 100, below_top = 250 }
outlet = { diameter = 100, below_top = 300 }
"""


def m(value):
    return Fraction(value)


def same(quantities, expected, name):
    for work, value in expected.items():
        got = quantities.get(work, Fraction(0))
        assert got == value, f"{name}: {work} is {text(got)}, by hand {text(Fraction(value))}"


def rest_house():
    q = measure(tomllib.loads(REST_HOUSE))
    t, long, wide = m("0.22"), m("3.11"), m("1.50")
    over_x, over_y = long + 2 * t, wide + 2 * t
    plan = over_x * over_y
    ring = plan - long * wide - 4 * t * t  # walls without the corner columns
    hole = PI / 4 * m("0.11") ** 2

    lower = (m("1.94") * t * m("0.76") + m("1.94") * t * m("0.70") + 2 * m("3.11") * t * m("0.73")
             - 2 * t * t * m("0.76") - 2 * t * t * m("0.70"))
    upper = ring * m("0.75")
    assert round(float(lower), 4) == 1.4807

    def up(x):  # partition height at x
        return m("1.45") + m("0.06") * (long - x) / long
    mean = (up(2) + up(m("2.11"))) / 2
    partition = m("0.11") * (wide * mean - m("0.04"))
    plaster = (2 * long * m("1.63") + wide * (m("1.66") + m("1.60"))  # walls
               - 2 * m("0.11") * mean  # a partition meets them
               + wide * (up(2) + up(m("2.11"))) - 2 * m("0.04") + 4 * m("0.2") * m("0.11")  # partition, opening
               + wide * m("0.11") - m("0.2") * m("0.11")  # its top, less the beam on it
               - 2 * m("0.2") * m("0.15") - 2 * hole)  # ends of the beam, pipe holes
    screed = wide * 3
    circle = PI / 4 * 4
    pit = over_y * over_x * m("1.955")
    trench = 15 * m("0.45") * m("0.70")
    sides = 2 * over_x * m("1.955") + over_y * (m("1.985") + m("1.925"))
    expected = {
        "excavation-pit": pit, "excavation-pit/net": 0, "excavation-pit/working-space": 0,
        "bottom-trim": plan, "termite-treatment": plan + sides, "over-break": sides - 2 * hole,
        "excavation-pocket": 4 * t * t * m("0.25"), "concrete-pocket": 4 * t * t * m("0.25"),
        "concrete-blinding": plan * m("0.05"), "concrete-base": plan * m("0.15"), "hardcore-bed": 0,
        "concrete-column": 2 * t * t * (m("1.66") + m("1.60")), "concrete-ring-beam": ring * m("0.15"),
        "brickwork-wall": lower + upper - 2 * hole * t, "brickwork-partition": partition,
        "concrete-span-beam": long * m("0.2") * m("0.15"),
        "formwork-span-beam": 2 * long * m("0.15") + 3 * m("0.2"),
        "formwork-ring-beam": (2 * (long + wide) - 2 * m("0.11")) * m("0.15"),
        "formwork-column": 0, "formwork-base-edge": 0, "formwork-cover-edge": 0,
        "concrete-cover": (plan - m("0.72")) * m("0.125"), "formwork-manhole": 8 * m("0.6") * m("0.125"),
        "formwork-cover-soffit": long * wide - long * m("0.2") - m("0.72"),
        "damp-proof-membrane": plan - m("0.72"),
        "plaster-wall": plaster, "screed": screed, "cement-paste": plaster + screed,
        "hoop-iron": m("40.4"), "manhole-cover": 2, "water-test": 1, "keep-dry": 0, "earthwork-support": 0,
        "excavation-trench": trench, "pipe-bed": 0, "pipe": m("15.9"), "pipe-tee": 2, "vent-pipe": m("2.5"),
        "excavation-soak-pit": 3 * circle, "soak-fill": m("2.5") * circle, "soil-cover": circle / 2,
        "soak-pipe": m("2.5"), "polythene-sheet": circle,
        "backfill": trench, "disposal": pit + 4 * t * t * m("0.25") + m("2.5") * circle,
    }
    same(q, expected, "rest house")
    assert not set(q) - set(expected), set(q) - set(expected)


def textbook():
    q = measure(tomllib.loads(TEXTBOOK))
    ends, hole = 4 * m("0.15") * m("0.1") * m("0.75"), PI / 4 * m("0.01")
    same(q, {
        "excavation-pit": m("15.2"), "excavation-pit/net": m("15.2"), "excavation-pit/working-space": 0,
        "concrete-base": m("2.4"),
        "brickwork-wall": m("3.456") - ends - 2 * hole * m("0.3"),  # printed 3.456, nothing deducted
        "concrete-cover": m("0.629"), "concrete-board": m("0.21"),
        "plaster-wall": m("10.08") - 4 * m("0.1") * m("0.75") - 2 * hole, "screed": m("3.41"),
        "formwork-board": 2 * m("1.1") * (2 * m("0.75") + m("0.1")),
        "backfill": m("4.623"), "disposal": m("15.2") - m("4.623"),
        "formwork-base-edge": 12 * m("0.3"), "formwork-cover-edge": m("10.8") * m("0.1"),
        "hoop-iron": 0, "formwork-cover-soffit": m("3.41"), "pipe-tee": 2, "plaster-outside": 0,
    }, "textbook")


def around(**lists):
    """A box of a tank with pipes of 4 m and 10 m, inverts 400 and 500 mm below ground at the tank, and what else is given."""
    pipes = {"inlet": {"diameter": 100, "below_top": 300, "length": 4000, "start": 200},
             "outlet": {"diameter": 100, "below_top": 400, "length": 10000, "fall": "1 in 50"},
             "trench": {"width": 500, "bed": 100}}
    tank = {"chambers": [2000], "width": 1000, "height": 1000, "walls": {"thickness": 200, "hoop_iron_every": 0},
            "base": {"concrete": {"thickness": 100}}, "cover": {"thickness": 100}, "pipes": pipes}
    return measure({"tank": tank, "ground": {"support": "open"}} | lists)


def beyond():
    """Trenches that follow inverts, a drain, a chamber, a line: by pencil."""
    # inlet: 200 to 400, bed 100: mean 400; outlet: 500 to 700: mean 700
    pipes = m("0.5") * (4 * m("0.4") + 10 * m("0.7"))
    bed = m("0.5") * 14 * m("0.1")
    same(around(), {"excavation-trench": pipes, "pipe-bed": bed}, "trench")
    # two trenches of 12 x 0.6, 700 + 300 deep; stone 300 + 100 + 50; 2 x (12 + 0.6) x 1.0 of sides each
    q = around(drain=[{"length": 12000, "number": 2, "width": 600, "stone_below": 300, "pipe": {"diameter": 100}}])
    plain = around()
    plan = 2 * 12 * m("0.6")
    same(q, {"excavation-drain": plan, "drain-stone": plan * m("0.45"), "soil-cover": plan * m("0.55"),
             "drain-pipe": 24, "drain-sheet": plan, "disposal": plain["disposal"] + plan * m("0.45"),
             "earthwork-support": plain["earthwork-support"] + 2 * 2 * m("12.6")}, "drain")
    # 0.4 x 0.5 clear, walls 100: 0.6 x 0.7 outside; dug 200 wider all round, 0.8 + 0.1 deep; walls 50 above ground
    q = around(inspection_chambers=[{"size": [400, 500], "depth": 800, "upstand": 50, "working_space": 200, "thickness": 100,
                                     "benching": {"depth": 150}, "plaster": {}}])
    outer, dug = m("0.42"), m("1.0") * m("1.1")
    same(q, {"excavation-chamber": dug * m("0.9"), "backfill": plain["backfill"] + (dug - outer) * m("0.9"),
             "disposal": plain["disposal"] + outer * m("0.9"), "concrete-chamber-base": outer * m("0.1"),
             "concrete-benching": m("0.2") * m("0.15"), "brickwork-chamber": (outer - m("0.2")) * m("0.85"),
             "plaster-chamber": m("1.8") * m("0.7"), "manhole-cover": 1,
             "earthwork-support": plain["earthwork-support"] + m("4.2") * m("0.9")}, "chamber")
    # 12 m from 300, 1 in 60: to 500, mean 400, bed 50; 0.4 wide
    q = around(pipes=[{"title": "line", "diameter": 100, "length": 12000, "start": 300, "fall": "1 in 60",
                       "trench": {"width": 400, "bed": 50}, "bends": 2, "tees": 1}])
    same(q, {"excavation-trench": pipes + 12 * m("0.4") * m("0.45"), "pipe-bed": bed + 12 * m("0.4") * m("0.05"),
             "pipe": 14 + 12, "pipe-bend": 2, "pipe-tee": 3}, "line")


def box(**tables):
    """2.00 x 1.00 x 1.00 m clear, walls 200, base 100, cover 100 with its top at ground level."""
    tank = {"chambers": [2000], "width": 1000, "height": 1000, "walls": {"thickness": 200, "hoop_iron_every": 0},
            "base": {"concrete": {"thickness": 100}}, "cover": {"thickness": 100}, "plaster": {"thickness": 20}}
    for name, value in tables.items():
        if isinstance(value, dict) and isinstance(tank.get(name), dict):
            tank[name] = tank[name] | value
        else:
            tank[name] = value
    return measure({"tank": tank})


def pencil():
    same(box(), {"excavation-pit": m("4.032"), "brickwork-wall": m("1.36"), "concrete-base": m("0.336"),
                 "concrete-cover": m("0.336"), "plaster-wall": 6, "formwork-cover-soffit": 2,
                 "disposal": m("4.032"), "backfill": 0, "formwork-cover-edge": 0, "bottom-trim": m("3.36")}, "box")
    # cover 300 above ground in a tight pit: 200 of wall in the open
    same(box(cover_top=300, columns={"size": [200, 200]}, plaster={"outside": True}),
         {"formwork-cover-edge": m("0.76"), "plaster-outside": m("7.6") * m("0.2"),
          "formwork-column": 8 * m("0.2") * m("0.2"), "excavation-pit": m("3.024")}, "raised")
    # open pit: (3.4 + z)(2.4 + z) from 0 to 1.2
    q = box(pit={"face": "open", "working_space": 500, "batter": "0.5", "termite": True})
    same(q, {"excavation-pit": m("14.544"), "excavation-pit/net": m("4.032"),
             "excavation-pit/working-space": m("10.512"), "backfill": m("10.512"), "disposal": m("4.032"),
             "bottom-trim": m("8.16"), "termite-treatment": m("8.16") + m("11.6") * m("1.2"),
             "formwork-base-edge": m("0.76"), "formwork-cover-edge": m("0.76")}, "open")
    # the same with a fall: 3.4 x 2.4 more by 100 at the inlet end, half of it on average
    q = box(pit={"face": "open", "working_space": 500, "batter": "0.5", "termite": True}, base={"fall": 100})
    under = m("2.4") * (2 * m("0.05") + m("0.7") * m("0.1"))
    same(q, {"excavation-pit": m("14.544") + under,
             "excavation-pit/net": m("4.032") + m("1.4") * (2 * m("0.05") + m("0.2") * m("0.1")),
             "termite-treatment": m("8.16") + m("11.6") * m("1.2") + 2 * (m("0.1") + m("0.07")) + m("0.24"),
             "formwork-base-edge": m("0.76")}, "open, fall")
    # columns 300 x 250 stand 100 and 50 into the chamber; one ring beam of 150
    q = box(columns={"size": [300, 250], "pocket": 100}, ring_beams=[{"above_floor": 400, "depth": 150}])
    same(q, {"concrete-column": m("0.3"), "concrete-pocket": m("0.03"),
             "concrete-ring-beam": m("0.15") * (2 * m("1.8") * m("0.2") + 2 * m("0.9") * m("0.2")),
             "brickwork-wall": m("0.85") * m("1.08"), "formwork-column": 4 * m("0.15"),
             "formwork-ring-beam": m("0.15") * (2 * m("1.8") + 2 * m("0.9")),
             "plaster-wall": 6, "formwork-cover-soffit": 2 - 4 * m("0.005")}, "inward columns")
    # columns smaller than the wall show nothing inside
    same(box(columns={"size": [100, 150]}), {"concrete-column": m("0.06"), "formwork-column": 0, "plaster-wall": 6,
                                             "brickwork-wall": m("1.30")}, "small columns")
    # wall beams 200, span beam 200 x 300 with bearing 150 in them and 100 of it in the brickwork
    q = box(cover={"wall_beams": 200, "span_beam": {"width": 200, "depth": 300, "bearing": 150}})
    same(q, {"concrete-wall-beam": m("1.36") * m("0.2") - 2 * m("0.15") * m("0.04"),
             "brickwork-wall": m("1.36") * m("0.8") - 2 * m("0.15") * m("0.02"),
             "concrete-span-beam": m("2.3") * m("0.06"), "formwork-span-beam": 2 * (2 * m("0.3") + m("0.2")),
             "formwork-wall-beam": 6 * m("0.2") - 2 * m("0.2") * m("0.2"), "plaster-wall": 6 - 2 * m("0.06"),
             "formwork-cover-soffit": 2 - m("0.4")}, "beams")
    # two chambers, a partition of 100 with its wall beam; the span beam cuts both
    q = box(chambers=[1200, 700], partitions={"thickness": 100, "opening": {
        "width": 100, "height": 200, "below_top": 400, "number": 2}},
        cover={"wall_beams": 200, "span_beam": {"width": 200, "depth": 300}}, plaster={"screed": {}})
    same(q, {"brickwork-partition": m("0.1") * (m("0.8") - m("0.02") - m("0.04")),
             "concrete-wall-beam": m("1.36") * m("0.2") + m("0.1") * m("0.2") * m("0.8"),
             "formwork-wall-beam": m("0.2") * (m("5.8") - 2 * m("0.2") + 2 * m("0.8")),
             "concrete-span-beam": m("0.12"), "formwork-span-beam": m("1.9") * m("0.8"),
             "formwork-cover-soffit": m("1.9") * m("0.8"), "screed": m("1.9"),
             "plaster-wall": m("5.8") + 2 - 2 * m("0.06") - 2 * m("0.06") - 4 * m("0.02") + 2 * m("0.06")},
         "partition")  # walls 5.8, partition 2.0, ends of the beam, its section twice, openings, reveals
    # an opening on the floor has three reveals and no screed; an air gap shows the top
    q = box(chambers=[1200, 700], partitions={"thickness": 100, "air_gap": 150, "opening": {
        "width": 200, "height": 300, "below_top": 700}}, plaster={"screed": {}})
    same(q, {"brickwork-partition": m("0.1") * (m("0.85") - m("0.06")), "screed": m("1.9"),
             "plaster-wall": 6 - 2 * m("0.085") + 2 * m("0.85") - 2 * m("0.06") + m("0.08") + m("0.1"),
             "formwork-cover-soffit": 2}, "opening on the floor")
    # wall beams deeper than the air gap: the partition stands up between them, no beam on it
    q = box(chambers=[1200, 700], partitions={"thickness": 100, "air_gap": 150}, cover={"wall_beams": 200})
    same(q, {"brickwork-partition": m("0.085"), "concrete-wall-beam": m("0.272"),
             "formwork-wall-beam": m("0.2") * 6 - 2 * m("0.1") * m("0.05")}, "gap in the beams' depth")
    # haunches of 200 x 150; with a fall of 100 they are 150 to 250 high
    q = box(haunch={"width": 200, "height": 150}, plaster={"screed": {}}, base={"fall": 100})
    same(q, {"concrete-haunch": 2 * 2 * m("0.2") * m("0.2"), "formwork-haunch": 4 * m("0.2"),
             "screed": 2 * m("0.6"), "brickwork-wall": m("1.36") + m("0.2") * (m("0.14") + 2 * m("0.1")),
             # long walls above the haunch, its sides and tops, the ends at 1.1 and 1.0 less two haunch ends each
             "plaster-wall": 4 * m("0.85") + 4 * m("0.2") + 4 * m("0.2") + m("2.1")
             - 2 * m("0.2") * (m("0.25") + m("0.15"))}, "haunch")
    # a cover 400 below ground with a shaft round a manhole of 600, 100 thick, 150 above ground
    q = box(cover_top=-400, cover={"manholes": [[600, 600]]}, manhole_shafts={"thickness": 100, "upstand": 150})
    same(q, {"manhole-shaft": m("0.28") * m("0.55"), "backfill": (m("3.36") - m("0.64")) * m("0.4"),
             "concrete-cover": m("3.0") * m("0.1"), "formwork-manhole": m("0.24"),
             "excavation-pit": m("3.36") * m("1.6"), "formwork-cover-soffit": m("1.64")}, "shaft")
    # soak pits held open, pumping
    q = measure({"ground": {"support": "close", "keep_dry": True},
                 "tank": {"chambers": [2000], "width": 1000, "height": 1000, "walls": {"thickness": 200},
                          "cover": {"thickness": 100}},
                 "soak_pit": {"diameter": 1000, "depth": 2000, "fill_depth": 1500, "number": 2}})
    same(q, {"earthwork-support": m("7.6") * m("1.2") + 4 * PI, "keep-dry": 1, "soil-cover": PI / 4,
             "hoop-iron": m("6.8") * 4, "plaster-wall": 0}, "support")


def random_identities(count=300, seed=20261125):
    rng = random.Random(seed)
    for n in range(count):
        job = random_job(rng)
        assert not problems(job) and tomllib.loads(to_toml(job)) == job, f"job {n}"
        q, site, model = solve(job)

        def v(*works):
            return sum((q.get(work, Fraction(0)) for work in works), Fraction(0))

        dug = v("excavation-pit", "excavation-pocket", "excavation-trench", "excavation-soak-pit",
                "excavation-drain", "excavation-chamber")
        assert dug == v("backfill", "soil-cover", "disposal"), f"job {n}: earth"
        if site.open:
            assert v("excavation-pit") == v("excavation-pit/net", "excavation-pit/working-space"), f"job {n}: pit"

        plan = (site.length + 2 * site.t) * (site.width + 2 * site.t)
        mean_floor = site.floor_outlet - site.fall / 2  # by symmetry of the two end walls
        prism = plan * (site.cover_top - mean_floor + site.dig_below_floor)
        holes = sum(PI / 4 * d * d * site.t for d, _ in site.pipe_holes)
        voids = model.volume["clear"] + model.volume["opening"] + model.volume["manhole"] + holes
        built = v("brickwork-wall", "brickwork-partition", "concrete-column", "concrete-ring-beam",
                  "concrete-wall-beam", "concrete-span-beam", "concrete-cover", "concrete-board", "concrete-haunch")
        below = plan * site.dig_below_floor
        assert prism == below + voids + built * 10**9, f"job {n}: space"

        beyond = (site.length + 2 * site.t + 2 * site.projection) * (site.width + 2 * site.t + 2 * site.projection)
        assert v("concrete-base") * 10**9 == beyond * site.base, f"job {n}: base"
        # every owner has as much plan area looking up as down
        owners = {a for a, _, _ in model.faces} - {"air", "ground", "fill", "hardcore", "blinding", "base"}
        anyone = {b for _, b, _ in model.faces}
        for owner in owners:
            assert model.face((owner,), anyone, ("up",)) == model.face((owner,), anyone, ("down",)), f"job {n}: {owner}"
        # plan of the tank inside, seen at the cover
        top = sum(model.face((name,), ("cover", "manhole"), ("up",)) for name in
                  ("clear", "partition", "column", "span-beam", "wall-beam", "wall"))
        assert top == plan, f"job {n}: under the cover"

    for name, spoil in sorted(SPOILS.items()):
        found = 0
        for _ in range(20):
            job = random_job(rng)
            spoil(job, rng)
            found += bool(problems(job))
        assert found == 20, f"{name}: {found} of 20 found"
    for _ in range(20):
        job = random_job(rng, refused=True)
        assert problems(job) and job["job"]["title"].startswith("refused: ")


def texts():
    assert length("5 ft 6 in") == Fraction("1676.4") and length("-0.30 m") == -300 and length(150) == 150
    assert text(Fraction(1, 3)) == "1/3" and text(Fraction(-5, 4)) == "-1.25" and text(Fraction(7)) == "7"
    for wrong in ("12", "1.5 mi", "", True, 1.5):
        try:
            length(wrong)
        except ValueError:
            continue
        raise AssertionError(f"taken as a length: {wrong!r}")


CHECKS = (texts, rest_house, textbook, pencil, beyond, random_identities)


def run(tally):
    """As a part of the checks from outside."""
    for check in CHECKS:
        tally.check(check.__name__, check)


if __name__ == "__main__":
    for check in CHECKS:
        check()
        print(f"{check.__name__}: holds")
