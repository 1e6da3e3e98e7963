"""Covers of random jobs: panels, loads and moments reckoned anew, the moments by a beam of finite elements, and the
steel against cracked sections of the package concreteproperties.

The program works with one lever arm, 0.87 of the depth, and one working stress, 140 N/mm2. They belong to concrete M15
(5 N/mm2 in bending) and a modular ratio of 280 / (3 x 5) after IS 456 (recalled), at a section that is fully used;
a section with less steel has a longer arm. So what must hold is:

* with exactly the steel that the program asks for, the package's stress lies between 0.87 x 140 (no arm is longer than
  the depth) and 140 N/mm2, with 1 % for the arm of the fully used section, 0.8667, and times the package's own arm over
  0.87 it is 140 to 0.5 %: the program's depth, moment and steel belong together;
* a section used to 100 % by the program's factor has 140 and 5 N/mm2 in the package, to 1 %;
* with the bars as drawn the stress is below 140 wherever the program lets the steel pass.
"""
import json
import random
import re
import tomllib

from program import ROOT, Wrong

SEED = 20261129
JOBS = 40
STEEL_MODULUS = 200_000.0
RATIO = 280 / (3 * 5)
NUMBER = r"(\d+(?:\.\d+)?)"


def run(program, tally, room):
    import concreteproperties  # its absence is a failure of this part, told by the tally

    data = figures()
    tally.check("a section fully used", fully_used, concreteproperties, data)
    dice, kinds = random.Random(SEED), {"one": 0, "two": 0, "beam": 0}
    for number in range(1, JOBS + 1):
        job = draw(dice)
        path = room / f"{number}.toml"
        path.write_text(as_toml(job), encoding="utf-8")
        tally.check(f"cover {number} of {SEED}", same, program, concreteproperties, data, job, path, kinds)
    tally.check("every kind of panel", every_kind, kinds)
    print(f"  {JOBS} covers: {kinds['one']} panels one way, {kinds['two']} both ways, {kinds['beam']} beams", flush=True)


def every_kind(kinds):
    if min(kinds.values()) < 5:
        raise Wrong(f"only {kinds}")


def figures():
    """Figures that count, by id, from the data files themselves."""
    text = (ROOT / "rates" / "checks.toml").read_text(encoding="utf-8")
    used = {}
    for figure in tomllib.loads(text)["figure"]:
        values = figure["value"]
        chosen = [v for v in values if v.get("used", len(values) == 1)]
        over, _, under = chosen[0]["value"].partition("/")
        used[figure["id"]] = float(over) / float(under or 1)
    return used


# A job, drawn and written. Lengths in mm.

def draw(dice):
    thickness = dice.choice((100, 125, 150, 175, 200))
    job = {
        "chambers": [dice.randrange(900, 2600, 50) for _ in range(dice.randint(1, 3))],
        "width": dice.randrange(1000, 2600, 50),
        "wall": dice.choice((220, 215, 230)),
        "partition": 110,
        "gap": dice.choice((0, 150)),
        "thickness": thickness,
        "cover": dice.choice((20, 25, 30, 40)),
        "short": (dice.choice((8, 10, 12, 16)), dice.choice((100, 125, 150, 200, 250))),
        "long": (dice.choice((8, 10, 12)), dice.choice((150, 200, 250))),
        "soil": dice.choice((0, 0, 200, 300)),
        "traffic": dice.choice((None, "none", "garden", "car", "lorry")),
        "top": dice.choice((0, 0, 50, -250)),
        "beam": None,
    }
    if dice.random() < 0.4:
        job["beam"] = (dice.choice((200, 250)), dice.choice((150, 200, 250)), dice.choice((4, 5, 6)), dice.choice((12, 16, 20)))
    return job


