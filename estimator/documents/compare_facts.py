"""What every document of a comparison tells, put side by side once: a `Comparison` goes in, rows of figures and words out.

Figures are those of the comparison; nothing is worked out here but which rows there are and what they are called.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.compare.differences import Differences, Row
from estimator.compare.model import Column, Comparison, Swept
from estimator.documents.compare_packs import part_words
from estimator.documents.words import LEVEL_TITLES, number
from estimator.problems import Problem

AS_IT_STANDS = "as it stands"
HOLES = {"stud": "in studs", "plate": "in plates", "joist": "in joists", "wall": "through walls"}
WHOSE = {"self": "your own", "electrician": "the electrician's"}
FIGURES_MATTER = ("stop", "ask")
"""Findings of these levels are told when only their figures change; of others the workbook has all."""


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure of the job as it stands and with each scenario; None where that cannot be worked out."""

    group: str
    name: str
    unit: str
    before: Decimal
    after: tuple[Decimal | None, ...]

    @property
    def more(self) -> tuple[Decimal | None, ...]:
        """After less before, for each scenario."""
        return tuple(None if after is None else after - self.before for after in self.after)


def start_words(of: Comparison) -> str:
    """What ranges and a limit start from: the job as it stands, or with what was typed."""
    return "the job as it stands" if of.first is None else "the job with what you typed"


def figure_rows(base: Comparison, columns: Sequence[Column]) -> tuple[FigureRow, ...]:
    """Points, metres, holes and likely hours that at least one of these scenarios changes, in that order.

    A change too small to be seen, to one decimal, is none.
    """
    catalogue = base.base.catalogue
    return (
        *_rows(columns, "Points", "nr", lambda of: of.points, lambda name: catalogue.points[name].label),
        *_rows(columns, "Metres", "m", lambda of: of.metres, lambda name: part_words(catalogue.parts[name])),
        *_rows(columns, "Holes", "nr", lambda of: of.holes, lambda name: HOLES.get(name, name)),
        *_rows(columns, "Hours, likely", "h", hours_of, lambda name: WHOSE[name]),
    )


def hours_of(found: Differences) -> tuple[Row, ...]:
    """Likely hours as plain rows."""
    return tuple(Row(row.who, row.before.likely, row.after.likely) for row in found.hours)


def _rows(
    columns: Sequence[Column],
    group: str,
    unit: str,
    of: Callable[[Differences], Iterable[Row]],
    named: Callable[[str], str],
) -> Iterator[FigureRow]:
    found = [None if one.differences is None else {row.name: row for row in of(one.differences)} for one in columns]
    before = {name: row.before for rows in found if rows is not None for name, row in rows.items()}
    for name in sorted(before, key=_place):
        after = tuple(None if rows is None else rows[name].after if name in rows else before[name] for rows in found)
        if any(value is not None and number(value, 1) != number(before[name], 1) for value in after):
            yield FigureRow(group, named(name), unit, before[name], after)


def _place(name: str) -> tuple[int, str]:
    """Holes and hours in the order of `HOLES` and `WHOSE`, all else by name."""
    order = (*HOLES, *WHOSE)
    return (order.index(name) if name in order else len(order), name)


def reasons(problems: Iterable[Problem]) -> tuple[str, ...]:
    """Why something cannot be worked out, each reason once: `points.S.spread: 40 do not fit; write 21 or fewer`."""
    return tuple(dict.fromkeys(_reason(problem) for problem in problems))


def _reason(problem: Problem) -> str:
    # An address that names nothing is told in the message already.
    where = f"{problem.where}: " if problem.where and problem.where not in problem.found else ""
    hint = f"; {problem.write}" if problem.write else ""
    return f"{where}{problem.found}{hint}"


def finding_words(finding: Finding) -> str:
    """A finding under its heading: `Ask your electrician: bench sockets: 4.1 %, limit 3 % ...`."""
    return f"{LEVEL_TITLES[finding.level]}: {finding.subject}: {finding.message}"


def reworded(found: Differences) -> tuple[tuple[Finding, Finding], ...]:
    """Findings that stay with other figures, as far as they are to be settled or asked."""
    return tuple(pair for pair in found.reworded if pair[0].level in FIGURES_MATTER)


def address_words(base: Comparison, address: str) -> str:
    """What an address is about, for people: `S, double socket`; else the address as it was written."""
    catalogue: Catalogue = base.start.catalogue
    for group in base.start.job.groups:
        if address.startswith((f"points.{group.name}.", f'points."{group.name}".')):
            return f"{group.name}, {lower(catalogue.points[group.kind].label)}"
    return address


def sweep_title(base: Comparison, swept: Swept) -> str:
    """What is asked of a range: `S, double socket (points.S.spread), from 8 to 24`."""
    asked = swept.sweep
    words = address_words(base, asked.address)
    told = words if words == asked.address else f"{words} ({asked.address})"
    return f"{told}, from {asked.first} to {asked.last}"


def counted(address: str) -> str:
    """The heading over the values of an address: `How many`, or the last key of it."""
    key = address.rpartition(".")[2]
    return "How many" if key == "spread" else key.capitalize()


def lower(label: str) -> str:
    """A label within a sentence; one that starts with an abbreviation stays."""
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]
