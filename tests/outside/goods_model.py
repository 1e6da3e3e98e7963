"""Second model of materials and orders: exact fractions, from the design, rates/README.md and the files of rates/.

    materials(job, paper, marks) -> {(material, stage, waste per cent): [net, over-break, net on the site at once]}
    orders(job, rows, bought) -> {(stage, material): Line}

`paper` is the JSON of `takeoff`, `rows` are those of `materials`, `bought` counts bars by stage from the cutting plans.
Written without sight of the program that it checks. CHOICE marks what the design leaves open and the papers say.
"""
import re
import tomllib
from collections import defaultdict, namedtuple
from fractions import Fraction
from math import ceil

from bars_model import kg_per_metre
from program import ROOT
from second_model import DEFAULTS, length
from random_supply import STAGES

Line = namedtuple("Line", "opening packs ordered used closing")


def data(name):
    return tomllib.loads((ROOT / f"rates/{name}.toml").read_text(encoding="utf-8"))


MIXES, RECIPES, UNITS = data("mixes"), data("recipes"), {unit["id"]: unit for unit in data("units")["unit"]}
GOODS = {good["id"]: good for good in data("materials")["material"]}
FIGURES = {figure["id"]: figure["value"] if isinstance(figure["value"], list) else [figure["value"]]
           for figure in RECIPES["figure"]}
RECIPE = {recipe["id"]: recipe["good"] for recipe in RECIPES["recipe"]}
COAT = {coat["id"]: coat for coat in RECIPES["coat"]}
WASTE = {waste["id"]: waste["value"] if isinstance(waste["value"], list) else [waste["value"]]
         for waste in data("waste")["waste"]}
PACKS = {pack["material"]: pack for pack in data("packs")["pack"] if pack["used"]}
FORMS = {"formwork-cover-soffit": "formwork-soffit", "formwork-cover-edge": "formwork-edge",
         "formwork-base-edge": "formwork-edge", "formwork-manhole": "formwork-edge",
         "formwork-soak-cover": "formwork-soffit"}
HALF = Fraction(1, 2)
MORTAR = "1:3"  # default of the job file


def fraction(text):
    above, _, below = text.partition("/")
    return Fraction(above) / Fraction(below or 1)


def used(values):
    return next(value for value in values if value.get("used", True))


def places(value, n=3):
    """Half away from zero."""
    scaled = abs(value) * 10**n
    size = Fraction(int(scaled + HALF), 10**n)
    return size if value >= 0 else -size


def by_id(table, material):
    """The most specific entry: bricks/x, then bricks."""
    while material not in table:
        if "/" not in material:
            return None
        material = material.rpartition("/")[0]
    return table[material]


def own_unit(given):
    """A unit of [materials] in the shape of rates/units.toml."""
    return {"size": [given["length"], given["breadth"], given["height"]], "joint": "10 mm", "hollow": False} | given