def as_toml(job):
    mm = lambda n: json.dumps(f"{n} mm")
    lines = ["format = 1", "[job]", 'title = "A cover"', 'date = "2026-11-29"', 'currency = "UGX"', "[tank]",
             f"chambers = [{', '.join(map(mm, job['chambers']))}]", f"width = {mm(job['width'])}", 'height = "1500 mm"',
             f"cover_top = {mm(job['top'])}", "[tank.walls]", f"thickness = {mm(job['wall'])}"]
    if len(job["chambers"]) > 1:
        lines += ["[tank.partitions]", f"thickness = {mm(job['partition'])}", f"air_gap = {mm(job['gap'])}",
                  'opening = { width = "200 mm", height = "150 mm", below_top = "600 mm" }']
    lines += ["[tank.cover]", f"thickness = {mm(job['thickness'])}", f"soil = {mm(job['soil'])}"]
    lines += [f"traffic = {json.dumps(job['traffic'])}"] if job["traffic"] else []
    steel = [f'cover = {{ short = "Y{job["short"][0]}@{job["short"][1]}", long = "Y{job["long"][0]}@{job["long"][1]}" }}',
             f"cover_to_steel = {mm(job['cover'])}"]
    if job["beam"]:
        width, depth, bars, diameter = job["beam"]
        lines += [f"span_beam = {{ width = {mm(width)}, depth = {mm(depth)}, bearing = {mm(job['wall'])} }}"]
        steel += [f'span_beam = {{ main = "{bars}Y{diameter}", links = "R8@200" }}']
    return "\n".join([*lines, "[steel]", *steel]) + "\n"


# The same cover, reckoned here.

def load_of(job, data):
    soil = job["soil"] + max(0, -job["top"])
    live = data[f"load-{job['traffic'] or 'garden'}"]
    return data["weight-reinforced"] * job["thickness"] / 1000 + live + data["weight-soil"] * soil / 1000


def stretches(job):
    """Clear lengths along the tank between bearings, each with half of its bearings."""
    wall, inner = job["wall"] / 2, job["partition"] / 2
    if job["gap"] or len(job["chambers"]) == 1:
        return [(sum(job["chambers"]) + job["partition"] * (len(job["chambers"]) - 1), 2 * wall)]
    last = len(job["chambers"]) - 1
    return [(c, (wall if i == 0 else inner) + (wall if i == last else inner)) for i, c in enumerate(job["chambers"])]


def depths(job):
    """Effective depths of the bars across and along: bars across lie lowest."""
    low = job["thickness"] - job["cover"]
    return {"across": low - job["short"][0] / 2, "along": low - job["short"][0] - job["long"][0] / 2}


def panels(job):
    """Clear sizes and spans in m, which way is short, one of each size and how many."""
    beam = job["beam"]
    ways = [(job["width"], job["wall"])]
    if beam:
        ways = [((job["width"] - beam[0]) / 2, job["wall"] / 2 + beam[0] / 2)] * 2
    found, depth = {}, depths(job)
    for (x, bx) in stretches(job):
        for (y, by) in ways:
            short = "across" if y <= x else "along"
            span = {"along": min(x + depth[short], x + bx) / 1000, "across": min(y + depth[short], y + by) / 1000}
            kind = (x / 1000, y / 1000, bx)
            found.setdefault(kind, [0, short, span])[0] += 1
    return [(x, y, *rest) for (x, y, _), rest in found.items()]


def beam_moment(load, span, parts=8):
    """Bending in the middle of a simple span by finite elements of a slender beam: stiffness and even loads."""
    import numpy

    h, size = span / parts, 2 * (parts + 1)
    k = numpy.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                     [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]) / h**3
    even = load * h / 12 * numpy.array([6, h, 6, -h])
    whole, force = numpy.zeros((size, size)), numpy.zeros(size)
    for i in range(parts):
        at = slice(2 * i, 2 * i + 4)
        whole[at, at] += k
        force[at] += even
    free = [i for i in range(size) if i not in (0, size - 2)]
    moved = numpy.zeros(size)
    moved[free] = numpy.linalg.solve(whole[numpy.ix_(free, free)], force[free])
    half = parts // 2
    end = k @ moved[2 * half - 2:2 * half + 2] - even
    return abs(end[3])


def strip(ratio):
    """Coefficients of a slab that bends both ways, by crossing strips of equal deflection (Grashof, Rankine)."""
    return ratio**4 / 8 / (1 + ratio**4), ratio**2 / 8 / (1 + ratio**4)


# The package's sections.

STRIP, BARS = 250, 5  # of each metre a strip, with thin bars, whose own stiffness counts for nothing


