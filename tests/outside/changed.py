"""Inputs and rates changed in the workbook: the recalculated bill is what the program gives for the changed job."""
import re
from decimal import Decimal

import goods
from program import ROOT, Wrong, sample
from recalc import recalculate_all
from workbook import Book, near

OK = "OK"


class Change:
    """One wish, three times: in named cells, in the job file's text, in the price list's text."""

    def __init__(self, what, cells, job=(), prices=(), alone=False, unpriced=False):
        self.what, self.cells, self.job, self.prices, self.alone = what, cells, job, prices, alone
        self.unpriced = unpriced  # the price list has no rate for the changed pack


def line(key, old, new):
    """A line of a job file, from its key to its value."""
    return f'\n{key} = "{old}"', f'\n{key} = "{new}"'


WITHIN = {
    "rest-house": [
        Change("chamber 2.00 to 2.12 m", {"in_tank_chambers_0": "2.12"}, [('["2.00 m", "1.00 m"]', '["2.12 m", "1.00 m"]')]),
        Change("width 1.50 to 1.57 m", {"in_tank_width": "1.57"}, [line("width", "1.50 m", "1.57 m")]),
        # The columns go with the wall, or their sides would no longer be flush; the price is that of the new wall.
        Change("walls 220 to 221 mm", {"in_tank_walls_thickness": "0.221", "in_tank_columns_size_0": "0.221",
                                       "in_tank_columns_size_1": "0.221", "rate_E1": "56000"},
               [line("thickness", "220 mm", "221 mm"), ('["220 mm", "220 mm"]', '["221 mm", "221 mm"]')],
               prices=[("brickwork-wall/215,Wall 215 mm thick in cement mortar,m2,", "brickwork-wall/221,Wall 221 mm thick in cement mortar,m2,")]),
        Change("bars of the base at 180 mm", {"in_steel_base_short_spacing": "0.18"},
               [('base = { short = "Y10@200"', 'base = { short = "Y10@180"')]),
        Change("waste of bricks 5 to 7 %", {"waste_bricks_brick_220x105x65": "7"}, [line("bricks", "5", "7")]),
        Change("bags of 42.5 kg", {"pack_cement": "42.5", "rate_cement": "0"}, [line("cement", "50 kg", "42.5 kg")],
               unpriced=True, alone=True),
        # Priced by the m3: a smaller lot costs less.
        Change("lots of 0.4 m3", {"pack_aggregate_20": "0.4", "rate_aggregate_20": "36000"},
               [line("cement", "50 kg", '50 kg"\naggregate-20 = "0.4 m3')]),
        Change("tolerance 0.05 to 0.2", {"pack_tolerance": "0.2"}, [line("tolerance", "0.05", "0.2")]),
        Change("two bags in hand", {"in_orders_reserve_bags_cover": "2"}, [("{ cover = 1 }", "{ cover = 2 }")]),
        # What is ordered follows what stands under the cover at once, not the share that is worn off.
        Change("2 props to a square metre, of 5 uses", {"recipe_props_under_1_m2_of_soffit": "2",
                                                         "recipe_over_uses_of_the_props": "0.2"},
               [("\n[orders]", '\n[materials.figures]\nprops-soffit = "2"\nuses-props = "5"\n\n[orders]')], alone=True),
        Change("cover 125 to 135 mm", {"in_tank_cover_thickness": "0.135"}, [line("thickness", "125 mm", "135 mm")]),
        Change("more strips of hoop iron", {"in_tank_height": "1.83", "in_tank_partitions_opening_below_top": "0.93"},
               [line("height", "1.60 m", "1.83 m"), ('below_top = "700 mm"', 'below_top = "930 mm"')], alone=True),
        # The opening stays level with the ring beam: it is measured from the top.
        Change("height 1.60 to 1.66 m", {"in_tank_height": "1.66", "in_tank_partitions_opening_below_top": "0.76"},
               [line("height", "1.60 m", "1.66 m"), ('below_top = "700 mm"', 'below_top = "760 mm"')]),
        Change("base 400000 to 412345", {"rate_B3": "412345"}, prices=[
            ("concrete-base/1:2:4,Concrete base 1:2:4,m3,400000,", "concrete-base/1:2:4,Concrete base 1:2:4,m3,412345,")]),
    ],
    "clinic": [
        Change("width 2.00 to 2.02 m", {"in_tank_width": "2.02"}, [line("width", "2.00 m", "2.02 m")]),
        Change("cover 150 to 165 mm", {"in_tank_cover_thickness": "0.165"},
               [('cover]\nthickness = "150 mm"', 'cover]\nthickness = "165 mm"')]),
        Change("working space 450 to 475 mm", {"in_tank_pit_working_space": "0.475"},
               [line("working_space", "450 mm", "475 mm")]),
        Change("height 1.90 to 1.92 m", {"in_tank_height": "1.92", "in_tank_partitions_opening_below_top": "0.82"},
               [line("height", "1.90 m", "1.92 m"), ('below_top = "800 mm"', 'below_top = "820 mm"')]),
        Change("base 14300.00 to 14357.25", {"rate_B2": "14357.25"}, prices=[
            ("concrete-base/1:2:4,Concrete base 1:2:4,m3,14300.00,", "concrete-base/1:2:4,Concrete base 1:2:4,m3,14357.25,")]),
    ],
    "guest-house": [
        # The bottom of the trenches follows the pipe from the tank: 10 mm deeper.
        Change("pipe to the trenches 8 to 9 m", {"in_tank_pipes_outlet_length": "9"},
               [('length = "8 m", fall = "1 in 100"', 'length = "9 m", fall = "1 in 100"')]),
        Change("its fall 1 in 100 to 1 in 80", {"in_tank_pipes_outlet_fall": "0.0125"},
               [('fall = "1 in 100"', 'fall = "1 in 80"')]),
        Change("trenches 21 to 22.5 m", {"in_drain_0_length": "22.5"}, [line("length", "21 m", "22.5 m")]),
        Change("300 to 250 mm of stone", {"in_drain_0_stone_below": "0.25"},
               [('stone_below = "300 mm"\nstone_over', 'stone_below = "250 mm"\nstone_over')]),
        Change("working space of chambers 150 to 175 mm", {"in_inspection_chambers_1_working_space": "0.175"},
               [line("working_space", "150 mm", "175 mm")]),
        Change("kitchen line from 250 to 265 mm", {"in_pipes_0_start": "0.265"}, [line("start", "250 mm", "265 mm")]),
        Change("two bends more", {"in_pipes_0_bends": "4"}, [("\nbends = 2", "\nbends = 4")]),
    ],
    "textbook": [
        Change("width 1.10 to 1.173 m", {"in_tank_width": "1.173"}, [line("width", "1.10 m", "1.173 m")]),
        Change("walls 300 to 335 mm", {"in_tank_walls_thickness": "0.335"}, [line("thickness", "300 mm", "335 mm")],
               ),
        Change("height 1.20 to 1.283 m", {"in_tank_height": "1.283"}, [line("height", "1.20 m", "1.283 m")]),
        Change("cover 9350.00 to 9401.75", {"rate_B2": "9401.75"}, prices=[
            ("concrete-cover/1:2:4,Concrete cover slab 1:2:4,m3,9350.00,", "concrete-cover/1:2:4,Concrete cover slab 1:2:4,m3,9401.75,")]),
    ],
}
# Beyond the structure: other lines would stand, and the Summary must say so. `job`: what the sample has instead.
BEYOND = {
    "rest-house": [
        Change("the ring beam no longer fits", {"in_tank_height": "0.80"}),
        Change("the dig leaves its second depth band", {"in_tank_height": "1.10"}),
        Change("the manholes become too large to stay undeducted", {"in_tank_cover_thickness": "0.14"}),
        Change("a pocket too small to be billed grows", {"in_tank_columns_pocket": "0.25"},
               [('pocket = "250 mm"', 'pocket = "10 mm"')]),
        Change("walls no longer flush with the columns", {"in_tank_walls_thickness": "0.23"}),
        Change("a length of 0", {"in_tank_width": "0"}),
        Change("hardcore where there was none", {"in_tank_base_hardcore": "0.1"}),
    ],
    "clinic": [Change("the first strip of hoop iron in a lift",
                      {"in_tank_height": "1.97", "in_tank_partitions_opening_below_top": "0.87"})],
    "guest-house": [Change("stone up to the ground", {"in_drain_0_stone_over": "0.345"})],
    "textbook": [Change("a board through the wall", {"in_tank_boards_0_built_in": "0.3"})],
}