class Kitchen:
    """What items need, material by material."""

    def __init__(self, job, paper, marks):
        self.job, self.paper, self.marks = job, paper, marks
        self.asked = job.get("materials", {})
        self.rows = defaultdict(lambda: [Fraction(0)] * 3)
        self.tank = job["tank"]
        self.units = UNITS | {unit["id"]: own_unit(unit) for unit in self.asked.get("units", [])}

    def figure(self, name):
        """Value, and whether waste is inside. CHOICE: a number of the user's own has none inside."""
        asked = self.asked.get("figures", {}).get(name)
        if asked is None:
            value = used(FIGURES[name])
        else:
            value = next((v for v in FIGURES[name] if v["id"] == asked), {"value": asked})
        return fraction(value["value"]), value.get("waste_inside", False)

    def percent(self, material):
        own = by_id(self.job.get("waste", {}), material)
        return Fraction(own if own is not None else used(by_id(WASTE, material))["value"])

    def use(self, material, stage, amount, inside, extra, at_once=None):
        """`at_once`: what must be on the site, where only a share of it wears off."""
        percent = Fraction(0) if inside else self.percent(material)
        row = self.rows[material, stage, percent]
        row[1 if extra else 0] += amount
        if not extra:
            row[2] += amount if at_once is None else at_once

    def cement(self, stage, amount, inside, extra, proofed=False):
        """Cement, the water mixed with it, and waterproofer by its dose. CHOICE: doses go by cement without waste."""
        self.use("cement", stage, amount, inside, extra)
        litres, _ = self.figure("mixing-water")
        self.use("water", stage, amount * litres, inside, extra)
        if proofed:
            dose, _ = self.figure("waterproofer-dose")
            self.use("waterproofer", stage, amount * dose, inside, extra)

    def mix(self, kind, mix, stage, volume, extra, sand="sand-building", proofed=False, inside=False):
        origin = self.asked.get(kind)
        found = [e for e in MIXES[kind] if e["mix"] == mix and (e["used"] if origin is None else e["origin"] == origin)]
        if origin != "dry" and found:
            entry = found[0]
            amounts = [Fraction(entry[key]) for key in ("cement", "sand", "aggregate") if key in entry]
            inside = inside or entry.get("waste_inside", False)
        else:
            parts = [Fraction(part) for part in mix.split(":")]
            dry, waste = self.figure("dry-" + kind)
            heavy, heavy_waste = self.figure("cement-volume")
            shares = [dry * part / sum(parts) for part in parts]
            amounts = [shares[0] * heavy, *shares[1:]]
            # CHOICE: waste inside the weight of cement would touch cement alone; no such figure is in the data.
            inside = inside or waste or heavy_waste
        self.cement(stage, volume * amounts[0], inside, extra, proofed)
        for material, amount in zip((sand, "aggregate-20"), amounts[1:]):
            self.use(material, stage, volume * amount, inside, extra)

    def wall_of(self, work, spec=""):
        """Unit, mortar and thickness of a wall; partitions and shafts take unit and mortar from the walls, not cells."""
        walls = self.tank.get("walls", {})
        if work == "brickwork-chamber":  # its specification says all three
            thick, unit, mortar = spec.split("/")
            return unit, mortar, length(thick + " mm"), {}
        own = {"brickwork-wall": walls, "brickwork-partition": self.tank.get("partitions", {}),
               "manhole-shaft": self.tank.get("manhole_shafts", {}),
               "brickwork-soak-pit": self.job.get("soak_pit", {}).get("lining", {})}[work]
        unit = own.get("unit", walls.get("unit", DEFAULTS["tank.walls.unit"]))
        thick = own.get("thickness", DEFAULTS["tank.manhole_shafts.thickness"] if work == "manhole-shaft"
                        else walls.get("thickness", DEFAULTS["tank.walls.thickness"]))
        return unit, own.get("mortar", walls.get("mortar", MORTAR)), length(thick), own

    def pieces(self, unit):
        """Size in m, joint, cells as a share, name of the good."""
        entry = self.units[unit]
        size = [length(side) / 1000 for side in entry["size"]]
        voids = Fraction(entry["voids"]) if "voids" in entry else self.figure("block-voids")[0]
        kind = "blocks" if unit.startswith("block") else "bricks"
        return size, length(entry["joint"]) / 1000, voids if entry["hollow"] else Fraction(0), f"{kind}/{unit}"

    def bought(self, unit, stage, count, extra):
        """Units bought, or blocks made on the site: the mix of what is solid in them."""
        size, _, voids, material = self.pieces(unit)
        if material.startswith("blocks") and self.asked.get("blocks") == "made":
            # CHOICE: more are made than stay whole, by the waste of blocks; so no other waste acts on their mix.
            solid = count * size[0] * size[1] * size[2] * (1 - voids) * (1 + self.percent(material) / 100)
            self.mix("mortar", RECIPES["made_blocks"]["mix"], stage, solid, extra, inside=True)
        else:
            self.use(material, stage, count, False, extra)

    def masonry(self, work, spec, stage, volume, dry=False):
        unit, mortar, thick, cells = self.wall_of(work, spec)
        thick /= 1000
        (a, b, c), joint, voids, _ = self.pieces(unit)
        # So many half-brick skins, a joint between skins only; CHOICE: the nearest number, one at least.
        skins = max(1, int((thick + joint) / (b + joint) + HALF))
        count = volume / thick * skins / ((a + joint) * (c + (0 if dry else joint)))
        self.bought(unit, stage, count, False)
        if dry:  # CHOICE, printed: beds closed, upright joints as wide as filled ones; no mortar, nothing to cure
            return
        # CHOICE, printed: the drawn thickness rules the mortar, but a wall drawn thinner than its units make is built
        # as thick as they make it.
        made = skins * b + (skins - 1) * joint
        rest = volume / thick * max(thick, made) - count * a * b * c
        self.mix("mortar", mortar, stage, rest, False)
        if cells.get("cells") == "filled" and voids:
            self.mix("concrete", cells["cells_mix"], stage, count * a * b * c * voids, False)
        self.use("water", stage, volume * self.figure("curing-masonry")[0], False, False)

    def packing(self, stage, volume):
        """CHOICE: pieces by the unit's outer size, and mortar as in the walls."""
        unit, mortar, _, _ = self.wall_of("brickwork-wall")
        (a, b, c), *_ = self.pieces(unit)
        self.bought(unit, stage, volume * self.figure("packing-pieces")[0] / (a * b * c), True)
        self.mix("mortar", mortar, stage, volume * self.figure("packing-mortar")[0], True)

    def coat(self, work, spec, stage, area):
        thick, mix, *more = spec.split("/")
        entry = COAT["screed" if work == "screed" else "plaster"]
        volume, inside = area * length(thick + " mm") / 1000, False
        for name in entry.get("times", ()):
            value, waste = self.figure(name)
            volume, inside = volume * value, inside or waste
        self.mix("mortar", mix, stage, volume, False, entry["sand"], "waterproofed" in more, inside)
        self.use("water", stage, area * self.figure("curing-coat")[0], False, False)

    def recipe(self, goods, spec, stage, amount, extra):
        for good in goods:
            value, inside, uses = amount, False, Fraction(1)
            for names, power in ((good.get("times", ()), 1), (good.get("over", ()), -1)):
                for name in names:
                    figure, waste = self.figure(name)
                    value, inside = value * figure**power, inside or waste
                    if name.startswith("uses-"):
                        uses *= figure
            material = good["material"].replace("SPEC", spec)
            if material == "cement":
                self.cement(stage, value, inside, extra, spec == "waterproofed")
            else:
                self.use(material, stage, value, inside, extra, value * uses)

    def item(self, item):
        work, spec, stage, net = item["work"], item["spec"], item["stage"], Fraction(item["net"])
        if work == "over-break":
            volume = net * length(self.tank["pit"]["over_break"]) / 1000
            if spec == "packing":
                self.packing(stage, volume)
            elif ":" in spec:  # CHOICE: no curing water for it
                self.mix("concrete", spec, stage, volume, True)
            else:
                self.recipe(RECIPE[spec], "", stage, volume, True)
        elif work.startswith("concrete-"):
            self.mix("concrete", spec, stage, net, False)
            self.use("water", stage, net * self.figure("curing-concrete")[0], False, False)
        elif work in ("brickwork-wall", "brickwork-partition", "manhole-shaft", "brickwork-chamber"):
            self.masonry(work, spec, stage, net)
        elif work == "brickwork-soak-pit":
            self.masonry(work, spec, stage, net, spec.endswith("/dry"))
        elif work in ("plaster-wall", "plaster-outside", "plaster-chamber", "screed"):
            self.coat(work, spec, stage, net)
        elif work.startswith("formwork-"):
            self.recipe(RECIPE[FORMS.get(work, "formwork-sides")], spec, stage, net, False)
        elif work == "water-test":  # filled once, to the underside of the cover
            self.use("water", stage, Fraction(self.paper["capacity"]["full"]), False, False)
        elif f"{work}.{spec}" in RECIPE or work in RECIPE:
            self.recipe(RECIPE.get(f"{work}.{spec}", RECIPE.get(work)), spec, stage, net, False)

    def steel(self):
        mass = defaultdict(Fraction)
        for mark, count in self.marks.items():
            metres = Fraction(count * mark.length, 1000)
            self.use(f"bars/{mark.bar}", mark.stage, metres, False, False)
            mass[mark.stage] += metres * kg_per_metre(int(mark.bar[1:]))
        for stage, kg in mass.items():
            self.use("binding-wire", stage, kg * self.figure("binding-wire")[0], False, False)


