"""The program's quantities beside the second model's, exactly."""
import json
import random
import re
import tomllib
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal
from fractions import Fraction
from math import floor, prod

import bars_model
import methods
from program import ROOT, SAMPLES, Wrong, sample
from random_jobs import problems, random_job, to_toml
from second_model import solve

SEED = 20261125
# Jobs that random_jobs.py finds sound and the program may refuse all the same, with the reason.
MAY_REFUSE = {"J074": "the haunch stands in an opening of a partition: the program does not build one through it"}
MOST_REFUSED = Fraction(2, 100)
PROFILES = tuple(methods.METHODS)  # exact first
ROUNDED = ("total rounded", "total rounded with its row of the bill")
BELOW = "rounded deductions are more than the gross: counted as nothing"
# Items without a row of the bill, and the cells of the second model that they are.
VOIDS = {"void-manhole": "manhole", "void-opening": "opening", "void-clear-space": "clear", "void-shaft": "shaft-void"}


def random_files(folder, count, seed=SEED):
    """Writes sound random jobs; the same seed gives the same files."""
    rng = random.Random(seed)
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for n in range(count):
        path = folder / f"random-{n:03}.toml"
        path.write_text(to_toml(random_job(rng)), encoding="utf-8")
        paths.append(path)
    return paths


def run(program, tally, folder, count):
    """All samples and `count` random jobs under both profiles."""
    jobs = [(name, ROOT / sample(name)) for name in SAMPLES]
    jobs += [(path.stem, path) for path in random_files(folder, count)]
    models = {}
    for name, path in jobs:
        job = tomllib.loads(path.read_text(encoding="utf-8"))
        models[name] = None if problems(job) else (*solve(job), bars_model.mass(job))
    for name, _ in jobs:
        if models[name] is None:
            tally.check(f"{name}: is a sound job", refuse, "random_jobs.py finds a problem in it")
    refused, nets = defaultdict(int), {}
    with ThreadPoolExecutor(2) as pool:
        for profile in PROFILES:
            def take_off(path, profile=profile):
                return program.run("takeoff", path, "--profile", profile, "--format", "json")
            lines = 0
            for (name, _), answer in zip(jobs, pool.map(take_off, [path for _, path in jobs])):
                lines += tally.check(f"{name}, {profile}", one, answer, models[name], profile, refused, nets, name) or 0
            print(f"  {profile}: {len(jobs)} jobs, {lines} lines", flush=True)
    tally.check("a wrong figure is seen", seen, program, models["rest-house"])
    for code, number in sorted(refused.items()):
        print(f"  refused with {code}: {number} of {len(jobs) * len(PROFILES)} runs ({MAY_REFUSE[code]})")
    tally.check("refused jobs", few, sum(refused.values()), len(jobs) * len(PROFILES))


def seen(program, solved):
    """The comparison can fail: a quantity one unit of the last place off, a line that is not its product."""
    for part, field, value in (("item", "quantity", "0.000000000001"), ("line", "value", "0.1")):
        paper = program.json("takeoff", sample("rest-house"), "--profile", "exact")
        item = next(i for i in paper["items"] if i["work"] == "brickwork-wall")
        here = item if part == "item" else item["lines"][0]
        here[field] = str(Decimal(here[field]) + Decimal(value))
        try:
            one((0, json.dumps(paper), ""), solved, "exact", defaultdict(int), {}, "rest-house")
        except Wrong:
            continue
        raise Wrong(f"a wrong {field} passed")


def refuse(why):
    raise Wrong(why)


def few(refused, runs):
    if refused > MOST_REFUSED * runs:
        raise Wrong(f"{refused} of {runs} runs refused; at most {MOST_REFUSED} is allowed")


def one(answer, solved, profile, refused, nets, name):
    """Checks one take-off; the number of its lines."""
    code, out, err = answer
    if code == 3:
        codes = set(re.findall(r"error\[(\w+)\]", err))
        if not codes or codes - set(MAY_REFUSE):
            raise Wrong(f"refused:\n{err}")
        for found in codes:
            refused[found] += 1
        return 0
    if code:
        raise Wrong(f"exit {code}\n{err}")
    paper = json.loads(out)
    if paper["profile"] != profile:
        raise Wrong(f"measured by {paper['profile']}")
    against_model(paper, solved)
    items = {item["id"]: item for item in paper["items"]}
    method, site = methods.METHODS[profile], solved[1]
    wrong = [text for item in items.values() for text in inside(item, items, method)]
    wrong += [text for item in items.values() for text in methods.wrong_steps(method, item)]
    wrong += methods.wrong_units(method, site, items.values())
    wrong += methods.wrong_bands(method, site, items.values())
    wrong += by_rows(items.values(), method)
    if profile in methods.NEW:
        wrong += methods.wrong_voids(method, site, items.values())
    wrong += same_nets(paper["items"], nets, name)
    wrong += [f"balance {b['name']} does not hold: {b}" for b in paper["balances"]
              if b["holds"] is not True or Fraction(b["left"]) != Fraction(b["right"]) or Fraction(b["difference"])]
    names = {b["name"] for b in paper["balances"]}
    if not {"earth", "space", "model", "faces", "bill"} <= names:
        wrong.append(f"balances are missing: {sorted(names)}")
    if wrong:
        raise Wrong("\n  ".join(wrong[:8]))
    return sum(len(item["lines"]) for item in items.values())


