"""The program under test, and a tally of what was checked."""
import json
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = tuple(sorted(path.parent.name for path in (ROOT / "samples").glob("*/job.toml")))


class Program:
    """Runs the binary from the repository's root, so that papers name the same paths on any machine."""

    def __init__(self, path):
        self.path = Path(path).resolve()

    def run(self, *words):
        """Exit code, standard output and standard error."""
        command = [str(self.path), *map(str, words)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, cwd=ROOT)
        return done.returncode, done.stdout, done.stderr

    def need(self, *words):
        """Standard output of a run that must succeed."""
        code, out, err = self.run(*words)
        if code:
            raise Wrong(f"{' '.join(map(str, words))}: exit {code}\n{err}")
        return out

    def json(self, *words):
        return json.loads(self.need(*words, "--format", "json"))

    def workbook(self, job, folder, *more):
        """The workbook that `estimate` writes into a folder of its own."""
        self.need("estimate", job, "--out", folder, *more)
        found = sorted(Path(folder).glob("*.xlsx"))
        if len(found) != 1:
            raise Wrong(f"estimate {job}: {len(found)} workbooks")
        return found[0]


class Wrong(Exception):
    """A check that does not hold, in words."""


class Tally:
    """Counts checks; a failed one is printed and the rest go on."""

    def __init__(self):
        self.passed = self.failed = 0

    def check(self, name, work, *arguments):
        """Runs one check: any exception fails it."""
        try:
            result = work(*arguments)
        except Exception as fault:  # the next check must still run
            self.failed += 1
            kind = "" if isinstance(fault, Wrong) else type(fault).__name__ + ": "
            print(f"FAILED {name}: {kind}{fault}", flush=True)
            return None
        self.passed += 1
        return result


def sample(name):
    return Path("samples") / name / "job.toml"
