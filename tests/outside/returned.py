"""A bill to be priced: filled in by openpyxl, worked out by LibreOffice, read by the program: our own bill again.

What is locked, hidden and free in the file is looked at too, and a slip put into a recalculated copy must be named.
"""
from decimal import Decimal

import openpyxl

from program import SAMPLES, Wrong, sample
from recalc import recalculate_all

SHEET = "Bill to price"
MARKS, RATE, AMOUNT, FIRST = 8, 5, 6, 4  # columns from 1: marks, rates, amounts; the first row under the heads
MARK = "tw:"


def run(program, tally, room, office):
    """Each sample: the form, its copy with our rates, recalculated and read."""
    room.mkdir(parents=True, exist_ok=True)
    made = {}
    for name in SAMPLES:
        copy = tally.check(f"{name}: the form is filled in", fill, program, name, room)
        if copy:
            made[name] = copy
    cells = tally.check("LibreOffice works the copies out", recalculate_all,
                        [(copy, (), True) for copy in made.values()], office) or []
    for (name, copy), values in zip(made.items(), cells):
        tally.check(f"{name}: the copy is our own bill", read, program, name, copy, values[SHEET], room)
    print(f"  {len(made)} forms", flush=True)


def fill(program, name, room):
    """The form with our rates in its free cells."""
    bill = program.json("bill", sample(name))
    rates = {f"row/{r['work']}/{r['spec']}": r["rate"] for s in bill["sections"] for r in s["rows"]}
    for letter, key in (("P", "preliminaries"), ("Q", "provisional")):
        # Rows of these are known by their reference. Of profit and attendance the bill keeps the percentage as a quantity.
        rates |= {f"{letter}{n}": r["quantity"] if r.get("unit") == "%" else r.get("rate") or r["amount"]
                  for n, r in enumerate(bill.get(key, []), 1)}
    rates |= {f"X/{n}": a["percent"] or a["amount"] for n, a in enumerate(bill["additions"], 1)}
    form = room / f"{name}.xlsx"
    program.need("bill", sample(name), "--to-price", form)
    book = openpyxl.load_workbook(form)
    sheet = book[SHEET]
    if not sheet.protection.sheet or not sheet.column_dimensions["H"].hidden:
        raise Wrong("the sheet is not locked, or the marks are not hidden")
    free = [c for row in sheet.iter_rows() for c in row if not c.protection.locked]
    if any(c.value is not None for c in free) or not free:
        raise Wrong("a free cell that is not empty, or none")
    checked = {str(ranges) for v in sheet.data_validations.dataValidation for ranges in v.sqref.ranges
               if v.type == "decimal" and v.operator == "greaterThanOrEqual" and float(v.formula1) == 0}
    left = 0
    for row in sheet.iter_rows(min_row=FIRST):
        mark = str(row[MARKS - 1].value or "").removeprefix(MARK)
        mark = row[0].value if mark.startswith(("P/", "Q/")) else mark
        cell = row[RATE - 1]
        if mark not in rates or cell.protection.locked:
            continue
        if cell.coordinate not in checked:
            raise Wrong(f"{cell.coordinate} takes anything")
        cell.value = float(rates[mark])
        left += 1
    if not left:
        raise Wrong("nothing was filled in")
    copy = room / f"{name}-copy.xlsx"
    book.save(copy)
    return copy


def read(program, name, copy, cells, room):
    """The recalculated values in the file, read by the program."""
    book = openpyxl.load_workbook(copy)
    sheet = book[SHEET]
    for row in sheet.iter_rows():
        for cell in row:
            if cell.data_type == "f":
                cell.value = cells.get(cell.coordinate)
    done = room / f"{name}-done.xlsx"
    book.save(done)
    found = program.json("returned", sample(name), done)
    bidder, bill = found["bidders"][0], program.json("bill", sample(name))
    say = sum(Decimal(a["amount"]) for a in bill["additions"] if a["title"] == "Rounding of the offer")
    ours = Decimal(bill["total"]) - say
    if bidder["findings"] or bidder["open"] or bidder["added"] or bidder["words"]:
        raise Wrong(f"found {bidder}")
    if not Decimal(bidder["printed"]) == Decimal(bidder["corrected"]) == Decimal(found["ours"]) == ours:
        raise Wrong(f"{bidder['printed']} printed, {bidder['corrected']} corrected, ours {found['ours']}, bill {ours}")
    for cell in (c for row in sheet.iter_rows(min_row=FIRST) for c in row if c.column == AMOUNT):
        if str(sheet.cell(cell.row, MARKS).value).startswith(f"{MARK}row/"):
            cell.value += 5
            break
    book.save(done)
    slips = [(f["what"], f["ref"], f["difference"]) for f in program.json("returned", sample(name), done)["bidders"][0]["findings"]]
    if slips != [("extension", "A1", "5")]:
        raise Wrong(f"a slip of 5 in A1, found {slips}")
