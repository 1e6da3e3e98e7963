"""Any one length of random jobs changed: the workbook follows the program, or says that it cannot."""
import copy
import random
import re
from collections import defaultdict

from changed import OK, verdict
from measured import SEED
from program import Wrong
from random_jobs import problems, random_job, to_toml
from recalc import recalculate_all
from workbook import Book, near

COUNT = 20
STEPS = (-50, -20, -10, -5, -1, 1, 5, 10, 20, 50, 100)  # mm
FIRST_ROW = 4
INPUT, VALUE, UNIT, NAME = "ABCE"


def run(program, tally, room, office):
    rng, cases = random.Random(SEED + 2), []
    while len(cases) < COUNT:
        cases += drawn(program, rng, room / str(rng.getrandbits(60)))
    asked = [(book.path, [f"{name}={mm / 1000}"], True) for book, name, mm, _ in cases]
    results = tally.check("LibreOffice recalculates", recalculate_all, asked, office) or []
    followed = sum(tally.check(f"{name} = {mm} mm, {book.path.stem}", follows, book, cells, bill) or 0
                   for (book, name, mm, bill), cells in zip(cases, results))
    tally.check("most changes are within the structure", most, followed)
    print(f"  {COUNT} changes, {followed} followed, the others announced", flush=True)


def most(followed):
    if followed * 2 < COUNT:
        raise Wrong(f"{followed} of {COUNT}")


def drawn(program, rng, room):
    """One case, or none where the program refuses a job or has no price for a new thickness."""
    room.mkdir()
    job = random_job(rng)
    job["job"]["profile"] = rng.choice(("exact", "east-africa"))
    path, other = room / "before.toml", room / "after.toml"
    path.write_text(to_toml(job), encoding="utf-8")
    if program.run("bill", path)[0] in (3, 4):
        return []
    book = Book(program.workbook(path, room / "out"))
    lengths = list(inputs(book, dict(leaves(job))))
    for keys, name, mm in rng.sample(lengths, len(lengths)):
        now = mm + rng.choice(STEPS)
        changed = copy.deepcopy(job)
        in_job(changed, keys)[keys[-1]] = now
        if now * mm <= 0 or problems(changed):  # 0 and the sign are structure
            continue
        other.write_text(to_toml(changed), encoding="utf-8")
        if program.run("bill", other)[0] in (3, 4):
            continue
        return [(book, name, now, program.json("bill", other))]
    return []


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


def alike(ours, theirs):
    """The same quantities; the rows of a work stand in the order of their sizes' names, which a change may alter."""
    return len(ours) == len(theirs) and all(map(near, sorted(ours), sorted(theirs)))


def follows(book, cells, bill):
    """Where the Summary says that the structure holds, rows and quantities are the program's."""
    if verdict(book, cells) != OK:
        return 0
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
    return 1