def stresses(package, thickness, depth, steel, moment):
    """Stress in steel and concrete, N/mm2, and the lever arm over the depth; mm2 and kNm on a metre of slab."""
    from sectionproperties.pre.library import concrete_rectangular_section

    steel, moment = steel * STRIP / 1000, moment * STRIP / 1000
    plain = package.ConcreteLinearNoTension(elastic_modulus=STEEL_MODULUS / RATIO)
    block = package.RectangularStressBlock(compressive_strength=15, alpha=0.85, gamma=0.8, ultimate_strain=0.0035)
    concrete = package.Concrete(name="M15", density=2.4e-6, stress_strain_profile=plain, flexural_tensile_strength=0.0,
                                ultimate_stress_strain_profile=block, colour="grey")
    elastic = package.SteelElasticPlastic(yield_strength=1e6, elastic_modulus=STEEL_MODULUS, fracture_strain=10.0)
    bar = package.SteelBar(name="bar", density=7.85e-6, colour="black", stress_strain_profile=elastic)
    cut = package.ConcreteSection(concrete_rectangular_section(
        b=STRIP, d=thickness, dia_top=0, area_top=0, n_top=0, c_top=0, dia_bot=16, area_bot=steel / BARS, n_bot=BARS,
        c_bot=thickness - depth - 8, n_circle=4, conc_mat=concrete, steel_mat=bar))
    cracked = cut.calculate_cracked_properties(theta=0)
    found = cut.calculate_cracked_stress(cracked_results=cracked, m=moment * 1e6)
    # The package counts compression as positive; bars lie at one depth.
    in_steel = -found.lumped_reinforcement_forces[0][0] / (steel / BARS)
    in_concrete = max(part.max() for part in found.concrete_stresses)
    return in_steel, in_concrete, 1 - cracked.d_nc / depth / 3


def near(what, found, wanted, share, least=0.0):
    if abs(found - wanted) > max(share * abs(wanted), least):
        raise Wrong(f"{what}: {found}, reckoned here {wanted}")


def fully_used(package, data):
    stress, arm, factor = data["steel-stress"], data["lever-arm"], data["section-factor"]
    moment = factor * 1000 * 104**2 / 1e6
    steel = moment * 1e6 / (stress * arm * 104)
    in_steel, in_concrete, package_arm = stresses(package, 150, 104, steel, moment)
    near("steel", in_steel, stress, 0.01)
    near("concrete", in_concrete, 5.0, 0.01)
    near("arm", package_arm, arm, 0.01)


# What the program says.

def same(program, package, data, job, path, kinds):
    told = {check["id"]: check for check in program.json("size", path)["checks"]}
    lines = told["slab-steel"]["working"]
    load = load_of(job, data)
    near("load", one(rf"load {NUMBER} kN/m2", lines[0])[0], load, 1e-6)
    at, passes = 1, []
    for x, y, number, short, span in panels(job):
        at, moments = panel(lines, at, (x, y, number, short, span), load, kinds)
        for way, moment in moments.items():
            passes.append(steel_of(package, data, job, lines[at], way, moment))
            at += 1
    verdict = told["slab-steel"]["verdict"]
    wanted = "not-met" if not all(passes) else "flagged" if job["traffic"] in ("car", "lorry") else "screened"
    if verdict != wanted:
        raise Wrong(f"slab-steel is {verdict}, reckoned here {wanted}")
    if job["beam"]:
        kinds["beam"] += 1
        beam_of(package, data, job, told["span-beam-steel"], load)


def one(pattern, line):
    found = re.search(pattern, line)
    if not found:
        raise Wrong(f"nothing like {pattern} in: {line}")
    return [float(text) if re.fullmatch(NUMBER, text) else text for text in found.groups()]


def panel(lines, at, drawn, load, kinds):
    """The line of a panel; moments by way, the short one first."""
    x, y, number, short, span = drawn
    long = "along" if short == "across" else "across"
    got = one(rf"^{NUMBER} of panel {NUMBER} x {NUMBER} m clear: spans {NUMBER} m (along|across)", lines[at])
    near("number of panels", got[0], number, 0)
    for what, found, wanted in (("clear along", got[1], x), ("clear across", got[2], y), ("span", got[3], span[short])):
        near(what, found, wanted, 1e-9)
    if got[4] != short:
        raise Wrong(f"spans {got[4]}, reckoned here {short}")
    ratio = max(1.0, span[long] / span[short])
    if ratio > 2.0005:
        kinds["one"] += 1
        one("bends one way$", lines[at])
        return at + 1, {short: beam_moment(load, span[short]), long: 0.0}
    if ratio < 1.9995:
        kinds["two"] += 1
    a, b = one(rf"bends both ways, numbers {NUMBER} and {NUMBER}$", lines[at])
    # The table has three places and rows up to 0.25 apart, between which it is straight and the strips are curved.
    for found, wanted in zip((a, b), strip(ratio)):
        near("coefficient", found, wanted, 0, 0.0012)
    return at + 1, {short: a * load * span[short] ** 2, long: b * load * span[short] ** 2}


