"""What a returned list does to prices that are there: lists and the price list go in; rows to write, prices that go, remarks come out."""

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from estimator.buying.offers import allowed
from estimator.catalogue.model import Price
from estimator.documents.list_words import lines_words
from estimator.problems import Place
from estimator.result import Estimate
from estimator.returned.asked_pack import coins
from estimator.returned.cells import one_line, shown
from estimator.returned.keep import Gone
from estimator.returned.model import Answer, Returned, Told
from estimator.returned.prices import Key, known_prices, price_rows

FEW = 5
"""So many lines of a kind are told one by one; of more, their numbers."""


@dataclass(frozen=True, slots=True)
class Kept:
    """Rows for prices.csv, prices that go out of it, and what is told of both and of prices that stay."""

    rows: tuple[Price, ...]
    gone: tuple[Gone, ...]
    told: tuple[Told, ...]


def kept(estimate: Estimate, returned: Sequence[Returned], out: Mapping[Key, date], write: bool) -> Kept:
    """What is to be written of lists with a day and a merchant; a later price of the same pack stays.

    `out` holds packs that are not for sale by the user's own prices.csv, with the days of those rows.
    """
    known = known_prices(estimate.catalogue)
    rows: dict[Key, Price] = {}
    gone: dict[Key, Gone] = {}
    told: list[Told] = []
    for of in returned:
        if not of.merchant:
            continue
        fresh = {_key(row): row for row in price_rows(of, known, estimate.job.priced_on)}
        stays = _later(of, fresh, known, out)
        told += _stay_words(of, stays)
        going = {_key(one.row): one for one in _not_sold(of, known, fresh, estimate.job.priced_on)}
        last = _last_ones(estimate, {*gone, *going}, {*rows, *fresh})
        gone |= {key: one for key, one in going.items() if key[0] not in last}
        told += [*_gone_words(of, known, fresh, last, write), *_asking_words(of, known), *_since_then(of, known)]
        rows |= {key: row for key, row in fresh.items() if key not in stays and of.priced_on is not None}
    return Kept(tuple(rows.values()), tuple(one for key, one in gone.items() if key not in rows), tuple(told))


def _last_ones(estimate: Estimate, going: Container[Key], fresh: Iterable[Key]) -> frozenset[str]:
    """Parts of which nothing would be left to buy: without any price the job could not be worked out any more."""
    buys = frozenset(allowed(estimate.job, estimate.catalogue))
    left = {row.part for row in estimate.catalogue.prices if row.merchant in buys and _key(row) not in going}
    left |= {part for part, _, _ in fresh}
    return frozenset({row.part for row in estimate.catalogue.prices if _key(row) in going} - left)


def _key(row: Price) -> Key:
    return row.part, row.merchant, row.pack


def _later(
    of: Returned, fresh: Mapping[Key, Price], known: Mapping[Key, Price], out: Mapping[Key, date]
) -> dict[Key, str]:
    """Packs that have a later price, or are not for sale since a later day, with what stays in words."""
    stays: dict[Key, str] = {}
    if of.priced_on is None:
        return stays
    for key in fresh:
        there = known.get(key)
        if there is not None and there.priced_on > of.priced_on:
            stays[key] = f"{coins(there.price)} {there.vat} of {there.priced_on.isoformat()}"
        elif there is None and (since := _out_since(key, known, out)) is not None and since > of.priced_on:
            stays[key] = f"not for sale since {since.isoformat()}"
    return stays


def _out_since(key: Key, known: Mapping[Key, Price], out: Mapping[Key, date]) -> date | None:
    """The day since which a merchant does not sell a pack: its own row's, or the part's where none of its packs is for sale."""
    if any(of[:2] == key[:2] for of in known):
        return out.get(key)
    return max((day for of, day in out.items() if of[:2] == key[:2]), default=None)


