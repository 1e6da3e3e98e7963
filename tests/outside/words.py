"""Totals in words, against the package num2words."""
import re
from decimal import Decimal

from num2words import num2words

from program import ROOT, SAMPLES, Wrong, sample

# Totals in the places where words go wrong; each is reached by a lump sum in a copy of the smallest sample.
WHOLE = (2_000_000, 2_000_001, 2_000_013, 2_000_100, 2_019_020, 2_100_110, 8_513_000, 10_000_000, 12_345_678,
         20_000_999, 99_999_999, 100_000_000, 101_010_101, 999_999_999, 1_000_000_000, 1_000_000_001, 7_070_707_070)
CENTS = ("250000.00", "250000.01", "250001.10", "1000000.99", "12345678.12", "300019.20")


def run(program, tally, room):
    """The samples' own totals, then chosen ones."""
    for name in SAMPLES:
        tally.check(f"{name}: total in words", same, program.json("bill", sample(name)))
    text = (ROOT / sample("smallest")).read_text(encoding="utf-8")
    for currency, totals in (("UGX", WHOLE), ("KES", CENTS)):
        local = text.replace("UGX", currency).replace("demo-ugx", f"demo-{currency.lower()}")
        path = room / "words.toml"
        path.write_text(local, encoding="utf-8")
        bare = Decimal(program.json("bill", path)["total"])
        for total in map(Decimal, totals):
            path.write_text(f'{local}\n[[preliminaries]]\ntitle = "Lump sum"\namount = "{total - bare}"\n', encoding="utf-8")
            tally.check(f"{currency} {total} in words", chosen, program, path, total)
    print(f"  {len(SAMPLES) + len(WHOLE) + len(CENTS)} totals", flush=True)


def chosen(program, path, total):
    bill = program.json("bill", path)
    if Decimal(bill["total"]) != total:
        raise Wrong(f"the total is {bill['total']}")
    same(bill)


def same(bill):
    """The words say the total: number, then unit, then number of the minor unit and its name."""
    total = Decimal(bill["total"])
    whole, cents = divmod(total, 1)
    unit, minor = {"UGX": ("shillings", ""), "KES": ("shillings", "cents"), "INR": ("rupees", "paise")}[bill["currency"]]
    expected = [num2words(int(whole), lang="en"), unit]
    if cents:
        minor = minor if cents != Decimal("0.01") else {"cents": "cent", "paise": "paisa"}[minor]
        expected += [num2words(int(cents * 100), lang="en"), minor]
    if plain(bill["total_in_words"]) != plain(" ".join(expected)):
        raise Wrong(f"{bill['total_in_words']!r} is not {' '.join(expected)!r}")


def plain(text):
    """Only the words that count."""
    return [word for word in re.findall("[a-z]+", text.lower()) if word != "and"]
