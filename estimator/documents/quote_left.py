"""What is left after the job, for the quote: an `Estimate` goes in, a few lines of text come out."""

from dataclasses import dataclass

from estimator.documents.margins import margin_words, spare_point_words
from estimator.documents.words import money
from estimator.result import Estimate

MOST_ROWS = 5
"""So many parts are told; the workbook has them all."""


@dataclass(frozen=True, slots=True)
class LeftRow:
    """One part: its name, what is left of it and what less would save, money left in its packs ex VAT."""

    name: str
    words: str
    money: str


def left_rows(estimate: Estimate) -> tuple[LeftRow, ...]:
    """The parts with the most money left in their packs, most first; of equal ones by part."""
    currency = estimate.job.currency
    return tuple(
        LeftRow(_named(estimate, of.part), margin_words(of, currency), money(of.money_left, currency))
        for of in estimate.most_left(MOST_ROWS)
    )


def more_points(estimate: Estimate) -> tuple[str, ...]:
    """Which points fit once more, a line each; one line where none does."""
    catalogue, points = estimate.catalogue, estimate.spare_points()
    told = tuple(
        spare_point_words(point, catalogue.points[point.kind].label, _named(estimate, point.first_out))
        for point in points
        if point.fits
    )
    if told or not points:
        return told
    return ("No more points of any kind: each needs something of which just as much is bought as the job takes.",)


def _named(estimate: Estimate, name: str) -> str:
    part = estimate.catalogue.parts[name]
    return part.trade_name or part.description
