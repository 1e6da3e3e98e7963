"""Bars of random lists, against an arc-flow model solved by the package highspy.

A bar is a way from 0 to its room; an arc is a piece (its length and one cut) or a step that is left over. Lengths are
divided by their common divisor, so that there are few arcs. Nothing here is shared with the program's own search.
"""
import random
from collections import Counter
from decimal import Decimal
from math import gcd

from program import Wrong

SEED = 20261126
# How many lists, one stock or two with prices, width of a cut, offcuts in the store.
KINDS = ((12, False, False, False), (8, False, True, False), (10, True, False, False), (6, True, True, False),
         (6, False, True, True))


def run(program, tally, room):
    import highspy  # its absence is a failure of this part, told by the tally

    dice, number = random.Random(SEED), 0
    for count, two, cut, offcuts in KINDS:
        for _ in range(count):
            number += 1
            job = draw(dice, two, cut, offcuts)
            tally.check(f"cutting list {number} of {SEED}", same, program, highspy, room / f"{number}.csv", job)
    print(f"  {number} lists", flush=True)


def draw(dice, two, cut, offcuts):
    """A list whose lengths with one cut are whole steps."""
    step, kerf = dice.choice((100, 150, 200, 250)), dice.choice((2, 3, 5)) if cut else 0
    steps = dice.randint(24, 60)
    lengths = dice.sample(range(2, steps), dice.randint(3, 7))
    pieces = {step * n - kerf: dice.randint(1, 9) for n in lengths}
    stocks = [(step * steps - kerf, 100, None)]
    if two:
        # The shorter at about its share of the price, so that neither is always the better.
        short = dice.randint(steps // 2, steps - 1)
        stocks = [(step * steps - kerf, 1900, None), (step * short - kerf, 1900 * short // steps + dice.randint(-90, 90), None)]
    if offcuts:
        stocks += [(step * n - kerf, 0, dice.randint(1, 3)) for n in dice.sample(range(5, steps), 2)]
    return pieces, stocks, kerf


def same(program, highspy, path, job):
    pieces, stocks, kerf = job
    rows = [f"{length},{count}" for length, count in pieces.items()]
    path.write_text("\n".join(["length,count", *rows]) + "\n", encoding="utf-8")
    words = ["--kerf", f"{kerf}mm"]
    priced = sum(limit is None for _, _, limit in stocks) > 1
    for length, price, limit in stocks:
        words += ["--offcut", f"{length}*{limit}"] if limit else ["--stock", f"{length}={price}" if priced else f"{length}"]
    found = program.json("cut", path, *words)["cutting"][0]
    if not found["proved_least"]:
        raise Wrong(f"not proved: {job}")
    holds(found, pieces, stocks, kerf)
    cost = Decimal(found["cost"]) if priced else found["bars"] * 100
    least = arc_flow(highspy, pieces, stocks, kerf)
    if cost != least:
        raise Wrong(f"costs {cost}, the other solver finds {least}: {job}")


def holds(found, pieces, stocks, kerf):
    """The plan counted here: every piece once, no bar overfull, no offcut used twice, its bars cost what it says."""
    cut, used = Counter(), Counter()
    for way in found["patterns"]:
        bar = (way["stock_mm"], way["from_offcut"])
        used[bar] += way["times"]
        for length in way["pieces_mm"]:
            cut[length] += way["times"]
        if sum(length + kerf for length in way["pieces_mm"]) > bar[0] + kerf:
            raise Wrong(f"a bar is overfull: {way}")
    if cut != Counter(pieces):
        raise Wrong(f"pieces are {dict(cut)}, asked {pieces}")
    limits = {(length, bool(limit)): limit for length, _, limit in stocks}
    prices = {(length, bool(limit)): price for length, price, limit in stocks}
    if any(bar not in limits or (limits[bar] and n > limits[bar]) for bar, n in used.items()):
        raise Wrong(f"bars used are {dict(used)}")
    if found["bars"] != sum(n for bar, n in used.items() if not bar[1]):
        raise Wrong("the number of bars is not that of the plan")
    if found["cost"] is not None and Decimal(found["cost"]) != sum(prices[bar] * n for bar, n in used.items()):
        raise Wrong("the cost is not that of the plan")


def arc_flow(highspy, pieces, stocks, kerf):
    """The least cost of bars by a network: arcs are whole numbers, what enters a node leaves it."""
    step = gcd(*(length + kerf for length in pieces), *(length + kerf for length, _, _ in stocks))
    sizes = {(length + kerf) // step: count for length, count in pieces.items()}
    rooms = [((length + kerf) // step, price, limit) for length, price, limit in stocks]
    longest = max(room for room, _, _ in rooms)
    model = highspy.Highs()
    model.silent()
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)  # costs are whole
    model.setOptionValue("time_limit", 20.0)
    inf = highspy.kHighsInf
    columns = []  # (cost, most, {row: coefficient}); rows are nodes, then pieces
    row_of = {size: longest + 1 + i for i, size in enumerate(sorted(sizes, reverse=True))}
    reach = {0}
    for size in sorted(sizes, reverse=True):
        # Longer pieces stand first in a bar: an arc starts only where longer and equal ones end.
        for start in range(longest - size + 1):
            if start in reach:
                reach.add(start + size)
                columns.append((0, inf, {start: -1, start + size: 1, row_of[size]: 1}))
    for node in range(longest):
        columns.append((0, inf, {node: -1, node + 1: 1}))
    for room, price, limit in rooms:
        columns.append((price, limit or inf, {0: 1, room: -1}))
    for _ in range(longest + 1):
        model.addRow(0, 0, 0, [], [])
    for size in sorted(sizes, reverse=True):
        model.addRow(sizes[size], inf, 0, [], [])
    for i, (cost, most, rows) in enumerate(columns):
        model.addCol(cost, 0, most, len(rows), list(rows), list(map(float, rows.values())))
        model.changeColIntegrality(i, highspy.HighsVarType.kInteger)
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise Wrong(f"the other solver ends with {model.getModelStatus()}: {pieces} {stocks} {kerf}")
    return round(model.getInfo().objective_function_value)
