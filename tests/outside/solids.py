"""The program's volumes and exposed faces beside meshes of the same job, joined and cut by the package manifold3d.

Each part is built as if it were alone and loses what parts of higher rank take (solids_tank.py, solids_round.py). A volume is
the mesh's; a face is what two meshes share (shapes.py). Quantities are those of profile exact with its decisions added
back, which there are only dimensions booked to 0.1 mm. Compared are whole works, and their stages and specs where a
part of the mesh is just that: lifts of walls, net dig and working space, stone in a soak pit and behind its lining.
"""
import json
import re
import tomllib
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from decimal import Decimal
from fractions import Fraction

import solids_planted
from measured import MAY_REFUSE, random_files
from program import ROOT, SAMPLES, Wrong, sample
from shapes import CHORD, SIDES
from solids_round import Round
from solids_tank import RANKS, Tank

SEED = 20261130
CUBIC, SQUARE = 1e-9, 1e-6
# m3 and m2, for 64-bit floats alone: the last digit of a sum of 1e12 mm3 is 1e-13 m3, the program prints twelve places of
# each of some twenty items; a level is good to 1e-12 mm, on 30 m2 over a step of 1/128 mm that is up to 1e-8 m2.
TOLERANCE = {CUBIC: 1e-10, SQUARE: 1e-8}
FACES = ("formwork", "plaster", "screed", "cement-paste", "damp-proof", "termite", "earthwork-support", "over-break",
         "bottom-trim", "polythene-sheet", "drain-sheet")
EARTH = ("dug_actual", "put_back", "carted_bank")  # of the paper's earth
# Works of which a mesh has no volume and no face.
NO_SOLID = {
    "bars": "kg of bars, see part goods",
    "hoop-iron": "metres, by whole courses",
    "keep-dry": "an item", "water-test": "an item",
    "manhole-cover": "a number", "pipe-bend": "a number", "pipe-tee": "a number",
    "pipe": "metres of pipe", "drain-pipe": "metres of pipe", "soak-pipe": "metres of pipe", "vent-pipe": "metres of pipe",
}
# Where the definition is not the bare geometry; the mesh is measured as the definition has it.
DEFINED = {
    "plaster-outside": "a pipe hole is booked once, off the inner face: outside the mesh has it filled",
    "over-break": "a hole cut by ground level counts by its height below ground, not by its segment;"
                  " a shaft in the pit's side has none, like the soil over the cover beside it",
}


def mesh(job, ranks=RANKS):
    """{work, work@stage or work/spec: m3 or m2} of a job."""
    tank = Tank(job, ranks)
    if abs(tank.unclaimed()) > 1:
        raise Wrong(f"{tank.unclaimed()} mm3 of the tank belong to no part")
    found = tank.volumes() | tank.faces()
    for key, value in Round(tank).found.items():
        found[key] = found.get(key, 0.0) + value
    found = {key: value * scale(key) for key, value in found.items()}
    return found | earth(totals(found), tank.over_dug() * CUBIC)


def earth(found, over_dug):
    """All that is dug, over-break too; what goes back, and what is carted away as it lay."""
    dug = sum(size for key, size in found.items() if key.startswith("excavation") and key == work_of(key)) + over_dug
    back = found["backfill"] + found.get("soil-cover", 0.0)
    return dict(zip(EARTH, (dug, back, dug - back)))


def mesh_of(path):
    return mesh(tomllib.loads(path.read_text(encoding="utf-8")))


def work_of(key):
    return re.split("[@/]", key)[0]


def scale(key):
    return SQUARE if key.startswith(FACES) else CUBIC


def booked(paper):
    """The program's, under all keys that a mesh may have."""
    found = defaultdict(Fraction)
    for item in paper["items"] + paper["voids"]:
        work, spec = item["work"], item["spec"]
        if work == "brickwork-soak-pit":
            spec = "dry" if spec.endswith("/dry") else "mortar"
        size = Fraction(item["quantity"]) + sum(Fraction(d["size"]) for d in item["decisions"])
        for key in (work, f"{work}@{item['stage']}", f"{work}/{spec}"):
            found[key] += size
    return found | {key: Fraction(paper["earth"][key]) for key in EARTH}


def totals(found):
    """With the works of which the mesh has only stages or only specs."""
    whole = dict(found)
    for mark in "@/":
        sums = defaultdict(float)
        for key, value in found.items():
            if mark in key and work_of(key) not in whole:
                sums[work_of(key)] += value
        whole |= sums
    return whole


def differences(ours, paper):
    """[(key, program's, mesh's)] that disagree, works the mesh knows nothing of, and the largest difference by unit."""
    theirs, ours, wrong = booked(paper), totals(ours), []
    largest = {CUBIC: 0.0, SQUARE: 0.0}
    unknown = sorted({work_of(key) for key in theirs} - {work_of(key) for key in ours} - set(NO_SOLID))
    for key, size in sorted(ours.items()):
        apart, unit = abs(float(theirs[key]) - size), scale(key)
        largest[unit] = max(largest[unit], apart)
        if not apart <= TOLERANCE[unit]:
            wrong.append((key, float(theirs[key]), size))
    return wrong, unknown, largest


