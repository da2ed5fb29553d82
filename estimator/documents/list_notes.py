"""Notes of a list to be priced: an `Estimate` and numbered lines go in, the lines with all that they say of each other come out."""

from collections.abc import Sequence
from dataclasses import replace

from estimator.catalogue.model import Part
from estimator.documents.list_model import ListLine
from estimator.documents.list_words import HEAVY_KG, about, lines_words
from estimator.result import Estimate


def noted(estimate: Estimate, lines: Sequence[ListLine]) -> tuple[ListLine, ...]:
    """Each line with its own note, then what it must suit, what it belongs with, and what it weighs."""
    return tuple(replace(line, note="; ".join(_notes(estimate, line, lines))) for line in lines)


def _notes(estimate: Estimate, line: ListLine, lines: Sequence[ListLine]) -> list[str]:
    notes = [
        line.note,
        _cable_of(estimate, line, lines),
        _one_make(estimate, line, lines),
        _together(line, lines),
        about(line.weight_kg) if line.weight_kg is not None and line.weight_kg >= HEAVY_KG else "",
    ]
    return [note for note in notes if note]


def _one_make(estimate: Estimate, line: ListLine, lines: Sequence[ListLine]) -> str:
    """What has to be of one make with it; parts of the other trip's list too, since they go into the same board."""
    parts = estimate.catalogue.parts
    group = parts[line.part].match_group
    if not group:
        return ""
    others = [of for of in lines if of.number != line.number and parts[of.part].match_group == group]
    if not others:
        return "to suit the board"
    here = [of.number for of in others if of.trip == line.trip]
    there = [of.number for of in others if of.trip != line.trip]
    said = [lines_words(here)] if here else []
    if there:
        said.append(f"{lines_words(there)} of the other trip")
    return f"one make with {' and '.join(said)}"


def _together(line: ListLine, lines: Sequence[ListLine]) -> str:
    """Other packs of the same part in the same trip; what comes in one length says so itself."""
    same = [of.number for of in lines if of.part == line.part and of.trip == line.trip and of.number != line.number]
    return f"together with {lines_words(same)}" if same and not line.one_length else ""


def _cable_of(estimate: Estimate, line: ListLine, lines: Sequence[ListLine]) -> str:
    """The cable that a gland is for, since glands go by the cable and not by its name."""
    if not _is_gland(estimate.catalogue.parts[line.part]):
        return ""
    bought = {of.part for of in estimate.order.lines}
    said = []
    for cable in estimate.catalogue.cables.values():
        ends = [
            row for kit in dict.fromkeys((cable.end_in, cable.end_out)) for row in estimate.catalogue.kits.get(kit, ())
        ]
        if cable.part in bought and any(row.part == line.part and row.quantity for row in ends):
            part = estimate.catalogue.parts[cable.part]
            listed = [of.number for of in lines if of.part == cable.part]
            where = f" ({lines_words(listed)})" if listed else ""
            said.append(f"{part.trade_name or part.description}{where}")
    return f"to fit {' and '.join(said)}" if said else ""


def _is_gland(part: Part) -> bool:
    return part.description.split(";")[0].lower().endswith("gland")
