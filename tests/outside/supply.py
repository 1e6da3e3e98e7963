"""Bars, cutting plans, materials, orders and dates beside second models of their own, exactly."""
import json
import random
import re
import tomllib
from collections import Counter, defaultdict
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from fractions import Fraction
from math import ceil, floor

import bars_model
import cut_lists
import goods_model
from bars_model import kg_per_metre
from goods_model import STAGES, places
from program import ROOT, SAMPLES, Wrong, sample
from random_jobs import to_toml
from random_supply import supplied
from second_model import length

SEED = 20261126
VERBS = ("takeoff", "bars", "materials", "orders")
# Jobs that the models find sound and the program may refuse all the same, with the reason.
MAY_REFUSE = {"J074": "the haunch stands in an opening of a partition: the program does not build one through it"}
SEARCH = 12_000  # steps of the exact search for fewer bars; beyond them a plan is not confirmed, only not contradicted
WAITS = [wait for wait in goods_model.data("programme")["wait"] if wait["used"]]
DAYS = {entry["stage"]: entry for entry in goods_model.data("programme")["days"]}
WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def run(program, tally, folder, count):
    """All samples and `count` random jobs with steel, packs, orders and dates."""
    jobs = [(name, ROOT / sample(name)) for name in SAMPLES]
    rng = random.Random(SEED)
    for n in range(count):
        path = folder / f"supplied-{n:03}.toml"
        path.write_text(to_toml(supplied(rng)), encoding="utf-8")
        jobs.append((path.stem, path))
    counts = Counter()
    with ThreadPoolExecutor(2) as pool:
        for (name, path), papers in zip(jobs, pool.map(lambda entry: read(program, entry[1]), jobs)):
            tally.check(f"{name}: bars, materials, orders, dates", one, path, papers, counts)
    cut_lists.run(program, tally, folder)
    tally.check("a wrong figure is seen", seen, program)
    tally.check("bars that cannot be are refused", refused, program, folder)
    print("  " + ", ".join(f"{number} {what}" for what, number in counts.items()), flush=True)


def read(program, path):
    return {verb: program.run(verb, path, "--format", "json") for verb in VERBS}


def one(path, papers, counts):
    job = tomllib.loads(path.read_text(encoding="utf-8"))
    for code, _, err in papers.values():
        if code == 3 and set(re.findall(r"error\[(\w+)\]", err)) <= set(MAY_REFUSE):
            counts["refused"] += 1
            return
        if code:
            raise Wrong(f"exit {code}\n{err}")
    paper = {verb: json.loads(out, parse_float=Fraction) for verb, (_, out, _) in papers.items()}
    wrong = []
    marks = bars_model.bars(job)
    wrong += of_bars(paper["bars"], marks, counts)
    wrong += of_cutting(job, paper["bars"], marks, counts)
    wrong += of_materials(job, paper["takeoff"], paper["materials"], marks, counts)
    wrong += of_orders(job, paper["materials"], paper["orders"], paper["bars"], counts)
    wrong += of_dates(job, paper["takeoff"], paper["orders"], counts)
    if wrong:
        raise Wrong(f"{len(wrong)} differences\n  " + "\n  ".join(wrong[:10]))


def compared(ours, theirs, what):
    return [f"{what} {key}: {ours.get(key)} of the model, {theirs.get(key)} of the program"
            for key in sorted(set(ours) | set(theirs), key=str) if ours.get(key) != theirs.get(key)]


def of_bars(paper, marks, counts):
    """Every kind of bar: member, bar, shape, dimensions, length, stage, number; its mass; the printed kg/m."""
    theirs, wrong = Counter(), []
    for mark in paper["marks"]:
        bar = f"{mark['grade']}{mark['diameter']}"
        dims = tuple(Fraction(size) for _, size in sorted(mark["dims"].items()))
        theirs[bars_model.Mark(mark["member"], bar, mark["shape"], dims, mark["length_mm"], mark["stage"])] += mark["count"]
        mass = mark["count"] * Fraction(mark["length_mm"], 1000) * kg_per_metre(mark["diameter"])
        if Fraction(mark["mass_kg"]) != mass:
            wrong.append(f"mark {mark['mark']}: {mark['mass_kg']} kg, {float(mass)} of the model")
    wrong += [f"{entry['diameter']} mm: {entry['kg']} kg/m" for entry in paper["mass_per_metre"]
              if Fraction(entry["kg"]) != kg_per_metre(entry["diameter"])]
    counts["kinds of bars"] += len(marks)
    return wrong + compared(marks, theirs, "bars")


