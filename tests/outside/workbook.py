"""Workbooks: recalculated in LibreOffice, every formula gives the result that the program stored."""
import re
from itertools import islice

import openpyxl
from openpyxl.utils import rows_from_range

from measured import PROFILES, SEED, random_files
from program import SAMPLES, Wrong, sample
from recalc import recalculate_all, values

RANDOM = 50
NEAR = 1e-9
ERROR = re.compile(r"#(N/A|NAME\?|VALUE!|REF!|DIV/0!|NUM!|NULL!)|Err:\d+")
NUMBER = re.compile(r"[-+]?[\d  ,.]*\d[\d  ,.]*%?")
# Heads of columns that hold numbers, and nothing else that reads as one.
NUMBER_HEADS = re.compile(r"Value|Times|Length, m|Breadth, m|Depth, m|Quantity|Rate, \w+|Amount, \w+|Size")
HEAD_ROW = 3
POISON = 777
INPUT = "FFFFF6D0"  # the colour of cells for the user
CODES = "Shape"  # 00 is a shape of a bar, not a number


class Book:
    """A workbook as stored: formulas, results and formats."""

    def __init__(self, path):
        self.path, self.results = path, values(path)
        self.formulas, self.formats, self.pages = {}, {}, {}
        for sheet in openpyxl.load_workbook(path).worksheets:
            self.pages[sheet.title] = sheet
            for cell in (c for row in sheet.iter_rows() for c in row if c.value is not None):
                key = sheet.title, cell.coordinate
                self.formats[key] = cell.number_format
                if cell.data_type == "f":
                    self.formulas[key] = cell.value

    def stored(self, key):
        return self.results[key[0]].get(key[1])


def run(program, tally, room, office):
    """Samples, each written twice, and random jobs: the bytes are the same, and the recalculated results are."""
    jobs = [(name, sample(name), ()) for name in SAMPLES]
    drawn = random_files(room / "jobs", 3 * RANDOM, SEED + 1)  # some are refused, some have no price for their walls
    own = [("--profile", PROFILES[n % 2]) for n in range(len(drawn))]
    priced = ((path.stem, path, more) for path, more in zip(drawn, own)
              if program.run("bill", path, *more)[0] not in (3, 4))
    jobs += islice(priced, RANDOM)
    books = []
    for name, job, more in jobs:
        kind, write = ("estimate twice gives the same bytes", twice) if name in SAMPLES else ("estimate", once)
        book = tally.check(f"{name}: {kind}", write, program, job, room / "out" / name, more)
        if book:
            books.append((name, book))
    recalculated = tally.check("LibreOffice recalculates", recalculate_all,
                               [(book.path, (), True) for _, book in books], office) or []
    tally.check("workbooks", enough, books)
    count = 0
    for (name, book), cells in zip(books, recalculated):
        count += tally.check(f"{name}: recalculated = stored", same, book, cells) or 0
        tally.check(f"{name}: numbers are numbers", clean, book)
        tally.check(f"{name}: what may be changed is open and coloured", free, book)
    print(f"  {len(books)} workbooks, {count} formulas", flush=True)
    if books:
        tally.check("a poisoned result is seen", poisoned, books[0][1])


def enough(books):
    if len(books) != len(SAMPLES) + RANDOM:
        raise Wrong(f"{len(books)} workbooks")


def once(program, job, room, more):
    return Book(program.workbook(job, room, *more))


def twice(program, job, room, more):
    first, second = (program.workbook(job, room / n, *more) for n in ("first", "second"))
    if first.read_bytes() != second.read_bytes():
        raise Wrong("two runs, two files")
    return Book(first)


def same(book, cells):
    """Every formula's recalculated value is the stored one; the number of formulas."""
    wrong = [f"{key[0]}!{key[1]}: {cells[key[0]].get(key[1])!r} recalculated, {book.stored(key)!r} stored: {text}"
             for key, text in book.formulas.items() if not near(cells[key[0]].get(key[1]), book.stored(key))]
    if wrong or not book.formulas:
        raise Wrong("\n  ".join([f"{len(wrong)} of {len(book.formulas)} formulas", *wrong[:8]]))
    if set(cells) != set(book.results):
        raise Wrong(f"pages {sorted(cells)}")
    return len(book.formulas)


def near(a, b):
    """Numbers to 1e-9 of their size; texts and truths exactly. An error is near nothing.

    LibreOffice writes a truth as 1 or 0 where the copy's cell was spoiled with a number.
    """
    if isinstance(b, bool):
        return a in (0, 1) and bool(a) == b
    numbers = [isinstance(v, (int, float)) and not isinstance(v, bool) for v in (a, b)]
    if all(numbers):
        return abs(a - b) <= NEAR * max(abs(a), abs(b))
    return type(a) is type(b) and a == b and not ERROR.fullmatch(str(a))


def clean(book):
    """No errors, no number kept as text, nothing but numbers under a head that promises them."""
    wrong = []
    for page, sheet in book.pages.items():
        heads = {c.column: bool(NUMBER_HEADS.fullmatch(str(c.value))) for c in sheet[HEAD_ROW]}
        codes = {c.column for c in sheet[HEAD_ROW] if c.value == CODES}
        for row in sheet.iter_rows(min_row=HEAD_ROW + 1):
            for cell in row:
                value = book.stored((page, cell.coordinate))
                if not isinstance(value, str) or cell.column in codes:
                    continue
                if ERROR.search(value):
                    wrong.append(f"{page}!{cell.coordinate}: {value}")
                elif NUMBER.fullmatch(value):
                    wrong.append(f"{page}!{cell.coordinate}: {value!r} is text")
                elif heads.get(cell.column) and cell.font.b is not True:
                    wrong.append(f"{page}!{cell.coordinate}: {value!r} in a column of numbers")
    if wrong:
        raise Wrong("\n  ".join(wrong[:8]))


def free(book):
    """Cells that are not locked are those with the colour of inputs, and each says what may stand in it."""
    found = 0
    for page, sheet in book.pages.items():
        cells = [cell for row in sheet.iter_rows() for cell in row]
        loose = {cell.coordinate for cell in cells if not cell.protection.locked}
        coloured = {cell.coordinate for cell in cells if cell.fill.fgColor.rgb == INPUT}
        rules = sheet.data_validations.dataValidation
        ruled = {cell for rule in rules for cells in str(rule.sqref).split() for cell in spread(cells)}
        if loose != coloured or loose - ruled:
            raise Wrong(f"{page}: {sorted((loose ^ coloured) | (loose - ruled))[:8]}")
        found += len(loose)
    if not found:
        raise Wrong("nothing may be changed")


def spread(cells):
    """Cells of `B4` or `B4:B9`."""
    first = cells.split(":")[0]
    rows = rows_from_range(f"{first}:{cells.split(':')[-1]}")
    return [cell for row in rows for cell in row]


def poisoned(book):
    """The check of results can fail: a copy whose results were spoiled and not recalculated does not pass."""
    spoiled = {page: {cell: POISON if (page, cell) in book.formulas else value for cell, value in cells.items()}
               for page, cells in book.results.items()}
    try:
        same(book, spoiled)
    except Wrong:
        return
    raise Wrong("spoiled results passed")