def together(changes):
    """All of a sample's changes at once."""
    return Change("all together", {cell: value for c in changes for cell, value in c.cells.items()},
                  [pair for c in changes for pair in c.job], [pair for c in changes for pair in c.prices])


def run(program, tally, room, office):
    tests = []  # (sample, change, stored workbook, the program's answer; None where the structure must break)
    for name, changes in WITHIN.items():
        stored = Book(program.workbook(sample(name), room / name))
        for number, change in enumerate([*changes, together([c for c in changes if not c.alone])]):
            answer = tally.check(f"{name}: {change.what}: the changed job", changed_job, program, name, change,
                                 room / f"{name}-{number}")
            if answer:
                tests.append((name, change, stored, answer))
    for name, changes in BEYOND.items():
        for number, change in enumerate(changes):
            own = Change(change.what, {}, change.job)
            answer = tally.check(f"{name}: {change.what}: the job", changed_job, program, name, own,
                                 room / f"{name}-beyond-{number}")
            if answer:
                tests.append((name, change, answer[1], None))
    asked = [(stored.path, [f"{cell}={value}" for cell, value in change.cells.items()], True)
             for _, change, stored, _ in tests]
    results = tally.check("LibreOffice recalculates", recalculate_all, asked, office) or []
    for (name, change, stored, answer), cells in zip(tests, results):
        if answer:
            tally.check(f"{name}: {change.what}", equal, stored, cells, change, *answer)
        else:
            tally.check(f"{name}: {change.what}: the Summary warns", warns, stored, cells)
    print(f"  {len(tests)} changed workbooks of {len(WITHIN)} samples", flush=True)


