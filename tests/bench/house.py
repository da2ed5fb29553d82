"""The two-storey house: whole and cold against a bare import, its memory, and growth from 1 to 16 copies of it."""

import contextlib
import math
import resource
import runpy
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.bench.cold import BARE, USERS, seconds
from tests.houses import FOLDER, copies, house

ROOT = Path(__file__).resolve().parent.parent.parent
ROUNDS = 5
COPIES = (1, 2, 4, 8, 16)
APART_MM = 14_000
"""From one copy to the next: they stand free, as houses in a street."""


def run() -> Iterator[str]:
    """Medians of alternating runs for the one house; then seconds, memory and the exponent for many."""
    bare, whole = [], []
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(ROUNDS + 1):
            bare.append(seconds(sys.executable, "-c", BARE))
            whole.append(seconds(sys.executable, "-m", "estimator", "estimate", str(FOLDER), "-o", folder))
        memory = _child("cold", folder).split()[-1]
    first, second = statistics.median(bare[1:]), statistics.median(whole[1:])
    yield f"bare import {first:.2f} s, estimate {second:.2f} s: ratio {second / first:.2f} (aim: under 3); {memory} MB at most"
    spent = []
    for count in COPIES:
        taken, points, proven, circuits, memory = _child("copies", str(count)).split()
        spent.append(float(taken))
        yield f"{count:2d} houses, {points} points: {taken} s, {proven} of {circuits} circuits proven, {memory} MB at most"
    yield f"grows as n^{_exponent(COPIES, spent):.2f} (aim: n^1.3 or less)"


def _child(*arguments: str) -> str:
    """What a run of this module says, which tells its own memory last."""
    command = [sys.executable, "-m", "tests.bench.house", *arguments]
    return subprocess.run(command, check=True, capture_output=True, cwd=ROOT, text=True, env=USERS).stdout


def _exponent(counts: Sequence[int], seconds: Sequence[float]) -> float:
    """The slope of the straight line that best fits the logarithms."""
    slope, _ = statistics.linear_regression([math.log(n) for n in counts], [math.log(s) for s in seconds])
    return slope


def _cold(folder: str) -> None:
    """The command, as a user would start it."""
    sys.argv = ["studbay", "estimate", str(FOLDER), "-o", folder]
    with contextlib.suppress(SystemExit):
        runpy.run_module("estimator", run_name="__main__")


def _work_out(count: int) -> None:
    """Prints the seconds of an estimate of so many houses, their points, and how many circuits are proven of how many."""
    from estimator.catalogue.read import read_catalogue
    from estimator.estimate import estimate

    catalogue, one = read_catalogue(FOLDER), house()
    estimate(one, catalogue)  # imports and first calls are no part of what is measured
    job = copies(one, count, APART_MM)
    start = time.perf_counter()
    worked = estimate(job, catalogue)
    taken = time.perf_counter() - start
    proven = sum(circuit.proven for circuit in worked.routes.circuits)
    print(f"{taken:.2f} {len(worked.setout.points)} {proven} {len(job.circuits)}")


def _peak_mb() -> int:
    """The most memory this process has held; what its parent held before is no part of it where the system tells."""
    status = Path("/proc/self/status")
    if not status.exists():
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM:"))
    return int(line.split()[1]) // 1024


if __name__ == "__main__":
    if sys.argv[1] == "cold":
        _cold(sys.argv[2])
    else:
        _work_out(int(sys.argv[2]))
    print(_peak_mb())
