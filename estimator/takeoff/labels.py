"""Names of many points as a person would write them: `S1 to S12, S14`."""

from collections.abc import Iterable


def ids_as_text(points: Iterable[tuple[str, int]]) -> str:
    """Groups and numbers as text, neighbours drawn together; `points` may come in any order."""
    runs: list[tuple[str, int, int]] = []
    for group, number in sorted(set(points)):
        if runs and runs[-1][0] == group and runs[-1][2] == number - 1:
            runs[-1] = (group, runs[-1][1], number)
        else:
            runs.append((group, number, number))
    return ", ".join(_run(*run) for run in runs)


def _run(group: str, first: int, last: int) -> str:
    if first == last:
        return f"{group}{first}"
    joint = ", " if last == first + 1 else " to "
    return f"{group}{first}{joint}{group}{last}"
