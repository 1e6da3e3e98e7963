#!/usr/bin/env python3
"""How fast and how large: goals of our own and ratios, all from one run. A measurement, not a check.

    cargo build --release
    target/venv/bin/python tests/speed.py --program target/release/tankwright [--runs 20] [--only cut,batch]

Whole processes are timed from start to end, best of the runs. Memory is the largest resident set that Linux saw; it
counts what this script itself held when it started the program, so small figures are upper bounds. LibreOffice and
the solver highspy are the measure for what they can do too; both are started as a person would start them.
"""
import argparse
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "outside"))
JOB = "samples/rest-house/job.toml"
SEED = 20261129


class Bench:
    """Runs programs and prints a row for each figure."""

    def __init__(self, asked, room):
        self.program, self.office, self.runs, self.room = str(Path(asked.program).resolve()), asked.office, asked.runs, room

    def once(self, *command):
        """Milliseconds and megabytes of one process that must end well."""
        quiet = [(os.POSIX_SPAWN_OPEN, fd, os.devnull, os.O_WRONLY, 0) for fd in (1, 2)]
        start = time.perf_counter()
        child = os.posix_spawnp(command[0], [str(c) for c in command], os.environ, file_actions=quiet)
        _, status, usage = os.wait4(child, 0)
        took = (time.perf_counter() - start) * 1000
        if status:
            sys.exit(f"{' '.join(map(str, command))}: status {status}")
        return took, usage.ru_maxrss / 1024

    def best(self, *words, runs=None):
        """Best time and largest memory of some runs of the program."""
        all_runs = [self.once(self.program, *words) for _ in range(runs or self.runs)]
        return min(t for t, _ in all_runs), max(m for _, m in all_runs)

    def row(self, what, figure, goal="", note=""):
        print(f"{what:<46} {figure:>16}  {goal:<22} {note}".rstrip(), flush=True)


def against(value, most, unit):
    return f"{value / most:.2f} of {most} {unit}"


def estimate(bench):
    took, memory = bench.best("estimate", JOB, "--out", bench.room / "one")
    bench.row("estimate, with workbook and cards as text", f"{took:.1f} ms", against(took, 20, "ms"))
    bench.row("  memory", f"{memory:.1f} MB", against(memory, 40, "MB"))
    size = os.path.getsize(bench.program) / 1e6
    bench.row("  the program itself", f"{size:.1f} MB", against(size, 15, "MB"))
    return took


def papers(bench):
    took, memory = bench.best("estimate", JOB, "--papers", "--out", bench.room / "papers")
    bench.row("estimate with all papers", f"{took:.1f} ms", against(took, 200, "ms"), f"{memory:.0f} MB")


def office(bench):
    took = estimate(bench)
    import recalc

    book = next((bench.room / "one").glob("*.xlsx"))
    recalc.recalculate(book, office=bench.office)  # the first start makes its own files
    best = float("inf")
    for _ in range(3):
        start = time.perf_counter()
        recalc.recalculate(book, office=bench.office)
        best = min(best, (time.perf_counter() - start) * 1000)
    bench.row("LibreOffice recalculating that workbook", f"{best:.0f} ms", f"{best / took:.0f} x (goal 100)")


def cheapest(bench):
    wide = ["--length", "2 m..4 m", "--width", "1 m..2 m", "--depth", "1.2 m..2.2 m"]
    times = {}
    for threads in (1, 2):
        out = subprocess.run([bench.program, "cheapest", JOB, *wide, "--threads", str(threads), "--format", "json"],
                             capture_output=True, text=True, check=True, cwd=ROOT).stdout
        told = json.loads(out)
        number = told["candidates"] + told["beyond_candidates"]
        times[threads], memory = bench.best("cheapest", JOB, *wide, "--threads", threads, runs=3)
        each = f"{number / times[threads] * 1000:,.0f} a second"
        bench.row(f"cheapest, whole command, {threads} thread{'s' * (threads > 1)}", f"{times[threads]:.0f} ms", each, f"{memory:.0f} MB")
    bench.row("  one thread against two", f"{times[1] / times[2]:.2f} x")


def cut(bench):
    import cutting
    import highspy

    dice, ours, theirs, proved = random.Random(SEED), [], [], 0
    lists = [draw_list(dice) for _ in range(200)]
    for number, pieces in enumerate(lists):
        path = bench.room / f"{number}.csv"
        path.write_text("length,count\n" + "".join(f"{n},{c}\n" for n, c in pieces.items()), encoding="utf-8")
        ours.append(bench.best("cut", path, "--stock", "12m", "--kerf", "0mm", runs=1)[0])
        out = subprocess.run([bench.program, "cut", str(path), "--stock", "12m", "--kerf", "0mm", "--format", "json"],
                             capture_output=True, text=True, check=True).stdout
        proved += '"proved_least": true' in out or '"proved_least":true' in out
    for pieces in lists[:20]:
        start = time.perf_counter()
        cutting.arc_flow(highspy, pieces, [(12_000, 100, None)], 0)
        theirs.append((time.perf_counter() - start) * 1000)
    ours20 = sorted(ours[:20])
    bench.row("cut, 200 realistic lists, worst", f"{max(ours):.1f} ms", against(max(ours), 100, "ms"), f"{proved} proved; middle {sorted(ours)[100]:.1f} ms")
    middle = sorted(theirs)[10]
    bench.row("  highspy on the first 20 of them, middle", f"{middle:.0f} ms", f"{middle / ours20[10]:.0f} x", "its process not counted")


def draw_list(dice):
    """Bars of a small job: multiples of 50 mm, some kinds in large numbers."""
    lengths = dice.sample(range(6, 240), dice.randint(4, 12))
    return {50 * n: dice.choice((2, 4, 4, 6, 8, 12, dice.randint(10, 60))) for n in lengths}


def batch(bench):
    base = None
    for number in (1, 10, 100, 1000, 10_000):
        rows = bench.room / f"{number}.sites.csv"
        dice = random.Random(SEED)
        sites = [f"site {i},{dice.randint(1400, 1900)} mm,{dice.randint(1600, 1800)} mm" for i in range(number)]
        rows.write_text("job.title,tank.width,tank.height\n" + "\n".join(sites) + "\n", encoding="utf-8")
        took, memory = bench.best("batch", rows, "--base", JOB, "--out", bench.room / f"batch{number}", runs=1)
        base = base or took
        bench.row(f"batch of {number}", f"{took:,.0f} ms", f"{took / number:.2f} ms each", f"{memory:.0f} MB")


PARTS = {"office": office, "papers": papers, "cheapest": cheapest, "cut": cut, "batch": batch}


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--program", required=True)
    words.add_argument("--runs", type=int, default=20)
    words.add_argument("--office", default=shutil.which("soffice") or "soffice")
    words.add_argument("--only", default=",".join(PARTS), help="parts to measure: " + ", ".join(PARTS))
    asked = words.parse_args()
    os.chdir(ROOT)
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(asked, Path(folder))
        for part in asked.only.split(","):
            PARTS[part](bench)
    load = os.getloadavg()[0]
    print(f"{os.cpu_count()} processors, load {load:.1f}; best of {asked.runs} runs, of 3 for the search, of 1 for lists and batches")


if __name__ == "__main__":
    main()
