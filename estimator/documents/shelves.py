"""What a merchant is asked for: an `Estimate` and a merchant go in, numbered lines in picking order come out.

Nothing of ours is in them: no prices, no points, no circuits, only what stands on a shelf.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal

from estimator.buying.asked_lengths import lengths_mm
from estimator.buying.model import Cut, OrderLine
from estimator.catalogue.model import Part
from estimator.documents.list_columns import ONE_LENGTH_EACH
from estimator.documents.list_model import SHELVES as SHELVES
from estimator.documents.list_model import ListLine as ListLine
from estimator.documents.list_model import in_order, is_armoured, is_cable, shelf_of
from estimator.documents.list_notes import noted
from estimator.documents.list_words import pack_words, plain_and_size
from estimator.documents.words import number
from estimator.job.model import Stage
from estimator.result import Estimate
from estimator.rounding import whole_up

CUT_PACK = Decimal(1)
"""What is sold by length in packs of 1 m is cut to order."""
IN_ONE = "in one length"
BY_THE_METRE = "metre, cut to order"
FIRST, SECOND = 1, 2
PLACES = (1, 2, 3)
"""Decimals of a quantity, the fewest that will do."""
STOCK_MM = Decimal(4800)
"""Timber is no longer than this where the price list has no length of it; common practice."""


def trip_of(estimate: Estimate, line: OrderLine) -> int:
    """The trip on which a line of the order is bought."""
    return trip_of_stage(estimate, line.stage)


def trip_of_stage(estimate: Estimate, stage: Stage) -> int:
    """The trip for a stage: where the job has two, the second is for second fix."""
    return SECOND if estimate.job.buying.trips == SECOND and stage == "second-fix" else FIRST


def merchants(estimate: Estimate) -> tuple[str, ...]:
    """Merchants that something is bought from, by name."""
    return tuple(sorted({line.merchant for line in estimate.order.lines}))


def list_lines(estimate: Estimate, merchant: str) -> tuple[ListLine, ...]:
    """All that is asked of a merchant, numbered over all trips and counters."""
    found = (asked for line in estimate.order.lines if line.merchant == merchant for asked in _asked(estimate, line))
    return noted(estimate, in_order(found))


def _asked(estimate: Estimate, line: OrderLine) -> list[ListLine]:
    part = estimate.catalogue.parts[line.part]
    if part.sold_as == "piece":
        return [_pieces(estimate, part, line)]
    mine = [cut for cut in estimate.order.cuts if (cut.part, cut.merchant) == (line.part, line.merchant)]
    if line.pack != CUT_PACK:
        return [_lengths(estimate, part, line, [cut for cut in mine if cut.stock_mm == line.pack * 1000])]
    whole = {of.pack * 1000 for of in estimate.order.lines if (of.part, of.merchant) == (line.part, line.merchant)}
    to_order = [cut for cut in mine if cut.stock_mm not in whole or cut.stock_mm == line.pack * 1000]
    if not is_cable(estimate.catalogue, part):
        return [metres_line(estimate, part, to_order, trip_of(estimate, line), _code(estimate, line))]
    counted = Counter(cut.stock_mm for cut in to_order)
    return [
        cut_line(estimate, part, length_mm, count, trip_of(estimate, line), _code(estimate, line))
        for length_mm, count in sorted(counted.items())
    ]


def _code(estimate: Estimate, line: OrderLine) -> str:
    """The merchant's own code for what is bought, where the price list has it."""
    wanted = (line.part, line.merchant, line.pack)
    codes = (
        price.merchant_code for price in estimate.catalogue.prices if (price.part, price.merchant, price.pack) == wanted
    )
    return next(codes, "")


def asked_line(
    estimate: Estimate,
    part: Part,
    trip: int,
    quantity: Decimal,
    pack: str,
    pack_size: Decimal | None,
    packs: int,
    *,
    one_length: str = "",
    note: str = "",
    code: str = "",
    cut: bool = False,
) -> ListLine:
    """A line, not numbered yet; it weighs what its packs weigh, or the quantity where the pack is left open."""
    words, size_finish = plain_and_size(part)
    units = quantity if pack_size is None else pack_size * packs
    return ListLine(
        number=0,
        trip=trip,
        counter=part.counter,
        shelf=shelf_of(estimate.catalogue, part, cut),
        words=words,
        trade_name=part.trade_name,
        size_finish=size_finish,
        code=code,
        quantity=quantity,
        unit=part.unit,
        pack=pack,
        pack_size=pack_size,
        packs=packs,
        one_length=one_length,
        same_kind=not part.match_group,
        note=note,
        weight_kg=None if part.weight_kg is None else part.weight_kg * units,
        part=part.part,
    )


