"""Rules of the ground: figures of trenches and of where runs enter that nobody can have meant.

What is only unlikely is no problem but a question of the estimate, since nothing here can be overridden.
"""

from collections.abc import Iterator

from estimator.job.known import Known
from estimator.job.table import Table
from estimator.problems import Problem

POSSIBLE_MM = {"length": (100, None), "depth": (50, 3000), "width": (30, 3000)}
"""Least and most of a stretch of trench. Narrower than the blade of a spade cuts or deeper than a bank can stand without
shoring throughout, it is no trench for a cable (common practice)."""
HIGHEST_ENTRY_MM = 20_000
"""No cable leaves the ground and goes up outside a building further than this in one piece without a place of its own."""


def check(known: Known) -> Iterator[Problem]:
    """Figures of every stretch of every trench, and the entry of every run, that are beyond what can be."""
    for trench in known.job.tables("trench"):
        for stretch in trench.tables("stretches"):
            for key, (least, most) in POSSIBLE_MM.items():
                yield from _within(stretch, key, least, most)
    for run in known.job.tables("run"):
        yield from _within(run, "entry", 0, HIGHEST_ENTRY_MM)


def _within(table: Table, key: str, least_mm: int, most_mm: int | None) -> Iterator[Problem]:
    given = table.get(key, int)
    if given is None:
        return
    if given < least_mm:
        found = f"{given} mm is too little for the {key} of a trench"
        yield table.problem(key, found, f'check the unit; write at least "{least_mm} mm"')
    elif most_mm is not None and given > most_mm:
        found = f"{given} mm is too much for the {key} of a {'run' if key == 'entry' else 'trench'}"
        yield table.problem(key, found, f'check the unit; write at most "{most_mm} mm"')
