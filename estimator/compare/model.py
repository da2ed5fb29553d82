"""What a comparison gives: the job as it stands, the job with each scenario, what one more costs, what a limit buys."""

from dataclasses import dataclass

from estimator.compare.changes import Changes
from estimator.compare.differences import Differences
from estimator.compare.each import Step, Sweep
from estimator.compare.edits import Edit
from estimator.compare.later import Later
from estimator.compare.options_model import Option
from estimator.compare.puts import Put
from estimator.compare.sure import Sureness
from estimator.compare.variants import Variant
from estimator.compare.within import Within
from estimator.result import Estimate


@dataclass(frozen=True, slots=True)
class Column:
    """One scenario beside the job: what changes (None where it cannot be worked out), and what it would cost later.

    `option` is the one it names, `puts` where what it adds stands, `edits` what would make it part of the job.
    """

    variant: Variant
    differences: Differences | None
    later: Later | None
    option: Option | None = None
    puts: tuple[Put, ...] = ()
    edits: tuple[Edit, ...] = ()


@dataclass(frozen=True, slots=True)
class Swept:
    """One range of values: what was asked, and the job at each."""

    sweep: Sweep
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that one comparison was asked for; scenarios in the order of the job file, then as typed.

    Ranges and the limit start from `start`: the job with the changes `first` made, or as it stands where there are none.
    """

    base: Estimate
    sure: Sureness
    columns: tuple[Column, ...]
    swept: tuple[Swept, ...]
    within: Within | None
    start: Estimate
    first: Changes | None = None
