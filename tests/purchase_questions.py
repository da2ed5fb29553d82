"""Small random questions of what to buy, the same under other names or with a merchant more, and how they read."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil
from random import Random

from estimator.buying.model import Cut, Order
from estimator.catalogue.model import Basis, Merchant, Part, Price
from estimator.job.model import Buying, InHand, Stage
from estimator.takeoff.model import CutPiece, Quantity, TakeOff
from tests import jobs
from tests.estimates import price, quantity
from tests.purchase_oracle import CUT_TO_ORDER_M, STAGES, Question, half_up
from tests.purchase_rules import till_money

D = Decimal
GROUP = "modular"
PACKS = {
    "piece": ("1", "2", "5", "10", "25", "0.5", "100"),
    "cable": ("1", "5", "10", "25", "50", "100"),
    "timber": ("1", "2.4", "3", "3.6", "4.8"),
}
RATES = ("0.2", "0.2", "0.05", "0")


def drawn(seed: int, free_goods: bool = False) -> Question:
    """2 to 5 parts at 1 to 4 merchants; limits lie near what a plain purchase comes to there.

    With `free_goods` some prices are nothing, so that no purchase may reach a smallest order.
    """
    chance = Random(seed)
    names = "ABCD"[: chance.randint(1, 4)]
    kinds = chance.choices(("piece", "piece", "piece", "cable", "timber"), k=chance.randint(2, 5))
    parts: list[Part] = []
    prices: list[Price] = []
    for number, kind in enumerate(kinds, 1):
        part = _part(chance, f"p{number}-{kind}", kind)
        parts.append(part)
        prices.extend(_prices(chance, part, kind, names, free_goods))
    stages = {part.part: _stages(chance) for part in parts}
    takeoff = _taken(chance, parts, prices, stages)
    merchants = [Merchant(name, D(0), None, None, "GBP", chance.choice(BASES), D("0.2")) for name in names]
    buying = Buying(
        ("any",) if chance.randint(0, 4) else tuple(names[: max(1, len(names) - 1)]),
        tuple(_in_hand(chance, parts)),
        max_merchants=chance.choice((None, None, 1, 2, 3)),
        trips=chance.choice((1, 1, 2)),
    )
    catalogue = jobs.catalogue(parts=parts, prices=prices, merchants=merchants)
    plain = Question(jobs.job(buying=buying), catalogue, takeoff)
    limited = [_limited(chance, plain, of) for of in merchants]
    return replace(plain, catalogue=jobs.catalogue(parts=parts, prices=prices, merchants=limited))


WHEN: tuple[tuple[Stage, ...], ...] = (
    ("first-fix",),
    ("second-fix",),
    ("first-fix", "second-fix"),
    ("supply", "second-fix"),
)
BASES: tuple[Basis, ...] = ("ex", "inc")


def _part(chance: Random, name: str, kind: str) -> Part:
    rate = chance.choice(RATES)
    if kind == "piece":
        group = chance.choice(("", "", GROUP))
        return jobs.part(name, vat_rate=rate, match_group=group)
    counter = "timber" if kind == "timber" else "electrical"
    return jobs.part(name, "length", "m", vat_rate=rate, counter=counter)


def _prices(chance: Random, part: Part, kind: str, names: str, free_goods: bool) -> Iterator[Price]:
    """Rates per unit near each other, so that it is close which pack is best."""
    sellers = [name for name in names if chance.randint(0, 5)] or [names[0]]
    unit = chance.randint(1, 400)
    for name in sellers:
        for pack in chance.sample(PACKS[kind], chance.randint(1, 3)):
            pence = max(1, round(unit * Fraction(pack) * chance.randint(60, 120) / 100))
            if free_goods and not chance.randint(0, 1):
                pence = 0
            letter = chance.choice("kn") if part.match_group else ""
            yield price(part.part, name, pack, str(D(pence) / 100), chance.choice(BASES), letter)


def _stages(chance: Random) -> tuple[Stage, ...]:
    return chance.choice(WHEN)


def _taken(chance: Random, parts: list[Part], prices: list[Price], stages: Mapping[str, tuple[Stage, ...]]) -> TakeOff:
    quantities: list[Quantity] = []
    pieces: list[CutPiece] = []
    for part in sorted(parts, key=lambda of: of.part):
        own = stages[part.part]
        if part.sold_as == "piece":
            for stage in own:
                need = chance.choice(
                    (D(chance.randint(1, 30)), D(chance.randint(1, 30)), D("6.3"), D("0.25"), D("52.5"))
                )
                quantities.append(quantity(part.part, stage, str(need), str(need), "S1"))
            continue
        longest = max(row.pack for row in prices if row.part == part.part)
        most = max(6, int(longest * 10)) if longest != CUT_TO_ORDER_M else 80
        lengths = [chance.randint(3, most) for _ in range(chance.randint(1, 4))]
        for number, tenths in enumerate(lengths):
            stage = own[min(number, len(own) - 1)]
            pieces.append(CutPiece(part.part, stage, f"{part.part} leg {number}", D(tenths * 100)))
        for stage in own:
            metres = sum((of.length_mm for of in pieces if (of.part, of.stage) == (part.part, stage)), D(0)) / 1000
            if metres:
                quantities.append(quantity(part.part, stage, str(metres), str(metres), "S1"))
    return TakeOff(tuple(quantities), tuple(pieces), ())


def _in_hand(chance: Random, parts: list[Part]) -> Iterator[InHand]:
    for part in parts:
        if chance.randint(0, 3):
            continue
        if part.sold_as == "piece":
            yield InHand(part.part, None, 0, chance.choice((D(1), D(3), D("0.3"), D(40))))
        else:
            yield InHand(part.part, chance.randint(2, 60) * 100, chance.randint(1, 2), None)


def _limited(chance: Random, plain: Question, of: Merchant) -> Merchant:
    """Charges, and limits near what some plain choice comes to there (a penny or a pack away)."""

    def limit() -> Decimal | None:
        here = [row for row in plain.rows() if row.merchant == of.merchant]
        if not here or not chance.randint(0, 1):
            return None
        total = Fraction(0)
        for part in dict.fromkeys(row.part for row in here):
            if chance.randint(0, 1):
                row = chance.choice([row for row in here if row.part == part])
                total += _plain_packs(plain, row) * plain.value(row)
        near = chance.choice((D("-0.01"), D(0), D("0.01"), D("0.5"), D(2), D(10)))
        return max(D("0.01"), half_up(total) + near)

    return replace(of, delivery=D(chance.randint(0, 12)) / D(chance.choice((1, 2))), free_over=limit(), minimum=limit())


def _plain_packs(plain: Question, row: Price) -> int:
    if plain.catalogue.parts[row.part].sold_as == "piece":
        return ceil(plain.to_cover(row.part) / Fraction(row.pack))
    metres = sum(Fraction(of.length_mm) for of in plain.pieces(row.part)) / 1000
    return ceil(metres / Fraction(row.pack))


# --- other names, one more merchant ---


def renamed(question: Question) -> Question:
    """The same with every part and merchant under a name that sorts the other way round, prices given backwards."""
    parts = _other_names(question.catalogue.parts, "part-")
    merchants = _other_names(question.catalogue.merchants, "merchant-")
    of_job, of_cat, taken = question.job, question.catalogue, question.takeoff
    buying = replace(
        of_job.buying,
        merchants=tuple(merchants.get(name, name) for name in of_job.buying.merchants),
        in_hand=tuple(replace(row, part=parts[row.part]) for row in of_job.buying.in_hand),
    )
    takeoff = TakeOff(
        tuple(
            sorted(
                (replace(of, part=parts[of.part]) for of in taken.quantities),
                key=lambda of: (of.part, STAGES.index(of.stage)),
            )
        ),
        tuple(sorted((replace(of, part=parts[of.part]) for of in taken.pieces), key=lambda of: of.part)),
        (),
    )
    catalogue = jobs.catalogue(
        parts=[replace(of, part=parts[of.part]) for of in of_cat.parts.values()],
        merchants=[replace(of, merchant=merchants[of.merchant]) for of in of_cat.merchants.values()],
        prices=[replace(of, part=parts[of.part], merchant=merchants[of.merchant]) for of in reversed(of_cat.prices)],
    )
    return Question(replace(of_job, buying=buying), catalogue, takeoff)


def _other_names(names: Iterable[str], head: str) -> dict[str, str]:
    ordered = sorted(names)
    return {name: f"{head}{len(ordered) - at:02}" for at, name in enumerate(ordered)}


def with_one_more(question: Question, like: str) -> Question:
    """The same with one more merchant that sells what `like` sells, a quarter dearer, with no charge and no limits."""
    of = question.catalogue
    more = [
        replace(row, merchant="Z", price=half_up(Fraction(row.price) * 5 / 4))
        for row in of.prices
        if row.merchant == like
    ]
    merchants = [*of.merchants.values(), Merchant("Z", D(0), None, None, "GBP", "inc", D("0.2"))]
    catalogue = jobs.catalogue(parts=of.parts.values(), prices=[*of.prices, *more], merchants=merchants)
    names = question.job.buying.merchants
    buying = replace(question.job.buying, merchants=names if "any" in names else (*names, "Z"))
    return Question(replace(question.job, buying=buying), catalogue, question.takeoff)


# --- how they read ---


def told(question: Question) -> str:
    """A question in a few lines, for a report."""
    buying = question.job.buying
    lines = [
        f"buying: merchants {buying.merchants}, max_merchants {buying.max_merchants}, trips {buying.trips}, in hand "
        + str([(of.part, of.length_mm, of.count, str(of.packs)) for of in buying.in_hand])
    ]
    for of in question.catalogue.merchants.values():
        lines.append(
            f"merchant {of.merchant}: delivery {of.delivery} {of.vat}, free_over {of.free_over}, minimum {of.minimum}"
        )
    for name in question.parts():
        part = question.catalogue.parts[name]
        needs = [(need.stage, str(need.with_waste)) for need in question.takeoff.quantities if need.part == name]
        cut = [str(piece.length_mm) for piece in question.pieces(name)]
        lines.append(f"part {name}: vat {part.vat_rate}, group {part.match_group!r}, need {needs}, pieces {cut}")
        for row in (row for row in question.catalogue.prices if row.part == name):
            lines.append(f"    {row.merchant} pack {row.pack} at {row.price} {row.vat} {row.match}")
    return "\n".join(lines)


def shown(order: Order) -> str:
    """An order in a few lines, for a report."""
    lines = [f"cost {order.cost} bound {order.bound} proven {order.proven} exact {float(till_money(order)):.6f}"]
    lines += [
        f"    {of.packs} x {of.pack} {of.part or 'delivery'} at {of.merchant}, {of.price} {of.basis}, trip {of.trip}"
        for of in (*order.lines, *order.delivery)
    ]
    lines += [f"    cut {_cut(of)}" for of in order.cuts]
    lines += [f"    finding {of.check}: {of.message}" for of in order.findings]
    return "\n".join(lines)


def _cut(of: Cut) -> str:
    return f"{of.part} {of.stock_mm} from {of.merchant or 'in hand'}: {[str(length) for _, length in of.pieces]}"