def steel_of(package, data, job, line, way, moment):
    """One direction; says whether its bars are enough."""
    if moment:
        got = one(rf"^steel {way} the tank: moment {NUMBER} kNm a metre, bending needs {NUMBER} mm2 a metre at depth {NUMBER} mm, least {NUMBER}, has {NUMBER} ", line)
        told, needs, depth, least, has = got
    else:
        depth, least, has = one(rf"^steel {way} the tank spreads the load: at depth {NUMBER} mm, least {NUMBER} mm2 a metre, has {NUMBER} ", line)
        told = needs = 0.0
    diameter, spacing = job["short" if way == "across" else "long"]
    given = 3.141592653589793 / 4 * diameter**2 * 1000 / spacing
    near("moment", told, moment, 1e-3, 6e-5)
    near("depth", depth, depths(job)[way], 0)
    near("least", least, data["slab-least-ribbed"] / 100 * 1000 * job["thickness"], 0, 0.05)
    near("given", has, given, 0, 0.5)
    if moment:
        stress, arm = data["steel-stress"], data["lever-arm"]
        in_steel, _, package_arm = stresses(package, job["thickness"], depth, needs, told)
        near("stress by the package's own arm", in_steel * package_arm / arm, stress, 0.005)
        bears = data["section-factor"] * 1000 * depth**2 / 1e6
        if told <= bears and not arm * stress <= in_steel <= 1.01 * stress:
            raise Wrong(f"stress {in_steel} with the steel asked for: {line}")
        if has >= needs and told <= bears:
            drawn, _, _ = stresses(package, job["thickness"], depth, given, told)
            if drawn > 1.01 * stress:
                raise Wrong(f"stress {drawn} with the bars drawn: {line}")
    return has >= max(needs, least)


def beam_of(package, data, job, check, load):
    width, depth, bars, diameter = job["beam"]
    got = one(rf"^load {NUMBER} kN/m: {NUMBER} kN/m2 on {NUMBER} m, itself {NUMBER} kN/m; span {NUMBER} m, moment {NUMBER} kNm, end shear {NUMBER} kN",
              check["working"][1])
    low = depth + job["thickness"] - job["cover"] - 8 - diameter / 2
    span = max(min(clear + low, clear + bearing) for clear, bearing in stretches(job)) / 1000
    line = load * (job["width"] + width) / 2000 + width * depth * data["weight-reinforced"] / 1e6
    wanted = (line, load, (job["width"] + width) / 2000, None, span, beam_moment(line, span), line * span / 2)
    for found, value in zip(got, wanted):
        if value is not None:
            near("beam", found, value, 1e-3, 6e-5)
    needs, at, has, bottom, of = one(
        rf"^steel: needs {NUMBER} mm2 at depth {NUMBER} mm, has {NUMBER} \({NUMBER} of {NUMBER} bars", check["working"][2])
    near("depth of the beam", at, low, 0)
    near("bars of the beam", has, bars // 2 * 3.141592653589793 / 4 * diameter**2, 0, 0.5)
    near("bars at the bottom", bottom, bars // 2, 0)
    stress, arm = data["steel-stress"], data["lever-arm"]
    beams = 1000 / width  # side by side, as many as make a metre
    in_steel, _, package_arm = stresses(package, depth + job["thickness"], low, needs * beams, got[5] * beams)
    near("stress in the beam by the package's own arm", in_steel * package_arm / arm, stress, 0.005)
    wanted = "not-met" if has < needs else "flagged" if job["traffic"] in ("car", "lorry") else "screened"
    if check["verdict"] != wanted:
        raise Wrong(f"span-beam-steel is {check['verdict']}, reckoned here {wanted}")
