"""Cutting: cases worked by hand, brute force, and another solver."""

import random
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.buying.cutting import cut
from estimator.buying.stock import Bin, CutSale, NotEnough, Piece, Plan, Stock, TooLong
from estimator.buying.verify import plan_faults


def pieces_of(demand: dict[int, int]) -> list[Piece]:
    return [Piece(f"w{length}", length) for length, count in demand.items() for _ in range(count)]


def pieces(*lengths: int) -> list[Piece]:
    return [Piece(f"p{number:03}", length) for number, length in enumerate(lengths)]


@pytest.mark.parametrize(
    ("lengths", "noggin", "stock"),
    [
        # hand: 4 x 562 + 3 x 3 = 2257 <= 2400, 5 need 2822; 5 in 3000; 8 x 562 + 7 x 3 = 4517 <= 4800
        (4, 562, 2400),
        (3, 562, 3000),
        (2, 562, 4800),
        # hand: 6 x 362 + 5 x 3 = 2187 <= 2400; 8 x 362 + 7 x 3 = 2917 <= 3000; 13 x 362 + 12 x 3 = 4742 <= 4800
        (3, 362, 2400),
        (2, 362, 3000),
        (2, 362, 4800),
    ],
)
def test_fourteen_noggins_with_a_saw_cut_between_them(lengths: int, noggin: int, stock: int) -> None:
    plan = cut(pieces_of({noggin: 14}), [Stock("timber", stock, 500)], kerf=3)
    assert (lengths, 500 * lengths, True) == (len(plan.bins), plan.cost, plan.proven)


def test_the_saw_cut_counts_between_neighbours_only() -> None:
    # hand: 2 x 1198 + 1 x 4 = 2400 just fits; with a cut at the end as well it would not
    assert len(cut(pieces(1198, 1198), [Stock("s", 2400, 1)], kerf=4).bins) == 1
    assert len(cut(pieces(1198, 1199), [Stock("s", 2400, 1)], kerf=4).bins) == 2
    assert cut(pieces(1198, 1198), [Stock("s", 2400, 1)], kerf=4).bins[0].left == 0


def test_cut_to_length_is_one_unbroken_length_of_whole_metres() -> None:
    # hand: 2.4 + 3.3 = 5.7 m in one length of 6 m; two lengths would be 3 + 4 = 7 m
    plan = cut(pieces(24, 33), [], sale=[CutSale("metre", 10, 56)])
    assert Plan((Bin("metre", 60, 336, ("p001", "p000"), 3),), 336, 336, True, "first fit") == plan


def test_a_drum_and_some_metres_cost_less_than_two_drums() -> None:
    # hand: 27 m = 25 m drum 1000 + 2 m at 56 = 1112, against 1900 for 50 m and 27 x 56 = 1512
    plan = cut(pieces(250, 20), [Stock("25", 250, 1000), Stock("50", 500, 1900)], sale=[CutSale("metre", 10, 56)])
    assert [(b.stock, b.length, b.price) for b in plan.bins] == [("25", 250, 1000), ("metre", 20, 112)]
    assert plan.bound == 1112


def test_where_saw_cuts_count_two_lengths_cut_to_order_may_cost_less_than_one() -> None:
    # hand: 1000 + 3 + 1000 = 2003 in one length is 3 m at 100; each in its own is 1 m, and no saw is needed
    plan = cut(pieces(1000, 1000), [], kerf=3, sale=[CutSale("metre", 1000, 100)])
    assert [(b.stock, b.length, b.price, b.left) for b in plan.bins] == [("metre", 1000, 100, 0)] * 2
    assert (plan.cost, plan.proven) == (200, True)
    # hand: 498 + 3 + 499 = 1000 fits one metre; of equal money one length is fewer than two
    plan = cut(pieces(498, 499, 1000), [], kerf=3, sale=[CutSale("metre", 1000, 100)])
    assert [len(b.pieces) for b in plan.bins] == [2, 1]


def test_more_lengths_cut_to_order_than_are_looked_at_leave_a_plan_that_is_still_right() -> None:
    # regression: 90 pieces of many sizes from a sale by the centimetre; the plan holds, and its gap is told
    chance = random.Random(4)
    needed = pieces(*(chance.randint(300, 2300) for _ in range(90)))
    sale = [CutSale("cm", 10, 2)]
    plan = cut(needed, [Stock("4.8", 4800, 900)], kerf=3, sale=sale)
    assert plan_faults(plan, needed, [Stock("4.8", 4800, 900)], kerf=3, sale=sale) == ()
    assert plan.bound <= plan.cost <= plan.bound * 1.02


def test_squaring_the_end_takes_its_trim_off_each_stock_once_and_off_nothing_cut_to_order() -> None:
    # hand: 2 x 1190 + 3 + 10 = 2393 <= 2400, 7 more are left; with a trim of 18 it is 2401
    one = cut(pieces(1190, 1190), [Stock("s", 2400, 9)], kerf=3, trim=10)
    assert [(len(b.pieces), b.left) for b in one.bins] == [(2, 17)]
    assert len(cut(pieces(1190, 1190), [Stock("s", 2400, 9)], kerf=3, trim=18).bins) == 2
    # hand: 995 fits a metre cut to order, but no stock of 1000 that is squared by 10
    plan = cut(pieces(995), [Stock("s", 1000, 1)], sale=[CutSale("metre", 1000, 9)], trim=10)
    assert [b.stock for b in plan.bins] == ["metre"]
    with pytest.raises(TooLong) as caught:
        cut(pieces(995), [Stock("s", 1000, 1), Stock("stub", 8, 1)], trim=10)
    assert caught.value.longest == 990
    full = Plan((Bin("s", 1000, 1, ("p000",), 5),), 1, 1, True, "")
    assert plan_faults(full, pieces(995), [Stock("s", 1000, 1)]) == ()
    assert plan_faults(full, pieces(995), [Stock("s", 1000, 1)], trim=10) != ()


def test_off_cuts_in_hand_are_used_before_anything_is_bought() -> None:
    # hand: two 1.1 m off-cuts take one 900 each; 900 and 600 are left for one bar; the third off-cut is of no use
    in_hand = [Stock("off-cut 1100", 1100, 0, 2), Stock("off-cut 500", 500, 0, 1)]
    plan = cut(pieces(900, 900, 900, 600), [*in_hand, Stock("2.4", 2400, 430)], kerf=3)
    assert [b.stock for b in plan.bins] == ["2.4", "off-cut 1100", "off-cut 1100"]
    assert (plan.cost, plan.proven) == (430, True)


def test_of_equal_money_the_shorter_length_then_the_fewer_bins_are_bought() -> None:
    # hand: 30 fits into 40 or 50 at one price; 20 + 20 is as much length and money as 40, and one bin more
    assert [b.stock for b in cut(pieces(30), [Stock("50", 50, 9), Stock("40", 40, 9)]).bins] == ["40"]
    assert [b.stock for b in cut(pieces(20, 20), [Stock("20", 20, 4), Stock("40", 40, 8)]).bins] == ["40"]


def test_pieces_that_fit_nothing_are_named_with_the_longest_length_there_is() -> None:
    with pytest.raises(TooLong) as caught:
        cut(pieces(30, 101, 120), [Stock("100", 100, 1), Stock("200", 200, 1, 0)])
    assert (caught.value.keys, caught.value.longest) == (("p001", "p002"), 100)
    with pytest.raises(TooLong) as caught:
        cut(pieces(30), [])
    assert caught.value.longest == 0


def test_limits_that_run_out_are_told_and_told_as_certain() -> None:
    with pytest.raises(NotEnough) as caught:
        cut(pieces(60, 60), [Stock("100", 100, 1, 1)])
    assert caught.value.proven
    with pytest.raises(NotEnough) as caught:  # hand: 180 fits 200 by sum, but 60 + 60 > 100 in each
        cut(pieces(60, 60, 60), [Stock("100", 100, 1, 2)])
    assert caught.value.proven


def test_nothing_needed_is_nothing_bought() -> None:
    assert Plan((), 0, 0, True, "nothing to cut") == cut([], [Stock("100", 100, 1)])


@pytest.mark.parametrize(
    ("needed", "stocks", "kerf"),
    [
        (pieces(0), [Stock("s", 10, 1)], 0),
        (pieces(1), [Stock("s", 10, -1)], 0),
        (pieces(1), [Stock("s", 10, 1, -1)], 0),
        (pieces(1), [Stock("s", 10, 1)], -1),
        (pieces(1), [Stock("s", 10, 1), Stock("s", 20, 2)], 0),
        ([Piece("a", 1), Piece("a", 2)], [Stock("s", 10, 1)], 0),
    ],
)
def test_questions_that_make_no_sense_are_refused(needed: list[Piece], stocks: list[Stock], kerf: int) -> None:
    with pytest.raises(ValueError, match=r"above zero|share a key"):
        cut(needed, stocks, kerf=kerf)


# --- against brute force ---


def partitions(items: list[int]) -> Iterator[list[list[int]]]:
    if not items:
        yield []
        return
    for part in partitions(items[1:]):
        yield [[items[0]], *part]
        for place in range(len(part)):
            yield [*part[:place], [items[0], *part[place]], *part[place + 1 :]]


def brute(lengths: list[int], stocks: list[Stock], kerf: int, sale: list[CutSale]) -> tuple[int, int, int] | None:
    """Least money, then length, then bins, over every way to part the pieces and to buy for each part."""
    best: tuple[int, int, int] | None = None

    def buy(loads: list[int], used: tuple[str, ...], so_far: tuple[int, int, int]) -> None:
        nonlocal best
        if best is not None and so_far >= best:
            return
        if not loads:
            best = so_far
            return
        money, length, bins = so_far
        for stock in stocks:
            free = stock.limit is None or used.count(stock.key) < stock.limit
            if stock.length >= loads[0] and free:
                buy(loads[1:], (*used, stock.key), (money + stock.price, length + stock.length, bins + 1))
        for one in sale:
            units = -(-loads[0] // one.unit)
            buy(loads[1:], used, (money + units * one.price, length + units * one.unit, bins + 1))

    for part in partitions(lengths):
        buy([sum(group) + kerf * (len(group) - 1) for group in part], (), (0, 0, 0))
    return best


stock_lists = st.lists(
    st.tuples(st.integers(5, 60), st.integers(0, 40), st.sampled_from([None, None, None, 0, 1, 2])),
    max_size=4,
).map(lambda rows: [Stock(f"s{number}", *row) for number, row in enumerate(rows)])
sale_lists = st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9)), max_size=2).map(
    lambda rows: [CutSale(f"c{number}", *row) for number, row in enumerate(rows)]
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=5),
    stock_lists,
    st.sampled_from([0, 0, 1, 2, 3]),
    sale_lists,
)
def test_tiny_tasks_agree_with_brute_force(
    lengths: list[int], stocks: list[Stock], kerf: int, sale: list[CutSale]
) -> None:
    least = brute(lengths, stocks, kerf, sale)
    try:
        plan = cut(pieces(*lengths), stocks, kerf=kerf, sale=sale)
    except (TooLong, NotEnough):
        assert least is None
        return
    assert least is not None
    assert plan.bound <= least[0] <= plan.cost
    assert plan_faults(plan, pieces(*lengths), stocks, kerf=kerf, sale=sale) == ()
    assert (least, True) == ((plan.cost, sum(b.length for b in plan.bins), len(plan.bins)), plan.proven)


def by_another_solver(lengths: list[int], stocks: list[Stock], kerf: int) -> int:
    """The least cost by an assignment model in CP-SAT: which piece lies in which bin."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    bins = [s for s in stocks for _ in range(len(lengths) if s.limit is None else s.limit)]
    used = [model.new_bool_var("") for _ in bins]
    lies = [[model.new_bool_var("") for _ in bins] for _ in lengths]
    for row in lies:
        model.add_exactly_one(row)
    for place, stock in enumerate(bins):
        load = sum((length + kerf) * row[place] for length, row in zip(lengths, lies, strict=True))
        model.add(load <= (stock.length + kerf) * used[place])
    model.minimize(sum(stock.price * one for stock, one in zip(bins, used, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(6))
def test_small_tasks_with_several_stocks_agree_with_another_solver(seed: int) -> None:
    chance = random.Random(seed)
    lengths = [chance.randint(80, 240) for _ in range(9)]
    stocks = [
        Stock("25", 250, chance.choice([800, 1000])),
        Stock("50", 500, 1900),
        Stock("100", 1000, 3500),
        Stock("left over", chance.randint(90, 300), 0, 1),
    ]
    kerf = seed % 3
    plan = cut(pieces(*lengths), stocks, kerf=kerf)
    assert (by_another_solver(lengths, stocks, kerf), True) == (plan.cost, plan.proven)
