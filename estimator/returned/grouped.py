"""Problems of one kind in many cells: problems go in, the first few of each kind and one for the rest of it come out."""

import re
from collections.abc import Iterable

from estimator.problems import Problem

FEW = 5
"""So many problems of one kind are told one by one."""
ACCEPT = "--accept"
SHOWN = 3
"""Of more, so many; the cells of the others stand in one sentence."""


def grouped(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in their order, each once; every place is named, so that all can be mended in one go."""
    of = tuple(dict.fromkeys(problems))
    kinds: dict[tuple[str, str], list[Problem]] = {}
    for problem in of:
        kinds.setdefault(_kind(problem), []).append(problem)
    told = []
    for problem in of:
        same = kinds[_kind(problem)]
        at = same.index(problem)
        if len(same) <= FEW or at < SHOWN:
            told.append(problem)
        elif at == SHOWN:
            told.append(_rest(same[SHOWN:]))
    return tuple(told)


def _kind(problem: Problem) -> tuple[str, str]:
    """File and sheet, and what is wrong without its figures and quoted words; all that may be accepted is of one kind."""
    if ACCEPT in problem.write:
        return (problem.place.file.partition("!")[0], ACCEPT)
    bare = re.sub(r"\d[\d.,]*", "0", re.sub(r"\"[^\"]*\"", "0", problem.found))
    return problem.place.file.partition("!")[0], bare


def _rest(same: list[Problem]) -> Problem:
    cells = ", ".join(_cell(problem) for problem in same)
    write = "mend them in the same way"
    if all(ACCEPT in problem.write for problem in same):
        lines = ",".join(problem.where.removeprefix("line ") for problem in same)
        write = f"see what they are for; if they are right, add {ACCEPT} {lines}"
    return Problem(same[0].place, "", f"{len(same)} more of the same kind: {cells}", write)


def _cell(problem: Problem) -> str:
    """Where it is, in short: a cell of the sheet, else the line."""
    file, _, cell = str(problem.place).rpartition("!")
    return cell if file else f"row {problem.place.line}" if problem.place.line else problem.where
