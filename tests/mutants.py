#!/usr/bin/env python3
"""Mutants of a crate, many in one build: which of them no test sees. By hand; a measurement, not a check.

    cargo install cargo-mutants
    tests/mutants.py tankwright-quantities --room ../room --take 250 --seed 10 [--more candidate/,cautions/] [--long]
    tests/mutants.py tankwright-quantities --room ../room --these left.toml

`--room` is a clone of this repository that may be spoilt: it is set back to its commit first. Each mutant taken is a copy
of its function there, chosen by the variable TANKWRIGHT_MUTANT while a test runs, so that all are built at once; what does
not compile is left out and counted. Constants, and functions that are `const`, are not reached in this way.

Each test (the crate's, and acceptance tests) runs once by itself, to learn which of the functions it reaches and how long
it takes. A mutant is then held against the tests that reach it, quick ones first, until one fails. `--long` takes tests of
minutes too.

`tests/mutants.toml` has the mutants that were left and read, each with why no test sees it: they are told from new ones,
which are printed in the same form, to be given to `--these` when tests for them are written.
"""
import argparse
import json
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
import tomllib
from collections import Counter, defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
SWITCH = '''
mod mutant {
    use std::io::Write as _;
    use std::sync::OnceLock;
    use std::sync::atomic::{AtomicBool, Ordering};
    static ON: OnceLock<usize> = OnceLock::new();
    static TOLD: OnceLock<Option<std::ffi::OsString>> = OnceLock::new();
    static REACHED: [AtomicBool; MANY] = [const { AtomicBool::new(false) }; MANY];
    pub(crate) fn on(function: usize) -> usize {
        if let Some(file) = TOLD.get_or_init(|| std::env::var_os("TANKWRIGHT_REACHED")) {
            if !REACHED[function].swap(true, Ordering::Relaxed) {
                let file = std::fs::OpenOptions::new().append(true).create(true).open(file);
                let _ = file.and_then(|mut file| file.write_all(format!("{function}\\n").as_bytes()));
            }
        }
        *ON.get_or_init(|| std::env::var("TANKWRIGHT_MUTANT").ok().and_then(|n| n.parse().ok()).unwrap_or(0))
    }
}
'''
ACCEPTANCE = ["samples::", "profiles::", "published::", "refused::", "lining::", "capacity::", "drawn::", "bars::",
              "told::", "built_rates::", "labour::", "flotation::", "slab::", "touching::", "ranks::", "vary::", "drawings",
              "checked::", "languages::", "returned::", "crosscheck::", "payments::", "lists::", "cautions", "properties::", "candidates::"]
# Words of a path, and beginnings of the tests that are tried first for what stands there.
NEAR = {"candidate": "candidates::", "cautions": "cautions", "checks": "slab::", "elements": "refused::", "job": "refused::",
        "lists": "lists::", "sketch": "drawings", "space": "drawings", "steel": "bars::"}
LONG = ["cheapest::", "nonsense::", "corpus::", "page"]


class Source:
    """A file, and where its functions' bodies stand."""

    def __init__(self, path):
        self.path, self.text = path, path.read_text()
        self.starts = [0]
        for line in self.text.split("\n"):
            self.starts.append(self.starts[-1] + len(line) + 1)

    def place(self, at):
        return self.starts[at["line"] - 1] + at["column"] - 1

    def line(self, mutant):
        """The line of a mutant as it changes it; nothing where it changes more than a line."""
        first, last = mutant["span"]["start"], mutant["span"]["end"]
        if first["line"] != last["line"] or mutant["genre"] == "FnValue":
            return ""
        start, end = self.starts[first["line"] - 1], self.starts[first["line"]]
        return (self.text[start:self.place(first)] + mutant["replacement"] + self.text[self.place(last):end]).strip()

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
        """The text with these mutants, by number; the lines of each; the function of each, named by its first mutant."""
        bodies, functions = defaultdict(list), {}
        for number, m in mutants.items():
            body, span = self.body(m["function"]), (self.place(m["span"]["start"]), self.place(m["span"]["end"]))
            if body and body[0] < span[0] and span[1] <= body[1]:
                bodies[body].append((number, *span))
        text, lines, at = "", [], 0
        for (start, end), here in sorted(bodies.items()):
            if start < at:  # a function within a function that is copied already
                continue
            functions.update((number, here[0][0]) for number, *_ in here)
            text += self.text[at:start] + f"{{ match crate::mutant::on({here[0][0]}) {{\n"
            arms = [({n}, f"{n} => {self.text[start:a]}{mutants[n]['replacement']}{self.text[b:end]}\n") for n, a, b in here]
            for numbers, arm in [*arms, ({n for n, *_ in here}, f"_ => {self.text[start:end]}\n")]:
                first = text.count("\n") + 1
                text += arm
                lines.append((first, text.count("\n"), numbers))
            text, at = text + "} }", end
        return text + self.text[at:], lines, functions


