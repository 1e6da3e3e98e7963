"""No text of the user's becomes a formula, in any CSV or workbook that the program writes."""
import csv
import io
import re

from program import ROOT, Wrong, sample
from recalc import recalculate_all
from workbook import Book

MARK = "HOSTILE"
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
# How a text could begin; a tab and an end of line must be written as such in TOML.
BEGINNINGS = {"=": "=", "+": "+", "-": "-", "@": "@", "tab": r"\t", "end of line": r"\r", "wide =": "\uff1d"}
# A number, a product as it stands on a dimension sheet, a fraction.
FIGURE = re.compile(r"-?[0-9]+(\.[0-9]+)?( x -?[0-9.]+)*|-?[0-9]+/[0-9]+")
# Verbs with CSV, and what they need besides the job.
VERBS = {
    "takeoff": (), "takeoff against": ("--against", "exact"), "bill": (), "materials": (), "orders": (), "bars": (),
    "payments": (), "size": (), "crosscheck": ("LIST",),
}


def run(program, tally, room, office):
    seen, books = 0, []
    for number, (name, beginning) in enumerate(BEGINNINGS.items()):
        folder = room / str(number)
        job, prices, own = tally.check(f"{name}: a job", hostile, folder, beginning)
        for verb, more in VERBS.items():
            words = [own if word == "LIST" else word for word in more]
            seen += tally.check(f"{name}: {verb}", table, program, verb.split()[0], job, prices, words) or 0
        seen += tally.check(f"{name}: form to price", form, program, job, folder / "form.csv") or 0
        for made in (workbook, form_book):
            books += [(f"{name}: {made.__name__}", made(program, job, prices, folder))]
    results = tally.check("LibreOffice reads", recalculate_all, [(b.path, (), True) for _, b in books], office) or []
    for (name, stored), read in zip(books, results):
        seen += tally.check(name, texts, stored, read) or 0
    tally.check("hostile texts were written", many, seen)
    print(f"  {seen} hostile cells", flush=True)


def many(seen):
    if seen < 20 * len(BEGINNINGS):
        raise Wrong(f"{seen} only")


def hostile(folder, beginning):
    """The sample with hostile titles, units and notes; its price list with hostile words; a second take-off."""
    folder.mkdir(parents=True)
    text = (ROOT / sample("rest-house")).read_text(encoding="utf-8")
    formula = f"{beginning}{MARK}(A1)"

    def put(pattern, what):
        nonlocal text
        text, times = re.subn(pattern, lambda m: m[1] + f'"{what}"', text, count=1, flags=re.M)
        if not times:
            raise Wrong(f"no {pattern} in the sample")

    put(r'^(title = )".*?"', formula)
    put(r'(\[\[preliminaries\]\].*\ntitle = )".*?"', formula + " preliminary")
    put(r'(\[\[provisional\]\].*\ntitle = )".*?"', formula + " provisional")
    put(r'(\[\[provisional\]\].*\ntitle = .*\nunit = )".*?"', formula + " unit")
    job, prices, own = folder / "job.toml", folder / "prices.csv", folder / "own.csv"
    job.write_text(text, encoding="utf-8")
    # A price list may not hold a tab or an end of line in a cell (R014).
    raw = "=" + formula if "\\" in formula else formula
    listed = re.search(r'\nrates = "(.*?)"', text)[1]
    with open(ROOT / "rates" / "prices" / f"{listed}.csv", encoding="utf-8", newline="") as old:
        rows = list(csv.DictReader(old))
    with open(prices, "w", encoding="utf-8", newline="") as new:
        writer = csv.DictWriter(new, rows[0])
        writer.writeheader()
        writer.writerows({**row, "description": raw, "source": raw} for row in rows)
    with open(own, "w", encoding="utf-8", newline="") as new:
        writer = csv.writer(new)
        writer.writerows([("description", "unit", "quantity", "rate", "amount"),
                          ("Brick wall", "m2", "10", "1", "10"), (raw, raw, raw, raw, raw), (raw, "m3", "3", "", "")])
    return job, prices, own


def table(program, verb, job, prices, more):
    """The cells that hold a hostile text, each harmless."""
    words = [verb, job, *more] if verb == "size" else [verb, job, *more, "--rates", prices]
    code, out, err = program.run(*words, "--format", "csv")
    if code and "--rates" in err:
        code, out, err = program.run(verb, job, *more, "--format", "csv")
    if code:
        raise Wrong(f"exit {code}: {err}")
    return harmless(out)


def harmless(text):
    """How many cells hold a hostile text; none may begin as a formula."""
    cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
    bad = [cell for cell in cells if cell.startswith(STARTS) and not FIGURE.fullmatch(cell)]
    if bad or not cells:
        raise Wrong(f"{len(bad)} of {len(cells)} cells: {bad[:4]}")
    return sum(MARK in cell for cell in cells)


def workbook(program, job, prices, folder):
    return Book(program.workbook(job, folder / "out", "--rates", prices))


def form_book(program, job, _, folder):
    program.need("bill", job, "--to-price", folder / "form.xlsx")
    return Book(folder / "form.xlsx")


def form(program, job, path):
    """The form as CSV."""
    program.need("bill", job, "--to-price", path)
    return harmless(path.read_text(encoding="utf-8"))


def texts(stored, read):
    """Texts stay texts in the file, and as LibreOffice reads it."""
    wrong = [f"{key}: {text}" for key, text in stored.formulas.items() if MARK in text]
    written = {(page, cell): value for page, cells in stored.results.items() for cell, value in cells.items()
               if isinstance(value, str) and MARK in value}
    wrong += [f"{key}: {read[key[0]].get(key[1])!r} read, {value!r} written" for key, value in written.items()
              if str(read[key[0]].get(key[1])).split() != value.split()]
    if wrong or not written:
        raise Wrong("\n  ".join(wrong[:8]))
    return len(written)
