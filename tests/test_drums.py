"""Names of drums and lengths, the order to pull pieces in, and where each cut falls: cases by hand and the examples."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal as D
from functools import cache

import pytest

from estimator.buying.drums import PartDrums, drums
from estimator.buying.model import Cut, Order, OrderLine
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue, Merchant, Part, Price
from estimator.catalogue.read import read_catalogue
from estimator.documents.drum_words import drums_words, left_words
from estimator.estimate import estimate
from estimator.job.model import Buying, InHand, Job
from estimator.job.read import read_job
from estimator.problems import NOWHERE
from estimator.result import Estimate
from estimator.takeoff.model import CutPiece, Quantity, TakeOff
from tests import houses, jobs
from tests.estimates import price
from tests.shed import STUDIO

CABLE = jobs.part("cable-te-2.5", "length", "m")
TIMBER = jobs.part("timber-38x89", "length", "m", counter="timber")
CONDUIT = jobs.part("conduit-20", "length", "m")


def shop(parts: Sequence[Part], prices: Sequence[Price] = ()) -> Catalogue:
    names = sorted({row.merchant for row in prices})
    merchants = [Merchant(name, D(0), None, None, "GBP", "ex", D("0.2")) for name in names]
    return jobs.catalogue(parts=parts, prices=prices, merchants=merchants)


def job(in_hand: Sequence[InHand] = ()) -> Job:
    of = jobs.job(buying=Buying(("any",), tuple(in_hand)))
    return replace(of, allowances=jobs.allowances(kerf_mm=D(3)))


def lengths(part: str, *pieces_mm: int) -> TakeOff:
    pieces = tuple(CutPiece(part, "first-fix", f"piece {n}", D(mm)) for n, mm in enumerate(pieces_mm, 1))
    total = sum((piece.length_mm for piece in pieces), D(0)).scaleb(-3)
    return TakeOff((Quantity(part, "first-fix", total, total, (), ()),), pieces, ())


def bought(of: Job, catalogue: Catalogue, takeoff: TakeOff) -> PartDrums:
    (part,) = drums(of, catalogue, order(of, catalogue, takeoff))
    return part


def by_hand(lines: Sequence[tuple[str, str, str, int]], cuts: Sequence[Cut]) -> Order:
    """An order with these lines (part, merchant, metres in a pack, packs) and cuts."""
    made = [
        OrderLine(part, of, D(pack), packs, D(1), "ex", D("0.2"), D(1), D(1), "first-fix", NOWHERE)
        for part, of, pack, packs in lines
    ]
    return Order(tuple(made), (), (), tuple(cuts), (), D(0), D(0), True, ())


def test_drums_are_counted_through_and_say_where_each_cut_falls() -> None:
    # hand: 60 + 38 + 23.4 of 100 + 50 at 0.48 and 0.53 a metre: one of each, filled in one of two ways
    prices = [price("cable-te-2.5", "B", "100", "48.00", "ex"), price("cable-te-2.5", "B", "50", "26.50", "ex")]
    part = bought(job(), shop([CABLE], prices), lengths("cable-te-2.5", 60000, 38000, 23400))
    assert ["cable-te-2.5 drum 1 of 2", "cable-te-2.5 drum 2 of 2"] == [drum.name for drum in part.drums]
    assert ["drum 1", "drum 2"] == [drum.label for drum in part.drums]
    assert (3, D(121400), D(28600), D(0)) == (part.pieces, part.cut_mm, part.left_mm, part.kerf_mm)
    first = part.drums[0]
    assert (D(60000), D(40000)) == (first.pulls[0].mark_mm, first.pulls[0].left_mm)
    second = first.pulls[1]
    assert (D(60000) + second.length_mm, D(40000) - second.length_mm) == (second.mark_mm, second.left_mm)


def test_the_longest_is_pulled_first_and_equal_ones_in_working_order() -> None:
    catalogue = shop([CABLE], [price("cable-te-2.5", "B", "50", "26.50", "ex")])
    part = bought(job(), catalogue, lengths("cable-te-2.5", 3000, 9000, 3000, 4000, 3000))
    assert ["piece 2", "piece 4", "piece 1", "piece 3", "piece 5"] == [pull.of for pull in part.drums[0].pulls]
    # hand: 9, 9 + 4, then 3 more each, of 50
    assert [9000, 13000, 16000, 19000, 22000] == [pull.mark_mm for pull in part.drums[0].pulls]
    assert [41000, 37000, 34000, 31000, 28000] == [pull.left_mm for pull in part.drums[0].pulls]


def test_a_saw_cut_lies_between_two_pieces_of_timber_and_not_after_the_last() -> None:
    catalogue = shop([TIMBER], [price("timber-38x89", "A", "2.4", "4.80", "inc")])
    part = bought(job(), catalogue, lengths("timber-38x89", 562, 562, 562, 562))
    # hand: 562; 562 + 3 + 562 = 1127; + 565 = 1692; + 565 = 2257; 2400 - 2257 = 143
    (drum,) = part.drums
    assert [562, 1127, 1692, 2257] == [pull.mark_mm for pull in drum.pulls]
    assert [1838, 1273, 708, 143] == [pull.left_mm for pull in drum.pulls]
    assert ("timber-38x89 length 1 of 1", D(3)) == (drum.name, part.kerf_mm)


def test_what_is_cut_to_order_and_what_is_in_hand_is_named_as_such() -> None:
    prices = [price("cable-te-2.5", "B", "50", "26.50", "ex"), price("cable-te-2.5", "B", "1", "0.70", "ex")]
    there = [InHand("cable-te-2.5", 8000, 1, None)]
    part = bought(job(there), shop([CABLE], prices), lengths("cable-te-2.5", 48000, 8000, 5000))
    # hand: 8 m is there; 48 m of a drum for 26.50 or by the metre for 33.60; 5 m for 3.50 or another drum for 26.50
    assert {
        "cable-te-2.5 drum 1 of 3": ("B", D(50000), D(2000)),
        "cable-te-2.5 off-cut in hand 2 of 3": ("", D(8000), D(0)),
        "cable-te-2.5 cut length 3 of 3": ("B", D(5000), D(0)),
    } == {drum.name: (drum.merchant, drum.stock_mm, drum.left_mm) for drum in part.drums}


def test_a_length_cut_to_order_that_is_as_long_as_a_drum_is_told_from_it() -> None:
    cuts = [
        Cut("cable-te-2.5", "B", D(50000), (("a", D(50000)),), D(0)),
        Cut("cable-te-2.5", "B", D(50000), (), D(50000)),
    ]
    bought_so = by_hand([("cable-te-2.5", "B", "50", 1), ("cable-te-2.5", "B", "1", 50)], cuts)
    (part,) = drums(job(), shop([CABLE]), bought_so)
    assert ["drum 1", "cut length 2"] == [drum.label for drum in part.drums]


def test_a_drum_bought_beyond_the_need_is_left_whole() -> None:
    cuts = [Cut("cable-te-2.5", "B", D(50000), (), D(50000))]
    (part,) = drums(job(), shop([CABLE]), by_hand([("cable-te-2.5", "B", "50", 1)], cuts))
    assert (D(50000), 0, D(0)) == (part.drums[0].left_mm, part.pieces, part.cut_mm)
    assert ("1 drum: nothing is cut", "50 m left on drum 1") == (drums_words(part), left_words(part))


def test_only_cable_comes_on_drums() -> None:
    catalogue = shop([CONDUIT], [price("conduit-20", "A", "3", "2.10", "ex")])
    part = bought(job(), catalogue, lengths("conduit-20", 250, 250))
    assert "conduit-20 length 1 of 1" == part.drums[0].name
    assert ("1 length: 0.5 m in 2 pieces", "2.5 m left of length 1") == (drums_words(part), left_words(part))


def test_what_is_left_is_told_in_words_where_it_lies_in_several() -> None:
    cuts = [
        Cut("cable-te-2.5", "B", D(50000), (("a", D(48000)),), D(2000)),
        Cut("cable-te-2.5", "B", D(50000), (("b", D(46900)),), D(3100)),
        Cut("cable-te-2.5", "", D(5000), (("c", D(1000)), ("d", D(900))), D(3100)),
    ]
    (part,) = drums(job(), shop([CABLE]), by_hand([("cable-te-2.5", "B", "50", 2)], cuts))
    # hand: 48 + 46.9 + 1.9 = 96.8; 2 + 3.1 + 3.1 = 8.2
    assert drums_words(part) == "2 drums, 1 off-cut in hand: 96.8 m in 4 pieces"
    assert left_words(part) == "8.2 m left in all, at most 3.1 m in one (drum 2)"
    full = replace(part, drums=(replace(part.drums[0], pulls=(replace(part.drums[0].pulls[0], left_mm=D(0)),)),))
    assert left_words(full) == "nothing left"


def test_nothing_cut_is_no_drum() -> None:
    assert () == drums(job(), shop([CABLE]), by_hand([], []))


@cache
def studio() -> Estimate:
    made, _ = read_job(STUDIO)
    return estimate(made, read_catalogue(STUDIO))


@cache
def house() -> Estimate:
    return estimate(houses.house(), read_catalogue(houses.FOLDER))


@pytest.mark.parametrize("which", [studio, house])
def test_in_the_examples_every_name_is_its_own_and_every_cut_leaves_what_the_order_says(which: object) -> None:
    assert callable(which)
    of: Estimate = which()
    every = [drum for part in of.drums() for drum in part.drums]
    assert len({drum.name for drum in every}) == len(every) == len(of.order.cuts)
    assert [cut.left_over_mm for cut in of.order.cuts] == [drum.left_mm for drum in every]
    assert [cut.pieces for cut in of.order.cuts] == [
        tuple((pull.of, pull.length_mm) for pull in drum.pulls) for drum in every
    ]
    for drum in every:
        pulled = [pull.length_mm for pull in drum.pulls]
        assert sorted(pulled, reverse=True) == pulled
        assert all(pull.mark_mm + pull.left_mm == drum.stock_mm for pull in drum.pulls)


@pytest.mark.parametrize("which", [studio, house])
def test_in_the_examples_equal_pieces_of_a_drum_come_in_working_order(which: object) -> None:
    assert callable(which)
    of: Estimate = which()
    turn: dict[tuple[str, str], int] = {}
    for number, piece in enumerate(of.takeoff.pieces):
        turn.setdefault((piece.part, piece.of), number)
    for part in of.drums():
        for drum in part.drums:
            keys = [(-pull.length_mm, turn[part.part, pull.of]) for pull in drum.pulls]
            assert sorted(keys) == keys