def _pieces(estimate: Estimate, part: Part, line: OrderLine) -> ListLine:
    """Packs of what is counted or measured: as many units as are needed where all come in these packs."""
    alone = sum(of.part == line.part for of in estimate.order.lines) == 1
    quantity = up(needed(estimate, part.part), part.unit, (line.pack,)) if alone else line.pack * line.packs
    return asked_line(
        estimate,
        part,
        trip_of(estimate, line),
        quantity,
        pack_words(line.pack, part.unit),
        line.pack,
        line.packs,
        one_length=loose(part),
        code=_code(estimate, line),
    )


def loose(part: Part) -> str:
    """What is measured, and not cut by us, may come in pieces."""
    return "may be in pieces" if part.unit == "m" else ""


def longest(length_m: Decimal) -> str:
    """How long the longest piece is that a length has to hold."""
    return f"longest piece {number(length_m)} m"


def needed(estimate: Estimate, part: str) -> Decimal:
    """What has to be bought of a part."""
    need = sum((line.with_waste for line in estimate.budget.bill if line.part == part), Decimal(0))
    return need - sum((bought.in_hand for bought in estimate.order.bought if bought.part == part), Decimal(0))


def up(quantity: Decimal, unit: str, sizes: Iterable[Decimal] = ()) -> Decimal:
    """A quantity as a list says it: whole pieces; other units to the next tenth, or finer where a tenth would ask for more
    packs of one of these `sizes` than the quantity itself does.
    """
    if unit == "nr":
        return Decimal(whole_up(quantity))
    packs = [(size, whole_up(quantity / size)) for size in sizes]
    steps = (Decimal(whole_up(quantity.scaleb(places))).scaleb(-places) for places in PLACES)
    return next((said for said in steps if all(said <= size * count for size, count in packs)), quantity)


def _lengths(estimate: Estimate, part: Part, line: OrderLine, cuts: list[Cut]) -> ListLine:
    """Drums or lengths as they are sold, with the metres that are cut from them and the longest piece."""
    pieces = [length_mm for cut in cuts for _, length_mm in cut.pieces]
    metres = up(sum(pieces, Decimal(0)).scaleb(-3), "m")
    return asked_line(
        estimate,
        part,
        trip_of(estimate, line),
        metres,
        f"{'drum' if is_cable(estimate.catalogue, part) else 'length'} of {number(line.pack)} m",
        line.pack,
        line.packs,
        one_length=ONE_LENGTH_EACH,
        note=IN_ONE if len(pieces) == 1 else longest(max(pieces, default=Decimal(0)).scaleb(-3)),
        code=_code(estimate, line),
    )


def cut_line(estimate: Estimate, part: Part, length_mm: Decimal, count: int, trip: int, code: str = "") -> ListLine:
    """Lengths cut to order: each in one piece."""
    metres = length_mm.scaleb(-3)
    note = ""
    if is_armoured(estimate.catalogue, part):
        said = f"{'one length' if count == 1 else f'{count} lengths'} of {number(metres)} m"
        shorter = f"not two of {number(metres / 2)} m" if count == 1 else "none in shorter pieces"
        note = f"{said}, {shorter}; cut length, not returnable; on a drum or coil"
    return asked_line(
        estimate,
        part,
        trip,
        metres * count,
        f"cut, {number(metres)} m",
        metres,
        count,
        one_length=ONE_LENGTH_EACH,
        note=note,
        code=code,
        cut=True,
    )


def metres_line(estimate: Estimate, part: Part, cuts: Sequence[Cut], trip: int, code: str = "") -> ListLine:
    """What is no cable and is sold by the metre: the metres, in lengths that a merchant can have, each for whole pieces."""
    metres = sum((cut.stock_mm for cut in cuts), Decimal(0)).scaleb(-3)
    sold = [price.pack * 1000 for price in estimate.catalogue.prices if price.part == part.part]
    stocked = max((size for size in sold if size != CUT_PACK * 1000), default=STOCK_MM)
    kerf = estimate.job.allowances.kerf_mm if part.counter == "timber" else Decimal(0)
    pieces = [length_mm for cut in cuts for _, length_mm in cut.pieces]
    lengths = Counter(lengths_mm(pieces, stocked, kerf, metres * 1000))
    said = ", ".join(f"{count} x {number(length_mm.scaleb(-3))} m" for length_mm, count in lengths.items())
    return asked_line(
        estimate,
        part,
        trip,
        metres,
        BY_THE_METRE,
        CUT_PACK,
        whole_up(metres),
        one_length=ONE_LENGTH_EACH,
        note=f"in lengths of {said}, cut to order",
        code=code,
        cut=True,
    )