def cargo(room, *words):
    done = subprocess.run(["cargo", *words, "--message-format=json"], cwd=room, stdout=subprocess.PIPE, text=True)
    return done.returncode, [json.loads(line) for line in done.stdout.splitlines() if line.startswith("{")]


def listed(room, package):
    """Every mutant that the tool sees; elements are named by `mod` for it."""
    subprocess.run(["git", "checkout", "--quiet", "--", "crates"], cwd=room, check=True)
    elements = room / "crates/quantities/src/elements/mod.rs"
    text = elements.read_text()
    words = re.search(r"^elements! \{(.*?)^\}", text, re.S | re.M)[1].split()
    text = text.replace("$(pub mod $file;)*", "") + "".join(f"pub mod {word};\n" for word in words)
    elements.write_text(text)
    done = subprocess.run(["cargo", "mutants", "--list", "--json", "-p", package], cwd=room, capture_output=True, text=True)
    if done.returncode:
        sys.exit(f"cargo mutants does not list them: {done.stderr.strip()}")
    every = [m for m in json.loads(done.stdout) if m["package"] == package]
    sources = {name: Source(room / name) for name in sorted({m["file"] for m in every})}
    for m in every:
        m["key"] = (m["file"], re.sub(r"^.*?:\d+:\d+: ", "", m["name"]), sources[m["file"]].line(m))
    return every, sources


def plant(room, package, mutants, sources):
    """Plants what compiles; gives what does not, and the function of each that does."""
    names = {m["file"] for m in mutants.values()}
    lib = next(p for p in (room / "crates").glob("*/src/lib.rs") if f"tankwright-{p.parts[-3]}" == package)
    whole, unviable, apart = lib.read_text(), set(), set()
    switch = SWITCH.replace("MANY", str(len(mutants) + 1))
    while True:
        where, functions = {}, {}
        for name in names:
            here = {n: m for n, m in mutants.items() if m["file"] == name and n not in unviable | apart}
            text, where[name], its = sources[name].planted(here)
            sources[name].path.write_text(text)
            functions |= its
        lib.write_text((lib.read_text() if str(lib.relative_to(room)) in names else whole) + switch)
        code, messages = cargo(room, "check", "-p", package)
        if code == 0:
            return unviable, functions
        before = len(unviable | apart)
        spans = [s for m in messages if m.get("message", {}).get("level") == "error" for s in m["message"]["spans"]]
        for s in filter(lambda s: s["is_primary"], spans):
            for first, last, numbers in where.get(s["file_name"], []):
                if first <= s["line_start"] <= last:
                    (unviable if len(numbers) == 1 else apart).update(numbers)
        if len(unviable | apart) == before:
            sys.exit("the room does not compile for a reason of its own")


def fails(program, folder, words, limit, **env):
    """The first test that fails; or that it hangs or dies."""
    run = subprocess.Popen([program, "--test-threads=1", "--exact", *words], stdout=subprocess.PIPE,
                           stderr=subprocess.DEVNULL, env={**os.environ, **env}, text=True, cwd=folder,
                           start_new_session=True)
    late = []
    clock = threading.Timer(limit, lambda: (late.append(1), os.killpg(run.pid, signal.SIGKILL)))
    clock.start()
    failed = next((line.split()[1] for line in run.stdout if re.match(r"test \S+ .*FAILED", line)), None)
    if failed and run.poll() is None:
        os.killpg(run.pid, signal.SIGKILL)
    code = run.wait()
    clock.cancel()
    return failed or ("hangs" if late else "dies" if code else None)


def reached(programs):
    """Each test that reaches a mutant's function: how long it takes, where it is, its name and those functions."""
    tests = []
    for program, folder, parts in programs:
        names = subprocess.run([program, "--list", "--format=terse"], cwd=folder, capture_output=True, text=True).stdout
        names = [line.removesuffix(": test") for line in names.splitlines() if line.endswith(": test")]
        for name in filter(lambda name: any(name.startswith(part) for part in parts), names):
            with tempfile.NamedTemporaryFile() as told:
                start = time.monotonic()
                if failed := fails(program, folder, [name], 3600, TANKWRIGHT_REACHED=told.name):
                    sys.exit(f"{name} fails without any mutant ({failed})")
                took, functions = time.monotonic() - start, {int(n) for n in Path(told.name).read_text().split()}
            if functions:
                tests.append((took, program, folder, name, functions))
    return sorted(tests)


