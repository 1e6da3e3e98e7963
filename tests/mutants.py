#!/usr/bin/env python3
"""Mutants of a crate, many in one build: which of them no test sees. By hand; a measurement, not a check.

    cargo install cargo-mutants
    cargo mutants --list --json -p tankwright-quantities > list.json
    tests/mutants.py list.json --room ../room --take 400 --seed 8 [--only ledger,elements] [--long]

`--room` is a clone of this repository that may be spoilt. Each mutant taken is a copy of its function there, chosen by
the variable TANKWRIGHT_MUTANT while a test runs, so that all are built at once; what does not compile is left out and
counted. Each is run against its module's own tests, the crate's, then the acceptance tests, quick ones first, until one
fails. `--long` runs those of minutes too. Constants, and functions that are `const`, are not reached in this way.
"""
import argparse
import json
import os
import random
import re
import signal
import subprocess
import sys
import threading
from collections import Counter, defaultdict
from pathlib import Path

SWITCH = '''
mod mutant {
    static ON: std::sync::OnceLock<usize> = std::sync::OnceLock::new();
    pub(crate) fn on() -> usize {
        *ON.get_or_init(|| std::env::var("TANKWRIGHT_MUTANT").ok().and_then(|n| n.parse().ok()).unwrap_or(0))
    }
}
'''
QUICK = ["samples::", "profiles::", "published::", "refused::", "lining::", "capacity::", "drawn::", "bars::bars", "told::"]
REST = ["built_rates::", "labour::", "flotation::", "slab::", "touching::", "ranks::", "vary::", "drawings", "checked::",
        "languages::", "returned::", "crosscheck::", "payments::", "lists::", "cautions::", "properties::"]
LONG = ["candidates::", "cheapest::", "nonsense::", "corpus::", "page", "bars::marks"]


class Source:
    """A file, and where its functions' bodies stand."""

    def __init__(self, path):
        self.path, self.text = path, path.read_text()
        self.starts = [0]
        for line in self.text.split("\n"):
            self.starts.append(self.starts[-1] + len(line) + 1)

    def place(self, at):
        return self.starts[at["line"] - 1] + at["column"] - 1

    def body(self, function):
        """From the opening brace to behind the closing one; None for `const` and for what has no function."""
        if not function:
            return None
        start, end = self.place(function["span"]["start"]), self.place(function["span"]["end"])
        name = re.findall(r"\w+", re.sub(r"<.*>", "", function["function_name"].split("::")[-1]))[-1]
        head = re.compile(rf"(const\s+)?\bfn\s+{name}\b").search(self.text, start, end)
        if not head or head[1]:
            return None
        depth, at = 0, head.end()
        while at < end and (depth or self.text[at] != "{"):
            depth += (self.text[at] in "([") - (self.text[at] in ")]")
            at += 1
        return at, end

    def planted(self, mutants):
        """The text with these mutants, by number; the lines of each; which could not be planted."""
        bodies, left = defaultdict(list), set()
        for number, m in mutants.items():
            body, span = self.body(m["function"]), (self.place(m["span"]["start"]), self.place(m["span"]["end"]))
            if body and body[0] < span[0] and span[1] <= body[1]:
                bodies[body].append((number, *span))
            else:
                left.add(number)
        text, lines, at = "", [], 0
        for (start, end), here in sorted(bodies.items()):
            if start < at:  # a function within a function that is copied already
                left.update(number for number, *_ in here)
                continue
            text += self.text[at:start] + "{ match crate::mutant::on() {\n"
            arms = [({n}, f"{n} => {self.text[start:a]}{mutants[n]['replacement']}{self.text[b:end]}\n") for n, a, b in here]
            for numbers, arm in [*arms, ({n for n, *_ in here}, f"_ => {self.text[start:end]}\n")]:
                first = text.count("\n") + 1
                text += arm
                lines.append((first, text.count("\n"), numbers))
            text, at = text + "} }", end
        return text + self.text[at:], lines, left


def cargo(room, *words):
    done = subprocess.run(["cargo", *words, "--message-format=json"], cwd=room, stdout=subprocess.PIPE, text=True)
    return done.returncode, [json.loads(line) for line in done.stdout.splitlines() if line.startswith("{")]


