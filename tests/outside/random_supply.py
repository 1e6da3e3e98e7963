#!/usr/bin/env python3
"""[steel], [materials], [waste], [packs], [orders] and [programme] for random jobs.

    supplied(rng) -> dict           a random job with all of them; the program must accept it

    random_supply.py SEED [COUNT FOLDER]   prints one, or writes COUNT files into FOLDER
"""
import random
import sys
from datetime import date, timedelta
from pathlib import Path

import bars_model
from random_jobs import random_job, to_toml

STAGES = ("set-out", "dig", "base", "walls-lower", "ring-beam", "walls-upper", "plaster", "cover", "soak-pit", "pipes",
          "strike", "finish")
PACKS = {"cement": ("50 kg", "42.5 kg", "25 kg", "94 lb"), "sand-building": ("3 m3", "7 m3", "0.5 m3"),
         "sand-plaster": ("2.5 m3", "1 m3"), "aggregate-20": ("4 m3", "0.75 m3"), "hardcore": ("3 m3", "5.5 m3"),
         "bricks": ("500 nr", "1 nr"), "blocks": ("100 nr",), "water": ("1000 l",), "nails": ("0.5 kg",),
         "binding-wire": ("25 kg",), "membrane": ("20 m x 4 m",), "boards-formwork": ("4 m x 200 mm",),
         "hardcore/bed": ("2 m3",), "vent-pipe": ("3 m",), "mould-oil": ("5 l",),
         "hoop-iron": ("30 m",), "pipe": ("5.8 m",), "waterproofer": ("1 kg",)}


def steel(rng, job):
    """Bars for what the tank has; every table is there more often than not."""
    def yes(chance):
        return rng.random() < chance

    def mesh():
        return f"{rng.choice('YYHTDR')}{rng.choice((8, 10, 10, 12, 16))}@{rng.choice((100, 125, 150, 175, 200, 250))}"

    def main():
        return f"{rng.choice((2, 4, 4, 6))}{rng.choice('YYHT')}{rng.choice((10, 12, 12, 16, 20))}"

    def beam():
        return {"main": main(), "links": f"{rng.choice('RY')}{rng.choice((6, 6, 8))}@{rng.choice((100, 150, 200, 250))}"}

    made = {}
    for key, there, make in (("base", True, lambda: {"short": mesh(), "long": mesh()}),
                             ("columns", "columns" in job["tank"], beam), ("ring_beams", "ring_beams" in job["tank"], beam),
                             ("wall_beams", "wall_beams" in job["tank"]["cover"], beam),
                             ("span_beam", "span_beam" in job["tank"]["cover"], beam),
                             ("cover", True, lambda: {"short": mesh(), "long": mesh()}),
                             ("soak_pit_cover", "cover" in job.get("soak_pit", {}), lambda: {"bars": mesh()})):
        if there and yes(0.9):
            made[key] = make()
    if "cover" in made:
        made["cover"]["layers"] = rng.choice((1, 1, 2))
        if yes(0.7):
            made["cover"]["trimmers"] = f"{rng.choice((1, 2))}{rng.choice('YT')}{rng.choice((10, 12, 16))}"
        if yes(0.4):
            made["chairs"] = f"{rng.randint(4, 20)}{rng.choice('RY')}{rng.choice((8, 10))}"
    if "soak_pit_cover" in made and yes(0.6):
        made["soak_pit_cover"]["trimmers"] = f"{rng.choice((1, 2))}{rng.choice('YT')}{rng.choice((10, 12))}"
    if not made:
        made["base"] = {"short": mesh(), "long": mesh()}
    for key, values in (("cover_to_steel", ("15 mm", 20, "20 mm", "25 mm", 27, 30)),
                        ("stock_length", ("12 m", "6 m", "9 m", "11.7 m", "20 ft", "7.3 m")),
                        ("kerf", (0, 2, "3 mm", 5)), ("lap", ("40d", "45d", "600 mm", "55d")),
                        ("column_foot", (0, "100 mm", "250 mm")), ("column_top", (0, 90, "250 mm")),
                        ("beam_corner", (0, "100 mm", "300 mm", "450 mm")), ("lintel", ("2Y10", "4Y12")),
                        ("spacers", (0, 80))):
        if yes(0.6):
            made[key] = rng.choice(values)
    return made