def materials(job, paper, marks):
    kitchen = Kitchen(job, paper, marks)
    for item in paper["items"] + paper["voids"]:
        kitchen.item(item)
    kitchen.steel()
    return {key: value for key, value in kitchen.rows.items() if any(value)}


MEASURES = {"kg": ("kg", 1), "g": ("kg", Fraction(1, 1000)), "t": ("kg", 1000), "lb": ("kg", Fraction("0.45359237")),
            "m3": ("m3", 1), "m2": ("m2", 1), "m": ("m", 1), "mm": ("m", Fraction(1, 1000)), "ft": ("m", Fraction("0.3048")),
            "l": ("l", 1), "nr": ("nr", 1)}


def pack_size(text):
    """A pack in its material's own unit: an amount with a unit, or two lengths for an area."""
    size = Fraction(1)
    for part in text.split(" x "):
        amount, unit = re.fullmatch(r"([\d.]+) (\w+)", part).groups()
        size *= Fraction(amount) * MEASURES[unit][1]
    return size


def orders(job, rows, bought):
    use, present = defaultdict(lambda: defaultdict(Fraction)), defaultdict(Fraction)
    for row in rows:
        use[row["material"]][row["stage"]] += Fraction(row["gross"])
        present[row["material"], row["stage"]] += Fraction(row["present"])
    given = job.get("orders", {})
    tolerance = Fraction(given.get("tolerance", "0.05"))
    groups = [set(group) for group in given.get("group", [])]
    groups.append(set(STAGES) - set().union(*groups))
    lines, busy = {}, set()  # CHOICE: a stage without any goods has no lines
    for material, uses in use.items():
        rounding = by_id(GOODS, material)["rounding"]
        if rounding == "plan":
            size = length(job["steel"].get("stock_length", "12 m")) / 1000
        else:
            own = by_id(job.get("packs", {}), material)
            size = pack_size(own if own is not None else by_id(PACKS, material)["size"])
        reserve = given.get("reserve_bags", {}) if material == "cement" else {}
        store, delivered, opened = Fraction(0), 0, set()

        def whole(need):
            """Packs for what is missing: a small part is let off, but not the first purchase."""
            if need <= 0:
                return 0
            return max(ceil(need / size - tolerance), 0 if delivered else 1)

        for stage in STAGES:
            opening, wanted, packs = store, uses.get(stage, Fraction(0)), 0
            if rounding == "plan":
                packs = bought.get((material, stage), 0)
            elif rounding == "bulk":
                if wanted and stage not in opened:
                    opened |= next(group for group in groups if stage in group)
                    packs = whole(sum(uses.get(s, 0) for s in opened) - delivered * size)
            elif wanted:  # what must be on the site at once, though only a share of it wears off
                packs = whole(present[material, stage] - opening)
            packs += reserve.get(stage, 0)
            delivered += packs
            store = opening + packs * size - wanted
            if wanted or packs:
                busy.add(stage)
            if wanted or packs or opening:
                lines[stage, material] = Line(opening, packs, packs * size, wanted, store)
    return {key: line for key, line in lines.items() if key[0] in busy}
