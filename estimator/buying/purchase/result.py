"""A purchase in the words of the order: lines, deliveries and cuts; findings on what is bought beyond the need."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from estimator.amounts import money as told_money
from estimator.buying.lengths import HAND
from estimator.buying.model import Cut, NearFree, OrderLine
from estimator.buying.offers import CUT_UNIT
from estimator.buying.purchase.model import Bundle, Extra, Purchase, Task, Want, bits
from estimator.buying.purchase.needs import STAGES, Need
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding, Level
from estimator.rounding import PENNY, money


def goods_lines(purchase: Purchase, needs: Iterable[Need]) -> list[OrderLine]:
    """One line for every pack size of a part at a merchant, what is bought beyond the need with the rest."""
    stages = {need.part: need.stage for need in needs}
    lines = []
    for want, bundle in purchase.picks:
        counts = Counter(dict(bundle.packs))
        for extra in purchase.extras:
            if extra.want.number == want.number:
                counts[extra.way] += extra.packs
        for way, packs in counts.items():
            price = way.price
            amount = money(price.price * packs)
            rate, stage = want.vat_rate, stages[want.part]
            lines.append(
                OrderLine(
                    want.part,
                    price.merchant,
                    price.pack,
                    packs,
                    price.price,
                    price.vat,
                    rate,
                    amount,
                    Decimal(0),
                    stage,
                    price.place,
                    want.trip + 1,
                )
            )
    return sorted(lines, key=lambda line: (line.part, line.merchant, line.pack))


def delivery_lines(task: Task, purchase: Purchase, catalogue: Catalogue, goods: Iterable[OrderLine]) -> list[OrderLine]:
    """One line for each merchant and trip that charges for bringing its goods."""
    goods = tuple(goods)
    lines = []
    for at in _used(task, purchase):
        if purchase.charges[at]:
            till = task.tills[at]
            merchant = catalogue.merchants[task.merchants[till.merchant]]
            stages = [of.stage for of in goods if (of.merchant, of.trip) == (merchant.merchant, till.trip + 1)]
            lines.append(
                OrderLine(
                    "",
                    merchant.merchant,
                    Decimal(1),
                    1,
                    merchant.delivery,
                    merchant.vat,
                    merchant.vat_rate,
                    merchant.delivery,
                    Decimal(0),
                    min(stages, key=STAGES.index),
                    merchant.place,
                    till.trip + 1,
                )
            )
    return lines


def cuts_of(task: Task, purchase: Purchase) -> tuple[Cut, ...]:
    """The cutting list by part, the longest first, then by merchant; lengths bought beyond the need hold no pieces, or lengthen what is cut to order there."""
    found: list[tuple[str, list[Cut]]] = []
    for want, bundle in purchase.picks:
        cuts = _by_name(want, bundle.cuts)
        for extra in _extras(purchase):
            if extra.want.number == want.number and want.by_length:
                _lengthen(cuts, extra, bundle, task.merchants[extra.way.seller])
        found.append((want.part, cuts))
    return tuple(cut for _, cuts in sorted(found, key=lambda item: item[0]) for cut in cuts)


def _by_name(want: Want, cuts: Iterable[Cut]) -> list[Cut]:
    """Equal lengths by merchant, and equal pieces given out among them in their order."""
    names: dict[Decimal, list[str]] = {}
    for piece in reversed(want.pieces):
        names.setdefault(piece.length_mm, []).append(piece.of)
    return [
        replace(cut, pieces=tuple((names[length_mm].pop(), length_mm) for _, length_mm in cut.pieces))
        for cut in sorted(cuts, key=lambda cut: (-cut.stock_mm, cut.merchant or HAND))
    ]


def _extras(purchase: Purchase) -> list[Extra]:
    """What is bought beyond the need, by part, merchant and pack."""
    return sorted(
        purchase.extras,
        key=lambda extra: (extra.want.trip, extra.want.part, extra.way.price.merchant, extra.way.units),
    )


def _used(task: Task, purchase: Purchase) -> list[int]:
    """The tills that are used: trip by trip, merchants by name."""
    tills = task.tills
    return sorted(bits(purchase.used), key=lambda at: (tills[at].trip, task.merchants[tills[at].merchant]))


def _lengthen(cuts: list[Cut], extra: Extra, bundle: Bundle, merchant: str) -> None:
    length_mm = extra.way.units * 1000
    if extra.way.units != CUT_UNIT:
        cuts += [Cut(extra.want.part, merchant, length_mm, (), length_mm)] * extra.packs
        return
    more = length_mm * extra.packs
    whole = {way.units * 1000 for way, _ in bundle.packs if way.seller == extra.way.seller and way.units != CUT_UNIT}
    for place, cut in enumerate(cuts):
        if cut.merchant == merchant and cut.stock_mm not in whole:
            cuts[place] = replace(cut, stock_mm=cut.stock_mm + more, left_over_mm=cut.left_over_mm + more)
            return
    cuts.append(Cut(extra.want.part, merchant, more, (), more))


def notes(task: Task, purchase: Purchase, catalogue: Catalogue, currency: str) -> Iterator[Finding]:
    """What is bought beyond the need, and why: a `stop` where only a smallest order asks for it, since a merchant that
    wants it may be the wrong one for this job. Money in it is inc VAT.
    """
    together: Counter[int] = Counter()
    worth: Counter[int] = Counter()
    for extra in purchase.extras:
        together[task.till(extra.want, extra.way.seller)] += extra.way.money * extra.packs
        worth[task.till(extra.want, extra.way.seller)] += extra.way.value * extra.packs
    for extra in _extras(purchase):
        part, at = catalogue.parts[extra.want.part], task.till(extra.want, extra.way.seller)
        merchant, till = task.merchants[extra.way.seller], task.tills[at]
        own, every = extra.way.money * extra.packs, together[at]
        # What a smallest order asks for is told as that, even where it makes delivery free besides.
        asked = purchase.values[at] - worth[at] < till.minimum <= purchase.values[at]
        free = not asked and bool(till.fee) and not purchase.charges[at]
        what = f"{extra.way.units.normalize():f} {part.unit}"
        packs = "1 pack" if extra.packs == 1 else f"{extra.packs} packs"
        told = f"{packs} more of {part.description} ({what}) than the job needs, {_told(task, own, currency)} inc VAT: "
        if every > own:
            told += f"with what else is bought there for that, {_told(task, every, currency)} in all, "
        if free:
            told += f"it makes delivery at {merchant} free and saves {_told(task, till.fee, currency)}."
        else:
            told += f"it reaches the smallest order at {merchant}. Buy elsewhere, or ask the merchant to take a smaller order."
        level: Level = "note" if free else "stop"
        yield Finding("bought-beyond-need", level, extra.want.part, told, Decimal(extra.packs), None, "packs")


def _told(task: Task, amount: int, currency: str) -> str:
    return told_money(money(Fraction(amount, task.scale)), currency)


def small_orders(task: Task, purchase: Purchase, catalogue: Catalogue, currency: str) -> Iterator[Finding]:
    """Orders below what a merchant accepts, where no purchase reaches every least order."""
    for at in _used(task, purchase):
        till = task.tills[at]
        merchant = catalogue.merchants[task.merchants[till.merchant]]
        if purchase.values[at] < till.minimum and merchant.minimum is not None:
            value = Fraction(purchase.values[at], task.scale)
            limit = told_money(merchant.minimum, currency)
            yield Finding(
                "smallest-order",
                "ask",
                merchant.merchant,
                f"The order at {merchant.merchant} comes to {_told(task, purchase.values[at], currency)} {merchant.vat} VAT, "
                f"below its smallest order of {limit}: buy it elsewhere, or more of it there.",
                Decimal(value.numerator) / value.denominator,
                merchant.minimum,
                "money",
                str(merchant.place),
            )


def near_free(task: Task, purchase: Purchase, catalogue: Catalogue) -> tuple[NearFree, ...]:
    """For each till that charges but need not: what more of goods, in its basis, would make it free."""
    found = []
    for at in _used(task, purchase):
        till = task.tills[at]
        if purchase.charges[at] and till.free_over is not None:
            merchant = catalogue.merchants[task.merchants[till.merchant]]
            short = Fraction(till.free_over - purchase.values[at], task.scale)
            told = (Decimal(short.numerator) / short.denominator).quantize(PENNY, ROUND_CEILING)
            saves = money(Fraction(till.fee, task.scale))
            found.append(NearFree(merchant.merchant, till.trip + 1, told, merchant.vat, saves))
    return tuple(sorted(found, key=lambda of: (of.merchant, of.trip)))


def taken_in_hand(picks: Iterable[tuple[Want, Bundle]]) -> dict[str, Decimal]:
    """Units of each part that come from what is in hand."""
    return {want.part: bundle.in_hand for want, bundle in picks}