def supplied(rng):
    def yes(chance):
        return rng.random() < chance

    while True:
        job = random_job(rng)
        for _ in range(8):
            job["steel"] = steel(rng, job)
            if not bars_model.problems(job):
                break
        else:
            continue
        break
    if yes(0.5):
        job["job"]["profile"] = "east-africa"
    if yes(0.5):
        job["tank"]["walls"]["cells"] = "filled"
        job["tank"]["walls"]["cells_mix"] = "1:3:6"
        if not job["tank"]["walls"]["unit"].startswith("block"):
            del job["tank"]["walls"]["cells"], job["tank"]["walls"]["cells_mix"]
    if "plaster" in job["tank"] and yes(0.5):
        job["tank"]["plaster"]["waterproofer"] = True
    for part in ("partitions", "manhole_shafts"):  # units of their own
        if part in job["tank"] and yes(0.3):
            job["tank"][part].update(unit=rng.choice(("block-450x150x225", "brick-190x90x90")), mortar="1:4")
    made = {}
    if yes(0.25):
        made["units"] = [rng.choice((
            {"id": "block-mine", "length": 295, "breadth": 140, "height": 190, "joint": "12 mm", "hollow": True, "voids": "0.4"},
            {"id": "my-brick", "length": "200 mm", "breadth": 98, "height": 60}))]
        job["tank"]["walls"]["unit"] = made["units"][0]["id"]
        job["tank"]["walls"].pop("cells", None), job["tank"]["walls"].pop("cells_mix", None)
    if yes(0.3):
        made["concrete"] = rng.choice(("dry", "nigeria", "pakistan"))
    if yes(0.3):
        made["mortar"] = rng.choice(("dry", "nigeria"))
    if yes(0.3):
        made["blocks"] = "made"
    if yes(0.4):
        made["figures"] = dict(rng.sample((("dry-concrete", "1.52"), ("filling", "1.10"), ("paste", "3"),
                                           ("cement-volume", "bag-0.035"), ("dry-mortar", "4-3"), ("oil-face", "0.36"),
                                           ("hardcore-loose", "1.1"), ("uses-boards-sides", "3")), 3))
    if made:
        job["materials"] = made
    if yes(0.6):
        goods = ("cement", "sand-building", "bricks", "blocks", "hoop-iron", "pipe", "nails", "hardcore/bed", "water", "membrane")
        job["waste"] = {key: rng.choice(("0", "2.5", "7", "12.5")) for key in rng.sample(goods, 3)}
    if yes(0.8):
        job["packs"] = {key: rng.choice(PACKS[key]) for key in rng.sample(sorted(PACKS), 6)}
    if "hardcore" not in job["tank"]["base"]:  # the program refuses goods that a job does not have
        job.get("packs", {}).pop("hardcore/bed", None)
        job.get("waste", {}).pop("hardcore/bed", None)
    orders = job["orders"] = {}
    if yes(0.7):
        orders["tolerance"] = rng.choice(("0", "0.02", "0.05", "0.1", "0.25"))
    if yes(0.6):
        apart = sorted(rng.sample(range(1, len(STAGES)), rng.randint(1, 3)))
        cut = [list(STAGES[a:b]) for a, b in zip([0, *apart], [*apart, len(STAGES)])]
        orders["group"] = rng.sample(cut, rng.randint(1, len(cut)))
    if yes(0.5):
        orders["reserve_bags"] = {stage: rng.randint(1, 3) for stage in rng.sample(("base", "cover"), rng.randint(1, 2))}
    if yes(0.5):
        orders["lead_days"] = {"cement": rng.randint(1, 5), "bars": rng.randint(1, 9)}
    if yes(0.6):
        programme = job["programme"] = {"start": str(date(2026, 12, 1) + timedelta(rng.randint(0, 60)))}
        if yes(0.5):
            programme["rest_day"] = rng.choice(("none", "friday", "saturday", "sunday"))
        if yes(0.5):
            programme["days"] = {stage: rng.randint(1, 12) for stage in rng.sample(STAGES, 3)}
    return job


def main(arguments):
    rng = random.Random(int(arguments[1]) if len(arguments) > 1 else 1)
    if len(arguments) < 4:
        print(to_toml(supplied(rng)), end="")
        return 0
    folder = Path(arguments[3])
    folder.mkdir(parents=True, exist_ok=True)
    for n in range(int(arguments[2])):
        (folder / f"supplied-{n:04}.toml").write_text(to_toml(supplied(rng)), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
