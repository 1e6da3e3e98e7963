"""`tankwright cut` on random short lists, against every way of cutting them."""
import json
import random
from collections import Counter
from functools import lru_cache

from program import Wrong

SEED, LISTS, PIECES = 20261127, 24, 8


def run(program, tally, folder):
    rng = random.Random(SEED)
    proved = 0
    for n in range(LISTS):
        pieces = [rng.choice((rng.randint(300, 5900), 25 * rng.randint(20, 200))) for _ in range(rng.randint(3, PIECES))]
        kerf = rng.choice((0, 3, 5))
        stocks = {12000: 1900, 6000: 1000} if n % 2 else {rng.choice((6000, 7300)): None}
        offcuts = {} if n % 3 else {rng.randint(800, 4000): rng.randint(1, 2) for _ in range(2)}
        path = folder / f"list-{n}.csv"
        path.write_text("length,count\n" + "".join(f"{size},1\n" for size in pieces), encoding="utf-8")
        words = [f"--kerf={kerf}mm"]
        words += [f"--stock={size}mm" + (f"={price}" if price else "") for size, price in stocks.items()]
        words += [f"--offcut={size}mm*{count}" for size, count in offcuts.items()]
        found = tally.check(f"cutting list {n}: {pieces} {words}", one, program, path, words, pieces, kerf, stocks, offcuts)
        proved += bool(found)
    print(f"  {LISTS} short lists cut in every way, {proved} proved least", flush=True)


def one(program, path, words, pieces, kerf, stocks, offcuts):
    plan = json.loads(program.need("cut", path, *words, "--format", "json"))["cutting"][0]
    prices = {size: price or 1 for size, price in stocks.items()}
    cut, spent, taken = Counter(), 0, Counter()
    for pattern in plan["patterns"]:
        sizes, bar = pattern["pieces_mm"], pattern["stock_mm"]
        if sum(sizes) + kerf * (len(sizes) - 1) > bar:
            raise Wrong(f"{sizes} do not go into {bar}")
        if pattern["offcut_mm"] != max(0, bar - sum(sizes) - kerf * len(sizes)):
            raise Wrong(f"{sizes} of {bar} leave {pattern['offcut_mm']}")
        for size in sizes:
            cut[size] += pattern["times"]
        if pattern["from_offcut"]:
            taken[bar] += pattern["times"]
        else:
            spent += prices[bar] * pattern["times"]
    if cut != Counter(pieces) or any(count > offcuts.get(size, 0) for size, count in taken.items()):
        raise Wrong(f"cut {cut}, offcuts {taken}")
    cost, bound = (int(plan["cost"]), float(plan["cost_bound"])) if len(stocks) > 1 else (plan["bars"], plan["bound"])
    least = cheapest(tuple(sorted(pieces, reverse=True)), kerf, prices, offcuts)
    if spent != cost or bound > least or cost < least or (plan["proved_least"] and cost != least):
        raise Wrong(f"costs {cost}, adds up to {spent}, bound {bound}, proved {plan['proved_least']}; least is {least}")
    if plan["proved_least"] is not (bound == cost):
        raise Wrong(f"proved least {plan['proved_least']}: {cost}, bound {bound}")
    return plan["proved_least"]


def cheapest(pieces, kerf, prices, offcuts):
    """The least cost, by trying for the longest piece left every set of others beside it, from every bar."""
    need = [0] * (1 << len(pieces))
    for mask in range(1, len(need)):
        low = (mask & -mask).bit_length() - 1
        need[mask] = need[mask & (mask - 1)] + pieces[low] + kerf
    ends, counts = tuple(sorted(offcuts)), tuple(offcuts[size] for size in sorted(offcuts))

    @lru_cache(maxsize=None)
    def cost(mask, left):
        if not mask:
            return 0
        first, best = mask & -mask, float("inf")
        rest = others = mask ^ first
        while True:
            together = need[others | first] - kerf  # no cut is lost after the last piece
            kept = rest ^ others
            for size, price in prices.items():
                if together <= size:
                    best = min(best, price + cost(kept, left))
            for n, size in enumerate(ends):
                if left[n] and together <= size:
                    best = min(best, cost(kept, left[:n] + (left[n] - 1,) + left[n + 1:]))
            if not others:
                return best
            others = (others - 1) & rest

    return cost((1 << len(pieces)) - 1, counts)
