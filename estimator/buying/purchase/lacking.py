"""What a purchase lacks: needs and price lists in; problems where a thing cannot be had, findings where a make is not whole."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from estimator.buying.offers import ANY, named_alone
from estimator.buying.purchase.needs import Need
from estimator.catalogue.model import Catalogue, Price
from estimator.checks.model import Finding
from estimator.job.model import Job
from estimator.problems import Problem

Rows = Mapping[str, tuple[Price, ...]]
"""Prices by part."""


def sold_by_nobody(
    job: Job, catalogue: Catalogue, needs: Sequence[Need], merchants: Sequence[str]
) -> Iterator[Problem]:
    """Parts without any price: where the job names its merchants, one problem that tells all of them, by section."""
    if ANY in job.buying.merchants:
        for need in needs:
            yield _without_price(catalogue, need, merchants)
        return
    sections: dict[str, list[str]] = {}
    for need in needs:
        part = catalogue.parts[need.part]
        sections.setdefault(part.section, []).append(f"{part.part} ({part.trade_name or part.description})")
    told = "; ".join(f"{section}: {', '.join(parts)}" for section, parts in sorted(sections.items()))
    one = len(needs) == 1
    yield Problem(
        job.buying.place,
        "buying.merchants",
        f"{' and '.join(merchants)} {'sells' if len(merchants) == 1 else 'sell'} nothing for {len(needs)} "
        f"{'part' if one else 'parts'} of this job: {told}",
        f'write {"its price" if one else "their prices"} into prices.csv, or merchants = ["any"]: then every merchant of '
        "merchants.csv counts, and prices without a merchant fill what is left",
    )


def _without_price(catalogue: Catalogue, need: Need, merchants: Iterable[str]) -> Problem:
    return Problem(
        need.place,
        "",
        f'nobody sells "{need.part}" ({catalogue.parts[need.part].description})',
        f"add a price for it to prices.csv at one of: {', '.join(map(_merchant_words, merchants))}",
    )


def _merchant_words(name: str) -> str:
    """The name as it is written into a price list, and what it means where it is nobody's."""
    return f"{name} (merchant not chosen yet)" if name == ANY else name


def too_long(catalogue: Catalogue, need: Need) -> Problem:
    """Nothing for sale is long enough for a piece."""
    longest = max(need.pieces, key=lambda piece: (piece.length_mm, piece.of))
    metres = f"{longest.length_mm.scaleb(-3).normalize():f} m"
    return Problem(
        need.place,
        "",
        f'"{longest.of}" wants {metres} of {catalogue.parts[need.part].description} in one length, and '
        "nothing that long is for sale",
        f"add a drum or length of {metres} or more to prices.csv, or split the run",
    )


def make_words(group: str) -> str:
    """What has to be of one make, in words that people know, with the code of the group: `board and breakers (modular)`."""
    return f"board and breakers ({group})"


def no_make(group: str, needs: Sequence[Need], rows: Rows) -> Finding:
    """A `stop` where no make covers a whole group: what is bought would be of several."""
    parts = ", ".join(need.part for need in needs)
    return Finding(
        "one-make",
        "stop",
        make_words(group),
        f"No one make on the price list covers all of: {parts}. {_lacks(needs, rows)} Parts of one board must be of one "
        "make: ask your electrician which, and price that make whole.",
        source="common practice",
    )


def no_whole_make(group: str, needs: Sequence[Need], rows: Rows) -> Iterator[Finding]:
    """A `note` where merchants have named prices of a group, but of no make all: then one is made whole without them."""
    named = {need.part: named_alone(rows[need.part]) for need in needs}
    if any(named.values()):
        yield Finding(
            "one-make",
            "note",
            make_words(group),
            f"In no one make have merchants priced all parts of a board. {_lacks(needs, named)} Parts of one board must be of "
            "one make, so prices that no merchant has given fill it up or stand for all of it: ask for the rest.",
            source="common practice",
        )


def _lacks(needs: Sequence[Need], rows: Rows) -> str:
    """What each make on those price lists lacks, a sentence each."""
    makes = sorted({row.match for need in needs for row in rows[need.part]})
    told = []
    for make in makes:
        lacking = [need.part for need in needs if all(row.match != make for row in rows[need.part])]
        if make:
            told.append(f"Make {make} lacks {', '.join(lacking)}.")
        else:
            without = [need.part for need in needs if need.part not in lacking]
            told.append(f"Of these nothing says which make a price is of: {', '.join(without)}.")
    return " ".join(told)