def of_cutting(job, paper, marks, counts):
    """Pieces of a plan are those of the marks; bars hold them; the bound is one; nothing is cut before it is bought."""
    wrong, needed = [], defaultdict(Counter)
    for mark, count in marks.items():
        needed[mark.bar][mark.length, mark.stage] += count
    stock = length(job.get("steel", {}).get("stock_length", "12 m"))
    kerf = length(job.get("steel", {}).get("kerf", 0))
    for plan in paper["cutting"]:
        bar, bought = f"{plan['grade']}{plan['diameter']}", Counter()
        pieces = Counter()
        if (plan["stock_mm"], plan["kerf_mm"]) != (stock, kerf):
            wrong.append(f"{bar}: stock {plan['stock_mm']}, kerf {plan['kerf_mm']}")
        for pattern in plan["patterns"]:
            cut, total = pattern["pieces_mm"], sum(pattern["pieces_mm"])
            # A saw cut after each piece; none after the last one where it ends with the bar or leaves less than a cut.
            lost = kerf * len(cut)
            left = max(stock - total - lost, 0)
            if total + kerf * (len(cut) - 1) > stock or pattern["offcut_mm"] != left:
                wrong.append(f"{bar}: {cut} of {stock}, offcut {pattern['offcut_mm']}, {left} of the model")
            stages = pattern["pieces_stage"]
            if pattern["stage"] != min(stages, key=STAGES.index):
                wrong.append(f"{bar}: bought for {pattern['stage']}, cut for {stages}")
            bought[pattern["stage"]] += pattern["times"]
            for piece in zip(cut, stages):
                pieces[piece] += pattern["times"]
        wrong += compared(needed.pop(bar, {}), pieces, f"{bar}: pieces")
        wrong += compared(bought, {entry["stage"]: entry["bars"] for entry in plan["bought"]}, f"{bar}: bought for")
        wrong += least(bar, plan, pieces, stock, kerf, counts)
    return wrong + [f"{bar}: no plan" for bar in needed]


def least(bar, plan, pieces, stock, kerf, counts):
    # In tenths of a millimetre: whole numbers. A piece takes its cut with it, and a bar has one cut more.
    sizes = sorted((int(10 * (size + kerf)) for (size, _), count in pieces.items() for _ in range(count)), reverse=True)
    bars, bound, room = plan["bars"], plan["bound"], int(10 * (stock + kerf))
    wrong = []
    if sum(pattern["times"] for pattern in plan["patterns"]) != bars or bound > bars:
        wrong.append(f"{bar}: {bars} bars, bound {bound}")
    if plan["proved_least"] is not (bound == bars):
        wrong.append(f"{bar}: proved least {plan['proved_least']} with {bars} bars, bound {bound}")
    simple = ceil(Fraction(sum(sizes), room))
    if simple > bars:
        wrong.append(f"{bar}: {bars} bars hold less than their pieces")
    counts["cutting plans"] += 1
    if simple == bars:
        counts["least by their sum"] += 1
    elif bars > 1:
        fits = packs(sizes, bars - 1, room)
        counts["least by search" if fits is False else "not searched out"] += 1
        if fits and bound > bars - 1:
            wrong.append(f"{bar}: {bars} bars said least, {bars - 1} do")
        elif fits:
            counts["within one of the least"] += 1
    return wrong


def packs(sizes, bars, room):
    """Do the pieces fit into so many bars? None where the search is too long. Depth first, longest pieces first."""
    rooms, steps, total = [room] * bars, 0, sum(sizes)
    failed = set()

    def place(at, free):
        nonlocal steps
        if at == len(sizes):
            return True
        steps += 1
        if steps > SEARCH:
            raise TimeoutError
        key = at, tuple(sorted(rooms))
        if key in failed or free < 0:
            return False
        tried, piece = set(), sizes[at]
        for n in sorted(range(bars), key=lambda n: rooms[n]):
            left = rooms[n]
            if left < piece or left in tried:
                continue
            tried.add(left)
            rooms[n] -= piece
            # Room too small for the shortest piece is lost.
            lost = rooms[n] if rooms[n] < sizes[-1] else 0
            if place(at + 1, free - lost):
                return True
            rooms[n] += piece
            if left == piece:
                break
        failed.add(key)
        return False

    try:
        return place(0, room * bars - total)
    except (TimeoutError, RecursionError):
        return None


