"""Rules of measured lengths: ends, circuits and runs that are there. Whether there is such a leg, routing will tell."""

from collections.abc import Iterator

from estimator.job.known import Known
from estimator.job.rules_names import OUTSIDE
from estimator.job.table import Table
from estimator.problems import Problem, choose, nearest


def check(known: Known) -> Iterator[Problem]:
    """Every rule of every measured length."""
    for measured in known.job.tables("as_built"):
        yield from _owner(known, measured)
        yield from _ends(known, measured)


def _owner(known: Known, measured: Table) -> Iterator[Problem]:
    circuit, run = measured.get("circuit", str), measured.get("run", str)
    if circuit is not None and run is not None:
        yield measured.problem("run", "a circuit and a run are both named", "keep one of them")
    names = (*known.named["circuit"], *known.named["control"])
    if circuit is not None and circuit not in names and known.complete("circuit") and known.complete("control"):
        yield measured.problem("circuit", f'there is no circuit or control "{circuit}"', choose(circuit, names))
    yield from known.refer(measured, "run", "run", run)


def _ends(known: Known, measured: Table) -> Iterator[Problem]:
    outside = {end for run in known.job.tables("run") for key in ("from", "to") if (end := run.get(key, str))}
    for key in ("from", "to"):
        end = measured.get(key, str)
        if end is None or known.find("board", end) or known.group_of(end) or end in outside:
            continue
        if known.complete("board") and known.complete("points") and known.complete("run"):
            near = nearest(end, _places(known, outside))
            hint = f'did you mean "{near}"?' if near else known.point_hint(end)
            yield measured.problem(key, f'there is no board or point "{end}"', hint)
    if measured.get("from", str) is not None and measured.get("from", str) == measured.get("to", str):
        yield measured.problem("to", "a leg has two different ends", "name its other end")


def _places(known: Known, outside: set[str]) -> list[str]:
    return [*known.named["board"], *sorted(end for end in outside if end.startswith(OUTSIDE))]