def killer(tests, number):
    """The first of these tests that sees a mutant: those of a second first, then three times as many."""
    rest, most = list(tests), 1
    while rest:
        batch, total = defaultdict(list), 0
        while rest and (not batch or total + rest[0][0] <= most):
            took, program, folder, name, _ = rest.pop(0)
            batch[program, folder].append(name)
            total += took
        for (program, folder), names in batch.items():
            if failed := fails(program, folder, names, 20 + 6 * total, TANKWRIGHT_MUTANT=str(number)):
                return failed
        most *= 3
    return None


def killed(tests, functions, mutants):
    """Each mutant with the test that sees it, if one does: all against quick tests, then what is left against the rest."""
    left = []
    for number, function in sorted(functions.items()):
        words = Path(mutants[number]["file"].split("/src/")[1]).with_suffix("").parts
        near = tuple(begins for word, begins in NEAR.items() if word in words) + (f"{words[0]}::",)
        mine = sorted((not t[3].startswith(near), *t) for t in tests if function in t[4])
        mine, quick, total = [t[1:] for t in mine], [], 0
        while mine and total + mine[0][0] <= 20:
            total += mine[0][0]
            quick.append(mine.pop(0))
        if by := killer(quick, number):
            yield number, by
        else:
            left.append((number, mine))
    print(f"{len(left)} are left by quick tests", *(n for n, _ in left), flush=True)
    for number, rest in left:
        yield number, killer(rest, number)


def blocks(file):
    return [{**b, "key": (b["file"], b["change"], b.get("line", ""))} for b in tomllib.loads(file.read_text())["left"]]


def main():
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("package")
    asked.add_argument("--room", type=Path, required=True)
    asked.add_argument("--take", type=int, help="how many, 400; none besides `--these` where it is not said")
    asked.add_argument("--seed", type=int, default=8)
    asked.add_argument("--only", default="", help="parts of paths, with commas between")
    asked.add_argument("--more", default="-", help="parts of paths whose mutants are taken three times as likely")
    asked.add_argument("--these", type=Path, help="mutants as printed by a run before")
    asked.add_argument("--long", action="store_true")
    asked = asked.parse_args()
    room = asked.room.resolve()
    if room == HERE.parent or not (room / "Cargo.toml").exists():
        sys.exit("--room: a clone of the repository that may be spoilt")
    every, sources = listed(room, asked.package)
    known = {b["key"]: b["why"] for b in blocks(HERE / "mutants.toml")}
    for gone in sorted(set(known) - {m["key"] for m in every}):
        print("no such mutant any more:", *gone)
    these = {b["key"] for b in blocks(asked.these)} if asked.these else set()
    draw, weigh = random.Random(asked.seed), {True: 3, False: 1}
    lots = [(draw.random() ** (1 / weigh[any(part in m["file"] for part in asked.more.split(","))]), n)
            for n, m in enumerate(every)]
    lots = [n for _, n in sorted(lots, reverse=True) if any(part in every[n]["file"] for part in asked.only.split(","))]
    lots = set(lots[:asked.take if asked.take is not None else 0 if these else 400])
    taken = [m for n, m in enumerate(every) if n in lots or m["key"] in these]
    taken = dict(enumerate(taken, 1))
    unviable, functions = plant(room, asked.package, taken, sources)
    print(f"{len(every)} listed, {len(taken)} taken, {len(unviable)} do not compile, "
          f"{len(taken) - len(unviable) - len(functions)} constants", flush=True)
    _, messages = cargo(room, "test", "--no-run", "-p", asked.package, "-p", "tankwright-tests")
    built = {m["target"]["name"]: m["executable"] for m in messages if m.get("executable")}
    crate = room / next(iter(taken.values()))["file"].split("/src/")[0]
    tests = reached([(built[asked.package.replace("-", "_")], crate, [""]),
                     (built["acceptance"], room / "tests", [*ACCEPTANCE, *(LONG if asked.long else [])])])
    print(f"{len(tests)} tests reach one, {sum(t[0] for t in tests):.0f} s", flush=True)
    seen, fresh = Counter(), []
    for number, by in killed(tests, functions, taken):
        mutant = taken[number]
        what = "killed" if by else "known" if mutant["key"] in known else "left"
        seen[what] += 1
        if what == "left":
            fresh.append(mutant)
        print(f"{'killed by ' + by if by else what.upper():<70} {mutant['name']}", flush=True)
        if by and mutant["key"] in known:
            print("    is among those that no test sees")
    print(f"{len(functions)} held against the tests: {seen['killed']} killed, {seen['known']} left as known, "
          f"{seen['left']} left and new")
    for m in fresh:
        print("\n[[left]]", *(f"{name} = {json.dumps(text)}" for name, text in zip(("file", "change", "line"), m["key"]) if text),
              'why = ""', sep="\n")


if __name__ == "__main__":
    main()