def of_materials(job, takeoff, paper, marks, counts):
    theirs = defaultdict(lambda: [Fraction(0)] * 4)
    for row in paper["rows"]:
        key = row["material"], row["stage"], Fraction(row["waste_percent"])
        theirs[key] = [a + Fraction(row[field]) for a, field in zip(theirs[key], ("net", "over_break", "gross", "present"))]
    ours = {}
    for key, amounts in goods_model.materials(job, takeoff, marks).items():
        net, extra, at_once = map(places, amounts)  # what is printed is what is multiplied
        ours[key] = [net, extra, *(places((amount + extra) * (1 + key[2] / 100)) for amount in (net, at_once))]
    ours = {key: value for key, value in ours.items() if any(value)}
    wrong = [f"material {key}: {[*map(float, ours.get(key, ()))]} of the model, {[*map(float, theirs.get(key, ()))]}"
             for key in sorted(set(ours) | set(theirs), key=str) if ours.get(key) != theirs.get(key)]
    totals = {total["material"]: [Fraction(total[field]) for field in ("net", "over_break", "gross")]
              for total in paper["totals"]}
    sums = defaultdict(lambda: [Fraction(0)] * 3)
    for (material, _, _), row in ours.items():
        sums[material] = [a + b for a, b in zip(sums[material], row)]  # without what is there at once
    for total in paper["totals"]:
        if Fraction(total["net"]) + Fraction(total["over_break"]) + Fraction(total["waste"]) != Fraction(total["gross"]):
            wrong.append(f"total of {total['material']}: net, over-break and waste are not gross")
    counts["rows of materials"] += len(ours)
    return wrong + compared(sums, totals, "total of")


def of_orders(job, materials, paper, bars, counts):
    bought = {(f"bars/{plan['grade']}{plan['diameter']}", entry["stage"]): entry["bars"]
              for plan in bars["cutting"] for entry in plan["bought"]}
    ours = goods_model.orders(job, materials["rows"], bought)
    theirs, wrong, totals = {}, [], defaultdict(lambda: [Fraction(0), Fraction(0), 0, Fraction(0)])
    store = {}
    for stage in paper["stages"]:
        for line in stage["lines"]:
            opening, ordered, used, closing = (Fraction(line[k]) for k in ("opening", "ordered", "used", "closing"))
            material = line["material"]
            if opening + ordered != used + closing or opening != store.get(material, 0):
                wrong.append(f"{stage['stage']}, {material}: {line}")
            store[material] = closing
            theirs[stage["stage"], material] = goods_model.Line(opening, line["packs"], ordered, used, closing)
            cost = Fraction(line["cost"] or 0)
            totals[material] = [a + b for a, b in zip(totals[material], (ordered, used, line["packs"], cost))]
    for total in paper["totals"]:
        told = [Fraction(total["ordered"]), Fraction(total["used"]), total["packs"], Fraction(total["cost"] or 0)]
        if told != totals.pop(total["material"], None):
            wrong.append(f"total of orders: {total}")
    wrong += [f"no total of {material}" for material in totals]
    if [stage["stage"] for stage in paper["stages"]] != sorted((s["stage"] for s in paper["stages"]), key=STAGES.index):
        wrong.append("stages are out of order")
    counts["lines of orders"] += len(ours)
    return wrong + compared(ours, theirs, "orders")


