"""A million products, sums and roundings of the program, ties among them, against Python's `decimal` and `fractions`.

The program's side is `examples/reckon` of the package tankwright-quantities, built beside the binary.
"""
import random
import subprocess
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from pathlib import Path

from measured import SEED
from program import Wrong

COUNT = 1_000_000
EXACT = Context(prec=80, rounding=ROUND_HALF_UP)  # half away from zero, and nothing lost before
MOST = 2 ** 96  # a decimal of the program holds a mantissa below this, of at most 28 places
KINDS = ("product", "sum", "round", "amount", "share")


def run(program, tally, room):
    example = Path(program.path).parent / "examples" / "reckon"
    tally.check("examples/reckon is built: cargo build --example reckon -p tankwright-quantities", there, example)
    asked = tally.check("questions", questions, random.Random(SEED + 8))
    answers = tally.check("answers", answer, example, asked)
    counts = tally.check(f"{COUNT} results", compare, asked, answers)
    print("  " + ", ".join(f"{n} {kind}" for kind, n in counts.items()), flush=True)


def there(example):
    if not example.exists():
        raise Wrong(f"{example} is not there")


def number(rng, whole, places):
    """A decimal of the trade: so many digits before the point at most, so many after it, one in eight below 0."""
    text = str(rng.randrange(10 ** rng.randint(0, whole)))
    used = rng.randint(0, places)
    if used:
        text += "." + "".join(rng.choices("0123456789", k=used))
    return ("-" if rng.random() < 0.125 else "") + text


def tie(rng, places):
    """A decimal that lies halfway between two figures of so many places, or a hair beside."""
    tail = rng.choice(("5", "5", "5", "50", "49999", "50001"))
    whole = str(rng.randrange(10 ** rng.randint(1, 8)))
    fine = "".join(rng.choices("0123456789", k=places)) + tail
    return ("-" if rng.random() < 0.25 else "") + f"{whole}.{fine}"


def questions(rng):
    asked = []
    for n in range(COUNT):
        kind, places = KINDS[n % len(KINDS)], rng.randint(0, 6)
        if kind == "product":
            asked.append(f"product {number(rng, 12, 6)} {number(rng, 9, 6)}")
        elif kind == "sum":
            terms = " ".join(number(rng, 10, 6) for _ in range(rng.randint(2, 9)))
            asked.append(f"sum {terms}")
        elif kind == "round":
            asked.append(f"round {tie(rng, places)} {places}")
        elif kind == "amount":
            # A quantity of three places and a rate; every second one a tie: x.5 times an odd number.
            a = tie(rng, rng.randint(0, 2)) if n % 2 else number(rng, 6, 3)
            asked.append(f"amount {a} {number(rng, 8, 2)} {places}")
        else:
            # Over 2, 4, 8 ... halves come often.
            b = str(rng.choice((2, 4, 8, 16, 20, 25, 40))) if n % 2 else number(rng, 5, 3)
            b = b if Decimal(b) else "3"
            asked.append(f"share {number(rng, 8, 3)} {b} {places}")
    return asked


def answer(example, asked):
    done = subprocess.run([str(example)], input="\n".join(asked) + "\n", capture_output=True, text=True, timeout=300,
                          check=False)
    answers = done.stdout.splitlines()
    if done.returncode or len(answers) != len(asked):
        raise Wrong(f"{len(answers)} answers, exit {done.returncode}: {done.stderr}")
    return answers


def expected(words):
    """The exact result."""
    kind, given = words[0], words[1:]
    if kind == "sum":
        total = Decimal(0)
        for term in given:
            total = EXACT.add(total, Decimal(term))
        return total
    if kind == "product":
        # As it stands before zeros at its end are left out: so it must be held.
        return EXACT.multiply(*(Decimal(g).normalize(EXACT) for g in given))
    step = Decimal(1).scaleb(-int(given[-1]))
    if kind == "round":
        return EXACT.quantize(Decimal(given[0]), step)
    if kind == "amount":
        return EXACT.quantize(EXACT.multiply(Decimal(given[0]), Decimal(given[1])), step)
    # A quotient may have no end: rounded as a fraction, half away from zero.
    whole = Fraction(given[0]) / Fraction(given[1]) / Fraction(step)
    near = (2 * abs(whole.numerator) + whole.denominator) // (2 * whole.denominator)
    return EXACT.multiply(Decimal(near if whole >= 0 else -near), step)


def held(value):
    """Does a decimal of the program hold it?"""
    _, digits, exponent = value.as_tuple()
    return exponent >= -28 and int("".join(map(str, digits))) * 10 ** max(exponent, 0) < MOST


def compare(asked, answers):
    wrong, counts, ties = [], dict.fromkeys(KINDS, 0), 0
    for question, given in zip(asked, answers):
        words = question.split()
        want = expected(words)
        counts[words[0]] += 1
        for got in given.split():
            if got == "-" or (got == "none" and not held(want)):
                continue
            # Longer than a decimal: the fraction itself, exact.
            if got == "none" or (Fraction(got) if "/" in got else Decimal(got)) != want:
                wrong.append(f"{question}: {given}, not {want}")
                break
        ties += words[0] == "round" and words[1].endswith("5")
    if wrong or ties < COUNT // 20:
        raise Wrong("\n  ".join([f"{len(wrong)} wrong, {ties} ties", *wrong[:8]]))
    counts["exact ties"] = ties
    return counts
