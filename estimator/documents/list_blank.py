"""What any merchant could be asked for: an `Estimate` goes in, lines for all that the job needs come out.

Nothing is chosen yet: quantities are what is needed, and the pack is left to the merchant where there is more than one.
"""

from collections import Counter
from decimal import Decimal

from estimator.buying.first_fit import enough
from estimator.buying.model import Cut
from estimator.catalogue.model import Part
from estimator.documents.list_columns import ONE_LENGTH_EACH
from estimator.documents.list_model import ListLine, in_order, is_cable
from estimator.documents.list_notes import noted
from estimator.documents.list_words import counted, either, pack_words
from estimator.documents.shelves import (
    CUT_PACK,
    FIRST,
    IN_ONE,
    asked_line,
    cut_line,
    longest,
    loose,
    metres_line,
    needed,
    trip_of,
    trip_of_stage,
    up,
)
from estimator.documents.words import number
from estimator.result import Estimate
from estimator.rounding import whole_up

CHOICES = 2
"""So many packs are named as examples."""
LENGTHS_TOLD = 4
"""So many different lengths are told one by one; of more, only the longest."""


def blank_lines(estimate: Estimate, counter: str) -> tuple[ListLine, ...]:
    """All that the job needs of one kind of counter; numbers run over the whole job, all counters and trips."""
    return tuple(line for line in every_blank_line(estimate) if line.counter == counter)


def every_blank_line(estimate: Estimate) -> tuple[ListLine, ...]:
    """All that the job needs and has not got, numbered once, so that lists from several merchants compare line by line."""
    found: list[ListLine] = []
    for part_code in dict.fromkeys(line.part for line in estimate.order.lines):
        part = estimate.catalogue.parts[part_code]
        trips = sorted({trip_of(estimate, line) for line in estimate.order.lines if line.part == part_code})
        found += _of_pieces(estimate, part, trips) if part.sold_as == "piece" else _of_lengths(estimate, part, trips)
    return noted(estimate, in_order(found))


def _sizes(estimate: Estimate, part: Part) -> list[Decimal]:
    """Packs that the price lists know, the smallest first."""
    return sorted({price.pack for price in estimate.catalogue.prices if price.part == part.part})


def _of_pieces(estimate: Estimate, part: Part, trips: list[int]) -> list[ListLine]:
    return [
        _piece_line(estimate, part, trip, quantity) for trip, quantity in _shares(estimate, part, trips) if quantity > 0
    ]


def _shares(estimate: Estimate, part: Part, trips: list[int]) -> list[tuple[int, Decimal]]:
    """What is needed on each trip; what is in hand goes to the first."""
    if len(trips) == 1:
        return [(trips[0], needed(estimate, part.part))]
    later = sum(
        (
            line.with_waste
            for line in estimate.budget.bill
            if line.part == part.part and trip_of_stage(estimate, line.stage) != FIRST
        ),
        Decimal(0),
    )
    now = needed(estimate, part.part) - later
    return [(FIRST, now), (trips[-1], later + min(now, Decimal(0)))]


def _piece_line(estimate: Estimate, part: Part, trip: int, needs: Decimal) -> ListLine:
    sizes = _sizes(estimate, part)
    quantity = up(needs, part.unit, sizes)
    choices = _worth_naming([(size, whole_up(quantity / size)) for size in sizes])
    if len(choices) == 1:
        [(size, count)] = choices
        return asked_line(
            estimate, part, trip, quantity, pack_words(size, part.unit), size, count, one_length=loose(part)
        )
    pack = either(choices, part.unit)
    return asked_line(estimate, part, trip, quantity, pack, None, 0, one_length=loose(part))


def _worth_naming(packs: list[tuple[Decimal, int]]) -> list[tuple[Decimal, int]]:
    """The largest packs first, and none larger than one that is enough alone; `packs` come the smallest first."""
    alone = next((index for index, (_, count) in enumerate(packs) if count == 1), len(packs) - 1)
    return packs[: alone + 1][::-1][:CHOICES]


def _of_lengths(estimate: Estimate, part: Part, trips: list[int]) -> list[ListLine]:
    cuts = [cut for cut in estimate.order.cuts if cut.part == part.part and cut.merchant]
    lines = []
    for trip in trips:
        mine = cuts if len(trips) == 1 else _on_trip(estimate, cuts, trip)
        if mine:
            lines += _length_lines(estimate, part, trip, mine)
    return lines


def _on_trip(estimate: Estimate, cuts: list[Cut], trip: int) -> list[Cut]:
    """Drums and lengths whose first piece is wanted on that trip."""
    stages = {(piece.part, piece.of): piece.stage for piece in estimate.takeoff.pieces}
    return [
        cut
        for cut in cuts
        if cut.pieces and trip_of_stage(estimate, stages.get((cut.part, cut.pieces[0][0]), "supply")) == trip
    ]


def _length_lines(estimate: Estimate, part: Part, trip: int, cuts: list[Cut]) -> list[ListLine]:
    """One line for drums or lengths as the merchant has them; what only comes cut to order is asked for length by length."""
    pieces = [length_mm for cut in cuts for _, length_mm in cut.pieces]
    kerf = estimate.job.allowances.kerf_mm if part.counter == "timber" else Decimal(0)
    sizes = _sizes(estimate, part)
    packs = _enough_packs(pieces, [size for size in sizes if size != CUT_PACK], kerf, cuts)
    if not packs and not is_cable(estimate.catalogue, part):
        return [metres_line(estimate, part, cuts, trip)]
    if not packs:
        lengths = Counter(cut.stock_mm for cut in cuts)
        return [cut_line(estimate, part, length_mm, count, trip) for length_mm, count in sorted(lengths.items())]
    metres = up(sum(pieces, Decimal(0)).scaleb(-3), "m")
    note = _pieces_note([length_mm.scaleb(-3) for length_mm in pieces])
    word = "drum" if is_cable(estimate.catalogue, part) else "length"
    choices = _worth_naming(packs)
    pack_size, count = choices[0] if len(choices) == 1 and CUT_PACK not in sizes else (None, 0)
    if pack_size is not None:
        pack = f"{word} of {number(pack_size)} m"
    else:
        pack = f"{either(choices, 'm')}{', or cut' if CUT_PACK in sizes else ''}"
    return [asked_line(estimate, part, trip, metres, pack, pack_size, count, one_length=ONE_LENGTH_EACH, note=note)]


def _enough_packs(
    pieces: list[Decimal], sizes: list[Decimal], kerf_mm: Decimal, cuts: list[Cut]
) -> list[tuple[Decimal, int]]:
    """For each size that every piece fits, how many do; where the order is of one size alone, no more than it buys."""
    bought = Counter(cut.stock_mm for cut in cuts)
    packs = []
    for size in sizes:
        count = enough(pieces, size * 1000, kerf_mm)
        if count is not None:
            packs.append((size, min(count, bought[size * 1000]) if set(bought) == {size * 1000} else count))
    return packs


def _pieces_note(lengths_m: list[Decimal]) -> str:
    """The pieces that the metres are for; the metres themselves stand under the quantity."""
    if len(lengths_m) == 1:
        return IN_ONE
    return longest(max(lengths_m)) if len(set(lengths_m)) > LENGTHS_TOLD else f"in pieces: {counted(lengths_m)}"
