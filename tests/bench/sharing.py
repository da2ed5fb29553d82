"""The price of the next one: 17 values of a range against one estimate, as commands and within one process."""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator

from tests.bench.cold import ROOT, seconds

JOB = ROOT / "examples" / "pottery-studio"
RANGE = "points.S.spread=8..24"
ROUNDS = 5


def run() -> Iterator[str]:
    """Medians of alternating runs of both commands, files and all; then of both without reading or writing anything."""
    one, many = [], []
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(ROUNDS + 1):
            one.append(seconds(sys.executable, "-m", "estimator", "estimate", str(JOB), "-o", folder))
            typed = ("compare", str(JOB), "--scenario", "sixteen sockets", "--each", RANGE, "-o", folder)
            many.append(seconds(sys.executable, "-m", "estimator", *typed))
    first, second = statistics.median(one[1:]), statistics.median(many[1:])
    yield f"commands: estimate {first:.2f} s, compare with 17 values {second:.2f} s: ratio {second / first:.2f} (aim: under 3)"
    alone, apart, shared = _in_process()
    yield (
        f"in one process: an estimate {alone * 1000:.0f} ms, 17 values one by one {apart * 1000:.0f} ms, sharing "
        f"{shared * 1000:.0f} ms: {shared / alone:.1f} times one, {apart / shared:.2f} times faster than one by one"
    )


def _in_process() -> tuple[float, float, float]:
    from estimator.catalogue.read import read_catalogue
    from estimator.compare.changes import Changes
    from estimator.compare.each import Sweep, each
    from estimator.compare.variants import variant
    from estimator.job.read import job_tree
    from estimator.problems import Place

    catalogue, tree, place = read_catalogue(JOB), job_tree(JOB)[0], Place("--each")
    variant(tree, catalogue, "", Changes())  # imports and first calls are no part of what is measured

    def timed(work: Callable[[], object]) -> float:
        start = time.perf_counter()
        work()
        return time.perf_counter() - start

    def one_by_one() -> None:
        for value in range(8, 25):
            variant(tree, catalogue, "", Changes(change=(("points.S.spread", value),), place=place))

    return (
        statistics.median(timed(lambda: variant(tree, catalogue, "", Changes())) for _ in range(ROUNDS)),
        statistics.median(timed(one_by_one) for _ in range(3)),
        statistics.median(
            timed(lambda: each(tree, catalogue, Sweep("points.S.spread", 8, 24), place)) for _ in range(3)
        ),
    )
