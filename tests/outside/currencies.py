"""Amounts in words of every currency, against num2words (lakh and crore: its English of India), CLDR and ISO 4217's codes.

num2words and pycountry are LGPL-2.1, babel BSD: tools of this test, no part of the program.
"""
import random
import re
from decimal import Decimal

import pycountry
from babel.numbers import get_currency_name, get_currency_precision
from num2words import num2words

from program import Wrong
from words import plain

# No minor digits in ISO 4217: metals, bond units, units of account of banks, tests, no currency.
NO_MONEY = set("XAD XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX".split())
# CLDR counts the digits in use, ISO 4217 those of the standard: 2, and 3 for the dinar of Iraq.
CLDR_WITHOUT_DIGITS = set("AFN ALL COP HUF IDR IQD IRR KPW LAK LBP MGA MMK PKR RSD SOS SYP TZS YER".split())
# Plurals that the country itself does not use, names of our own for units of account.
OWN_NAMES = set("ALL AWG BDT BWP CLF COU ETB GEL IDR KZT LSL MGA MKD MVR MWK MXV MZN NGN SVC TOP USN UYI UYW VED ZMW "
                "ZWG".split())
LAKHS = ("INR", "PKR", "BDT", "NPR", "LKR", "UGX", "KWD")
EACH, MANY = 16, 300


def run(program, tally, room):
    rng = random.Random(4217)
    listed = {c["currency"]: c for c in program.json("rules", "currencies")["currencies"]}
    tally.check("every code of ISO 4217 with minor digits, and no other", codes, listed)
    for code, entry in listed.items():
        tally.check(f"{code}: digits and name", entry_as_cldr, code, entry)
    program.need("rates", "--export", room / "data")
    prices = (room / "data" / "prices" / "demo-ugx.csv").read_text(encoding="utf-8")
    count = 0
    for code, entry in listed.items():
        count += tally.check(f"{code} in words", spoken, program, room, prices, entry, rng, EACH, False) or 0
    for code in LAKHS:
        for lakh in (False, True):
            name = f"{code} in {'lakh and crore' if lakh else 'thousands'}"
            count += tally.check(name, spoken, program, room, prices, listed[code], rng, MANY, lakh) or 0
    print(f"  {len(listed)} currencies, {count} amounts", flush=True)


def codes(listed):
    iso = {c.alpha_3 for c in pycountry.currencies} - NO_MONEY
    if iso != set(listed):
        raise Wrong(f"missing {sorted(iso - set(listed))}, too many {sorted(set(listed) - iso)}")


def entry_as_cldr(code, entry):
    digits = int(entry["minor digits"])
    cldr = get_currency_precision(code)
    if digits != cldr and not (code in CLDR_WITHOUT_DIGITS and cldr == 0 and digits in (2, 3)):
        raise Wrong(f"{digits} digits, CLDR has {cldr}")
    name = get_currency_name(code, 2, locale="en")
    ends = bare(name).endswith(bare(entry["unit"]))
    if ends == (code in OWN_NAMES):
        raise Wrong(f"{entry['unit']!r} and CLDR's {name!r}")


def bare(text):
    import unicodedata
    return unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()


JOB = """format = 1
[job]
title = "Words"
date = "2026-11-25"
currency = "{code}"
rates = "prices.csv"
{numbers}
[tank]
chambers = ["1.60 m", "0.80 m"]
width = "1.20 m"
height = "1.50 m"
"""


def spoken(program, room, prices, entry, rng, count, lakh):
    """Random amounts as payments received: the program says each in words."""
    code, digits = entry["currency"], int(entry["minor digits"])
    # Rates of a currency without parts are whole; those of the demo list are.
    (room / "prices.csv").write_text(prices.replace("UGX", code), encoding="utf-8")
    amounts = [amount(rng, digits, 9 if lakh else 14) for _ in range(count)]
    amounts += [Decimal(1), Decimal(1) + Decimal(1).scaleb(-digits) if digits else Decimal(2)]
    numbers = 'numbers = "lakh-crore"' if lakh else ""
    paid = "".join(f'[[paid]]\ndate = "2026-12-01"\namount = "{a:f}"\n' for a in amounts)
    path = room / "job.toml"
    path.write_text(JOB.format(code=code, numbers=numbers) + paid, encoding="utf-8")
    told = program.json("payments", path)["paid"]
    if len(told) != len(amounts):
        raise Wrong(f"{len(told)} of {len(amounts)} payments")
    for given, seen in zip(amounts, told):
        if Decimal(seen["amount"]) != given:
            raise Wrong(f"{given} became {seen['amount']}")
        same(given, seen["in_words"], entry, digits, "en_IN" if lakh else "en")
    return len(amounts)


def amount(rng, digits, most):
    whole = rng.randrange(10 ** rng.randint(1, most))
    part = rng.randrange(10 ** digits) if rng.random() < 0.7 else 0
    value = Decimal(whole) + Decimal(part).scaleb(-digits)
    return value or Decimal(1)


def same(given, words, entry, digits, language):
    whole, part = divmod(given, 1)
    part = int(part.scaleb(digits))
    unit, minor = entry["unit"], entry["minor unit"]
    fraction = re.search(r" and (\d+)/(10+)$", words)
    if minor == "" and part:
        if not fraction or fraction.group(1) != f"{part:0{digits}d}" or len(fraction.group(2)) != digits + 1:
            raise Wrong(f"{given}: {words!r}")
        words = words[:fraction.start()]
    elif fraction:
        raise Wrong(f"{given}: {words!r}")
    expected = []
    if whole or not part or not minor:
        expected += plain(num2words(int(whole), lang=language)) + ["|"]
    if part and minor:
        expected += plain(num2words(part, lang=language)) + ["|"]
    # The names are those of the list; of one, any name stands there.
    numbers = []
    for piece, name in pieces(words, unit, minor, whole, part):
        if not piece.endswith(f" {name}"):
            raise Wrong(f"{given}: {words!r} does not end with {name!r}")
        numbers += plain(piece[:-len(name)])
    if numbers != [w for w in expected if w != "|"]:
        raise Wrong(f"{given}: {words!r} is not {' '.join(expected)!r}")


def pieces(words, unit, minor, whole, part):
    """The words of the units and of the minor units, each with the name it ends with."""
    if part and minor and whole:
        name = unit if whole != 1 else one_of(words)
        cut = words.index(f" {name} and ")
        yield words[:cut + 1 + len(name)], name
        words = words[cut + len(f" {name} and "):]
        yield words, minor if part != 1 else words.split("one ", 1)[1]
    elif part and minor:
        yield words, minor if part != 1 else words.split("one ", 1)[1]
    else:
        yield words, unit if whole != 1 else words.split("one ", 1)[1]


def one_of(words):
    """The name of one unit: between `one` and `and`."""
    return words.split("one ", 1)[1].split(" and ", 1)[0]
