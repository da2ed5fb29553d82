"""Several returned lists beside each other: an `Estimate` and the lists go in; line by line, each alone, and the best split out."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import Order, OrderLine
from estimator.catalogue.model import Catalogue, Part
from estimator.documents.list_words import pack_words
from estimator.estimate import estimate as work_out
from estimator.problems import Refused
from estimator.result import Estimate
from estimator.returned.model import Answer, Beside, Bid, Bought, Comparison, Returned, Way
from estimator.returned.prices import only_prices, with_prices
from estimator.rounding import money, whole_up


def compare_returned(estimate: Estimate, returned: Sequence[Returned]) -> Comparison:
    """The lists of different merchants beside each other; all of them answer, and none has a problem.

    For each merchant alone, and for all together, the whole job is worked out again, buying from them and from those
    merchants of the order whose lists were not given out. Ties go to the merchant by name.
    """
    lists = sorted(returned, key=lambda of: (of.merchant, of.file))
    names = tuple(dict.fromkeys(of.merchant for of in lists))
    lines = _lines(estimate, lists, names)
    priced = [line for line in lines if all(bid.money is not None for bid in line.bids)]
    catalogue = with_prices(estimate.catalogue, lists, estimate.job.priced_on)
    others = _others(estimate, lists)
    alone = [_way(estimate, catalogue, (name,), others, False) for name in names]
    together = [_way(estimate, catalogue, names, others, True)] if len(names) > 1 else []
    told = {of.merchant for of in lists if of.known and of.seller is not None and of.seller.delivery_known}
    unknown = tuple(name for name in names if name not in told)
    return Comparison(names, lines, len(priced), _common(priced, names), (*alone, *together), unknown)


def _common(lines: Iterable[Beside], names: Sequence[str]) -> tuple[tuple[str, Decimal], ...]:
    sums = dict.fromkeys(names, Decimal(0))
    for line in lines:
        for bid in line.bids:
            sums[bid.merchant] += bid.money or Decimal(0)
    return tuple(sums.items())


def _lines(estimate: Estimate, lists: Sequence[Returned], names: Sequence[str]) -> tuple[Beside, ...]:
    """Lines by the list that was answered and their number, with the bids in the order of the names."""
    found: dict[tuple[str, int], dict[str, Answer]] = {}
    for of in lists:
        for answer in of.lines:
            found.setdefault((of.answers, answer.number), {})[of.merchant] = answer
    return tuple(_beside(estimate, found[key], names) for key in sorted(found))


def _beside(estimate: Estimate, answers: dict[str, Answer], names: Sequence[str]) -> Beside:
    bids = tuple(
        Bid(name, _money(estimate, answers[name]), answers[name].status)
        if name in answers
        else Bid(name, None, "not-on-it")
        for name in names
    )
    least = min((bid.money for bid in bids if bid.money is not None), default=None)
    first = next(iter(answers.values()))
    cheapest = tuple(bid.merchant for bid in bids if least is not None and bid.money == least)
    return Beside(first.number, first.words, first.pack_words, bids, cheapest)


def _money(estimate: Estimate, answer: Answer) -> Decimal | None:
    """All packs of a line, inc VAT; where their number is left open, as many as hold what is asked for."""
    if answer.status != "priced" or answer.price is None:
        return None
    packs = answer.packs or whole_up(answer.quantity / answer.pack)
    rate = Fraction(estimate.catalogue.parts[answer.part].vat_rate) if answer.basis == "ex" else Fraction(0)
    return money(Fraction(answer.price) * packs * (1 + rate))


def _others(estimate: Estimate, lists: Sequence[Returned]) -> frozenset[tuple[str, str]]:
    """What the order buys, as parts with their merchants, that nobody was asked to price: it stays as it is.

    A list that any merchant may get stands for all merchants, for the parts on it.
    """
    answered = {of.answers for of in lists}
    asked = {answer.part for of in lists if not of.answers for answer in of.lines}
    return frozenset(
        (line.part, line.merchant)
        for line in estimate.order.lines
        if line.merchant not in answered and line.part not in asked
    )


def _way(
    estimate: Estimate, catalogue: Catalogue, names: tuple[str, ...], others: frozenset[tuple[str, str]], fill: bool
) -> Way:
    """The job worked out with these merchants; where `fill`, what none of them priced is taken from the price list as it was."""
    stay = tuple(sorted({merchant for _, merchant in others} - set(names)))
    needed = sorted({line.part for line in estimate.order.lines})
    kept = [row for row in catalogue.prices if row.merchant in names or (row.part, row.merchant) in others]
    sold = {row.part for row in kept}
    lacking = tuple(part for part in needed if part not in sold)
    if lacking and not fill:
        return Way(names, stay, None, None, (), lacking, (), ())
    before = {(line.part, line.merchant) for line in estimate.order.lines if line.part in lacking}
    kept += [row for row in catalogue.prices if (row.part, row.merchant) in before]
    merchants = tuple(sorted({*names, *stay, *(merchant for _, merchant in before)}))
    job = replace(estimate.job, buying=replace(estimate.job.buying, merchants=merchants))
    try:
        order = work_out(job, only_prices(catalogue, kept)).order
    except Refused as refused:
        return Way(names, stay, None, None, (), (), lacking, tuple(of.found for of in refused.problems))
    total = sum((basket.net + basket.vat for basket in order.baskets), Decimal(0))
    return Way(names, stay, total, _delivery(order), _packs(estimate, order), (), lacking, ())


def _delivery(order: Order) -> Decimal:
    """What all merchants charge to bring it, inc VAT."""
    lines = (
        (Fraction(line.price), Fraction(line.vat_rate) if line.basis == "ex" else Fraction(0))
        for line in order.delivery
    )
    return money(sum((price * (1 + rate) for price, rate in lines), Fraction(0)))


def _packs(estimate: Estimate, order: Order) -> tuple[Bought, ...]:
    return tuple(
        _bought(estimate.catalogue.parts[line.part], line)
        for line in sorted(order.lines, key=lambda line: (line.merchant, line.part, line.pack))
    )


def _bought(part: Part, line: OrderLine) -> Bought:
    return Bought(
        line.merchant,
        line.part,
        part.trade_name or part.description,
        pack_words(line.pack, part.unit),
        line.pack,
        line.packs,
        line.price,
        line.basis,
        line.amount,
    )
