#!/usr/bin/env python3
"""Checks from outside: no code in common with the program. Ends with `N passed, 0 failed`.

    run.py --program target/debug/tankwright [--jobs 150] [--solids 200] [--goods 40] [--office soffice]
           [--only measured,words] [--at-once 2]
"""
import argparse
import concurrent.futures
import contextlib
import io
import os
import sys
import tempfile
import time
from pathlib import Path

import any_change
import changed
import currencies
import cutting
import dates
import decimals
import formulas
import measured
import papers
import returned
import schema
import slab
import solids
import supply
import test_second_model
import words as in_words
import workbook
from program import Program, Tally

# The longest first, so that no processor stands idle at the end.
PARTS = {
    "changed": "inputs and rates changed in the workbook, against the program's figures for the changed job",
    "any": "ten lengths changed at once in random jobs: the workbook follows, or says that it cannot",
    "workbook": "workbooks recalculated in LibreOffice, every stored result spoiled first",
    "measured": "quantities against the second model, lines and balances, in every profile",
    "papers": "offers and cards, read by poppler: text in order, faces embedded, pages counted",
    "solids": "volumes and exposed faces against meshes joined and cut by manifold3d",
    "formulas": "hostile titles, notes, units and lists: no formula in any CSV or workbook",
    "goods": "bars, cutting plans, materials, orders and dates against second models",
    "decimals": "a million products, sums and roundings, ties among them, against Python's decimal",
    "currencies": "every currency of ISO 4217: digits, names, and random amounts in words, thousands or lakh and crore",
    "model": "the second model against sums by hand, and identities of random jobs",
    "returned": "bills to be priced, filled in by openpyxl and worked out by LibreOffice, read as our own bill",
    "slab": "covers in bending, against beams of finite elements and cracked sections of concreteproperties",
    "dates": "the calendar file, read by icalendar",
    "words": "totals in words, against num2words",
    "cutting": "bars of random lists, against an arc-flow model solved by highspy",
    "schema": "the JSON Schema of the job file, by jsonschema: samples taken, refused samples as their codes say",
}


def works(asked, program, tally):
    """What each part runs, given a room of its own."""
    return {
        "measured": lambda room: measured.run(program, tally, room, asked.jobs),
        "solids": lambda room: solids.run(program, tally, room, asked.solids),
        "workbook": lambda room: workbook.run(program, tally, room, asked.office),
        "changed": lambda room: changed.run(program, tally, room, asked.office),
        "any": lambda room: any_change.run(program, tally, room, asked.office),
        "goods": lambda room: supply.run(program, tally, room, asked.goods),
        "words": lambda room: in_words.run(program, tally, room),
        "currencies": lambda room: currencies.run(program, tally, room),
        "dates": lambda room: dates.run(program, tally, room),
        "cutting": lambda room: cutting.run(program, tally, room),
        "returned": lambda room: returned.run(program, tally, room, asked.office),
        "formulas": lambda room: formulas.run(program, tally, room, asked.office),
        "decimals": lambda room: decimals.run(program, tally, room),
        "papers": lambda room: papers.run(program, tally, room),
        "schema": lambda room: schema.run(program, tally, room),
        "slab": lambda room: slab.run(program, tally, room),
        "model": lambda room: test_second_model.run(tally),
    }


def one(part, asked):
    """One part in a process of its own: what it printed, what passed, what failed."""
    program, tally, start, printed = Program(asked.program), Tally(), time.monotonic(), io.StringIO()
    with contextlib.redirect_stdout(printed), tempfile.TemporaryDirectory() as room:
        print(f"{part}: {PARTS[part]}")
        tally.check(part, works(asked, program, tally)[part], Path(room))
        print(f"  {time.monotonic() - start:.0f} s")
    return printed.getvalue(), tally.passed, tally.failed


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--program", required=True, help="the binary to check")
    words.add_argument("--jobs", type=int, default=150, help="number of random jobs to measure (150)")
    words.add_argument("--solids", type=int, default=200, help="number of random jobs to build as meshes (200)")
    words.add_argument("--goods", type=int, default=40, help="number of random jobs for bars and goods (40)")
    words.add_argument("--office", default="soffice", help="LibreOffice's command")
    words.add_argument("--only", default=",".join(PARTS), help="parts to run: " + ", ".join(PARTS))
    words.add_argument("--at-once", type=int, default=os.cpu_count(), help="parts run side by side (one a processor)")
    asked = words.parse_args()
    if unknown := set(asked.only.split(",")) - set(PARTS):
        words.error(f"no part {', '.join(sorted(unknown))}")
    passed = failed = 0
    with concurrent.futures.ProcessPoolExecutor(asked.at_once) as pool:
        begun = [pool.submit(one, part, asked) for part in asked.only.split(",")]
        for part in concurrent.futures.as_completed(begun):
            printed, good, bad = part.result()
            print(printed, end="", flush=True)
            passed, failed = passed + good, failed + bad
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
