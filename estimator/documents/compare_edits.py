"""What to write into the job file to keep a scenario: its edits go in, a sentence and the lines to paste come out for each."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import PurePath

from estimator.compare.edits import Edit
from estimator.compare.model import Comparison
from estimator.documents.words import money
from estimator.problems import Place

TITLE = "To make it part of the job"
LONGEST = 60
"""An old line longer than this is not told; the place says which it is."""


@dataclass(frozen=True, slots=True)
class EditWords:
    """One thing to do in the job file: where and what, and the lines to write there (none where something goes)."""

    says: str
    lines: tuple[str, ...]


def edit_words(edits: Iterable[Edit]) -> tuple[EditWords, ...]:
    """What would make a scenario, or the plan within a limit, part of the job, in the order to do it."""
    return tuple(EditWords(_says(edit), edit.lines) for edit in edits)


def to_write(comparison: Comparison) -> tuple[tuple[str, tuple[EditWords, ...]], ...]:
    """What to write for each scenario, and for what the limit leaves out, by name; those without anything left out."""
    found = comparison.within
    every = [(column.variant.name, column.edits) for column in comparison.columns]
    if found is not None:
        every.append((f"Within {money(found.limit, comparison.base.job.currency)}", found.edits))
    return tuple((name, edit_words(edits)) for name, edits in every if edits)


def _says(edit: Edit) -> str:
    where, within = _place(edit.place), f", in {edit.table}" if edit.table else ""
    match edit.does:
        case "replace":
            old = edit.old if len(edit.old) <= LONGEST else "what stands there"
            return f"{where}{within}: in place of {old} write"
        case "write":
            return f"{where}{within}: write below that line"
        case "column":
            return f"{where}: write into the column {edit.table}"
        case "into":
            return f"{where}{within}: write into the braces"
        case "join":
            return f"{where}, the list {edit.table}: write into it"
        case "append":
            return f"{where}, {edit.table}: write at the end of it" if edit.table else f"At the end of {where} write"
        case "take-out":
            return f"{where}{within}: take out {edit.old}" if edit.old else f"{where}: take out {edit.table}"


def _place(place: Place) -> str:
    """`job.toml, line 97`; of the whole file its name."""
    name = PurePath(place.file).name
    return f"{name}, line {place.line}" if place.line else name
