"""What a returned list changes: its answers and the price list that the estimate rests on go in, changes and sums come out."""

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from estimator.catalogue.model import Basis, Price
from estimator.documents.shelves import CUT_PACK
from estimator.problems import Problem
from estimator.result import Estimate
from estimator.returned.asked_pack import coins
from estimator.returned.model import Answer, Change, Reckoned, Returned, Sums, Told
from estimator.rounding import money

FAR = 3
"""A price that is more than so many times the known one, or less than that part of it, is asked about."""


@dataclass(frozen=True, slots=True)
class _Known:
    """The price that stands on the price list for a pack, as money for one; `same` where the pack is of the same size.

    A length is of the same size as so many metres cut to order. Else `each` is worked out by the unit.
    """

    price: Price
    each: Fraction
    same: bool


def reckoned(estimate: Estimate, returned: Returned) -> Reckoned:
    """The list with its changes, by line number, and what the lines come to that have a price on both sides."""
    answers = [answer for answer in returned.lines if answer.status == "priced"]
    changes = tuple(_change(estimate, (returned.merchant, returned.answers), answer) for answer in answers)
    return Reckoned(returned, changes, _sums(estimate, changes))


def far_off(estimate: Estimate, returned: Returned, accepted: Container[str]) -> list[Problem]:
    """Prices that are far from the known ones, but for lines, or typed parts, that the user accepts."""
    asked = (
        answer
        for answer in returned.lines
        if answer.status == "priced" and (str(answer.number) if answer.number else answer.part) not in accepted
    )
    return [problem for answer in asked if (problem := _off(estimate, returned, answer)) is not None]


def held_far_off(estimate: Estimate, returned: Returned) -> list[Told]:
    """Prices that are held and far from the known ones: whoever accepts the note accepts the price too."""
    held = ((answer, _off(estimate, returned, answer)) for answer in returned.lines if answer.status == "held")
    return [
        Told(answer.place, f"line {answer.number}: {of.found}; see what it is for before you accept the line")
        for answer, of in held
        if of is not None
    ]


def _off(estimate: Estimate, returned: Returned, answer: Answer) -> Problem | None:
    known = _known(estimate, (returned.merchant, returned.answers), answer)
    if known is None or not known.each or answer.basis is None or answer.price is None:
        return None
    before = _in_basis(known.each, known.price.vat, answer.basis, estimate.catalogue.parts[answer.part].vat_rate)
    times = Fraction(answer.price) / before
    return _far(answer, before, times) if times > FAR or times * FAR < 1 else None


def _far(answer: Answer, before: Fraction, times: Fraction) -> Problem:
    assert answer.price is not None
    size = f"{coins(money(times * 10) / 10)} times" if times > 1 else f"{coins(money(100 * times))} % of"
    found = f"{coins(answer.price)} for {answer.pack_words} is {size} the {coins(before)} on your price list"
    where = f"line {answer.number}" if answer.number else answer.part
    accept = answer.number or answer.part
    return Problem(
        answer.place,
        where,
        found,
        f"see what it is for: one, 100, a metre, a pack; if it is right, add --accept {accept}",
    )


def _known(estimate: Estimate, merchants: tuple[str, str], answer: Answer) -> _Known | None:
    """The price of the same pack: of the merchant whose prices came back, of the one whose list it was, of those that we
    buy from, else of any, in that order; the cheapest of equal ones. Where nobody has the pack, that of the nearest size,
    by the unit.
    """
    rows = [row for row in estimate.catalogue.prices if row.part == answer.part]
    buying = {line.merchant for line in estimate.order.lines}
    rate = estimate.catalogue.parts[answer.part].vat_rate
    if not rows:
        return None

    def rank(row: Price) -> tuple[Fraction, int, Fraction, str]:
        place = next((at for at, name in enumerate(merchants) if name and row.merchant == name), 2)
        place += place == 2 and row.merchant not in buying
        each = Fraction(row.price) / Fraction(row.pack)
        by_metre = answer.lengths and row.pack == CUT_PACK
        size = Fraction(1) if by_metre else Fraction(row.pack) / Fraction(answer.pack)
        return (max(size, 1 / size), place, _in_basis(each, row.vat, "inc", rate), row.merchant)

    best = min(rows, key=rank)
    cut = best.pack == CUT_PACK and estimate.catalogue.parts[answer.part].sold_as == "length"
    each = Fraction(best.price) * Fraction(answer.pack) / Fraction(best.pack)
    return _Known(best, each, best.pack == answer.pack or cut)


def _in_basis(value: Fraction, basis: Basis, wanted: Basis, rate: Decimal) -> Fraction:
    if basis == wanted:
        return value
    return value * (1 + Fraction(rate)) if wanted == "inc" else value / (1 + Fraction(rate))


def _change(estimate: Estimate, merchants: tuple[str, str], answer: Answer) -> Change:
    """One price beside the known one; a length cut to order as one length, with the metre beside, whichever way it is kept."""
    answer = _as_asked(answer)
    assert answer.price is not None
    basis = answer.basis
    known = _known(estimate, merchants, answer)
    before = known if known is not None and known.same else None
    difference = None
    if before is not None and answer.packs and basis is not None:
        was = _in_basis(before.each, before.price.vat, basis, estimate.catalogue.parts[answer.part].vat_rate)
        difference = money((Fraction(answer.price) - was) * answer.packs)
    return Change(
        answer.number,
        answer.part,
        answer.words,
        answer.pack,
        answer.pack_words,
        answer.packs,
        before.price.price * answer.pack / before.price.pack if before is not None else None,
        before.price.vat if before is not None else None,
        answer.price,
        basis,
        difference,
        _metre(Fraction(before.each), answer) if before is not None else None,
        _metre(Fraction(answer.price), answer),
    )


def _as_asked(answer: Answer) -> Answer:
    """A price by the metre for lengths cut to order as the price of one such length."""
    if not answer.lengths or answer.price is None or answer.pack != CUT_PACK:
        return answer
    length = answer.quantity / answer.lengths
    return replace(answer, pack=length, packs=answer.lengths, price=answer.price * length)


def _metre(each: Fraction, answer: Answer) -> Decimal | None:
    """What a metre comes to, to four places half up; None for what is not cut to order."""
    if not answer.lengths:
        return None
    return Decimal((each / Fraction(answer.pack) * 10_000 + Fraction(1, 2)).__floor__()).scaleb(-4)


def _sums(estimate: Estimate, changes: Sequence[Change]) -> Sums:
    known = [change for change in changes if change.before is not None and change.basis is not None]
    both = [change for change in known if change.packs]
    bases = list(dict.fromkeys(change.basis for change in both if change.basis is not None))

    def added(wanted: Basis, now: bool) -> Decimal:
        total = Fraction(0)
        for of in both:
            rate = estimate.catalogue.parts[of.part].vat_rate
            price, own = (of.after, of.basis) if now else (of.before or Decimal(0), of.before_basis)
            basis: Basis = own or wanted
            total += _in_basis(Fraction(price), basis, wanted, rate) * of.packs
        return money(total)

    basis = bases[0] if len(bases) == 1 else None
    before, after = (added(basis, False), added(basis, True)) if basis else (None, None)
    difference = after - before if after is not None and before is not None else None
    before_inc, after_inc = added("inc", False), added("inc", True)
    return Sums(
        len(both),
        basis,
        before,
        after,
        difference,
        before_inc,
        after_inc,
        after_inc - before_inc,
        len(known) - len(both),
    )