def _stay_words(of: Returned, stays: Mapping[Key, str]) -> list[Told]:
    lines = [answer for answer in of.lines if answer.status == "priced" and _key_of(of, answer) in stays]
    if len(lines) > FEW and lines[0].number:
        numbers = lines_words(answer.number for answer in lines)
        words = f"{numbers}: your price list has later prices of {of.merchant} for these; they stay, and these count for nothing"
        return [Told(Place(of.file), words)]
    return [
        Told(
            answer.place,
            f"{_where(answer)}: your price list has a later word of {of.merchant}: {stays[_key_of(of, answer)]}; it stays",
        )
        for answer in lines
    ]


def _key_of(of: Returned, answer: Answer) -> Key:
    return answer.part, of.merchant, answer.pack


def _where(answer: Answer) -> str:
    return f"line {answer.number}" if answer.number else answer.part


def _not_sold(of: Returned, known: Mapping[Key, Price], fresh: Mapping[Key, Price], day: date) -> Iterable[Gone]:
    """Prices of the merchant that it gives no more: all packs of the part, or that of the line where several lines ask for it."""
    for answer in of.lines:
        for row in _theirs(of, answer, known, fresh) if answer.status == "not-sold" else ():
            since = of.priced_on or day
            file = one_line(of.file.replace("\\", "/").rsplit("/", 1)[-1])
            was = f"was {coins(row.price)} {row.vat} of {row.priced_on.isoformat()}"
            yield Gone(row, since, f"not sold: {file}, line {answer.number}; {was}")


def _theirs(of: Returned, answer: Answer, known: Mapping[Key, Price], fresh: Mapping[Key, Price]) -> list[Price]:
    """The merchant's own prices that an answer of no price is about; one of a later day stays."""
    several = any(one.part == answer.part and one.status != answer.status for one in of.lines)
    return [
        row
        for key, row in known.items()
        if key[:2] == (answer.part, of.merchant)
        and key not in fresh
        and (not several or row.pack == answer.pack)
        and (of.priced_on is None or row.priced_on <= of.priced_on)
    ]


def _gone_words(
    of: Returned, known: Mapping[Key, Price], fresh: Mapping[Key, Price], last: frozenset[str], write: bool
) -> list[Told]:
    does = "goes out of prices.csv" if write else "goes out of prices.csv with --write"
    stays = "stays, since nobody else that the job buys from has one: ask elsewhere"

    def theirs(answer: Answer) -> list[Price]:
        return _theirs(of, answer, known, fresh)

    return _answers_words(of, "not-sold", theirs, lambda answer: stays if answer.part in last else does)


def _asking_words(of: Returned, known: Mapping[Key, Price]) -> list[Told]:
    does = "still counts; ask, and give the new one with --price"
    return _answers_words(of, "on-asking", lambda answer: _theirs(of, answer, known, {}), lambda _: does)


def _since_then(of: Returned, known: Mapping[Key, Price]) -> list[Told]:
    """Lines that a merchant did not sell, and has priced since."""
    later = [
        (answer, row)
        for answer in of.lines
        for row in known.values()
        if answer.status == "not-sold" and of.priced_on and row.priced_on > of.priced_on
        if (row.part, row.merchant) == (answer.part, of.merchant)
    ]
    return [
        Told(
            answer.place,
            f"{_where(answer)}: they write {shown(answer.said)}, and your price list has a later price of theirs: {coins(row.price)} "
            f"{row.vat} of {row.priced_on.isoformat()}; it stays",
        )
        for answer, row in later
    ]


def _answers_words(
    of: Returned, status: str, theirs: Callable[[Answer], list[Price]], what: Callable[[Answer], str]
) -> list[Told]:
    told = []
    for answer in of.lines:
        rows = theirs(answer) if answer.status == status else []
        if rows:
            prices = ", ".join(f"{coins(row.price)} {row.vat} of {row.priced_on.isoformat()}" for row in rows)
            one = "their price" if len(rows) == 1 else "their prices"
            does = what(answer)
            plural = does.replace("goes", "go").replace("counts", "count").replace("stays", "stay")
            each = does if len(rows) == 1 else plural
            words = f"{_where(answer)}: they write {shown(answer.said)}; {one} on your list, {prices}, {each}"
            told.append(Told(answer.place, words))
    return told
