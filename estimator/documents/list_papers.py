"""Which lists there are: an `Estimate` goes in, for each list its file name, whom it is for, its trip and its lines come out."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.documents.list_asked import UNCHOSEN, AskedList, asked_list, needs_of
from estimator.documents.list_blank import every_blank_line
from estimator.documents.list_columns import TRIP_TITLES
from estimator.documents.list_model import ListLine
from estimator.documents.list_record import BLANK, LIST
from estimator.documents.list_words import HEAVY_KG, about
from estimator.documents.shelves import list_lines, merchants
from estimator.documents.words import ANY, merchant_words
from estimator.result import Estimate

_LIKE_A_TRIP = re.compile(r"(^|-)trip-\d+$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Paper:
    """One list, in one or more sheets: `stem` is its file name without the ending, `merchant` empty where any may price it.

    `trip` is 0 where the job has one trip only. `mark` tells what all papers of one list ask from what any other asks.
    """

    stem: str
    merchant: str
    trip: int
    lines: tuple[ListLine, ...]
    mark: str = ""

    @property
    def trip_words(self) -> str:
        """The trip in words; empty where there is only one."""
        return TRIP_TITLES.get(self.trip, f"Trip {self.trip}") if self.trip else ""

    @property
    def to(self) -> str:
        """Whom it is for, in words; empty for a list that goes to several."""
        return merchant_words(self.merchant) if self.merchant else ""


def papers(estimate: Estimate, blank: bool) -> tuple[Paper, ...]:
    """Every list of the job: one for each merchant and trip, or where `blank` one for each kind of counter and trip."""
    return tuple(replace(paper, mark=asked.mark) for asked, of in _every(estimate, blank) for paper in of)


def asked_for(estimate: Estimate, blank: bool) -> tuple[AskedList, ...]:
    """What those papers ask, all papers of one list together: merchant by merchant, or where `blank` for any merchant."""
    return tuple(asked for asked, _ in _every(estimate, blank))


def _every(estimate: Estimate, blank: bool) -> list[tuple[AskedList, list[Paper]]]:
    """What each list asks, with its papers."""
    if blank:
        every = every_blank_line(estimate)
        names = slugs(tuple(dict.fromkeys(line.counter for line in every)))
        lists = {"": [of for counter, slug in names.items() for of in _of_counter(estimate, counter, slug, every)]}
    else:
        lists = {
            merchant: _by_trip(estimate, f"{LIST}{slug}", merchant, list_lines(estimate, merchant))
            for merchant, slug in slugs(merchants(estimate)).items()
        }
    needs = needs_of(estimate)
    return [
        (asked_list(estimate, merchant, (paper.lines for paper in of), needs), of) for merchant, of in lists.items()
    ]


def _of_counter(estimate: Estimate, counter: str, slug: str, every: Iterable[ListLine]) -> list[Paper]:
    return _by_trip(estimate, f"{BLANK}{slug}", "", (line for line in every if line.counter == counter))


def _by_trip(estimate: Estimate, stem: str, merchant: str, lines: Iterable[ListLine]) -> list[Paper]:
    of = tuple(lines)
    if estimate.job.buying.trips == 1:
        return [Paper(stem, merchant, 0, of)]
    return [
        Paper(f"{stem}-trip-{trip}", merchant, trip, tuple(line for line in of if line.trip == trip))
        for trip in sorted({line.trip for line in of})
    ]


def slugs(names: tuple[str, ...]) -> dict[str, str]:
    """A part of a file name for each merchant: letters, figures and dashes; two that look alike are told apart.

    A price list that is no merchant's own has a name in plain words. None ends like the name of a trip's list.
    """
    taken: dict[str, str] = {}
    for name in sorted(names):
        plain = unicodedata.normalize("NFKD", UNCHOSEN if name == ANY else name).encode("ascii", "ignore").decode()
        stem = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")[:60].strip("-") or "merchant"
        stem = f"{stem}-merchant" if _LIKE_A_TRIP.search(stem) else stem
        slug, again = stem, 2
        while slug.casefold() in {of.casefold() for of in taken.values()}:
            slug, again = f"{stem}-{again}", again + 1
        taken[name] = slug
    return taken


def weight_words(lines: Iterable[ListLine]) -> str:
    """What the lines weigh together, as far as it is known; empty where that is little."""
    of = tuple(lines)
    known = [line.weight_kg for line in of if line.weight_kg is not None]
    total = sum(known, Decimal(0))
    if total < HEAVY_KG:
        return ""
    return about(total) if len(known) == len(of) else f"{about(total)}; small parts not counted"
