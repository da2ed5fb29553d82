"""The purchase: a take-off and the price lists in; whole packs, drums and lengths at least cost out."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.buying.baskets import fill_baskets
from estimator.buying.deliveries import deliveries
from estimator.buying.lengths import buy_lengths
from estimator.buying.model import Bought, Cut, Order, OrderLine
from estimator.buying.offers import Offers, allowed, offers_for
from estimator.buying.pieces import buy_pieces
from estimator.buying.stock import NotEnough, TooLong
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import Job, Stage
from estimator.problems import Place, Problem, Refused
from estimator.rounding import money
from estimator.takeoff.model import CutPiece, Quantity, TakeOff


@dataclass(frozen=True, slots=True)
class Need:
    """All of one part that the job needs, at every stage."""

    part: str
    stage: Stage
    with_waste: Decimal
    place: Place


@dataclass(frozen=True, slots=True)
class Choice:
    """How one part is bought: packs by offer, cuts, units in hand that are used, exact cost and bound inc VAT."""

    need: Need
    offers: Offers
    packs: tuple[tuple[str, int], ...]
    cuts: tuple[Cut, ...]
    in_hand: Decimal
    cost: Fraction
    bound: Fraction
    proven: bool


def order(job: Job, catalogue: Catalogue, takeoff: TakeOff) -> Order:
    """The cheapest whole packs of every part, part by part; delivery is added to what that gives.

    Ties: least money, then least left over, then fewest packs, then merchant by name.

    Raises:
        Refused: a part that no allowed merchant sells, or a piece longer than anything for sale.
    """
    needs = _needs(takeoff)
    merchants = allowed(job, catalogue)
    problems = _unsold(catalogue, needs, merchants)
    if problems:
        raise Refused(problems)
    choices, findings, problems = _choices(job, catalogue, takeoff, needs, merchants)
    if problems:
        raise Refused(problems)
    lines = [line for choice in choices for line in _lines(catalogue, choice)]
    carried, told = deliveries(catalogue, lines)
    filled, baskets = fill_baskets([*lines, *carried])
    bought = tuple(_bought(choice, filled) for choice in choices)
    return Order(
        lines=tuple(line for line in filled if line.part),
        delivery=tuple(line for line in filled if not line.part),
        baskets=baskets,
        cuts=tuple(cut for choice in choices for cut in choice.cuts),
        bought=bought,
        cost=money(sum((choice.cost for choice in choices), Fraction(0))),
        bound=money(sum((choice.bound for choice in choices), Fraction(0))),
        proven=all(choice.proven for choice in choices),
        findings=(*findings, *told),
    )


def _needs(takeoff: TakeOff) -> tuple[Need, ...]:
    by_part: dict[str, list[Quantity]] = {}
    for quantity in takeoff.quantities:
        if quantity.with_waste:
            by_part.setdefault(quantity.part, []).append(quantity)
    return tuple(
        Need(
            part,
            rows[0].stage,
            sum((row.with_waste for row in rows), Decimal(0)),
            next((place for row in rows for place in row.source), Place("")),
        )
        for part, rows in sorted(by_part.items())
    )


def _unsold(catalogue: Catalogue, needs: Iterable[Need], merchants: tuple[str, ...]) -> list[Problem]:
    problems = []
    for need in needs:
        if not offers_for(need.part, catalogue, merchants).rows:
            problems.append(
                Problem(
                    need.place,
                    "",
                    f'nobody sells "{need.part}" ({catalogue.parts[need.part].description})',
                    f"add a price for it to prices.csv at one of: {', '.join(merchants)}",
                )
            )
    return problems


def _choices(
    job: Job, catalogue: Catalogue, takeoff: TakeOff, needs: tuple[Need, ...], merchants: tuple[str, ...]
) -> tuple[list[Choice], list[Finding], list[Problem]]:
    findings: list[Finding] = []
    problems: list[Problem] = []
    chosen: dict[str, Choice] = {}
    groups: dict[str, list[Need]] = {}
    for need in needs:
        groups.setdefault(catalogue.parts[need.part].match_group or f"part {need.part}", []).append(need)
    for group, members in sorted(groups.items()):
        matches: list[str | None] = [None]
        if not group.startswith("part "):
            matches = list(_whole_makes(catalogue, members, merchants)) or [None]
            if matches == [None]:
                findings.append(_no_make(group, members))
        best: list[Choice] | None = None
        failed: list[Problem] = []
        for match in matches:
            try:
                tried = [_choose(job, catalogue, takeoff, need, merchants, match) for need in members]
            except _Impossible as impossible:
                failed.append(impossible.problem)
                continue
            if best is None or sum(one.cost for one in tried) < sum(one.cost for one in best):
                best = tried
        if best is None:
            problems += failed
        chosen.update({choice.need.part: choice for choice in best or ()})
    return [chosen[need.part] for need in needs if need.part in chosen], findings, problems


def _whole_makes(catalogue: Catalogue, needs: Iterable[Need], merchants: tuple[str, ...]) -> tuple[str, ...]:
    """Match letters that every part of a group is sold with."""
    letters = [{row.price.match for row in offers_for(need.part, catalogue, merchants).rows} for need in needs]
    return tuple(sorted(frozenset.intersection(*(frozenset(of) for of in letters))))


def _no_make(group: str, needs: list[Need]) -> Finding:
    parts = ", ".join(need.part for need in needs)
    return Finding(
        "one-make",
        "ask",
        group,
        f"No one make on the price list covers all of: {parts}. Parts of one board must be "
        "of one make: ask your electrician which, and price that make whole.",
        source="common practice",
    )


class _Impossible(Exception):
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(str(problem))


def _choose(
    job: Job, catalogue: Catalogue, takeoff: TakeOff, need: Need, merchants: tuple[str, ...], match: str | None
) -> Choice:
    part = catalogue.parts[need.part]
    offers = offers_for(need.part, catalogue, merchants, match)
    in_hand = [of for of in job.buying.in_hand if of.part == need.part]
    if part.sold_as == "piece":
        return Choice(need, offers, *buy_pieces(offers, need.with_waste, in_hand))
    pieces = [piece for piece in takeoff.pieces if piece.part == need.part]
    kerf = job.allowances.kerf_mm if part.counter == "timber" else Decimal(0)
    try:
        bought = buy_lengths(offers, pieces, in_hand, kerf)
    except (TooLong, NotEnough) as error:
        raise _Impossible(_too_long(catalogue, need, pieces)) from error
    return Choice(need, offers, bought.packs, bought.cuts, bought.in_hand, bought.cost, bought.bound, bought.proven)


def _too_long(catalogue: Catalogue, need: Need, pieces: Iterable[CutPiece]) -> Problem:
    longest = max(pieces, key=lambda piece: (piece.length_mm, piece.of))
    metres = f"{longest.length_mm.scaleb(-3).normalize():f} m"
    return Problem(
        need.place,
        "",
        f'"{longest.of}" wants {metres} of {catalogue.parts[need.part].description} in one length, and '
        "nothing that long is for sale",
        f"add a drum or length of {metres} or more to prices.csv, or split the run",
    )


def _lines(catalogue: Catalogue, choice: Choice) -> list[OrderLine]:
    lines = []
    for key, packs in choice.packs:
        price = choice.offers.row(key).price
        rate = catalogue.parts[price.part].vat_rate
        amount = money(price.price * packs)
        lines.append(
            OrderLine(
                price.part,
                price.merchant,
                price.pack,
                packs,
                price.price,
                price.vat,
                rate,
                amount,
                Decimal(0),
                choice.need.stage,
                price.place,
            )
        )
    return lines


def _bought(choice: Choice, lines: Iterable[OrderLine]) -> Bought:
    of = [line for line in lines if line.part == choice.need.part]
    return Bought(
        choice.need.part,
        sum((line.net for line in of), Decimal(0)),
        sum((line.pack * line.packs for line in of), Decimal(0)),
        choice.in_hand,
    )
