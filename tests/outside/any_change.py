"""Ten random inputs changed at once in the workbooks of random jobs: what the program gives for the changed jobs.

Where the changed job has the same formulas in the same cells, every formula's result is compared; where it has others,
the Summary must say that the change alters the lines, or the bill must still be the program's.
"""
import copy
import random
import re
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor

import goods
from changed import OK, verdict
from measured import SEED
from program import Wrong
from random_jobs import problems, random_job, to_toml
from recalc import recalculate_all
from workbook import Book, near

COUNT = 50
TEN = 10
TRIES = 2  # sets of ten for a job, until the program keeps its lines
STEPS = (-10, -5, -2, -1, 1, 2, 5, 10)  # mm
FIRST_ROW = 4
INPUT, VALUE, UNIT, NAME = "ABCE"


def run(program, tally, room, office):
    rng, cases = random.Random(SEED + 2), []
    room.mkdir(exist_ok=True)
    with ThreadPoolExecutor(2) as pool:
        while len(cases) < COUNT:
            seeds = [rng.getrandbits(60) for _ in range(4)]
            cases += [c for c in pool.map(lambda seed: drawn(program, seed, room / str(seed)), seeds) if c]
    cases = cases[:COUNT]
    asked = [(c.book.path, [f"{name}={mm / 1000}" for name, mm in c.cells.items()], True) for c in cases]
    results = tally.check("LibreOffice recalculates", recalculate_all, asked, office) or []
    figures = [tally.check(f"{c.book.path.stem}: {c.cells}", c.follows, cells) or 0 for c, cells in zip(cases, results)]
    tally.check("most changes are within the structure", most, figures)
    followed = sum(1 for f in figures if f)
    print(f"  {COUNT} jobs, {sum(len(c.cells) for c in cases)} cells changed, {followed} followed in "
          f"{sum(figures)} figures, the others announced", flush=True)


def most(figures):
    if sum(1 for f in figures if f) * 2 < COUNT:
        raise Wrong(f"{figures}")


class Case:
    """A workbook, what is changed in it, and what the program makes of the changed job."""

    def __init__(self, book, cells, other, job, program):
        self.book, self.cells, self.other, self.job, self.program = book, cells, other, job, program
        self.same = book.formulas == other.formulas

    def follows(self, cells):
        """The number of figures that follow; 0 where the Summary says that they do not."""
        if verdict(self.book, cells) == OK:
            bill = the_bill(cells, self.program.json("bill", self.job))
            return bill + (every_figure(self.book, cells, self.other) if layout(self.book) == layout(self.other) else 0)
        if self.same:
            raise Wrong(f"the lines are the same, the Summary says {verdict(self.book, cells)!r}")
        return 0


def drawn(program, seed, room):
    """One case; none where the program refuses the job or every set of changes."""
    rng = random.Random(seed)
    room.mkdir()
    job = random_job(rng)
    job["job"]["profile"] = rng.choice(("exact", "east-africa"))
    path = room / "before.toml"
    path.write_text(to_toml(job), encoding="utf-8")
    book, last = written(program, path), None
    if book is None:
        return None
    lengths = list(inputs(book, dict(leaves(job))))
    for number in range(TRIES):
        changed, cells = ten(rng, job, lengths)
        other = room / f"after-{number}" / "before.toml"  # the papers name the file
        other.parent.mkdir()
        other.write_text(to_toml(changed), encoding="utf-8")
        after = written(program, other) if cells else None
        if after is None:
            continue
        last = Case(book, cells, after, other, program)
        if last.same:
            break
    return last


def written(program, path):
    """The workbook of a job; none where the program refuses it or has no price for a new thickness."""
    folder = path.parent / "out"
    code, _, err = program.run("estimate", path, "--out", folder)
    if code in (3, 4):
        return None
    if code:
        raise Wrong(f"estimate {path}: exit {code}\n{err}")
    return Book(next(folder.glob("*.xlsx")))


def ten(rng, job, lengths):
    """The job with ten lengths changed, as far as it has so many that may be."""
    cells = {}
    for keys, name, mm in rng.sample(lengths, len(lengths)):
        now = mm + rng.choice(STEPS)
        tried = copy.deepcopy(job)
        in_job(tried, keys)[keys[-1]] = now
        if now * mm > 0 and not problems(tried):  # 0 and the sign are structure
            job, cells[name] = tried, now
        if len(cells) == TEN:
            break
    return job, cells


def leaves(part, keys=()):
    """Every value of a job file: its name on the Inputs page, and its keys."""
    for key, value in part.items() if isinstance(part, dict) else enumerate(part):
        if isinstance(value, (dict, list)):
            yield from leaves(value, (*keys, key))
        else:
            yield "in_" + "_".join(map(str, (*keys, key))), (*keys, key)


def inputs(book, given):
    """Keys, name and whole millimetres of every length on the Inputs page that is not 0 and that the job gives."""
    page, row = book.results["Inputs"], FIRST_ROW
    while f"{INPUT}{row}" in page:
        mm = round(page[f"{VALUE}{row}"] * 1000)
        name = page[f"{NAME}{row}"]
        if page.get(f"{UNIT}{row}") == "m" and mm and name in given:
            yield given[name], name, mm
        row += 1


def in_job(job, keys):
    """The table or list that holds the last key."""
    here = job
    for key in keys[:-1]:
        here = here[key]
    return here


def layout(book):
    """What stands where: the words of bill and dimension sheets."""
    return {(page, cell): text for page in ("Bill", "Dimensions", "Materials", "Orders", "Bars")
            for cell, text in book.results.get(page, {}).items() if cell[0] == "A" and isinstance(text, str)}


def every_figure(book, cells, other):
    """Every formula that the changed job's workbook has too: its recalculated result is what the changed job's own workbook stores; how many there are."""
    left = goods.left_out(cells)
    # Where some orders do not follow, what is added up from them does not either.
    stale = any(left(("Orders", cell)) for cell in cells.get("Orders", {}))
    stored = [key for key, text in book.formulas.items() if other.formulas.get(key) == text and not left(key)
              and not (stale and key[0] in ("By stage", "Cutting"))]
    wrong = [f"{page}!{cell}: {cells[page].get(cell)!r} recalculated, {other.stored((page, cell))!r} of the changed job: "
             f"{book.formulas[page, cell]}"
             for page, cell in stored if not near(cells[page].get(cell), other.stored((page, cell)))]
    if wrong or not stored:
        raise Wrong("\n  ".join([f"{len(wrong)} of {len(stored)}", *wrong[:8]]))
    return len(stored)


def alike(ours, theirs):
    """The same quantities; the rows of a work stand in the order of their sizes' names, which a change may alter."""
    return len(ours) == len(theirs) and all(map(near, sorted(ours), sorted(theirs)))


def the_bill(cells, bill):
    """Rows and quantities are the program's; how many there are."""
    page = cells["Bill"]
    ours, theirs = defaultdict(list), defaultdict(list)
    for cell, text in page.items():
        if cell[0] == "A" and re.fullmatch(r"[A-Z]\d+", str(text)):
            ours[page[f"G{cell[1:]}"].split("/")[0]].append(page[f"D{cell[1:]}"])
    for section in bill["sections"]:
        for row in section["rows"]:
            theirs[row["work"]].append(float(row["quantity"]))
    wrong = [f"{work}: {ours[work]} recalculated, {theirs[work]} of the program"
             for work in sorted(set(ours) | set(theirs)) if not alike(ours[work], theirs[work])]
    if wrong:
        raise Wrong("\n  ".join(wrong[:8]))
    return sum(map(len, theirs.values()))