def against_model(paper, solved):
    """Per work: quantities and decisions together are the model's quantity, to the last digit."""
    theirs, site, model, steel = solved
    theirs = {work: value for work, value in theirs.items() if "/" not in work}
    thick = {"brickwork-wall": site.t, "brickwork-partition": site.tp,
             "manhole-shaft": site.shaft[0] if site.shaft else None}
    ours, narrow = defaultdict(Fraction), defaultdict(Fraction)
    others = methods.METHODS[paper["profile"]].others
    for item in paper["items"] + paper["voids"]:
        work, size = item["work"], Fraction(item["quantity"]) + sum(Fraction(d["size"]) for d in item["decisions"])
        if item["model"] is not None and size != Fraction(item["model"]):  # metres and numbers have none
            raise Wrong(f"{item['id']}: {item['quantity']} and its decisions are not {item['model']}")
        if work in others:  # nothing of it in the second model
            continue
        if item["unit"] == "m" and item["net_unit"] == "m2":  # edges and narrow faces, of any width: by their net
            narrow[work] += Fraction(item["net"])
            continue
        if item["unit"] != item["net_unit"]:  # walls in m2: times their thickness
            size *= thick[work] / 1000
        ours[work] += size
    voids = {work: model.volume[name] / 10**9 for work, name in VOIDS.items()}
    holes = theirs.get("brickwork-wall", 0) - model.volume["wall"] / 10**9
    theirs = theirs | voids | {"void-pipe-hole": -holes, "bars": steel}
    for work in sorted(set(ours) | set(theirs) | set(narrow)):
        a, b = ours.get(work, Fraction(0)), theirs.get(work, Fraction(0))
        # A net is booked to 0.1 mm, line by line; what is in m2 and m3 is exact.
        if work in narrow and abs(a + narrow[work] - b) <= Fraction(1, 1000):
            continue
        if a != b:
            raise Wrong(f"{work}: {float(a)} against {float(b)} of the second model, {a - b} apart")


def same_nets(items, nets, name):
    """`net` is what profile exact makes the quantity, whatever the profile; the first profile here is exact."""
    ours = defaultdict(Fraction)
    for item in items:
        ours[item["work"]] += Fraction(item["net"])
        if name not in nets and item["net"] != item["quantity"]:
            return [f"{item['id']}: net {item['net']} in profile exact"]
    first = nets.setdefault(name, ours)
    return [f"{work}: net {ours.get(work)}, in profile exact {first.get(work)}"
            for work in sorted(set(ours) | set(first)) if ours.get(work, 0) != first.get(work, 0)]


def printed(value):
    """A value as the program prints it: exact, twelve places where no decimal ends, half away from zero."""
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest == 1:
        return value
    size = Fraction(floor(abs(value) * 10**12 + Fraction(1, 2)), 10**12)
    return size if value > 0 else -size


def inside(item, items, method):
    """What does not hold inside an item."""
    total, wrong = Fraction(0), []
    for line in item["lines"]:
        value = prod(map(Fraction, line["times"]), start=Fraction(1)) * prod(map(Fraction, line["dims"]))
        if line["of_item"] and line["dims"] != [items[line["of_item"]]["quantity"]]:
            wrong.append(f"{item['id']}: {line['note']}: {line['dims']} is not the quantity of {line['of_item']}")
        if printed(value) != Fraction(line["value"]):
            wrong.append(f"{item['id']}: {line['note']}: {line['value']} is not {float(value)}")
        total += value
    rounded = sum(Fraction(d["size"]) for d in item["decisions"] if d["what"] in ROUNDED)
    below = sum(Fraction(d["size"]) for d in item["decisions"] if d["what"] == BELOW)
    if total != Fraction(item["quantity"]) + rounded + below or below > 0 or below and Fraction(item["quantity"]):
        wrong.append(f"{item['id']}: lines make {float(total)}, quantity {item['quantity']}")
    if not method.by_row and Fraction(item["quantity"]) != max(0, methods.rounded(method, item["unit"], total)):
        wrong.append(f"{item['id']}: {item['quantity']} is not its lines rounded once")
    if Fraction(item["booked"]) != printed(total):
        wrong.append(f"{item['id']}: booked {item['booked']}, lines make {float(total)}")
    return wrong


def by_rows(items, method):
    """Items of one row of the bill come to their lines, rounded once all together."""
    rows = defaultdict(lambda: [Fraction(0), Fraction(0)])
    for item in items if method.by_row else ():
        row = rows[item["work"], item["spec"], item["unit"], item["description"]]
        row[0] += max(Fraction(0), Fraction(item["booked"]))
        row[1] += Fraction(item["quantity"])
    return [f"{row}: {quantity} is not {float(booked)} rounded" for row, (booked, quantity) in rows.items()
            if quantity != methods.rounded(method, row[2], booked)]
