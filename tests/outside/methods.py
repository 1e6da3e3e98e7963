"""The rules of the measurement profiles, written from the project's notes on trade practice (1.1 and 1.2) and not from
the program's data: steps, rounding, units, limits of voids. Also what of a take-off they decide.
"""
from dataclasses import dataclass, field
from fractions import Fraction
from math import floor

MM = Fraction(1, 1000)
NUMBERS = ("nr", "item")


@dataclass
class Method:
    step: Fraction = 10 * MM
    slab: Fraction = 10 * MM
    place: Fraction = Fraction(1, 100)  # of m3, m2, m
    least: Fraction = Fraction(0)
    steel: Fraction = Fraction(1, 100)  # kg
    by_row: bool = False
    walls: str = "m2"
    thin: Fraction = Fraction(0)  # walls in m2 up to this, mm
    edges: tuple = ()  # in m up to the last, mm
    narrow_form: int = 0  # forms in m up to this width, mm
    bands: tuple = ()  # lower ends, m
    greatest: bool = False
    cover: tuple = (None, "m2")  # limits of voids: size, unit
    forms: Fraction = None
    masonry: Fraction = None
    anywhere: bool = False  # limits hold at edges too
    unbilled: set = field(default_factory=set)
    others: set = field(default_factory=set)  # works that only this method has


F = Fraction
METHODS = {
    "exact": Method(step=F(1, 10000), slab=F(1, 10000), place=F(1, 10**12), steel=F(1, 10**12), walls="m3"),
    "east-africa": Method(slab=5 * MM, bands=("1.5", "3", "4.5")),
    "is-1200": Method(slab=5 * MM, walls="m3", thin=F(115), bands=("1.5", "3", "4.5"), cover=(F("0.1"), "m2"),
                      forms=F("0.4"), masonry=F("0.1"), anywhere=True),
    "smm7": Method(place=F(1), least=F(1), steel=F(10), by_row=True, edges=(250, 500, 1000), greatest=True,
                   bands=("0.25", "1", "2", "4", "6"), cover=(F("0.05"), "m3"), forms=F(5), masonry=F("0.1"),
                   others={"working-space-face"}),
    "nrm2": Method(place=F(1), least=F(1), steel=F(10), by_row=True, edges=(500,), greatest=True,
                   bands=("2", "4", "6"), cover=(F("0.05"), "m3"), forms=F(5), masonry=F("0.5"),
                   unbilled={"earthwork-support"}),
    "cesmm": Method(place=F(1, 10), steel=F(1, 10), by_row=True, narrow_form=200, greatest=True,
                    bands=("0.25", "0.5", "1", "2", "5"), cover=(F("0.5"), "m2"), forms=F("0.5"), masonry=F("0.25"),
                    unbilled={"earthwork-support", "bottom-trim"}),
}
NEW = ("is-1200", "smm7", "nrm2", "cesmm")


def nearest(value, step):
    """Half away from zero."""
    size = floor(abs(value) / step + F(1, 2)) * step
    return size if value > 0 else -size


def rounded(method, unit, value):
    """A total as the method bills it."""
    if unit in NUMBERS:
        return nearest(value, F(1))
    if unit == "kg":
        step, least = method.steel, method.steel if method.steel >= 1 else F(0)
    else:
        step, least = method.place, method.least
    whole = nearest(value, step)
    return least if value > 0 and whole < least else whole


def wrong_steps(method, item):
    """Dimensions that are not whole steps of the method."""
    if item["work"] == "bars" or item["unit"] in NUMBERS:
        return []
    fine = min(method.step, method.slab)
    return [f"{item['id']}: {line['note']}: {dim} is no step of {float(fine)}" for line in item["lines"]
            if not line["of_item"] for dim in line["dims"] if F(dim) % fine]


def wrong_units(method, site, items):
    """Works in another unit than the method's."""
    want, wrong = {}, []
    for work, thick in (("brickwork-wall", site.t), ("brickwork-partition", site.tp)):
        want[work] = {"m2" if method.walls == "m2" or thick <= method.thin else "m3"}
    for work, high in (("formwork-base-edge", site.base), ("formwork-cover-edge", None)):
        if high is None:  # only what is above ground in a tight pit
            high = site.cover if site.open else min(site.cover, max(F(0), site.cover_top))
        in_metres = high <= max(method.edges, default=method.narrow_form)
        want[work] = {"m" if in_metres else "m2"}
    for item in items:
        if item["unit"] not in want.get(item["work"], {item["unit"]}):
            wrong.append(f"{item['id']}: in {item['unit']}, the method has {want[item['work']]}")
        if item["work"] in method.unbilled and item["billed"]:
            wrong.append(f"{item['id']}: billed, the method has it in other rates")
    return wrong


def wrong_bands(method, site, items):
    """A pit in other bands than the method's."""
    depth = (site.dig_below_floor - site.floor_outlet + site.fall) / 1000  # greatest
    ends = [F(end) for end in method.bands]
    names = ["0"] + [str(float(end)) for end in ends] + [""]
    slices = [f"{names[n]}-{names[n + 1]}" for n in range(len(ends) + 1)]
    reached = [n for n in range(len(ends) + 1) if n == 0 or depth > ends[n - 1]]
    want = ({slices[reached[-1]]} if method.greatest else {slices[n] for n in reached}) if ends else {""}
    found = {item["spec"].split("/")[-1] for item in items
             if item["work"] == "excavation-pit" and not item["spec"].startswith("working-space")}
    found = {"" if name == "net" else name for name in found}
    return [] if found == want else [f"excavation-pit in {sorted(found)}, the method has {sorted(want)}"]


def wrong_voids(method, site, items):
    """Manholes, openings and pipe holes kept or deducted otherwise than the method says."""
    wrong = []

    def check(work, what, size, kept):
        for item in items:
            for void in item["voids"]:
                if item["work"] == work and void["what"] == what and F(void["size"]) == size and void["kept"] != kept:
                    wrong.append(f"{item['id']}: {what} of {float(size)} kept: {void['kept']}, the method says {kept}")

    limit, unit = method.cover
    listed = {(i["work"], v["what"]) for i in items for v in i["voids"]}
    for x0, x1, y0, y1 in site.manholes:
        area = (x1 - x0) * (y1 - y0) / 10**6
        size = area if unit == "m2" else area * site.cover / 1000
        check("concrete-cover", "manhole", size, size <= limit)
        check("formwork-cover-soffit", "manhole", area, area <= method.forms)
        if not {("concrete-cover", "manhole"), ("formwork-cover-soffit", "manhole")} <= listed:
            wrong.append("a manhole is neither kept nor deducted")
    for y0, y1, z0, z1 in site.openings:
        area = (y1 - y0) * (z1 - z0) / 10**6
        for x0, x1 in site.partitions:
            inside = method.anywhere or z0 > max(site.floor(x0), site.floor(x1)) and z1 < site.partition_top
            if len(site.partitions) == 1:  # equal sizes in several partitions are listed together
                check("brickwork-partition", "opening", area, area <= method.masonry and inside)
    return wrong
