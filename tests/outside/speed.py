#!/usr/bin/env python3
"""Time and memory of `estimate samples/rest-house/job.toml`, whole process. A measurement, not a check.

    cargo build --release && python3 tests/outside/speed.py --program target/release/tankwright [--runs 20]

Needs nothing but Python on Linux. Memory is the largest resident set that the system saw of any run; Linux counts
what this script itself held when it started the program, so a figure at the script's own size is an upper bound.
"""
import argparse
import os
import resource
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
JOB = "samples/rest-house/job.toml"
MOST_MS, MOST_MB = 20, 40


def once(program, folder):
    """Milliseconds and megabytes of one run."""
    quiet = [(os.POSIX_SPAWN_OPEN, fd, os.devnull, os.O_WRONLY, 0) for fd in (1, 2)]
    start = time.perf_counter()
    child = os.posix_spawn(program, [program, "estimate", JOB, "--out", folder], os.environ, file_actions=quiet)
    _, status, usage = os.wait4(child, 0)
    took = (time.perf_counter() - start) * 1000
    if status:
        sys.exit(f"estimate failed: status {status}")
    return took, usage.ru_maxrss / 1024


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--program", required=True)
    words.add_argument("--runs", type=int, default=20)
    asked = words.parse_args()
    program = str(Path(asked.program).resolve())
    os.chdir(ROOT)
    with tempfile.TemporaryDirectory() as folder:
        runs = [once(program, folder) for _ in range(max(1, asked.runs))]
    best, middle = min(t for t, _ in runs), sorted(t for t, _ in runs)[len(runs) // 2]
    memory, own = max(m for _, m in runs), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"time    best {best:.1f} ms, middle {middle:.1f} ms of {len(runs)} runs; {best / MOST_MS:.2f} of {MOST_MS} ms")
    print(f"memory  {memory:.1f} MB; {memory / MOST_MB:.2f} of {MOST_MB} MB (this script itself: {own:.1f} MB)")


if __name__ == "__main__":
    main()