def plant(room, package, mutants):
    """Plants what compiles; gives what does not, and what cannot be planted."""
    names = {m["file"] for m in mutants.values()}
    lib = next(p for p in (room / "crates").glob("*/src/lib.rs") if f"tankwright-{p.parts[-3]}" == package)
    sources = {name: Source(room / name) for name in names}
    whole, unviable, apart = lib.read_text(), set(), set()
    while True:
        where = {}
        for name, source in sources.items():
            here = {n: m for n, m in mutants.items() if m["file"] == name and n not in unviable | apart}
            text, where[name], left = source.planted(here)
            source.path.write_text(text)
            apart |= left
        lib.write_text((lib.read_text() if str(lib.relative_to(room)) in names else whole) + SWITCH)
        code, messages = cargo(room, "check", "-p", package)
        if code == 0:
            return unviable, apart
        before = len(unviable | apart)
        spans = [s for m in messages if m.get("message", {}).get("level") == "error" for s in m["message"]["spans"]]
        for s in filter(lambda s: s["is_primary"], spans):
            for first, last, numbers in where.get(s["file_name"], []):
                if first <= s["line_start"] <= last:
                    (unviable if len(numbers) == 1 else apart).update(numbers)
        if len(unviable | apart) == before:
            sys.exit("the room does not compile for a reason of its own")


def fails(program, folder, number, words, limit):
    """The first test that fails under a mutant; or that it hangs or dies."""
    env = {**os.environ, "TANKWRIGHT_MUTANT": str(number)}
    run = subprocess.Popen([program, "--test-threads=1", *words], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                           env=env, text=True, cwd=folder, start_new_session=True)
    late = []
    clock = threading.Timer(limit, lambda: (late.append(1), os.killpg(run.pid, signal.SIGKILL)))
    clock.start()
    failed = next((line.split()[1] for line in run.stdout if re.match(r"test \S+ .*FAILED", line)), None)
    if failed and run.poll() is None:
        os.killpg(run.pid, signal.SIGKILL)
    code = run.wait()
    clock.cancel()
    return failed or ("hangs" if late else "dies" if code else None)


def main():
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("list", type=Path)
    asked.add_argument("--room", type=Path, required=True)
    asked.add_argument("--take", type=int, default=400)
    asked.add_argument("--seed", type=int, default=8)
    asked.add_argument("--only", default="", help="parts of paths, with commas between")
    asked.add_argument("--long", action="store_true")
    asked = asked.parse_args()
    room = asked.room.resolve()
    if room == Path(__file__).resolve().parents[1] or not (room / "Cargo.toml").exists():
        sys.exit("--room: a clone of the repository that may be spoilt")
    every = [m for m in json.loads(asked.list.read_text()) if any(part in m["file"] for part in asked.only.split(","))]
    taken = dict(enumerate(random.Random(asked.seed).sample(every, min(asked.take, len(every))), 1))
    package = every[0]["package"]
    unviable, apart = plant(room, package, taken)
    _, messages = cargo(room, "test", "--no-run", "-p", package, "-p", "tankwright-tests")
    built = {m["target"]["name"]: m["executable"] for m in messages if m.get("executable")}
    own, all_of_it = built[package.replace("-", "_")], built["acceptance"]
    crate = room / every[0]["file"].split("/src/")[0]
    wide = [QUICK, REST, LONG] if asked.long else [QUICK, REST]
    rounds = [(own, crate, [], 900), *((all_of_it, room / "tests", words, 3600) for words in wide)]
    for program, folder, words, limit in rounds:
        if failed := fails(program, folder, 0, words, limit):
            sys.exit(f"{failed} fails without any mutant")
    seen = Counter()
    for number in sorted(set(taken) - unviable - apart):
        module = Path(taken[number]["file"].split("/src/")[1]).with_suffix("").parts[0]
        first = (own, crate, [f"{module}::"], 900)
        tried = (fails(program, folder, number, words, limit) for program, folder, words, limit in [first, *rounds])
        by = next(filter(None, tried), None)
        seen["killed" if by else "left"] += 1
        print(f"{'killed by ' + by if by else 'LEFT':<70} {taken[number]['name']}", flush=True)
    print(f"{len(every)} listed, {len(taken)} taken, {len(unviable)} do not compile, {len(apart)} constants: "
          f"{seen['killed']} killed, {seen['left']} left")


if __name__ == "__main__":
    main()