def of_dates(job, takeoff, paper, counts):
    """Stages in order and as long as said; waits of rates/programme.toml; deliveries before their stage."""
    given, events = job.get("programme", {}), paper["events"]
    if "start" not in given:
        return ["dates without a first day"] if events else []
    rest = given.get("rest_day", "none")
    works = {item["work"] for item in takeoff["items"]}
    works |= {f"{item['work']}@{item['stage']}" for item in takeoff["items"]}

    def counted(day):
        return WEEK[day.weekday()] != rest

    def entries(kind):
        return [(e["stage"], date.fromisoformat(e["from"]), date.fromisoformat(e["to"])) for e in events if e["kind"] == kind]

    wrong, stages = [], {stage: (first, last) for stage, first, last in entries("stage")}
    poured = {stage: first for stage, first, _ in entries("pour")}
    at, before = date.fromisoformat(given["start"]), None
    for stage in STAGES:
        if stage not in stages:
            continue
        for wait in WAITS:
            if wait.get("after") in stages and wait["after"] == before and not wait.get("works"):
                at = max(at, poured.get(before, stages[before][1]) + timedelta(wait["days"]))
        if before == "plaster":  # damp, then filled one day and read so many days later
            cured = [w["days"] for w in WAITS
                     if w["kind"] == "curing" and w.get("after") == "plaster" and works & set(w["works"])]
            tested = [w["days"] for w in WAITS if w["kind"] == "water-test" and works & set(w["works"])]
            at += timedelta(max(cured, default=0) + sum(days + 1 for days in tested))
        if stage == "strike":
            for under in ("cover", "soak-pit"):
                props = [w["days"] for w in WAITS
                         if w["kind"] == "props" and w["after"] == under and works & set(w["works"])]
                at = max(at, poured.get(under, at) + timedelta(max(props, default=0)))
        while not counted(at):
            at += timedelta(1)
        first, last = stages[stage]
        days = sum(counted(first + timedelta(n)) for n in range((last - first).days + 1))
        if first != at or not counted(last) or days != given.get("days", {}).get(stage, usual(stage, takeoff)):
            wrong.append(f"{stage}: {first} to {last}, {days} days, from {at} of the model")
        at, before = last + timedelta(1), stage
    for stage, first, _ in entries("delivery"):
        if not first < stages[stage][0]:
            wrong.append(f"delivery for {stage} on {first}")
    for stage, first, _ in entries("strike"):
        if stage not in poured or first <= poured[stage]:
            wrong.append(f"{stage} struck on {first}, poured {poured.get(stage)}")
    counts["dates"] += len(events)
    return wrong


def usual(stage, takeoff):
    """Usual days of a stage: those of rates/programme.toml, more or fewer of them by the work there is."""
    entry = DAYS[stage]
    nets = [Fraction(item["net"]) for item in takeoff["items"]
            if item["stage"] == stage and item["work"] in entry.get("of", ())]
    if not nets:
        return entry["days"]
    amount, stands = Fraction(floor(sum(nets) * 10 + Fraction(1, 2)), 10), Fraction(entry["for"])
    if amount > stands:
        return entry["days"] + (ceil((amount - stands) / Fraction(entry["then"])) if "then" in entry else 0)
    fewer = max(1, ceil(entry["days"] * amount / stands))
    return min(entry["days"], fewer) if entry.get("less") else entry["days"]


def seen(program):
    """The comparison can fail: one figure of each paper spoiled."""
    path = ROOT / sample("rest-house")
    spoils = {"bars": ("marks", 0, "count", 20), "materials": ("rows", 0, "gross", "356.606"),
              "orders": ("totals", 0, "packs", 35), "takeoff": ("items", -3, "net", "3")}
    for verb, (part, n, field, value) in spoils.items():
        papers = read(program, path)
        code, out, err = papers[verb]
        paper = json.loads(out)
        paper[part][n][field] = value
        papers[verb] = code, json.dumps(paper), err
        try:
            one(path, papers, Counter())
        except Wrong:
            continue
        raise Wrong(f"a wrong {field} of {verb} passed")


def refused(program, folder):
    """What the model of bars finds impossible, the program refuses."""
    text = (ROOT / sample("rest-house")).read_text(encoding="utf-8")
    for n, (old, new, code) in enumerate((('cover_to_steel = "40 mm"', 'cover_to_steel = "52 mm"', "J088"),
                                          ('stock_length = "12 m"', 'stock_length = "0.70 m"', "J090"),
                                          ('beam_corner = "300 mm"', 'beam_corner = "2 m"', "J091"))):
        path = folder / f"refused-{n}.toml"
        path.write_text(text.replace(old, new), encoding="utf-8")
        if not bars_model.problems(tomllib.loads(path.read_text(encoding="utf-8"))):
            raise Wrong(f"{new}: the model finds nothing")
        exit_code, _, err = program.run("bars", path)
        if exit_code != 3 or f"error[{code}]" not in err:
            raise Wrong(f"{new}: exit {exit_code}\n{err}")
