"""The one door to HiGHS: out comes a silent solver with fixed seed; nothing is ever written to standard output.

Imported only by functions that solve, since it brings numpy with it.
"""

import os
import sys
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from highspy import Highs


class SolverFailed(RuntimeError):
    """HiGHS refused an option, a row or a run: a fault of ours, never of what the user wrote."""


def quiet_highs(**options: bool | int | float | str) -> "Highs":
    """A fresh solver that prints nothing, with `options` set (HiGHS option names).

    The number of threads is left alone: it belongs to the whole process, and a second value makes every later run fail.
    Call `must` on what `run` and the like return.

    Raises:
        SolverFailed: HiGHS does not know an option or refuses its value.
    """
    _greet()
    from highspy import Highs

    solver = Highs()  # type: ignore[no-untyped-call]  # its stub leaves __init__ untyped
    settings: dict[str, bool | int | float | str] = {"output_flag": False, "log_to_console": False, "random_seed": 0}
    for name, value in (settings | options).items():
        must(solver.setOptionValue(name, value), f"option {name} = {value!r}")
    return solver


def must(status: object, what: str) -> None:
    """Check the status a call of HiGHS gave back: it reports failure by value and never by exception.

    Raises:
        SolverFailed: the status is an error.
    """
    from highspy import HighsStatus

    if status == HighsStatus.kError:
        raise SolverFailed(f"HiGHS: {what} failed")


@cache
def _greet() -> None:
    """Let the first `Highs()` of the process print its banner into the null device.

    It is written to file descriptor 1 by the library itself, before any option can forbid it, so only exchanging the
    descriptor helps. A process without standard output has nothing to protect.
    """
    if sys.stdout is not None and not sys.stdout.closed:
        sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:
        kept = -1
    null = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(null, 1)
        from highspy import Highs

        Highs()  # type: ignore[no-untyped-call]  # its stub leaves __init__ untyped
    finally:
        if kept >= 0:
            os.dup2(kept, 1)
            os.close(kept)
        else:
            os.close(1)
        if null != 1:
            os.close(null)
