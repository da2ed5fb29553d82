"""Returned prices as rows of the catalogue: a catalogue and returned lists go in, a catalogue with them comes out."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType

from estimator.catalogue.model import Catalogue, Merchant, Price
from estimator.problems import Problem
from estimator.returned.cells import one_line
from estimator.returned.model import Answer, Returned

Key = tuple[str, str, Decimal]


def price_rows(returned: Returned, known: Mapping[Key, Price], day: date | None = None) -> tuple[Price, ...]:
    """One row for each pack that was priced, in the order of the lines; `day` for a list that does not say its own.

    A row that is there already keeps its code, and its make unless the merchant names one now; for a new one see `_make`.

    Raises:
        ValueError: neither the list nor the caller says of which day the prices are.
    """
    of_day = returned.priced_on or day
    if of_day is None:
        raise ValueError(f"{returned.file} is of no day")
    rows: dict[Key, Price] = {}
    for answer in returned.lines:
        if answer.status != "priced" or answer.price is None:
            continue
        key = (answer.part, returned.merchant, answer.pack)
        before = known.get(key)
        rows[key] = Price(
            part=answer.part,
            merchant=returned.merchant,
            pack=answer.pack,
            price=answer.price,
            vat=answer.basis or "ex",
            priced_on=of_day,
            match=_match(returned, answer, known),
            merchant_code=answer.code or (before.merchant_code if before is not None else ""),
            source=_source(returned, answer),
            place=answer.place,
        )
    return tuple(rows.values())


def _match(returned: Returned, answer: Answer, known: Mapping[Key, Price]) -> str:
    if answer.make:
        return make_letter(answer.make, (returned.merchant, *(merchant for _, merchant, _ in known)))
    before = known.get((answer.part, returned.merchant, answer.pack))
    return before.match if before is not None and before.match else _make(returned, answer)


def make_letter(make: str, merchants: Iterable[str]) -> str:
    """A maker's name as `match` has it: in small letters, the same at every merchant.

    A letter alone, as price lists have, and a merchant's own name stand for other makes: "a make", "north make".
    """
    name = one_line(make).casefold()
    return f"{name} make" if len(name) == 1 or name in {one.casefold() for one in merchants} else name


def _make(returned: Returned, answer: Answer) -> str:
    """The make letter of a price: that of the line, where the merchant answered a list of its own.

    Another merchant has not said which make it sells. Its name stands for it, so that what has to be of one make is never
    bought from two of them together.
    """
    return answer.match if not answer.match or returned.merchant == returned.answers else returned.merchant


NOTE = 120
"""So much of a note that the user accepted is kept with the price."""
TYPED, LISTED = "typed", "priced list "
"""What the source of a price that was kept says, or begins with."""


def returned_before(row: Price) -> bool:
    """Whether a price of the catalogue was read back, or typed, and kept."""
    return row.source == TYPED or row.source.startswith(LISTED)


def _source(returned: Returned, answer: Answer) -> str:
    if not answer.number:
        return TYPED
    file = one_line(returned.file.replace("\\", "/").rsplit("/", 1)[-1])
    note = one_line(f"; make {answer.make}" if answer.make else "") + (
        f"; they write: {one_line(answer.accepted)[:NOTE]}" if answer.accepted else ""
    )
    return f"{LISTED}{file}, line {answer.number}{note}"


def known_prices(catalogue: Catalogue) -> dict[Key, Price]:
    """The rows of the price list by what tells them apart."""
    return {(row.part, row.merchant, row.pack): row for row in catalogue.prices}


def with_prices(catalogue: Catalogue, returned: Iterable[Returned], day: date | None = None) -> Catalogue:
    """The catalogue with every returned price in it, and the merchants that it did not know; `day` as for `price_rows`.

    Raises:
        ValueError: a list is of no day, and `day` is not given.
    """
    prices, merchants = known_prices(catalogue), dict(catalogue.merchants)
    for of in returned:
        if of.seller is None:
            continue
        merchants.setdefault(of.merchant, of.seller)
        prices |= {(row.part, row.merchant, row.pack): row for row in price_rows(of, prices, day)}
    return _with(catalogue, prices.values(), merchants)


def only_prices(catalogue: Catalogue, rows: Iterable[Price]) -> Catalogue:
    """The catalogue with these prices and no others."""
    return _with(catalogue, rows, catalogue.merchants)


def _with(catalogue: Catalogue, rows: Iterable[Price], merchants: Mapping[str, Merchant]) -> Catalogue:
    return replace(
        catalogue,
        prices=tuple(sorted(rows, key=lambda row: (row.part, row.merchant, row.pack))),
        merchants=MappingProxyType(dict(sorted(merchants.items()))),
    )


def clashes(returned: Returned) -> list[Problem]:
    """Two lines of one list that price the same pack differently."""
    seen: dict[tuple[str, Decimal], Answer] = {}
    problems = []
    for answer in returned.lines:
        if answer.status != "priced":
            continue
        first = seen.setdefault((answer.part, answer.pack), answer)
        if (first.price, first.basis) != (answer.price, answer.basis):
            found = f"{answer.price} {answer.basis} for the pack that line {first.number} prices at {first.price} {first.basis}"
            problems.append(
                Problem(answer.place, f"line {answer.number}", found, "ask which holds, and write it on both lines")
            )
    return problems