def replaced(text, pairs):
    for old, new in pairs:
        if text.count(old) != 1:
            raise Wrong(f"{old!r} is {text.count(old)} times in the file")
        text = text.replace(old, new)
    return text


def changed_job(program, name, change, room):
    """Bill and workbook of the program for the same wish, written into job file and price list."""
    room.mkdir()
    text = (ROOT / sample(name)).read_text(encoding="utf-8")
    listed = re.search(r'\nrates = "(.*?)"', text)[1]
    prices = (ROOT / "rates" / "prices" / f"{listed}.csv").read_text(encoding="utf-8")
    job, own = room / "job.toml", room / "prices.csv"
    job.write_text(replaced(text, change.job), encoding="utf-8")
    own.write_text(replaced(prices, change.prices), encoding="utf-8")
    answers = [program.json(verb, job, "--rates", own) for verb in ("bill", "materials", "orders")]
    return answers, Book(program.workbook(job, room / "out", "--rates", own))


def verdict(book, cells):
    """What the Summary says of the structure."""
    found = [key for key, text in book.formulas.items() if key[0] == "Summary" and "Structure!" in text]
    if len(found) != 1:
        raise Wrong(f"{len(found)} cells of the Summary look at Structure")
    return cells["Summary"].get(found[0][1])


def warns(book, cells):
    said = verdict(book, cells)
    if not isinstance(said, str) or said == OK or "tankwright" not in said:
        raise Wrong(f"the Summary says {said!r}")


def places(shown):
    """Decimal places that a number format shows at most."""
    found = re.search(r"\.([0#]+)", shown.split(";")[0])
    return len(found[1]) if found else 0


def shown(value, to):
    return f"{Decimal(repr(value)):.{to}f}"


def equal(book, cells, change, answers, other):
    """Bill, dimensions, goods and sums, cell by cell; then bill and goods again from the program's own JSON."""
    if verdict(book, cells) != OK:
        raise Wrong(f"the Summary says {verdict(book, cells)!r}: the change is not within the structure")
    wrong, seen = [], 0
    left = goods.left_out(cells)
    for key, text in book.formulas.items():
        page, cell = key
        ours, theirs = cells[page].get(cell), other.stored(key)
        if page not in ("Bill", "Dimensions", "Summary", *goods.PAGES) or isinstance(theirs, (str, bool)) or left(key):
            continue
        if change.unpriced and (page, cell[0]) in (("Orders", "H"), ("Summary", "B")):
            continue
        seen += 1
        if other.formulas.get(key) is None or not near(ours, theirs):
            wrong.append(f"{page}!{cell}: {ours} recalculated, {theirs} of the changed job: {text}")
        elif shown(ours, places(book.formats[key])) != shown(theirs, places(book.formats[key])):
            wrong.append(f"{page}!{cell}: {ours!r} and {theirs!r} print differently: {text}")
    bill, materials, orders = answers
    wrong += against_json(cells["Bill"], bill) + goods.against_json(cells, materials, orders)
    if wrong or not seen:
        raise Wrong("\n  ".join([f"{len(wrong)} of {seen}", *wrong[:8]]))


def against_json(page, bill):
    """Rows by their reference, sums by their titles; decimals, to the last place that the program prints."""
    refs = {text: int(cell[1:]) for cell, text in page.items() if cell[0] == "A" and re.fullmatch(r"[A-Z]\d+", str(text))}
    titles = {text: int(cell[1:]) for cell, text in page.items() if cell[0] == "B"}
    wanted = []
    for section in bill["sections"]:
        for row in section["rows"]:
            wanted += [(f"{column}{refs.get(row['ref'])}", row[field], f"{row['ref']} {field}")
                       for column, field in (("D", "quantity"), ("E", "rate"), ("F", "amount"))]
        wanted.append((f"F{titles.get(section['letter'] + ' ' + section['title'] + ', total')}", section["total"],
                       section["title"]))
    wanted.append((f"F{titles.get('Measured works')}", bill["measured_total"], "measured works"))
    for added in bill["additions"]:
        row = titles.get(added["title"])
        wanted += [(f"F{row}", added["amount"], added["title"]), (f"E{row}", added["base"], added["title"] + ", on")]
    wanted.append((f"F{titles.get('Total, ' + bill['currency'])}", bill["total"], "total"))
    wrong = []
    for cell, expected, what in wanted:
        value = page.get(cell)
        to = max(0, -Decimal(expected).as_tuple().exponent)
        if not isinstance(value, (int, float)) or Decimal(shown(value, to)) != Decimal(expected) \
                or not near(value, float(expected)):
            wrong.append(f"{what}, {cell}: {value!r} recalculated, {expected} of the program")
    if len(refs) != sum(len(s["rows"]) for s in bill["sections"]):
        wrong.append(f"{len(refs)} rows in the workbook")
    return wrong
