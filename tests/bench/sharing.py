"""A sweep of 17 values on the studio against one estimate of it: in one process, and as commands (user and system time)."""

import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator

from estimator.catalogue.read import read_catalogue
from estimator.compare.each import Sweep, each
from estimator.estimate import estimate
from estimator.job.crosscheck import crosscheck
from estimator.job.read import job_tree, read_tree
from estimator.memory import NOTHING, Memory
from estimator.problems import Place
from tests.bench.cold import ROOT, USERS

STUDIO = ROOT / "examples" / "pottery-studio"
ROUNDS = 5
SWEPT = "points.S.spread=8..24"
POINTS = Sweep("points.S.spread", 8, 24)


def run() -> Iterator[str]:
    """Medians of alternating runs; a sweep without a memory is what it would cost to work every value out whole."""
    tree, catalogue = job_tree(STUDIO)[0], read_catalogue(STUDIO)

    def one() -> None:
        job, _ = read_tree(tree, catalogue)
        if not crosscheck(job, catalogue):
            estimate(job, catalogue)

    def swept(memory: Callable[[], Memory]) -> Callable[[], None]:
        return lambda: void(each(tree, catalogue, POINTS, Place("--each"), memory()))

    plain, whole, shared = _medians(_processor, (one, swept(lambda: NOTHING), swept(Memory)))
    yield f"in one process: estimate {plain:.3f} s, 17 values {shared:.3f} s: ratio {shared / plain:.1f}"
    yield f"the same values without sharing {whole:.3f} s: ratio {whole / plain:.1f}"
    with tempfile.TemporaryDirectory() as folder:
        commands = (
            _command("estimate", str(STUDIO), "-o", folder),
            _command("compare", str(STUDIO), "--each", SWEPT),
        )
        first, second = _medians(_children, commands)
    yield f"as commands: estimate {first:.2f} s, 17 values {second:.2f} s: ratio {second / first:.2f} (aim: under 3)"


def void(_: object) -> None:
    """Nothing of a result."""


def _command(*words: str) -> Callable[[], None]:
    command = [sys.executable, "-m", "estimator", *words]
    return lambda: void(subprocess.run(command, check=True, capture_output=True, cwd=ROOT, env=USERS))


def _medians(clock: Callable[[], float], jobs: tuple[Callable[[], None], ...]) -> list[float]:
    """Seconds of each, the first round left out."""
    spent: list[list[float]] = [[] for _ in jobs]
    for _ in range(ROUNDS + 1):
        for own, job in zip(spent, jobs, strict=True):
            start = clock()
            job()
            own.append(clock() - start)
    return [statistics.median(own[1:]) for own in spent]


def _processor() -> float:
    return time.process_time()


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime
