"""Packs: hand-worked purchases, brute force, and rules that any choice of packs must keep."""

from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.buying.packs import PackOffer, PackPlan, cover
from estimator.buying.stock import NotEnough
from estimator.buying.verify import pack_faults


def offer(units: str, price: int, limit: int | None = None) -> PackOffer:
    return PackOffer(units, Decimal(units), price, limit)


def test_twenty_nine_grommets_are_two_small_bags_though_the_large_bag_is_cheaper_each() -> None:
    # hand: 2 x 25 at 150 = 300 against one bag of 100 at 400, which is 4.0 each against 6.0
    assert PackPlan((("25", 2),), 300, 300, True) == cover(29, [offer("25", 150), offer("100", 400)])


def test_twenty_nine_grommets_are_one_large_bag_where_that_costs_less_than_two_small_ones() -> None:
    # hand: 2 x 250 = 500 against 400
    assert PackPlan((("100", 1),), 400, 400, True) == cover(29, [offer("25", 250), offer("100", 400)])


@pytest.mark.parametrize(
    ("need", "counts", "cost"),
    [
        (60, (("100", 1),), 300),  # hand: one box of 100
        (150, (("200", 1),), 500),  # hand: 2 x 100 = 600, 200 = 500
        (260, (("100", 1), ("200", 1)), 800),  # hand: 2 x 200 = 1000, 3 x 100 = 900
        (950, (("1000", 1),), 2000),  # hand: 4 x 200 + 2 x 100 = 2600
        (1001, (("100", 1), ("1000", 1)), 2300),
        (0, (), 0),
    ],
)
def test_screws_from_boxes(need: int, counts: tuple[tuple[str, int], ...], cost: int) -> None:
    boxes = [offer("100", 300), offer("200", 500), offer("1000", 2000)]
    assert PackPlan(counts, cost, cost, True) == cover(need, boxes)


def test_needs_and_packs_in_parts_of_a_unit_are_exact() -> None:
    # hand: 0.3 of 0.1 packs is 3, not 4; a third more than that is 4
    assert cover(Decimal("0.3"), [offer("0.1", 7)]).counts == (("0.1", 3),)
    assert cover(Fraction("0.3") + Fraction(1, 300), [offer("0.1", 7)]).counts == (("0.1", 4),)
    # hand: 7.3 m of sleeving from 5 m at 400 and 2.5 m at 220: 5 + 2.5 = 620, 3 x 2.5 = 660, 2 x 5 = 800
    assert cover(Decimal("7.3"), [offer("5", 400), offer("2.5", 220)]).cost == 620


def test_of_equal_money_least_is_left_over_then_fewest_packs_then_the_first_key() -> None:
    # hand: 12 costs 12 as 12 x 1 or 1 x 20; then nothing left over wins
    assert cover(12, [offer("1", 1), offer("20", 12)]).counts == (("1", 12),)
    # hand: 20 costs 20 as 20 x 1, 2 x 10 or 10 + 10 x 1; fewest packs wins
    assert cover(20, [offer("1", 1), offer("10", 10)]).counts == (("10", 2),)
    same = [PackOffer("b", Decimal(10), 5), PackOffer("a", Decimal(10), 5)]
    assert cover(30, same).counts == (("a", 3),)


def test_limits_bind_and_too_little_on_offer_is_told() -> None:
    # hand: two packs of 10 in hand for nothing and one of 5 at 20, against 90 for 50; three of 10 there are not
    assert cover(25, [offer("10", 0, 2), offer("50", 90), offer("5", 20)]).counts == (("10", 2), ("5", 1))
    with pytest.raises(NotEnough) as caught:
        cover(25, [offer("10", 1, 2)])
    assert caught.value.proven
    with pytest.raises(NotEnough):
        cover(1, [])


@pytest.mark.parametrize(
    ("need", "offers"),
    [
        (-1, [offer("1", 1)]),
        (1, [offer("0", 1)]),
        (1, [offer("1", -1)]),
        (1, [offer("1", 1, -1)]),
        (1, [offer("1", 1), offer("1", 2)]),
    ],
)
def test_questions_that_make_no_sense_are_refused(need: int, offers: list[PackOffer]) -> None:
    with pytest.raises(ValueError, match=r"must|share a key"):
        cover(need, offers)


def brute(need: Fraction, offers: list[PackOffer]) -> tuple[int, tuple[tuple[str, int], ...]] | None:
    offers = sorted(offers, key=lambda o: o.key)
    most = [-(-need // Fraction(o.units)) if o.limit is None else o.limit for o in offers]
    found = []
    for counts in product(*(range(int(count) + 1) for count in most)):
        units = sum((Fraction(o.units) * count for o, count in zip(offers, counts, strict=True)), Fraction(0))
        if units >= need:
            cost = sum(o.price * count for o, count in zip(offers, counts, strict=True))
            packs = tuple((o.key, count) for o, count in zip(offers, counts, strict=True) if count)
            found.append((cost, units, sum(counts), [-count for count in counts], packs))
    return (min(found)[0], min(found)[4]) if found else None


units = st.tuples(st.integers(3, 40), st.sampled_from([1, 1, 2, 4, 10])).map(lambda pair: Decimal(pair[0]) / pair[1])
offer_lists = st.lists(
    st.tuples(units, st.integers(0, 30), st.sampled_from([None, None, 0, 1, 3])), min_size=1, max_size=3
).map(lambda rows: [PackOffer(f"k{number}", *row) for number, row in enumerate(rows)])


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.fractions(0, 12, max_denominator=7), offer_lists)
def test_small_needs_agree_with_brute_force(need: Fraction, offers: list[PackOffer]) -> None:
    least = brute(need, offers)
    if least is None:
        with pytest.raises(NotEnough):
            cover(need, offers)
        return
    assert PackPlan(least[1], least[0], least[0], True) == cover(need, offers)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(1, 100_000), st.lists(st.integers(60, 140), min_size=5, max_size=5))
def test_large_needs_are_proven_and_keep_the_rules(need: int, rates: list[int]) -> None:
    sizes = (1, 10, 100, 200, 1000)
    offers = [offer(str(size), size * rate + 30) for size, rate in zip(sizes, rates, strict=True)]
    plan = cover(need, offers)
    assert plan.proven
    assert pack_faults(plan.counts, plan.cost, need, [(o.key, o.units, o.price, o.limit) for o in offers]) == ()
    assert plan.cost <= min(o.price * -(-need // int(o.units)) for o in offers)  # one kind of pack alone
    assert plan == cover(need, offers[::-1])
    assert plan.cost <= cover(need, offers[1:]).cost  # one offer fewer
    assert plan.cost <= cover(need + 1, offers).cost


def test_packs_whose_rates_are_nearly_alike_are_settled_too() -> None:
    # worked out twice: by branch and bound to its end, and by a table over all amounts; regression here
    offers = [offer(str(size), size * 1000 + size % 7) for size in (7, 11, 13, 97, 101, 1009)]
    plan = cover(99_999, offers)
    assert (plan.cost, plan.proven) == (99_999_004, True)


def test_the_second_look_finds_each_kind_of_fault() -> None:
    rows = [("a", Decimal(10), 5, 2)]
    assert pack_faults([("a", 2)], 10, 20, rows) == ()
    assert [
        wrong
        for wrong in (
            ([("a", 2)], 10, 21),
            ([("a", 3)], 15, 20),
            ([("a", 2)], 9, 20),
            ([("b", 2)], 10, 20),
            ([("a", 0)], 0, 0),
        )
        if not pack_faults(*wrong, rows)
    ] == []
