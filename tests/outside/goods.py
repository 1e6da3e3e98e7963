"""Materials, orders and bars of a changed workbook, against the workbook and the JSON of the changed job."""
import re

from program import Wrong

PAGES = ("Materials", "Orders", "Bars")
STORED = "of the stored job"
STALE = "no: for the bars to buy"
FIRST_ROW = 4
# Money that is added up over all goods, and bars by the cutting plan.
SUMMARY = {"bars": r"Bars to buy", "cost": r"Materials as ordered, \w+"}


def blocks(page):
    """Rows of each part of a page: (first, last), by the text at its head. A free row ends a part."""
    rows = sorted({int(re.sub(r"\D", "", cell)) for cell in page})
    parts, head, last = {}, None, None
    for row in (r for r in rows if r >= FIRST_ROW):
        if last is None or row > last + 1:
            head = row
            parts[page.get(f"A{row}")] = (row, row)
        parts[page.get(f"A{head}")] = (head, row)
        last = row
    return parts


def left_out(cells):
    """Cells that do not follow, each for a reason that the workbook itself gives: {(page, cell)} as a test."""
    out = []  # (page, first row, last row)
    materials, orders = cells.get("Materials", {}), cells.get("Orders", {})
    of_orders, moved = blocks(orders), False
    for head, (first, last) in blocks(materials).items():
        stored = any(STORED in str(materials.get(f"A{row}", "")) for row in range(first, last + 1))
        if stored:
            out.append(("Materials", first, last))
            if head in of_orders:
                out.append(("Orders", *of_orders[head]))
                moved = True
    stale = any(str(value).startswith(STALE) for value in orders.values())
    if stale:
        for head, rows in of_orders.items():
            if str(head).startswith("bar "):
                out.append(("Orders", *rows))
                moved = True
    if moved:
        out += [("Orders", row, row) for row in (of_orders.get("All orders") or ())]
    for cell, text in cells["Summary"].items():
        bars = re.fullmatch(SUMMARY["bars"], str(text)) and stale
        if bars or (moved and re.fullmatch(SUMMARY["cost"], str(text))):
            row = int(cell[1:])
            out.append(("Summary", row, row))

    def left(key):
        row = int(re.sub(r"\D", "", key[1]))
        return any(key[0] == page and first <= row <= last for page, first, last in out)

    return left


def against_json(cells, materials, orders):
    """Gross amounts and orders as the program's own JSON has them for the changed job."""
    page = cells.get("Materials", {})
    ids = {head: page.get(f"I{rows[0]}") for head, rows in blocks(page).items()}
    left, wrong, seen = left_out(cells), [], 0
    gross = {}
    for row in materials["rows"]:
        gross[row["material"]] = gross.get(row["material"], 0) + float(row["gross"])
    for head, (first, _) in blocks(page).items():
        if ids[head] in gross and not left(("Materials", f"G{first}")):
            seen += 1
            wrong += different(page.get(f"G{first}"), gross[ids[head]], f"{ids[head]}, with waste")
    page = cells.get("Orders", {})
    lines = {(line["material"], stage["title"]): line for stage in orders["stages"] for line in stage["lines"]}
    for head, (first, last) in blocks(page).items():
        for row in range(first + 1, last + 1):
            line = lines.get((ids.get(head), page.get(f"A{row}")))
            if line is None or left(("Orders", f"A{row}")):
                continue
            for column, field in (("B", "opening"), ("C", "packs"), ("D", "ordered"), ("E", "used"), ("G", "closing")):
                seen += 1
                what = f"{ids[head]}, {page[f'A{row}']}, {field}"
                wrong += different(page.get(f"{column}{row}", 0), float(line[field]), what)
    if not seen and materials["rows"]:
        raise Wrong("no figure of materials or orders was compared")
    return wrong


def different(ours, theirs, what):
    """In words, where two figures differ by more than binary reckoning does."""
    if isinstance(ours, (int, float)) and abs(ours - theirs) <= 1e-6:
        return []
    return [f"{what}: {ours!r} recalculated, {theirs} of the program"]