def one(ours, paper, met, largest):
    """Compares a job; the number of its figures. `met` counts the items of each work that a mesh or a paper has."""
    wrong, unknown, apart = differences(ours, paper)
    if unknown:
        raise Wrong(f"works that no mesh has and NO_SOLID does not name: {', '.join(unknown)}")
    if wrong:
        raise Wrong("\n  ".join(f"{key}: {theirs:.9f} against {size:.9f} of the mesh" for key, theirs, size in wrong[:8]))
    for work in map(work_of, ours):
        met[work] += work in EARTH
    for item in paper["items"] + paper["voids"]:
        met[item["work"]] += 1
    for unit, size in apart.items():
        largest[unit] = max(largest[unit], size)
    return sum(1 for size in ours.values() if size > 0)


def run(program, tally, folder, count):
    """All samples and `count` random jobs."""
    jobs = [(name, ROOT / sample(name)) for name in SAMPLES]
    jobs += [(path.stem, path) for path in random_files(folder, count + count // 50, SEED)]  # some may be refused

    def take_off(job):
        return program.run("takeoff", job[1], "--profile", "exact", "--format", "json")
    with ThreadPoolExecutor(1) as pool, ProcessPoolExecutor(2) as meshes:
        built = [meshes.submit(mesh_of, path) for _, path in jobs]
        answers = list(pool.map(take_off, jobs))
        met, largest, figures, measured, refused = defaultdict(int), {CUBIC: 0.0, SQUARE: 0.0}, 0, 0, 0
        for (name, _), answer, ours in zip(jobs, answers, built):
            if measured == len(SAMPLES) + count:
                break
            paper = tally.check(f"{name}: is measured", read, answer)
            if paper == REFUSED:
                refused += 1
            elif paper:
                measured += 1
                figures += tally.check(f"{name}: meshes", lambda: one(ours.result(), paper, met, largest)) or 0
    tally.check("random jobs measured", enough, measured, len(SAMPLES) + count)
    print(f"  {measured} jobs, {refused} refused; {figures} figures of {len(met) - len(NO_SOLID)} works; furthest apart "
          f"{largest[CUBIC]:.1e} m3, {largest[SQUARE]:.1e} m2; allowed, for 64-bit coordinates, "
          f"{TOLERANCE[CUBIC]:.0e} and {TOLERANCE[SQUARE]:.0e}")
    print(f"  circles are polygons of {SIDES} sides and the same area; upright faces round them divided by {CHORD:.9f}, exact")
    for work, why in DEFINED.items():
        print(f"  as defined: {work}: {why}")
    print("  no solid: " + "; ".join(f"{work} ({why})" for work, why in NO_SOLID.items()))
    tally.check("every work is met", all_met, met)
    planted(program, tally)


REFUSED = "refused"


def read(answer):
    code, out, err = answer
    if code == 3:
        codes = set(re.findall(r"error\[(\w+)\]", err))
        if not codes or codes - set(MAY_REFUSE):
            raise Wrong(f"refused:\n{err}")
        return REFUSED
    if code:
        raise Wrong(f"exit {code}\n{err}")
    return json.loads(out)


def enough(measured, wanted):
    if measured != wanted:
        raise Wrong(f"{measured} jobs measured, {wanted} wanted")


def all_met(met):
    """Nothing is listed or built for nothing: each work is in some paper."""
    missing = [work for work in (*NO_SOLID, *met) if not met[work]]
    if missing:
        raise Wrong(f"met in no job: {', '.join(missing)}")


def planted(program, tally):
    """The comparison can fail: errors in the meshes, a wrong figure, a work left out, a work that nobody knows."""
    jobs = {name: tomllib.loads((ROOT / sample(name)).read_text(encoding="utf-8")) for name in SAMPLES}
    papers = {name: program.json("takeoff", sample(name), "--profile", "exact") for name in SAMPLES}

    def differ(name, job, ranks):
        return {work_of(key) for key, _, _ in differences(mesh(job, ranks), papers[name])[0]}
    solids_planted.run(tally, differ, jobs)
    paper = papers["rest-house"]
    ours = mesh(jobs["rest-house"])
    item = next(item for item in paper["items"] if item["work"] == "brickwork-wall")
    off = item | {"quantity": str(Decimal(item["quantity"]) + Decimal("2e-10"))}
    for what, items in (("a figure a fifth of a cubic mm off", [off]),
                        ("a work left out", []), ("a work that nobody knows", [item, item | {"work": "brickwork-tower"}])):
        spoiled = paper | {"items": [i for i in paper["items"] if i is not item] + items}
        wrong, unknown, _ = differences(ours, spoiled)
        tally.check(f"planted: {what}", solids_planted.seen, {work_of(key) for key, _, _ in wrong} | set(unknown),
                    items[-1]["work"] if items else item["work"], what)
